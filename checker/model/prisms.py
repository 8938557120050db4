"""Bodies of walls and slabs: plans moved along a direction."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from checker.model.geometry import Vec, cross, dot, unit

#: A place in a plan, in mm along its two directions.
Point = tuple[float, float]
#: The corners of a plan, in order, the last joined to the first.
Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """What a plane cuts off a body: all that lies beyond it, where ``away`` (of length 1) points.

    ``outline``: only within this plan is it cut, given along ``across`` (of length 1) and at right angles to that and ``along``, from
    ``point_mm``; empty: everywhere.
    """

    point_mm: Vec
    away: Vec
    outline: Outline = ()
    across: Vec = (1.0, 0.0, 0.0)
    along: Vec = (0.0, 0.0, 1.0)
    origin_mm: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Prism:
    """A plan moved along a direction, as walls and slabs mostly are drawn.

    Attributes:
        origin_mm: Where the plan's own origin lies.
        x, y: Its two directions, of length 1 and at right angles.
        way: The direction in which it is moved, of length 1; not in the plan.
        depth_mm: How far, along ``way``.
        outline: Its corners.
        cuts: What planes cut off it.
        is_exact: Whether this is the body; else it is what surrounds it.
        is_hollow: Whether it surrounds a body so loosely that this fills a part of it only, and nobody knows which.
        holes: The corners of what its outline goes round without being a part of it, each the other way round than ``outline``. Openings
            aren't among them.
    """

    origin_mm: Vec
    x: Vec
    y: Vec
    way: Vec
    depth_mm: float
    outline: Outline
    cuts: tuple[Cut, ...] = ()
    is_exact: bool = True
    is_hollow: bool = False
    holes: tuple[Outline, ...] = ()

    def holds(self, point: Point) -> bool:
        """Whether its plan holds a point."""
        return is_inside(self.outline, point) and not any(is_inside(hole, point) for hole in self.holes)

    @property
    def doubled_area_mm2(self) -> float:
        """Twice the area of its plan, less than 0 where its corners go clockwise seen against ``x × y``."""
        a, b = self.outline[0]  # seen from its first corner, for one that lies far away
        return math.fsum((p - a) * (s - b) - (r - a) * (q - b) for (p, q), (r, s) in self.sides())

    @property
    def thickness_mm(self) -> float:
        """About how thick it is at its thinnest: its depth, or twice its plan's area over the length of its outline.

        The latter is L · t / (L + t) of a wall of the length L and the thickness t.
        """
        return min(self._measures_mm)

    @property
    def is_upright(self) -> bool:
        """Whether it is moved farther than its plan is thick, as walls are that are drawn by their plan."""
        depth, across = self._measures_mm
        return across < depth

    @property
    def _measures_mm(self) -> tuple[float, float]:
        """Its depth, at right angles to its plan, and about how thick its plan is."""
        around = math.fsum(math.dist(one, other) for one, other in self.sides())
        upright = abs(dot(self.way, unit(cross(self.x, self.y)) or self.way))
        return self.depth_mm * upright, abs(self.doubled_area_mm2) / around if around else math.inf

    def sides(self) -> Iterator[tuple[Point, Point]]:
        """The two ends of each side of its plan."""
        for loop in (self.outline, *self.holes):
            yield from zip(loop, (*loop[1:], loop[0]), strict=True)


def is_inside(outline: Outline, point: Point) -> bool:
    """Whether a point lies in a plan: a ray from it crosses the sides an odd number of times."""
    x, y = point
    inside = False
    for (a, b), (c, d) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (b > y) != (d > y) and x < (c - a) * (y - b) / (d - b) + a:
            inside = not inside
    return inside
