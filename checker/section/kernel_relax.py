"""Relaxation: bodies push each other and are pushed by the wall until nothing overlaps. Plain or compiled, as kernel_walls.

The unknowns z are the x of all n, then the y of all, then the scale of the bodies over ``stretch``. What is made small is
half the sum of the squared overlaps, less mu times the scale.
"""
# ruff: noqa: C901, PLR0912, PLR0915, D417 - plain loops in few calls: what compiles well, and the same either way

import math
from typing import Any

from checker.section.kernel_push import energy

Numbers = Any
SKIN = 0.6
MEMORY = 7


def neighbours(
    z: Numbers, n: int, s: float, hx: Numbers, hy: Numbers, r: Numbers, first: Numbers, second: Numbers, seen: Numbers
) -> int:
    """Lists the pairs that are nearer than SKIN to touching. ``seen`` gets where all was then."""
    count = 0
    for i in range(n):
        for j in range(i):
            reach = s * (r[i] + r[j]) + SKIN
            dx = abs(z[i] - z[j]) - s * (hx[i] + hx[j])
            if dx < reach:
                dy = abs(z[n + i] - z[n + j]) - s * (hy[i] + hy[j])
                if dy < reach and (dx <= 0.0 or dy <= 0.0 or dx * dx + dy * dy < reach * reach):
                    first[count] = i
                    second[count] = j
                    count += 1
    for i in range(2 * n):
        seen[i] = z[i]
    seen[2 * n] = s
    return count


def moved(z: Numbers, n: int, s: float, seen: Numbers, largest: float) -> bool:
    """Whether the list of pairs may lack one by now."""
    most = 0.0
    for i in range(n):
        dx = z[i] - seen[i]
        dy = z[n + i] - seen[n + i]
        most = max(most, dx * dx + dy * dy)
    grown = max(0.0, 2.0 * largest * (s - seen[2 * n]))
    return bool(2.0 * math.sqrt(most) + grown >= SKIN)


def relax(
    z: Numbers,
    n: int,
    stretch: float,
    mu: float,
    fixed: int,
    flat: int,
    steps: int,
    enough: float,
    largest: float,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
    first: Numbers,
    second: Numbers,
    seen: Numbers,
    g: Numbers,
    h: Numbers,
    t: Numbers,
    d: Numbers,
    past: Numbers,
    out: Numbers,
) -> int:
    """Goes downhill from z by a quasi-Newton method of limited memory; z becomes the end.

    Stops where the steepest slope is below ``enough``, or after ``steps`` evaluations.

    Args:
        z, g, h, t, d: Each 2 n + 1 figures; all but z are room for slopes, trials and directions.
        past: Room for 2 * MEMORY * (2 n + 1) + 2 * MEMORY figures.

    Returns:
        How often the energy was evaluated.
    """
    size = 2 * n + 1
    past_y = MEMORY * size
    past_r = 2 * MEMORY * size
    past_a = past_r + MEMORY
    pairs = neighbours(z, n, z[2 * n] * stretch, hx, hy, r, first, second, seen)
    f = energy(z, g, n, stretch, mu, fixed, flat, hx, hy, r, kind, wall, sides, first, second, pairs, out)
    used = 1
    held = 0
    newest = -1
    bend = 1.0
    while used < steps:
        steep = 0.0
        for i in range(size):
            steep = max(steep, abs(g[i]))
            d[i] = -g[i]
        if steep < enough:
            break
        for back in range(held):
            k = (newest - back + MEMORY) % MEMORY
            a = 0.0
            for i in range(size):
                a += past[k * size + i] * d[i]
            a *= past[past_r + k]
            past[past_a + k] = a
            for i in range(size):
                d[i] -= a * past[past_y + k * size + i]
        if held > 0:
            for i in range(size):
                d[i] *= bend
        for ahead in range(held):
            k = (newest - held + 1 + ahead + MEMORY) % MEMORY
            b = 0.0
            for i in range(size):
                b += past[past_y + k * size + i] * d[i]
            b = past[past_a + k] - b * past[past_r + k]
            for i in range(size):
                d[i] += b * past[k * size + i]
        slope = 0.0
        longest = 0.0
        for i in range(size):
            slope += d[i] * g[i]
            longest = max(longest, abs(d[i]))
        if slope >= 0.0:
            if held == 0:
                break
            held = 0
            continue
        step = 1.0
        if held == 0:
            step = 0.25
        if longest * step > 0.7:
            step = 0.7 / longest
        better = False
        while used < steps + 20:
            for i in range(size):
                t[i] = z[i] + step * d[i]
            if moved(t, n, t[2 * n] * stretch, seen, largest):
                pairs = neighbours(t, n, t[2 * n] * stretch, hx, hy, r, first, second, seen)
            tried = energy(t, h, n, stretch, mu, fixed, flat, hx, hy, r, kind, wall, sides, first, second, pairs, out)
            used += 1
            if tried <= f + 1e-4 * step * slope:
                better = True
                break
            share = -0.5 * slope * step / (tried - f - slope * step)
            step *= min(0.5, max(0.1, share))
            if step * longest < 1e-14:
                break
        if not better:
            if held == 0:
                break
            held = 0
            continue
        newest = (newest + 1) % MEMORY
        product = 0.0
        square = 0.0
        for i in range(size):
            ds = t[i] - z[i]
            dg = h[i] - g[i]
            past[newest * size + i] = ds
            past[past_y + newest * size + i] = dg
            product += ds * dg
            square += dg * dg
            z[i] = t[i]
            g[i] = h[i]
        f = tried
        if product > 1e-10 * square and product > 0.0:
            past[past_r + newest] = 1.0 / product
            bend = product / square
            held = min(held + 1, MEMORY)
        else:
            held = 0
    return used
