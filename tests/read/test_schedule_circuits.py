"""Circuits of several rows: what holds for all of them, states, ways back, and what they are kept apart from."""

from itertools import permutations
from pathlib import Path

import pytest

from checker.model import Circuit, ProblemKind, State
from tests.read.test_schedule import HEAD, only, read

STATES = HEAD.replace("count", "count,state")
BACK = HEAD.replace("count", "count,return_way")
APART = HEAD.replace("count", "count,apart_from")


@pytest.mark.parametrize(
    ("states", "state", "counts"),
    [
        (["new", "removed"], State.NEW, [1]),
        (["removed", "existing"], State.EXISTING, [2]),
        (["existing", "removed", ""], State.EXISTING, [1, 3]),
        (["removed", ""], State.NEW, [2]),
        (["spare", "removed", "spare"], State.SPARE, [1, 3]),
        (["removed", "removed"], State.REMOVED, [1, 2]),
        (["existing", ""], State.EXISTING, [1, 2]),
        (["", "existing"], State.NEW, [1, 2]),  # an empty first one means new
        (["", "spare"], State.NEW, [1, 2]),
        (["removed", "", "spare"], State.NEW, [2, 3]),
        (["spare", ""], State.SPARE, [1, 2]),
        (["spare", "removed", ""], State.SPARE, [1, 3]),
        (["spare", "", "new"], State.NEW, [1, 2, 3]),
        (["", "removed", ""], State.NEW, [1, 3]),
        (["", ""], State.NEW, [1, 2]),
        (["new", "spare"], State.NEW, [1, 2]),
        (["existing", "spare", "removed"], State.NEW, [1, 2]),
        (["gone", "existing"], State.NEW, [1, 2]),  # no word of ours: it counts
    ],
)
def test_a_row_that_is_removed_goes_and_the_rest_stands(
    tmp_path: Path, states: list[str], state: State, counts: list[int]
) -> None:
    """The first row has one cable, the second two, the third three."""
    rows = "".join(f"P1,DB,S1,power,,4,{place + 1},{word}\n" for place, word in enumerate(states))
    circuit = only(read(tmp_path, STATES + rows))
    assert circuit.state is state
    assert [cable.count for cable in circuit.cables] == counts


@pytest.mark.parametrize(
    ("states", "is_told"),
    [
        (["", "spare"], True),
        (["", "existing"], True),
        (["removed", "", "spare"], True),
        (["spare", "new"], True),
        (["spare", ""], False),
        (["", "new"], False),
        (["", ""], False),
    ],
)
def test_rows_that_differ_in_their_state_are_told_and_an_empty_first_one_differs_from_all_but_new(
    tmp_path: Path, states: list[str], *, is_told: bool
) -> None:
    schedule = read(tmp_path, STATES + "".join(f"P1,DB,S1,power,,4,1,{word}\n" for word in states))
    told = [problem.kind for problem in schedule.problems if "differ in their state" in problem.what]
    assert told == ([ProblemKind.ASSUMPTION] if is_told else [])
    assert ("state" in only(schedule).unread) is is_told


@pytest.mark.parametrize("others", [["p1"], ["P 1"], ["P  1"], ["p\u00a01"], ["p1", "P 1"]])
def test_marks_that_differ_only_in_case_or_blanks_are_told_and_stay_apart(tmp_path: Path, others: list[str]) -> None:
    marks = ["P1", *others, "P2", "P1"]  # written the same they are one circuit
    rows = "".join(f"{mark},DB,S1,power,,4,{place + 1}\n" for place, mark in enumerate(marks))
    schedule = read(tmp_path, HEAD + rows)
    assert [circuit.mark for circuit in schedule.circuits] == ["P1", *others, "P2"]
    (told,) = schedule.problems
    count = "two" if len(others) == 1 else "3"
    assert told.what.startswith(f"{count} circuits have marks that differ only in case or blanks: 'P1'")
    assert told.where == f"circuits.csv, lines 2, 3{', 4' if len(others) > 1 else ''}"
    assert (told.kind, told.elements) == (ProblemKind.ASSUMPTION, len(others) + 1)


