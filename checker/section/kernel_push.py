"""What is made small in relaxing: half the squared overlaps, and its slopes. Plain or compiled, as kernel_walls."""
# ruff: noqa: C901, PLR0912, PLR0915 - plain loops in few calls: what compiles well, and the same either way

import math
from typing import Any

from checker.section.kernel_walls import gap, holds

Numbers = Any


def push_from_polygon(
    kind: int, wall: Numbers, sides: int, x: float, y: float, hx: float, hy: float, reach: float, out: Numbers
) -> float:
    """What a polygon does to one body: half the squared overlaps; ``out`` gets the slopes in x, y, radius, hx and hy."""
    total = 0.0
    for k in range(5):
        out[k] = 0.0
    if kind == 1:
        for k in range(sides):
            at = 8 * k
            nx = wall[at]
            ny = wall[at + 1]
            over = nx * x + ny * y + abs(nx) * hx + abs(ny) * hy + reach - wall[at + 2]
            if over > 0.0:
                total += 0.5 * over * over
                out[0] += over * nx
                out[1] += over * ny
                out[2] += over
                out[3] += over * abs(nx)
                out[4] += over * abs(ny)
        return total
    ends = 1
    if hx > 0.0 or hy > 0.0:
        ends = 2
    for end in range(ends):
        way = 1.0 - 2.0 * end
        ex = x + way * hx
        ey = y + way * hy
        inside = holds(wall, sides, ex, ey)
        nearest = 1e300
        px = 0.0
        py = 0.0
        for k in range(sides):
            at = 8 * k
            ux = wall[at + 5] - wall[at + 3]
            uy = wall[at + 6] - wall[at + 4]
            share = ((ex - wall[at + 3]) * ux + (ey - wall[at + 4]) * uy) / (ux * ux + uy * uy)
            share = min(1.0, max(0.0, share))
            vx = ex - wall[at + 3] - share * ux
            vy = ey - wall[at + 4] - share * uy
            apart = math.sqrt(vx * vx + vy * vy)
            if inside and apart < reach:
                if apart < 1e-9:
                    vx = -wall[at]
                    vy = -wall[at + 1]
                else:
                    vx /= apart
                    vy /= apart
                over = reach - apart
                total += 0.5 * over * over
                out[0] -= over * vx
                out[1] -= over * vy
                out[2] += over
                out[3] -= over * vx * way
                out[4] -= over * vy * way
            elif not inside and apart < nearest:
                nearest = apart
                px = vx
                py = vy
        if not inside:
            if nearest < 1e-9:
                px = 1.0
                py = 0.0
            else:
                px /= nearest
                py /= nearest
            over = reach + nearest
            total += 0.5 * over * over
            out[0] += over * px
            out[1] += over * py
            out[2] += over
            out[3] += over * px * way
            out[4] += over * py * way
    if ends == 2:
        for k in range(sides):
            at = 8 * k
            if wall[at + 7] > 0.0:
                dx = x - wall[at + 3]
                dy = y - wall[at + 4]
                over = reach - gap(dx, dy, hx, hy)
                if over > 0.0:
                    ax = abs(dx) - hx
                    ay = abs(dy) - hy
                    nx = 0.0
                    ny = 0.0
                    if ax > 0.0 and ay > 0.0:
                        apart = math.sqrt(ax * ax + ay * ay)
                        nx = ax / apart
                        ny = ay / apart
                    elif ax > ay:
                        nx = 1.0
                    else:
                        ny = 1.0
                    total += 0.5 * over * over
                    out[2] += over
                    out[3] += over * nx
                    out[4] += over * ny
                    out[0] -= over * nx if dx >= 0.0 else -over * nx
                    out[1] -= over * ny if dy >= 0.0 else -over * ny
    return total


def energy(
    z: Numbers,
    g: Numbers,
    n: int,
    stretch: float,
    mu: float,
    fixed: int,
    flat: int,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
    first: Numbers,
    second: Numbers,
    pairs: int,
    out: Numbers,
) -> float:
    """What is made small, and in ``g`` its slopes. ``flat``: 1 where there are stadiums. ``fixed``: 1 where the scale may not change."""
    s = z[2 * n] * stretch
    total = 0.0
    slope = 0.0
    for i in range(2 * n + 1):
        g[i] = 0.0
    for k in range(pairs):
        i = first[k]
        j = second[k]
        dx = z[i] - z[j]
        dy = z[n + i] - z[n + j]
        radii = r[i] + r[j]
        reach = s * radii
        if flat == 1:
            sx = hx[i] + hx[j]
            sy = hy[i] + hy[j]
            ax = abs(dx) - s * sx
            ay = abs(dy) - s * sy
            if ax >= reach or ay >= reach:
                continue
            nx = 0.0
            ny = 0.0
            if ax > 0.0 and ay > 0.0:
                apart = math.sqrt(ax * ax + ay * ay)
                nx = ax / apart
                ny = ay / apart
            elif ax > ay:
                apart = ax
                nx = 1.0
            else:
                apart = ay
                ny = 1.0
            over = reach - apart
            if over <= 0.0:
                continue
            slope += over * (radii + nx * sx + ny * sy)
            if dx < 0.0:
                nx = -nx
            if dy < 0.0:
                ny = -ny
        else:
            square = dx * dx + dy * dy
            if square >= reach * reach:
                continue
            apart = math.sqrt(square)
            if apart > 1e-12:
                nx = dx / apart
                ny = dy / apart
            else:
                nx = 1.0
                ny = 0.0
            over = reach - apart
            slope += over * radii
        total += 0.5 * over * over
        g[i] -= over * nx
        g[j] += over * nx
        g[n + i] -= over * ny
        g[n + j] += over * ny
    if kind == 0:
        for i in range(n):
            ends = 1
            if hx[i] > 0.0 or hy[i] > 0.0:
                ends = 2
            for end in range(ends):
                way = 1.0 - 2.0 * end
                dx = z[i] + way * s * hx[i] - wall[0]
                dy = z[n + i] + way * s * hy[i] - wall[1]
                room = wall[2] - s * r[i]
                square = dx * dx + dy * dy
                if room > 0.0 and square <= room * room:
                    continue
                apart = math.sqrt(square)
                over = apart - room
                if apart > 1e-12:
                    nx = dx / apart
                    ny = dy / apart
                else:
                    nx = 1.0
                    ny = 0.0
                total += 0.5 * over * over
                g[i] += over * nx
                g[n + i] += over * ny
                slope += over * (r[i] + way * (nx * hx[i] + ny * hy[i]))
    else:
        for i in range(n):
            over = push_from_polygon(kind, wall, sides, z[i], z[n + i], s * hx[i], s * hy[i], s * r[i], out)
            if over > 0.0:
                total += over
                g[i] += out[0]
                g[n + i] += out[1]
                slope += out[2] * r[i] + out[3] * hx[i] + out[4] * hy[i]
    if fixed == 0:
        total -= mu * s
        g[2 * n] = (slope - mu) * stretch
    return total
