"""A section as a sheet: the carrier to scale with its cables, what is used against the limit, a legend, and what is to be said of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.section.bars import bars
from checker.section.cable_marks import Lying, cable_marks, lying, text_within
from checker.section.leaders import WIDE, Pointed, above, beside, column_height, flag_height, widest, within
from checker.section.legend import legend
from checker.section.letters import clean
from checker.section.notes import notes, told
from checker.section.outline import Frame, Plan, closed_by_lid, outline, plan_of
from checker.section.parts import Bundle, SectionView
from checker.section.shapes import Round, extent_mm
from checker.section.sheet import Sheet, fits
from checker.section.sketch import INK, MIDDLE, SOFT_INK, Box, Line, Mark, Point, Sketch, Style, Text

#: So high the drawing is at most, and where there are many cables, so that their numbers can be read.
_HIGHEST_PX, _HIGHEST_OF_MANY_PX = 440.0, 640.0
_MANY = 60
#: No carrier is drawn larger than this; a small one would only be coarse.
_LARGEST_SCALE = 24.0
#: With more cables than this no marks stand beside the drawing.
_MOST_LEADERS = 24
_WIDEST_MARK_PX = 190.0
#: Where a line to a cable ends, from its middle, as a share of its size.
_EDGE = 0.36
_BAR_SIZES_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_THIN = "Some cables are too thin for their numbers and bear none; colour and pattern say which service they are."
_WHOSE = "A help to a competent designer: local codes and licensed practice come first. What is built may differ."


@dataclass(frozen=True, slots=True)
class Key:
    """What stands in, or beside, the cables of a bundle: its mark, or a number that the legend explains."""

    text: str
    bundle: Bundle
    lane: int


def sketch_of(view: SectionView) -> Sketch:
    """Draws a view. Texts never stand on each other nor beyond the sheet; what finds no room in the drawing stands in the legend."""
    sheet = Sheet()
    sheet.paragraph(view.title, 22.0)
    sheet.paragraph(view.size, 15.0, SOFT_INK, after=14.0)
    keys = _keys(view)
    plan = plan_of(view)
    if plan is None:
        _blank(sheet)
    elif not _section(sheet, view, plan, keys):
        view = replace(view, notes=(*view.notes, _THIN))
    bars(sheet, view.lanes)
    legend(sheet, [(key.text, key.bundle, key.lane) for key in keys], lanes=len(view.lanes))
    for note in notes(view):
        sheet.paragraph(note, 13.0, after=5.0)
    sheet.paragraph(_WHOSE, 12.0, SOFT_INK)
    return sheet.sketch(view.title, told(view))


@dataclass(frozen=True, slots=True)
class Picture:
    """A section alone: its marks, pixels per mm, the lowest pixel that is used, and where its compartments stand."""

    marks: tuple[Mark, ...]
    scale: float
    bottom: float
    lanes: tuple[Box, ...]


def picture_of(view: SectionView, area: Box) -> Picture | None:
    """Draws the carrier and its cables alone, without any text, in the middle of an area. None: its size isn't known.

    Args:
        view: What is drawn.
        area: Left, top, right and bottom in pixels.
    """
    plan = plan_of(view)
    if plan is None:
        return None
    high_mm = top_mm(view, plan)
    head = 12.0  # a lid stands above the carrier
    scale = min((area[2] - area[0] - 12.0) / plan.width_mm, (area[3] - area[1] - head) / high_mm, _LARGEST_SCALE)
    left = (area[0] + area[2] - plan.width_mm * scale) / 2.0
    frame = Frame(scale, left, area[1] + head + high_mm * scale)
    marks = [
        mark
        for lane, (_, origin) in zip(view.lanes, plan.insides, strict=True)
        for placed in lane.placed
        for mark in cable_marks(lying(lane.bundles[lane.drawn[placed.body]], placed, origin, frame), frame)
    ]
    lanes = tuple(frame.box(x, y, *extent_mm(inside)) for inside, (x, y) in plan.insides)
    return Picture((*outline(view, plan, frame), *marks), scale, frame.bottom, lanes)


def _keys(view: SectionView) -> list[Key]:
    """What stands for each bundle that is drawn or listed: its circuit's mark where cables are few and marks short, else a number."""
    bundles = [(lane.number, bundle) for lane in view.lanes for bundle in lane.bundles]
    marks = [clean(bundle.mark) for _, bundle in bundles]
    few = sum(len(lane.drawn) for lane in view.lanes) <= _MOST_LEADERS
    if few and all(marks) and all(bundle.of_circuit for _, bundle in bundles) and widest(marks) <= _WIDEST_MARK_PX:
        return [Key(mark, bundle, lane) for mark, (lane, bundle) in zip(marks, bundles, strict=True)]
    return [Key(str(number), bundle, lane) for number, (lane, bundle) in enumerate(bundles, start=1)]


