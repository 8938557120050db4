"""Circuits and their cables, as a schedule has them. Unknown is ``None``, never 0."""

from dataclasses import dataclass, field
from enum import StrEnum

from checker.model.tolerance import Tolerance


class Service(StrEnum):
    """What a circuit is for; the words of the schedule."""

    POWER = "power"
    EMERGENCY_CENTRAL = "emergency-central"
    EMERGENCY_SELF_CONTAINED = "emergency-self-contained"
    FIRE_ALARM = "fire-alarm"
    CONTROL = "control"
    DATA = "data"
    ELV = "elv"


class State(StrEnum):
    """Whether a cable is there. Only removed ones take no room."""

    NEW = "new"
    EXISTING = "existing"
    SPARE = "spare"
    REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class Cable:
    """The cables of one schedule row: ``count`` alike, per set. Sizes are of one cable, outside.

    ``area_mm2``: as a code prints it; None: it follows from the size. ``planning``: the size is a planning value that no standard fixes.
    ``diameter_least_mm``, ``width_least_mm`` and ``height_least_mm``: the other end, where a size is given as a range; None: it isn't.
    ``mass_kg_per_km`` is of one cable, as it is given or the table has it. ``tolerance``: between what its standard lets its size be, if
    the size is the table's.
    """

    row: int
    key: str = ""
    count: int | None = 1
    diameter_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    csa_mm2: float | None = None
    cores: int | None = None
    stranded: bool | None = None
    awg_kcmil: str = ""
    conductor: str = ""
    insulation: str = ""
    rated_voltage_v: float | None = None
    source: str = ""
    area_mm2: float | None = None
    planning: bool = False
    diameter_least_mm: float | None = None
    width_least_mm: float | None = None
    height_least_mm: float | None = None
    mass_kg_per_km: float | None = None
    tolerance: Tolerance | None = None


@dataclass(frozen=True, slots=True)
class RouteStep:
    """A carrier as the schedule's route names it: ``text`` as it stands there, ``name`` and ``compartment`` with ``/N`` taken apart."""

    text: str
    name: str
    compartment: int | None = None


@dataclass(frozen=True, slots=True)
class WayLimits:
    """What the project says of a circuit's way.

    ``via`` are groups of carriers, by key: it passes one of each, in order. ``closed`` are carriers that it doesn't pass. ``told`` says
    both in words, for the reader of a reason. ``lacking`` are names that it is to be led by and that no carrier has: then where it runs
    isn't known.
    """

    via: tuple[frozenset[str], ...] = ()
    closed: frozenset[str] = frozenset()
    told: tuple[str, ...] = ()
    lacking: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Circuit:
    """What one protective device feeds. ``unread`` lists what its rows say that could not be read.

    ``returns_other_way``: a ring, whose last leg takes another way than those out. ``apart_from`` are marks of circuits that it may share
    no carrier with.
    """

    mark: str
    origin: str
    calls: tuple[str, ...]
    service: Service | None
    state: State = State.NEW
    sets: int = 1
    cables: tuple[Cable, ...] = ()
    route: tuple[RouteStep, ...] = ()
    compartment: int | None = None
    voltage_v: float | None = None
    electrical: dict[str, float | str] = field(default_factory=dict)
    other: dict[str, str] = field(default_factory=dict)
    unread: tuple[str, ...] = ()
    returns_other_way: bool = False
    apart_from: tuple[str, ...] = ()
    limits: WayLimits = WayLimits()
