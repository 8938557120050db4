"""How far apart straight stretches of carriers are: the clear distance between their outsides, never more than it is.

A straight stretch of a carrier is a prism. Two prisms are as far apart as the widest gap between them in any direction that is tried: along
and across each of them, between their nearest points, and along the model's axes. A gap in any direction is no more than what is clear.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checker.model import Carrier, Vec
from checker.model.geometry import cross, distance, scale, sub, unit
from checker.network.nearest import is_placed as has_place

Floats = NDArray[np.float64]

#: A way is looked at in pieces of this length, so that a length that is near is right to one of them at each end, and never too short.
PIECE_MM = 50.0
#: So many pairs of stretches are measured at a time.
AT_A_TIME = 100_000
#: So that what is exactly as far apart as it should be isn't nearer by the last bit of a float.
HAIR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Stretches:
    """Straight stretches of carriers. Arrays go by stretch; ``across``, ``up`` are (n, 3), half sizes (n,), all in mm.

    ``keys``: of the carrier of each. A round section, or one that isn't known to lie either way, has a ``radius`` only.
    """

    keys: tuple[str, ...]
    start: Floats
    end: Floats
    across: Floats
    up: Floats
    half_width: Floats
    half_height: Floats
    radius: Floats

    def some(self, numbers: NDArray[np.int64]) -> "Stretches":
        """Those of some numbers."""
        keys = tuple(self.keys[number] for number in numbers)
        return Stretches(keys, *(values[numbers] for values in self._arrays()))

    def _arrays(self) -> tuple[Floats, ...]:
        return (self.start, self.end, self.across, self.up, self.half_width, self.half_height, self.radius)

    def cut(self) -> "Stretches":
        """The same in pieces that are no longer than ``PIECE_MM``."""
        lengths = np.linalg.norm(self.end - self.start, axis=1)
        counts = np.maximum(1, np.ceil(lengths / PIECE_MM - HAIR_MM).astype(np.int64))
        numbers = np.repeat(np.arange(len(counts)), counts)
        place = np.arange(len(numbers)) - np.repeat(np.cumsum(counts) - counts, counts)
        whole = self.some(numbers)
        along = (whole.end - whole.start) / counts[numbers][:, None]
        start = whole.start + along * place[:, None]
        rest = (whole.across, whole.up, whole.half_width, whole.half_height, whole.radius)
        return Stretches(whole.keys, start, start + along, *rest)

    def half_mm(self, directions: Floats) -> Floats:
        """How far the section of each reaches from its axis in a direction of its own, (n, 3), in mm."""
        over = self.half_width * np.abs(np.einsum("ij,ij->i", directions, self.across))
        high = self.half_height * np.abs(np.einsum("ij,ij->i", directions, self.up))
        half: Floats = self.radius + over + high
        return half


def stretches_of(carriers: Mapping[str, Carrier], passed: Mapping[str, Sequence[tuple[float, float]]]) -> Stretches:
    """The straight stretches of a way.

    Args:
        carriers: By key.
        passed: Of each carrier on the way the spans along its axis, in mm. Those of which the axis isn't known are left out.
    """
    rows = [row for key in sorted(passed) for row in _rows(carriers[key], passed[key])]
    columns = list(zip(*rows, strict=True)) if rows else [()] * 8
    points = [np.array(column, dtype=float).reshape(-1, 3) for column in columns[1:5]]
    sizes = [np.array(column, dtype=float) for column in columns[5:8]]
    return Stretches(tuple(str(key) for key in columns[0]), *points, *sizes)


def is_placed(carrier: Carrier) -> bool:
    """Whether where a carrier runs is known, and how large it is outside."""
    section = carrier.section
    is_sized = section.outside_diameter_mm is not None or None not in (section.width_mm, _height_mm(carrier))
    return has_place(carrier) and is_sized


def _height_mm(carrier: Carrier) -> float | None:
    section = carrier.section
    return section.height_mm if section.height_mm is not None else section.usable_depth_mm


def _rows(carrier: Carrier, spans: Iterable[tuple[float, float]]) -> Iterable[tuple[object, ...]]:
    section, axis = carrier.section, carrier.axis_mm
    width, height = section.width_mm or 0.0, _height_mm(carrier) or 0.0
    radius = (section.outside_diameter_mm or section.bore_mm or 0.0) / 2.0
    for low, high in spans:
        for start, end in _parts(axis, low, high):
            along = unit(sub(end, start))
            up = unit(cross(along, carrier.across)) if along is not None and carrier.across is not None else None
            if section.is_round:
                sizes = (0.0, 0.0, radius)
            elif up is None or carrier.corners_mm:
                sizes = (0.0, 0.0, math.hypot(width, height) / 2.0)
            else:
                sizes = (width / 2.0, height / 2.0, 0.0)
            across = cross(up, along) if up is not None and along is not None else (0.0, 0.0, 0.0)
            yield (carrier.key, start, end, across, up or (0.0, 0.0, 0.0), *sizes)


def _parts(axis: Sequence[Vec], low_mm: float, high_mm: float) -> Iterable[tuple[Vec, Vec]]:
    """The straight parts of an axis between two places along it; a single point where it is passed at one place only."""
    done, last = 0.0, None
    for start, end in itertools.pairwise(axis):
        length = distance(start, end)
        low, high = max(low_mm - done, 0.0), min(high_mm - done, length)
        if low <= high and length > 0.0:
            step = scale(sub(end, start), 1.0 / length)
            ends = tuple(
                (start[0] + step[0] * at, start[1] + step[1] * at, start[2] + step[2] * at) for at in (low, high)
            )
            if low < high or last is None:
                yield ends[0], ends[1]
                last = ends[1]
        done += length
    if last is None and axis:  # beyond its end by the last bit of a float, or an axis of no length
        yield axis[-1], axis[-1]


def clear_mm(ones: Stretches, others: Stretches) -> Floats:
    """The clear distance of pairs of stretches, row by row, in mm: never more than it is, 0 where they touch."""
    faces = (ones.across, ones.up, others.across, others.up, ones.end - ones.start, others.end - others.start)
    between = (
        *(_to(point, others) for point in (ones.start, ones.end)),
        *(_to(point, ones) for point in (others.start, others.end)),
        np.cross(ones.end - ones.start, others.end - others.start),
    )
    axes = (np.broadcast_to(np.eye(3)[number], ones.start.shape) for number in range(3))
    best = np.zeros(len(ones.keys))
    for directions in (*faces, *between, *axes):
        lengths = np.linalg.norm(directions, axis=1)
        at = directions / np.where(lengths > HAIR_MM, lengths, 1.0)[:, None]
        low, high = _reach(ones, at)
        other_low, other_high = _reach(others, at)
        gap = np.maximum(other_low - high, low - other_high)
        best = np.maximum(best, np.where(lengths > HAIR_MM, gap, 0.0))
    return best


def _to(points: Floats, stretches: Stretches) -> Floats:
    """From points to the nearest places of stretches' axes, row by row."""
    along = stretches.end - stretches.start
    square = np.einsum("ij,ij->i", along, along)
    at = np.einsum("ij,ij->i", points - stretches.start, along) / np.where(square > 0.0, square, 1.0)
    nearest: Floats = stretches.start + along * np.clip(at, 0.0, 1.0)[:, None]
    return nearest - points


