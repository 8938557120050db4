"""How ways pass from one carrier into the next, and the places where more than two carriers meet, or what passes may mix in a box.

Through a direct joint, and through bends, connectors and reducers, compartments keep their side. Through a tee, a cross and any other
place where three or more meet they keep their number: dividers are cut to fit there. In a box nothing holds them.
"""

import itertools
from collections import defaultdict, deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from checker.model import Fitting, FittingKind, Partition, Vec
from checker.model.geometry import sub
from checker.network.graph import Network
from checker.network.joins import END, START, Spot
from checker.network.lane_sides import Edge, edges_of, is_opposite

#: So many fittings in a row may lie between two carriers.
MOST_FITTINGS = 8
BOX = "a box lies between, in which nothing holds them"
SEVERAL = "the two carriers meet in several places"

Mark = tuple[str, str]


class Follow(Enum):
    """How compartments go on from one carrier into the next."""

    SAME_SIDE = "same"
    OPPOSITE = "opposite"
    NUMBER = "number"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Passage:
    """How a way passes from one carrier into the next. ``why``: of one that can't be told; ``meetings``: keys of those that it passes.

    ``joint``: where it passes by side, the place where it does.
    """

    follow: Follow
    why: str = ""
    meetings: tuple[str, ...] = ()
    joint: "Meeting | None" = None


@dataclass(frozen=True, slots=True)
class Meeting:
    """A place where three or more carriers meet, or two at a tee or in a box; as a ``joint``, any other where two do.

    ``carriers`` are sorted keys; no fitting: they meet directly. ``leads_on``: another such place is joined to it, so that what passes it
    needn't lie in two of the carriers.
    """

    key: str
    fitting: Fitting | None
    carriers: tuple[str, ...]
    leads_on: bool = False


class Passages:
    """All passages of a network.

    Args:
        network: What is joined.
    """

    def __init__(self, network: Network) -> None:
        self._network = network
        self._tips: dict[str, set[Mark]] = defaultdict(set)  # of carriers in each fitting
        self._beside: dict[str, set[str]] = defaultdict(set)  # fittings that are joined to each other
        self._fittings_of: dict[str, set[str]] = defaultdict(set)
        self._edges: dict[str, dict[str, Edge]] = {}
        self._known: dict[tuple[str, str], Passage | None] = {}
        direct: list[tuple[Spot, Spot]] = []
        for join in network.joins:
            for one, other in ((join.one, join.other), (join.other, join.one)):
                if one.element in network.fittings and other.element in network.carriers:
                    self._tips[one.element].add(other.mark)
                    self._fittings_of[other.element].add(one.element)
                elif one.element in network.fittings:
                    self._beside[one.element].add(other.element)
            if join.one.element in network.carriers and join.other.element in network.carriers:
                direct.append((join.one, join.other))
        self._joints: dict[str, list[frozenset[Mark]]] = defaultdict(list)
        for joint in _hanging_together(pair for pair in direct if not self._is_in_fitting(*pair)):
            for key in sorted({key for key, _ in joint}):
                self._joints[key].append(joint)
        self.meetings = {meeting.key: meeting for meeting in self._find_meetings()}

    def _is_in_fitting(self, one: Spot, other: Spot) -> bool:
        """Whether two carriers that meet do so in a fitting that both are joined to: then the way goes through the fitting."""
        shared = self._fittings_of[one.element] & self._fittings_of[other.element]
        return any({one.mark, other.mark} & self._tips[fitting] for fitting in shared)

    def between(self, one: str, other: str) -> Passage | None:
        """How a way passes from one carrier into another that it meets; None where they don't meet."""
        if (one, other) not in self._known:
            found = [*self._through_joints(one, other), *self._through_fittings(one, other)]
            self._known[one, other] = _only(found)
        return self._known[one, other]

    def _through_joints(self, one: str, other: str) -> Iterator[Passage]:
        for joint in self._joints.get(one, ()):
            tips = [[mark for mark in sorted(joint) if mark[0] == key] for key in (one, other)]
            if not tips[1]:
                continue
            if _branches(joint) > 2:
                yield Passage(Follow.NUMBER, meetings=(_key_of(joint),))
            else:
                place = Meeting(_key_of(joint), None, tuple(sorted((one, other))))
                yield self._by_side(tips[0][0], tips[1][0], (), place)

    def _through_fittings(self, one: str, other: str) -> Iterator[Passage]:
        for chain in self._chains(one, other):
            fittings = [self._network.fittings[key] for key in chain]
            meetings = tuple(key for key in chain if self._is_place(key))
            if any(fitting.kind is FittingKind.BOX for fitting in fittings):
                yield Passage(Follow.UNKNOWN, BOX, meetings)
            elif meetings:
                yield Passage(Follow.NUMBER, meetings=meetings)
            else:
                tips = [
                    min(mark for mark in self._tips[key] if mark[0] == end)
                    for key, end in ((chain[0], one), (chain[-1], other))
                ]
                place = Meeting(min(chain), self._network.fittings[min(chain)], tuple(sorted((one, other))))
                yield self._by_side(tips[0], tips[1], _steps(fittings), place)

    def _by_side(self, one: Mark, other: Mark, between: Iterable[Vec], joint: Meeting) -> Passage:
        said = is_opposite(self._edge(one), self._edge(other), between)
        if isinstance(said, str):
            return Passage(Follow.UNKNOWN, said)
        if said and joint.fitting is not None and joint.fitting.partition is Partition.KEPT:
            # what is kept goes by number where it is asked, which tells nothing of sides here: it is not to pass by that
            joint = replace(joint, fitting=replace(joint.fitting, partition=None, partition_why=""))
        return Passage(Follow.OPPOSITE if said else Follow.SAME_SIDE, joint=joint)

    def _edge(self, mark: Mark) -> Edge | None:
        if mark[0] not in self._edges:
            self._edges[mark[0]] = edges_of(self._network.carriers[mark[0]])
        return self._edges[mark[0]].get(mark[1])

    def _chains(self, one: str, other: str) -> list[tuple[str, ...]]:
        """The fittings in a row that lead from one carrier to another, the fewest that do."""
        chains: list[tuple[str, ...]] = [(key,) for key in sorted(self._fittings_of.get(one, ()))]
        seen = set(self._fittings_of.get(one, ()))
        while chains:
            found = [chain for chain in chains if any(key == other for key, _ in self._tips[chain[-1]])]
            if found:
                return found
            longer: list[tuple[str, ...]] = []
            for chain in chains if len(chains[0]) < MOST_FITTINGS else ():
                for key in sorted(self._beside.get(chain[-1], set()) - seen):
                    seen.add(key)
                    longer.append((*chain, key))
            chains = longer
        return []

    def is_meeting(self, key: str) -> bool:
        """Whether a fitting is one in which more than two carriers meet: a tee, a cross, any but a box that three are joined to."""
        kind = self._network.fittings[key].kind
        if kind in {FittingKind.TEE, FittingKind.CROSS}:
            return True
        return kind is not FittingKind.BOX and _branches(self._tips.get(key, ())) + len(self._beside.get(key, ())) > 2

    def _is_place(self, key: str) -> bool:
        """Whether a fitting is a place where what passes may mix: a meeting, or a box."""
        return self._network.fittings[key].kind is FittingKind.BOX or self.is_meeting(key)

    def _find_meetings(self) -> Iterator[Meeting]:
        for key in sorted(self._network.fittings):
            if self._is_place(key):
                carriers, leads_on = self._reached(key)
                yield Meeting(key, self._network.fittings[key], tuple(sorted(carriers)), leads_on)
        joints = {joint for own in self._joints.values() for joint in own if _branches(joint) > 2}
        for joint in sorted(joints, key=sorted):
            yield Meeting(_key_of(joint), None, tuple(sorted({key for key, _ in joint})))

    def _reached(self, fitting: str) -> tuple[set[str], bool]:
        """The carriers that meet in a fitting, or in bends, connectors and reducers beside it; and whether it leads on to another place."""
        seen, waiting = {fitting}, deque([(fitting, 0)])
        reached: set[str] = set()
        leads_on = False
        while waiting:
            here, steps = waiting.popleft()
            reached |= {key for key, _ in self._tips.get(here, ())}
            for key in sorted(self._beside.get(here, set()) - seen):
                if self._is_place(key) or steps == MOST_FITTINGS:
                    leads_on = True
                else:
                    seen.add(key)
                    waiting.append((key, steps + 1))
        return reached, leads_on


