"""How one thing is written as IFC4: identities, placements, sections and solids. What lies where is not known here."""

import math
import uuid
from collections.abc import Sequence
from typing import TypeAlias

import ifcopenshell
import ifcopenshell.guid
from vet_plan import CONDUIT, LADDER, TRAY, CarrierType, Point

Entity: TypeAlias = ifcopenshell.entity_instance
Vector = tuple[float, float, float]

UP: Vector = (0.0, 0.0, 1.0)
EAST: Vector = (1.0, 0.0, 0.0)
RUNG_EVERY_MM, RUNG_MM = 300.0, 20.0

# An own name space, so that the same tag gives the same GlobalId in every build and no other model's.
IDENTITIES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:wayroom:sample-model:vet-practice")


def global_id(what: str) -> str:
    """Return the GlobalId that belongs to `what`, always the same."""
    return str(ifcopenshell.guid.compress(uuid.uuid5(IDENTITIES, what).hex))


def minus(a: Point, b: Point) -> Point:
    """Return the vector from `b` to `a`."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def direction(start: Point, end: Point) -> Vector:
    """Return the unit vector from `start` to `end`."""
    x, y, z = minus(end, start)
    length = math.dist(start, end)
    return (x / length, y / length, z / length)


def width_direction(axis: Vector) -> Vector:
    """Return where the width of a section points: level, and such that the height of a level run points up."""
    if abs(axis[2]) > 0.5:
        return EAST
    return (-axis[1], axis[0], 0.0)


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
        # Adding 0.0 turns -0.0 into 0.0, which keeps the file plain to read.
        key = (entity, tuple(float(value) + 0.0 for value in values))
        if key not in self._shared:
            self._shared[key] = self.file.create_entity(entity, key[1])
        return self._shared[key]

    def point(self, *values: float) -> Entity:
        """Return a point, 2D or 3D."""
        return self._share("IfcCartesianPoint", values)

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
        return self.make(
            "IfcLocalPlacement", PlacementRelTo=relative_to, RelativePlacement=self.axes(origin, axis, width)
        )

    def rectangle(self, width: float, height: float, x: float = 0.0, y: float = 0.0) -> Entity:
        """Return a solid rectangular profile whose middle is at (x, y)."""
        position = self.make("IfcAxis2Placement2D", Location=self.point(x, y))
        return self.make("IfcRectangleProfileDef", ProfileType="AREA", Position=position, XDim=width, YDim=height)

    def extrude(self, profile: Entity, depth: float, origin: Point, axis: Vector = UP, width: Vector = EAST) -> Entity:
        """Return `profile` extruded from `origin` along `axis`."""
        return self.make(
            "IfcExtrudedAreaSolid",
            SweptArea=profile,
            Position=self.axes(origin, axis, width),
            ExtrudedDirection=self.towards(0.0, 0.0, 1.0),
            Depth=float(depth),
        )

    def block(self, size: Point, centre: Point = (0.0, 0.0, 0.0)) -> Entity:
        """Return a block whose middle is `centre`."""
        x, y, z = centre
        return self.extrude(self.rectangle(size[0], size[1]), size[2], (x, y, z - size[2] / 2))

    def section(self, kind: CarrierType) -> Entity:
        """Return the profile of a carrier: X is its width, Y its height, the origin the middle of its outline."""
        middle = self.make("IfcAxis2Placement2D", Location=self.point(0.0, 0.0))
        if kind.predefined_type == CONDUIT:
            return self.make(
                "IfcCircleHollowProfileDef",
                ProfileType="AREA",
                ProfileName=kind.name,
                Position=middle,
                Radius=kind.width_mm / 2,
                WallThickness=kind.wall_mm,
            )
        if kind.predefined_type == TRAY:
            # A U's web stands upright in its own axes: turned by a right angle the web is the tray's floor, the
            # flanges are its sides, and the open side is up.
            turned = self.make(
                "IfcAxis2Placement2D", Location=self.point(0.0, 0.0), RefDirection=self.towards(0.0, 1.0)
            )
            return self.make(
                "IfcUShapeProfileDef",
                ProfileType="AREA",
                ProfileName=kind.name,
                Position=turned,
                Depth=kind.width_mm,
                FlangeWidth=kind.height_mm,
                WebThickness=kind.wall_mm,
                FlangeThickness=kind.wall_mm,
            )
        return self.make(
            "IfcRectangleHollowProfileDef",
            ProfileType="AREA",
            ProfileName=kind.name,
            Position=middle,
            XDim=kind.width_mm,
            YDim=kind.height_mm,
            WallThickness=kind.wall_mm,
        )

    def length_of(
        self, kind: CarrierType, length: float, origin: Point = (0.0, 0.0, 0.0), axis: Vector = UP, width: Vector = EAST
    ) -> list[Entity]:
        """Return the solids of a straight length of a carrier: the body, then its dividers, or rails and rungs."""
        if kind.predefined_type == LADDER:
            return self._ladder(kind, length, origin, axis, width)
        inside_height = kind.height_mm - 2 * kind.wall_mm
        dividers = [self.rectangle(kind.wall_mm, inside_height, x=at) for at in kind.dividers_at_mm]
        return [self.extrude(profile, length, origin, axis, width) for profile in (self.section(kind), *dividers)]

    def _ladder(self, kind: CarrierType, length: float, origin: Point, axis: Vector, width: Vector) -> list[Entity]:
        rail_at = (kind.width_mm - kind.wall_mm) / 2
        rails = [self.rectangle(kind.wall_mm, kind.height_mm, x=x) for x in (-rail_at, rail_at)]
        solids = [self.extrude(profile, length, origin, axis, width) for profile in rails]
        # Rungs lie at the back: what is left in front of them, 60 - 20 = 40 mm, is the depth that cables may use.
        inside, back = kind.width_mm - 2 * kind.wall_mm, (RUNG_MM - kind.height_mm) / 2
        for number in range(int((length - RUNG_MM) // RUNG_EVERY_MM) + 1):
            along = number * RUNG_EVERY_MM
            at = (origin[0] + axis[0] * along, origin[1] + axis[1] * along, origin[2] + axis[2] * along)
            solids.append(self.extrude(self.rectangle(inside, RUNG_MM, y=back), RUNG_MM, at, axis, width))
        return solids

    def conduit_bend(self, kind: CarrierType, first: Vector, second: Vector) -> Entity:
        """Return a bent piece of conduit between two points given from the corner, touching both axes."""
        # Centre of the arc is first + second; its middle lies on the way from there to the corner.
        radius = math.dist(first, (0.0, 0.0, 0.0))
        pull = 1.0 - 1.0 / math.sqrt(2.0)
        middle = tuple(round((a + b) * pull, 6) for a, b in zip(first, second, strict=True))
        points = self.make("IfcCartesianPointList3D", CoordList=(first, middle, second))
        curve = self.make("IfcIndexedPolyCurve", Points=points, Segments=(self.value("IfcArcIndex", (1, 2, 3)),))
        if not math.isclose(radius, math.dist(second, (0.0, 0.0, 0.0))):
            raise ValueError(f"a bend of {kind.name} needs two arms of one length, got {first} and {second}")
        return self.make(
            "IfcSweptDiskSolid",
            Directrix=curve,
            Radius=kind.width_mm / 2,
            InnerRadius=kind.width_mm / 2 - kind.wall_mm,
        )
