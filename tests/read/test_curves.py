"""Curves as points: lengths and turns by plane geometry. An arc of radius r over an angle a is r·a long and turns by a."""

import math

import pytest

from checker.model import Vec
from checker.model.geometry import distance
from checker.read.chords import CHORD_DEG, Curve, straight
from checker.read.curves import MOST_POINTS, curve_of
from tests.small_shapes import Entity, ShapePen, X, Z

QUARTER = math.pi / 2.0
DEGREE = math.pi / 180.0


@pytest.fixture
def pen() -> ShapePen:
    return ShapePen()


def read(entity: Entity, radians: float = 1.0) -> Curve:
    curve = curve_of(entity, radians)
    assert curve is not None
    return curve


def assert_ends(curve: Curve, start: Vec, end: Vec) -> None:
    assert distance(curve.start, start) <= 1e-9
    assert distance(curve.end, end) <= 1e-9


def assert_measures(curve: Curve, length: float, turn_deg: float) -> None:
    assert curve.length == pytest.approx(length, rel=1e-9)
    assert curve.turn_deg == pytest.approx(turn_deg, abs=1e-4)


def test_a_polyline_is_as_long_as_its_pieces_and_turns_at_its_corners(pen: ShapePen) -> None:
    curve = read(pen.polyline((0, 0, 0), (300, 0, 0), (300, 400, 0), (300, 400, 500)))
    assert_measures(curve, 300 + 400 + 500, 90 + 90)
    assert curve.points == ((0, 0, 0), (300, 0, 0), (300, 400, 0), (300, 400, 500))


def test_a_polyline_in_the_plane_lies_at_height_0(pen: ShapePen) -> None:
    assert_ends(read(pen.polyline((1, 2), (4, 6))), (1, 2, 0), (4, 6, 0))


def test_points_given_twice_are_one(pen: ShapePen) -> None:
    curve = read(pen.polyline((0, 0, 0), (0, 0, 0), (3, 4, 0), (3, 4, 0)))
    assert list(curve.points) == [(0, 0, 0), (3, 4, 0)]
    assert_measures(curve, 5, 0)


def test_a_curve_without_length_is_none(pen: ShapePen) -> None:
    assert curve_of(pen.polyline((1, 1, 1), (1, 1, 1)), 1.0) is None
    assert curve_of(pen.circle(0.0), 1.0) is None
    assert curve_of(pen.trimmed(pen.circle(10), 1.0, 1.0), 1.0) is None
    assert curve_of(pen.trimmed(pen.circle(-10), 0.0, 1.0), 1.0) is None
    assert curve_of(pen.composite(), 1.0) is None
    assert curve_of(None, 1.0) is None
    assert straight([]) is None


def test_an_indexed_curve_without_segments_is_straight(pen: ShapePen) -> None:
    assert_measures(read(pen.indexed([(0, 0, 0), (0, 30, 0), (40, 30, 0)])), 70, 90)


def test_an_indexed_arc_goes_through_its_middle_point(pen: ShapePen) -> None:
    # a quarter of radius 100 about (0, 100), between straight pieces that touch it
    half = 100 * math.sin(math.pi / 4)
    points = [(-500, 0), (0, 0), (half, 100 - half), (100, 100), (100, 400)]
    curve = read(pen.indexed(points, (1, 2), (2, 3, 4), (4, 5)))
    assert_measures(curve, 500 + 100 * QUARTER + 300, 90)
    assert_ends(curve, (-500, 0, 0), (100, 400, 0))
    assert all(distance(point, (0, 100, 0)) == pytest.approx(100) for point in curve.points[1:-1])


def test_an_indexed_arc_may_go_the_long_way_round(pen: ShapePen) -> None:
    # from (100, 0) through (-100, 0) to (0, -100): three quarters
    curve = read(pen.indexed([(100, 0), (-100, 0), (0, -100)], (1, 2, 3)))
    assert_measures(curve, 100 * 3 * QUARTER, 270)
    back = read(pen.indexed([(0, -100), (-100, 0), (100, 0)], (1, 2, 3)))
    assert_measures(back, 100 * 3 * QUARTER, 270)


def test_an_indexed_arc_through_three_points_of_a_line_is_straight(pen: ShapePen) -> None:
    assert_measures(read(pen.indexed([(0, 0, 0), (5, 0, 0), (10, 0, 0)], (1, 2, 3))), 10, 0)


