"""Which space an element lies in, where the file doesn't say: the one whose plan and height hold its middle.

Only spaces that are a plan extruded upward are understood, as they nearly all are. A point in none, or in two, is in no space.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from checker.model import Vec
from checker.model.geometry import nearest_on_segment, norm, scale, unit
from checker.read.context import Context
from checker.read.curves import curve_of
from checker.read.placements import Z_AXIS, frame_of, vector
from checker.read.relations import all_of, many, name_of

Entity = Any
Point = tuple[float, float]
#: Plans are found through cells of this size.
CELL_MM = 5000.0
#: What lies this near to a wall's face may be in either room.
EDGE_MM = 5.0
#: A space that covers more cells, or has more corners, isn't one room.
MOST_CELLS, MOST_CORNERS = 10_000, 2_000
#: Beyond so many cells of all spaces together the others are left out, so that work stays in proportion to the file.
CELLS_IN_ALL = 1_000_000

#: A plan is extruded upward if this much of its direction is.
UPRIGHT = 0.999


@dataclass(frozen=True, slots=True)
class Room:
    """A space: its name, its plan, what is left out of that, and from where to where it is high (mm)."""

    element: Entity
    name: str
    plan: tuple[Point, ...]
    low_mm: float
    high_mm: float
    holes: tuple[tuple[Point, ...], ...] = ()

    def holds(self, point: Vec) -> bool:
        """Whether a point lies in it."""
        at = (point[0], point[1])
        if not (self.low_mm <= point[2] <= self.high_mm and _inside(self.plan, at)):
            return False
        return not any(_inside(hole, at) for hole in self.holes)


class Rooms:
    """The spaces of a model, by where they are."""

    def __init__(self, it: Context) -> None:
        self._cells: dict[tuple[int, int], list[Room]] = {}
        left = CELLS_IN_ALL
        for space in all_of(it.file, "IfcSpace"):
            room = it.safely(space, lambda space=space: _room(it, space), None)  # type: ignore[misc]
            if room is not None and left > 0:
                cells = _cells(room.plan)
                left -= len(cells)
                for cell in cells:
                    self._cells.setdefault(cell, []).append(room)

    @property
    def is_empty(self) -> bool:
        """Whether no space's plan is known."""
        return not self._cells

    def at(self, point: Vec | None) -> Room | None:
        """The one space that a point lies in."""
        if point is None or not self._cells:
            return None
        found = [room for room in self._cells.get(_cell((point[0], point[1])), ()) if room.holds(point)]
        return found[0] if len(found) == 1 else None


def _room(it: Context, space: Entity) -> Room | None:
    frame = it.frame(space)
    items = it.shapes.body_items(space) if frame is not None else []
    if frame is None or len(items) != 1 or not items[0][0].is_a("IfcExtrudedAreaSolid"):
        return None
    item, inner = items[0]
    outlines = _outlines(item.SweptArea, it.shapes.radians)
    solid = frame_of(item.Position).inside(inner).inside(frame)
    flat = frame_of(getattr(item.SweptArea, "Position", None)).inside(solid)
    up = solid.turn(unit(vector(item.ExtrudedDirection.DirectionRatios)) or Z_AXIS)
    counts = [len(corners) for corners in outlines]
    if not counts or min(counts) < 3 or sum(counts) > MOST_CORNERS or abs(up[2]) < UPRIGHT * norm(up) or not item.Depth:
        return None
    placed = [[vector(scale(flat.place((x, y, 0.0)), it.mm)) for x, y in corners] for corners in outlines]
    _, _, base = placed[0][0]
    _, _, top = vector((0.0, 0.0, base + up[2] * item.Depth * it.mm))
    plan, *holes = (tuple((x, y) for x, y, _ in corners) for corners in placed)
    return Room(space, name_of(space), plan, min(base, top), max(base, top), tuple(holes))


def _outlines(profile: Entity, radians: float) -> list[list[Point]]:
    """The corners of a plan, and of what is left out of it."""
    if profile.is_a("IfcRectangleProfileDef"):
        x, y = profile.XDim / 2.0, profile.YDim / 2.0
        return [[(-x, -y), (x, -y), (x, y), (-x, y)]]
    curves = [getattr(profile, "OuterCurve", None), *many(getattr(profile, "InnerCurves", None))]
    found = [curve_of(curve, radians) for curve in curves]
    return [[(point[0], point[1]) for point in curve.points] if curve is not None else [] for curve in found]


def _inside(plan: Sequence[Point], point: Point) -> bool:
    """Whether a point lies in a polygon, and not on its edge: a ray from it crosses the sides an odd number of times."""
    x, y = point
    is_inside = False
    for (a, b), (c, d) in zip(plan, [*plan[1:], plan[0]], strict=True):
        if nearest_on_segment((x, y, 0.0), (a, b, 0.0), (c, d, 0.0))[1] <= EDGE_MM:
            return False
        if (b > y) != (d > y) and x < (c - a) * (y - b) / (d - b) + a:
            is_inside = not is_inside
    return is_inside


def _cell(point: Point) -> tuple[int, int]:
    return int(point[0] // CELL_MM), int(point[1] // CELL_MM)


def _cells(plan: Sequence[Point]) -> list[tuple[int, int]]:
    low = _cell((min(p[0] for p in plan), min(p[1] for p in plan)))
    high = _cell((max(p[0] for p in plan), max(p[1] for p in plan)))
    count = (high[0] - low[0] + 1) * (high[1] - low[1] + 1)
    return (
        [(i, j) for i in range(low[0], high[0] + 1) for j in range(low[1], high[1] + 1)] if count <= MOST_CELLS else []
    )
