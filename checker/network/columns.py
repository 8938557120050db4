"""The edges of a network as arrays, as searches of large networks want them."""

import itertools
from collections.abc import Sequence, Set
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.sparse import csr_array

from checker.network.graph import Network

Array = Any


@dataclass(frozen=True, slots=True)
class Columns:
    """The edges of a network as arrays.

    ``one`` and ``other`` are the numbers of their nodes, ``lengths_mm`` how long they are, ``weights_mm`` what they count in a search,
    ``along`` the numbers of the carriers that they run along; ``is_join`` says which are joins instead. ``on`` are the numbers of
    the carriers that nodes are on. ``carriers`` are these in the order of their numbers; one number more stands for none.
    """

    one: Array
    other: Array
    lengths_mm: Array
    weights_mm: Array
    along: Array
    is_join: Array
    on: Array
    carriers: tuple[str, ...]

    def flags(self, keys: Set[str]) -> Array:
        """A mask of carriers, and of one more that is none."""
        return np.array([*(key in keys for key in self.carriers), False])

    def open_edges(self, closed: Set[str]) -> Array:
        """Which edges enter no closed carrier, as a mask."""
        is_closed = self.flags(closed)[self.on]  # what an edge enters is what its nodes are on
        return ~(is_closed[self.one] | is_closed[self.other])


def columns_of(network: Network) -> Columns:
    """The edges of a network, as scipy's searches want them."""
    one, other, lengths, _, along = zip(*network.edges, strict=True) if network.edges else ((),) * 5
    ends = np.array(one, dtype=np.int32), np.array(other, dtype=np.int32)
    lengths_mm, is_join = np.array(lengths, dtype=float), np.array([key is None for key in along], dtype=bool)
    carriers = tuple(network.on_carrier)
    on = np.full(len(network.nodes), len(carriers))
    sizes = [len(numbers) for numbers in network.on_carrier.values()]
    on[list(itertools.chain.from_iterable(network.on_carrier.values()))] = np.repeat(np.arange(len(carriers)), sizes)
    weights_mm = network.weights_mm(*ends, lengths_mm, is_join)
    return Columns(*ends, lengths_mm, weights_mm, np.where(is_join, len(carriers), on[ends[0]]), is_join, on, carriers)


def square(one: Array, other: Array, weights: Array, size: int, oneway: Sequence[Array] = ()) -> Array:
    """A matrix of edges both ways, and of some that lead one way."""
    rows, columns, values = [one, other], [other, one], [weights, weights]
    for listed, more in zip((rows, columns, values), oneway, strict=False):
        listed.append(more)
    return csr_array((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(size, size))