def test_an_index_beyond_the_points_is_not_understood(pen: ShapePen) -> None:
    assert curve_of(pen.indexed([(0, 0, 0), (5, 0, 0)], (1, 3)), 1.0) is None
    assert curve_of(pen.indexed([(0, 0, 0), (5, 0, 0)], (0, 1)), 1.0) is None


@pytest.mark.parametrize(("start", "end", "sense", "swept"), [
    (0.0, QUARTER, True, 90), (QUARTER, 0.0, True, 270), (QUARTER, 0.0, False, 90), (0.0, QUARTER, False, 270),
    (3 * QUARTER, QUARTER, True, 180), (0.0, 4 * QUARTER, True, 360), (QUARTER, 5 * QUARTER, True, 360), (-QUARTER, QUARTER, True, 180),
])  # fmt: skip
def test_a_circle_trimmed_by_angles(pen: ShapePen, start: float, end: float, *, sense: bool, swept: float) -> None:
    curve = read(pen.trimmed(pen.circle(50, pen.frame((7, 8, 9))), start, end, sense=sense))
    assert_measures(curve, 50 * math.radians(swept), swept)
    ends = [(7 + 50 * math.cos(angle), 8 + 50 * math.sin(angle), 9.0) for angle in (start, end)]
    assert_ends(curve, ends[0], ends[1])
    assert all(distance(point, (7, 8, 9)) == pytest.approx(50) for point in curve.points)


def test_a_circle_trimmed_by_degrees_where_the_file_has_degrees(pen: ShapePen) -> None:
    assert_measures(read(pen.trimmed(pen.circle(50), 0, 90), DEGREE), 50 * QUARTER, 90)
    assert_measures(read(pen.trimmed(pen.circle(50), 0, 360), DEGREE), 50 * 4 * QUARTER, 360)


def test_90_radians_can_only_be_degrees(pen: ShapePen) -> None:
    assert_measures(read(pen.trimmed(pen.circle(50), 0, 90), 1.0), 50 * QUARTER, 90)


def test_a_circle_trimmed_by_points_either_way(pen: ShapePen) -> None:
    circle = pen.circle(20, pen.frame((0, 0, 5)))
    assert_measures(read(pen.trimmed(circle, (20, 0, 5), (0, 20, 5))), 20 * QUARTER, 90)
    back = read(pen.trimmed(circle, (20, 0, 5), (0, 20, 5), sense=False))
    assert_measures(back, 20 * 3 * QUARTER, 270)
    assert_ends(back, (20, 0, 5), (0, 20, 5))


def test_a_trimmed_circle_stands_as_its_position_does(pen: ShapePen) -> None:
    # Z along the world's X, X along its Z: Y is X × Z = (0, -1, 0), so a quarter leads from above to the side
    curve = read(pen.trimmed(pen.circle(20, pen.frame((0, 0, 0), X, Z)), 0.0, QUARTER))
    assert_ends(curve, (0, 0, 20), (0, -20, 0))


def test_a_line_trimmed_by_parameters_counts_in_its_vector(pen: ShapePen) -> None:
    # from 1 to 3 vectors of length 100 along (3, 4)/5
    curve = read(pen.trimmed(pen.line((0, 0, 0), (3, 4, 0), 100), 1, 3))
    assert_ends(curve, (60, 80, 0), (180, 240, 0))
    assert_measures(curve, 200, 0)


def test_a_line_trimmed_by_points(pen: ShapePen) -> None:
    assert_measures(read(pen.trimmed(pen.line((0, 0, 0), X), (5, 0, 0), (9, 0, 0))), 4, 0)


def test_a_trimmed_polyline_with_corners_is_not_taken_for_a_straight_one(pen: ShapePen) -> None:
    bent = pen.polyline((0, 0, 0), (100, 0, 0), (100, 100, 0))
    assert curve_of(pen.trimmed(bent, (0, 0, 0), (100, 100, 0)), 1.0) is None
    assert_measures(read(pen.trimmed(pen.polyline((0, 0, 0), (100, 0, 0)), (10, 0, 0), (40, 0, 0))), 30, 0)


