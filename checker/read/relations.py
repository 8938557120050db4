"""Walks the relationships of a model once and keeps what carriers, fittings and equipment need of them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

#: Wholes may be parts of others; a file that nests deeper is malformed.
DEEPEST = 16
#: An element in more zones than this names the nearest.
MOST_ZONES = 8
#: Storey, space, zones.
Names = tuple[str, str, tuple[str, ...]]
NOWHERE: Names = ("", "", ())
#: What reading a malformed value ends in; anything else is a defect of ours.
MALFORMED = (TypeError, ValueError, AttributeError, RuntimeError, ArithmeticError, IndexError, KeyError)
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
    group_members: list[tuple[Entity, Entity]] = field(default_factory=list)
    parents: dict[int, Entity] = field(default_factory=dict)
    children: dict[int, list[Entity]] = field(default_factory=dict)
    places: dict[int, Names] = field(default_factory=dict)


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
    for given, element in _pairs(model, "IfcRelDefinesByProperties", "RelatingPropertyDefinition", "RelatedObjects"):
        # since IFC4 it may be a set of sets
        for definition in many(given.wrappedValue if given.is_a() == "IfcPropertySetDefinitionSet" else given):
            if hasattr(definition, "is_a"):
                found.property_sets.setdefault(element.id(), []).append(definition)
    for structure, element in _pairs(
        model, "IfcRelContainedInSpatialStructure", "RelatingStructure", "RelatedElements"
    ):
        found.containers[element.id()] = structure
    for material, element in _pairs(model, "IfcRelAssociatesMaterial", "RelatingMaterial", "RelatedObjects"):
        found.materials[element.id()] = material
    for group, member in _pairs(model, "IfcRelAssignsToGroup", "RelatingGroup", "RelatedObjects"):
        found.groups.setdefault(member.id(), []).append(group)
        found.group_members.append((group, member))
    _read_wholes(model, found)
    for element, port in _pairs(model, "IfcRelConnectsPortToElement", "RelatedElement", "RelatingPort"):
        found.port_owner[port.id()] = element
    found.port_links.extend(_pairs(model, "IfcRelConnectsPorts", "RelatingPort", "RelatedPort"))
    return found


def _read_wholes(model: Entity, found: Relations) -> None:
    """Wholes and their parts. Ports are nested in their elements since IFC4, and connected to them before; files do either in both."""
    for whole, part in _pairs(model, "IfcRelAggregates", "RelatingObject", "RelatedObjects"):
        found.parents[part.id()] = whole
        found.children.setdefault(whole.id(), []).append(part)
    for whole, part in _pairs(model, "IfcRelNests", "RelatingObject", "RelatedObjects"):
        if part.is_a("IfcPort"):
            found.port_owner[part.id()] = whole
        else:
            found.parents.setdefault(part.id(), whole)
            found.children.setdefault(whole.id(), []).append(part)


def _pairs(model: Entity, rel_class: str, one: str, other: str) -> Iterator[tuple[Entity, Entity]]:
    """Both sides of each relationship of a class, one pair for each on the other side; incomplete ones give none."""
    for rel in all_of(model, rel_class):
        for relating in many(getattr(rel, one)):
            for related in many(getattr(rel, other)):
                yield relating, related


def place_names(element: Entity, found: Relations) -> tuple[str, str, str]:
    """Names of the storey, space and zone that an element is in; empty where it is in none. A cycle ends the climb."""
    node = found.containers.get(element.id()) or found.parents.get(element.id())
    storey, space, zones = _climb(node, found) if node is not None else NOWHERE
    return storey, space, "; ".join(list(dict.fromkeys([*_zones(element, found), *zones]))[:MOST_ZONES])


def _climb(node: Entity, found: Relations) -> Names:
    """What is around a spatial element, with itself; kept for all that is passed on the way, so that none is climbed twice."""
    way: list[Entity] = []
    seen: set[int] = set()
    above: Entity | None = node
    while above is not None and above.id() not in found.places and above.id() not in seen:
        seen.add(above.id())
        way.append(above)
        above = found.parents.get(above.id()) or found.containers.get(above.id())
    names = found.places.get(above.id(), NOWHERE) if above is not None else NOWHERE
    for step in reversed(way):
        names = found.places[step.id()] = _within(step, names, found)
    return names


def _within(node: Entity, around: Names, found: Relations) -> Names:
    """The nearest storey and space, and the zones from here outward."""
    storey, space, zones = around
    own: list[str] = []
    if node.is_a("IfcSpatialZone"):
        own = [name_of(node)]
    if node.is_a("IfcSpace"):
        space = name_of(node)
        own += _zones(node, found)
    if node.is_a("IfcBuildingStorey"):
        storey = name_of(node)
    return storey, space, tuple(dict.fromkeys([*own, *zones]))[:MOST_ZONES]


def name_of(node: Entity) -> str:
    """What a spatial element or group is called."""
    return str(getattr(node, "Name", None) or getattr(node, "LongName", None) or node.GlobalId)


def _zones(element: Entity, found: Relations) -> list[str]:
    groups = found.groups.get(element.id(), ())
    return sorted({name_of(group) for group in groups if group.is_a("IfcZone")})


def parts_of_wholes(elements: Iterable[Entity], found: Relations) -> dict[int, Entity]:
    """Elements that aren't counted because of another one of them, by step id, with that other; so that none is counted twice.

    A part of a whole that has a shape is left out beside it. A whole without a shape of its own is its parts: then it is left out itself.
    """
    known = {element.id(): element for element in elements}
    left: dict[int, Entity] = {}
    for key, element in known.items():
        wholes = [whole for whole in wholes_of(element, found) if whole.id() in known]
        shaped = [whole for whole in wholes if getattr(whole, "Representation", None) is not None]
        if shaped:
            left[key] = shaped[-1]
        else:
            left |= {whole.id(): element for whole in wholes}
    return left


def wholes_of(element: Entity, found: Relations) -> list[Entity]:
    """What an element is a part of, the nearest first; nothing where that goes round."""
    wholes: list[Entity] = []
    node = found.parents.get(element.id())
    while node is not None and len(wholes) < DEEPEST:
        if node.id() == element.id():
            return []
        wholes.append(node)
        node = found.parents.get(node.id())
    return wholes


def material_profile(element: Entity, found: Relations) -> Entity | None:
    """The profile of an element's or its type's material, where it has exactly one."""
    kind = found.types.get(element.id())
    node = found.materials.get(element.id()) or (found.materials.get(kind.id()) if kind is not None else None)
    node = getattr(node, "ForProfileSet", None) or node
    profiles = list(many(getattr(node, "MaterialProfiles", None))) if node is not None else []
    return profiles[0].Profile if len(profiles) == 1 else None


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
