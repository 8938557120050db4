"""Write the workshop as IFC2X3, and its schedule: `python build.py` writes `workshop-P02.ifc` and `circuits.xlsx` beside this file.

The same plan gives the same bytes: GlobalIds come from the tags, header and owner history have fixed dates, nothing asks the clock.
"""

import sys
from pathlib import Path

import ifcopenshell

sys.path.insert(0, str(Path(__file__).resolve().parent))

from shop_carriers import FITTINGS, NOT_CARRIERS, SEGMENTS
from shop_equipment import EQUIPMENT
from shop_ifc_elements import Elements
from shop_ifc_parts import Entity, Parts
from shop_plan import BUILDING_FT, FOOT_MM, ROOM_HEIGHT_FT, ROOMS, SITE_FT, STOREYS, TURNED_DEG, WALL_FT, WALLS
from shop_workbook import WORKBOOK_NAME, write_workbook

MODEL_NAME = "workshop-P02.ifc"
BUILDER = "Wayroom sample builder"
WRITTEN_AT, SECONDS = "2026-11-16T09:00:00", 1794819600
RADIANS_IN_DEGREE = 0.017453292519943295


def build(path: Path) -> None:
    """Write the model to `path`."""
    file = ifcopenshell.file(schema="IFC2X3")
    _header(file)
    parts = Parts(file)
    parts.history = _history(parts)
    context, storeys = _structure(parts)
    elements = Elements(parts, context, storeys)
    _fabric(parts, context, storeys, elements.contained)
    for segment in SEGMENTS:
        elements.add_segment(segment)
    for fitting in FITTINGS:
        elements.add_fitting(fitting)
    for item in EQUIPMENT:
        elements.add_equipment(item)
    for other in NOT_CARRIERS:
        elements.add_other(*other)
    elements.finish()
    path.write_text(file.to_string(), encoding="utf-8", newline="\n")


def _header(file: ifcopenshell.file) -> None:
    name = file.header.file_name
    name.name, name.time_stamp = MODEL_NAME, WRITTEN_AT
    name.author, name.organization = ("",), ("",)
    name.preprocessor_version = name.originating_system = BUILDER
    name.authorization = ""
    file.header.file_description.description = ("ViewDefinition [CoordinationView]",)


def _history(parts: Parts) -> Entity:
    maker = parts.make("IfcOrganization", Name="Wayroom samples")
    person = parts.make(
        "IfcPersonAndOrganization", ThePerson=parts.make("IfcPerson", FamilyName="Builder"), TheOrganization=maker
    )
    application = parts.make(
        "IfcApplication",
        ApplicationDeveloper=maker,
        Version="1",
        ApplicationFullName=BUILDER,
        ApplicationIdentifier="builder",
    )
    return parts.make(
        "IfcOwnerHistory",
        OwningUser=person,
        OwningApplication=application,
        ChangeAction="NOCHANGE",
        CreationDate=SECONDS,
    )


def _converted(parts: Parts, kind: str, name: str, base: str, factor: float, measure: str, exponent: int) -> Entity:
    """Return a unit that is a multiple of an SI unit; `exponent` is of length, 0 for angles."""
    zero = dict.fromkeys(
        ("MassExponent", "TimeExponent", "ElectricCurrentExponent", "ThermodynamicTemperatureExponent",
         "AmountOfSubstanceExponent", "LuminousIntensityExponent"), 0
    )  # fmt: skip
    of = parts.make("IfcMeasureWithUnit", ValueComponent=parts.value(measure, factor),
                    UnitComponent=parts.make("IfcSIUnit", UnitType=kind, Name=base))  # fmt: skip
    dimensions = parts.make("IfcDimensionalExponents", LengthExponent=exponent, **zero)
    return parts.make("IfcConversionBasedUnit", Dimensions=dimensions, UnitType=kind, Name=name, ConversionFactor=of)


