"""How far apart two ways run: the clear distance between the outsides of the carriers that they pass, never more than it is."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np
from scipy.spatial import cKDTree

from checker.model import Carrier, Nearby
from checker.model.texts import natural
from checker.network.nearest import is_placed as has_place
from checker.network.stretches import HAIR_MM, Stretches, clear_mm, pairs_within, stretches_of
from checker.units import metres

#: Distances are given to so many places, so that they don't hang on the order of sums.
PLACES = 6


class WaysApart:
    """How far apart two ways run.

    Args:
        carriers: By key.
        one: Of the first way the spans of each carrier that it passes, in mm along its axis.
        other: The same of the second.
    """

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        one: Mapping[str, Sequence[tuple[float, float]]],
        other: Mapping[str, Sequence[tuple[float, float]]],
    ) -> None:
        self._carriers = carriers
        placed = [{key: spans for key, spans in way.items() if has_place(carriers[key])} for way in (one, other)]
        self._one, self._other = (stretches_of(carriers, way) for way in placed)

    def nearest(self) -> Nearby | None:
        """Where they come nearest, by whole stretches: the first in the order of keys of places that are equal.

        None: one of them has no known place.
        """
        if not self._one.keys or not self._other.keys:
            return None
        ends = [np.concatenate((way.start, way.end)) for way in (self._one, self._other)]
        # the outsides are no farther apart than the nearest ends of axes
        most_mm = float(cKDTree(ends[1]).query(ends[0])[0].min()) + 1.0
        found = (math.inf, "", "")
        for rows, columns, apart in pairs_within(self._one, self._other, most_mm):
            clear = np.round(np.maximum(clear_mm(self._one.some(rows), self._other.some(columns)), apart), PLACES)
            places = (
                (self._one.keys[rows[at]], self._other.keys[columns[at]]) for at in np.flatnonzero(clear == clear.min())
            )
            found = min(found, (float(clear.min()), *min(places)))
        return Nearby(self._carriers[found[1]], self._carriers[found[2]], found[0], 0.0)

    def nearer(self, wanted_mm: float) -> tuple[Nearby, ...]:
        """Where they are nearer to each other than that, one for each carrier of the first way, as people count."""
        one, other = self._near(wanted_mm)
        near: dict[int, tuple[float, str]] = {}
        for rows, columns, apart in pairs_within(one, other, wanted_mm):
            clear = np.maximum(clear_mm(one.some(rows), other.some(columns)), apart)
            for at in np.flatnonzero(clear < wanted_mm - HAIR_MM):
                row, own = int(rows[at]), (round(float(clear[at]), PLACES), other.keys[columns[at]])
                near[row] = min(near.get(row, own), own)
        lengths = np.linalg.norm(one.end - one.start, axis=1)
        by_key: dict[str, list[int]] = defaultdict(list)
        for row in sorted(near):
            by_key[one.keys[row]].append(row)
        found = []
        for key, here in by_key.items():
            least, beside = min(near[row] for row in here)
            length = round(metres(float(lengths[here].sum())), PLACES)
            found.append(Nearby(self._carriers[key], self._carriers[beside], least, length))
        return tuple(sorted(found, key=lambda item: (natural(item.one.place.label), item.one.key)))

    def _near(self, wanted_mm: float) -> tuple[Stretches, Stretches]:
        """What of the first way, in pieces, and of the other may be nearer than that to each other."""
        rows, columns = set[int](), set[int]()
        for some, others, _ in pairs_within(self._one, self._other, wanted_mm):
            rows.update(some.tolist())
            columns.update(others.tolist())
        one, other = (np.array(sorted(numbers), dtype=np.int64) for numbers in (rows, columns))
        return self._one.some(one).cut(), self._other.some(other)
