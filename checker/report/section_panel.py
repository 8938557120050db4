"""The right of a snapshot: the cross-section of the worst carrier, with figures and what was asked."""

from collections.abc import Sequence

from checker.model.texts import number
from checker.report.canvas import INK, SOFT_INK, Canvas, Rectangle, legible, shortened, text_width, wrapped
from checker.report.gauge import BADGES_PX, Drawn, badge, could_lie, section, word
from checker.result.notes import shown
from checker.result.tables import CarrierRow, CompartmentRow, FindingRow
from checker.section.drawing import Picture, picture_of
from checker.section.parts import SectionView

_SIZES_MM = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
_MOST_ROWS = 6
_GAUGED = "Level shows the share of the {} used, not where cables lie."
_LINE_PX = 25.0


def draw_section(
    canvas: Canvas,
    area: Rectangle,
    row: CarrierRow,
    compartments: Sequence[CompartmentRow],
    finding: FindingRow | None,
    view: SectionView | None = None,
) -> None:
    """Draws the panel of a carrier.

    Args:
        canvas: Where to.
        area: What may be used.
        row: The carrier.
        compartments: Its compartments, in order.
        finding: What it is shown for.
        view: Its section with the cables in it; None: gauges stand in for them.
    """
    left, width = area[0], area[2] - area[0]
    worst = (finding.compartment if finding else None) or 0
    title = f"Section of {legible(row.place.label, row.place.global_id)}"
    canvas.text((left, area[1]), shortened(title, 20, width), 20)
    canvas.text((left, area[1] + 27.0), shortened(_size(row), 15, width), 15, SOFT_INK)
    place = (left, area[1] + 52.0, area[2], area[1] + 262.0)
    picture = _picture(canvas, view, place, worst)
    if picture is not None:
        drawn = Drawn(picture.scale, picture.bottom)
    else:
        drawn = section(canvas, place, row, compartments, worst)
    y = drawn.bottom + 12.0
    if drawn.scale is not None:
        _scale_bar(canvas, left, y, width * 0.7, drawn.scale)
    y += 34.0
    for part in _chosen(compartments, worst):
        _figures(canvas, (left, y), width, part, is_worst=part.number == worst or len(compartments) == 1)
        y += _LINE_PX
    if len(compartments) > _MOST_ROWS:
        canvas.text((left, y), f"and {len(compartments) - _MOST_ROWS} compartments more", 15, SOFT_INK)
        y += _LINE_PX
    small = area[3] - 32.0
    if finding is not None:
        _asked(canvas, (left, y + 8.0), width, finding, small)
    told = _GAUGED.format(_noun(compartments)) if picture is None else _way(view, worst)
    for place_of_line, line in enumerate(wrapped(told, 13, width, 2)):
        canvas.text((left, small + 16.0 * place_of_line), line, 13, SOFT_INK)


def _picture(canvas: Canvas, view: SectionView | None, place: Rectangle, worst: int) -> Picture | None:
    """The section with its cables, and the numbers of its compartments above it; None where it can't be drawn."""
    if view is None:
        return None
    is_divided = len(view.lanes) > 1
    picture = picture_of(view, (place[0], place[1] + (BADGES_PX if is_divided else 0.0), *place[2:]))
    if picture is not None:
        canvas.paint(picture.marks)
        for lane, box in zip(view.lanes, picture.lanes, strict=True) if is_divided else ():
            badge(
                canvas, lane.number, (box[0] + box[2]) / 2.0, place[1] + BADGES_PX / 2.0, is_worst=lane.number == worst
            )
    return picture


def _noun(compartments: Sequence[CompartmentRow]) -> str:
    measure = word(compartments[0].measure) if compartments else "fill"
    return {"fill": "area", "terms": "terms"}.get(measure, measure)


def _way(view: SectionView | None, worst: int) -> str:
    """How the cables of the worst compartment came to lie so, else of the first that has any; first, whether some aren't drawn."""
    lanes = sorted(view.lanes if view is not None else (), key=lambda lane: lane.number != worst)
    way = next((lane.way for lane in lanes if lane.way), "No cables are drawn.")
    if any(bundle.why or bundle.is_possible for lane in lanes for bundle in lane.bundles):
        return f"Some that lie or may lie here aren't drawn. {way}"
    return way


