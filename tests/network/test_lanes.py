"""Compartments along a way: by their side through joints and bends, by their number through tees, and where neither tells.

Carriers run in millimetres; ``across`` is where their compartments count up to: the first lies at the side opposite to it.
"""

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from checker.model import Carrier, Circuit, Fitting, FittingKind, Installation, Port, ProblemKind, Service, Vec
from checker.model.geometry import add, cross, dot, scale
from checker.network.lane_problems import LaneProblems
from checker.network.lane_sides import SAME_SIDE_DEG, edges_of
from checker.network.lanes import Lanes
from checker.network.loading import Loading, load
from checker.network.passages import BOX, Follow
from checker.network.routing import Visit, route_all
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
LEFT, RIGHT = Y, scale(Y, -1.0)  # of who goes along x
A, B, C = (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (2000.0, 0.0, 0.0)


def of(key: str, start: Vec, end: Vec, across: Vec = LEFT, count: int = 2, *services: Service | None) -> Carrier:
    section = replace(STEEL_50, lanes=lanes(*(services or (None,) * count)))
    return replace(carrier(key, start, end, section), across=across)


def loaded(*items: Carrier | Fitting | Circuit, ports: tuple[Port, ...] = ()) -> Loading:
    inst = installation(*items, ports=ports)
    return load(inst, route_all(inst), load_plugins().codes["bs-7671"].sizes)


def lies(found: Loading, mark: str) -> dict[str, int]:
    """The compartments in which a circuit lies for certain."""
    return {
        item.carrier.key: item.number
        for item in found.compartments
        if any(cable.circuit == mark for cable in item.cables)
    }


def way(*carriers: Carrier, route: str, more: tuple[Fitting, ...] = (), **about: object) -> Loading:
    """One circuit P along a way that the schedule gives."""
    return loaded(*carriers, *more, circuit("P", carriers[0].key, carriers[-1].key, route=route, **about))


def told(found: Loading, words: str, kind: ProblemKind | None = None) -> list[str]:
    return [item.what for item in found.problems if words in item.what and kind in {None, item.kind}]


@pytest.mark.parametrize(
    ("second", "number"),
    [
        (of("T2", B, C, LEFT, 3), 1),
        (of("T2", B, C, RIGHT, 3), 3),  # it counts from the other side: 1 becomes 3 of 3
        (of("T2", C, B, RIGHT, 3), 3),  # drawn from its other end, which alone changes nothing
        (of("T2", C, B, LEFT, 3), 1),
    ],
)
def test_a_compartment_keeps_its_side_whichever_way_the_next_carrier_is_drawn(second: Carrier, number: int) -> None:
    found = way(of("T1", A, B, LEFT, 3), second, route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1, "T2": number}
    assert found.lanes_by == {("P", "T1"): "route", ("P", "T2"): "side"}
    assert told(found, "the side on which it lies before or after: T2", ProblemKind.INFERENCE)


def test_the_middle_one_of_three_is_the_middle_one_from_both_sides() -> None:
    assert lies(way(of("T1", A, B, LEFT, 3), of("T2", B, C, RIGHT, 3), route="T1/2;T2"), "P") == {"T1": 2, "T2": 2}


@pytest.mark.parametrize("with_bend", [True, False])
@pytest.mark.parametrize(
    ("end", "across", "number"),
    [
        ((1000.0, 1000.0, 0.0), (-1.0, 0.0, 0.0), 1),  # to the left: what was at the left is now behind, at −x
        ((1000.0, 1000.0, 0.0), (1.0, 0.0, 0.0), 2),
        ((1000.0, -1000.0, 0.0), (1.0, 0.0, 0.0), 1),  # to the right: what was at the left is ahead, at +x
        ((1000.0, 0.0, 1000.0), LEFT, 1),  # upward: left stays left
        ((1000.0, 0.0, -1000.0), RIGHT, 2),
        ((1500.0, 866.0, 0.0), (-0.866, 0.5, 0.0), 1),  # by 60 degrees to the left
    ],
)
def test_a_compartment_keeps_its_side_through_a_bend(end: Vec, across: Vec, number: int, *, with_bend: bool) -> None:
    more = (fitting("BEND", B, FittingKind.BEND, 60.0),) if with_bend else ()
    found = way(of("T1", A, B), of("T2", B, end, across), route="T1/1;T2", more=more)
    assert lies(found, "P") == {"T1": 1, "T2": number}


@pytest.mark.parametrize("kind", [FittingKind.CONNECTOR, FittingKind.REDUCER, FittingKind.UNKNOWN])
def test_sizes_may_differ_where_a_connector_or_reducer_joins_two(kind: FittingKind) -> None:
    wide = of("T2", B, C, RIGHT)
    wide = replace(wide, section=replace(wide.section, width_mm=150.0, height_mm=100.0))
    found = way(of("T1", A, B), wide, route="T1/1;T2", more=(fitting("R", B, kind, 60.0),))
    assert lies(found, "P") == {"T1": 1, "T2": 2}


def test_within_a_bent_carrier_the_side_is_kept_from_piece_to_piece() -> None:
    """It goes along x, then along y: left is +y first and −x then. Its across is level across its chord, at 45 degrees."""
    bent = replace(of("T1", A, (1000.0, 1000.0, 0.0), (-0.7071, 0.7071, 0.0)), corners_mm=(B,), length_mm=2000.0)
    on = of("T2", (1000.0, 1000.0, 0.0), (1000.0, 3000.0, 0.0), (-1.0, 0.0, 0.0))
    assert lies(way(bent, on, route="T1/1;T2"), "P") == {"T1": 1, "T2": 1}
    assert lies(way(bent, replace(on, across=X), route="T1/1;T2"), "P") == {"T1": 1, "T2": 2}


def test_the_edges_of_a_carrier_that_turns_back_are_both_at_the_left_of_its_way() -> None:
    """Along x, aside along y, back along −x: left is +y, −x, −y. Its chord is y, so its across −x."""
    points = (A, B, (1000.0, 500.0, 0.0), (0.0, 500.0, 0.0))
    bent = replace(of("U", points[0], points[-1], (-1.0, 0.0, 0.0)), corners_mm=points[1:-1])
    edges = edges_of(bent)
    assert edges["start"][1] == pytest.approx(Y)
    assert edges["end"][1] == pytest.approx(scale(Y, -1.0))


def test_two_bends_in_a_row_are_passed_one_after_the_other() -> None:
    """Along x, aside along y, along x again: the side is the same after as before."""
    bends = [
        replace(fitting(f"B{n}", (1000.0, y, 0.0), FittingKind.BEND), body=None) for n, y in ((1, 0.0), (2, 300.0))
    ]
    ports = (
        Port("p1", "T1", B, ("p2",)), Port("p2", "B1", B, ("p1",)),
        Port("p3", "B1", (1000.0, 150.0, 0.0), ("p4",)), Port("p4", "B2", (1000.0, 150.0, 0.0), ("p3",)),
        Port("p5", "B2", (1000.0, 300.0, 0.0), ("p6",)), Port("p6", "T2", (1000.0, 300.0, 0.0), ("p5",)),
    )  # fmt: skip
    first, last = of("T1", A, B), of("T2", (1000.0, 300.0, 0.0), (3000.0, 300.0, 0.0), RIGHT)
    inst = installation(first, last, *bends, ports=ports)
    passages = Lanes(route_all(inst).network).passages
    assert passages is not None
    between = passages.between("T1", "T2")
    assert between is not None
    assert between.follow is Follow.OPPOSITE


def test_a_section_that_is_turned_tells_nothing_and_it_is_said_why() -> None:
    found = way(of("T1", A, B), of("T2", B, C, Z), route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1}
    assert told(found, "turned against each other: T2", ProblemKind.GAP)
    assert found.lanes_by["P", "T2"] == "unknown"


@pytest.mark.parametrize(("off_deg", "is_known"), [(SAME_SIDE_DEG - 1.0, True), (SAME_SIDE_DEG + 1.0, False)])
def test_a_section_may_be_turned_a_little(off_deg: float, *, is_known: bool) -> None:
    found = way(of("T1", A, B), of("T2", B, C, _turned(off_deg)), route="T1/1;T2")
    assert ("T2" in lies(found, "P")) is is_known


def _turned(degrees: float) -> Vec:
    return (0.0, math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))


