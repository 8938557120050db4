"""Circuits that may share no carrier: led together, so that the shortest way of the one takes none from the other."""

import itertools
from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Equipment, Fitting, Port, Problem, ProblemKind, State, WayLimits
from checker.network.routing import Route, RoutedBy, route_all
from tests.installations import carrier, circuit, fitting, installation, outlet

# The trap. T goes over the top and B below, 20 m each; X leads from T1's end to B4's start, so that the shortest way of all is
# T1 X B4 = 4 + √(4² + 2²) + 4 = 12.472 m. It takes T1 and B4, and nothing is left: from B by B3 one comes to B4, from T1 nowhere.
T1, T2 = carrier("T1", (0, 1000, 0), (4000, 1000, 0)), carrier("T2", (4000, 1000, 0), (4000, 5000, 0))
T3, T4 = carrier("T3", (4000, 5000, 0), (12000, 5000, 0)), carrier("T4", (12000, 5000, 0), (12000, 1000, 0))
B1, B2 = carrier("B1", (0, -1000, 0), (0, -5000, 0)), carrier("B2", (0, -5000, 0), (8000, -5000, 0))
B3, B4 = carrier("B3", (8000, -5000, 0), (8000, -1000, 0)), carrier("B4", (8000, -1000, 0), (12000, -1000, 0))
X = carrier("X", (4000, 1000, 0), (8000, -1000, 0))
TOP, BOTTOM = (T1, T2, T3, T4), (B1, B2, B3, B4)
SRC, RACK = outlet("SRC", (0, 0, 0)), outlet("RACK", (12000, 0, 0))
TRAP = (*TOP, *BOTTOM, X, SRC, RACK)
GREEDY_MM = 8000.0 + 4472.136

# Two plain ways side by side, 5 m each, with a source and a rack between them.
UPPER, LOWER = carrier("UPPER", (0, 0, 0), (5000, 0, 0)), carrier("LOWER", (0, -2000, 0), (5000, -2000, 0))
TWO = (UPPER, LOWER, outlet("SRC", (0, -900, 0)), outlet("RACK", (5000, -900, 0)))


def apart(mark: str, *others: str, origin: str = "SRC", call: str = "RACK", **more: object) -> Circuit:
    return circuit(mark, origin, call, apart_from=others, **more)


PAIR = (apart("PA", "PB"), apart("PB", "PA"))


def led(*items: Carrier | Equipment | Circuit | Fitting) -> tuple[dict[str, Route], list[Problem]]:
    """The routes by mark, and what is told of circuits but where they come in."""
    routing = route_all(installation(*items))
    of_circuits = [problem for problem in routing.problems if problem.where.startswith("circuit")]
    told = [problem for problem in of_circuits if not problem.what.endswith("which is nearer")]
    return {route.circuit: route for route in routing.routes}, told


def ways(routes: dict[str, Route]) -> list[list[str]]:
    return sorted([visit.carrier for visit in route.visits] for route in routes.values())


def share(routes: dict[str, Route], *marks: str) -> list[str]:
    return sorted(frozenset.intersection(*(routes[mark].carriers for mark in marks)))


def test_alone_each_takes_the_shortest_way() -> None:
    routes, _ = led(*TRAP, circuit("PA", "SRC", "RACK"))
    assert ways(routes) == [["T1", "X", "B4"]]
    assert routes["PA"].length_mm == pytest.approx(GREEDY_MM)


def test_two_ways_are_found_though_the_shortest_one_blocks_every_other() -> None:
    routes, told = led(*TRAP, *PAIR)
    assert ways(routes) == [["B1", "B2", "B3", "B4"], ["T1", "T2", "T3", "T4"]]
    assert [route.length_mm for route in routes.values()] == pytest.approx([20000.0, 20000.0])
    assert [route.routed_by for route in routes.values()] == [RoutedBy.SHORTEST] * 2
    assert not told


@pytest.mark.parametrize(
    "circuits", [PAIR[::-1], (PAIR[0], circuit("PB", "SRC", "RACK")), (circuit("PA", "SRC", "RACK"), PAIR[1])]
)
def test_it_is_enough_that_one_of_them_says_so_and_in_any_order(circuits: Sequence[Circuit]) -> None:
    routes, told = led(*TRAP, *circuits)
    assert ways(routes) == [["B1", "B2", "B3", "B4"], ["T1", "T2", "T3", "T4"]]
    assert not told


def test_different_sources_and_racks_are_led_apart_too() -> None:
    # each source reaches one of the ways alone; by itself PB would go B1 B2 B3 B4, 20 m, and PA T1 X B4
    source, rack = outlet("SRC2", (300, -1200, 0)), outlet("RACK2", (12000, -1300, 0))
    routes, told = led(*TRAP, source, rack, apart("PA", "PB"), apart("PB", "PA", origin="SRC2", call="RACK2"))
    assert [visit.carrier for visit in routes["PA"].visits] == ["T1", "T2", "T3", "T4"]
    assert [visit.carrier for visit in routes["PB"].visits] == ["B1", "B2", "B3", "B4"]
    assert not told


