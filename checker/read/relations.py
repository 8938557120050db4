"""Walks the relationships of a model once and keeps what carriers, fittings and equipment need of them."""

from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from typing import Any

Entity = Any  # ifcopenshell's entities know their attributes at run time only


@dataclass(slots=True)
class Relations:
    """By the step id of an element: its type, property sets, container, material, ports, groups; by port: element and links."""

    types: dict[int, Entity] = field(default_factory=dict)
    property_sets: dict[int, list[Entity]] = field(default_factory=dict)
    containers: dict[int, Entity] = field(default_factory=dict)
    materials: dict[int, Entity] = field(default_factory=dict)
    port_owner: dict[int, Entity] = field(default_factory=dict)
    port_links: list[tuple[Entity, Entity]] = field(default_factory=list)
    groups: dict[int, list[Entity]] = field(default_factory=dict)
    parents: dict[int, Entity] = field(default_factory=dict)
    read_sets: dict[int, dict[str, Any]] = field(default_factory=dict)
    places: dict[int, tuple[str, str]] = field(default_factory=dict)


def all_of(model: Entity, name: str) -> list[Entity]:
    """Instances of a class in file order; none where the release has no such class."""
    try:
        return list(model.by_type(name))
    except RuntimeError:
        return []


def many(value: Any) -> Iterator[Entity]:
    """An attribute that should be a list, whatever the file made of it."""
    if isinstance(value, (tuple, list)):
        yield from (item for item in value if item is not None)
    elif value is not None:
        yield value


def read_relations(model: Entity) -> Relations:
    """One walk over the relationships."""
    found = Relations()
    for kind, element in _pairs(model, "IfcRelDefinesByType", "RelatingType", "RelatedObjects"):
        found.types[element.id()] = kind
    for definition, element in _pairs(
        model, "IfcRelDefinesByProperties", "RelatingPropertyDefinition", "RelatedObjects"
    ):
        if hasattr(definition, "is_a"):
            found.property_sets.setdefault(element.id(), []).append(definition)
    for structure, element in _pairs(
        model, "IfcRelContainedInSpatialStructure", "RelatingStructure", "RelatedElements"
    ):
        found.containers[element.id()] = structure
    for whole, part in _pairs(model, "IfcRelAggregates", "RelatingObject", "RelatedObjects"):
        found.parents[part.id()] = whole
    for material, element in _pairs(model, "IfcRelAssociatesMaterial", "RelatingMaterial", "RelatedObjects"):
        found.materials[element.id()] = material
    for group, member in _pairs(model, "IfcRelAssignsToGroup", "RelatingGroup", "RelatedObjects"):
        found.groups.setdefault(member.id(), []).append(group)
    _read_ports(model, found)
    return found


def _read_ports(model: Entity, found: Relations) -> None:
    """Ports are nested in their elements since IFC4, and connected to them before; files of either release do either."""
    for whole, part in _pairs(model, "IfcRelNests", "RelatingObject", "RelatedObjects"):
        if part.is_a("IfcPort"):
            found.port_owner[part.id()] = whole
        else:
            found.parents.setdefault(part.id(), whole)
    for element, port in _pairs(model, "IfcRelConnectsPortToElement", "RelatedElement", "RelatingPort"):
        found.port_owner[port.id()] = element
    found.port_links.extend(_pairs(model, "IfcRelConnectsPorts", "RelatingPort", "RelatedPort"))


def _pairs(model: Entity, rel_class: str, one: str, other: str) -> Iterator[tuple[Entity, Entity]]:
    """Both sides of each relationship of a class, one pair for each on the other side; incomplete ones give none."""
    for rel in all_of(model, rel_class):
        for relating in many(getattr(rel, one)):
            for related in many(getattr(rel, other)):
                yield relating, related


def storey_and_space(element: Entity, found: Relations) -> tuple[str, str]:
    """Names of the storey and space that an element is in; empty where it is in none. A cycle ends the climb."""
    storey, space = "", ""
    node = found.containers.get(element.id()) or found.parents.get(element.id())
    start = node.id() if node is not None else 0
    if start in found.places:
        return found.places[start]
    seen: set[int] = set()
    while node is not None and node.id() not in seen:
        seen.add(node.id())
        label = str(getattr(node, "Name", None) or getattr(node, "LongName", None) or node.GlobalId)
        if node.is_a("IfcSpace") and not space:
            space = label
        if node.is_a("IfcBuildingStorey") and not storey:
            storey = label
        node = found.parents.get(node.id()) or found.containers.get(node.id())
    found.places[start] = (storey, space)
    return storey, space


def material_name(element: Entity, found: Relations) -> str:
    """Name of the (first) material of an element or its type; empty where none is given."""
    kind = found.types.get(element.id())
    node = found.materials.get(element.id()) or (found.materials.get(kind.id()) if kind is not None else None)
    steps = (
        "ForLayerSet",
        "ForProfileSet",
        "MaterialLayers",
        "MaterialProfiles",
        "MaterialConstituents",
        "Materials",
        "Material",
    )
    for _ in range(len(steps)):
        if node is None or node.is_a("IfcMaterial"):
            break
        inner = next((getattr(node, name) for name in steps if getattr(node, name, None)), None)
        node = next(many(inner), None)
    return str(node.Name or "") if node is not None and node.is_a("IfcMaterial") else ""


def property_values(
    element: Entity, found: Relations, metres: float, wanted: Container[str]
) -> dict[str, dict[str, Any]]:
    """Property set → property → value (a number or text), of the type first and then over it those of the occurrence.

    Args:
        element: The occurrence.
        found: The model's relationships.
        metres: In one length unit of the file: a property with a unit of its own is turned into the file's.
        wanted: Names of the sets to read.
    """
    sets: dict[str, dict[str, Any]] = {}
    kind = found.types.get(element.id())
    definitions = list(many(getattr(kind, "HasPropertySets", None))) if kind is not None else []
    for definition in [*definitions, *found.property_sets.get(element.id(), [])]:
        if definition.is_a("IfcPropertySet") and definition.Name in wanted:
            key = definition.id()
            if key not in found.read_sets:  # types share theirs among thousands
                values = ((str(item.Name), _value(item, metres)) for item in many(definition.HasProperties))
                found.read_sets[key] = {name: value for name, value in values if value is not None}
            sets.setdefault(definition.Name, {}).update(found.read_sets[key])
    return sets


def _value(item: Entity, metres: float) -> Any:
    value = None
    if item.is_a("IfcPropertySingleValue") and item.NominalValue is not None:
        value = item.NominalValue.wrappedValue
        own = metres_in(item.Unit) if item.Unit is not None else None
        if own is not None and isinstance(value, (int, float)) and not isinstance(value, bool):
            return value * own / metres
    elif item.is_a("IfcPropertyEnumeratedValue"):
        value = next((entry.wrappedValue for entry in many(item.EnumerationValues)), None)
    return value


PREFIXES = {None: 1.0, "KILO": 1e3, "DECI": 1e-1, "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6}


def metres_in(unit: Entity) -> float | None:
    """Metres in a length unit; None where it is no length unit, or not one that is understood."""
    if getattr(unit, "UnitType", None) != "LENGTHUNIT":
        return None
    if unit.is_a("IfcSIUnit"):
        return PREFIXES.get(unit.Prefix)
    if unit.is_a("IfcConversionBasedUnit") and unit.ConversionFactor is not None:
        base = metres_in(unit.ConversionFactor.UnitComponent)
        value = unit.ConversionFactor.ValueComponent
        return base * float(value.wrappedValue) if base is not None and value is not None else None
    return None
