"""How carriers, bends, ports and equipment are written as IFC4X3, and how ports are joined."""

import math
from collections.abc import Iterable

from data_carriers import JOINTS, LOOSE_PORTS
from data_ifc_parts import (
    EAST,
    ORIGIN,
    UP,
    Entity,
    Parts,
    Vector,
    cross,
    direction,
    global_id,
    minus,
    times,
    width_direction,
)
from data_ifc_types import add_status, add_types
from data_plan import STOREYS, TYPES, CarrierType, Equipment, Fitting, Point, Segment

ALONG = {"u", "outline", "hollow", "solid"}
REPRESENTATIONS = {"mesh": "Tessellation", "piece": "MappedRepresentation"}


class Network:
    """Writes the containment of one building; ports are kept by name so that they can be joined afterwards."""

    def __init__(self, parts: Parts, body: Entity, storeys: list[Entity], spaces: dict[str, Entity]) -> None:
        self.parts = parts
        self.body = body
        self.storeys = storeys
        self.spaces = spaces
        self.segments: dict[str, Segment] = {}
        self.elements: dict[str, Entity] = {}
        self.ports: dict[str, Entity] = {}
        self.contained: dict[int, tuple[Entity, list[Entity]]] = {}
        self.types, self.maps = add_types(parts, body)
        self._by_status: dict[str, list[Entity]] = {}

    def local(self, storey: int, point: Point) -> Point:
        """Return a point in the axes of its storey."""
        return (point[0], point[1], point[2] - STOREYS[storey][1])

    def shape(self, items: Iterable[Entity], representation_type: str = "SweptSolid") -> Entity:
        """Return a body."""
        shape = self.parts.make(
            "IfcShapeRepresentation",
            ContextOfItems=self.body,
            RepresentationIdentifier="Body",
            RepresentationType=representation_type,
            Items=list(items),
        )
        return self.parts.make("IfcProductDefinitionShape", Representations=[shape])

    def add_segment(self, segment: Segment) -> None:
        """Write one carrier segment, placed as its type's shape asks for, with ports where the plan has them."""
        kind = TYPES[segment.type_key]
        start, end = self.local(segment.storey, segment.start), self.local(segment.storey, segment.end)
        axis, length = direction(start, end), math.dist(start, end)
        origin, z, x = self._frame(segment, kind, start, end)
        item = self._item(segment, kind, start, end, axis, length) if segment.drawn else None
        word, object_type = segment.said or (kind.predefined_type, None)
        element = self.parts.make(
            "IfcCableCarrierSegment",
            GlobalId=global_id(segment.tag),
            Name=f"{kind.name} {segment.tag}" if kind.predefined_type != "NOTDEFINED" else segment.tag,
            ObjectType=object_type,
            ObjectPlacement=self.parts.placement(self.storeys[segment.storey].ObjectPlacement, origin, z, x),
            Representation=self.shape([item], REPRESENTATIONS.get(kind.shape, "SweptSolid")) if item else None,
            Tag=segment.tag,
            PredefinedType=word,
        )
        self.segments[segment.tag], self.elements[segment.tag] = segment, element
        self.contain(element, self.spaces[segment.space] if segment.space else self.storeys[segment.storey])
        self._by_status.setdefault(segment.status, []).append(element)
        wanted = {end for joint in JOINTS if joint.how in {"ports", "coincident"} for end in (joint.one, joint.other)}
        ends = (("start", start, times(axis, -1.0)), ("end", end, axis))
        found = [
            (f"{segment.tag}:{name}", self._in_frame(point, origin, z, x), self._turned(outward, z, x))
            for name, point, outward in ends
            if f"{segment.tag}:{name}" in {*wanted, *LOOSE_PORTS}
        ]
        self._nest_ports(segment.tag, element, found)

    def _frame(self, segment: Segment, kind: CarrierType, start: Point, end: Point) -> tuple[Point, Vector, Vector]:
        """Return origin, Z and X of an element in its storey, as different programs choose them."""
        if kind.shape in ALONG:
            axis = direction(start, end)
            return start, axis, width_direction(axis)
        if kind.shape == "plan":  # the middle of its underside, in the storey's own directions
            return ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, start[2] - kind.height_mm / 2), UP, EAST
        if kind.shape == "piece":  # of two pieces one is placed turned, the other's map is turned
            return start, UP, direction(start, end) if segment.tag == "BD-21" else EAST
        return ORIGIN if kind.shape == "mesh" else start, UP, EAST

    def _item(
        self, segment: Segment, kind: CarrierType, start: Point, end: Point, axis: Vector, length: float
    ) -> Entity:
        if kind.shape in ALONG:
            return self.parts.extrude(self.parts.section(kind), length)
        if kind.shape == "piece":
            return self.parts.mapped(self.maps[segment.type_key], EAST if segment.tag == "BD-21" else axis)
        if kind.shape == "mesh":
            return self.parts.trough(kind, start, end)
        east, north = abs(end[0] - start[0]), abs(end[1] - start[1])
        return self.parts.extrude(self.parts.rectangle(east or kind.width_mm, north or kind.width_mm), kind.height_mm)

    @staticmethod
    def _turned(vector: Point, z: Vector, x: Vector) -> Point:
        a, b, c = (sum(p * q for p, q in zip(vector, along, strict=True)) for along in (x, cross(z, x), z))
        return (a, b, c)

    def _in_frame(self, point: Point, origin: Point, z: Vector, x: Vector) -> Point:
        return self._turned(minus(point, origin), z, x)

    def contain(self, element: Entity, structure: Entity) -> None:
        """List an element in a storey or a room."""
        self.contained.setdefault(structure.id(), (structure, []))[1].append(element)

    def add_fitting(self, fitting: Fitting) -> None:
        """Write one bend as a block round its centre, with a port at each end that the plan joins to it by ports."""
        centre = self.local(fitting.storey, fitting.centre)
        element = self.parts.make(
            "IfcCableCarrierFitting",
            GlobalId=global_id(fitting.tag),
            Name=f"Bend {fitting.tag}",
            ObjectPlacement=self.parts.placement(self.storeys[fitting.storey].ObjectPlacement, centre),
            Representation=self.shape([self.parts.block(fitting.size_mm)]),
            Tag=fitting.tag,
            PredefinedType="BEND",
        )
        self.contain(element, self.storeys[fitting.storey])
        self._nest_ports(fitting.tag, element, self._own_ports(fitting.tag, fitting.centre))

    def add_equipment(self, item: Equipment) -> None:
        """Write one piece of equipment as a block round its centre, with a port at each end that opens into it."""
        centre = self.local(item.storey, item.centre)
        element = self.parts.make(
            item.ifc_class,
            GlobalId=global_id(item.tag),
            Name=item.name,
            ObjectPlacement=self.parts.placement(self.storeys[item.storey].ObjectPlacement, centre),
            Representation=self.shape([self.parts.block(item.size_mm)]),
            Tag=item.tag,
            PredefinedType=item.predefined_type,
        )
        self.contain(element, self.spaces[item.space])
        self._nest_ports(item.tag, element, self._own_ports(item.tag, item.centre))

    def _own_ports(self, tag: str, centre: Point) -> list[tuple[str, Point, Point]]:
        found = []
        for joint in JOINTS:
            if joint.other == tag and joint.how in {"ports", "coincident"}:
                segment = self.segments[joint.one.split(":")[0]]
                at_start = joint.one.endswith(":start")
                here, beyond = (segment.start, segment.end) if at_start else (segment.end, segment.start)
                found.append((f"{tag}>{joint.one}", minus(here, centre), direction(here, beyond)))
        return found

    def _nest_ports(self, tag: str, element: Entity, ends: Iterable[tuple[str, Point, Point]]) -> None:
        made = []
        for name, at, outward in ends:
            self.ports[name] = self.parts.make(
                "IfcDistributionPort",
                GlobalId=global_id(f"port {name}"),
                Name=name,
                ObjectPlacement=self.parts.placement(element.ObjectPlacement, at, outward, width_direction(outward)),
                FlowDirection="SOURCEANDSINK",
                PredefinedType="CABLECARRIER",
                SystemType="ELECTRICAL",
            )
            made.append(self.ports[name])
        if made:
            nested = {"GlobalId": global_id(f"ports of {tag}"), "RelatingObject": element, "RelatedObjects": made}
            self.parts.make("IfcRelNests", **nested)

    def add_other(self, tag: str, name: str, ifc_class: str, word: str, ends: tuple[Point, Point], size: Point) -> None:
        """Write a length of another trade: a duct, or a pipe where it has no height."""
        start, end = self.local(1, ends[0]), self.local(1, ends[1])
        axis = direction(start, end)
        profile = self.parts.rectangle(size[0], size[1]) if size[1] else self.parts.circle(size[0])
        place = self.parts.placement(self.storeys[1].ObjectPlacement, start, axis, width_direction(axis))
        element = self.parts.make(
            ifc_class,
            GlobalId=global_id(tag),
            Name=name,
            ObjectPlacement=place,
            Representation=self.shape([self.parts.extrude(profile, math.dist(start, end))]),
            Tag=tag,
            PredefinedType=word,
        )
        self.contain(element, self.storeys[1])

    def finish(self) -> None:
        """Write what holds for many at once: which ports are connected, types, status, and what lies in storeys and rooms."""
        make = self.parts.make
        for joint in JOINTS:
            if joint.how == "ports":
                other = joint.other if ":" in joint.other else f"{joint.other}>{joint.one}"
                make(
                    "IfcRelConnectsPorts",
                    GlobalId=global_id(f"joint {joint.one} {joint.other}"),
                    RelatingPort=self.ports[joint.one],
                    RelatedPort=self.ports[other],
                )
        for key, type_object in self.types.items():
            members = [self.elements[tag] for tag, segment in self.segments.items() if segment.type_key == key]
            typing = {"GlobalId": global_id(f"typing {key}"), "RelatedObjects": members, "RelatingType": type_object}
            make("IfcRelDefinesByType", **typing)
        add_status(self.parts, self._by_status)
        for structure, members in self.contained.values():
            make(
                "IfcRelContainedInSpatialStructure",
                GlobalId=global_id(f"contents of {structure.Name}"),
                RelatedElements=members,
                RelatingStructure=structure,
            )
