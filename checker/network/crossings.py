"""Where a line runs inside a prism, and by which faces it enters and leaves. All in mm."""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from checker.model import Vec
from checker.model.geometry import add, cross, distance, dot, scale, sub, unit
from checker.model.prisms import Cut, Point, Prism, is_inside

#: Behind a large face a prism is no thicker than so many times what it is at its thinnest.
LARGE_TIMES = 3.0
#: A ray starts this far inside a face, so that it isn't on it.
INSIDE_MM = 0.01
#: Spans of one line are one where no more is between them.
MEET_MM = 1.0
#: Shares of a piece that differ by less are one.
SAME_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class Face:
    """Where a line passes a face: the direction outward (of length 1), and whether it is one of the large faces of its prism."""

    outward: Vec
    is_large: bool


@dataclass(frozen=True, slots=True)
class Span:
    """A part of a line inside a body, in mm from the line's start. A face is None where the line itself begins or ends inside."""

    start_mm: float
    end_mm: float
    enters: Face | None
    leaves: Face | None

    @property
    def length_mm(self) -> float:
        """How long it is."""
        return self.end_mm - self.start_mm


#: A share of a piece, and the outward direction of the face that it passes there; None: none.
_Mark = tuple[float, Vec | None]


def spans_of(prisms: Iterable[Prism], points: Sequence[Vec], reach_mm: float) -> list[Span]:
    """The parts of a line inside a body, in order.

    Args:
        prisms: Make up the body together.
        points: Of the line.
        reach_mm: An end of the line that is inside, but no farther than this from a face ahead of it, is taken to pass that face.
    """
    found = sorted(
        (span for prism in prisms for span in _within(prism, points, reach_mm)), key=lambda span: span.start_mm
    )
    return _merged(found)


def _within(prism: Prism, points: Sequence[Vec], reach_mm: float) -> list[Span]:
    """The parts of a line inside one prism."""
    found: list[Span] = []
    before = 0.0
    for a, b in itertools.pairwise(points):
        length = distance(a, b)
        if length > 0.0:
            way = scale(sub(b, a), 1.0 / length)
            for start, end in _pieces(prism, a, b):
                enters, leaves = start[1], end[1]
                if enters is None:  # the piece begins inside: by a face just behind it?
                    enters = _face_near(prism, a, scale(way, -1.0), reach_mm)
                if leaves is None:
                    leaves = _face_near(prism, b, way, reach_mm)
                at, to = add(a, scale(way, start[0] * length)), add(a, scale(way, end[0] * length))
                found.append(
                    Span(
                        before + start[0] * length,
                        before + end[0] * length,
                        _face(prism, at, enters),
                        _face(prism, to, leaves),
                    )
                )
        before += length
    return _merged(found)


def _merged(spans: Iterable[Span]) -> list[Span]:
    """Spans, given by where they start, with those made one that meet."""
    merged: list[Span] = []
    for span in spans:
        last = merged[-1] if merged else None
        if last is None or span.start_mm > last.end_mm + MEET_MM:
            merged.append(span)
            continue
        enters = last.enters if span.start_mm > last.start_mm + INSIDE_MM else _of_both(last.enters, span.enters)
        if abs(span.end_mm - last.end_mm) <= INSIDE_MM:
            leaves = _of_both(last.leaves, span.leaves)
        else:
            leaves = max(last, span, key=lambda one: one.end_mm).leaves
        merged[-1] = Span(last.start_mm, max(last.end_mm, span.end_mm), enters, leaves)
    return merged


def _of_both(one: Face | None, other: Face | None) -> Face | None:
    """What two prisms say of one place, in any order: a face only if the line is inside neither there, and a large one if either has it."""
    if one is None or other is None:
        return None
    return one if one.is_large else other


def ahead(prisms: Sequence[Prism], point: Vec, way: Vec, reach_mm: float) -> Face | None:
    """The face by which a line that goes on from a point inside leaves the prism that it is in; None: not within reach.

    Of several that it is in it is a large face before a narrow one, then the farthest: the order of prisms says nothing.

    Args:
        prisms: Those that the point may be in.
        point: Where the line begins.
        way: Its direction, of length 1.
        reach_mm: How far it is followed.
    """
    a, b = sub(point, scale(way, INSIDE_MM)), add(point, scale(way, reach_mm))
    found = []
    for prism in prisms:
        for start, end in _pieces(prism, a, b)[:1]:
            face = _face(prism, point, end[1])
            if start[1] is None and face is not None:
                found.append((face.is_large, end[0], face))
    return max(found, key=lambda item: item[:2])[2] if found else None


def _face_near(prism: Prism, point: Vec, way: Vec, reach_mm: float) -> Vec | None:
    """Outward of the face that a line from a point inside passes first, if that is within reach."""
    a, b = sub(point, scale(way, INSIDE_MM)), add(point, scale(way, reach_mm))
    for _, end in _pieces(prism, a, b)[:1]:
        return end[1]
    return None


