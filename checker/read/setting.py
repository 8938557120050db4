"""Reads what only tells where things are: grids and floors.

No verdict goes by it. What can't be understood is left out without a word: a note then says less of where something is, and nothing wrong.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from checker.model import ProblemKind, Vec
from checker.model.geometry import add, scale, sub, unit
from checker.model.setting import Floor, Grid, GridAxis, Setting
from checker.read.context import Context, Notes
from checker.read.curves import curve_of
from checker.read.placements import vector
from checker.read.prisms import prisms_of
from checker.read.relations import all_of, many, place_names

Entity = Any
#: An axis that is drawn as a line without ends goes so far both ways.
ENDLESS_MM = 1_000_000.0
#: More points of axes, or floors, than this are no building's.
MOST_POINTS, MOST_FLOORS = 50_000, 5_000
#: The kind of slab that is no floor, and of covering that is one.
_ROOF, _FLOORING = "ROOF", "FLOORING"
_FEWER = "more are no building's, and looking at them would take long"
#: Of the axes of a grid.
_SETS = ("UAxes", "VAxes", "WAxes")


class _TooManyError(Exception):
    """A grid has more points than are read."""


def read_setting(it: Context) -> Setting:
    """The grids and floors of a model."""
    quiet = replace(it, notes=Notes(it.name))
    grids: list[Grid] = []
    left = MOST_POINTS
    for entity in all_of(it.file, "IfcGrid"):
        try:
            grid = quiet.safely(entity, lambda entity=entity, left=left: _grid(quiet, entity, left), None)  # type: ignore[misc]
        except _TooManyError:
            what = f"this grid isn't read: with it the axes of the model have more than {MOST_POINTS} points"
            it.notes.tell(ProblemKind.GAP, what, _FEWER,
                          "notes say where something is by other grids, or by its storey alone", it.label(entity))  # fmt: skip
            continue
        if grid is not None:
            left -= sum(len(axis.points_mm) for axes in grid.sets for axis in axes)
            grids.append(grid)
    slabs = list(_slabs(it))
    if len(slabs) > MOST_FLOORS:
        it.notes.tell(ProblemKind.GAP, f"{len(slabs) - MOST_FLOORS} of {len(slabs)} floors aren't read", _FEWER,
                      "views of what lies in or below those aren't cut open", f"{it.name}, floors")  # fmt: skip
    floors = (quiet.safely(slab, lambda slab=slab: _floor(quiet, slab), None) for slab in slabs[:MOST_FLOORS])  # type: ignore[misc]
    return Setting(tuple(grids), tuple(floor for floor in floors if floor is not None))


def together(settings: Iterable[Setting | None]) -> Setting:
    """Those of several models as one; the same grid or floor in two of them counts once."""
    found = [one for one in settings if one is not None]
    grids = dict.fromkeys(grid for one in found for grid in one.grids)
    return Setting(tuple(sorted(grids, key=str)), tuple(dict.fromkeys(floor for one in found for floor in one.floors)))


def _grid(it: Context, grid: Entity, most: int) -> Grid | None:
    """A grid with all of its axes that are understood.

    Raises:
        _TooManyError: They have more points than the most.
    """
    frame = it.frame(grid)
    if frame is None:
        return None
    sets: list[tuple[GridAxis, ...]] = []
    for name in _SETS:
        axes = []
        for axis in many(getattr(grid, name, None)):
            points = [
                scale(frame.place(point), it.mm)
                for point in _line(axis.AxisCurve, it.shapes.radians, it.mm)[: most + 1]
            ]
            most -= len(points)
            if most < 0:
                raise _TooManyError
            tag = str(axis.AxisTag or "").strip()
            if tag and len(points) > 1:
                axes.append(GridAxis(tag, tuple((x, y) for x, y, _ in map(vector, points))))
        if axes:
            sets.append(tuple(axes))
    return Grid(tuple(sets), place_names(grid, it.found)[0]) if sets else None


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


def _slabs(it: Context) -> Iterator[Entity]:
    """Slabs, and the coverings of floors."""
    yield from all_of(it.file, "IfcSlab")
    for covering in all_of(it.file, "IfcCovering"):
        if _kind(it, covering) == _FLOORING:
            yield covering


def _kind(it: Context, element: Entity) -> str:
    """Its own kind, else that of its type."""
    own = str(getattr(element, "PredefinedType", None) or "NOTDEFINED")
    return own if own != "NOTDEFINED" else str(getattr(it.found.types.get(element.id()), "PredefinedType", None) or "")


def _floor(it: Context, slab: Entity) -> Floor | None:
    """Its body, or that of its parts where it has none. What only a loose box is known of isn't told to hold anything."""
    bodies = [slab, *it.found.children.get(slab.id(), ())] if slab.Representation is None else [slab]
    prisms = [prism for body in bodies if hasattr(body, "Representation") for prism in prisms_of(it, body)]
    return (
        None
        if not prisms or any(prism.is_hollow for prism in prisms)
        else Floor(tuple(prisms), _kind(it, slab) == _ROOF)
    )
