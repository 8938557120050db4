"""Bodies of carriers and fittings in every style. Prisms are given in a frame: a section in its XY, swept along its Z."""

import math
from typing import Any

import numpy as np

from tests.spellings.network import Piece, Segment
from tests.spellings.pen import Entity, Frame, Pen, frame, within

Flat = tuple[float, float]
CORNERS = 16  # of the outline of a round one; those on the axes make it as wide and high as the circle


def segment_frame(segment: Segment) -> Frame:
    """From the start along the axis, X across, Y up (of the ladder, which rises: to the other side)."""
    return frame(segment.start, segment.across, segment.along)


def segment_shape(pen: Pen, segment: Segment, local: Frame, style: str) -> Entity:
    """The shape of a carrier whose placement is ``local``."""
    section = within(local, segment_frame(segment))
    if style == "axis":
        ends = section @ np.array([[0.0, 0.0, 0.0, 1.0], [0.0, 0.0, segment.length, 1.0]]).T
        line = pen.polyline(*((*end[:3],) for end in ends.T))
        return _shape(pen, "Axis", "Curve3D", [line])
    if style == "sweep":
        return _swept(pen, own_profile(pen, segment), section, segment.length)
    if style == "mapped":
        solid = _solid(pen, own_profile(pen, segment), np.eye(4), segment.length)
        return _mapped(pen, solid, "SweptSolid", section)
    if style == "disk" and segment.is_round:
        ends = section @ np.array([[0.0, 0.0, 0.0, 1.0], [0.0, 0.0, segment.length, 1.0]]).T
        line = pen.polyline(*((*end[:3],) for end in ends.T))
        radii = pen.long(segment.width / 2.0), pen.long(segment.width / 2.0 - segment.wall)
        return _shape(pen, "Body", "AdvancedSweptSolid", [pen.make("IfcSweptDiskSolid", line, *radii, 0.0, 1.0)])
    if style == "disk" or (style == "plan" and segment.along[2]):
        return _swept(pen, _rectangle(pen, segment.width, segment.height), section, segment.length)
    if style == "plan":
        x, y, z = ((a + b) / 2.0 for a, b in zip(segment.start, segment.end, strict=True))
        plan = within(local, frame((x, y, z - segment.height / 2.0), segment.along, (0.0, 0.0, 1.0)))
        return _swept(pen, _rectangle(pen, segment.length, segment.width), plan, segment.height)
    return prism(pen, _outline(segment), section, segment.length, style)


def piece_shape(pen: Pen, piece: Piece, local: Frame, style: str) -> Entity | None:
    """The body of a fitting, a box; none where carriers have none either."""
    if style == "axis":
        return None
    low = within(local, frame(piece.low, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)))
    x, y, z = (b - a for a, b in zip(piece.low, piece.high, strict=True))
    outline = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)]
    plain = style in {"sweep", "disk", "plan"}
    return prism(pen, outline, low, z, "outline" if plain else style)


def prism(pen: Pen, outline: list[Flat], position: Frame, depth: float, style: str) -> Entity:
    """A prism as a mesh, as faces, as an outline that is swept, as a mapped item or as the box around it."""
    count = len(outline)
    points = [position @ np.array([x, y, z, 1.0]) for z in (0.0, depth) for x, y in outline]
    corners = [(float(point[0]), float(point[1]), float(point[2])) for point in points]
    sides = [(i, (i + 1) % count, count + (i + 1) % count, count + i) for i in range(count)]
    faces = [tuple(reversed(range(count))), tuple(range(count, 2 * count)), *sides]
    if style == "mesh":
        triangles = [(face[0], face[i], face[i + 1]) for face in faces for i in range(1, len(face) - 1)]
        listed = pen.make("IfcCartesianPointList3D", [[pen.long(value) for value in corner] for corner in corners])
        mesh = pen.make(
            "IfcTriangulatedFaceSet", Coordinates=listed, CoordIndex=[[i + 1 for i in face] for face in triangles]
        )
        return _shape(pen, "Body", "Tessellation", [mesh])
    if style == "brep":
        vertices = [pen.point(*corner) for corner in corners]
        bounds = [
            pen.make("IfcFaceOuterBound", pen.make("IfcPolyLoop", [vertices[i] for i in face]), True) for face in faces
        ]
        shell = pen.make("IfcClosedShell", [pen.make("IfcFace", [bound]) for bound in bounds])
        return _shape(pen, "Body", "Brep", [pen.make("IfcFacetedBrep", shell)])
    if style == "box":
        low = [min(corner[i] for corner in corners) for i in range(3)]
        sizes = [pen.long(max(corner[i] for corner in corners) - low[i]) for i in range(3)]
        return _shape(pen, "Box", "BoundingBox", [pen.make("IfcBoundingBox", pen.point(*low), *sizes)])
    profile = pen.make("IfcArbitraryClosedProfileDef", "AREA", None, pen.polyline(*outline, outline[0]))
    if style == "mapped":
        return _mapped(pen, _solid(pen, profile, np.eye(4), depth), "SweptSolid", position)
    return _swept(pen, profile, position, depth)


