"""Write the veterinary practice as IFC4: `python build.py` writes `model.ifc` beside this file.

The same plan gives the same bytes: GlobalIds come from the tags, the header's date is fixed, nothing asks the clock.
"""

import sys
from pathlib import Path

import ifcopenshell

sys.path.insert(0, str(Path(__file__).resolve().parent))

from vet_cables import add_cables
from vet_carriers import DIRECT_JOINS, FITTINGS, SEGMENTS
from vet_equipment import EQUIPMENT
from vet_ifc_network import Network
from vet_ifc_parts import Entity, Parts, global_id
from vet_plan import (
    FIRE_RATINGS,
    PLAN_SIZE_MM,
    ROOM_HEIGHT_MM,
    ROOMS,
    SLABS,
    STOREYS,
    WALL_THICKNESS_MM,
    WALLS,
    Point,
)

BUILDER = "Wayroom sample builder"
WRITTEN_AT = "2026-11-02T09:00:00"


def build(path: Path) -> None:
    """Write the model to `path`."""
    file = ifcopenshell.file(schema="IFC4")
    _header(file)
    parts = Parts(file)
    body, storeys = _structure(parts)
    _rooms(parts, body, storeys)
    network = Network(parts, body, storeys)
    network.type_objects()
    _fabric(parts, body, storeys, network.contained)
    for segment in SEGMENTS:
        network.add_segment(segment)
    for fitting in FITTINGS:
        network.add_fitting(fitting)
    for item in EQUIPMENT:
        network.add_equipment(item)
    add_cables(parts, network, body)
    for item in (*FITTINGS, *EQUIPMENT):
        for end in item.joins:
            network.join(f"{item.tag}>{end}", end)
    for first, second in DIRECT_JOINS:
        network.join(first, second)
    network.finish()
    path.write_text(file.to_string(), encoding="utf-8", newline="\n")


def _header(file: ifcopenshell.file) -> None:
    name = file.header.file_name
    name.name, name.time_stamp = "model.ifc", WRITTEN_AT
    name.author, name.organization = ("",), ("",)
    name.preprocessor_version = name.originating_system = BUILDER
    name.authorization = ""
    file.header.file_description.description = ("ViewDefinition [DesignTransferView]",)


def _structure(parts: Parts) -> tuple[Entity, list[Entity]]:
    make = parts.make
    units = [
        make("IfcSIUnit", UnitType="LENGTHUNIT", Prefix="MILLI", Name="METRE"),
        make("IfcSIUnit", UnitType="AREAUNIT", Name="SQUARE_METRE"),
        make("IfcSIUnit", UnitType="VOLUMEUNIT", Name="CUBIC_METRE"),
        make("IfcSIUnit", UnitType="PLANEANGLEUNIT", Name="RADIAN"),
    ]
    context = make(
        "IfcGeometricRepresentationContext",
        ContextType="Model",
        CoordinateSpaceDimension=3,
        Precision=1e-5,
        WorldCoordinateSystem=parts.axes((0.0, 0.0, 0.0)),
    )
    body = make(
        "IfcGeometricRepresentationSubContext",
        ContextIdentifier="Body",
        ContextType="Model",
        ParentContext=context,
        TargetView="MODEL_VIEW",
    )
    project = make(
        "IfcProject",
        GlobalId=global_id("project"),
        Name="Veterinary practice",
        RepresentationContexts=[context],
        UnitsInContext=make("IfcUnitAssignment", Units=units),
    )
    site_at = parts.placement(None, (0.0, 0.0, 0.0))
    site = make("IfcSite", GlobalId=global_id("site"), Name="Site", ObjectPlacement=site_at, CompositionType="ELEMENT")
    building = make(
        "IfcBuilding",
        GlobalId=global_id("building"),
        Name="Practice building",
        ObjectPlacement=parts.placement(site_at, (0.0, 0.0, 0.0)),
        CompositionType="ELEMENT",
    )
    storeys = [
        make(
            "IfcBuildingStorey",
            GlobalId=global_id(f"storey {name}"),
            Name=name,
            ObjectPlacement=parts.placement(building.ObjectPlacement, (0.0, 0.0, elevation)),
            CompositionType="ELEMENT",
            Elevation=elevation,
        )
        for name, elevation in STOREYS
    ]
    _aggregate(parts, project, [site])
    _aggregate(parts, site, [building])
    _aggregate(parts, building, storeys)
    return body, storeys


