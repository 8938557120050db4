"""Straight lines in space as arrays: how far apart pairs of them are, and which of many can be the nearest. Points are (3, n), in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.intp]

#: Gaps are told apart to this.
TIE_MM = 1e-3
#: So many pairs are compared one by one, and held at a time.
MOST_PAIRS_HELD = 1_000_000
#: Lines aren't cut into more pieces than this, of both sides, or into shorter ones.
MOST_PIECES, SHORTEST_MM = 2_000_000, 1.0
#: In a crowd where all are as near as each other, so many pairs are compared; what is told then is one of the nearest.
MOST_COMPARED = 12_000_000
#: Each time they are cut the longest becomes so many times shorter.
CUT = 4


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines from a point along a way, each of an owner, by its number. A line may have no length."""

    start: Floats
    way: Floats
    owner: Numbers

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.owner)


def dot(a: Floats, b: Floats) -> Floats:
    """Scalar products. Written out, so that each is the same to the last digit wherever it stands in the array."""
    product: Floats = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return product


def spots(lines: Lines, which: Numbers, along: Floats) -> Floats:
    """The points of some lines at a share of their way, 0 to 1."""
    return lines.start[:, which] + lines.way[:, which] * along


def apart(a: Lines, b: Lines, i: Numbers, j: Numbers) -> tuple[Floats, Floats, Floats]:
    """How far apart pairs of lines are.

    The least is at an end of either line, or inside both, where what joins them is square to both. All five are tried, and of as small ones
    an end is taken.

    Args:
        a: Some lines.
        b: Others.
        i: Of each pair the number in ``a``.
        j: And in ``b``.

    Returns:
        The gaps in mm, and the share of the way at which they are on the line of ``a`` and on that of ``b``, 0 to 1.
    """
    import numpy as np

    u, v, w = a.way[:, i], b.way[:, j], a.start[:, i] - b.start[:, j]
    uu, vv, uv, uw, vw = dot(u, u), dot(v, v), dot(u, v), dot(u, w), dot(v, w)
    none, whole = np.zeros_like(uu), np.ones_like(uu)
    inside = _share(uv * vw - vv * uw, uu * vv - uv * uv)
    tried = (
        (none, _share(vw, vv)),
        (whole, _share(vw + uv, vv)),
        (_share(-uw, uu), none),
        (_share(uv - uw, uu), whole),
        (inside, _share(vw + inside * uv, vv)),
    )
    best, on_a, on_b = np.full_like(uu, np.inf), none, none
    for s, t in tried:
        between = w + s * u - t * v
        squared = dot(between, between)
        is_less = squared < best
        best, on_a, on_b = np.where(is_less, squared, best), np.where(is_less, s, on_a), np.where(is_less, t, on_b)
    return np.sqrt(best), on_a, on_b


def _share(part: Floats, whole: Floats) -> Floats:
    """Part of whole, kept to 0 to 1; 0 of nothing."""
    import numpy as np

    with np.errstate(over="ignore"):
        return np.clip(np.divide(part, whole, out=np.zeros_like(part), where=whole > 0.0), 0.0, 1.0)


def near_pairs(a: Lines, b: Lines, within_mm: float | None) -> Iterator[tuple[Numbers, Numbers]]:
    """Pairs of lines in lots, among which are all that are the nearest, or within a distance; and others.

    Lines are cut into pieces, each with its middle and half its length. Two pieces are at least as far apart as their middles less both
    halves, so a piece whose nearest middle is farther than that from a distance found already (of whole lines, exactly) can't be the
    nearest and is left out. What is left is cut finer until the pairs that can be the nearest are few.

    Args:
        a: Some lines.
        b: Others.
        within_mm: The distance; None: the nearest, with all that are as near to ``TIE_MM``.
    """
    import numpy as np

    if a.count * b.count <= MOST_PAIRS_HELD:
        if a.count and b.count:
            yield np.repeat(np.arange(a.count), b.count), np.tile(np.arange(b.count), a.count)
        return
    yield from _sifted(a, b, within_mm)


def _sifted(a: Lines, b: Lines, within_mm: float | None) -> Iterator[tuple[Numbers, Numbers]]:
    import numpy as np
    from scipy.spatial import cKDTree

    one, other = _Pieces.of(a), _Pieces.of(b)
    limit = _first_limit(a, b) if within_mm is None else within_mm
    fewest: tuple[int, _Pieces, _Pieces] | None = None
    while True:
        bound = limit + 2.0 * TIE_MM
        # by boxes first: a search for the nearest in a crowd that is far away would look at all of it
        one, other = one.kept(other.box_off(one) <= bound), other.kept(one.box_off(other) <= bound)
        if not one.count or not other.count:
            return
        off, nearest = cKDTree(other.middle.T).query(
            one.middle.T, distance_upper_bound=bound + one.longest + other.longest
        )
        found = np.flatnonzero(off < math.inf)
        if within_mm is None and len(found):
            gaps, _, _ = apart(a, b, one.line[found], other.line[nearest[found]])
            limit = min(limit, float(gaps.min()))
            bound = limit + 2.0 * TIE_MM
        one = one.kept(off - one.half <= bound + other.longest)
        if not one.count:
            return
        tree = cKDTree(one.middle.T)
        off, _ = tree.query(other.middle.T, distance_upper_bound=bound + one.longest + other.longest)
        other = other.kept(off - other.half <= bound + one.longest)
        if not other.count:
            return
        expected = int(tree.count_neighbors(cKDTree(other.middle.T), bound + one.longest + other.longest))
        target = max(one.longest, other.longest) / CUT
        if fewest is None or expected < fewest[0]:
            fewest = (expected, one, other)
        # where all are as near, as in a bank, cutting makes more pairs instead of fewer
        is_no_use = expected > 2 * fewest[0] or target < SHORTEST_MM
        if expected <= MOST_PAIRS_HELD or is_no_use or one.cuts(target) + other.cuts(target) > MOST_PIECES:
            yield from _left(*fewest, bound)
            return
        one, other = one.cut(target), other.cut(target)


