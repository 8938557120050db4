"""Ways by given stretches that come back on nothing: who asks for a way through a carrier doesn't mean in and out of its first end."""

import itertools
from collections.abc import Sequence
from typing import TYPE_CHECKING

from checker.network.graph import Path

if TYPE_CHECKING:
    from checker.network.search import Closed, Search
    from checker.network.trees import Tree

#: A pass: from one node to another, by their numbers; the same twice at a carrier of unknown length, which has but one node.
Pass = tuple[int, int]
#: Of so many stretches to pass each is tried both ways; of more each only as it was found.
MOST_TURNED = 3


def asked_steps(tree: "Tree", ends: Sequence[int], size: int) -> list[Pass]:
    """The steps of a way from one copy of the network into the next, by the numbers of nodes in the first."""
    number = min((float(tree.far[end]), end) for end in ends)[1]
    steps = []
    while (before := int(tree.before[number])) >= 0:
        if before // size != number // size:
            steps.append((before % size, number % size))
        number = before
    return steps[::-1]


def through(
    search: "Search", begin: tuple[int, ...], end: tuple[int, ...], closed: "Closed", passes: Sequence[Pass]
) -> Path | None:
    """The shortest of the ways by some stretches, each one way or the other, on which nothing is passed twice; None: none was found.

    Each part of such a way is the shortest by what the parts before it leave free, so that there may be a shorter one in all. Where that
    finds none, the parts are looked for from the end.
    """
    path = _best(search, begin, end, closed, passes)
    if path is not None:
        return path
    back = _best(search, end, begin, closed, [(other, one) for one, other in reversed(passes)])
    return None if back is None else search.reversed(back)


def _best(
    search: "Search", begin: tuple[int, ...], end: tuple[int, ...], closed: "Closed", passes: Sequence[Pass]
) -> Path | None:
    found = []
    turns = (
        itertools.product((False, True), repeat=len(passes)) if len(passes) <= MOST_TURNED else [[False] * len(passes)]
    )
    for turned in turns:
        directed = [one[::-1] if turn else one for one, turn in zip(passes, turned, strict=True)]
        numbers = _by(search, begin, end, closed, directed)
        path = search.network.path(numbers) if numbers else None
        if path is not None and not search.comes_back(path):
            found.append((float(search.weights[search.edges_of(path)].sum()), numbers, path))
    return min(found, key=lambda one: one[:2])[2] if found else None


def _by(
    search: "Search", begin: tuple[int, ...], end: tuple[int, ...], closed: "Closed", passes: Sequence[tuple[int, ...]]
) -> list[int]:
    """The nodes of a way by some stretches as they stand, none where there is none."""
    used = frozenset(search.network.edge_number(one, other) for one, other in passes if one != other)
    numbers, starts = list[int](), begin
    for goal, beyond in (*(((one,), (other,)) for one, other in passes), (end, ())):
        part = search.without(starts, goal, closed, used)
        if part is None:
            return []
        used |= {search.network.edge_number(a, b) for a, b in itertools.pairwise(part)}
        numbers += part
        starts = beyond
    return [number for number, _ in itertools.groupby(numbers)]
