"""Routes of circuits whose cables the model draws: whole, in part, in the air, and against what else is said of them.

A and D are trunkings of 2 m in line along x; between them LOW, straight, 3 m, and HIGH, which goes up by 0.8 m and down again, 4.6 m. DB
hangs 0.2 m above the start of A, S 0.2 m above the end of D. So the shortest way is by LOW, 7 m, and by HIGH it is 8.6 m.
"""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.model import Circuit, Equipment, ModelCable, Place, Problem, ProblemKind, Vec, WayLimits
from checker.network.route import Route, RoutedBy
from checker.network.routing import route_all
from checker.network_rows import take_off_rows
from tests.installations import carrier, circuit, installation, outlet

A = carrier("A", (0, 0, 0), (2000, 0, 0))
LOW = carrier("LOW", (2000, 0, 0), (5000, 0, 0))
HIGH = replace(
    carrier("HIGH", (2000, 0, 0), (5000, 0, 0)), corners_mm=((2000, 0, 800), (5000, 0, 800)), length_mm=4600.0
)
D = carrier("D", (5000, 0, 0), (7000, 0, 0))
BY_HIGH = (
    (0, 0, 200),
    (0, 0, 0),
    (2000, 0, 0),
    (2000, 0, 800),
    (5000, 0, 800),
    (5000, 0, 0),
    (7000, 0, 0),
    (7000, 0, 200),
)
ENDS = (outlet("DB", (0, 0, 200)), outlet("S", (7000, 0, 200)))
C1 = circuit("C1", "DB", "S")


def line(*points: Sequence[float], mark: str = "C1", name: str = "W1") -> ModelCable:
    path = tuple((float(x), float(y), float(z)) for x, y, z in points)
    return ModelCable(Place(name, "test.ifc", tag=name), (mark,), path_mm=path)


def led(*lines: ModelCable, of: Circuit = C1, also: Sequence[Equipment] = ()) -> tuple[Route, list[Problem]]:
    """The one route and what is said of its circuit."""
    routing = route_all(installation(A, LOW, HIGH, D, *ENDS, *also, of, model_cables=lines))
    (route,) = routing.routes
    return route, [problem for problem in routing.problems if problem.where == f"circuit {of.mark}"]


def keys(route: Route) -> list[str]:
    return [visit.carrier for visit in route.visits]


def test_cables_that_are_drawn_whole_are_led_as_they_are_drawn_though_another_way_is_shorter() -> None:
    route, problems = led(line(*BY_HIGH))
    assert (route.routed_by, keys(route), route.has_gap) == (RoutedBy.DRAWN, ["A", "HIGH", "D"], False)
    assert route.length_mm == pytest.approx(8600.0)
    assert route.drops_mm == pytest.approx((200.0, 200.0))
    assert problems == []


def test_the_rest_of_what_is_drawn_in_part_is_the_shortest_way() -> None:
    route, problems = led(line((0, 0, 200), (0, 0, 0), (1500, 0, 0)))
    assert (route.routed_by, keys(route), route.has_gap) == (RoutedBy.DRAWN_IN_PART, ["A", "LOW", "D"], False)
    assert route.length_mm == pytest.approx(7000.0)
    assert route.drops_mm == pytest.approx((200.0, 200.0))
    (told,) = problems
    assert told.kind is ProblemKind.INFERENCE
    assert told.what == "the model draws its cables in part, in A"


@pytest.mark.parametrize("is_turned", [False, True])
def test_what_is_drawn_in_part_off_the_shortest_way_is_led_through_it(*, is_turned: bool) -> None:
    # 0.4 m in the middle of HIGH, 3.35 m from both ends, which is beyond their reach
    drawn: list[Vec] = [(3300, 0, 800), (3700, 0, 800)]
    route, problems = led(line(*(drawn[::-1] if is_turned else drawn)))
    assert (route.routed_by, keys(route), route.has_gap) == (RoutedBy.DRAWN_IN_PART, ["A", "HIGH", "D"], False)
    assert route.length_mm == pytest.approx(8600.0)
    assert [problem.kind for problem in problems] == [ProblemKind.INFERENCE]


def test_two_drawn_parts_that_do_not_meet_are_joined_by_the_shortest_way() -> None:
    route, _ = led(
        line((0, 0, 200), (0, 0, 0), (1500, 0, 0)), line((5500, 0, 0), (7000, 0, 0), (7000, 0, 200), name="W2")
    )
    assert (route.routed_by, keys(route)) == (RoutedBy.DRAWN_IN_PART, ["A", "LOW", "D"])


def test_a_drawn_way_through_what_wayroom_toml_closes_is_kept_and_told() -> None:
    closed = replace(C1, limits=WayLimits((), frozenset({"HIGH"}), ("not through HIGH",)))
    route, problems = led(line(*BY_HIGH), of=closed)
    assert (route.routed_by, keys(route)) == (RoutedBy.DRAWN, ["A", "HIGH", "D"])
    (told,) = problems
    assert told.kind is ProblemKind.ASSUMPTION
    assert told.what == "its way in the model isn't as wayroom.toml asks (not through HIGH): HIGH"


def test_what_is_drawn_in_part_in_a_closed_carrier_has_a_gap_and_says_both() -> None:
    # drawn is right, so it lies in HIGH; but nothing may be led through there, so how it gets there isn't known
    closed = replace(C1, limits=WayLimits((), frozenset({"HIGH"}), ("not through HIGH",)))
    route, problems = led(line((3300, 0, 800), (3700, 0, 800)), of=closed)
    assert (route.routed_by, keys(route), route.has_gap) == (RoutedBy.DRAWN, ["HIGH"], True)
    assert route.length_mm is None
    assert {problem.kind for problem in problems} == {ProblemKind.GAP, ProblemKind.ASSUMPTION}
    assert any("wayroom.toml asks (not through HIGH)" in problem.what for problem in problems)


