"""By how much the way turns between two conduits, at the fittings between them.

The turns are those from the one's axis through the fittings' centres into the other's axis. They can only be told so where each fitting is
one corner: a set or a saddle, drawn as one fitting, turns more than its ends show, and so may bends that follow each other directly, if
where they are placed isn't where their branches meet.
"""

import itertools
from collections.abc import Sequence
from typing import NamedTuple

from checker.model import Fitting, FittingKind, Vec
from checker.model.geometry import add, angle_deg, cross, distance, dot, norm, scale, sub, unit

#: Ends that lie further beside each other than this aren't only drawn roughly.
SET_MM = 25.0
#: A bend's corner further beside a conduit's line than this isn't its corner.
BESIDE_MM = 5.0
#: A bend that turns by no more is none that its ends show.
LEAST_BEND_DEG = 4.5
#: Nearer than this a bend's centre is at the conduit's end. On its body's face there it is where the bend was placed, not its corner.
SMALL_MM = 1.0
ON_FACE = 0.95


class Leaving(NamedTuple):
    """An end of a conduit, and the direction in which its axis leaves it there."""

    point_mm: Vec
    way: Vec


class Turns(NamedTuple):
    """``each``: by how much the way turns at each corner, in degrees. ``is_all``: whether it is known to turn no more than that."""

    each: tuple[float, ...]
    is_all: bool


def corners_of(fittings: Sequence[Fitting]) -> list[Fitting]:
    """The fittings of a known centre, one for each place in a row."""
    corners: list[Fitting] = []
    for fitting in fittings:
        if fitting.centre_mm is not None and (not corners or corners[-1].centre_mm != fitting.centre_mm):
            corners.append(fitting)
    return corners


def turns_between(one: Leaving, fittings: Sequence[Fitting], other: Leaving) -> Turns | None:
    """The turns from one conduit through fittings into another; None where a fitting's centre isn't known.

    Args:
        one: The end of the one, with the direction out of it.
        fittings: What is between them, from the one on.
        other: The same of the other.

    Returns:
        The turns at each of ``corners_of``, or one if there are none. Where those may not be all, the angle between the two conduits alone:
        no way turns by less.
    """
    if any(fitting.centre_mm is None for fitting in fittings):
        return None
    inward = scale(other.way, -1.0)
    centres = [fitting.centre_mm for fitting in corners_of(fittings) if fitting.centre_mm is not None]
    ways = [one.way, *(sub(b, a) for a, b in itertools.pairwise(centres)), inward]
    turns = tuple(angle_deg(a, b) for a, b in itertools.pairwise(ways))
    if not fittings or _are_corners(one, fittings, other, sum(turns)):
        return Turns(turns, is_all=True)
    return Turns((angle_deg(one.way, inward),), is_all=False)


def meeting(one: Leaving | None, other: Leaving | None) -> Vec | None:
    """Where the lines of two conduits meet ahead of their ends, in mm; None where they don't."""
    if one is None or other is None:
        return None
    a, b, there = unit(one.way), unit(other.way), sub(other.point_mm, one.point_mm)
    if a is None or b is None or not LEAST_BEND_DEG < angle_deg(a, b) < 180.0 - LEAST_BEND_DEG:
        return None
    lean = dot(a, b)
    along = (dot(there, a) - lean * dot(there, b)) / (1.0 - lean * lean)
    back = (lean * dot(there, a) - dot(there, b)) / (1.0 - lean * lean)
    return add(one.point_mm, scale(a, along)) if along >= 0.0 and back >= 0.0 else None


def _are_corners(one: Leaving, fittings: Sequence[Fitting], other: Leaving, turn_deg: float) -> bool:
    """Whether each fitting may be taken for one corner at its centre."""
    bends = [fitting for fitting in fittings if fitting.kind is FittingKind.BEND]
    if len(bends) > 1:
        return _is_corner(one, bends[0]) and _is_corner(other, bends[-1])
    if bends and turn_deg <= LEAST_BEND_DEG:
        return False
    return _beside_mm(one, other) <= SET_MM


def _is_corner(end: Leaving, bend: Fitting) -> bool:
    """Whether a bend's centre lies in line with the conduit that leads into it, and isn't merely the bend's own end."""
    way = unit(end.way)
    if way is None or bend.centre_mm is None:
        return False
    along = dot(sub(bend.centre_mm, end.point_mm), way)
    if along <= SMALL_MM and bend.body is not None:
        away = sub(bend.centre_mm, bend.body.centre_mm)
        sides = zip(bend.body.axes, bend.body.half_mm, strict=True)
        if any(half > SMALL_MM and abs(dot(away, axis)) >= ON_FACE * half for axis, half in sides):
            return False
    return distance(bend.centre_mm, add(end.point_mm, scale(way, along))) <= BESIDE_MM


def _beside_mm(one: Leaving, other: Leaving) -> float:
    """How far the lines of two conduits pass each other by; of two that run side by side back the way they came nothing is too far."""
    way, there = unit(one.way), sub(other.point_mm, one.point_mm)
    if way is None:
        return 0.0
    normal = unit(cross(one.way, other.way))
    angle = angle_deg(one.way, scale(other.way, -1.0))
    if LEAST_BEND_DEG < angle < 180.0 - LEAST_BEND_DEG and normal is not None:
        return abs(dot(there, normal))
    return norm(sub(there, scale(way, dot(there, way)))) if angle <= LEAST_BEND_DEG else 0.0
