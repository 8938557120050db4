"""The independent check, against distances worked out by hand."""

import math

import pytest

from checker.section.overlap import overlap_um
from checker.section.shapes import Body, Box, Polygon, Round, circle
from checker.section.shapes import Placed as At

BOX = Box(100, 50)


def test_nothing_placed_overlaps_nothing() -> None:
    assert overlap_um(BOX, [], []) == 0.0


def test_circles_that_touch_do_not_overlap_and_nearer_ones_do() -> None:
    bodies = [circle(10), circle(20)]
    assert overlap_um(BOX, bodies, [At(0, 20, 20), At(1, 35, 20)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(BOX, bodies, [At(0, 20, 20), At(1, 34.998, 20)]) == pytest.approx(2.0)
    # 9 and 12 aside: 15 apart, the sum of the radii; 0.6 and 0.8 µm nearer: 1 µm
    assert overlap_um(BOX, bodies, [At(0, 20, 20), At(1, 29, 32)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(BOX, bodies, [At(0, 20, 20), At(1, 28.9994, 31.9992)]) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("x", "y", "over"),
    [(5, 5, 0.0), (4.9, 25, 100.0), (95.1, 25, 100.0), (50, 4.9, 100.0), (50, 45.1, 100.0), (50, 60, 15_000.0)],
)
def test_standing_out_of_a_box_counts(x: float, y: float, over: float) -> None:
    assert overlap_um(BOX, [circle(10)], [At(0, x, y)]) == pytest.approx(over, abs=1e-9)


def test_standing_out_of_a_round_inside_counts() -> None:
    # centre at 3, 4 from the middle: 5, and the radius 5: just within 10
    assert overlap_um(Round(20), [circle(10)], [At(0, 13, 14)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(Round(20), [circle(10.002)], [At(0, 13, 14)]) == pytest.approx(1.0)


def test_flat_ones_reach_as_far_as_their_round_ends() -> None:
    flat = Body(20, 6)  # core from -7 to 7, radius 3
    assert overlap_um(BOX, [flat], [At(0, 10, 3)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(BOX, [flat], [At(0, 9.5, 3)]) == pytest.approx(500.0)
    assert overlap_um(BOX, [flat], [At(0, 3, 10, turned=True)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(BOX, [Body(6, 20)], [At(0, 3, 10)]) == pytest.approx(0.0, abs=1e-9)
    # a circle beyond its end, at 3 and 4 from where the core ends: 5 apart, 3 + 2 taken
    bodies = [flat, circle(4)]
    assert overlap_um(BOX, bodies, [At(0, 30, 20), At(1, 40, 24)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(BOX, bodies, [At(0, 30, 20), At(1, 32, 24)]) == pytest.approx(1000.0)  # above its flat: 4 apart
    # one lying, one standing, their middle lines 3 apart end to side: 3 + 3 taken
    assert overlap_um(BOX, [flat, flat], [At(0, 30, 10), At(1, 30, 20, turned=True)]) == pytest.approx(3000.0)
    # crossed: the radii
    assert overlap_um(BOX, [flat, flat], [At(0, 30, 20), At(1, 31, 21, turned=True)]) == pytest.approx(6000.0)


def test_a_flat_one_in_a_round_inside_is_held_by_its_ends() -> None:
    # ends of the core at 4 beside and 3 below the middle: 5, and the radius 2
    assert overlap_um(Round(14), [Body(12, 4)], [At(0, 7, 4)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(Round(13.99), [Body(12, 4)], [At(0, 6.995, 3.995)]) == pytest.approx(5.0)


def test_a_corner_that_stands_inward_counts() -> None:
    shape = Polygon(((0, 0), (60, 0), (60, 30), (30, 30), (30, 60), (0, 60)))
    at = 30.0 - 10.0 / math.sqrt(2.0)  # 10 from the corner
    assert overlap_um(shape, [circle(20)], [At(0, at, at)]) == pytest.approx(0.0, abs=1e-9)
    assert overlap_um(shape, [circle(20.02)], [At(0, at, at)]) == pytest.approx(10.0)
    # both ends inside, but the middle line crosses what is missing
    assert overlap_um(shape, [Body(2, 44)], [At(0, 31, 25)]) > 1000.0


def test_places_that_make_no_sense_are_refused() -> None:
    bodies = [circle(10), circle(10)]
    with pytest.raises(ValueError, match="placed twice"):
        overlap_um(BOX, bodies, [At(0, 10, 10), At(0, 30, 30)])
    with pytest.raises(ValueError, match="there is no body 2"):
        overlap_um(BOX, bodies, [At(2, 10, 10)])
    with pytest.raises(ValueError, match="lies nowhere"):
        overlap_um(BOX, bodies, [At(0, math.nan, 10)])
