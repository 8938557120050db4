"""Laying: each body falls from where it's let go and rolls down to where it first comes to rest. Plain or compiled, as kernel_walls.

The inside is open at the top: its walls go straight up from where it's widest.
"""
# ruff: noqa: D417 - plain loops in few calls: what compiles well, and the same either way

import math
from typing import Any

Numbers = Any
BLOCKED = -1e300


def floor_at(kind: int, wall: Numbers, sides: int, x: float, hx: float, hy: float, r: float) -> float:
    """The lowest height at which a body's centre has room above the floor, at a place across; huge where a wall is."""
    low = BLOCKED
    if kind == 0:
        reach = wall[2] - r
        across = abs(x - wall[0]) + hx
        if across > reach:
            if across > reach + 1e-9:
                return 1e300
            across = reach
        return float(wall[1] - math.sqrt(reach * reach - across * across) + hy)
    for k in range(sides):
        at = 8 * k
        nx = wall[at]
        ny = wall[at + 1]
        room = wall[at + 2] - nx * x - abs(nx) * hx - abs(ny) * hy - r
        if ny < -1e-12:
            low = max(low, room / ny)
        elif ny <= 1e-12 and room < -1e-9:
            return 1e300
    return low


def fall(
    x: float,
    y: float,
    count: int,
    hx: float,
    hy: float,
    r: float,
    z: Numbers,
    n: int,
    order: Numbers,
    lx: Numbers,
    ly: Numbers,
    radii: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
) -> float:
    """How far down a body's centre gets from (x, y) with ``count`` others lying; BLOCKED where it hasn't room at (x, y)."""
    low = floor_at(kind, wall, sides, x, hx, hy, r)
    if low > y + 1e-9:
        return BLOCKED
    for k in range(count):
        j = order[k]
        reach = r + radii[j]
        across = abs(x - z[j]) - hx - lx[j]
        if across < reach:
            over = reach
            if across > 0.0:
                over = math.sqrt(reach * reach - across * across)
            over += hy + ly[j]
            top = z[n + j] + over
            if top <= y + 1e-9:
                low = max(low, top)
            elif z[n + j] - over < y - 1e-9:
                return BLOCKED
    return low


def lay(
    n: int,
    order: Numbers,
    where: Numbers,
    high: float,
    narrow: float,
    wide: float,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
    z: Numbers,
) -> float:
    """Lets bodies fall one after the other.

    Args:
        n: How many bodies.
        order: Their numbers, first let go first.
        where: For each in that order, at which share of the width that it has it's let go.
        high: From how high, of the first; the others from above the pile.
        narrow, wide: Where the inside is at its widest, from and to.
        hx, hy, r: Half lengths of their cores as they lie, and radii.
        kind, wall, sides: As kernel_walls tells; no polygon with corners that stand inward.
        z: Gets the x of all n, then the y of all.

    Returns:
        The height of the pile; a huge number where a body is wider than the inside.
    """
    top = 0.0
    for count in range(n):
        b = order[count]
        left = narrow + hx[b] + r[b]
        right = wide - hx[b] - r[b]
        if right < left - 1e-9:
            return 1e300
        x = left + where[count] * max(0.0, right - left)
        y = fall(x, top + high, count, hx[b], hy[b], r[b], z, n, order, hx, hy, r, kind, wall, sides)
        step = 0.25 * r[b]
        while step > 1e-7 * r[b]:
            lower = y
            way = 0.0
            for side in range(2):
                aside = x + step - 2.0 * step * side
                reached = fall(aside, y, count, hx[b], hy[b], r[b], z, n, order, hx, hy, r, kind, wall, sides)
                if reached > BLOCKED and reached < lower - 1e-9:
                    lower = reached
                    way = aside - x
            if way == 0.0:
                step *= 0.5
            else:
                x += way
                y = lower
        z[b] = x
        z[n + b] = y
        top = max(top, y + hy[b] + r[b])
    return top
