"""How carriers, fittings, equipment and other trades' things are written as IFC2X3. There is not one port."""

from collections.abc import Sequence
from itertools import pairwise

from shop_ifc_parts import INCHES_IN_FOOT, Entity, Parts, block_of, minus
from shop_plan import STOREYS, TYPES, Equipment, Fitting, Point, Segment

NOWHERE: Point = (0.0, 0.0, 0.0)
SET_NAME = "Pset_CableCarrierSegmentTypeCableTrunkingSegment"


class Elements:
    """Writes what one building holds."""

    def __init__(self, parts: Parts, context: Entity, storeys: list[Entity]) -> None:
        self.parts = parts
        self.context = context
        self.storeys = storeys
        self.contained: list[list[Entity]] = [[] for _ in storeys]
        self._types: dict[tuple[str, str], Entity] = {}
        self._typed: dict[tuple[str, str], list[Entity]] = {}
        self._steel: list[Entity] = []

    def _shape(self, items: Sequence[Entity], identifier: str, kind: str) -> Entity:
        shape = self.parts.make(
            "IfcShapeRepresentation",
            ContextOfItems=self.context,
            RepresentationIdentifier=identifier,
            RepresentationType=kind,
            Items=list(items),
        )
        return self.parts.make("IfcProductDefinitionShape", Representations=[shape])

    def _place(self, storey: int, point: Point) -> Entity:
        level = (point[0], point[1], point[2] - STOREYS[storey][1])
        return self.parts.placement(self.storeys[storey].ObjectPlacement, level)

    def _element(
        self, ifc_class: str, tag: str, name: str, storey: int, at: Point, shape: Entity, **more: object
    ) -> Entity:
        element = self.parts.root(
            ifc_class, tag, Name=name, ObjectPlacement=self._place(storey, at), Representation=shape, Tag=tag, **more
        )
        self.contained[storey].append(element)
        return element

    def _type(self, ifc_class: str, name: str, element: Entity, **more: object) -> Entity:
        key = (ifc_class, name)
        if key not in self._types:
            self._types[key] = self.parts.root(ifc_class, f"type {name}", Name=name, **more)
            self._typed[key] = []
        self._typed[key].append(element)
        return self._types[key]

    def add_segment(self, segment: Segment) -> None:
        """Write one carrier segment at the start of its axis, in the building's directions."""
        start = segment.points[0]
        points = [minus(point, start) for point in segment.points]
        element = self._element(
            "IfcFlowSegment", segment.tag, segment.name, segment.storey, start, self._body(segment, points)
        )
        if segment.type_key:
            kind = TYPES[segment.type_key]
            sets = [self._nominal(kind.name, kind.nominal_in)] if kind.nominal_in else None
            self._type(
                "IfcCableCarrierSegmentType", kind.name, element,
                HasPropertySets=sets, PredefinedType=kind.predefined_type,
            )  # fmt: skip
        texts: dict[str, Entity] = {}
        if segment.fabricated_in:
            for name, size in zip(("Overall width", "Overall depth"), segment.fabricated_in, strict=True):
                texts[name] = self.parts.value("IfcReal", float(size))
        if segment.finish:
            texts["Finish"] = self.parts.value("IfcLabel", segment.finish)
        if texts:
            self._properties(element, "Fabrication", texts)
        if segment.is_steel:
            self._steel.append(element)

    def _body(self, segment: Segment, points: list[Point]) -> Entity:
        parts = self.parts
        if segment.shape == "axis":
            return self._shape([parts.line(points)], "Axis", "Curve3D")
        if segment.shape == "disk":
            return self._shape(
                [parts.disk(parts.line(points), segment.size_in[0], end=float(len(points) - 1))],
                "Body",
                "AdvancedSweptSolid",
            )
        if segment.shape == "disks":
            return self._shape(parts.disks(points, segment.size_in[0], segment.inner_in), "Body", "AdvancedSweptSolid")
        if segment.shape == "curve":
            curve = parts.rounded(points, segment.bend_ft)
            return self._shape([parts.disk(curve, segment.size_in[0], end=3.0)], "Body", "AdvancedSweptSolid")
        low, high = block_of(points[0], points[1], [size / INCHES_IN_FOOT for size in segment.size_in])
        if segment.shape == "box":
            return self._shape([parts.bounding_box(low, high)], "Box", "BoundingBox")
        is_round = len(segment.size_in) == 1
        solid = parts.prism(points[0], points[1], segment.size_in[0]) if is_round else parts.block(low, high)
        return self._shape([solid], "Body", "Brep")

    def _nominal(self, name: str, size_in: tuple[float, float]) -> Entity:
        parts = self.parts
        properties = [
            parts.make(
                "IfcPropertySingleValue",
                Name=what,
                NominalValue=parts.value("IfcPositiveLengthMeasure", size / INCHES_IN_FOOT),
            )
            for what, size in zip(("NominalWidth", "NominalHeight"), size_in, strict=True)
        ]
        return parts.root("IfcPropertySet", f"sizes of {name}", Name=SET_NAME, HasProperties=properties)

    def _properties(self, element: Entity, name: str, values: dict[str, Entity]) -> None:
        parts = self.parts
        properties = [
            parts.make("IfcPropertySingleValue", Name=what, NominalValue=value) for what, value in values.items()
        ]
        own = parts.root("IfcPropertySet", f"{name} of {element.Tag}", Name=name, HasProperties=properties)
        parts.root(
            "IfcRelDefinesByProperties", f"giving {name} to {element.Tag}",
            RelatedObjects=[element], RelatingPropertyDefinition=own,
        )  # fmt: skip

    def add_fitting(self, fitting: Fitting) -> None:
        """Write one fitting or box at the lowest corner of its body."""
        parts, low = self.parts, fitting.low
        if fitting.corner is not None and fitting.disk_in is not None:
            start, corner, end = (minus(point, low) for point in (low, fitting.corner, fitting.high))
            curve = parts.quarter(start, corner, end, by_angle=False)
            shape = self._shape([parts.disk(curve, fitting.disk_in)], "Body", "AdvancedSweptSolid")
        else:
            shape = self._shape([parts.block(NOWHERE, minus(fitting.high, low))], "Body", "Brep")
        element = self._element("IfcFlowFitting", fitting.tag, fitting.name, 0, low, shape)
        if fitting.type_class:
            kind = fitting.kind or "NOTDEFINED"
            self._type(fitting.type_class, fitting.type_name, element, PredefinedType=kind)

    def add_equipment(self, item: Equipment) -> None:
        """Write one piece of equipment as a block round its centre, with what it says of its circuit."""
        x, y, z = item.size_ft
        block = self.parts.block((-x / 2, -y / 2, -z / 2), (x / 2, y / 2, z / 2))
        shape = self._shape([block], "Body", "Brep")
        more = {} if item.type_class else {"DistributionPointFunction": item.predefined_type}
        element = self._element(item.ifc_class, item.tag, item.name, item.storey, item.centre, shape, **more)
        if item.type_class:
            self._type(item.type_class, f"{item.name} type", element, PredefinedType=item.predefined_type)
        if item.circuit:
            name, number_name, number, panel_name, panel = item.circuit
            texts = {
                what: self.parts.value("IfcLabel", text) for what, text in ((number_name, number), (panel_name, panel))
            }
            self._properties(element, name, texts)

    def add_other(
        self, tag: str, name: str, type_class: str, points: Sequence[Point], size_in: Sequence[float]
    ) -> None:
        """Write a flow segment that carries no cables."""
        local = [minus(point, points[0]) for point in points]
        if len(size_in) == 1:
            shape = self._shape(self.parts.disks(local, size_in[0], None), "Body", "AdvancedSweptSolid")
        else:
            pairs = [block_of(a, b, [size / INCHES_IN_FOOT for size in size_in]) for a, b in pairwise(local)]
            shape = self._shape([self.parts.block(low, high) for low, high in pairs], "Body", "Brep")
        element = self._element("IfcFlowSegment", tag, name, 0, points[0], shape)
        if type_class:
            self._type(type_class, f"{name} type", element, PredefinedType="RIGIDSEGMENT")

    def finish(self) -> None:
        """Write what holds for many at once: types, material, and what each storey contains."""
        parts = self.parts
        for key, members in self._typed.items():
            parts.root("IfcRelDefinesByType", f"typing {key[1]}", RelatedObjects=members, RelatingType=self._types[key])
        steel = parts.make("IfcMaterial", Name="Steel, galvanised")
        parts.root("IfcRelAssociatesMaterial", "steel", RelatedObjects=self._steel, RelatingMaterial=steel)
        for storey, elements in zip(self.storeys, self.contained, strict=True):
            parts.root(
                "IfcRelContainedInSpatialStructure", f"contents of {storey.Name}",
                RelatedElements=elements, RelatingStructure=storey,
            )  # fmt: skip
