"""Whether cables go into an inside, and where each would lie: a question of geometry alone, which allows nothing.

Asked in tiers, cheap first: areas and widths, which alone can prove that they don't go in; dropping them, large first; relaxing
them from many starts. The same question has the same answer whatever order the bodies are given in, and compiled or not.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from checker.section import compiled
from checker.section.overlap import OVERLAP_UM, overlap_um
from checker.section.prepared import NEAR_MM, Prepared, prepare
from checker.section.proofs import bounds_of, proof_against, proof_of_area, proof_of_width, sizes_of
from checker.section.rows import most_in_rows
from checker.section.searching import Budget, search
from checker.section.shapes import Body, Inside, Placed
from checker.section.starts import LOWS, MANY, Chance, dropped, orders

__all__ = ["Effort", "Found", "Packing", "Tier", "dropped_in", "most_that_go_in", "overlap_um", "pack", "smallest"]

#: What the packer itself allows bodies to overlap by is no more than NEAR_MM, nor than this in the question's own unit.
NEAR = 1e-7
#: Of more bodies than these it would take minutes.
MOST_DROPPED, MOST_RELAXED = 1500, 800


class Tier(StrEnum):
    """Which step answered."""

    AREA = "area"
    WIDTH = "width"
    DROP = "drop"  # or, where all are equal and round, rows
    RELAXATION = "relaxation"


class Found(StrEnum):
    """Whether there is a packing. Not found proves nothing; impossible is proved."""

    FOUND = "found"
    NOT_FOUND = "not found"
    IMPOSSIBLE = "impossible"


class Effort(StrEnum):
    """How long to look: by dropping alone, as is usual, or for seconds."""

    QUICK = "quick"
    USUAL = "usual"
    THOROUGH = "thorough"


@dataclass(frozen=True, slots=True)
class Packing:
    """The answer.

    Attributes:
        outcome: Whether there is a packing.
        placed: Where each body lies, in their order, if it's found.
        tier: Which step answered.
        proof: Why it's impossible, in words.
    """

    outcome: Found
    placed: tuple[Placed, ...]
    tier: Tier
    proof: str = ""


def pack(inside: Inside, bodies: Sequence[Body], *, effort: Effort = Effort.USUAL) -> Packing:
    """Looks for places for all bodies.

    Args:
        inside: What they are to lie in; of a channel below its sides.
        bodies: Sections of cables; flat ones lie flat or stand on their edges.
        effort: How long to look.

    Returns:
        Found, with places that overlap by less than 1 µm, which is checked by ``overlap_um``; impossible, with the proof; or not found.
    """
    if not bodies:
        return Packing(Found.FOUND, (), Tier.AREA)
    sizes, bounds = sizes_of(bodies), bounds_of(inside)
    for tier, proof in ((Tier.AREA, proof_of_area(sizes, bounds)), (Tier.WIDTH, proof_of_width(sizes, bounds, inside))):
        if proof:
            return Packing(Found.IMPOSSIBLE, (), tier, proof)
    asked = prepare(inside, bodies)
    if placed := _checked(asked, _by_dropping(asked)):
        return Packing(Found.FOUND, placed, Tier.DROP)
    if effort is Effort.QUICK:
        return Packing(Found.NOT_FOUND, (), Tier.DROP)
    if placed := _checked(asked, _by_relaxing(asked, effort)):
        return Packing(Found.FOUND, placed, Tier.RELAXATION)
    return Packing(Found.NOT_FOUND, (), Tier.RELAXATION)


def dropped_in(inside: Inside, bodies: Sequence[Body]) -> tuple[Placed, ...]:
    """Bodies dropped in once, large first: those that find a place, by their numbers, which may be all.

    They overlap by less than 1 µm, which is checked.
    """
    if not bodies:
        return ()
    asked = prepare(inside, bodies)
    start, there = dropped(
        asked, compiled.kernels_if_ready(asked.count), list(range(asked.count)), LOWS[0], asked.target
    )
    found = {body for body, is_there in zip(asked.order, there, strict=True) if is_there}
    return _checked(asked, tuple(place for place in asked.placed(start.z, start.upright) if place.body in found))


def _checked(asked: Prepared, placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """The places, if nothing overlaps."""
    return placed if placed and overlap_um(asked.inside, asked.bodies, placed) < OVERLAP_UM else ()


def _by_dropping(asked: Prepared) -> tuple[Placed, ...]:
    if asked.equal_circles:
        count, placed = most_in_rows(asked.inside, asked.bodies[0].length_mm, asked.count)
        if count >= asked.count:
            return placed[: asked.count]
    if asked.count > MOST_DROPPED:
        return ()
    kernels = compiled.kernels_if_ready(asked.count)
    chance = Chance(1)
    for tried in range(len(LOWS) + 2):
        large_first = tried < len(LOWS)
        if not large_first and asked.equal_circles:
            break
        order = list(range(asked.count)) if large_first else orders(asked, chance)
        start, there = dropped(asked, kernels, order, LOWS[tried % len(LOWS)], asked.target)
        if all(there):
            return asked.placed(start.z, start.upright)
    return ()


def _budget(count: int, effort: Effort) -> Budget:
    if effort is Effort.THOROUGH:
        return Budget(starts=160, kept=14, hops=800, patience=300)
    return Budget(starts=8, kept=1, hops=max(4, 1000 // count), patience=1000)


def _by_relaxing(asked: Prepared, effort: Effort) -> tuple[Placed, ...]:
    if asked.count > MOST_RELAXED:
        return ()
    near = min(NEAR, NEAR_MM / asked.unit_mm)
    best = search(asked, compiled.kernels(), near, asked.target, _budget(asked.count, effort))
    return asked.placed(best.z, best.upright) if best.scale >= asked.target else ()


def smallest(
    shape_of_size: Callable[[float], Inside], bodies: Sequence[Body], *, effort: Effort = Effort.THOROUGH
) -> float:
    """The smallest inside of a row of shapes for which a packing is found.

    Args:
        shape_of_size: Gives an inside for a size in mm: the larger the size, the larger the inside, without an end. Where all are of one
            form (circles, squares), one search answers; else sizes are halved in between.
        bodies: What is to go in.
        effort: How long to look, for each size that is asked about.

    Returns:
        The size in mm; ``pack`` with the same effort goes the same way there, so it finds the packing too. 0 for no bodies.
    """
    if not bodies:
        return 0.0
    size = sum(body.length_mm for body in bodies)
    while pack(shape_of_size(size), bodies, effort=Effort.QUICK).outcome is not Found.FOUND:
        size *= 2.0
    asked, half = prepare(shape_of_size(size), bodies), prepare(shape_of_size(size / 2.0), bodies)
    if (asked.kind, asked.wall) == (half.kind, half.wall) and abs(half.target / asked.target - 2.0) < 1e-9:
        best = search(asked, compiled.kernels(), NEAR, float("inf"), _budget(asked.count, effort))
        guess = size * asked.target / best.scale * (1.0 + 1e-9)
        if _checked(there := prepare(shape_of_size(guess), bodies), there.placed(best.z, best.upright)):
            return guess
    low, high = 0.0, size
    while high - low > 1e-4 * high:
        middle = 0.5 * (low + high)
        if pack(shape_of_size(middle), bodies, effort=effort).outcome is Found.FOUND:
            high = middle
        else:
            low = middle
    return high


def most_that_go_in(inside: Inside, body: Body, beside: Sequence[Body] = (), limit: int = 10_000) -> int:
    """The largest count of a body for which a packing is found beside others: geometry alone, no allowance.

    Args:
        inside: What they are to lie in.
        body: The section that is counted.
        beside: Sections that are in there too.
        limit: No more than this are looked for.

    Returns:
        The count; 0 where not even the others are found to go in.
    """
    if limit < 1 or (beside and not _found(inside, beside)):
        return 0
    low = _most_by_dropping(inside, body, beside, limit)
    step = 1
    while low < limit:  # upward by relaxation, in growing steps while it goes in
        count = min(limit, low + step)
        if _goes_in(inside, [*beside, *[body] * count]):
            low, step = count, step * 2
        elif step == 1:
            break
        else:
            step = 1
    return low


def _found(inside: Inside, bodies: Sequence[Body], effort: Effort = Effort.USUAL) -> bool:
    return pack(inside, bodies, effort=effort).outcome is Found.FOUND


def _goes_in(inside: Inside, bodies: Sequence[Body]) -> bool:
    """As ``pack`` answers, but where there are many without dropping them in vain first."""
    if len(bodies) <= MANY:
        return _found(inside, bodies)
    if proof_against(inside, bodies):
        return False
    asked = prepare(inside, bodies)
    return bool(_checked(asked, _by_relaxing(asked, Effort.USUAL)))


def _most_by_dropping(inside: Inside, body: Body, beside: Sequence[Body], limit: int) -> int:
    """A count that goes in by dropping; not always the largest such."""
    bounds = bounds_of(inside)
    room = bounds.area_mm2 - sum(other.area_mm2 for other in beside)
    low, high = 0, min(limit, int(room / body.area_mm2) + 1)
    if not beside and high > 1:
        in_rows = most_in_rows(inside, body.length_mm, limit)[0] if body.length_mm == body.thickness_mm else 0
        if in_rows > MANY or high > MOST_DROPPED:
            return in_rows
        asked = prepare(inside, [body] * high)
        kernels = compiled.kernels_if_ready(high)
        held = max(sum(dropped(asked, kernels, list(range(high)), lows, asked.target)[1]) for lows in LOWS)
        held = max(held, in_rows)
        return held if held == 0 or _found(inside, [body] * held, Effort.QUICK) else 0
    while low < high:
        middle = (low + high + 1) // 2
        if _found(inside, [*beside, *[body] * middle], Effort.QUICK):
            low = middle
        else:
            high = middle - 1
    return low
