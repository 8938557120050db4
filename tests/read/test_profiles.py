"""Sizes of profiles, by the standard's definitions and plane geometry."""

import math

import pytest

from checker.model.geometry import Vec
from checker.read.placements import frame_of
from checker.read.profiles import Profile, profile_of
from tests.small_shapes import Entity, Numbers, ShapePen, assert_way, polygon, rectangle

U = [(-150, 0), (150, 0), (150, 60), (148, 60), (148, 2), (-148, 2), (-148, 60), (-150, 60)]


@pytest.fixture
def pen() -> ShapePen:
    return ShapePen()


def read(entity: Entity) -> Profile:
    profile = profile_of(entity)
    assert profile is not None
    return profile


def measures(profile: Profile) -> tuple[float | None, ...]:
    return profile.width, profile.height, profile.diameter, profile.wall, profile.base


def moved(pen: ShapePen, parent: Entity, origin: Numbers, **operator: object) -> Entity:
    by = pen.make("IfcCartesianTransformationOperator2D", LocalOrigin=pen.point(*origin), **operator)
    return pen.make("IfcDerivedProfileDef", "AREA", None, parent, by, None)


@pytest.mark.parametrize(("name", "sizes", "expected"), [
    ("IfcRectangleProfileDef", (300, 60), (300, 60, None, None, None)),
    ("IfcRoundedRectangleProfileDef", (300, 60, 5), (300, 60, None, None, None)),
    ("IfcRectangleHollowProfileDef", (50, 40, 1.2), (50, 40, None, 1.2, 1.2)),
    ("IfcCircleProfileDef", (12.5,), (None, None, 25, None, None)),
    ("IfcCircleHollowProfileDef", (12.5, 1.5), (None, None, 25, 1.5, None)),
    ("IfcUShapeProfileDef", (300, 60, 2, 1.5), (300, 60, None, 1.5, 2)),  # depth, flange width, web, flange thickness
    ("IfcCShapeProfileDef", (300, 60, 1.5, 15), (300, 60, None, 1.5, 1.5)),  # depth, width, wall, girth
    ("IfcLShapeProfileDef", (60, 100, 2), (100, 60, None, 2, 2)),  # depth, width, thickness
    ("IfcLShapeProfileDef", (60,), (60, 60, None, None, None)),  # without a width both legs are alike
])  # fmt: skip
def test_profiles_by_their_parameters(
    pen: ShapePen, name: str, sizes: Numbers, expected: tuple[float | None, ...]
) -> None:
    assert measures(read(pen.profile(name, *sizes))) == expected


def test_only_full_rectangles_may_be_plans(pen: ShapePen) -> None:
    plain = {"IfcRectangleProfileDef": (300, 60), "IfcRoundedRectangleProfileDef": (300, 60, 5)}
    others = {"IfcRectangleHollowProfileDef": (50, 40, 1), "IfcUShapeProfileDef": (300, 60, 2, 2), "IfcCircleProfileDef": (5,)}  # fmt: skip
    assert all(read(pen.profile(name, *sizes)).is_plain for name, sizes in plain.items())
    assert not any(read(pen.profile(name, *sizes)).is_plain for name, sizes in others.items())
    assert read(pen.outline(pen.closed(*rectangle(300, 60)))).is_plain
    assert not read(pen.outline(pen.closed(*U))).is_plain
    assert not read(pen.outline(pen.closed((0, 0), (100, 0), (0, 50)))).is_plain


def test_a_u_as_an_outline_is_as_wide_and_high_as_it_is(pen: ShapePen) -> None:
    assert measures(read(pen.outline(pen.closed(*U)))) == (300, 60, None, None, None)


def test_an_outline_with_one_hole_has_a_wall_where_it_is_the_same_all_round(pen: ShapePen) -> None:
    outer, hole = pen.closed(*rectangle(100, 50)), pen.closed(*rectangle(97, 47))
    assert measures(read(pen.outline(outer, hole))) == pytest.approx((100, 50, None, 1.5, 1.5))
    assert read(pen.outline(outer, pen.closed(*rectangle(97, 40)))).wall is None
    assert read(pen.outline(outer, hole, hole)).wall is None


def test_round_outlines_have_a_diameter(pen: ShapePen) -> None:
    ring = pen.outline(pen.circle(12.5, pen.flat((3, 4))), pen.circle(11, pen.flat((3, 4))))
    assert measures(read(ring)) == pytest.approx((None, None, 25, 1.5, None))
    assert read(ring).centre == pytest.approx((3, 4))
    assert read(pen.outline(pen.closed(*polygon(12.5, 12)))).diameter == pytest.approx(25)
    half = math.sqrt(0.5) * 12.5
    arcs = pen.indexed([(12.5, 0), (half, half), (-12.5, 0), (half, -half)], (1, 2, 3), (3, 4, 1))
    assert read(pen.outline(arcs)).diameter == pytest.approx(25)


