"""What rules find that the model lacks becomes problems: one for all that is alike, and nothing that is told elsewhere."""

from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.findings import model_problems
from checker.judging import JudgedSubject
from checker.model import Carrier, Installation, ModelledCarrier, Problem, ProblemKind, Section
from checker.rule import Outcome, Verdict
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
CODES = sorted(PLUGINS.codes)
ROW = (
    carrier("A", (0, 0, 0), (2000, 0, 0)),
    carrier("B", (2000, 0, 0), (4000, 0, 0)),
    outlet("DB", (0, 0, -300)),
    outlet("S1", (4000, 0, -400)),
)
P1 = circuit("P1", "DB", "S1")


def unused(number: int, storey: str = "L0", kind: str = "") -> Carrier:
    """A carrier apart from all others."""
    return replace(
        carrier(f"X{number}", (0, 5000.0 * number, 0), (2000, 5000.0 * number, 0), storey=storey), type_name=kind
    )


def problems(inst: Installation, code: str = "bs-7671") -> list[Problem]:
    """What the three rules tell."""
    titles = {rule.title for rule in PLUGINS.rules.values() if rule.family == "completeness"}
    found = check_installation(inst, PLUGINS.codes[code], PLUGINS).problems
    starts = ("so it may not be needed", "so no circuit is led on", "so how full it is isn't known", "so whether it is")
    return [item for item in found if item.why in titles or item.why.startswith(starts)]


@pytest.mark.parametrize("code", CODES)
def test_a_whole_model_has_none(code: str) -> None:
    assert problems(installation(*ROW, P1), code) == []


@pytest.mark.parametrize("code", CODES)
def test_a_carrier_apart_is_told_as_unused_and_as_joined_to_nothing(code: str) -> None:
    joined, used = sorted(problems(installation(*ROW, P1, unused(1)), code), key=lambda item: item.what)
    assert (joined.where, used.where) == ("X1", "X1")
    assert joined.what == "both its ends are joined to nothing, as all of it is, and no circuit comes in there"
    assert joined.why == "so no circuit is led on from it"
    assert used.what == "no circuit lies in it"
    assert used.why == "so it may not be needed, or its circuits lack in the schedule"
    assert joined.hint
    assert used.hint
    assert (joined.kind, used.kind) == (ProblemKind.GAP, ProblemKind.GAP)


def test_they_are_no_findings() -> None:
    result = check_installation(installation(*ROW, P1, unused(1)), PLUGINS.codes["bs-7671"], PLUGINS)
    assert not [finding for finding in result.findings if finding.rule.startswith("completeness.")]


def test_many_alike_are_one_problem_with_their_number_and_where_most_of_them_are() -> None:
    below = [unused(number, "Ground", "Tray 100") for number in range(1, 13)]
    above = [unused(number, "First", "Tray 300") for number in range(13, 33)]
    found = problems(installation(*ROW, P1, *below, *above))
    assert len(found) == 2
    for item in found:
        assert item.elements == 32
        assert item.where == (
            "X1, X2, X3, X4, X5 and 27 more; on First (20), Ground (12); of type Tray 300 (20), Tray 100 (12)"
        )


def test_without_a_schedule_unused_carriers_are_not_listed() -> None:
    found = problems(installation(*ROW, *(unused(number) for number in range(1, 4)), is_scheduled=False))
    assert found
    assert not [item for item in found if "lies in it" in item.what]
    assert all(
        "isn't known" in item.why for item in found
    )  # that their ends are open is a fact, whether on purpose isn't


def test_a_circuit_without_a_way_makes_it_unknown_whether_a_carrier_is_used() -> None:
    found = problems(installation(*ROW, P1, circuit("P2", "DB", "NOWHERE"), unused(1)))
    (used,) = (item for item in found if "lies in it" in item.what)
    assert (used.where, used.why) == ("X1", "so whether it is used isn't known")


def test_a_near_miss_is_not_told_again() -> None:
    near = carrier("NEAR", (4060, 0, 0), (6000, 0, 0))
    inst = installation(*ROW[:3], outlet("S1", (1000, 0, -300)), P1, near)
    told = check_installation(inst, PLUGINS.codes["bs-7671"], PLUGINS).problems
    assert [item.where for item in told if "60 mm apart" in item.what] == ["B / NEAR"]
    # B's end is told by that; of NEAR the other end, 2 m on, is open besides
    assert [item.where for item in problems(inst) if "joined to nothing" in item.what] == ["NEAR"]


def test_walls_that_leave_nothing_are_told() -> None:
    thick = replace(unused(1), section=Section(outside_diameter_mm=16.0, wall_mm=8.0, source="property"))
    (size,) = (item for item in problems(installation(*ROW, P1, thick)) if "bore" in item.what)
    assert (size.where, size.what) == ("X1", "its wall leaves no bore")
    assert size.why == "so how full it is isn't known"


def test_the_order_of_carriers_changes_nothing() -> None:
    many = [unused(number, f"L{number % 3}", f"T{number % 2}") for number in range(1, 15)]
    assert problems(installation(*ROW, P1, *many)) == problems(installation(*ROW, P1, *reversed(many)))


def test_a_reason_without_a_consequence_has_the_rules_title_in_its_place() -> None:
    verdict = Verdict(Outcome.UNKNOWN, "nobody knows", advice="ask")
    judged = [JudgedSubject("completeness.used", ModelledCarrier(unused(number)), verdict) for number in range(1, 4)]
    assert model_problems(judged, PLUGINS.rules) == [
        Problem("X1, X2, X3", "nobody knows", "Carriers that hold no circuit", "ask", elements=3)
    ]
