"""Outlines in a plane: the smallest rectangle around points, and whether they are a rectangle or a circle."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
#: Points of a circle may be this much off it, as a share of its radius; chords of a coarse polygon lie inside.
ROUND_SHARE = 0.03
#: A polygon with fewer corners isn't taken for a circle.
LEAST_ROUND = 8
#: Rectangles are tried along so many sides, the longest.
MOST_SIDES = 48
#: Areas that differ by less are the same: the rectangle that lies level is taken.
SAME_SHARE = 1e-3
#: Corners that are nearer than this share of an outline's size are one: arithmetic parts them.
ONE_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class Outline:
    """The rectangle around an outline: its centre, the direction of its first side, and both sides. ``diameter``: it is a circle."""

    centre: Point
    direction: Point
    width: float
    height: float
    is_rectangle: bool
    diameter: float | None = None


def outline_of(points: Sequence[Point]) -> Outline | None:
    """What an outline is; None where it has no area."""
    corners = _apart(hull(points))
    if len(corners) < 3:
        return None
    best: tuple[float, Point, float, float, Point] | None = None
    for direction in _directions(corners):
        along = [p[0] * direction[0] + p[1] * direction[1] for p in corners]
        across = [p[1] * direction[0] - p[0] * direction[1] for p in corners]
        width, height = max(along) - min(along), max(across) - min(across)
        if best is None or width * height < best[0] * (1.0 - SAME_SHARE):
            a, b = (max(along) + min(along)) / 2.0, (max(across) + min(across)) / 2.0
            centre = (a * direction[0] - b * direction[1], a * direction[1] + b * direction[0])
            best = (width * height, direction, width, height, centre)
    if best is None or best[0] <= 0.0:
        return None
    area, direction, width, height, centre = best
    is_rectangle = abs(area - area_of(corners)) <= SAME_SHARE * area
    return Outline(centre, direction, width, height, is_rectangle, _diameter(corners))


def hull(points: Sequence[Point]) -> list[Point]:
    """The convex hull, counter-clockwise, without points on its sides."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def half(sequence: Sequence[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in sequence:
            while len(chain) >= 2 and _turn(chain[-2], chain[-1], p) <= 0.0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _directions(corners: Sequence[Point]) -> list[Point]:
    """The axes first, so that they win where nothing is smaller, then the longest sides'."""
    sides = [(u - x, v - y) for (x, y), (u, v) in zip(corners, [*corners[1:], corners[0]], strict=True)]
    longest = sorted(((math.hypot(*side), side) for side in sides), reverse=True)[:MOST_SIDES]
    return [(1.0, 0.0), *((x / length, y / length) for length, (x, y) in longest if length > 0.0)]


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def area_of(corners: Sequence[Point]) -> float:
    """The area of a polygon; negative where its corners go clockwise. Seen from its first corner, for one that lies far away."""
    x, y = corners[0]
    near = [(a - x, b - y) for a, b in corners]
    return math.fsum(a * d - c * b for (a, b), (c, d) in zip(near, [*near[1:], near[0]], strict=True)) / 2.0


def _apart(corners: Sequence[Point]) -> list[Point]:
    """Corners without those that follow another at the same place."""
    size = max((math.dist(corners[0], corner) for corner in corners), default=0.0)
    before = [*corners[-1:], *corners[:-1]]
    return [a for a, b in zip(corners, before, strict=True) if math.dist(a, b) > ONE_SHARE * size]


def _diameter(corners: Sequence[Point]) -> float | None:
    """The diameter of the circle that the corners lie on."""
    if len(corners) < LEAST_ROUND:
        return None
    centre = _centre(corners)
    radii = [math.dist(corner, centre) for corner in corners] if centre is not None else [0.0]
    largest = max(radii)
    if largest <= 0.0 or min(radii) < (1.0 - ROUND_SHARE) * largest:
        return None
    # an oblong would do so too if all of its corners lay at its ends
    widest = max(math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    return 2.0 * largest if widest <= 1.2 * largest else None


def _centre(corners: Sequence[Point]) -> Point | None:
    """The centre of the circle through three corners that lie far apart: so it doesn't matter how close the others are."""
    a = corners[0]
    b = max(corners, key=lambda corner: math.dist(a, corner))
    c = max(corners, key=lambda corner: abs(_turn(a, b, corner)))
    (u, v), (x, y) = (b[0] - a[0], b[1] - a[1]), (c[0] - a[0], c[1] - a[1])
    double = 2.0 * (u * y - v * x)
    if double == 0.0:
        return None
    one, other = u * u + v * v, x * x + y * y
    return a[0] + (y * one - v * other) / double, a[1] + (u * other - x * one) / double
