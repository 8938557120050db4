"""From boxes in space to polygons in a picture, in perspective. Lengths are millimetres until they are pixels."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.model.geometry import Vec, add, cross, dot, scale, sub, unit
from checker.result.camera import corners, half_height
from checker.result.tables import Box, Camera
from checker.units import MM_PER_M

#: What is nearer to the eye isn't drawn.
NEAR_MM = 50.0

#: Each side of a box as places of its corners, going round; see ``corners``.
_SIDES = ((0, 2, 6, 4), (1, 3, 7, 5), (0, 1, 5, 4), (2, 3, 7, 6), (0, 1, 3, 2), (4, 5, 7, 6))

#: Where the light comes from.
_LIGHT = unit((-0.35, -0.55, 0.85)) or (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Side:
    """A side of a box that faces the eye: its polygon in pixels, how far off it is, and how bright, 0 to 1."""

    points: tuple[tuple[float, float], ...]
    depth_mm: float
    light: float


class View:
    """What a camera sees, as a picture of a size in pixels.

    The picture is as high as the camera's 16:9 view, and of its width the middle is kept: where the picture is at least
    as wide as high, all that a camera was fitted to is in it.
    """

    def __init__(self, camera: Camera, width: float, height: float) -> None:
        self.eye: Vec = scale(camera.point_m, MM_PER_M)
        self.forward = unit(camera.direction) or (0.0, 1.0, 0.0)
        self.right = unit(cross(self.forward, camera.up)) or (1.0, 0.0, 0.0)
        self.up = cross(self.right, self.forward)
        self._centre = (width / 2.0, height / 2.0)
        self._focal = height / 2.0 / half_height(camera.fov_deg)

    def seen(self, point: Vec) -> Vec:
        """A point as the eye has it: right, up, and away from it."""
        ray = sub(point, self.eye)
        return dot(ray, self.right), dot(ray, self.up), dot(ray, self.forward)

    def pixel(self, seen: Vec) -> tuple[float, float]:
        """Where a point, as ``seen``, is in the picture, from its upper left."""
        factor = self._focal / seen[2]
        return self._centre[0] + seen[0] * factor, self._centre[1] - seen[1] * factor

    def sides(self, box: Box) -> Iterator[Side]:
        """The sides of a box that can be seen."""
        points = list(corners(box))
        centre = scale(add(points[0], points[7]), 0.5)
        for places in _SIDES:
            side = [points[place] for place in places]
            middle = scale(add(side[0], side[2]), 0.5)
            outward = unit(cross(sub(side[1], side[0]), sub(side[3], side[0])))
            if outward is None:  # a flat box has sides with no area
                continue
            if dot(outward, sub(middle, centre)) < 0.0:
                outward = scale(outward, -1.0)
            if dot(outward, sub(self.eye, middle)) <= 0.0:
                continue
            polygon = before_eye([self.seen(point) for point in side])
            if polygon:
                light = 0.5 + 0.5 * dot(outward, _LIGHT)
                yield Side(tuple(self.pixel(point) for point in polygon), self.seen(middle)[2], light)


def before_eye(polygon: Sequence[Vec]) -> list[Vec]:
    """The part of a polygon, in points as seen, that lies before the near plane; empty where none does."""
    kept: list[Vec] = []
    for place, here in enumerate(polygon):
        there = polygon[place - 1]
        if (here[2] >= NEAR_MM) != (there[2] >= NEAR_MM):
            share = (NEAR_MM - there[2]) / (here[2] - there[2])
            kept.append(add(there, scale(sub(here, there), share)))
        if here[2] >= NEAR_MM:
            kept.append(here)
    return kept
