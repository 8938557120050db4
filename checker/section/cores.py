"""Where the cores of a cable are drawn in it. Their metal is to scale by its area; their places are a convention."""

import math
from dataclasses import dataclass

from checker.section.shapes import Body
from checker.units import awg_area_mm2

#: What sheath and filling take of a multicore cable's radius in a drawing.
_WITHIN = 0.86
#: Of cables with more cores than this none is drawn.
MOST_CORES = 127


@dataclass(frozen=True, slots=True)
class Core:
    """One core, from the middle of its cable (x to the right, y up, the cable lying flat): radius over its insulation, and of its metal."""

    x_mm: float
    y_mm: float
    radius_mm: float
    metal_mm: float


def conductor_mm2(csa_mm2: float | None, awg_kcmil: str) -> float | None:
    """The area of one conductor's metal, in mm²; None where nothing tells it."""
    if csa_mm2 is not None:
        return csa_mm2 if csa_mm2 > 0.0 else None
    return awg_area_mm2(awg_kcmil)


def cores_of(body: Body, cores: int | None, area_mm2: float | None) -> tuple[Core, ...] | None:
    """The cores of a cable.

    Args:
        body: The cable's outside; a flat one lies with its longer side level here, whichever way it was given.
        cores: How many.
        area_mm2: Metal of one, in mm².

    Returns:
        None where number or metal isn't known, or the metal of so many cores doesn't go into the outside.
    """
    if area_mm2 is None or not cores or cores > MOST_CORES:
        return None
    metal = math.sqrt(area_mm2 / math.pi)
    radius = body.thickness_mm / 2.0
    if body.length_mm > body.thickness_mm * 1.0001:
        places, room = _row(body, cores)
    elif cores == 1:
        # the cable is its insulation
        return (Core(0.0, 0.0, radius, metal),) if metal < radius else None
    else:
        shares, size = _round(cores)
        places = [(x * radius * _WITHIN, y * radius * _WITHIN) for x, y in shares]
        room = size * radius * _WITHIN
    if metal >= room:
        return None
    return tuple(Core(x, y, room * 0.97, metal) for x, y in places)


def _row(body: Body, cores: int) -> tuple[list[tuple[float, float]], float]:
    """Side by side along a flat cable."""
    room = min(body.thickness_mm / 2.0 * _WITHIN, body.length_mm / 2.0 * 0.94 / cores)
    edge = body.thickness_mm / 2.0 * (1.0 - _WITHIN)
    span = body.length_mm - 2.0 * edge
    step = span / cores
    return [((number - (cores - 1) / 2.0) * step, 0.0) for number in range(cores)], room


def _round(cores: int) -> tuple[list[tuple[float, float]], float]:
    """Equal circles in a circle of radius 1, and their radius: in one ring while that is as good, else in a hexagonal field."""
    ring = math.sin(math.pi / cores)
    ring_size = ring / (1.0 + ring)
    around = _ring(cores, 1.0 - ring_size)
    if cores <= 5:
        return around, ring_size
    inner = math.sin(math.pi / (cores - 1))
    # one in the middle: so large that those of the ring touch it or each other, whichever is sooner
    inner_size = min(inner / (1.0 + inner), 1.0 / 3.0)
    if cores in {6, 7, 8, 9}:
        return [(0.0, 0.0), *_ring(cores - 1, 1.0 - inner_size)], inner_size
    field = _field(cores)
    reach = max(math.hypot(x, y) for x, y in field) + 1.0
    return [(x / reach, y / reach) for x, y in field], 1.0 / reach


def _ring(count: int, radius: float) -> list[tuple[float, float]]:
    """Evenly around, the first at the top; two lie side by side."""
    first = 0.0 if count == 2 else math.pi / 2.0 if count != 4 else math.pi / 4.0
    turns = [first + 2.0 * math.pi * number / count for number in range(count)]
    return [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


def _field(count: int) -> list[tuple[float, float]]:
    """The points of a hexagonal lattice of radius 1 that lie nearest to the middle of three, or to one of them if that is closer."""
    best: list[tuple[float, float]] = []
    for x0, y0 in ((0.0, 0.0), (0.0, 2.0 / math.sqrt(3.0)), (1.0, 0.0)):
        points = sorted(
            (round(math.hypot(x, y), 9), round(math.atan2(y, x), 9), x, y)
            for row in range(-8, 9)
            for column in range(-8, 9)
            for x, y in [(2.0 * column + row % 2 - x0, row * math.sqrt(3.0) - y0)]
        )
        chosen = [(x, y) for _, _, x, y in points[:count]]
        if not best or _reach(chosen) < _reach(best) - 1e-9:
            best = chosen
    return best


def _reach(points: list[tuple[float, float]]) -> float:
    return max(math.hypot(x, y) for x, y in points)
