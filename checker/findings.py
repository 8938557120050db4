"""Makes findings, ratings and problems of what rules answered."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from checker.history.identity import finding_id
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.model import Installation, ModelledCarrier, Problem, Subject
from checker.model.texts import MOST_NAMED, listed, natural
from checker.result.notes import amounts, in_words
from checker.result.tables import FindingRow, RatingRow
from checker.result.waiver_tables import WaivedBy
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
        row = _finding(id_of(installation, item), item.rule, code, item.verdict, (key,), subject.number, marks)
        rows.append(replace(row, other_ways=item.other_ways))
    for one in circuits:
        mark, place = one.subject.load.mark, one.place
        row = _finding(id_of(installation, one), one.rule, code, one.verdict, (place,) if place else (), None, (mark,))
        along = tuple(key for key in one.rating.short if key != place) if one.verdict.outcome is Outcome.FAIL else ()
        rows.append(replace(row, is_of_circuit=True, other_ways=one.other_ways, along=along))
    for at in others:
        about = at.subject.about
        row = _finding(
            id_of(installation, at), at.rule, code, at.verdict, about.carriers, about.compartment, about.circuits
        )
        rows.append(replace(row, at=about.label))
    return tuple(sorted(rows, key=lambda row: (row.rule, row.carriers, row.compartment or 0, row.circuits, row.id)))


def id_of(installation: Installation, item: Judged | JudgedCircuit | JudgedSubject) -> str:
    """The id of the finding that an answer makes."""
    project = installation.project_key
    if isinstance(item, Judged):
        return finding_id(project, item.rule, [item.subject.carrier.key], item.subject.number)
    if isinstance(item, JudgedCircuit):
        return finding_id(project, item.rule, [], None, item.subject.load.mark)
    about = item.subject.about
    return finding_id(project, item.rule, about.id_keys or about.carriers, about.compartment)


def _finding(
    key: str,
    rule: str,
    code: Code,
    verdict: Verdict,
    carriers: tuple[str, ...],
    compartment: int | None,
    circuits: tuple[str, ...],
) -> FindingRow:
    value, limit = amounts(verdict.value, verdict.limit, verdict.unit)
    has_words = bool(value) or verdict.outcome in {Outcome.FAIL, Outcome.WAIVED}
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
        is_floor=verdict.is_floor,
        found=in_words(verdict.found, value) if has_words else "",
        wanted=in_words(verdict.wanted, limit) if has_words else "",
        waived_by=tuple(WaivedBy(item.who, item.why, item.until.isoformat()) for item in verdict.waived_by),
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
    """What rules found that the model lacks: one problem for each rule and reason, with how many carriers it touches.

    What such a rule gives as its reason is the same for all that it finds alike. From ``, so`` on it says what comes of it; where it
    doesn't, the rule's title stands in for that.
    """
    alike: dict[tuple[str, str, str], list[Subject]] = defaultdict(list)
    for item in judged:
        if item.verdict.outcome is not Outcome.PASS:
            alike[item.rule, item.verdict.reason, item.verdict.advice].append(item.subject)
    problems = []
    for (rule, reason, advice), subjects in sorted(alike.items(), key=lambda group: group[0]):
        what, _, so = reason.partition(", so ")
        touched = {key for subject in subjects for key in subject.about.carriers}
        why = f"so {so}" if so else rules[rule].title
        problems.append(Problem(_places(subjects), what, why, advice, elements=len(touched)))
    return problems


def _places(subjects: Sequence[Subject]) -> str:
    """The first few by name; where there are more, also on which storeys and of which types they are, the most first."""
    labels = [subject.about.label or ", ".join(subject.about.carriers) for subject in subjects]
    told = listed(sorted(labels, key=lambda label: (natural(label), label)))
    if len(subjects) <= MOST_NAMED:
        return told
    carriers = [subject.carrier for subject in subjects if isinstance(subject, ModelledCarrier)]
    storeys = Counter(carrier.place.storey for carrier in carriers if carrier.place.storey)
    types = Counter(carrier.type_name for carrier in carriers if carrier.type_name)
    more = [
        f"{word} {listed([f'{name} ({number})' for name, number in _most_first(counted)])}"
        for word, counted in (("on", storeys), ("of type", types))
        if len(counted) > 1
    ]
    return "; ".join([told, *more])


def _most_first(counted: Counter[str]) -> list[tuple[str, int]]:
    return sorted(counted.items(), key=lambda item: (-item[1], natural(item[0]), item[0]))
