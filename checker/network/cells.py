"""Finds what lies near a point without looking at everything: cells of space with what passes them."""

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence

from checker.model import Vec
from checker.model.geometry import distance, sub

Cell = tuple[int, int, int]
AROUND: tuple[Cell, ...] = tuple((i, j, k) for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1))
#: A piece longer than so many cells goes into larger ones, so that none takes more than its share of work.
MOST_STEPS = 256


class Grid:
    """Numbers of things by the cells that their axes pass.

    Cells come in sizes that double: a thing lies among those that are large enough for its own reach and length. Its axis is sampled every
    half cell, and a look takes the 27 cells around a point; so it finds whatever lies within reach, and some more.

    Args:
        reach_mm: How far from a thing's body a look must still find it.
    """

    def __init__(self, reach_mm: float) -> None:
        self._reach_mm = reach_mm
        self._least_mm = max(reach_mm, 1.0) * 4.0 / 3.0
        self._levels: dict[float, dict[Cell, list[int]]] = {}

    def add(self, number: int, points: Sequence[Vec], radius_mm: float = 0.0) -> None:
        """Puts a thing in.

        Args:
            number: Its own, which no other has.
            points: Of its axis, in order; one is enough.
            radius_mm: How far its body reaches from that.
        """
        pieces = [(a, b, distance(a, b)) for a, b in itertools.pairwise(points)]
        longest = max([length for _, _, length in pieces], default=0.0)
        need = max((self._reach_mm + radius_mm) * 4.0 / 3.0, 2.0 * longest / MOST_STEPS)
        if not math.isfinite(need):
            return
        size = self._least_mm
        if need > size:
            size *= 2.0 ** math.ceil(math.log2(need / size))
        here = {_cell(points[0], size)}
        for a, b, length in pieces:
            steps = int(2.0 * length / size) + 1
            (x, y, z), (u, v, w) = a, sub(b, a)
            shares = [step / steps for step in range(1, steps + 1)]
            here.update([_cell((x + u * share, y + v * share, z + w * share), size) for share in shares])
        cells = self._levels.setdefault(size, defaultdict(list))
        for cell in here:
            cells[cell].append(number)

    def near(self, point: Vec, most: int) -> list[int] | None:
        """What may lie within reach of a point, in the order in which it was put in; None where that is more than ``most``."""
        found: set[int] = set()
        for size, cells in self._levels.items():
            x, y, z = _cell(point, size)
            for i, j, k in AROUND:
                numbers = cells.get((x + i, y + j, z + k))
                if numbers is None:
                    continue
                if len(numbers) > most:  # looked at first: a crowd takes no longer than any other cell
                    return None
                found.update(numbers)
                if len(found) > most:
                    return None
        return sorted(found)


def _cell(point: Vec, size: float) -> Cell:
    return (int(point[0] // size), int(point[1] // size), int(point[2] // size))