def _chosen(compartments: Sequence[CompartmentRow], worst: int) -> list[CompartmentRow]:
    """The first few compartments, and among them the worst one wherever it is."""
    if len(compartments) <= _MOST_ROWS:
        return list(compartments)
    first = [part for part in compartments if part.number == worst]
    first += [part for part in compartments if part.number != worst][: _MOST_ROWS - len(first)]
    return sorted(first, key=lambda part: part.number)


def _size(row: CarrierRow) -> str:
    size = f"{row.size} mm" if row.size else ""
    length = f"{row.length_m:.2f} m long" if row.length_m is not None else ""
    return ", ".join(part for part in (f"{size} {row.kind}".strip(), length, row.type_name) if part)


def _scale_bar(canvas: Canvas, left: float, y: float, most: float, scale: float) -> None:
    fitting = [size for size in _SIZES_MM if size * scale <= most / 2.0] or [_SIZES_MM[0]]
    right = left + fitting[-1] * scale
    canvas.line([(left, y - 4.0), (left, y + 4.0)], INK, 1.5)
    canvas.line([(right, y - 4.0), (right, y + 4.0)], INK, 1.5)
    canvas.line([(left, y), (right, y)], INK, 1.5)
    canvas.text((right + 8.0, y), f"{fitting[-1]} mm", 13, INK, "lm")


def _figures(canvas: Canvas, at: tuple[float, float], width: float, part: CompartmentRow, *, is_worst: bool) -> None:
    ink = INK if is_worst else SOFT_INK
    text = shortened(f"{part.number}:  {figures(part)}", 17, width - text_width(part.verdict, 17) - 14.0)
    canvas.text(at, text, 17, ink)
    canvas.text((at[0] + text_width(text, 17) + 14.0, at[1]), part.verdict, 17, ink)


def figures(part: CompartmentRow) -> str:
    """Fill and limit of a compartment in words; where nothing is known to lie in it, what could."""
    if possible := could_lie(part):
        return f"not known: {possible}"
    fill = "not known" if part.fill is None else f"{'at least ' if part.at_least else ''}{number(part.fill, 'ratio')}"
    limit = "no limit" if part.limit is None else f"limit {number(part.limit, 'ratio')}"
    return f"{word(part.measure)} {fill} / {limit}"


def drawable(text: str) -> str:
    """A text without the signs of arithmetic that the picture's font lacks: ``1/√6`` is ``1/sqrt 6``."""
    return text.replace("√", "sqrt ")


def _asked(canvas: Canvas, at: tuple[float, float], width: float, finding: FindingRow, bottom: float) -> None:
    """The rule with its verdict and source, and as much of the reason as there is room for."""
    figures = shown(finding)
    y = at[1]
    room = width - text_width(finding.verdict, 16) - 24.0
    whole = f"{finding.rule} ({figures})" if figures else finding.rule
    is_short = text_width(whole, 16) <= room
    rule = whole if is_short else shortened(finding.rule, 16, room)
    canvas.text((at[0], y), rule, 16)
    x = at[0] + text_width(rule, 16) + 16.0
    canvas.rectangle((x - 7.0, y - 3.0, x + text_width(finding.verdict, 16) + 7.0, y + 19.0), None, INK, 2.0)
    canvas.text((x, y), finding.verdict, 16)
    y += 27.0
    if not is_short:
        for line in wrapped(legible(drawable(figures), ""), 16, width, 2):
            canvas.text((at[0], y), line, 16)
            y += 21.0
        y += 3.0
    source = " - ".join(part for part in (finding.basis, finding.source) if part)
    if source:
        for line in wrapped(source, 14, width, 2):
            canvas.text((at[0], y), line, 14, SOFT_INK)
            y += 18.0
        y += 5.0
    room = int((bottom - 8.0 - y) // 19.0)
    if room > 0:
        for line in wrapped(legible(drawable(finding.reason), ""), 15, width, min(room, 8)):
            canvas.text((at[0], y), line, 15, INK)
            y += 19.0