def test_marks_that_differ_in_more_are_not_told(tmp_path: Path) -> None:
    marks = ["P1", "P-1", "P11", "P1/1", "P01"]
    assert not read(tmp_path, HEAD + "".join(f"{mark},DB,S1,power,,4,1\n" for mark in marks)).problems


def test_each_removed_row_is_told(tmp_path: Path) -> None:
    schedule = read(tmp_path, STATES + "P1,DB,S1,power,,4,1,removed\nP1,DB,S1,power,,4,2,\n")
    (told,) = schedule.problems
    assert (told.where, told.kind) == ("circuits.csv, line 2, state", ProblemKind.ASSUMPTION)
    assert only(schedule).unread == ()


def test_what_a_removed_row_says_touches_the_rest_no_more(tmp_path: Path) -> None:
    circuit = only(read(tmp_path, STATES + "P1,DB,S1,power,,4,1,new\nP1,DB,S9,data,,thick,two,removed\n"))
    assert (circuit.calls, circuit.unread) == (("S1",), ())


def test_what_is_said_in_one_row_holds_whichever_it_is(tmp_path: Path) -> None:
    rows = ["P1,DB,,,,4,1\n", "P1,,S1,power,,3,2\n", "P1,,,,,2,3\n"]
    found = [only(read(tmp_path, HEAD + "".join(order))) for order in permutations(rows)]
    assert {(circuit.origin, circuit.calls, circuit.service, circuit.unread) for circuit in found} == {
        ("DB", ("S1",), found[0].service, ())
    }


