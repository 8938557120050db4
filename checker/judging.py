"""Asks the rules of a code about everything that was loaded."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from checker.model import (
    Carrier,
    CarrierKind,
    Confidence,
    FilledCompartment,
    LoadedCompartment,
    RoutedCircuit,
    Subject,
    guess_of,
)
from checker.network.loading import Loading
from checker.rule import Limits, Outcome, Rating, Rule, Tells, Verdict, judge, judge_circuit, judge_subject, lacking
from checker.rule.code import Code
from checker.rule.filled import filled_by
from checker.rule.guarded import told_somewhere
from checker.rule.loosened import Loosened, ask_beside

SEGREGATION = "segregation"

AnySubject = TypeVar("AnySubject")


@dataclass(frozen=True, slots=True)
class Judged:
    """One verdict on one compartment. ``other_ways``: whether it hangs on the ways that circuits take; empty: that isn't asked."""

    rule: str
    subject: LoadedCompartment
    verdict: Verdict
    other_ways: str = ""
    tells_fill: bool = False


@dataclass(frozen=True, slots=True)
class JudgedCircuit:
    """One verdict on one circuit. ``other_ways``: whether it hangs on the ways that circuits take; empty: that isn't asked."""

    rule: str
    subject: RoutedCircuit
    verdict: Verdict
    other_ways: str = ""

    @property
    def rating(self) -> Rating:
        """How it was reached; blank where the rule gives nothing of it."""
        return self.verdict.rating or Rating()

    @property
    def place(self) -> str:
        """The carrier that it is told at: the one that governs; of a fail, waived or not, that no length decides, the first on the way."""
        if self.rating.carrier or self.verdict.outcome not in {Outcome.FAIL, Outcome.WAIVED}:
            return self.rating.carrier
        return self.subject.enclosures[0].carrier.key


@dataclass(frozen=True, slots=True)
class JudgedSubject:
    """One verdict on anything else: a place where carriers meet, a run, a pair."""

    rule: str
    subject: Subject
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Asking:
    """A rule as a code asks it: with its limits, and with what the project waives of them."""

    rule: Rule
    limits: Limits
    loosened: tuple[Loosened, ...] = ()

    def of(self, judge_one: Callable[[Rule, AnySubject, Limits], Verdict], subject: AnySubject) -> Verdict:
        """What is answered about a subject by the judge of its sort."""
        return ask_beside(lambda limits: judge_one(self.rule, subject, limits), self.limits, self.loosened)


def asking(rule: Rule, code: Code) -> Asking:
    """A rule of a code as that asks it."""
    return Asking(rule, code.limits[rule.id], tuple(item for item in code.loosened if item.rule == rule.id))


def running(code: Code, rules: Mapping[str, Rule], subject: type) -> list[Asking]:
    """The rules of a code that ask about one sort of subject, with their limits, if there is the limit that makes the question."""
    return [
        asking(rules[rule_id], code)
        for rule_id, limits in code.limits.items()
        if rules[rule_id].subject is subject and not lacking(limits)
    ]


def judge_all(
    loading: Loading, rules: Mapping[str, Rule], code: Code, tell: Callable[[int, int], None] = lambda *_: None
) -> list[Judged]:
    """Asks every rule of the code about every compartment that it speaks of; where no fill rule does, the answer is unknown."""
    judged = []
    running_here = running(code, rules, LoadedCompartment)
    for done, subject in enumerate(loading.compartments, start=1):
        kind = subject.carrier.kind
        for one in running_here:
            rule = one.rule
            if rule.speaks_of(kind) and rule.asks(subject):
                verdict = one.of(judge, subject)
                # a partition that is guessed may part services, too
                rests = rule.family != SEGREGATION or len(subject.carrier.section.lanes) > 1
                told = _with_guesses(verdict, subject.carrier) if rests else verdict
                judged.append(Judged(rule.id, subject, told, tells_fill=rule.tells is Tells.FILL))
        if not any(one.rule.tells is Tells.FILL and one.rule.speaks_of(kind) for one in running_here):
            what = (
                "what kind of carrier it is isn't known"
                if kind is CarrierKind.UNKNOWN
                else f"{code.key} has no fill rule for {kind}"
            )
            unknown = Verdict(Outcome.UNKNOWN, what, unit="ratio", measure="area")
            judged.append(Judged("fill", subject, unknown, tells_fill=True))
        tell(done, len(loading.compartments))
    return judged


def judge_circuits(circuits: Iterable[RoutedCircuit], rules: Mapping[str, Rule], code: Code) -> list[JudgedCircuit]:
    """Asks every rule of the code that speaks of circuits about every circuit that carries a load."""
    running_here = running(code, rules, RoutedCircuit)
    return [
        JudgedCircuit(one.rule.id, subject, _with_guess(one.of(judge_circuit, subject), _guess_on_the_way(subject)))
        for subject in circuits
        for one in running_here
        if one.rule.asks(subject)
    ]


def judge_subjects(subjects: Iterable[Subject], rules: Mapping[str, Rule], code: Code) -> list[JudgedSubject]:
    """Asks every rule of the code about every subject of the sort that it asks for, if it has a question to it."""
    by_sort: dict[type, list[Asking]] = {}
    judged = []
    for subject in subjects:
        sort = type(subject)
        if sort not in by_sort:
            by_sort[sort] = running(code, rules, sort)
        for one in by_sort[sort]:
            if one.rule.asks(subject):
                answer = told_somewhere(one.of(judge_subject, subject), subject, one.rule.id, one.rule.distribution)
                verdict = _with_guess(answer, subject.about.guess)
                judged.append(JudgedSubject(one.rule.id, subject, verdict))
    return judged


def filled(loading: Loading, rules: Mapping[str, Rule], code: Code) -> Iterator[FilledCompartment]:
    """Every compartment with what the code's rule of fill says of it, in its favour and against it."""
    telling = [one for one in running(code, rules, LoadedCompartment) if one.rule.tells is Tells.FILL]
    for loaded in loading.compartments:
        for one in telling:
            if one.rule.speaks_of(loaded.carrier.kind):
                yield filled_by(one.rule, loaded, one.limits)


def _with_guesses(verdict: Verdict, carrier: Carrier) -> Verdict:
    """A pass or fail that rests on a guess of what a carrier is, or of its size, says so: it is no better than the guess."""
    if verdict.outcome is Outcome.UNKNOWN:
        return verdict
    guesses = []
    if carrier.kind_confidence is Confidence.LOW:
        guesses.append(f"its kind is {carrier.kind} ({_low(carrier.kind_source)})")
    if carrier.section.confidence is Confidence.LOW:
        guesses.append(f"its size is right ({_low(carrier.section.source)})")
    return replace(verdict, reason=f"{verdict.reason}, if {' and '.join(guesses)}") if guesses else verdict


def _with_guess(verdict: Verdict, guess: str) -> Verdict:
    """The same of any other subject."""
    if verdict.outcome is Outcome.UNKNOWN or not guess:
        return verdict
    return replace(verdict, reason=f"{verdict.reason}; {guess} is of low confidence")


def _guess_on_the_way(subject: RoutedCircuit) -> str:
    """Lengths on a circuit's way of which the kind, by which a rating goes, or the size is a guess."""
    guess = guess_of(enclosure.carrier for enclosure in subject.enclosures)
    return f"{guess} on its way" if guess else ""


def _low(source: str) -> str:
    return f"low confidence: {source}" if source else "low confidence"
