"""Names that the standard gives to property sets, properties and predefined types: data, by release where releases differ."""

from checker.model import CarrierKind, FittingKind

#: Predefined types of carrier segments.
CARRIER_KINDS = {
    "CABLELADDERSEGMENT": CarrierKind.LADDER,
    "CABLETRAYSEGMENT": CarrierKind.TRAY,
    "CABLETRUNKINGSEGMENT": CarrierKind.TRUNKING,
    "CONDUITSEGMENT": CarrierKind.CONDUIT,
}

#: Predefined types of carrier fittings.
FITTING_KINDS = {
    "BEND": FittingKind.BEND,
    "CONNECTOR": FittingKind.CONNECTOR,
    "CROSS": FittingKind.CROSS,
    "JUNCTION": FittingKind.BOX,
    "REDUCER": FittingKind.REDUCER,
    "TEE": FittingKind.TEE,
    "TRANSITION": FittingKind.REDUCER,
}

#: Property sets of carrier segments that hold sizes. The same in IFC2X3 and IFC4; IFC4X3 has no width or height in them, so that
#: models of that release carry sizes in Pset_ElementSize instead.
SIZE_SETS = (
    "Pset_CableCarrierSegmentTypeCableTrunkingSegment",
    "Pset_CableCarrierSegmentTypeCableTraySegment",
    "Pset_CableCarrierSegmentTypeCableLadderSegment",
    "Pset_CableCarrierSegmentTypeConduitSegment",
    "Pset_ElementSize",
)
WIDTH, HEIGHT, DIAMETER, LENGTH, COMPARTMENTS = (
    "NominalWidth",
    "NominalHeight",
    "NominalDiameter",
    "NominalLength",
    "NumberOfCompartments",
)

#: Classes of what a circuit may start or end at. What is a segment, a fitting or a port is left out of them.
EQUIPMENT_CLASSES = (
    "IfcDistributionElement",
    "IfcElectricalElement",
    "IfcEquipmentElement",
    "IfcBuildingElementProxy",
    "IfcFurnishingElement",
)
NOT_EQUIPMENT = ("IfcFlowSegment", "IfcFlowFitting", "IfcDistributionChamberElement")

#: Words in the name of what may be a cable carrier that its model doesn't call one.
CARRIER_WORDS = ("conduit", "cable tray", "cable ladder", "cable trunking", "cable carrier", "cable basket", "trunking")
