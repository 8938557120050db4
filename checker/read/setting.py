"""Reads what only tells where things are: grids and floor slabs.

No verdict goes by it. What can't be understood is left out without a word: a note then says less of where something is, and nothing wrong.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from checker.model.geometry import Body, Vec, add, scale, sub, unit
from checker.model.setting import Grid, GridAxis, Setting
from checker.read.context import Context, Notes
from checker.read.curves import curve_of
from checker.read.placements import vector
from checker.read.relations import all_of, many

Entity = Any
#: An axis that is drawn as a line without ends goes so far both ways.
ENDLESS_MM = 1_000_000.0
#: More axes, or floors, than this are no building's.
MOST_AXES, MOST_FLOORS = 2_000, 5_000


def read_setting(it: Context) -> Setting:
    """The grids and floors of a model."""
    quiet = replace(it, notes=Notes(it.name))
    grids = [quiet.safely(grid, lambda grid=grid: _grid(quiet, grid), None) for grid in all_of(it.file, "IfcGrid")]  # type: ignore[misc]
    return Setting(tuple(grid for grid in grids if grid is not None), tuple(_floors(quiet)))


def together(settings: Iterable[Setting | None]) -> Setting:
    """Those of several models as one; the same grid or floor in two of them counts once."""
    found = [one for one in settings if one is not None]
    grids = dict.fromkeys(grid for one in found for grid in one.grids)
    return Setting(tuple(sorted(grids, key=str)), tuple(dict.fromkeys(floor for one in found for floor in one.floors)))


def _grid(it: Context, grid: Entity) -> Grid | None:
    frame = it.frame(grid)
    if frame is None:
        return None
    sets: list[tuple[GridAxis, ...]] = []
    left = MOST_AXES
    for name in ("UAxes", "VAxes", "WAxes"):
        axes = []
        for axis in list(many(getattr(grid, name, None)))[: max(left, 0)]:
            points = [scale(frame.place(point), it.mm) for point in _line(axis.AxisCurve, it.shapes.radians, it.mm)]
            tag = str(axis.AxisTag or "").strip()
            if tag and len(points) > 1:
                axes.append(GridAxis(tag, tuple((x, y) for x, y, _ in map(vector, points))))
        left -= len(axes)
        if axes:
            sets.append(tuple(axes))
    return Grid(tuple(sets)) if sets else None


def _line(curve: Entity, radians: float, mm: float) -> list[Vec]:
    """The points of an axis, in the file's unit; none where its curve isn't understood."""
    if curve is not None and curve.is_a("IfcLine"):
        along, at = unit(vector(curve.Dir.Orientation.DirectionRatios)), vector(curve.Pnt.Coordinates)
        if along is None:
            return []
        far = scale(along, ENDLESS_MM / mm)
        return [sub(at, far), add(at, far)]
    found = curve_of(curve, radians)
    return [] if found is None else list(found.points)


def _floors(it: Context) -> Iterator[Body]:
    slabs = [slab for slab in all_of(it.file, "IfcSlab") if str(getattr(slab, "PredefinedType", None) or "") != "ROOF"]
    for slab in slabs[:MOST_FLOORS]:
        body = it.body(slab)
        if body is not None:
            yield body
