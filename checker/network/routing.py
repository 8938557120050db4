"""Finds the way of every circuit: as the schedule gives it, else the shortest through joined carriers that take its service."""

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from checker.model import Carrier, Circuit, Installation, Problem, ProblemKind, Service, State
from checker.model.geometry import Vec, distance
from checker.model.texts import listed
from checker.network.ends import Landing, Landings
from checker.network.given import GivenRoutes, Unread
from checker.network.graph import Network, Node, Path
from checker.network.joining import Join, find_joins
from checker.units import metres


class RoutedBy(StrEnum):
    """How a route was had."""

    SCHEDULE = "schedule"
    SHORTEST = "shortest way"
    NONE = ""


@dataclass(frozen=True, slots=True)
class Visit:
    """A stretch of one carrier that one of a circuit's cables passes. ``compartment``: as the schedule's route says; None: it doesn't."""

    carrier: str
    from_mm: float
    to_mm: float
    compartment: int | None = None


@dataclass(frozen=True, slots=True)
class Route:
    """A circuit's way: the carriers in order, one visit for each pass. ``reason``: why there is none.

    ``has_gap``: what the schedule gives doesn't hang together, so that the cables lie elsewhere besides.
    """

    circuit: str
    routed_by: RoutedBy
    visits: tuple[Visit, ...] = ()
    length_mm: float | None = None
    drops_mm: tuple[float | None, ...] = ()
    reason: str = ""
    has_gap: bool = False


@dataclass(frozen=True, slots=True)
class Routing:
    """The network, all routes in the schedule's order, where circuits come in, what is wrong with them, and all joins."""

    network: Network
    routes: tuple[Route, ...]
    landings: tuple[Node, ...]
    problems: tuple[Problem, ...]
    joins: tuple[Join, ...] = ()


def route_all(installation: Installation, tell: Callable[[int, int], None] = lambda *_: None) -> Routing:
    """Routes every circuit.

    Args:
        installation: What there is.
        tell: Is told how many circuits of how many are done.
    """
    found = find_joins(installation)
    landings = Landings(installation, found.joins)
    given = GivenRoutes(installation)
    ends = {circuit.mark: _ends(circuit, landings, given) for circuit in installation.circuits}
    nodes = tuple(
        place.node
        for own in ends.values()
        for landing in own
        for place in (landing, *landing.others)
        if place.node is not None
    )
    places = ((key, along) for key, along in nodes if along is not None)
    network = Network(installation, found.joins, places)
    router = _Router(network, given, installation.reach_mm)
    routes = []
    for done, circuit in enumerate(installation.circuits, start=1):
        routes.append(router.route(circuit, ends[circuit.mark]))
        tell(done, len(installation.circuits))
    unknown = [carrier.place.label for carrier in installation.carriers if not carrier.length_mm]
    problems = [
        Problem(listed(sorted(unknown)),
                "how long it is isn't known", "ways through it are taken only where there is no other", "give it a shape or ports",
                elements=len(unknown))
    ] if unknown and installation.circuits else []  # fmt: skip
    return Routing(network, tuple(routes), nodes, (*router.problems, *problems, *found.problems), found.joins)


def _ends(circuit: Circuit, landings: Landings, given: GivenRoutes) -> list[Landing]:
    """Where a circuit comes in, at its origin and each call; with a route of its own, on the carriers that it names."""
    names = (circuit.origin, *circuit.calls)
    if not circuit.route:
        return [landings.find(text, circuit.service) for text in names]
    steps = given.steps(circuit)
    if isinstance(steps, Unread):
        return []
    carriers = [carrier for carrier, _ in steps]
    allowed = [carriers[:1], *([carriers] * (len(circuit.calls) - 1)), carriers[-1:]]
    return [landings.on(text, among) for text, among in zip(names, allowed, strict=False) if text]


