"""Write the data room as IFC4X3: `python build.py` writes `model.ifc` beside this file.

The same plan gives the same bytes: GlobalIds come from the tags, the header's date is fixed, nothing asks the clock.
"""

import math
import sys
from pathlib import Path

import ifcopenshell

sys.path.insert(0, str(Path(__file__).resolve().parent))

from data_carriers import FITTINGS, SEGMENTS
from data_equipment import EQUIPMENT, OTHER_TRADES
from data_ifc_network import Network
from data_ifc_parts import ORIGIN, UP, Entity, Parts, global_id, metres
from data_plan import (
    BUILDING_AT,
    BUILDING_TURN_DEG,
    GRID_BEYOND_MM,
    GRID_EAST,
    GRID_NORTH,
    PLAN_SIZE_MM,
    ROOMS,
    SITE_AT,
    SLABS,
    STOREYS,
    ZONES,
)

BUILDER = "Wayroom sample builder"
WRITTEN_AT = "2026-11-20T09:00:00"


def build(path: Path) -> None:
    """Write the model to `path`."""
    file = ifcopenshell.file(schema="IFC4X3_ADD2")
    _header(file)
    parts = Parts(file)
    body, building, storeys = _structure(parts)
    spaces = _rooms(parts, body, storeys)
    network = Network(parts, body, storeys, spaces)
    for segment in SEGMENTS:
        network.add_segment(segment)
    for fitting in FITTINGS:
        network.add_fitting(fitting)
    for item in EQUIPMENT:
        network.add_equipment(item)
    for tag, name, ifc_class, word, start, end, width, height in OTHER_TRADES:
        network.add_other(tag, name, ifc_class, word, (start, end), (width, height, 0.0))
    _slabs(parts, network, storeys)
    network.finish()
    _grid(parts, building)
    path.write_text(file.to_string(), encoding="utf-8", newline="\n")


def _header(file: ifcopenshell.file) -> None:
    name = file.header.file_name
    name.name, name.time_stamp = "model.ifc", WRITTEN_AT
    name.author, name.organization = ("",), ("",)
    name.preprocessor_version = name.originating_system = BUILDER
    name.authorization = ""
    file.header.file_description.description = ("ViewDefinition [DesignTransferView]",)


def _structure(parts: Parts) -> tuple[Entity, Entity, list[Entity]]:
    make = parts.make
    units = [
        make("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE"),
        make("IfcSIUnit", UnitType="AREAUNIT", Name="SQUARE_METRE"),
        make("IfcSIUnit", UnitType="VOLUMEUNIT", Name="CUBIC_METRE"),
        make("IfcSIUnit", UnitType="PLANEANGLEUNIT", Name="RADIAN"),
    ]
    context = make(
        "IfcGeometricRepresentationContext",
        ContextType="Model",
        CoordinateSpaceDimension=3,
        Precision=1e-6,
        WorldCoordinateSystem=parts.axes(ORIGIN),
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
        Name="Data room",
        RepresentationContexts=[context],
        UnitsInContext=make("IfcUnitAssignment", Units=units),
    )
    site_at = parts.placement(None, SITE_AT)
    site = make("IfcSite", GlobalId=global_id("site"), Name="Site", ObjectPlacement=site_at, CompositionType="ELEMENT")
    turn = math.radians(BUILDING_TURN_DEG)
    building = make(
        "IfcBuilding",
        GlobalId=global_id("building"),
        Name="Data building",
        ObjectPlacement=parts.placement(site_at, BUILDING_AT, UP, (math.cos(turn), math.sin(turn), 0.0)),
        CompositionType="ELEMENT",
    )
    storeys = [
        make(
            "IfcBuildingStorey",
            GlobalId=global_id(f"storey {name}"),
            Name=name,
            ObjectPlacement=parts.placement(building.ObjectPlacement, (0.0, 0.0, elevation)),
            CompositionType="ELEMENT",
            Elevation=metres(elevation),
        )
        for name, elevation in STOREYS
    ]
    _aggregate(parts, project, [site])
    _aggregate(parts, site, [building])
    _aggregate(parts, building, storeys)
    return body, building, storeys


