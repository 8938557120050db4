"""Writes small IFC models for tests, by hand and in few lines."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.guid

Point = tuple[float, float, float]


@dataclass
class SmallModel:
    """A model of a few elements in one storey. Lengths are in its unit, which is millimetres unless a test says otherwise."""

    schema: str = "IFC4"
    prefix: str | None = "MILLI"
    file: Any = field(init=False)

    def __post_init__(self) -> None:
        self.file = ifcopenshell.file(schema=self.schema)
        make = self.file.create_entity
        self.owner = self._owner() if self.schema == "IFC2X3" else None
        unit = make("IfcSIUnit", UnitType="LENGTHUNIT", Prefix=self.prefix, Name="METRE")
        self.context = make("IfcGeometricRepresentationContext", ContextType="Model", CoordinateSpaceDimension=3, Precision=1e-5,
                            WorldCoordinateSystem=self._frame((0.0, 0.0, 0.0)))  # fmt: skip
        self.project = self.rooted("IfcProject", Name="Small", RepresentationContexts=[self.context],
                                   UnitsInContext=make("IfcUnitAssignment", Units=[unit]))  # fmt: skip
        self.storey = self.rooted("IfcBuildingStorey", Name="Level 0")
        self.rooted("IfcRelAggregates", RelatingObject=self.project, RelatedObjects=[self.storey])
        self.contained: list[Any] = []

    def _owner(self) -> Any:
        make = self.file.create_entity
        organization = make("IfcOrganization", Name="none")
        person = make(
            "IfcPersonAndOrganization", ThePerson=make("IfcPerson", FamilyName="none"), TheOrganization=organization
        )
        application = make("IfcApplication", organization, "0", "tests", "tests")
        return make(
            "IfcOwnerHistory", OwningUser=person, OwningApplication=application, ChangeAction="NOCHANGE", CreationDate=0
        )

    def rooted(self, name: str, **attributes: Any) -> Any:
        """An entity with a GlobalId: the n-th of a model always gets the same one."""
        count = len(self.file.by_type("IfcRoot")) + 1
        attributes.setdefault("GlobalId", ifcopenshell.guid.compress(f"{count:032x}"))
        if self.owner is not None:
            attributes.setdefault("OwnerHistory", self.owner)
        return self.file.create_entity(name, **attributes)

    def _frame(self, origin: Point, axis: Point = (0.0, 0.0, 1.0), across: Point = (1.0, 0.0, 0.0)) -> Any:
        make = self.file.create_entity
        return make(
            "IfcAxis2Placement3D",
            make("IfcCartesianPoint", origin),
            make("IfcDirection", axis),
            make("IfcDirection", across),
        )

    def place(
        self, origin: Point, axis: Point = (0.0, 0.0, 1.0), across: Point = (1.0, 0.0, 0.0), within: Any = None
    ) -> Any:
        """A local placement."""
        return self.file.create_entity("IfcLocalPlacement", within, self._frame(origin, axis, across))

    def body(self, profile: Any, depth: float) -> Any:
        """The shape of an extrusion along the element's own Z."""
        make = self.file.create_entity
        solid = make(
            "IfcExtrudedAreaSolid", profile, self._frame((0.0, 0.0, 0.0)), make("IfcDirection", (0.0, 0.0, 1.0)), depth
        )
        shape = make("IfcShapeRepresentation", self.context, "Body", "SweptSolid", [solid])
        return make("IfcProductDefinitionShape", Representations=[shape])

    def profile(self, name: str, *sizes: float) -> Any:
        """A profile by class and its sizes."""
        origin = self.file.create_entity(
            "IfcAxis2Placement2D", self.file.create_entity("IfcCartesianPoint", (0.0, 0.0))
        )
        return self.file.create_entity(name, "AREA", None, origin, *sizes)

    def carrier(
        self, tag: str, start: Point, end: Point, profile: Any, kind: str | None = "CABLETRUNKINGSEGMENT", **more: Any
    ) -> Any:
        """A carrier segment along one of the world's axes."""
        length = sum(abs(b - a) for a, b in zip(start, end, strict=True))
        x, y, z = ((b - a) / length for a, b in zip(start, end, strict=True))
        axis = (x, y, z)
        across = (0.0, 1.0, 0.0) if axis[1] == 0.0 else (1.0, 0.0, 0.0)
        attributes = {"Tag": tag, "Name": tag, "ObjectPlacement": self.place(start, axis, across), **more}
        if profile is not None:
            attributes.setdefault("Representation", self.body(profile, length))
        name = "IfcFlowSegment" if self.schema == "IFC2X3" else "IfcCableCarrierSegment"
        if self.schema != "IFC2X3":
            attributes["PredefinedType"] = kind
        element = self.rooted(name, **attributes)
        if self.schema == "IFC2X3":
            self.type_of([element], "IfcCableCarrierSegmentType", f"type of {tag}", PredefinedType=kind or "NOTDEFINED")
        self.contained.append(element)
        return element

    def element(self, name: str, tag: str, point: Point, **more: Any) -> Any:
        """An element without a body."""
        element = self.rooted(name, Tag=tag, Name=tag, ObjectPlacement=self.place(point), **more)
        self.contained.append(element)
        return element

    def type_of(self, elements: Sequence[Any], name: str, type_name: str, **more: Any) -> Any:
        """A type of some elements."""
        kind = self.rooted(name, Name=type_name, **more)
        self.rooted("IfcRelDefinesByType", RelatedObjects=list(elements), RelatingType=kind)
        return kind

    def properties(self, element: Any, set_name: str, **values: Any) -> None:
        """A property set on an element; floats are lengths."""
        make = self.file.create_entity
        wrapped = {
            name: make(
                "IfcPositiveLengthMeasure"
                if isinstance(value, float)
                else "IfcInteger"
                if isinstance(value, int)
                else "IfcLabel",
                value,
            )
            for name, value in values.items()
        }
        items = [make("IfcPropertySingleValue", Name=name, NominalValue=value) for name, value in wrapped.items()]
        properties = self.rooted("IfcPropertySet", Name=set_name, HasProperties=items)
        self.rooted("IfcRelDefinesByProperties", RelatedObjects=[element], RelatingPropertyDefinition=properties)

    def wrapped(self, measure: str, value: Any) -> Any:
        """A value of a measure: IfcLabel, IfcPositiveLengthMeasure …"""
        return self.file.create_entity(measure, value)

    def own_set(self, element: Any, set_name: str | None, items: Sequence[Any]) -> Any:
        """A property set or, of quantities, an element quantity on an element, or on a type."""
        name = "HasProperties" if not items or items[0].is_a("IfcProperty") else "Quantities"
        made = self.rooted("IfcPropertySet" if name == "HasProperties" else "IfcElementQuantity", Name=set_name)
        setattr(made, name, list(items))
        if element.is_a("IfcTypeObject"):
            element.HasPropertySets = [*(element.HasPropertySets or ()), made]
        else:
            self.rooted("IfcRelDefinesByProperties", RelatedObjects=[element], RelatingPropertyDefinition=made)
        return made

    def single(self, name: str, measure: str, value: Any, unit: Any = None) -> Any:
        """A property of one value."""
        return self.file.create_entity("IfcPropertySingleValue", name, None, self.wrapped(measure, value), unit)

    def group(self, name: str, label: str | None, members: Sequence[Any], **more: Any) -> Any:
        """A group or system with its members."""
        made = self.rooted(name, Name=label, **more)
        if members:
            self.rooted("IfcRelAssignsToGroup", RelatedObjects=list(members), RelatingGroup=made)
        return made

    def parts(self, whole: Any, parts: Sequence[Any], *, nested: bool = False) -> None:
        """A whole and what it is made of."""
        self.rooted("IfcRelNests" if nested else "IfcRelAggregates", RelatingObject=whole, RelatedObjects=list(parts))

    def material(self, element: Any, name: str) -> None:
        """A material on an element."""
        material = self.file.create_entity("IfcMaterial", name)
        self.rooted("IfcRelAssociatesMaterial", RelatedObjects=[element], RelatingMaterial=material)

    def port(self, element: Any, point: Point) -> Any:
        """A port at a point in the world, nested or (IFC2X3) connected."""
        port = self.rooted("IfcDistributionPort", ObjectPlacement=self.place(point))
        if self.schema == "IFC2X3":
            self.rooted("IfcRelConnectsPortToElement", RelatingPort=port, RelatedElement=element)
        else:
            self.rooted("IfcRelNests", RelatingObject=element, RelatedObjects=[port])
        return port

    def connect(self, one: Any, other: Any, point: Point) -> None:
        """Two elements joined by ports at a point."""
        first, second = self.port(one, point), self.port(other, point)
        self.rooted("IfcRelConnectsPorts", RelatingPort=first, RelatedPort=second)

    def write(self, path: Path) -> Path:
        """Writes the model, everything contained in its storey."""
        if self.contained:
            self.rooted(
                "IfcRelContainedInSpatialStructure", RelatedElements=self.contained, RelatingStructure=self.storey
            )
        self.file.header.file_name.time_stamp = "2026-11-02T09:00:00"
        self.file.write(str(path))
        return path