@pytest.mark.parametrize("about", [{"across": None}, {"is_across_known": False}])
@pytest.mark.parametrize("unknown", [0, 1])
def test_where_the_across_of_either_is_not_known_or_a_convention_no_side_is(
    about: dict[str, Any], unknown: int
) -> None:
    parts = [of("T1", A, B), of("T2", B, C)]
    parts[unknown] = replace(parts[unknown], **about)
    found = way(*parts, route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1}
    assert found.lanes_by["P", "T2"] == "unknown"
    assert [[c.circuit for c in item.possible] for item in found.compartments if item.carrier.key == "T2"] == [
        ["P"]
    ] * 2
    assert told(found, "isn't drawn in both of the carriers that meet there: T2", ProblemKind.GAP)


def test_of_an_undivided_carrier_the_compartment_is_known_whatever_its_across() -> None:
    found = way(of("T1", A, B), replace(of("T2", B, C, count=1), is_across_known=False), route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1, "T2": 1}


def test_nothing_is_said_to_cross_a_divider_where_no_side_is_known() -> None:
    """T2 counts from the other side, if its across is right; if that is a convention, nobody knows."""
    parts, route = (of("T1", A, B), of("T2", B, C, RIGHT)), "T1/1;T2/1"
    assert told(way(*parts, route=route), "cross the divider")
    assert not told(way(parts[0], replace(parts[1], is_across_known=False), route=route), "cross the divider")


