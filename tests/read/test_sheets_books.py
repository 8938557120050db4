"""Which sheet of a workbook is read, and what is merged, hidden or beside the table there."""

from pathlib import Path

import openpyxl
import pytest

from checker.errors import InputError
from checker.model import ProblemKind
from tests.read.sheets import HEAD, HEAD_XML, ROW, Sheet, book, by_hand, inline, read, rows_of
from tests.read.test_schedule import only


def test_the_only_sheet_with_the_columns_is_read_and_the_others_are_named(tmp_path: Path) -> None:
    path = book(tmp_path / "c.xlsx", ("Notes",), ("circuit", "from", "whatever"), name="Front")
    workbook = openpyxl.load_workbook(path)
    for row in (HEAD, ROW):
        workbook.create_sheet("Data") if "Data" not in workbook else None
        workbook["Data"].append(row)
    workbook.create_sheet("Empty")
    workbook.create_chartsheet("Chart")
    workbook.save(path)
    schedule = read(path)
    assert only(schedule).mark == "P1"
    (problem,) = schedule.problems
    assert (problem.what, problem.kind) == ("its other sheets aren't read: 'Front', 'Empty'", ProblemKind.INFERENCE)


def with_sheet(path: Path, *rows: tuple[object, ...], state: str = "visible", first: tuple[object, ...] = HEAD) -> Path:
    """A workbook with a schedule of one circuit, and another sheet."""
    book(path, first, ROW)
    workbook = openpyxl.load_workbook(path)
    sheet = workbook.create_sheet("Data")
    sheet.sheet_state = state
    for row in rows:
        sheet.append(row)
    workbook.save(path)
    return path


@pytest.mark.parametrize(
    ("header", "words"),
    [
        (("circuit", "from", "dest", "count"), "(circuit, from, count) without 'to'"),
        (("Ref", "OD", "From", "To"), "(from, to) without 'circuit'"),
        (("cable", "no.", "count"), "(cable, count) without 'circuit' and 'from' and 'to'"),
    ],
)
def test_what_stands_below_a_header_of_another_sheet_that_isnt_whole_could_lie_anywhere(
    tmp_path: Path, header: tuple[str, ...], words: str
) -> None:
    rows = [("Data circuits",), (), header, ("D1", "R", "S1", 40)]
    schedule = read(with_sheet(tmp_path / "c.xlsx", *rows))
    assert only(schedule).mark == "P1"
    assert schedule.lost_rows == (4,)
    gap, inference = schedule.problems
    assert (gap.where, gap.kind) == ("c.xlsx, sheet 'Data', row 3", ProblemKind.GAP)
    assert words in gap.what
    assert (inference.what, inference.kind) == ("its other sheets aren't read: 'Data'", ProblemKind.INFERENCE)


@pytest.mark.parametrize(
    "rows",
    [
        [("circuit", "from", "dest", "count")],  # no rows below
        [("Revision", "from", "by"), ("A", "2026", "nobody")],  # one column of ours
        [("from", 1), ("to", 2), ("circuit", 3), ("count", 4)],  # a list that explains the columns
    ],
)
def test_another_sheet_that_holds_no_rows_of_circuits_is_only_named(
    tmp_path: Path, rows: list[tuple[object, ...]]
) -> None:
    schedule = read(with_sheet(tmp_path / "c.xlsx", *rows))
    assert schedule.lost_rows == ()
    assert [problem.kind for problem in schedule.problems] == [ProblemKind.INFERENCE]


def test_where_a_sheet_is_named_the_others_are_the_users_choice(tmp_path: Path) -> None:
    path = with_sheet(tmp_path / "c.xlsx", ("circuit", "from", "dest", "count"), ("D1", "R", "S1", 40))
    schedule = read(path, "Circuits")
    assert (schedule.lost_rows, schedule.problems) == ((), ())


