"""Reads curves: polylines, indexed curves with arcs, trimmed lines and circles, and chains of them. In the file's unit."""

import itertools
import math
from collections.abc import Sequence
from typing import Any

from checker.model.geometry import Vec, add, dot, scale, sub, unit
from checker.read.chords import TURN, Curve, chained, circular, straight, through
from checker.read.placements import frame_of, vector
from checker.read.relations import many

Entity = Any
#: Angles of a whole circle may be rounded by this much, in radians.
ROUND = 1e-6
#: Chains nest in chains; more levels or points than this are no way of a carrier, and malformed or hostile.
DEEPEST = 8
MOST_POINTS = 5000


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
        points = _few(entity.Points)
        return None if points is None else straight([vector(point.Coordinates) for point in points])
    if entity.is_a("IfcIndexedPolyCurve"):
        return _indexed(entity)
    if entity.is_a("IfcTrimmedCurve"):
        return _trimmed(entity, radians)
    if entity.is_a("IfcCircle"):
        return _arc(entity, 0.0, TURN)
    return _composite(entity, radians, depth) if entity.is_a("IfcCompositeCurve") else None


def _few(values: Any) -> list[Entity] | None:
    """A list of the file; None where it is longer than any that is believed. One that is cut off would be another curve."""
    found = list(itertools.islice(many(values), MOST_POINTS + 1))
    return found if len(found) <= MOST_POINTS else None


def _composite(entity: Entity, radians: float, depth: int) -> Curve | None:
    """The parts of a chain, which may be chains; one part that isn't understood, or too many points in all, and the whole isn't."""
    parts: list[Curve] = []
    left = MOST_POINTS
    for segment in _few(entity.Segments) or ():
        parent = segment.ParentCurve if segment.is_a("IfcCompositeCurveSegment") else None  # else a piece by its length
        part = curve_of(parent, radians, depth - 1)
        if part is not None:
            parts.append(part if segment.SameSense else part.turned_round())
            left -= len(part.points)
        elif parent is not None and _is_a_point(parent):
            left -= len(parent.Points)
        else:
            return None
        if left < 0:
            return None
    return chained(parts)


def _is_a_point(curve: Entity) -> bool:
    """Whether a curve has no length because its points are one place."""
    points = _few(curve.Points) if curve.is_a("IfcPolyline") else None
    return len({vector(point.Coordinates) for point in points or ()}) == 1


def _indexed(entity: Entity) -> Curve | None:
    listed, segments = _few(getattr(entity.Points, "CoordList", None)), _few(getattr(entity, "Segments", None))
    if listed is None or segments is None:
        return None
    coordinates = [vector(point) for point in listed]
    if not segments:
        return straight(coordinates)
    parts: list[Curve] = []
    left = MOST_POINTS
    for segment in segments:
        indices = list(many(segment.wrappedValue))
        left -= len(indices)
        if left < 0 or any(not 1 <= index <= len(coordinates) for index in indices):
            return None
        points = [coordinates[index - 1] for index in indices]
        part = through(points) if segment.is_a("IfcArcIndex") and len(points) == 3 else straight(points)
        if part is not None:
            parts.append(part)
    return chained(parts)


def _arc(circle: Entity, start: float, end: float) -> Curve | None:
    if not circle.Radius or circle.Radius <= 0.0 or start == end:
        return None
    frame = frame_of(circle.Position)
    return circular(frame.origin, frame.x, frame.y, float(circle.Radius), start, end)


def _trimmed(entity: Entity, radians: float) -> Curve | None:
    """A line or circle between two trims, each a point, a parameter, or both."""
    basis = entity.BasisCurve
    sense = bool(getattr(entity, "SenseAgreement", True))
    ends = [(_cartesian(side), _parameter(side)) for side in (entity.Trim1, entity.Trim2)]
    if basis is not None and basis.is_a("IfcLine"):
        return straight([point for end in ends if (point := _on_line(basis, *end)) is not None])
    if basis is None or not basis.is_a("IfcCircle"):
        points = [point for point, _ in ends if point is not None]
        is_line = basis is not None and basis.is_a("IfcPolyline") and len(basis.Points) == 2
        return straight(points) if is_line and len(points) == 2 else None
    factor = angle_factor([parameter for _, parameter in ends], radians)
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
    swept = (end - start) % TURN if sense else -((start - end) % TURN)
    if all(point is None for point, _ in ends) and abs(abs(end - start) - TURN) < ROUND:
        swept = TURN if sense else -TURN
    return _arc(basis, start, start + swept)


def angle_factor(parameters: Sequence[float | None], radians: float) -> float:
    """Radians in an angle of a curve or body: as the file declares, unless only degrees can be meant (90 "radians")."""
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
