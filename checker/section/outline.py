"""The carrier itself: wall, dividers, lid, sides and rungs, to scale."""

import itertools
from dataclasses import dataclass

from checker.model import CarrierKind
from checker.section.parts import OPEN, SectionView
from checker.section.shapes import Box, Channel, Inside, Round, extent_mm
from checker.section.sketch import INK, PAPER, SOFT_INK, Colour, Disc, Line, Mark, Point, Style, rectangle
from checker.section.sketch import Box as Area

METAL: Colour = (196, 200, 205)
LID: Colour = (222, 225, 228)
#: A wall of unknown or no thickness is drawn as a line of this width, and a lid this far above.
_LINE_PX, _LID_GAP_PX = 2.0, 4.0
#: Compartments that are drawn alone stand this far apart.
_APART_MM = 4.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the drawing stands on the sheet: pixels per mm, and where its origin, the lower left of the outside, is."""

    scale: float
    left: float
    bottom: float

    def at(self, x_mm: float, y_mm: float) -> Point:
        """A place on the sheet."""
        return self.left + x_mm * self.scale, self.bottom - y_mm * self.scale

    def box(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Area:
        """A rectangle on the sheet, from its lower left in mm."""
        left, bottom = self.at(x_mm, y_mm)
        return left, bottom - height_mm * self.scale, left + width_mm * self.scale, bottom


@dataclass(frozen=True, slots=True)
class Plan:
    """Where things lie in mm, from the lower left of the outside: its size, and the lower left of each inside."""

    width_mm: float
    height_mm: float
    insides: tuple[tuple[Inside, Point], ...]
    floor_mm: float = 0.0
    wall_mm: float = 0.0


def plan_of(view: SectionView) -> Plan | None:
    """Where wall and compartments lie; None where the size inside isn't known of each."""
    insides = [lane.inside for lane in view.lanes if lane.inside is not None]
    if not insides or len(insides) < len(view.lanes):
        return None
    sizes = [extent_mm(inside) for inside in insides]
    across, high = sum(width for width, _ in sizes), max(height for _, height in sizes)
    outside = view.outside_mm
    if outside is None or outside[0] < across - 1.0 or outside[1] < high - 1e-6:
        return _bare(insides, whole=outside is None)
    wide, tall = max(outside[0], across), outside[1]
    first = insides[0]
    if isinstance(first, Round):
        wall = (wide - first.diameter_mm) / 2.0
        return Plan(wide, tall, ((first, (wall, wall)),), wall, wall)
    gaps = len(insides) - 1
    is_open = isinstance(first, Channel)
    wall = (wide - across) / (gaps + 2.0) if is_open else min((tall - high) / 2.0, (wide - across) / 2.0)
    divider = (wide - across - 2.0 * wall) / gaps if gaps else 0.0
    floor = tall - high if is_open else (tall - high) / 2.0
    return Plan(wide, tall, _row(insides, wall, floor, divider), floor, wall)


def _bare(insides: list[Inside], *, whole: bool) -> Plan:
    """Insides of which the outside isn't known, or of which not all are drawn: side by side."""
    apart = _APART_MM if whole and len(insides) > 1 else 0.0
    sizes = [extent_mm(inside) for inside in insides]
    width = sum(size[0] for size in sizes) + apart * (len(sizes) - 1)
    return Plan(width, max(size[1] for size in sizes), _row(insides, 0.0, 0.0, apart))


def _row(insides: list[Inside], start: float, floor: float, gap: float) -> tuple[tuple[Inside, Point], ...]:
    placed, x = [], start
    for inside in insides:
        placed.append((inside, (x, floor)))
        x += extent_mm(inside)[0] + gap
    return tuple(placed)


def outline(view: SectionView, plan: Plan, frame: Frame) -> list[Mark]:
    """The carrier's own marks; cables are drawn upon them."""
    first = plan.insides[0][0]
    if isinstance(first, Round):
        return _conduit(plan, frame)
    if view.kind in OPEN:
        return _open(view, plan, frame)
    return _closed(plan, frame)


