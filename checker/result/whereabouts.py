"""Where something is, in the words of a building: by the nearest axes of its grid, and whether it lies in a floor."""

import itertools
import math
from collections.abc import Sequence

from checker.model import Vec
from checker.model.geometry import add, nearest_on_segment, norm, scale
from checker.model.setting import ON_MM, Floor, GridAxis, Setting
from checker.model.texts import number
from checker.result.camera import corners, extent_mm
from checker.result.tables import Box
from checker.units import MM_PER_M, metres

#: What is farther from every axis isn't where the grid is.
FAR_MM = 50_000.0
#: A floor is cut this far above what lies in it, or this far below itself.
CLEAR_MM = 5.0
#: So many boxes are looked at for what is above them: the worst come first, and one of them will do.
_MOST_MIDDLES = 100
IN_FLOOR = "It lies in a floor, which the view is cut open above."
BELOW_FLOOR = "The view is cut open below the floor above it."
BELOW_ROOF = "The view is cut open below the roof above it."
#: Where along a box it is looked whether it lies in a floor: not at its very ends, which may pass into the next slab.
_ALONG = (0.1, 0.5, 0.9)


def grid_words(setting: Setting, point: Vec | None, storey: str = "") -> str:
    """The axes that a place is nearest to, as ``C (0.40 m off) and 4 (1.20 m off)``; empty where there are none near.

    Of several grids the one whose axes are nearest counts, each of its sets with one axis; grids of the same storey before all others.

    Args:
        setting: The building's grids.
        point: The place, in mm.
        storey: The name of its storey.
    """
    if point is None:
        return ""
    own = [grid for grid in setting.grids if storey and grid.storey == storey]
    near: list[list[tuple[float, str]]] = []
    for grids in (own, setting.grids):
        found = [sorted(_nearest(axes, point) for axes in grid.sets) for grid in grids]
        near = near or [axes for axes in found if all(away <= FAR_MM for away, _ in axes)]
    if not near:
        return ""
    # of a grid with two sets before one with only one, which says half as much
    best = min(near, key=lambda axes: (-min(len(axes), 2), [round(away, 3) for away, _ in axes], axes))
    told = [f"{tag} ({number(metres(away), 'm')} off)" for away, tag in sorted(best[:2], key=lambda pair: pair[1])]
    return " and ".join(told)


def _nearest(axes: Sequence[GridAxis], point: Vec) -> tuple[float, str]:
    return min((_away_mm(axis, point), axis.tag) for axis in axes)


def _away_mm(axis: GridAxis, point: Vec) -> float:
    """How far a place is from an axis, in plan."""
    flat = (point[0], point[1], 0.0)
    ends = [(x, y, 0.0) for x, y in axis.points_mm]
    return min((nearest_on_segment(flat, one, other)[1] for one, other in itertools.pairwise(ends)), default=math.inf)


def view_cut(setting: Setting, boxes: Sequence[Box]) -> tuple[float | None, str]:
    """How high a view is cut so that floors don't hide what it shows, in m, and what is said of that.

    What lies in floors is seen from just above itself. Of what lies below a floor or roof that is hidden, with all above. None and empty:
    nothing is in the way, or no one cut opens all.

    Args:
        setting: The building's floors.
        boxes: Of all that is to be seen.
    """
    if not boxes:
        return None, ""
    high = max(corner[2] for box in boxes for corner in corners(box))
    lowest = max(min(corner[2] for corner in corners(box)) for box in boxes)
    # those of another storey aren't opened by a cut at this height
    floors = [
        floor
        for floor in setting.floors
        if not floor.is_roof and floor.heights_mm[1] + ON_MM >= high and floor.heights_mm[0] - ON_MM <= lowest
    ]
    if floors and all(_lies_in(floors, box) for box in boxes):
        return (high + CLEAR_MM) / MM_PER_M, IN_FLOOR
    over = sorted(
        (floor for floor in setting.floors if floor.heights_mm[0] + ON_MM >= high), key=lambda floor: floor.heights_mm
    )
    middles = [extent_mm([box])[0] for box in boxes[:_MOST_MIDDLES]]
    first = next((floor for floor in over if any(floor.is_over(middle) for middle in middles)), None)
    if first is None:
        return None, ""
    return max(high, first.heights_mm[0] - CLEAR_MM) / MM_PER_M, BELOW_ROOF if first.is_roof else BELOW_FLOOR


def _lies_in(floors: Sequence[Floor], box: Box) -> bool:
    """Whether a box is between the faces of floors all along; a riser that passes one isn't."""
    low = min(corner[2] for corner in corners(box)) + ON_MM
    around = [floor for floor in floors if floor.heights_mm[0] <= low]
    long = max(box.edges_mm, key=norm)
    ends = [scale(long, share - 0.5) for share in _ALONG]
    middle = extent_mm([box])[0]
    return all(any(floor.holds(add(middle, end)) for floor in around) for end in ends)
