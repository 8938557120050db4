"""Routes of circuits that the model draws in part, or in too much to look at: never fewer cables than are drawn, nor a surer way.

K1 and K2 are trunkings of 4 m and 8 m in line along x; DB hangs 0.2 m beside the start of K1, S1 beside the end of K2.
"""

import pytest

from checker.model import Circuit, Equipment, Problem, ProblemKind, Vec
from checker.network.drawn_lines import MOST_LINES
from checker.network.route import Route, RoutedBy, passes_of
from checker.network.routing import route_all
from tests.installations import carrier, circuit, installation, outlet
from tests.network.test_drawn import line

K1, K2 = carrier("K1", (0, 0, 0), (4000, 0, 0)), carrier("K2", (4000, 0, 0), (12000, 0, 0))
DB, S1 = outlet("DB", (0, 200, 0)), outlet("S1", (12000, 200, 0))


def routed(of: Circuit, *lines: list[Vec], more: tuple[Equipment, ...] = ()) -> tuple[Route, list[Problem]]:
    cables = tuple(line(f"c{number}", *points) for number, points in enumerate(lines))
    routing = route_all(installation(K1, K2, DB, S1, *more, of, model_cables=cables))
    return routing.routes[0], [problem for problem in routing.problems if problem.where == "circuit P1"]


def passes(route: Route) -> dict[str, int]:
    keys = sorted(route.carriers)
    return {key: passes_of([visit for visit in route.visits if visit.carrier == key]) for key in keys}


#: Out, back and out again in K1, and then 4 m short of S1.
OUT_BACK_AND_OUT: list[Vec] = [
    (0, 200, 0), (0, 10, 0), (3900, 10, 0), (3900, 0, 0), (200, 0, 0), (200, -10, 0), (8000, -10, 0)
]  # fmt: skip


def test_what_is_drawn_to_pass_more_often_than_the_shortest_way_does_isnt_taken_for_a_part_of_it() -> None:
    """Three passes are drawn where the shortest way has one."""
    route, problems = routed(circuit("P1", "DB", "S1", count=6), OUT_BACK_AND_OUT)
    assert (route.routed_by, route.has_gap, passes(route)) == (RoutedBy.DRAWN, True, {"K1": 3, "K2": 1})
    assert [(problem.kind, problem.what) for problem in problems] == [
        (ProblemKind.INFERENCE, "the model draws one line for its 6 cables"),
        (ProblemKind.GAP, "the cables that the model draws miss 'S1' by 4.01 m"),  # √(4000² + 210²)
    ]


def test_home_runs_of_which_one_isnt_drawn_to_its_end_count_each() -> None:
    def home(x: float, y: float, *end: Vec) -> list[Vec]:
        return [(0, 200, 0), (0, y, 0), (x, y, 0), *end]

    more = (outlet("S2", (5000, 200, 0)), outlet("S3", (6000, 200, 0)))
    drawn = home(5000, 10, (5000, 200, 0)), home(6000, 0, (6000, 200, 0)), home(8000, -10)
    route, _ = routed(circuit("P1", "DB", "S2", "S3", "S1", count=4), *drawn, more=more)
    assert (route.has_gap, passes(route)) == (True, {"K1": 3, "K2": 3})


def test_what_is_drawn_as_often_as_the_way_passes_is_a_part_of_it_and_what_else_is_to_be_said_is_said() -> None:
    route, problems = routed(circuit("P1", "DB", "S1", count=6), [(0, 200, 0), (0, 0, 0), (6000, 0, 0)])
    assert (route.routed_by, route.has_gap, passes(route)) == (RoutedBy.DRAWN_IN_PART, False, {"K1": 1, "K2": 1})
    assert [(problem.kind, problem.what) for problem in problems] == [
        (ProblemKind.INFERENCE, "the model draws one line for its 6 cables"),
        (ProblemKind.INFERENCE, "the model draws its cables in part, in K1, K2"),
    ]


def test_more_lines_than_cables_are_told_where_the_way_is_drawn_in_part_too() -> None:
    """Two lines for one cable are two passes; so the shortest way, which has one, isn't what they are a part of."""
    both: list[list[Vec]] = [[(0, 200, 0), (0, y, 0), (6000, y, 0)] for y in (0, 5)]
    route, problems = routed(circuit("P1", "DB", "S1", count=1), *both)
    assert (route.has_gap, passes(route)) == (True, {"K1": 2, "K2": 2})
    assert problems[0].what == "the model draws 2 cables beside each other, and the schedule has 1"


def test_a_ring_that_is_drawn_out_alone_returns_the_shortest_way() -> None:
    points: list[Vec] = [(0, 200, 0), (0, 0, 0), (12000, 0, 0), (12000, 200, 0)]
    route, _ = routed(circuit("P1", "DB", "S1", "DB", count=3), points)
    assert (route.routed_by, passes(route)) == (RoutedBy.DRAWN_IN_PART, {"K1": 2, "K2": 2})


def test_an_end_that_isnt_in_the_model_leaves_a_gap_and_no_way_is_found() -> None:
    points: list[Vec] = [(0, 200, 0), (0, 0, 0), (12000, 0, 0), (12000, 200, 0)]
    route, problems = routed(circuit("P1", "DB", "S1", "S9"), points)
    assert (route.routed_by, route.has_gap, passes(route)) == (RoutedBy.DRAWN, True, {"K1": 1, "K2": 1})
    assert [problem.what for problem in problems] == ["nothing in the model is called 'S9'"]


def test_a_carrier_named_as_an_end_that_isnt_drawn_is_led_to() -> None:
    points: list[Vec] = [(0, 200, 0), (0, 0, 0), (4000, 0, 0), (4000, 200, 0)]
    route, _ = routed(circuit("P1", "DB", "K2"), points)
    assert (route.routed_by, passes(route)) == (RoutedBy.DRAWN_IN_PART, {"K1": 1, "K2": 1})


def test_tries_that_arent_taken_leave_nothing_said() -> None:
    """Led through both by name the way would go in and come back; that is no problem of the circuit."""
    _, problems = routed(circuit("P1", "DB", "S1"), OUT_BACK_AND_OUT)
    assert not [problem for problem in problems if "wayroom.toml" in problem.what]


@pytest.mark.parametrize(("lines", "by"), [(MOST_LINES, RoutedBy.DRAWN), (MOST_LINES + 1, RoutedBy.NONE)])
def test_a_circuit_of_more_lines_than_are_looked_at_isnt_routed(lines: int, by: RoutedBy) -> None:
    drawn: list[list[Vec]] = [
        [(0, 200, 0), (0, n % 7 - 3, 0), (12000, n % 7 - 3, 0), (12000, 200, n / 100)] for n in range(lines)
    ]
    route, problems = routed(circuit("P1", "DB", "S1", count=20), *drawn)
    assert route.routed_by is by
    if by is RoutedBy.NONE:
        assert route.reason == "its drawn cables are too many to look at"
        assert [problem.kind for problem in problems] == [ProblemKind.GAP]


def test_which_ways_were_found() -> None:
    found = {RoutedBy.DRAWN_IN_PART, RoutedBy.ASKED, RoutedBy.RETURNING, RoutedBy.SHORTEST}
    assert {by for by in RoutedBy if by.was_found} == found
