"""Equal circles in rows: counts and places by arithmetic."""

import pytest

from checker.section.overlap import overlap_um
from checker.section.packing import Effort, Found, Tier, most_that_go_in, pack
from checker.section.rows import most_in_rows
from checker.section.shapes import Box, Channel, Inside, Round, circle


@pytest.mark.parametrize(
    ("inside", "diameter", "count"),
    [
        (Box(40, 20), 10, 8),  # four by two
        (Channel(40, 20), 10, 8),
        (Box(0.3, 0.1), 0.1, 3),  # met exactly, though a tenth isn't a number to a computer
        (Box(9, 50), 10, 0),
        (Round(50), 10, 0),
        # staggered, along: rows of 10 and 9 (100 wide), 1 + 90 / 8.66 = 11 rows: 6 x 10 + 5 x 9; in a square lattice 100
        (Box(100, 100), 10, 105),
        # rows of 4 and 4 across 45 (half a body to spare), 1 + 90 / 8.66 = 11 of them, are 44; along 100 rows of 10 and 9,
        # 1 + 35 / 8.66 = 5 of them, are 48
        (Box(45, 100), 10, 48),
        (Box(100, 45), 10, 48),
        (Box(45, 48.5), 10, 20),  # 1 + 38.5 / 8.66 = 5 rows of 4
        # 42 wide: for rows of 4 and 4 the distance 32 / 3.5 = 9.143 would be too near, so rows of 4 and 3: 6 x 4 + 5 x 3 = 39; square 40
        (Box(42, 100), 10, 40),
        # 49 wide: rows of 4 at 39 / 3.5 = 11.143 and √(100 - 31.04) = 8.304 up: 1 + 90 / 8.304 = 11 rows of 4; 91.4 high, 12 rows
        (Box(49, 101.4), 10, 48),
    ],
)
def test_rows_hold_as_many_as_worked_out(inside: Inside, diameter: float, count: int) -> None:
    found, placed = most_in_rows(inside, diameter)
    assert found == count == len(placed)
    assert overlap_um(inside, [circle(diameter)] * count, placed) < 1e-6


def test_a_wide_tray_is_answered_by_rows_at_once() -> None:
    # 600 x 60, cables of 6: rows of 100 and 99, 1 + 54 / 5.196 = 11 rows: 6 x 100 + 5 x 99 = 1095
    inside = Channel(600, 60)
    assert most_that_go_in(inside, circle(6)) == 1095
    packing = pack(inside, [circle(6)] * 1095, effort=Effort.QUICK)
    assert (packing.outcome, packing.tier) == (Found.FOUND, Tier.DROP)


def test_no_more_places_are_worked_out_than_are_asked_for() -> None:
    # three million side by side, in as many rows: to list them all would never end
    found, placed = most_in_rows(Box(3000.0, 3000.0), 0.001, 7)
    assert (found, len(placed)) == (7, 7)
    assert pack(Box(3000.0, 3000.0), [circle(0.001)] * 7).outcome is Found.FOUND
