"""How carriers, fittings, ports and equipment are written as IFC4, and how ports are joined."""

import math
from collections.abc import Iterable

from vet_ifc_parts import Entity, Parts, direction, global_id, minus, width_direction
from vet_plan import CONDUIT, LADDER, STOREYS, TRAY, TRUNKING, TYPES, CarrierType, Equipment, Fitting, Point, Segment

SET_NAMES = {
    TRUNKING: "Pset_CableCarrierSegmentTypeCableTrunkingSegment",
    TRAY: "Pset_CableCarrierSegmentTypeCableTraySegment",
    LADDER: "Pset_CableCarrierSegmentTypeCableLadderSegment",
    CONDUIT: "Pset_CableCarrierSegmentTypeConduitSegment",
}
CONDUIT_SHAPES = ("CIRCULAR", "OVAL", "OTHER", "NOTKNOWN", "UNSET")


class Network:
    """Writes the containment of one building; ports are kept by name so that they can be joined afterwards."""

    def __init__(self, parts: Parts, body: Entity, storeys: list[Entity]) -> None:
        self.parts = parts
        self.body = body
        self.storeys = storeys
        self.segments: dict[str, Segment] = {}
        self.ports: dict[str, Entity] = {}
        self.contained: list[list[Entity]] = [[] for _ in storeys]
        self.types: dict[str, Entity] = {}

    def type_objects(self) -> None:
        """Write one type object for each size, with its property set and its material."""
        make = self.parts.make
        steel = make("IfcMaterial", Name="Steel", Category="steel")
        for key, kind in TYPES.items():
            self.types[key] = make(
                "IfcCableCarrierSegmentType",
                GlobalId=global_id(f"type {key}"),
                Name=kind.name,
                HasPropertySets=(self._property_set(key, kind),),
                PredefinedType=kind.predefined_type,
            )
        make(
            "IfcRelAssociatesMaterial",
            GlobalId=global_id("material steel"),
            RelatedObjects=list(self.types.values()),
            RelatingMaterial=steel,
        )

    def _property_set(self, key: str, kind: CarrierType) -> Entity:
        properties = [
            self._value("NominalWidth", "IfcPositiveLengthMeasure", kind.width_mm),
            self._value("NominalHeight", "IfcPositiveLengthMeasure", kind.height_mm),
        ]
        if kind.predefined_type == TRUNKING:
            properties.append(self._value("NumberOfCompartments", "IfcInteger", len(kind.dividers_at_mm) + 1))
        elif kind.predefined_type == TRAY:
            properties.append(self._value("HasCover", "IfcBoolean", False))
        elif kind.predefined_type == LADDER:
            properties.append(self._value("LadderConfiguration", "IfcText", "straight, rungs at 300 mm"))
        else:
            properties += [self._conduit_shape(), self._value("IsRigid", "IfcBoolean", True)]
        return self.parts.make(
            "IfcPropertySet",
            GlobalId=global_id(f"properties {key}"),
            Name=SET_NAMES[kind.predefined_type],
            HasProperties=properties,
        )

    def _value(self, name: str, measure: str, value: object) -> Entity:
        nominal = self.parts.value(measure, value)
        return self.parts.make("IfcPropertySingleValue", Name=name, NominalValue=nominal)

    def _conduit_shape(self) -> Entity:
        make, value = self.parts.make, self.parts.value
        labels = [value("IfcLabel", shape) for shape in CONDUIT_SHAPES]
        choices = make("IfcPropertyEnumeration", Name="PEnum_ConduitShapeType", EnumerationValues=labels)
        return make(
            "IfcPropertyEnumeratedValue",
            Name="ConduitShapeType",
            EnumerationValues=[value("IfcLabel", "CIRCULAR")],
            EnumerationReference=choices,
        )

    def _shape(self, solids: Iterable[Entity], representation_type: str = "SweptSolid") -> Entity:
        shape = self.parts.make(
            "IfcShapeRepresentation",
            ContextOfItems=self.body,
            RepresentationIdentifier="Body",
            RepresentationType=representation_type,
            Items=list(solids),
        )
        return self.parts.make("IfcProductDefinitionShape", Representations=[shape])

    def _on_storey(self, storey: int, point: Point) -> Point:
        return (point[0], point[1], point[2] - STOREYS[storey][1])

    def add_segment(self, segment: Segment) -> None:
        """Write one segment: extruded along its own Z from its start, its width along its own X, a port at each end."""
        kind = TYPES[segment.type_key]
        axis = direction(segment.start, segment.end)
        length = math.dist(segment.start, segment.end)
        start = self._on_storey(segment.storey, segment.start)
        storey = self.storeys[segment.storey]
        placement = self.parts.placement(storey.ObjectPlacement, start, axis, width_direction(axis))
        element = self.parts.make(
            "IfcCableCarrierSegment",
            GlobalId=global_id(segment.tag),
            Name=f"{kind.name} {segment.tag}",
            ObjectPlacement=placement,
            Representation=self._shape(self.parts.length_of(kind, length)),
            Tag=segment.tag,
            PredefinedType=kind.predefined_type,
        )
        self.segments[segment.tag] = segment
        self.contained[segment.storey].append(element)
        ends = (
            (f"{segment.tag}:start", (0.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
            (f"{segment.tag}:end", (0.0, 0.0, length), (0.0, 0.0, 1.0)),
        )
        self._nest_ports(segment.tag, element, ends)

    def add_fitting(self, fitting: Fitting) -> None:
        """Write one fitting or box at its centre, in the building's axes, with a port at each end that it joins."""
        placement = self.parts.placement(
            self.storeys[fitting.storey].ObjectPlacement, self._on_storey(fitting.storey, fitting.centre)
        )
        arms = [(TYPES[self.segments[join.split(":")[0]].type_key], self._arm(fitting, join)) for join in fitting.joins]
        shape = self._fitting_shape(fitting, arms)
        common = {
            "GlobalId": global_id(fitting.tag),
            "Name": f"{fitting.kind.capitalize()} {fitting.tag}",
            "ObjectPlacement": placement,
            "Representation": shape,
            "Tag": fitting.tag,
        }
        if fitting.box_mm:
            carries_data = any(kind.key.startswith("data") for kind, _ in arms)
            element = self.parts.make("IfcJunctionBox", **common, PredefinedType="DATA" if carries_data else "POWER")
        else:
            element = self.parts.make("IfcCableCarrierFitting", **common, PredefinedType=fitting.kind)
        self.contained[fitting.storey].append(element)
        ends = [
            (f"{fitting.tag}>{join}", arm, direction((0.0, 0.0, 0.0), arm))
            for join, (_, arm) in zip(fitting.joins, arms, strict=True)
        ]
        self._nest_ports(fitting.tag, element, ends)

    def _arm(self, fitting: Fitting, join: str) -> Point:
        tag, end = join.split(":")
        segment = self.segments[tag]
        return minus(segment.start if end == "start" else segment.end, fitting.centre)

    def _fitting_shape(self, fitting: Fitting, arms: list[tuple[CarrierType, Point]]) -> Entity:
        if fitting.box_mm:
            return self._shape([self.parts.block(fitting.box_mm)])
        if fitting.kind == "BEND" and all(kind.predefined_type == CONDUIT for kind, _ in arms):
            bend = self.parts.conduit_bend(arms[0][0], arms[0][1], arms[1][1])
            return self._shape([bend], "AdvancedSweptSolid")
        solids: list[Entity] = []
        for kind, arm in arms:
            axis = direction((0.0, 0.0, 0.0), arm)
            length = math.dist((0.0, 0.0, 0.0), arm)
            solids += self.parts.length_of(kind, length, (0.0, 0.0, 0.0), axis, width_direction(axis))
        return self._shape(solids)

    def _nest_ports(self, tag: str, element: Entity, ends: Iterable[tuple[str, Point, Point]]) -> None:
        ports = []
        for name, at, outward in ends:
            placement = self.parts.placement(element.ObjectPlacement, at, outward, width_direction(outward))
            self.ports[name] = self.parts.make(
                "IfcDistributionPort",
                GlobalId=global_id(f"port {name}"),
                Name=name,
                ObjectPlacement=placement,
                FlowDirection="SOURCEANDSINK",
                PredefinedType="CABLECARRIER",
                SystemType="ELECTRICAL",
            )
            ports.append(self.ports[name])
        self.parts.make(
            "IfcRelNests", GlobalId=global_id(f"ports of {tag}"), RelatingObject=element, RelatedObjects=ports
        )

    def join(self, first: str, second: str) -> None:
        """Join two ports by name."""
        self.parts.make(
            "IfcRelConnectsPorts",
            GlobalId=global_id(f"joint {first} {second}"),
            RelatingPort=self.ports[first],
            RelatedPort=self.ports[second],
        )

    def add_equipment(self, item: Equipment) -> None:
        """Write one piece of equipment as a block round its centre, with a port at each end that opens into it."""
        placement = self.parts.placement(
            self.storeys[item.storey].ObjectPlacement, self._on_storey(item.storey, item.centre)
        )
        element = self.parts.make(
            item.ifc_class,
            GlobalId=global_id(item.tag),
            Name=item.name,
            ObjectType=item.name if item.predefined_type == "USERDEFINED" else None,
            ObjectPlacement=placement,
            Representation=self._shape([self.parts.block(item.size_mm)]),
            Tag=item.tag,
            PredefinedType=item.predefined_type,
        )
        self.contained[item.storey].append(element)
        ends = []
        for join in item.joins:
            tag, end = join.split(":")
            segment = self.segments[tag]
            at, beyond = (segment.start, segment.end) if end == "start" else (segment.end, segment.start)
            ends.append((f"{item.tag}>{join}", minus(at, item.centre), direction(at, beyond)))
        if ends:
            self._nest_ports(item.tag, element, ends)

    def finish(self) -> None:
        """Write what holds for many at once: which type each segment has, and what each storey contains."""
        made = {element.Tag: element for storey in self.contained for element in storey}
        for key, type_object in self.types.items():
            members = [made[tag] for tag, segment in self.segments.items() if segment.type_key == key]
            self.parts.make(
                "IfcRelDefinesByType",
                GlobalId=global_id(f"typing {key}"),
                RelatedObjects=members,
                RelatingType=type_object,
            )
        for storey, elements in zip(self.storeys, self.contained, strict=True):
            self.parts.make(
                "IfcRelContainedInSpatialStructure",
                GlobalId=global_id(f"contents of {storey.Name}"),
                RelatedElements=elements,
                RelatingStructure=storey,
            )
