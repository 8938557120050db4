"""Marks beside the drawing, each with a line to its cable, none upon another."""

from collections.abc import Sequence
from dataclasses import dataclass

from checker.section.letters import width_of
from checker.section.sketch import END, INK, PAPER, START, Box, Disc, Line, Mark, Point, Style, Text

SIZE = 13.0
_ROW_PX = 19.0
_GAP_PX = 8.0
#: Drawings more than so many times as wide as high have their marks above, not at both sides.
WIDE = 2.2


@dataclass(frozen=True, slots=True)
class Pointed:
    """A mark and the place of its cable on the sheet; the line to it ends so far beside, or above, the cable's middle."""

    text: str
    x: float
    y: float
    beside: float = 0.0
    above: float = 0.0


def widest(texts: Sequence[str]) -> float:
    """How much room the widest of marks needs, in pixels."""
    return max((width_of(text, SIZE) for text in texts), default=0.0)


def column_height(count: int) -> float:
    """How high the marks of so many cables stand at both sides."""
    return (count + 1) // 2 * _ROW_PX


def flag_height(pointed: Sequence[Pointed]) -> float:
    """How high the marks of cables stand above the drawing."""
    return -min((mark.box[1] for mark in above(pointed, 0.0) if isinstance(mark, Text)), default=0.0)


def beside(pointed: Sequence[Pointed], left: float, right: float, top: float, bottom: float) -> list[Mark]:
    """Marks in a column at each side.

    Args:
        pointed: What to name.
        left: Where the drawing begins; the left column ends a little before.
        right: Where it ends.
        top: Where columns may begin.
        bottom: Where they have to end.
    """
    ordered = sorted(pointed, key=lambda one: (one.x, one.y, one.text))
    half = (len(ordered) + 1) // 2
    marks: list[Mark] = []
    for side, edge, anchor in ((ordered[:half], left, END), (ordered[half:], right, START)):
        away = -1.0 if anchor == END else 1.0
        column = sorted(side, key=lambda one: (one.y, one.x, one.text))
        for one, level in zip(column, _levels([one.y for one in column], top, bottom), strict=True):
            knee, x = edge + away * _GAP_PX, edge + away * (_GAP_PX + 14.0)
            marks += _leader(((one.x + away * one.beside, one.y), (knee, level), (x - away * 3.0, level)))
            marks.append(Text(x, level + SIZE * 0.35, one.text, SIZE, INK, anchor))
    return marks


def _levels(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Levels near those that are wanted, in their order, a row apart, between top and bottom."""
    first, last = top + _ROW_PX / 2.0, bottom - _ROW_PX / 2.0
    levels: list[float] = []
    for level in wanted:
        lowest = levels[-1] + _ROW_PX if levels else first
        levels.append(max(level, lowest))
    for number in range(len(levels) - 1, -1, -1):
        most = last if number == len(levels) - 1 else levels[number + 1] - _ROW_PX
        levels[number] = min(levels[number], most)
    return levels


def above(pointed: Sequence[Pointed], bottom: float, to_left: int | None = None) -> list[Mark]:
    """Marks as flags above cables, those of the left half to the left, the others to the right, the outermost lowest.

    So no pole stands before a flag.

    Args:
        pointed: What to name.
        bottom: Where flags may begin.
        to_left: How many go to the left instead of half of them.
    """
    ordered = sorted(pointed, key=lambda one: (one.x, one.y, one.text))
    half = (len(ordered) + 1) // 2 if to_left is None else to_left
    marks: list[Mark] = []
    for side, away, anchor in ((ordered[:half], -1.0, END), (ordered[half:][::-1], 1.0, START)):
        rows: list[tuple[float, int]] = []
        for one in side:
            reach = width_of(one.text, SIZE) + _GAP_PX
            near = [row for x, row in rows if abs(x - one.x) <= reach]
            row = max(near) + 1 if near else 0
            rows.append((one.x, row))
            level = bottom - _ROW_PX * (row + 0.5)
            marks += _leader(((one.x, one.y - one.above), (one.x, level - SIZE * 0.4)))
            marks.append(Text(one.x + away * 4.0, level + SIZE * 0.35, one.text, SIZE, INK, anchor))
    return marks


def within(pointed: Sequence[Pointed], room: Box) -> list[Mark] | None:
    """Marks as flags in the free room above the cables, to both sides or all to one; None where they don't fit.

    Args:
        pointed: What to name.
        room: Left, top, right and bottom of what is free.
    """
    for to_left in (None, 0, len(pointed)):
        marks = above(pointed, room[3], to_left)
        boxes = [mark.box for mark in marks if isinstance(mark, Text)]
        if all(box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] for box in boxes):
            return marks
    return None


def _leader(points: tuple[Point, ...]) -> list[Mark]:
    x, y = points[0]
    return [
        Line(points, Style(None, PAPER, 3.0)),
        Line(points, Style(None, INK, 0.9)),
        Disc(x, y, 2.2, Style(INK, PAPER, 0.8)),
    ]
