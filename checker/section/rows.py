"""Equal round cables in rows, in a rectangle: square, staggered, and staggered with gaps so that every row is full. Plain arithmetic."""

import math

from checker.section.shapes import Box, Channel, Inside, Placed, extent_mm

#: What rounding may take from a size that is met exactly.
NEAR = 1e-9
Rows = list[
    tuple[float, float, float, int]
]  # of each row: the first centre, the next one's distance, the height, how many


def most_in_rows(inside: Inside, diameter_mm: float, limit: int = 100_000) -> tuple[int, tuple[Placed, ...]]:
    """The most equal circles that rows hold, along or across, and their places; none in an inside that isn't a rectangle.

    Args:
        inside: What they are to lie in. One that is too small holds none.
        diameter_mm: Of each.
        limit: No more are placed, however many have room.
    """
    if not isinstance(inside, Box | Channel):
        return 0, ()
    width, height = extent_mm(inside)
    best: tuple[int, Rows, bool] = 0, [], False
    for across, wide, high in ((False, width, height), (True, height, width)):
        if min(wide, high) < diameter_mm * (1.0 - NEAR):
            continue
        for rows in _ways(wide, high, diameter_mm, limit):
            count = sum(row[3] for row in rows)
            if count > best[0]:
                best = count, rows, across
    places: list[Placed] = []
    for first, step, level, count in best[1]:
        for i in range(count):
            x, y = first + i * step, level
            if len(places) == limit:
                return limit, tuple(places)
            places.append(Placed(len(places), y, x) if best[2] else Placed(len(places), x, y))
    return best[0], tuple(places)


def _ways(wide: float, high: float, d: float, limit: int) -> list[Rows]:
    """The ways, each of so many rows at most: more are never needed to hold so many."""
    radius = d / 2.0
    full = _whole(wide / d)
    ways = [[(radius, d, radius + j * d, full) for j in range(min(limit, _whole(high / d)))]]
    rise = d * math.sqrt(0.75)
    shifted = _whole(wide / d - 0.5)
    levels = min(limit, 1 + _whole((high - d) / rise))
    ways.append([(radius * (1 + j % 2), d, radius + j * rise, shifted if j % 2 else full) for j in range(levels)])
    if (
        full > 1
    ):  # as many in every row, with gaps, so that rows come nearer to each other; every second row lies above itself
        step = (wide - d) / (full - 0.5)
        rise = math.sqrt(max(0.0, d * d - step * step / 4.0))
        if step >= d and 2.0 * rise >= d:
            levels = min(limit, 1 + _whole((high - d) / rise))
            ways.append([(radius + (j % 2) * step / 2.0, step, radius + j * rise, full) for j in range(levels)])
    return ways


def _whole(figure: float) -> int:
    return max(0, math.floor(figure + NEAR))
