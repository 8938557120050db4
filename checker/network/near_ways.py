"""Ways that a circuit could as well take: longer than the shortest by no more than the project says.

For every carrier off the shortest way the shortest way that runs along it is looked at; those that touch no place twice and are short
enough are ways by which the circuit could be led. That is every carrier that it may pass by one detour; whether it may do without a
carrier is asked of the network with that carrier closed.
"""

import itertools
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from checker.model import Circuit, Installation
from checker.network.closures import Closures
from checker.network.graph import Edge, Network, Node, Path
from checker.network.route import Leg, Route, RoutedBy, Visit
from checker.network.search import Search
from checker.network.trees import nodes_to

#: Of so many near ways of one leg no further ones are looked for.
MOST_WAYS = 24
#: So many edges of one carrier are tried for a way that doesn't turn back.
MOST_EDGES = 6
#: Ways may be longer by so much more: their sums have some noise, and what tells ways apart that are as long.
NOISE_MM = 1.0


@dataclass(frozen=True, slots=True)
class NearWay:
    """Another way of one leg of a circuit. ``longer_mm``: than the shortest; ``by``: a carrier off the shortest that tells it apart."""

    circuit: str
    leg: int
    visits: tuple[Visit, ...]
    longer_mm: float
    by: str

    @property
    def carriers(self) -> frozenset[str]:
        """The keys of all carriers that it passes."""
        return frozenset(visit.carrier for visit in self.visits)


