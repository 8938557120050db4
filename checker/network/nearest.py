"""Where the carriers of two parts of a network come nearest to each other, exactly, and where a fitting was likelier forgotten."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING

from checker.model import Carrier, Vec
from checker.network.bodies import HAIR_MM, SAME_WAY_DEG
from checker.network.joins import END, START
from checker.network.lines import TIE_MM, Lines, apart, dot, near_pairs, spots

if TYPE_CHECKING:
    from checker.network.lines import Floats, Numbers

#: An open end is the likelier place up to so many times the least gap and so much more. A missing bend or tee is 100 to 400 mm long and
#: trays pass each other at 200 to 400 mm, so that the gap of the place that was forgotten is often somewhat larger than one that is meant.
LIKELY_TIMES, LIKELY_MORE_MM = 1.5, 50.0
#: What is farther apart than this lacks more than a fitting; no likelier place is looked for there.
MOST_FITTING_MM = 3000.0
#: Coordinates beyond this, or that are no numbers, are no place: farther than around the earth.
FARTHEST_MM = 1e11


@dataclass(frozen=True, slots=True)
class Pair:
    """Two carriers, a place on the axis of each, and how far apart these are. ``open_ends``: how many of the places are open ends."""

    one: str
    other: str
    one_mm: Vec
    other_mm: Vec
    gap_mm: float
    open_ends: int


@dataclass(frozen=True, slots=True)
class Nearest:
    """The pair with the least gap, and the pair at which a fitting was likelier forgotten; often the same."""

    least: Pair
    likely: Pair


class Side:
    """The carriers of one part, as arrays; those without a known axis are left out.

    Args:
        carriers: In any order.
        joined: Ends of carriers that something is joined to, as ``Spot.mark``; the others are open.
    """

    def __init__(self, carriers: Sequence[Carrier], joined: Set[tuple[str, str]] = frozenset()) -> None:
        import numpy as np

        placed = sorted((one for one in carriers if is_placed(one)), key=lambda one: one.key)
        self.keys = [carrier.key for carrier in placed]
        starts: list[Vec] = []
        ends: list[Vec] = []
        owners: list[int] = []
        tips: list[Vec] = []
        inner: list[Vec] = []
        is_open: list[bool] = []
        for number, carrier in enumerate(placed):
            points = carrier.axis_mm
            starts += points[:-1]
            ends += points[1:]
            owners += [number] * (len(points) - 1)
            for where, order in ((START, points), (END, points[::-1])):
                tips.append(order[0])
                inner.append(next((point for point in order if point != order[0]), order[0]))
                is_open.append((carrier.key, where) not in joined)
        start = _array(starts)
        self.lines = Lines(start, _array(ends) - start, np.array(owners, dtype=np.intp))
        #: Two tips a carrier: where its axis ends, which way it leaves there (no way where it has no length), whether it is open.
        self.tips, self.is_open = _array(tips), np.array(is_open, dtype=bool)
        out = self.tips - _array(inner)
        self.out = out / np.maximum(np.sqrt(dot(out, out)), np.finfo(float).tiny)

    def open_tips(self) -> tuple[Lines, Numbers]:
        """Its open ends as lines without length, and which of the tips they are."""
        import numpy as np

        which = np.flatnonzero(self.is_open)
        points = self.tips[:, which]
        return Lines(points, np.zeros_like(points), which // 2), which

    def is_open_end(self, owner: Numbers, points: Floats) -> Numbers:
        """1 for each point that is an open end of its carrier, else 0."""
        found = owner < 0
        for end in (0, 1):
            off = self.tips[:, 2 * owner + end] - points
            found |= self.is_open[2 * owner + end] & (dot(off, off) <= HAIR_MM * HAIR_MM)
        return found.astype(int)


def is_placed(carrier: Carrier) -> bool:
    """Whether it is known where a carrier runs."""
    return bool(carrier.axis_mm) and all(abs(value) <= FARTHEST_MM for point in carrier.axis_mm for value in point)


def closest_pair(
    one: Sequence[Carrier], other: Sequence[Carrier], joined: Set[tuple[str, str]] = frozenset()
) -> Nearest | None:
    """Where two parts come nearest, and where a fitting was likelier forgotten.

    The least gap is the least distance between two axes, as polylines in space; gaps are told apart to a thousandth of a millimetre, and of
    as small ones the pair counts that has more open ends, then the one whose keys come first.

    The likelier place is our own judgement. A fitting is mostly forgotten at an open end, while carriers that cross or run along each other
    are often meant to pass. So the pair is taken in which an open end comes nearest to the other part, if that is within
    ``LIKELY_TIMES`` · least gap + ``LIKELY_MORE_MM``; of as near ones one with two open ends. An end beside something that runs the same
    way doesn't count, since neighbours in a bank end side by side: unless the other lies ahead of it, or has an open end within that reach
    that points against it. Beyond a least gap of ``MOST_FITTING_MM``, or without such an end, it is the pair with the least gap.

    Args:
        one: The carriers of the first part.
        other: Those of the second; none is in both.
        joined: Ends that something is joined to, as ``Spot.mark``. Not given: every end is taken for open.

    Returns:
        Both pairs; None where either part has no carrier with a known axis.
    """
    return nearest(Side(one, joined), Side(other, joined))


def nearest(one: Side, other: Side) -> Nearest | None:
    """As ``closest_pair``, of sides that are kept."""
    if not one.keys or not other.keys:
        return None
    least = _Search(one, other).least()
    if least.gap_mm > MOST_FITTING_MM:
        return Nearest(least, least)
    reach = LIKELY_TIMES * least.gap_mm + LIKELY_MORE_MM
    found = [_Search(one, other).at_ends(reach), _Search(other, one, is_turned=True).at_ends(reach)]
    ranked = [item for item in found if item is not None]
    return Nearest(least, min(ranked, key=lambda item: item[0])[1] if ranked else least)


#: The order of pairs: the least gap, the most open ends, the first keys; and the lines, so that nothing is left to chance.
Rank = tuple[float, int, str, str, int, int]
Lot = tuple["Numbers", "Numbers"]


class _Search:
    """Looks from one side to the other. ``is_turned``: what it looks from is the second of the pairs that it tells."""

    def __init__(self, here: Side, there: Side, *, is_turned: bool = False) -> None:
        self._here, self._there, self._is_turned = here, there, is_turned

    def least(self) -> Pair:
        """The pair with the least gap."""
        lines = self._here.lines
        lots = near_pairs(lines, self._there.lines, None)
        return min(self._ranked(lines, lots))[1]

    def at_ends(self, reach_mm: float) -> tuple[Rank, Pair] | None:
        """The pair in which an open end from here is nearest to what is there, of those that count."""
        tips, which = self._here.open_tips()
        lots = self._counting(tips, which, near_pairs(tips, self._there.lines, reach_mm), reach_mm)
        return min(self._ranked(tips, lots), default=None)

    def _counting(self, tips: Lines, which: Numbers, lots: Iterator[Lot], reach_mm: float) -> Iterator[Lot]:
        """Of pairs of an open end and a line those that are near enough and not just beside each other."""
        import numpy as np

        turn = math.radians(SAME_WAY_DEG)
        here, there = self._here, self._there
        for i, j in lots:
            gap, _, along = apart(tips, there.lines, i, j)
            out, way, tip = here.out[:, which[i]], there.lines.way[:, j], tips.start[:, i]
            is_beside = np.abs(dot(out, way)) >= math.cos(turn) * np.sqrt(dot(way, way))
            is_beside &= (dot(out, out) > 0.0) & (dot(way, way) > 0.0) & (gap > TIE_MM)
            is_beside &= dot(spots(there.lines, j, along) - tip, out) <= math.sin(turn) * gap
            for end in (0, 1):
                facing = 2 * there.lines.owner[j] + end
                away = there.tips[:, facing] - tip
                is_against = there.is_open[facing] & (dot(there.out[:, facing], out) <= -math.cos(turn))
                is_beside &= ~(is_against & (dot(away, away) <= reach_mm * reach_mm))
            counts = ~is_beside & (gap <= reach_mm)
            yield i[counts], j[counts]

    def _ranked(self, lines: Lines, lots: Iterator[Lot]) -> Iterator[tuple[Rank, Pair]]:
        """The first pair of each lot."""
        import numpy as np

        here, there = self._here, self._there
        for i, j in lots:
            if not len(i):
                continue
            exact, on_a, on_b = apart(lines, there.lines, i, j)
            gaps = np.round(exact / TIE_MM)
            near = np.flatnonzero(gaps == gaps.min())
            a, b = spots(lines, i[near], on_a[near]), spots(there.lines, j[near], on_b[near])
            first, second = lines.owner[i[near]], there.lines.owner[j[near]]
            ends = here.is_open_end(first, a) + there.is_open_end(second, b)
            at = self._first(ends, first, second)
            one, other, open_ends = here.keys[first[at]], there.keys[second[at]], int(ends[at])
            low, high = sorted((one, other))
            rank = (float(gaps.min()), -open_ends, low, high, int(i[near[at]]), int(j[near[at]]))
            sides = [(one, _vec(a[:, at])), (other, _vec(b[:, at]))]
            (one, one_mm), (other, other_mm) = reversed(sides) if self._is_turned else sides
            yield rank, Pair(one, other, one_mm, other_mm, float(exact[near[at]]), open_ends)

    def _first(self, ends: Numbers, first: Numbers, second: Numbers) -> int:
        """Of pairs as far apart, by the numbers of their carriers and in the order of lines: the one that counts."""
        import numpy as np

        left = np.flatnonzero(ends == ends.max())
        owners = [first, second]
        if self._there.keys[second[left].min()] < self._here.keys[first[left].min()]:
            owners.reverse()
        for owner in owners:
            left = left[owner[left] == owner[left].min()]
        return int(left[0])


def _array(points: Sequence[Vec]) -> Floats:
    import numpy as np

    return np.array(points, dtype=float).reshape(-1, 3).T


def _vec(point: Floats) -> Vec:
    return (float(point[0]), float(point[1]), float(point[2]))
