"""Several tables under each other: each is read by its own header, and what stands under one that isn't whole could lie anywhere."""

from pathlib import Path

import pytest

from checker.errors import InputError
from checker.model import ProblemKind
from checker.read.project import Project
from checker.read.project_schedule import ScheduleSpec
from checker.read.schedule import Schedule, read_schedule
from tests.read.sheets import Sheet, book
from tests.read.sheets import read as read_book
from tests.read.test_schedule import HEAD, only, read

ROW = "P1,DB,S1,power,,4,2\n"
ANOTHER = "another header stands there, with other columns"


def told(schedule: Schedule) -> list[tuple[str, str, ProblemKind]]:
    return [(problem.where, problem.what, problem.kind) for problem in schedule.problems]


def test_columns_in_another_order_are_read_by_the_header_above_them(tmp_path: Path) -> None:
    first = "circuit,from,to,service,csa_mm2,diameter_mm,count\nP1,DB,S1,power,16,9.3,10\n"
    second = "circuit,from,to,service,diameter_mm,csa_mm2,count\nP2,DB,S1,power,9.3,6,10\n"
    schedule = read(tmp_path, f"{first}\n{second}")
    assert [(circuit.cables[0].diameter_mm, circuit.cables[0].csa_mm2) for circuit in schedule.circuits] == [
        (9.3, 16.0),
        (9.3, 6.0),
    ]
    assert told(schedule) == [("circuits.csv, line 4", ANOTHER, ProblemKind.INFERENCE)]
    assert schedule.lost_rows == ()


def test_so_are_voltages_and_mark_and_ends(tmp_path: Path) -> None:
    first = "circuit,from,to,service,diameter_mm,voltage_v,rated_voltage_v,count\nP1,DB,S1,power,9.3,230,750,10\n"
    second = "to,from,circuit,service,diameter_mm,rated_voltage_v,voltage_v,count\nS2,RACK,D1,elv,9.3,125,24,10\n"
    one, two = read(tmp_path, first + second).circuits
    assert (one.voltage_v, one.cables[0].rated_voltage_v) == (230.0, 750.0)
    assert (two.mark, two.origin, two.calls) == ("D1", "RACK", ("S2",))
    assert (two.voltage_v, two.cables[0].rated_voltage_v) == (24.0, 125.0)


def test_a_further_column_of_a_wider_header_counts(tmp_path: Path) -> None:
    wider = HEAD.replace("count", "count,sets")
    schedule = read(tmp_path, HEAD + ROW + wider + "P2,DB,S1,power,,4,2,3\n" + HEAD + "P3,DB,S1,power,,4,2\n")
    assert [circuit.sets for circuit in schedule.circuits] == [1, 3, 1]
    assert schedule.lost_rows == ()  # the cells of line 5 haven't moved
    assert told(schedule) == [("circuits.csv, lines 3, 5", ANOTHER, ProblemKind.INFERENCE)]


def test_a_column_that_a_header_lacks_is_missing_there_alone(tmp_path: Path) -> None:
    narrower = "circuit,from,to,service,diameter_mm\n"
    schedule = read(tmp_path, HEAD + ROW + narrower + "P2,DB,S1,power,4\n")
    one, two = schedule.circuits
    assert (one.cables[0].count, one.unread) == (2, ())
    assert (two.cables[0].count, two.unread) == (None, ("count",))
    assert ("circuits.csv, line 3", "the column 'count' is missing", ProblemKind.GAP) in told(schedule)


def test_a_circuit_may_have_rows_in_several_tables(tmp_path: Path) -> None:
    second = "count,circuit,from,to,diameter_mm,route,note\n3,P1,,,5,T1,late\n"
    circuit = only(read(tmp_path, HEAD + ROW + second))
    assert [(cable.count, cable.diameter_mm) for cable in circuit.cables] == [(2, 4.0), (3, 5.0)]
    assert ([step.name for step in circuit.route], circuit.other) == (["T1"], {"note": "late"})
    assert (circuit.origin, circuit.calls, circuit.unread) == ("DB", ("S1",), ())


