"""Cables in rows on each other, the thickest lowest: soon done however many they are, and often enough where a code lets them in."""

import math
from collections.abc import Sequence

from checker.section.overlap import OVERLAP_UM, overlap_um
from checker.section.rows import most_in_rows
from checker.section.shapes import Body, Box, Channel, Inside, Placed, Round, extent_mm

#: In a round inside the lowest row begins so far up, as shares of the thickest body; that with the most bodies is taken.
_BEGINS = tuple(step / 8.0 for step in range(9))


def on_shelves(inside: Inside, bodies: Sequence[Body]) -> tuple[Placed, ...]:
    """Bodies side by side in rows, as many as find a place so; flat ones lie, or stand where they are too wide.

    Args:
        inside: A circle or a rectangle; in another form none is placed.
        bodies: What is laid.

    Returns:
        Those that found a place, by their numbers. They overlap by less than 1 µm, which is checked.
    """
    if not bodies or not isinstance(inside, Round | Box | Channel):
        return ()
    first = bodies[0]
    if isinstance(inside, Round):
        begins = [share * max(body.thickness_mm for body in bodies) for share in _BEGINS]
        placed = max((_from(inside, bodies, begin) for begin in begins), key=len)
    elif first.length_mm == first.thickness_mm and all(body == first for body in bodies):
        placed = list(most_in_rows(inside, first.length_mm, len(bodies))[1])
    else:
        placed = _from(inside, bodies, 0.0)
    if overlap_um(inside, bodies, placed) >= OVERLAP_UM:
        return ()
    return tuple(sorted(placed, key=lambda place: place.body))


def _from(inside: Round | Box | Channel, bodies: Sequence[Body], level: float) -> list[Placed]:
    """Rows from a level on; what finds no place in a new row is left out."""
    order = sorted(range(len(bodies)), key=lambda i: (-bodies[i].thickness_mm, -bodies[i].length_mm, i))
    placed: list[Placed] = []
    at, high = -math.inf, 0.0  # where the row ends, and how high it is; 0 before it has a body
    for i in order:
        body = bodies[i]
        for is_new_row in (False, True):
            if is_new_row and high:
                level, high, at = level + high, 0.0, -math.inf
            for stands in (False, True):
                wide, tall = body.length_mm, body.thickness_mm
                if stands:
                    wide, tall = tall, wide
                if (high and tall > high) or (stands and wide == tall):
                    continue
                left, right = _reach(inside, wide, tall, level)
                middle = max(at + wide / 2.0, left)
                if middle <= right:
                    break
            else:
                continue
            is_turned = body.width_mm != body.height_mm and (body.height_mm > body.width_mm) != stands
            placed.append(Placed(i, middle, level + tall / 2.0, is_turned))
            at, high = middle + wide / 2.0, high or tall
            break
    return placed


def _reach(inside: Round | Box | Channel, wide: float, tall: float, level: float) -> tuple[float, float]:
    """How far to the left and right the middle of a body may be that stands on a level; nowhere: the left is right of the right."""
    nowhere = (math.inf, -math.inf)
    if not isinstance(inside, Round):
        width, height = extent_mm(inside)
        return (wide / 2.0, width - wide / 2.0) if level + tall <= height else nowhere
    middle, radius = inside.diameter_mm / 2.0, min(wide, tall) / 2.0
    free = middle - radius
    core = max(wide, tall) / 2.0 - radius
    # the ends of its middle line that are farthest from the middle, upwards or downwards
    away = abs(level + tall / 2.0 - middle) + (core if tall > wide else 0.0)
    if free < 0.0 or away > free:
        return nowhere
    half = math.sqrt(free * free - away * away) - (core if wide > tall else 0.0)
    return (middle - half, middle + half) if half >= 0.0 else nowhere
