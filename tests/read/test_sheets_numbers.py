"""What commas and points in numbers mean, told by the file itself; where it can't tell, nothing is guessed."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.read.sheet_numbers import Usage, usage_of, without_unit
from tests.read.test_schedule import only, read

COLUMNS = ("circuit", "from", "to", "service", "count", "diameter_mm", "csa_mm2", "design_current_a")


def with_numbers(folder: Path, separator: str, *numbers: str) -> list[float | None]:
    """The diameters of circuits that have these, each cell in quotes."""
    rows = [COLUMNS, *((f"P{place}", "DB", "S1", "power", "1", number) for place, number in enumerate(numbers))]
    text = "".join(separator.join(f'"{cell}"' for cell in row) + "\n" for row in rows)
    return [circuit.cables[0].diameter_mm for circuit in read(folder, text).circuits]


@pytest.mark.parametrize(
    ("separator", "numbers", "meant"),
    [
        # it can only be decimals
        (",", ["2,5"], [2.5]),
        (",", ["2.5", "2,5"], [2.5, 2.5]),
        (";", ["2.5"], [2.5]),
        ("\t", ["0,125", "0.125"], [0.125, 0.125]),
        (",", ["1234,567"], [1234.567]),
        # three digits behind a comma: thousands or thousandths
        (",", ["1,500"], [None]),
        (";", ["1,500"], [None]),
        (",", ["1,500", "2,5"], [1.5, 2.5]),
        (";", ["1,500", "0,125"], [1.5, 0.125]),
        (";", ["1,500", "2.5"], [None, 2.5]),
        (";", ["1,500", "2.5", "2,5"], [None, 2.5, 2.5]),
        (";", ["1,500", "1,234,567"], [1500.0, 1234567.0]),
        (";", ["1,500", "1,234.5", "2.5"], [1500.0, 1234.5, 2.5]),
        (";", ["1,500", "1,234,567", "2,5"], [None, None, 2.5]),
        # and behind a point: what one expects only where commas separate the cells and none is a decimal one
        (",", ["1.500"], [1.5]),
        (",", ["1.500", "2,5"], [None, 2.5]),
        (";", ["1.500"], [None]),
        ("\t", ["1.500"], [None]),
        (";", ["1.500", "2.5"], [1.5, 2.5]),
        (";", ["1.500", "2,5"], [None, 2.5]),
        (";", ["1.500", "1.234,5", "2,5"], [1500.0, 1234.5, 2.5]),
        (",", ["1.500", "1.234.567"], [1500.0, 1234567.0]),
        # both signs
        (",", ["1.234,5"], [None]),
        (";", ["1.234,5", "2,5"], [1234.5, 2.5]),
        (";", ["1.234,5", "2.5"], [None, 2.5]),
        (";", ["1,234.5", "2.5"], [1234.5, 2.5]),
        (";", ["1.234,5", "1,234.5"], [None, None]),
        # no number at all
        (";", ["1,2,3", "1.2.3", "1 500", "1'500", ",5", "5,"], [None] * 6),
    ],
)
def test_a_sign_in_a_number_is_read_as_the_file_uses_it(
    tmp_path: Path, separator: str, numbers: list[str], meant: list[float | None]
) -> None:
    assert with_numbers(tmp_path, separator, *numbers) == meant


def test_what_could_be_thousands_is_told_with_its_place(tmp_path: Path) -> None:
    head = "circuit;from;to;service;count;diameter_mm\n"
    schedule = read(tmp_path, head + "P1;DB;S1;power;2;1,500\n")
    told = {problem.where: problem.what for problem in schedule.problems}
    assert told["circuits.csv, line 2, diameter_mm"] == "'1,500' could be thousands or thousandths"
    assert "diameter_mm" in only(schedule).unread


def test_currents_need_a_number_that_shows_what_a_point_is(tmp_path: Path) -> None:
    head = "circuit,from,to,service,count,diameter_mm,design_current_a\n"
    row = "P1,DB,S1,power,2,4,1.250\n"
    assert "design_current_a" in read(tmp_path, head + row).circuits[0].unread
    other = "P2,DB,S1,power,2,4.5,1\n"  # a diameter with decimals shows it
    assert read(tmp_path, head + row + other).circuits[0].electrical["design_current_a"] == 1.25


@pytest.mark.parametrize(
    ("column", "text", "value"),
    [
        ("diameter_mm", "2.5 mm", 2.5),
        ("diameter_mm", "2.5mm", 2.5),
        ("diameter_mm", "2.5\u00a0mm", 2.5),
        ("diameter_mm", "2.5 cm", None),
        ("diameter_mm", "2.5 Mm", None),
        ("diameter_mm", "2.5 mm²", None),
        ("diameter_mm", "mm", None),
        ("diameter_mm", "2.5 mm mm", None),
        ("csa_mm2", "2.5 mm²", 2.5),
        ("csa_mm2", "2.5 mm2", 2.5),
        ("csa_mm2", "2.5 mm", None),
    ],
)
def test_a_number_may_bear_its_columns_unit_and_no_other(
    tmp_path: Path, column: str, text: str, value: float | None
) -> None:
    schedule = read(tmp_path, f"circuit,from,to,service,count,{column}\nP1,DB,S1,power,2,{text}\n")
    assert getattr(only(schedule).cables[0], column) == value
    assert (column in only(schedule).unread) is (value is None)


@pytest.mark.parametrize(
    ("column", "text", "value"),
    [
        ("design_current_a", "16 A", 16.0),
        ("design_current_a", "16 kA", None),
        ("ambient_c", "35 °C", 35.0),
        ("ambient_c", "35 °F", None),
        ("third_harmonic", "12,5 %", 0.125),
    ],
)
def test_so_may_a_load(tmp_path: Path, column: str, text: str, value: float | None) -> None:
    schedule = read(tmp_path, f'circuit,from,to,service,count,{column}\nP1,DB,S1,power,2,"{text}"\n')
    assert only(schedule).electrical.get(column) == value
    assert (column in only(schedule).unread) is (value is None)


def test_another_unit_is_told_as_such(tmp_path: Path) -> None:
    schedule = read(tmp_path, "circuit,from,to,service,count,diameter_mm\nP1,DB,S1,power,2,2.5 cm\n")
    assert any(problem.what == "'2.5 cm' isn't a number in mm" for problem in schedule.problems)


@given(st.integers(0, 10**9), st.integers(1, 6), st.sampled_from(",."))
def test_no_number_is_ever_read_as_another(value: int, decimals: int, sign: str) -> None:
    """A number with decimals, written with either sign, in a file that shows nothing, is itself or unread."""
    text = f"{value / 10**decimals:.{decimals}f}"
    assert Usage().plain(text.replace(".", sign)) in {text, None}


@given(st.integers(1000, 10**9), st.sampled_from(",."))
def test_thousands_are_never_read_as_thousandths(value: int, sign: str) -> None:
    text = f"{value:,}".replace(",", sign)
    assert Usage(point_is_plain=False).plain(text) in {str(value), None}


@given(st.lists(st.sampled_from(["1,5", "1.5", "1,500", "1.500", "1.234,5", "1,234.5", "1,234,567", "1.234.567", "x"])))
def test_the_order_of_numbers_doesnt_matter(texts: list[str]) -> None:
    assert usage_of(texts, point_is_plain=True) == usage_of(reversed(texts), point_is_plain=True)


def test_a_unit_is_taken_off_only_behind_a_number() -> None:
    assert without_unit("4 A", ("A",)) == "4"
    assert without_unit("A", ("A",)) == "A"
    assert without_unit("x 4 A", ("A",)) == "x 4 A"
