"""Points and directions in space, as plain tuples of millimetres: small enough to need no array library."""

import math

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
    return math.sqrt(dot(a, a))


def distance(a: Vec, b: Vec) -> float:
    """Distance between two points."""
    return norm(sub(a, b))


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