def _aggregate(parts: Parts, whole: Entity, members: list[Entity]) -> None:
    identity = global_id(f"parts of {whole.is_a()} {whole.Name}")
    parts.make("IfcRelAggregates", GlobalId=identity, RelatingObject=whole, RelatedObjects=members)


def _shape(parts: Parts, body: Entity, size: Point, centre: Point) -> Entity:
    shape = parts.make(
        "IfcShapeRepresentation",
        ContextOfItems=body,
        RepresentationIdentifier="Body",
        RepresentationType="SweptSolid",
        Items=[parts.block(size, centre)],
    )
    return parts.make("IfcProductDefinitionShape", Representations=[shape])


def _rooms(parts: Parts, body: Entity, storeys: list[Entity]) -> None:
    rooms: list[list[Entity]] = [[] for _ in storeys]
    for storey, number, name, west, south, east, north in ROOMS:
        size = (east - west, north - south, ROOM_HEIGHT_MM)
        room = parts.make(
            "IfcSpace",
            GlobalId=global_id(f"room {number}"),
            Name=number,
            LongName=name,
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, (west, south, 0.0)),
            Representation=_shape(parts, body, size, (size[0] / 2, size[1] / 2, size[2] / 2)),
            CompositionType="ELEMENT",
            PredefinedType="SPACE",
        )
        rooms[storey].append(room)
    for whole, members in zip(storeys, rooms, strict=True):
        _aggregate(parts, whole, members)


def _fabric(parts: Parts, body: Entity, storeys: list[Entity], contained: list[list[Entity]]) -> None:
    for number, (storey, name, x1, y1, x2, y2) in enumerate(WALLS, start=1):
        size = (max(abs(x2 - x1), WALL_THICKNESS_MM), max(abs(y2 - y1), WALL_THICKNESS_MM), ROOM_HEIGHT_MM)
        at = ((x1 + x2) / 2, (y1 + y2) / 2, 0.0)
        wall = parts.make(
            "IfcWall",
            GlobalId=global_id(f"wall {number}"),
            Name=f"{name} wall",
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, at),
            Representation=_shape(parts, body, size, (0.0, 0.0, ROOM_HEIGHT_MM / 2)),
            Tag=f"WALL-{number:02d}",
            PredefinedType="SOLIDWALL",
        )
        contained[storey].append(wall)
        _rate(parts, wall, "Pset_WallCommon", FIRE_RATINGS.get((storey, name)))
    for number, (storey, name, underside, thickness) in enumerate(SLABS, start=1):
        at = (PLAN_SIZE_MM[0] / 2, PLAN_SIZE_MM[1] / 2, underside - STOREYS[storey][1])
        slab = parts.make(
            "IfcSlab",
            GlobalId=global_id(f"slab {number}"),
            Name=name,
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, at),
            Representation=_shape(parts, body, (*PLAN_SIZE_MM, thickness), (0.0, 0.0, thickness / 2)),
            Tag=f"SLAB-{number}",
            PredefinedType="ROOF" if name.startswith("Roof") else "FLOOR",
        )
        contained[storey].append(slab)
        _rate(parts, slab, "Pset_SlabCommon", FIRE_RATINGS.get((storey, name)))


def _rate(parts: Parts, element: Entity, set_name: str, rating: str | None) -> None:
    """Give a wall or slab its fire rating, if it has one."""
    if rating is None:
        return
    value = parts.value("IfcLabel", rating)
    properties = [parts.make("IfcPropertySingleValue", Name="FireRating", NominalValue=value)]
    parts.make(
        "IfcRelDefinesByProperties",
        GlobalId=global_id(f"rating of {element.Tag}"),
        RelatedObjects=[element],
        RelatingPropertyDefinition=parts.make(
            "IfcPropertySet",
            GlobalId=global_id(f"common set of {element.Tag}"),
            Name=set_name,
            HasProperties=properties,
        ),
    )


if __name__ == "__main__":
    build(Path(__file__).resolve().parent / "model.ifc")
