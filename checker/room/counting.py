"""How many circuits go in by one way: each number that is told was tried, and judged by every rule."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property

from checker.model import CircuitPair, Installation
from checker.network.route import Route
from checker.result.gravity import gravity
from checker.result.tables import FindingRow
from checker.room.question import MOST_CIRCUITS, Bundle
from checker.room.ways import Way
from checker.rule import Outcome
from checker.rule.plugins import Plugins
from checker.trial import Effects, Trials
from checker.trial.changes import Routes

#: Each of the first so many numbers is tried, as more isn't always worse: three cables may jam where four don't.
EACH_UP_TO = 4


@dataclass(frozen=True, slots=True)
class AddCircuits:
    """Several circuits more, alike but for their marks, all by one way. What it touches is the same for any number of them."""

    bundle: Bundle
    way: Route
    number: int

    @property
    def carriers(self) -> frozenset[str]:
        """All that they pass."""
        return self.way.carriers

    @property
    def circuits(self) -> frozenset[str]:
        """As many as there may be, so that one part is cut out for all numbers."""
        return frozenset(self.bundle.numbered(number).mark for number in range(1, MOST_CIRCUITS + 2))

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With them at the schedule's end."""
        more = [self.bundle.numbered(number) for number in range(1, self.number + 1)]
        ways = [replace(self.way, circuit=circuit.mark) for circuit in more]
        return replace(installation, circuits=(*installation.circuits, *more)), (*routes, *ways)


@dataclass(frozen=True, slots=True)
class Tried:
    """So many circuits added, and what the rules say then.

    ``own`` are the findings on what is added and where it lies, or may; ``fails`` and ``unknowns`` those of them that don't pass, and any
    other that is worse with it, the gravest first. ``lanes``: by carrier the compartments in which it lies for certain; ``unsure``: the
    carriers in which nothing tells its compartment.
    """

    number: int
    effects: Effects
    own: tuple[FindingRow, ...]
    fails: tuple[FindingRow, ...]
    unknowns: tuple[FindingRow, ...]
    lanes: dict[str, tuple[int, ...]]
    unsure: frozenset[str]

    @property
    def outcome(self) -> Outcome:
        """Whether they go in."""
        return Outcome.FAIL if self.fails else Outcome.UNKNOWN if self.unknowns else Outcome.PASS


@dataclass
class Counting:
    """Tries numbers of circuits on one way.

    Attributes:
        way: The way.
        tried: What was tried, by number.
    """

    bundle: Bundle
    way: Way
    trials: Trials
    plugins: Plugins
    tried: dict[int, Tried] = field(default_factory=dict)

    def of(self, number: int) -> Tried:
        """What the rules say with so many."""
        if number not in self.tried:
            self.tried[number] = self._try(number)
        return self.tried[number]

    @cached_property
    def fits(self) -> int:
        """The most of which nothing says that they don't go in, as far as can be judged."""
        return largest(lambda number: self.of(number).outcome is not Outcome.FAIL)

    @cached_property
    def most(self) -> int | None:
        """The most that go in; None: that can't be said of any, though nothing speaks against it."""
        if not self.fits or self.of(self.fits).outcome is Outcome.PASS:
            return self.fits
        return largest(lambda number: self.of(number).outcome is Outcome.PASS, self.fits) or None

    @property
    def is_unsure(self) -> bool:
        """Whether nothing tells in which compartment they would lie."""
        return bool(self.of(1).unsure)

    @property
    def is_unpicked(self) -> bool:
        """Whether one could be picked."""
        return self.is_unsure and self.way.compartment is None

    @property
    def except_for(self) -> list[int]:
        """Numbers that were tried and don't go in, though more do."""
        return [number for number, tried in sorted(self.tried.items()) if number < self.fits and tried.fails]

    def _try(self, number: int) -> Tried:
        effects = self.trials.effects([AddCircuits(self.bundle, self.way.route, number)])
        marks = {self.bundle.numbered(one).mark for one in range(1, number + 1)}
        sure, perhaps = set[tuple[str, int]](), set[tuple[str, int]]()
        for item in effects.situation.loading.compartments:
            place = (item.carrier.key, item.number)
            if any(cable.circuit in marks for cable in item.cables):
                sure.add(place)
            if any(cable.circuit in marks for cable in item.possible):
                perhaps.add(place)
        unsure = {key for key, _ in perhaps}

        def is_own(row: FindingRow) -> bool:
            if not marks.isdisjoint(row.circuits):
                return True
            if row.is_of_circuit:
                return False
            if row.compartment is not None:
                return any((key, row.compartment) in sure | perhaps for key in row.carriers)
            return not unsure.isdisjoint(row.carriers) and self.plugins.rules[row.rule].subject is not CircuitPair

        own = [row for row in effects.after.values() if is_own(row)]
        bad = {row.id: row for row in (*effects.worse, *own)}
        ordered = sorted(bad.values(), key=gravity)
        lanes: dict[str, tuple[int, ...]] = {}
        for key, lane in sorted(sure):
            lanes[key] = (*lanes.get(key, ()), lane)
        return Tried(
            number,
            effects,
            tuple(own),
            tuple(row for row in ordered if row.verdict == Outcome.FAIL),
            tuple(row for row in ordered if row.verdict == Outcome.UNKNOWN),
            lanes,
            frozenset(unsure),
        )


def largest(goes: Callable[[int], bool], bound: int = MOST_CIRCUITS) -> int:
    """The largest number that goes such that one more doesn't, or the bound; 0 where not one of the first few goes.

    Each of the first few is tried; then twice as many each time, and of the numbers between the last that goes and the first that
    doesn't the one half-way, until they follow each other.

    Args:
        goes: Whether a number does.
        bound: No larger one is tried.
    """
    first = [number for number in range(1, min(EACH_UP_TO, bound) + 1) if goes(number)]
    low = max(first, default=0)
    if low < min(EACH_UP_TO, bound):
        return low
    high = low
    while low < bound:
        high = min(2 * low, bound)
        if not goes(high):
            break
        low = high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if goes(middle) else (low, middle)
    return low
