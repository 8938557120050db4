"""Cables dropped in by hand: where they come to rest, and how high the pile gets."""

import math

import pytest

from checker.section.laying import as_laid
from checker.section.overlap import overlap_um
from checker.section.shapes import Body, Box, Channel, Polygon, Round, circle


def test_one_lies_on_the_floor() -> None:
    laid = as_laid(Box(100, 50), [circle(10)]).median
    assert laid.height_mm == pytest.approx(10.0)
    assert laid.placed[0].y_mm == pytest.approx(5.0)
    assert 5.0 <= laid.placed[0].x_mm <= 95.0


def test_one_rolls_to_the_bottom_of_a_conduit() -> None:
    for seed in range(5):
        place = as_laid(Round(40), [circle(10)], seed=seed).median.placed[0]
        assert (place.x_mm, place.y_mm) == (pytest.approx(20.0, abs=0.01), pytest.approx(5.0, abs=1e-4))


def test_one_rolls_to_the_bottom_of_a_v() -> None:
    # sides at 45°: the centre is r √2 above the corner
    inside = Polygon(((0, 30), (30, 0), (60, 30)))
    place = as_laid(inside, [circle(10)], seed=2).median.placed[0]
    assert (place.x_mm, place.y_mm) == (pytest.approx(30.0, abs=1e-4), pytest.approx(5.0 * math.sqrt(2.0), abs=1e-4))


def test_two_that_have_no_room_beside_each_other_lean_on_each_other_and_a_wall() -> None:
    # the first stays where it fell; the second rolls down it to a wall, 10 from its centre: so as far up as Pythagoras says
    for seed in range(4):
        laid = as_laid(Box(16, 50), [circle(10), circle(10)], seed=seed).median
        low, high = sorted(laid.placed, key=lambda place: place.y_mm)
        assert low.y_mm == pytest.approx(5.0)
        assert min(high.x_mm - 5.0, 11.0 - high.x_mm) == pytest.approx(0.0, abs=1e-3)
        up = math.sqrt(100.0 - (high.x_mm - low.x_mm) ** 2)
        assert laid.height_mm == pytest.approx(10.0 + up, abs=1e-3)


def test_the_order_given_is_kept_if_asked() -> None:
    # in a slot of 12 a body of 10 and one of 11 lie one on the other; the first is below
    for bodies in ([circle(10), circle(11)], [circle(11), circle(10)]):
        for seed in range(4):
            places = as_laid(Channel(12, 50), bodies, seed=seed, shuffled=False).median.placed
            assert places[0].y_mm < places[1].y_mm


def test_flat_ones_lie_flat_and_stand_where_they_must() -> None:
    assert as_laid(Box(30, 50), [Body(20, 6)]).median.height_mm == pytest.approx(6.0)
    assert as_laid(Box(30, 50), [Body(6, 20)]).median.height_mm == pytest.approx(6.0)
    assert as_laid(Box(15, 50), [Body(20, 6)]).median.height_mm == pytest.approx(20.0)
    # as wide as the inside: one on the other, three of 6
    assert as_laid(Box(20, 50), [Body(20, 6)] * 3).median.height_mm == pytest.approx(18.0, abs=1e-6)


def test_what_is_wider_than_the_inside_is_not_laid() -> None:
    trials = as_laid(Box(20, 20), [circle(21)], trials=3)
    assert (trials.under_lid, trials.median.height_mm, trials.median.placed) == (0, math.inf, ())


def test_nothing_has_no_height() -> None:
    trials = as_laid(Box(20, 20), [], trials=2)
    assert (trials.under_lid, trials.highest_mm) == (2, 0.0)


@pytest.mark.parametrize("inside", [Box(80, 40), Channel(80, 40)])
def test_the_lid_closes_over_what_is_lower(inside: Box | Channel) -> None:
    bodies = [circle(d) for d in (10, 12, 8, 14, 9, 10, 12, 8, 11, 10, 9, 13, 12, 10, 9)] + [Body(16, 6)] * 3
    trials = as_laid(inside, bodies, seed=7, trials=12)
    heights = [one.height_mm for one in trials.laid]
    assert heights == sorted(heights)
    assert heights[-1] == trials.highest_mm
    assert trials.median.height_mm == heights[6]
    for one in trials.laid:
        assert overlap_um(Box(80, 1000), bodies, one.placed) < 1.0
        assert one.lies_under_lid == (one.height_mm <= 40.0005)
        assert one.lies_under_lid == (overlap_um(inside, bodies, one.placed) < 1.0)
        # nobody floats: each touches the floor, or another below it
        for place in one.placed:
            body = bodies[place.body]
            lower = [other for other in one.placed if other.y_mm < place.y_mm]
            fallen = Body(body.width_mm + 0.02, body.height_mm + 0.02)
            near = [bodies[other.body] if other is not place else fallen for other in [*lower, place]]
            at = [type(place)(i, other.x_mm, other.y_mm, other.turned) for i, other in enumerate([*lower, place])]
            assert overlap_um(Box(80, 1000), near, at) > 1.0
    assert trials.under_lid == sum(height <= 40.0005 for height in heights) > 0


def test_the_same_seed_gives_the_same_and_others_others() -> None:
    bodies = [circle(9)] * 12
    first, again, other = (as_laid(Box(50, 40), bodies, seed=seed, trials=4) for seed in (5, 5, 6))
    assert first == again
    assert first != other


def test_the_order_given_does_not_matter_when_shuffled() -> None:
    bodies = [circle(d) for d in (9, 12, 7, 9, 5)]
    one, other = (as_laid(Box(30, 40), row, seed=4, trials=3) for row in (bodies, bodies[::-1]))
    assert [trial.height_mm for trial in one.laid] == [trial.height_mm for trial in other.laid]


def test_laying_is_no_lower_than_the_areas_allow() -> None:
    bodies = [circle(10)] * 20
    trials = as_laid(Box(60, 60), bodies, trials=10)
    assert trials.laid[0].height_mm > 20 * 25 * math.pi / 60


def test_questions_that_make_no_sense_are_refused() -> None:
    with pytest.raises(ValueError, match="must be a trial"):
        as_laid(Box(20, 20), [circle(5)], trials=0)
    with pytest.raises(ValueError, match="seed from 0"):
        as_laid(Box(20, 20), [circle(5)], seed=-1)
    with pytest.raises(ValueError, match="stand inward"):
        as_laid(Polygon(((0, 0), (60, 0), (60, 30), (30, 30), (30, 60), (0, 60))), [circle(5)])
