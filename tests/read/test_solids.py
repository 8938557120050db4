"""Boxes around bodies of faces, turned in any way: as long, wide and high as they were made."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Vec
from checker.model.geometry import cross, dot, unit
from checker.read.solids import Solid, solid_of
from tests.small_shapes import X, Z, polygon, prism, rectangle, same_line, turned

axes = st.tuples(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0), st.floats(-1.0, 1.0)).filter(lambda a: dot(a, a) > 0.01)
angles = st.floats(-180.0, 180.0)
origins = st.sampled_from([(0.0, 0.0, 0.0), (6e8, -2.5e8, 1.2e5)])


def read(points: list[Vec]) -> Solid:
    solid = solid_of(points)
    assert solid is not None
    return solid


def sizes(solid: Solid) -> list[float]:
    return sorted((2.0 * half for half in solid.body.half_mm), reverse=True)


def assert_right_angles(solid: Solid) -> None:
    a, b, c = solid.body.axes
    assert [dot(a, a), dot(b, b), dot(c, c), dot(a, b), dot(b, c), dot(c, a)] == pytest.approx(
        [1, 1, 1, 0, 0, 0], abs=1e-9
    )


@given(st.floats(500.0, 6000.0), st.floats(30.0, 450.0), st.floats(15.0, 200.0), axes, angles, origins)
def test_a_box_turned_in_any_way_has_its_own_sides(
    length: float, width: float, height: float, axis: Vec, angle: float, origin: Vec
) -> None:
    solid = read(turned(prism(rectangle(width, height), length), axis, angle, origin))
    assert sizes(solid) == pytest.approx(sorted((length, width, height), reverse=True), rel=5e-3, abs=0.01)
    assert solid.body.centre_mm == pytest.approx(origin, abs=0.01)
    assert solid.diameter is None
    assert_right_angles(solid)


@pytest.mark.parametrize("corners", [8, 12, 24])
@given(st.floats(16.0, 110.0), axes, angles, origins)
def test_a_pipe_turned_in_any_way_is_round_along_its_first_axis(
    corners: int, diameter: float, axis: Vec, angle: float, origin: Vec
) -> None:
    solid = read(turned(prism(polygon(diameter / 2.0, corners), 3000.0), axis, angle, origin))
    assert solid.diameter == pytest.approx(diameter, rel=5e-3)
    assert 2.0 * solid.body.half_mm[0] == pytest.approx(3000.0, rel=1e-3)
    way = turned([X], axis, angle)[0]
    assert abs(dot(way, solid.body.axes[0])) == pytest.approx(1.0, abs=1e-5)


def test_a_pipe_that_is_shorter_than_wide_is_still_round_along_its_way() -> None:
    solid = read(prism(polygon(50.0, 16), 40.0))
    assert solid.diameter == pytest.approx(100.0)
    assert same_line(solid.body.axes[0], X)


def test_a_box_on_the_axes_lies_along_them() -> None:
    solid = read([(x, y, z) for x in (0.0, 3000.0) for y in (100.0, 400.0) for z in (2500.0, 2560.0)])
    assert solid.body.centre_mm == (1500.0, 250.0, 2530.0)
    assert all(max(abs(number) for number in axis) == 1.0 for axis in solid.body.axes)
    assert sizes(solid) == [3000.0, 300.0, 60.0]


@pytest.mark.parametrize("angle", [0.02, 0.1, 0.3, 1.0])
def test_a_pipe_that_is_a_little_out_of_line_is_as_thick_as_it_is(angle: float) -> None:
    solid = read(turned(prism(polygon(12.5, 16), 3000.0), Z, angle))
    assert solid.diameter == pytest.approx(25.0, rel=1e-3)
    tray = read(turned(prism(rectangle(300.0, 60.0), 3000.0), Z, angle))
    assert sizes(tray) == pytest.approx([3000.0, 300.0, 60.0], rel=2e-3)


def test_more_points_on_one_side_change_nothing() -> None:
    points = turned(prism(rectangle(300.0, 60.0), 3000.0), (1.0, 2.0, 3.0), 40.0)
    more = [tuple(a + (b - a) * step / 50.0 for a, b in zip(points[0], points[1], strict=True)) for step in range(50)]
    assert sizes(read([*points, *((x, y, z) for x, y, z in more)])) == pytest.approx([3000.0, 300.0, 60.0], rel=1e-2)


def test_a_long_mesh_counts_to_its_last_point() -> None:
    outline = rectangle(300.0, 60.0)
    assert sizes(read([(float(x), y, z) for x in range(6001) for y, z in outline])) == [6000.0, 300.0, 60.0]


def test_a_sheet_has_no_thickness() -> None:
    flat = [(x, y, 0.0) for x in (0.0, 3000.0) for y in (0.0, 300.0)]
    assert sizes(read(flat)) == [3000.0, 300.0, 0.0]
    # it rises by 30°, its width stays level
    assert sizes(read(turned(flat, (0.0, 1.0, 0.0), -30.0))) == pytest.approx([3000.0, 300.0, 0.0], abs=1e-6)


def test_a_line_of_points_is_a_line() -> None:
    solid = read([(0.0, 0.0, 0.0), (500.0, 500.0, 0.0), (3000.0, 3000.0, 0.0)])
    assert sizes(solid) == pytest.approx([3000.0 * math.sqrt(2.0), 0.0, 0.0], abs=1e-6)
    diagonal = unit((1.0, 1.0, 0.0))
    assert diagonal is not None
    longest = max(range(3), key=lambda i: solid.body.half_mm[i])
    assert max(abs(number) for number in cross(solid.body.axes[longest], diagonal)) <= 1e-6


def test_points_at_one_place_are_no_body() -> None:
    assert solid_of([]) is None
    assert solid_of([(1.0, 2.0, 3.0)] * 9) is None
