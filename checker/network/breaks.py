"""Why a circuit has no way: where two parts of the network nearly meet, so that a fitting was likely forgotten, or what closes the way."""

import itertools
from collections import defaultdict, deque
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass

from checker.model import Carrier, Problem, Vec
from checker.model.geometry import midpoint
from checker.model.texts import listed, natural
from checker.network.nearest import MOST_FITTING_MM, Nearest, Pair, Side, closest_pair, is_placed, nearest
from checker.units import metres

__all__ = ["Break", "Breaks", "Nearest", "Pair", "blocked_by", "closest_pair", "in_words"]

#: For so many pairs of parts the nearest carriers are looked for.
MOST_PAIRS = 200
#: And so many carriers are compared, of all pairs together; the first pair is looked at in any case.
MOST_CARRIERS = 400_000
#: From here on a gap is written in metres.
METRES_FROM_MM = 10_000.0


@dataclass(frozen=True, slots=True)
class Break:
    """Two parts of the network that don't meet, though circuits need them to.

    ``one`` and ``other`` are the keys of the carriers, one of each part, between which a fitting was likely forgotten, ``one_mm`` and
    ``other_mm`` the places on their axes, ``gap_mm`` between these. Where no carrier of a part has a known axis the gap and the places are
    None, and the keys are the first of each part. ``least`` is the pair with the least gap where that is another one.
    ``carriers`` is how many each part has, ``unplaced`` how many of both have no known axis, ``circuits`` the marks in natural order.
    """

    one: str
    other: str
    gap_mm: float | None
    one_mm: Vec | None
    other_mm: Vec | None
    least: Pair | None
    carriers: tuple[int, int]
    unplaced: int
    circuits: tuple[str, ...]


#: A part of the network, whatever its number: the keys of its carriers, sorted.
Part = tuple[str, ...]


class Breaks:
    """Collects which parts of the network circuits would have to pass between.

    Args:
        carriers: All carriers by key.
        parts: The keys of the carriers of each part, by its number. Where several divisions of one network are kept (one a service), their
            numbers must differ; parts with the same carriers are one.
        joined: Ends of carriers that something is joined to, as ``Spot.mark``; see ``closest_pair``.
    """

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        parts: Mapping[int, Iterable[str]],
        joined: Set[tuple[str, str]] = frozenset(),
    ) -> None:
        self._carriers, self._parts, self._joined = carriers, parts, joined
        self._known: dict[int, Part] = {}
        self._sides: dict[Part, Side] = {}
        self._circuits: dict[tuple[Part, Part], set[str]] = defaultdict(set)

    def add(self, circuit_mark: str, part_one: int, part_other: int) -> None:
        """Notes that a circuit can't get from one part to another.

        Raises:
            ValueError: A carrier is in both, or one has none.
        """
        one, other = sorted((self._part(part_one), self._part(part_other)))
        if (one, other) not in self._circuits and (not one or not set(one).isdisjoint(other)):
            raise ValueError(f"parts {part_one} and {part_other} aren't two")
        self._circuits[one, other].add(circuit_mark)

    def rows(self) -> list[Break]:
        """What was noted, once a pair of parts: the one with most circuits first, as many as are looked at."""
        return [self._row(one, other) for one, other in self._ranked()[: self._looked_at()]]

    def _looked_at(self) -> int:
        """How many pairs are looked at: no more than ``MOST_PAIRS``, with no more than ``MOST_CARRIERS``."""
        sizes = itertools.accumulate(len(one) + len(other) for one, other in self._ranked())
        return max(1, sum(size <= MOST_CARRIERS for size in itertools.islice(sizes, MOST_PAIRS)))

    def not_looked_at(self) -> list[Problem]:
        """What is beyond that, told; nothing where all were looked at."""
        looked_at = self._looked_at()
        beyond = self._ranked()[looked_at:]
        if not beyond:
            return []
        circuits = sorted({mark for pair in beyond for mark in self._circuits[pair]}, key=_by_nature)
        what = f"the network is in more parts: between {len(beyond)} further pairs of them no nearest carriers were looked for"
        return [
            Problem(f"circuits {listed(circuits)}", what, f"that is done for the {looked_at} pairs that most circuits need",
                    "close the gaps that are told, and check again", elements=len(circuits))
        ]  # fmt: skip

    def _part(self, number: int) -> Part:
        if number not in self._known:
            self._known[number] = tuple(sorted(set(self._parts[number])))
        return self._known[number]

    def _ranked(self) -> list[tuple[Part, Part]]:
        return sorted(self._circuits, key=lambda pair: (-len(self._circuits[pair]), pair))

    def _side(self, part: Part) -> Side:
        if part not in self._sides:
            self._sides[part] = Side([self._carriers[key] for key in part], self._joined)
        return self._sides[part]

    def _row(self, one: Part, other: Part) -> Break:
        found = nearest(self._side(one), self._side(other))
        unplaced = sum(not is_placed(self._carriers[key]) for key in (*one, *other))
        circuits = tuple(sorted(self._circuits[one, other], key=_by_nature))
        sizes = len(one), len(other)
        if found is None:
            return Break(one[0], other[0], None, None, None, None, sizes, unplaced, circuits)
        likely, least = found.likely, found.least
        is_same = (likely.one, likely.other) == (least.one, least.other)
        return Break(likely.one, likely.other, likely.gap_mm, likely.one_mm, likely.other_mm,
                     None if is_same else least, sizes, unplaced, circuits)  # fmt: skip


