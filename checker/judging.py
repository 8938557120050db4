"""Asks the rules of a code about everything that was loaded, and makes findings and ratings of their answers."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from checker.history.identity import finding_id
from checker.model import (
    Carrier,
    CarrierKind,
    Confidence,
    DividedFitting,
    Installation,
    LoadedCompartment,
    RoutedCircuit,
)
from checker.network.loading import Loading
from checker.result.tables import FindingRow, RatingRow
from checker.rule import Outcome, Rating, Rule, Verdict, judge, judge_circuit, judge_fitting
from checker.rule.code import Code

#: So many lengths that are a guess are named in a reason.
GUESSED_SHOWN = 4


@dataclass(frozen=True, slots=True)
class Judged:
    """One verdict on one compartment. ``other_ways``: whether it hangs on the ways that circuits take; empty: that isn't asked."""

    rule: str
    subject: LoadedCompartment
    verdict: Verdict
    other_ways: str = ""


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
        """The carrier that it is told at: the one that governs; of a fail that no length decides, the first on the way."""
        if self.rating.carrier or self.verdict.outcome is not Outcome.FAIL:
            return self.rating.carrier
        return self.subject.enclosures[0].carrier.key


@dataclass(frozen=True, slots=True)
class JudgedFitting:
    """One verdict on one place where carriers meet."""

    rule: str
    subject: DividedFitting
    verdict: Verdict


def judge_all(
    loading: Loading, rules: Mapping[str, Rule], code: Code, tell: Callable[[int, int], None] = lambda *_: None
) -> list[Judged]:
    """Asks every rule of the code about every compartment that it speaks of; where no fill rule does, the answer is unknown."""
    judged = []
    running = [
        (rules[rule_id], limits)
        for rule_id, limits in code.limits.items()
        if rules[rule_id].subject is LoadedCompartment
    ]
    for done, subject in enumerate(loading.compartments, start=1):
        kind = subject.carrier.kind
        for rule, limits in running:
            if rule.speaks_of(kind):
                verdict = judge(rule, subject, limits)
                # a partition that is guessed may part services, too
                rests = rule.family == "fill" or len(subject.carrier.section.lanes) > 1
                told = _with_guesses(verdict, subject.carrier) if rests else verdict
                judged.append(Judged(rule.id, subject, told))
        if not any(rule.family == "fill" and rule.speaks_of(kind) for rule, _ in running):
            what = (
                "what kind of carrier it is isn't known"
                if kind is CarrierKind.UNKNOWN
                else f"{code.key} has no fill rule for {kind}"
            )
            judged.append(Judged("fill", subject, Verdict(Outcome.UNKNOWN, what, unit="ratio", measure="area")))
        tell(done, len(loading.compartments))
    return judged


def judge_circuits(circuits: Iterable[RoutedCircuit], rules: Mapping[str, Rule], code: Code) -> list[JudgedCircuit]:
    """Asks every rule of the code that speaks of circuits about every circuit that carries a load."""
    running = [
        (rules[rule_id], limits) for rule_id, limits in code.limits.items() if rules[rule_id].subject is RoutedCircuit
    ]
    return [
        JudgedCircuit(rule.id, subject, _with_guesses_on_the_way(judge_circuit(rule, subject, limits), subject))
        for subject in circuits
        for rule, limits in running
    ]


def judge_fittings(loading: Loading, rules: Mapping[str, Rule], code: Code) -> list[JudgedFitting]:
    """Asks every rule of the code that speaks of fittings about every place where carriers meet and circuits pass."""
    running = [(rules[key], limits) for key, limits in code.limits.items() if rules[key].subject is DividedFitting]
    return [
        JudgedFitting(rule.id, subject, _with_guessed_dividers(judge_fitting(rule, subject, limits), subject))
        for subject in loading.fittings
        for rule, limits in running
    ]


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


def _with_guessed_dividers(verdict: Verdict, subject: DividedFitting) -> Verdict:
    """The same of a place where carriers meet: those of which it is a guess that they are divided are named."""
    guessed = [
        carrier.place.label
        for carrier in subject.carriers
        if len(carrier.section.lanes) > 1 and carrier.section.confidence is Confidence.LOW
    ]
    if verdict.outcome is Outcome.UNKNOWN or not guessed:
        return verdict
    return replace(verdict, reason=f"{verdict.reason}; how {', '.join(guessed)} is divided is of low confidence")