def own_profile(pen: Pen, segment: Segment) -> Entity:
    """The section as the standard has it: a hollow rectangle or circle, or an open U."""
    if segment.is_round:
        radius, wall = pen.long(segment.width / 2.0), pen.long(segment.wall)
        return pen.make("IfcCircleHollowProfileDef", "AREA", None, _flat(pen), radius, wall)
    sizes = [pen.long(mm) for mm in (segment.width, segment.height)]
    if segment.kind == "trunking":
        return pen.make(
            "IfcRectangleHollowProfileDef", "AREA", None, _flat(pen), *sizes, pen.long(segment.wall), None, None
        )
    # the depth of a U lies along its Y and it opens along its X: turned, so that it opens upward
    thin = pen.long(segment.base), pen.long(segment.wall)
    return pen.make("IfcUShapeProfileDef", "AREA", None, _flat(pen, 0.0, 1.0), *sizes, *thin)


def _outline(segment: Segment) -> list[Flat]:
    if segment.is_round:
        angles = [2.0 * math.pi * i / CORNERS for i in range(CORNERS)]
        return [(segment.width / 2.0 * math.cos(a), segment.width / 2.0 * math.sin(a)) for a in angles]
    x, y = segment.width / 2.0, segment.height / 2.0
    return [(-x, -y), (x, -y), (x, y), (-x, y)]


def _flat(pen: Pen, x: float = 1.0, y: float = 0.0) -> Entity:
    return pen.make("IfcAxis2Placement2D", pen.point(0.0, 0.0), pen.direction(x, y))


def _rectangle(pen: Pen, x: float, y: float) -> Entity:
    return pen.make("IfcRectangleProfileDef", "AREA", None, _flat(pen), pen.long(x), pen.long(y))


def _solid(pen: Pen, profile: Entity, position: Frame, depth: float) -> Entity:
    up = pen.direction(0.0, 0.0, 1.0)
    return pen.make("IfcExtrudedAreaSolid", profile, pen.frame3d(position), up, pen.long(depth))


def _swept(pen: Pen, profile: Entity, position: Frame, depth: float) -> Entity:
    return _shape(pen, "Body", "SweptSolid", [_solid(pen, profile, position, depth)])


def _mapped(pen: Pen, item: Entity, style: str, target: Frame) -> Entity:
    inner = pen.make("IfcShapeRepresentation", pen.context, "Body", style, [item])
    source = pen.make("IfcRepresentationMap", pen.frame3d(np.eye(4)), inner)
    x, y, z = (pen.direction(*target[:3, i]) for i in range(3))
    operator = pen.make("IfcCartesianTransformationOperator3D", x, y, pen.point(*target[:3, 3]), 1.0, z)
    return _shape(pen, "Body", "MappedRepresentation", [pen.make("IfcMappedItem", source, operator)])


def _shape(pen: Pen, identifier: str, style: str, items: list[Any]) -> Entity:
    representation = pen.make("IfcShapeRepresentation", pen.context, identifier, style, items)
    return pen.make("IfcProductDefinitionShape", None, None, [representation])
