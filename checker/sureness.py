"""Would a verdict be the same if circuits took other ways that are only a little longer?

Nothing but the length tells the way that was found from those, so a verdict that hangs on the choice says so, and on whose way. Asked is
first with all circuits that could come or leave lying there or not, whichever is against the verdict; where that doesn't settle it, with
each of them led each of its other ways, and then with several together. How much is asked is bounded, and what is beyond that isn't said
to be the same: the worst verdicts are asked about first.
"""

import itertools
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import TypeVar

from checker.judging import Judged, JudgedCircuit, asking
from checker.model import Carrier, Problem, RoutedCircuit
from checker.model.texts import natural
from checker.network.elsewhere import Elsewhere
from checker.network.grouping import Grouped
from checker.network.loading import Loading
from checker.network.near_loading import Budget, Lying, NearLoading, Passes, SpentError, steps_of
from checker.network.near_ways import NearWays
from checker.rule import Outcome, Rule, judge, judge_circuit
from checker.rule.code import Code
from checker.sureness_words import Flip, Told, Words

#: Of so many circuits it is asked whether a verdict hangs on each alone, and so many ways of leading several are tried.
ASKED, COMBINED = 40, 128
#: So many steps are spent on one verdict, and on all on compartments, and as many on all on circuits: first a little on each, so that what
#: is soon settled is, then more on those that are left.
SHARES = ((900, 120_000), (8_000, 160_000))
DECIDED = {Outcome.PASS, Outcome.FAIL, Outcome.WAIVED}

AnyJudged = TypeVar("AnyJudged", Judged, JudgedCircuit)
Choice = TypeVar("Choice")


def not_looked_at(judged: Iterable[Judged], rated: Iterable[JudgedCircuit]) -> list[Problem]:
    """One problem for all verdicts that weren't asked about near ways, as there are too many."""
    told = [item.other_ways for item in judged] + [item.other_ways for item in rated]
    number = told.count(Words.not_looked_at.text)
    if not number:
        return []
    return [
        Problem(f"{number} verdict{'s' if number > 1 else ''}", "so many ways are near that what these hang on wasn't looked at",
                "they are right for the ways that were found", "make near_m smaller", elements=number)
    ]  # fmt: skip


