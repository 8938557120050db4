"""Circuits that return to where they began: by the other side of a loop, as far as there is one."""

import itertools

import pytest

from checker.model import Carrier, Circuit, Equipment, Problem, ProblemKind, WayLimits
from checker.network.routing import Route, RoutedBy, route_all
from tests.installations import carrier, circuit, installation, outlet

# A riser of 3 m from the board, and from its top a loop of 6 m × 4 m: 20 m round.
RISER = carrier("RISER", (0, 0, 0), (0, 0, 3000))
SOUTH = carrier("SOUTH", (0, 0, 3000), (6000, 0, 3000))
EAST = carrier("EAST", (6000, 0, 3000), (6000, 4000, 3000))
NORTH = carrier("NORTH", (6000, 4000, 3000), (0, 4000, 3000))
WEST = carrier("WEST", (0, 4000, 3000), (0, 0, 3000))
LOOP = (SOUTH, EAST, NORTH, WEST)
BOARD = outlet("DB", (0, -200, 0))  # at the foot of the riser
TOP = outlet("TOP", (-200, -200, 3000))  # at the corner of south and west, where no riser is needed
S1, S2, S3 = outlet("S1", (2000, -200, 3000)), outlet("S2", (6200, 1000, 3000)), outlet("S3", (5000, 4200, 3000))


def ring(*calls: str, returns_other_way: bool = True) -> Circuit:
    return circuit("R1", *calls, returns_other_way=returns_other_way)


def led(*items: Carrier | Equipment | Circuit) -> tuple[Route, list[Problem]]:
    """The first route, and what is told of circuits."""
    routing = route_all(installation(*items))
    return routing.routes[0], [problem for problem in routing.problems if problem.where.startswith("circuit")]


def legs(route: Route) -> list[list[str]]:
    groups = itertools.groupby(route.visits, key=lambda visit: visit.leg)
    return [list(dict.fromkeys(visit.carrier for visit in group)) for _, group in groups]


def twice_mm(route: Route) -> float:
    """How much of carriers a route passes more than once."""
    spans = [(visit.carrier, *sorted((visit.from_mm, visit.to_mm))) for visit in route.visits]
    return sum(
        max(0.0, min(one[2], other[2]) - max(one[1], other[1]))
        for one, other in itertools.combinations(spans, 2)
        if one[0] == other[0]
    )


def test_on_a_loop_it_returns_by_the_other_side() -> None:
    # S1 is 2 m along the south side: 2 m out, and 20 − 2 = 18 m back
    route, told = led(*LOOP, TOP, S1, ring("TOP", "S1", "TOP"))
    assert legs(route) == [["SOUTH"], ["SOUTH", "EAST", "NORTH", "WEST"]]
    assert [leg.length_mm for leg in route.legs] == pytest.approx([2000.0, 18000.0])
    assert route.length_mm == pytest.approx(20000.0)
    assert twice_mm(route) == 0.0
    assert not told


def test_it_returns_by_the_other_side_however_near_each_other_its_ends_are() -> None:
    # 10 mm out and 20 m − 10 mm back, 1999 times as far
    near = outlet("NEAR", (10, -200, 3000))
    route, told = led(*LOOP, TOP, near, ring("TOP", "NEAR", "TOP"))
    assert [leg.length_mm for leg in route.legs] == pytest.approx([10.0, 19990.0])
    assert not told


def test_the_common_riser_is_shared_and_told_with_its_length_and_nothing_else_is() -> None:
    route, (problem,) = led(RISER, *LOOP, BOARD, S1, ring("DB", "S1", "DB"))
    assert legs(route) == [["RISER", "SOUTH"], ["SOUTH", "EAST", "NORTH", "WEST", "RISER"]]
    assert [leg.length_mm for leg in route.legs] == pytest.approx([3000.0 + 2000.0, 18000.0 + 3000.0])
    assert twice_mm(route) == pytest.approx(3000.0)
    assert (problem.where, problem.kind) == ("circuit R1", ProblemKind.GAP)
    assert "3.00 m, in RISER" in problem.what


