"""Finds the way of every circuit: as the schedule gives it, else the shortest through joined carriers that take its service."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from checker.model import Carrier, Circuit, Installation, Problem, Service, State
from checker.model.geometry import Vec, distance
from checker.network.ends import Landing, Landings, Names
from checker.network.graph import Network
from checker.network.joining import find_joins


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
    """A circuit's way: the carriers in order, one visit for each pass. ``reason``: why there is none."""

    circuit: str
    routed_by: RoutedBy
    visits: tuple[Visit, ...] = ()
    length_mm: float | None = None
    drops_mm: tuple[float, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Routing:
    """The network, all routes in the schedule's order, and what is wrong with them."""

    network: Network
    routes: tuple[Route, ...]
    problems: tuple[Problem, ...]


def route_all(installation: Installation, tell: Callable[[int, int], None] = lambda *_: None) -> Routing:
    """Routes every circuit.

    Args:
        installation: What there is.
        tell: Is told how many circuits of how many are done.
    """
    joins = find_joins(installation)
    landings = Landings(installation, joins)
    ends = {
        circuit.mark: [landings.find(text, circuit.service) for text in (circuit.origin, *circuit.calls)]
        for circuit in installation.circuits
        if not circuit.route
    }
    places = [landing.node for found in ends.values() for landing in found if landing.node is not None]
    network = Network(installation, joins, ((key, along) for key, along in places if along is not None and along >= 0.0))
    router = _Router(installation, network)
    routes = []
    for done, circuit in enumerate(installation.circuits, start=1):
        routes.append(router.route(circuit, ends.get(circuit.mark, [])))
        tell(done, len(installation.circuits))
    return Routing(network, tuple(routes), tuple(router.problems))


class _Router:
    def __init__(self, installation: Installation, network: Network) -> None:
        self.network = network
        self.problems: list[Problem] = []
        self._names = Names(installation, only_carriers=True)
        self._neighbours = network.neighbours()
        self._closed: dict[Service | None, frozenset[str]] = {}

    def closed_to(self, service: Service | None) -> frozenset[str]:
        """Carriers that have no compartment for a service."""
        if service not in self._closed:
            self._closed[service] = frozenset(key for key, carrier in self.network.carriers.items() if not carrier.takes(service))
        return self._closed[service]

    def route(self, circuit: Circuit, ends: list[Landing]) -> Route:
        if circuit.state is State.REMOVED:
            return Route(circuit.mark, RoutedBy.NONE, reason="removed: it takes no room")
        return self._given(circuit) if circuit.route else self._shortest(circuit, ends)

    def _not(self, circuit: Circuit, reason: str, hint: str) -> Route:
        self.problems.append(Problem(f"circuit {circuit.mark}", reason, "so it isn't routed, and its cables could lie elsewhere", hint))
        return Route(circuit.mark, RoutedBy.NONE, reason=reason)

    def _shortest(self, circuit: Circuit, ends: list[Landing]) -> Route:
        missing = next((landing for landing in ends if landing.node is None), None)
        if missing is not None:
            return self._not(circuit, missing.why_not, missing.hint)
        if len(ends) < 2:
            return self._not(circuit, "it has only one end", "name what it feeds in the column 'to'")
        visits: list[Visit] = []
        length = 0.0
        for one, other in zip(ends, ends[1:], strict=False):
            if one.node is None or other.node is None:  # seen above; told to the type checker
                continue
            path = self.network.path(one.node, other.node, self.closed_to(circuit.service))
            if path is None:
                first, last = (self.network.carriers[node[0]].place.label for node in (one.node, other.node))
                return self._not(
                    circuit, f"no way through joined carriers that take {circuit.service or 'it'} leads from {first} to {last}",
                    "join the two parts of the network in the model, or give the route in the schedule",
                )  # fmt: skip
            visits.extend(Visit(part.carrier, part.from_mm, part.to_mm) for part in path.stretches)
            length += path.length_mm
        return Route(circuit.mark, RoutedBy.SHORTEST, tuple(visits), length, tuple(landing.drop_mm for landing in ends))

    def _given(self, circuit: Circuit) -> Route:
        visits: list[Visit] = []
        for step in circuit.route:
            whole = self._names.find(step.text)
            found, compartment = (whole, None) if whole else (self._names.find(step.name), step.compartment)
            if len(found) != 1:
                near = self._names.near(step.name)
                what = f"its route names {step.name!r}, which {len(found) or 'no'} carriers are called"
                return self._not(circuit, what, f"did you mean {', '.join(near)}?" if near else "name carriers by GlobalId, Tag or Name")
            visits.append(Visit(found[0].key, 0.0, self.network.carriers[found[0].key].length_mm or 0.0, compartment))
        for one, other in zip(visits, visits[1:], strict=False):
            if one.carrier != other.carrier and other.carrier not in self._neighbours.get(one.carrier, ()):
                first, last = self.network.carriers[one.carrier], self.network.carriers[other.carrier]
                self.problems.append(
                    Problem(f"circuit {circuit.mark}", f"its route goes from {first.place.label} to {last.place.label}, which aren't joined",
                            _gap(first, last), "join them in the model, or name what lies between")
                )  # fmt: skip
        lengths = [self.network.carriers[visit.carrier].length_mm for visit in visits]
        known = [length for length in lengths if length is not None]
        return Route(circuit.mark, RoutedBy.SCHEDULE, tuple(visits), sum(known) if len(known) == len(lengths) else None)


def _gap(one: Carrier, other: Carrier) -> str:
    ends: list[list[Vec]] = [[end for end in (carrier.start_mm, carrier.end_mm) if end is not None] for carrier in (one, other)]
    gaps = [distance(a, b) for a in ends[0] for b in ends[1]]
    return f"their nearest ends are {min(gaps):.0f} mm apart" if gaps else "where they are isn't known"
