"""Which lines are rows of circuits, which are lost, and which certainly hold no cable."""

import sys
from pathlib import Path
from types import FrameType

import pytest

from checker.model import ProblemKind
from checker.read.project import Project
from checker.read.project_schedule import ScheduleSpec
from checker.read.schedule import read_schedule
from tests.read.test_schedule import HEAD, only, read

ROW = "P1,DB,S1,power,,4,2\n"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (",Ground floor,,,,,", "'Ground floor': a heading"),
        (",,,Power and lighting,,,", "'Power and lighting': a heading"),
        ("Total,,,,,,124", "a total: 'Total'"),
        ("Total,,,,,,", "a total: 'Total'"),
        ("SUB-TOTAL:,,,,,,124", "a total: 'SUB-TOTAL:'"),
    ],
)
def test_a_line_that_certainly_holds_no_cable_is_left_out_and_told(tmp_path: Path, line: str, words: str) -> None:
    schedule = read(tmp_path, HEAD + ROW + line + "\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["P1"]
    assert schedule.lost_rows == ()
    (told,) = schedule.problems
    assert words in told.what
    assert (told.where, told.kind) == ("circuits.csv, line 3", ProblemKind.ASSUMPTION)


@pytest.mark.parametrize(
    "line",
    [
        ",,,,,,2",  # a count
        ",,,,h07v-u-2.5,,",  # a cable
        ",,,,,4,",  # a size
        ",DB,S1,,,,",  # two ends
        ",,S1,power,,,",
        ",DB,,,,,2",
        ",DB-2,,,,,",  # one end
        ",Level 2,,,,,",  # it may be what a board is called
        ",,,power,,,",
        "#N/A,,,,,,",  # it was something
        "Total,,,,,4,124",  # a size
        "Total,DB,S1,,,,124,x",  # cells have moved
        ",Total,S1,,,,12",
    ],
)
def test_a_line_without_a_mark_that_could_hold_cables_stays_lost(tmp_path: Path, line: str) -> None:
    schedule = read(tmp_path, HEAD + ROW + line + "\n")
    if line.startswith("Total,,,,,4"):  # it has a mark, and is counted as a circuit
        assert [circuit.mark for circuit in schedule.circuits] == ["P1", "Total"]
        return
    assert schedule.lost_rows == (3,)
    assert any(
        problem.where.startswith("circuits.csv, line 3") and problem.kind is ProblemKind.GAP
        for problem in schedule.problems
    )


@pytest.mark.parametrize("mark", ["P2", "L12", "P1", "FA-LOOP", "Lighting", "EM 4", "Level 2"])
def test_a_line_of_one_mark_however_it_is_written_is_a_circuit_with_everything_missing(
    tmp_path: Path, mark: str
) -> None:
    schedule = read(tmp_path, HEAD + ROW + f"{mark},,,,,,\n")
    found = {circuit.mark: circuit for circuit in schedule.circuits}
    assert found[mark].cables[-1].count is None
    assert "count" in found[mark].unread
    assert found[mark].origin == ("DB" if mark == "P1" else "")
    (told,) = [problem for problem in schedule.problems if "stands alone" in problem.what]
    assert (told.where, told.kind) == ("circuits.csv, line 3, circuit", ProblemKind.ASSUMPTION)
    assert "group_headings" in told.hint


@pytest.mark.parametrize("text", ["GROUND FLOOR", "Ground floor", "FA LOOP", "Power:\u00a0west wing"])
def test_several_words_alone_in_the_column_of_marks_are_lost_since_they_may_be_either(
    tmp_path: Path, text: str
) -> None:
    schedule = read(tmp_path, HEAD + ROW + f"{text},,,,,,\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["P1"]
    assert schedule.lost_rows == (3,)
    (told,) = schedule.problems
    assert (told.where, told.kind) == ("circuits.csv, line 3, circuit", ProblemKind.GAP)
    assert "could be a heading or a circuit's mark" in told.what


def test_several_words_written_like_other_marks_are_a_mark(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + ROW.replace("P1", "Roof fan") + "Door heater,,,,,,\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["Roof fan", "Door heater"]
    assert schedule.lost_rows == ()


@pytest.mark.parametrize("line", ["Ground floor,,,,,,", "GROUND  floor ,,,,,,", "Lighting,,,,,,", ",,,Level 2,,,"])
def test_headings_that_the_project_names_hold_no_cable(tmp_path: Path, line: str) -> None:
    spec = ScheduleSpec(group_headings=("ground floor", "LIGHTING", "Level 2"))
    (tmp_path / "circuits.csv").write_text(HEAD + ROW + line + "\n", encoding="utf-8")
    schedule = read_schedule(tmp_path / "circuits.csv", Project(schedule=spec), {})
    assert [circuit.mark for circuit in schedule.circuits] == ["P1"]
    assert schedule.lost_rows == ()
    (told,) = schedule.problems
    assert (told.where, told.kind) == ("circuits.csv, line 3", ProblemKind.ASSUMPTION)


def test_a_row_that_begins_like_a_heading_and_has_more_is_a_circuit(tmp_path: Path) -> None:
    (tmp_path / "circuits.csv").write_text(HEAD + "Lighting,DB,S1,power,,4,2\n", encoding="utf-8")
    project = Project(schedule=ScheduleSpec(group_headings=("Lighting",)))
    assert only(read_schedule(tmp_path / "circuits.csv", project, {})).mark == "Lighting"


def test_a_circuit_without_ends_and_with_cables_is_no_total(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "Total,,,power,,4,2\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["Total"]


AMPS = "circuit,from,to,service,cable,count,csa_mm2,design_current_a,device_rating_a,route,notes\n"


@pytest.mark.parametrize(
    "line",
    [
        'Total,,,,,48,,"412,5",,,',
        "Totals:,,,,,48,,412.5,630,,incl. spares",
        "Total,,,,,#VALUE!,,#REF!,,,",  # sums that went wrong are still sums
    ],
)
def test_a_total_may_add_up_counts_and_currents(tmp_path: Path, line: str) -> None:
    schedule = read(tmp_path, AMPS + f"P1,DB,S1,power,h07v-u-2.5,2,,8,16,,\n{line}\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["P1"]
    assert schedule.lost_rows == ()
    (told,) = schedule.problems
    assert (told.where, told.kind) == ("circuits.csv, line 3", ProblemKind.ASSUMPTION)
    assert told.what.startswith("it is a total: 'Total")


@pytest.mark.parametrize(
    "line",
    [
        "Total,DB,,,,2,,8,16,,",  # ends
        "Total,,S1,,,2,,8,16,,",
        "Total,,,power,,2,,8,16,,",
        "Total,,,,h07v-u-4,2,,8,16,,",
        "Total,,,,,2,4,8,16,,",  # a size
        "Total,,,,#N/A,2,,8,16,,",  # it was a cable
        "Total,,,,,2,,8,16,T1,",  # a way
        "Total plant,,,,,2,,8,16,,",  # no word for a total
    ],
)
def test_a_circuit_called_total_stays_one(tmp_path: Path, line: str) -> None:
    schedule = read(tmp_path, AMPS + f"P1,DB,S1,power,h07v-u-2.5,2,,8,16,,\n{line}\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", line.partition(",")[0]]


def test_repeated_headers_are_told_once(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + ROW + HEAD.upper() + ROW.replace("P1", "P2") + HEAD)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", "P2"]
    (told,) = schedule.problems
    assert (told.where, told.what, told.elements) == ("circuits.csv, lines 3, 5", "the header is repeated", 2)
    assert (told.kind, schedule.lost_rows) == (ProblemKind.ASSUMPTION, ())


@pytest.mark.parametrize("units", ["-,-,-,-,-,mm,-", ",,,,,mm,", ",,,,,(mm),[-]", ",,,text,,[mm],pcs"])
def test_a_row_of_units_below_the_header_is_left_out(tmp_path: Path, units: str) -> None:
    schedule = read(tmp_path, HEAD + units + "\n" + ROW)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1"]
    assert [(problem.where, problem.what) for problem in schedule.problems] == [
        ("circuits.csv, line 2", "it is a row of units")
    ]
    assert schedule.lost_rows == ()


@pytest.mark.parametrize("units", ["1,A,V,,,,1", "-,-,-,-,-,cm,-", ",,,,,mm,2", ",,-,,,,-"])
def test_what_isnt_surely_one_is_a_row_like_others(tmp_path: Path, units: str) -> None:
    schedule = read(tmp_path, HEAD + units + "\n" + ROW)
    assert len(schedule.circuits) == 2 or schedule.lost_rows == (2,)


def test_a_row_of_units_farther_down_is_a_row(tmp_path: Path) -> None:
    assert read(tmp_path, HEAD + ROW + ",,,,,mm,\n").lost_rows == (3,)


def test_a_schedule_of_nothing_but_a_header_has_no_rows(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + ",,,,,,\n")
    assert [problem.what for problem in schedule.problems] == ["the schedule has no rows"]


def test_a_defect_in_every_row_is_told_for_every_row(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "".join(f"P{number},DB,S1,power,h07v-u-9.{number},,1\n" for number in range(3000)))
    told = [problem for problem in schedule.problems if "no cable" in problem.what]
    assert len({problem.where for problem in told}) == 3000
    assert told[0].hint.startswith("did you mean")


def calls_for(folder: Path, rows: int) -> int:
    """How many calls reading takes, where each row has defects of its own: the same on every machine."""
    text = HEAD + "".join(f"P{n},DB,S1,powr,h07v-u-9.{n},thick{n},x\n,DB,,,,,\nTotal,,,,,,{n}\n" for n in range(rows))
    count = 0

    def counted(_frame: FrameType, event: str, _: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(counted)
    try:
        read(folder, text)
    finally:
        sys.setprofile(None)
    return count


def test_twice_as_many_bad_rows_are_at_most_twice_the_work(tmp_path: Path) -> None:
    calls_for(tmp_path, 10)  # imports, and what is read once
    assert calls_for(tmp_path, 1600) <= 2.1 * calls_for(tmp_path, 800)
