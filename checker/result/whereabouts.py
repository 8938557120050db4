"""Where something is, in the words of a building: by the nearest axes of its grid, and whether it lies in a floor."""

import itertools
import math
from collections.abc import Sequence

from checker.model import Body, Vec
from checker.model.geometry import nearest_on_segment
from checker.model.setting import GridAxis, Setting
from checker.model.texts import number
from checker.result.camera import corners, extent_mm
from checker.result.tables import Box
from checker.units import MM_PER_M, metres

#: What is farther from every axis isn't where the grid is.
FAR_MM = 50_000.0
#: A floor is cut this far above what lies in it.
CLEAR_MM = 5.0
#: What reaches out of a floor by no more lies in it all the same.
OUT_MM = 1.0


def grid_words(setting: Setting, point: Vec | None) -> str:
    """The axes that a place is nearest to, as ``C (0.40 m off) and 4 (1.20 m off)``; empty where there are none near.

    Of several grids the one whose axes are nearest counts, each of its sets with one axis.

    Args:
        setting: The building's grids.
        point: The place, in mm.
    """
    if point is None:
        return ""
    found = [sorted(_nearest(axes, point) for axes in grid.sets) for grid in setting.grids]
    near = [axes for axes in found if all(away <= FAR_MM for away, _ in axes)]
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


def clip_m(setting: Setting, boxes: Sequence[Box]) -> float | None:
    """How high a floor is cut so that what lies in it is seen, in m; None where not all of the boxes lie in floors.

    Args:
        setting: The building's floors.
        boxes: Of all that is to be seen.
    """
    if not boxes or not all(any(_lies_in(floor, box) for floor in setting.floors) for box in boxes):
        return None
    return (max(corner[2] for box in boxes for corner in corners(box)) + CLEAR_MM) / MM_PER_M


def _lies_in(floor: Body, box: Box) -> bool:
    """Whether a box is between the faces of a floor, with its middle in the floor's plan; a riser that passes it isn't."""
    rise = sum(abs(axis[2]) * half for axis, half in zip(floor.axes, floor.half_mm, strict=True))
    low, high = floor.centre_mm[2] - rise, floor.centre_mm[2] + rise
    heights = [corner[2] for corner in corners(box)]
    if min(heights) < low - OUT_MM or max(heights) > high + OUT_MM:
        return False
    return floor.off_mm(extent_mm([box])[0]) <= OUT_MM
