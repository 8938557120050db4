"""Pairs of circuits that keep apart, by patterns of their marks: what wildcards make of both, and who is left without another."""

from collections.abc import Sequence

import pytest

from checker.model import Circuit, Problem
from checker.read import ways
from checker.read.project import Project
from checker.read.ways import with_way_limits
from tests.installations import circuit


def pairs(*pairs: tuple[str, str], marks: Sequence[str]) -> tuple[dict[str, tuple[str, ...]], list[Problem]]:
    """Whom each circuit keeps apart from, of those that do."""
    return paired(pairs, [circuit(mark, "DB", "S") for mark in marks])


def paired(
    pairs: Sequence[tuple[str, str]], circuits: Sequence[Circuit]
) -> tuple[dict[str, tuple[str, ...]], list[Problem]]:
    found = with_way_limits(circuits, (), Project.model_validate({"redundant": [{"circuits": pair} for pair in pairs]}))
    return {one.mark: one.apart_from for one in found.circuits if one.apart_from}, found.problems


def both(one: str, other: str) -> dict[str, tuple[str, ...]]:
    return {one: (other,), other: (one,)}


@pytest.mark.parametrize(
    ("pair", "one", "other"),
    [
        (("PA-7", "PB-7"), "PA-7", "PB-7"),
        (("PA-*", "PB-*"), "PA-7", "PB-7"),
        (("*-A", "*-B"), "RK12-A", "RK12-B"),
        (("R?A*", "R?B*"), "R1A-x", "R1B-x"),
        (("A+*", "B+*"), "A+1", "B+1"),
        (("A.*", "B.*"), "A.1", "B.1"),
        (("(x)*", "(y)*"), "(x)[1]", "(y)[1]"),
        (("A\\*", "B\\*"), "A\\1", "B\\1"),
        (("PA-*", "PB-*"), "PA-", "PB-"),
        (("A*", "B*"), "A^$|", "B^$|"),
    ],
)
def test_pairs_are_what_the_wildcards_make_of_both_marks(pair: tuple[str, str], one: str, other: str) -> None:
    for order in (pair, pair[::-1]):
        found, problems = pairs(order, marks=[one, other])
        assert found == both(one, other)
        assert not problems


def test_signs_of_marks_mean_nothing_but_themselves() -> None:
    found, problems = pairs(("A.1", "A+1"), marks=["A.1", "A+1", "AA1", "AX1", "A1"])
    assert found == both("A.1", "A+1")
    assert not problems


def test_each_pair_is_its_own() -> None:
    found, problems = pairs(("PA-*", "PB-*"), marks=["PA-1", "PB-2", "PB-1", "PA-2", "PC-1"])
    assert found == both("PA-1", "PB-1") | both("PA-2", "PB-2")
    assert not problems


def test_one_without_the_other_is_told_and_the_rest_are_paired() -> None:
    marks = ["PA-1", "PB-1", "PA-2", "PB-3"]
    for order in (marks, marks[::-1]):
        found, (problem,) = pairs(("PA-*", "PB-*"), marks=order)
        assert found == both("PA-1", "PB-1")
        assert problem.where == "wayroom.toml, [[redundant]] 1"
        assert "PA-2 (no PB-2), PB-3 (no PA-3)" in problem.what
        assert problem.elements == 2


def test_patterns_that_no_mark_fits_are_told() -> None:
    found, (problem,) = pairs(("PA-*", "PB-*"), marks=["P-1"])
    assert not found
    assert "'PA-*' or 'PB-*'" in problem.what


@pytest.mark.parametrize("pair", [("P*", "P*-B"), ("P*-B", "P*")])
def test_a_mark_that_both_patterns_fit_has_its_other_whichever_comes_first(pair: tuple[str, str]) -> None:
    # P1-B is the other of P1; that it fits P* itself, and that there is no P1-B-B, matters to nobody
    found, problems = pairs(pair, marks=["P1", "P1-B"])
    assert found == both("P1", "P1-B")
    assert not problems


def test_of_three_in_a_row_the_middle_one_keeps_apart_from_both() -> None:
    found, problems = pairs(("P*", "P*-B"), marks=["P1", "P1-B", "P1-B-B"])
    assert found == {"P1": ("P1-B",), "P1-B": ("P1", "P1-B-B"), "P1-B-B": ("P1-B",)}
    assert not problems


def test_nobody_keeps_apart_from_itself() -> None:
    found, _ = pairs(("*A", "A*"), marks=["A", "AA"])
    assert all(mark not in others for mark, others in found.items())


def test_several_entries_add_up_and_keep_what_was_there() -> None:
    circuits = [circuit("A1", "DB", "S", apart_from=("Z9",)), circuit("B1", "DB", "S"), circuit("C1", "DB", "S")]
    found, problems = paired([("A*", "B*"), ("A*", "C*")], circuits)
    assert found == {"A1": ("B1", "C1", "Z9"), "B1": ("A1",), "C1": ("A1",)}
    assert not problems


def test_pairing_many_looks_at_each_mark_once_a_pattern(monkeypatch: pytest.MonkeyPatch) -> None:
    captured, asked = ways._captured, []

    def counted(pattern: str) -> object:
        asked.append(pattern)
        return captured(pattern)

    monkeypatch.setattr(ways, "_captured", counted)
    marks = [f"P{side}-{number}" for number in range(2000) for side in "AB"]
    found, problems = pairs(("PA-*", "PB-*"), marks=marks)
    assert len(found) == 4000
    assert asked == ["PA-*", "PB-*"]
    assert not problems
