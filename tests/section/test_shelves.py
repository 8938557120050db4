"""Cables in rows: nothing overlaps, all find a place where codes let them in, and it's soon done however many they are."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.section.overlap import overlap_um
from checker.section.packing import dropped_in
from checker.section.shapes import Body, Box, Channel, Inside, Polygon, Round, circle
from checker.section.shelves import on_shelves

SIZE = st.floats(min_value=1.0, max_value=60.0)
INSIDES = st.one_of(st.builds(Round, SIZE), st.builds(Box, SIZE, SIZE), st.builds(Channel, SIZE, SIZE))
BODIES = st.lists(st.builds(Body, st.floats(0.5, 30.0), st.floats(0.5, 30.0)), max_size=25)


@given(INSIDES, BODIES)
@settings(deadline=None, max_examples=300)
def test_whatever_is_placed_overlaps_nothing_and_lies_within(inside: Inside, bodies: list[Body]) -> None:
    for placed in (on_shelves(inside, bodies), dropped_in(inside, bodies)):
        assert len({place.body for place in placed}) == len(placed)
        assert [place.body for place in placed] == sorted(place.body for place in placed)
        assert overlap_um(inside, bodies, placed) < 1.0


def test_rows_are_those_that_arithmetic_gives() -> None:
    # 30 wide: three of 10 in the lowest row; then 8, 8, 8 and 6 side by side, which are 30; both rows are 18 high
    bodies = [circle(size) for size in (6.0, 10.0, 8.0, 10.0, 8.0, 10.0, 8.0)]
    placed = on_shelves(Box(30.0, 18.0), bodies)
    assert [place.x_mm for place in placed] == pytest.approx([27.0, 5.0, 4.0, 15.0, 12.0, 25.0, 20.0])
    assert [place.y_mm for place in placed] == pytest.approx([13.0, 5.0, 14.0, 5.0, 14.0, 5.0, 14.0])


def test_what_has_no_room_is_left_out_and_the_thinner_ones_still_find_theirs() -> None:
    # above the row of 10 are 4 mm: too low for another of 10, enough for one of 4
    placed = on_shelves(Box(10.0, 14.0), [circle(10.0), circle(10.0), circle(4.0)])
    assert [place.body for place in placed] in ([0, 2], [1, 2])


def test_a_flat_cable_lies_and_where_it_is_too_wide_for_that_it_stands() -> None:
    (lying,) = on_shelves(Box(12.0, 12.0), [Body(5.0, 11.0)])
    assert (lying.y_mm, lying.turned) == (2.5, True)
    (standing,) = on_shelves(Box(10.0, 12.0), [Body(11.0, 5.0)])
    assert (standing.y_mm, standing.turned) == (5.5, True)
    assert on_shelves(Box(10.0, 10.0), [Body(11.0, 5.0)]) == ()


def test_one_as_large_as_the_inside_goes_in() -> None:
    for inside in (Round(20.0), Box(20.0, 20.0), Channel(20.0, 20.0)):
        assert len(on_shelves(inside, [circle(20.0)])) == 1
        assert on_shelves(inside, [circle(20.1)]) == ()


def test_nothing_is_placed_in_a_polygon_nor_of_no_bodies() -> None:
    assert on_shelves(Polygon(((0.0, 0.0), (9.0, 0.0), (0.0, 9.0))), [circle(1.0)]) == ()
    assert on_shelves(Box(9.0, 9.0), []) == ()
    assert dropped_in(Box(9.0, 9.0), []) == ()


@pytest.mark.parametrize("share", [0.40, 0.45])
def test_many_cables_of_mixed_sizes_all_find_a_place_at_what_codes_let_in(share: float) -> None:
    bodies = [circle((3.9, 5.6, 7.8, 9.7, 11.3)[i % 5]) for i in range(200)]
    area = sum(body.area_mm2 for body in bodies) / share
    for inside in (Box(math.sqrt(2.0 * area), math.sqrt(area / 2.0)), Round(math.sqrt(4.0 * area / math.pi))):
        assert len(on_shelves(inside, bodies)) == len(bodies)


def test_of_more_than_go_in_dropping_them_once_places_as_many_as_find_a_hollow() -> None:
    # three of 10 lie side by side in 30, two in the hollows above them, up to 10 + 8.66; the next rows would end at 27.3
    placed = dropped_in(Box(30.0, 18.7), [circle(10.0)] * 9)
    assert sorted(round(place.y_mm, 2) for place in placed) == [5.0, 5.0, 5.0, 13.66, 13.66]