def test_where_all_ways_pass_one_carrier_it_is_told_that_there_are_no_two() -> None:
    # without T2 and B2 nothing but X leads across
    routes, (problem,) = led(*(item for item in TRAP if item.key not in {"T2", "B2"}), *PAIR)
    assert share(routes, "PA", "PB") == ["B4", "T1", "X"]
    assert [route.length_mm for route in routes.values()] == pytest.approx([GREEDY_MM, GREEDY_MM])
    assert (problem.where, problem.kind, problem.elements) == ("circuit PA", ProblemKind.GAP, 3)
    assert problem.why == "there are no two ways that share no carrier"
    assert "with circuit PB" in problem.what


def test_ways_through_fittings_that_touch_each_other_count_as_ways() -> None:
    # T3 and T4 meet by way of two boxes of 100 mm, whose bodies touch at x = 11950
    boxes = fitting("BOX1", (11900, 5000, 0)), fitting("BOX2", (12000, 5000, 0))
    t3, t4 = carrier("T3", (4000, 5000, 0), (11850, 5000, 0)), carrier("T4", (12000, 4950, 0), (12000, 1000, 0))
    routes, told = led(T1, T2, t3, *boxes, t4, *BOTTOM, X, SRC, RACK, *PAIR)
    assert ways(routes) == [["B1", "B2", "B3", "B4"], ["T1", "T2", "T3", "T4"]]
    assert not told


def test_a_second_way_may_begin_on_another_carrier_within_reach() -> None:
    routes, told = led(*TWO, *PAIR)
    assert ways(routes) == [["LOWER"], ["UPPER"]]
    assert {route.drops_mm for route in routes.values()} == {(900.0, 900.0), (1100.0, 1100.0)}
    assert not told


def test_where_a_circuit_comes_in_elsewhere_to_keep_apart_that_is_told() -> None:
    problems = route_all(installation(*TWO, *PAIR)).problems
    told = [problem for problem in problems if problem.where.startswith("circuit")]  # of either of the two
    assert [problem.what for problem in told] == [
        f"its end {text!r} comes in on LOWER, 1.10 m off, and not on UPPER, which is nearer" for text in ("SRC", "RACK")
    ]


def test_a_dead_end_that_is_nearer_than_the_second_way_leads_nobody_astray() -> None:
    # STUB's foot is 1.1 m from the source, B1's head 1.2 m
    stub, b1 = carrier("STUB", (0, 0, 1100), (0, 0, 5000)), carrier("B1", (0, -1200, 0), (0, -5000, 0))
    routes, told = led(*TOP, b1, B2, B3, B4, X, stub, SRC, RACK, *PAIR)
    assert ways(routes) == [["B1", "B2", "B3", "B4"], ["T1", "T2", "T3", "T4"]]
    assert not told


def test_out_of_reach_there_is_no_second_way() -> None:
    far = carrier("LOWER", (0, -4000, 0), (5000, -4000, 0))  # 3.1 m from source and rack, where 3 m are in reach
    routes, (problem,) = led(UPPER, far, *TWO[2:], *PAIR)
    assert share(routes, "PA", "PB") == ["UPPER"]
    assert problem.why == "there are no two ways that share no carrier"


@pytest.mark.parametrize(("given", "free"), [("UPPER", "LOWER"), ("LOWER", "UPPER")])
@pytest.mark.parametrize("is_first", [True, False])
def test_of_a_pair_with_one_given_route_the_other_keeps_off_it(given: str, free: str, *, is_first: bool) -> None:
    pair = [apart("PA", "PB", route=given), apart("PB", "PA")]
    routes, told = led(*TWO, *(pair if is_first else pair[::-1]))
    assert (routes["PA"].carriers, routes["PB"].carriers) == ({given}, {free})
    assert routes["PA"].routed_by is RoutedBy.SCHEDULE
    assert not told


def test_a_given_route_that_leaves_no_other_way_is_told() -> None:
    routes, (problem,) = led(*TRAP, apart("PA", "PB", route="T1;X;B4"), apart("PB", "PA"))
    assert share(routes, "PA", "PB")
    assert problem.where == "circuit PB"
    assert "with circuit PA" in problem.what


def test_three_on_three_ways_share_none() -> None:
    third = carrier("THIRD", (0, -900, 1500), (5000, -900, 1500))
    marks = ("A", "B", "C")
    routes, told = led(*TWO, third, *(apart(mark, *(other for other in marks if other != mark)) for mark in marks))
    assert ways(routes) == [["LOWER"], ["THIRD"], ["UPPER"]]
    assert not told


