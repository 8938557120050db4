"""Carriers that bend on their way, and conduits that end at a side: places, drops, runs and pictures follow the axis.

L is a conduit of 20 mm: 2 m along x, 1 m along y, 2 m along x again.
"""

from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import FittingKind, Installation, Port, Run
from checker.network.joining import FoundBy
from checker.network.on_axis import place_on
from checker.network.routing import route_all
from checker.network.runs import find_runs
from checker.result.camera import corners
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, fitting, installation, outlet
from tests.network.joined import conduit, found

L = replace(
    conduit("L", (0, 0, 0), (4000, 1000, 0)),
    corners_mm=((2000, 0, 0), (2000, 1000, 0)),
    length_mm=5000.0,
    turn_deg=180.0,
    across=(0.0, 0.0, 1.0),
)


def runs_of(model: Installation) -> dict[str, Run]:
    routing = route_all(model)
    return find_runs(routing.network, routing.landings)


@pytest.mark.parametrize(
    ("point", "along", "off"),
    [
        ((500, 30, 0), 500, 30),
        ((2000, 400, 40), 2400, 40),
        ((3000, 1100, 0), 4000, 100),
        ((9000, 1000, 0), 5000, 5000),
        ((-30, -40, 0), 0, 50),
    ],
)
def test_a_place_is_measured_along_the_bends(point: tuple[float, ...], along: float, off: float) -> None:
    assert place_on(L, point) == pytest.approx((along, off))  # type: ignore[arg-type]


def test_places_go_in_proportion_where_the_length_is_that_of_the_arc() -> None:
    assert place_on(replace(L, length_mm=5500.0), (2000, 400, 0)) == pytest.approx((2640.0, 0.0))  # 2400 · 5500 / 5000


def test_a_drop_comes_in_on_the_bent_part_and_the_way_is_as_long_as_the_bends() -> None:
    board, lamp = outlet("DB", (0, -200, 0)), outlet("S", (2100, 700, 0))
    (route,) = route_all(installation(L, board, lamp, circuit("P1", "DB", "S"))).routes
    assert route.length_mm == pytest.approx(2700.0)
    assert route.drops_mm == pytest.approx((200.0, 100.0))


def test_a_drop_far_from_the_straight_line_between_the_ends_is_in_reach_of_the_axis() -> None:
    # a U that reaches 20 m out; the line between its ends is 20 m from the lamp
    out = replace(L, end_mm=(1000, 0, 0), corners_mm=((0, 20_000, 0), (1000, 20_000, 0)), length_mm=41_000.0)
    model = installation(out, outlet("S", (500, 20_500, 0)), outlet("DB", (0, -100, 0)), circuit("P1", "DB", "S"))
    assert route_all(model).routes[0].length_mm == pytest.approx(20_500.0)


def test_ends_join_at_the_last_corner_and_sides_on_every_piece() -> None:
    after = conduit("E", (4000, 1000, 0), (6000, 1000, 0))
    tap = conduit("T", (2010, 500, 0), (3500, 500, 0))
    assert found(L, after, tap) == {("E", "L", FoundBy.MEETING), ("L", "T", FoundBy.AT_SIDE)}
    inside_the_bend = conduit("X", (1000, 500, 0), (1900, 500, 0))
    assert found(L, inside_the_bend) == set()


def test_a_run_turns_by_its_own_bends_and_where_pieces_meet() -> None:
    # L leaves along +x; after it C goes up: 180° within L and 90° between them
    after = conduit("C", (4000, 1000, 0), (4000, 1000, 3000))
    boxes = fitting("F", (-40, 0, 0)), fitting("G", (4000, 1000, 3040))
    run = runs_of(installation(L, after, *boxes))["L"]
    assert run.carriers == ("C", "L")
    assert run.bends_deg == pytest.approx(270.0)
    assert run.length_m == pytest.approx(8.0)
    assert run.between_enclosures is True