def _only(found: list[Passage]) -> Passage | None:
    """The one way of passing, of several places where two carriers meet."""
    if len(found) < 2:
        return found[0] if found else None
    meetings = tuple(dict.fromkeys(key for passage in found for key in passage.meetings))
    if len({(passage.follow, passage.why) for passage in found}) > 1:
        return Passage(Follow.UNKNOWN, SEVERAL, meetings)
    joints = [passage.joint for passage in found if passage.joint is not None]
    first = min(joints, key=lambda joint: joint.key, default=None)  # the same from both sides
    return Passage(found[0].follow, found[0].why, meetings, first)


def _steps(fittings: list[Fitting]) -> Iterator[Vec]:
    """The directions from fitting to fitting, of those whose places are known."""
    for one, other in itertools.pairwise(fittings):
        if one.centre_mm is not None and other.centre_mm is not None:
            yield sub(other.centre_mm, one.centre_mm)


def _branches(tips: Iterable[Mark]) -> int:
    """In how many directions carriers lead away from a place: two where it is at one's side."""
    return sum(1 if where in {START, END, ""} else 2 for _, where in tips)


def _key_of(joint: frozenset[Mark]) -> str:
    """The key of a place where carriers meet directly: the same for all places where the same ones do."""
    return " ".join(sorted({key for key, _ in joint}))


def _hanging_together(pairs: Iterable[tuple[Spot, Spot]]) -> list[frozenset[Mark]]:
    """The places where carriers meet directly, each with the marks of all that meet there."""
    met: dict[Mark, set[Mark]] = defaultdict(set)
    for one, other in pairs:
        met[one.mark].add(other.mark)
        met[other.mark].add(one.mark)
    joints, seen = [], set[Mark]()
    for mark in sorted(met):
        if mark not in seen:
            joint, waiting = {mark}, [mark]
            while waiting:
                for near in met[waiting.pop()] - joint:
                    joint.add(near)
                    waiting.append(near)
            seen |= joint
            joints.append(frozenset(joint))
    return joints
