"""Finds the way of every circuit: as the schedule gives it, else as the model draws it, else the shortest that there is."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import groupby

from checker.model import Circuit, Installation, Problem, State
from checker.model.texts import listed
from checker.network.breaks import Break
from checker.network.closures import Closures
from checker.network.drawn_routes import DrawnRoutes
from checker.network.ends import Landing, Landings
from checker.network.given import GivenRoutes, Unread
from checker.network.given_ways import GivenWays, ends_on
from checker.network.graph import Network, Node
from checker.network.joining import find_joins
from checker.network.joins import Join
from checker.network.no_ways import NoWay, NoWays
from checker.network.redundant import Redundant, apart_groups
from checker.network.route import Leg, Route, RoutedBy, Routing, Visit
from checker.network.search import Search
from checker.network.shortest import Missing, Shortest

__all__ = ["Leg", "Route", "RoutedBy", "Routing", "Visit", "route_all"]


def route_all(installation: Installation, tell: Callable[[int, int], None] = lambda *_: None) -> Routing:
    """Routes every circuit.

    Args:
        installation: What there is.
        tell: Is told how many circuits of how many are done.
    """
    found = find_joins(installation)
    router = _Router(installation, Landings(installation, found.joins))
    nodes = [node for own in router.ends for landing in own for node in _nodes(landing)]
    places = [(key, along) for key, along in (*nodes, *router.further_nodes()) if along is not None]
    network = Network(installation, found.joins, places)
    routes = router.routes(network, found.joins, tell)
    problems = (*router.problems, *_of_unknown_length(installation), *found.problems)
    return Routing(
        network, routes, (*nodes, *router.landed_elsewhere), problems, found.joins, router.breaks, found.near_misses
    )


def _nodes(landing: Landing) -> list[Node]:
    return [place.node for place in (landing, *landing.others) if place.node is not None]


def _keep_apart(one: Circuit, other: Circuit) -> bool:
    return other.mark in one.apart_from or one.mark in other.apart_from


def _of_unknown_length(installation: Installation) -> list[Problem]:
    unknown = [carrier.place.label for carrier in installation.carriers if not carrier.length_mm]
    if not unknown or not installation.circuits:
        return []
    return [
        Problem(listed(sorted(unknown)),
                "how long it is isn't known", "ways through it are taken only where there is no other", "give it a shape or ports",
                elements=len(unknown))
    ]  # fmt: skip


class _Router:
    """Leads each circuit in the surest way that there is for it; circuits that have to keep apart are led one after the other.

    Attributes:
        ends: Where each circuit comes in, at its origin and each call, in the schedule's order.
        landed_elsewhere: Places beyond these where circuits come in that keep apart from others.
        problems: What has to be said of circuits.
    """

    def __init__(self, installation: Installation, landings: Landings) -> None:
        self.problems: list[Problem] = []
        self.landed_elsewhere: list[Node] = []
        self.breaks: tuple[Break, ...] = ()
        self._missing: dict[int, Missing] = {}
        self._installation = installation
        self._circuits, self._reach_mm = installation.circuits, installation.reach_mm
        self._landings, self._given, self._closures = landings, GivenRoutes(installation), Closures(installation)
        self.ends = [self._ends_of(circuit) for circuit in self._circuits]
        self._groups = apart_groups(self._circuits)

    def _ends_of(self, circuit: Circuit) -> list[Landing]:
        """Where a circuit comes in; with a route of its own, on the carriers that it names."""
        if not circuit.route:
            closed = self._closures.of(circuit)
            return [self._landings.find(text, circuit.service, closed) for text in (circuit.origin, *circuit.calls)]
        steps = self._given.steps(circuit)
        if isinstance(steps, Unread):
            return []
        return ends_on(circuit, [carrier for carrier, _ in steps], self._landings, self._reach_mm)

    def further_nodes(self) -> list[Node]:
        """Places where circuits could come in besides, if they have to keep apart from others."""
        return [
            node
            for circuit in (self._circuits[number] for group in self._groups for number in group)
            for text in (circuit.origin, *circuit.calls)
            for landing in self._landings.around(text, circuit.service, self._closures.of(circuit))
            for node in _nodes(landing)
        ]

    def routes(self, network: Network, joins: Iterable[Join], tell: Callable[[int, int], None]) -> tuple[Route, ...]:
        """All routes, in the schedule's order."""
        given = GivenWays(network, self._given, self._reach_mm)
        search = Search(network)
        shortest = Shortest(search, self._closures, self.ends)
        redundant = Redundant(network, shortest, self._landings, self._closures)
        routes: dict[int, Route] = {}
        drawn = DrawnRoutes(self._installation, network, shortest)
        for number in range(len(self._circuits)):
            self._settled(number, given, drawn, routes)
        left = [number for number in range(len(self._circuits)) if number not in routes]
        for group in self._groups:
            self._apart([number for number in group if number in left], group, redundant, routes)
        left = [number for number in left if number not in routes]
        # those that begin at one place come together, so that one search serves them all
        left.sort(key=lambda number: (self._circuits[number].origin, str(self._circuits[number].service), number))
        for number in left:
            circuit = self._circuits[number]
            self._take(number, shortest.route(circuit, self.ends[number]), routes)
            tell(len(routes), len(self._circuits))
        self.problems += [*given.problems, *drawn.problems, *shortest.problems, *redundant.problems]
        self._say_no_ways(NoWays(search, joins), routes)
        return tuple(routes[number] for number in range(len(self._circuits)))

    def _settled(self, number: int, given: GivenWays, drawn: DrawnRoutes, routes: dict[int, Route]) -> None:
        """Routes a circuit whose way needn't be found, if it is one."""
        circuit = self._circuits[number]
        if circuit.state is State.REMOVED:
            routes[number] = Route(circuit.mark, RoutedBy.NONE, reason="removed: it takes no room")
        elif not {"from", "to", "route"}.isdisjoint(circuit.unread):
            why = "where it runs isn't said, or its rows contradict each other"
            self._take(number, Missing(why, "mend its rows in the schedule"), routes)
        elif circuit.route:
            self._take(number, given.route(circuit, self.ends[number]), routes)
        elif (found := drawn.route(circuit, self.ends[number])) is not None:
            routes[number] = found

    def _apart(self, left: list[int], group: list[int], redundant: Redundant, routes: dict[int, Route]) -> None:
        """Routes those of a group that aren't yet, apart from the others."""
        before = [(self._circuits[number], routes[number]) for number in group if number in routes]
        led: list[tuple[int, Route | Missing]] = []
        if len(left) == 2 and not before:
            led = list(zip(left, redundant.pair(*(self._circuits[number] for number in left)), strict=True))
        else:
            for number in left:
                circuit = self._circuits[number]
                # of a chain not all have to keep apart from each other
                apart = [item for item in before if _keep_apart(circuit, item[0])]
                found = redundant.after(circuit, apart)
                led.append((number, found))
                before += [(circuit, found)] if isinstance(found, Route) else []
        for number, found in self._without_lost(led, group, routes):
            self._take(number, found, routes)
            if isinstance(found, Route):
                for _, leg in groupby(found.visits, key=lambda visit: visit.leg):
                    passed = list(leg)
                    begin, end = (passed[0].carrier, passed[0].from_mm), (passed[-1].carrier, passed[-1].to_mm)
                    self.landed_elsewhere += [begin, end]

    def _without_lost(
        self, led: list[tuple[int, Route | Missing]], group: list[int], routes: dict[int, Route]
    ) -> list[tuple[int, Route | Missing]]:
        """The same, less ways that keep apart from circuits that have none: where these lie isn't known, so neither is what is apart."""
        found = dict(led)
        settled = {number for number in group if number not in found}
        lost = [number for number in settled if routes[number].routed_by is RoutedBy.NONE]
        lost = [number for number in lost if self._circuits[number].state is not State.REMOVED]
        lost += [number for number, way in led if isinstance(way, Missing)]
        for one in lost:  # which grows as ways are given up
            for number, way in found.items():
                if isinstance(way, Route) and _keep_apart(self._circuits[one], self._circuits[number]):
                    what = f"it has to keep apart from circuit {self._circuits[one].mark}, whose way isn't known"
                    found[number] = Missing(what, "mend that circuit first")
                    lost.append(number)
        return list(found.items())

    def _take(self, number: int, found: Route | Missing, routes: dict[int, Route]) -> None:
        circuit = self._circuits[number]
        if isinstance(found, Route):
            routes[number] = found
            return
        routes[number] = Route(circuit.mark, RoutedBy.NONE, reason=found.why)
        self._missing[number] = found

    def _say_no_ways(self, no_ways: NoWays, routes: dict[int, Route]) -> None:
        """Tells of each circuit that isn't routed why, and where the network breaks if it is that."""
        asked = [
            NoWay(self._circuits[number], *missing.places, self._closures.of(self._circuits[number]))
            for number, missing in sorted(self._missing.items())
            if missing.places is not None
        ]
        said, self.breaks, problems = no_ways.told(asked)
        self.problems += problems
        for number, missing in sorted(self._missing.items()):
            mark = self._circuits[number].mark
            reason = f"{missing.why}; {said[mark]}" if mark in said else missing.why
            why = "so it isn't routed, and its cables could lie elsewhere"
            self.problems.append(Problem(f"circuit {mark}", reason, why, missing.hint))
            routes[number] = replace(routes[number], reason=reason)
