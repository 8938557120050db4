"""What holds of every rule whatever it asks, tried on all cases of all rules: order, names, and one cable more."""

import copy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.rule import Outcome, Verdict
from checker.testing import Case, answer_of, limits_of, read_cases

FOLDER = Path(__file__).parent / "cases"
CASES = [case for path in sorted(FOLDER.glob("*.toml")) for case in read_cases(path)]
#: Keys of a case under which lists stand whose order means nothing.
UNORDERED = ("cables", "possible")


def shuffled(case: Case, data: st.DataObject) -> Case:
    changed = copy.deepcopy(case.data)
    for key in UNORDERED:
        if isinstance(changed.get(key), list):
            # a cable is named by its place where it has no mark: it takes the name along
            named = [
                item if "circuit" in item or not isinstance(item, dict) else {**item, "circuit": f"C{number}"}
                for number, item in enumerate(changed[key], start=0 if key == "cables" else 100)
            ]
            changed[key] = data.draw(st.permutations(named))
    return Case(case.rule, case.name, changed)


def compared(verdict: Verdict) -> tuple[Any, ...]:
    value = None if verdict.value is None else round(verdict.value, 9)
    limit = None if verdict.limit is None else round(verdict.limit, 9)
    return verdict.outcome, value, limit, verdict.unit, verdict.basis


@settings(max_examples=400, deadline=None)
@given(case=st.sampled_from(CASES), data=st.data())
def test_the_order_of_cables_changes_nothing(case: Case, data: st.DataObject) -> None:
    limits = limits_of(case)
    assert compared(answer_of(case, limits)) == compared(answer_of(shuffled(case, data), limits))


def renamed(node: Any, marks: dict[str, str]) -> Any:
    """All of a case with other marks of circuits; its own words and keys stay."""
    if isinstance(node, dict):
        return {marks.get(key, key): renamed(value, marks) for key, value in node.items()}
    if isinstance(node, list):
        return [renamed(item, marks) for item in node]
    return marks.get(node, node) if isinstance(node, str) else node


def marks_in(node: Any) -> set[str]:
    if isinstance(node, dict):
        own = {node[key] for key in ("mark", "circuit") if isinstance(node.get(key), str)}
        return own.union(*(marks_in(value) for value in node.values()))
    return set().union(*(marks_in(item) for item in node)) if isinstance(node, list) else set()


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.rule}: {case.name}")
def test_the_names_of_circuits_change_nothing(case: Case) -> None:
    marks = {mark: f"renamed {number}" for number, mark in enumerate(sorted(marks_in(case.data), reverse=True))}
    changed = Case(case.rule, case.name, renamed(case.data, marks))
    limits = limits_of(case)
    assert compared(answer_of(case, limits)) == compared(answer_of(changed, limits))


#: Three cables may jam where four don't.
FILLS = [
    case for case in CASES if case.rule.startswith("fill.") and case.rule != "fill.jam" and case.data.get("cables")
]


@settings(max_examples=400, deadline=None)
@given(case=st.sampled_from(FILLS), data=st.data())
def test_one_cable_more_never_turns_a_fail_of_fill_into_a_pass_nor_lowers_it(case: Case, data: st.DataObject) -> None:
    extra = {**data.draw(st.sampled_from(case.data["cables"])), "count": data.draw(st.integers(1, 5))}
    changed = Case(case.rule, case.name, {**case.data, "cables": [*case.data["cables"], extra]})
    limits = limits_of(case)
    before, after = answer_of(case, limits), answer_of(changed, limits)
    assert not (before.outcome is Outcome.FAIL and after.outcome is Outcome.PASS), (before, after)
    same_measure = before.measure == after.measure and before.limit == after.limit
    if same_measure and before.value is not None and after.value is not None:
        assert after.value >= before.value - 1e-9, (before, after)


RATED = [case for case in CASES if case.rule.startswith("grouping.") and len(case.data.get("circuits", [])) > 0]


@settings(max_examples=300, deadline=None)
@given(case=st.sampled_from(RATED), times=st.integers(1, 6))
def test_one_circuit_more_never_raises_a_rating(case: Case, times: int) -> None:
    data = copy.deepcopy(case.data)
    extra = {key: value for key, value in data["circuits"][-1].items() if key != "ring"}
    extra |= {"mark": "one more", "times": times, "state": "new"}
    data["circuits"].append(extra)
    for carrier in data.get("carriers", []):
        if "holds" in carrier:
            carrier["holds"] = [*carrier["holds"], "one more"]
    limits = limits_of(case)
    before, after = answer_of(case, limits), answer_of(Case(case.rule, case.name, data), limits)
    assert not (before.outcome is Outcome.FAIL and after.outcome is Outcome.PASS), (before, after)
    if before.outcome is not Outcome.UNKNOWN and after.outcome is not Outcome.UNKNOWN:
        assert (
            before.rating is None
            or after.rating is None
            or ((after.rating.capacity_a or 0.0) <= (before.rating.capacity_a or 0.0) + 1e-9)
        ), (before.rating, after.rating)


def scaled(node: Any, by: float, key: str = "") -> Any:
    """All lengths and areas of a case in another unit, one that is ``by`` times smaller."""
    if isinstance(node, dict):
        return {name: scaled(value, by, name) for name, value in node.items()}
    if isinstance(node, list):
        return [scaled(item, by, key) for item in node]
    is_area, is_length = key.endswith("_mm2") and not key.startswith("csa"), key.endswith("_mm")
    if isinstance(node, bool) or not isinstance(node, int | float) or not (is_area or is_length):
        return node
    return node * by**2 if is_area else node * by


#: Rules that hold areas or thicknesses against each other alone; the tables of others are for sizes in mm.
WITHOUT_SIZES = {"fill.compartment", "fill.area", "fill.tray", "fill.jam", "access.closed", "segregation.compartment"}
RATIOS = [case for case in CASES if case.rule in WITHOUT_SIZES]


@settings(max_examples=300, deadline=None)
@given(case=st.sampled_from(RATIOS), by=st.sampled_from([0.1, 1.0 / 25.4, 2.0, 10.0, 304.8]))
def test_the_unit_of_lengths_changes_nothing(case: Case, by: float) -> None:
    limits = limits_of(case)
    other = answer_of(Case(case.rule, case.name, scaled(dict(case.data), by)), limits)
    before = answer_of(case, limits)
    assert compared(before) == compared(other)
