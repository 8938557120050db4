"""Which lines are rows of circuits, which are lost, and which certainly hold no cable."""

import sys
from pathlib import Path
from types import FrameType

import pytest

from checker.model import ProblemKind
from tests.read.test_schedule import HEAD, read

ROW = "P1,DB,S1,power,,4,2\n"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("GROUND FLOOR,,,,,,", "'GROUND FLOOR': a heading"),
        ("Lighting,,,,,,", "'Lighting': a heading"),
        (",DB-2,,,,,", "'DB-2': a heading"),
        (",,,power,,,", "'power': a heading"),
        ("Total,,,,,,124", "a total: 'Total'"),
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


@pytest.mark.parametrize("mark", ["P2", "L12", "P1"])
def test_a_line_of_one_mark_like_those_of_others_is_a_circuit_with_everything_missing(
    tmp_path: Path, mark: str
) -> None:
    schedule = read(tmp_path, HEAD + ROW + f"{mark},,,,,,\n")
    found = {circuit.mark: circuit for circuit in schedule.circuits}
    assert found[mark].cables[-1].count is None
    assert "count" in found[mark].unread


def test_a_circuit_without_ends_and_with_cables_is_no_total(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "Total,,,power,,4,2\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["Total"]


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
