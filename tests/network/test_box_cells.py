"""Boxes by cells: what may meet a piece is found, and little else."""

import itertools
import random
import time

import pytest

from checker.model import Vec
from checker.model.geometry import add, scale
from checker.network.box_cells import BoxCells, box_of, meet


def test_cells_find_every_box_that_a_piece_meets() -> None:
    dice = random.Random(7)  # noqa: S311 - the same boxes every time

    def point(size: float) -> Vec:
        return dice.uniform(-size, size), dice.uniform(-size, size), dice.uniform(-size / 5, size / 5)

    boxes = [
        box_of([at, add(at, point(dice.choice([300.0, 4000.0, 90_000.0])))])
        for at in (point(60_000) for _ in range(300))
    ]
    cells = BoxCells()
    for box in boxes:
        cells.add(box)
    for _ in range(40):
        a = point(60_000)
        b = add(a, point(dice.choice([500.0, 8000.0, 150_000.0])))
        found = cells.near(a, b, 100.0)
        for step in range(41):  # what touches a point of the piece must be among them
            at = add(a, scale(add(b, scale(a, -1.0)), step / 40))
            assert {n for n, box in enumerate(boxes) if meet(box_of([at], 100.0), box)} <= set(found)
        assert all(meet(box_of([a, b], 100.0), boxes[number]) for number in found)


def test_cells_keep_apart_what_lies_apart() -> None:
    """A slanting piece of 400 m among ten thousand boxes meets few: the box around it holds them all."""
    cells = BoxCells()
    for i, j in itertools.product(range(100), range(100)):
        cells.add(((i * 4000.0, j * 4000.0, 0.0), (i * 4000.0 + 100, j * 4000.0 + 100, 3000.0)))
    assert len(cells.near((0.0, 0.0, 0.0), (400_000.0, 400_000.0, 0.0), 0.0)) < 1000


@pytest.mark.parametrize("far", [1e9, 1e15])
def test_a_piece_longer_than_any_building_finds_its_boxes_in_no_time(far: float) -> None:
    """In cells of 2 m it would pass 500,000 and 500,000,000,000 of them."""
    cells = BoxCells()
    cells.add(((0.0, 0.0, 0.0), (10_000.0, 200.0, 3000.0)))
    cells.add(((0.0, 0.0, 9000.0), (10_000.0, 200.0, 9100.0)))
    start = time.process_time()
    assert cells.near((-far, -far, 0.0), (far, far, 0.0), 100.0) == [0]
    assert time.process_time() - start < 1.0
