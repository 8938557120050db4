"""Where a model draws its cables: the paths of their own shapes, read as the axes of carriers are."""

import math
from collections.abc import Sequence
from typing import Any

from checker.model import ProblemKind, Vec
from checker.model.geometry import scale
from checker.read.axes import Axis, carrier_axis
from checker.read.carriers import LONGEST_MM
from checker.read.context import Context
from checker.read.placements import Frame
from checker.read.relations import many
from checker.units import metres

Entity = Any
Path = tuple[Vec, ...]
#: Pieces of one cable beyond this aren't looked at: a cable isn't made of so many, and all of a file's stay in proportion to it.
MOST_PIECES = 500
BY_PORTS = "its ports"


def cable_paths(it: Context, element: Entity, parts: Sequence[Entity]) -> tuple[Path, tuple[Path, ...]]:
    """Where a cable runs, in the world, in mm.

    Args:
        it: The model.
        element: The cable.
        parts: What it is made of: conductors, pieces.

    Returns:
        Its path, none where it isn't drawn as one line; and then the paths of its pieces, none where it isn't drawn at all.
    """
    found = _paths(it, element)
    if not found:
        found = [path for part in parts[:MOST_PIECES] for path in _paths(it, part)]
        if len(parts) > MOST_PIECES:
            it.notes.tell(ProblemKind.GAP, f"it is made of {len(parts)} pieces; where they run is read of {MOST_PIECES}",
                          "no cable is made of so many", "model it as one cable", it.label(element))  # fmt: skip
    return (found[0], ()) if len(found) == 1 else ((), tuple(found))


def _paths(it: Context, element: Entity) -> list[Path]:
    """The paths of one element: one, unless its body is several that don't follow one another, as cores beside each other."""
    ports = it.port_points.get(element.id(), [])
    is_shaped = any(many(getattr(getattr(element, "Representation", None), "Representations", None)))
    if not is_shaped and len(set(ports)) < 2:
        return []
    frame = it.frame(element)
    if frame is None:
        it.notes.tell(ProblemKind.GAP, "where this cable runs isn't known: no usable placement",
                      "it has none, or its chain has a loop", "export the model again", it.label(element))  # fmt: skip
        return []
    axis = it.safely(element, lambda: carrier_axis(it.shapes, element, frame, ports, it.mm), Axis())
    if axis.length_mm is not None and _is_sure(axis, is_shaped=is_shaped):
        paths, longest_mm = [axis.points_mm], axis.length_mm
        if axis.found_by == BY_PORTS:
            it.notes.fold(ProblemKind.INFERENCE, "this cable is taken to run straight between its ports", "it has no shape that says more",
                          "draw its way where it is another", it.label(element))  # fmt: skip
    else:
        none: tuple[list[Path], float] = ([], 0.0)
        paths, longest_mm = it.safely(element, lambda: _of_its_sweeps(it, element, frame), none)
        if not paths and is_shaped:
            it.notes.fold(ProblemKind.GAP, "where this cable runs can't be read from its shape",
                          "it is no sweep along a line, has no Axis representation, and isn't straight",
                          "export its way as an Axis representation", it.label(element))  # fmt: skip
    if not longest_mm <= LONGEST_MM:
        what = f"this cable is {metres(longest_mm):g} m long in one piece, which can't be; where it runs is left out"
        it.notes.tell(ProblemKind.CORRECTION, what, "its unit or placement is wrong", "mend the model", it.label(element))  # fmt: skip
        return []
    return paths


def _is_sure(axis: Axis, *, is_shaped: bool) -> bool:
    """Whether a cable lies where the axis does: the line between two ends says nothing of a body that bends between them."""
    if axis.said:
        return False
    if axis.found_by in {"sweep of its body", "plan of its body", "path of its body", "its Axis representation"}:
        return True
    return axis.turn_deg == 0.0 or (axis.found_by == BY_PORTS and not is_shaped)


def _of_its_sweeps(it: Context, element: Entity, frame: Frame) -> tuple[list[Path], float]:
    """The path of each item of a body whose items are all sweeps, and the length of the longest; none where one of them isn't."""
    paths, longest = [], 0.0
    for item, inner in it.shapes.body_items(element):
        sweep = it.shapes.sweep_of(item, inner)
        if sweep is None:
            return [], 0.0
        path = tuple(scale(frame.place(point), it.mm) for point in sweep.path.points)
        if not all(math.isfinite(number) for point in path for number in point):
            raise ValueError("its shape has numbers too large for any place")
        paths.append(path)
        longest = max(longest, sweep.path.length * frame.factor * it.mm)
    if len(paths) > MOST_PIECES:
        raise ValueError(f"its body has {len(paths)} parts")
    return paths, longest
