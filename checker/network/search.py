"""Shortest ways through the network: one search a place where circuits begin, not one a circuit.

The search itself is scipy's, on the network as a sparse matrix. Some carriers may be closed, some may have to be passed in order.
"""

import itertools
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from typing import Any, TypeVar

import numpy as np
from scipy.sparse.csgraph import connected_components, dijkstra

from checker.model import Vec
from checker.model.geometry import distance
from checker.network.chains import Chains
from checker.network.columns import columns_of, square
from checker.network.graph import Network, Node, Path
from checker.network.passing import asked_steps, through
from checker.network.trees import Tree, nearest_of, nodes_to, trace

Closed = frozenset[str]
Via = tuple[frozenset[str], ...]
Array = Any
Kept = TypeVar("Kept")
#: So many trees of searches are kept at hand, and so many matrices of the network less what is closed.
TREES_KEPT, MATRICES_KEPT = 24, 24
#: A search that doesn't find the end looks so many times further.
THEN_TIMES = 4.0
#: What passing from one layer of a search by given carriers into the next counts, at a carrier without a length.
LAYER_MM = 1e-9


class Search:
    """Finds ways. What it has found is kept, so ask about circuits that begin at the same place one after the other."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.columns = columns_of(network)
        self.one, self.other, self.weights = self.columns.one, self.columns.other, self.columns.weights_mm
        self.chains = Chains(network, self.columns)
        self._all_mm = float(self.weights.sum())
        self._matrices: OrderedDict[Hashable, Array] = OrderedDict()
        self._trees: OrderedDict[Hashable, Tree] = OrderedDict()
        self._parts: OrderedDict[Hashable, Array] = OrderedDict()
        self._short_parts: OrderedDict[Hashable, Array] = OrderedDict()

    def open_edges(self, closed: Closed) -> Array:
        """Which edges enter no closed carrier, as a mask."""
        return self.columns.open_edges(closed)

    def part(self, node: Node, closed: Closed) -> int:
        """The part of the network that a node is in: nodes of different parts are joined by no way; -1: there is no such node."""
        parts = _kept(self._parts, closed, MATRICES_KEPT, lambda: _parts(self._matrix(closed, ())))
        number = self.network.index.get(node)
        return -1 if number is None else int(parts[number])

    def path(
        self,
        starts: Iterable[Node],
        ends: Iterable[Node],
        closed: Closed,
        via: Via = (),
        *,
        look_mm: float = np.inf,
        is_turned: bool = False,
    ) -> Path | None:
        """The shortest way from one of some nodes to one of others; None where there is none.

        Args:
            starts: Where it may begin.
            ends: Where it may end.
            closed: Carriers that it doesn't pass.
            via: Groups of carriers: it passes one of each, in order, along its axis.
            look_mm: How far to look at first, and further where no end is so near. The same for all ways that begin at one place, one
                search serves them all.
            is_turned: Give it from its end to its start; not with ``via``.
        """
        begin, end = self.numbers(starts, closed), self.numbers(ends, closed)
        first, last = self.chains.numbers(begin), self.chains.numbers(end)
        if via or first is None or last is None:
            return self._by_nodes(begin, end, closed, via, look_mm, is_turned=is_turned)
        parts = _kept(self._short_parts, closed, MATRICES_KEPT, lambda: _parts(self._short(closed)))
        if {parts.item(place) for place in first}.isdisjoint([parts.item(place) for place in last]):
            return None
        tree = self._reaching(first, last, closed, look_mm, by_chains=True)
        return trace(self.chains, tree, last, is_turned=is_turned)

    def _by_nodes(
        self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed, via: Via, look_mm: float, *, is_turned: bool
    ) -> Path | None:
        """The same, looked for node by node."""
        if not self._meet(begin, end, closed):
            return None
        if via:
            return self._by_way_of(begin, end, closed, via)
        return trace(self.network, self._reaching(begin, end, closed, look_mm), end, is_turned=is_turned)

    def numbers(self, nodes: Iterable[Node], closed: Closed) -> tuple[int, ...]:
        """The numbers of those of some nodes that there are, and that aren't on a closed carrier."""
        found = (self.network.index.get(node) for node in nodes if node[0] not in closed)
        return tuple(sorted({number for number in found if number is not None}))

    def _meet(self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed) -> bool:
        parts = [{self.part(self.network.nodes[number], closed) for number in numbers} for numbers in (begin, end)]
        return not parts[0].isdisjoint(parts[1])

    def tree(
        self, starts: tuple[int, ...], closed: Closed, limit_mm: float = np.inf, *, by_chains: bool = False
    ) -> Tree:
        """The shortest ways from one of some nodes, by their numbers, to all others that are no further than a limit.

        ``by_chains``: nodes are places between chains, by the numbers that they have there.
        """

        def made() -> Tree:
            return _search(self._short(closed) if by_chains else self._matrix(closed, ()), starts, limit_mm)

        return _kept(self._trees, (starts, closed, limit_mm, by_chains), TREES_KEPT, made)

    def _short(self, closed: Closed) -> Array:
        return _kept(self._matrices, closed, MATRICES_KEPT, lambda: self.chains.matrix(self.open_edges(closed)))

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
        matrix = square(self.one[mask], self.other[mask], weights[mask], len(self.network.nodes))
        return trace(self.network, _search(matrix, begin, np.inf), end)

    def edges_of(self, path: Path) -> list[int]:
        """The numbers of a way's edges."""
        numbers = [self.network.index[node] for node in path.nodes]
        return [self.network.edge_number(a, b) for a, b in itertools.pairwise(numbers)]

    def comes_back(self, path: Path) -> bool:
        """Whether a way passes anything twice."""
        edges = self.edges_of(path)
        return len(set(edges)) < len(edges)

    def reversed(self, path: Path) -> Path:
        """The same way from its end to its start."""
        return self.network.path([self.network.index[node] for node in reversed(path.nodes)])

    def straight_mm(self, starts: Iterable[Node], ends: Iterable[Node]) -> float:
        """How far the nearest of some nodes and of others are apart, as the crow flies; 0 where that isn't known."""
        points = [
            [point for node in nodes if node in self.network.index and (point := self._point(node)) is not None]
            for nodes in (starts, ends)
        ]
        return min((distance(a, b) for a, b in itertools.product(*points)), default=0.0)

    def _point(self, node: Node) -> Vec | None:
        return self.network.point(self.network.index[node])

    def _reaching(
        self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed, look_mm: float, *, by_chains: bool = False
    ) -> Tree:
        """A search that goes no further than it must."""
        while look_mm < self._all_mm:
            tree = self.tree(begin, closed, look_mm, by_chains=by_chains)
            if min(tree.far.item(number) for number in end) < np.inf:
                return tree
            look_mm *= THEN_TIMES
        return self.tree(begin, closed, by_chains=by_chains)

    def _matrix(self, closed: Closed, via: Via) -> Array:
        """The network less what is closed; with carriers to pass, a copy of it for each, and ways from one into the next along them."""

        def made() -> Array:
            mask = self.open_edges(closed)
            one, other, weights = self.one[mask], self.other[mask], self.weights[mask]
            size = len(self.network.nodes)
            if not via:
                return square(one, other, weights, size)
            along = self.columns.along[mask]
            layers = range(len(via) + 1)
            ones, others = [one + size * layer for layer in layers], [other + size * layer for layer in layers]
            counted = [weights] * len(layers)
            steps = [(np.array([], dtype=np.int64),) * 2 + (np.array([]),)]
            for layer, further in itertools.combinations(layers, 2):
                # one carrier may be of several groups that follow each other: it needn't be passed once for each
                group = frozenset.intersection(*via[layer:further])
                here = self.columns.flags(group)[along]
                for a, b in ((one[here], other[here]), (other[here], one[here])):
                    steps.append((a + size * layer, b + size * further, weights[here]))
                points = [
                    self.network.index[key, 0.0]
                    for key in sorted(group & self.network.carriers.keys())
                    if key not in closed and not self.network.carriers[key].length_mm
                ]
                places = np.array(points, dtype=np.int64)
                steps.append((places + size * layer, places + size * further, np.full(len(points), LAYER_MM)))
            oneway = [np.concatenate(column) for column in zip(*steps, strict=True)]
            return square(
                np.concatenate(ones), np.concatenate(others), np.concatenate(counted), size * len(layers), oneway
            )

        return _kept(self._matrices, (closed, via), MATRICES_KEPT, made)

    def without(
        self, starts: tuple[int, ...], ends: tuple[int, ...], closed: Closed, removed: frozenset[int]
    ) -> list[int] | None:
        """The nodes of the shortest way between some by none of some edges, all by their numbers; None where there is none."""

        def made() -> Tree:
            mask = self.open_edges(closed)
            mask[sorted(removed)] = False
            matrix = square(self.one[mask], self.other[mask], self.weights[mask], len(self.network.nodes))
            return _search(matrix, starts, np.inf)

        tree = _kept(self._trees, (starts, closed, removed), TREES_KEPT, made)
        far, end = nearest_of(self.network, tree, ends)
        return nodes_to(tree, end, len(self.network.nodes)) if far < np.inf else None

    def _by_way_of(self, begin: tuple[int, ...], end: tuple[int, ...], closed: Closed, via: Via) -> Path | None:
        """The shortest way, unless it comes back on itself and another one was found that doesn't."""
        size = len(self.network.nodes)
        tree = _kept(
            self._trees, (begin, closed, via), TREES_KEPT, lambda: _search(self._matrix(closed, via), begin, np.inf)
        )
        ends = tuple(number + size * len(via) for number in end)
        path = trace(self.network, tree, ends)
        if path is None or not self.comes_back(path):
            return path
        return through(self, begin, end, closed, asked_steps(tree, ends, size)) or path


def _parts(matrix: Array) -> Array:
    return connected_components(matrix, directed=False)[1]


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
