"""Which places where divided carriers meet a rule about fittings is asked about, and with what."""

from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Condition, DividedFitting, Fitting, FittingKind, Service, Vec
from checker.network.loading import load
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes

WEST, HERE, EAST, NORTH = (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (2000.0, 0.0, 0.0), (1000.0, 1000.0, 0.0)
TEE = fitting("TEE", HERE, FittingKind.TEE, 60.0)
FOR_TWO = lanes(Service.POWER, Service.DATA)


def of(key: str, start: Vec, end: Vec, *, is_divided: bool = True) -> Carrier:
    section = replace(STEEL_50, lanes=FOR_TWO) if is_divided else STEEL_50
    return replace(carrier(key, start, end, section), across=(0.0, 1.0, 0.0))


THREE = (of("A", WEST, HERE), of("B", HERE, EAST), of("C", HERE, NORTH))
P, D = circuit("P", "A", "B"), circuit("D", "A", "B", service=Service.DATA)


def met(*items: Carrier | Fitting | Circuit, **more: object) -> list[DividedFitting]:
    inst = installation(*items, **more)
    return list(load(inst, route_all(inst), load_plugins().codes["bs-7671"].sizes).fittings)


@pytest.mark.parametrize("kind", [FittingKind.TEE, FittingKind.CROSS, FittingKind.UNKNOWN])
def test_a_place_where_three_meet_is_asked_with_what_passes_it_compartment_by_compartment(kind: FittingKind) -> None:
    (found,) = met(*THREE, replace(TEE, kind=kind), P, D)
    assert found.fitting is not None
    assert (found.label, [item.key for item in found.carriers]) == ("TEE", ["A", "B", "C"])
    passing = [(item.compartments, [cable.circuit for cable in item.cables]) for item in found.passing]
    assert passing == [((("A", 1), ("B", 1)), ["P"]), ((("A", 2), ("B", 2)), ["D"])]
    assert (found.possible, found.possible_doubts, found.unbounded) == ((), (), False)


def test_a_place_without_a_fitting_where_three_meet_is_asked_too() -> None:
    (found,) = met(*THREE, P, D)
    assert found.fitting is None
    assert found.label == "the place where A, B, C meet without a fitting"
    (found,) = met(
        of("A", WEST, EAST), of("C", HERE, NORTH), circuit("P", "A", "C"), circuit("D", "A", "C", service=Service.DATA)
    )
    assert found.label == "the place where A, C meet without a fitting"


@pytest.mark.parametrize(
    "items",
    [
        (*THREE[:2], P, D),  # two that meet end to end
        (*THREE[:2], replace(TEE, kind=FittingKind.BEND), P, D),
        (*THREE, TEE, P),  # one circuit
        (*THREE, TEE, P, circuit("Q", "A", "C")),  # both in compartment 1 of A, which is judged there
        (*THREE, TEE, circuit("P", "A", "A"), D),  # one of them ends before it
        (
            *(replace(item, section=STEEL_50) for item in THREE),
            TEE,
            P,
            D,
        ),  # both in A and B, where they are judged together
    ],
)
def test_where_nothing_is_kept_apart_nothing_is_asked(items: tuple[Carrier | Fitting | Circuit, ...]) -> None:
    assert met(*items) == []


def test_one_divided_carrier_is_enough() -> None:
    """P and D lie apart in A, and part at the tee."""
    parts = (
        THREE[0],
        *(of(item.key, item.start_mm or HERE, item.end_mm or HERE, is_divided=False) for item in THREE[1:]),
    )
    assert len(met(*parts, TEE, P, circuit("D", "A", "C", service=Service.DATA))) == 1
    assert met(*parts, TEE, P, D) == []  # both go into B, where they lie together and are judged


def test_a_circuit_whose_compartment_is_not_known_may_lie_in_another() -> None:
    section = replace(STEEL_50, lanes=lanes(None, None))
    parts = [replace(item, section=section) for item in THREE]
    (found,) = met(*parts, TEE, circuit("P", "A", "B"), circuit("Q", "A", "B"))
    assert {item.compartments for item in found.passing} == {(("A", None), ("B", None))}


def test_reducers_beside_a_tee_belong_to_the_place() -> None:
    """B begins at a reducer, which touches the tee."""
    reducer = fitting("RED", (1100.0, 0.0, 0.0), FittingKind.REDUCER, 80.0)
    parts = (THREE[0], of("B", (1120.0, 0.0, 0.0), EAST), THREE[2])
    (found,) = met(*parts, fitting("TEE", HERE, FittingKind.TEE, 120.0), reducer, P, D)
    assert (found.label, [item.key for item in found.carriers]) == ("TEE", ["A", "B", "C"])


def test_what_is_not_led_anywhere_could_pass_too() -> None:
    lost = circuit("X", "A", "nowhere", service=Service.DATA)
    (found,) = met(*THREE, TEE, P, D, lost)
    assert [cable.circuit for cable in found.possible] == ["X"]
    assert found.possible_doubts == ("circuit X isn't routed and could lie here",)
    elv = circuit("X", "A", "nowhere", service=Service.ELV)  # for which no compartment is
    assert met(*THREE, TEE, P, D, elv)[0].possible == ()


def test_what_can_not_be_counted_could_pass_too() -> None:
    assert met(*THREE, TEE, P, D, lost_rows=(4,))[0].unbounded
    there = (*THREE[:2], replace(THREE[2], condition=Condition.EXISTING))
    (found,) = met(*there, TEE, P, D)
    assert (found.unbounded, found.possible_doubts) == (True, ("what lies in C isn't known",))


def test_a_place_does_not_depend_on_the_order_of_what_was_read() -> None:
    items = (*THREE, TEE, P, D, circuit("Q", "C", "B"))
    assert met(*items) == met(*reversed(items))
