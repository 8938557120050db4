"""Writes a sketch as SVG: real texts, a title and a description, no scripts, no fonts of its own; the same sketch, the same bytes."""

import unicodedata
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from checker.section.letters import clean
from checker.section.sketch import (
    START,
    Colour,
    Disc,
    Hatching,
    Line,
    Mark,
    Point,
    Polygon,
    Sketch,
    Stadium,
    Style,
    Text,
)

_FONTS = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans Condensed', sans-serif"
#: An unseen sign that ends what is written from right to left.
_LEFT_TO_RIGHT = "\u200e"


def svg(sketch: Sketch) -> str:
    """A sketch as an SVG document, in UTF-8 once it is encoded."""
    width, height = _number(sketch.width), _number(sketch.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}" role="img" '
        f"font-family={quoteattr(_FONTS)}>"
    )
    told = f"<title>{_words(sketch.title)}</title>\n<desc>{_words(sketch.told)}</desc>"
    paper = f'<rect width="{width}" height="{height}" fill="#ffffff"/>'
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', head, told, paper, *map(_element, sketch.marks), "</svg>"]
    return "\n".join(line for line in lines if line) + "\n"


def _element(mark: Mark) -> str:
    if isinstance(mark, Disc):
        return f'<circle cx="{_number(mark.x)}" cy="{_number(mark.y)}" r="{_number(mark.radius)}"{_style(mark.style)}/>'
    if isinstance(mark, Stadium):
        return _stadium(mark)
    if isinstance(mark, Polygon):
        return f'<polygon points="{_points(mark.points)}"{_style(mark.style)}/>'
    if isinstance(mark, Line):
        return f'<polyline points="{_points(mark.points)}"{_style(mark.style)}/>'
    if isinstance(mark, Hatching):
        return _hatching(mark)
    return _text(mark)


def _stadium(mark: Stadium) -> str:
    left, top = mark.x - mark.width / 2.0, mark.y - mark.height / 2.0
    return (
        f'<rect x="{_number(left)}" y="{_number(top)}" width="{_number(mark.width)}" height="{_number(mark.height)}" '
        f'rx="{_number(mark.radius)}"{_style(mark.style)}/>'
    )


def _hatching(mark: Hatching) -> str:
    ink = _colour(mark.ink)
    parts = []
    if mark.segments:
        way = "".join(
            f"M{_number(x1)} {_number(y1)}L{_number(x2)} {_number(y2)}" for (x1, y1), (x2, y2) in mark.segments
        )
        parts.append(f'<path d="{way}" fill="none" stroke="{ink}" stroke-width="{_number(mark.width_px)}"/>')
    parts += [
        f'<circle cx="{_number(x)}" cy="{_number(y)}" r="{_number(mark.dot_px)}" fill="{ink}"/>' for x, y in mark.dots
    ]
    return "".join(parts)


def _text(mark: Text) -> str:
    anchor = "" if mark.anchor == START else f' text-anchor="{mark.anchor}"'
    return (
        f'<text x="{_number(mark.x)}" y="{_number(mark.y)}" font-size="{_number(mark.size)}"{anchor} '
        f'fill="{_colour(mark.ink)}">{_words(mark.text)}</text>'
    )


def _style(style: Style) -> str:
    fill = "none" if style.fill is None else _colour(style.fill)
    if style.ink is None:
        return f' fill="{fill}"'
    dash = f' stroke-dasharray="{_number(style.dash_px)} {_number(style.dash_px * 0.6)}"' if style.dash_px else ""
    return f' fill="{fill}" stroke="{_colour(style.ink)}" stroke-width="{_number(style.width_px)}" stroke-linejoin="round"{dash}'


def _words(text: str) -> str:
    return escape(_kept_in_order(clean(text)))


def _kept_in_order(text: str) -> str:
    """A text whose parts between commas keep their order where one is written from right to left."""
    if not any(unicodedata.bidirectional(letter) in {"R", "AL"} for letter in text):
        return text
    return text.replace(", ", f"{_LEFT_TO_RIGHT}, ")


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _colour(colour: Colour) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _number(value: float) -> str:
    """At most two digits after the point, and no minus before nothing."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
