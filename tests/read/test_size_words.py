"""Sizes in texts: what a careful reader may conclude, and what not."""

import pytest

from checker.read.size_words import Measure, measure_of, pair_of, round_of, standing_alone, trade_size_of

INCH, FOOT = 25.4, 12 * 25.4  # mm, exactly, by the international yard of 1959


def figures(measure: Measure | None) -> tuple[float, float | None] | None:
    return None if measure is None else (measure.value, measure.unit_mm)


@pytest.mark.parametrize(
    ("text", "value", "unit_mm"),
    [
        ("300", 300.0, None),
        ("300 mm", 300.0, 1.0),
        ("62,5", 62.5, None),
        (" 62.5mm ", 62.5, 1.0),
        ("30 cm", 30.0, 10.0),
        ("0,3 m", 0.3, 1000.0),
        ('4"', 4.0, INCH),
        ("4 in", 4.0, INCH),
        ("4 inches", 4.0, INCH),
        ("1 ft", 1.0, FOOT),
        ("1'", 1.0, FOOT),
        ('3/4"', 0.75, INCH),
        ('1-1/4"', 1.25, INCH),
        ("1 1/4 in", 1.25, INCH),
        ("300 millimetres", 300.0, 1.0),
    ],
)
def test_a_text_that_is_one_measure_is_read(text: str, value: float, unit_mm: float | None) -> None:
    assert figures(measure_of(text)) == (value, unit_mm)


@pytest.mark.parametrize(
    "text", ["", "wide", "300 mm wide", "T-150", "100, 200", "3/0", "25/2", "-300", "1e3", "300 x 100", "٣٠٠ mm x"]
)
def test_a_text_that_is_more_or_less_than_one_measure_is_none(text: str) -> None:
    assert measure_of(text) is None


@pytest.mark.parametrize(
    ("text", "width", "height", "unit_mm"),
    [
        ("300 x 100", 300.0, 100.0, None),
        ("300 mm x 100 mm", 300.0, 100.0, 1.0),
        ("Tray 300x100mm", 300.0, 100.0, 1.0),  # a unit at one of the two holds for both
        ("62,5 × 37,5 mm", 62.5, 37.5, 1.0),
        ("12 in x 4 in", 12.0, 4.0, INCH),
        ('12" x 4"', 12.0, 4.0, INCH),
        ("W300 x H100", 300.0, 100.0, None),
        ("300W x 100H", 300.0, 100.0, None),
        ("H100 x W300", 300.0, 100.0, None),  # the letters say which is which
        ("300x100x3000", 300.0, 100.0, None),  # the third is a length: over 1 m and the largest
        ("300x60x1.5", 300.0, 60.0, None),  # the third is a sheet
        ("Tray 300x100:300x100:1234", 300.0, 100.0, None),  # twice the same is no second size
        ("90° bend 100x100", 100.0, 100.0, None),
        ("300 \u0445 100", 300.0, 100.0, None),  # a Cyrillic letter
    ],
)
def test_two_numbers_with_a_cross_between_them_are_width_and_height(
    text: str, width: float, height: float, unit_mm: float | None
) -> None:
    pair = pair_of(text)
    assert pair is not None
    assert [figures(measure) for measure in pair] == [(width, unit_mm), (height, unit_mm)]


@pytest.mark.parametrize(
    "text",
    [
        "T-150", "Level 2", "1200A", "IP54", "RAL 9010", "300/100", "300",
        "MCC 3x25A",  # amperes
        "2x16mm2 cable tray",  # an area of conductors
        "12x120 mm² trunking",
        "5x2.5kV",
        "300x100x50",  # which two of three?
        "25x25x25",
        "300x100 and 200x50",  # which of two?
        "2 x 300x100",
        "1'-6\" x 4\"",  # feet and inches: the 6 in alone would be wrong
        "1' 6\" x 4\"",
        "1.5x2.5.3",
    ],
)  # fmt: skip
def test_numbers_that_may_be_something_else_are_no_width_and_height(text: str) -> None:
    assert pair_of(text) is None


@pytest.mark.parametrize(
    ("text", "value", "unit_mm"),
    [("Ø25", 25.0, None), ("⌀ 25 mm", 25.0, 1.0), ("Conduit M25", 25.0, 1.0), ("dia. 25", 25.0, None), ("25 mm dia", 25.0, 1.0),
     ("25 Ø", 25.0, None), ("Ø25 : Ø25", 25.0, None), ("DN50", 50.0, None)],
)  # fmt: skip
def test_a_number_beside_a_sign_for_a_diameter_is_one(text: str, value: float, unit_mm: float | None) -> None:
    assert figures(round_of(text)) == (value, unit_mm)


@pytest.mark.parametrize(
    "text", ["Conduit 25", "Ø20/25", "Ø20 and Ø25", "Ø20 or M25", "M24", "BM25", "media 25", "diagonal 25", "Ø"]
)
def test_without_one_sign_and_one_number_there_is_no_diameter(text: str) -> None:
    assert round_of(text) is None


@pytest.mark.parametrize(
    ("text", "value"),
    [("PVC conduit 25 mm", 25.0), ("25mm conduit", 25.0), ("20 mm galvanised steel conduit", 20.0), ("Conduit: 32 mm", 32.0),
     ("Conduit, 20 mm", 20.0), ("25 mm", 25.0)],
)  # fmt: skip
def test_a_metric_size_with_nothing_but_conduit_beside_it_is_the_conduits(text: str, value: float) -> None:
    measure = standing_alone(text, lambda words: words.casefold() == "conduit")
    assert measure is not None
    assert measure.value == value


@pytest.mark.parametrize(
    "text",
    [
        "Conduit 25",  # of what?
        "Conduit 25 mm above ceiling",
        "Conduit offset 50 mm",
        "50 mm above conduit",
        "Offset: 50 mm",
        "Conduit 53 mm",  # NFPA 70 calls a conduit of 60.3 mm so
        "Conduit 25 m",  # a length
        "Conduit 2 x 25 mm",  # two of them?
        "1,25 mm",
    ],
)
def test_a_measure_that_may_be_of_something_else_is_not_the_conduits(text: str) -> None:
    assert standing_alone(text, lambda words: words.casefold() == "conduit") is None


@pytest.mark.parametrize(
    ("text", "size"),
    [('EMT 3/4"', "3/4"), ("3/4 EMT", "3/4"), ("EMT 1-1/4 in", "1-1/4"), ('EMT 1 1/4"', "1-1/4"), ('2" EMT', "2"),
     ('L1 1/2" EMT', "1/2"),  # on level 1
     ("0.75 in", "3/4"), ("EMT 2", None), ("25 mm", None), ('EMT 0.8"', None), ('1/2" and 3/4" EMT', None), ('EMT 3/4" at 6"', None)],
)  # fmt: skip
def test_a_trade_size_is_read_however_it_is_written_and_never_out_of_a_bare_number(text: str, size: str | None) -> None:
    assert trade_size_of(text) == size


def test_a_hostile_text_is_read_at_its_beginning_only() -> None:
    assert pair_of("300x" * 500_000) is None
    assert round_of("Ø" * 1_000_000) is None
    assert measure_of("1" * 1_000_000) is None