def test_a_bent_conduit_is_one_row_with_a_box_for_each_piece() -> None:
    plugins = load_plugins()
    result = check_installation(installation(L), plugins.codes["bs-7671"], plugins)
    (row,) = result.carriers
    assert row.length_m == pytest.approx(5.0)
    sizes = [tuple(max(axis) - min(axis) for axis in zip(*corners(box), strict=True)) for box in row.boxes]
    assert sizes == [pytest.approx(size) for size in ((2000, 20, 20), (20, 1000, 20), (2000, 20, 20))]


def test_a_conduit_that_ends_at_the_side_of_trunking_ends_at_an_enclosure() -> None:
    trunking = carrier("T", (0, 0, 0), (4000, 0, 0))
    model = installation(trunking, conduit("C", (1000, 25, 0), (1000, 3000, 0)), fitting("F", (1000, 3040, 0)))
    run = runs_of(model)["C"]
    assert run.length_m == pytest.approx(2.975)
    assert run.between_enclosures is True


def test_where_a_conduit_ends_at_anothers_side_neither_run_is_known() -> None:
    long, tap = conduit("C", (0, 0, 0), (4000, 0, 0)), conduit("D", (1000, 0, 0), (1000, 3000, 0))
    boxes = fitting("F", (-40, 0, 0)), fitting("G", (4040, 0, 0)), fitting("H", (1000, 3040, 0))
    runs = runs_of(installation(long, tap, *boxes))
    assert runs["C"].number != runs["D"].number
    for run in runs.values():
        assert (run.length_m, run.bends_deg) == (None, None)
    assert runs_of(installation(long, *boxes[:2]))["C"].length_m == pytest.approx(4.0)


def test_where_a_conduits_end_lies_beside_anothers_end_they_are_one_run() -> None:
    # a corner of two conduits whose axes miss each other by 12 mm: D ends at C's end, not half-way
    one, other = conduit("C", (0, 0, 0), (2000, 0, 0)), conduit("D", (2012, 0, 0), (2012, 3000, 0))
    boxes = fitting("F", (-40, 0, 0)), fitting("G", (2012, 3040, 0))
    run = runs_of(installation(one, other, *boxes))["C"]
    assert run.carriers == ("C", "D")
    assert run.bends_deg == pytest.approx(90.0)
    assert run.length_m == pytest.approx(5.012)


def test_a_tap_by_connected_ports_half_way_along_leaves_the_run_unknown() -> None:
    long, tap = conduit("C", (0, 0, 0), (4000, 0, 0)), fitting("B", (2000, 60, 0), FittingKind.BEND)
    boxes = fitting("F", (-40, 0, 0)), fitting("G", (4040, 0, 0))
    ports = (Port("p", "C", (2000, 0, 0), ("q",)), Port("q", "B", (2000, 10, 0), ("p",)))
    assert runs_of(installation(long, tap, *boxes, ports=ports))["C"].length_m is None


def test_a_way_goes_from_a_side_into_the_branch() -> None:
    main = carrier("M", (0, 0, 0), (10_000, 0, 0))
    branch = carrier("B", (6000, 25, 0), (6000, 4000, 0))
    ends = outlet("DB", (0, -300, 0)), outlet("S", (6000, 4300, 0))
    (route,) = route_all(installation(main, branch, *ends, circuit("P1", "DB", "S"))).routes
    assert [visit.carrier for visit in route.visits] == ["M", "B"]
    # from axis to axis: 6000 along M, 25 across to B's end, 3975 along B
    assert route.length_mm == pytest.approx(6000 + 25 + 3975)
    assert route.visits[0].to_mm == pytest.approx(6000)


def test_the_result_has_a_row_for_each_join() -> None:
    plugins = load_plugins()
    branch = carrier("B", (1000, 33, 0), (1000, 4000, 0))
    model = installation(carrier("M", (0, 0, 0), (4000, 0, 0)), branch)
    (row,) = check_installation(model, plugins.codes["bs-7671"], plugins).joins
    assert (row.one, row.other, row.found_by) == ("B", "M", "an end at another's side")
    assert row.gap_mm == pytest.approx(8.0)
