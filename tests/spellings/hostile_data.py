"""Trouble with property sets, units, types and materials."""

from tests.spellings.hostile import DOUBLINGS, Builder, Entity, Trouble


def a_set_that_all_share(model: Trouble, size: int) -> None:
    """A property set of many properties, shared by as many elements and types."""
    items = [
        model.make("IfcPropertySingleValue", f"P{i}", None, model.make("IfcLabel", str(i)), None) for i in range(size)
    ]
    width = model.make(
        "IfcPropertySingleValue", "NominalWidth", None, model.make("IfcPositiveLengthMeasure", 50.0), None
    )
    shared = model.rooted("IfcPropertySet", Name="Pset_ElementSize", HasProperties=[*items, width])
    elements = [model.more(number) for number in range(size)]
    model.rooted("IfcRelDefinesByProperties", RelatedObjects=elements, RelatingPropertyDefinition=shared)
    for number, element in enumerate(elements):
        kind = model.type_of([element], "IfcCableCarrierSegmentType", f"type {number}", PredefinedType="NOTDEFINED")
        kind.HasPropertySets = [shared]


def sets_of_sets(model: Trouble, size: int) -> None:
    """Complex properties that hold themselves, or the next one twice, thirty deep; nested quantities likewise."""
    own = model.make(
        "IfcComplexProperty", "Own", None, "x", [model.make("IfcPropertySingleValue", "A", None, None, None)]
    )
    own.HasProperties = [own]
    deep = model.make(
        "IfcPropertySingleValue", "NominalWidth", None, model.make("IfcPositiveLengthMeasure", 50.0), None
    )
    sized = model.make("IfcQuantityLength", "Width", None, None, 50.0, None)
    for _ in range(DOUBLINGS):
        deep = model.make(
            "IfcComplexProperty", "Deep", None, "x", [deep, model.make("IfcComplexProperty", "D", None, "x", [deep])]
        )
        sized = model.make("IfcPhysicalComplexQuantity", "Deep", None, [sized, sized], "x", None, None)
    knot = model.make("IfcPhysicalComplexQuantity", "Own", None, [sized], "x", None, None)
    knot.HasQuantities = [knot]
    for number in range(size):
        element = model.more(number)
        for definition in (
            model.rooted("IfcPropertySet", Name="Pset_ElementSize", HasProperties=[own, deep]),
            model.rooted("IfcElementQuantity", Name="Qto_CableCarrierSegmentBaseQuantities", Quantities=[knot, sized]),
        ):
            model.rooted("IfcRelDefinesByProperties", RelatedObjects=[element], RelatingPropertyDefinition=definition)


def units_of_themselves(model: Trouble, size: int) -> None:
    """Properties in units that are defined by themselves, by each other, or through a long chain."""
    one, other = (_unit(model, model.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")) for _ in range(2))
    one.ConversionFactor.UnitComponent, other.ConversionFactor.UnitComponent = other, one
    chain = one
    for _ in range(size):
        chain = _unit(model, chain)
    for number in range(size):
        width = model.make("IfcPositiveLengthMeasure", 50.0)
        items = [model.make("IfcPropertySingleValue", "NominalWidth", None, width, (one, chain)[number % 2])]
        properties = model.rooted("IfcPropertySet", Name="Pset_ElementSize", HasProperties=items)
        model.rooted(
            "IfcRelDefinesByProperties", RelatedObjects=[model.more(number)], RelatingPropertyDefinition=properties
        )


def the_models_unit_is_a_loop(model: Trouble, size: int) -> None:
    """The length unit of the whole model is defined by itself, through as many as there are."""
    last = first = _unit(model, model.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE"))
    for _ in range(size):
        last = _unit(model, last)
    first.ConversionFactor.UnitComponent = last
    model.project.UnitsInContext.Units = [last]


def _unit(model: Trouble, base: Entity) -> Entity:
    exponents = model.make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
    factor = model.make("IfcMeasureWithUnit", model.make("IfcLengthMeasure", 1.0), base)
    return model.make("IfcConversionBasedUnit", exponents, "LENGTHUNIT", "SPAN", factor)


def types_of_types(model: Trouble, size: int) -> None:
    """Types that are nested and aggregated in each other; every type defines every element there is one after another."""
    elements = [model.more(number) for number in range(size)]
    types = [
        model.type_of([element], "IfcCableCarrierSegmentType", "T", PredefinedType="NOTDEFINED") for element in elements
    ]
    for one, other, element in zip(types, [*types[1:], types[0]], elements, strict=True):
        model.rooted("IfcRelNests", RelatingObject=one, RelatedObjects=[other])
        model.rooted("IfcRelAggregates", RelatingObject=one, RelatedObjects=[other])
        model.rooted("IfcRelDefinesByType", RelatedObjects=[element], RelatingType=other)


def materials_in_each_other(model: Trouble, size: int) -> None:
    """Constituents, layers and lists that all elements share, as many as there are elements."""
    steel = model.make("IfcMaterial", "steel")
    shared = model.make("IfcMaterialList", [steel] * size)
    layers = model.make("IfcMaterialLayerSet", [model.make("IfcMaterialLayer", None, 1.0, None)] * max(size, 1), None)
    for number in range(size):
        model.rooted(
            "IfcRelAssociatesMaterial",
            RelatedObjects=[model.more(number)],
            RelatingMaterial=(shared, layers)[number % 2],
        )


DATA: dict[str, Builder] = {
    builder.__name__.replace("_", " "): builder
    for builder in (
        a_set_that_all_share, sets_of_sets, units_of_themselves, the_models_unit_is_a_loop, types_of_types, materials_in_each_other,
    )
}  # fmt: skip