class NearWays:
    """All near ways of all circuits that were led the shortest way.

    Attributes:
        ways: By circuit's mark.
        cut_short: Marks of circuits that have more near ways than are looked at.
        asked: The circuits that are asked for near ways with their routes, by mark.
        not_asked: Circuits whose way was found and that aren't asked: what is said of them, by mark.

    Args:
        installation: What there is; without ``near_mm`` there are no near ways.
        network: The graph.
        routes: As they were found, in the schedule's order.
    """

    def __init__(self, installation: Installation, network: Network, routes: Sequence[Route]) -> None:
        self.ways: dict[str, tuple[NearWay, ...]] = {}
        self.cut_short: set[str] = set()
        self._network, self._near_mm = network, installation.near_mm
        self._without: dict[tuple[str, str], bool] = {}
        self.asked: dict[str, tuple[Circuit, Route]] = {}
        self.not_asked: dict[str, str] = {}
        if self._near_mm is None:
            return
        self._search, self._closures = Search(network), Closures(installation)
        joins = [edge for edge in network.edges if edge.along is None]
        self._places = _places(network, joins)
        self._spots = _places(network, [edge for edge in joins if edge.length_mm <= NOISE_MM])
        self._carriers_of = {route.circuit: route.carriers for route in routes}
        self._apart: dict[str, set[str]] = defaultdict(set)
        for circuit in installation.circuits:
            for other in circuit.apart_from:
                self._apart[circuit.mark].add(other)
                self._apart[other].add(circuit.mark)
        for circuit, route in zip(installation.circuits, routes, strict=True):
            why_not = _why_not(circuit, route)
            if route.routed_by.was_found and why_not:
                self.not_asked[circuit.mark] = why_not
            elif route.routed_by.was_found:
                self.asked[circuit.mark] = (circuit, route)
        for mark, (circuit, route) in sorted(self.asked.items(), key=lambda item: (item[1][0].origin, item[0])):
            found = [way for number, leg in enumerate(route.legs) for way in self._of_leg(circuit, route, number, leg)]
            if found:
                self.ways[mark] = tuple(found)

    def can_do_without(self, mark: str, carrier: str) -> bool:
        """Whether a circuit has a near way that doesn't pass a carrier of its way; of several legs, each that passes it."""
        if mark not in self.asked or self._near_mm is None:
            return False
        if (mark, carrier) not in self._without:
            circuit, route = self.asked[mark]
            legs = {visit.leg for visit in route.visits if visit.carrier == carrier}
            self._without[mark, carrier] = all(self._goes(circuit, route, leg, carrier) for leg in sorted(legs))
        return self._without[mark, carrier]

    def _goes(self, circuit: Circuit, route: Route, leg: int, carrier: str) -> bool:
        """Whether there is a way for a leg that is short enough and doesn't enter a carrier."""
        closed = self._closed(circuit, route, leg) | {carrier}
        begin, end = (self._beside(node, closed) for node in route.legs[leg].nodes)
        length = route.legs[leg].length_mm
        if not begin or not end or length is None:
            return False
        tree = self._search.tree(begin, closed, length + (self._near_mm or 0.0) + NOISE_MM)
        return bool(min(tree.far[list(end)]) < np.inf)

    def _closed(self, circuit: Circuit, route: Route, leg: int) -> frozenset[str]:
        """What a leg doesn't pass: what is closed to the circuit, and what others pass that it keeps apart from."""
        others = set[str]().union(*(self._carriers_of.get(mark, ()) for mark in self._apart.get(circuit.mark, ())))
        if circuit.returns_other_way:  # a ring that came back by its way out would be none
            others |= {visit.carrier for visit in route.visits if visit.leg != leg}
        closed = self._closures.of(circuit)
        others -= {visit.carrier for visit in route.visits if visit.leg == leg}
        return closed | others if others else closed

    def _beside(self, node: Node, closed: frozenset[str]) -> tuple[int, ...]:
        """The numbers of the nodes at the spot of a node: a drop that comes down where carriers meet may enter any of them."""
        number = self._network.index.get(node)
        if number is None:
            return ()
        there = np.nonzero(self._spots == self._spots[number])[0].tolist()
        return self._search.numbers((self._network.nodes[one] for one in there), closed)

    def _of_leg(self, circuit: Circuit, route: Route, number: int, leg: Leg) -> list[NearWay]:
        closed = self._closed(circuit, route, number)
        begin, end = (self._beside(node, closed) for node in leg.nodes) if leg.nodes else ((), ())
        if leg.length_mm is None or not begin or not end:
            return []
        most = leg.length_mm + (self._near_mm or 0.0) + NOISE_MM
        there, back = (self._search.tree(nodes, closed, most) for nodes in (begin, end))
        mine = {visit.carrier for visit in route.visits if visit.leg == number}
        found: list[NearWay] = []
        passed = set(mine)
        for edges in self._detours(there, back, closed, most, mine):
            carrier = self._network.edges[edges[0]].along or ""
            if carrier in passed:
                continue
            if len(found) >= MOST_WAYS:
                self.cut_short.add(circuit.mark)
                break
            path = next(
                (path for edge in edges[:MOST_EDGES] if (path := self._by(edge, there, back, most)) is not None), None
            )
            if path is None or path.length_mm is None:
                continue
            visits = tuple(Visit(part.carrier, part.from_mm, part.to_mm, None, number) for part in path.stretches)
            off = [visit for visit in visits if visit.carrier not in mine]
            by = max(off, key=lambda visit: (abs(visit.to_mm - visit.from_mm), visit.carrier)).carrier
            found.append(NearWay(circuit.mark, number, visits, max(path.length_mm - leg.length_mm, 0.0), by))
            passed |= {visit.carrier for visit in off}
        return found

    def _detours(self, there: Any, back: Any, closed: frozenset[str], most: float, mine: set[str]) -> list[list[int]]:
        """Edges along carriers off the shortest way by which a way may be short enough: a list for each carrier, the shortest first."""
        search = self._search
        at_one = there.far[search.one] + search.weights + back.far[search.other]
        at_other = there.far[search.other] + search.weights + back.far[search.one]
        through = np.minimum(at_one, at_other)
        near = np.nonzero((through <= most) & search.open_edges(closed))[0]
        by_carrier: dict[str, list[tuple[float, int]]] = {}
        for number in near.tolist():
            along = self._network.edges[number].along
            if along is not None and along not in mine:
                by_carrier.setdefault(along, []).append((float(through[number]), number))
        ordered = sorted(by_carrier.items(), key=lambda item: (min(item[1])[0], item[0]))
        return [[number for _, number in sorted(edges)] for _, edges in ordered]

    def _by(self, number: int, there: Any, back: Any, most: float) -> Path | None:
        """The shortest way along an edge, if it touches no place twice and is short enough."""
        edge, size = self._network.edges[number], len(self._network.nodes)
        for one, other in ((edge.one, edge.other), (edge.other, edge.one)):
            if there.far[one] + edge.length_mm + back.far[other] <= most:
                nodes = [*nodes_to(there, one, size), *reversed(nodes_to(back, other, size))]
                places = [place for place, _ in itertools.groupby(self._places[nodes].tolist())]
                if len(set(nodes)) == len(nodes) and len(set(places)) == len(places):
                    return self._network.path(nodes)
        return None


def _why_not(circuit: Circuit, route: Route) -> str:
    """Why a circuit whose way was found isn't asked for near ways; empty: it is."""
    if circuit.limits.via:
        return "led by wayroom.toml"
    if route.routed_by is RoutedBy.DRAWN_IN_PART:
        return "drawn in part"
    return "of unknown length" if route.length_mm is None else ""


def _places(network: Network, joins: Sequence[Edge]) -> Any:
    """For each node the number of the place where it is: those that joins alone lie between are at one."""
    one, other = np.array([(edge.one, edge.other) for edge in joins], dtype=np.int64).reshape(-1, 2).T
    size = len(network.nodes)
    return connected_components(csr_array((np.ones(len(joins)), (one, other)), shape=(size, size)), directed=False)[1]