def test_three_on_two_ways_share_one_and_it_is_told_of_the_two() -> None:
    marks = ("A", "B", "C")
    routes, (problem,) = led(*TWO, *(apart(mark, *(other for other in marks if other != mark)) for mark in marks))
    assert problem.where == "circuit C"
    other = problem.what.split("circuit ")[1][0]
    assert share(routes, "C", other)
    assert not share(routes, "A", "B")
    assert problem.why == "no two ways that share no carrier were found"


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_of_a_chain_the_ends_may_share_and_nothing_is_told(order: tuple[int, ...]) -> None:
    # A and B, B and C keep apart; A and C needn't, and on two ways can't
    chain = (apart("A", "B"), apart("B", "A", "C"), apart("C", "B"))
    routes, told = led(*TWO, *(chain[number] for number in order))
    assert not share(routes, "A", "B")
    assert not share(routes, "B", "C")
    assert not told


@pytest.mark.parametrize("order", [1, -1])
def test_what_has_to_keep_apart_from_one_without_a_way_has_none_that_is_known_either(order: int) -> None:
    # C keeps apart from B, which would go elsewhere if A were mended
    rows = [apart("A", "B", call="nowhere"), apart("B", "A", "C"), apart("C", "B"), apart("D")]
    routes, told = led(*TWO, *rows[::order])
    assert {mark for mark, route in routes.items() if route.routed_by is RoutedBy.NONE} == {"A", "B", "C"}
    assert routes["B"].reason == "it has to keep apart from circuit A, whose way isn't known"
    assert len(told) == 3


def test_a_removed_one_takes_no_way_from_the_other() -> None:
    routes, told = led(*TWO, apart("PA", "PB", state=State.REMOVED), apart("PB", "PA"))
    assert routes["PB"].carriers == {"UPPER"}
    assert not told


def test_a_mark_that_is_not_there_and_its_own_are_nothing_to_keep_apart_from() -> None:
    routes, told = led(*TWO, apart("PA", "PZ", "PA"))
    assert routes["PA"].carriers == {"UPPER"}
    assert not told


def test_what_is_asked_of_their_ways_holds_for_redundant_circuits() -> None:
    shut = WayLimits((), frozenset({"UPPER"}), ("not by UPPER",))
    routes, told = led(*TWO, apart("PA", "PB"), apart("PB", "PA", limits=shut))
    assert (routes["PA"].carriers, routes["PB"].carriers) == ({"UPPER"}, {"LOWER"})
    assert not told
    blocked, (problem,) = led(*TWO, apart("PA", "PB", limits=shut), apart("PB", "PA", limits=shut))
    assert share(blocked, "PA", "PB") == ["LOWER"]
    assert problem.why == "there are no two ways that share no carrier"


def test_what_is_noted_of_a_way_is_told_once_and_of_ways_only_tried_never() -> None:
    spur = carrier("SPUR", (4000, 1000, 0), (4000, 200, 0))
    by_spur = WayLimits((frozenset({"SPUR"}),), frozenset(), ("by way of SPUR",))
    routes, told = led(*TRAP, spur, apart("PA", "PB", limits=by_spur), apart("PB", "PA"))
    assert not share(routes, "PA", "PB")
    assert [problem.where for problem in told] == ["circuit PA"]
    assert "comes back the same way" in told[0].what


def test_rings_keep_apart_leg_by_leg() -> None:
    # two loops, one over the other, each with a way out and back; each ring keeps to one of them
    def loop(name: str, z: float) -> list[Carrier]:
        corners = [(0, 0, z), (5000, 0, z), (5000, 2000, z), (0, 2000, z), (0, 0, z)]
        return [carrier(f"{name}{n}", *pair) for n, pair in enumerate(itertools.pairwise(corners))]

    source, rack = outlet("SRC", (0, 0, 400)), outlet("RACK", (5000, 0, 400))
    pair = [replace(item, calls=("RACK", "SRC"), returns_other_way=True) for item in PAIR]
    routes, told = led(*loop("L", 0.0), *loop("U", 1000.0), source, rack, *pair)
    assert not share(routes, "PA", "PB")
    assert sorted({key[0] for key in route.carriers} == {"L"} for route in routes.values()) == [False, True]
    assert [route.length_mm for route in routes.values()] == pytest.approx([14000.0, 14000.0])
    assert not told


def test_whether_they_share_does_not_hang_on_the_order_of_carriers() -> None:
    found = set()
    for order in itertools.islice(itertools.permutations(TRAP), 0, 300000, 29989):
        routes, _ = led(*order, *PAIR)
        found.add(tuple((mark, route.visits) for mark, route in sorted(routes.items())))
    assert len(found) == 1


def test_a_circuit_does_not_leave_the_carrier_that_its_source_is_connected_to_in_order_to_keep_apart() -> None:
    source, rack = ((0, -2000, 0), "SRC"), ((5000, -2000, 0), "RACK")
    ports = [
        port
        for point, name in (source, rack)
        for port in (Port(f"{name}-p", name, point, (f"{name}-q",)), Port(f"{name}-q", "LOWER", point, (f"{name}-p",)))
    ]
    routes = route_all(installation(*TWO, *PAIR, ports=tuple(ports))).routes
    assert [sorted(route.carriers) for route in routes] == [["LOWER"], ["LOWER"]]
