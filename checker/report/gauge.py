"""Gauges in a carrier's cross-section: the outline to scale, and in each compartment how much of it is used.

A gauge shows a share, not where cables lie: the snapshot says so.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.report.canvas import INK, PAPER, SOFT_INK, Canvas, Colour, Rectangle, text_width
from checker.result.notes import number
from checker.result.tables import CarrierRow, CompartmentRow

USED: Colour = (60, 98, 140)
OVER: Colour = (200, 60, 24)
_BODY: Colour = (206, 210, 214)
_MARGIN_PX = 100.0
_BADGES_PX = 24.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was drawn: pixels per millimetre, None where no size is known, and the lowest pixel that was used."""

    scale: float | None
    bottom: float


def section(
    canvas: Canvas, area: Rectangle, row: CarrierRow, compartments: Sequence[CompartmentRow], worst: int
) -> Drawn:
    """Draws a carrier's compartments side by side, in an area.

    Args:
        canvas: Where to.
        area: What may be used.
        row: The carrier.
        compartments: Its compartments, in order.
        worst: Number of the one that the issue is about; 0 where it is all of them.
    """
    sizes = [(part.inside_width_mm, part.inside_height_mm) for part in compartments]
    known = [(width, height) for width, height in sizes if width and height]
    if not known or len(known) < len(sizes):
        canvas.text(((area[0] + area[2]) / 2, area[1] + 60.0), "The size inside isn't known.", 16, SOFT_INK, "mm")
        return Drawn(None, area[1] + 120.0)
    width = max(row.width_mm or 0.0, sum(size[0] for size in known))
    height = max(row.height_mm or 0.0, *(size[1] for size in known))
    room = (area[2] - area[0] - _MARGIN_PX, area[3] - area[1] - _BADGES_PX)
    scale = min(room[0] / width, room[1] / height)
    left, top = area[0] + (room[0] - width * scale) / 2.0, area[1] + _BADGES_PX
    body = (left, top, left + width * scale, top + height * scale)
    is_round = row.kind == "conduit" and len(known) == 1
    (canvas.ellipse if is_round else canvas.rectangle)(body, _BODY, INK, 1.5)
    wall = (width - sum(size[0] for size in known)) / (len(known) + 1)
    x = left + wall * scale
    shapes: list[Rectangle] = []
    for part_width, part_height in known:
        y = top + (height - part_height) / 2.0 * scale
        shapes.append((x, y, x + part_width * scale, y + part_height * scale))
        x += (part_width + wall) * scale
    for part, shape in zip(compartments, shapes, strict=True):
        _gauge(canvas, part, shape, is_round=is_round, is_worst=len(known) == 1 or part.number == worst)
        if len(known) > 1:
            _badge(canvas, part.number, (shape[0] + shape[2]) / 2.0, top - 13.0, is_worst=part.number == worst)
    _levels(canvas, compartments, shapes, body[2] + 6.0, is_round=is_round)
    return Drawn(scale, body[3])


def level(share: float, *, is_round: bool) -> float:
    """How high, as a share of the height, a shape is filled when a share of its area is: the same, but for a circle."""
    share = min(max(share, 0.0), 1.0)
    if not is_round:
        return share
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2.0
        half = math.acos(1.0 - 2.0 * middle)  # half the angle under which the centre sees the surface
        low, high = (middle, high) if (half - math.sin(half) * math.cos(half)) / math.pi < share else (low, middle)
    return (low + high) / 2.0


def _full(part: CompartmentRow) -> float:
    """What a full gauge stands for: all there is; what is used where that is more, so that the limit shows below it."""
    return max(1.0, part.fill or 0.0)


def _height(share: float, shape: Rectangle, *, is_round: bool) -> float:
    return shape[3] - level(share, is_round=is_round) * (shape[3] - shape[1])


def _gauge(canvas: Canvas, part: CompartmentRow, shape: Rectangle, *, is_round: bool, is_worst: bool) -> None:
    outline = canvas.ellipse if is_round else canvas.rectangle
    outline(shape, PAPER, None)
    full = _full(part)
    if part.fill is not None:
        used = _height(part.fill / full, shape, is_round=is_round)
        allowed = shape[1] if part.limit is None else _height(part.limit / full, shape, is_round=is_round)
        bottom = max(used, allowed)
        canvas.hatch(shape, USED, top=bottom, bottom=shape[3], crossed=False, is_round=is_round)
        if used < allowed:
            canvas.hatch(shape, OVER, top=used, bottom=allowed, crossed=True, is_round=is_round)
        if not is_round:
            canvas.line([(shape[0], used), (shape[2], used)], INK, 1.5)
    else:
        middle = ((shape[0] + shape[2]) / 2.0, (shape[1] + shape[3]) / 2.0)
        canvas.text(middle, "?", 22, SOFT_INK, "mm")
    if part.limit is not None:
        y = _height(part.limit / full, shape, is_round=is_round)
        canvas.dashes((shape[0] - 2.0, y), (shape[2] + 2.0, y), INK, 2.5)
    outline(shape, None, INK, 3.5 if is_worst else 1.0)


def _badge(canvas: Canvas, number_: int, x: float, y: float, *, is_worst: bool) -> None:
    canvas.ellipse((x - 10.0, y - 10.0, x + 10.0, y + 10.0), INK if is_worst else PAPER, INK, 1.2)
    canvas.text((x, y), str(number_), 14, PAPER if is_worst else INK, "mm")


def _levels(
    canvas: Canvas, compartments: Sequence[CompartmentRow], shapes: Sequence[Rectangle], x: float, *, is_round: bool
) -> None:
    """Names the levels: on the right for one compartment, within each where there are several and it is wide enough."""
    first = compartments[0]
    if len(compartments) == 1:
        texts = [(first.fill, word(first.measure)), (first.limit, "limit")]
        named = [
            (_height(share / _full(first), shapes[0], is_round=is_round), f"{name} {number(share, 'ratio')}")
            for share, name in texts
            if share is not None
        ]
        named.sort()
        if len(named) == 2 and named[1][0] - named[0][0] < 18.0:
            middle = (named[0][0] + named[1][0]) / 2.0
            named = [(middle - 9.0, named[0][1]), (middle + 9.0, named[1][1])]
        for y, text in named:
            canvas.text((x, y), text, 15, INK, "lm")
        return
    for part, shape in zip(compartments, shapes, strict=True):
        if part.fill is None:
            continue
        text = number(part.fill, "ratio")
        wide = text_width(text, 14) / 2.0 + 4.0
        middle, y = (shape[0] + shape[2]) / 2.0, shape[3] - 14.0
        if 2.0 * wide < shape[2] - shape[0] and shape[3] - shape[1] > 40.0:
            canvas.rectangle((middle - wide, y - 9.0, middle + wide, y + 9.0), PAPER, None)
            canvas.text((middle, y), text, 14, INK, "mm")
    limits = {part.limit for part in compartments}
    if len(limits) == 1 and first.limit is not None:
        y = _height(first.limit / _full(compartments[-1]), shapes[-1], is_round=is_round)
        canvas.text((x, y), f"limit {number(first.limit, 'ratio')}", 15, INK, "lm")


def word(measure: str) -> str:
    """What a measure is called: what the two ratios are shares of."""
    return {"term": "terms", "width": "width"}.get(measure, "fill")