def _conduit(plan: Plan, frame: Frame) -> list[Mark]:
    x, y = frame.at(plan.width_mm / 2.0, plan.height_mm / 2.0)
    inside = plan.insides[0][0]
    bore = inside.diameter_mm if isinstance(inside, Round) else 0.0
    marks: list[Mark] = []
    if plan.wall_mm > 0.0:
        marks.append(Disc(x, y, plan.width_mm / 2.0 * frame.scale, Style(METAL, INK, 1.2)))
    width = 1.2 if plan.wall_mm > 0.0 else _LINE_PX
    marks.append(Disc(x, y, bore / 2.0 * frame.scale, Style(PAPER, INK, width)))
    return marks


def _closed(plan: Plan, frame: Frame) -> list[Mark]:
    """A trunking: wall, dividers, and the lid on top."""
    marks: list[Mark] = []
    if plan.wall_mm > 0.0:
        marks.append(rectangle(frame.box(0.0, 0.0, plan.width_mm, plan.height_mm), Style(METAL, INK, 1.2)))
    width = 1.0 if plan.wall_mm > 0.0 else _LINE_PX
    top = 0.0
    for inside, (x, y) in plan.insides:
        wide, high = extent_mm(inside)
        marks.append(rectangle(frame.box(x, y, wide, high), Style(PAPER, INK, width)))
        top = max(top, y + high)
    left, lid_bottom = frame.at(0.0, top)
    right = frame.at(plan.width_mm, top)[0]
    thick = max((plan.height_mm - top) * frame.scale, _LID_GAP_PX)
    lip = 3.0
    marks.append(rectangle((left - lip, lid_bottom - thick, right + lip, lid_bottom - 0.6), Style(LID, INK, 1.2)))
    return marks


def _open(view: SectionView, plan: Plan, frame: Frame) -> list[Mark]:
    """A tray or ladder: sides, and a floor, or the rung as a line; nothing on top."""
    known = all(lane.is_side_known for lane in view.lanes)
    side = Style(METAL, INK, 1.2) if known else Style(None, SOFT_INK, 1.5, 5.0)
    marks: list[Mark] = []
    high = plan.height_mm
    floor = min(max(plan.floor_mm, 0.0), high)
    wall = plan.wall_mm
    bars = [(0.0, wall), (plan.width_mm - wall, wall)]
    ordered = sorted(plan.insides, key=lambda pair: pair[1][0])
    bars += [
        (one[1][0] + extent_mm(one[0])[0], two[1][0] - one[1][0] - extent_mm(one[0])[0])
        for one, two in itertools.pairwise(ordered)
    ]
    if view.kind is CarrierKind.LADDER:
        ends = (frame.at(wall, floor), frame.at(plan.width_mm - wall, floor))
        low = tuple((x, y + 1.5) for x, y in ends)
        marks.append(Line(low, Style(None, INK, 3.0)))
    else:
        thick = min(max(0.0, wall), floor if floor > 0.0 else wall)
        box = frame.box(0.0, floor - thick, plan.width_mm, thick)
        marks.append(rectangle((box[0], box[1], box[2], max(box[3], box[1] + 2.5)), Style(METAL, INK, 1.0)))
    for x, thick in bars:
        left, top, right, bottom = frame.box(x, 0.0, thick, high)
        if right - left >= 1.5 and known:
            marks.append(rectangle((left, top, right, bottom), side))
        else:
            middle = (left + right) / 2.0
            marks.append(Line(((middle, top), (middle, bottom)), Style(None, side.ink, _LINE_PX, side.dash_px)))
    return marks


def closed_by_lid(inside: Inside) -> bool:
    """Whether an inside has a lid on it."""
    return isinstance(inside, Box)
