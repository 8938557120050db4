"""Fittings in which circuits change their compartments, or in which what lies apart before and after lies together."""

from dataclasses import replace

import pytest

from checker.findings import finding_rows
from checker.judging import judge_subjects
from checker.model import Carrier, Circuit, Fitting, FittingKind, Partition, Service
from checker.network.loading import load
from checker.network.routing import route_all
from checker.result.tables import FindingRow
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
HERE = (1000.0, 0.0, 0.0)
FAR = {"A": (0.0, 0.0, 0.0), "B": (2000.0, 0.0, 0.0), "C": (1000.0, 1000.0, 0.0), "D": (1000.0, -1000.0, 0.0)}


def of(key: str, *, is_divided: bool = True) -> Carrier:
    section = replace(STEEL_50, lanes=lanes(None, None) if is_divided else lanes(None))
    return carrier(key, FAR[key], HERE, section)


def rated(mark: str, service: Service, volts: float, rated_v: float, *ends: str, route: str = "") -> Circuit:
    found = circuit(mark, *ends, service=service, route=route, voltage_v=volts)
    return replace(found, cables=(replace(found.cables[0], rated_voltage_v=rated_v),))


def power(*ends: str, route: str = "") -> Circuit:
    return rated("P1", Service.POWER, 230.0, 750.0, *ends, route=route)


def data(*ends: str, route: str = "", rated_v: float = 125.0) -> Circuit:
    return rated("D1", Service.DATA, 5.0, rated_v, *ends, route=route)


def at(kind: FittingKind, partition: Partition | None = None) -> Fitting:
    return replace(fitting("X", HERE, kind, 60.0), partition=partition, partition_why="as ordered" if partition else "")


def findings(*items: Carrier | Circuit | Fitting) -> list[FindingRow]:
    inst = installation(*items)
    loading = load(inst, route_all(inst), CODE.sizes)
    return list(finding_rows(inst, [], [], CODE, judge_subjects(loading.fittings, PLUGINS.rules, CODE)))


SWAPPED = (power("A", "B", route="A/1;B/2"), data("A", "B", route="A/2;B/1"))
STRAIGHT = (power("A", "B", route="A/1;B/1"), data("A", "B", route="A/2;B/2"))


@pytest.mark.parametrize(
    ("kind", "partition", "circuits", "verdict"),
    [
        (FittingKind.TEE, Partition.KEPT, STRAIGHT, "pass"),
        (FittingKind.TEE, Partition.KEPT, SWAPPED, "unknown"),  # both cross what is kept
        (FittingKind.TEE, Partition.KEPT, (SWAPPED[0], data("A", "C", route="A/2;C/2")), "unknown"),  # one of them does
        (FittingKind.TEE, Partition.OPEN, SWAPPED, "fail"),  # 230 V is present, and 125 V is less
        (FittingKind.TEE, None, SWAPPED, "unknown"),
        (FittingKind.BOX, Partition.KEPT, STRAIGHT, "pass"),
        (FittingKind.BOX, Partition.KEPT, SWAPPED, "unknown"),
        (FittingKind.BOX, Partition.OPEN, STRAIGHT, "fail"),
        (FittingKind.BOX, None, STRAIGHT, "unknown"),
    ],
)
def test_what_changes_its_compartment_crosses_what_is_kept(
    kind: FittingKind, partition: Partition | None, circuits: tuple[Circuit, Circuit], verdict: str
) -> None:
    (found,) = findings(of("A"), of("B"), of("C"), at(kind, partition), *circuits)
    assert found.verdict == verdict, found.reason


def test_where_it_crosses_it_is_said_which_circuits_do_and_what_would_fail() -> None:
    (found,) = findings(of("A"), of("B"), of("C"), at(FittingKind.TEE, Partition.KEPT), *SWAPPED)
    assert "P1 in compartments 1 of A and 2 of B; D1 in compartments 2 of A and 1 of B" in found.reason
    assert "not insulated for 230 V: D1" in found.reason


def test_what_could_lie_together_may_cross() -> None:
    """All cables are rated 750 V, and 230 V is present."""
    swapped = (SWAPPED[0], data("A", "B", route="A/2;B/1", rated_v=750.0))
    (found,) = findings(of("A"), of("B"), of("C"), at(FittingKind.TEE, Partition.KEPT), *swapped)
    assert found.verdict == "pass"


@pytest.mark.parametrize("kind", [FittingKind.CROSS, FittingKind.BOX])
@pytest.mark.parametrize(
    ("partition", "rated_v", "verdict"),
    [(None, 125.0, "unknown"), (None, 750.0, "pass"), (Partition.KEPT, 125.0, "pass"), (Partition.OPEN, 125.0, "fail")],
)
def test_in_an_undivided_fitting_circuits_of_different_carriers_lie_together(
    kind: FittingKind, partition: Partition | None, rated_v: float, verdict: str
) -> None:
    parts = [of(key, is_divided=False) for key in "ABCD"]
    (found,) = findings(*parts, at(kind, partition), power("A", "B"), data("C", "D", rated_v=rated_v))
    assert found.verdict == verdict, found.reason
    if verdict == "unknown":
        assert "whether X keeps what passes it apart isn't declared" in found.reason


@pytest.mark.parametrize("lost", ["P1", "D1", "both"])
def test_that_a_circuit_is_not_routed_makes_no_pass_of_an_unknown(lost: str) -> None:
    for_two = replace(STEEL_50, lanes=lanes(Service.POWER, Service.DATA))
    parts = [replace(of(key), section=for_two) for key in "ABC"]
    tee, ends = at(FittingKind.TEE), {"P1": "B", "D1": "C"}
    found = {mark: "nowhere" if lost in {mark, "both"} else end for mark, end in ends.items()}
    (known,) = findings(*parts, tee, power("A", "B"), data("A", "C"))
    (unknown,) = findings(*parts, tee, power("A", found["P1"]), data("A", found["D1"]))
    assert (known.verdict, unknown.verdict) == ("unknown", "unknown")
    assert "isn't routed and could lie here" in unknown.reason
