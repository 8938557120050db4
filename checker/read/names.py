"""Names that the standard gives to property sets, properties and predefined types: data, by release where releases differ."""

from checker.model import CarrierKind, FittingKind
from checker.read.mapping import Quantity

#: Predefined types of carrier segments.
CARRIER_KINDS = {
    "CABLELADDERSEGMENT": CarrierKind.LADDER,
    "CABLETRAYSEGMENT": CarrierKind.TRAY,
    "CABLETRUNKINGSEGMENT": CarrierKind.TRUNKING,
    "CONDUITSEGMENT": CarrierKind.CONDUIT,
}

#: Predefined types of carrier fittings. JUNCTION isn't among them: since IFC4X3 it is any fitting of more than two ports, a tee or a cross,
#: and no box.
FITTING_KINDS = {
    "BEND": FittingKind.BEND,
    "CONNECTOR": FittingKind.CONNECTOR,
    "CROSS": FittingKind.CROSS,
    "REDUCER": FittingKind.REDUCER,
    "TEE": FittingKind.TEE,
    "TRANSITION": FittingKind.REDUCER,
}

#: Property sets of carrier segments, and what an element is that has one. They hold widths and heights in IFC2X3 and IFC4; in IFC4X3 they
#: don't, so that models of that release carry sizes in Pset_ElementSize instead.
KIND_SETS = {
    "Pset_CableCarrierSegmentTypeCableTrunkingSegment": CarrierKind.TRUNKING,
    "Pset_CableCarrierSegmentTypeCableTraySegment": CarrierKind.TRAY,
    "Pset_CableCarrierSegmentTypeCableLadderSegment": CarrierKind.LADDER,
    "Pset_CableCarrierSegmentTypeConduitSegment": CarrierKind.CONDUIT,
}
SIZE_SETS = (*KIND_SETS, "Pset_ElementSize")

#: Quantity → property of the standard sets.
SIZE_PROPERTIES = {
    Quantity.WIDTH: "NominalWidth",
    Quantity.HEIGHT: "NominalHeight",
    Quantity.DIAMETER: "NominalDiameter",
    Quantity.LENGTH: "NominalLength",
    Quantity.COMPARTMENTS: "NumberOfCompartments",
}

#: Quantity → element quantities (IFC4X3: Qto_ConduitSegmentBaseQuantities; earlier files write the same names into sets of their own).
SIZE_QUANTITIES = {
    Quantity.WIDTH: ("Width", "OuterWidth", "NominalWidth"),
    Quantity.HEIGHT: ("Height", "OuterHeight", "NominalHeight"),
    Quantity.DIAMETER: ("OuterDiameter", "OutsideDiameter", "NominalDiameter"),
    Quantity.BORE: ("InnerDiameter", "InsideDiameter"),
    Quantity.WALL: ("WallThickness",),
    Quantity.LENGTH: ("Length",),
}

#: What no carrier is smaller or larger than (mm), so that a figure beyond is in another unit, or a mistake.
POSSIBLE_MM = {
    Quantity.WIDTH: (4.0, 3000.0),
    Quantity.HEIGHT: (4.0, 3000.0),
    Quantity.DIAMETER: (4.0, 3000.0),
    Quantity.BORE: (3.0, 3000.0),
    Quantity.WALL: (0.1, 40.0),
    Quantity.DIVIDER: (0.1, 40.0),
    Quantity.USABLE_DEPTH: (4.0, 1000.0),
    Quantity.LENGTH: (1.0, 1_000_000.0),
}

