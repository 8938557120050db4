"""Walks the relationships of a model once and keeps what carriers, fittings and equipment need of them."""

from collections.abc import Iterator
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


def all_of(model: Entity, name: str) -> list[Entity]:
    """Instances of a class in file order; none where the release has no such class."""
    try:
        return list(model.by_type(name))
    except RuntimeError:
        return []


def many(value: Any) -> Iterator[Entity]:  # noqa: ANN401
    """An attribute that should be a list, whatever the file made of it."""
    if isinstance(value, (tuple, list)):
        yield from (item for item in value if item is not None)
    elif value is not None:
        yield value


def read_relations(model: Entity) -> Relations:
    """One walk over the relationships."""
    found = Relations()
    for rel in all_of(model, "IfcRelDefinesByType"):
        if rel.RelatingType is not None:
            for element in many(rel.RelatedObjects):
                found.types[element.id()] = rel.RelatingType
    for rel in all_of(model, "IfcRelDefinesByProperties"):
        definitions = [item for item in many(rel.RelatingPropertyDefinition) if hasattr(item, "is_a")]
        for element in many(rel.RelatedObjects):
            found.property_sets.setdefault(element.id(), []).extend(definitions)
    for rel in all_of(model, "IfcRelContainedInSpatialStructure"):
        for element in many(rel.RelatedElements):
            found.containers[element.id()] = rel.RelatingStructure
    for rel in all_of(model, "IfcRelAggregates"):
        for part in many(rel.RelatedObjects):
            found.parents[part.id()] = rel.RelatingObject
    for rel in all_of(model, "IfcRelAssociatesMaterial"):
        for element in many(rel.RelatedObjects):
            found.materials[element.id()] = rel.RelatingMaterial
    for rel in all_of(model, "IfcRelNests"):
        for part in many(rel.RelatedObjects):
            if part.is_a("IfcPort"):
                found.port_owner[part.id()] = rel.RelatingObject
            else:
                found.parents.setdefault(part.id(), rel.RelatingObject)
    for rel in all_of(model, "IfcRelConnectsPortToElement"):
        if rel.RelatingPort is not None and rel.RelatedElement is not None:
            found.port_owner[rel.RelatingPort.id()] = rel.RelatedElement
    for rel in all_of(model, "IfcRelConnectsPorts"):
        if rel.RelatingPort is not None and rel.RelatedPort is not None:
            found.port_links.append((rel.RelatingPort, rel.RelatedPort))
    for rel in all_of(model, "IfcRelAssignsToGroup"):
        if rel.RelatingGroup is not None:
            for member in many(rel.RelatedObjects):
                found.groups.setdefault(member.id(), []).append(rel.RelatingGroup)
    return found


def storey_and_space(element: Entity, found: Relations) -> tuple[str, str]:
    """Names of the storey and space that an element is in; empty where it is in none. A cycle ends the climb."""
    storey, space = "", ""
    node = found.containers.get(element.id()) or found.parents.get(element.id())
    seen: set[int] = set()
    while node is not None and node.id() not in seen:
        seen.add(node.id())
        label = str(getattr(node, "Name", None) or getattr(node, "LongName", None) or node.GlobalId)
        if node.is_a("IfcSpace") and not space:
            space = label
        if node.is_a("IfcBuildingStorey") and not storey:
            storey = label
        node = found.parents.get(node.id()) or found.containers.get(node.id())
    return storey, space


def material_name(element: Entity, found: Relations) -> str:
    """Name of the (first) material of an element or its type; empty where none is given."""
    kind = found.types.get(element.id())
    node = found.materials.get(element.id()) or (found.materials.get(kind.id()) if kind is not None else None)
    steps = ("ForLayerSet", "ForProfileSet", "MaterialLayers", "MaterialProfiles", "MaterialConstituents", "Materials", "Material")
    for _ in range(len(steps)):
        if node is None or node.is_a("IfcMaterial"):
            break
        inner = next((getattr(node, name) for name in steps if getattr(node, name, None)), None)
        node = next(many(inner), None)
    return str(node.Name or "") if node is not None and node.is_a("IfcMaterial") else ""


def property_values(element: Entity, found: Relations) -> dict[str, dict[str, Any]]:
    """Property set → property → value (a number or text), of the type first and then over it those of the occurrence."""
    sets: dict[str, dict[str, Any]] = {}
    kind = found.types.get(element.id())
    definitions = list(many(getattr(kind, "HasPropertySets", None))) if kind is not None else []
    for definition in [*definitions, *found.property_sets.get(element.id(), [])]:
        if definition.is_a("IfcPropertySet"):
            into = sets.setdefault(str(definition.Name or ""), {})
            for item in many(definition.HasProperties):
                value = _value(item)
                if value is not None:
                    into[str(item.Name)] = value
    return sets


def _value(item: Entity) -> Any:  # noqa: ANN401
    if item.is_a("IfcPropertySingleValue") and item.NominalValue is not None:
        return item.NominalValue.wrappedValue
    if item.is_a("IfcPropertyEnumeratedValue"):
        return next((value.wrappedValue for value in many(item.EnumerationValues)), None)
    return None
