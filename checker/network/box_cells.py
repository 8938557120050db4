"""Finds which boxes along the world's axes a straight piece may meet without looking at all: boxes by the cells of space that they fill."""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator

from checker.model import Vec
from checker.model.geometry import midpoint

#: The smallest cell. A box lies among cells so large that it fills no more than ``MOST_CELLS`` of them.
LEAST_MM = 2000.0
MOST_CELLS = 512
#: A piece that may pass more cells than this is halved first: the box around a slanting one is mostly empty.
MOST_AT_ONCE = 64
#: No piece is halved more often.
DEEPEST = 16
#: A piece along more cells than this is no way of a carrier: all boxes are looked at rather than all cells.
LONGEST = 100_000

Cell = tuple[int, int, int]
#: The least and the greatest of each coordinate.
Box = tuple[Vec, Vec]


def box_of(points: list[Vec], margin_mm: float = 0.0) -> Box:
    """The box around points, and so much more on every side."""
    low = [min(point[i] for point in points) - margin_mm for i in range(3)]
    high = [max(point[i] for point in points) + margin_mm for i in range(3)]
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def meet(one: Box, other: Box) -> bool:
    """Whether two boxes touch or overlap."""
    return all(one[0][i] <= other[1][i] and other[0][i] <= one[1][i] for i in range(3))


class BoxCells:
    """Numbers of boxes by the cells that they fill."""

    def __init__(self) -> None:
        self._boxes: list[Box] = []
        self._levels: dict[float, dict[Cell, list[int]]] = {}

    def add(self, box: Box) -> None:
        """Puts a box in; they are numbered as they come."""
        number = len(self._boxes)
        self._boxes.append(box)
        size = LEAST_MM
        while math.isfinite(size) and _count(box, size) > MOST_CELLS:
            size *= 2.0
        cells = self._levels.setdefault(size, defaultdict(list))
        for cell in _cells(box, size):
            cells[cell].append(number)

    def near(self, a: Vec, b: Vec, margin_mm: float) -> list[int]:
        """The boxes that a straight piece may meet, or come nearer to than a margin, by number."""
        found: set[int] = set()
        whole = box_of([a, b], margin_mm)
        for size, cells in self._levels.items():
            if max(high - low for low, high in (_span(whole, size, axis) for axis in range(3))) > LONGEST:
                return [number for number, box in enumerate(self._boxes) if meet(box, whole)]
            todo = [(a, b, 0)]
            while todo:
                p, q, depth = todo.pop()
                box = box_of([p, q], margin_mm)
                if depth < DEEPEST and _count(box, size) > MOST_AT_ONCE:
                    middle = midpoint(p, q)
                    todo += [(p, middle, depth + 1), (middle, q, depth + 1)]
                    continue
                for cell in _cells(box, size):
                    found.update(number for number in cells.get(cell, ()) if meet(box, self._boxes[number]))
        return sorted(found)


def _span(box: Box, size: float, axis: int) -> tuple[int, int]:
    return int(box[0][axis] // size), int(box[1][axis] // size)


def _count(box: Box, size: float) -> int:
    return math.prod(high - low + 1 for low, high in (_span(box, size, axis) for axis in range(3)))


def _cells(box: Box, size: float) -> Iterator[Cell]:
    x, y, z = (range(low, high + 1) for low, high in (_span(box, size, axis) for axis in range(3)))
    return itertools.product(x, y, z)
