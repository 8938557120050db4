"""Which drawn lines run beside each other between the same two ends, and in how many of them one pass is drawn.

A model draws each single core of a circuit, or one line for all of them; here this and there that. So lines are told apart by their ends:
by which of the circuit's own calls they end at, and where they end at none, by the place. Where it isn't clear, they count as more passes,
not as fewer.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from checker.model import Circuit, Vec
from checker.model.geometry import distance
from checker.network.drawn_ends import Reached
from checker.network.drawn_lines import CORES_MM, TERMINAL_MM
from checker.network.drawn_strands import Strand


@dataclass(frozen=True, slots=True)
class Bundle:
    """Lines between the same two ends: their numbers, and in how many of them one pass is drawn.

    ``beside`` is how many run beside each other, ``unit`` the same, but for those that are more than the schedule has cables.
    """

    strands: tuple[int, ...]
    beside: int
    unit: int

    @property
    def passes(self) -> int:
        """How many passes its lines are."""
        return math.ceil(len(self.strands) / self.unit)


def scheduled_cables(circuit: Circuit) -> int | None:
    """How many cables the schedule has for one pass; None where that isn't known."""
    counts = [cable.count for cable in circuit.cables]
    if None in counts or not {"count", "sets"}.isdisjoint(circuit.unread):
        return None
    return sum(count for count in counts if count is not None) * circuit.sets or None


class Bundles:
    """Sorts a circuit's lines into bundles.

    Args:
        strands: Its lines.
        reached: How they come to its ends.
        circuit: Whose they are.
    """

    def __init__(self, strands: Sequence[Strand], reached: Reached, circuit: Circuit) -> None:
        self._strands, self._reached = strands, reached
        self._names = [end.name for end in reached.ends]
        self._at: dict[str, list[int]] = defaultdict(list)
        for place, name in enumerate(self._names):
            self._at[name].append(place)
        self._beside = _beside(reached.points)
        self._scheduled = scheduled_cables(circuit)
        self._ends = self._told_apart([end for strand in strands for end in strand.ends])
        self._ended = {end for end in self._ends if isinstance(end, str)}
        by_ends: dict[frozenset[str | int], list[int]] = defaultdict(list)
        for number in range(len(strands)):
            by_ends[frozenset(self._ends[2 * number : 2 * number + 2])].append(number)
        self.all = [self._bundle(ends, numbers) for ends, numbers in by_ends.items()]

    def _told_apart(self, points: Sequence[Vec]) -> list[str | int]:
        """What each line's end ends at: the nearest call by its name, else a number for a place."""
        places = self._reached.points
        names = sorted(places)
        found: list[str | int] = list(_places(points))
        if names:
            off, nearest = cKDTree([places[name] for name in names]).query(points)
            for number, (away, name) in enumerate(zip(off.tolist(), nearest.tolist(), strict=True)):
                if away <= TERMINAL_MM:
                    found[number] = names[name]
        return found

    def _bundle(self, ends: frozenset[str | int], numbers: Sequence[int]) -> Bundle:
        lines, most = len(numbers), self._scheduled or len(numbers)
        ways = self._ways(ends, numbers)
        # as many lines as cables are one pass, unless they could as well be one line for each of several
        beside = lines if lines == most and lines % ways else max(lines // ways, 1)
        return Bundle(tuple(numbers), beside, min(beside, most))

    def _ways(self, ends: frozenset[str | int], numbers: Sequence[int]) -> int:
        """How many legs of the circuit may be drawn between two ends: a ring goes there and comes back."""
        names = {end for end in ends if isinstance(end, str)}
        if len(names) < len(ends):
            return max(len(at) for at in self._at.values())
        return max(self._legs(names, numbers), *(self._beside[name] for name in names))

    def _legs(self, ends: Collection[str], numbers: Sequence[int]) -> int:
        """How many times the circuit's calls in order lead from one end to the other, by nothing that such a line couldn't pass."""
        names, places = self._names, sorted(place for name in ends for place in self._at[name])
        if names[0] == names[-1]:  # a ring is as good from any of its calls
            names = [*names[:-1], *names]
            last = len(self._names) - 1
            places = sorted({*places, *(place + last for place in places if place < last)})
            places = [place for place in places if place <= places[0] + last]
        return sum(
            (names[one] != names[other] or len(ends) == 1)
            and all(self._may_pass(name, numbers) for name in names[one + 1 : other])
            for one, other in itertools.pairwise(places)
        )

    def _may_pass(self, name: str, numbers: Sequence[int]) -> bool:
        """Whether a line of a bundle may be led by a call: it comes near, and no line ends there."""
        return name not in self._ended and any(self._reached.is_near(name, number) for number in numbers)

    def closes_ring(self) -> bool:
        """Whether lines lead away from the origin, and from each call that lines end at, by two ways at least, as a ring's do."""
        ways = dict.fromkeys([self._names[0], *self._ended], 0)
        for bundle in self.all:
            first = bundle.strands[0]
            for end, place in zip(self._ends[2 * first : 2 * first + 2], self._strands[first].ends, strict=True):
                name = end if isinstance(end, str) else self._names[0]
                # what ends at no call may come from the origin, if that is in reach
                if isinstance(end, str) or self._is_in_reach(place, name):
                    ways[name] += bundle.passes
        return all(number > 1 for name, number in ways.items() if name in self._reached.points)

    def _is_in_reach(self, place: Vec, name: str) -> bool:
        point = self._reached.points.get(name)
        return point is not None and distance(place, point) <= self._reached.reach_mm


def _beside(points: Mapping[str, Vec]) -> dict[str, int]:
    """By name how many ends lie at one place with each, itself among them."""
    names = sorted(points)
    if not names:
        return {}
    places = [points[name] for name in names]
    near = cKDTree(places).query_ball_point(places, CORES_MM, return_length=True)
    return dict(zip(names, near.tolist(), strict=True))


def _places(points: Sequence[Vec]) -> list[int]:
    """A number for each point, the same for those that are as near to each other as the cores of a cable."""
    pairs = cKDTree(points).query_pairs(CORES_MM, output_type="ndarray").reshape(-1, 2)
    size = len(points)
    graph = csr_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(size, size))
    found: list[int] = connected_components(graph, directed=False)[1].tolist()
    return found
