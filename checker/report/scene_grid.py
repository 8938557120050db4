"""The axes of a grid in a picture of the model: thin lines at the height of what it shows, each with its tag where there is room."""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from checker.model.geometry import Vec, add, distance, scale, sub
from checker.model.setting import Grid
from checker.report.canvas import PAPER, Canvas, Colour, Point, Rectangle, meet, shortened, text_width
from checker.report.projection import NEAR_MM, View

LINE: Colour = (120, 146, 172)
#: Of tags: darker than the lines, so that they can be read.
LINE_INK: Colour = (52, 84, 116)
_SIZE = 14
_WIDEST = 60.0
_HALF_PX = 11.0
#: Between two tags.
_GAP_PX = 3.0
#: So many axes at the most, the nearest: more would be a raster, not a grid.
_MOST = 24


def draw_grid(
    canvas: Canvas, view: View, grids: Iterable[Grid], centre: Vec, reach_mm: float, frame: Rectangle
) -> list[Rectangle]:
    """Draws the axes near a place.

    Args:
        canvas: Where to.
        view: How it is seen.
        grids: The grids to draw.
        centre: The place, in mm; axes are drawn at its height.
        reach_mm: Axes go so far from it.
        frame: Where tags may stand.

    Returns:
        Where tags stand.
    """
    near: list[tuple[float, str, list[tuple[Vec, Vec]]]] = []
    for axis in dict.fromkeys(axis for grid in grids for axes in grid.sets for axis in axes):
        points = [(x, y, centre[2]) for x, y in axis.points_mm]
        parts = [part for pair in itertools.pairwise(points) if (part := _within(*pair, centre, reach_mm)) is not None]
        if parts:
            near.append((min(_nearness(*part, centre) for part in parts), axis.tag, parts))
    near.sort(key=lambda one: one[:2])
    taken: list[Rectangle] = []
    for _, tag, parts in near[:_MOST]:
        lines = [line for part in parts if (line := _seen(view, *part)) is not None]
        for line in lines:
            canvas.line(line, LINE, 1.2)
        text = shortened(tag, _SIZE, _WIDEST)
        wide = max(text_width(text, _SIZE) / 2.0 + 5.0, _HALF_PX)
        boxes = ((x - wide, y - _HALF_PX, x + wide, y + _HALF_PX) for x, y in _ends(lines, frame, wide))
        box = next((box for box in boxes if not any(meet(box, other, _GAP_PX) for other in taken)), None)
        if box is not None:
            taken.append(box)
            canvas.ellipse(box, PAPER, LINE, 1.2)
            canvas.text(((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0), text, _SIZE, LINE_INK, "mm")
    return taken


def _within(one: Vec, other: Vec, centre: Vec, reach: float) -> tuple[Vec, Vec] | None:
    """The part of a line that lies within a distance of a place; None: there is none."""
    way, from_centre = sub(other, one), sub(one, centre)
    a = sum(value * value for value in way)
    b = sum(p * q for p, q in zip(way, from_centre, strict=True))
    c = sum(value * value for value in from_centre) - reach * reach
    under = b * b - a * c
    if not a > 0.0 or not under > 0.0:
        return None
    low, high = max((-b - math.sqrt(under)) / a, 0.0), min((-b + math.sqrt(under)) / a, 1.0)
    return (add(one, scale(way, low)), add(one, scale(way, high))) if low < high else None


def _nearness(one: Vec, other: Vec, centre: Vec) -> float:
    return min(distance(one, centre), distance(other, centre), distance(scale(add(one, other), 0.5), centre))


def _seen(view: View, one: Vec, other: Vec) -> tuple[Point, Point] | None:
    """The part of a line before the eye, in pixels."""
    near, far = sorted((view.seen(one), view.seen(other)), key=lambda point: point[2])
    if far[2] <= NEAR_MM:
        return None
    if near[2] < NEAR_MM:
        near = add(near, scale(sub(far, near), (NEAR_MM - near[2]) / (far[2] - near[2])))
    return view.pixel(near), view.pixel(far)


def _ends(lines: Sequence[tuple[Point, Point]], frame: Rectangle, wide: float) -> Iterator[Point]:
    """Where the lines of an axis end in a frame, a tag's width within, the lowest first."""
    inner = (frame[0] + wide, frame[1] + _HALF_PX, frame[2] - wide, frame[3] - _HALF_PX)
    points = [point for line in lines for point in _clipped(line, inner)]
    yield from sorted(points, key=lambda point: (-point[1], point[0]))


def _clipped(line: tuple[Point, Point], frame: Rectangle) -> tuple[Point, ...]:
    """The ends of the part of a line that is in a frame; none: no part of it is."""
    (x, y), (right, down) = line
    across, along = right - x, down - y
    low, high = 0.0, 1.0
    for step, room in ((-across, x - frame[0]), (across, frame[2] - x), (-along, y - frame[1]), (along, frame[3] - y)):
        if step == 0.0:
            if room < 0.0:
                return ()
        elif step < 0.0:
            low = max(low, room / step)
        else:
            high = min(high, room / step)
    if low > high:
        return ()
    return (x + low * across, y + low * along), (x + high * across, y + high * along)