def test_a_bad_cell_of_the_whole_circuit_is_told_where_it_stands(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,,,4,1\nP1,,,lights,,3,2\n")
    assert [problem.where for problem in schedule.problems] == ["circuits.csv, line 3, service"]


@pytest.mark.parametrize(
    ("ends", "word", "is_other", "is_told"),
    [
        ("DB,S1;S2;DB", "other", True, False),
        ("DB,S1;S2;DB", " OTHER ", True, False),
        ("DB,S1;S2;DB", "shortest", False, False),
        ("DB,S1;S2;DB", "", False, False),
        ("DB,S1;S2;DB", "longest", False, True),
        ("DB,S1;S2", "other", False, True),
        ("DB,S1;DB;S2", "other", False, True),
        ("DB,DB", "other", False, True),
        (",", "other", False, True),
        ("DB,S1;S2", "shortest", False, False),
    ],
)
def test_only_a_ring_returns_by_another_way(
    tmp_path: Path, ends: str, word: str, *, is_other: bool, is_told: bool
) -> None:
    schedule = read(tmp_path, BACK + f"P1,{ends},power,,4,1,{word}\n")
    assert only(schedule).returns_other_way is is_other
    assert ("return_way" in only(schedule).unread) is is_told
    assert bool([problem for problem in schedule.problems if problem.where.endswith("return_way")]) is is_told


def test_a_way_back_that_rows_contradict_is_not_used(tmp_path: Path) -> None:
    rows = "P1,DB,S1;DB,power,,4,1,other\nP1,DB,S1;DB,power,,4,1,shortest\n"
    circuit = only(read(tmp_path, BACK + rows))
    assert not circuit.returns_other_way
    assert "return_way" in circuit.unread


def apart(folder: Path, *cells: str) -> tuple[Circuit, list[str]]:
    rows = [f'P1,DB,S1,power,,4,1,"{cell}"\n' for cell in cells]
    others = [f"P{number},DB,S1,power,,4,1,\n" for number in (2, 3)]
    schedule = read(folder, APART + "".join([*rows, *others]))
    return schedule.circuits[0], [problem.what for problem in schedule.problems]


@pytest.mark.parametrize("cell", ["P2;P3", " P2 ; P3;", "P2\nP3", "P2;P3;P2"])
def test_marks_that_a_circuit_is_kept_apart_from_are_read(tmp_path: Path, cell: str) -> None:
    circuit, told = apart(tmp_path, cell)
    assert (circuit.apart_from, circuit.unread, told) == (("P2", "P3"), (), [])


@pytest.mark.parametrize(
    ("cell", "words"), [("P2;P1", "'P1' is the circuit's own mark"), ("P2;P4", "there is no circuit 'P4'")]
)
def test_unknown_marks_and_its_own_are_told_and_the_rest_holds(tmp_path: Path, cell: str, words: str) -> None:
    circuit, told = apart(tmp_path, cell)
    assert (circuit.apart_from, circuit.unread, told) == (("P2",), ("apart_from",), [words])


def test_of_marks_that_rows_contradict_all_are_kept_apart_from(tmp_path: Path) -> None:
    circuit, told = apart(tmp_path, "P2", "P3")
    assert (circuit.apart_from, circuit.unread) == (("P2", "P3"), ("apart_from",))
    assert told == ["'P3' differs from 'P2' in line 2"]


def test_ends_that_rows_contradict_are_told_with_both_values_and_lines(tmp_path: Path) -> None:
    """The first row leaves ``to`` empty: line 3 says it first, and lines 4 and 5 say something else each."""
    rows = "P1,DB,,power,,4,1\nP1,,S1,,,4,2\nP1,,S2,,,4,3\nP1,DC,S3,,,4,4\n"
    schedule = read(tmp_path, HEAD + rows)
    assert sorted((problem.where, problem.what) for problem in schedule.problems) == [
        ("circuits.csv, line 4, to", "'S2' differs from 'S1' in line 3"),
        ("circuits.csv, line 5, from", "'DC' differs from 'DB' in line 2"),
        ("circuits.csv, line 5, to", "'S3' differs from 'S1' in line 3"),
    ]
    assert {"from", "to"} <= set(only(schedule).unread)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (["P1,DB,S1,power,,4,2", "P2,DB,S1,power,,4,2", "P1,DB, S1 ,power,,4,2"], [("2, 4", "2 and 4", "both")]),
        (["P1,DB,S1,power,,4,2"] * 3, [("2, 3, 4", "2, 3 and 4", "all")]),
        (
            ["P1,DB,S1,power,,4,2", "P1,DB,S1,power,,5,2"] * 2,
            [("2, 4", "2 and 4", "both"), ("3, 5", "3 and 5", "both")],
        ),
        (["P1,DB,S1,power,,4,2", "P1,DB,S1,power,,4,3"], []),  # another count
        (["P1,DB,S1,power,,4,2", "P1,,,,,4,2"], []),  # its ends are left empty
        (["P1,DB,S1,power,,4,2", "P2,DB,S1,power,,4,2"], []),  # another circuit
    ],
)
def test_rows_that_are_the_same_are_counted_and_told_once(
    tmp_path: Path, rows: list[str], told: list[tuple[str, str, str]]
) -> None:
    schedule = read(tmp_path, HEAD + "\n".join(rows) + "\n")
    assert sum(len(circuit.cables) for circuit in schedule.circuits) == len(rows)
    assert [(problem.where, problem.what, problem.why, problem.kind) for problem in schedule.problems] == [
        (f"circuits.csv, lines {where}", f"lines {which} are the same", f"{many} are counted", ProblemKind.ASSUMPTION)
        for where, which, many in told
    ]


def test_rows_that_differ_in_a_further_column_are_not_the_same(tmp_path: Path) -> None:
    rows = "P1,DB,S1,power,,4,2,a\nP1,DB,S1,power,,4,2,b\n"
    assert not read(tmp_path, HEAD.replace("count", "count,remark") + rows).problems


def test_rows_that_are_the_same_and_removed_are_counted_nowhere(tmp_path: Path) -> None:
    assert not read(tmp_path, STATES + "P1,DB,S1,power,,4,1,removed\n" * 2).problems


def test_lists_may_be_in_lines(tmp_path: Path) -> None:
    schedule = read(
        tmp_path, HEAD.replace("count", "count,route") + 'P1,DB,"S1\nS2\r\nS3",power,,4,1,"T1/2\nT2|T3;T4"\n'
    )
    assert only(schedule).calls == ("S1", "S2", "S3")
    assert [(step.name, step.compartment) for step in only(schedule).route] == [
        ("T1", 2),
        ("T2", None),
        ("T3", None),
        ("T4", None),
    ]
