"""Cables as a person drops them in: one after the other, each lying where it first comes to rest. And how high the pile gets.

Each falls from a chance place across and rolls down, over what lies there already, as far as it can without being lifted. The lid is
off while they're laid; of a conduit too, as though it were cut open where it's widest. Flat cables lie flat, or stand where the inside
is too narrow for that; they don't tip.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.section import compiled
from checker.section.kernel_walls import wall_room
from checker.section.prepared import CONCAVE, NEAR_MM, Prepared, prepare
from checker.section.shapes import Body, Inside, Placed
from checker.section.starts import Chance


@dataclass(frozen=True, slots=True)
class Laid:
    """One trial: where the cables lie, how high the pile is, and whether it all lies under the lid."""

    placed: tuple[Placed, ...]
    height_mm: float
    lies_under_lid: bool


@dataclass(frozen=True, slots=True)
class Trials:
    """Many trials, ordered by the height of their piles.

    Attributes:
        laid: Each trial, the lowest pile first.
        seed: What they were had with.
    """

    laid: tuple[Laid, ...]
    seed: int

    @property
    def median(self) -> Laid:
        """The trial in the middle; of two the higher."""
        return self.laid[len(self.laid) // 2]

    @property
    def highest_mm(self) -> float:
        """The height of the highest pile; infinite where a cable is wider than the inside."""
        return self.laid[-1].height_mm

    @property
    def under_lid(self) -> int:
        """In how many of the trials all lies under the lid."""
        return sum(one.lies_under_lid for one in self.laid)


def as_laid(inside: Inside, bodies: Sequence[Body], *, seed: int = 0, trials: int = 1, shuffled: bool = True) -> Trials:
    """Lays cables in by hand, again and again.

    Args:
        inside: What they are laid in. A polygon may have no corners that stand inward.
        bodies: Sections of the cables.
        seed: The same seed gives the same trials. It also is that of the first trial.
        trials: How often.
        shuffled: Whether each trial takes another order, which doesn't hang on the one given; else the order given is kept.

    Returns:
        The trials. A cable that is wider than the inside isn't laid: no place, and a pile without an end.

    Raises:
        ValueError: No trials, a seed below 0, or a polygon with corners that stand inward.
    """
    if trials < 1 or seed < 0:
        raise ValueError(f"there must be a trial, and a seed from 0: {trials} trials, seed {seed}")
    if not bodies:
        return Trials(tuple(Laid((), 0.0, lies_under_lid=True) for _ in range(trials)), seed)
    asked = prepare(inside, bodies)
    if asked.kind == CONCAVE:
        raise ValueError("laying by hand isn't known for insides with corners that stand inward")
    laid = [_trial(asked, seed * 65_537 + trial, shuffled=shuffled) for trial in range(trials)]
    return Trials(tuple(sorted(laid, key=lambda one: (one.height_mm, one.placed[0].x_mm if one.placed else 0.0))), seed)


def _trial(asked: Prepared, seed: int, *, shuffled: bool) -> Laid:
    n, chance = asked.count, Chance(seed)
    order = chance.shuffled(n) if shuffled else sorted(range(n), key=lambda i: asked.order[i])
    where = [chance.next() for _ in range(n)]
    width, height = asked.extent
    near = NEAR_MM / asked.unit_mm
    kernels = compiled.kernels_if_ready(n)
    hx, hy, r, upright = [], [], [], []
    for half, radius in zip(asked.hx, asked.r, strict=True):
        half_now, radius_now = half * asked.target, radius * asked.target
        stands = 2.0 * (half_now + radius_now) > width + near
        hx.append(0.0 if stands else half_now)
        hy.append(half_now if stands else 0.0)
        r.append(radius_now)
        upright.append(stands)
    z = kernels.floats(2 * n)
    above = (
        height + 2.0 * max(half + radius for half, radius in zip(asked.hx, asked.r, strict=True)) * asked.target + 1.0
    )
    top = kernels.lay(
        n,
        kernels.of_whole(order),
        kernels.of(where),
        above,
        0.0,
        width,
        kernels.of(hx),
        kernels.of(hy),
        kernels.of(r),
        asked.kind,
        kernels.of(asked.wall),
        asked.sides,
        z,
    )
    if top > 1e200:
        return Laid((), math.inf, lies_under_lid=False)
    under = all(
        wall_room(asked.kind, asked.wall, asked.sides, float(z[i]), float(z[n + i]), hx[i], hy[i]) >= r[i] - near
        for i in range(n)
    )
    return Laid(asked.placed(z, upright), float(top) * asked.unit_mm, under)
