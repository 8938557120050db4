"""Rows with more cells than their header: a separator within a cell may have moved what is right of it, even if the last is blank."""

from pathlib import Path

import pytest

from checker.model import ProblemKind
from tests.read.sheets import book
from tests.read.sheets import read as read_book
from tests.read.test_schedule import HEAD, only, read

LISTS = "circuit;from;to;service;diameter_mm;count;apart_from;notes\n"
ENDED = "and none has anything beyond it"


def semicolons(row: str) -> str:
    return row.replace(",", ";")


def test_a_row_whose_last_cell_is_blank_is_lost_too_since_a_list_without_quotes_moves_cells(tmp_path: Path) -> None:
    """Line 2 has eight separators, so nine cells: P2 and P3 were one, and P3 now stands where the notes are."""
    rows = "P1;DB;S1;power;4;2;P2;P3;\nP2;DB;S1;power;4;2;;\nP3;DB;S1;power;4;2;;\n"
    schedule = read(tmp_path, LISTS + rows)
    assert [circuit.mark for circuit in schedule.circuits] == ["P2", "P3"]
    assert schedule.lost_rows == (2,)
    (told,) = schedule.problems
    assert (told.where, told.what) == ("circuits.csv, line 2, row", "it has 9 cells, the header 8")
    assert (told.hint, told.kind) == ("put quotes round what holds the separator", ProblemKind.GAP)


def test_in_quotes_it_is_one_cell(tmp_path: Path) -> None:
    schedule = read(tmp_path, LISTS + 'P1;DB;S1;power;4;2;"P2;P3";\nP2;DB;S1;power;4;2;;\nP3;DB;S1;power;4;2;;\n')
    assert schedule.circuits[0].apart_from == ("P2", "P3")
    assert (schedule.lost_rows, schedule.problems) == ((), ())


def test_all_rows_that_are_longer_are_lost_where_one_isnt(tmp_path: Path) -> None:
    rows = "P1;DB;S1;power;4;2;P2;P3;\nP2;DB;S1;power;4;2;P1;P3;\nGround floor;;;;;;;\n"
    schedule = read(tmp_path, LISTS + rows)
    assert schedule.lost_rows == (2, 3, 4)  # the last: several words alone


@pytest.mark.parametrize("ends", [";", ";;", "; ;"])
def test_separators_at_the_end_of_all_rows_alike_are_nothing_and_told_once(tmp_path: Path, ends: str) -> None:
    rows = f"P1;DB;S1;power;4;2;;note{ends}\nX1;;;;;;;{ends}\nP2;DB;S2;power;4;2;P1;{ends}\n"
    schedule = read(tmp_path, LISTS + rows)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "X1", "P2"]
    assert schedule.lost_rows == ()
    (told,) = [problem for problem in schedule.problems if ENDED in problem.what]
    assert told.what == f"all rows have {8 + ends.count(';')} cells, the header 8, {ENDED}"
    assert (told.where, told.kind) == ("circuits.csv, lines 2, 3, 4", ProblemKind.ASSUMPTION)
    assert told.elements == 3


def test_where_the_header_has_them_too_they_are_its_blank_columns(tmp_path: Path) -> None:
    head = LISTS.replace("\n", ";;\n")
    schedule = read(tmp_path, head + "P1;DB;S1;power;4;2;;;;\nP2;DB;S1;power;4;2;;;\nP3;DB;S1;power;4;2;;\n")
    assert len(schedule.circuits) == 3
    assert (schedule.lost_rows, schedule.problems) == ((), ())
    assert read(tmp_path, head + "P1;DB;S1;power;4;2;;;;;\nP2;DB;S1;power;4;2;;;;\n").lost_rows == (2,)


@pytest.mark.parametrize(
    "rows",
    [
        "P1;DB;S1;power;4;2;;;\nP2;DB;S1;power;4;2;;;;\n",  # not equally long
        "P1;DB;S1;power;4;2;;;\nP2;DB;S1;power;4;2;;;x\n",  # something beyond
        "P1;DB;S1;power;4;2;P2;P3;\n",  # of one row nothing shows that it isn't a list
        "P1;DB;S1;power;4;2;P2;p3;\nP2;DB;S1;power;4;2;P1;P3;\nP3;DB;S1;power;4;2;P1;P2;\n",  # each has a list
        "P1;DB;S1;S2;4;2;;;\nP2;DB;S2;S3;4;2;;;\n",  # several calls each
    ],
)
def test_longer_rows_are_lost_where_a_list_could_have_made_them_so(tmp_path: Path, rows: str) -> None:
    schedule = read(tmp_path, LISTS + rows)
    assert schedule.circuits == ()
    assert schedule.lost_rows == tuple(range(2, 2 + rows.count("\n")))


def test_between_commas_each_number_may_have_been_cut_at_its_comma(tmp_path: Path) -> None:
    """``8,5`` and ``2,5`` without quotes: 8 and 2 mm, five cables each, and the count where the remark stands."""
    head = HEAD.replace("count", "count,remark")
    rows = "P1,DB,S1,power,,8,5,2,\nP2,DB,S1,power,,2,5,3,\n"
    assert read(tmp_path, head + rows).lost_rows == (2, 3)
    # a number with a point shows that none is written with a comma
    schedule = read(tmp_path, head + "P1,DB,S1,power,,8.5,5,2,\nP2,DB,S1,power,,2,5,3,\n")
    assert [circuit.cables[0].diameter_mm for circuit in schedule.circuits] == [8.5, 2.0]
    assert schedule.lost_rows == ()


def test_between_semicolons_a_comma_cuts_nothing(tmp_path: Path) -> None:
    schedule = read(tmp_path, semicolons(HEAD + "P1,DB,S1,power,,4,2,\nP2,DB,S1,power,,4,2,\n"))
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P2"]


def test_each_table_has_a_width_of_its_own(tmp_path: Path) -> None:
    other = "circuit;from;to;service;diameter_mm;count;apart_from\n"
    rows = "P1;DB;S1;power;4;2;;\n" + other + "P2;DB;S1;power;4;2;;\nP3;DB;S1;power;4;2;P1\n"
    schedule = read(tmp_path, LISTS + rows)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P3"]
    assert schedule.lost_rows == (4,)


def test_lines_of_blanks_and_cells_of_a_workbook_move_nothing(tmp_path: Path) -> None:
    assert only(read(tmp_path, HEAD + "P1,DB,S1,power,,4,2\n,,,,,,,,\n")).cables[0].count == 2
    rows = [tuple(HEAD.strip().split(",")), ("P1", "DB", "S1", "power", None, 4.5, 2, None, " ")]
    schedule = read_book(book(tmp_path / "c.xlsx", *rows))
    assert (only(schedule).cables[0].diameter_mm, schedule.lost_rows) == (4.5, ())
