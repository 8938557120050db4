"""Cables on the sheet: insulation or sheath with the pattern of the service, conductors, and the mark within where it fits."""

import math
from dataclasses import dataclass

from checker.section.cores import cores_of
from checker.section.letters import width_of
from checker.section.outline import Frame
from checker.section.parts import Bundle
from checker.section.patterns import hatching, pattern_of
from checker.section.shapes import Body, Placed
from checker.section.sketch import INK, MIDDLE, PAPER, Colour, Disc, Mark, Point, Stadium, Style, Text

COPPER: Colour = (205, 133, 78)
ALUMINIUM: Colour = (176, 182, 190)
#: Sizes of text that are tried within a cable, large before small.
_SIZES = (14.0, 13.0, 12.0, 11.0, 10.0, 9.0)
#: A text's capitals and digits stand so high, as a share of its size.
_HIGH = 0.72
_GAP_PX = 2.0
#: A mark among cores may reach this far from the middle, as a share of the cable's radius.
_AMONG_CORES = 0.5


@dataclass(frozen=True, slots=True)
class Lying:
    """A cable where it lies on the sheet, and its size in pixels as it lies.

    ``metal``: the radius of the metal in its middle, which a text is not to hide; 0 where none is drawn, infinite where there are several
    cores.
    """

    bundle: Bundle
    x: float
    y: float
    width: float
    height: float
    turned: bool
    metal: float

    @property
    def radius(self) -> float:
        """Of its round ends."""
        return min(self.width, self.height) / 2.0

    @property
    def shape(self) -> Disc | Stadium:
        """Its outline, filled with the tint of its service."""
        style = Style(pattern_of(self.bundle).tint, INK, max(min(self.radius / 9.0, 1.3), 0.5))
        if abs(self.width - self.height) < 1e-6:
            return Disc(self.x, self.y, self.radius, style)
        return Stadium(self.x, self.y, self.width, self.height, style)


def lying(bundle: Bundle, placed: Placed, origin_mm: Point, frame: Frame) -> Lying:
    """A cable on the sheet.

    Args:
        bundle: What it is one of; it has a body.
        placed: Where it lies, from the lower left of its compartment.
        origin_mm: Where that is in the drawing.
        frame: The drawing on the sheet.
    """
    body = bundle.body or Body(1.0, 1.0)
    x, y = frame.at(origin_mm[0] + placed.x_mm, origin_mm[1] + placed.y_mm)
    wide, high = (body.height_mm, body.width_mm) if placed.turned else (body.width_mm, body.height_mm)
    cores = cores_of(body, bundle.cores, bundle.metal_mm2)
    # beside a single core there is insulation to write on; among several there is none
    metal = 0.0 if cores is None else cores[0].metal_mm if len(cores) == 1 else math.inf
    return Lying(bundle, x, y, wide * frame.scale, high * frame.scale, high > wide, metal * frame.scale)


def cable_marks(cable: Lying, frame: Frame) -> list[Mark]:
    """A cable without its mark."""
    shape, radius = cable.shape, cable.radius
    marks: list[Mark] = [shape]
    pattern = hatching(shape, pattern_of(cable.bundle), min(max(radius / 3.0, 2.8), 6.5))
    if pattern is not None and radius >= 2.0:
        marks.append(pattern)
    body = cable.bundle.body
    cores = None if body is None else cores_of(body, cable.bundle.cores, cable.bundle.metal_mm2)
    for core in cores or ():
        along, across = core.x_mm * frame.scale, -core.y_mm * frame.scale
        x, y = (cable.x + across, cable.y + along) if cable.turned else (cable.x + along, cable.y + across)
        if len(cores or ()) > 1 and core.radius_mm * frame.scale >= 1.2:
            marks.append(Disc(x, y, core.radius_mm * frame.scale, Style(PAPER, INK, 0.6)))
        metal = ALUMINIUM if cable.bundle.is_aluminium else COPPER
        size = core.metal_mm * frame.scale
        marks.append(Disc(x, y, size, Style(metal, INK if size >= 3.0 else None, 0.6)))
    return marks


def text_within(cable: Lying, text: str, *, over_metal: bool) -> list[Mark]:
    """The mark of a cable within it, on paper; nothing where it doesn't fit.

    Args:
        cable: The cable.
        text: Its mark, or a number that stands for it.
        over_metal: Whether the text may hide conductors.
    """
    for size in _SIZES:
        gap = _GAP_PX if size > 9.0 else 1.0
        width, high = width_of(text, size) + 2.0 * gap, _HIGH * size + 2.0 * gap
        below = 0.0
        if math.isinf(cable.metal) and not over_metal:
            # in the middle of several cores a short mark hides little
            if math.hypot(width, high) / 2.0 > cable.radius * _AMONG_CORES:
                continue
        elif cable.metal > 0.0 and not over_metal:
            below = cable.metal + high / 2.0 + 1.0
        if _lies_within(cable, below, width, high):
            middle = cable.y + below
            paper = Stadium(cable.x, middle, max(width, high), high, Style(PAPER))
            return [paper, Text(cable.x, middle + _HIGH * size / 2.0, text, size, INK, MIDDLE)]
    return []


def _lies_within(cable: Lying, below: float, width: float, high: float) -> bool:
    """Whether a box around a place below the middle of a cable lies in it; where on the sheet it lies makes no difference."""
    reach = cable.radius - (1.0 if cable.radius < 14.0 else 2.5)
    if reach <= 0.0:
        return False
    flat = max(cable.width / 2.0 - cable.radius, 0.0)
    tall = max(cable.height / 2.0 - cable.radius, 0.0)
    across = max(width / 2.0 - flat, 0.0)
    down = max(below + high / 2.0 - tall, 0.0)
    return math.hypot(across, down) <= reach