def _face(prism: Prism, point: Vec, outward: Vec | None) -> Face | None:
    """A face; it is a large one if the prism isn't deep behind it, at right angles to it."""
    if outward is None:
        return None
    most = LARGE_TIMES * prism.thickness_mm
    a, b = sub(point, scale(outward, INSIDE_MM)), sub(point, scale(outward, most + 2.0 * INSIDE_MM))
    whole = replace(prism, cuts=())  # what is cut off makes no face a narrow one
    behind = _pieces(whole, a, b)
    return Face(outward, not behind or behind[0][1][1] is not None)


def _pieces(prism: Prism, a: Vec, b: Vec) -> list[tuple[_Mark, _Mark]]:
    """The parts of a straight piece inside a prism: from which share to which, with outward of the faces there."""
    up = cross(prism.x, prism.y)
    slope = dot(prism.way, up)
    (u, v, low), (p, q, high) = (_local(prism, point, up, slope) for point in (a, b))
    first: _Mark = (0.0, None)
    last: _Mark = (1.0, None)
    end_up = up if slope > 0.0 else scale(up, -1.0)
    for height, outward in ((0.0, scale(end_up, -1.0)), (prism.depth_mm, end_up)):
        side = 1.0 if height == 0.0 else -1.0  # inside is above the foot and below the head
        here, there = side * (low - height), side * (high - height)
        if max(here, there) <= 0.0:
            return []
        if here < 0.0:
            first = max(first, (here / (here - there), outward), key=lambda mark: mark[0])
        if there < 0.0:
            last = min(last, (here / (here - there), outward), key=lambda mark: mark[0])
    marks = [first, *_sides(prism, (u, v), (p, q), up, first[0], last[0]), last]
    found: list[tuple[_Mark, _Mark]] = []
    for start, end in itertools.pairwise(marks):
        share = (start[0] + end[0]) / 2.0
        if end[0] - start[0] > SAME_SHARE and prism.holds((u + share * (p - u), v + share * (q - v))):
            if found and found[-1][1][0] == start[0]:  # a side that is only touched
                found[-1] = (found[-1][0], end)
            else:
                found.append((start, end))
    for cut in prism.cuts:
        found = [left for part in found if (left := _cut(cut, a, b, part)) is not None]
    return found


def _local(prism: Prism, point: Vec, up: Vec, slope: float) -> Vec:
    """A point in the plan's two directions, and how far along the way it is."""
    away = sub(point, prism.origin_mm)
    along = dot(away, up) / slope
    flat = sub(away, scale(prism.way, along))
    return dot(flat, prism.x), dot(flat, prism.y), along


def _sides(prism: Prism, a: Point, b: Point, up: Vec, low: float, high: float) -> list[_Mark]:
    """Where a piece, in the plan, passes sides of the outline between two shares, in order, with their directions outward."""
    marks: list[_Mark] = []
    (u, v), (du, dv) = a, (b[0] - a[0], b[1] - a[1])
    clockwise = -prism.doubled_area_mm2 * dot(prism.way, up)
    for (p, q), (r, s) in prism.sides():
        dp, dq = r - p, s - q
        turn = du * dq - dv * dp
        if turn == 0.0:
            continue
        along = ((p - u) * dv - (q - v) * du) / turn
        share = ((p - u) * dq - (q - v) * dp) / turn
        if -SAME_SHARE <= along <= 1.0 + SAME_SHARE and low < share < high:
            outward = unit(cross(add(scale(prism.x, dp), scale(prism.y, dq)), prism.way)) or up
            outward = outward if clockwise < 0.0 else scale(outward, -1.0)
            marks.append((share, outward))
    return sorted(marks, key=lambda mark: mark[0])


def _cut(cut: Cut, a: Vec, b: Vec, part: tuple[_Mark, _Mark]) -> tuple[_Mark, _Mark] | None:
    """What of a part of a piece isn't cut off; None: nothing."""
    start, end = part
    beyond = [dot(sub(add(a, scale(sub(b, a), share)), cut.point_mm), cut.away) for share in (start[0], end[0])]
    if max(beyond) <= 0.0:
        return part
    meets = start[0]
    if min(beyond) < 0.0:
        meets += (end[0] - start[0]) * beyond[0] / (beyond[0] - beyond[1])
    off = (start[0] if beyond[0] > 0.0 else meets, end[0] if beyond[1] > 0.0 else meets)
    middle = sub(add(a, scale(sub(b, a), sum(off) / 2.0)), cut.origin_mm)
    if cut.outline and not is_inside(cut.outline, (dot(middle, cut.across), dot(middle, cross(cut.along, cut.across)))):
        return part
    if min(beyond) >= 0.0:
        return None
    return (start, (meets, cut.away)) if beyond[0] < 0.0 else ((meets, cut.away), end)
