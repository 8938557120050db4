"""The network as a graph. Nodes are spots on carriers, and fittings; edges run along carriers, or from one element into the next.

A carrier that circuits join half-way is passed only in part, so lengths are as long as the cable's way, not the segments'.
"""

import itertools
import zlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from networkx.utils import UnionFind

from checker.model import Carrier, Fitting, Installation, Vec
from checker.model.geometry import distance
from checker.network.joins import Join, Spot
from checker.network.on_axis import place_on, point_at

#: A spot on a carrier (key, mm from its start), a fitting (key, None), or a carrier as a whole (key, -1).
Node = tuple[str, float | None]
WHOLE = -1.0
#: What a carrier of unknown length counts in the search: a way through it is taken only where there is no other.
UNKNOWN_MM = 1e7
#: Places along a carrier are told apart to this many decimals of a millimetre.
PLACES, PLACE_MM = 3, 1e-3
#: Ways as long as each other are told apart by what each join adds (fewer carriers win), and then by a fraction of a name's checksum, so
#: that the choice hangs on nothing but names. Both are far less than anybody measures, and more than the noise of sums.
JOIN_MM, NAME_MM = 1e-4, 1e-7


@dataclass(frozen=True, slots=True)
class Edge:
    """From one node to another, both ways. ``along``: the carrier that it runs along; None: a join, that enters what ``passed`` names."""

    one: int
    other: int
    length_mm: float
    passed: tuple[str, ...]
    along: str | None


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a carrier that a way passes, from one place of its axis to another (mm from its start)."""

    carrier: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Path:
    """A way through the network: the stretches of carriers in order, and its length through them and the fittings between.

    ``length_mm`` None: it passes a carrier of unknown length. ``nodes`` are those of the graph, in order.
    """

    stretches: tuple[Stretch, ...]
    length_mm: float | None
    nodes: tuple[Node, ...] = ()


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
        self._has_lengthless = any(not carrier.length_mm for carrier in installation.carriers)
        self.nodes: list[Node] = []
        self.index: dict[Node, int] = {}
        self._checksums: list[int] = []
        self.edges: list[Edge] = []
        self._edge_of: dict[tuple[int, int], int] = {}
        self._near: dict[str, set[str]] | None = None
        self._at: dict[str, list[int]] | None = None
        self._build(landings)

    def edge_number(self, one: int, other: int) -> int:
        """The number of the edge between two nodes, by their numbers."""
        return self._edge_of[min(one, other), max(one, other)]

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
                self._add((key, start), (key, end), end - start, (key,), key)
            for place in places if WHOLE in on_carrier[key] else ():
                self._add((key, place), (key, WHOLE), length, (key,), key)
            self._number((key, places[0]))  # a carrier that nothing joins is a node, too

    def _join(self, join: Join, on_carrier: dict[str, set[float]]) -> None:
        one, other = self.node(join.one), self.node(join.other)
        passed = []
        for key, place in (one, other):
            if place is not None:
                on_carrier[key].add(place)
                passed.append(key)
        length = self._reach(join.one) + self._reach(join.other) + join.way_mm
        length += sum(UNKNOWN_MM for key in dict.fromkeys(passed) if not self.carriers[key].length_mm)
        self._add(one, other, length, tuple(passed), None)

    def _add(self, one: Node, other: Node, length: float, passed: tuple[str, ...], along: str | None) -> None:
        """Adds an edge. Of several between two nodes the shortest holds, which along a carrier is never a join."""
        if one == other:
            return
        a, b = self._number(one), self._number(other)
        edge, number = (
            Edge(a, b, length, passed, along),
            self._edge_of.setdefault((min(a, b), max(a, b)), len(self.edges)),
        )
        if number == len(self.edges):
            self.edges.append(edge)
        elif length < self.edges[number].length_mm:
            self.edges[number] = edge

    def _number(self, node: Node) -> int:
        number = self.index.setdefault(node, len(self.nodes))
        if number == len(self.nodes):
            self.nodes.append(node)
            key, along = node
            self._checksums.append(zlib.crc32(key.encode(), int((along or 0.0) / PLACE_MM) & 0xFFFFFFFF))
        return number

    def weight_mm(self, edge: Edge) -> float:
        """What an edge counts in a search: its length, and what tells ways apart that are as long."""
        named = (self._checksums[edge.one] ^ self._checksums[edge.other]) / 2**32
        return edge.length_mm + (JOIN_MM if edge.along is None else 0.0) + NAME_MM * named

    def point(self, number: int) -> Vec | None:
        """Where a node is; None where that isn't known. A carrier as a whole is at its start."""
        key, along = self.nodes[number]
        if along is None:
            return self.fittings[key].centre_mm
        carrier = self.carriers[key]
        if along == WHOLE or not carrier.length_mm:
            return carrier.start_mm
        return point_at(carrier.axis_mm, along / carrier.length_mm)

    def node(self, spot: Spot) -> Node:
        """The node of a spot: on a carrier the nearest place of its axis, on a fitting the fitting itself."""
        carrier = self.carriers.get(spot.element)
        if carrier is None:
            return (spot.element, None)
        if carrier.start_mm != carrier.end_mm:  # most joins are at an end
            if spot.point_mm == carrier.start_mm:
                return (spot.element, 0.0)
            if spot.point_mm == carrier.end_mm:
                return (spot.element, round(carrier.length_mm or 0.0, PLACES))
        place = place_on(carrier, spot.point_mm) if spot.point_mm is not None else None
        return (spot.element, 0.0 if place is None else round(place[0], PLACES))

    def _reach(self, spot: Spot) -> float:
        """From a fitting's centre to one of its spots, in mm; 0 on a carrier."""
        fitting = self.fittings.get(spot.element)
        if fitting is None or fitting.centre_mm is None or spot.point_mm is None:
            return 0.0
        return distance(fitting.centre_mm, spot.point_mm)

    def path(self, numbers: Sequence[int]) -> Path:
        """The way along nodes, each joined to the next by an edge."""
        nodes = [self.nodes[number] for number in numbers]
        start, end = nodes[0], nodes[-1]
        length, stretches = 0.0, list[Stretch]()
        edge_of, edges = self._edge_of, self.edges
        for (a, b), (one, other) in zip(itertools.pairwise(numbers), itertools.pairwise(nodes), strict=True):
            edge = edges[edge_of[(a, b) if a < b else (b, a)]]
            length += edge.length_mm
            if edge.along is not None:
                self._extend(stretches, edge.along, one, other)
            elif self._has_lengthless:
                for key in self._lengthless((one, other)):
                    self._extend(stretches, key, (key, 0.0), (key, 0.0))
        # a carrier that a drop comes in at the very end of is passed by no length, but its end is
        if start[1] is not None and (not stretches or stretches[0].carrier != start[0]):
            stretches.insert(0, Stretch(start[0], max(start[1], 0.0), max(start[1], 0.0)))
        if end[1] is not None and stretches[-1].carrier != end[0]:
            stretches.append(Stretch(end[0], max(end[1], 0.0), max(end[1], 0.0)))
        length += self.carriers[start[0]].length_mm or 0.0 if len(nodes) == 1 and start[1] == WHOLE else 0.0
        known = all(self.carriers[stretch.carrier].length_mm for stretch in stretches)
        return Path(tuple(stretches), length if known else None, tuple(nodes))

    def _extend(self, stretches: list[Stretch], key: str, one: Node, other: Node) -> None:
        """Adds a stretch, or lengthens the last one, but not where the way turns back: its cables lie there twice.

        A carrier taken as a whole is passed from end to end.
        """
        start, end = one[1] or 0.0, other[1] or 0.0
        last = stretches[-1] if stretches and stretches[-1].carrier == key else None
        turns = last is not None and WHOLE not in (start, end) and (end - start) * (last.to_mm - last.from_mm) < 0.0
        if WHOLE in (start, end):
            start, end = 0.0, self.carriers[key].length_mm or 0.0
        if last is not None and not turns:
            low, high = min(last.from_mm, last.to_mm, start, end), max(last.from_mm, last.to_mm, start, end)
            stretches[-1] = Stretch(key, low, high) if last.from_mm <= last.to_mm else Stretch(key, high, low)
        else:
            stretches.append(Stretch(key, start, end))

    def _lengthless(self, nodes: tuple[Node, Node]) -> Iterable[str]:
        """Carriers of no known length, which a path passes at a single node."""
        return (key for key, along in nodes if along is not None and not self.carriers[key].length_mm)

    def among(self, keys: Iterable[str]) -> list[int]:
        """The numbers of the edges that pass none but some carriers, and fittings that these lead to."""
        if self._at is None:
            self._at = defaultdict(list)
            for number, edge in enumerate(self.edges):
                for key in {self.nodes[edge.one][0], self.nodes[edge.other][0]}:
                    self._at[key].append(number)
        named, waiting = set(keys), list(keys)
        met, found = set(waiting), set[int]()
        while waiting:
            for number in self._at.get(waiting.pop(), ()):
                edge = self.edges[number]
                if named.issuperset(edge.passed):
                    found.add(number)
                    fittings = {self.nodes[end][0] for end in (edge.one, edge.other)} - met - self.carriers.keys()
                    met |= fittings
                    waiting.extend(fittings)
        return sorted(found)

    def meets(self) -> dict[str, set[str]]:
        """Carriers and fittings, each with what it is joined to."""
        met: dict[str, set[str]] = defaultdict(set)
        for join in self.joins:
            met[join.one.element].add(join.other.element)
            met[join.other.element].add(join.one.element)
        return met

    def neighbours(self) -> dict[str, set[str]]:
        """Carriers that meet, each with those that it meets directly or through fittings: one, or several that are joined."""
        if self._near is not None:
            return self._near
        through: dict[str, set[str]] = defaultdict(set)
        near: dict[str, set[str]] = defaultdict(set)
        touching = UnionFind(self.fittings)
        for join in self.joins:
            if join.one.element in self.fittings and join.other.element in self.fittings:
                touching.union(join.one.element, join.other.element)
        for join in self.joins:
            for one, other in ((join.one.element, join.other.element), (join.other.element, join.one.element)):
                if one in self.carriers and other in self.carriers:
                    near[one].add(other)
                elif other in self.fittings and one in self.carriers:
                    through[touching[other]].add(one)
        for met in through.values():
            for key in met:
                near[key] |= met - {key}
        self._near = near
        return near
