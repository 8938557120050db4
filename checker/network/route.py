"""What a route is: the ways of a circuit's cables through carriers, and how they were had."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from checker.model import Problem
from checker.network.breaks import Break
from checker.network.graph import Network, Node
from checker.network.joins import Join, NearMiss


class RoutedBy(StrEnum):
    """How a route was had. The surer ways first."""

    SCHEDULE = "schedule"
    DRAWN = "drawn in the model"
    DRAWN_IN_PART = "drawn in the model in part, else shortest way"
    ASKED = "shortest way that wayroom.toml allows"
    RETURNING = "shortest way out, another way back"
    SHORTEST = "shortest way"
    NONE = ""

    @property
    def was_found(self) -> bool:
        """Whether it is the shortest way that there is, in part at least, so that another could be meant."""
        return self not in {RoutedBy.SCHEDULE, RoutedBy.DRAWN, RoutedBy.NONE}


class Visit(NamedTuple):
    """A stretch of one carrier that one of a circuit's cables passes.

    ``compartment``: as the schedule's route says; ``seen_compartment``: as the model draws it; None: that doesn't tell it. ``leg`` counts
    from 0. ``line``: of a way that the model draws, which stretch of its lines; the cables don't go on between visits of different ones.
    """

    carrier: str
    from_mm: float
    to_mm: float
    compartment: int | None = None
    leg: int = 0
    seen_compartment: int | None = None
    line: int = 0


@dataclass(frozen=True, slots=True)
class Leg:
    """The way between two places that a circuit calls at. ``length_mm`` is through carriers and fittings, without the drops at both ends.

    None: not known. ``nodes`` are the two places of the network where it begins and ends; none where it was given.
    """

    origin: str
    call: str
    length_mm: float | None
    drops_mm: tuple[float | None, float | None]
    nodes: tuple[Node, ...] = ()


@dataclass(frozen=True, slots=True)
class Route:
    """A circuit's way: the carriers in order, one visit for each pass. ``reason``: why there is none.

    ``legs`` are the ways between its ends and calls, none where the route isn't measured between them; ``drops_mm`` the drops that are
    known of, one at each end and call. ``has_gap``: what the schedule gives or the model draws doesn't hang together, so that the cables
    lie elsewhere besides. ``lines``: by key the carriers that only some of the lines pass in which the model draws the cables: how many of
    how many.
    """

    circuit: str
    routed_by: RoutedBy
    visits: tuple[Visit, ...] = ()
    length_mm: float | None = None
    drops_mm: tuple[float | None, ...] = ()
    reason: str = ""
    has_gap: bool = False
    legs: tuple[Leg, ...] = ()
    lines: tuple[tuple[str, int, int], ...] = ()

    @property
    def carriers(self) -> frozenset[str]:
        """The keys of all carriers that it passes."""
        return frozenset(visit.carrier for visit in self.visits)


@dataclass(frozen=True, slots=True)
class Routing:
    """The network, all routes in the schedule's order, where circuits come in, what is wrong with them, and all joins.

    ``breaks`` is where parts of the network don't meet that circuits need joined, ``near_misses`` what nearly meets.
    """

    network: Network
    routes: tuple[Route, ...]
    landings: tuple[Node, ...]
    problems: tuple[Problem, ...]
    joins: tuple[Join, ...] = ()
    breaks: tuple[Break, ...] = ()
    near_misses: tuple[NearMiss, ...] = ()


def passes_of(visits: Sequence[Visit]) -> int:
    """How many times a circuit's cables lie beside each other in one carrier at the most: those that only meet end to end count once."""
    if len(visits) == 1:
        return 1
    marks = sorted(
        (place, change)
        for visit in visits
        for place, change in ((min(visit.from_mm, visit.to_mm), 1), (max(visit.from_mm, visit.to_mm), -1))
        if visit.from_mm != visit.to_mm
    )
    touching = Counter(visit.from_mm for visit in visits if visit.from_mm == visit.to_mm)
    beside, most = 0, max(touching.values(), default=1)
    for _, change in marks:
        beside += change
        most = max(most, beside)
    return most


def ways_of(routing: Routing) -> dict[str, frozenset[str]]:
    """The keys of the carriers that each circuit passes, by its mark."""
    return {route.circuit: route.carriers for route in routing.routes}


def total_mm(lengths: list[float | None]) -> float | None:
    """The sum of lengths; None where one isn't known."""
    known = [length for length in lengths if length is not None]
    return sum(known) if len(known) == len(lengths) else None
