"""Lines of arithmetic in pieces: what is given, and what is to be worked out."""

import re
from collections.abc import Collection
from dataclasses import dataclass

FIGURE = re.compile(r"[0-9]+(?:\.[0-9]+)?")
#: A factor of a table is looked up, not worked out.
FACTOR = re.compile(r"term (?:at least )?([0-9.]+)(?: to ([0-9.]+))?")


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a line. ``is_worked``: it is a figure that is to be worked out."""

    text: str
    is_worked: bool = False


Line = tuple[Piece, ...]


def given(text: str) -> Line:
    """A line of which all is given."""
    return (Piece(text),)


def worked(text: str, known: Collection[str] = ()) -> Line:
    """A line in which every figure is to be worked out, but those that are known; after the last ``=`` none is.

    Args:
        text: The line.
        known: The figures that are given, as they are written.
    """
    pieces: list[Piece] = []
    result = text.rfind(" = ")
    at = 0
    for figure in FIGURE.finditer(text):
        is_known = figure[0] in known and (result < 0 or figure.start() < result)
        if not is_known:
            pieces += [Piece(text[at : figure.start()]), Piece(figure[0], is_worked=True)]
            at = figure.end()
    return tuple(piece for piece in (*pieces, Piece(text[at:])) if piece.text)


def factors(text: str) -> list[str]:
    """The factors of tables that a line names."""
    return [figure for found in FACTOR.finditer(text) for figure in found.groups() if figure]


def plain(line: Line) -> str:
    """A line with all its figures."""
    return "".join(piece.text for piece in line)
