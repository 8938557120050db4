"""The smallest insides that are found, against packings that are proved to be the best.

In radii. In a circle: N around nobody touch each other and the wall, so R - 1 = 1 / sin(180°/N); with one in the middle it's the
same for N - 1, and R = 3 if those are
six or fewer. 13 and 19 have closed forms in the proofs' literature, and agree with the shared table.
"""

import csv
import math
from pathlib import Path

import pytest

from checker.section.packing import Effort, Found, pack, smallest
from checker.section.shapes import Box, Inside, Round, circle

UNIT = circle(2)


def _ring(count: int) -> float:
    return 1.0 + 1.0 / math.sin(math.pi / count)


@pytest.mark.parametrize(
    ("count", "radius"),
    [
        (1, 1.0),
        (2, _ring(2)),
        (3, _ring(3)),
        (4, _ring(4)),
        (5, _ring(5)),
        (6, _ring(6)),
        (7, 3.0),
        (8, _ring(7)),
        (9, _ring(8)),
        (13, 2.0 + math.sqrt(5.0)),
        (19, 1.0 + math.sqrt(2.0) + math.sqrt(6.0)),
    ],
)
def test_equal_circles_in_the_smallest_circle(count: int, radius: float) -> None:
    found = smallest(Round, [UNIT] * count, effort=Effort.USUAL) / 2.0
    assert radius * (1.0 - 1e-6) <= found <= radius * 1.005


@pytest.mark.parametrize(
    ("count", "side"),
    [
        (1, 2.0),
        (2, 2.0 + math.sqrt(2.0)),  # on the diagonal: centres 2 apart, √2 across
        (3, 2.0 + 2.0 * math.cos(math.radians(15))),  # an equal-sided triangle of 2 turned by 15° in its square
        (4, 4.0),
        (5, 2.0 + 2.0 * math.sqrt(2.0)),  # one in the middle of four: the diagonal of the centres is 4
        (6, 2.0 + 12.0 / math.sqrt(13.0)),  # centres at distance √13 / 6 of the side of theirs
        (
            8,
            2.0 + 4.0 * math.cos(math.radians(15)),
        ),  # centres at distance (√6 - √2) / 2 = 1 / (2 cos 15°) of the side of theirs
        (9, 6.0),
        (16, 8.0),
    ],
)
def test_equal_circles_in_the_smallest_square(count: int, side: float) -> None:
    found = smallest(lambda size: Box(size, size), [UNIT] * count, effort=Effort.USUAL)
    assert side * (1.0 - 1e-6) <= found <= side * 1.005


def test_thorough_looking_agrees_with_itself() -> None:
    found = smallest(Round, [UNIT] * 4)
    assert found / 2.0 == pytest.approx(1.0 + math.sqrt(2.0), rel=1e-5)
    assert pack(Round(found), [UNIT] * 4, effort=Effort.THOROUGH).outcome is Found.FOUND
    assert pack(Round(found * 0.9999), [UNIT] * 4, effort=Effort.THOROUGH).outcome is Found.NOT_FOUND


def test_insides_that_are_not_of_one_form_are_halved_between() -> None:
    def tall(size: float) -> Inside:
        return Box(4.0, size)

    # one or two on the floor; a third in the notch between them, √3 up; six in three rows
    for count, height in ((1, 2.0), (2, 2.0), (3, 2.0 + math.sqrt(3.0)), (6, 6.0)):
        assert smallest(tall, [UNIT] * count, effort=Effort.QUICK) == pytest.approx(height, rel=2e-4)


def test_nothing_needs_no_size() -> None:
    assert smallest(Round, []) == 0.0


@pytest.mark.corpus
def test_the_shared_table_of_circles_is_met_where_it_is_quick(shared: Path) -> None:
    with (shared / "figures/7c_circles_in_circle.csv").open(encoding="utf-8") as lines:
        best = {int(row["N"]): float(row["R_over_r"]) for row in csv.DictReader(lines)}
    for count in (10, 11, 12, 14, 20):
        found = smallest(Round, [UNIT] * count, effort=Effort.USUAL) / 2.0
        assert best[count] * (1.0 - 1e-6) <= found <= best[count] * 1.005
