"""Circuits that the project leads by or past some carriers: on a loop of two ways between a common start and end."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Equipment, Port, Problem, ProblemKind, Service, WayLimits
from checker.network.routing import Route, RoutedBy, route_all
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet

# Both ways from A to F: by B and C 2 + 2 = 4 m, by D and E 5 + √(2² + 3²) = 8.606 m; A is 2 m, F 4 m, so 10 m and 14.606 m in all.
A = carrier("A", (0, 0, 0), (2000, 0, 0))
B = carrier("B", (2000, 0, 0), (4000, 0, 0))
C = carrier("C", (4000, 0, 0), (4000, 2000, 0))
D = carrier("D", (2000, 0, 0), (2000, 5000, 0))
E = carrier("E", (2000, 5000, 0), (4000, 2000, 0))
F = carrier("F", (4000, 2000, 0), (8000, 2000, 0))
SPUR = carrier("SPUR", (2000, 0, 0), (2000, -1500, 0))
APART = carrier("APART", (0, 9000, 0), (1000, 9000, 0))
DB, S = outlet("DB", (0, 300, 0)), outlet("S", (8000, 2300, 0))
LOOP = (A, B, C, D, E, F, DB, S)
SHORT_MM, LONG_MM = 10000.0, 2000.0 + 5000.0 + 3605.551 + 4000.0
TOLD = "by way of what a test asks"


def limits(*via: Iterable[str], closed: Iterable[str] = ()) -> WayLimits:
    return WayLimits(tuple(frozenset(group) for group in via), frozenset(closed), (TOLD,))


def led(*items: Carrier | Equipment | Circuit, ports: tuple[Port, ...] = ()) -> tuple[tuple[Route, ...], list[Problem]]:
    """The routes, and what is told of circuits."""
    routing = route_all(installation(*items, ports=ports))
    return routing.routes, [problem for problem in routing.problems if problem.where.startswith("circuit")]


def keys(route: Route) -> list[str]:
    return [visit.carrier for visit in route.visits]


def test_by_way_of_one_carrier_the_longer_way_is_taken_and_nothing_is_told() -> None:
    (route,), told = led(*LOOP, circuit("P1", "DB", "S", limits=limits({"D"})))
    assert keys(route) == ["A", "D", "E", "F"]
    assert route.length_mm == pytest.approx(LONG_MM)
    assert route.routed_by is RoutedBy.ASKED
    assert not told


def test_by_way_of_a_carrier_is_through_it_though_a_circuit_comes_in_near_its_end() -> None:
    # LAMP hangs 100 mm behind D's start: in to there and back would be 0.2 m more than the shortest way, and not by way of D
    lamp = outlet("LAMP", (2050, 100, 0))
    (route, _), told = led(*LOOP, lamp, circuit("P1", "DB", "S", limits=limits({"D"})), circuit("P2", "DB", "LAMP"))
    assert keys(route) == ["A", "D", "E", "F"]
    assert route.length_mm == pytest.approx(LONG_MM)
    assert not told


@pytest.mark.parametrize("via", ["B", "C"])
def test_by_way_of_a_carrier_is_through_it_though_in_and_back_is_shorter(via: str) -> None:
    # by B and C, with a detour of 9 + 2 + 9 m between them, far more than the 14.606 m by D and E and 4 m or 5.7 m in and back
    detour = [
        carrier("X", (4000, 0, 0), (4000, -9000, 0)),
        carrier("Y", (4000, -9000, 0), (6000, -9000, 0)),
        carrier("Z", (6000, -9000, 0), (6000, 0, 0)),
    ]
    beyond = carrier("C", (6000, 0, 0), (4000, 2000, 0))
    (route,), told = led(A, B, *detour, beyond, D, E, F, DB, S, circuit("P1", "DB", "S", limits=limits({via})))
    assert keys(route) == ["A", "B", "X", "Y", "Z", "C", "F"]
    assert not told


def test_by_way_of_several_however_near_each_other_circuits_come_in_it_comes_back_on_none() -> None:
    lamps = outlet("L1", (2050, 100, 0)), outlet("L2", (3950, 1950, 0))
    ends = [circuit(f"Q{number}", "DB", f"L{number}") for number in (1, 2)]
    for via in ("D", "E", "DE"):
        (route, *_), told = led(*LOOP, *lamps, circuit("P1", "DB", "S", limits=limits(*via)), *ends)
        assert keys(route) == ["A", "D", "E", "F"]
        assert not told


def test_by_way_of_several_they_are_passed_in_order() -> None:
    (route, other), told = led(
        *LOOP,
        circuit("P1", "DB", "S", limits=limits({"D"}, {"E"})),
        circuit("P2", "DB", "S", limits=limits({"C"}, {"B"})),
    )
    assert keys(route) == ["A", "D", "E", "F"]
    # C before B: by B and C as usual, and from C's end the whole way round by B again would be longer than back through B and out
    assert keys(other).index("C") < len(keys(other)) - 1 - keys(other)[::-1].index("B")
    assert [problem.where for problem in told] == ["circuit P2"]


@pytest.mark.parametrize("group", [{"C", "E"}, {"B", "D"}, {"C", "APART"}])
def test_by_way_of_a_group_the_nearest_of_it_will_do(group: set[str]) -> None:
    (route,), told = led(*LOOP, APART, circuit("P1", "DB", "S", limits=limits(group)))
    assert keys(route) == ["A", "B", "C", "F"]
    assert not told


def test_by_way_of_what_the_shortest_passes_already_is_the_same_way() -> None:
    asked = [limits({key}) for key in "ABCF"] + [limits(*"ABCF"), limits("B", "B"), limits({"A", "B"}, {"B", "C"})]
    circuits = [circuit(f"P{number}", "DB", "S", limits=item) for number, item in enumerate(asked)]
    (plain, *routes), told = led(*LOOP, circuit("PLAIN", "DB", "S"), *circuits)
    assert plain.length_mm == pytest.approx(SHORT_MM)
    assert all((route.visits, route.length_mm) == (plain.visits, plain.length_mm) for route in routes)
    assert not told


def test_by_way_of_a_dead_end_it_lies_there_twice_which_is_told() -> None:
    (route,), told = led(*LOOP, SPUR, circuit("P1", "DB", "S", limits=limits({"SPUR"})))
    passed = [(visit.from_mm, visit.to_mm) for visit in route.visits if visit.carrier == "SPUR"]
    assert passed == [(0.0, 1500.0), (1500.0, 0.0)]  # two visits, so that its cables are counted twice
    assert route.length_mm == pytest.approx(SHORT_MM + 2 * 1500.0)
    (problem,) = told
    assert (problem.where, problem.kind) == ("circuit P1", ProblemKind.ASSUMPTION)
    assert "comes back the same way" in problem.what


def test_by_way_of_a_dead_end_that_it_ends_on_it_goes_there_once() -> None:
    (route,), told = led(*LOOP, SPUR, circuit("P1", "DB", "SPUR", limits=limits({"SPUR"})))
    assert keys(route) == ["A", "SPUR"]
    assert route.length_mm == pytest.approx(2000.0 + 1500.0)
    assert not told


def test_by_way_of_a_carrier_of_unknown_length_the_length_is_unknown() -> None:
    lost = replace(carrier("LOST", (0, 0, 0), (1, 0, 0)), start_mm=None, end_mm=None, length_mm=None)
    ports = (
        Port("p1", "A", (2000, 0, 0), ("p2",)), Port("p2", "LOST", None, ("p1",)),
        Port("p3", "LOST", None, ("p4",)), Port("p4", "F", (4000, 2000, 0), ("p3",)),
    )  # fmt: skip
    ask = circuit("P1", "DB", "S", limits=limits({"LOST"}))
    (route, plain), _ = led(*LOOP, lost, ask, circuit("P2", "DB", "S"), ports=ports)
    assert keys(route) == ["A", "LOST", "F"]
    assert route.length_mm is None
    assert keys(plain) == ["A", "B", "C", "F"]


def test_where_it_can_not_be_led_so_it_is_not_routed_and_told_what_there_is_without() -> None:
    (route,), (problem,) = led(*LOOP, APART, circuit("P1", "DB", "S", limits=limits({"APART"})))
    assert (route.routed_by, route.visits, route.length_mm) == (RoutedBy.NONE, (), None)
    assert TOLD in route.reason
    assert "without that there is one of 10.00 m" in route.reason
    assert problem.what == route.reason
    assert "wayroom.toml" in problem.hint


def test_where_there_is_no_way_anyhow_the_project_is_not_blamed() -> None:
    ask = circuit("P1", "DB", "APART", limits=limits({"B"}))
    (route,), _ = led(*LOOP, APART, ask)
    assert route.routed_by is RoutedBy.NONE
    assert "wayroom.toml" not in route.reason


def test_closed_carriers_are_closed_to_those_alone_whom_they_are_closed_to() -> None:
    (shut, free), told = led(*LOOP, circuit("P1", "DB", "S", limits=limits(closed={"B"})), circuit("P2", "DB", "S"))
    assert keys(shut) == ["A", "D", "E", "F"]
    assert shut.length_mm == pytest.approx(LONG_MM)
    assert keys(free) == ["A", "B", "C", "F"]
    assert not told


def test_both_ways_closed_it_is_not_routed_and_told_so() -> None:
    (route, free), _ = led(*LOOP, circuit("P1", "DB", "S", limits=limits(closed={"B", "D"})), circuit("P2", "DB", "S"))
    assert route.routed_by is RoutedBy.NONE
    assert TOLD in route.reason
    assert "without that there is one of 10.00 m" in route.reason
    assert free.length_mm == pytest.approx(SHORT_MM)


def test_what_is_closed_and_what_it_is_led_by_hold_together() -> None:
    # by way of D, with E closed: in and back through D, 2 × 5 m more than the 10 m
    (route, other), _ = led(
        *LOOP,
        circuit("P1", "DB", "S", limits=limits({"D"}, closed={"E"})),
        circuit("P2", "DB", "S", limits=limits({"D"}, closed={"D"})),
    )
    assert keys(route) == ["A", "D", "D", "B", "C", "F"]
    assert route.length_mm == pytest.approx(SHORT_MM + 2 * 5000.0)
    assert other.routed_by is RoutedBy.NONE


def test_service_and_what_the_project_closes_hold_together() -> None:
    for_data = replace(STEEL_50, lanes=lanes(Service.DATA))
    ways = (A, carrier("B", (2000, 0, 0), (4000, 0, 0), for_data), C, D, E, F, DB, S)
    data = circuit("X1", "DB", "S", service=Service.DATA)
    (power, free), _ = led(*ways, circuit("P1", "DB", "S", limits=limits(closed={"D"})), data)
    assert power.routed_by is RoutedBy.NONE
    assert keys(free) == ["A", "B", "C", "F"]


def test_equipment_comes_in_on_the_nearest_carrier_that_is_not_closed() -> None:
    # D is 2 m from the board, at 0.3 m of its length
    (route,), _ = led(*LOOP, circuit("P1", "DB", "S", limits=limits(closed={"A"})))
    assert keys(route) == ["D", "B", "C", "F"]
    assert route.drops_mm == (2000.0, 300.0)
    assert route.length_mm == pytest.approx(300.0 + 2000.0 + 2000.0 + 4000.0)


def test_where_all_in_reach_is_closed_to_it_that_is_the_reason() -> None:
    (route, named), _ = led(
        *LOOP,
        circuit("P1", "DB", "S", limits=limits(closed={"F", "C", "E"})),
        circuit("P2", "DB", "F", limits=limits(closed={"F"})),
    )
    assert route.routed_by is named.routed_by is RoutedBy.NONE
    assert "within 3 m of S is closed to it" in route.reason
    assert "'F' is closed to it" in named.reason


def test_where_it_is_led_by_holds_on_the_first_leg_only() -> None:
    middle = outlet("M", (6000, 2300, 0))  # half-way along F
    back = circuit("P1", "DB", "S", "M", "DB", limits=limits({"D"}))
    (route,), told = led(*LOOP, middle, back)
    legs = [[visit.carrier for visit in route.visits if visit.leg == number] for number in range(3)]
    assert legs == [["A", "D", "E", "F"], ["F"], ["F", "C", "B", "A"]]
    assert [leg.length_mm for leg in route.legs] == pytest.approx([LONG_MM, 2000.0, SHORT_MM - 2000.0])
    assert not told


def test_what_is_closed_is_closed_on_every_leg() -> None:
    ask = circuit("P1", "DB", "S", "DB", limits=limits(closed={"B"}))
    (route,), _ = led(*LOOP, ask)
    assert keys(route) == ["A", "D", "E", "F", "F", "E", "D", "A"]


def test_limits_of_carriers_that_are_not_there_are_no_error() -> None:
    (route, other), _ = led(
        *LOOP,
        circuit("P1", "DB", "S", limits=limits(closed={"nowhere"})),
        circuit("P2", "DB", "S", limits=limits({"nowhere", "D"})),
    )
    assert keys(route) == ["A", "B", "C", "F"]
    assert keys(other) == ["A", "D", "E", "F"]


def test_who_is_led_by_what_is_not_there_is_not_led_elsewhere() -> None:
    limits = WayLimits(told=("by way of RISER-02",), lacking=("RISER-02",))
    (route,) = route_all(installation(*LOOP, circuit("P1", "DB", "S", limits=limits))).routes
    assert route.routed_by is RoutedBy.NONE
    assert route.reason == "wayroom.toml leads it by way of RISER-02, and no carrier is called so"
