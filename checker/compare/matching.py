"""Which carrier of OLD is which of NEW: by key, by GlobalId, then by tag and place.

The key of a carrier without a GlobalId is its number in the file, which the next export may give to anything else: by that it is only
matched where it is called the same.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from checker.compare.places import ANEW_MM, extent_of, overlap
from checker.result.tables import CarrierRow

#: So many of one name are compared at one spot.
MOST_AT_ONE_SPOT = 50
_AROUND = tuple(itertools.product((-1, 0, 1), repeat=3))


@dataclass(frozen=True, slots=True)
class Match:
    """Keys of NEW by those of OLD. ``anew``: keys of NEW whose GlobalId is another one."""

    new_of: Mapping[str, str]
    anew: frozenset[str]
    old_of: Mapping[str, str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "old_of", {new: old for old, new in self.new_of.items()})


def match_carriers(old: Sequence[CarrierRow], new: Sequence[CarrierRow]) -> Match:
    """Matches carriers one to one. Keys are those of two results, each of which has a key once.

    Tag and place: the same mark or tag, or where there is none the same name, and the middle within ``ANEW_MM`` of where it was; the
    nearest pairs first; or bodies that overlap, if only one on either side is called so. Where it isn't known where they lie, the same
    storey and space, if only one on either side is so.
    """
    there = {row.key: row for row in new}
    new_of = {row.key: row.key for row in old if row.key in there and _is_same_key(row, there[row.key])}
    left_old = [row for row in old if row.key not in new_of]
    left_new = _less(new, new_of)
    known_old, known_new = ([row for row in rows if row.place.global_id] for rows in (left_old, left_new))
    by_guid = _alone(known_old, known_new, lambda row: (row.place.global_id,))
    new_of |= by_guid
    left_old, left_new = _less(left_old, by_guid), _less(left_new, by_guid.values())
    made = _by_place(left_old, left_new)
    left_old, left_new = _less(left_old, made), _less(left_new, made.values())
    shared = _alone(left_old, left_new, lambda row: (row.place.label,))
    extents = {row.key: extent_of(row) for row in (*left_old, *left_new)}
    overlapping = {one: other for one, other in shared.items() if overlap(extents[one], extents[other])}
    made |= overlapping
    left_old, left_new = _less(left_old, overlapping), _less(left_new, overlapping.values())
    left_old, left_new = ([row for row in rows if extents[row.key] is None] for rows in (left_old, left_new))
    made |= _alone(left_old, left_new, lambda row: (row.place.label, row.place.storey, row.place.space, row.kind))
    ids = {row.key: row.place.global_id for row in old}
    anew = (other for one, other in made.items() if ids[one] != there[other].place.global_id)
    return Match(new_of | made, frozenset(anew))


def _is_same_key(old: CarrierRow, new: CarrierRow) -> bool:
    return bool(old.place.global_id and new.place.global_id) or old.place.label == new.place.label


def _less(rows: Iterable[CarrierRow], keys: Iterable[str]) -> list[CarrierRow]:
    taken = set(keys)
    return [row for row in rows if row.key not in taken]


def _alone(
    old: Sequence[CarrierRow], new: Sequence[CarrierRow], facts: Callable[[CarrierRow], tuple[str, ...]]
) -> dict[str, str]:
    """Those that are alone on either side with the same facts."""
    return alone(*([(facts(row), row.key) for row in rows] for rows in (old, new)))


def alone(old: Iterable[tuple[object, str]], new: Iterable[tuple[object, str]]) -> dict[str, str]:
    """Names of NEW by those of OLD, where only one on either side has the same facts.

    Args:
        old: The facts and the name of each of OLD.
        new: The same of NEW.
    """
    ones: dict[object, list[str]] = defaultdict(list)
    others: dict[object, list[str]] = defaultdict(list)
    for side, named in ((ones, old), (others, new)):
        for facts, name in named:
            side[facts].append(name)
    return {
        names[0]: others[facts][0]
        for facts, names in ones.items()
        if len(names) == 1 and len(others.get(facts, ())) == 1
    }


def _by_place(old: Sequence[CarrierRow], new: Sequence[CarrierRow]) -> dict[str, str]:
    """Pairs of one label whose middles are near, the nearest first. A grid keeps it from comparing all with all."""
    cells: dict[tuple[str, int, int, int], list[tuple[str, tuple[float, float, float]]]] = defaultdict(list)
    for row in new:
        if (extent := extent_of(row)) is not None:
            x, y, z = (math.floor(value / ANEW_MM) for value in extent.centre_mm)
            cells[row.place.label, x, y, z].append((row.key, extent.centre_mm))
    pairs = []
    for row in old:
        if (extent := extent_of(row)) is None:
            continue
        x, y, z = (math.floor(value / ANEW_MM) for value in extent.centre_mm)
        for i, j, k in _AROUND:
            for key, centre in cells.get((row.place.label, x + i, y + j, z + k), ())[:MOST_AT_ONE_SPOT]:
                distance = math.dist(extent.centre_mm, centre)
                if distance <= ANEW_MM:
                    pairs.append((round(distance, 6), row.key, key))
    found: dict[str, str] = {}
    taken: set[str] = set()
    for _, one, other in sorted(pairs):
        if one not in found and other not in taken:
            found[one] = other
            taken.add(other)
    return found
