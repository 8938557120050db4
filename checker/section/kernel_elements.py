"""Where a body touches something: circles and lines for its centre, and where they cross. Plain or compiled, as kernel_walls."""

import math
from typing import Any

Numbers = Any


def add_element(
    e: Numbers, count: int, a: float, b: float, c: float, shape: float, x0: float, x1: float, y0: float, y1: float
) -> int:
    """Adds a circle (centre, radius; shape 0) or a line (normal, offset; shape 1) with its bounding box."""
    at = 8 * count
    e[at] = a
    e[at + 1] = b
    e[at + 2] = c
    e[at + 3] = shape
    e[at + 4] = x0
    e[at + 5] = x1
    e[at + 6] = y0
    e[at + 7] = y1
    return count + 1


def wall_elements(e: Numbers, kind: int, wall: Numbers, sides: int, hx: float, hy: float, r: float) -> int:
    """Where a body's centre may lie so that it touches the wall."""
    count = 0
    far = 1e9
    if kind == 0:
        reach = wall[2] - r
        ends = 1
        if hx > 0.0 or hy > 0.0:
            ends = 2
        if reach >= 0.0:
            for end in range(ends):
                cx = wall[0] + hx - 2.0 * hx * end
                cy = wall[1] + hy - 2.0 * hy * end
                count = add_element(e, count, cx, cy, reach, 0.0, cx - reach, cx + reach, cy - reach, cy + reach)
        return count
    for k in range(sides):
        at = 8 * k
        nx = wall[at]
        ny = wall[at + 1]
        offset = wall[at + 2] - r - abs(nx) * hx - abs(ny) * hy
        count = add_element(e, count, nx, ny, offset, 1.0, -far, far, -far, far)
        if wall[at + 7] > 0.0:
            count = body_elements(e, count, wall[at + 3], wall[at + 4], hx, hy, r)
    return count


def body_elements(e: Numbers, count: int, x: float, y: float, hx: float, hy: float, reach: float) -> int:
    """Where a body's centre may lie so that it touches another: around a rectangle of half sizes hx and hy, at a reach."""
    slack = 1e-6
    if hx > 0.0:
        for end in range(2):
            level = y + (hy + reach) * (1.0 - 2.0 * end)
            count = add_element(
                e, count, 0.0, 1.0, level, 1.0, x - hx - slack, x + hx + slack, level - slack, level + slack
            )
    if hy > 0.0:
        for end in range(2):
            level = x + (hx + reach) * (1.0 - 2.0 * end)
            count = add_element(
                e, count, 1.0, 0.0, level, 1.0, level - slack, level + slack, y - hy - slack, y + hy + slack
            )
    across = 1
    if hx > 0.0:
        across = 2
    up = 1
    if hy > 0.0:
        up = 2
    for i in range(across):
        for j in range(up):
            cx = x + hx - 2.0 * hx * i
            cy = y + hy - 2.0 * hy * j
            count = add_element(e, count, cx, cy, reach, 0.0, cx - reach, cx + reach, cy - reach, cy + reach)
    return count


def crossings(e: Numbers, p: int, q: int, found: Numbers) -> int:
    """Where two elements cross, whose bounding boxes do: 0, 1 or 2 points, put into ``found``."""
    a = 8 * p
    b = 8 * q
    if e[a + 3] > 0.5 and e[b + 3] > 0.5:
        det = e[a] * e[b + 1] - e[a + 1] * e[b]
        if abs(det) < 1e-9:
            return 0
        found[0] = (e[a + 2] * e[b + 1] - e[a + 1] * e[b + 2]) / det
        found[1] = (e[a] * e[b + 2] - e[a + 2] * e[b]) / det
        return 1
    if e[a + 3] > 0.5:
        a, b = b, a
    cx = e[a]
    cy = e[a + 1]
    radius = e[a + 2]
    if e[b + 3] > 0.5:
        nx = e[b]
        ny = e[b + 1]
        along = e[b + 2] - nx * cx - ny * cy
    else:
        dx = e[b] - cx
        dy = e[b + 1] - cy
        apart = math.sqrt(dx * dx + dy * dy)
        if apart < 1e-12:
            return 0
        nx = dx / apart
        ny = dy / apart
        along = (apart * apart + radius * radius - e[b + 2] * e[b + 2]) / (2.0 * apart)
    square = radius * radius - along * along
    if square < -1e-9:
        return 0
    half = math.sqrt(max(0.0, square))
    found[0] = cx + along * nx - half * ny
    found[1] = cy + along * ny + half * nx
    found[2] = cx + along * nx + half * ny
    found[3] = cy + along * ny - half * nx
    return 2
