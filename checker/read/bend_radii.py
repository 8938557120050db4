"""The radius to which a bend fitting is drawn: of its axis, else of the sweep of its body."""

from typing import Any

from checker.model.turns import stretches_along
from checker.read.chords import Curve
from checker.read.placements import Frame
from checker.read.shapes import Shapes

#: What turns so far is a ring, not a bend.
ROUND_DEG = 359.0


def bend_radius_mm(shapes: Shapes, element: Any, frame: Frame, mm: float) -> float | None:
    """The radius of a bend's centre line, its tightest where it has several; None where it isn't drawn as arcs.

    Args:
        shapes: The model's shapes.
        element: The fitting.
        frame: Its frame in the world, in the file's unit.
        mm: Millimetres in one unit of the file.

    Raises:
        ValueError: Its body has more parts than are looked at. Other errors of ``relations.MALFORMED`` come of malformed entities.
    """
    axis = shapes.axis_curve(element)
    curves = [axis] if axis is not None and axis.turn_deg else _bent(shapes, element)
    radii = [_tightest(curve) for curve in curves]
    known = [radius for radius in radii if radius is not None]
    # where one of its turns is a corner nothing is known of how tight it is
    return min(known) * mm * frame.factor if known and len(known) == len(radii) else None


def _bent(shapes: Shapes, element: Any) -> list[Curve]:
    """The paths of those sweeps of its body that turn, but for collars, which are turned all round."""
    sweeps = [shapes.sweep_of(item, inner) for item, inner in shapes.body_items(element)]
    return [sweep.path for sweep in sweeps if sweep is not None and 0.0 < sweep.path.turn_deg < ROUND_DEG]


def _tightest(curve: Curve) -> float | None:
    turns = [item for item in stretches_along(curve.points, curve.length, curve.turn_deg) or () if item.turn_deg]
    radii = [item.radius_mm for item in turns if item.radius_mm is not None]
    return min(radii) if radii and len(radii) == len(turns) else None
