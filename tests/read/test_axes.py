"""Where a carrier of one body runs, and with which section: the figures are those that the body was made with."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Vec
from checker.read.axes import Axis, carrier_axis
from checker.read.placements import WORLD, Frame
from checker.read.shapes import Shapes, Sweep
from tests.small_shapes import (
    Entity,
    ShapePen,
    X,
    Y,
    Z,
    assert_way,
    polygon,
    prism,
    rectangle,
    same_line,
    turned,
)

U = [(-150, 0), (150, 0), (150, 60), (148, 60), (148, 2), (-148, 2), (-148, 60), (-150, 60)]
FAR = (6e8, -2.5e8, 1.2e5)


@pytest.fixture
def pen() -> ShapePen:
    return ShapePen()


def plain(pen: ShapePen, x: float, y: float) -> Entity:
    return pen.profile("IfcRectangleProfileDef", x, y)


def section(axis: Axis) -> Sweep:
    assert axis.sweep is not None
    return axis.sweep


def assert_section(axis: Axis, width: float, height: float, across: Vec, within: float = 1e-6) -> None:
    sweep = section(axis)
    assert (sweep.width, sweep.height) == pytest.approx((width, height), rel=within, abs=within)
    assert sweep.diameter is None
    assert axis.across is not None
    assert same_line(axis.across, across)


def test_a_section_swept_level_is_a_section_however_short(pen: ShapePen) -> None:
    along_x = pen.frame((0, 0, 0), X, Y)  # the profile's X across, its Y up
    for profile in (plain(pen, 300, 60), pen.outline(pen.closed(*((x, y - 30) for x, y in U)))):
        for length in (3000, 100):
            axis = pen.read(pen.swept(profile, length, along_x))
            assert_way(axis, (0, 0, 0), (length, 0, 0))
            assert_section(axis, 300, 60, Y)
            assert axis.turn_deg == 0


def test_a_section_lying_on_its_side_is_read_as_it_lies(pen: ShapePen) -> None:
    axis = pen.read(pen.swept(plain(pen, 60, 300), 3000, pen.frame((0, 0, 0), X, Z)))  # its X up, 60; its Y level, 300
    assert_section(axis, 300, 60, Y)


def test_a_plan_extruded_upward_runs_along_its_longer_side(pen: ShapePen) -> None:
    axis = pen.read(pen.swept(plain(pen, 3000, 300), 60, pen.frame((1500, 0, 2500))))
    assert_way(axis, (0, 0, 2530), (3000, 0, 2530))
    assert_section(axis, 300, 60, Y)
    assert section(axis).turned
    assert_way(pen.read(pen.swept(plain(pen, 300, 3000), 60)), (0, -1500, 30), (0, 1500, 30))


def test_a_plan_whose_carrier_is_wider_than_long_follows_its_ports_or_its_axis(pen: ShapePen) -> None:
    plan = pen.swept(plain(pen, 200, 300), 60)
    for axis in (
        pen.read(plan, ports=[(-100, 0, 30), (100, 0, 30)]),
        pen.read(plan, axis=pen.polyline((-100, 0, 30), (100, 0, 30))),
    ):
        assert_way(axis, (-100, 0, 30), (100, 0, 30))
        assert_section(axis, 300, 60, Y)


def test_a_riser_stands(pen: ShapePen) -> None:
    axis = pen.read(pen.swept(plain(pen, 300, 60), 2800))
    assert_way(axis, (0, 0, 0), (0, 0, 2800))
    assert_section(axis, 300, 60, X)
    assert not section(axis).turned


def test_a_short_riser_stands_only_where_ports_axis_or_profile_say_so(pen: ShapePen) -> None:
    short = pen.swept(plain(pen, 300, 60), 100)
    ends = ((0, 0, 0), (0, 0, 100))
    assert_way(pen.read(short, ports=list(ends)), *ends)
    assert_way(pen.read(short, axis=pen.polyline(*ends)), *ends)
    hollow = pen.profile("IfcRectangleHollowProfileDef", 300, 60, 1.2)
    assert_way(pen.read(pen.swept(hollow, 100)), *ends)
    # by itself it may as well be the plan of a tray 100 high
    assert_way(pen.read(short), (-150, 0, 50), (150, 0, 50))


def test_an_oblique_direction_is_followed_whatever_its_length(pen: ShapePen) -> None:
    hollow = pen.profile("IfcRectangleHollowProfileDef", 50, 50, 1)
    assert_way(pen.read(pen.swept(hollow, 500, up=(0, 3, 4))), (0, 0, 0), (0, 300, 400))
    assert_way(pen.read(pen.swept(hollow, 500, up=(0, 0, 7))), (0, 0, 0), (0, 0, 500))


def test_a_mapped_body_is_moved_turned_and_scaled(pen: ShapePen) -> None:
    body = pen.swept(pen.profile("IfcRectangleHollowProfileDef", 100, 50, 2), 1000)
    # its Z becomes X, its X becomes Y, and it is doubled
    item = pen.mapped(body, origin=(10, 20, 30), Axis1=pen.direction(*Y), Axis3=pen.direction(*X), Scale=2.0)
    axis = pen.read(item)
    assert_way(axis, (10, 20, 30), (2010, 20, 30))
    assert_section(axis, 200, 100, Y)
    assert section(axis).wall == pytest.approx(4)


def test_a_map_may_scale_each_way_by_its_own(pen: ShapePen) -> None:
    item = pen.mapped(pen.swept(plain(pen, 1, 1), 1), Scale=3.0, Scale2=2.0, Scale3=10.0)
    axis = pen.read(item)
    assert_way(axis, (0, 0, 0), (0, 0, 10))
    assert (section(axis).width, section(axis).height) == (3, 2)


def test_what_is_cut_off_leaves_the_section(pen: ShapePen) -> None:
    body = pen.swept(pen.profile("IfcCircleHollowProfileDef", 12.5, 1), 900)
    plane = pen.make("IfcHalfSpaceSolid", pen.make("IfcPlane", pen.frame((0, 0, 890), Z, X)), False)
    cut = pen.make("IfcBooleanClippingResult", "DIFFERENCE", body, plane)
    twice = pen.make("IfcBooleanResult", "DIFFERENCE", cut, pen.swept(plain(pen, 1, 1), 1))
    assert section(pen.read(twice)).diameter == 25
    common = pen.make("IfcBooleanResult", "INTERSECTION", body, pen.swept(plain(pen, 1, 1), 1))
    assert pen.read(common) == Axis()


def test_two_bodies_made_one_are_both_counted(pen: ShapePen) -> None:
    low, high = pen.box((0, 0, 0), 1000, 100, 50), pen.box((1000, 0, 0), 1000, 100, 50)
    axis = pen.read(pen.make("IfcBooleanResult", "UNION", low, high))
    assert_way(axis, (0, 50, 25), (2000, 50, 25))
    assert_section(axis, 100, 50, Y)


def test_a_bounding_box_lies_along_its_longest_side(pen: ShapePen) -> None:
    axis = pen.read(pen.box((0, 0, 2500), 300, 3000, 60))
    assert_way(axis, (150, 0, 2530), (150, 3000, 2530))
    assert_section(axis, 300, 60, X)
    assert section(axis).profile == "bounding box"


def test_faces_and_advanced_faces_count_with_their_corners(pen: ShapePen) -> None:
    corners = prism(rectangle(300, 60), 3000)
    vertices = [pen.point(*corner) for corner in corners]
    loops = [pen.make("IfcPolyLoop", vertices[i : i + 4]) for i in (0, 4)]
    faces = [pen.make("IfcFace", [pen.make("IfcFaceOuterBound", loop, True)]) for loop in loops]
    brep = pen.make("IfcFacetedBrep", pen.make("IfcClosedShell", faces))
    assert_way(pen.read(brep), (-1500, 0, 0), (1500, 0, 0))
    ends = [pen.make("IfcVertexPoint", vertex) for vertex in vertices]
    edges = [
        pen.make("IfcOrientedEdge", None, None, pen.make("IfcEdgeCurve", a, b, None, True), True)
        for a, b in zip(ends, [*ends[1:], ends[0]], strict=True)
    ]
    bound = pen.make("IfcFaceOuterBound", pen.make("IfcEdgeLoop", edges), True)
    shell = pen.make("IfcClosedShell", [pen.make("IfcAdvancedFace", [bound], None, True)])
    axis = pen.read(pen.make("IfcAdvancedBrep", shell))
    assert_way(axis, (-1500, 0, 0), (1500, 0, 0))
    assert_section(axis, 300, 60, Y)


@given(st.floats(-80.0, 80.0), st.floats(-180.0, 180.0), st.sampled_from([(0.0, 0.0, 0.0), FAR]))
def test_a_mesh_turned_in_any_way_runs_along_itself(slope: float, bearing: float, origin: Vec) -> None:
    pen = ShapePen()

    def placed(points: list[Vec]) -> list[Vec]:
        return turned(turned(points, Y, slope), Z, bearing, origin)

    ends = placed([(-1500.0, 0.0, 0.0), (1500.0, 0.0, 0.0)])
    pipe = pen.read(pen.mesh(placed(prism(polygon(12.5, 16), 3000.0))))
    assert_way(pipe, *ends, within=0.01)
    assert section(pipe).diameter == pytest.approx(25.0, rel=1e-3)
    tray = pen.read(pen.mesh(placed(prism(rectangle(300.0, 60.0), 3000.0))))
    assert_way(tray, *ends, within=2.0)  # read level, it is larger by less than a thousandth: 0.6 mm at its ends
    assert (section(tray).width, section(tray).height) == pytest.approx((300.0, 60.0), rel=2e-3)


def test_without_a_body_the_axis_or_the_ports_tell_the_way_and_nothing_the_section(pen: ShapePen) -> None:
    drawn = pen.read(axis=pen.polyline((0, 0, 0), (1000, 0, 0), (1000, 500, 0)))
    assert_way(drawn, (0, 0, 0), (1000, 0, 0), (1000, 500, 0))
    assert (drawn.sweep, drawn.turn_deg) == (None, 90)
    ports = pen.read(ports=[(0, 0, 0), (10, 0, 0), (1000, 0, 0)])
    assert_way(ports, (0, 0, 0), (1000, 0, 0))
    assert ports.sweep is None
    assert pen.read() == Axis()
    assert pen.read(ports=[(5, 5, 5), (5, 5, 5)]) == Axis()


def test_a_mesh_with_an_axis_has_its_section_across_that(pen: ShapePen) -> None:
    mesh = pen.mesh([(x, y, z) for x in (-30, 30) for y in (-150, 150) for z in (0, 2000)])
    axis = pen.read(mesh, axis=pen.polyline((0, 0, 0), (0, 0, 2000)))
    assert_way(axis, (0, 0, 0), (0, 0, 2000))
    assert_section(axis, 300, 60, Y)


SHAPES = ["plan", "section", "pipe", "mesh"]


@pytest.mark.parametrize("name", SHAPES)
@given(st.floats(-180.0, 180.0), st.sampled_from([(0.0, 0.0, 0.0), FAR]))
def test_a_placement_moves_the_way_and_keeps_the_section(name: str, angle: float, origin: Vec) -> None:
    pen = ShapePen()
    item: Entity = {
        "plan": lambda: pen.swept(plain(pen, 3000, 300), 60),
        "section": lambda: pen.swept(plain(pen, 300, 60), 3000, pen.frame((0, 0, 0), X, Y)),
        "pipe": lambda: pen.disk(pen.polyline((0, 0, 0), (900, 0, 0), (900, 900, 0)), 10),
        "mesh": lambda: pen.mesh(prism(rectangle(300, 60), 3000)),
    }[name]()
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    frame = Frame(origin, (cos, sin, 0.0), (-sin, cos, 0.0), Z)
    here, there = pen.read(item), pen.read(item, frame=frame)
    assert_way(there, *(frame.place(point) for point in here.points_mm), within=1e-3)
    assert (section(there).width, section(there).height) == pytest.approx((section(here).width, section(here).height))
    assert there.turn_deg == pytest.approx(here.turn_deg, abs=1e-4)


def test_a_file_in_metres_has_its_way_in_millimetres(pen: ShapePen) -> None:
    element = pen.element(pen.swept(plain(pen, 3.0, 0.3), 0.06, pen.frame((0, 0, 2.5))))
    axis = carrier_axis(Shapes(), element, WORLD, (), 1000.0)
    assert_way(axis, (-1500, 0, 2530), (1500, 0, 2530))
    assert section(axis).width == pytest.approx(0.3)  # sizes stay in the file's unit