@pytest.mark.parametrize("more", [(fitting("TEE", B, FittingKind.TEE, 60.0),), ()])
def test_a_circuit_that_is_said_to_change_its_number_at_a_tee_crosses_the_divider(more: tuple[Fitting, ...]) -> None:
    parts = (of("T1", A, B), of("T2", B, C), of("T3", B, (1000.0, 2000.0, 0.0), X))
    route = circuit("P", "T1", "T2", route="T1/1;T2/2")
    crossed = told(loaded(*parts, *more, route), "cross the divider", ProblemKind.ASSUMPTION)
    assert crossed == ["its compartment 2 lies on the other side in T2; cables would have to cross the divider"]
    kept = circuit("P", "T1", "T2", route="T1/2;T2/2")
    assert not told(loaded(*parts, *more, kept), "cross the divider")


def test_services_whose_compartments_have_other_numbers_beyond_a_tee_are_told_once_for_all() -> None:
    tee, spur = fitting("TEE", B, FittingKind.TEE, 60.0), of("T3", B, (1000.0, 2000.0, 0.0), X)
    first, second = (of(key, a, b, LEFT, 2, *services) for key, a, b, services in (
        ("T1", A, B, (Service.POWER, Service.DATA)), ("T2", B, C, (Service.DATA, Service.POWER)),
    ))  # fmt: skip
    circuits = (circuit("P", "T1", "T2"), circuit("D", "T1", "T2", service=Service.DATA))
    found = loaded(first, second, spur, tee, *circuits)
    assert (lies(found, "P"), lies(found, "D")) == ({"T1": 1, "T2": 2}, {"T1": 2, "T2": 1})
    assert told(found, "the compartments of a service have different numbers", ProblemKind.ASSUMPTION)
    assert not told(found, "different sides")


def test_in_a_box_nothing_holds_compartments() -> None:
    found = way(of("T1", A, B), of("T2", B, C), route="T1/1;T2", more=(fitting("X", B, FittingKind.BOX, 60.0),))
    assert lies(found, "P") == {"T1": 1}
    assert told(found, BOX, ProblemKind.GAP)


def test_a_compartment_is_told_from_what_comes_after_too() -> None:
    parts = [of("T1", A, B), of("T2", B, C, RIGHT), of("T3", C, (3000.0, 0.0, 0.0), RIGHT)]
    assert lies(way(*parts, route="T1;T2;T3/2"), "P") == {"T1": 1, "T2": 2, "T3": 2}


def test_where_before_and_after_tell_different_ones_neither_is_believed() -> None:
    parts = [of("T1", A, B), of("T2", B, C), of("T3", C, (3000.0, 0.0, 0.0))]
    found = way(*parts, route="T1/1;T2;T3/2")
    assert lies(found, "P") == {"T1": 1, "T3": 2}
    assert told(found, "tell different ones: T2", ProblemKind.GAP)
    assert [[c.circuit for c in item.possible] for item in found.compartments if item.carrier.key == "T2"] == [
        ["P"],
        ["P"],
    ]


