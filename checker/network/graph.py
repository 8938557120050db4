"""The network as a graph. Nodes are spots on carriers, and fittings; edges run along carriers, or from one element into the next.

A carrier that circuits join half-way is passed only in part, so lengths are as long as the cable's way, not the segments'.
"""

import itertools
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import networkx as nx

from checker.model import Carrier, Fitting, Installation, Vec
from checker.model.geometry import distance
from checker.network.bodies import nearest_on
from checker.network.joins import Join, Spot

#: A spot on a carrier (key, mm from its start), a fitting (key, None), or a carrier as a whole (key, -1).
Node = tuple[str, float | None]
WHOLE = -1.0
#: What a carrier of unknown length counts in the search: a way through it is taken only where there is no other.
UNKNOWN_MM = 1e7
#: Places along a carrier are told apart to this many decimals of a millimetre.
PLACES = 3


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a carrier that a way passes, from one place of its axis to another (mm from its start)."""

    carrier: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Path:
    """A way through the network: the stretches of carriers in order, and its length through them and the fittings between.

    ``length_mm`` None: it passes a carrier of unknown length.
    """

    stretches: tuple[Stretch, ...]
    length_mm: float | None


class Network:
    """Carriers and fittings, joined.

    Args:
        installation: What there is.
        joins: What meets.
        landings: Further places on carriers where circuits come in: (carrier, mm from its start).
    """

    def __init__(
        self, installation: Installation, joins: Iterable[Join], landings: Iterable[tuple[str, float]]
    ) -> None:
        self.carriers: dict[str, Carrier] = {carrier.key: carrier for carrier in installation.carriers}
        self.fittings: dict[str, Fitting] = {fitting.key: fitting for fitting in installation.fittings}
        self.joins = tuple(
            join
            for join in joins
            if all(spot.element in self.carriers or spot.element in self.fittings for spot in (join.one, join.other))
        )
        self._graph = nx.Graph()
        self._parts: dict[frozenset[str], dict[Node, int]] = {}
        self._build(landings)

    def _build(self, landings: Iterable[tuple[str, float]]) -> None:
        on_carrier: dict[str, set[float]] = defaultdict(set)
        for carrier in self.carriers.values():
            on_carrier[carrier.key] |= {0.0, round(carrier.length_mm or 0.0, PLACES)}
        for key, along in landings:
            on_carrier[key].add(along if along == WHOLE else round(along, PLACES))
        for join in self.joins:
            self._join(join, on_carrier)
        for key in sorted(on_carrier):
            length = self.carriers[key].length_mm or 0.0
            places = sorted(on_carrier[key] - {WHOLE})
            for start, end in itertools.pairwise(places):
                self._edge((key, start), (key, end), end - start, frozenset({key}), key)
            for place in places if WHOLE in on_carrier[key] else ():
                self._edge((key, place), (key, WHOLE), length, frozenset({key}), key)

    def _join(self, join: Join, on_carrier: dict[str, set[float]]) -> None:
        one, other = self.node(join.one), self.node(join.other)
        passed = set()
        for key, place in (one, other):
            if place is not None:
                on_carrier[key].add(place)
                passed.add(key)
        length = self._reach(join.one) + self._reach(join.other) + join.way_mm
        length += sum(UNKNOWN_MM for key in passed if not self.carriers[key].length_mm)
        self._edge(one, other, length, frozenset(passed), None)

    def _edge(self, one: Node, other: Node, length: float, passed: frozenset[str], along: str | None) -> None:
        if one != other and not (
            self._graph.has_edge(one, other) and self._graph.edges[one, other]["length"] <= length
        ):
            self._graph.add_edge(one, other, length=length, passed=passed, along=along)

    def node(self, spot: Spot) -> Node:
        """The node of a spot: on a carrier the nearest place of its axis, on a fitting the fitting itself."""
        carrier = self.carriers.get(spot.element)
        if carrier is None:
            return (spot.element, None)
        place = place_on(carrier, spot.point_mm) if spot.point_mm is not None else None
        return (spot.element, 0.0 if place is None else round(place[0], PLACES))

    def _reach(self, spot: Spot) -> float:
        """From a fitting's centre to one of its spots, in mm; 0 on a carrier."""
        fitting = self.fittings.get(spot.element)
        if fitting is None or fitting.centre_mm is None or spot.point_mm is None:
            return 0.0
        return distance(fitting.centre_mm, spot.point_mm)

    def path(self, start: Node, end: Node, closed: frozenset[str]) -> Path | None:
        """The shortest way, or None where there is none.

        The search ends where it has found the end, so that it costs as much as the way is long, not as the model is large.

        Args:
            start: A node.
            end: Another.
            closed: Carriers that may not be passed.
        """
        found = self._search(start, end, closed)
        if found is None:
            return None
        length, nodes = found
        stretches: list[Stretch] = []
        for one, other in itertools.pairwise(nodes):
            along = self._graph.edges[one, other]["along"]
            if along is not None:
                self._extend(stretches, along, one, other)
            else:
                for key in self._lengthless((one, other)):
                    self._extend(stretches, key, (key, 0.0), (key, 0.0))
        # a carrier that a drop comes in at the very end of is passed by no length, but its end is
        if start[1] is not None and (not stretches or stretches[0].carrier != start[0]):
            stretches.insert(0, Stretch(start[0], max(start[1], 0.0), max(start[1], 0.0)))
        if end[1] is not None and stretches[-1].carrier != end[0]:
            stretches.append(Stretch(end[0], max(end[1], 0.0), max(end[1], 0.0)))
        extra = self.carriers[start[0]].length_mm or 0.0 if start == end and start[1] == WHOLE else 0.0
        known = all(self.carriers[stretch.carrier].length_mm for stretch in stretches)
        return Path(tuple(stretches), length + extra if known else None)

    def _extend(self, stretches: list[Stretch], key: str, one: Node, other: Node) -> None:
        """Adds a stretch, or lengthens the last one; a carrier taken as a whole is passed from end to end."""
        start, end = one[1] or 0.0, other[1] or 0.0
        if WHOLE in (start, end):
            start, end = 0.0, self.carriers[key].length_mm or 0.0
        if stretches and stretches[-1].carrier == key:
            last = stretches[-1]
            low, high = min(last.from_mm, last.to_mm, start, end), max(last.from_mm, last.to_mm, start, end)
            stretches[-1] = Stretch(key, low, high)
        else:
            stretches.append(Stretch(key, start, end))

    def _lengthless(self, nodes: tuple[Node, Node]) -> Iterable[str]:
        """Carriers of no known length, which a path passes at a single node."""
        return (key for key, along in nodes if along is not None and not self.carriers[key].length_mm)

    def _search(self, start: Node, end: Node, closed: frozenset[str]) -> tuple[float, list[Node]] | None:
        """Length and nodes of the shortest way. Of ways as long it is always the same, as joins come sorted."""
        if start == end:
            return 0.0, [start]
        parts = self._parts.get(closed)
        if (
            start not in self._graph
            or end not in self._graph
            or (parts is not None and parts.get(start) != parts.get(end))
        ):
            return None

        def open_length(_: Node, __: Node, edge: dict[str, Any]) -> float | None:
            return None if closed and not closed.isdisjoint(edge["passed"]) else edge["length"]

        try:
            length, nodes = nx.single_source_dijkstra(self._graph, start, end, weight=open_length)
        except nx.NetworkXNoPath:
            return None
        return length, nodes

    def divide(self, closed: frozenset[str]) -> None:
        """Finds out once which parts of the network hang together without some carriers, so that no search looks for what isn't there."""
        if closed in self._parts:
            return
        view = nx.subgraph_view(
            self._graph, filter_edge=lambda a, b: closed.isdisjoint(self._graph.edges[a, b]["passed"])
        )
        self._parts[closed] = {node: part for part, nodes in enumerate(nx.connected_components(view)) for node in nodes}

    def neighbours(self) -> dict[str, set[str]]:
        """Carriers that meet, each with those that it meets directly or through one fitting."""
        through: dict[str, set[str]] = defaultdict(set)
        near: dict[str, set[str]] = defaultdict(set)
        for join in self.joins:
            for one, other in ((join.one.element, join.other.element), (join.other.element, join.one.element)):
                if one in self.carriers and other in self.carriers:
                    near[one].add(other)
                elif other in self.fittings and one in self.carriers:
                    through[other].add(one)
        for met in through.values():
            for key in met:
                near[key] |= met - {key}
        return near


def place_on(carrier: Carrier, point: Vec) -> tuple[float, float] | None:
    """The nearest place on a carrier's axis, in mm along it from its start, and how far off it is; None where the axis isn't known.

    Its length may differ a little from that of the axis, whose points are few where it is an arc; places are taken in proportion.
    """
    points = carrier.axis_mm
    found = nearest_on(points, point)
    if found is None:
        return None
    drawn = sum(distance(a, b) for a, b in itertools.pairwise(points))
    return (found[0] * (carrier.length_mm or drawn) / drawn if drawn else 0.0), found[1]