def _with_guesses_on_the_way(verdict: Verdict, subject: RoutedCircuit) -> Verdict:
    """The same of a circuit: lengths on its way whose kind, by which a rating goes, or size is a guess are named."""
    if verdict.outcome is Outcome.UNKNOWN:
        return verdict
    passed = [enclosure.carrier for enclosure in subject.enclosures]
    guessed = [
        carrier.place.label
        for carrier in passed
        if Confidence.LOW in {carrier.kind_confidence, carrier.section.confidence}
    ]
    if not guessed:
        return verdict
    more = f" and {len(guessed) - GUESSED_SHOWN} more lengths" if len(guessed) > GUESSED_SHOWN else ""
    named = f"{', '.join(guessed[:GUESSED_SHOWN])}{more}"
    return replace(verdict, reason=f"{verdict.reason}; the kind or size of {named} on its way is of low confidence")


def _low(source: str) -> str:
    return f"low confidence: {source}" if source else "low confidence"


def finding_rows(
    installation: Installation,
    judged: Iterable[Judged],
    circuits: Iterable[JudgedCircuit],
    code: Code,
    fittings: Iterable[JudgedFitting] = (),
) -> tuple[FindingRow, ...]:
    """Findings with their ids, sorted by rule and place.

    A circuit's names the segment that governs it, a fitting's all that meet there; a fitting's id goes by the fitting if there is one.
    """
    rows = []
    for item in judged:
        subject = item.subject
        key = subject.carrier.key
        marks = tuple(sorted({cable.circuit for cable in subject.cables}))
        own = finding_id(installation.project_key, item.rule, [key], subject.number)
        row = _finding(own, item.rule, code, item.verdict, (key,), subject.number, marks)
        rows.append(replace(row, other_ways=item.other_ways))
    for about in circuits:
        mark, place = about.subject.load.mark, about.place
        own = finding_id(installation.project_key, about.rule, [], None, mark)
        row = _finding(own, about.rule, code, about.verdict, (place,) if place else (), None, (mark,))
        rows.append(replace(row, is_of_circuit=True, other_ways=about.other_ways))
    for at in fittings:
        keys = tuple(carrier.key for carrier in at.subject.carriers)
        who = keys if at.subject.fitting is None else (at.subject.fitting.key,)
        marks = tuple(sorted({cable.circuit for cable in at.subject.cables}))
        own = finding_id(installation.project_key, at.rule, who, None)
        label = "" if at.subject.fitting is None else at.subject.fitting.place.label
        rows.append(replace(_finding(own, at.rule, code, at.verdict, keys, None, marks), at=label))
    return tuple(sorted(rows, key=lambda row: (row.rule, row.carriers, row.compartment or 0, row.circuits, row.id)))


def _finding(
    key: str,
    rule: str,
    code: Code,
    verdict: Verdict,
    carriers: tuple[str, ...],
    compartment: int | None,
    circuits: tuple[str, ...],
) -> FindingRow:
    return FindingRow(
        id=key,
        rule=rule,
        code=code.key,
        carriers=carriers,
        compartment=compartment,
        verdict=verdict.outcome.value,
        value=verdict.value,
        limit=verdict.limit,
        unit=verdict.unit,
        measure=verdict.measure,
        basis=verdict.basis,
        source=verdict.source,
        reason=verdict.reason,
        circuits=circuits,
        at_least=verdict.at_least,
        advice=verdict.advice,
    )


def rating_rows(judged: Iterable[JudgedCircuit]) -> tuple[RatingRow, ...]:
    """One row for each rule and circuit, in the schedule's order."""
    rows = []
    for item in judged:
        rating, load = item.rating, item.subject.load
        rows.append(
            RatingRow(
                circuit=load.mark,
                rule=item.rule,
                carrier=rating.carrier,
                cable=rating.cable,
                csa_mm2=rating.csa_mm2,
                base_a=rating.base_a,
                base_source=rating.base_source,
                factors=rating.factors,
                capacity_a=rating.capacity_a,
                required_a=rating.required_a,
                required_why=rating.required_why,
                verdict=item.verdict.outcome.value,
                reason=item.verdict.reason,
                assumptions=rating.assumptions,
                grouping_factor=rating.grouping_factor,
            )
        )
    return tuple(rows)
