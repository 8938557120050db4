"""Curves as points: polylines, indexed curves with arcs, trimmed lines and circles, and chains of them. In the file's unit.

Arcs become chords, few enough to stay cheap and many enough to follow them; how long the curve is and by how much it turns is kept exactly.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from checker.model.geometry import Vec, add, angle_deg, cross, distance, dot, norm, scale, sub, unit
from checker.read.placements import frame_of, vector
from checker.read.relations import many

Entity = Any
#: One chord for so many degrees of an arc.
CHORD_DEG = 15.0
#: Chains nest in chains; more levels or points than this are malformed or hostile.
DEEPEST = 8
MOST_POINTS = 20_000


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve as points in order, its length, and the sum of the angles by which it turns; ``has_arcs``: some points stand for arcs."""

    points: tuple[Vec, ...]
    length: float
    turn_deg: float
    has_arcs: bool = False

    @property
    def start(self) -> Vec:
        """Where it begins."""
        return self.points[0]

    @property
    def end(self) -> Vec:
        """Where it ends."""
        return self.points[-1]

    def turned_round(self) -> "Curve":
        """The same from its end to its start."""
        return Curve(self.points[::-1], self.length, self.turn_deg, self.has_arcs)


def straight(points: Sequence[Vec]) -> Curve | None:
    """A curve of straight pieces; None where its points are one place."""
    kept = [point for point, before in zip(points, [None, *points], strict=False) if point != before]
    if len(kept) < 2:
        return None
    pieces = [sub(b, a) for a, b in itertools.pairwise(kept)]
    turn = math.fsum(angle_deg(a, b) for a, b in itertools.pairwise(pieces))
    return Curve(tuple(kept), math.fsum(map(norm, pieces)), turn)


def curve_of(entity: Entity, radians: float, depth: int = DEEPEST) -> Curve | None:
    """A curve of the file as points; None where its kind isn't understood, or it has no length.

    Args:
        entity: An IfcCurve; None gives None.
        radians: In one angle unit of the file.
        depth: How many levels of chains may still come.
    """
    if entity is None or depth == 0:
        return None
    if entity.is_a("IfcPolyline"):
        return straight([vector(point.Coordinates) for point in itertools.islice(many(entity.Points), MOST_POINTS)])
    if entity.is_a("IfcIndexedPolyCurve"):
        return _indexed(entity)
    if entity.is_a("IfcTrimmedCurve"):
        return _trimmed(entity, radians)
    if entity.is_a("IfcCircle"):
        return _arc(entity, 0.0, 2.0 * math.pi)
    if entity.is_a("IfcCompositeCurve"):
        parts = []
        for segment in itertools.islice(many(entity.Segments), MOST_POINTS):
            part = curve_of(getattr(segment, "ParentCurve", None), radians, depth - 1)
            if part is None:
                return None
            parts.append(part if getattr(segment, "SameSense", True) else part.turned_round())
        return chained(parts)
    return None


def chained(parts: Sequence[Curve]) -> Curve | None:
    """Curves one after the other; turns between them count too."""
    if not parts:
        return None
    points = list(parts[0].points)
    turns = [part.turn_deg for part in parts]
    for before, part in itertools.pairwise(parts):
        if not _smooth(before, part):
            turns.append(_between_deg(before, part))
        meets = distance(points[-1], part.start) <= 1e-9 * (1.0 + norm(part.start))
        points.extend(part.points[1:] if meets else part.points)
    length = math.fsum(part.length for part in parts)
    return Curve(tuple(points), length, math.fsum(turns), any(part.has_arcs for part in parts))


def _between_deg(before: Curve, part: Curve) -> float:
    """By how much the way turns where one part follows another."""
    return angle_deg(sub(before.points[-1], before.points[-2]), sub(part.points[1], part.points[0]))


def _smooth(before: Curve, part: Curve) -> bool:
    """Whether chords of arcs make up the angle between two parts: half a chord's angle on either side is the arc's own turning."""
    return _between_deg(before, part) <= CHORD_DEG and (before.has_arcs or part.has_arcs)