def test_a_chain_runs_through_parts_of_other_sense_backwards(pen: ShapePen) -> None:
    # 300 along X, a quarter about (300, 100) written the other way round, 200 along Y
    arc = pen.trimmed(pen.circle(100, pen.frame((300, 100, 0))), 0.0, -QUARTER, sense=False)
    curve = read(pen.composite(
        pen.polyline((0, 0, 0), (300, 0, 0)), (arc, False), (pen.polyline((400, 300, 0), (400, 100, 0)), False)))  # fmt: skip
    assert_measures(curve, 300 + 100 * QUARTER + 200, 90)
    assert_ends(curve, (0, 0, 0), (400, 300, 0))


def test_a_chain_turns_where_its_parts_meet_at_an_angle(pen: ShapePen) -> None:
    curve = read(pen.composite(pen.polyline((0, 0, 0), (10, 0, 0)), pen.polyline((10, 0, 0), (10, 10, 0))))
    assert_measures(curve, 20, 90)
    assert curve.points == ((0, 0, 0), (10, 0, 0), (10, 10, 0))


@pytest.mark.parametrize("kink_deg", [4.0, 10.0, 45.0])
def test_a_kink_beside_an_arc_counts_exactly(pen: ShapePen, kink_deg: float) -> None:
    # the line comes in at an angle to the arc's own direction at its start, which is (1, 0)
    angle = math.radians(kink_deg)
    start = (-100 * math.cos(angle), -100 * math.sin(angle), 0.0)
    arc = pen.trimmed(pen.circle(100, pen.frame((0, 100, 0))), 3 * QUARTER, 4 * QUARTER)
    assert_measures(read(pen.composite(pen.polyline(start, (0, 0, 0)), arc)), 100 + 100 * QUARTER, 90 + kink_deg)


def test_chains_hold_chains(pen: ShapePen) -> None:
    inner = pen.composite(pen.polyline((0, 0, 0), (10, 0, 0)), pen.polyline((10, 0, 0), (10, 10, 0)))
    assert_measures(read(pen.composite((inner, False), pen.polyline((0, 0, 0), (0, 10, 0)))), 30, 180)


def test_a_chain_with_a_part_that_is_not_understood_is_none(pen: ShapePen) -> None:
    ellipse = pen.make("IfcEllipse", pen.frame(), 3.0, 2.0)
    assert curve_of(pen.composite(pen.polyline((0, 0, 0), (1, 0, 0)), ellipse), 1.0) is None


def test_a_part_without_length_is_passed_over(pen: ShapePen) -> None:
    curve = read(pen.composite(pen.polyline((0, 0, 0), (1, 0, 0)), pen.polyline((1, 0, 0), (1, 0, 0))))
    assert_measures(curve, 1, 0)


def test_parts_that_meet_but_for_rounding_have_no_piece_between(pen: ShapePen) -> None:
    curve = read(pen.composite(pen.polyline((0, 0, 0), (1000, 0, 0)), pen.polyline((1000.004, 0.004, 0), (2000, 0, 0))))
    assert len(curve.points) == 3


def test_a_piece_of_a_curve_by_its_length_is_not_taken_for_the_whole_curve() -> None:
    pen = ShapePen("IFC4X3_ADD2")
    length = [pen.make("IfcLengthMeasure", number) for number in (0.0, 30.0)]
    segment = pen.make("IfcCurveSegment", "CONTINUOUS", pen.frame(), *length, pen.circle(100))
    assert curve_of(pen.make("IfcCompositeCurve", [segment], False), 1.0) is None


def test_chords_follow_an_arc_closely(pen: ShapePen) -> None:
    curve = read(pen.circle(100))
    angles = [math.degrees(math.atan2(y, x)) % 360.0 for x, y, _ in curve.points[:-1]]
    assert angles == pytest.approx([CHORD_DEG * i for i in range(24)])
    assert_measures(curve, 100 * 4 * QUARTER, 360)


def test_a_curve_of_too_many_points_is_none_rather_than_cut_off(pen: ShapePen) -> None:
    points = [(float(i), 0.0, 0.0) for i in range(MOST_POINTS + 1)]
    assert curve_of(pen.polyline(*points), 1.0) is None
    assert curve_of(pen.indexed(points), 1.0) is None
    assert read(pen.polyline(*points[:-1])).end == points[-2]


def test_chains_that_unfold_into_too_many_parts_end_early(pen: ShapePen) -> None:
    curve = pen.polyline((0, 0, 0), (1, 0, 0))
    for _ in range(7):  # 100^7 parts
        curve = pen.composite(*[curve] * 100)
    assert curve_of(curve, 1.0) is None
