"""What is installed and what rules are asked about. No I/O, no graph, no rules."""

from checker.model.circuits import Cable, Circuit, RouteStep, Service, State, WayLimits
from checker.model.geometry import Body, Vec
from checker.model.installation import (
    Carrier,
    CarrierKind,
    Condition,
    Equipment,
    Fitting,
    FittingKind,
    Installation,
    Lane,
    Laying,
    ModelCable,
    ModelCircuit,
    Partition,
    Place,
    Port,
    Section,
    Surroundings,
)
from checker.model.loads import CircuitLoad, Enclosure, Member, RoutedCircuit
from checker.model.provenance import Confidence, Problem, ProblemKind, SourceFile
from checker.model.subjects import LoadedCompartment, PlacedCable, Run, cable_area_mm2

__all__ = [
    "Body",
    "Cable",
    "Carrier",
    "CarrierKind",
    "Circuit",
    "CircuitLoad",
    "Condition",
    "Confidence",
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
    "ModelCircuit",
    "Partition",
    "Place",
    "PlacedCable",
    "Port",
    "Problem",
    "ProblemKind",
    "RouteStep",
    "RoutedCircuit",
    "Run",
    "Section",
    "Service",
    "SourceFile",
    "State",
    "Surroundings",
    "Vec",
    "WayLimits",
    "cable_area_mm2",
]