def test_a_header_whose_further_columns_have_other_names_is_another(tmp_path: Path) -> None:
    first, second = (HEAD.replace("count", f"count,{name}") for name in ("note", "stage"))
    schedule = read(tmp_path, first + "P1,DB,S1,power,,4,2,a\n" + second + "P2,DB,S1,power,,4,2,b\n")
    assert [circuit.other for circuit in schedule.circuits] == [{"note": "a"}, {"stage": "b"}]


@pytest.mark.parametrize("again", ["Circuit,FROM,to,Service,cable,diameter_mm (mm),count", HEAD.strip()])
def test_a_header_is_repeated_however_it_is_written_if_its_columns_stand_where_they_did(
    tmp_path: Path, again: str
) -> None:
    schedule = read(tmp_path, HEAD + ROW + again + "\n" + ROW.replace("P1", "P2"))
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P2"]
    assert told(schedule) == [("circuits.csv, line 3", "the header is repeated", ProblemKind.ASSUMPTION)]


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("circuit,origin,dest,service,count,diameter_mm,cable", "without 'from' and 'to'"),
        ("ref,from,to,service,count,diameter_mm,cable", "without 'circuit'"),
        ("ref,origin,dest,service,count,diameter_mm,size", "without 'circuit' and 'from' and 'to'"),
        ("circuit,from,to,to,count,diameter_mm,cable", "with 'to' twice"),
    ],
)
def test_rows_below_a_header_that_isnt_whole_are_lost_up_to_the_next(tmp_path: Path, header: str, words: str) -> None:
    text = HEAD + ROW + f"{header}\nP2,DB,S1,power,4,4,x\n\nP3,,,,,,\n" + HEAD + ROW.replace("P1", "P4")
    schedule = read(tmp_path, text)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P4"]
    assert schedule.lost_rows == (4, 6)
    (gap,) = [problem for problem in schedule.problems if problem.kind is ProblemKind.GAP]
    assert (gap.where, gap.what, gap.elements) == ("circuits.csv, line 3", f"a header stands there {words}", 2)


def test_a_header_in_our_words_is_one_where_the_project_has_its_own(tmp_path: Path) -> None:
    project = Project(schedule=ScheduleSpec(columns={"circuit": "Ref", "from": "Origin"}))
    path = tmp_path / "circuits.csv"
    rows = "Ref,Origin,to,diameter_mm,count\nP1,DB,S1,4,2\ncircuit,from,to,count,diameter_mm\nP2,DB,S1,4,2\n"
    path.write_text(rows, encoding="utf-8")
    schedule = read_schedule(path, project, {})
    assert only(schedule).mark == "P1"
    assert schedule.lost_rows == (4,)
    assert any("without 'Ref' and 'Origin'" in problem.what for problem in schedule.problems)


def test_a_table_above_the_first_whole_header_is_lost_and_a_title_isnt(tmp_path: Path) -> None:
    above = "Circuits of the house\ncircuit,origin,to,count\nP1,DB,S1,2\n"
    schedule = read(tmp_path, above + HEAD + ROW.replace("P1", "P2"))
    assert only(schedule).mark == "P2"
    assert schedule.lost_rows == (3,)
    assert told(schedule)[:2] == [
        ("circuits.csv, line 1", "what stands above the header is taken for a title", ProblemKind.INFERENCE),
        ("circuits.csv, line 2", "a header stands there without 'from'", ProblemKind.GAP),
    ]


@pytest.mark.parametrize("title", ["From,1 May,To,9 May\nIssued\n", "Circuit,,,,Cable,,\n", "circuit\nfrom\nto\n"])
def test_words_of_ours_in_a_title_are_no_table(tmp_path: Path, title: str) -> None:
    schedule = read(tmp_path, title + HEAD + ROW)
    assert only(schedule).mark == "P1"
    assert schedule.lost_rows == ()
    assert [problem.what for problem in schedule.problems] == ["what stands above the header is taken for a title"]


