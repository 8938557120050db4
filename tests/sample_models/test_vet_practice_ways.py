"""The vet practice's ring that comes back another way, what hangs on a near way, and what is said of ways, against the worked answers."""

import csv
import importlib.util
import io
import sys
from pathlib import Path
from types import ModuleType

import pytest

from checker.result.tables import Result
from tests.sample_models.test_vet_practice import expected, near

# the model draws these three in part (``vet_cables.py``), so other ways of theirs aren't looked at
SAME = (
    "the same on all ways that were looked at, up to 2 m longer; DA-07, DA-08, TP-01, which are drawn in part, were not"
)
# Of fill by the kind's own rule, of what lies together in a compartment and of ratings; README.md says so.
ASKED_ON_NEAR_WAYS = {"fill.compartment", "fill.conduit", "fill.tray", "segregation.compartment", "grouping.rating"}


def of_sample(folder: Path, name: str) -> ModuleType:
    """A module of the sample's own folder, under a name that no other sample's has."""
    spec = importlib.util.spec_from_file_location(f"vet_practice_{name}", folder / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.path.insert(0, str(folder))
    sys.modules[spec.name] = module  # its dataclasses look it up
    try:
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(str(folder))
    return module


def test_the_worked_answers_are_those_that_are_checked_in(vet_practice: Path) -> None:
    worked = of_sample(vet_practice, "worked")
    again = io.StringIO()
    writer = csv.DictWriter(again, worked.COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(worked.work())
    assert again.getvalue() == (vet_practice / "expected.csv").read_text(encoding="utf-8")


def test_every_near_way_is_the_worked_one(vet_practice: Path, vet_result: Result) -> None:
    labels = {row.key: row.place.tag for row in vet_result.carriers}
    assert vet_result.near_m == of_sample(vet_practice, "vet_worked_ways").NEAR_M
    found = {row.circuit: row for row in vet_result.near_ways}
    worked = expected(vet_practice, "near way")
    assert {row["key"] for row in worked} == set(found)
    assert len(worked) == len(vet_result.near_ways) == 1
    for row in worked:
        here = found[row["key"]]
        assert labels[here.by] == row["by"]
        assert near(here.longer_m, row["length_m"])
        assert "; ".join(labels[key] for key in here.carriers) == row["carriers"]


def test_what_hangs_on_a_near_way_is_what_was_worked_and_the_rest_is_the_same_on_all(
    vet_practice: Path, vet_result: Result
) -> None:
    # the paper calculation done again with FP-09 by FT-13 and FT-16: all verdicts are the same but that on MP-02
    [row] = expected(vet_practice, "hangs")
    [way] = expected(vet_practice, "near way")
    assert (row["key"], row["compartment"], row["verdict"], row["then"]) == ("MP-02", "", "pass", "fail")
    told = f"would {row['then']} if {row['other']} went by {row['by']} ({float(way['length_m']):.2f} m longer)"
    asked = [f for f in vet_result.findings if f.verdict in {"pass", "fail"} and f.rule in ASKED_ON_NEAR_WAYS]
    assert len(asked) > 300
    for finding in asked:
        is_it = finding.is_of_circuit and finding.circuits == (row["key"],)
        assert finding.other_ways == (told if is_it else SAME), (finding.rule, finding.circuits)
    assert told in next(item.reason for item in vet_result.ratings if item.circuit == row["key"])


@pytest.mark.parametrize("rule", ["fill.compartment", "grouping.rating", "segregation.compartment"])
def test_verdicts_that_fail_whichever_way_circuits_go_say_so(vet_result: Result, rule: str) -> None:
    # FT-01 holds FP-09 on both its ways; through MT-5 and WT-02 there is one way only
    failing = [finding for finding in vet_result.findings if finding.verdict == "fail" and finding.rule == rule]
    assert failing
    assert {finding.other_ways for finding in failing} == {SAME}


def test_the_ring_comes_back_by_another_way_than_it_went_and_passes_no_place_twice(vet_result: Result) -> None:
    labels = {row.key: row.place.tag for row in vet_result.carriers}
    legs = {row.leg: row for row in vet_result.take_off if row.circuit == "MP-01"}
    # 2350 + 300 + 850; 850 + 300 + 850; and back by the east, 2850 + 300 + 1700 + 300 + 1350, not 5.5 m by which it came
    assert [legs[number].way_m for number in range(3)] == pytest.approx([3.5, 2.0, 6.5], abs=5e-4)
    assert [labels[key] for key in legs[2].carriers] == ["FT-05", "FT-14", "FT-16"]
    lying = {(labels[row.carrier], row.number): row.count for row in vet_result.cables if row.circuit == "MP-01"}
    assert lying == {("FT-16", 1): 3, ("FT-13", 1): 3, ("FT-05", 1): 3, ("FT-14", 1): 3}  # three cables, once
    # the other ring goes back the way it came, so it lies there twice
    assert {row.count for row in vet_result.cables if row.circuit == "UP-01"} == {6}


def test_a_fire_alarm_circuit_outside_its_own_containment_is_told_and_no_other(vet_result: Result) -> None:
    labels = {row.key: row.place.tag for row in vet_result.carriers}
    alarm = [row for row in vet_result.circuits if row.service == "fire-alarm"]
    outside = {row.circuit for row in alarm if any(not labels[key].startswith("F") for key in row.carriers)}
    assert len(alarm) == 6
    assert outside == {"FA-06"}  # by the schedule's own route
    told = [problem for problem in vet_result.problems if "own containment" in problem.what]
    assert [(problem.where, problem.kind.value) for problem in told] == [("circuit FA-06", "assumption")]
    assert told[0].what.endswith(": WT-02")


def test_compartments_that_change_sides_in_a_bend_are_told_and_no_others(vet_result: Result) -> None:
    # FT-13 runs south and FT-16 east, so power, on the left of both, lies inside the loop; FT-14 runs south again, its left outside
    told = [problem for problem in vet_result.problems if "different sides" in problem.what]
    assert [problem.where for problem in told] == ["FT-14 and FT-16"]
    assert told[0].kind.value == "assumption"
