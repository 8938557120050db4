"""From circuits in neighbouring carriers, and in trays above each other, to findings."""

from dataclasses import replace

import pytest

from checker.asking import subjects_of
from checker.findings import finding_rows
from checker.judging import judge_subjects
from checker.model import Carrier, CarrierKind, CarrierPair, Circuit, Enclosure, Installation, Laying, Section, Service
from checker.network.grouping import group_circuits
from checker.network.loading import load
from checker.network.routing import route_all
from checker.result.tables import FindingRow
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
LADDER = Section(width_mm=300.0, height_mm=60.0, source="test")
LOAD: dict[str, float | str] = {"design_current_a": 8.0, "device_rating_a": 20.0, "loaded_conductors": 2}


def ladder(key: str, y: float, z: float = 0.0, laying: Laying | None = None) -> Carrier:
    made = carrier(key, (0.0, y, z), (4000.0, y, z), LADDER, CarrierKind.LADDER, material="steel")
    return replace(made, across=(0.0, 1.0, 0.0), laying=laying or Laying())


def power(mark: str, key: str) -> Circuit:
    return circuit(mark, key, key, route=key, electrical=LOAD)


def data(mark: str, key: str, cable: str) -> Circuit:
    made = circuit(mark, key, key, service=Service.DATA, route=key)
    return replace(made, cables=(replace(made.cables[0], key=cable, csa_mm2=None),))


def findings(inst: Installation, rule: str) -> list[FindingRow]:
    routing = route_all(inst)
    loading = load(inst, routing, CODE.sizes)
    subjects = subjects_of({CarrierPair, Enclosure}, inst, routing, loading, group_circuits(inst, routing, loading))
    rows = finding_rows(inst, [], [], CODE, judge_subjects(subjects, PLUGINS.rules, CODE))
    return [row for row in rows if row.rule == rule]


@pytest.mark.parametrize(("y", "verdict"), [(314.0, "fail"), (315.0, "pass")])
def test_data_beside_power_is_held_to_the_table(y: float, verdict: str) -> None:
    # class b on open metal 75 mm, one circuit of 20 A 0.2: 15 mm; the ladders are 300 mm wide
    inst = installation(ladder("L1", 0.0), ladder("L2", y), power("P1", "L1"), data("D1", "L2", "cat6-u-utp"))
    (found,) = findings(inst, "segregation.spacing")
    assert (found.verdict, found.value, found.limit, found.is_floor) == (verdict, y - 300.0, 15.0, True)
    assert (found.carriers, found.circuits, found.unit) == (("L1", "L2"), ("D1", "P1"), "mm")


def test_a_circuit_without_a_way_could_lie_beside_data() -> None:
    lost = replace(power("P2", "L1"), route=(), origin="nowhere", calls=("nowhere",))
    inst = installation(ladder("L1", 0.0), ladder("L2", 315.0), power("P1", "L1"), data("D1", "L2", "cat6-u-utp"), lost)
    (found,) = findings(inst, "segregation.spacing")
    # with it there are two circuits in the same step of P, but it lies in L2 beside nothing of data in L1
    assert found.verdict == "pass"
    many = [replace(lost, mark=f"P{number}") for number in range(2, 5)]
    inst = installation(
        ladder("L1", 0.0), ladder("L2", 315.0), power("P1", "L1"), data("D1", "L2", "cat6-u-utp"), *many
    )
    (found,) = findings(inst, "segregation.spacing")
    # with all three there are four: 75 · 0.4 = 30 mm
    assert found.verdict == "unknown"
    assert "30 mm wanted" in found.reason
    assert "P2" in found.reason


def test_trays_above_each_other_are_held_to_the_tiers_of_their_ratings() -> None:
    one_tier, two_tiers = Laying(single_layer=True, tiers=1), Laying(single_layer=True, tiers=2)
    inst = installation(
        ladder("L1", 0.0, 0.0, one_tier),
        ladder("L2", 0.0, 300.0, two_tiers),
        ladder("L3", 2000.0, 300.0, one_tier),
        *(power(f"P{number}", f"L{number}") for number in (1, 2, 3)),
    )
    found = {row.carriers[0]: (row.verdict, row.value, row.limit) for row in findings(inst, "grouping.stacked")}
    assert found == {"L1": ("fail", 2.0, 1.0), "L2": ("pass", 2.0, 2.0), "L3": ("pass", 1.0, 1.0)}