#: What carriers usually are (mm): a figure in the wrong unit is corrected only to something within this. Our own bounds, wide around the
#: sizes of EN 61386-1 and NFPA 70 Chapter 9 Table 4 (conduit) and of what is commonly sold (the others).
USUAL_MM = {
    (CarrierKind.TRUNKING, Quantity.WIDTH): (10.0, 450.0),
    (CarrierKind.TRUNKING, Quantity.HEIGHT): (8.0, 350.0),
    (CarrierKind.TRAY, Quantity.WIDTH): (35.0, 1200.0),
    (CarrierKind.TRAY, Quantity.HEIGHT): (10.0, 200.0),
    (CarrierKind.LADDER, Quantity.WIDTH): (75.0, 1500.0),
    (CarrierKind.LADDER, Quantity.HEIGHT): (25.0, 300.0),
    (CarrierKind.CONDUIT, Quantity.DIAMETER): (12.0, 320.0),
    (CarrierKind.CONDUIT, Quantity.BORE): (8.0, 300.0),
    (CarrierKind.CONDUIT, Quantity.WIDTH): (12.0, 320.0),
    (CarrierKind.CONDUIT, Quantity.HEIGHT): (12.0, 320.0),
    (CarrierKind.UNKNOWN, Quantity.WIDTH): (10.0, 1500.0),
    (CarrierKind.UNKNOWN, Quantity.HEIGHT): (8.0, 350.0),
    (CarrierKind.UNKNOWN, Quantity.DIAMETER): (12.0, 320.0),
    (CarrierKind.UNKNOWN, Quantity.BORE): (8.0, 300.0),
}
#: The same of what doesn't depend on the kind.
USUAL_OF_ANY_MM = {
    Quantity.WALL: (0.4, 15.0),
    Quantity.DIVIDER: (0.4, 15.0),
    Quantity.USABLE_DEPTH: (8.0, 300.0),
    Quantity.LENGTH: (50.0, 200_000.0),
}

#: Properties of cables, of any set.
CABLE_DIAMETERS = ("OverallDiameter", "NominalWidthOrDiameter", "OuterDiameter")
CABLE_AREAS = ("CrossSectionalArea",)
CABLE_CORES = ("NumberOfCores",)

#: The property that says whether an element is there already, in the sets named Pset_…Common, and its values.
CONDITION_PROPERTY = "Status"
#: Its values that say nothing (PEnum_ElementStatus), in lower case.
CONDITIONS_UNTOLD = {"", "other", "notknown", "unset", "notdefined"}

#: Classes of what a circuit may start or end at. What is a segment, a fitting or a port is left out of them.
EQUIPMENT_CLASSES = (
    "IfcDistributionElement",
    "IfcElectricalElement",
    "IfcEquipmentElement",
    "IfcBuildingElementProxy",
    "IfcFurnishingElement",
)
NOT_EQUIPMENT = ("IfcFlowSegment", "IfcFlowFitting", "IfcDistributionChamberElement")

#: Classes that say nothing of what a segment or fitting is, so that its type, the project's mapping or words may.
OPEN_SEGMENTS = {
    "IfcFlowSegment", "IfcDistributionFlowElement", "IfcDistributionElement", "IfcBuildingElementProxy", "IfcBuildingElementComponent",
}  # fmt: skip
OPEN_FITTINGS = {"IfcFlowFitting", "IfcDistributionFlowElement", "IfcDistributionElement", "IfcBuildingElementProxy"}
#: Types of other disciplines; and types that say nothing.
OPEN_TYPES = {
    "IfcTypeObject", "IfcTypeProduct", "IfcElementType", "IfcDistributionElementType", "IfcDistributionFlowElementType",
    "IfcFlowSegmentType", "IfcFlowFittingType", "IfcBuildingElementProxyType",
}  # fmt: skip
#: What is never a cable carrier, whatever its name says.
NEVER = ("IfcDuctSegment", "IfcPipeSegment", "IfcDuctFitting", "IfcPipeFitting", "IfcCableSegment", "IfcCableFitting")
NEVER_TYPES = tuple(f"{name}Type" for name in NEVER)


#: Every property or quantity that is asked for by its standard name.
ASKED = frozenset({
    *SIZE_PROPERTIES.values(), *(name for known in SIZE_QUANTITIES.values() for name in known), *CABLE_DIAMETERS, *CABLE_AREAS,
    *CABLE_CORES,
    CONDITION_PROPERTY,
})  # fmt: skip
