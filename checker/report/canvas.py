"""A sheet to draw on with smooth lines: everything is drawn twice as large and shrunk at the end."""

import io
import math
import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from functools import lru_cache

from PIL import Image, ImageChops, ImageDraw, ImageFont

from checker.section.png import Brush
from checker.section.sketch import Mark

Point = tuple[float, float]
Rectangle = tuple[float, float, float, float]
Colour = tuple[int, int, int]

INK: Colour = (25, 28, 32)
SOFT_INK: Colour = (92, 98, 104)
PAPER: Colour = (255, 255, 255)

_TIMES = 2
#: No line of a picture has so many letters.
_LONG = 1000
#: What the one font that is always at hand lacks, and how it is written instead.
_INSTEAD = str.maketrans({
    "×": "x", "–": "-", "—": "-", "→": "->", "Ø": "dia. ", "ø": "o", "≤": "<=", "≥": ">=", "ß": "ss", "æ": "ae",
    "µ": "u", "Σ": "sum ",
})  # fmt: skip
#: A word, or a figure with its unit, which stay on one line.
_WORD = re.compile(r"\(?[\d.,]+\s(?:%|mm2?|m|A|V|kg)[,;:.)]*(?!\S)|\S+")
_ALSO = frozenset("…°“”’·")


class Canvas:
    """A sheet, white at first. Coordinates and sizes are pixels of the picture that comes out."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._image = Image.new("RGB", (width * _TIMES, height * _TIMES), PAPER)
        self._draw = ImageDraw.Draw(self._image)

    def polygon(self, points: Sequence[Point], fill: Colour | None, outline: Colour | None, width: float = 1.0) -> None:
        """A filled polygon with an outline whose corners are closed."""
        scaled = [_scaled(point) for point in points]
        if fill is not None:
            self._draw.polygon(scaled, fill=fill)
        if outline is not None:
            self._draw.line([*scaled, *scaled[:2]], fill=outline, width=_wide(width), joint="curve")

    def line(self, points: Sequence[Point], fill: Colour, width: float = 1.0) -> None:
        """A line through points."""
        self._draw.line([_scaled(point) for point in points], fill=fill, width=_wide(width), joint="curve")

    def dashes(self, start: Point, end: Point, fill: Colour, width: float = 1.0, dash: float = 7.0) -> None:
        """A straight dashed line."""
        length = math.dist(start, end)
        across, down = end[0] - start[0], end[1] - start[1]
        for number in range(math.ceil(length / dash)):
            ends = (number * dash / length, min((number + 0.6) * dash / length, 1.0))
            self.line([(start[0] + across * share, start[1] + down * share) for share in ends], fill, width)

    def rectangle(self, box: Rectangle, fill: Colour | None, outline: Colour | None, width: float = 1.0) -> None:
        """An upright rectangle."""
        self._draw.rectangle(_box(box), fill=fill, outline=outline, width=_wide(width))

    def ellipse(self, box: Rectangle, fill: Colour | None, outline: Colour | None, width: float = 1.0) -> None:
        """An ellipse in an upright rectangle."""
        self._draw.ellipse(_box(box), fill=fill, outline=outline, width=_wide(width))

    def hatch(self, box: Rectangle, part: Rectangle, colour: Colour, *, crossed: bool, is_round: bool) -> None:
        """Slanted lines in a part of a shape: crossed ones, or from the lower left only.

        Args:
            box: The rectangle that the shape fills: itself, or a circle or ellipse in it.
            part: The rectangle in which lines are drawn, as far as it lies in the shape.
            colour: Of the lines.
            crossed: Whether lines go both ways.
            is_round: Whether the shape is round.
        """
        left, upper, right, lower = (round(side * _TIMES) for side in box)
        size = (max(right - left, 1), max(lower - upper, 1))
        shape, allowed, lines = (Image.new("1", size) for _ in range(3))
        pen = ImageDraw.Draw(shape)
        (pen.ellipse if is_round else pen.rectangle)((0, 0, size[0] - 1, size[1] - 1), fill=1)
        first, top, last, bottom = (round(side * _TIMES) for side in part)
        if last > first and bottom > top:
            ImageDraw.Draw(allowed).rectangle((first - left, top - upper, last - left - 1, bottom - upper - 1), fill=1)
        pen = ImageDraw.Draw(lines)
        for x in range(-size[1], size[0] + size[1], 7 * _TIMES):
            pen.line((x, size[1], x + size[1], 0), fill=1, width=3)
            if crossed:
                pen.line((x, 0, x + size[1], size[1]), fill=1, width=3)
        kept = ImageChops.logical_and(ImageChops.logical_and(shape, allowed), lines)
        self._image.paste(colour, (left, upper), kept)

    def text(self, at: Point, text: str, size: int, fill: Colour = INK, anchor: str = "la") -> None:
        """One line of text. ``anchor`` says what of it stands at the point, as Pillow names it."""
        self._draw.text(_scaled(at), plain(text), fill=fill, font=_font(size), anchor=anchor)

    def paint(self, marks: Iterable[Mark]) -> None:
        """Paints the marks of a section."""
        brush = Brush(self._draw, _TIMES)
        for mark in marks:
            brush.paint(mark)

    def put(self, other: "Canvas", at: Point) -> None:
        """Puts another canvas in here, with its upper left at a point."""
        self._image.paste(other._image, (round(at[0] * _TIMES), round(at[1] * _TIMES)))

    def png(self) -> bytes:
        """The picture as a PNG file with nothing but pixels in it: the same drawing gives the same bytes."""
        target = io.BytesIO()
        self._image.reduce(_TIMES).quantize(128, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE).save(
            target, format="PNG", compress_level=6
        )
        return target.getvalue()


def meet(one: Rectangle, two: Rectangle, gap: float) -> bool:
    """Whether two rectangles are on each other, or nearer to each other than a gap in pixels."""
    return one[0] < two[2] + gap and two[0] < one[2] + gap and one[1] < two[3] + gap and two[1] < one[3] + gap


def text_width(text: str, size: int) -> float:
    """How wide a line of text gets, in pixels."""
    return _font(size).getlength(plain(text)) / _TIMES


def shortened(text: str, size: int, width: float) -> str:
    """A text cut so that it fits a width in pixels, with an ellipsis where something is missing."""
    if len(text) < _LONG and text_width(text, size) <= width:
        return text
    # a text grows with its letters: the last length that fits is found by halving, however long somebody made it
    fits = bisect_right(range(min(len(text), _LONG)), width, key=lambda kept: text_width(f"{text[:kept]}…", size)) - 1
    return f"{text[: max(fits, 0)].rstrip()}…"


def wrapped(text: str, size: int, width: float, most: int) -> list[str]:
    """A text in lines of at most a width in pixels; the last one is shortened where there would be too many."""
    lines: list[str] = []
    words = [" ".join(word.split()) for word in _WORD.findall(text)]
    while words:
        if len(lines) == most - 1:
            return [*lines, shortened(" ".join(words), size, width)]
        count = 1
        while count < len(words) and text_width(" ".join(words[: count + 1]), size) <= width:
            count += 1
        lines.append(shortened(" ".join(words[:count]), size, width))
        words = words[count:]
    return lines


def plain(text: str) -> str:
    """A text in the letters that the font has; ``?`` for one that it lacks."""
    flat = unicodedata.normalize("NFKD", " ".join(text.translate(_INSTEAD).split()))
    kept = (letter for letter in flat if not unicodedata.combining(letter))
    return "".join(letter if " " <= letter <= "~" or letter in _ALSO else "?" for letter in kept)


def legible(text: str, otherwise: str) -> str:
    """A text, or another one where more than a third of it can't be drawn."""
    return text if plain(text).count("?") - text.count("?") <= len(text) / 3 else otherwise


@lru_cache(maxsize=16)
def _font(size: int) -> ImageFont.FreeTypeFont:
    font = ImageFont.load_default(size * _TIMES)
    if not isinstance(font, ImageFont.FreeTypeFont):  # pragma: no cover - only where Pillow was built without FreeType
        raise TypeError("Pillow has no FreeType: it can't draw text of a given size")
    return font


def _scaled(point: Point) -> Point:
    return point[0] * _TIMES, point[1] * _TIMES


def _box(box: Rectangle) -> Rectangle:
    return box[0] * _TIMES, box[1] * _TIMES, box[2] * _TIMES, box[3] * _TIMES


def _wide(width: float) -> int:
    return max(round(width * _TIMES), 1)
