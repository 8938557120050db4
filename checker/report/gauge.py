"""Gauges in a carrier's cross-section: the outline to scale, and in each compartment how much of it is used.

A gauge shows a share, not where cables lie: the snapshot says so.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.texts import number
from checker.report.canvas import INK, PAPER, SOFT_INK, Canvas, Colour, Point, Rectangle, text_width
from checker.result.tables import CarrierRow, CompartmentRow

USED: Colour = (60, 98, 140)
OVER: Colour = (200, 60, 24)
_BODY: Colour = (206, 210, 214)
_MARGIN_PX = 100.0
BADGES_PX = 24.0


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
    room = (area[2] - area[0] - _MARGIN_PX, area[3] - area[1] - BADGES_PX)
    scale = min(room[0] / width, room[1] / height)
    left, top = area[0] + (room[0] - width * scale) / 2.0, area[1] + BADGES_PX
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
    gauges = [Gauge(part, shape, is_round) for part, shape in zip(compartments, shapes, strict=True)]
    for gauge in gauges:
        gauge.draw(canvas, is_worst=len(gauges) == 1 or gauge.part.number == worst)
        if len(gauges) > 1:
            x = (gauge.shape[0] + gauge.shape[2]) / 2.0
            badge(canvas, gauge.part.number, x, top - 13.0, is_worst=gauge.part.number == worst)
    _name_levels(canvas, gauges, body[2] + 6.0)
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


@dataclass(frozen=True, slots=True)
class Gauge:
    """The gauge of one compartment. It fills from below or, where the measure is the width, from the left."""

    part: CompartmentRow
    shape: Rectangle
    is_round: bool

    @property
    def is_sideways(self) -> bool:
        """Whether it fills from the left."""
        return self.part.measure == "width"

    def at(self, share: float) -> float:
        """Where a share ends: pixels from the left of the sheet where it fills sideways, else from its top.

        A full gauge stands for all there is; for what is used where that is more, so that the limit shows within.
        """
        left, top, right, bottom = self.shape
        height = level(share / max(1.0, self.part.fill or 0.0), is_round=self.is_round)
        return left + height * (right - left) if self.is_sideways else bottom - height * (bottom - top)

    def between(self, low: float, high: float) -> Rectangle:
        """The part of the sheet between two shares."""
        left, top, right, bottom = self.shape
        if self.is_sideways:
            return self.at(low), top, self.at(high), bottom
        return left, self.at(high), right, self.at(low)

    def across(self, share: float) -> tuple[Point, Point]:
        """The line that a share ends at, a little longer than the gauge is wide."""
        left, top, right, bottom = self.shape
        place = self.at(share)
        if self.is_sideways:
            return (place, top - 3.0), (place, bottom + 3.0)
        return (left - 2.0, place), (right + 2.0, place)

    def draw(self, canvas: Canvas, *, is_worst: bool) -> None:
        """Draws it."""
        outline = canvas.ellipse if self.is_round else canvas.rectangle
        outline(self.shape, PAPER, None)
        fill, limit = known_fill(self.part), self.part.limit
        if fill is None:
            # above the middle, near which limits are
            at = ((self.shape[0] + self.shape[2]) / 2.0, self.shape[1] + 0.28 * (self.shape[3] - self.shape[1]))
            canvas.text(at, "?", 22, SOFT_INK, "mm")
        else:
            within = fill if limit is None else min(fill, limit)
            canvas.hatch(self.shape, self.between(0.0, within), USED, crossed=False, is_round=self.is_round)
            if within < fill:
                canvas.hatch(self.shape, self.between(within, fill), OVER, crossed=True, is_round=self.is_round)
            if not self.is_round and fill > 0.0:
                canvas.rectangle(self.between(0.0, fill), None, INK, 1.0)
        least = min(self.shape[2] - self.shape[0], self.shape[3] - self.shape[1])
        outline(self.shape, None, INK, min(3.5, max(least / 12.0, 1.0)) if is_worst else 1.0)
        if limit is not None:
            canvas.dashes(*self.across(limit), INK, 2.5)


def badge(canvas: Canvas, number_: int, x: float, y: float, *, is_worst: bool) -> None:
    """The number of a compartment, in a circle."""
    canvas.ellipse((x - 10.0, y - 10.0, x + 10.0, y + 10.0), INK if is_worst else PAPER, INK, 1.2)
    canvas.text((x, y), str(number_), 14, PAPER if is_worst else INK, "mm")


def _name_levels(canvas: Canvas, gauges: Sequence[Gauge], x: float) -> None:
    """Names the levels: on the right for one compartment, within each where there are several and it is wide enough."""
    if len(gauges) == 1:
        _name_both(canvas, gauges[0], x)
        return
    for gauge in gauges:
        if (fill := known_fill(gauge.part)) is None:
            continue
        text = number(fill, "ratio")
        wide = text_width(text, 14) / 2.0 + 4.0
        left, top, right, bottom = gauge.shape
        middle, y = (left + right) / 2.0, bottom - 14.0
        hides = gauge.part.limit is not None and abs(gauge.at(gauge.part.limit) - y) < 14.0
        if 2.0 * wide < right - left and bottom - top > 40.0 and not hides:
            canvas.rectangle((middle - wide, y - 9.0, middle + wide, y + 9.0), PAPER, None)
            canvas.text((middle, y), text, 14, INK, "mm")
    last = gauges[-1]
    limits = {gauge.part.limit for gauge in gauges}
    if len(limits) == 1 and last.part.limit is not None and not last.is_sideways:
        canvas.text((x, last.at(last.part.limit)), f"limit {number(last.part.limit, 'ratio')}", 15, INK, "lm")


def _name_both(canvas: Canvas, gauge: Gauge, x: float) -> None:
    middle = (gauge.shape[1] + gauge.shape[3]) / 2.0
    named = [
        (middle if gauge.is_sideways else gauge.at(share), f"{name} {number(share, 'ratio')}")
        for share, name in ((known_fill(gauge.part), word(gauge.part.measure)), (gauge.part.limit, "limit"))
        if share is not None
    ]
    named.sort(key=lambda pair: pair[0])
    if len(named) == 2 and named[1][0] - named[0][0] < 18.0:
        middle = (named[0][0] + named[1][0]) / 2.0
        named = [(middle - 9.0, named[0][1]), (middle + 9.0, named[1][1])]
    for y, text in named:
        canvas.text((x, y), text, 15, INK, "lm")


def known_fill(part: CompartmentRow) -> float | None:
    """The fill that may be shown: 0 is none where circuits could lie."""
    return None if could_lie(part) else part.fill


def could_lie(part: CompartmentRow) -> str:
    """How many circuits could lie in a compartment whose fill isn't known, or is that of nothing, in words; empty elsewhere."""
    possible = len(set(part.circuits_possible) - set(part.circuits))
    if not possible or part.fill:
        return ""
    return f"{possible}{' more' if part.circuits else ''} circuit{'' if possible == 1 else 's'} could lie here"


def word(measure: str) -> str:
    """What a measure is called: what the two ratios are shares of."""
    return {"term": "terms", "width": "width"}.get(measure, "fill")
