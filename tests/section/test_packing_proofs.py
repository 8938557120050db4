"""What is proved impossible, and that nothing possible is. The tiers' figures by hand."""

import pytest

from checker.section.packing import Found, pack
from checker.section.proofs import bounds_of, proof_of_area, proof_of_width, sizes_of
from checker.section.shapes import Body, Box, Inside, Polygon, Round, circle


def _proofs(inside: Inside, bodies: list[Body]) -> tuple[str, str]:
    sizes, bounds = sizes_of(bodies), bounds_of(inside)
    return proof_of_area(sizes, bounds), proof_of_width(sizes, bounds, inside)


def test_what_fits_exactly_has_no_proof_against_it() -> None:
    # rows, a hexagonal triangle's worth, one around another: the bound on points is met exactly in a row
    for inside, bodies in (
        (Box(50, 10), [circle(10)] * 5),
        (Round(30), [circle(10)] * 7),
        (Round(20), [circle(10)] * 2),
        (Round(20), [circle(14), circle(6)]),
        (Box(40, 10), [Body(20, 10)] * 2),
        (Box(40, 10), [Body(40, 10)]),
        (Polygon(((0, 0), (20, 0), (20, 20), (0, 20))), [circle(10)] * 4),
    ):
        assert _proofs(inside, bodies) == ("", "")


def test_a_row_is_proved_full_only_when_one_too_many_is_asked_for() -> None:
    # in a slender inside the bound is that of a segment: its length over the distance, and 1
    assert _proofs(Box(1000, 10), [circle(10)] * 100) == ("", "")
    area, width = _proofs(Box(1009, 10), [circle(10)] * 101)  # 7,933 mm² of 10,090
    assert area == ""
    assert "101 circles" in width
    assert "100 of them" in width


def test_flat_ones_count_as_often_as_their_thickness_goes_into_their_width() -> None:
    # two of 25 x 10 take 457 mm² of 480; each holds two circles of 10: four, for which a row of 48 has room; three in 59 hold six
    assert _proofs(Box(48, 10), [Body(25, 10)] * 2)[1] == ""
    assert "6 circles" in _proofs(Box(59, 10), [Body(20, 10)] * 3)[1]


def test_small_bodies_besides_do_not_hide_what_the_large_ones_prove() -> None:
    large = [circle(10)] * 4
    assert "4 circles of 10.00 mm" in _proofs(Box(38, 10), large)[1]
    assert "4 circles of 10.00 mm" in _proofs(Box(38, 10), [circle(0.5), *large, circle(1)])[1]


def test_a_known_bound_of_a_square() -> None:
    # points 1 apart in a square of side a: at most 1.1547 a² + 2 a + 1. Circles of 1 in 3.5: a = 2.5, so 7.217 + 5 + 1 = 13.2;
    # by area alone there would be 12.25 / 0.785 = 15.6
    inside = Box(3.5, 3.5)
    assert pack(inside, [circle(1)] * 14).outcome is Found.IMPOSSIBLE
    assert pack(inside, [circle(1)] * 13).outcome is not Found.IMPOSSIBLE


def test_no_body_is_no_question() -> None:
    with pytest.raises(ValueError, match="no body"):
        sizes_of([])


@pytest.mark.parametrize(
    ("number", "times"),
    [
        (3, 2.154700),
        (4, 2.414213),
        (5, 2.701301),
        (6, 3.0),
        (7, 3.0),
        (8, 3.304764),
        (9, 3.613125),
        (11, 3.923804),
        (13, 4.236067),
    ],
)
def test_the_smallest_circle_that_holds_some_equal_ones_is_known(number: int, times: float) -> None:
    """Proved radii of the table of circles in a circle, cut after six digits."""
    few = [circle(10.0)] * number
    assert (
        "smallest circle" in _proofs(Round(10.0 * times - 0.02), few)[1] or _proofs(Round(10.0 * times - 0.02), few)[0]
    )
    assert _proofs(Round(10.0 * times + 0.01), few) == ("", "")


def test_thinner_ones_beside_dont_count_for_the_smallest_circle() -> None:
    assert _proofs(Round(36.0), [circle(10.0)] * 8 + [circle(1.0)]) == ("", "")
    assert "9 circles of 9.50 mm" in _proofs(Round(34.0), [circle(10.0)] * 8 + [circle(9.5)])[1]
