"""What goes in, what doesn't, and what is proved not to. Sizes are in mm; every packing is checked by overlap_um."""

import math

import pytest

from checker.section.overlap import overlap_um
from checker.section.packing import Effort, Found, Packing, Tier, most_that_go_in, pack
from checker.section.shapes import Body, Box, Channel, Inside, Polygon, Round, circle

#: 60 x 60 with a quarter taken away: the upper right one.
L_SHAPE = Polygon(((0, 0), (60, 0), (60, 30), (30, 30), (30, 60), (0, 60)))


def _asked(inside: Inside, bodies: list[Body], effort: Effort = Effort.USUAL) -> Packing:
    packing = pack(inside, bodies, effort=effort)
    if packing.outcome is Found.FOUND:
        assert [place.body for place in packing.placed] == list(range(len(bodies)))
        assert overlap_um(inside, bodies, packing.placed) < 1.0
        assert packing.proof == ""
    else:
        assert packing.placed == ()
    return packing


def test_nothing_goes_into_anything() -> None:
    assert _asked(Round(20), []).outcome is Found.FOUND


@pytest.mark.parametrize(
    "inside", [Round(20), Box(20, 20), Channel(20, 20), Polygon(((0, 0), (20, 0), (20, 20), (0, 20)))]
)
def test_a_body_as_large_as_the_inside_goes_in_and_one_that_is_larger_is_proved_not_to(inside: Inside) -> None:
    assert _asked(inside, [circle(20)]).outcome is Found.FOUND
    # 20.0005 stands out by 0.25 µm on each side: less than what is allowed, so it may not be called impossible
    assert _asked(inside, [circle(20.0005)]).outcome is not Found.IMPOSSIBLE
    assert _asked(inside, [circle(20.01)]).outcome is Found.IMPOSSIBLE


def test_a_flat_body_as_large_as_the_inside_goes_in_lying_and_standing() -> None:
    for inside in (Box(40, 10), Box(10, 40)):
        for body in (Body(40, 10), Body(10, 40)):
            packing = _asked(inside, [body])
            assert packing.outcome is Found.FOUND
            lies = inside.width_mm > inside.height_mm
            assert packing.placed[0].turned is ((body.width_mm > body.height_mm) is not lies)


def test_more_area_than_there_is_is_proved_by_area() -> None:
    packing = _asked(Box(10, 10), [circle(6)] * 4)  # 4 x 28.27 = 113.1 mm² in 100
    assert (packing.outcome, packing.tier) == (Found.IMPOSSIBLE, Tier.AREA)
    assert "113." in packing.proof
    assert "100.0" in packing.proof


@pytest.mark.parametrize(
    ("inside", "bodies"),
    [
        (Box(100, 8), [circle(9)]),  # thicker than it is high
        (Round(30), [Body(31, 5)]),  # wider than the widest chord
        (Box(30, 40), [Body(52, 10)]),  # core 42 long; a diagonal of 20 x 30 is 36.1
        (Round(30), [circle(16), circle(15)]),  # 31 beside each other
        (Box(30, 30), [circle(20), circle(17)]),  # centres at most 11.5 x √2 = 16.3 apart, and 18.5 are needed
        (Polygon(((0, 0), (60, 0), (30, 10))), [circle(10.5)]),  # higher than its least width, 10
    ],
)
def test_what_is_wider_than_the_inside_is_proved_by_width(inside: Inside, bodies: list[Body]) -> None:
    packing = _asked(inside, bodies)
    assert (packing.outcome, packing.tier) == (Found.IMPOSSIBLE, Tier.WIDTH)
    assert packing.proof


def test_four_in_a_row_for_three_are_proved_not_to_go_in() -> None:
    # 10 high: centres lie on a segment, of 20.5 for three, of 28 for four, which would need 30
    assert _asked(Box(30.5, 10), [circle(10)] * 3).outcome is Found.FOUND
    packing = _asked(Box(38.0, 10), [circle(10)] * 4)  # 314.2 mm² of 380
    assert (packing.outcome, packing.tier) == (Found.IMPOSSIBLE, Tier.WIDTH)


