"""How one thing is written as IFC2X3 in feet: identities, placements, curves and bodies. What lies where is not known here."""

import math
import uuid
from collections.abc import Sequence
from itertools import pairwise
from typing import TypeAlias

import ifcopenshell
import ifcopenshell.guid
from shop_plan import Point

Entity: TypeAlias = ifcopenshell.entity_instance

# An own name space, so that the same tag gives the same GlobalId in every build and no other model's.
IDENTITIES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:wayroom:sample-model:workshop")
PRISM_SIDES = 12
INCHES_IN_FOOT = 12.0


def global_id(what: str) -> str:
    """Return the GlobalId that belongs to `what`, always the same."""
    return str(ifcopenshell.guid.compress(uuid.uuid5(IDENTITIES, what).hex))


def minus(a: Point, b: Point) -> Point:
    """Return the vector from `b` to `a`."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def between(start: Point, end: Point, distance: float) -> Point:
    """Return the point so far from `start` on the way to `end`."""
    share = distance / math.dist(start, end)
    x, y, z = (a + (b - a) * share for a, b in zip(start, end, strict=True))
    return (x, y, z)


def block_of(start: Point, end: Point, size_ft: Sequence[float]) -> tuple[Point, Point]:
    """Return opposite corners of a straight length along one of the building's axes; its width lies level, its height up.

    Of an upright one the width lies along x.
    """
    half = (size_ft[0] / 2, (size_ft[1] if len(size_ft) > 1 else size_ft[0]) / 2)
    along = max(range(3), key=lambda i: abs(end[i] - start[i]))
    width = 1 if along == 0 else 0
    aside = [0.0, 0.0, 0.0]
    aside[width] = half[0]
    aside[3 - along - width] = half[1]
    low = tuple(min(a, b) - c for a, b, c in zip(start, end, aside, strict=True))
    high = tuple(max(a, b) + c for a, b, c in zip(start, end, aside, strict=True))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


class Parts:
    """Writes geometry into one file, and shares the directions and points that repeat."""

    def __init__(self, file: ifcopenshell.file) -> None:
        self.file = file
        self._shared: dict[tuple[str, tuple[float, ...]], Entity] = {}
        self.history: Entity | None = None

    def make(self, entity: str, **attributes: object) -> Entity:
        """Create one entity."""
        return self.file.create_entity(entity, **attributes)

    def root(self, entity: str, what: str, **attributes: object) -> Entity:
        """Create one entity with the identity that belongs to `what`."""
        return self.make(entity, GlobalId=global_id(what), OwnerHistory=self.history, **attributes)

    def value(self, measure: str, value: object) -> Entity:
        """Create one value of a measure, such as an IfcLabel."""
        return self.file.create_entity(measure, value)

    def _share(self, entity: str, values: Sequence[float]) -> Entity:
        # Adding 0.0 turns -0.0 into 0.0; twelve digits are far below what a drawing means.
        key = (entity, tuple(round(float(value), 12) + 0.0 for value in values))
        if key not in self._shared:
            self._shared[key] = self.file.create_entity(entity, key[1])
        return self._shared[key]

    def point(self, *values: float) -> Entity:
        """Return a point."""
        return self._share("IfcCartesianPoint", values)

    def towards(self, *values: float) -> Entity:
        """Return a direction."""
        return self._share("IfcDirection", values)

    def axes(self, origin: Point, turned_deg: float = 0.0) -> Entity:
        """Return a 3D placement, turned about the vertical."""
        turn = math.radians(turned_deg)
        return self.make(
            "IfcAxis2Placement3D",
            Location=self.point(*origin),
            Axis=self.towards(0.0, 0.0, 1.0),
            RefDirection=self.towards(math.cos(turn), math.sin(turn), 0.0),
        )

    def placement(self, relative_to: Entity | None, origin: Point, turned_deg: float = 0.0) -> Entity:
        """Return a local placement."""
        return self.make(
            "IfcLocalPlacement", PlacementRelTo=relative_to, RelativePlacement=self.axes(origin, turned_deg)
        )

    def line(self, points: Sequence[Point]) -> Entity:
        """Return a line of straight pieces."""
        return self.make("IfcPolyline", Points=[self.point(*point) for point in points])

    def disk(self, directrix: Entity, diameter_in: float, inner_in: float | None = None, end: float = 1.0) -> Entity:
        """Return a round body along a curve; `end` is the curve's parameter at its end."""
        return self.make(
            "IfcSweptDiskSolid",
            Directrix=directrix,
            Radius=diameter_in / 2 / INCHES_IN_FOOT,
            InnerRadius=None if inner_in is None else inner_in / 2 / INCHES_IN_FOOT,
            StartParam=0.0,
            EndParam=end,
        )

    def disks(self, points: Sequence[Point], diameter_in: float, inner_in: float | None) -> list[Entity]:
        """Return a round body for each straight piece."""
        return [self.disk(self.line(pair), diameter_in, inner_in) for pair in pairwise(points)]

    def quarter(self, start: Point, corner: Point, end: Point, *, by_angle: bool) -> Entity:
        """Return a quarter circle that touches both legs of a corner, trimmed by angles (in degrees) or by points."""
        radius = math.dist(start, corner)
        middle = tuple(a + b - c for a, b, c in zip(start, end, corner, strict=True))
        first = tuple((a - m) / radius for a, m in zip(start, middle, strict=True))
        second = tuple((b - m) / radius for b, m in zip(end, middle, strict=True))
        normal = tuple(first[i - 2] * second[i - 1] - first[i - 1] * second[i - 2] for i in range(3))
        position = self.make(
            "IfcAxis2Placement3D",
            Location=self.point(*middle),
            Axis=self.towards(*normal),
            RefDirection=self.towards(*first),
        )
        trims = (self.point(*start), self.point(*end))
        if by_angle:
            trims = (self.value("IfcParameterValue", 0.0), self.value("IfcParameterValue", 90.0))
        return self.make(
            "IfcTrimmedCurve",
            BasisCurve=self.make("IfcCircle", Position=position, Radius=radius),
            Trim1=(trims[0],),
            Trim2=(trims[1],),
            SenseAgreement=True,
            MasterRepresentation="PARAMETER" if by_angle else "CARTESIAN",
        )

    def rounded(self, points: Sequence[Point], radius: float) -> Entity:
        """Return a line, a quarter circle and a line, of the two ends and the corner between them."""
        start, corner, end = points
        first, second = (between(corner, point, radius) for point in (start, end))
        pieces = [
            self.line((start, first)),
            self.quarter(first, corner, second, by_angle=True),
            self.line((second, end)),
        ]
        segments = [
            self.make("IfcCompositeCurveSegment", Transition="CONTSAMEGRADIENT", SameSense=True, ParentCurve=piece)
            for piece in pieces
        ]
        return self.make("IfcCompositeCurve", Segments=segments, SelfIntersect=False)

    def bounding_box(self, low: Point, high: Point) -> Entity:
        """Return a bounding box."""
        x, y, z = minus(high, low)
        return self.make("IfcBoundingBox", Corner=self.point(*low), XDim=x, YDim=y, ZDim=z)

    def faceted(self, faces: Sequence[Sequence[Point]]) -> Entity:
        """Return a faceted body of plane faces."""
        made = []
        for face in faces:
            loop = self.make("IfcPolyLoop", Polygon=[self.point(*point) for point in face])
            bound = self.make("IfcFaceOuterBound", Bound=loop, Orientation=True)
            made.append(self.make("IfcFace", Bounds=[bound]))
        return self.make("IfcFacetedBrep", Outer=self.make("IfcClosedShell", CfsFaces=made))

    def block(self, low: Point, high: Point) -> Entity:
        """Return a faceted block."""
        (a, b, c), (d, e, f) = low, high
        floor, top = [(a, b), (d, b), (d, e), (a, e)], f
        return self._upright(floor, c, top)

    def prism(self, start: Point, end: Point, diameter_in: float) -> Entity:
        """Return a faceted upright prism round a circle's place: two of its corners lie on the x axis, two on the y axis."""
        radius = diameter_in / 2 / INCHES_IN_FOOT
        angles = [2 * math.pi * number / PRISM_SIDES for number in range(PRISM_SIDES)]
        floor = [(start[0] + radius * math.cos(angle), start[1] + radius * math.sin(angle)) for angle in angles]
        return self._upright(floor, min(start[2], end[2]), max(start[2], end[2]))

    def _upright(self, floor: Sequence[tuple[float, float]], low: float, high: float) -> Entity:
        below = [(x, y, low) for x, y in floor]
        above = [(x, y, high) for x, y in floor]
        number = len(floor)
        sides = [(below[i], below[(i + 1) % number], above[(i + 1) % number], above[i]) for i in range(number)]
        return self.faceted([below[::-1], above, *sides])
