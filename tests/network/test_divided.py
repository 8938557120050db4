"""Which places where divided carriers meet a rule about fittings is asked about, and with what."""

from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Condition, DividedFitting, Fitting, FittingKind, Partition, Service, Vec
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


BEND = replace(TEE, kind=FittingKind.BEND)
JOINTS = [None, *(replace(TEE, kind=kind) for kind in (FittingKind.BEND, FittingKind.CONNECTOR, FittingKind.REDUCER))]
FREE = lanes(None, None)


def joined(
    joint: Fitting | None, *routes: str, is_turned: bool = False, count: int = 2, **more: object
) -> list[DividedFitting]:
    """A and B end to end, and circuits with the routes that are given: the first is power, the others are data."""
    parts = [replace(item, section=replace(item.section, lanes=lanes(*[None] * count))) for item in THREE[:2]]
    if is_turned:
        parts[1] = replace(parts[1], across=(0.0, -1.0, 0.0))
    services = (Service.POWER, *(Service.DATA,) * (len(routes) - 1))
    circuits = [
        circuit(f"C{n}", "A", "B", service=service, route=route)
        for n, (route, service) in enumerate(zip(routes, services, strict=True))
    ]
    return met(*parts, *([joint] if joint else []), *circuits, **more)


@pytest.mark.parametrize("joint", JOINTS)
@pytest.mark.parametrize("is_turned", [False, True])
def test_a_joint_or_bend_is_asked_where_circuits_change_sides_and_only_there(
    joint: Fitting | None, *, is_turned: bool
) -> None:
    """Where B counts from the other side, what keeps its number changes sides."""
    kept, changed = ("A/1;B/1", "A/2;B/2"), ("A/1;B/2", "A/2;B/1")
    if is_turned:
        kept, changed = changed, kept
    assert joined(joint, *kept, is_turned=is_turned) == []
    (found,) = joined(joint, *changed, is_turned=is_turned)
    assert found.label == ("the place where A, B meet without a fitting" if joint is None else "TEE")
    assert [item.key for item in found.carriers] == ["A", "B"]
    assert [[cable.circuit for cable in item.cables] for item in found.passing] == [["C0"], ["C1"]]


def test_who_keeps_its_side_is_met_by_who_changes_it() -> None:
    """Of three compartments: C0 goes from the first to the last, and C1 stays between."""
    (found,) = joined(BEND, "A/1;B/3", "A/2;B/2", count=3)
    assert {cable.circuit for cable in found.cables} == {"C0", "C1"}
    assert joined(BEND, "A/1;B/3", count=3) == []  # alone
    assert joined(BEND, "A/1;B/2", "A/2;B/2") == []  # both lie in the second of B, and are judged there


def test_services_that_lie_on_other_sides_beyond_a_joint_change_sides() -> None:
    turned = replace(THREE[1], across=(0.0, -1.0, 0.0))
    assert len(met(THREE[0], turned, BEND, P, D)) == 1
    assert met(*THREE[:2], BEND, P, D) == []


def test_where_no_side_is_known_nothing_is_known_to_change_it() -> None:
    parts = [replace(item, section=replace(item.section, lanes=FREE), is_across_known=False) for item in THREE[:2]]
    swapped = (circuit("C0", "A", "B", route="A/1;B/2"), circuit("C1", "A", "B", route="A/2;B/1"))
    assert met(*parts, BEND, *swapped) == []


def test_a_bend_declared_as_kept_is_not_believed_by_number_where_the_next_carrier_counts_from_the_other_side() -> None:
    kept = replace(BEND, partition=Partition.KEPT, partition_why="made so")
    (straight,) = joined(kept, "A/1;B/2", "A/2;B/1")
    assert straight.partition is Partition.KEPT  # the rule sees from the numbers that it is crossed
    (turned,) = joined(kept, "A/1;B/1", "A/2;B/2", is_turned=True)
    assert turned.partition is None


def test_a_joint_that_is_crossed_does_not_depend_on_the_order_of_what_was_read_or_the_way_it_is_passed() -> None:
    parts = [replace(item, section=replace(item.section, lanes=FREE)) for item in THREE[:2]]
    swapped = (circuit("C0", "A", "B", route="A/1;B/2"), circuit("C1", "B", "A", route="B/1;A/2"))
    items = (*parts, BEND, *swapped)
    (found,) = met(*items)
    assert (met(*reversed(items)), {cable.circuit for cable in found.cables}) == ([found], {"C0", "C1"})
