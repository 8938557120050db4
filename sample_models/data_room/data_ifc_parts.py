"""Writes points, placements, profiles and solids in metres. What lies where is not known here; all lengths come in millimetres."""

import math
import uuid
from collections.abc import Sequence
from typing import TypeAlias

import ifcopenshell
import ifcopenshell.guid
from data_plan import PIECE_MM, RAIL_MM, RUNG_MM, CarrierType, Point

Entity: TypeAlias = ifcopenshell.entity_instance
Vector = tuple[float, float, float]

UP: Vector = (0.0, 0.0, 1.0)
EAST: Vector = (1.0, 0.0, 0.0)
ORIGIN: Point = (0.0, 0.0, 0.0)

# An own name space, so that the same tag gives the same GlobalId in every build and no other model's.
IDENTITIES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:wayroom:sample-model:data-room")


def global_id(what: str) -> str:
    """Return the GlobalId that belongs to `what`, always the same."""
    return str(ifcopenshell.guid.compress(uuid.uuid5(IDENTITIES, what).hex))


def metres(value_mm: float) -> float:
    """Return millimetres as metres, without the last bits of a division. Adding 0.0 turns -0.0 into 0.0."""
    return round(value_mm / 1000.0, 9) + 0.0


def minus(a: Point, b: Point) -> Point:
    """Return the vector from `b` to `a`."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def plus(a: Point, *others: Point) -> Point:
    """Return the sum of some vectors."""
    return (
        a[0] + sum(other[0] for other in others),
        a[1] + sum(other[1] for other in others),
        a[2] + sum(other[2] for other in others),
    )


def times(a: Point, factor: float) -> Point:
    """Return a vector so many times as long."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def direction(start: Point, end: Point) -> Vector:
    """Return the unit vector from `start` to `end`."""
    return times(minus(end, start), 1.0 / math.dist(start, end))


def width_direction(axis: Vector) -> Vector:
    """Return where the width of a section points: level, and such that the height of a level run points up."""
    return EAST if abs(axis[2]) > 0.5 else (-axis[1], axis[0], 0.0)


