"""Carriers of several pieces, and bent ones: their way is the line through the pieces, or nothing where there is no one line."""

import itertools
import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Vec
from checker.model.geometry import box_around, scale
from checker.read.axes import Axis, carrier_axis
from checker.read.placements import WORLD, Frame
from checker.read.relations import MALFORMED
from checker.read.shapes import Shapes
from tests.small_shapes import Entity, Numbers, ShapePen, X, Y, Z, assert_way, prism, rectangle, same_line

CORNERS: list[Vec] = [(0, 0, 0), (1000, 0, 0), (1000, 800, 0), (1000, 800, 600), (1500, 800, 600)]
NOT_ONE = "its body has 2 pipes that don't follow one another"


@pytest.fixture
def pen() -> ShapePen:
    return ShapePen()


@given(st.randoms(use_true_random=False))
def test_pipes_that_follow_one_another_are_one_run_in_any_order_and_direction(chance: random.Random) -> None:
    pen = ShapePen()
    ends = [chance.choice([(a, b), (b, a)]) for a, b in itertools.pairwise(CORNERS)]
    chance.shuffle(ends)
    axis = pen.read(*(pen.pipe(a, b) for a, b in ends))
    assert_way(axis, *CORNERS)
    assert axis.turn_deg == pytest.approx(270)
    assert axis.sweep is not None
    assert axis.sweep.diameter == 20


def test_missing_elbows_are_filled_in_straight(pen: ShapePen) -> None:
    # both pipes end 30 before the corner: the gap, 30·√2 = 42, is less than three diameters
    axis = pen.read(pen.pipe((0, 0, 0), (970, 0, 0)), pen.pipe((1000, 30, 0), (1000, 800, 0)))
    assert_way(axis, (0, 0, 0), (970, 0, 0), (1000, 30, 0), (1000, 800, 0))
    assert axis.turn_deg == pytest.approx(90)


def test_a_pipe_that_begins_in_the_socket_of_another_goes_straight_on(pen: ShapePen) -> None:
    axis = pen.read(pen.pipe((0, 0, 0), (1000, 0, 0)), pen.pipe((980, 0, 0), (2000, 0, 0)))
    assert_way(axis, (0, 0, 0), (1000, 0, 0), (2000, 0, 0))
    assert axis.turn_deg == 0


def test_pieces_too_far_apart_are_said_and_not_read_as_one(pen: ShapePen) -> None:
    axis = pen.read(pen.pipe((0, 0, 0), (1000, 0, 0)), pen.pipe((1061, 0, 0), (2000, 0, 0)))
    assert axis.said == NOT_ONE
    assert axis.sweep is None


@pytest.mark.parametrize("apart", [25, 40, 59, 300])
def test_pipes_side_by_side_are_said_and_not_read_as_one(pen: ShapePen, apart: float) -> None:
    pipes = [pen.pipe((0, y, 0), (3000, y, 0)) for y in (0, apart)]
    axis = pen.read(*pipes)
    assert axis.said == NOT_ONE
    assert axis.sweep is None
    assert axis.length_mm == pytest.approx(3000)  # of the box around them
    assert pen.read(pipes[0], pipes[0]).said == NOT_ONE  # the same twice
    assert pen.read(pipes[0], pen.pipe((3000, apart, 0), (0, apart, 0))).said == NOT_ONE


def test_pipes_of_two_sizes_are_not_one(pen: ShapePen) -> None:
    assert pen.read(pen.pipe((0, 0, 0), (1000, 0, 0)), pen.pipe((1000, 0, 0), (2000, 0, 0), 16)).said == NOT_ONE


def test_hollow_sections_that_follow_one_another_are_one_run(pen: ShapePen) -> None:
    hollow = pen.profile("IfcRectangleHollowProfileDef", 100, 50, 1)
    frames = (pen.frame((0, 0, 0), X, Y), pen.frame((1000, 0, 0), Y, X))
    axis = pen.read(*(pen.swept(hollow, 1000, frame) for frame in frames))
    assert_way(axis, (0, 0, 0), (1000, 0, 0), (1000, 1000, 0))
    assert axis.sweep is not None
    assert (axis.sweep.width, axis.sweep.height) == (100, 50)


@pytest.mark.parametrize("way", [X, Y, Z])
def test_the_box_around_pipes_is_as_thick_as_they_are(pen: ShapePen, way: Vec) -> None:
    end = scale(way, 500.0)
    assert (pen.read(pen.pipe((0, 0, 0), end)).across or X) != way
    shapes, pipe = Shapes(), pen.pipe((0, 0, 0), end)
    box = box_around(shapes.corner_points(pipe, WORLD), (X, Y, Z))
    assert box.half_mm == pytest.approx(tuple(250.0 if along else 10.0 for along in way))


