"""Findings that somebody waives: which they are, and the answers as they stand with that.

A waiver holds to the end of its last day, by the time of the newest model or the one that is asked for. Only a fail can be waived: what
isn't known stays unknown, and says that a waiver names it. Of several waivers of one finding all are told, and the one that holds longest
counts. Limits aren't touched, and neither are other findings; what is tried as a remedy is judged as if nothing were waived.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TypeVar

from checker.answers import Answers
from checker.errors import ProjectFileError
from checker.findings import id_of
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.loosening import day_of
from checker.model import Installation
from checker.questions.unknowns import Unknown
from checker.result.tables import FindingRow
from checker.result.waiver_tables import WaivedBy, WaiverRow
from checker.rule import Outcome, Rule, Tells, Verdict
from checker.rule.code import Code
from checker.rule.waiver import Waiver
from checker.waivers_bounds import Extents, bound_of, why_beyond
from checker.waivers_issues import Issues
from checker.waivers_named import Named
from checker.waivers_told import Stands, about_waiver

AnyJudged = TypeVar("AnyJudged", Judged, JudgedCircuit, JudgedSubject)


@dataclass(frozen=True, slots=True)
class Change:
    """What waivers make of a fail or of what isn't known: its verdict, what its reason says besides, and by whom it is waived."""

    outcome: Outcome
    more: str
    by: tuple[Waiver, ...] = ()

    def of(self, verdict: Verdict) -> Verdict:
        """A rule's answer with it."""
        return replace(verdict, outcome=self.outcome, reason=f"{verdict.reason}{self.more}", waived_by=self.by)

    def of_row(self, row: FindingRow) -> FindingRow:
        """The finding of such an answer with it."""
        by = tuple(WaivedBy(one.who, one.why, one.until.isoformat(), one.up_to) for one in self.by)
        return replace(row, verdict=self.outcome.value, reason=f"{row.reason}{self.more}", waived_by=by)


@dataclass(frozen=True, slots=True)
class Waived:
    """What a run found, with all that is waived.

    ``findings`` are those of the rules; ``about`` those about the waivers themselves (see ``waivers_told``); ``waivers`` is a row for
    each; ``changes`` are by finding, and ``rules`` those whose findings change.
    """

    installation: Installation
    findings: tuple[FindingRow, ...]
    about: tuple[FindingRow, ...] = ()
    waivers: tuple[WaiverRow, ...] = ()
    changes: Mapping[str, Change] = field(default_factory=dict)
    rules: frozenset[str] = frozenset()

    def answers(self, answers: Answers) -> Answers:
        """What the rules said, with what is waived of it."""
        return replace(
            answers, judged=self.of(answers.judged), rated=self.of(answers.rated), others=self.of(answers.others)
        )

    def unsettled(self) -> Iterator[Unknown]:
        """What isn't known of waivers, which no answer about the building settles."""
        for row in self.about:
            if row.verdict == Outcome.UNKNOWN:
                yield Unknown(row.rule, row.at, row.carriers, row.circuits, None)

    def of(self, items: Sequence[AnyJudged]) -> tuple[AnyJudged, ...]:
        """The same of some answers."""
        if not self.changes:
            return tuple(items)
        # an id takes a while, and most rules have nothing waived
        changes = (
            (item, self.changes.get(id_of(self.installation, item)) if item.rule in self.rules else None)
            for item in items
        )
        return tuple(
            item if change is None else replace(item, verdict=change.of(item.verdict)) for item, change in changes
        )


def check_waivers(waivers: Iterable[Waiver], rules: Mapping[str, Rule], where: str) -> None:
    """Refuses what names a rule that there is none of, or one that makes no findings.

    Args:
        waivers: In the order of the file.
        rules: All that are installed.
        where: The project file, for messages.

    Raises:
        ProjectFileError: One does.
    """
    for number, waiver in enumerate(waivers, start=1):
        at = f"{where}, [[waivers]] {number}"
        if waiver.rule and waiver.rule not in rules:
            raise ProjectFileError(at, f"there is no rule {waiver.rule}", "see: wayroom list rules")
        if waiver.rule and rules[waiver.rule].tells is Tells.MODEL:
            what = f"{waiver.rule} tells what the model lacks; it makes problems, which can't be waived"
            raise ProjectFileError(at, what, "take it out")


def waive(
    waivers: Iterable[Waiver],
    findings: Sequence[FindingRow],
    installation: Installation,
    code: Code,
    time: str,
    issues: Issues | None = None,
    extents: Extents | None = None,
) -> Waived:
    """Puts waivers to what was found.

    Args:
        waivers: In any order; what stands twice counts once.
        findings: What the rules found.
        installation: Whose they are.
        code: By which they were judged.
        time: Of the run, ISO 8601; empty: there is none.
        issues: What each issue holds; asked only if a waiver names one. None: there are none.
        extents: How far findings may go; asked only if a waiver gives how far it reaches. None: as far as they tell.
    """
    ordered = sorted(set(waivers), key=_longest_first)
    if not ordered:
        return Waived(installation, tuple(findings))
    day, why = day_of(time)
    named = Named(findings, installation, code, issues)
    stands = [_stands(waiver, named, day, why, extents) for waiver in ordered]
    by_finding: dict[str, list[Stands]] = defaultdict(list)
    for one in stands:
        for row in one.named:
            by_finding[row.id].append(one)
    changes = {row.id: change for row in findings if (change := _change(row, by_finding.get(row.id, ()))) is not None}
    now = {row.id: changes[row.id].of_row(row) if row.id in changes else row for row in findings}
    told = [about_waiver(one, now, installation.project_key, code.key) for one in stands]
    return Waived(
        installation,
        tuple(now[row.id] for row in findings),
        tuple(sorted((row for _, row in told if row is not None), key=lambda row: (row.rule, row.id))),
        tuple(row for row, _ in told),
        changes,
        frozenset(row.rule for row in findings if row.id in changes),
    )


def _stands(waiver: Waiver, named: Named, day: date | None, no_day: str, extents: Extents | None) -> Stands:
    meant = named.by(waiver)
    failing = [row for row in meant.rows if row.verdict == Outcome.FAIL]
    beyond = {row.id: why for row in failing if (why := why_beyond(waiver, row, extents))}
    none = "" if meant.rows else named.why_none(waiver)
    return Stands(waiver, meant.rows, day, no_day, none, {**beyond, **meant.unsure})


def _longest_first(waiver: Waiver) -> tuple[object, ...]:
    whose = (waiver.who, waiver.why, waiver.issue, waiver.rule, waiver.carriers, waiver.storeys, waiver.circuits)
    reach = float("inf") if waiver.up_to is None else waiver.up_to
    return (-waiver.until.toordinal(), *whose, waiver.compartment or 0, reach)


def _change(row: FindingRow, stands: Sequence[Stands]) -> Change | None:
    """What the waivers that name a finding make of it, the one that holds longest first; None: nothing."""
    if not stands or row.verdict not in {Outcome.FAIL, Outcome.UNKNOWN}:
        return None
    if row.verdict == Outcome.UNKNOWN:
        whose = " and ".join(dict.fromkeys(one.waiver.who for one in stands))
        return Change(Outcome.UNKNOWN, f"; {whose} would have it waived, but only a fail can be waived")
    holding = tuple(one.waiver for one in stands if one.waives(row))
    if holding:
        told = "; also ".join(f"by {one.who} until {one.until}{bound_of(one, row)}: {one.why}" for one in holding)
        return Change(Outcome.WAIVED, f"; waived {told}", holding)
    return Change(Outcome.FAIL, "".join(f"; {one.why_not(row)}" for one in stands))
