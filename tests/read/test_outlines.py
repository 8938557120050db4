"""Outlines: rectangles and circles by plane geometry, wherever they lie and however they are turned."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.read.outlines import Outline, Point, hull, outline_of
from tests.small_shapes import polygon, rectangle

FAR = (6e8, -2.5e8)


def read(points: list[Point]) -> Outline:
    outline = outline_of(points)
    assert outline is not None
    return outline


def moved(points: list[Point], angle_deg: float, by: Point = (0.0, 0.0)) -> list[Point]:
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return [(x * cos - y * sin + by[0], x * sin + y * cos + by[1]) for x, y in points]


def rounded(width: float, height: float, radius: float) -> list[Point]:
    """A rectangle with rounded corners, each of nine points."""
    points = []
    for i, (x, y) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        corner = [90 * i + 11.25 * step for step in range(9)]
        middle = (x * (width / 2.0 - radius), y * (height / 2.0 - radius))
        points += [
            (middle[0] + radius * math.cos(math.radians(a)), middle[1] + radius * math.sin(math.radians(a)))
            for a in corner
        ]
    return points


def test_a_level_rectangle_keeps_its_width_level() -> None:
    for width, height in ((300.0, 60.0), (60.0, 300.0)):
        outline = read(moved(rectangle(width, height), 0.0, (10.0, 20.0)))
        assert (outline.width, outline.height) == (width, height)
        assert outline.centre == pytest.approx((10.0, 20.0))
        assert outline.direction == (1.0, 0.0)
        assert outline.is_rectangle
        assert outline.diameter is None


@given(st.floats(30.0, 900.0), st.floats(10.0, 900.0), st.floats(-180.0, 180.0), st.sampled_from([(0.0, 0.0), FAR]))
def test_a_turned_rectangle_has_its_own_sides(width: float, height: float, angle: float, by: Point) -> None:
    outline = read(moved(rectangle(width, height), angle, by))
    # a rectangle that is turned by a little is read level where that makes it larger by less than a thousandth
    assert sorted((outline.width, outline.height)) == pytest.approx(sorted((width, height)), rel=2e-3, abs=1e-3)
    assert outline.centre == pytest.approx(by, abs=1e-3)
    assert outline.is_rectangle
    assert math.hypot(*outline.direction) == pytest.approx(1.0)


@pytest.mark.parametrize("corners", [8, 12, 16, 64])
@given(st.floats(0.0, 360.0), st.sampled_from([(0.0, 0.0), FAR]))
def test_a_polygon_of_eight_corners_or_more_is_a_circle_through_them(corners: int, angle: float, by: Point) -> None:
    outline = read(moved(polygon(12.5, corners, angle), 0.0, by))
    assert outline.diameter == pytest.approx(25.0, rel=1e-6)
    assert outline.centre == pytest.approx(
        by, abs=0.6
    )  # of the rectangle around it: off by 12.5·(1 − cos(π/8))/2 at most


def test_a_circle_whose_corners_lie_closer_on_one_side_is_one() -> None:
    points = polygon(100.0, 8) + [point for point in polygon(100.0, 64) if point[0] > 0.0]
    assert read(points).diameter == pytest.approx(200.0)


def test_corners_that_differ_by_noise_alone_are_one() -> None:
    # half of the corners twice, a billionth apart, as another ring of a turned pipe gives them
    points = polygon(100.0, 8) + [(x + 1e-7, y - 1e-7) for x, y in polygon(100.0, 8)[:4]]
    assert read(points).diameter == pytest.approx(200.0)
    hexagon = polygon(100.0, 6) + [(x * (1 + 1e-9), y * (1 + 1e-9)) for x, y in polygon(100.0, 6, 1e-7)]
    assert read(hexagon).diameter is None


@pytest.mark.parametrize("corners", [3, 5, 6, 7])
def test_a_polygon_of_fewer_corners_is_no_circle(corners: int) -> None:
    assert read(polygon(50.0, corners)).diameter is None


@pytest.mark.parametrize("stretch", [0.0, 5.0, 50.0, 2000.0])
def test_a_stadium_is_no_circle_unless_it_is_one(stretch: float) -> None:
    # two half circles of radius 20, apart by the stretch: 40 + stretch wide, 40 high
    points = [(x + math.copysign(stretch / 2.0, x), y) for x, y in polygon(20.0, 32, 5.625)]
    outline = read(points)
    assert (outline.diameter is not None) == (stretch == 0.0)
    assert not outline.is_rectangle
    if stretch:
        assert outline.width == pytest.approx(40.0 * math.cos(math.radians(5.625)) + stretch)


def test_an_ellipse_is_no_circle() -> None:
    assert read([(x, 0.9 * y) for x, y in polygon(50.0, 48)]).diameter is None


def test_a_bar_with_rounded_ends_of_corners_on_one_circle_is_no_circle() -> None:
    ends = [
        (100.0 * math.cos(a), 100.0 * math.sin(a))
        for step in range(-4, 5)
        for a in (step * 0.05, math.pi + step * 0.05)
    ]
    assert read(ends).diameter is None


def test_a_rounded_rectangle_is_as_wide_and_high_as_its_sides() -> None:
    outline = read(rounded(300.0, 60.0, 15.0))
    assert (outline.width, outline.height) == pytest.approx((300.0, 60.0))
    assert not outline.is_rectangle  # (4 − π)·15² = 193 mm² of 18000 are missing
    assert outline.diameter is None


def test_the_hull_of_a_u_is_the_rectangle_around_it() -> None:
    u = [
        (-150.0, 0.0),
        (150.0, 0.0),
        (150.0, 60.0),
        (148.0, 60.0),
        (148.0, 2.0),
        (-148.0, 2.0),
        (-148.0, 60.0),
        (-150.0, 60.0),
    ]
    assert sorted(hull(u)) == [(-150.0, 0.0), (-150.0, 60.0), (150.0, 0.0), (150.0, 60.0)]


def test_points_without_area_have_no_outline() -> None:
    assert outline_of([]) is None
    assert outline_of([(1.0, 1.0)] * 5) is None
    assert outline_of([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]) is None
