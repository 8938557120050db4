"""Sections from extents: the box around a body that is no sweep, and which of its sides are width and height."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.model import Vec
from checker.model.geometry import add, angle_deg, box_around, cross, norm, scale, sub, unit
from checker.read.chords import straight
from checker.read.placements import Frame
from checker.read.shapes import Shapes, Sweep
from checker.read.size_words import BROAD

#: An axis whose direction has this much of the vertical in it stands upright.
STANDS = 0.95
PARALLEL_DEG = 5.0


def as_it_lies(sweep: Sweep, frame: Frame) -> Sweep:
    """The sweep with its width across and its height up, whichever way the profile's own axes are turned.

    Of one that stands upright the longer side is the width: so trays, ladders and trunking are named, and nothing else tells.
    """
    if sweep.profile == "IfcUShapeProfileDef" or not sweep.width or not sweep.height:
        return sweep
    along = unit(frame.turn(sub(sweep.end, sweep.start))) or (0.0, 0.0, 1.0)
    across = unit(frame.turn(sweep.across)) or (1.0, 0.0, 0.0)
    stands = abs(along[2]) > STANDS
    turned = sweep.width < sweep.height if stands else abs(across[2]) > abs(cross(along, across)[2])
    if not turned:
        return sweep
    own = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    return replace(sweep, width=sweep.height, height=sweep.width, across=cross(own, sweep.across))


def stands_on_edge(sweep: Sweep) -> bool:
    """Whether a section is so much higher than wide that, of a tray or ladder, its height must be the width."""
    return bool(sweep.width and sweep.height and sweep.height > BROAD * sweep.width)


@dataclass(frozen=True, slots=True)
class Box:
    """A box in the element's frame. ``kind``: "body" or "bounding box"; ``diameter``: it is round across its first axis."""

    centre: Vec
    axes: tuple[Vec, Vec, Vec]
    sizes: tuple[float, float, float]
    kind: str
    diameter: float | None = None


def box_of(shapes: Shapes, items: Sequence[tuple[Any, Frame]], points: Sequence[Vec], *, is_swept: bool) -> Box | None:
    """The box around the body: of a single item of faces its own, else the one around all points, along the element's axes."""
    kind = "bounding box" if items and all(item.is_a("IfcBoundingBox") for item, _ in items) else "body"
    if len(items) == 1 and not is_swept:
        item, inner = items[0]
        solid = shapes.solid_of(item)
        if solid is None:
            return None
        turned = [inner.turn(axis) for axis in solid.body.axes]
        axes = [unit(axis) or axis for axis in turned]
        sizes = [2.0 * half * norm(axis) for half, axis in zip(solid.body.half_mm, turned, strict=True)]
        diameter = solid.diameter * norm(turned[1]) if solid.diameter is not None else None
        return Box(
            inner.place(solid.body.centre_mm),
            (axes[0], axes[1], axes[2]),
            (sizes[0], sizes[1], sizes[2]),
            kind,
            diameter,
        )
    if not points:
        return None
    body = box_around(points, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    sizes = [2.0 * half for half in body.half_mm]
    return Box(body.centre_mm, body.axes, (sizes[0], sizes[1], sizes[2]), kind) if max(sizes) > 0.0 else None


def section_across(box: Box | None, along: Vec, frame: Frame) -> Sweep | None:
    """The section of a box across a direction; None where the box doesn't lie along it."""
    if box is None:
        return None
    angles = [min(a, 180.0 - a) for a in (angle_deg(axis, along) for axis in box.axes)]
    index = min(range(3), key=lambda i: angles[i])
    if angles[index] > PARALLEL_DEG or box.sizes[index] <= 0.0:
        return None
    wide, high = (i for i in range(3) if i != index)
    half = scale(box.axes[index], box.sizes[index] / 2.0)
    path = straight([sub(box.centre, half), add(box.centre, half)])
    if path is None:
        return None
    if box.diameter is not None and index == 0:
        return Sweep(path, box.axes[wide], box.kind, diameter=box.diameter)
    if min(box.sizes[wide], box.sizes[high]) <= 0.0:
        return None
    sweep = Sweep(path, box.axes[wide], box.kind, width=box.sizes[wide], height=box.sizes[high])
    return as_it_lies(sweep, frame)
