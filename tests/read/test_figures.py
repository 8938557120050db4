"""Single figures: units that can't be right, texts, defaults and names."""

import math

import pytest

from checker.model import CarrierKind, Confidence, ProblemKind
from checker.read.figures import Figures, from_names, other_units
from checker.read.mapping import PropertySpec, Quantity
from checker.read.properties import Held, Value
from checker.read.property_figures import from_properties

MM, CM, METRE, INCH, FOOT = 1.0, 10.0, 1000.0, 25.4, 12 * 25.4
TRAY, TRUNKING, CONDUIT, LADDER = CarrierKind.TRAY, CarrierKind.TRUNKING, CarrierKind.CONDUIT, CarrierKind.LADDER
W, H, D = Quantity.WIDTH, Quantity.HEIGHT, Quantity.DIAMETER


def taken(kind: CarrierKind, quantity: Quantity, value: float, file_mm: float) -> tuple[float | None, list[str]]:
    figures = Figures(kind, file_mm)
    figures.take(quantity, value, "property X")
    found = figures.first(quantity)
    return None if found is None else found.value_mm, [said.what for said in figures.said]


@pytest.mark.parametrize(
    ("kind", "quantity", "value", "file_mm", "size_mm"),
    [
        (TRAY, W, 300.0, MM, 300.0),
        (TRAY, W, 0.3, METRE, 300.0),
        (TRAY, W, 30.0, CM, 300.0),
        (TRAY, W, 12.0, INCH, 304.8),
        (TRAY, W, 1.0, FOOT, 304.8),
    ],
)
def test_a_figure_that_can_be_in_the_files_unit_is_taken_in_it(
    kind: CarrierKind, quantity: Quantity, value: float, file_mm: float, size_mm: float
) -> None:
    found, said = taken(kind, quantity, value, file_mm)
    assert found == pytest.approx(size_mm)
    assert not said


@pytest.mark.parametrize(
    ("kind", "quantity", "value", "file_mm", "size_mm"),
    [
        (TRAY, W, 300.0, METRE, 300.0),  # declared metres, plainly millimetres: 300 m can't be
        (TRAY, W, 0.3, MM, 300.0),  # declared millimetres, plainly metres
        (TRAY, W, 300.0, CM, 300.0),  # 3 m is possible, but only 300 mm is usual
        (TRAY, W, 12.0, FOOT, 304.8),  # inches: 3658 mm can't be, and 12 mm is no tray
        (TRAY, W, 300.0, INCH, 300.0),  # millimetres: 7.6 m can't be
        (CONDUIT, D, 25.0, METRE, 25.0),
    ],
)
def test_a_figure_in_another_unit_is_put_right_where_only_one_makes_sense_and_that_is_said(
    kind: CarrierKind, quantity: Quantity, value: float, file_mm: float, size_mm: float
) -> None:
    figures = Figures(kind, file_mm)
    figures.take(quantity, value, "property X")
    found = figures.first(quantity)
    assert found is not None
    assert found.value_mm == pytest.approx(size_mm)
    assert found.confidence is Confidence.MEDIUM
    assert [said.kind for said in figures.said] == [ProblemKind.CORRECTION]
    assert f"it is read as {size_mm:g} mm" in figures.said[0].what


@pytest.mark.parametrize(
    ("kind", "quantity", "value", "file_mm"),
    [
        (TRUNKING, W, 12.0, FOOT),  # 12 ft can't be; 12 in = 304.8 mm and 12 mm both are usual
        (TRAY, W, 5e6, MM),
        (TRAY, W, -300.0, MM),
        (TRAY, W, math.nan, MM),
        (TRAY, W, math.inf, MM),
        (TRAY, W, -math.inf, METRE),
    ],
)
def test_a_figure_that_may_be_two_things_or_none_is_left_out_and_said(
    kind: CarrierKind, quantity: Quantity, value: float, file_mm: float
) -> None:
    found, said = taken(kind, quantity, value, file_mm)
    assert found is None
    assert len(said) == 1
    assert "it is left out" in said[0]


def test_a_nought_is_no_size_and_nothing_to_speak_of() -> None:
    assert taken(TRAY, W, 0.0, MM) == (None, [])


def test_units_that_a_writer_may_have_meant_are_of_the_files_own_world() -> None:
    assert other_units(MM) == (METRE,)
    assert other_units(METRE) == (MM,)
    assert other_units(CM) == (MM, METRE)
    assert other_units(FOOT) == pytest.approx((INCH, MM))
    assert other_units(INCH) == pytest.approx((FOOT, MM))


def of_property(value: Value, quantity: Quantity, kind: CarrierKind, file_mm: float = MM, **more: bool) -> Figures:
    figures = Figures(kind, file_mm)
    spec = PropertySpec(quantity=quantity, property="B*")
    from_properties(figures, [Held("Maße", "Breite", value, **more)], {quantity: [spec]})
    return figures