def test_the_service_of_a_compartment_is_believed_before_its_side_and_the_two_are_told_once_for_all() -> None:
    first = of("T1", A, B, LEFT, 2, Service.POWER, Service.DATA)
    second = of("T2", B, C, RIGHT, 2, Service.POWER, Service.DATA)
    circuits = (circuit("P", "T1", "T2"), circuit("D", "T1", "T2", service=Service.DATA))
    found = loaded(first, second, *circuits)
    assert (lies(found, "P"), lies(found, "D")) == ({"T1": 1, "T2": 1}, {"T1": 2, "T2": 2})
    assert found.lanes_by["D", "T2"] == "service"
    opposite = [item for item in found.problems if "a service lie on different sides" in item.what]
    assert [(item.where, item.kind) for item in opposite] == [("T1 and T2", ProblemKind.ASSUMPTION)]
    assert not [
        item
        for item in loaded(first, replace(second, across=LEFT), *circuits).problems
        if "different sides" in item.what
    ]


def test_a_side_that_is_not_for_the_service_is_not_taken() -> None:
    second = of("T2", B, C, LEFT, 3, Service.DATA, None, None)
    found = way(of("T1", A, B, LEFT, 3), second, route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1}
    assert told(found, "it would be compartment 1, which isn't for power: T2", ProblemKind.GAP)


def test_the_schedules_compartment_is_used_where_it_lies_on_the_other_side_and_it_is_told_once() -> None:
    """T2 and T4 count from the other side than T1 and T3."""
    ends = [(n * 1000.0, 0.0, 0.0) for n in range(5)]
    parts = [of(f"T{n + 1}", a, b, (LEFT, RIGHT)[n % 2]) for n, (a, b) in enumerate(itertools.pairwise(ends))]
    found = loaded(*parts, circuit("P", "T1", "T4", compartment=1))
    assert lies(found, "P") == {"T1": 1, "T2": 1, "T3": 1, "T4": 1}
    crossed = told(found, "cross the divider", ProblemKind.ASSUMPTION)
    assert crossed == ["its compartment 1 lies on the other side in T2, T4; cables would have to cross the divider"]
    assert not told(loaded(*parts, circuit("P", "T1", "T4", route="T1/1;T2/2;T3/1;T4/2")), "cross the divider")


def test_a_route_that_goes_from_one_compartment_to_another_is_told() -> None:
    parts = [of("T1", A, B, LEFT, 3), of("T2", B, C, LEFT, 3)]
    found = way(*parts, route="T1/1;T2/2")
    assert told(found, "its compartment 2 lies elsewhere across the section in T2", ProblemKind.ASSUMPTION)


@pytest.mark.parametrize("kind", [FittingKind.TEE, FittingKind.CROSS])
@pytest.mark.parametrize("across", [LEFT, RIGHT])
def test_through_a_tee_or_cross_compartments_keep_their_number_on_whichever_side_they_lie(
    kind: FittingKind, across: Vec
) -> None:
    spur = of("T3", B, (1000.0, 2000.0, 0.0), X)
    found = way(of("T1", A, B), of("T2", B, C, across), spur, route="T1/1;T2", more=(fitting("TEE", B, kind, 60.0),))
    assert lies(found, "P") == {"T1": 1, "T2": 1}
    assert found.lanes_by["P", "T2"] == "number through a tee"
    assert told(found, "the number that it has beyond a tee: T2", ProblemKind.INFERENCE)


def test_what_lies_beyond_a_tee_is_had_by_number_even_where_it_then_keeps_its_side() -> None:
    tee = fitting("TEE", B, FittingKind.TEE, 60.0)
    parts = [
        of("T1", A, B),
        of("T2", B, C),
        of("T4", C, (3000.0, 0.0, 0.0), RIGHT),
        of("T3", B, (1000.0, 2000.0, 0.0), X),
    ]
    found = loaded(*parts, tee, circuit("P", "T1", "T4", route="T1/1;T2;T4"))
    assert lies(found, "P") == {"T1": 1, "T2": 1, "T4": 2}
    assert found.lanes_by["P", "T4"] == "number through a tee"


