"""Who lies with whom: enclosures across compartments, rings, and what may lie there."""

from dataclasses import replace
from typing import Any

import pytest

from checker.model import (
    Cable,
    Carrier,
    CarrierKind,
    Circuit,
    Enclosure,
    Installation,
    RoutedCircuit,
    Section,
    Service,
    State,
)
from checker.network.grouping import group_circuits
from checker.network.loading import load
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, lanes, outlet

SIZES = load_plugins().codes["bs-7671"].sizes
ENDS = (outlet("DB", (0.0, 100.0, 0.0)), outlet("S1", (4000.0, 100.0, 0.0)))
LOAD: dict[str, float | str] = {"design_current_a": 8.0, "device_rating_a": 10.0, "loaded_conductors": 2}


def line(section: Section | None = None, kind: CarrierKind = CarrierKind.TRUNKING) -> Carrier:
    own = section or Section(100.0, 50.0, wall_mm=1.0, lanes=lanes(Service.POWER, Service.CONTROL))
    return carrier("K1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), own, kind)


def power(mark: str, *calls: str, **more: Any) -> Circuit:
    return circuit(mark, "DB", *(calls or ("S1",)), count=3, **{"electrical": LOAD, **more})


def rated(inst: Installation) -> dict[str, RoutedCircuit]:
    routing = route_all(inst)
    return {item.load.mark: item for item in group_circuits(inst, routing, load(inst, routing, SIZES)).circuits}


def enclosure_of(*items: Any) -> Enclosure:
    found = rated(installation(*ENDS, *items))
    return found["P1"].enclosures[0]


def test_circuits_in_other_compartments_lie_in_the_same_enclosure() -> None:
    found = enclosure_of(line(), power("P1"), power("C1", service=Service.CONTROL))
    assert [member.load.mark for member in found.members] == ["C1", "P1"]  # by their marks, whatever the order of rows
    assert found.possible == ()


def test_a_ring_passes_twice() -> None:
    found = rated(installation(*ENDS, line(), power("P1", "S1", "DB"), power("P2")))
    assert found["P1"].load.is_ring
    assert {member.load.mark: member.passes for member in found["P2"].enclosures[0].members} == {"P1": 2, "P2": 1}


@pytest.mark.parametrize(
    ("calls", "is_ring"), [(("S1",), False), (("S1", "DB"), True), (("DB", "DB"), False), (("DB",), False)]
)
def test_a_ring_comes_back_from_another_place(calls: tuple[str, ...], *, is_ring: bool) -> None:
    assert rated(installation(*ENDS, line(), power("P1", *calls)))["P1"].load.is_ring is is_ring


@pytest.mark.parametrize(("calls", "passes"), [(("nowhere",), 1), (("nowhere", "S1"), 2), (("S1", "nowhere", "DB"), 3)])
def test_a_circuit_that_is_not_routed_may_pass_once_a_leg(calls: tuple[str, ...], passes: int) -> None:
    found = enclosure_of(line(), power("P1"), power("P2", *calls))
    assert [(member.load.mark, member.passes) for member in found.possible] == [("P2", passes)]
    assert [member.load.mark for member in found.group(is_strict=False)] == ["P1"]
    assert [member.load.mark for member in found.group(is_strict=True)] == ["P1", "P2"]
    assert "P2 isn't routed" in found.doubts[0]


def test_it_may_lie_only_where_its_service_goes() -> None:
    own = Section(100.0, 50.0, wall_mm=1.0, lanes=lanes(Service.POWER))
    found = enclosure_of(line(section=own), power("P1"), power("C1", "nowhere", service=Service.CONTROL))
    assert found.possible == ()


def test_a_route_with_a_gap_may_come_by_again() -> None:
    far = carrier("K2", (9000.0, 0.0, 0.0), (9500.0, 0.0, 0.0))
    found = rated(installation(*ENDS, line(), far, power("P1", route="K1;K2"), power("P2")))
    assert "gap" in found["P1"].open_doubts[0]
    assert [member.load.mark for member in found["P2"].enclosures[0].possible] == ["P1"]


def test_what_carries_no_load_is_not_asked_about() -> None:
    unloaded = {**LOAD, "loaded_conductors": 0}
    items = (
        power("P1"), power("S", state=State.SPARE), power("R", state=State.REMOVED), power("N", electrical=unloaded),
        power("D", service=Service.DATA, electrical={}), power("D2", service=Service.DATA, electrical={"design_current_a": 0.6}),
    )  # fmt: skip
    found = rated(installation(*ENDS, line(section=Section(100.0, 50.0, wall_mm=1.0)), *items))
    assert list(found) == ["P1", "D2"]
    # spares lie there; what counts of them is the code's to say
    assert {member.load.mark: member.load.is_loaded for member in found["P1"].enclosures[0].members} == {
        "P1": True, "S": False, "N": False, "D": False, "D2": True,
    }  # fmt: skip


@pytest.mark.parametrize(("width", "fits", "may_fit"), [(30.0, True, True), (29.0, False, False), (None, None, True)])
def test_whether_cables_go_into_one_layer(width: float | None, *, fits: bool | None, may_fit: bool) -> None:
    own = Section(width, None, wall_mm=0.0)  # no depth is known; the width is enough
    found = enclosure_of(line(section=own, kind=CarrierKind.TRAY), power("P1"))  # three of 10 mm
    assert (found.fits_one_layer, found.may_fit_one_layer) == (fits, may_fit)


def test_cables_that_may_lie_there_make_a_layer_unsure() -> None:
    own = Section(40.0, 50.0, wall_mm=0.0, usable_depth_mm=45.0)
    found = enclosure_of(line(section=own, kind=CarrierKind.TRAY), power("P1"), power("P2", "nowhere"))
    assert (found.fits_one_layer, found.may_fit_one_layer) == (False, True)


def test_terminals_count_where_all_ends_are_declared() -> None:
    inst = installation(*ENDS, line(), power("P1"))
    declared = replace(inst, terminations_c=(("DB", 90.0), ("S*", 75.0)))
    assert rated(declared)["P1"].load.terminations_c == 75.0
    half = rated(replace(inst, terminations_c=(("DB", 90.0),)))["P1"].load
    assert (half.terminations_c, half.undeclared) == (None, "S1")


def test_rows_of_different_sizes_tell_live_from_protective_conductors() -> None:
    def row(number: int, csa: float, count: int) -> Cable:
        return Cable(number, count=count, diameter_mm=5.0, csa_mm2=csa, cores=1, conductor="Cu", insulation="PVC")

    own = replace(power("P1"), cables=(row(2, 4.0, 1), row(3, 10.0, 4)), electrical={**LOAD, "loaded_conductors": 3})
    found = rated(installation(*ENDS, line(), own))["P1"].load
    assert (found.csa_mm2, found.circuits_least, found.circuits, found.conductor) == (10.0, 1, 1, "copper")
