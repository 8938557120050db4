"""The box around a body of faces: along its frame's axes, or along its own where that is much smaller; and whether it is a round bar."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.geometry import Body, Vec, add, box_around, cross, dot, scale, unit
from checker.read.outlines import Outline, outline_of

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
#: A box that isn't along the frame's axes is taken only where it is smaller by more than this share.
SMALLER_SHARE = 1e-3
STEPS = 40


@dataclass(frozen=True, slots=True)
class Solid:
    """A box, its first axis being the one along which the body was found to run straight; ``diameter``: across it is a circle."""

    body: Body
    diameter: float | None = None


def solid_of(points: Sequence[Vec]) -> Solid | None:
    """The smallest of a few boxes around points; None where they have no extent."""
    points = list(dict.fromkeys(points))
    if len(points) < 2:
        return None
    principal = _principal(points)
    if principal is None:
        return None
    own = _straightened(points, principal)
    boxes = [box for direction in (X, Y, Z) if (box := _along(points, direction)) is not None]
    best, *others = [*boxes, _along(points, own) or _flat(points, own)]
    for box in others:
        is_smaller = math.prod(box.body.half_mm) < math.prod(best.body.half_mm) * (1.0 - SMALLER_SHARE)
        if is_smaller or (box.diameter and not best.diameter):
            best = box
    return best


def _along(points: Sequence[Vec], direction: Vec) -> Solid | None:
    """The box whose first axis is a direction."""
    side, up = _across(direction)
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


def _flat(points: Sequence[Vec], direction: Vec) -> Solid:
    """A box along a direction, for points that lie in a plane or on a line."""
    return Solid(box_around(points, (direction, *_across(direction))))


def _across(direction: Vec) -> tuple[Vec, Vec]:
    """Two directions across one: the first of them level."""
    side = unit(cross(Z, direction)) or X
    return side, cross(direction, side)


def _straightened(points: Sequence[Vec], direction: Vec) -> Vec:
    """A direction in which most points spread, turned so that the body's own edges lie along it.

    Seen from the side, then from above, the smallest rectangle has the body's direction; the two together are exact.
    """
    for index in (1, 0):
        other = _across(direction)[index]
        outline = outline_of([(dot(point, direction), dot(point, other)) for point in points])
        if outline is not None:
            (a, b), is_long = outline.direction, outline.width >= outline.height
            a, b = (a, b) if is_long else (-b, a)
            direction = unit(add(scale(direction, a), scale(other, b))) or direction
    return direction


def _principal(points: Sequence[Vec]) -> Vec | None:
    """The direction in which points spread most, by repeated multiplication; None where they are one place, or none."""
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
