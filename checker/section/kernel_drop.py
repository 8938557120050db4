"""Gravity drop: each body to its lowest place among those where it touches two of wall and bodies. Plain or compiled, as kernel_walls."""
# ruff: noqa: C901, PLR0912, PLR0915, D417 - plain loops in few calls: what compiles well, and the same either way

from typing import Any

from checker.section.kernel_elements import body_elements, crossings, wall_elements
from checker.section.kernel_walls import gap, wall_room

Numbers = Any
EPSILON = 1e-9


def free_at(
    x: float,
    y: float,
    n: int,
    bx: float,
    by: float,
    reach: float,
    z: Numbers,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    turned: Numbers,
    cell: float,
    columns: int,
    rows: int,
    heads: Numbers,
    after: Numbers,
) -> bool:
    """Whether a body overlaps none of those that lie in the nine cells around it: no other can reach it."""
    column = int(x / cell)
    row = int(y / cell)
    for i in range(max(0, column - 1), min(columns, column + 2)):
        for k in range(max(0, row - 1), min(rows, row + 2)):
            j = heads[i * rows + k]
            while j >= 0:
                jx = hx[j]
                jy = hy[j]
                if turned[j] == 1:
                    jx = hy[j]
                    jy = hx[j]
                apart = reach + r[j] - EPSILON
                dx = x - z[j]
                dy = y - z[n + j]
                if jx + jy + bx + by == 0.0:
                    if dx * dx + dy * dy < apart * apart:
                        return False
                elif gap(dx, dy, bx + jx, by + jy) < apart:
                    return False
                j = after[j]
    return True


def drop(
    n: int,
    order: Numbers,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
    gx: float,
    gy: float,
    outward: float,
    z: Numbers,
    turned: Numbers,
    there: Numbers,
    e: Numbers,
    found: Numbers,
    cell: float,
    columns: int,
    rows: int,
    heads: Numbers,
    after: Numbers,
) -> int:
    """Drops bodies in an order, each to where ``gx * x + gy * y - outward * (square of the distance from the middle)`` is least.

    Args:
        n: How many bodies.
        order: Their numbers, first dropped first.
        hx, hy, r: Half lengths of their cores, lying, and radii.
        kind, wall, sides: As kernel_walls tells.
        gx, gy, outward: What is low.
        z: Gets the x of all n, then the y of all.
        turned: Gets 1 for each that stands upright, else 0.
        there: Gets 1 for each that found a place, else 0.
        e: Room for 8 figures an element, up to 8 elements a body or corner and one a side.
        found: Room for 4 figures.
        cell, columns, rows: A grid over the inside; a cell is no smaller than the reach of two bodies.
        heads, after: Room for one figure a cell, and one a body.

    Returns:
        How many found a place.
    """
    for i in range(n):
        there[i] = 0
        turned[i] = 0
    for i in range(columns * rows):
        heads[i] = -1
    count = 0
    mx = 0.5 * wall[0]
    my = 0.5 * wall[1]
    if kind == 0:
        mx = wall[0]
        my = wall[1]
    for k in range(n):
        b = order[k]
        if k > 0:
            last = order[k - 1]
            if there[last] == 0 and hx[last] == hx[b] and hy[last] == hy[b] and r[last] == r[b]:
                continue  # there was no place for one like it
        best = 1e300
        best_x = 1e300
        best_y = 0.0
        best_way = 0
        ways = 1
        if hx[b] != hy[b]:
            ways = 2
        for way in range(ways):
            bx = hx[b]
            by = hy[b]
            if way == 1:
                bx = hy[b]
                by = hx[b]
            elements = wall_elements(e, kind, wall, sides, bx, by, r[b])
            walls = elements
            for m in range(k):
                j = order[m]
                if there[j] == 1:
                    jx = hx[j]
                    jy = hy[j]
                    if turned[j] == 1:
                        jx = hy[j]
                        jy = hx[j]
                    elements = body_elements(e, elements, z[j], z[n + j], bx + jx, by + jy, r[b] + r[j])
            for p in range(elements):
                for q in range(p + 1):
                    if p == q:
                        if p >= walls or e[8 * p + 3] > 0.5:
                            continue
                        points = 2
                        found[0] = e[8 * p]
                        found[1] = e[8 * p + 1] - e[8 * p + 2]
                        found[2] = e[8 * p] - e[8 * p + 2]
                        found[3] = e[8 * p + 1]
                    else:
                        x0 = max(e[8 * p + 4], e[8 * q + 4])
                        x1 = min(e[8 * p + 5], e[8 * q + 5])
                        y0 = max(e[8 * p + 6], e[8 * q + 6])
                        y1 = min(e[8 * p + 7], e[8 * q + 7])
                        if x0 > x1 or y0 > y1:
                            continue
                        least = gx * x0 + gy * y0
                        if outward > 0.0:
                            far_x = max(mx - x0, x1 - mx)
                            far_y = max(my - y0, y1 - my)
                            least -= outward * (far_x * far_x + far_y * far_y)
                        if least > best + EPSILON:
                            continue
                        points = crossings(e, p, q, found)
                    for point in range(points):
                        x = found[2 * point]
                        y = found[2 * point + 1]
                        low = gx * x + gy * y - outward * ((x - mx) * (x - mx) + (y - my) * (y - my))
                        if low > best + EPSILON or (low > best - EPSILON and x >= best_x - EPSILON):
                            continue
                        if wall_room(kind, wall, sides, x, y, bx, by) < r[b] - EPSILON:
                            continue
                        if free_at(x, y, n, bx, by, r[b], z, hx, hy, r, turned, cell, columns, rows, heads, after):
                            best = low
                            best_x = x
                            best_y = y
                            best_way = way
                            there[b] = 1
        if there[b] == 1:
            z[b] = best_x
            z[n + b] = best_y
            turned[b] = best_way
            at = min(columns - 1, int(best_x / cell)) * rows + min(rows - 1, int(best_y / cell))
            after[b] = heads[at]
            heads[at] = b
            count += 1
    return count