def cross(a: Vector, b: Vector) -> Vector:
    """Return the vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


class Parts:
    """Writes geometry into one file, and shares the directions and points that repeat."""

    def __init__(self, file: ifcopenshell.file) -> None:
        self.file = file
        self._shared: dict[tuple[str, tuple[float, ...]], Entity] = {}

    def make(self, entity: str, **attributes: object) -> Entity:
        """Create one entity."""
        return self.file.create_entity(entity, **attributes)

    def value(self, measure: str, value: object) -> Entity:
        """Create one value of a measure, such as an IfcLabel."""
        return self.file.create_entity(measure, value)

    def _share(self, entity: str, values: Sequence[float]) -> Entity:
        key = (entity, tuple(round(value, 9) + 0.0 for value in values))
        if key not in self._shared:
            self._shared[key] = self.file.create_entity(entity, key[1])
        return self._shared[key]

    def point(self, *values_mm: float) -> Entity:
        """Return a point, 2D or 3D."""
        return self._share("IfcCartesianPoint", [metres(value) for value in values_mm])

    def towards(self, *values: float) -> Entity:
        """Return a direction, 2D or 3D."""
        return self._share("IfcDirection", values)

    def axes(self, origin: Point, axis: Vector = UP, width: Vector = EAST) -> Entity:
        """Return a 3D placement whose Z is `axis` and whose X is `width`."""
        return self.make(
            "IfcAxis2Placement3D",
            Location=self.point(*origin),
            Axis=self.towards(*axis),
            RefDirection=self.towards(*width),
        )

    def placement(self, relative_to: Entity | None, origin: Point, axis: Vector = UP, width: Vector = EAST) -> Entity:
        """Return a local placement."""
        place = self.axes(origin, axis, width)
        return self.make("IfcLocalPlacement", PlacementRelTo=relative_to, RelativePlacement=place)

    def _middle(self, x_mm: float = 0.0, y_mm: float = 0.0, *, turned: bool = False) -> Entity:
        reference = self.towards(0.0, 1.0) if turned else None
        return self.make("IfcAxis2Placement2D", Location=self.point(x_mm, y_mm), RefDirection=reference)

    def rectangle(self, x_mm: float, y_mm: float, at_x_mm: float = 0.0, at_y_mm: float = 0.0) -> Entity:
        """Return a solid rectangular profile whose middle is at the given place."""
        return self.make(
            "IfcRectangleProfileDef",
            ProfileType="AREA",
            Position=self._middle(at_x_mm, at_y_mm),
            XDim=metres(x_mm),
            YDim=metres(y_mm),
        )

    def circle(self, diameter_mm: float) -> Entity:
        """Return a solid circular profile."""
        radius = metres(diameter_mm / 2)
        return self.make("IfcCircleProfileDef", ProfileType="AREA", Position=self._middle(), Radius=radius)

    def extrude(self, profile: Entity, depth_mm: float, origin: Point = ORIGIN) -> Entity:
        """Return `profile` extruded from `origin` along Z."""
        return self.make(
            "IfcExtrudedAreaSolid",
            SweptArea=profile,
            Position=self.axes(origin),
            ExtrudedDirection=self.towards(0.0, 0.0, 1.0),
            Depth=metres(depth_mm),
        )

    def block(self, size_mm: Point, centre: Point = ORIGIN) -> Entity:
        """Return a block whose middle is `centre`."""
        low = (centre[0], centre[1], centre[2] - size_mm[2] / 2)
        return self.extrude(self.rectangle(size_mm[0], size_mm[1]), size_mm[2], low)

    def section(self, kind: CarrierType) -> Entity:
        """Return the profile of a ladder: X is its width, Y its height, the origin the middle of its outline."""
        width, height = kind.width_mm, kind.height_mm
        if kind.shape == "solid":
            return self.rectangle(width, height)
        if kind.shape == "hollow":
            return self.make(
                "IfcRectangleHollowProfileDef",
                ProfileType="AREA",
                Position=self._middle(),
                XDim=metres(width),
                YDim=metres(height),
                WallThickness=metres(RAIL_MM),
            )
        if kind.shape == "u":
            # A U's web stands upright in its own axes: turned by a right angle the web is what the rungs make, the
            # flanges are the rails, and the open side is up.
            return self.make(
                "IfcUShapeProfileDef",
                ProfileType="AREA",
                Position=self._middle(turned=True),
                Depth=metres(width),
                FlangeWidth=metres(height),
                WebThickness=metres(RUNG_MM),
                FlangeThickness=metres(RAIL_MM),
            )
        x, y, rail = width / 2, height / 2, RAIL_MM
        inner = [(x - rail, y), (x - rail, RUNG_MM - y), (rail - x, RUNG_MM - y), (rail - x, y)]
        corners = [(-x, -y), (x, -y), (x, y), *inner, (-x, y), (-x, -y)]
        curve = self.make("IfcPolyline", Points=[self.point(*corner) for corner in corners])
        return self.make("IfcArbitraryClosedProfileDef", ProfileType="AREA", OuterCurve=curve)

    def trough(self, kind: CarrierType, start: Point, end: Point) -> Entity:
        """Return an open trough between two points as triangles: its floor and its two sides."""
        axis = direction(start, end)
        wide = times(width_direction(axis), kind.width_mm / 2)
        high = times(cross(axis, width_direction(axis)), kind.height_mm / 2)
        points = [
            plus(end_point, times(wide, side), times(high, level))
            for end_point in (start, end)
            for side in (-1.0, 1.0)
            for level in (-1.0, 1.0)
        ]
        # 1, 2: left below, above at the start; 3, 4: right below, above; 5 to 8: the same at the end
        faces = ((1, 3, 7), (1, 7, 5), (1, 5, 6), (1, 6, 2), (3, 4, 8), (3, 8, 7))
        listed = [tuple(metres(value) for value in point) for point in points]
        coordinates = self.make("IfcCartesianPointList3D", CoordList=listed)
        return self.make("IfcTriangulatedFaceSet", Coordinates=coordinates, Closed=False, CoordIndex=faces)

    def piece(self, kind: CarrierType, context: Entity) -> Entity:
        """Return the map of a piece that runs east from its origin, the middle of its end: a plan rectangle extruded upward."""
        profile = self.rectangle(PIECE_MM, kind.width_mm, at_x_mm=PIECE_MM / 2)
        solid = self.extrude(profile, kind.height_mm, (0.0, 0.0, -kind.height_mm / 2))
        shape = self.make(
            "IfcShapeRepresentation",
            ContextOfItems=context,
            RepresentationIdentifier="Body",
            RepresentationType="SweptSolid",
            Items=[solid],
        )
        return self.make("IfcRepresentationMap", MappingOrigin=self.axes(ORIGIN), MappedRepresentation=shape)

    def mapped(self, source: Entity, along: Vector) -> Entity:
        """Return an item that shows a map with its X turned to `along`, which is level."""
        target = self.make(
            "IfcCartesianTransformationOperator3D",
            Axis1=self.towards(*along),
            Axis2=self.towards(-along[1], along[0], 0.0),
            LocalOrigin=self.point(*ORIGIN),
            Scale=1.0,
            Axis3=self.towards(*UP),
        )
        return self.make("IfcMappedItem", MappingSource=source, MappingTarget=target)
