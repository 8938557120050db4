"""The straight pieces of carriers as arrays, each with its outside size, for arithmetic on many at once."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from checker.model import Carrier, Section
from checker.model.geometry import distance, sub
from checker.network.bodies import frame
from checker.network.nearest import is_placed

if TYPE_CHECKING:
    from checker.network.lines import Floats, Numbers

#: Pieces are no longer than this, so that a search by their middles finds little that is far away.
PIECE_MM = 2000.0
#: A straight is cut into no more pieces than this.
MOST_CUTS = 500


@dataclass(frozen=True, slots=True)
class Straights:
    """Straight pieces of axes; vectors are (3, n), lengths in mm.

    ``start``, ``along``, ``across`` and ``up`` are where a piece begins and its three directions; ``wide`` and ``high`` half its outside
    size, 0 where that isn't known, ``radius`` that of a round one, which has no others. ``owner`` is the number of its carrier, ``before``
    how far along the carrier's axis it begins.
    """

    start: Floats
    along: Floats
    across: Floats
    up: Floats
    length: Floats
    wide: Floats
    high: Floats
    radius: Floats
    owner: Numbers
    before: Floats

    @property
    def reach(self) -> Floats:
        """How far the body reaches from the axis."""
        import numpy as np

        return np.hypot(self.wide, self.high) + self.radius

    def at(self, along: Floats) -> Floats:
        """Points on the axes."""
        return self.start + self.along * along


def straights_of(carriers: Sequence[Carrier], which: Sequence[int]) -> Straights:
    """The straight pieces of some carriers, in their order.

    Args:
        carriers: All; those without a known axis have none.
        which: Numbers of those that are wanted.
    """
    import numpy as np

    points, directions, sizes, owner = [], [], [], []
    for number in which:
        carrier = carriers[number]
        if not is_placed(carrier):
            continue
        half, before = half_known_mm(carrier), 0.0
        for a, b in itertools.pairwise(carrier.axis_mm):
            step = distance(a, b)
            if step > 0.0:
                points.append(a)
                directions.append(frame(sub(b, a), carrier.across))
                sizes.append((*half, step, before))
                owner.append(number)
                before += step
    placed = np.array(points, dtype=float).reshape(-1, 3).T
    along, across, up = np.moveaxis(np.array(directions, dtype=float).reshape(-1, 3, 3), 1, 0).swapaxes(1, 2)
    wide, high, radius, length, before_all = np.array(sizes, dtype=float).reshape(-1, 5).T
    times = np.clip(np.ceil(length / PIECE_MM), 1.0, MOST_CUTS).astype(np.intp)
    of = np.repeat(np.arange(len(owner)), times)
    number_in = np.arange(len(of)) - np.repeat(np.cumsum(times) - times, times)
    part = length[of] / times[of]
    begin = number_in * part
    return Straights(
        placed[:, of] + along[:, of] * begin, along[:, of], across[:, of], up[:, of], part,
        wide[of], high[of], radius[of], np.array(owner, dtype=np.intp)[of], before_all[of] + begin,
    )  # fmt: skip


def half_known_mm(carrier: Carrier) -> tuple[float, float, float]:
    """Half the outside width and height, and the radius of a round section, in mm; 0 for what isn't known.

    Of one that may be turned either way it is the smaller side both ways: so far it reaches in any case.
    """
    section = carrier.section
    if section.is_round:
        return 0.0, 0.0, (section.outside_diameter_mm or 0.0) / 2.0
    wide, high = (section.width_mm or 0.0) / 2.0, (section.height_mm or 0.0) / 2.0
    return (wide, high, 0.0) if is_turn_known(carrier) else (min(wide, high), min(wide, high), 0.0)


def is_turn_known(carrier: Carrier) -> bool:
    """Whether it is known, or all the same, towards which side the width of its section lies."""
    section = carrier.section
    return section.is_round or carrier.across is not None or section.width_mm == section.height_mm


def is_size_known(section: Section) -> bool:
    """Whether the whole outside size is."""
    if section.is_round:
        return section.outside_diameter_mm is not None
    return section.width_mm is not None and section.height_mm is not None