def two_trunkings(path: Path, **unit: Any) -> Path:
    """A board, two steel trunkings 50 × 50 in line, joined by ports, a socket at the far end."""
    model = SmallModel(**unit)
    per = 1.0 if model.prefix == "MILLI" else 0.001
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0 * per, 50.0 * per, 1.0 * per)
    one = model.carrier("T1", (0.0, 0.0, 0.0), (4000.0 * per, 0.0, 0.0), profile)
    two = model.carrier("T2", (4000.0 * per, 0.0, 0.0), (6000.0 * per, 0.0, 0.0), profile)
    model.connect(one, two, (4000.0 * per, 0.0, 0.0))
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 300.0 * per, 0.0))
    model.element("IfcOutlet", "S1", (6000.0 * per, 200.0 * per, 0.0))
    return model.write(path)


def too_full(folder: Path) -> None:
    """A model and a schedule: 14 cables of 10 mm in 48 mm by 48 mm, 14 · 78.54 / 2304 = 47.7 %, more than 45 %."""
    model = SmallModel()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    model.carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), profile)
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 200.0, 0.0))
    model.element("IfcOutlet", "S1", (3000.0, 200.0, 0.0))
    model.write(folder / "model.ifc")
    rows = "circuit,from,to,service,diameter_mm,count\nC1,DB,S1,data,10,14\n"
    (folder / "circuits.csv").write_text(rows, encoding="utf-8")
