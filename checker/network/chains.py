"""The network with each chain as one step: what lies between two places where circuits come in, or where ways fork or end.

Most nodes of a network are where one carrier ends and the next begins. No way can begin, end or fork there, so searches needn't look at
them; and what a chain passes is worked out once for all ways that pass it. Dead ends where no circuit comes in are left out.
"""

import functools
import itertools
import operator
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import breadth_first_order, connected_components

from checker.network.columns import Columns, square
from checker.network.graph import Network
from checker.network.paths import WHOLE, Node, Path, Stretch, ended, extend

Array = Any
#: Dead ends are left out edge by edge, so many times; what is left of longer ones is only searched in vain.
MOST_PEELED = 64


class Chain(NamedTuple):
    """One chain, one way: its nodes without the first, its stretches, and the length of each edge in mm."""

    nodes: list[Node]
    stretches: list[Stretch]
    lengths_mm: list[float]


class Chains:
    """All chains of a network, as edges between places: the nodes that aren't within one, which have numbers of their own.

    Attributes:
        nodes: The places, by their numbers.

    Args:
        network: The graph.
        columns: Its edges.
    """

    def __init__(self, network: Network, columns: Columns) -> None:
        self._network, size = network, len(network.nodes)
        is_landed = np.zeros(size, dtype=bool)
        is_landed[network.landed] = True
        self._edges, degree = _leading_on(columns, is_landed)
        self._one, self._other = columns.one[self._edges], columns.other[self._edges]
        self._lengths_mm, self._along = columns.lengths_mm[self._edges], columns.along[self._edges]
        self._is_join = columns.is_join[self._edges]
        numbers = np.arange(len(self._edges))
        # of two edges at a node the sum of their numbers less the one is the other
        self._at = np.zeros(size, dtype=np.int64)
        self._at[self._one], self._at[self._other] = numbers, numbers
        self._sum = (np.bincount(self._one, numbers, size) + np.bincount(self._other, numbers, size)).astype(np.int64)
        is_place = is_landed | (degree == 1) | (degree > 2)
        self._cut(is_place, degree > 0)
        twins = _twins(self._ends)
        if twins.any():
            # two places may be joined by one chain only: the second node of each that isn't alone is a place, too
            is_place[(self._one + self._other)[self._begins[twins]] - self._ends[twins, 0]] = True
            self._cut(is_place, degree > 0)
        self._place = np.where(is_place, np.cumsum(is_place) - 1, -1)
        self.nodes = [network.nodes[number] for number in np.nonzero(is_place)[0].tolist()]
        self._between = self._place[self._ends].astype(np.int32)
        within = self._chain >= 0
        self._weights = np.bincount(
            self._chain[within], columns.weights_mm[self._edges][within], minlength=len(self._ends)
        )
        self._known: dict[tuple[int, int], Chain] = {}

    def _cut(self, is_place: Array, is_passed: Array) -> None:
        """Cuts the network at places. Other nodes that are passed are within chains.

        Gives each edge the number of its chain (-1: it is of a circle without a place), and each chain the nodes at its ends, and its
        first edge.
        """
        edges, within = np.arange(len(self._one)), is_passed & ~is_place
        self._links = self._at[within], (self._sum - self._at)[within]
        one, other = self._links
        links = csr_array((np.ones(len(one)), (one, other)), shape=(len(edges), len(edges)))
        labels = connected_components(links, directed=False)[1]
        at = np.concatenate((edges[is_place[self._one]], edges[is_place[self._other]]))
        ends = np.concatenate((self._one[is_place[self._one]], self._other[is_place[self._other]]))
        order = np.lexsort((ends, labels[at]))
        number = np.full(len(edges), -1)
        self._begins, self._ends = at[order][::2], ends[order].reshape(-1, 2)
        number[labels[self._begins]] = np.arange(len(self._ends))
        self._chain = number[labels]

    def numbers(self, nodes: Iterable[int]) -> tuple[int, ...] | None:
        """The places that some nodes are; None where one of them is none."""
        places = tuple(self._place.item(number) for number in nodes)
        return None if -1 in places else places

    def matrix(self, is_open: Array) -> Array:
        """The chains of which every edge is open, as a matrix."""
        mask = np.ones(len(self._ends) + 1, dtype=bool)
        mask[self._chain[~is_open[self._edges]]] = False
        mask = mask[:-1]
        one, other = self._between[mask].T
        return square(one, other, self._weights[mask], len(self.nodes))

    def path(self, numbers: Sequence[int]) -> Path:
        """The way along places, each joined to the next by a chain: the same as that of the network along all nodes."""
        chains = [self._known.get(pair) or self._made(pair) for pair in itertools.pairwise(numbers)]
        nodes = [self.nodes[numbers[0]]]
        for chain in chains:
            nodes += chain.nodes
        if self._network.has_lengthless or WHOLE in (nodes[0][1], nodes[-1][1]):
            return self._network.path([self._network.index[node] for node in nodes])
        stretches, lengths = list[Stretch](), list[float]()
        for chain in chains:
            own = chain.stretches
            lengths += chain.lengths_mm
            if stretches and own and own[0].carrier == stretches[-1].carrier:
                extend(stretches, *own[0])
                own = own[1:]
            stretches += own
        ended(stretches, nodes)
        return Path(tuple(stretches), functools.reduce(operator.add, lengths, 0.0), tuple(nodes))

    def _made(self, pair: tuple[int, int]) -> Chain:
        """The chain from one place to another."""
        rows, is_turned = self._rows, pair[0] > pair[1]
        number = rows.of[pair[::-1] if is_turned else pair]
        there = slice(rows.edges[number], rows.edges[number + 1])
        nodes = [self.nodes[min(pair)], *rows.nodes[there]]
        lengths = rows.lengths_mm[there]
        stretches = rows.stretches[rows.along[there.start] : rows.along[there.stop]]
        if is_turned:
            nodes, lengths = nodes[::-1], lengths[::-1]
            stretches = [Stretch(key, end, start) for key, start, end in reversed(stretches)]
        if number in rows.merging:
            stretches, _ = self._network.passed([self._network.index[node] for node in nodes])
        self._known[pair] = chain = Chain(nodes[1:], stretches, lengths)
        return chain

    @functools.cached_property
    def _rows(self) -> "_Rows":
        """The edges of all chains in the order in which they are passed."""
        count, nodes = len(self._one), self._network.nodes
        one, other = self._links
        start = np.full(len(self._begins), count)
        # from all first edges at once: further ones of the same chain are met later
        graph = csr_array(
            (
                np.ones(2 * len(one) + len(start)),
                (np.concatenate((one, other, start)), np.concatenate((other, one, self._begins))),
            ),
            shape=(count + 1, count + 1),
        )
        met = breadth_first_order(graph, count, return_predecessors=False)[1:]
        met = met[np.argsort(self._chain[met], kind="stable")]
        sizes = np.bincount(self._chain[met], minlength=len(start))
        edges = np.concatenate(([0], np.cumsum(sizes)))
        # the node after an edge is the one that the next edge has, too; after the last of a chain it is the chain's end
        first, last = self._one[met], self._other[met]
        after = np.where(first == np.roll(first, -1), first, np.where(first == np.roll(last, -1), first, last))
        after[edges[1:] - 1] = self._ends[:, 1]
        before = first + last - after
        ahead = [nodes[number] for number in after.tolist()]
        is_along = ~self._is_join[met]
        behind = [nodes[number] for number in before[is_along].tolist()]
        stretches = [
            Stretch(key, begin or 0.0, end or 0.0)
            for (key, begin), (_, end) in zip(behind, itertools.compress(ahead, is_along.tolist()), strict=True)
        ]
        of, along = self._chain[met][is_along], self._along[met][is_along]
        same = (of[1:] == of[:-1]) & (along[1:] == along[:-1])
        pairs = zip(*self._between.T.tolist(), strict=True)
        return _Rows(
            {pair: number for number, pair in enumerate(pairs)},
            edges.tolist(),
            ahead,
            self._lengths_mm[met].tolist(),
            np.concatenate(([0], np.cumsum(is_along))).tolist(),
            stretches,
            set(of[1:][same].tolist()),
        )