def test_without_a_loop_it_returns_as_it_came_which_is_told_with_all_that_it_shares() -> None:
    route, (problem,) = led(RISER, SOUTH, EAST, BOARD, S2, ring("DB", "S2", "DB"))
    assert legs(route) == [["RISER", "SOUTH", "EAST"], ["EAST", "SOUTH", "RISER"]]
    assert route.length_mm == pytest.approx(2 * (3000.0 + 6000.0 + 1000.0))
    assert route.drops_mm == (200.0, 200.0, 200.0)
    assert "10.00 m" in problem.what
    assert all(key in problem.what for key in ("RISER", "SOUTH", "EAST"))


def test_a_ring_of_several_outlets_passes_each_side_once() -> None:
    # TOP → S1 2 m; S1 → S2 4 + 1 = 5 m; S2 → S3 3 + 1 = 4 m; S3 → TOP, where back by the north and west 5 + 4 = 9 m
    route, told = led(*LOOP, TOP, S1, S2, S3, ring("TOP", "S1", "S2", "S3", "TOP"))
    assert [leg.length_mm for leg in route.legs] == pytest.approx([2000.0, 5000.0, 4000.0, 9000.0])
    assert twice_mm(route) == 0.0
    assert [(leg.origin, leg.call) for leg in route.legs] == [("TOP", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "TOP")]
    assert not told


def test_the_last_leg_goes_the_longer_way_where_the_shorter_one_is_used() -> None:
    # S2 → TOP back by the south would be 7 m, by the north and west 3 + 6 + 4 = 13 m
    route, told = led(*LOOP, TOP, S1, S2, ring("TOP", "S1", "S2", "TOP"))
    assert [leg.length_mm for leg in route.legs] == pytest.approx([2000.0, 5000.0, 13000.0])
    assert not told


def test_a_ring_that_need_not_return_another_way_returns_by_the_shortest() -> None:
    route, told = led(*LOOP, TOP, S1, S2, ring("TOP", "S1", "S2", "TOP", returns_other_way=False))
    assert [leg.length_mm for leg in route.legs] == pytest.approx([2000.0, 5000.0, 7000.0])
    assert twice_mm(route) == pytest.approx(7000.0)
    assert not told


def test_what_is_closed_to_a_ring_is_closed_on_its_way_back() -> None:
    shut = WayLimits((), frozenset({"NORTH"}), ("NORTH closed: a test",))
    item = circuit("R1", "TOP", "S1", "TOP", returns_other_way=True, limits=shut)
    route, (problem,) = led(*LOOP, TOP, S1, item)
    assert [leg.length_mm for leg in route.legs] == pytest.approx([2000.0, 2000.0])
    assert "2.00 m, in SOUTH" in problem.what


def test_of_two_ways_back_the_one_that_shares_less_is_taken_though_it_is_longer() -> None:
    # a short cut from the middle of the south side to the riser's top joins SOUTH 1 m before S1, so that by it 1 m would be shared
    cut = carrier("CUT", (1000, 0, 3000), (0, 0, 3600))
    link = carrier("LINK", (0, 0, 3600), (0, 0, 3000))
    route, told = led(*LOOP, cut, link, TOP, S1, ring("TOP", "S1", "TOP"))
    assert legs(route)[1] == ["SOUTH", "EAST", "NORTH", "WEST"]
    assert not told


def test_the_order_of_carriers_changes_no_ring() -> None:
    ask = ring("DB", "S1", "DB")
    routes = {led(RISER, *order, BOARD, S1, ask)[0] for order in itertools.permutations(LOOP)}
    assert len(routes) == 1


def test_a_ring_that_can_only_come_back_as_it_went_is_not_said_to_take_another_way() -> None:
    line = (carrier("A", (0, 0, 0), (4000, 0, 0)), outlet("DB", (0, 0, -300)), outlet("S", (4000, 0, -300)))
    ring = circuit("R", "DB", "S", "DB", returns_other_way=True)
    (route,) = route_all(installation(*line, ring)).routes
    assert route.routed_by is RoutedBy.SHORTEST
