"""How types of carriers, their property sets and the status of elements are written."""

from collections.abc import Mapping, Sequence

from data_ifc_parts import Entity, Parts, global_id
from data_plan import LADDER, TYPES, CarrierType

STATUS_WORDS = ("NEW", "EXISTING", "DEMOLISH", "TEMPORARY", "OTHER", "NOTKNOWN", "UNSET")


def add_types(parts: Parts, context: Entity) -> tuple[dict[str, Entity], dict[str, Entity]]:
    """Write one type object for each type, and give them and their maps.

    None has a width or height in a property set; one has them as quantities.
    """
    types, maps = {}, {}
    for key, kind in TYPES.items():
        sets = [_property_set(parts, key, kind)] if kind.predefined_type != "NOTDEFINED" else []
        sets += [_quantities(parts, key, kind.quantity_m)] if kind.quantity_m else []
        if kind.shape == "piece":
            maps[key] = parts.piece(kind, context)
        types[key] = parts.make(
            "IfcCableCarrierSegmentType",
            GlobalId=global_id(f"type {key}"),
            Name=kind.name,
            HasPropertySets=sets or None,
            RepresentationMaps=[maps[key]] if key in maps else None,
            PredefinedType=kind.predefined_type,
        )
    parts.make(
        "IfcRelAssociatesMaterial",
        GlobalId=global_id("material steel"),
        RelatedObjects=list(types.values()),
        RelatingMaterial=parts.make("IfcMaterial", Name="Galvanised steel", Category="steel"),
    )
    return types, maps


def _property_set(parts: Parts, key: str, kind: CarrierType) -> Entity:
    is_ladder = kind.predefined_type == LADDER
    name = "LadderConfiguration" if is_ladder else "HasCover"
    value = parts.value("IfcText", "straight, rungs at 300 mm") if is_ladder else parts.value("IfcBoolean", False)
    return parts.make(
        "IfcPropertySet",
        GlobalId=global_id(f"properties {key}"),
        Name=f"Pset_CableCarrierSegmentTypeCable{'Ladder' if is_ladder else 'Tray'}Segment",
        HasProperties=[parts.make("IfcPropertySingleValue", Name=name, NominalValue=value)],
    )


def _quantities(parts: Parts, key: str, sizes_m: tuple[float, float]) -> Entity:
    lengths = zip(("Width", "Height"), sizes_m, strict=True)
    return parts.make(
        "IfcElementQuantity",
        GlobalId=global_id(f"quantities {key}"),
        Name="Qto_CableCarrierSegmentBaseQuantities",
        Quantities=[parts.make("IfcQuantityLength", Name=name, LengthValue=value) for name, value in lengths],
    )


def add_status(parts: Parts, members: Mapping[str, Sequence[Entity]]) -> None:
    """Write the status of elements, one set for all of a status."""
    for word, elements in members.items():
        labels = [parts.value("IfcLabel", each) for each in STATUS_WORDS]
        choices = parts.make("IfcPropertyEnumeration", Name=f"PEnum_ElementStatus {word}", EnumerationValues=labels)
        given = parts.make(
            "IfcPropertyEnumeratedValue",
            Name="Status",
            EnumerationValues=[parts.value("IfcLabel", word)],
            EnumerationReference=choices,
        )
        status = parts.make(
            "IfcPropertySet",
            GlobalId=global_id(f"status {word}"),
            Name="Pset_CableCarrierSegmentTypeCommon",
            HasProperties=[given],
        )
        parts.make(
            "IfcRelDefinesByProperties",
            GlobalId=global_id(f"status of {word}"),
            RelatedObjects=list(elements),
            RelatingPropertyDefinition=status,
        )
