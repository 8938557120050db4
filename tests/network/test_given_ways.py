"""Routes that the schedule gives, on a row of four carriers with a branch: in order, out of order, with gaps and dead ends."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Equipment, Fitting, Problem, ProblemKind, WayLimits
from checker.network.routing import Route, RoutedBy, route_all
from tests.installations import carrier, circuit, fitting, installation, outlet

# A, B, C and D in a row, 4 m each; SIDE leaves the row where B and C meet. DB hangs at A's start, S at D's end, M in the middle of C.
A, B = carrier("A", (0, 0, 0), (4000, 0, 0)), carrier("B", (4000, 0, 0), (8000, 0, 0))
C, D = carrier("C", (8000, 0, 0), (12000, 0, 0)), carrier("D", (12000, 0, 0), (16000, 0, 0))
SIDE = carrier("SIDE", (8000, 0, 0), (8000, 5000, 0))
DB, S, M = outlet("DB", (0, 300, 0)), outlet("S", (16000, 400, 0)), outlet("M", (10000, 200, 0))
ROW = (A, B, C, D, SIDE, DB, S, M)


def led(
    route: str, *calls: str, also: Iterable[Carrier | Equipment | Fitting] = (), **more: object
) -> tuple[Route, list[Problem]]:
    """The route of a circuit that the schedule leads so, and what is told of it."""
    item: Circuit = circuit("P1", *(calls or ("DB", "S")), route=route, **more)
    routing = route_all(installation(*ROW, *also, item))
    return routing.routes[0], [problem for problem in routing.problems if problem.where == "circuit P1"]


def passed(route: Route) -> list[tuple[str, float, float]]:
    return [(visit.carrier, visit.from_mm, visit.to_mm) for visit in route.visits]


WHOLE_ROW = [("A", 0.0, 4000.0), ("B", 0.0, 4000.0), ("C", 0.0, 4000.0), ("D", 0.0, 4000.0)]


def test_in_the_right_order_it_is_measured_between_its_ends_and_nothing_is_told() -> None:
    route, told = led("A;B;C;D")
    assert passed(route) == WHOLE_ROW
    assert (route.routed_by, route.has_gap) == (RoutedBy.SCHEDULE, False)
    assert route.length_mm == pytest.approx(16000.0)
    assert route.drops_mm == (300.0, 400.0)
    (leg,) = route.legs
    assert (leg.origin, leg.call, leg.length_mm, leg.drops_mm) == ("DB", "S", route.length_mm, (300.0, 400.0))
    assert not told


def test_compartments_are_those_that_it_gives_carrier_by_carrier() -> None:
    route, _ = led("A/1;B;C/2;D/1")
    assert [visit.compartment for visit in route.visits] == [1, None, 2, 1]


@pytest.mark.parametrize("order", ["A;C;B;D", "D;C;B;A", "D;B;C;A", "B;A;C;D", "C;D;A;B"])
def test_another_order_is_put_right_and_told_as_a_correction(order: str) -> None:
    route, (problem,) = led(order)
    assert passed(route) == WHOLE_ROW
    assert route.length_mm == pytest.approx(16000.0)
    assert not route.has_gap
    assert problem.kind is ProblemKind.CORRECTION
    assert order.replace(";", ", ") in problem.what
    assert "A, B, C, D" in problem.why


def test_the_way_back_named_as_the_way_there_is_put_right_with_its_compartments() -> None:
    route, (problem,) = led("A/1;B/2", "B", "DB")
    assert passed(route) == [("B", 0.0, 4000.0), ("A", 4000.0, 0.0)]
    assert [(visit.carrier, visit.compartment) for visit in route.visits] == [("B", 2), ("A", 1)]
    assert problem.kind is ProblemKind.CORRECTION


def test_a_dead_end_is_told_and_counts_from_end_to_end() -> None:
    route, (problem,) = led("A;B;SIDE;C;D")
    assert ("SIDE", 0.0, 5000.0) in passed(route)
    assert (problem.kind, "SIDE" in problem.what, "dead end" in problem.what) == (ProblemKind.ASSUMPTION, True, True)
    assert not route.has_gap
    assert route.length_mm == pytest.approx(4 * 4000.0 + 5000.0)


@pytest.mark.parametrize("gap_mm", [1500.0, 2734.0])
def test_a_gap_is_told_with_how_far_it_is_in_mm(gap_mm: float) -> None:
    beyond = carrier("BEYOND", (16000 + gap_mm, 0, 0), (20000, 0, 0))
    far = outlet("FAR", (20000, 300, 0))
    route, told = led("A;B;C;D;BEYOND", "DB", "FAR", also=(beyond, far))
    assert route.has_gap
    assert route.length_mm is None
    assert [visit.carrier for visit in route.visits] == ["A", "B", "C", "D", "BEYOND"]
    assert [(leg.length_mm, leg.drops_mm) for leg in route.legs] == [(None, (None, None))]
    (problem,) = told
    assert "from D to BEYOND" in problem.what
    assert f"{gap_mm:.0f} mm apart" in problem.why
    assert problem.kind is ProblemKind.GAP


def test_a_carrier_left_out_between_two_is_a_gap_though_another_way_leads_there() -> None:
    # from B's end at 8 m to D's start at 12 m
    route, (problem,) = led("A;B;D")
    assert route.has_gap
    assert "from B to D" in problem.what
    assert "4000 mm apart" in problem.why


def test_carriers_that_meet_by_way_of_two_fittings_that_touch_have_no_gap() -> None:
    # D ends at 16 m; boxes of 100 mm at 16.05 and 16.15 m, then 3 m of TAIL from 16.2 m
    boxes = fitting("BOX1", (16050, 0, 0)), fitting("BOX2", (16150, 0, 0))
    tail, far = carrier("TAIL", (16200, 0, 0), (19200, 0, 0)), outlet("FAR", (19200, 300, 0))
    route, told = led("A;B;C;D;TAIL", "DB", "FAR", also=(*boxes, tail, far))
    assert (route.has_gap, told) == (False, [])
    assert route.length_mm == pytest.approx(19200.0)
    # TAIL twice isn't measured, so that neighbours are held against each other: that these meet is in no doubt all the same
    route, told = led("A;B;C;D;TAIL;TAIL", "DB", "FAR", also=(*boxes, tail, far))
    assert (route.has_gap, [problem.kind for problem in told]) == (False, [ProblemKind.ASSUMPTION])


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("A;B;C", "ends 4.02 m from 'S'"),  # √(4000² + 400²) = 4020 mm
        ("B;C;D", "ends 4.01 m from 'DB'"),  # √(4000² + 300²) = 4011 mm
    ],
)
def test_an_end_that_it_does_not_reach_is_told_with_the_distance(given: str, words: str) -> None:
    route, (problem,) = led(given)
    assert words in problem.what
    assert route.has_gap
    assert route.length_mm is None


def test_neither_end_reached_both_are_told() -> None:
    route, told = led("B;C")
    assert [problem.what.split(" from ")[1] for problem in told] == ["'DB'", "'S'"]
    assert route.has_gap


def test_a_name_twice_counts_twice_and_the_route_is_not_measured_shorter() -> None:
    route, _ = led("A;B;C;D;D")
    assert [visit.carrier for visit in route.visits] == ["A", "B", "C", "D", "D"]
    assert route.length_mm == pytest.approx(5 * 4000.0)
    assert not route.has_gap


def test_with_several_calls_it_is_measured_from_call_to_call() -> None:
    route, told = led("A;B;C;D", "DB", "M", "S")
    assert [(leg.origin, leg.call, leg.length_mm) for leg in route.legs] == [
        ("DB", "M", pytest.approx(10000.0)),
        ("M", "S", pytest.approx(6000.0)),
    ]
    assert [(visit.carrier, visit.from_mm, visit.to_mm, visit.leg) for visit in route.visits][2:] == [
        ("C", 0.0, 2000.0, 0),
        ("C", 2000.0, 4000.0, 1),
        ("D", 0.0, 4000.0, 1),
    ]
    assert route.drops_mm == (300.0, 200.0, 400.0)
    assert not told


def test_on_one_carrier_alone_only_what_lies_between_its_ends_counts() -> None:
    lamp = outlet("LAMP", (9000, 200, 0))
    route, told = led("C", "LAMP", "M", also=(lamp,))
    assert passed(route) == [("C", 1000.0, 2000.0)]
    assert route.length_mm == pytest.approx(1000.0)
    assert not told


def test_calls_at_one_place_are_a_leg_of_no_length() -> None:
    twin = outlet("TWIN", (10000, 250, 0))
    route, told = led("A;B;C", "DB", "M", "TWIN", also=(twin,))
    assert [leg.length_mm for leg in route.legs] == pytest.approx([10000.0, 0.0])
    assert route.length_mm == pytest.approx(10000.0)
    assert not route.has_gap
    assert not told


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        (WayLimits((), frozenset({"C"}), ("not by C",)), "not by C): C"),
        (WayLimits((frozenset({"SIDE"}),), frozenset(), ("by way of SIDE",)), "by way of SIDE)"),
    ],
)
def test_where_it_contradicts_the_project_file_the_schedule_holds_and_it_is_told(limits: WayLimits, words: str) -> None:
    route, (problem,) = led("A;B;C;D", limits=limits)
    assert passed(route) == WHOLE_ROW
    assert words in problem.what
    assert problem.kind is ProblemKind.ASSUMPTION


def test_where_it_is_as_the_project_file_asks_nothing_is_told() -> None:
    asked = WayLimits((frozenset({"B", "SIDE"}), frozenset({"D"})), frozenset({"SIDE"}), ("as a test asks",))
    _, told = led("A;B;C;D", limits=asked)
    assert not told


@pytest.mark.parametrize(("given", "words"), [("A;Z;C", "'Z'"), ("A;TWICE", "2 carriers")])
def test_a_name_of_no_or_two_carriers_leaves_it_unrouted(given: str, words: str) -> None:
    twins = [carrier(key, (0, y, 0), (1000, y, 0)) for key, y in (("T1", 7000), ("T2", 8000))]
    named = [replace(item, place=replace(item.place, global_id=item.key, tag="TWICE")) for item in twins]
    route, (problem,) = led(given, also=named)
    assert route.routed_by is RoutedBy.NONE
    assert words in route.reason
    assert problem.what == route.reason


def test_an_end_that_names_a_carrier_of_the_route_is_passed_whole() -> None:
    route, told = led("A;B;C", "A", "C")
    assert passed(route) == WHOLE_ROW[:3]
    assert route.length_mm == pytest.approx(12000.0)
    assert not told


# A loop of four sides, 4 m each: DB hangs at a corner, S1 at the opposite one.
SQUARE = (
    carrier("N", (0, 0, 0), (4000, 0, 0)),
    carrier("E", (4000, 0, 0), (4000, 4000, 0)),
    carrier("S", (4000, 4000, 0), (0, 4000, 0)),
    carrier("W", (0, 4000, 0), (0, 0, 0)),
    outlet("DB", (-200, 0, 0)),
    outlet("S1", (4200, 4000, 0)),
)


def test_a_ring_that_is_given_all_round_goes_out_one_way_and_comes_back_the_other() -> None:
    routing = route_all(installation(*SQUARE, circuit("R", "DB", "S1", "DB", route="N;E;S;W")))
    (route,) = routing.routes
    passed = [(visit.carrier, visit.leg) for visit in route.visits if visit.from_mm != visit.to_mm]
    assert passed == [("N", 0), ("E", 0), ("S", 1), ("W", 1)]
    assert [leg.length_mm for leg in route.legs] == [pytest.approx(8000), pytest.approx(8000)]
    assert not [problem for problem in routing.problems if "circuit R" in problem.where]


def test_a_ring_that_is_given_out_only_comes_back_through_the_same_and_lies_there_twice() -> None:
    (route,) = route_all(installation(*SQUARE, circuit("R", "DB", "S1", "DB", route="N;E"))).routes
    assert [(visit.carrier, visit.leg) for visit in route.visits] == [("N", 0), ("E", 0), ("E", 1), ("N", 1)]
    assert route.length_mm == pytest.approx(16000)


def test_carriers_named_twice_are_said_and_counted_each_time() -> None:
    routing = route_all(installation(*SQUARE, circuit("P", "DB", "S1", route="N;E;N;E")))
    assert [visit.carrier for visit in routing.routes[0].visits] == ["N", "E", "N", "E"]
    assert any("N, E more than once" in problem.what for problem in routing.problems)
