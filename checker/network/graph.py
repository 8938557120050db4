"""The network as a graph. Nodes are spots on carriers, and fittings; edges run along carriers, or from one element into the next.

A carrier that circuits join half-way is passed only in part, so lengths are as long as the cable's way, not the segments'.
"""

import functools
import hashlib
import itertools
import operator
from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

import numpy as np
from networkx.utils import UnionFind

from checker.model import Carrier, Fitting, Installation, Vec
from checker.model.geometry import distance
from checker.network.joins import Join, Spot
from checker.network.on_axis import place_on, point_at
from checker.network.paths import WHOLE, Node, Path, Stretch, ended, extend

__all__ = ["WHOLE", "Edge", "Network", "Node", "Path", "Stretch"]

#: What a carrier of unknown length counts in the search: a way through it is taken only where there is no other.
UNKNOWN_MM = 1e7
#: Places along a carrier are told apart to this many decimals of a millimetre.
PLACES, PLACE_MM = 3, 1e-3
#: Ways as long as each other are told apart by what each join adds (fewer carriers win), and then by a fraction of a name's checksum, so
#: that the choice hangs on nothing but names. Both are far less than anybody measures, and more than the noise of sums.
JOIN_MM, NAME_MM = 1e-4, 1e-7


Array = Any


class Edge(NamedTuple):
    """From one node to another, both ways. ``along``: the carrier that it runs along; None: a join, that enters what ``passed`` names."""

    one: int
    other: int
    length_mm: float
    passed: tuple[str, ...]
    along: str | None


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
        elements = self.carriers.keys() | self.fittings.keys()
        self.joins = tuple(join for join in joins if join.one.element in elements and join.other.element in elements)
        self.has_lengthless = any(not carrier.length_mm for carrier in installation.carriers)
        self.index: dict[Node, int] = {}
        self.edges: list[Edge] = []
        self._edge_of: dict[tuple[int, int], int] = {}
        self._near: dict[str, set[str]] | None = None
        self._at: dict[str, list[int]] | None = None
        self.on_carrier: dict[str, list[int]] = {}
        self.landed = self._build(landings)
        self.nodes: list[Node] = list(self.index)

    def edge_number(self, one: int, other: int) -> int:
        """The number of the edge between two nodes, by their numbers."""
        return self._edge_of[(one, other) if one < other else (other, one)]

    def _build(self, landings: Iterable[tuple[str, float]]) -> list[int]:
        """Numbers all nodes and edges, and gives the numbers of the nodes where circuits come in."""
        places = {key: {0.0, round(carrier.length_mm or 0.0, PLACES)} for key, carrier in self.carriers.items()}
        landed = {(key, along if along == WHOLE else round(along, PLACES)) for key, along in landings}
        wholes = {key for key, along in landed if along == WHOLE}
        for key, along in landed:
            if along != WHOLE:
                places[key].add(along)
        for join in self.joins:
            self._join(join, places)
        for key in sorted(places):
            self._carry(key, sorted(places[key]), is_whole=key in wholes)
        return sorted(self.index[node] for node in landed)

    def _carry(self, key: str, places: Sequence[float], *, is_whole: bool) -> None:
        """Adds the edges along a carrier. One that nothing joins is a node, too."""
        before, passed = self._number((key, places[0])), (key,)
        numbers = self.on_carrier[key] = [before]
        for start, end in itertools.pairwise(places):
            after = self._number((key, end))
            self._add(before, after, end - start, passed, key)
            numbers.append(after)
            before = after
        if is_whole:
            whole, length = self._number((key, WHOLE)), self.carriers[key].length_mm or 0.0
            for number in numbers:
                self._add(number, whole, length, passed, key)
            numbers.append(whole)

    def _join(self, join: Join, places: dict[str, set[float]]) -> None:
        one, other = self.node(join.one), self.node(join.other)
        length, passed = 0.0, list[str]()
        for spot, (key, place) in ((join.one, one), (join.other, other)):
            if place is None:
                length += self._reach(spot)
            else:
                places[key].add(place)
                passed.append(key)
        length += join.way_mm
        if self.has_lengthless:
            length += sum(UNKNOWN_MM for key in dict.fromkeys(passed) if not self.carriers[key].length_mm)
        if one != other:
            self._add(self._number(one), self._number(other), length, tuple(passed), None)

    def _number(self, node: Node) -> int:
        return self.index.setdefault(node, len(self.index))

    def _add(self, one: int, other: int, length: float, passed: tuple[str, ...], along: str | None) -> None:
        """Adds an edge. Of several between two nodes the shortest holds, which along a carrier is never a join."""
        number = self._edge_of.setdefault((one, other) if one < other else (other, one), len(self.edges))
        if number == len(self.edges):
            self.edges.append(Edge(one, other, length, passed, along))
        elif length < self.edges[number].length_mm:
            self.edges[number] = Edge(one, other, length, passed, along)

    def weights_mm(self, one: Array, other: Array, lengths_mm: Array, is_join: Array) -> Array:
        """What edges count in a search: their length, and what tells ways apart that are as long.

        Args:
            one: The node at one end of each, by its number.
            other: That at its other end.
            lengths_mm: How long they are.
            is_join: Which are joins.
        """
        named = NAME_MM * (self._checksums[one] ^ self._checksums[other]) / 2**32
        # not along a carrier: else the choice would hang on where others come in on it, which parts it
        told_apart = np.where(is_join, JOIN_MM + named, np.where(lengths_mm == 0.0, named, 0.0))
        return lengths_mm + told_apart

    def weight_mm(self, edge: Edge) -> float:
        """What an edge counts in a search."""
        return float(self.weights_mm(edge.one, edge.other, edge.length_mm, edge.along is None))

    @functools.cached_property
    def _checksums(self) -> Array:
        """A number for each node that hangs on its name and place alone.

        Of a hash that mixes well: with a cyclic checksum two ways round a ring of carriers with like names may add up to the same.
        """
        named = (f"{key} {round((along or 0.0) / PLACE_MM)}".encode() for key, along in self.nodes)
        sums = b"".join(hashlib.blake2b(name, digest_size=4).digest() for name in named)
        return np.frombuffer(sums, dtype="<u4").astype(np.int64)

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
        key, point = spot.element, spot.point_mm
        carrier = self.carriers.get(key)
        if carrier is None:
            return (key, None)
        start, end = carrier.start_mm, carrier.end_mm
        if point == start != end:  # most joins are at an end
            return (key, 0.0)
        if point == end != start:
            return (key, round(carrier.length_mm or 0.0, PLACES))
        place = place_on(carrier, point) if point is not None else None
        return (key, 0.0 if place is None else round(place[0], PLACES))

    def _reach(self, spot: Spot) -> float:
        """From a fitting's centre to one of its spots, in mm."""
        centre = self.fittings[spot.element].centre_mm
        return distance(centre, spot.point_mm) if centre is not None and spot.point_mm is not None else 0.0

    def path(self, numbers: Sequence[int]) -> Path:
        """The way along nodes, each joined to the next by an edge."""
        nodes = [self.nodes[number] for number in numbers]
        stretches, lengths = self.passed(numbers)
        ended(stretches, nodes)
        (key, along), length = nodes[0], functools.reduce(operator.add, lengths, 0.0)
        length += self.carriers[key].length_mm or 0.0 if len(nodes) == 1 and along == WHOLE else 0.0
        known = not self.has_lengthless or all(self.carriers[stretch.carrier].length_mm for stretch in stretches)
        return Path(tuple(stretches), length if known else None, tuple(nodes))

    def passed(self, numbers: Sequence[int]) -> tuple[list[Stretch], list[float]]:
        """The stretches of carriers along nodes, and how long each edge between them is, in mm."""
        stretches, lengths = list[Stretch](), list[float]()
        for a, b in itertools.pairwise(numbers):
            edge = self.edges[self._edge_of[(a, b) if a < b else (b, a)]]
            lengths.append(edge.length_mm)
            one, other = self.nodes[a], self.nodes[b]
            if edge.along is not None:
                start, end = one[1] or 0.0, other[1] or 0.0
                is_whole = WHOLE in (start, end)
                whole_mm = (self.carriers[edge.along].length_mm or 0.0) if is_whole else None
                extend(stretches, edge.along, start, end, whole_mm)
            elif self.has_lengthless:
                for key in self._lengthless((one, other)):
                    extend(stretches, key, 0.0, 0.0)
        return stretches, lengths

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
        touching, carriers, fittings = UnionFind(self.fittings), self.carriers, self.fittings
        pairs = [(join.one.element, join.other.element) for join in self.joins]
        for one, other in pairs:
            if one in fittings and other in fittings:
                touching.union(one, other)
        for pair in pairs:
            for one, other in (pair, pair[::-1]):
                if one in carriers and other in carriers:
                    near[one].add(other)
                elif other in fittings and one in carriers:
                    through[touching[other]].add(one)
        for met in through.values():
            for key in met:
                near[key] |= met - {key}
        self._near = near
        return near
