"""Curved walls as bodies of triangles: what a model mostly consists of when carriers are a small part of it."""

import math
from functools import cache

LEAST_STATIONS, MOST_STATIONS = 8, 25
RADIUS_MM, THICK_MM, HIGH_MM, DEGREES = 3000.0, 200.0, 2800.0, 60.0


def stations_of(number: int) -> int:
    """How finely the n-th wall is cut: every fineness in turn."""
    return LEAST_STATIONS + number % (MOST_STATIONS - LEAST_STATIONS + 1)


@cache
def wall_mesh(stations: int) -> tuple[str, str]:
    """Points and triangles of a wall along an arc, as STEP text: 4 points a station, 8 triangles a stretch and 4 for the ends.

    So 60 to 196 triangles.
    """
    points = []
    for station in range(stations):
        angle = math.radians(DEGREES) * station / (stations - 1)
        inner = RADIUS_MM - THICK_MM
        for radius, z in ((RADIUS_MM, 0.0), (inner, 0.0), (inner, HIGH_MM), (RADIUS_MM, HIGH_MM)):
            points.append(f"({radius * math.cos(angle):.3f},{radius * math.sin(angle):.3f},{z:.1f})")
    triangles = []
    for station in range(stations - 1):
        here = 4 * station + 1
        for side in range(4):
            a, b = here + side, here + (side + 1) % 4
            triangles += [f"({a},{a + 4},{b})", f"({b},{a + 4},{b + 4})"]
    last = 4 * stations - 3
    triangles += ["(1,2,3)", "(1,3,4)", f"({last},{last + 2},{last + 1})", f"({last},{last + 3},{last + 2})"]
    return f"({','.join(points)})", f"({','.join(triangles)})"