def test_where_wayroom_toml_leads_by_another_carrier_than_is_drawn_in_part_the_drawing_holds_and_that_is_told() -> None:
    by_low = replace(C1, limits=WayLimits((frozenset({"LOW"}),), frozenset(), ("by LOW",)))
    route, problems = led(line((3300, 0, 800), (3700, 0, 800)), of=by_low)
    assert (route.routed_by, keys(route)) == (RoutedBy.DRAWN_IN_PART, ["A", "HIGH", "D"])
    assert any("wayroom.toml asks (by LOW)" in problem.what for problem in problems)


def test_cables_in_the_air_are_led_the_shortest_way_and_told() -> None:
    # 2 m beside the carriers, so that it is within 3 m of both ends
    route, problems = led(line((0, 2000, 0), (7000, 2000, 0)))
    assert (route.routed_by, keys(route)) == (RoutedBy.SHORTEST, ["A", "LOW", "D"])
    assert [problem.kind for problem in problems] == [ProblemKind.GAP]
    assert "they lie in no carrier for 7.00 m" in problems[0].what


def test_cables_that_leave_the_carriers_for_a_stretch_have_a_gap_there() -> None:
    # out of A at its end, 0.5 m up and over LOW in the air, and down into D: neither LOW nor HIGH
    over = (
        (0, 0, 200),
        (0, 0, 0),
        (2000, 0, 0),
        (2000, 600, 300),
        (5000, 600, 300),
        (5000, 0, 0),
        (7000, 0, 0),
        (7000, 0, 200),
    )
    route, problems = led(line(*over))
    assert (route.routed_by, keys(route), route.has_gap) == (RoutedBy.DRAWN, ["A", "D"], True)
    assert route.length_mm is None
    assert [problem.kind for problem in problems] == [ProblemKind.GAP]


def test_a_route_of_the_schedule_wins_over_what_is_drawn() -> None:
    route, problems = led(line(*BY_HIGH), of=circuit("C1", "DB", "S", route="A;LOW;D"))
    assert (route.routed_by, keys(route)) == (RoutedBy.SCHEDULE, ["A", "LOW", "D"])
    assert [problem for problem in problems if problem.kind is ProblemKind.GAP] == []


HALF = outlet("HALF", (3500, 0, 200))


def test_a_circuit_of_several_calls_that_is_drawn_whole_passes_what_is_drawn_and_has_no_gap() -> None:
    # along LOW, up to HALF and down again, and on
    drawn = ((0, 0, 200), (0, 0, 0), (3500, 0, 0), (3500, 0, 200), (3500, 0, 0), (7000, 0, 0), (7000, 0, 200))
    route, problems = led(line(*drawn), of=circuit("C1", "DB", "HALF", "S"), also=[HALF])
    assert (route.routed_by, list(dict.fromkeys(keys(route))), route.has_gap) == (
        RoutedBy.DRAWN,
        ["A", "LOW", "D"],
        False,
    )
    assert (route.drops_mm[0], route.drops_mm[-1]) == pytest.approx((200.0, 200.0))
    assert [problem for problem in problems if problem.kind is ProblemKind.GAP] == []


def test_a_circuit_of_several_calls_that_is_drawn_in_part_has_all_its_legs() -> None:
    route, _ = led(line((0, 0, 200), (0, 0, 0), (1500, 0, 0)), of=circuit("C1", "DB", "HALF", "S"), also=[HALF])
    assert route.routed_by is RoutedBy.DRAWN_IN_PART
    assert [(visit.carrier, visit.leg) for visit in route.visits] == [("A", 0), ("LOW", 0), ("LOW", 1), ("D", 1)]
    # 2 m and 1.5 m to HALF, 1.5 m and 2 m on
    assert [leg.length_mm for leg in route.legs] == [pytest.approx(3500.0), pytest.approx(3500.0)]


def test_what_is_drawn_of_one_circuit_is_nothing_to_another() -> None:
    model = installation(A, LOW, HIGH, D, *ENDS, C1, circuit("C2", "DB", "S"), model_cables=(line(*BY_HIGH),))
    routes = route_all(model).routes
    assert [(route.circuit, route.routed_by, keys(route)) for route in routes] == [
        ("C1", RoutedBy.DRAWN, ["A", "HIGH", "D"]),
        ("C2", RoutedBy.SHORTEST, ["A", "LOW", "D"]),
    ]


def test_the_take_off_of_a_drawn_way_is_its_length_with_its_drops() -> None:
    model = installation(A, LOW, HIGH, D, *ENDS, C1, model_cables=(line(*BY_HIGH),))
    (row,) = take_off_rows(model, route_all(model))
    assert (row.way_m, row.drops_m, row.length_m) == (pytest.approx(8.6), pytest.approx(0.4), pytest.approx(9.0))


def test_the_order_of_the_drawn_lines_is_nothing_to_the_route() -> None:
    lines = [
        line((0, 0, 200), (0, 0, 0), (2000, 0, 0), (2000, 0, 800), (3000, 0, 800)),
        line((3000, 0, 800), (5000, 0, 800), (5000, 0, 0), (7000, 0, 0), (7000, 0, 200), name="W2"),
    ]
    one, other = led(*lines), led(*lines[::-1])
    assert one == other
    assert (one[0].routed_by, keys(one[0]), one[0].length_mm) == (
        RoutedBy.DRAWN,
        ["A", "HIGH", "D"],
        pytest.approx(8600.0),
    )