def test_a_bent_disk_is_as_long_as_its_arcs(pen: ShapePen) -> None:
    # 500 straight, a quarter of radius 100 about (500, 100), 300 straight
    half = 100 * math.sqrt(0.5)
    points = [(0, 0, 0), (500, 0, 0), (500 + half, 100 - half, 0), (600, 100, 0), (600, 400, 0)]
    axis = pen.read(pen.disk(pen.indexed(points, (1, 2), (2, 3, 4), (4, 5)), 12.5, 11))
    assert axis.length_mm == pytest.approx(500 + 50 * math.pi + 300)
    assert axis.turn_deg == pytest.approx(90, abs=1e-4)
    assert axis.points_mm[0] == pytest.approx((0, 0, 0))
    assert axis.points_mm[-1] == pytest.approx((600, 400, 0))
    assert axis.sweep is not None
    assert (axis.sweep.diameter, axis.sweep.wall) == (25, 1.5)


@pytest.mark.parametrize("angle", [math.pi / 2.0, 90.0])
def test_a_section_turned_about_an_axis_is_a_bend(pen: ShapePen, angle: float) -> None:
    # a circle in XY at the origin, turned about the line along Y through (200, 0, 0): from Z towards X
    about = pen.make("IfcAxis1Placement", pen.point(200, 0, 0), pen.direction(*Y))
    bend = pen.make("IfcRevolvedAreaSolid", pen.profile("IfcCircleProfileDef", 10), pen.frame(), about, angle)
    axis = pen.read(bend)
    assert axis.length_mm == pytest.approx(200 * math.pi / 2.0)
    assert axis.turn_deg == pytest.approx(90)
    # from the origin by 90° about (200, 0, 0): to (200, 0, 200)
    assert axis.points_mm[0] == pytest.approx((0, 0, 0), abs=1e-9)
    assert axis.points_mm[-1] == pytest.approx((200, 0, 200))


def ladder(pen: ShapePen, width: float, stile: Entity, rung: Entity) -> list[Entity]:
    """Two stiles along X, and a rung across every 300."""
    stiles = [pen.swept(stile, 3000, pen.frame((0, y, 0), X, Y)) for y in (-width / 2.0, width / 2.0)]
    rungs = [pen.swept(rung, width - 20, pen.frame((150 + 300 * i, 10 - width / 2.0, 0), Y, Z)) for i in range(10)]
    return [*stiles, *rungs]


@pytest.mark.parametrize("width", [100, 600])
def test_a_ladder_of_stiles_and_rungs_is_the_box_around_them(pen: ShapePen, width: float) -> None:
    stile, rung = pen.profile("IfcRectangleProfileDef", 20, 100), pen.profile("IfcCircleProfileDef", 10)
    axis = pen.read(*ladder(pen, width, stile, rung))
    assert_way(axis, (0, 0, 0), (3000, 0, 0))
    assert axis.sweep is not None
    assert (axis.sweep.width, axis.sweep.height) == pytest.approx((width + 20, 100))
    assert axis.across is not None
    assert same_line(axis.across, Y)


def test_a_narrow_ladder_of_stiles_alone_is_not_a_run_there_and_back(pen: ShapePen) -> None:
    stile, rung = pen.profile("IfcCShapeProfileDef", 100, 20, 2, 5), pen.profile("IfcCircleProfileDef", 10)
    axis = pen.read(*ladder(pen, 100, stile, rung)[:2])
    assert axis.length_mm == pytest.approx(3000)


def test_trunking_with_dividers_and_a_lid_is_its_own_section(pen: ShapePen) -> None:
    frame = pen.frame((0, 0, 0), X, Y)
    hollow = pen.swept(pen.profile("IfcRectangleHollowProfileDef", 150, 50, 1.2), 3000, frame)
    divider = pen.swept(pen.profile("IfcRectangleProfileDef", 1, 48), 3000, frame)
    lid = pen.swept(pen.profile("IfcRectangleProfileDef", 152, 2), 3000, pen.frame((0, 0, 26), X, Y))
    axis = pen.read(divider, hollow, lid)
    assert_way(axis, (0, 0, 0), (3000, 0, 0))
    assert axis.sweep is not None
    assert (axis.sweep.width, axis.sweep.height, axis.sweep.wall) == (150, 50, 1.2)


