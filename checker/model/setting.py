"""What of a building only tells where things are: its grid, and its floors."""

from dataclasses import dataclass
from functools import cached_property

from checker.model.geometry import Vec, add, cross, dot, scale, sub
from checker.model.prisms import Point, Prism

#: What is this near to a face of a floor lies in it all the same.
ON_MM = 1.0
#: A plan that leans from the vertical by less of its direction isn't seen from above.
UPRIGHT = 0.1


@dataclass(frozen=True, slots=True)
class GridAxis:
    """One axis of a grid as people call it, with the points of its line in plan, two or more, in mm."""

    tag: str
    points_mm: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A grid: its sets of axes, each of which runs across the others. No set is empty. ``storey``: whose it is; empty: that isn't said."""

    sets: tuple[tuple[GridAxis, ...], ...]
    storey: str = ""


@dataclass(frozen=True)
class Floor:
    """A slab or screed: the prisms that together are its body, one or more. ``is_roof``: it is nothing to walk on."""

    prisms: tuple[Prism, ...]
    is_roof: bool = False

    @cached_property
    def heights_mm(self) -> tuple[float, float]:
        """Its lowest and highest point."""
        low, high = self._spans
        return low[2], high[2]

    @cached_property
    def _spans(self) -> tuple[Vec, Vec]:
        xs, ys, zs = zip(*(point for prism in self.prisms for point in _corners(prism)), strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))

    def holds(self, point: Vec) -> bool:
        """Whether a place lies in it. What is cut out of a part of a plan only counts as there."""
        return self._is_near(point) and any(_holds(prism, point) for prism in self.prisms)

    def is_over(self, point: Vec) -> bool:
        """Whether a place is in its plan, seen from above."""
        return self._is_near(point) and any(_is_over(prism, point) for prism in self.prisms)

    def _is_near(self, point: Vec) -> bool:
        """Quickly told: whether a place is in the rectangle around its plan."""
        (x, y, _), (right, back, _) = self._spans
        return x - ON_MM <= point[0] <= right + ON_MM and y - ON_MM <= point[1] <= back + ON_MM


@dataclass(frozen=True, slots=True)
class Setting:
    """The grids, and the floors and flat roofs, of all models."""

    grids: tuple[Grid, ...] = ()
    floors: tuple[Floor, ...] = ()


def _corners(prism: Prism) -> list[Vec]:
    plan = [add(prism.origin_mm, add(scale(prism.x, x), scale(prism.y, y))) for x, y in prism.outline]
    return plan + [add(point, scale(prism.way, prism.depth_mm)) for point in plan]


def _holds(prism: Prism, point: Vec) -> bool:
    away, square = sub(point, prism.origin_mm), cross(prism.x, prism.y)
    far = dot(away, square) / dot(prism.way, square)
    if not -ON_MM <= far <= prism.depth_mm + ON_MM:
        return False
    foot = sub(away, scale(prism.way, far))
    flat: Point = (dot(foot, prism.x), dot(foot, prism.y))
    cuts = (cut for cut in prism.cuts if not cut.outline)
    return prism.holds(flat) and all(dot(sub(point, cut.point_mm), cut.away) <= ON_MM for cut in cuts)


def _is_over(prism: Prism, point: Vec) -> bool:
    square = cross(prism.x, prism.y)
    if abs(square[2]) < UPRIGHT:  # moved sideways: it is what its corners span
        xs, ys, _ = zip(*_corners(prism), strict=True)
        return bool(min(xs) <= point[0] <= max(xs) and min(ys) <= point[1] <= max(ys))
    away = sub(prism.origin_mm, point)
    plane = point[2] + dot(away, square) / square[2]  # where its plan is, straight above the place or below it
    return _holds(prism, add((point[0], point[1], plane), scale(prism.way, prism.depth_mm / 2.0)))
