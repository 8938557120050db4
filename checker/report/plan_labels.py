"""Where names have room on a plan."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.model.texts import natural
from checker.report.plan_paper import WIDTH_PX, Piece, Point, Rectangle

#: How high letters are, and how wide one is on average, as the page's style sets them.
LETTER_PX = 11.0
_LETTER_WIDTH_PX = 6.4
#: Between a carrier and its name.
_AWAY_PX = 2.0
#: A longer name has no room anywhere.
_MOST_LETTERS = 28
#: The paper is told apart into squares of this size; each holds one thing.
_CELL_PX = 4.0
#: On bodies that are wider than twice this, names may stand.
_WIDE_PX = 30.0
#: Turned so far or more, a name reads from the bottom to the top rather than from the top to the bottom.
_UPWARDS_DEG = 89.5

#: Where along a carrier its name may stand: its middle, a quarter, three quarters.
_SHARES = (0.0, -0.5, 0.5)

Cell = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Named:
    """What may get a name: a carrier's number, its name and its pieces."""

    number: int
    name: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A name where it has room: its middle, and how far it is turned (clockwise, in degrees)."""

    name: str
    at: Point
    turned_deg: float


def labels(things: Sequence[Named], points: Iterable[Point], height_px: float) -> list[Label]:
    """The names that have room, the longest carriers' first.

    Args:
        things: All that is drawn; names keep clear of all of it.
        points: Of marks, which names keep clear of as well.
        height_px: Of the sheet.
    """
    taken = _taken(things, points)
    found = []
    for thing in sorted(things, key=lambda one: (-_length(one), natural(one.name), one.number)):
        if not thing.name.strip() or len(thing.name) > _MOST_LETTERS or not thing.pieces:
            continue
        for room in _rooms(thing):
            cells = list(_cells(room))
            if not _is_on_sheet(room, height_px) or any(
                taken.get(cell, thing.number) != thing.number for cell in cells
            ):
                continue
            taken.update(dict.fromkeys(cells, -1))
            found.append(Label(thing.name, room.middle, round(_turned_deg(room.along), 1) + 0.0))
            break
    return found


def _taken(things: Sequence[Named], points: Iterable[Point]) -> dict[Cell, int]:
    """The squares that aren't free → the number of the carrier that is there; −1 for a mark."""
    taken: dict[Cell, int] = {}
    for thing in things:
        for piece in thing.pieces:
            if min(piece.shape.half_along, piece.shape.half_across) <= _WIDE_PX:
                for cell in _cells(piece.shape):
                    taken.setdefault(cell, thing.number)
    for x, y in points:
        for cell in _cells(Rectangle((x, y), (1.0, 0.0), 5.0, 5.0)):
            taken[cell] = -1
    return taken


def _length(thing: Named) -> float:
    return max((piece.shape.half_along for piece in thing.pieces if not piece.is_upright), default=0.0)


def _rooms(thing: Named) -> Iterator[Rectangle]:
    """Where a name could stand: along the carrier's longest piece on either side, or beside an upright one."""
    piece = max(thing.pieces, key=lambda one: (not one.is_upright, one.shape.half_along))
    half_wide, half_high = len(thing.name) * _LETTER_WIDTH_PX / 2.0 + 1.0, LETTER_PX / 2.0
    if piece.is_upright:
        reach = max(abs(x - piece.shape.middle[0]) for x, _ in piece.shape.outline())
        for side in (1.0, -1.0):
            x, y = piece.shape.middle
            yield Rectangle((x + side * (reach + _AWAY_PX + half_wide), y), (1.0, 0.0), half_wide, half_high)
        return
    if half_wide > 1.5 * piece.shape.half_along:  # it would seem to name its neighbours
        return
    away = piece.shape.half_across + _AWAY_PX + half_high
    for share in _SHARES:
        for side in (-away, away):
            yield Rectangle(
                piece.shape.at(share * piece.shape.half_along, side), piece.shape.along, half_wide, half_high
            )


def _turned_deg(along: Point) -> float:
    turned = math.degrees(math.atan2(along[1], along[0]))
    if turned >= _UPWARDS_DEG:
        return turned - 180.0
    return turned + 180.0 if turned < -90.5 else turned


def _is_on_sheet(room: Rectangle, height_px: float) -> bool:
    return all(0.0 <= x <= WIDTH_PX and 0.0 <= y <= height_px for x, y in room.outline())


def _cells(shape: Rectangle) -> Iterator[Cell]:
    """The squares of the paper that a rectangle touches, some of them more than once."""
    for along in _steps(shape.half_along):
        for across in _steps(shape.half_across):
            x, y = shape.at(along, across)
            yield math.floor(x / _CELL_PX), math.floor(y / _CELL_PX)


def _steps(half: float) -> list[float]:
    number = max(1, math.ceil(2.0 * half / (_CELL_PX * 0.75)))
    return [half * (2.0 * step / number - 1.0) for step in range(number + 1)]
