"""Where a topic is seen from: a three-quarter view that holds all of it."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from checker.model.geometry import Vec, add, cross, distance, midpoint, scale, unit
from checker.result.tables import Box, Camera
from checker.units import MM_PER_M

FOV_DEG = 60.0
ASPECT = 16.0 / 9.0
LEAST_DISTANCE_M = 1.5
MARGIN = 1.1
#: The side of the cube that stands for equipment.
SIDE_MM = 115.0

#: From the front, the left and above, so that three sides of everything show.
_LOOK: Vec = (0.5, 0.7, -0.51)


def corners(box: Box) -> Iterator[Vec]:
    """The eight corners of a box, in mm. Bit 0 of a corner's place says whether edge 0 was followed, and so on."""
    for place in range(8):
        point = box.corner_mm
        for bit, edge in enumerate(box.edges_mm):
            if place >> bit & 1:
                point = add(point, edge)
        yield point


def extent_mm(boxes: Iterable[Box]) -> tuple[Vec, float]:
    """Centre and radius, in mm, of the sphere around the world axis-aligned box that holds all of the boxes.

    Raises:
        ValueError: There are no boxes.
    """
    axes = list(zip(*(corner for box in boxes for corner in corners(box)), strict=True))
    if not axes:
        raise ValueError("nothing to look at: no boxes")
    low: Vec = (min(axes[0]), min(axes[1]), min(axes[2]))
    high: Vec = (max(axes[0]), max(axes[1]), max(axes[2]))
    return midpoint(low, high), distance(low, high) / 2.0


def cube(centre: Vec) -> Box:
    """A small cube that stands for equipment, round its centre."""
    low = SIDE_MM / -2.0
    return Box(add(centre, (low, low, low)), ((SIDE_MM, 0.0, 0.0), (0.0, SIDE_MM, 0.0), (0.0, 0.0, SIDE_MM)))


def half_height(fov_deg: float) -> float:
    """Tangent of half the vertical field of view of a 16:9 picture whose horizontal one is given."""
    return math.tan(math.radians(fov_deg) / 2.0) / ASPECT


def from_afar(camera: Camera, boxes: Sequence[Box], least_m: float) -> Camera:
    """A camera moved back so that the middle of some boxes is at least so far away; as it is where it is far enough.

    Raises:
        ValueError: There are no boxes.
    """
    centre_mm, _ = extent_mm(boxes)
    away_m = distance(camera.point_m, scale(centre_mm, 1.0 / MM_PER_M))
    back = max(least_m - away_m, 0.0)
    return replace(camera, point_m=add(camera.point_m, scale(camera.direction, -back)))


def fit_camera(boxes: Sequence[Box]) -> Camera:
    """A camera that has every box wholly in view, in a 16:9 picture or a taller one.

    ``distance = 1.1 · r / sin(half the vertical field of view)``, at least 1.5 m, where r is the radius of the sphere
    around the world axis-aligned box of all of them. The result is in metres.

    Raises:
        ValueError: There are no boxes.
    """
    centre_mm, radius_mm = extent_mm(boxes)
    away_m = max(MARGIN * radius_mm / MM_PER_M / math.sin(math.atan(half_height(FOV_DEG))), LEAST_DISTANCE_M)
    direction = unit(_LOOK) or _LOOK
    right = unit(cross(direction, (0.0, 0.0, 1.0))) or (1.0, 0.0, 0.0)
    point = add(scale(centre_mm, 1.0 / MM_PER_M), scale(direction, -away_m))
    return Camera(point, direction, cross(right, direction), FOV_DEG)