@pytest.mark.parametrize(
    ("value", "quantity", "kind", "file_mm", "size_mm"),
    [
        ("300 mm", W, TRAY, METRE, 300.0),
        ("300 mm x 100 mm", W, TRAY, METRE, 300.0),
        ("300 mm x 100 mm", H, TRAY, METRE, 100.0),
        ("H100 x W300", W, TRAY, MM, 300.0),
        ("62,5", W, TRUNKING, MM, 62.5),
        ("0,3 m", W, TRAY, MM, 300.0),
        ("30 cm", W, TRAY, MM, 300.0),
        ('12"', W, TRAY, MM, 304.8),
        ("Ø25", D, CONDUIT, MM, 25.0),
        ("3/4", D, CONDUIT, FOOT, 19.05),  # a fraction is of an inch, not of a foot
        ("1-1/4", D, CONDUIT, MM, 31.75),
    ],
)
def test_a_text_gives_its_figure(
    value: str, quantity: Quantity, kind: CarrierKind, file_mm: float, size_mm: float
) -> None:
    figure = of_property(value, quantity, kind, file_mm).first(quantity)
    assert figure is not None
    assert figure.value_mm == pytest.approx(size_mm)
    assert figure.source == "property Breite, by wayroom.toml"


@pytest.mark.parametrize(
    "value", ["wide", "300 - 400", "100, 200", "300x100x50", "see drawing 300", "MCC 3x25A", "1.2.3"]
)
def test_a_text_that_is_no_size_is_said_and_not_used(value: str) -> None:
    figures = of_property(value, W, TRAY)
    assert figures.first(W) is None
    assert [said.kind for said in figures.said] == [ProblemKind.GAP]


def test_a_truth_is_no_size() -> None:
    assert of_property(True, W, TRAY).first(W) is None


def mapped_unit(value: float, unit: str, file_mm: float, *, is_length: bool) -> tuple[float | None, int]:
    figures = Figures(TRAY, file_mm)
    spec = PropertySpec(quantity=W, property="B", unit=unit)
    from_properties(figures, [Held("S", "B", value, is_length=is_length)], {W: [spec]})
    found = figures.first(W)
    return None if found is None else found.value_mm, len(figures.said)


def test_the_mapped_unit_holds_for_plain_numbers_and_the_files_for_lengths() -> None:
    assert mapped_unit(30.0, "cm", METRE, is_length=False) == (300.0, 0)
    assert mapped_unit(0.3, "mm", METRE, is_length=True) == (300.0, 0)  # 0.3 mm can't be: the file's metres hold
    assert mapped_unit(300.0, "mm", METRE, is_length=True) == (300.0, 0)  # 300 m can't be: what the project says holds
    size, said = mapped_unit(3.0, "in", FOOT, is_length=True)  # 914.4 mm by the file, 76.2 mm by the project
    assert size == pytest.approx(914.4)
    assert said == 1
    assert mapped_unit(0.3, "mm", METRE, is_length=False) == (None, 1)  # a plain number in mm that can't be


def named(text: str, kind: CarrierKind, file_mm: float = MM) -> tuple[float | None, float | None, float | None]:
    figures = Figures(kind, file_mm)
    from_names(figures, [text])
    found = [figures.first(quantity) for quantity in (W, H, D)]
    assert all(figure is None or figure.confidence is Confidence.LOW for figure in found)
    width, height, diameter = (None if figure is None else figure.value_mm for figure in found)
    return width, height, diameter


@pytest.mark.parametrize(
    ("text", "kind", "file_mm", "sizes"),
    [
        ("Tray 300x60", TRAY, METRE, (300.0, 60.0, None)),  # a bare name is in mm whatever the file's unit
        ("Tray 12 x 4", TRAY, FOOT, (12 * INCH, 4 * INCH, None)),  # no tray is 12 mm wide
        ('Tray 12" x 4"', TRAY, MM, (12 * INCH, 4 * INCH, None)),
        ("Trunking 12x12", TRUNKING, FOOT, (None, None, None)),  # 12 mm or 12 in
        ("Tray 24x6", TRAY, MM, (None, None, None)),
        ("2x16mm2 cable tray", TRAY, MM, (None, None, None)),
        ("Trunking 12x120 mm2", TRUNKING, MM, (None, None, None)),
        ("MCC 12x25A trunking", TRUNKING, MM, (None, None, None)),
        ("T-150", TRAY, MM, (None, None, None)),
        ("Tray with rods Ø8 mm", TRAY, MM, (None, None, None)),  # a tray is never round
        ("Trunking Ø100", TRUNKING, MM, (None, None, None)),
        ("Conduit Ø25", CONDUIT, METRE, (None, None, 25.0)),
        ("Conduit 25", CONDUIT, MM, (None, None, None)),
        ("Conduit 25 mm", CONDUIT, MM, (None, None, 25.0)),
        ("Conduit 25 mm above ceiling", CONDUIT, MM, (None, None, None)),
        ('Conduit 3/4"', CONDUIT, MM, (None, None, None)),  # a trade size is no diameter: 23.4 mm outside in EMT
        ("Conduit 1200A", CONDUIT, MM, (None, None, None)),
    ],
)
def test_a_name_gives_a_size_only_where_it_can_mean_nothing_else(
    text: str, kind: CarrierKind, file_mm: float, sizes: tuple[float | None, ...]
) -> None:
    assert named(text, kind, file_mm) == tuple(None if size is None else pytest.approx(size) for size in sizes)
