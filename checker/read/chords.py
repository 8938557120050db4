"""Curves as points, whatever they are read from.

Arcs become chords, few enough to stay cheap and many enough to follow them; how long the curve is and by how much it turns is kept exactly.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.geometry import Vec, add, angle_deg, cross, distance, dot, norm, scale, sub, unit

#: One chord for so many degrees of an arc.
CHORD_DEG = 15.0
#: Ends of two parts are one place if they are this near, as a share of the shorter part: files round their points.
MEETS_SHARE = 1e-4
TURN = 2.0 * math.pi


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve as points in order, its length, and the sum of the angles by which it turns.

    ``tangents``: the directions in which it begins and ends; None: those of its first and last piece.
    """

    points: tuple[Vec, ...]
    length: float
    turn_deg: float
    tangents: tuple[Vec, Vec] | None = None

    @property
    def start(self) -> Vec:
        """Where it begins."""
        return self.points[0]

    @property
    def end(self) -> Vec:
        """Where it ends."""
        return self.points[-1]

    @property
    def ways(self) -> tuple[Vec, Vec]:
        """The directions in which it begins and ends."""
        a, b, y, z = *self.points[:2], *self.points[-2:]
        return self.tangents or (sub(b, a), sub(z, y))

    def turned_round(self) -> "Curve":
        """The same from its end to its start."""
        begins, ends = self.ways
        return Curve(self.points[::-1], self.length, self.turn_deg, (scale(ends, -1.0), scale(begins, -1.0)))


def straight(points: Sequence[Vec]) -> Curve | None:
    """A curve of straight pieces; None where its points are one place, or too near for a length."""
    kept = [point for point, before in zip(points, [None, *points], strict=False) if point != before]
    if len(kept) < 2:
        return None
    pieces = [sub(b, a) for a, b in itertools.pairwise(kept)]
    turn = math.fsum(angle_deg(a, b) for a, b in itertools.pairwise(pieces))
    length = math.fsum(map(norm, pieces))
    return Curve(tuple(kept), length, turn) if length > 0.0 else None


def chained(parts: Sequence[Curve]) -> Curve | None:
    """Curves one after the other; what is missing between them is filled in straight, and turns between them count too."""
    line: list[Curve] = []
    for part in parts:
        gap = None if not line or _meet(line[-1], part) else straight([line[-1].end, part.start])
        line += [part] if gap is None else [gap, part]
    if not line:
        return None
    points = list(line[0].points)
    turns = [part.turn_deg for part in line]
    for before, part in itertools.pairwise(line):
        turns.append(angle_deg(before.ways[1], part.ways[0]))
        points.extend(part.points[1:])
    length = math.fsum(part.length for part in line)
    return Curve(tuple(points), length, math.fsum(turns), (line[0].ways[0], line[-1].ways[1]))


def _meet(before: Curve, part: Curve) -> bool:
    """Whether one begins where the other ends, but for rounding in the file and here."""
    return distance(before.end, part.start) <= MEETS_SHARE * min(before.length, part.length) + 1e-9 * norm(part.start)


def through(points: Sequence[Vec]) -> Curve | None:
    """The arc from the first of three points through the second to the third."""
    a, b, c = points
    ab, ac = sub(b, a), sub(c, a)
    normal = cross(ab, ac)
    square = dot(normal, normal)
    if square <= 1e-12 * dot(ab, ab) * dot(ac, ac):
        return straight(points)
    to_centre = scale(
        add(scale(cross(normal, ab), dot(ac, ac)), scale(cross(ac, normal), dot(ab, ab))), 1.0 / (2.0 * square)
    )
    centre = add(a, to_centre)
    x = unit(sub(a, centre))
    z = unit(normal)
    if x is None or z is None:
        return None
    y = cross(z, x)

    def angle(point: Vec) -> float:
        away = sub(point, centre)
        return math.atan2(dot(away, y), dot(away, x)) % TURN

    return circular(centre, x, y, norm(to_centre), 0.0, angle(c))


def circular(centre: Vec, x: Vec, y: Vec, radius: float, start: float, end: float) -> Curve:
    """Points on a circle from one angle to another, in radians."""
    swept = end - start
    chords = max(1, math.ceil(abs(math.degrees(swept)) / CHORD_DEG))
    angles = [start + swept * step / chords for step in range(chords + 1)]
    points = tuple(add(centre, add(scale(x, radius * math.cos(a)), scale(y, radius * math.sin(a)))) for a in angles)
    sense = math.copysign(1.0, swept)
    begins, ends = (
        add(scale(x, -sense * math.sin(angle)), scale(y, sense * math.cos(angle))) for angle in (start, end)
    )
    return Curve(points, radius * abs(swept), abs(math.degrees(swept)), (begins, ends))
