"""What is installed and what rules are asked about. No I/O, no graph, no rules."""

from checker.model.asked import About, Subject, guess_of
from checker.model.barriers import Barrier, Penetration
from checker.model.circuits import Cable, Circuit, RouteStep, Service, State, WayLimits
from checker.model.filled import Fill, FilledCompartment
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
from checker.model.loaded_run import LoadedRun, RunPiece
from checker.model.loads import CircuitLoad, Enclosure, Member, RoutedCircuit
from checker.model.modelled import ModelledCarrier
from checker.model.pairs import CarrierPair, CircuitPair, Nearby, Side
from checker.model.provenance import Confidence, Problem, ProblemKind, SourceFile
from checker.model.subjects import DividedFitting, LoadedCompartment, Passing, PlacedCable, Run, cable_area_mm2

__all__ = [
    "About",
    "Barrier",
    "Body",
    "Cable",
    "Carrier",
    "CarrierKind",
    "CarrierPair",
    "Circuit",
    "CircuitLoad",
    "CircuitPair",
    "Condition",
    "Confidence",
    "DividedFitting",
    "Enclosure",
    "Equipment",
    "Fill",
    "FilledCompartment",
    "Fitting",
    "FittingKind",
    "Installation",
    "Lane",
    "Laying",
    "LoadedCompartment",
    "LoadedRun",
    "Member",
    "ModelCable",
    "ModelCircuit",
    "ModelledCarrier",
    "Nearby",
    "Partition",
    "Passing",
    "Penetration",
    "Place",
    "PlacedCable",
    "Port",
    "Problem",
    "ProblemKind",
    "RouteStep",
    "RoutedCircuit",
    "Run",
    "RunPiece",
    "Section",
    "Service",
    "Side",
    "SourceFile",
    "State",
    "Subject",
    "Surroundings",
    "Vec",
    "WayLimits",
    "cable_area_mm2",
    "guess_of",
]
