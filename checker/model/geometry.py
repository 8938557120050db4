"""Points and directions in space, as plain tuples of millimetres: small enough to need no array library."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

Vec = tuple[float, float, float]


def add(a: Vec, b: Vec) -> Vec:
    """A + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vec, b: Vec) -> Vec:
    """A - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vec, factor: float) -> Vec:
    """Factor · a."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vec, b: Vec) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def norm(a: Vec) -> float:
    """Length of a vector."""
    x, y, z = a
    return math.sqrt(x * x + y * y + z * z)


def distance(a: Vec, b: Vec) -> float:
    """Distance between two points."""
    x, y, z = a[0] - b[0], a[1] - b[1], a[2] - b[2]
    return math.sqrt(x * x + y * y + z * z)


def unit(a: Vec) -> Vec | None:
    """Direction of a vector; None where it has no length."""
    length = norm(a)
    return scale(a, 1.0 / length) if length > 0.0 else None


def midpoint(a: Vec, b: Vec) -> Vec:
    """The point halfway."""
    return scale(add(a, b), 0.5)


def nearest_on_segment(point: Vec, start: Vec, end: Vec) -> tuple[float, float]:
    """The nearest place on a straight segment.

    Returns:
        How far along from ``start`` (mm, within the segment) and how far off ``point`` is from there (mm).
    """
    axis = sub(end, start)
    length = norm(axis)
    if length == 0.0:
        return 0.0, distance(point, start)
    along = min(max(dot(sub(point, start), axis) / length, 0.0), length)
    return along, distance(point, add(start, scale(axis, along / length)))


def angle_deg(a: Vec, b: Vec) -> float:
    """Angle between two directions, 0 to 180 degrees."""
    lengths = norm(a) * norm(b)
    if lengths == 0.0:
        return 0.0
    return math.degrees(math.acos(min(max(dot(a, b) / lengths, -1.0), 1.0)))


@dataclass(frozen=True, slots=True)
class Body:
    """An oriented box around an element's body: its centre, its three directions (of length 1) and half its size along each, in mm."""

    centre_mm: Vec
    axes: tuple[Vec, Vec, Vec]
    half_mm: Vec

    def off_mm(self, point: Vec) -> float:
        """How far a point lies outside the box; 0 inside it."""
        away = sub(point, self.centre_mm)
        (along, across, up), (length, width, height) = self.axes, self.half_mm
        beyond = (abs(dot(away, along)) - length, abs(dot(away, across)) - width, abs(dot(away, up)) - height)
        return norm((max(beyond[0], 0.0), max(beyond[1], 0.0), max(beyond[2], 0.0)))


def box_around(points: Sequence[Vec], axes: tuple[Vec, Vec, Vec]) -> Body:
    """The box around points along three directions (of length 1, at right angles)."""
    spans = [[dot(point, axis) for point in points] for axis in axes]
    middle = [(min(span) + max(span)) / 2.0 for span in spans]
    half = [(max(span) - min(span)) / 2.0 for span in spans]
    centre = add(add(scale(axes[0], middle[0]), scale(axes[1], middle[1])), scale(axes[2], middle[2]))
    return Body(centre, axes, (half[0], half[1], half[2]))
