"""How a packing is disturbed so that it may settle better. Plain or compiled, as kernel_walls."""
# ruff: noqa: C901 - plain loops in few calls: what compiles well, and the same either way

from typing import Any

from checker.section.kernel_walls import gap, wall_room

Numbers = Any


def chance(state: Numbers) -> float:
    """The next of a fixed row of numbers between 0 and 1 (a Lehmer generator: 48271, modulo 2**31 - 1)."""
    state[0] = state[0] * 48271 % 2147483647
    return float(state[0] / 2147483647.0)


def move(
    z: Numbers,
    n: int,
    s: float,
    equal: int,
    flat: int,
    state: Numbers,
    box: Numbers,
    hx: Numbers,
    hy: Numbers,
    r: Numbers,
    kind: int,
    wall: Numbers,
    sides: int,
) -> None:
    """Disturbs a packing: jitters all, moves one or two into a hole, changes places of two, or turns a flat one."""
    way = chance(state)
    if way < 0.35:
        far = 0.2 + 0.9 * chance(state)
        for i in range(n):
            z[i] += far * r[i] * (2.0 * chance(state) - 1.0)
            z[n + i] += far * r[i] * (2.0 * chance(state) - 1.0)
        return
    if flat == 1 and way < 0.5:
        i = int(chance(state) * n)
        kept = hx[i]
        hx[i] = hy[i]
        hy[i] = kept
        return
    if equal == 0 and way < 0.7:
        i = int(chance(state) * n)
        j = int(chance(state) * n)
        for _ in range(4):
            if r[i] == r[j] or abs(i - j) > n // 3 + 1:
                j = int(chance(state) * n)
        for k in range(0, n + 1, n):
            kept = z[k + i]
            z[k + i] = z[k + j]
            z[k + j] = kept
        return
    count = 1 + int(chance(state) * 2.5)
    for _ in range(count):
        i = int(chance(state) * n)
        best = -1e300
        best_x = z[i]
        best_y = z[n + i]
        for _ in range(24):
            x = box[0] + chance(state) * (box[2] - box[0])
            y = box[1] + chance(state) * (box[3] - box[1])
            room = wall_room(kind, wall, sides, x, y, 0.0, 0.0)
            for j in range(n):
                if j != i and room > best:
                    room = min(room, gap(x - z[j], y - z[n + j], s * hx[j], s * hy[j]) - s * r[j])
            if room > best:
                best = room
                best_x = x
                best_y = y
        z[i] = best_x
        z[n + i] = best_y
