"""The right of a snapshot: the cross-section of the worst carrier, with figures and what was asked."""

from collections.abc import Sequence

from checker.model.texts import number
from checker.report.canvas import INK, SOFT_INK, Canvas, Colour, Rectangle, legible, shortened, text_width, wrapped
from checker.report.gauge import BADGES_PX, Drawn, badge, could_lie, known_fill, section, word
from checker.result.notes import shown
from checker.result.tables import CarrierRow, CompartmentRow, FindingRow
from checker.section.drawing import Picture, picture_of
from checker.section.parts import SectionView

_SIZES_MM = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
_MOST_ROWS = 6
_GAUGED = "Level shows the share of the {} used, not where cables lie."
_LINE_PX = 28.0
#: Where there is room, what was asked is written so much larger, so that it can still be read on half the screen.
_LARGER = 3


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
        canvas.text((left, y), f"and {len(compartments) - _MOST_ROWS} compartments more", 17, SOFT_INK)
        y += _LINE_PX
    small = area[3] - 32.0
    if finding is not None:
        _asked(canvas, (left, y + 8.0), width, finding, small)
    if picture is not None:
        told = _way(view, worst)
    else:  # nothing is said of levels where none is shown
        is_gauged = drawn.scale is not None and any(known_fill(part) for part in compartments)
        told = _GAUGED.format(_noun(compartments)) if is_gauged else ""
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
    whole = f"{part.number}:  {figures(part)}"
    size = 20 if text_width(whole + part.verdict, 20) + 14.0 <= width else 17
    text = shortened(whole, size, width - text_width(part.verdict, size) - 14.0)
    canvas.text(at, text, size, ink)
    canvas.text((at[0] + text_width(text, size) + 14.0, at[1]), part.verdict, size, ink)


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
    """The rule with its verdict and source, and as much of the reason as there is room for; larger where all of it has room."""
    for larger in (_LARGER, 0):
        y = _rule(None, at, width, finding, larger)
        room = int((bottom - 8.0 - y) // (19.0 + larger))
        most = min(room, 8) if not larger else room
        if larger and len(_reason(finding, width, larger, 99)) > most:
            continue
        _rule(canvas, at, width, finding, larger)
        for line in _reason(finding, width, larger, most) if most > 0 else ():
            canvas.text((at[0], y), line, 15 + larger, INK)
            y += 19.0 + larger
        return


def _reason(finding: FindingRow, width: float, larger: int, most: int) -> list[str]:
    return wrapped(legible(drawable(finding.reason), ""), 15 + larger, width, most)


def _rule(canvas: Canvas | None, at: tuple[float, float], width: float, finding: FindingRow, larger: int) -> float:
    """The rule with its figures and verdict, and its source. Returns where that ends; without a canvas it only measures."""
    figures, size = shown(finding), 16 + larger
    y = at[1]
    room = width - text_width(finding.verdict, size) - 24.0
    whole = f"{finding.rule} ({figures})" if figures else finding.rule
    is_short = text_width(whole, size) <= room
    rule = whole if is_short else shortened(finding.rule, size, room)
    lines: list[tuple[float, str, int, Colour]] = [(y, rule, size, INK)]
    if canvas is not None:
        x = at[0] + text_width(rule, size) + 16.0
        canvas.rectangle(
            (x - 7.0, y - 3.0, x + text_width(finding.verdict, size) + 7.0, y + 19.0 + larger), None, INK, 2.0
        )
        canvas.text((x, y), finding.verdict, size)
    y += 27.0 + larger
    if not is_short:
        for line in wrapped(legible(drawable(figures), ""), size, width, 2):
            lines.append((y, line, size, INK))
            y += 21.0 + larger
        y += 3.0
    source = " - ".join(part for part in (finding.basis, finding.source) if part)
    for line in wrapped(source, 14 + larger, width, 2 + (larger > 0)):
        lines.append((y, line, 14 + larger, SOFT_INK))
        y += 18.0 + larger
    if source:
        y += 5.0
    if canvas is not None:
        for top, text, letters, colour in lines:
            canvas.text((at[0], top), text, letters, colour)
    return y