def _aggregate(parts: Parts, whole: Entity, members: list[Entity]) -> None:
    identity = global_id(f"parts of {whole.is_a()} {whole.Name}")
    parts.make("IfcRelAggregates", GlobalId=identity, RelatingObject=whole, RelatedObjects=members)


def _rooms(parts: Parts, body: Entity, storeys: list[Entity]) -> dict[str, Entity]:
    """Write the rooms, and the zones that some of them are in."""
    rooms: dict[str, Entity] = {}
    for number, storey, name, west, south, east, north, height in ROOMS:
        size = (east - west, north - south, height)
        solid = parts.block(size, (size[0] / 2, size[1] / 2, height / 2))
        shape = parts.make(
            "IfcShapeRepresentation",
            ContextOfItems=body,
            RepresentationIdentifier="Body",
            RepresentationType="SweptSolid",
            Items=[solid],
        )
        rooms[number] = parts.make(
            "IfcSpace",
            GlobalId=global_id(f"room {number}"),
            Name=number,
            LongName=name,
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, (west, south, 0.0)),
            Representation=parts.make("IfcProductDefinitionShape", Representations=[shape]),
            CompositionType="ELEMENT",
            PredefinedType="SPACE",
        )
    for storey, whole in enumerate(storeys):
        _aggregate(parts, whole, [rooms[room[0]] for room in ROOMS if room[1] == storey])
    for name, numbers in ZONES:
        parts.make(
            "IfcRelAssignsToGroup",
            GlobalId=global_id(f"rooms of {name}"),
            RelatedObjects=[rooms[number] for number in numbers],
            RelatingGroup=parts.make("IfcZone", GlobalId=global_id(f"zone {name}"), Name=name),
        )
    return rooms


def _slabs(parts: Parts, network: Network, storeys: list[Entity]) -> None:
    for number, (storey, name, underside, thickness) in enumerate(SLABS, start=1):
        at = network.local(storey, (PLAN_SIZE_MM[0] / 2, PLAN_SIZE_MM[1] / 2, underside))
        slab = parts.make(
            "IfcSlab",
            GlobalId=global_id(f"slab {number}"),
            Name=name,
            ObjectPlacement=parts.placement(storeys[storey].ObjectPlacement, at),
            Representation=network.shape([parts.block((*PLAN_SIZE_MM, thickness), (0.0, 0.0, thickness / 2))]),
            Tag=f"SLAB-{number}",
            PredefinedType="FLOOR",
        )
        network.contain(slab, storeys[storey])


def _grid(parts: Parts, building: Entity) -> None:
    """Write the grid in the building's own axes. It comes last, so that nothing else has another number because of it."""

    def line(tag: str, start: tuple[float, float], end: tuple[float, float]) -> Entity:
        curve = parts.make("IfcPolyline", Points=[parts.point(*start), parts.point(*end)])
        return parts.make("IfcGridAxis", AxisTag=tag, AxisCurve=curve, SameSense=True)

    west, east = GRID_NORTH[0][1] - GRID_BEYOND_MM, GRID_NORTH[-1][1] + GRID_BEYOND_MM
    south, north = GRID_EAST[0][1] - GRID_BEYOND_MM, GRID_EAST[-1][1] + GRID_BEYOND_MM
    grid = parts.make(
        "IfcGrid",
        GlobalId=global_id("grid"),
        Name="Grid",
        ObjectPlacement=parts.placement(building.ObjectPlacement, ORIGIN),
        UAxes=[line(tag, (x, south), (x, north)) for tag, x in GRID_NORTH],
        VAxes=[line(tag, (west, y), (east, y)) for tag, y in GRID_EAST],
        PredefinedType="RECTANGULAR",
    )
    parts.make(
        "IfcRelContainedInSpatialStructure",
        GlobalId=global_id("grid in the building"),
        RelatedElements=[grid],
        RelatingStructure=building,
    )


if __name__ == "__main__":
    build(Path(__file__).resolve().parent / "model.ifc")