@pytest.mark.parametrize("more", [(), (fitting("F", B, FittingKind.UNKNOWN, 60.0),)])
def test_where_three_meet_without_a_tee_it_is_as_at_a_tee(more: tuple[Fitting, ...]) -> None:
    parts = [of("T1", A, B), of("T2", B, C, RIGHT), of("T3", B, (1000.0, 2000.0, 0.0), X)]
    found = loaded(*parts, *more, circuit("P", "T1", "T2", route="T1/1;T2"))
    assert lies(found, "P") == {"T1": 1, "T2": 1}


def test_an_end_at_anothers_side_is_as_at_a_tee() -> None:
    main, spur = of("T1", A, C), of("T2", B, (1000.0, 2000.0, 0.0), X)
    found = loaded(main, spur, circuit("P", "T1", "T2", route="T1/2;T2"))
    assert lies(found, "P") == {"T1": 2, "T2": 2}
    assert found.lanes_by["P", "T2"] == "number through a tee"


def test_where_three_become_two_each_compartment_ends_and_is_told_once_with_all_its_circuits() -> None:
    first, second = of("T1", A, B, LEFT, 3), of("T2", B, C, LEFT, 2)
    marks = [("P10", 1), ("P9", 1), ("Q", 3)]
    found = loaded(first, second, *(circuit(mark, "T1", "T2", route=f"T1/{number};T2") for mark, number in marks))
    ends = [(item.where, item.what, item.why) for item in found.problems if " ends: " in item.what]
    assert ends == [
        ("T1 to T2", "compartment 1 ends: T1 has 3 compartments and T2 2", "so in which of them circuits P9, P10 lie in T2 isn't known"),
        ("T1 to T2", "compartment 3 ends: T1 has 3 compartments and T2 2", "so in which of them circuit Q lies in T2 isn't known"),
    ]  # fmt: skip
    assert not told(found, "of its 2 compartments")
    possible = [{c.circuit for c in item.possible} for item in found.compartments if item.carrier.key == "T2"]
    assert possible == [{"P9", "P10", "Q"}] * 2


def test_two_into_three_ends_too_unless_a_service_says_which() -> None:
    first = of("T1", A, B)
    assert told(
        way(first, of("T2", B, C, LEFT, 3), route="T1/1;T2"), "compartment 1 ends: T1 has 2 compartments and T2 3"
    )
    named = of("T2", B, C, LEFT, 3, Service.DATA, Service.POWER, Service.ELV)
    found = way(first, named, route="T1/1;T2")
    assert lies(found, "P") == {"T1": 1, "T2": 2}
    assert not told(found, " ends: ")


def test_into_an_undivided_carrier_nothing_ends_and_out_of_it_nothing_is_told() -> None:
    parts = [of("T1", A, B, LEFT, 4), of("T2", B, C, LEFT, 1), of("T3", C, (3000.0, 0.0, 0.0), LEFT, 4)]
    found = way(*parts, route="T1/1;T2;T3")
    assert lies(found, "P") == {"T1": 1, "T2": 1}
    assert found.lanes_by["P", "T2"] == "only compartment"
    assert not told(found, " ends: ")
    assert told(found, "before or after isn't divided: T3", ProblemKind.GAP)


@pytest.mark.parametrize("leg", [0, 1])
def test_a_call_where_two_carriers_meet_changes_nothing_and_of_what_is_not_joined_nothing_is_told(leg: int) -> None:
    inst = installation(of("T1", A, B), of("T2", B, C), of("T3", (5000.0, 0.0, 0.0), (6000.0, 0.0, 0.0)))
    tells = Lanes(route_all(inst).network)
    legs = [Visit("T1", 0.0, 1000.0, 1), Visit("T2", 0.0, 1000.0, None, leg), Visit("T3", 0.0, 1000.0, None, leg)]
    assert [link and link.follow for link in tells.links(legs)] == [Follow.SAME_SIDE, None]
    assert [choice.number for choice in tells.of(circuit("P", "T1", "T3"), legs)] == [1, 1, None]