def _reach(stretches: Stretches, directions: Floats) -> tuple[Floats, Floats]:
    """From where to where stretches reach in directions of their own."""
    ends = [np.einsum("ij,ij->i", point, directions) for point in (stretches.start, stretches.end)]
    half = stretches.half_mm(directions)
    return np.minimum(*ends) - half, np.maximum(*ends) + half


def pairs_within(
    one: Stretches, other: Stretches, wanted_mm: float
) -> Iterator[tuple[NDArray[np.int64], NDArray[np.int64], Floats]]:
    """Pairs whose boxes along the model's axes are nearer than that, so many at a time, with how far apart those are."""
    boxes, beside = _boxes(one), _boxes(other)
    step = max(1, AT_A_TIME // max(1, len(other.keys)))
    for first in range(0, len(one.keys), step):
        low, high = (box[first : first + step, None] for box in boxes)
        gaps = np.maximum(np.maximum(beside[0][None] - high, low - beside[1][None]), 0.0)
        apart = np.linalg.norm(gaps, axis=2)
        rows, columns = np.nonzero(apart < wanted_mm)
        if len(rows):
            yield rows + first, columns, apart[rows, columns]


def _boxes(stretches: Stretches) -> tuple[Floats, Floats]:
    sides = [_reach(stretches, np.broadcast_to(np.eye(3)[number], stretches.start.shape)) for number in range(3)]
    low, high = (np.stack([side[at] for side in sides], axis=1) for at in (0, 1))
    return low, high
