"""Routes against an independent search: a plain relaxation over a hand-written list of what meets."""

import itertools
import math
import random
from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.model import FittingKind, Port, ProblemKind, Service, State
from checker.network.routing import Route, RoutedBy, route_all
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet


def tags(route: Route) -> list[str]:
    return [visit.carrier for visit in route.visits]


# A loop: from A the way by B and C is 6 m, that by D is 9 m.
A = carrier("A", (0, 0, 0), (2000, 0, 0))
B = carrier("B", (2000, 0, 0), (4000, 0, 0))
C = carrier("C", (4000, 0, 0), (4000, 2000, 0))
D = carrier("D", (2000, 0, 0), (2000, 5000, 0))
E = carrier("E", (2000, 5000, 0), (4000, 2000, 0))
F = carrier("F", (4000, 2000, 0), (8000, 2000, 0))
DB = outlet("DB", (0, 300, 0))
S = outlet("S", (8000, 2300, 0))
LOOP = (A, B, C, D, E, F, DB, S)


def test_the_shortest_way_is_taken_and_measured_between_the_drops() -> None:
    (route,) = route_all(installation(*LOOP, circuit("P1", "DB", "S"))).routes
    assert tags(route) == ["A", "B", "C", "F"]
    assert route.routed_by is RoutedBy.SHORTEST
    assert route.length_mm == pytest.approx(2000 + 2000 + 2000 + 4000)
    assert route.drops_mm == (300.0, 300.0)


def test_carriers_that_are_not_for_the_service_are_not_passed() -> None:
    for_data = replace(STEEL_50, lanes=lanes(Service.DATA))
    closed = carrier("B", (2000, 0, 0), (4000, 0, 0), for_data)
    (route,) = route_all(installation(A, closed, C, D, E, F, DB, S, circuit("P1", "DB", "S"))).routes
    assert tags(route) == ["A", "D", "E", "F"]


def test_a_gap_is_no_join_and_the_circuit_is_told() -> None:
    gap = carrier("B", (2050, 0, 0), (4000, 0, 0))
    routing = route_all(installation(A, gap, C, F, DB, S, circuit("P1", "DB", "S")))
    assert routing.routes[0].routed_by is RoutedBy.NONE
    assert "no way through joined carriers" in routing.routes[0].reason
    gaps = [problem for problem in routing.problems if problem.kind is ProblemKind.GAP]
    assert [problem.where for problem in gaps] == ["circuit P1", "A / B"]
    assert gaps[1].what == "their ends are 50 mm apart and aren't joined"


def test_crossing_is_not_joining() -> None:
    across = carrier("X", (1000, -2000, 0), (1000, 2000, 0))
    routing = route_all(installation(A, across, DB, outlet("S", (1000, 2100, 0)), circuit("P1", "DB", "S")))
    assert not routing.routes[0].visits


def test_a_fitting_joins_the_ends_within_its_body() -> None:
    box = fitting("BOX", (2100, 0, 0), size=400.0)
    beyond = carrier("B", (2200, 0, 0), (4000, 0, 0))
    (route,) = route_all(installation(A, box, beyond, DB, outlet("S", (4000, 300, 0)), circuit("P1", "DB", "S"))).routes
    assert tags(route) == ["A", "B"]
    assert route.length_mm == pytest.approx(2000 + 200 + 1800)


@pytest.mark.parametrize(
    ("equipment", "words"),
    [
        (outlet("S", (8000, 6000, 0)), "within 3 m"),
        (outlet("S", (8000, 2300, 0), storey="L1"), "on its storey"),
    ],
)
def test_an_end_without_a_carrier_in_reach_is_told(equipment: object, words: str) -> None:
    routing = route_all(installation(A, B, C, F, DB, equipment, circuit("P1", "DB", "S")))  # type: ignore[arg-type]
    assert words in routing.routes[0].reason


def test_a_name_that_is_not_there_gets_the_nearest_spellings() -> None:
    routing = route_all(installation(*LOOP, outlet("SO-12", (8000, 2300, 0)), circuit("P1", "DB", "SO-21")))
    assert "nothing in the model is called 'SO-21'" in routing.routes[0].reason
    assert "SO-12" in routing.problems[0].hint