def _blank(sheet: Sheet) -> None:
    """A frame where the drawing would stand."""
    top, bottom = sheet.y, sheet.y + 120.0
    left, right = sheet.left + 250.0, sheet.right - 250.0
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    middle = (left + right) / 2.0
    sheet.add(
        Line(corners, Style(None, SOFT_INK, 1.5, 6.0)),
        Text(middle, (top + bottom) / 2.0 + 5.0, "The size inside isn't known.", 16.0, SOFT_INK, MIDDLE),
    )
    sheet.y = bottom + 20.0


def _section(sheet: Sheet, view: SectionView, plan: Plan, keys: Sequence[Key]) -> bool:
    """The carrier with its cables and marks, and the scale bar.

    Returns:
        Whether every cable has its mark.
    """
    count = sum(len(lane.placed) for lane in view.lanes)
    texts = _texts_by_lane(view, keys)
    widths = widest([text for lane in texts for text in lane]) if count <= _MOST_LEADERS else 0.0
    high_mm = top_mm(view, plan)
    is_wide = plan.width_mm > WIDE * high_mm
    room = sheet.right - sheet.left - 2.0 * (widths + (40.0 if widths else 10.0))
    highest = _HIGHEST_OF_MANY_PX if count > _MANY else _HIGHEST_PX
    scale = min(room / plan.width_mm, highest / high_mm, _LARGEST_SCALE)
    wide, high = plan.width_mm * scale, high_mm * scale
    left = sheet.left + (sheet.right - sheet.left - wide) / 2.0
    # which marks go within hangs on the scale alone; how many stand outside says where the drawing begins
    unmarked = _cables(view, plan, Frame(scale, left, 0.0), texts)[1]
    has_leaders = bool(unmarked) and count <= _MOST_LEADERS
    if has_leaders:
        heap = _heap(view, plan, Frame(scale, left, 0.0))
        # lines from the sides would cross the cables of a low row
        is_wide = is_wide or heap[2] - heap[0] > WIDE * (heap[3] - heap[1])
    has_room = has_leaders and is_wide and _free(view, plan, Frame(scale, left, 0.0), unmarked, 1.0) is not None
    head = flag_height(unmarked) + 12.0 if has_leaders and is_wide and not has_room else 12.0
    pad = max(column_height(len(unmarked)) - high, 0.0) / 2.0 if has_leaders and not is_wide else 0.0
    top = sheet.y + head + pad
    bottom = top + high
    frame = Frame(scale, left, bottom)
    marks, unmarked = _cables(view, plan, frame, texts)
    sheet.add(*outline(view, plan, frame), *marks)
    if has_room:
        sheet.add(*(_free(view, plan, frame, unmarked) or ()))
    elif has_leaders and is_wide:
        sheet.add(*above(unmarked, top - 10.0))
    elif has_leaders:
        sheet.add(*beside(unmarked, left - 8.0, left + wide + 8.0, top - pad - 6.0, bottom + pad + 6.0))
    sheet.y = bottom + pad + 8.0
    if len(view.lanes) > 1:
        _name_lanes(sheet, view, plan, frame)
    more = ", lid drawn on top" if any(closed_by_lid(inside) for inside, _ in plan.insides) else ""
    sheet.add(*scale_bar((left, sheet.y + 12.0), wide, scale, more))
    sheet.y += 36.0
    return has_leaders or not unmarked


def _texts_by_lane(view: SectionView, keys: Sequence[Key]) -> list[list[str]]:
    """What stands in or beside each cable that is placed, lane by lane."""
    by_bundle = {(key.lane, key.bundle): key.text for key in keys}
    return [
        [by_bundle[lane.number, lane.bundles[lane.drawn[placed.body]]] for placed in lane.placed] for lane in view.lanes
    ]