def in_words(break_: Break, carriers: Mapping[str, Carrier]) -> str:
    """What a person should know of it: the parts, where they nearly meet and what may be missing there. Places are in metres."""
    one, other = carriers[break_.one], carriers[break_.other]
    parts = f"the network is in two parts there, of {break_.carriers[0]} and {break_.carriers[1]} carriers"
    unplaced = f"; the place of {break_.unplaced} of them isn't known" if break_.unplaced else ""
    if break_.gap_mm is None or break_.one_mm is None or break_.other_mm is None:
        return f"{parts}, with {one.place.label} and {other.place.label}{unplaced}, so how far apart they are can't be told"
    x, y, z = (round(metres(value), 2) + 0.0 for value in midpoint(break_.one_mm, break_.other_mm))
    where = f"at x {x:.2f}, y {y:.2f}, z {z:.2f} m{_storeys(one, other)}"
    names, gap = f"{one.place.label} and {other.place.label}", _length(break_.gap_mm)
    if break_.gap_mm > MOST_FITTING_MM:
        missing = "more than a fitting is missing between them"
    else:
        missing = "a fitting may be missing"
    if break_.least is None:
        return f"{parts}; they come nearest at {names}, {gap} apart ({where}): {missing}{unplaced}"
    passing = [carriers[key].place.label for key in (break_.least.one, break_.least.other)]
    return (
        f"{parts}; an end stands open at {names}, {gap} apart ({where}): {missing}. "
        f"{passing[0]} and {passing[1]} are nearer, {_length(break_.least.gap_mm)} apart, but seem only to pass each other{unplaced}"
    )


def blocked_by(neighbours: Mapping[str, Set[str]], closed: Set[str], one: Set[str], other: Set[str]) -> tuple[str, ...]:
    """The closed carriers through which alone two parts are joined: the fewest, in order from one part to the other.

    Carriers of further parts that lie between are passed as well, and aren't told, since they aren't closed. Of ways over as few it is
    always the same, whatever the order of the sets.

    Args:
        neighbours: Of each carrier the keys of those that it meets.
        closed: Carriers that don't take the circuit's service, or that it may not pass.
        one: The carriers of the first part.
        other: Those of the second.

    Returns:
        Keys; none where no closed carriers join the parts: then they don't meet at all.
    """
    passed = {key: int(key in closed) for key in sorted(one)}
    before: dict[str, str] = {}
    # those that are reached over as many closed carriers come before those over one more
    waiting = deque(sorted(passed, key=lambda key: (passed[key], key)))
    done: set[str] = set()
    while waiting:
        here = waiting.popleft()
        if here in done:
            continue
        done.add(here)
        if here in other:
            way = [here]
            while way[-1] in before:
                way.append(before[way[-1]])
            return tuple(key for key in reversed(way) if key in closed)
        for key in sorted(neighbours.get(here, ())):
            count = passed[here] + (key in closed)
            if key not in passed or count < passed[key]:
                passed[key], before[key] = count, here
                if key in closed:
                    waiting.append(key)
                else:
                    waiting.appendleft(key)
    return ()


def _by_nature(mark: str) -> tuple[list[tuple[int, str]], str]:
    return natural(mark), mark


def _length(length_mm: float) -> str:
    return f"{length_mm:.0f} mm" if length_mm < METRES_FROM_MM else f"{metres(length_mm):.2f} m"


def _storeys(one: Carrier, other: Carrier) -> str:
    """On which storeys two carriers are, as far as that is known."""
    first, second = one.place.storey, other.place.storey
    if first == second:
        return f", storey {first}" if first else ""
    if first and second:
        return f", {one.place.label} on storey {first}, {other.place.label} on storey {second}"
    known = one if first else other
    return f", {known.place.label} on storey {first or second}"
