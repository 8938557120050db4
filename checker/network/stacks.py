"""Which trays and ladders with loaded circuits run level above each other: tables of ratings go by how many tiers there are."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from checker.model import Carrier, CarrierKind, Enclosure
from checker.model.loads import STACK_MM, Stacked
from checker.model.texts import listed, natural
from checker.network.beside import LEAST_BESIDE_MM, Stretches, stretches
from checker.network.bodies import SAME_WAY_DEG, TOUCH_MM
from checker.network.lines import dot
from checker.network.nearest import is_placed

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from checker.network.lines import Floats, Numbers
    from checker.network.straights import Straights

OPEN = {CarrierKind.TRAY, CarrierKind.LADDER}
#: Above another is what overlaps it in plan by more than this share of the narrower one's width.
LEAST_SHARE = 0.1
#: A tray of unknown width is no wider than this.
WIDEST_MM = 1200.0

Span = tuple[float, float]


def with_stacks(enclosures: Mapping[str, Enclosure]) -> dict[str, Enclosure]:
    """The enclosures: trays and ladders that tables with tiers are used for with what else of these runs above or below them.

    Those tables are only used where the project declares how cables lie, so nothing else is asked. Looked at are straight pieces that
    slope by no more than ``SAME_WAY_DEG``, run the same way and overlap in plan, up to ``STACK_MM`` higher or lower.

    Args:
        enclosures: All segments with what lies in them, by key.
    """
    heating = sorted(key for key, item in enclosures.items() if _may_heat(item))
    placed = [key for key in heating if is_placed(enclosures[key].carrier)]
    without = set(heating).difference(placed)
    lost = sorted((enclosures[key].carrier.place.label for key in without), key=natural)
    doubt = f"where {listed(lost)} runs isn't known" if lost else ""
    asked = [number for number, key in enumerate(placed) if _is_asked(enclosures[key].carrier)]
    made = dict(enclosures)
    if asked:
        above, level, crowded = _found([enclosures[key] for key in placed], asked)
        for number in asked:
            key = placed[number]
            dense = f"what all runs around {made[key].carrier.place.label} isn't known" if number in crowded else ""
            made[key] = replace(
                made[key], is_level=number in level, stacked=tuple(above[number]), stack_doubt=doubt or dense
            )
    for key in without:
        made[key] = replace(made[key], stack_doubt=doubt)
    return made


def _is_asked(carrier: Carrier) -> bool:
    return carrier.laying.single_layer is True or carrier.laying.tiers is not None


def _may_heat(enclosure: Enclosure) -> bool:
    """Whether it is a tray or ladder, or could be, and loaded circuits lie in it, or could."""
    if enclosure.carrier.kind not in {*OPEN, CarrierKind.UNKNOWN}:
        return False
    return enclosure.unbounded or any(member.load.is_loaded for member in (*enclosure.members, *enclosure.possible))


def _heats(enclosure: Enclosure) -> bool:
    """The same for certain."""
    return enclosure.carrier.kind in OPEN and any(member.load.is_loaded for member in enclosure.members)


def _found(enclosures: list[Enclosure], asked: list[int]) -> tuple[dict[int, list[Stacked]], set[int], frozenset[int]]:
    """By the number of each what runs above or below it; the numbers of those that run level in part, and of those in a crowd."""
    import numpy as np

    carriers = [item.carrier for item in enclosures]
    heats = [_heats(item) for item in enclosures]
    every = range(len(carriers))
    found = stretches(carriers, asked, every, STACK_MM)
    pieces = found.pieces
    is_level = np.abs(pieces.along[2]) <= math.sin(math.radians(SAME_WAY_DEG))
    spans: dict[tuple[int, int, bool], list[tuple[float, float, float]]] = defaultdict(list)
    for one, other, up, is_sure, of_one, of_other in _above(found, is_level):
        spans[one, other, is_sure].append((*of_one, round(up, 1)))
        spans[other, one, is_sure].append((*of_other, -round(up, 1)))
    above: dict[int, list[Stacked]] = defaultdict(list)
    for (one, other, is_sure), passed in sorted(spans.items()):
        whole = _joined(passed)
        if sum(end - begin for begin, end, _ in whole) > LEAST_BESIDE_MM:
            above[one].extend(
                Stacked(carriers[other], up, begin, end, is_sure and heats[other]) for begin, end, up in whole
            )
    return above, set(pieces.owner[is_level].tolist()), found.crowded


def _joined(passed: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """Spans with how much higher the other is on each; those that follow each other at one level are one."""
    whole: list[tuple[float, float, float]] = []
    for begin, end, up in sorted(passed):
        if whole and whole[-1][2] == up and begin <= whole[-1][1] + TOUCH_MM:
            whole[-1] = (whole[-1][0], max(whole[-1][1], end), up)
        else:
            whole.append((begin, end, up))
    return whole


def _above(found: Stretches, is_level: NDArray[np.bool_]) -> Iterator[tuple[int, int, float, bool, Span, Span]]:
    """Of level pieces that overlap in plan: whose they are, how much higher the second is, whether that is sure, and where on each."""
    import numpy as np

    pieces = found.pieces
    kept = np.flatnonzero(is_level[found.one] & is_level[found.other])
    i, j, begin, end = found.one[kept], found.other[kept], found.begin[kept], found.end[kept]
    along = pieces.along[:, i]
    step = dot(pieces.along[:, j], along)
    first = dot(pieces.start[:, j] - pieces.start[:, i], along)
    middle = (begin + end) / 2.0
    there = pieces.start[:, j] + pieces.along[:, j] * ((middle - first) / step)
    off = there - (pieces.start[:, i] + along * middle)
    beside = np.stack((-along[1], along[0], np.zeros_like(middle))) / np.hypot(along[0], along[1])
    upright = np.zeros_like(off)
    upright[2] = 1.0
    plan_i, plan_j = _half(pieces, i, beside), _half(pieces, j, beside)
    rise_i, rise_j = _half(pieces, i, upright), _half(pieces, j, upright)
    # from floor to floor; where a height isn't known, from axis to axis
    up = off[2] + np.where((rise_i > 0.0) & (rise_j > 0.0), rise_i - rise_j, 0.0)
    overlap, narrower = plan_i + plan_j - np.abs(dot(off, beside)), 2.0 * np.minimum(plan_i, plan_j)
    is_sure = (narrower > 0.0) & (overlap > LEAST_SHARE * narrower)
    may_be = is_sure | ((narrower == 0.0) & (overlap > -WIDEST_MM / 2.0))
    from_j, to_j = (begin - first) / step, (end - first) / step
    for n in np.flatnonzero(may_be & (np.abs(up) <= STACK_MM)).tolist():
        a, b = int(i[n]), int(j[n])
        of_one = (float(pieces.before[a] + begin[n]), float(pieces.before[a] + end[n]))
        low, high = sorted((float(pieces.before[b] + from_j[n]), float(pieces.before[b] + to_j[n])))
        yield int(pieces.owner[a]), int(pieces.owner[b]), float(up[n]), bool(is_sure[n]), of_one, (low, high)


def _half(pieces: Straights, which: Numbers, way: Floats) -> Floats:
    """Half of what pieces measure along a direction, in mm."""
    import numpy as np

    side = np.abs(dot(pieces.across[:, which], way)) * pieces.wide[which]
    height: Floats = np.abs(dot(pieces.up[:, which], way)) * pieces.high[which]
    return side + height + pieces.radius[which]