def test_a_header_right_above_a_fuller_one_has_no_rows(tmp_path: Path) -> None:
    schedule = read(tmp_path, "circuit,from,to,remarks\n" + HEAD + ROW)
    assert (only(schedule).cables[0].count, only(schedule).unread) == (2, ())
    assert told(schedule) == [("circuits.csv, line 1", "a header has no rows below it", ProblemKind.ASSUMPTION)]


def test_a_row_of_units_may_stand_below_each_header(tmp_path: Path) -> None:
    other = "circuit,from,to,service,count,diameter_mm\n-,-,-,-,-,mm\nP2,DB,S1,power,2,4\n"
    schedule = read(tmp_path, HEAD + ",,,,,mm,\n" + ROW + other)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P2"]
    assert [problem.where for problem in schedule.problems if problem.what == "it is a row of units"] == [
        "circuits.csv, line 2",
        "circuits.csv, line 5",
    ]
    assert schedule.lost_rows == ()


def test_numbers_of_all_tables_show_what_their_signs_mean(tmp_path: Path) -> None:
    """12,50 has two decimals, so a comma is a decimal one in this file, and 1,500 is 1.5."""
    first = "circuit;from;to;service;diameter_mm;count\nP1;DB;S1;power;1,500;2\n"
    second = "circuit;from;to;service;count;diameter_mm\nP2;DB;S1;power;2;12,50\n"
    one, two = read(tmp_path, first + second).circuits
    assert (one.cables[0].diameter_mm, two.cables[0].diameter_mm) == (1.5, 12.5)


def test_headings_that_are_merged_down_into_a_second_row_of_headings_are_one_header(tmp_path: Path) -> None:
    """The first row has a word for a group of columns, the second what each holds; mark and ends are merged over both."""

    def merged(sheet: Sheet) -> None:
        for column in "ABCD":
            sheet.merge_cells(f"{column}1:{column}2")

    rows = [
        ("circuit", "from", "to", "service", "Cable", None),
        (None, None, None, None, "count", "diameter_mm"),
        ("P1", "DB", "S1", "power", 2, 4.5),
    ]
    schedule = read_book(book(tmp_path / "c.xlsx", *rows, change=merged))
    assert [(cable.count, cable.diameter_mm) for cable in only(schedule).cables] == [(2, 4.5)]
    assert schedule.lost_rows == ()


def test_units_below_headings_that_are_merged_down_to_them_are_a_row_of_units(tmp_path: Path) -> None:
    def merged(sheet: Sheet) -> None:
        for column in "ABCD":
            sheet.merge_cells(f"{column}1:{column}2")

    rows = [
        ("circuit", "from", "to", "service", "count", "diameter_mm"),
        (None, None, None, None, "-", "mm"),
        ("P1", "DB", "S1", "power", 2, 4.5),
    ]
    schedule = read_book(book(tmp_path / "c.xlsx", *rows, change=merged))
    assert [(cable.count, cable.diameter_mm) for cable in only(schedule).cables] == [(2, 4.5)]
    assert "it is a row of units" in [problem.what for problem in schedule.problems]


def test_more_different_headers_than_any_schedule_has_end_the_run(tmp_path: Path) -> None:
    headers = [HEAD.replace("count", f"count,note {number % 41}") + ROW for number in range(42)]
    assert len(read(tmp_path, "".join(headers[:40] * 2)).circuits) == 1
    with pytest.raises(InputError, match="more than 40 different headers") as caught:
        read(tmp_path, "".join(headers))
    assert caught.value.where.endswith("circuits.csv, line 81")  # two lines for each of forty, then the next


def test_the_first_whole_header_still_ends_the_run_where_a_column_stands_there_twice(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'to' stands there twice"):
        read(tmp_path, "circuit,from,to,to\n" + HEAD + ROW)
