"""The straight lengths and the turns of a bent conduit, told from the points of its axis.

An arc is kept as chords of one length, each turned against the one before by the same small angle, and with straights that touch it by
half of that: so reading makes them. So its radius is chord / (2 · sin(angle / 2)), exactly. Corners that are no such arc have no
radius of their own: a line drawn through corners says nothing of how they are bent.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.geometry import Vec, angle_deg, distance, scale, sub, unit
from checker.model.installation import Carrier

#: The largest angle between two chords of one arc, and a little.
CHORD_MOST_DEG = 15.2
#: Less isn't told from straight.
LEAST_DEG = 0.2
#: Chords and angles of one arc agree to this share, angles besides to so many degrees: files round their points.
ALIKE_SHARE, ALIKE_DEG = 0.01, 0.1
#: So many chords in a row are an arc whatever length is given: a line of points that were set on one.
SURE_CHORDS = 4
#: So many are an arc though no straight touches it at its end.
MANY_CHORDS = 3
#: An arc is believed if the axis is longer than its chords by what an arc is, to this share.
LONGER_SHARE = 0.2


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight length, or a turn.

    Attributes:
        length_mm: Along the axis; 0 of a corner.
        rise_mm: How much higher it ends than it begins.
        turn_deg: 0: straight.
        radius_mm: Of an arc, of its centre line; None: it is straight, or a corner.
    """

    length_mm: float
    rise_mm: float
    turn_deg: float = 0.0
    radius_mm: float | None = None


def stretches(carrier: Carrier) -> tuple[Stretch, ...] | None:
    """A conduit's axis in order from its start; None where it isn't known, or doesn't turn by what is known of it."""
    if carrier.length_mm is None or carrier.turn_deg is None:
        return None
    return stretches_along(carrier.axis_mm, carrier.length_mm, carrier.turn_deg)


def stretches_along(line: Sequence[Vec], length_mm: float, turn_deg: float) -> tuple[Stretch, ...] | None:
    """A line of points as straights, arcs and corners; None where it isn't one, or turns otherwise than is said.

    Args:
        line: The points, arcs as chords.
        length_mm: Along the line itself, with its arcs.
        turn_deg: By how much it turns in all.
    """
    points = [point for point, before in zip(line, [None, *line], strict=False) if point != before]
    if len(points) < 2:
        return None
    if len(points) == 2:
        return _one(points[0], points[1], length_mm, turn_deg)
    found = _Line(points).stretches(1)
    chords = math.fsum(distance(a, b) for a, b in itertools.pairwise(points))
    longer = math.fsum(item.length_mm for item in found) - chords
    if abs(chords + longer - length_mm) > LONGER_SHARE * longer + 1e-6 * length_mm:
        found = _Line(points).stretches(SURE_CHORDS)
    bent = math.fsum(item.turn_deg for item in found)
    # an arc at an end goes on by half an angle beyond what its chords show
    return tuple(found) if abs(bent - turn_deg) <= CHORD_MOST_DEG else None


def leaving(carrier: Carrier, *, at_start: bool) -> Vec | None:
    """The direction in which a conduit's axis leaves it at an end; None where it has no axis.

    Where it ends in an arc the last chord is half an angle short of it.
    """
    points = carrier.axis_mm if at_start else carrier.axis_mm[::-1]
    points = tuple(point for point, before in zip(points, (None, *points), strict=False) if point != before)
    if len(points) < 2:
        return None
    last = sub(points[0], points[1])
    found = stretches(carrier) if len(points) > 2 and carrier.turn_deg else None
    if not found or found[0 if at_start else -1].radius_mm is None:
        return last
    before = sub(points[1], points[2])
    one, other = unit(before), unit(last)
    angle = math.radians(angle_deg(before, last))
    if one is None or other is None or angle < math.radians(LEAST_DEG):
        return last
    return sub(scale(other, math.sin(1.5 * angle)), scale(one, math.sin(0.5 * angle)))


def _one(start: Vec, end: Vec, length: float, turn: float) -> tuple[Stretch, ...] | None:
    """An axis of two points: straight, or one short arc."""
    rise = end[2] - start[2]
    if turn < LEAST_DEG:
        return (Stretch(length, rise), Stretch(0.0, 0.0, turn)) if turn else (Stretch(length, rise),)
    radius = length / math.radians(turn)
    is_arc = abs(2.0 * radius * math.sin(math.radians(turn) / 2.0) - distance(start, end)) <= 1e-4 * length
    return (Stretch(length, rise, turn, radius),) if is_arc else None


class _Line:
    def __init__(self, points: list[Vec]) -> None:
        self._points = points
        self._ways = [sub(b, a) for a, b in itertools.pairwise(points)]
        self._lengths = [distance(a, b) for a, b in itertools.pairwise(points)]
        #: Of the corner before each chord; none before the first and after the last.
        self._corners = [None, *(angle_deg(a, b) for a, b in itertools.pairwise(self._ways)), None]

    def stretches(self, fewest: int) -> list[Stretch]:
        """Arcs of so many chords at the fewest, and what is between them."""
        found: list[Stretch] = []
        at, is_touched = 0, True  # whether the corner here belongs to an arc, or there is none
        while at < len(self._ways):
            arc = self._arc(at, fewest, follows=is_touched and at > 0)
            if arc is not None:
                chords, angle = arc
                radius = self._lengths[at] / (2.0 * math.sin(math.radians(angle) / 2.0))
                turn = chords * angle
                found.append(Stretch(radius * math.radians(turn), self._rise(at, at + chords), turn, radius))
                at, is_touched = at + chords, True
                continue
            corner = self._corners[at]
            if corner is not None and not is_touched:
                found.append(Stretch(0.0, 0.0, corner))
            found.append(Stretch(self._lengths[at], self._rise(at, at + 1)))
            at, is_touched = at + 1, False
        return found

    def _arc(self, at: int, fewest: int, *, follows: bool) -> tuple[int, float] | None:
        """How many chords from here are one arc, and the angle between them; None: none is. ``follows``: an arc ends here."""
        before, after = (None if follows else self._corners[at]), self._corners[at + 1]
        angle = 2.0 * before if before is not None else after
        if angle is None or not LEAST_DEG < angle <= CHORD_MOST_DEG:
            return None
        chords = 1
        while (
            at + chords < len(self._ways)
            and _alike(self._corners[at + chords], angle)
            and abs(self._lengths[at + chords] - self._lengths[at]) <= ALIKE_SHARE * self._lengths[at]
        ):
            chords += 1
        last = self._corners[at + chords]
        if chords < max(fewest, 1 if before is not None and last is not None else 2):
            return None
        # what follows on so many chords may be the next arc, turned the other way
        return (chords, angle) if last is None or chords >= MANY_CHORDS or _alike(last, angle / 2.0) else None

    def _rise(self, one: int, other: int) -> float:
        return self._points[other][2] - self._points[one][2]


def _alike(corner: float | None, angle: float) -> bool:
    return corner is not None and abs(corner - angle) <= ALIKE_SHARE * angle + ALIKE_DEG