def test_not_finding_is_not_called_impossible() -> None:
    # 5 circles in a square need 2 + 2√2 = 4.8284 radii; a square of 4.8 has area for 7.3
    assert _asked(Box(4.8, 4.8), [circle(2)] * 5).outcome is Found.NOT_FOUND
    assert _asked(Box(4.829, 4.829), [circle(2)] * 5).outcome is Found.FOUND


def test_quick_effort_only_drops() -> None:
    # seven in three radii fit in no other way than six around one
    assert _asked(Round(30), [circle(10)] * 7).outcome is Found.FOUND
    tiers = {_asked(Round(31), [circle(10)] * count, Effort.QUICK).tier for count in range(1, 8)}
    assert tiers == {Tier.DROP}


def test_a_channel_holds_what_stays_below_its_sides() -> None:
    assert _asked(Channel(100, 20), [circle(20)] * 5).outcome is Found.FOUND
    assert _asked(Channel(100, 20), [circle(20)] * 5 + [circle(10)]).outcome is not Found.FOUND
    assert _asked(Channel(100, 20), [circle(20.1)]).outcome is Found.IMPOSSIBLE


def test_an_l_shape_holds_three_squares_of_circles_and_nothing_where_its_quarter_is_missing() -> None:
    packing = _asked(L_SHAPE, [circle(29)] * 3)
    assert packing.outcome is Found.FOUND
    for place in packing.placed:
        assert min(place.x_mm, place.y_mm) <= 30.0
    assert _asked(L_SHAPE, [circle(29)] * 4).outcome is not Found.FOUND
    # the largest circle touches both outer walls, so its centre is at (r, r), and the inner corner: (30 - r) √2 = r,
    # so r = 30√2 / (1 + √2) = 17.574
    most = 2.0 * 30.0 * math.sqrt(2.0) / (1.0 + math.sqrt(2.0))
    assert _asked(L_SHAPE, [circle(most - 0.01)]).outcome is Found.FOUND
    assert _asked(L_SHAPE, [circle(most + 0.01)]).outcome is Found.NOT_FOUND


def test_flat_ones_lie_side_by_side_and_on_edge() -> None:
    # two rows of four lying, 12 x 5, are 10 high; on them ten standing, 5 x 12, are 50 wide: 22 high in all
    assert _asked(Box(50, 24), [Body(12, 5)] * 8 + [Body(5, 12)] * 10).outcome is Found.FOUND


def test_two_hundred_bodies_go_in() -> None:
    # twenty by ten in a square lattice
    assert _asked(Box(200, 100), [circle(10)] * 200, Effort.QUICK).outcome is Found.FOUND


def test_one_large_and_very_many_small_go_in() -> None:
    # around a circle of 50 in a square of 52 the four corners are 52² - 26² π = 580 mm² in all; twenty of 1 mm take 16
    packing = _asked(Box(52, 52), [circle(50), *[circle(1)] * 20])
    assert packing.outcome is Found.FOUND


def test_a_slender_channel_holds_a_row() -> None:
    assert _asked(Channel(1000, 5), [circle(5)] * 200, Effort.QUICK).outcome is Found.FOUND
    assert _asked(Channel(1000, 5), [circle(5)] * 201, Effort.QUICK).outcome is not Found.FOUND


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_sizes_that_are_none_are_refused(size: float) -> None:
    for make in (
        lambda: Round(size),
        lambda: Box(size, 10),
        lambda: Box(10, size),
        lambda: Channel(10, size),
        lambda: Body(size, 5),
        lambda: Body(5, size),
        lambda: circle(size),
    ):
        with pytest.raises(ValueError, match="above 0, not"):
            make()