def _indexed(entity: Entity) -> Curve | None:
    coordinates = [
        vector(point) for point in itertools.islice(many(getattr(entity.Points, "CoordList", None)), MOST_POINTS)
    ]
    segments = list(itertools.islice(many(getattr(entity, "Segments", None)), MOST_POINTS))
    if not segments:
        return straight(coordinates)
    parts: list[Curve] = []
    for segment in segments:
        indices = list(itertools.islice(many(segment.wrappedValue), MOST_POINTS))
        if any(not 1 <= index <= len(coordinates) for index in indices):
            return None
        points = [coordinates[index - 1] for index in indices]
        part = _through(points) if segment.is_a("IfcArcIndex") and len(points) == 3 else straight(points)
        if part is not None:
            parts.append(part)
    return chained(parts)


def _through(points: Sequence[Vec]) -> Curve | None:
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
        return math.atan2(dot(away, y), dot(away, x)) % (2.0 * math.pi)

    return _circular(centre, x, y, norm(to_centre), 0.0, angle(c))


def _circular(centre: Vec, x: Vec, y: Vec, radius: float, start: float, end: float) -> Curve:
    """Points on a circle from one angle to another, in radians."""
    swept = end - start
    chords = max(1, math.ceil(abs(math.degrees(swept)) / CHORD_DEG))
    angles = [start + swept * step / chords for step in range(chords + 1)]
    points = tuple(add(centre, add(scale(x, radius * math.cos(a)), scale(y, radius * math.sin(a)))) for a in angles)
    return Curve(points, radius * abs(swept), abs(math.degrees(swept)), has_arcs=True)


def _arc(circle: Entity, start: float, end: float) -> Curve | None:
    if not circle.Radius or circle.Radius <= 0.0 or start == end:
        return None
    frame = frame_of(circle.Position)
    return _circular(frame.origin, frame.x, frame.y, float(circle.Radius), start, end)


def _trimmed(entity: Entity, radians: float) -> Curve | None:
    """A line or circle between two trims, each a point, a parameter, or both."""
    basis = entity.BasisCurve
    sense = bool(getattr(entity, "SenseAgreement", True))
    ends = [(_cartesian(side), _parameter(side)) for side in (entity.Trim1, entity.Trim2)]
    if basis is not None and basis.is_a("IfcLine"):
        return straight([point for end in ends if (point := _on_line(basis, *end)) is not None])
    if basis is None or not basis.is_a("IfcCircle"):
        points = [point for point, _ in ends if point is not None]
        return straight(points) if basis is not None and basis.is_a("IfcPolyline") and len(points) == 2 else None
    factor = _angle_factor([parameter for _, parameter in ends], radians)
    frame = frame_of(basis.Position)
    angles = []
    for point, parameter in ends:
        if point is not None:
            away = sub(point, frame.origin)
            angles.append(math.atan2(dot(away, frame.y), dot(away, frame.x)))
        elif parameter is not None:
            angles.append(parameter * factor)
    if len(angles) != 2:
        return None
    start, end = angles
    swept = (end - start) % (2.0 * math.pi) if sense else -((start - end) % (2.0 * math.pi))
    return _arc(basis, start, start + swept) if swept else None


def _angle_factor(parameters: Sequence[float | None], radians: float) -> float:
    """Radians in a trim's parameter: as the file declares, unless only degrees can be meant (90 "radians")."""
    given = [abs(parameter) for parameter in parameters if parameter is not None]
    return math.radians(1.0) if radians == 1.0 and any(value > 4.0 * math.pi for value in given) else radians


def _on_line(line: Entity, point: Vec | None, parameter: float | None) -> Vec | None:
    if point is not None:
        return point
    if parameter is None or line.Dir is None or line.Pnt is None:
        return None
    direction = unit(vector(line.Dir.Orientation.DirectionRatios))
    length = float(line.Dir.Magnitude or 1.0)
    return None if direction is None else add(vector(line.Pnt.Coordinates), scale(direction, parameter * length))


def _cartesian(side: Any) -> Vec | None:
    return next((vector(trim.Coordinates) for trim in many(side) if hasattr(trim, "Coordinates")), None)


def _parameter(side: Any) -> float | None:
    values = (trim.wrappedValue for trim in many(side) if hasattr(trim, "wrappedValue"))
    return next((float(value) for value in values if isinstance(value, (int, float))), None)
