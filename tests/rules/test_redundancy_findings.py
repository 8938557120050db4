"""From circuits that the project wants apart to the finding, and to the issue that a person would raise."""

from dataclasses import replace

import pytest

from checker.asking import subjects_of
from checker.assemble import carrier_rows, compartment_rows
from checker.findings import finding_rows
from checker.judging import judge_all, judge_subjects
from checker.model import Circuit, CircuitPair
from checker.network.grouping import group_circuits
from checker.network.loading import load
from checker.network.routing import route_all
from checker.result.tables import FindingRow
from checker.result.topics import group_findings
from checker.rule import Basis, Limit
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
CODE = PLUGINS.codes["iec-60364"]
RULE = "segregation.redundancy"
# Two lengths of 5 m side by side, 600 mm from axis to axis, 50 mm wide: 550 mm clear.
UPPER, LOWER = carrier("UPPER", (0, 0, 0), (5000, 0, 0)), carrier("LOWER", (0, -600, 0), (5000, -600, 0))
ENDS = (outlet("SRC", (0, -300, 0)), outlet("RACK", (5000, -300, 0)))


def findings(*ways: str, **limits: float) -> tuple[FindingRow, ...]:
    """Of two circuits by ways that are given."""
    own = {
        name: Limit(value=value, basis=Basis.PROJECT, source="the project", confidence="given", reason="one fire load")
        for name, value in limits.items()
    }
    code = replace(CODE, limits={RULE: CODE.limits[RULE].model_copy(update=own)})
    circuits: list[Circuit] = [
        circuit(mark, "SRC", "RACK", apart_from=("PB",) if mark == "PA" else (), route=way)
        for mark, way in zip(("PA", "PB"), ways, strict=True)
    ]
    found = installation(UPPER, LOWER, *ENDS, *circuits)
    routing = route_all(found)
    loading = load(found, routing, CODE.sizes)
    grouped = group_circuits(found, routing, loading)
    judged = judge_subjects(subjects_of({CircuitPair}, found, routing, loading, grouped), PLUGINS.rules, code)
    rows = finding_rows(found, [], [], code, judged)
    compartments = compartment_rows(loading, judge_all(loading, PLUGINS.rules, CODE), [], judged)
    carriers = {row.key: row for row in carrier_rows(found, loading, compartments)}
    topics = group_findings(rows, carriers, {})
    assert len(topics) == len([row for row in rows if row.verdict == "fail"])
    return rows


def test_a_shared_carrier_is_a_fail_that_names_it_and_both_circuits() -> None:
    (found,) = findings("UPPER", "UPPER")
    assert (found.rule, found.verdict, found.value, found.limit) == (RULE, "fail", 5.0, 0.0)
    assert (found.carriers, found.circuits) == (("UPPER",), ("PA", "PB"))


@pytest.mark.parametrize(
    ("limits", "verdict", "value"),
    [
        ({}, "pass", 0.0),
        ({"clear_mm": 550.0}, "pass", 0.0),  # 600 − 25 − 25 is as much as is wanted
        ({"clear_mm": 551.0}, "fail", 5.0),
        ({"clear_mm": 551.0, "beside_m": 5.0}, "pass", 5.0),
        ({"clear_mm": 551.0, "beside_m": 4.9}, "fail", 5.0),
    ],
)
def test_carriers_of_their_own_are_held_against_the_distance_that_the_project_gives(
    limits: dict[str, float], verdict: str, value: float
) -> None:
    (found,) = findings("UPPER", "LOWER", **limits)
    assert (found.verdict, found.value) == (verdict, pytest.approx(value))
    assert set(found.carriers) == {"UPPER", "LOWER"}
    assert "laid as found" not in found.reason  # both ways are given


def test_the_finding_is_the_same_wherever_the_two_are_led() -> None:
    assert findings("UPPER", "UPPER")[0].id == findings("UPPER", "LOWER")[0].id


def test_circuits_of_which_nothing_is_declared_are_no_pair() -> None:
    found = installation(UPPER, LOWER, *ENDS, circuit("PA", "SRC", "RACK"), circuit("PB", "SRC", "RACK"))
    routing = route_all(found)
    loading = load(found, routing, CODE.sizes)
    assert list(subjects_of({CircuitPair}, found, routing, loading, group_circuits(found, routing, loading))) == []