def _left(expected: int, one: _Pieces, other: _Pieces, bound_mm: float) -> Iterator[tuple[Numbers, Numbers]]:
    """The pairs of lines of which pieces are left, in lots: by their pieces, or all with all where those are fewer."""
    import numpy as np
    from scipy.spatial import cKDTree

    of_one, of_other = np.unique(one.line), np.unique(other.line)
    plain = len(of_one) * len(of_other)
    lots = min(
        max(math.ceil(min(plain, expected) / MOST_PAIRS_HELD), 1), len(of_one) if plain <= expected else one.count
    )
    if plain <= expected:
        for lot in np.array_split(of_one, lots)[: max(MOST_COMPARED // MOST_PAIRS_HELD, 1)]:
            yield np.repeat(lot, len(of_other)), np.tile(of_other, len(lot))
        return
    tree, reach = cKDTree(other.middle.T), bound_mm + one.longest + other.longest
    times = int(other.line.max()) + 1
    for lot in np.array_split(np.arange(one.count), lots)[: max(MOST_COMPARED // MOST_PAIRS_HELD, 1)]:
        part = one.kept(lot)
        found = cKDTree(part.middle.T).sparse_distance_matrix(tree, reach, output_type="ndarray")
        i, j = found["i"], found["j"]
        can_be = found["v"] - part.half[i] - other.half[j] <= bound_mm
        pairs = np.unique(part.line[i[can_be]] * times + other.line[j[can_be]])
        if len(pairs):
            yield pairs // times, pairs % times


def _first_limit(a: Lines, b: Lines) -> float:
    """A gap that is there, to begin with: from one line to the nearest of the others, and from that one back."""
    import numpy as np

    all_a, all_b = np.arange(a.count), np.arange(b.count)
    first = np.argmin(_Pieces.of(b).box_off(_Pieces.of(a)))
    there = np.argmin(apart(a, b, np.full_like(all_b, first), all_b)[0])
    return float(apart(a, b, all_a, np.full_like(all_a, there))[0].min())


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Pieces of lines: the middle of each, half its length, its way from the middle to its end, and the number of its line."""

    middle: Floats
    ahead: Floats
    half: Floats
    line: Numbers

    @classmethod
    def of(cls, lines: Lines) -> _Pieces:
        """Each line as one piece."""
        import numpy as np

        ahead = lines.way / 2.0
        return cls(lines.start + ahead, ahead, np.sqrt(dot(ahead, ahead)), np.arange(lines.count))

    @property
    def count(self) -> int:
        return len(self.line)

    @property
    def longest(self) -> float:
        """Half the length of the longest."""
        return float(self.half.max())

    def box_off(self, others: _Pieces) -> Floats:
        """How far other pieces are at least from the box around all of these."""
        import numpy as np

        low = (self.middle - np.abs(self.ahead)).min(axis=1)[:, None]
        high = (self.middle + np.abs(self.ahead)).max(axis=1)[:, None]
        off = np.maximum(np.maximum(low - others.middle, others.middle - high), 0.0)
        return np.sqrt(dot(off, off)) - others.half

    def kept(self, which: NDArray[np.bool_] | Numbers) -> _Pieces:
        return _Pieces(self.middle[:, which], self.ahead[:, which], self.half[which], self.line[which])

    def _times(self, half_mm: float) -> Numbers:
        import numpy as np

        return np.maximum(np.ceil(self.half / half_mm), 1.0).astype(np.intp)

    def cuts(self, half_mm: float) -> int:
        """How many there would be, none with more than a half length."""
        return int(self._times(half_mm).sum())

    def cut(self, half_mm: float) -> _Pieces:
        """The same in pieces as short."""
        import numpy as np

        times = self._times(half_mm)
        which = np.repeat(np.arange(self.count), times)
        number = np.arange(len(which)) - np.repeat(np.cumsum(times) - times, times)
        n = times[which]
        ahead = self.ahead[:, which] / n
        # middles lie at odd multiples of a piece's half from where the old piece begins
        middle = self.middle[:, which] + ahead * (2.0 * number + 1.0 - n)
        return _Pieces(middle, ahead, self.half[which] / n, self.line[which])
