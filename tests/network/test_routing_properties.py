"""Routes on random grids of carriers against a plain relaxation over the grid, which knows nothing of joins or landings."""

import math
import random
from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import Carrier, Circuit, Vec, WayLimits
from checker.network.routing import Route, Routing, route_all
from tests.installations import carrier, fitting, installation
from tests.network.grids import ABOVE_MM, CROSSINGS, SAME_MM, Grid, grids, open_to, shortest, trail

Item = TypeVar("Item")


def ways(routing: Routing) -> dict[str, tuple[object, ...]]:
    """All that a route says, by mark; without what hangs on the order of circuits."""
    return {route.circuit: (route.visits, route.length_mm, route.drops_mm, route.reason) for route in routing.routes}


def along_mm(route: Route) -> float:
    return math.fsum(abs(visit.to_mm - visit.from_mm) for visit in route.visits)


@settings(max_examples=150, deadline=None)
@given(grids())
def test_the_shortest_way_is_as_long_as_a_plain_relaxation_says_and_hangs_together(grid: Grid) -> None:
    for item, route in zip(grid.circuits, route_all(grid.model).routes, strict=True):
        expected = shortest(grid, item)
        if expected == math.inf:
            assert (route.visits, route.length_mm) == ((), None)
            assert route.reason
            continue
        assert route.length_mm == pytest.approx(expected, abs=SAME_MM)
        assert route.carriers <= set(open_to(grid, item))
        assert route.drops_mm == (ABOVE_MM, ABOVE_MM)
        # without fittings every millimetre of a way lies in a carrier, so that cables times lengths adds up
        assert along_mm(route) == pytest.approx(route.length_mm, abs=SAME_MM)
        assert route.length_mm == pytest.approx(math.fsum(leg.length_mm or 0.0 for leg in route.legs), abs=SAME_MM)
        hangs_together(grid, item, route)


def hangs_together(grid: Grid, item: Circuit, route: Route) -> None:
    """It begins and ends where its equipment hangs, and each stretch begins at the crossing where the one before ends."""
    (first, share), (last, other_share) = grid.above[item.origin], grid.above[item.calls[0]]
    begin, end = route.visits[0], route.visits[-1]
    assert (begin.carrier, begin.from_mm) == (first, pytest.approx(share * grid.length(first)))
    assert (end.carrier, end.to_mm) == (last, pytest.approx(other_share * grid.length(last)))
    for one, other in zip(route.visits, route.visits[1:], strict=False):
        crossings = [
            grid.pairs[visit.carrier][0 if place == 0.0 else 1]
            for visit, place in ((one, one.to_mm), (other, other.from_mm))
            if place in {0.0, grid.length(visit.carrier)}
        ]
        assert len(crossings) == 2
        assert crossings[0] == crossings[1]


@settings(max_examples=60, deadline=None)
@given(grids())
def test_with_a_box_at_every_crossing_a_way_is_what_lies_in_carriers_and_what_lies_in_boxes(grid: Grid) -> None:
    # boxes of 100 mm take 50 mm off each carrier's end: the ways are as long as before, and each box passed holds 2 × 50 mm of them
    boxes = [
        fitting(f"BOX{x}-{y}", (grid.at[x], grid.at[y], 0.0), size=100.0)
        for x, y in sorted({crossing for pair in grid.pairs.values() for crossing in pair})
    ]
    short = [replace(carrier(item.key, *cut(item, 50.0)), section=item.section) for item in grid.carriers]
    routes = route_all(installation(*short, *boxes, *grid.equipment, *grid.circuits)).routes
    for item, route in zip(grid.circuits, routes, strict=True):
        expected = shortest(grid, item)
        if expected == math.inf:
            assert route.visits == ()
            continue
        assert route.length_mm == pytest.approx(expected, abs=SAME_MM)
        assert along_mm(route) + 100.0 * (len(route.visits) - 1) == pytest.approx(expected, abs=SAME_MM)


def cut(item: Carrier, off_mm: float) -> tuple[Vec, Vec]:
    """The ends of a carrier along a grid, less some length at both."""
    assert item.start_mm is not None
    assert item.end_mm is not None
    steps = [math.copysign(min(abs(b - a), off_mm), b - a) for a, b in zip(item.start_mm, item.end_mm, strict=True)]
    (x, y, z), (to_x, to_y, to_z) = item.start_mm, item.end_mm
    return (x + steps[0], y + steps[1], z + steps[2]), (to_x - steps[0], to_y - steps[1], to_z - steps[2])


@settings(max_examples=80, deadline=None)
@given(grids(CROSSINGS), st.randoms(use_true_random=False))
def test_the_order_of_carriers_equipment_and_circuits_changes_no_route(grid: Grid, dice: random.Random) -> None:
    other = replace(
        grid,
        carriers=shuffled(grid.carriers, dice),
        equipment=shuffled(grid.equipment, dice),
        circuits=shuffled(grid.circuits, dice),
    )
    assert ways(route_all(grid.model)) == ways(route_all(other.model))


def shuffled(items: Sequence[Item], dice: random.Random) -> tuple[Item, ...]:
    return tuple(dice.sample(items, len(items)))


@settings(max_examples=80, deadline=None)
@given(grids(CROSSINGS))
def test_how_far_a_search_looks_at_first_changes_no_route(grid: Grid) -> None:
    found = []
    for look_mm in (1.0, 1e9):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr("checker.network.shortest.LOOK_TIMES", 0.0)
            patch.setattr("checker.network.shortest.LOOK_MORE_MM", look_mm)
            found.append(ways(route_all(grid.model)))
    assert found[0] == found[1]