def test_a_call_along_a_carrier_ends_what_is_known_of_the_side() -> None:
    """Its cables come out there and go in again."""
    tells = Lanes(route_all(installation(of("T1", A, B), of("T2", B, C))).network)
    legs = [Visit("T1", 0.0, 500.0, 1), Visit("T1", 500.0, 1000.0, None, 1), Visit("T2", 0.0, 1000.0, None, 1)]
    assert [link and link.follow for link in tells.links(legs)] == [None, Follow.SAME_SIDE]
    assert [choice.number for choice in tells.of(circuit("P", "T1", "T2"), legs)] == [1, None, None]


def test_between_lines_of_a_drawing_that_do_not_hang_together_nothing_is_told() -> None:
    tells = Lanes(route_all(installation(of("T1", A, B), of("T2", B, C))).network)
    assert tells.links([Visit("T1", 0.0, 1000.0), Visit("T2", 0.0, 1000.0, line=1)]) == [None]


def test_a_way_that_is_only_looked_at_adds_nothing_to_what_is_told() -> None:
    tells, visits = (
        Lanes(route_all(installation(of("T1", A, B), of("T2", B, C))).network),
        [Visit("T1", 0.0, 1.0, 1), Visit("T2", 0.0, 1.0)],
    )
    aside = LaneProblems()
    assert [choice.number for choice in tells.of(circuit("P", "T1", "T2"), visits, aside)] == [1, 1]
    assert (len(list(aside.all())), list(tells.problems.all())) == (1, [])


def test_a_compartment_that_does_not_exist_is_not_replaced_by_the_side() -> None:
    parts = [of("T1", A, B, LEFT, 3), of("T2", B, C, LEFT, 2), of("T3", C, (3000.0, 0.0, 0.0), LEFT, 2)]
    found = loaded(*parts, circuit("P", "T1", "T3", compartment=3, route="T1;T2;T3/1"))
    assert lies(found, "P") == {"T1": 3, "T3": 1}
    assert told(found, "asks for compartment 3, which doesn't exist: T2")


AXES = [X, Y, Z, scale(X, -1.0), scale(Y, -1.0), scale(Z, -1.0)]


@given(
    st.lists(st.sampled_from(AXES), min_size=2, max_size=7),
    st.lists(st.tuples(st.booleans(), st.booleans()), min_size=7, max_size=7),
    st.integers(2, 4),
    st.data(),
)
def test_along_any_chain_of_right_angles_a_side_is_followed_as_on_paper(
    ways: list[Vec], drawn: list[tuple[bool, bool]], count: int, data: st.DataObject
) -> None:
    """Each length is twice the one before, so that nothing meets but consecutive ends.

    On paper: by a turn from u to v, v takes the place of u and −u that of v, and what is at right angles to both stays.
    """
    assume(all(dot(a, b) >= 0.0 for a, b in itertools.pairwise(ways)))  # it doesn't turn back
    left = next(axis for axis in AXES if dot(axis, ways[0]) == 0.0)
    place, parts, numbers = A, [], {}
    number = data.draw(st.integers(1, count))
    for n, go in enumerate(ways):
        if n and dot(ways[n - 1], go) == 0.0:
            before, side = ways[n - 1], cross(ways[n - 1], go)
            left = add(add(scale(go, dot(left, before)), scale(before, -dot(left, go))), scale(side, dot(left, side)))
        end = add(place, scale(go, 1000.0 * 2**n))
        is_mirrored, is_backward = drawn[n]
        start, stop = (end, place) if is_backward else (place, end)
        parts.append(of(f"T{n}", start, stop, scale(left, -1.0) if is_mirrored else left, count))
        numbers[f"T{n}"] = count + 1 - number if is_mirrored else number
        place = end
    first = count + 1 - number if drawn[0][0] else number
    route = ";".join([f"T0/{first}", *(f"T{n}" for n in range(1, len(ways)))])
    found = way(*parts, route=route)
    assert lies(found, "P") == numbers
    turned: Installation = installation(*reversed(parts), circuit("P", "T0", parts[-1].key, route=route))
    again = load(turned, route_all(turned), load_plugins().codes["bs-7671"].sizes)
    assert (lies(again, "P"), again.problems) == (numbers, found.problems)
