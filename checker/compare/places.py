"""Where carriers lie, as far as two models can be compared by it, and how they moved."""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model import Vec
from checker.result.tables import CarrierRow

#: What lies nearer than this to where it lay hasn't moved: exports round.
MOVED_MM = 1.0
#: An element made anew is found this near to where the earlier one lay.
ANEW_MM = 100.0

#: What is said to lie farther from the origin than this isn't known to lie anywhere.
FARTHEST_MM = 1e12


@dataclass(frozen=True, slots=True)
class Extent:
    """The extents of a body along the axes of the world, in mm."""

    least_mm: Vec
    most_mm: Vec

    @property
    def centre_mm(self) -> Vec:
        """Its middle."""
        (a, b, c), (d, e, f) = self.least_mm, self.most_mm
        return (a + d) / 2.0, (b + e) / 2.0, (c + f) / 2.0


def extent_of(row: CarrierRow) -> Extent | None:
    """The extents of a carrier's boxes; None where it isn't known where it is."""
    if not row.boxes:
        return None
    ends = []
    for box in row.boxes:
        for side in (min, max):
            shifts = (sum(side(0.0, edge[axis]) for edge in box.edges_mm) for axis in range(3))
            ends.append([corner + shift for corner, shift in zip(box.corner_mm, shifts, strict=True)])
    if not all(abs(value) < FARTHEST_MM for end in ends for value in end):
        return None
    (a, b, c), (d, e, f) = ([side(end[axis] for end in ends) for axis in range(3)] for side in (min, max))
    return Extent((a, b, c), (d, e, f))


def shift_mm(old: Extent, new: Extent) -> Vec:
    """How the middle moved."""
    (a, b, c), (d, e, f) = old.centre_mm, new.centre_mm
    return d - a, e - b, f - c


def lies_elsewhere(old: Extent, new: Extent) -> bool:
    """Whether any side of the extents moved."""
    return max(math.dist(old.least_mm, new.least_mm), math.dist(old.most_mm, new.most_mm)) > MOVED_MM


def overlap(old: Extent | None, new: Extent | None) -> bool:
    """Whether two extents have some room in common; not where one of them isn't known."""
    if old is None or new is None:
        return False
    return all(
        max(old.least_mm[axis], new.least_mm[axis]) < min(old.most_mm[axis], new.most_mm[axis]) for axis in range(3)
    )


def common_shift(shifts: Sequence[Vec]) -> Vec | None:
    """By what all of several moved, to a mm; None where they didn't all move alike, or are too few to say so."""
    rounded = Counter(tuple(round(value) for value in shift) for shift in shifts)
    if len(shifts) < 3 or len(rounded) != 1:
        return None
    x, y, z = next(iter(rounded))
    return (float(x), float(y), float(z)) if any((x, y, z)) else None
