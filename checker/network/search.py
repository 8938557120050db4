"""Shortest ways through the network: one search a place where circuits begin, not one a circuit.

The search itself is scipy's, on the network as a sparse matrix. Some carriers may be closed, some may have to be passed in order.
"""

import itertools
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components, dijkstra

from checker.model.geometry import distance
from checker.network.graph import Network, Node, Path

Closed = frozenset[str]
Via = tuple[frozenset[str], ...]
Array = Any
Kept = TypeVar("Kept")
#: So many trees of searches are kept at hand, and so many matrices of the network less what is closed.
TREES_KEPT, MATRICES_KEPT = 24, 24
#: Where few circuits begin, a search goes so far at first: this many times the straight line between the ends and this much more; then
#: this many times further, until it has found the end.
FIRST_TIMES, FIRST_MORE_MM, THEN_TIMES = 1.5, 5000.0, 4.0
#: What passing from one layer of a search by given carriers into the next counts, at a carrier without a length.
LAYER_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Tree:
    """Shortest ways from one or several nodes to all others: how long they count, and the node before each (negative: none)."""

    far: Array
    before: Array


class Search:
    """Finds ways. What it has found is kept, so ask about circuits that begin at the same place one after the other."""

    def __init__(self, network: Network) -> None:
        self.network = network
        edges = network.edges
        self.one = np.array([edge.one for edge in edges], dtype=np.int64)
        self.other = np.array([edge.other for edge in edges], dtype=np.int64)
        self.weights = np.array([network.weight_mm(edge) for edge in edges], dtype=float)
        self._carriers = {key: number for number, key in enumerate(network.carriers)}
        nothing = len(self._carriers)
        passed = [[*(self._carriers[key] for key in edge.passed), nothing, nothing][:2] for edge in edges]
        self._passed = np.array(passed, dtype=np.int64).reshape(-1, 2)
        along = [self._carriers[edge.along] if edge.along is not None else nothing for edge in edges]
        self.along = np.array(along, dtype=np.int64)
        self._matrices: OrderedDict[Hashable, Array] = OrderedDict()
        self._trees: OrderedDict[Hashable, Tree] = OrderedDict()
        self._parts: dict[Closed, Array] = {}

    def _flags(self, keys: Iterable[str]) -> Array:
        flags = np.zeros(len(self._carriers) + 1, dtype=bool)
        flags[[self._carriers[key] for key in keys if key in self._carriers]] = True
        return flags

    def open_edges(self, closed: Closed) -> Array:
        """Which edges enter no closed carrier, as a mask."""
        return ~self._flags(closed)[self._passed].any(axis=1)

    def part(self, node: Node, closed: Closed) -> int:
        """The part of the network that a node is in: nodes of different parts are joined by no way; -1: there is no such node."""
        if closed not in self._parts:
            self._parts[closed] = connected_components(self._matrix(closed, ()), directed=False)[1]
        number = self.network.index.get(node)
        return -1 if number is None else int(self._parts[closed][number])

    def path(
        self, starts: Iterable[Node], ends: Iterable[Node], closed: Closed, via: Via = (), *, shared: bool = True
    ) -> Path | None:
        """The shortest way from one of some nodes to one of others; None where there is none.

        Args:
            starts: Where it may begin.
            ends: Where it may end.
            closed: Carriers that it doesn't pass.
            via: Groups of carriers: it passes one of each, in order, along its axis.
            shared: Many ways begin at these starts, so that it is worth to search the whole network once.
        """
        begin, end = self.numbers(starts, closed), self.numbers(ends, closed)
        if not self._meet(begin, end, closed):
            return None
        if via:
            return self._by_way_of(begin, end, closed, via)
        return trace(self.network, self.tree(begin, closed) if shared else self._nearby(begin, end, closed), end)

    def numbers(self, nodes: Iterable[Node], closed: Closed) -> tuple[int, ...]:
        """The numbers of those of some nodes that there are, and that aren't on a closed carrier."""
        found = (self.network.index.get(node) for node in nodes if node[0] not in closed)
        return tuple(sorted({number for number in found if number is not None}))

    def _meet(self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed) -> bool:
        parts = [{self.part(self.network.nodes[number], closed) for number in numbers} for numbers in (begin, end)]
        return not parts[0].isdisjoint(parts[1])

    def tree(self, starts: tuple[int, ...], closed: Closed, limit_mm: float = np.inf) -> Tree:
        """The shortest ways from one of some nodes, by their numbers, to all others that are no further than a limit."""
        return _kept(
            self._trees,
            (starts, closed, limit_mm),
            TREES_KEPT,
            lambda: _search(self._matrix(closed, ()), starts, limit_mm),
        )

    def sparing(
        self, starts: Iterable[Node], ends: Iterable[Node], closed: Closed, used: Iterable[int], dearer: float
    ) -> Path | None:
        """The shortest way where some edges, by their numbers, count ``dearer`` times their length more."""
        weights = self.weights.copy()
        weights[sorted(set(used))] *= 1.0 + dearer
        begin, end = self.numbers(starts, closed), self.numbers(ends, closed)
        if not self._meet(begin, end, closed):
            return None
        mask = self.open_edges(closed)
        matrix = _square(self.one[mask], self.other[mask], weights[mask], len(self.network.nodes))
        return trace(self.network, _search(matrix, begin, np.inf), end)

    def edges_of(self, path: Path) -> list[int]:
        """The numbers of a way's edges."""
        numbers = [self.network.index[node] for node in path.nodes]
        return [self.network.edge_number(a, b) for a, b in itertools.pairwise(numbers)]

    def reversed(self, path: Path) -> Path:
        """The same way from its end to its start."""
        return self.network.path([self.network.index[node] for node in reversed(path.nodes)])

    def _nearby(self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed) -> Tree:
        """A search that goes no further than it must."""
        ways = [
            distance(a, b)
            for one, other in itertools.product(begin, end)
            if (a := self.network.point(one)) is not None and (b := self.network.point(other)) is not None
        ]
        limit = FIRST_TIMES * min(ways, default=np.inf) + FIRST_MORE_MM
        matrix = self._matrix(closed, ())
        while limit < self.weights.sum():
            tree = _search(matrix, begin, limit)
            if min(tree.far[list(end)]) < np.inf:
                return tree
            limit *= THEN_TIMES
        return self.tree(begin, closed)

    def _matrix(self, closed: Closed, via: Via) -> Array:
        """The network less what is closed; with carriers to pass, a copy of it for each, and ways from one into the next along them."""

        def made() -> Array:
            mask = self.open_edges(closed)
            one, other, weights = self.one[mask], self.other[mask], self.weights[mask]
            size = len(self.network.nodes)
            if not via:
                return _square(one, other, weights, size)
            along = self.along[mask]
            layers = range(len(via) + 1)
            ones, others = [one + size * layer for layer in layers], [other + size * layer for layer in layers]
            counted = [weights] * len(layers)
            steps = [(np.array([], dtype=np.int64),) * 2 + (np.array([]),)]
            for layer, group in enumerate(via):
                here = self._flags(group)[along]
                for a, b in ((one[here], other[here]), (other[here], one[here])):
                    steps.append((a + size * layer, b + size * (layer + 1), weights[here]))
                points = [
                    self.network.index[key, 0.0]
                    for key in sorted(group)
                    if key not in closed and not self.network.carriers[key].length_mm
                ]
                places = np.array(points, dtype=np.int64)
                steps.append((places + size * layer, places + size * (layer + 1), np.full(len(points), LAYER_MM)))
            oneway = [np.concatenate(column) for column in zip(*steps, strict=True)]
            return _square(
                np.concatenate(ones), np.concatenate(others), np.concatenate(counted), size * len(layers), oneway
            )

        return _kept(self._matrices, (closed, via), MATRICES_KEPT, made)

    def _by_way_of(self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed, via: Via) -> Path | None:
        size = len(self.network.nodes)
        tree = _kept(
            self._trees, (begin, closed, via), TREES_KEPT, lambda: _search(self._matrix(closed, via), begin, np.inf)
        )
        return trace(self.network, tree, tuple(number + size * len(via) for number in end))


