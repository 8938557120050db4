"""What an element is: by its class, then its type's class, then the predefined type. Names and words are not believed here."""

from typing import Any

from checker.model import CarrierKind, FittingKind
from checker.read import names
from checker.read.relations import Relations, all_of

Entity = Any


def _word(element: Entity | None, attribute: str = "PredefinedType") -> str:
    return str(getattr(element, attribute, None) or "").strip().upper() if element is not None else ""


def _predefined(element: Entity, kind: Entity | None) -> list[str]:
    """Words for the predefined type, the occurrence's first; USERDEFINED gives way to what the user wrote."""
    words = []
    for entity, free in ((element, "ObjectType"), (kind, "ElementType")):
        word = _word(entity)
        words.append(_word(entity, free) if word == "USERDEFINED" else word)
    return words


def carriers_in(model: Entity, found: Relations) -> list[tuple[Entity, CarrierKind]]:
    """The carrier segments of a model. In IFC2X3 only the type tells one from other flow segments."""
    elements = list(all_of(model, "IfcCableCarrierSegment"))
    seen = {element.id() for element in elements}
    for element in all_of(model, "IfcFlowSegment"):
        kind = found.types.get(element.id())
        if element.id() not in seen and kind is not None and kind.is_a("IfcCableCarrierSegmentType"):
            elements.append(element)
    pairs = []
    for element in elements:
        words = _predefined(element, found.types.get(element.id()))
        kinds = (names.CARRIER_KINDS[word] for word in words if word in names.CARRIER_KINDS)
        pairs.append((element, next(kinds, CarrierKind.UNKNOWN)))
    return pairs


def fittings_in(model: Entity, found: Relations) -> list[tuple[Entity, FittingKind]]:
    """The carrier fittings and boxes of a model."""
    elements = [(element, "") for element in all_of(model, "IfcCableCarrierFitting")]
    elements += [(element, "JUNCTION") for element in all_of(model, "IfcJunctionBox")]
    seen = {element.id() for element, _ in elements}
    for element in all_of(model, "IfcFlowFitting"):
        kind = found.types.get(element.id())
        if element.id() in seen or kind is None:
            continue
        if kind.is_a("IfcCableCarrierFittingType"):
            elements.append((element, ""))
        elif kind.is_a("IfcJunctionBoxType"):
            elements.append((element, "JUNCTION"))
    pairs = []
    for element, known in elements:
        words = [known] if known else _predefined(element, found.types.get(element.id()))
        kinds = (names.FITTING_KINDS[word] for word in words if word in names.FITTING_KINDS)
        pairs.append((element, next(kinds, FittingKind.UNKNOWN)))
    return pairs


def equipment_in(model: Entity, taken: set[int]) -> list[Entity]:
    """What circuits may start or end at: everything of the equipment classes that is neither carrier nor fitting."""
    elements: dict[int, Entity] = {}
    for name in names.EQUIPMENT_CLASSES:
        for element in all_of(model, name):
            if element.id() not in taken and not any(element.is_a(other) for other in names.NOT_EQUIPMENT):
                elements[element.id()] = element
    return list(elements.values())