def top_mm(view: SectionView, plan: Plan) -> float:
    """How high the carrier is, or the cables where they stand out above it."""
    tops = [plan.height_mm]
    for lane, (_, (_, y)) in zip(view.lanes, plan.insides, strict=True):
        for placed in lane.placed:
            body = lane.bundles[lane.drawn[placed.body]].body
            if body is not None:
                tops.append(y + placed.y_mm + (body.width_mm if placed.turned else body.height_mm) / 2.0)
    return max(tops)


def _cables(
    view: SectionView, plan: Plan, frame: Frame, texts: Sequence[Sequence[str]]
) -> tuple[list[Mark], list[Pointed]]:
    """All cables with the marks that go within, and the marks of those that have no room for theirs."""
    cables: list[tuple[Lying, str]] = []
    for lane, (_, origin), marks in zip(view.lanes, plan.insides, texts, strict=True):
        for placed, text in zip(lane.placed, marks, strict=True):
            cables.append((lying(lane.bundles[lane.drawn[placed.body]], placed, origin, frame), text))
    drawn: list[Mark] = []
    unmarked: list[Pointed] = []
    for cable, text in cables:
        drawn += cable_marks(cable, frame)
        within = text_within(cable, text, over_metal=len(cables) > _MOST_LEADERS)
        drawn += within
        if not within:
            unmarked.append(Pointed(text, cable.x, cable.y, cable.width * _EDGE, cable.height * _EDGE))
    return drawn, unmarked


def _heap(view: SectionView, plan: Plan, frame: Frame) -> Box:
    """What is around all cables, in pixels; there is one at least."""
    found = [
        lying(lane.bundles[lane.drawn[placed.body]], placed, origin, frame)
        for lane, (_, origin) in zip(view.lanes, plan.insides, strict=True)
        for placed in lane.placed
    ]
    halves = [(one.x, one.y, one.width / 2.0, one.height / 2.0) for one in found]
    return (
        min(x - wide for x, _, wide, _ in halves),
        min(y - high for _, y, _, high in halves),
        max(x + wide for x, _, wide, _ in halves),
        max(y + high for _, y, _, high in halves),
    )


def _free(
    view: SectionView, plan: Plan, frame: Frame, unmarked: Sequence[Pointed], spare: float = 0.0
) -> list[Mark] | None:
    """Marks in the free room above the cables, so many pixels below its top; None where it is too small, round, or parted by dividers."""
    (inside, (x, y)), *others = plan.insides
    if others or isinstance(inside, Round):
        return None
    left, top, right, _ = frame.box(x, y, *extent_mm(inside))
    return within(unmarked, (left + 4.0, top + 3.0 + spare, right - 4.0, _heap(view, plan, frame)[1] - 6.0))


def _name_lanes(sheet: Sheet, view: SectionView, plan: Plan, frame: Frame) -> None:
    """The compartments' numbers below them, where each has room for its own."""
    spans = []
    for lane, (inside, (x, _)) in zip(view.lanes, plan.insides, strict=True):
        wide = extent_mm(inside)[0]
        spans.append((lane, frame.at(x + wide / 2.0, 0.0)[0], wide * frame.scale))
    for pattern, size in (("compartment {}", 13.0), ("{}", 13.0), ("{}", 9.0)):
        if all(fits(pattern.format(lane.number), size, wide) for lane, _, wide in spans):
            for lane, x, _ in spans:
                sheet.add(Text(x, sheet.y + 14.0, pattern.format(lane.number), size, INK, MIDDLE))
            break
    sheet.y += 22.0


def scale_bar(at: Point, wide: float, scale: float, more: str = "") -> list[Mark]:
    """A length that can be measured.

    Args:
        at: Its left end.
        wide: How wide the drawing is.
        scale: Pixels per mm.
        more: What is said behind it.
    """
    size = max((one for one in _BAR_SIZES_MM if one * scale <= max(wide / 2.0, 60.0)), default=_BAR_SIZES_MM[0])
    left, y = at
    right, style = left + size * scale, Style(None, INK, 1.5)
    ends = [Line(((x, y - 4.0), (x, y + 4.0)), style) for x in (left, right)]
    return [Line((at, (right, y)), style), *ends, Text(right + 8.0, y + 4.5, f"{size} mm{more}", 13.0, INK)]
