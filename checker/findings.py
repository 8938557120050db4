"""Makes findings, ratings and problems of what rules answered."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from checker.history.identity import finding_id
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.model import Installation, Problem
from checker.model.texts import listed, natural
from checker.result.tables import FindingRow, RatingRow
from checker.rule import Outcome, Rule, Tells, Verdict
from checker.rule.code import Code


def finding_rows(
    installation: Installation,
    judged: Iterable[Judged],
    circuits: Iterable[JudgedCircuit],
    code: Code,
    others: Iterable[JudgedSubject] = (),
) -> tuple[FindingRow, ...]:
    """Findings with their ids, sorted by rule and place.

    A circuit's names the segment that governs it, any other subject's what it says of itself.
    """
    rows = []
    for item in judged:
        subject = item.subject
        key = subject.carrier.key
        marks = tuple(sorted({cable.circuit for cable in subject.cables}))
        own = finding_id(installation.project_key, item.rule, [key], subject.number)
        row = _finding(own, item.rule, code, item.verdict, (key,), subject.number, marks)
        rows.append(replace(row, other_ways=item.other_ways))
    for one in circuits:
        mark, place = one.subject.load.mark, one.place
        own = finding_id(installation.project_key, one.rule, [], None, mark)
        row = _finding(own, one.rule, code, one.verdict, (place,) if place else (), None, (mark,))
        rows.append(replace(row, is_of_circuit=True, other_ways=one.other_ways))
    for at in others:
        about = at.subject.about
        own = finding_id(installation.project_key, at.rule, about.id_keys or about.carriers, about.compartment)
        row = _finding(own, at.rule, code, at.verdict, about.carriers, about.compartment, about.circuits)
        rows.append(replace(row, at=about.label))
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


def rating_rows(judged: Iterable[JudgedCircuit], rules: Mapping[str, Rule]) -> tuple[RatingRow, ...]:
    """One row for each rule that tells a rating and each circuit, in the schedule's order."""
    rows = []
    for item in judged:
        if rules[item.rule].tells is not Tells.RATING:
            continue
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


def model_problems(judged: Iterable[JudgedSubject], rules: Mapping[str, Rule]) -> list[Problem]:
    """What rules found that the model lacks: one problem for each rule and reason, with all carriers that it touches."""
    alike: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    labels: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for item in judged:
        if item.verdict.outcome is not Outcome.PASS:
            about = item.subject.about
            group = (item.rule, item.verdict.reason, item.verdict.advice)
            alike[group].extend(about.carriers)
            labels[group].append(about.label or ", ".join(about.carriers))
    return [
        Problem(listed(sorted(labels[group], key=natural)), reason, rules[rule].title, advice, elements=len(keys))
        for group, keys in sorted(alike.items())
        for rule, reason, advice in [group]
    ]