def test_a_name_that_two_bear_is_told_and_not_guessed() -> None:
    twins = [
        replace(outlet(key, (8000, 2300, 0)), place=replace(outlet(key, (0, 0, 0)).place, tag="S"))
        for key in ("S1", "S2")
    ]
    routing = route_all(installation(A, B, C, F, DB, *twins, circuit("P1", "DB", "S")))
    assert "2 elements are called 'S'" in routing.routes[0].reason


def test_an_end_may_be_a_carrier_which_is_then_passed_whole() -> None:
    (route,) = route_all(installation(*LOOP, circuit("P1", "DB", "F"))).routes
    assert tags(route) == ["A", "B", "C", "F"]
    assert route.length_mm == pytest.approx(2000 + 2000 + 2000 + 4000)


def test_from_a_carrier_to_itself_is_that_carrier() -> None:
    (route,) = route_all(installation(*LOOP, circuit("P1", "F", "F"))).routes
    assert tags(route) == ["F"]
    assert route.length_mm == pytest.approx(4000)


def test_a_circuit_calls_at_each_end_in_turn() -> None:
    middle = outlet("M", (4000, 1000, 200))
    (route,) = route_all(installation(*LOOP, middle, circuit("P1", "DB", "M", "S"))).routes
    assert tags(route) == ["A", "B", "C", "C", "F"]
    assert route.length_mm == pytest.approx(2000 + 2000 + 2000 + 4000)


def test_the_schedules_route_is_taken_as_it_stands() -> None:
    (route,) = route_all(installation(*LOOP, circuit("P1", "DB", "S", route="A;D;E;F/1"))).routes
    assert tags(route) == ["A", "D", "E", "F"]
    assert route.routed_by is RoutedBy.SCHEDULE
    assert route.visits[3].compartment == 1


def test_a_gap_in_the_schedules_route_is_told_with_the_distance() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "S", route="A;F")))
    assert tags(routing.routes[0]) == ["A", "F"]
    assert any(
        "A to F, which aren't joined" in problem.what and "2828 mm" in problem.why for problem in routing.problems
    )


def test_a_route_that_names_what_is_not_there_is_not_routed() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "S", route="A;Z")))
    assert "'Z'" in routing.routes[0].reason


def test_a_removed_circuit_is_not_routed() -> None:
    (route,) = route_all(installation(*LOOP, circuit("P1", "DB", "S", state=State.REMOVED))).routes
    assert route.reason.startswith("removed")


def test_ways_as_long_are_told_apart_in_the_same_way_whatever_the_order() -> None:
    square = [
        carrier("A", (0, 0, 0), (1000, 0, 0)), carrier("B", (1000, 0, 0), (1000, 1000, 0)),
        carrier("C", (0, 0, 0), (0, 1000, 0)), carrier("D", (0, 1000, 0), (1000, 1000, 0)), carrier("Z", (1000, 1000, 0), (2000, 1000, 0)),
        carrier("Y", (-1000, 0, 0), (0, 0, 0)),
    ]  # fmt: skip
    found = set()
    for order in itertools.islice(itertools.permutations(square), 0, 720, 37):
        (route,) = route_all(installation(*order, circuit("P1", "Y", "Z"))).routes
        found.add(tuple(tags(route)))
    assert len(found) == 1


def test_of_ways_as_long_round_a_ring_of_like_names_the_same_is_taken_from_either_end() -> None:
    """From T0 by T2 and T5, or by T4 and T3, to T1: joins differ by 2, 7 and 4 or by 4, 7 and 2 (xor), so cyclic checksums add up alike."""
    ring = [
        carrier("T0", (-1000, 0, 0), (0, 0, 0)),
        carrier("T2", (0, 0, 0), (1000, 0, 0)),
        carrier("T5", (1000, 0, 0), (1000, 1000, 0)),
        carrier("T4", (0, 0, 0), (0, 1000, 0)),
        carrier("T3", (0, 1000, 0), (1000, 1000, 0)),
        carrier("T1", (1000, 1000, 0), (2000, 1000, 0)),
    ]
    there, back = (
        tags(route_all(installation(*ring, circuit("P1", *ends))).routes[0]) for ends in (("T0", "T1"), ("T1", "T0"))
    )
    assert (len(there), there) == (4, back[::-1])


