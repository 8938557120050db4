"""A sketch drawn into a PDF."""

from typing import Any

from checker.section.sketch import (
    END,
    MIDDLE,
    Colour,
    Disc,
    Hatching,
    Line,
    Mark,
    Polygon,
    Sketch,
    Stadium,
    Style,
    Text,
)
from checker.sheet.pdf_font import FONT, letters

#: Sketches are in pixels of 1/96 inch.
PT_PER_PX = 72.0 / 96.0


def drawn(sketch: Sketch, most_wide_pt: float, most_high_pt: float) -> Any:
    """A sketch as a part of a page, made smaller where it has no room, never larger."""
    from reportlab.platypus import Flowable

    scale = min(PT_PER_PX, most_wide_pt / sketch.width, most_high_pt / sketch.height)

    class Drawn(Flowable):  # type: ignore[misc]
        """The part of the page."""

        def wrap(self, *_: float) -> tuple[float, float]:
            """Its width and height in points."""
            return sketch.width * scale, sketch.height * scale

        def draw(self) -> None:
            """Draws it; a sketch's y runs down."""
            canvas = self.canv
            canvas.saveState()
            canvas.translate(0, sketch.height * scale)
            canvas.scale(scale, scale)
            for mark in sketch.marks:
                _draw(canvas, mark)
            canvas.restoreState()

    return Drawn()


def _draw(canvas: Any, mark: Mark) -> None:
    if isinstance(mark, Text):
        _text(canvas, mark)
    elif isinstance(mark, Hatching):
        _hatching(canvas, mark)
    elif isinstance(mark, Disc):
        fill, stroke = _styled(canvas, mark.style)
        canvas.circle(mark.x, -mark.y, mark.radius, stroke=stroke, fill=fill)
    else:
        points = mark.outline() if isinstance(mark, Stadium) else mark.points
        fill, stroke = _styled(canvas, mark.style)
        path = canvas.beginPath()
        path.moveTo(points[0][0], -points[0][1])
        for x, y in points[1:]:
            path.lineTo(x, -y)
        if isinstance(mark, Polygon | Stadium):
            path.close()
        canvas.drawPath(path, stroke=stroke, fill=0 if isinstance(mark, Line) else fill)


def _text(canvas: Any, mark: Text) -> None:
    canvas.setFillColorRGB(*_shares(mark.ink))
    text, size = letters(mark.text), mark.size
    # the font of the page is wider than the one that the sketch was made for
    wide = canvas.stringWidth(text, FONT, size)
    room = mark.box[2] - mark.box[0]
    canvas.setFont(FONT, size * min(1.0, room / wide) if wide else size)
    write = {MIDDLE: canvas.drawCentredString, END: canvas.drawRightString}.get(mark.anchor, canvas.drawString)
    write(mark.x, -mark.y, text)


def _hatching(canvas: Any, mark: Hatching) -> None:
    canvas.setStrokeColorRGB(*_shares(mark.ink))
    canvas.setFillColorRGB(*_shares(mark.ink))
    canvas.setLineWidth(mark.width_px)
    canvas.setDash()
    for (x1, y1), (x2, y2) in mark.segments:
        canvas.line(x1, -y1, x2, -y2)
    for x, y in mark.dots:
        canvas.circle(x, -y, mark.dot_px, stroke=0, fill=1)


def _styled(canvas: Any, style: Style) -> tuple[int, int]:
    """Sets colours and line; returns whether to fill and whether to stroke."""
    if style.fill is not None:
        canvas.setFillColorRGB(*_shares(style.fill))
    if style.ink is not None:
        canvas.setStrokeColorRGB(*_shares(style.ink))
        canvas.setLineWidth(style.width_px)
        if style.dash_px:
            canvas.setDash(style.dash_px, 0.6 * style.dash_px)
        else:
            canvas.setDash()
    return int(style.fill is not None), int(style.ink is not None)


def _shares(colour: Colour) -> tuple[float, float, float]:
    red, green, blue = (part / 255.0 for part in colour)
    return red, green, blue
