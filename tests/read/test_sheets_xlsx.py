"""Cells of workbooks: numbers, texts, dates, errors and formulas, and what of them isn't believed."""

import datetime as dt
from pathlib import Path

import pytest

from checker.model import Service
from tests.read.sheets import (
    HEAD,
    HEAD_XML,
    ROW,
    STRICT,
    STRICT_RELATIONS,
    book,
    by_hand,
    inline,
    read,
    rows_of,
    told,
)
from tests.read.test_schedule import only


@pytest.mark.parametrize("name", ["circuits.xlsx", "circuits.xlsm", "CIRCUITS.XLSX"])
def test_a_sheet_is_read_like_a_text(tmp_path: Path, name: str) -> None:
    schedule = read(book(tmp_path / name, HEAD, ROW))
    circuit = only(schedule)
    assert (circuit.mark, circuit.origin, circuit.calls, circuit.service) == ("P1", "DB", ("S1",), Service.POWER)
    assert (circuit.cables[0].diameter_mm, circuit.cables[0].count, circuit.cables[0].row) == (4.5, 2, 2)
    assert (schedule.name, schedule.problems) == (name, ())


def test_a_bad_cell_is_told_with_sheet_row_and_column(tmp_path: Path) -> None:
    schedule = rows_of(tmp_path, ("P1", "DB", "S1", "power", 4.5, "two"))
    assert [problem.where for problem in schedule.problems] == ["circuits.xlsx, sheet 'Circuits', row 2, count"]


@pytest.mark.parametrize(
    ("count", "read_as"),
    [(3, 3), (3.0, 3), (0.1 * 3 * 10, 3), (2.5, None), ("3", 3), ("3.0", 3), (True, None), (-1, None)],
)
def test_a_count_is_a_whole_number_however_it_is_kept(tmp_path: Path, count: object, read_as: int | None) -> None:
    circuit = only(rows_of(tmp_path, ("P1", "DB", "S1", "power", 4.5, count)))
    assert circuit.cables[0].count == read_as
    assert ("count" in circuit.unread) is (read_as is None)


@pytest.mark.parametrize(
    ("size", "read_as"),
    [
        (0.1 + 0.2, 0.3),
        (1.234, 1.234),
        (1234.5, 1234.5),
        (1e-3, 0.001),
        (1 / 3, 0.333333333333333),
        ("4,5", 4.5),
        ("1,500", None),
        ("1.500", None),
    ],
)
def test_a_number_is_a_number_and_a_text_is_read_as_text(tmp_path: Path, size: object, read_as: float | None) -> None:
    assert only(rows_of(tmp_path, ("P1", "DB", "S1", "power", size, 1))).cables[0].diameter_mm == read_as


def test_numbers_that_are_kept_as_such_show_nothing_of_how_texts_are_written(tmp_path: Path) -> None:
    schedule = rows_of(tmp_path, ("P1", "DB", "S1", "power", 2.5, 1), ("P2", "DB", "S1", "power", "1.500", 1))
    assert [circuit.cables[0].diameter_mm for circuit in schedule.circuits] == [2.5, None]


def test_a_mark_or_end_may_be_a_number(tmp_path: Path) -> None:
    circuit = only(rows_of(tmp_path, (101, 3, 7.0, "power", 4.5, 1)))
    assert (circuit.mark, circuit.origin, circuit.calls) == ("101", "3", ("7",))


def test_a_current_that_is_kept_as_a_number_is_exact(tmp_path: Path) -> None:
    head = (*HEAD, "design_current_a")
    schedule = read(book(tmp_path / "c.xlsx", head, ROW, (*ROW, 1.234)))  # said in the circuit's second row
    assert only(schedule).electrical["design_current_a"] == 1.234
    assert not schedule.problems


@pytest.mark.parametrize("value", [dt.date(2026, 3, 4), dt.timedelta(days=2), dt.time(3, 4)])
def test_a_date_is_not_what_was_typed(tmp_path: Path, value: object) -> None:
    schedule = rows_of(tmp_path, ("P1", "DB", value, "power", 4.5, 2), (value, "DB", "S1", "power", 4.5, 2))
    circuit = only(schedule)
    assert (circuit.calls, circuit.unread) == ((), ("to",))
    assert schedule.lost_rows == (3,)
    assert len(told(schedule, "it is a date")) == 2


def test_a_date_in_a_column_of_ones_own_is_kept(tmp_path: Path) -> None:
    schedule = rows_of(tmp_path, (*ROW[:-1], dt.date(2026, 3, 4)))
    assert only(schedule).other == {"remark": "2026-03-04"}
    assert not schedule.problems


@pytest.mark.parametrize("error", ["#N/A", "#REF!", "#DIV/0!"])
def test_an_error_value_is_unread(tmp_path: Path, error: str) -> None:
    schedule = rows_of(tmp_path, ("P1", "DB", "S1", "power", 4.5, error), (error, "DB", "S1", "power", 4.5, 2))
    assert only(schedule).unread == ("count",)
    assert schedule.lost_rows == (3,)
    assert len(told(schedule, f"it holds the error {error}")) == 2


def test_a_formula_that_was_never_calculated_is_told_as_unread(tmp_path: Path) -> None:
    schedule = rows_of(tmp_path, ("P1", "=A1", "S1", "power", 4.5, "=1+1", "=A2"))
    assert only(schedule).unread == ("from", "count")
    assert len(told(schedule, "never calculated")) == 2
    assert only(schedule).other == {"remark": "it holds a formula that was never calculated"}


def test_a_formula_is_what_was_last_calculated(tmp_path: Path) -> None:
    cells = (
        '<c t="str"><f>A9</f><v>P7</v></c><c t="s"><v>0</v></c><c t="s"><v>1</v></c>'
        '<c t="str"><f>B9</f><v></v></c><c><f>1+1</f><v>4.5</v></c><c><f>1</f><v>2</v></c>'
    )
    texts = (
        "<t>DB</t>",
        '<r><t xml:space="preserve">S </t></r><r><t>1_x000D_</t></r><rPh sb="0" eb="1"><t>spoken</t></rPh>',
    )
    schedule = read(by_hand(tmp_path / "c.xlsx", f"{HEAD_XML}<row>{cells}</row>", texts))
    circuit = only(schedule)
    assert (circuit.mark, circuit.origin, circuit.calls, circuit.cables[0].count) == ("P7", "DB", ("S 1",), 2)
    assert circuit.unread == ("service",)  # an empty text is an empty cell
    assert not told(schedule, "never calculated")


def test_both_forms_of_the_standard_are_read(tmp_path: Path) -> None:
    rows = f"{HEAD_XML}<row>{inline('P1', 'DB', 'S1', 'power', '4.5', '2')}</row>"
    one = read(by_hand(tmp_path / "c.xlsx", rows))
    other = read(by_hand(tmp_path / "c.xlsx", rows, main=STRICT, relations=STRICT_RELATIONS))
    assert only(one) == only(other)