HUGE: list[Numbers] = [(1e300, 0, 0), (-1e200, 1e200, 0), (1e16, 0, 0)]


@pytest.mark.parametrize("far", HUGE)
def test_numbers_beyond_any_place_are_refused(pen: ShapePen, far: Numbers) -> None:
    corner = (float(far[0]), float(far[1]), float(far[2]))
    bodies = [
        pen.swept(pen.profile("IfcRectangleHollowProfileDef", 50, 50, 1), 100, pen.frame(far)), pen.pipe((0, 0, 0), far),
        pen.box(far, 1, 2, 3), pen.mapped(pen.pipe((0, 0, 0), X), origin=far), pen.mesh([*prism(rectangle(3, 4), 50), corner]),
    ]  # fmt: skip
    for body in bodies:
        with pytest.raises(ValueError, match="place"):
            pen.read(body)


def odd_bodies(pen: ShapePen, odd: float) -> list[Entity]:
    """Bodies with a number that makes no sense in each place where one can stand."""
    names = {"IfcRectangleProfileDef": 2, "IfcRectangleHollowProfileDef": 3, "IfcCircleProfileDef": 1, "IfcCircleHollowProfileDef": 2,
             "IfcUShapeProfileDef": 4, "IfcCShapeProfileDef": 4, "IfcLShapeProfileDef": 3}  # fmt: skip
    profiles = [pen.profile(name, *[odd] * count) for name, count in names.items()]
    line, circle = pen.polyline((0, 0, 0), (100, 0, 0)), pen.circle(odd)
    about = pen.make("IfcAxis1Placement", pen.point(200, 0, 0), pen.direction(*Y))
    pipe = pen.pipe((0, 0, 0), (100, 0, 0))
    return [
        *(pen.swept(profile, 1000) for profile in profiles), pen.swept(pen.outline(circle), 100), pen.disk(circle, 1), pen.disk(line, odd),
        pen.swept(profiles[0], odd), pen.swept(pen.profile("IfcRectangleProfileDef", 300, 60), odd), pen.box((0, 0, 0), odd, odd, odd),
        pen.make("IfcRevolvedAreaSolid", pen.profile("IfcCircleProfileDef", 10), pen.frame(), about, odd), pen.mapped(pipe, Scale=odd),
        pen.disk(pen.trimmed(pen.circle(9), 0, odd), 1), pen.disk(pen.trimmed(pen.line((0, 0, 0), X, odd), 0, odd), 1),
        pen.disk(line, 5, odd), pen.swept(pen.make("IfcCenterLineProfileDef", "CURVE", None, pen.closed(*rectangle(3, 4)), odd), 9),
    ]  # fmt: skip


@pytest.mark.parametrize("odd", [0.0, -5.0, 1e-300, 1e12, 1e160, 1e300, -1e308])
@pytest.mark.parametrize("ports", [(), ((0.0, 0.0, 0.0), (1000.0, 0.0, 0.0))])
def test_odd_numbers_end_in_finite_figures_or_a_known_error(pen: ShapePen, odd: float, ports: tuple[Vec, ...]) -> None:
    turned = Frame((6e8, 0.0, 0.0), Y, (-1.0, 0.0, 0.0), Z)
    known = []
    for body in odd_bodies(pen, odd):
        for axis, frame in ((None, WORLD), (pen.polyline((0, 0, 0), (500, 0, 0)), turned)):
            try:
                found = carrier_axis(Shapes(), pen.element(body, axis=axis), frame, ports, 304.8)
            except MALFORMED:
                continue
            known.append(found)
            figures = [
                *itertools.chain(*found.points_mm),
                *(found.across or ()),
                found.length_mm or 0.0,
                found.turn_deg or 0.0,
            ]
            assert all(map(math.isfinite, figures)), body
            assert found.length_mm is None or found.length_mm > 0.0
    assert len(known) >= 10, "nearly all were refused"


def test_empty_and_broken_bodies_are_passed_over(pen: ShapePen) -> None:
    hollow = pen.profile("IfcRectangleHollowProfileDef", 50, 50, 1)
    bodies = [
        pen.swept(hollow, 0), pen.disk(pen.polyline((1, 1, 1), (1, 1, 1)), 5), pen.mesh([X, X, X]), pen.make("IfcFacetedBrep"),
        pen.make("IfcMappedItem"), pen.make("IfcExtrudedAreaSolid", hollow), pen.make("IfcBooleanResult", "DIFFERENCE"),
    ]  # fmt: skip
    for body in bodies:
        assert pen.read(body) == Axis()
