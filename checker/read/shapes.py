"""What a body's shape tells: corner points, and for a sweep its profile, axis and length. In the file's unit, in the element's frame."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from checker.model.geometry import Vec, add, scale, sub, unit
from checker.read.placements import WORLD, Frame, frame_of, vector
from checker.read.relations import many

Entity = Any
#: Mapped items and booleans may nest; a file that nests deeper, or has more items in one element, is malformed or hostile.
DEEPEST = 16
MOST_ITEMS = 10_000


@dataclass(frozen=True, slots=True)
class Sweep:
    """A section moved along a straight line from ``start`` to ``end``; ``across`` is the direction of its width.

    ``profile`` is the class of the section; sizes None: not told by it.
    """

    start: Vec
    end: Vec
    across: Vec
    profile: str
    width: float | None = None
    height: float | None = None
    diameter: float | None = None
    wall: float | None = None
    base: float | None = None


def body_items(element: Entity) -> list[tuple[Entity, Frame]]:
    """The items of an element's body, mapped ones taken out of their maps, each with its frame."""
    shape = getattr(element, "Representation", None)
    representations = list(many(getattr(shape, "Representations", None)))
    bodies = [item for item in representations if item.RepresentationIdentifier == "Body"] or [
        item
        for item in representations
        if item.RepresentationIdentifier not in {"Axis", "FootPrint", "Annotation", "Profile"}
    ]
    pairs = (pair for body in bodies for item in many(body.Items) for pair in _unmapped(item, WORLD, DEEPEST))
    return list(itertools.islice(pairs, MOST_ITEMS))


def _unmapped(item: Entity, frame: Frame, depth: int) -> Iterator[tuple[Entity, Frame]]:
    if not item.is_a("IfcMappedItem"):
        yield item, frame
        return
    source = item.MappingSource
    if depth == 0 or source is None or source.MappedRepresentation is None:
        yield item, frame  # not understood, but there: so that the work for it is bounded
        return
    target = _operator(item.MappingTarget)
    inner = frame_of(source.MappingOrigin).inside(target).inside(frame)
    for mapped in many(source.MappedRepresentation.Items):
        yield from _unmapped(mapped, inner, depth - 1)


def _operator(target: Entity) -> Frame:
    """A transformation as a frame; scaling lengthens its axes."""
    if target is None:
        return WORLD
    x = vector(target.Axis1.DirectionRatios) if target.Axis1 is not None else (1.0, 0.0, 0.0)
    z = getattr(target, "Axis3", None)
    z_axis = vector(z.DirectionRatios) if z is not None else (0.0, 0.0, 1.0)
    factor = float(getattr(target, "Scale", None) or 1.0)
    ex, ez = unit(x) or (1.0, 0.0, 0.0), unit(z_axis) or (0.0, 0.0, 1.0)
    ey = (ez[1] * ex[2] - ez[2] * ex[1], ez[2] * ex[0] - ez[0] * ex[2], ez[0] * ex[1] - ez[1] * ex[0])
    origin = vector(getattr(target.LocalOrigin, "Coordinates", None))
    return Frame(origin, scale(ex, factor), scale(ey, factor), scale(ez, factor))


def sweep_of(item: Entity, frame: Frame) -> Sweep | None:
    """The item as a straight sweep; None where it isn't one."""
    if item.is_a("IfcExtrudedAreaSolid"):
        return _extrusion(item, frame)
    if item.is_a("IfcSweptDiskSolid"):
        points = [frame.place(point) for point in curve_points(item.Directrix)]
        if len(points) != 2 or not item.Radius:
            return None
        wall = item.Radius - item.InnerRadius if item.InnerRadius else None
        return Sweep(points[0], points[1], frame.x, "disk", diameter=2.0 * item.Radius, wall=wall)
    return None


def _extrusion(item: Entity, frame: Frame) -> Sweep | None:
    profile = item.SweptArea
    if profile is None or not item.Depth:
        return None
    solid = frame_of(item.Position).inside(frame)
    flat = frame_of(getattr(profile, "Position", None)).inside(solid)
    direction = unit(solid.turn(vector(getattr(item.ExtrudedDirection, "DirectionRatios", None) or (0.0, 0.0, 1.0))))
    if direction is None:
        return None
    start, end = flat.origin, add(flat.origin, scale(direction, item.Depth))
    name = profile.is_a()
    if name in {"IfcRectangleProfileDef", "IfcRoundedRectangleProfileDef", "IfcRectangleHollowProfileDef"}:
        wall = getattr(profile, "WallThickness", None)
        return Sweep(start, end, flat.x, name, width=profile.XDim, height=profile.YDim, wall=wall, base=wall)
    if name in {"IfcCircleProfileDef", "IfcCircleHollowProfileDef"} and profile.Radius:
        return Sweep(
            start, end, flat.x, name, diameter=2.0 * profile.Radius, wall=getattr(profile, "WallThickness", None)
        )
    if name == "IfcUShapeProfileDef":
        # its depth lies along Y: that is the tray's width; its flanges are the sides, its web the base
        return Sweep(
            start, end, flat.y, name, width=profile.Depth, height=profile.FlangeWidth, wall=profile.FlangeThickness,
            base=profile.WebThickness,
        )  # fmt: skip
    return Sweep(start, end, flat.x, name)


