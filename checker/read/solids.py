"""The box around a body of faces: along its frame's axes, or along its own where that is much smaller; and whether it is a round bar."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.geometry import Body, Vec, add, cross, dot, scale, unit
from checker.read.outlines import Outline, outline_of

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
#: A box that isn't along the frame's axes is taken only where it is smaller by more than this share.
SMALLER_SHARE = 0.02
#: Points beyond this number tell nothing more of a carrier.
MOST_POINTS = 20_000
STEPS = 40


@dataclass(frozen=True, slots=True)
class Solid:
    """A box, its first axis being the one along which the body was found to run straight; ``diameter``: across it is a circle."""

    body: Body
    diameter: float | None = None


def solid_of(points: Sequence[Vec]) -> Solid | None:
    """The smallest of a few boxes around points; None where they have no extent."""
    points = list(itertools.islice(points, MOST_POINTS))
    if len(points) < 2:
        return None
    best: tuple[float, Solid] | None = None
    principal = _principal(points)
    for direction in (X, Y, Z, *((principal,) if principal is not None else ())):
        found = _along(points, direction)
        if found is not None:
            volume = math.prod(found.body.half_mm)
            if best is None or volume < best[0] * (1.0 - SMALLER_SHARE) or (found.diameter and not best[1].diameter):
                best = (volume, found)
    return best[1] if best is not None else _flat(points)


def _along(points: Sequence[Vec], direction: Vec) -> Solid | None:
    """The box whose first axis is a direction."""
    side = unit(cross(Z, direction)) or X
    up = cross(direction, side)
    outline: Outline | None = outline_of([(dot(point, side), dot(point, up)) for point in points])
    if outline is None:
        return None
    spans = [dot(point, direction) for point in points]
    middle, half = (max(spans) + min(spans)) / 2.0, (max(spans) - min(spans)) / 2.0
    (u, v), (a, b) = outline.centre, outline.direction
    across, over = add(scale(side, a), scale(up, b)), add(scale(side, -b), scale(up, a))
    centre = add(scale(direction, middle), add(scale(side, u), scale(up, v)))
    size = outline.diameter
    halves = (half, outline.width / 2.0, outline.height / 2.0)
    return Solid(Body(centre, (direction, across, over), halves), size)


def _flat(points: Sequence[Vec]) -> Solid | None:
    """A box along the axes, for points that lie in a plane or on a line."""
    low = [min(point[i] for point in points) for i in range(3)]
    high = [max(point[i] for point in points) for i in range(3)]
    half = ((high[0] - low[0]) / 2.0, (high[1] - low[1]) / 2.0, (high[2] - low[2]) / 2.0)
    if max(half) <= 0.0:
        return None
    centre = ((high[0] + low[0]) / 2.0, (high[1] + low[1]) / 2.0, (high[2] + low[2]) / 2.0)
    return Solid(Body(centre, (X, Y, Z), half))


def _principal(points: Sequence[Vec]) -> Vec | None:
    """The direction in which points spread most, by repeated multiplication; None where there is none."""
    count = float(len(points))
    mean = tuple(math.fsum(point[i] for point in points) / count for i in range(3))
    away = [tuple(point[i] - mean[i] for i in range(3)) for point in points]
    spread = [[math.fsum(p[i] * p[j] for p in away) for j in range(3)] for i in range(3)]
    largest = max(range(3), key=lambda i: spread[i][i])
    direction: Vec | None = (spread[0][largest], spread[1][largest], spread[2][largest])
    for _ in range(STEPS):
        direction = unit(direction) if direction is not None else None
        if direction is None:
            return None
        direction = (
            math.fsum(spread[0][j] * direction[j] for j in range(3)),
            math.fsum(spread[1][j] * direction[j] for j in range(3)),
            math.fsum(spread[2][j] * direction[j] for j in range(3)),
        )
    return unit(direction) if direction is not None else None