class Sureness:
    """Asks the rules about the near ways, too.

    Args:
        near: The ways that circuits could as well take.
        near_mm: How much longer these may be, as the project says.
        loading: What lies where.
        where: Where cables would lie on other ways.
        grouped: What heats what.
        carriers: By key.
        rules: By id.
        code: Whose limits hold.
    """

    def __init__(
        self,
        near: NearWays,
        near_mm: float,
        loading: Loading,
        where: NearLoading,
        grouped: Grouped,
        carriers: Mapping[str, Carrier],
        rules: Mapping[str, Rule],
        code: Code,
    ) -> None:
        self._budget, self._is_last = Budget(), True
        self._elsewhere = Elsewhere(near, loading, where, grouped, self._budget)
        self._words = Words(carriers, near_mm, sorted(near.cut_short, key=_by_nature), near.not_asked)
        self._rules, self._code = rules, code

    def told(
        self, judged: Iterable[Judged], rated: Iterable[JudgedCircuit]
    ) -> tuple[list[Judged], list[JudgedCircuit]]:
        """The same verdicts, each with whether it hangs on the ways of circuits; where it does its reason says so."""
        return self._each(list(judged), self.of_compartment), self._each(list(rated), self.of_circuit)

    def _each(self, items: list[AnyJudged], of: Callable[[AnyJudged], Told | None]) -> list[AnyJudged]:
        """The same verdicts in the same order; asked about are the worst first, as long as there are steps left."""
        told: dict[int, Told | None] = {}
        worst_first = sorted(range(len(items)), key=lambda number: _worst_first(items[number]))
        for of_one, in_all in SHARES:
            self._budget.refill(in_all)
            self._is_last = (of_one, in_all) == SHARES[-1]
            for number in (number for number in worst_first if number not in told):
                self._budget.begin(of_one)
                with suppress(SpentError):
                    told[number] = of(items[number])
        return [_with(item, told.get(number, self._words.not_looked_at)) for number, item in enumerate(items)]

    def of_compartment(self, judged: Judged) -> Told | None:
        """What is to be said of a verdict on a compartment; None of one that is unknown, or that no rule gave."""
        rule, outcome, subject = self._rules.get(judged.rule), judged.verdict.outcome, judged.subject
        if outcome not in DECIDED or rule is None:
            return None
        asked, elsewhere = asking(rule, self._code), self._elsewhere
        outcome, is_waived = _as_pass(outcome)
        place = (subject.carrier.key, subject.number)
        here = {cable.circuit for cable in subject.cables}
        moving = elsewhere.moving(place[0], outcome)
        choices = {mark: ways for mark in moving if (ways := elsewhere.choices(mark, place, outcome))}

        def ask(passes: Mapping[str, Passes]) -> Outcome:
            self._budget.spend(steps_of(len(subject.cables) + len(subject.possible) + len(passes)))
            return _found_as(asked.of(judge, elsewhere.loaded(subject, passes)).outcome, is_waived=is_waived)

        between = {mark: elsewhere.between(mark, place, outcome) for mark in choices}
        # where a limit goes by number, what would pass alone needn't where others may come
        fewest = [{mark: (sure, 0) for mark, (sure, _) in between.items()}] if outcome is Outcome.FAIL else []
        if not choices or all(ask(passes) is outcome for passes in (between, *fewest)):
            return self._words.same
        flips = self._found(
            Flip(mark, way, found, mark in here)
            for mark, ways in itertools.islice(choices.items(), ASKED)
            for way, passes in ways
            if (found := ask({mark: passes})) is not outcome
        )
        if flips:
            return self._words.hangs(outcome, flips)
        options = {
            mark: sorted({elsewhere.found[mark].at(place), *(passes for _, passes in ways)})
            for mark, ways in choices.items()
        }
        ends = [{mark: passes[end] for mark, passes in options.items()} for end in (0, -1)]
        return self._together(outcome, options, ends, ask)

    def of_circuit(self, judged: JudgedCircuit) -> Told | None:
        """What is to be said of a circuit's rating: on its own near ways, and with the others on theirs."""
        rule, outcome, subject = self._rules[judged.rule], judged.verdict.outcome, judged.subject
        if outcome not in DECIDED:
            return None
        asked, mark, elsewhere = asking(rule, self._code), subject.load.mark, self._elsewhere
        outcome, is_waived = _as_pass(outcome)

        def ask(changed: RoutedCircuit) -> Outcome:
            self._budget.spend(sum(steps_of(len(one.members) + len(one.possible)) for one in changed.enclosures))
            return _found_as(asked.of(judge_circuit, changed).outcome, is_waived=is_waived)

        if mark not in elsewhere.led and not any(
            elsewhere.moving(one.carrier.key, outcome) for one in subject.enclosures
        ):
            return self._words.same
        own = elsewhere.on_ways(subject)
        if all(
            ask(elsewhere.with_others(one, outcome)) is outcome for one in (subject, *(changed for _, changed in own))
        ):
            return self._words.same
        flips = self._found(
            Flip(mark, way, found, is_here=True) for way, changed in own if (found := ask(changed)) is not outcome
        )
        if flips:
            return self._words.hangs(outcome, flips)
        others = elsewhere.others((subject, *(changed for _, changed in own)), outcome)
        flips = self._found(
            Flip(other, way, found, is_here=False)
            for other, options in itertools.islice(others.items(), ASKED)
            for way, lying in options
            if (found := ask(elsewhere.among(subject, {other: lying}, outcome))) is not outcome
        )
        if flips:
            return self._words.hangs(outcome, flips)
        ways = {other: [elsewhere.found[other], *(lying for _, lying in options)] for other, options in others.items()}
        mine = {mark: [subject, *(changed for _, changed in own)]} if own else {}

        def ask_all(chosen: Mapping[str, RoutedCircuit | Lying]) -> Outcome:
            me = chosen.get(mark, subject)
            assert isinstance(me, RoutedCircuit)  # noqa: S101 - it alone is of its own mark
            others = {key: item for key, item in chosen.items() if isinstance(item, Lying)}
            return ask(elsewhere.among(me, others, outcome))

        every: dict[str, Sequence[RoutedCircuit | Lying]] = {**mine, **ways}
        return self._together(outcome, every, [{key: found[1] for key, found in every.items()}], ask_all)

    def _found(self, flips: Iterable[Flip]) -> list[Flip]:
        """The flips that are found with what may be spent.

        Raises:
            SpentError: It is spent before the first is, or there will be more.
        """
        found: list[Flip] = []
        try:
            for flip in flips:
                found.append(flip)  # noqa: PERF402 - those before it is spent are kept
        except SpentError:
            if not found or not self._is_last:
                raise
        return found

    def _together(
        self,
        outcome: Outcome,
        options: Mapping[str, Sequence[Choice]],
        ends: Sequence[Mapping[str, Choice]],
        ask: Callable[[Mapping[str, Choice]], Outcome],
    ) -> Told:
        """What is to be said where no circuit alone makes the verdict another one: whether several together do."""
        marks = sorted(options)
        product = itertools.product(*(options[mark] for mark in marks))
        combined = (dict(zip(marks, chosen, strict=True)) for chosen in product)
        try:
            if any(ask(chosen) is not outcome for chosen in (*ends, *itertools.islice(combined, COMBINED))):
                return self._words.together(marks, is_sure=True)
        except SpentError:
            if not self._is_last:
                raise
            # with all that could be against it at once it would be another
            return self._words.together(marks, is_sure=False)
        # of a circuit of several legs only one is led otherwise at a time
        legs = (len({way.leg for way, _ in self._elsewhere.led.get(mark, ())}) for mark in marks)
        is_all = math.prod(map(len, options.values())) <= COMBINED and max(legs, default=0) <= 1
        return self._words.same if is_all else self._words.together(marks, is_sure=False)


def _as_pass(outcome: Outcome) -> tuple[Outcome, bool]:
    """What is waived holds as what passes does: by the limit that the project loosened; and whether it is waived."""
    return (Outcome.PASS, True) if outcome is Outcome.WAIVED else (outcome, False)


def _found_as(outcome: Outcome, *, is_waived: bool) -> Outcome:
    """An answer on another way, of a verdict that is waived: still waived is the same."""
    return _as_pass(outcome)[0] if is_waived else outcome


def _worst_first(item: Judged | JudgedCircuit) -> tuple[object, ...]:
    """Orders verdicts: what fails, then the fullest; those as full by what they are about, since their rows may come in any order."""
    verdict = item.verdict
    if isinstance(item, Judged):
        name, number = item.subject.carrier.key, item.subject.number
    else:
        name, number = item.subject.load.mark, 0
    return (verdict.outcome is not Outcome.FAIL, -(verdict.use or 0.0), _by_nature(name), number, item.rule)


def _by_nature(name: str) -> tuple[list[tuple[int, str]], str]:
    return natural(name), name


def _with(item: AnyJudged, told: Told | None) -> AnyJudged:
    if told is None:
        return item
    reason = item.verdict.reason if told.is_same or not told.is_asked else f"{item.verdict.reason}; {told.text}"
    return replace(item, other_ways=told.text, verdict=replace(item.verdict, reason=reason))
