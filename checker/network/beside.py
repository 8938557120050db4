"""Which carriers run side by side: on which stretches, and how far apart their outsides are there.

Axes are cut into short pieces with a box, or a cylinder, around each. Pieces that can be near each other come from a tree of their middles,
so that the work grows as the model does; the rest is arithmetic on arrays.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from checker.model import Carrier
from checker.network.bodies import MOST_MM, SAME_WAY_DEG
from checker.network.lines import dot
from checker.network.straights import PIECE_MM, Straights, straights_of

if TYPE_CHECKING:
    from checker.network.lines import Floats, Numbers

#: Two carriers are side by side where they are so for more than this: ends that meet are drawn to overlap by as much.
LEAST_BESIDE_MM = MOST_MM
#: Pieces that are larger than usual by more than each of these are looked for by themselves, since a search goes by the largest.
REACHES_MM = (400.0, 1600.0, 6400.0, math.inf)
#: So many pieces are asked at a time, and no piece has more neighbours looked at than the nearest so many.
LOT, MOST_LOOKED_AT = 4_000, 1_000
#: Steps of the search for the least gap between carriers that aren't quite parallel: each leaves two thirds.
STEPS = 40
#: Directions that differ by less than this share are the same.
SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Stretches:
    """Where straight pieces of two carriers run side by side, one entry for each pair of pieces.

    ``one`` and ``other`` are numbers of pieces, that of the carrier with the lower number first; ``begin`` and ``end`` say where the
    stretch lies along the first one, from its start, and ``clear`` the least distance between their outsides on it, in mm. ``crowded`` are
    the numbers of carriers around which so much lies that not all was looked at.
    """

    pieces: Straights
    one: Numbers
    other: Numbers
    begin: Floats
    end: Floats
    clear: Floats
    crowded: frozenset[int]


@dataclass(frozen=True, slots=True)
class Beside:
    """Two carriers side by side, by their numbers, the lower one first.

    ``beside_mm`` is how long those pieces of them run side by side that come within reach of each other, ``clear_mm`` the least distance
    between their outsides there. ``is_crowded``: so much lies around them that not all was looked at.
    """

    one: int
    other: int
    clear_mm: float
    beside_mm: float
    is_crowded: bool = False


def beside(carriers: Sequence[Carrier], ones: Sequence[int], others: Sequence[int], within_mm: float) -> list[Beside]:
    """The pairs of carriers that run side by side, each once, in the order of their numbers.

    Args:
        carriers: All; those without a known axis are beside nothing.
        ones: Numbers of some of them.
        others: Numbers of those that are looked for beside them; a carrier may be in both.
        within_mm: Up to this clear distance.
    """
    import numpy as np

    found = stretches(carriers, ones, others, within_mm)
    owner, before = found.pieces.owner, found.pieces.before
    one, other = owner[found.one], owner[found.other]
    begin, end = before[found.one] + found.begin, before[found.one] + found.end
    order = np.lexsort((end, begin, other, one))
    pairs = zip(one[order].tolist(), other[order].tolist(), strict=True)
    spans = zip(begin[order].tolist(), end[order].tolist(), found.clear[order].tolist(), strict=True)
    made: dict[tuple[int, int], tuple[float, float, float]] = {}  # clear, length so far, and where that ends
    for pair, (start, stop, clear) in zip(pairs, spans, strict=True):
        least, length, reached = made.get(pair, (math.inf, 0.0, -math.inf))
        made[pair] = (min(least, clear), length + max(0.0, stop - max(start, reached)), max(stop, reached))
    return [
        Beside(*pair, round(clear, 2), round(length, 2), not found.crowded.isdisjoint(pair))
        for pair, (clear, length, _) in made.items()
        if length > LEAST_BESIDE_MM
    ]


def stretches(carriers: Sequence[Carrier], ones: Sequence[int], others: Sequence[int], within_mm: float) -> Stretches:
    """Where straight pieces of carriers run side by side.

    Pieces do whose directions differ by no more than ``SAME_WAY_DEG``, on the stretch where one lies beside the other. Where they aren't
    quite parallel what is between them counts square to the one that is turned away.

    Args:
        carriers: All; those without a known axis are beside nothing.
        ones: Numbers of some of them.
        others: Numbers of those that are looked for beside them; a carrier may be in both.
        within_mm: Up to this clear distance.
    """
    import numpy as np

    pieces = straights_of(carriers, sorted({*ones, *others}))
    is_one, is_other = (np.isin(pieces.owner, np.array(sorted(numbers), dtype=np.intp)) for numbers in (ones, others))
    crowded: set[int] = set()
    kept = []
    for found, near in _near(pieces, np.flatnonzero(is_one), np.flatnonzero(is_other), within_mm, crowded):
        a, b = pieces.owner[found], pieces.owner[near]
        # of two that are in both lists each finds the other
        which = (a != b) & ~(is_one[near] & is_other[found] & (a > b))
        is_turned = (a > b)[which]
        i, j = found[which], near[which]
        kept.append(_alongside(pieces, np.where(is_turned, j, i), np.where(is_turned, i, j), within_mm))
    joined = [np.concatenate(parts) for parts in zip(*kept, strict=True)]
    if not joined:
        none = np.zeros(0)
        return Stretches(pieces, none.astype(np.intp), none.astype(np.intp), none, none, none, frozenset())
    one, other = joined[0].astype(np.intp), joined[1].astype(np.intp)
    return Stretches(pieces, one, other, joined[2], joined[3], joined[4], frozenset(crowded))


def _near(
    pieces: Straights, ones: Numbers, others: Numbers, within_mm: float, crowded: set[int]
) -> Iterator[tuple[Numbers, Numbers]]:
    """Pairs of pieces in lots, among which are all that can be within reach of each other."""
    import numpy as np
    from scipy.spatial import cKDTree

    middle, reach = pieces.at(pieces.length / 2.0).T, pieces.reach
    level = np.searchsorted(np.array(REACHES_MM), reach + np.maximum(pieces.length - PIECE_MM, 0.0) / 2.0)
    for high in np.unique(level[others]).tolist():
        there = others[level[others] == high]
        tree = cKDTree(middle[there])
        for low in np.unique(level[ones]).tolist():
            here = ones[level[ones] == low]
            most = within_mm + reach[here].max() + reach[there].max()
            most += (pieces.length[here].max() + pieces.length[there].max()) / 2.0
            for lot in np.array_split(here, math.ceil(len(here) / LOT)):
                counts = tree.query_ball_point(middle[lot], most, return_length=True)
                dense = lot[counts > MOST_LOOKED_AT]
                if len(dense):
                    crowded.update(pieces.owner[dense].tolist())
                    _, nearest = tree.query(middle[dense], k=MOST_LOOKED_AT)
                    yield np.repeat(dense, MOST_LOOKED_AT), there[nearest.ravel()]
                sparse = lot[counts <= MOST_LOOKED_AT]
                if len(sparse):
                    found = cKDTree(middle[sparse]).sparse_distance_matrix(tree, most, output_type="ndarray")
                    yield sparse[found["i"]], there[found["j"]]


def _alongside(
    pieces: Straights, i: Numbers, j: Numbers, within_mm: float
) -> tuple[Numbers, Numbers, Floats, Floats, Floats]:
    """Of pairs of pieces those that run side by side: their numbers, where along the first, and how far apart."""
    import numpy as np

    turn = np.abs(dot(pieces.along[:, i], pieces.along[:, j]))
    which = turn >= math.cos(math.radians(SAME_WAY_DEG))
    i, j, turn = i[which], j[which], np.where(turn[which] > 1.0 - SAME, 1.0, turn[which])
    first = dot(pieces.start[:, j] - pieces.start[:, i], pieces.along[:, i])
    step = dot(pieces.along[:, j], pieces.along[:, i])
    last = first + step * pieces.length[j]
    begin, end = np.maximum(np.minimum(first, last), 0.0), np.minimum(np.maximum(first, last), pieces.length[i])
    which = end > begin
    i, j, turn = i[which], j[which], turn[which]
    begin, end, first, step = begin[which], end[which], first[which], step[which]
    clear = _least_gap(pieces, i, j, begin, end, first, step, turn)
    which = clear <= within_mm
    return i[which], j[which], begin[which], end[which], clear[which]


def _least_gap(
    pieces: Straights,
    i: Numbers,
    j: Numbers,
    begin: Floats,
    end: Floats,
    first: Floats,
    step: Floats,
    turn: Floats,
) -> Floats:
    """The least gap between the outsides of pieces from ``begin`` to ``end`` along the first, square to the other one; never more.

    ``turn`` is the cosine of the angle between them.
    """
    import numpy as np

    across, up = pieces.across, pieces.up

    # a cut through the other one, square to the first one, in the frame of that: askew it is larger than the other one's section
    def half(way: Floats) -> Floats:
        lean = dot(pieces.along[:, j], way) / step

        def reach(side: Floats, size: Floats) -> Floats:
            cut: Floats = np.abs(dot(side, way) - dot(side, pieces.along[:, i]) * lean) * size
            return cut

        return reach(across[:, j], pieces.wide[j]) + reach(up[:, j], pieces.high[j])

    wide, high = pieces.wide[i] + half(across[:, i]), pieces.high[i] + half(up[:, i])

    def gap(along: Floats, of: Numbers) -> Floats:
        there = pieces.start[:, j[of]] + pieces.along[:, j[of]] * ((along - first[of]) / step[of])
        off = there - pieces.start[:, i[of]]
        sideways = np.maximum(np.abs(dot(off, across[:, i[of]])) - wide[of], 0.0)
        upwards = np.maximum(np.abs(dot(off, up[:, i[of]])) - high[of], 0.0)
        return np.maximum(np.hypot(sideways, upwards) * turn[of] - pieces.radius[i[of]] - pieces.radius[j[of]], 0.0)

    every = np.arange(len(i))
    least = np.minimum(gap(begin, every), gap(end, every))
    of = np.flatnonzero(turn < 1.0)
    if len(of):  # the gap of what moves straight past is convex
        low, high_end = begin[of], end[of]
        for _ in range(STEPS):
            third = (high_end - low) / 3.0
            is_left = gap(low + third, of) <= gap(high_end - third, of)
            low, high_end = np.where(is_left, low, low + third), np.where(is_left, high_end - third, high_end)
        least[of] = np.minimum(least[of], gap((low + high_end) / 2.0, of))
    return least
