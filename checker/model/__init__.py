"""What is installed and what rules are asked about. No I/O, no graph, no rules."""

from checker.model.circuits import Cable, Circuit, RouteStep, Service, State
from checker.model.geometry import Vec
from checker.model.installation import (
    Carrier,
    CarrierKind,
    Equipment,
    Fitting,
    FittingKind,
    Installation,
    Lane,
    Laying,
    ModelCable,
    Place,
    Port,
    Problem,
    Section,
    SourceFile,
    Surroundings,
)
from checker.model.loads import CircuitLoad, Enclosure, Member, RoutedCircuit
from checker.model.subjects import LoadedCompartment, PlacedCable, Run, cable_area_mm2

__all__ = [
    "Cable",
    "Carrier",
    "CarrierKind",
    "Circuit",
    "CircuitLoad",
    "Enclosure",
    "Equipment",
    "Fitting",
    "FittingKind",
    "Installation",
    "Lane",
    "Laying",
    "LoadedCompartment",
    "Member",
    "ModelCable",
    "Place",
    "PlacedCable",
    "Port",
    "Problem",
    "RouteStep",
    "RoutedCircuit",
    "Run",
    "Section",
    "Service",
    "SourceFile",
    "State",
    "Surroundings",
    "Vec",
    "cable_area_mm2",
]
