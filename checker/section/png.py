"""Paints a sketch as a PNG picture: drawn four times as large, shrunk by half, so that it has two pixels for each of the sheet."""

import io
import math
import re
from collections.abc import Sequence

from PIL import Image, ImageDraw

from checker.section.letters import clean, font, plain
from checker.section.sketch import (
    END,
    MIDDLE,
    PAPER,
    START,
    Disc,
    Hatching,
    Line,
    Mark,
    Point,
    Sketch,
    Stadium,
    Style,
    Text,
    dashes,
)

_DRAWN, _SHRUNK = 4, 2
#: Pictures larger than this would take more memory than a picture is worth: they get one pixel for each of the sheet.
_LARGEST_PX = 3_000_000
#: Raised digits, which the font lacks, are drawn so small and so high, as shares of the size of the text.
_RAISED_SIZE, _RAISED_BY = 0.62, 0.36
_RAISED = re.compile("([²³]+)")


def png(sketch: Sketch) -> bytes:
    """A sketch as a PNG file with nothing but pixels in it: the same sketch gives the same bytes."""
    times = _DRAWN if sketch.width * sketch.height <= _LARGEST_PX else _SHRUNK
    size = (math.ceil(sketch.width) * times, math.ceil(sketch.height) * times)
    image = Image.new("RGB", size, PAPER)
    brush = Brush(ImageDraw.Draw(image), times)
    for mark in sketch.marks:
        brush.paint(mark)
    target = io.BytesIO()
    small = image.reduce(_SHRUNK).quantize(256, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    small.save(target, format="PNG", compress_level=6)
    return target.getvalue()


class Brush:
    """Paints marks on a sheet that is some times as large.

    Args:
        draw: What paints on it.
        times: How many of its pixels are one of the marks'.
    """

    def __init__(self, draw: ImageDraw.ImageDraw, times: int) -> None:
        self._draw, self._times = draw, times

    def paint(self, mark: Mark) -> None:
        """Paints one."""
        if isinstance(mark, Text):
            self._text(mark)
        elif isinstance(mark, Hatching):
            self._hatching(mark)
        elif isinstance(mark, Disc):
            self._disc(mark)
        elif isinstance(mark, Line):
            self._line(mark.points, mark.style)
        else:
            points = mark.outline() if isinstance(mark, Stadium) else mark.points
            self._closed(points, mark.style)

    def _text(self, mark: Text) -> None:
        size = max(round(mark.size * self._times), 1)
        pieces = [
            (text, font(size if not is_raised else round(size * _RAISED_SIZE)), is_raised)
            for text, is_raised in _raised(clean(mark.text))
        ]
        wide = sum(letters.getlength(text) for text, letters, _ in pieces)
        x = mark.x * self._times - {START: 0.0, MIDDLE: wide / 2.0, END: wide}[mark.anchor]
        for text, letters, is_raised in pieces:
            y = mark.y * self._times - (size * _RAISED_BY if is_raised else 0.0)
            self._draw.text((x, y), text, fill=mark.ink, font=letters, anchor="ls")
            x += letters.getlength(text)

    def _hatching(self, mark: Hatching) -> None:
        for ends in mark.segments:
            self._line(ends, Style(ink=mark.ink, width_px=mark.width_px))
        for x, y in mark.dots:
            self._disc(Disc(x, y, mark.dot_px, Style(fill=mark.ink)))

    def _disc(self, mark: Disc) -> None:
        style = mark.style
        if style.dash_px and style.ink is not None:
            steps = 96
            around = [2.0 * math.pi * step / steps for step in range(steps + 1)]
            points = [(mark.x + mark.radius * math.cos(turn), mark.y + mark.radius * math.sin(turn)) for turn in around]
            self._closed(points, style)
            return
        reach = mark.radius + (style.width_px / 2.0 if style.ink is not None else 0.0)
        box = [part * self._times for part in (mark.x - reach, mark.y - reach, mark.x + reach, mark.y + reach)]
        self._draw.ellipse(box, fill=style.fill, outline=style.ink, width=self._wide(style.width_px))

    def _closed(self, points: Sequence[Point], style: Style) -> None:
        if style.fill is not None:
            self._draw.polygon([(x * self._times, y * self._times) for x, y in points], fill=style.fill)
        if style.ink is not None:
            # once more over the first side, so that the corner where it begins is closed
            self._line([*points, *points[: 1 if style.dash_px else 2]], style)

    def _line(self, points: Sequence[Point], style: Style) -> None:
        if style.ink is None:
            return
        if style.dash_px:
            for ends in dashes(points, style.dash_px):
                self._line(ends, Style(ink=style.ink, width_px=style.width_px))
            return
        scaled = [(x * self._times, y * self._times) for x, y in points]
        self._draw.line(scaled, fill=style.ink, width=self._wide(style.width_px), joint="curve")

    def _wide(self, width_px: float) -> int:
        return max(round(width_px * self._times), 1)


def _raised(text: str) -> list[tuple[str, bool]]:
    """A text in pieces, and whether each is of raised digits."""
    return [(plain(piece), number % 2 == 1) for number, piece in enumerate(_RAISED.split(text)) if piece]