def _structure(parts: Parts) -> tuple[Entity, list[Entity]]:
    foot = FOOT_MM / 1000
    units = [
        _converted(parts, "LENGTHUNIT", "FOOT", "METRE", foot, "IfcLengthMeasure", 1),
        _converted(parts, "AREAUNIT", "SQUARE FOOT", "SQUARE_METRE", foot**2, "IfcAreaMeasure", 2),
        _converted(parts, "VOLUMEUNIT", "CUBIC FOOT", "CUBIC_METRE", foot**3, "IfcVolumeMeasure", 3),
        _converted(parts, "PLANEANGLEUNIT", "DEGREE", "RADIAN", RADIANS_IN_DEGREE, "IfcPlaneAngleMeasure", 0),
    ]
    context = parts.make(
        "IfcGeometricRepresentationContext",
        ContextType="Model",
        CoordinateSpaceDimension=3,
        Precision=1e-6,
        WorldCoordinateSystem=parts.axes((0.0, 0.0, 0.0)),
    )
    project = parts.root(
        "IfcProject",
        "project",
        Name="Workshop",
        RepresentationContexts=[context],
        UnitsInContext=parts.make("IfcUnitAssignment", Units=units),
    )
    at = parts.placement(None, SITE_FT)
    site = parts.root("IfcSite", "site", Name="Site", ObjectPlacement=at, CompositionType="ELEMENT")
    at = parts.placement(at, BUILDING_FT, TURNED_DEG)
    building = parts.root("IfcBuilding", "building", Name="Workshop", ObjectPlacement=at, CompositionType="ELEMENT")
    storeys = [
        parts.root(
            "IfcBuildingStorey", f"storey {name}", Name=name, ObjectPlacement=parts.placement(at, (0.0, 0.0, elevation)),
            CompositionType="ELEMENT", Elevation=elevation,
        )
        for name, elevation in STOREYS
    ]  # fmt: skip
    _aggregate(parts, project, [site])
    _aggregate(parts, site, [building])
    _aggregate(parts, building, storeys)
    return context, storeys


def _aggregate(parts: Parts, whole: Entity, members: list[Entity]) -> None:
    what = f"parts of {whole.is_a()} {whole.Name}"
    parts.root("IfcRelAggregates", what, RelatingObject=whole, RelatedObjects=members)


def _block(parts: Parts, context: Entity, size: tuple[float, float, float]) -> Entity:
    shape = parts.make(
        "IfcShapeRepresentation", ContextOfItems=context, RepresentationIdentifier="Body", RepresentationType="Brep",
        Items=[parts.block((0.0, 0.0, 0.0), size)],
    )  # fmt: skip
    return parts.make("IfcProductDefinitionShape", Representations=[shape])


def _fabric(parts: Parts, context: Entity, storeys: list[Entity], contained: list[list[Entity]]) -> None:
    """Write rooms and outer walls."""
    rooms: list[list[Entity]] = [[] for _ in storeys]
    for storey, number, name, west, south, east, north in ROOMS:
        height = STOREYS[1][1] if storey == 0 and number == "103" else ROOM_HEIGHT_FT - STOREYS[storey][1]
        room = parts.root(
            "IfcSpace", f"room {number}", Name=number, LongName=name,
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, (west, south, 0.0)),
            Representation=_block(parts, context, (east - west, north - south, height)),
            CompositionType="ELEMENT", InteriorOrExteriorSpace="INTERNAL",
        )  # fmt: skip
        rooms[storey].append(room)
    for whole, members in zip(storeys, rooms, strict=True):
        _aggregate(parts, whole, members)
    for storey, name, x1, y1, x2, y2 in WALLS:
        size = (max(x2 - x1, WALL_FT), max(y2 - y1, WALL_FT), ROOM_HEIGHT_FT)
        wall = parts.root(
            "IfcWall", f"wall {name}", Name=f"{name} wall",
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, (x1, y1, 0.0)),
            Representation=_block(parts, context, size), Tag=f"WALL-{name}",
        )  # fmt: skip
        contained[storey].append(wall)


if __name__ == "__main__":
    here = Path(__file__).resolve().parent
    build(here / MODEL_NAME)
    write_workbook(here / WORKBOOK_NAME)