@pytest.mark.parametrize(
    "corners",
    [
        (),
        ((0, 0), (10, 0)),
        ((0, 0), (10, 0), (20, 0)),  # in one line
        ((0, 0), (10, 10), (10, 0), (0, 10)),  # a bow tie
        ((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)),  # a corner on another side
        ((0, 0), (math.nan, 0), (10, 10)),
        ((0, 0), (math.inf, 0), (10, 10)),
    ],
)
def test_polygons_that_are_none_are_refused(corners: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="polygon"):
        Polygon(corners)


def test_a_polygon_is_moved_to_the_origin_and_turned() -> None:
    clockwise = Polygon(((5, 5), (5, 15), (25, 15), (25, 5)))
    assert clockwise.corners_mm == ((20, 0), (20, 10), (0, 10), (0, 0))


MIXED = [circle(d) for d in (12.0, 9.5, 7.1, 12.0, 6.3, 5.0, 9.5, 8.0)] + [Body(13, 5), Body(6, 11)]


def test_the_order_of_the_bodies_changes_nothing_but_their_numbers() -> None:
    inside = Box(33, 33)
    first = _asked(inside, MIXED)
    assert first.outcome is Found.FOUND
    for step in (3, 7, 9):
        order = [i * step % len(MIXED) for i in range(len(MIXED))]
        other = _asked(inside, [MIXED[i] for i in order])
        assert (other.outcome, other.tier) == (first.outcome, first.tier)
        places = {(place.x_mm, place.y_mm) for place in first.placed}
        assert {(place.x_mm, place.y_mm) for place in other.placed} == places


@pytest.mark.parametrize("side", [31.0, 33.0])
def test_the_same_question_in_another_size_has_the_same_answer(side: float) -> None:
    first = _asked(Box(side, side), MIXED)
    for factor in (1000.0, 0.1):
        bodies = [Body(body.width_mm * factor, body.height_mm * factor) for body in MIXED]
        other = _asked(Box(side * factor, side * factor), bodies)
        assert (other.outcome, other.tier) == (first.outcome, first.tier)


def test_a_mirrored_inside_holds_as_many() -> None:
    corners = ((0, 0), (50, 0), (50, 20), (20, 45), (0, 45))
    mirrored = tuple((50 - x, y) for x, y in corners)
    bodies = [circle(9)] * 14
    outcomes = {_asked(Polygon(shape), bodies).outcome for shape in (corners, mirrored)}
    assert outcomes == {Found.FOUND}


def test_the_same_question_has_the_same_places() -> None:
    first, second = (pack(Round(40), MIXED) for _ in range(2))
    assert first == second


def test_as_many_go_in_as_geometry_knows() -> None:
    # circle in circle, R/r of the shared table 7c: 6 and 7 at 3, 19 at 4.8637, 20 at 5.1223
    assert most_that_go_in(Round(29.99), circle(10)) == 5  # five need 2.7013
    assert most_that_go_in(Round(30), circle(10)) == 7
    assert most_that_go_in(Round(48.64), circle(10)) == 19
    assert most_that_go_in(Round(9), circle(10)) == 0
    # squares in rows and columns
    assert most_that_go_in(Box(30, 20), circle(10)) == 6


def test_counting_stops_at_a_limit_and_counts_beside_others() -> None:
    assert most_that_go_in(Box(30, 20), circle(10), limit=4) == 4
    assert most_that_go_in(Box(30, 20), circle(10), beside=[circle(20)]) == 2
    assert most_that_go_in(Box(30, 20), circle(10), beside=[circle(21)]) == 0
    assert most_that_go_in(Box(30, 20), circle(10), limit=0) == 0


def test_what_is_counted_is_found_and_so_is_one_less() -> None:
    inside, body = Box(43, 27), circle(7)
    most = most_that_go_in(inside, body)
    assert most >= 22  # rows of 6, 5, 6, 5, each 7 √3 / 2 above the last: 7 + 3 x 6.062 = 25.2 high
    for count in (most, most - 1):
        assert _asked(inside, [body] * count).outcome is Found.FOUND