@dataclass(frozen=True, slots=True)
class _Rows:
    """The edges of all chains, chain by chain.

    ``of``: the number of the chain between two places, ``edges``: which is the first edge of each. Of each edge: ``nodes``: the one after
    it, ``lengths_mm``, ``along``: how many edges before it run along carriers; ``stretches`` are those that these pass.
    """

    of: dict[tuple[int, int], int]
    edges: list[int]
    nodes: list[Node]
    lengths_mm: list[float]
    along: list[int]
    stretches: list[Stretch]
    merging: set[int]


def _leading_on(columns: Columns, is_landed: Array) -> tuple[Array, Array]:
    """The numbers of the edges that lead to more than a dead end where no circuit comes in, and how many of them each node has."""
    edges = np.arange(len(columns.one))
    for _ in range(MOST_PEELED):
        ends = np.concatenate((columns.one[edges], columns.other[edges]))
        degree = np.bincount(ends, minlength=len(is_landed))
        is_dead = ((degree == 1) & ~is_landed)[ends].reshape(2, -1).any(axis=0)
        if not is_dead.any():
            break
        edges = edges[~is_dead]
    return edges, np.bincount(np.concatenate((columns.one[edges], columns.other[edges])), minlength=len(is_landed))


def _twins(ends: Array) -> Array:
    """Which chains are between the same two nodes as another one."""
    order = np.lexsort((ends[:, 1], ends[:, 0]))
    same = (ends[order[1:]] == ends[order[:-1]]).all(axis=1)
    found = np.zeros(len(ends), dtype=bool)
    found[order[1:][same]] = True
    found[order[:-1][same]] = True
    return found
