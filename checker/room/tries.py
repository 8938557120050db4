"""Tries ways, each with as many circuits as go in, and ranks them."""

from collections.abc import Iterator, Sequence

from checker.progress import Progress
from checker.room.counting import Counting, Tried
from checker.room.question import MOST_CIRCUITS, Bundle, RoomQuestion
from checker.room.ways import Way, Ways
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.rule.verdict import SEVERITY
from checker.trial import Situation, Trials

#: So many ways are tried, each compartment that may be picked being one; of a way that stops, so many carriers are closed in turn; and no
#: further way is begun when so many carriers were judged.
MOST_WAYS, MOST_CLOSED, MOST_WORK = 8, 3, 100_000


class Tries:
    """Tries ways, each with as many circuits as go in."""

    def __init__(
        self, question: RoomQuestion, bundle: Bundle, situation: Situation, code: Code, plugins: Plugins
    ) -> None:
        self._question, self._bundle, self._plugins = question, bundle, plugins
        self._trials = Trials(situation, code, plugins)
        self._carriers = {carrier.key: carrier for carrier in situation.installation.carriers}

    def all(self, ways: Ways, first: Way, progress: Progress) -> tuple[list[Counting], bool]:
        """All ways that were tried, the best first, and whether there would have been more to try."""
        waiting, seen = [first], {first.route.carriers}
        closed_before = {frozenset[str]()}
        found: list[Counting] = []
        while waiting and len(found) < MOST_WAYS and (not found or self._trials.work < MOST_WORK):
            way = waiting.pop(0)
            progress.stage(f"trying way {len(found) + 1}")
            counting = Counting(self._bundle, way, self._trials, self._plugins)
            found.append(counting)
            lanes = self._lanes(counting)
            waiting = [*lanes, *waiting]
            for keys in self._next(counting) if not lanes else ():
                if way.closed | keys in closed_before:
                    continue
                closed_before.add(way.closed | keys)
                other = ways.without(keys, way)
                if other is not None and other.route.carriers not in seen:
                    seen.add(other.route.carriers)
                    waiting.append(other)
        ranked = sorted(found, key=lambda counting: (self._is_ruled_out(counting, found), self._rank(counting)))
        # where a compartment is picked, the same way without one says nothing more
        return [counting for counting in ranked if counting is ranked[0] or not counting.is_unpicked], bool(waiting)

    def _is_ruled_out(self, counting: Counting, found: Sequence[Counting]) -> bool:
        """Whether a way of which the compartment isn't known can't be, as not one goes in each compartment of a carrier on it."""
        if not counting.is_unpicked:
            return False
        passed = counting.way.route.carriers
        picked = [one for one in found if one.way.compartment is not None and one.way.route.carriers == passed]
        full = [{key for row in one.of(1).fails for key in row.carriers} for one in picked]
        return (
            bool(picked)
            and len(picked) == len(self._lanes(counting))
            and any(all(key in keys for keys in full) for key in counting.of(1).unsure)
        )

    def _lanes(self, counting: Counting) -> list[Way]:
        """The same way in each compartment, where nothing tells which one it takes."""
        unsure = counting.of(1).unsure
        if not counting.is_unpicked or self._bundle.circuit.compartment is not None:
            return []  # one that is asked for, and isn't there, is no reason to take another
        service = self._bundle.circuit.service
        lanes: dict[int, set[str]] = {}
        for key in unsure:
            for lane in self._carriers[key].section.lanes:
                if lane.takes(service):
                    lanes.setdefault(lane.number, set()).add(key)
        return [counting.way.in_compartment(number, frozenset(keys)) for number, keys in sorted(lanes.items())]

    def _next(self, counting: Counting) -> Iterator[frozenset[str]]:
        """What to do without on the next ways, all together and one by one.

        First the carriers of which something isn't known, as another way may be sure; then those where this way stops.
        """
        passed = counting.way.route.carriers
        # what isn't known of the circuit itself, such as its current, is so on every way
        unknown = [row for row in counting.of(self._question.times or 1).unknowns if not row.is_of_circuit]
        stops = one_more(counting)
        unknown += [] if stops is None or stops.fails else [row for row in stops.unknowns if not row.is_of_circuit]
        fails = counting.of(counting.fits + 1).fails if counting.fits < MOST_CIRCUITS else ()
        for rows in (unknown, fails):
            keys = list(dict.fromkeys(key for row in rows for key in row.carriers if key in passed))
            if len(keys) > 1:
                yield frozenset(keys)
            for key in keys[:MOST_CLOSED]:
                yield frozenset({key})

    def _rank(self, counting: Counting) -> tuple[float, ...]:
        """Where a number is wanted, the shortest way that takes it; else the way that takes the most. Of ways alike the one of a check."""
        wanted = self._question.times
        outcome = Outcome.FAIL if wanted is None else counting.of(wanted).outcome
        fits = 0 if counting.is_unsure else counting.fits
        counts = (-float(counting.most or 0), -float(fits)) if outcome is Outcome.FAIL else (0.0, 0.0)
        return (float(SEVERITY[outcome]), *counts, float(counting.way.is_other), counting.way.measure_mm)


def one_more(counting: Counting) -> Tried | None:
    """What was tried with one more than go in by a way; None: so many weren't tried."""
    most = counting.fits if counting.most is None else counting.most
    return None if most >= MOST_CIRCUITS else counting.of(most + 1)
