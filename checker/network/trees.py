"""What a search finds: a tree of shortest ways, and the way to one of its nodes."""

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from checker.network.chains import Chains
from checker.network.graph import Network, Path

Array = Any


@dataclass(frozen=True, slots=True)
class Tree:
    """Shortest ways from one or several nodes to all others: how long they count, and the node before each (negative: none)."""

    far: Array
    before: Array


def trace(graph: Network | Chains, tree: Tree, ends: Iterable[int], *, is_turned: bool = False) -> Path | None:
    """The way that a tree has to the nearest of some nodes, or back from there; None where it reaches none of them."""
    far, end = nearest_of(graph, tree, ends)
    if far == np.inf:
        return None
    numbers = nodes_to(tree, end, len(graph.nodes))
    return graph.path(numbers[::-1] if is_turned else numbers)


def nearest_of(graph: Network | Chains, tree: Tree, ends: Iterable[int]) -> tuple[float, int]:
    """How far the nearest of some nodes is, and its number; of those as near the first by name."""
    size = len(graph.nodes)

    def order(number: int) -> tuple[float, str, float]:
        key, along = graph.nodes[number % size]
        return float(tree.far[number]), key, along or 0.0

    end = min(ends, key=order, default=-1)
    return (float(tree.far[end]), end) if end >= 0 else (np.inf, end)


def nodes_to(tree: Tree, end: int, size: int) -> list[int]:
    """The nodes of a tree's way to one of them, from its start; those of a later layer are those of the first."""
    numbers = [end]
    while (end := tree.before.item(end)) >= 0:
        numbers.append(end)
    return [number for number, _ in itertools.groupby(number % size for number in reversed(numbers))]
