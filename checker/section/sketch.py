"""A drawing as a list of simple shapes, before it is written in any format, so that all formats show the same.

Sizes and places are pixels of 1/96 inch, x to the right, y **down**, from the upper left of the sheet. What is drawn later covers what was
drawn before. Hatching comes as lines and dots that are already cut to their shape (see ``patterns``); nothing else is ever cut off.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.section.letters import width_of

Point = tuple[float, float]
#: Left, top, right, bottom.
Box = tuple[float, float, float, float]
#: Red, green, blue, from 0 to 255.
Colour = tuple[int, int, int]

INK: Colour = (25, 28, 32)
SOFT_INK: Colour = (92, 98, 104)
PAPER: Colour = (255, 255, 255)

START, MIDDLE, END = "start", "middle", "end"
#: What a line of text takes above and below its baseline, as a share of its size.
_ASCENT, _DESCENT = 0.8, 0.25


@dataclass(frozen=True, slots=True)
class Style:
    """How a shape is drawn. ``fill`` and ``ink`` None: not filled, no outline. ``dash_px`` 0: a whole line, else dashes as long."""

    fill: Colour | None = None
    ink: Colour | None = None
    width_px: float = 1.0
    dash_px: float = 0.0


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle around a centre."""

    x: float
    y: float
    radius: float
    style: Style


@dataclass(frozen=True, slots=True)
class Stadium:
    """A strip with round ends around a centre: ``width`` across and ``height`` down, the smaller of which its ends are round with."""

    x: float
    y: float
    width: float
    height: float
    style: Style

    @property
    def radius(self) -> float:
        """Of its ends."""
        return min(self.width, self.height) / 2.0

    @property
    def spine(self) -> tuple[Point, Point]:
        """The centres of its two ends."""
        across, down = self.width / 2.0 - self.radius, self.height / 2.0 - self.radius
        return (self.x - across, self.y - down), (self.x + across, self.y + down)

    def outline(self, steps: int = 24) -> tuple[Point, ...]:
        """Its outline as a polygon, with so many corners at each end, for formats that have no arcs."""
        (x1, y1), (x2, y2) = self.spine
        turn = math.atan2(y2 - y1, x2 - x1)
        ends = ((x2, y2, turn - math.pi / 2.0), (x1, y1, turn + math.pi / 2.0))
        return tuple(
            (x + self.radius * math.cos(angle), y + self.radius * math.sin(angle))
            for x, y, first in ends
            for angle in (first + math.pi * step / steps for step in range(steps + 1))
        )


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed shape with straight sides."""

    points: tuple[Point, ...]
    style: Style


@dataclass(frozen=True, slots=True)
class Line:
    """An open line through points. Its style has no fill."""

    points: tuple[Point, ...]
    style: Style


@dataclass(frozen=True, slots=True)
class Hatching:
    """Single straight lines (``segments``) and ``dots``, all of one colour, already cut to the shape that they mark."""

    ink: Colour
    width_px: float
    segments: tuple[tuple[Point, Point], ...] = ()
    dots: tuple[Point, ...] = ()
    dot_px: float = 1.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. ``x`` is its start, middle or end, as ``anchor`` says, ``y`` its baseline."""

    x: float
    y: float
    text: str
    size: float
    ink: Colour = INK
    anchor: str = START

    @property
    def box(self) -> Box:
        """What it takes at most, in any of the formats."""
        width = width_of(self.text, self.size)
        left = self.x - {START: 0.0, MIDDLE: width / 2.0, END: width}[self.anchor]
        return left, self.y - _ASCENT * self.size, left + width, self.y + _DESCENT * self.size


Mark = Disc | Stadium | Polygon | Line | Hatching | Text


@dataclass(frozen=True, slots=True)
class Sketch:
    """A sheet of ``width`` by ``height`` with marks on it; ``title`` and ``told`` say in words what it shows, to who can't see it."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    told: str = ""

    def texts(self) -> Iterator[Text]:
        """Its lines of text."""
        return (mark for mark in self.marks if isinstance(mark, Text))


def rectangle(box: Box, style: Style) -> Polygon:
    """An upright rectangle."""
    left, top, right, bottom = box
    return Polygon(((left, top), (right, top), (right, bottom), (left, bottom)), style)


def meet(one: Box, two: Box) -> bool:
    """Whether two boxes share more than an edge."""
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def dashes(points: Sequence[Point], dash_px: float) -> Iterator[tuple[Point, Point]]:
    """A line through points as dashes, each followed by a gap of 0.6 of its length, for formats that have none."""
    period, at = dash_px * 1.6, 0.0
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        length = math.dist((x1, y1), (x2, y2))
        done = 0.0
        while done < length:
            phase = at % period
            rest = (dash_px if phase < dash_px else period) - phase
            step = min(max(rest, 1e-6), length - done)
            if phase < dash_px:
                first, last = done / length, (done + step) / length
                yield (
                    (x1 + (x2 - x1) * first, y1 + (y2 - y1) * first),
                    (x1 + (x2 - x1) * last, y1 + (y2 - y1) * last),
                )
            done += step
            at += step