def test_a_turned_outline_knows_where_its_width_points(pen: ShapePen) -> None:
    cos, sin = math.cos(math.radians(30)), math.sin(math.radians(30))
    corners = [(x * cos - y * sin + 500, x * sin + y * cos) for x, y in rectangle(300, 60)]
    profile = read(pen.outline(pen.closed(*corners)))
    assert measures(profile) == pytest.approx((300, 60, None, None, None))
    assert profile.centre == pytest.approx((500, 0))
    assert [abs(number) for number in profile.direction] == pytest.approx([cos, sin])


def test_a_bent_sheet_has_half_its_thickness_on_either_side_of_its_line(pen: ShapePen) -> None:
    # up, across, up: 300 + 2·1 wide; from 1 below the base's line to the flanges' ends
    line = pen.polyline((-150, 60), (-150, 0), (150, 0), (150, 60))
    profile = read(pen.make("IfcCenterLineProfileDef", "CURVE", None, line, 2.0))
    assert measures(profile) == pytest.approx((302, 61, None, 2, 2))
    assert profile.centre == pytest.approx((0, 29.5))
    assert profile_of(pen.make("IfcCenterLineProfileDef", "CURVE", None, pen.polyline((0, 0), (9, 0)), 2.0)) is None


def test_a_derived_profile_is_moved_turned_and_scaled(pen: ShapePen) -> None:
    parent = pen.profile("IfcRectangleHollowProfileDef", 50, 40, 1, position=pen.flat((10, 0)))
    profile = read(moved(pen, parent, (100, 200), Axis1=pen.direction(0, 1), Scale=2.0))
    assert measures(profile) == (100, 80, None, 2, 2)
    # its middle, (10, 0), doubled and turned by 90°, then moved
    assert profile.centre == pytest.approx((100, 220))
    assert profile.direction == pytest.approx((0, 1))


def test_mirrored_profiles_lie_on_the_other_side(pen: ShapePen) -> None:
    parent = pen.outline(pen.closed((0, 0), (300, 0), (300, 60), (0, 60)))
    mirrored = read(pen.make("IfcMirroredProfileDef", "AREA", None, parent, None, None))
    assert mirrored.centre == pytest.approx((-150, 30))
    assert (mirrored.width, mirrored.height) == (300, 60)
    flipped = read(moved(pen, parent, (0, 0), Axis1=pen.direction(1, 0), Axis2=pen.direction(0, -1)))
    assert flipped.centre == pytest.approx((150, -30))


def test_a_profile_scaled_by_two_factors_is_not_understood(pen: ShapePen) -> None:
    by = pen.make("IfcCartesianTransformationOperator2DnonUniform", None, None, pen.point(0, 0), 2.0, 3.0)
    parent = pen.profile("IfcRectangleProfileDef", 300, 60)
    assert profile_of(pen.make("IfcDerivedProfileDef", "AREA", None, parent, by, None)) is None


def test_profiles_that_tell_no_section_are_none(pen: ShapePen) -> None:
    assert profile_of(None) is None
    assert profile_of(pen.profile("IfcEllipseProfileDef", 30, 20)) is None
    assert profile_of(pen.profile("IfcCircleProfileDef", 0)) is None
    assert profile_of(pen.outline(pen.polyline((0, 0), (1, 0), (0, 0)))) is None
    assert profile_of(pen.make("IfcArbitraryClosedProfileDef", "AREA")) is None


@pytest.mark.parametrize("place", [(0, 0), (500, -80)])
def test_the_axis_passes_the_middle_of_the_section(pen: ShapePen, place: Numbers) -> None:
    """The way of the sweep, wherever the profile stands in its own frame."""
    spot = pen.flat(place, (0, 1))
    middle: Vec = frame_of(spot).place((0.0, 0.0, 0.0))
    hollow = pen.profile("IfcRectangleHollowProfileDef", 50, 40, 1, position=spot)
    assert_way(pen.read(pen.swept(hollow, 2000)), middle, (middle[0], middle[1], 2000.0))
    outline = pen.outline(pen.closed(*((x + place[0], y + place[1]) for x, y in U)))
    assert_way(pen.read(pen.swept(outline, 2000)), (place[0], place[1] + 30, 0), (place[0], place[1] + 30, 2000))
