"""From boxes in space to a plan on paper: seen from straight above, with the model's y axis up the page.

Millimetres go in; px of the drawing come out, from its upper left. A drawing is 1200 px wide, and a page shows it as wide as it has room.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.model import Vec
from checker.model.geometry import norm
from checker.result.camera import corners
from checker.result.tables import Box
from checker.units import MM_PER_M

WIDTH_PX = 1200.0
#: Of what is drawn; above it and below it is the margin.
MOST_HEIGHT_PX = 860.0
MARGIN_PX = 40.0
#: A single short carrier isn't blown up over the whole sheet.
MOST_PX_PER_M = 200.0

#: Equipment that is no farther from all carriers than this is on the sheet too.
_MOST_BESIDE_MM = 10_000.0
#: Carriers that would be thinner are drawn so wide.
LEAST_PX = 3.0
#: Each side of the square of an upright piece is at least so long.
LEAST_UPRIGHT_PX = 10.0
#: An upright piece is off the vertical by no more than this, as run over rise.
_UPRIGHT = math.tan(math.radians(10.0))

#: The longest scale bar.
_MOST_BAR_PX = 240.0
_STEPS = (1, 2, 5)

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle on paper: its middle, the direction of its first side (of length 1), and half of each side. All in px."""

    middle: Point
    along: Point
    half_along: float
    half_across: float

    @property
    def across(self) -> Point:
        """The direction of its second side."""
        return -self.along[1], self.along[0]

    def at(self, along: float, across: float) -> Point:
        """The point that lies so many px along and across from the middle."""
        (x, y), (right, down) = self.middle, self.along
        return x + along * right - across * down, y + along * down + across * right

    def outline(self) -> tuple[Point, ...]:
        """Its four corners, going round; the first and the third lie across from each other."""
        signs = ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
        return tuple(self.at(one * self.half_along, other * self.half_across) for one, other in signs)


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight piece of a carrier on paper."""

    shape: Rectangle
    is_upright: bool


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet. ``low_mm`` is the model's x and y in the lower left of what is drawn, which is ``left_px`` from the sheet's left edge."""

    low_mm: Point
    px_per_m: float
    left_px: float
    height_px: float

    def px(self, point: Vec) -> Point:
        """Where a point of the model is on the sheet."""
        right, up = ((one - low) / MM_PER_M * self.px_per_m for one, low in zip(point[:2], self.low_mm, strict=True))
        return self.left_px + right, self.height_px - MARGIN_PX - up

    def holds(self, point: Point) -> bool:
        """Whether a point in px lies on the sheet."""
        return 0.0 <= point[0] <= WIDTH_PX and 0.0 <= point[1] <= self.height_px

    def piece(self, box: Box) -> Piece:
        """A box as it is drawn: the rectangle around its corners along its longest side, made wider where it would hardly be seen."""
        sides = [(edge[0], -edge[1]) for edge in box.edges_mm]
        longest = max(sides, key=lambda side: math.hypot(*side))
        length = math.hypot(*longest)
        along = (longest[0] / length, longest[1] / length) if length else (1.0, 0.0)
        points = [self.px(corner) for corner in corners(box)]
        spans = []
        for right, down in (along, (-along[1], along[0])):
            places = [x * right + y * down for x, y in points]
            spans.append((min(places), max(places)))
        first, second = ((low + high) / 2.0 for low, high in spans)
        middle = first * along[0] - second * along[1], first * along[1] + second * along[0]
        upright = is_upright(box)
        least = (LEAST_UPRIGHT_PX if upright else LEAST_PX) / 2.0
        half_along, half_across = (max((high - low) / 2.0, least) for low, high in spans)
        return Piece(Rectangle(middle, along, half_along, half_across), upright)

    def bar_m(self) -> float:
        """The length that the scale bar stands for: 1, 2 or 5 times a power of ten, the longest that has room."""
        room_m = _MOST_BAR_PX / self.px_per_m
        power = math.floor(math.log10(room_m))
        # a power below and one above, since logarithms of powers of ten may be off by a hair
        lengths = (step * 10.0**raised for raised in range(power - 1, power + 2) for step in _STEPS)
        return max(length for length in lengths if length <= room_m * (1.0 + 1e-9))


def paper_for(boxes: Iterable[Box], beside: Iterable[Vec] = ()) -> Paper:
    """The sheet that all of some boxes have room on: as large a scale as its width and height allow, in the middle of its width.

    Args:
        boxes: What is drawn to scale.
        beside: Places of what belongs to it, in mm. Those that are far from all boxes don't make the sheet larger.
    """
    points = [corner for box in boxes for corner in corners(box)]
    sides = [[point[axis] for point in points] or [0.0] for axis in (0, 1)]
    spans = [(min(side) - _MOST_BESIDE_MM, max(side) + _MOST_BESIDE_MM) for side in sides]
    for point in beside:
        if all(low <= point[axis] <= high for axis, (low, high) in enumerate(spans)):
            for side, place in zip(sides, point[:2], strict=True):
                side.append(place)
    xs, ys = sides
    wide_m, high_m = (max(xs) - min(xs)) / MM_PER_M, (max(ys) - min(ys)) / MM_PER_M
    scales = [MOST_PX_PER_M]
    if wide_m > 0.0:
        scales.append((WIDTH_PX - 2.0 * MARGIN_PX) / wide_m)
    if high_m > 0.0:
        scales.append(MOST_HEIGHT_PX / high_m)
    px_per_m = min(scales)
    left_px = (WIDTH_PX - wide_m * px_per_m) / 2.0
    return Paper((min(xs), min(ys)), px_per_m, left_px, high_m * px_per_m + 2.0 * MARGIN_PX)


def is_upright(box: Box) -> bool:
    """Whether a piece runs up or down, by its longest edge."""
    longest = max(box.edges_mm, key=norm)
    return math.hypot(longest[0], longest[1]) < _UPRIGHT * abs(longest[2])


def written(value: float) -> str:
    """A coordinate, to a tenth of a px."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def spot(point: Point) -> str:
    """A point in the data of a path."""
    return f"{written(point[0])} {written(point[1])}"


def path(pieces: Iterable[Piece]) -> str:
    """Pieces as the data of one path: an outline each, and a cross in an upright one."""
    return "".join(_drawn(piece) for piece in pieces)


def _drawn(piece: Piece) -> str:
    corner = [spot(point) for point in piece.shape.outline()]
    outline = f"M{corner[0]}L{' '.join(corner[1:])}z"
    if not piece.is_upright:
        return outline
    return f"{outline}M{corner[0]}L{corner[2]}M{corner[1]}L{corner[3]}"


def line(points: Sequence[Point]) -> str:
    """A line through points as the data of a path."""
    return f"M{spot(points[0])}L{' '.join(spot(point) for point in points[1:])}"