def test_random_networks_agree_with_a_plain_relaxation() -> None:
    generator = random.Random(7)  # noqa: S311 - a test's own dice
    for _ in range(30):
        nodes = [(generator.randrange(9) * 1000.0, generator.randrange(9) * 1000.0, 0.0) for _ in range(12)]
        pairs = [pair for pair in itertools.combinations(sorted(set(nodes)), 2) if generator.random() < 0.25]
        carriers = [carrier(f"K{number:03}", *pair) for number, pair in enumerate(pairs)]
        if len(carriers) < 2:
            continue
        (route,) = route_all(installation(*carriers, circuit("P1", carriers[0].key, carriers[-1].key))).routes
        expected = relaxed(pairs)
        assert (route.length_mm is None) == (expected is None)
        if expected is not None:
            assert route.length_mm == pytest.approx(expected)


def relaxed(pairs: Sequence[tuple[tuple[float, ...], tuple[float, ...]]]) -> float | None:
    """The least sum of lengths from the first pair to the last, both counted whole, by relaxing until nothing changes.

    Ends of pairs that lie on another pair join it there. All points are of a grid of 1 m, at most 8 m wide: one that isn't on a line is at
    least 1000 / √(8² + 8²) = 88 mm off it, more than any tolerance.
    """
    points = sorted({point for pair in pairs for point in pair})
    on = [[point for point in points if lies_on(point, *pair)] for pair in pairs]
    far = {point: float("inf") for point in points} | dict.fromkeys(on[0], math.dist(*pairs[0]))
    for _ in points:
        for here in on:
            for one, other in itertools.permutations(here, 2):
                far[one] = min(far[one], far[other] + math.dist(one, other))
    end = min(far[point] for point in on[-1]) + math.dist(*pairs[-1])
    return None if end == float("inf") else end


def lies_on(point: tuple[float, ...], start: tuple[float, ...], end: tuple[float, ...]) -> bool:
    """Whether a point of a level grid of whole numbers lies on a line between two others."""
    (x, y, _), (x1, y1, _), (x2, y2, _) = point, start, end
    return (
        (x - x1) * (y2 - y1) == (y - y1) * (x2 - x1)
        and min(x1, x2) <= x <= max(x1, x2)
        and min(y1, y2) <= y <= max(y1, y2)
    )


def test_two_fittings_of_other_kinds_do_not_change_a_way() -> None:
    for kind in FittingKind:
        box = fitting("BOX", (2000, 0, 0), kind, size=100.0)
        (route,) = route_all(installation(*LOOP, box, circuit("P1", "DB", "S"))).routes
        assert tags(route) == ["A", "B", "C", "F"]


def test_a_way_through_a_carrier_of_unknown_length_is_taken_only_where_there_is_no_other() -> None:
    unknown = replace(carrier("D", (2000, 0, 0), (2000, 5000, 0)), start_mm=None, end_mm=None, length_mm=None)
    ports = (
        Port("p1", "A", (2000, 0, 0), ("p2",)), Port("p2", "D", None, ("p1",)),
        Port("p3", "D", None, ("p4",)), Port("p4", "E", (2000, 5000, 0), ("p3",)),
    )  # fmt: skip
    (route,) = route_all(installation(A, B, C, unknown, E, F, DB, S, circuit("P1", "DB", "S"), ports=ports)).routes
    assert tags(route) == ["A", "B", "C", "F"]
    routing = route_all(installation(A, unknown, E, F, DB, S, circuit("P1", "DB", "S"), ports=ports))
    assert tags(routing.routes[0]) == ["A", "D", "E", "F"]
    assert routing.routes[0].length_mm is None
    assert any("how long it is isn't known" in problem.what for problem in routing.problems)


def test_a_route_that_does_not_reach_its_ends_is_told() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "S", route="A")))
    assert any("6.43 m from 'S'" in problem.what for problem in routing.problems)
    assert routing.routes[0].has_gap


def test_a_route_whose_ends_are_not_in_the_model_is_told() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "nowhere", route="A;B;C;F")))
    assert tags(routing.routes[0]) == ["A", "B", "C", "F"]
    assert any("nothing in the model is called 'nowhere'" in problem.what for problem in routing.problems)


def test_a_circuit_that_ends_where_it_begins_is_told() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "DB")))
    assert any("both its ends" in problem.what for problem in routing.problems)