def trace(network: Network, tree: Tree, ends: Iterable[int]) -> Path | None:
    """The way that a tree has to the nearest of some nodes; None where it reaches none of them."""
    far, end = min(((float(tree.far[number]), number) for number in ends), default=(np.inf, -1))
    return network.path(nodes_to(tree, end, len(network.nodes))) if far < np.inf else None


def nodes_to(tree: Tree, end: int, size: int) -> list[int]:
    """The nodes of a tree's way to one of them, from its start; those of a later layer are those of the first."""
    numbers = [end]
    while (end := int(tree.before[end])) >= 0:
        numbers.append(end)
    return [number for number, _ in itertools.groupby(number % size for number in reversed(numbers))]


def _square(one: Array, other: Array, weights: Array, size: int, oneway: list[Array] | None = None) -> Array:
    """A matrix of edges both ways, and of some that lead one way."""
    rows, columns, values = [one, other], [other, one], [weights, weights]
    for listed, more in zip((rows, columns, values), oneway or (), strict=False):
        listed.append(more)
    return csr_array((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(size, size))


def _search(matrix: Array, starts: tuple[int, ...], limit: float) -> Tree:
    far, before, _ = dijkstra(matrix, indices=list(starts), min_only=True, return_predecessors=True, limit=limit)
    return Tree(far, before)


def _kept(store: OrderedDict[Hashable, Kept], key: Hashable, most: int, make: Callable[[], Kept]) -> Kept:
    """What was made for a key before, else what is made now; the one that wasn't asked for the longest goes."""
    if key in store:
        store.move_to_end(key)
        return store[key]
    store[key] = made = make()
    if len(store) > most:
        store.popitem(last=False)
    return made