class _Router:
    def __init__(self, network: Network, given: GivenRoutes, reach_mm: float) -> None:
        self.network = network
        self.problems: list[Problem] = []
        self._reach_mm = reach_mm
        self._steps = given
        self._neighbours = network.neighbours()
        self._closed: dict[Service | None, frozenset[str]] = {}

    def closed_to(self, service: Service | None) -> frozenset[str]:
        """Carriers that have no compartment for a service."""
        if service not in self._closed:
            self._closed[service] = frozenset(
                key for key, carrier in self.network.carriers.items() if not carrier.takes(service)
            )
            self.network.divide(self._closed[service])
        return self._closed[service]

    def route(self, circuit: Circuit, ends: list[Landing]) -> Route:
        if circuit.state is State.REMOVED:
            return Route(circuit.mark, RoutedBy.NONE, reason="removed: it takes no room")
        if not {"from", "to", "route"}.isdisjoint(circuit.unread):
            return self._not(
                circuit, "where it runs isn't said, or its rows contradict each other", "mend its rows in the schedule"
            )
        return self._given(circuit, ends) if circuit.route else self._shortest(circuit, ends)

    def _not(self, circuit: Circuit, reason: str, hint: str) -> Route:
        self.problems.append(
            Problem(f"circuit {circuit.mark}", reason, "so it isn't routed, and its cables could lie elsewhere", hint)
        )
        return Route(circuit.mark, RoutedBy.NONE, reason=reason)

    def _shortest(self, circuit: Circuit, ends: list[Landing]) -> Route:
        missing = next((landing for landing in ends if landing.node is None), None)
        if missing is not None:
            return self._not(circuit, missing.why_not, missing.hint)
        if len(ends) < 2:
            return self._not(circuit, "it has only one end", "name what it feeds in the column 'to'")
        if circuit.origin in circuit.calls and len(circuit.calls) == 1:
            self._note(
                circuit,
                f"both its ends are {circuit.origin!r}",
                "so it runs nowhere else",
                "check the columns from and to",
                ProblemKind.ASSUMPTION,
            )
        visits: list[Visit] = []
        lengths: list[float | None] = []
        drops = [ends[0].drop_mm]
        for number, (one, other) in enumerate(itertools.pairwise(ends)):
            leg = self._leg(one, other, self.closed_to(circuit.service))
            if leg is None:
                first, last = (self.network.carriers[end.node[0]].place.label for end in (one, other) if end.node)
                return self._not(
                    circuit, f"no way through joined carriers that take {circuit.service or 'it'} leads from {first} to {last}",
                    "join the two parts of the network in the model, or give the route in the schedule",
                )  # fmt: skip
            begin, end, path = leg
            if number == 0:
                drops[0] = begin.drop_mm
            drops.append(end.drop_mm)
            visits.extend(Visit(part.carrier, part.from_mm, part.to_mm) for part in path.stretches)
            lengths.append(path.length_mm)
        return Route(circuit.mark, RoutedBy.SHORTEST, tuple(visits), _total(lengths), tuple(drops))

    def _leg(self, one: Landing, other: Landing, closed: frozenset[str]) -> tuple[Landing, Landing, Path] | None:
        """The shortest way between any places where the two ends come in, with the places.

        Of ways as long, the one over the fewest carriers: a drop at a corner doesn't enter a carrier that it only touches.
        """
        found = []
        for begin, end in itertools.product((one, *one.others), (other, *other.others)):
            if begin.node is not None and end.node is not None:
                path = self.network.path(begin.node, end.node, closed)
                if path is not None:
                    found.append((begin, end, path))

        def shorter(leg: tuple[Landing, Landing, Path]) -> tuple[float, int]:
            length = leg[2].length_mm
            return (math.inf if length is None else round(length, 3), len(leg[2].stretches))

        return min(found, key=shorter, default=None)

    def _note(self, circuit: Circuit, what: str, why: str, hint: str, kind: ProblemKind = ProblemKind.GAP) -> None:
        self.problems.append(Problem(f"circuit {circuit.mark}", what, why, hint, kind))

    def _given(self, circuit: Circuit, ends: list[Landing]) -> Route:
        """The schedule's own route. Where its carriers meet as it says, it is measured between its ends; else carriers count whole."""
        steps = self._steps.steps(circuit)
        if isinstance(steps, Unread):
            return self._not(circuit, steps.why, steps.hint)
        has_gap = False
        for (one, _), (other, _) in itertools.pairwise(steps):
            if one.key != other.key and other.key not in self._neighbours.get(one.key, ()):
                has_gap = True
                what = f"its route goes from {one.place.label} to {other.place.label}, which aren't joined"
                self._note(
                    circuit,
                    what,
                    f"{_gap(one, other)}; what lies between isn't known",
                    "join them, or name what lies between",
                )
        for landing, text in zip(ends, [name for name in (circuit.origin, *circuit.calls) if name], strict=True):
            has_gap = self._misses(circuit, landing, text) or has_gap
        measured = None if has_gap else self._measured(steps, ends)
        drops = tuple(landing.drop_mm for landing in ends if landing.node is not None)
        if measured is not None:
            compartments = {carrier.key: compartment for carrier, compartment in steps}
            visits = [
                Visit(part.carrier, part.from_mm, part.to_mm, compartments[part.carrier])
                for path in measured
                for part in path.stretches
            ]
            total = _total([path.length_mm for path in measured])
            return Route(circuit.mark, RoutedBy.SCHEDULE, tuple(visits), total, drops)
        whole = tuple(Visit(carrier.key, 0.0, carrier.length_mm or 0.0, compartment) for carrier, compartment in steps)
        known = not has_gap and all(carrier.length_mm for carrier, _ in steps)
        length = sum(visit.to_mm for visit in whole) if known else None
        return Route(circuit.mark, RoutedBy.SCHEDULE, whole, length, drops, has_gap=has_gap)

    def _misses(self, circuit: Circuit, landing: Landing, text: str) -> bool:
        """Whether a given route doesn't reach an end that the schedule names; it is told where it doesn't."""
        if landing.why_not:
            self._note(circuit, landing.why_not, "so where its route begins or ends can't be seen", landing.hint)
        elif landing.node is None:
            self._note(
                circuit,
                f"its route doesn't reach {text!r}",
                "so where it begins or ends can't be seen",
                "name the carriers up to there",
            )
        elif landing.drop_mm is not None and landing.drop_mm > self._reach_mm:
            what = f"its route ends {metres(landing.drop_mm):.2f} m from {text!r}"
            self._note(
                circuit, what, f"that is more than {metres(self._reach_mm):g} m", "name the carriers up to there"
            )
        else:
            return False
        return True

    def _measured(self, steps: list[tuple[Carrier, int | None]], ends: list[Landing]) -> list[Path] | None:
        """The ways between the ends through the named carriers alone; None where they don't pass each of them, in order."""
        named = [carrier.key for carrier, _ in steps]
        if len(ends) < 2 or len(set(named)) != len(named):
            return None
        closed = frozenset(self.network.carriers.keys() - set(named))
        paths = []
        for one, other in itertools.pairwise(ends):
            path = (
                self.network.path(one.node, other.node, closed)
                if one.node is not None and other.node is not None
                else None
            )
            if path is None:
                return None
            paths.append(path)
        passed = dict.fromkeys(part.carrier for path in paths for part in path.stretches)
        return paths if list(passed) == named else None


def _total(lengths: list[float | None]) -> float | None:
    known = [length for length in lengths if length is not None]
    return sum(known) if len(known) == len(lengths) else None


def _gap(one: Carrier, other: Carrier) -> str:
    ends: list[list[Vec]] = [
        [end for end in (carrier.start_mm, carrier.end_mm) if end is not None] for carrier in (one, other)
    ]
    gaps = [distance(a, b) for a in ends[0] for b in ends[1]]
    return f"their nearest ends are {min(gaps):.0f} mm apart" if gaps else "where they are isn't known"