def bent_disk(item: Entity, frame: Frame) -> list[Vec] | None:
    """The corners of a swept disk along straight pieces; None where it is something else, or has arcs."""
    if not item.is_a("IfcSweptDiskSolid") or item.Directrix is None or not item.Radius:
        return None
    if item.Directrix.is_a("IfcPolyline"):
        return [frame.place(point) for point in curve_points(item.Directrix)]
    if item.Directrix.is_a("IfcIndexedPolyCurve"):
        pieces = list(many(item.Directrix.Segments))
        if all(piece.is_a("IfcLineIndex") for piece in pieces):
            return [frame.place(point) for point in curve_points(item.Directrix)]
    return None


def curve_points(curve: Entity) -> list[Vec]:
    """The points of a polyline, indexed curve or line segment; none for other curves."""
    if curve is None:
        return []
    if curve.is_a("IfcPolyline"):
        return [vector(point.Coordinates) for point in many(curve.Points)]
    if curve.is_a("IfcIndexedPolyCurve"):
        return [vector(point) for point in many(getattr(curve.Points, "CoordList", None))]
    if curve.is_a("IfcTrimmedCurve"):
        ends = [next((vector(trim.Coordinates) for trim in many(side) if hasattr(trim, "Coordinates")), None)
                for side in (curve.Trim1, curve.Trim2)]  # fmt: skip
        return [end for end in ends if end is not None]
    if curve.is_a("IfcCompositeCurve"):
        return [
            point for segment in many(curve.Segments) for point in curve_points(getattr(segment, "ParentCurve", None))
        ]
    return []


def corner_points(item: Entity, frame: Frame, depth: int = DEEPEST) -> list[Vec]:
    """Points whose box is the item's box, or close to it; none where its kind isn't understood."""
    sweep = sweep_of(item, frame)
    if sweep is not None:
        return _sweep_corners(item, sweep, frame)
    if item.is_a("IfcSweptDiskSolid"):
        radius = item.Radius or 0.0
        return [
            add(frame.place(point), shift)
            for point in curve_points(item.Directrix)
            for shift in ((radius, radius, radius), (-radius, -radius, -radius))
        ]
    if item.is_a("IfcBoundingBox"):
        x, y, z = vector(item.Corner.Coordinates)
        return [frame.place(p) for p in ((x, y, z), (x + item.XDim, y + item.YDim, z + item.ZDim))]
    if item.is_a("IfcTessellatedFaceSet"):
        return [frame.place(vector(point)) for point in many(getattr(item.Coordinates, "CoordList", None))]
    if item.is_a("IfcFacetedBrep"):
        bounds = (bound for face in many(getattr(item.Outer, "CfsFaces", None)) for bound in many(face.Bounds))
        return [
            frame.place(vector(point.Coordinates))
            for bound in bounds
            for point in many(getattr(bound.Bound, "Polygon", None))
        ]
    if item.is_a("IfcBooleanResult") and item.FirstOperand is not None and depth:
        return corner_points(item.FirstOperand, frame, depth - 1)
    return []


def _sweep_corners(item: Entity, sweep: Sweep, frame: Frame) -> list[Vec]:
    along = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    a, x = along, sweep.across
    up = (a[1] * x[2] - a[2] * x[1], a[2] * x[0] - a[0] * x[2], a[0] * x[1] - a[1] * x[0])
    width = sweep.width or sweep.diameter
    if width is None:  # an outline of its own: its points
        points = curve_points(getattr(getattr(item, "SweptArea", None), "OuterCurve", None))
        solid = frame_of(item.Position).inside(frame)
        return [
            add(solid.place(point), shift)
            for point in points
            for shift in ((0.0, 0.0, 0.0), sub(sweep.end, sweep.start))
        ]
    height = sweep.height or sweep.diameter or 0.0
    return [
        add(end, add(scale(sweep.across, i * width / 2.0), scale(up, j * height / 2.0)))
        for end in (sweep.start, sweep.end)
        for i in (-1.0, 1.0)
        for j in (-1.0, 1.0)
    ]
