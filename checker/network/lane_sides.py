"""How the compartments of carriers that meet follow each other: by the side on which they lie, by their number, or not to be told.

Compartments count across the section from the side opposite to the direction ``across``: compartment 1 lies at the −``across`` side.
Of a drawn section ``across`` is the direction of its width as it is drawn, so compartment 1 is at its left. A section is drawn looking
against the way that it is swept; so with its top at the top, that left is the right hand of who looks from the start of the axis to its
end. A carrier that is drawn the other way round counts from the other side. Where ``across`` is a convention of whoever read it
(``Carrier.is_across_known``), nothing is told by sides.
"""

import itertools
import math
from collections.abc import Iterable

from checker.model import Carrier, Vec
from checker.model.geometry import add, cross, dot, scale, sub, unit
from checker.network.bodies import frame
from checker.network.joins import END, START

#: Sections that lie the same way by less than this are not turned against each other.
SAME_SIDE_DEG = 30.0
#: Of a way that turns back more than this, no side can be told.
MOST_TURN_DEG = 170.0

TURNED = "the sections that meet there are turned against each other"
UNPLACED = "on which side compartments begin isn't drawn in both of the carriers that meet there"

#: The direction in which an axis leaves a carrier at one of its ends, and the direction of its width there.
Edge = tuple[Vec, Vec]


def edges_of(carrier: Carrier) -> dict[str, Edge]:
    """The edges at both ends of a carrier, by ``START`` and ``END``; none where its axis, its ``across`` or the side of that isn't known.

    ``across`` holds where its axis runs as its ends lie, and is carried along the axis from there, piece by piece.
    """
    points = carrier.axis_mm
    ways = [way for a, b in itertools.pairwise(points) if (way := unit(sub(b, a))) is not None]
    if not ways or carrier.across is None or not carrier.is_across_known:
        return {}
    chord = sub(points[-1], points[0])
    base = max(range(len(ways)), key=lambda n: (round(dot(ways[n], chord), 6), -n))
    if dot(ways[base], chord) <= 0.0:  # it ends where it begins
        return {}
    across = frame(ways[base], carrier.across)[1]
    first, last = carried(across, ways[base::-1]), carried(across, ways[base:])
    if first is None or last is None:
        return {}
    return {START: (scale(ways[0], -1.0), first), END: (ways[-1], last)}


def carried(across: Vec, ways: Iterable[Vec]) -> Vec | None:
    """A direction across a way, carried along its turns: each is the least rotation from one direction into the next.

    Args:
        across: The direction, at right angles to the first of the ways.
        ways: Directions of length 1.

    Returns:
        The direction at the last of them; None where the way turns back.
    """
    for one, other in itertools.pairwise(ways):
        cosine = dot(one, other)
        if cosine < math.cos(math.radians(MOST_TURN_DEG)):
            return None
        axis = cross(one, other)  # its length is the sine
        once = cross(axis, across)
        across = add(add(across, once), scale(cross(axis, once), 1.0 / (1.0 + cosine)))
    return across


def is_opposite(one: Edge | None, other: Edge | None, between: Iterable[Vec] = ()) -> bool | str:
    """Whether compartments of one carrier lie on the other side in the next one; else why that can't be told.

    Args:
        one: Where the way leaves a carrier.
        other: Where it comes into the next: its edge there, which points against the way.
        between: The way's directions between the two, of any length.
    """
    if one is None or other is None:
        return UNPLACED
    middle = [way for turn in between if (way := unit(turn)) is not None]
    there = carried(one[1], [one[0], *middle, scale(other[0], -1.0)])
    if there is None:
        return "the way turns back there"
    alike = dot(there, other[1])
    if abs(alike) < math.cos(math.radians(SAME_SIDE_DEG)):
        return TURNED
    return alike < 0.0
