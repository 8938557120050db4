"""What is asked, in the packer's own terms: bodies in one order whatever order they were given in, sizes in units of their own."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from checker.section.shapes import Body, Inside, Placed, Round, area_mm2, corners_mm, extent_mm

#: Kinds of walls, as kernel_walls tells them.
CIRCLE, CONVEX, CONCAVE = 0, 1, 2
#: The share of the inside that bodies fill at a scale of 1.
FILLED = 0.8
#: What bodies may overlap by, or stand out, while they are packed or laid: a part of what is then held to be none.
NEAR_MM = 4e-4


@dataclass(frozen=True, slots=True)
class Prepared:
    """Bodies largest first, with cores lying along x, and the wall.

    Lengths are in a unit of their own: bodies at a scale of 1 have a mean square radius of 1 and fill 0.8 of the inside. So the
    same question, whatever its size, is always the same numbers, but for ``target``: the scale at which the bodies are as large
    as they are asked about.
    """

    inside: Inside
    bodies: tuple[Body, ...]
    order: tuple[int, ...]
    unit_mm: float
    target: float
    hx: list[float]
    r: list[float]
    kind: int
    wall: list[float]
    sides: int
    extent: tuple[float, float]

    @property
    def count(self) -> int:
        """How many bodies there are."""
        return len(self.order)

    @property
    def all_round(self) -> bool:
        """Whether there is no flat one among them."""
        return not any(self.hx)

    @property
    def equal_circles(self) -> bool:
        """Whether all are circles of one size."""
        return self.all_round and self.r[0] == self.r[-1]

    def placed(self, z: Sequence[float], upright: Sequence[bool]) -> tuple[Placed, ...]:
        """Positions of the packer, told of the bodies as they were given, in their order."""
        n = self.count
        places = []
        for i, body in enumerate(self.order):
            given = self.bodies[body]
            stands = given.height_mm > given.width_mm
            turned = given.width_mm != given.height_mm and stands != upright[i]
            places.append(Placed(body, float(z[i]) * self.unit_mm, float(z[n + i]) * self.unit_mm, turned))
        return tuple(sorted(places, key=lambda place: place.body))


def prepare(inside: Inside, bodies: Sequence[Body]) -> Prepared:
    """Brings a question into the packer's terms. There must be a body."""

    def size(index: int) -> tuple[float, float, float]:
        body = bodies[index]
        return -body.area_mm2, -body.length_mm, -body.thickness_mm

    order = sorted(range(len(bodies)), key=size)
    mean = math.sqrt(math.fsum(body.area_mm2 for body in bodies) / (math.pi * len(order)))
    unit = math.sqrt(area_mm2(inside) * FILLED / (math.pi * len(order)))
    hx = [_even((bodies[i].length_mm - bodies[i].thickness_mm) / 2.0 / mean) for i in order]
    r = [_even(bodies[i].thickness_mm / 2.0 / mean) for i in order]
    kind, wall, sides = _wall(inside, unit)
    width, height = extent_mm(inside)
    return Prepared(
        inside, tuple(bodies), tuple(order), unit, mean / unit, hx, r, kind, wall, sides, (width / unit, height / unit)
    )


def _even(figure: float) -> float:
    """To twelve digits, so that the same question in another size is the same numbers."""
    return float(f"{figure:.12g}")


def _wall(inside: Inside, unit: float) -> tuple[int, list[float], int]:
    if isinstance(inside, Round):
        radius = _even(inside.diameter_mm / 2.0 / unit)
        return CIRCLE, [radius, radius, radius], 0
    corners = [(_even(x / unit), _even(y / unit)) for x, y in corners_mm(inside)]
    wall: list[float] = []
    concave = False
    for i, (ax, ay) in enumerate(corners):
        bx, by = corners[(i + 1) % len(corners)]
        zx, zy = corners[i - 1]
        long = math.hypot(bx - ax, by - ay)
        nx, ny = (by - ay) / long, (ax - bx) / long
        inward = (ax - zx) * (by - ay) - (ay - zy) * (bx - ax) < -1e-9
        concave = concave or inward
        wall += [nx, ny, nx * ax + ny * ay, ax, ay, bx, by, 1.0 if inward else 0.0]
    return CONCAVE if concave else CONVEX, wall, len(corners)