def test_rows_that_contradict_each_other_are_not_routed() -> None:
    routing = route_all(installation(*LOOP, circuit("P1", "DB", "S", unread=("to",))))
    assert routing.routes[0].routed_by is RoutedBy.NONE
    assert "contradict" in routing.routes[0].reason


def test_equipment_joined_by_ports_comes_in_there_however_far_its_body_is() -> None:
    far = outlet("S", (8000, 20000, 0))
    ports = (Port("p1", "S", (8000, 2000, 0), ("p2",)), Port("p2", "F", (8000, 2000, 0), ("p1",)),
             Port("p3", "S", None, ("p4",)), Port("p4", "F", None, ("p3",)))  # fmt: skip
    (route,) = route_all(installation(A, B, C, F, DB, far, circuit("P1", "DB", "S"), ports=ports)).routes
    assert tags(route) == ["A", "B", "C", "F"]


def test_a_board_joined_to_several_carriers_sends_each_circuit_the_shorter_way() -> None:
    board = outlet("BD", (2000, 0, 0))
    ports = (Port("p1", "BD", (2000, 0, 0), ("p2",)), Port("p2", "B", (2000, 0, 0), ("p1",)),
             Port("p3", "BD", (2000, 0, 0), ("p4",)), Port("p4", "D", (2000, 0, 0), ("p3",)))  # fmt: skip
    near_e = outlet("SE", (2500, 4250, 0))
    inst = installation(
        B, C, D, E, F, board, S, near_e, circuit("P1", "BD", "S"), circuit("P2", "BD", "SE"), ports=ports
    )
    routes = {route.circuit: tags(route) for route in route_all(inst).routes}
    assert routes["P1"] == ["B", "C", "F"]
    assert routes["P2"][0] == "D"


def test_of_carriers_as_near_the_one_with_the_shorter_way_is_taken() -> None:
    # the board is as near to A's end as to the end of Z, which leads nowhere
    nowhere = carrier("0Z", (0, 0, 0), (0, -2000, 0))
    board = outlet("BD", (-300, 0, 0))
    (route,) = route_all(installation(A, B, C, F, nowhere, board, S, circuit("P1", "BD", "S"))).routes
    assert tags(route) == ["A", "B", "C", "F"]


def test_a_given_route_with_several_calls_is_measured_from_call_to_call() -> None:
    middle = outlet("M", (4000, 1000, 200))
    (route,) = route_all(installation(*LOOP, middle, circuit("P1", "DB", "M", "S", route="A;B;C;F"))).routes
    assert route.length_mm == pytest.approx(2000 + 2000 + 2000 + 4000)
    assert route.drops_mm == (300.0, 200.0, 300.0)


@pytest.mark.parametrize("ends", [("F", "F"), ("DB", "F"), ("nowhere", "S")])
def test_a_given_route_that_misses_an_end_has_a_gap(ends: tuple[str, str]) -> None:
    routing = route_all(installation(*LOOP, circuit("P1", *ends, route="A;B;C")))
    assert routing.routes[0].has_gap
    assert routing.problems


def test_where_too_many_carriers_are_as_near_none_is_chosen() -> None:
    heap = [carrier(f"K{number}", (0, 0, 0), (1000, 0, 0)) for number in range(150)]
    board, lamp = outlet("DB", (0, 300, 0)), outlet("S", (1000, 300, 0))
    routing = route_all(installation(*heap, board, lamp, circuit("P1", "DB", "S")))
    assert routing.routes[0].routed_by is RoutedBy.NONE
    assert "too many carriers lie around DB" in routing.routes[0].reason


def test_without_a_service_the_way_is_known_only_through_what_any_service_may_pass() -> None:
    for_data = replace(STEEL_50, lanes=lanes(Service.DATA))
    closed = carrier("B", (2000, 0, 0), (4000, 0, 0), for_data)
    unsaid = circuit("P1", "DB", "S", service=None)
    (route,) = route_all(installation(A, closed, C, D, E, F, DB, S, unsaid)).routes
    assert route.routed_by is RoutedBy.NONE
    assert "its service isn't known" in route.reason
    (route,) = route_all(installation(*LOOP, unsaid)).routes  # where all take any, it is the same for all
    assert tags(route) == ["A", "B", "C", "F"]
