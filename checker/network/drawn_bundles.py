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
from checker.network.bodies import HAIR_MM
from checker.network.drawn_between import MEETS_MM
from checker.network.drawn_ends import Reached
from checker.network.drawn_lines import CORES_MM, FOLLOWS_MM, TERMINAL_MM, following
from checker.network.drawn_strands import Strand

#: Of more ends at one place than this, the farther ones aren't looked at.
MOST_MET = 50


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
        self._near, self._ends = self._told_apart([end for strand in strands for end in strand.ends])
        self._ended = {end for end in self._ends if isinstance(end, str)}
        self.all = [self._bundle(ends, numbers) for ends, numbers in _by_ends(self._ends).items()]

    def _told_apart(self, points: Sequence[Vec]) -> tuple[list[str | int], list[str | int]]:
        """What each line's end lies near, and what it ends at: the nearest call by its name, else a number for a place."""
        places = self._reached.points
        names = sorted(places)
        numbers = _places(points)
        found: list[str | int] = list(numbers)
        if names:
            off, nearest = cKDTree([places[name] for name in names]).query(points)
            away: list[float] = off.tolist()
            for number, name in enumerate(nearest.tolist()):
                if away[number] <= TERMINAL_MM:
                    found[number] = names[name]
            near = list(found)
            for number in self._going_on(near, away):
                found[number] = numbers[number]
            return near, found
        return found, found

    def _going_on(self, ends: Sequence[str | int], off_mm: Sequence[float]) -> list[int]:
        """Ends that lie near a call and don't end there, or may not: the line goes on in another one.

        Two that follow each other do where another line comes up nearer to the call; and where there are more lines to the one side than
        to the other, as one of them may come back from where the first went. Then they may be as far apart as lines that meet.
        """
        nearest: dict[str, float] = {}
        for name, off in zip(ends, off_mm, strict=True):
            if isinstance(name, str):
                nearest[name] = min(off, nearest.get(name, off))
        beside = {number: len(own) for own in _by_ends(ends).values() for number in own}
        found: set[int] = set()
        lines = [strand.line for strand in self._strands]
        at_calls = [number for number, name in enumerate(ends) if isinstance(name, str)]
        for one, other in following(lines, at_calls, MEETS_MM, MOST_MET):
            name = ends[one]
            if not isinstance(name, str) or ends[other] != name or not found.isdisjoint((one, other)):
                continue
            apart = distance(lines[one // 2][-(one % 2)], lines[other // 2][-(other % 2)])
            passes_by = min(off_mm[one], off_mm[other]) > nearest[name] + FOLLOWS_MM and apart <= CORES_MM + HAIR_MM
            if passes_by or beside[one // 2] != beside[other // 2]:
                found.update((one, other))
        return sorted(found)

    def _bundle(self, ends: frozenset[str | int], numbers: Sequence[int]) -> Bundle:
        lines, most = len(numbers), self._scheduled or len(numbers)
        # where it isn't sure that lines end at what they lie near, they may do so all the same
        near = {frozenset(self._near[2 * number : 2 * number + 2]) for number in numbers}
        ways = max(self._ways(own, numbers) for own in (ends, *near))
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


def _by_ends(ends: Sequence[str | int]) -> dict[frozenset[str | int], list[int]]:
    """The numbers of lines by what they end at; 2n is a line's first end, 2n + 1 its last."""
    found: dict[frozenset[str | int], list[int]] = defaultdict(list)
    for number in range(len(ends) // 2):
        found[frozenset(ends[2 * number : 2 * number + 2])].append(number)
    return found


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