def test_a_hidden_sheet_that_isnt_read_is_told_as_hidden(tmp_path: Path) -> None:
    rows = [("circuit", "from", "dest", "count"), ("D1", "R", "S1", 40)]
    schedule = read(with_sheet(tmp_path / "c.xlsx", *rows, state="hidden"))
    assert schedule.lost_rows == (2,)
    assert schedule.problems[0].where == "c.xlsx, sheet 'Data' (hidden), row 1"
    with pytest.raises(InputError, match=r"'Circuits', 'Data' \(hidden\)"):
        read(with_sheet(tmp_path / "c.xlsx", HEAD, ROW, state="veryHidden"))


def test_a_hidden_sheet_that_alone_has_the_columns_is_read_and_told(tmp_path: Path) -> None:
    path = with_sheet(tmp_path / "c.xlsx", HEAD, ("P9", *ROW[1:]), state="hidden", first=("Cover",))
    schedule = read(path)
    assert only(schedule).mark == "P9"
    (told,) = [problem for problem in schedule.problems if "hidden" in problem.what]
    assert (told.what, told.kind) == ("its sheet 'Data' is hidden", ProblemKind.ASSUMPTION)


@pytest.mark.parametrize(
    ("area", "is_heading"),
    [
        ("A3:G3", True),  # all columns
        ("A3:C3", True),  # mark and ends, so that there is room for neither
        ("A3:B3", False),  # it may be a mark in a wide cell
        ("D3:G3", False),
    ],
)
def test_a_text_that_is_merged_over_mark_and_ends_is_a_heading(tmp_path: Path, area: str, *, is_heading: bool) -> None:
    rows = [ROW, ("FA-LOOP",)]
    schedule = rows_of(tmp_path, *rows, change=lambda sheet: sheet.merge_cells(area))
    assert [circuit.mark for circuit in schedule.circuits] == (["P1"] if is_heading else ["P1", "FA-LOOP"])
    assert schedule.lost_rows == ()
    assert bool([problem for problem in schedule.problems if "a heading" in problem.what]) is is_heading


def two_sheets(path: Path) -> Path:
    workbook = openpyxl.Workbook()
    for name, mark in (("Power", "P1"), ("Data", "D1")):
        sheet = workbook.create_sheet(name)
        sheet.append(HEAD)
        sheet.append((mark, *ROW[1:]))
    workbook.save(path)
    return path


@pytest.mark.parametrize(("name", "mark"), [("Power", "P1"), ("data", "D1"), (" DATA ", "D1")])
def test_a_sheet_is_named_in_any_case(tmp_path: Path, name: str, mark: str) -> None:
    schedule = read(two_sheets(tmp_path / "c.xlsx"), name)
    assert only(schedule).mark == mark
    assert not schedule.problems


