"""Search for the largest scale at which bodies go in: settling from a start, and hopping on from the best. Plain or compiled."""
# ruff: noqa: C901, D417 - plain loops in few calls: what compiles well, and the same either way

from typing import Any

from checker.section.kernel_moves import move
from checker.section.kernel_relax import relax
from checker.section.kernel_walls import worst

Numbers = Any


def settle(
    z: Numbers,
    n: int,
    target: float,
    floor: float,
    near: float,
    stretch: float,
    flat: int,
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
) -> float:
    """Settles bodies from where they are; z becomes where they lie then.

    Args:
        z: x of all n, y of all n, scale over stretch.
        target: A scale that is enough.
        floor: A scale that is no longer of interest: below it the way is left early.
        near: By how much bodies may overlap.

    Returns:
        A scale at which they overlap by no more than ``near`` (the target, if it's reached), or less than the floor where they don't.
        ``out[15]`` is raised by the evaluations that it took.
    """
    share = 1e-2
    s = 0.0
    kept = z[2 * n]
    for stage in range(5):
        fixed = 0
        mu = 6.0 * n * share
        steps = 40 + 60 * stage
        enough = 0.02 * share
        if stage == 4:  # it may just go in: at the scale that's wanted, until nothing overlaps
            if s < target:
                break
            fixed = 1
            mu = 0.0
            steps = 400
            enough = 1e-3 * near
            kept = z[2 * n]
            z[2 * n] = target / stretch
        used = relax(
            z,
            n,
            stretch,
            mu,
            fixed,
            flat,
            steps,
            enough,
            largest,
            hx,
            hy,
            r,
            kind,
            wall,
            sides,
            first,
            second,
            seen,
            g,
            h,
            t,
            d,
            past,
            out,
        )
        out[15] += used
        if fixed == 0:
            s = z[2 * n] * stretch
        if s <= floor:
            return s
        if s >= target and worst(z, n, target, hx, hy, r, kind, wall, sides) <= near:
            return target
        if fixed == 1:
            z[2 * n] = kept
        share *= 0.04
    low = 0.0
    high = s
    for _ in range(60):
        middle = 0.5 * (low + high)
        if worst(z, n, middle, hx, hy, r, kind, wall, sides) <= 0.0:
            low = middle
        else:
            high = middle
        if high - low < 1e-12 * s:
            break
    return low


def hop(
    z: Numbers,
    hx: Numbers,
    hy: Numbers,
    best: float,
    n: int,
    target: float,
    near: float,
    hops: int,
    patience: int,
    equal: int,
    state: Numbers,
    box: Numbers,
    u: Numbers,
    ux: Numbers,
    uy: Numbers,
    stretch: float,
    flat: int,
    largest: float,
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
) -> float:
    """Disturbs and settles again, ``hops`` times, or until ``patience`` of them in a row were no better; keeps what is better.

    z, hx, hy are where the bodies lie and how, at the scale ``best``; they become the best found, whose scale is returned.
    """
    idle = 0
    for _ in range(hops):
        if best >= target or idle >= patience:
            break
        for i in range(2 * n + 1):
            u[i] = z[i]
        for i in range(n):
            ux[i] = hx[i]
            uy[i] = hy[i]
        move(u, n, best, equal, flat, state, box, ux, uy, r, kind, wall, sides)
        u[2 * n] = best / stretch
        s = settle(
            u,
            n,
            target,
            best * (1.0 + 1e-9),
            near,
            stretch,
            flat,
            largest,
            ux,
            uy,
            r,
            kind,
            wall,
            sides,
            first,
            second,
            seen,
            g,
            h,
            t,
            d,
            past,
            out,
        )
        idle += 1
        if s > best * (1.0 + 1e-9):
            if s > best * (1.0 + 1e-5):
                idle = 0
            best = s
            for i in range(2 * n + 1):
                z[i] = u[i]
            for i in range(n):
                hx[i] = ux[i]
                hy[i] = uy[i]
    return best
