"""Distances of bodies from each other and from walls. Written so that it runs as it stands and compiled, with the same bits.

So: flat lists or arrays, plain loops, no mathematics but the square root. A body is its core (a point, or a segment along
x or y of the half lengths hx and hy) with a radius r around it. ``kind`` of a wall: 0 a circle, 1 a convex polygon,
2 any polygon. ``wall``: of a circle its centre and radius; of a polygon eight figures a side, counter-clockwise: outward
normal, its offset, start, end, and whether the start is a corner that stands inward (1 or 0).
"""
# ruff: noqa: C901 - plain loops in few calls: what compiles well, and the same either way

import math
from typing import Any

Numbers = Any  # a list of floats, or an array when compiled


def gap(dx: float, dy: float, hx: float, hy: float) -> float:
    """How far a point lies from a rectangle around the origin; below 0 inside."""
    ax = abs(dx) - hx
    ay = abs(dy) - hy
    if ax > 0.0 and ay > 0.0:
        return math.sqrt(ax * ax + ay * ay)
    if ax > ay:
        return ax
    return ay


def side_gap(wall: Numbers, at: int, x: float, y: float) -> float:
    """How far a point lies from a side of a polygon, whichever side of it."""
    ux = wall[at + 5] - wall[at + 3]
    uy = wall[at + 6] - wall[at + 4]
    vx = x - wall[at + 3]
    vy = y - wall[at + 4]
    share = (vx * ux + vy * uy) / (ux * ux + uy * uy)
    if share < 0.0:
        share = 0.0
    elif share > 1.0:
        share = 1.0
    vx -= share * ux
    vy -= share * uy
    return math.sqrt(vx * vx + vy * vy)


def holds(wall: Numbers, sides: int, x: float, y: float) -> bool:
    """Whether a polygon holds a point, by how often a ray to the right leaves it."""
    inside = False
    for k in range(sides):
        at = 8 * k
        ay = wall[at + 4]
        by = wall[at + 6]
        if (ay > y) != (by > y):
            ax = wall[at + 3]
            if x < ax + (y - ay) * (wall[at + 5] - ax) / (by - ay):
                inside = not inside
    return inside


def wall_room(kind: int, wall: Numbers, sides: int, x: float, y: float, hx: float, hy: float) -> float:
    """The largest radius that a core has room for where it lies; below 0 where it stands out."""
    if kind == 0:
        vx = abs(x - wall[0]) + hx
        vy = abs(y - wall[1]) + hy
        return float(wall[2] - math.sqrt(vx * vx + vy * vy))
    room = 1e300
    if kind == 1:
        for k in range(sides):
            at = 8 * k
            nx = wall[at]
            ny = wall[at + 1]
            room = min(room, wall[at + 2] - nx * x - ny * y - abs(nx) * hx - abs(ny) * hy)
        return room
    ends = 1
    if hx > 0.0 or hy > 0.0:
        ends = 2
    for end in range(ends):
        ex = x + hx - 2.0 * hx * end
        ey = y + hy - 2.0 * hy * end
        nearest = 1e300
        for k in range(sides):
            nearest = min(nearest, side_gap(wall, 8 * k, ex, ey))
        if not holds(wall, sides, ex, ey):
            nearest = -nearest
        room = min(room, nearest)
    if ends == 2:
        for k in range(sides):
            at = 8 * k
            if wall[at + 7] > 0.0:
                room = min(room, gap(wall[at + 3] - x, wall[at + 4] - y, hx, hy))
    return room


def worst(
    z: Numbers, n: int, s: float, hx: Numbers, hy: Numbers, r: Numbers, kind: int, wall: Numbers, sides: int
) -> float:
    """The largest overlap of bodies scaled by s with each other and with the wall; below 0 where all have room.

    z: the x of all n, then the y of all.
    """
    most = -1e300
    for i in range(n):
        out = s * r[i] - wall_room(kind, wall, sides, z[i], z[n + i], s * hx[i], s * hy[i])
        most = max(most, out)
        for j in range(i):
            reach = s * (r[i] + r[j])
            dx = z[i] - z[j]
            if abs(dx) - s * (hx[i] + hx[j]) < reach - most:
                apart = gap(dx, z[n + i] - z[n + j], s * (hx[i] + hx[j]), s * (hy[i] + hy[j]))
                most = max(most, reach - apart)
    return most