@settings(max_examples=80, deadline=None)
@given(grids(CROSSINGS))
def test_from_and_to_swapped_is_the_same_way_backwards(grid: Grid) -> None:
    back = [replace(item, origin=item.calls[0], calls=(item.origin,)) for item in grid.circuits]
    there = route_all(grid.model).routes
    for out, home in zip(there, route_all(replace(grid, circuits=tuple(back)).model).routes, strict=True):
        assert [(visit.carrier, visit.to_mm, visit.from_mm) for visit in reversed(home.visits)] == [
            (visit.carrier, visit.from_mm, visit.to_mm) for visit in out.visits
        ]
        assert home.length_mm == pytest.approx(out.length_mm)


@settings(max_examples=80, deadline=None)
@given(grids(), st.data())
def test_a_carrier_less_changes_only_circuits_that_used_it(grid: Grid, data: st.DataObject) -> None:
    gone = data.draw(st.sampled_from(sorted(grid.pairs)))
    less = replace(grid, carriers=tuple(item for item in grid.carriers if item.key != gone))
    before, after = route_all(grid.model), route_all(less.model)
    for old, new in zip(before.routes, after.routes, strict=True):
        if gone not in old.carriers and old.visits:
            assert (new.visits, new.length_mm) == (old.visits, old.length_mm)


@settings(max_examples=120, deadline=None)
@given(grids(), st.data())
def test_by_way_of_a_carrier_no_way_is_shorter_than_the_shortest_that_passes_no_carrier_twice(
    grid: Grid, data: st.DataObject
) -> None:
    via = data.draw(st.sampled_from(sorted(grid.pairs)))
    asked = [replace(item, limits=replace(item.limits, via=(frozenset({via}),))) for item in grid.circuits]
    routes = route_all(replace(grid, circuits=tuple(asked)).model).routes
    for item, route in zip(asked, routes, strict=True):
        if grid.above[item.origin][0] == grid.above[item.calls[0]][0]:
            continue  # on one carrier both ways from it may be needed
        best = trail(grid, item, via)
        passed = [visit.carrier for visit in route.visits]
        if not passed:
            assert best == math.inf
            continue
        assert via in passed
        assert along_mm(route) == pytest.approx(route.length_mm, abs=SAME_MM)  # what lies there twice is there twice
        if len(set(passed)) == len(passed):
            assert route.length_mm is not None
            assert route.length_mm > best - SAME_MM


@settings(max_examples=80, deadline=None)
@given(grids())
def test_two_circuits_between_the_same_ends_share_a_carrier_only_where_there_are_no_two_ways(grid: Grid) -> None:
    (one, *_), ends = grid.circuits or (None,), sorted(grid.above)
    if one is None:
        return
    plain = replace(one, origin=ends[0], calls=(ends[1],), apart_from=("A", "B"), limits=WayLimits())
    pair = [replace(plain, mark=mark) for mark in "AB"]
    for order in (pair, pair[::-1]):
        routing = route_all(replace(grid, circuits=tuple(order)).model)
        a, b = routing.routes
        if not a.visits or not b.visits:
            assert shortest(grid, pair[0]) == math.inf
            continue
        of_circuits = [problem for problem in routing.problems if problem.where.startswith("circuit")]
        told = [problem.why for problem in of_circuits if not problem.what.endswith("which is nearer")]
        if a.carriers.isdisjoint(b.carriers):
            assert not told
        else:
            assert told == ["there are no two ways that share no carrier"]
            assert not two_ways(grid, pair[0])


def two_ways(grid: Grid, item: Circuit) -> bool:
    """Whether two rows of carriers that meet lead from what one end reaches to what the other reaches, and share none; by trying all."""
    among = open_to(grid, item)
    meet = {
        key: {other for other in among if other != key and set(grid.pairs[key]) & set(grid.pairs[other])}
        for key in among
    }
    starts, goals = (set(in_reach(grid, name)) & set(among) for name in (item.origin, item.calls[0]))

    def leads(without: tuple[str, ...]) -> bool:
        waiting = sorted(starts.difference(without))
        met = set(waiting)
        while waiting:
            further = meet[waiting.pop()] - met - set(without)
            met |= further
            waiting += further
        return not met.isdisjoint(goals)

    def tried(row: tuple[str, ...]) -> bool:
        if row[-1] in goals and leads(row):
            return True
        # a row that touches itself has a shorter one in it, that leaves more to the other
        return any(tried((*row, key)) for key in meet[row[-1]] if meet[key].isdisjoint(row[:-1]) and key not in row)

    return any(tried((key,)) for key in starts)


def in_reach(grid: Grid, name: str) -> list[str]:
    """Carriers that are at most 3 m from equipment, which is the reach that nobody changed."""
    (point,) = [item.point_mm for item in grid.equipment if item.key == name]
    assert point is not None
    found = []
    for item in grid.carriers:
        assert item.start_mm is not None
        assert item.end_mm is not None
        nearest = [
            min(max(at, min(a, b)), max(a, b)) for at, a, b in zip(point, item.start_mm, item.end_mm, strict=True)
        ]
        if math.dist(point, nearest) <= 3000.0:
            found.append(item.key)
    return found