def test_several_sheets_with_the_columns_ask_for_a_name(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'Power', 'Data'") as caught:
        read(two_sheets(tmp_path / "c.xlsx"))
    assert "[schedule] sheet" in caught.value.hint


def test_an_unknown_sheet_ends_the_run_and_names_those_there_are(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no sheet 'Lights'; it has 'Sheet', 'Power', 'Data'"):
        read(two_sheets(tmp_path / "c.xlsx"), "Lights")


def test_without_the_columns_the_best_row_is_named_with_its_sheet(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'to' is missing; it has circuit, from, too") as caught:
        read(book(tmp_path / "c.xlsx", ("Title",), (), ("circuit", "from", "too")))
    assert caught.value.where.endswith("c.xlsx, sheet 'Circuits', row 3")


@pytest.mark.parametrize("rows", [(), ((None, " "),)])
def test_an_empty_sheet_ends_the_run(tmp_path: Path, rows: tuple[tuple[object, ...], ...]) -> None:
    with pytest.raises(InputError, match="it is empty"):
        read(book(tmp_path / "c.xlsx", *rows))


def test_what_is_merged_down_holds_for_each_row_and_is_told_once(tmp_path: Path) -> None:
    rows = [
        ("P1", "DB", "S1", "power", 4.5, 2),
        (None, None, None, None, 3.0, 1),
        (None,) * 4 + (2.0, 4),
        ("P2", *ROW[1:]),
    ]

    def merged(sheet: Sheet) -> None:
        for column in "ABCD":
            sheet.merge_cells(f"{column}2:{column}4")

    schedule = rows_of(tmp_path, *rows, change=merged)
    one, two = schedule.circuits
    assert [(cable.row, cable.count) for cable in one.cables] == [(2, 2), (3, 1), (4, 4)]
    assert (one.calls, two.mark, schedule.lost_rows) == (("S1",), "P2", ())
    (problem,) = schedule.problems
    assert (problem.kind, problem.elements) == (ProblemKind.ASSUMPTION, 8)  # four columns, two rows below the first


def test_what_is_merged_holds_no_farther_than_it_goes_nor_makes_rows_of_blank_ones(tmp_path: Path) -> None:
    rows = [ROW, (None,) * 4 + (3.0, 1), (None,) * 7, (None, "DB", "S1", "power", 3.0, 1)]
    schedule = rows_of(tmp_path, *rows, change=lambda sheet: sheet.merge_cells("A2:A4"))
    assert [cable.row for cable in only(schedule).cables] == [2, 3]
    assert schedule.lost_rows == (5,)


def test_what_is_merged_from_a_blank_row_gives_nothing_to_those_below(tmp_path: Path) -> None:
    rows = f'<row r="3">{inline("P1", "DB", "S1", "power", "4", "2")}</row><row r="4">{inline("", "DB", "S1", "power", "4", "2")}</row>'
    merged = '<mergeCells><mergeCell ref="A2:A4"/></mergeCells>'
    assert read(by_hand(tmp_path / "c.xlsx", HEAD_XML + rows, after=merged)).lost_rows == (4,)


def test_merged_titles_are_no_columns(tmp_path: Path) -> None:
    def merged(sheet: Sheet) -> None:
        sheet.insert_rows(1, 2)
        sheet["A1"] = "Circuits of the house"
        sheet.merge_cells("A1:G2")
        sheet["A5"] = "First floor"
        sheet.merge_cells("A5:G5")

    schedule = rows_of(tmp_path, ROW, change=merged)
    assert only(schedule).mark == "P1"
    assert not schedule.lost_rows
    assert {problem.where for problem in schedule.problems} == {
        "circuits.xlsx, sheet 'Circuits', row 1",
        "circuits.xlsx, sheet 'Circuits', row 5",
    }


def test_hidden_rows_and_columns_are_read_and_told_once(tmp_path: Path) -> None:
    def hidden(sheet: Sheet) -> None:
        for row in (3, 4, 900):
            sheet.row_dimensions[row].hidden = True
        sheet.column_dimensions["F"].hidden = True
        sheet.column_dimensions["Z"].hidden = True

    schedule = rows_of(tmp_path, ROW, ("P2", *ROW[1:]), ("P3", *ROW[1:]), change=hidden)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P2", "P3"]
    assert [problem.what for problem in schedule.problems] == [
        "2 of its rows are hidden (3, 4)",
        "1 of its columns is hidden (F)",
    ]
    assert {problem.kind for problem in schedule.problems} == {ProblemKind.ASSUMPTION}


def test_rows_may_come_in_any_order_and_without_numbers(tmp_path: Path) -> None:
    def row(number: int, mark: str) -> str:
        return f'<row r="{number}">{inline(mark, "DB", "S1", "power", "4.5", "2")}</row>'

    head = HEAD_XML.replace("<row>", '<row r="1">')
    schedule = read(by_hand(tmp_path / "c.xlsx", row(9, "P9") + head + row(4, "P4")))
    assert [(circuit.mark, circuit.cables[0].row) for circuit in schedule.circuits] == [("P4", 4), ("P9", 9)]


def test_cells_beside_the_table_dont_move_it(tmp_path: Path) -> None:
    schedule = rows_of(tmp_path, (*ROW, None, None, "a note"))
    assert only(schedule).mark == "P1"
    assert [problem.kind for problem in schedule.problems] == [ProblemKind.ASSUMPTION]
