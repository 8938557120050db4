"""Writes curves, profiles and bodies for tests of geometry, one element at a time, in few lines. Lengths are in the file's unit."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import ifcopenshell

from checker.model import Vec
from checker.model.geometry import add, cross, distance, dot, scale, sub, unit
from checker.read.axes import Axis, carrier_axis
from checker.read.placements import WORLD, Frame
from checker.read.shapes import Shapes

Entity = Any
Numbers = Sequence[float]
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


@dataclass
class ShapePen:
    """Makes entities of one file."""

    release: str = "IFC4"
    file: Any = field(init=False)

    def __post_init__(self) -> None:
        self.file = ifcopenshell.file(schema=self.release)
        self.make = self.file.create_entity

    def point(self, *numbers: float) -> Entity:
        return self.make("IfcCartesianPoint", [float(number) for number in numbers])

    def direction(self, *ratios: float) -> Entity:
        return self.make("IfcDirection", [float(ratio) for ratio in ratios])

    def frame(self, origin: Numbers = (0.0, 0.0, 0.0), z: Numbers = Z, x: Numbers = X) -> Entity:
        return self.make("IfcAxis2Placement3D", self.point(*origin), self.direction(*z), self.direction(*x))

    def flat(self, origin: Numbers = (0.0, 0.0), x: Numbers = (1.0, 0.0)) -> Entity:
        return self.make("IfcAxis2Placement2D", self.point(*origin), self.direction(*x))

    def polyline(self, *points: Numbers) -> Entity:
        return self.make("IfcPolyline", [self.point(*point) for point in points])

    def closed(self, *points: Numbers) -> Entity:
        return self.polyline(*points, points[0])

    def circle(self, radius: float, position: Entity = None) -> Entity:
        return self.make("IfcCircle", position or self.frame(), float(radius))

    def line(self, origin: Numbers, along: Numbers, magnitude: float = 1.0) -> Entity:
        return self.make("IfcLine", self.point(*origin), self.make("IfcVector", self.direction(*along), magnitude))

    def trimmed(self, basis: Entity, start: Numbers | float, end: Numbers | float, *, sense: bool = True) -> Entity:
        """Trims that are numbers are parameters, others points."""
        trims = [
            [self.make("IfcParameterValue", float(trim)) if isinstance(trim, (int, float)) else self.point(*trim)]
            for trim in (start, end)
        ]
        by = "PARAMETER" if isinstance(start, (int, float)) else "CARTESIAN"
        return self.make("IfcTrimmedCurve", basis, *trims, sense, by)

    def composite(self, *parts: Entity | tuple[Entity, bool]) -> Entity:
        """Parts in order; one with False is run through backwards."""
        given = [part if isinstance(part, tuple) else (part, True) for part in parts]
        segments = [self.make("IfcCompositeCurveSegment", "CONTINUOUS", sense, curve) for curve, sense in given]
        return self.make("IfcCompositeCurve", segments, False)

    def indexed(self, points: Sequence[Numbers], *segments: Sequence[int]) -> Entity:
        """Segments of three numbers are arcs, of two lines; none: straight from point to point."""
        name = "IfcCartesianPointList3D" if len(points[0]) == 3 else "IfcCartesianPointList2D"
        coordinates = self.make(name, [[float(number) for number in point] for point in points])
        kinds = {2: "IfcLineIndex", 3: "IfcArcIndex"}
        made = [self.make(kinds[len(segment)], list(segment)) for segment in segments]
        return self.make("IfcIndexedPolyCurve", coordinates, made or None, False)

    def profile(self, name: str, *sizes: float, position: Entity = None) -> Entity:
        return self.make(name, "AREA", None, position or self.flat(), *(float(size) for size in sizes))

    def outline(self, curve: Entity, *holes: Entity) -> Entity:
        if holes:
            return self.make("IfcArbitraryProfileDefWithVoids", "AREA", None, curve, list(holes))
        return self.make("IfcArbitraryClosedProfileDef", "AREA", None, curve)

    def swept(self, profile: Entity, depth: float, position: Entity = None, up: Numbers = Z) -> Entity:
        return self.make("IfcExtrudedAreaSolid", profile, position or self.frame(), self.direction(*up), float(depth))

    def disk(self, curve: Entity, radius: float, inner: float | None = None) -> Entity:
        return self.make("IfcSweptDiskSolid", curve, float(radius), inner, None, None)

    def pipe(self, start: Numbers, end: Numbers, radius: float = 10.0) -> Entity:
        return self.disk(self.polyline(start, end), radius)

    def box(self, corner: Numbers, *sizes: float) -> Entity:
        return self.make("IfcBoundingBox", self.point(*corner), *(float(size) for size in sizes))

    def mesh(self, corners: Sequence[Vec]) -> Entity:
        """Faces over some corners; only the corners matter."""
        listed = self.make("IfcCartesianPointList3D", [list(corner) for corner in corners])
        faces = [[1, i, i + 1] for i in range(2, len(corners))]
        return self.make("IfcTriangulatedFaceSet", Coordinates=listed, CoordIndex=faces)

    def mapped(self, *items: Entity, origin: Numbers = (0.0, 0.0, 0.0), **operator: Any) -> Entity:
        inner = self.make("IfcShapeRepresentation", None, "Body", "SweptSolid", list(items))
        source = self.make("IfcRepresentationMap", self.frame(), inner)
        name = "IfcCartesianTransformationOperator3D"
        if "Scale2" in operator:
            name += "nonUniform"
        return self.make("IfcMappedItem", source, self.make(name, LocalOrigin=self.point(*origin), **operator))

    def element(self, *items: Entity, axis: Entity = None, identifier: str = "Body") -> Entity:
        """A carrier with some items as its body, and a curve as its axis."""
        shapes = [self.make("IfcShapeRepresentation", None, identifier, None, list(items))] if items else []
        if axis is not None:
            shapes.append(self.make("IfcShapeRepresentation", None, "Axis", "Curve3D", [axis]))
        shape = self.make("IfcProductDefinitionShape", None, None, shapes) if shapes else None
        return self.make("IfcCableCarrierSegment", GlobalId="0" * 22, Representation=shape)

    def read(self, *items: Entity, axis: Entity = None, ports: Sequence[Vec] = (), frame: Frame = WORLD) -> Axis:
        """What is read of a carrier with such a body."""
        return carrier_axis(Shapes(), self.element(*items, axis=axis), frame, ports, 1.0)


def prism(outline: Sequence[tuple[float, float]], length: float) -> list[Vec]:
    """The corners of an outline in YZ that is moved along X, its middle at the origin."""
    return [(x, y, z) for x in (-length / 2.0, length / 2.0) for y, z in outline]


def rectangle(width: float, height: float) -> list[tuple[float, float]]:
    """The corners of a rectangle around the origin."""
    return [(i * width / 2.0, j * height / 2.0) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))]


def polygon(radius: float, corners: int, first_deg: float = 0.0) -> list[tuple[float, float]]:
    """Corners on a circle."""
    angles = [math.radians(first_deg) + 2.0 * math.pi * i / corners for i in range(corners)]
    return [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]


def turned(points: Sequence[Vec], axis: Vec, angle_deg: float, origin: Vec = (0.0, 0.0, 0.0)) -> list[Vec]:
    """Points turned about an axis through the origin (Rodrigues' formula), then moved."""
    k = unit(axis) or Z
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return [
        add(origin, add(add(scale(p, cos), scale(cross(k, p), sin)), scale(k, dot(k, p) * (1.0 - cos)))) for p in points
    ]


def assert_way(axis: Axis, *points: Vec, within: float = 1e-6) -> None:
    """The axis has these points, in this order or the other; its length is that of the way between them."""
    found = axis.points_mm
    assert len(found) == len(points), found
    apart = min(max(map(distance, found, way)) for way in (points, points[::-1]))
    assert apart <= within, found
    length = sum(distance(a, b) for a, b in itertools.pairwise(points))
    assert axis.length_mm is not None
    assert abs(axis.length_mm - length) <= within * len(points)


def same_line(one: Vec, other: Vec) -> bool:
    """Whether two directions are the same or opposite, to a millionth."""
    return min(distance(one, other), distance(one, sub((0.0, 0.0, 0.0), other))) <= 1e-6
