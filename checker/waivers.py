"""Findings that somebody waives: which they are, and the answers as they stand with that.

A waiver holds to the end of its last day, by the time of the newest model or the one that is asked for. Only a fail can be waived: what
isn't known stays unknown, and says that a waiver names it. Of several waivers of one finding all are told, and the one that holds longest
counts. Limits aren't touched, and neither are other findings; what is tried as a remedy is judged as if nothing were waived.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from checker.answers import Answers
from checker.errors import ProjectFileError
from checker.findings import id_of
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.loosening import day_of
from checker.model import Installation
from checker.model.words import wildcard
from checker.questions.unknowns import Unknown
from checker.result.tables import FindingRow
from checker.result.waiver_tables import WaivedBy, WaiverRow
from checker.rule import Outcome, Rule, Tells, Verdict
from checker.rule.code import Code
from checker.rule.waiver import Waiver
from checker.waivers_issues import Issues
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
        by = tuple(WaivedBy(one.who, one.why, one.until.isoformat()) for one in self.by)
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
) -> Waived:
    """Puts waivers to what was found.

    Args:
        waivers: In any order; what stands twice counts once.
        findings: What the rules found.
        installation: Whose they are.
        code: By which they were judged.
        time: Of the run, ISO 8601; empty: there is none.
        issues: What each issue holds; asked only if a waiver names one. None: there are none.
    """
    ordered = sorted(set(waivers), key=_longest_first)
    if not ordered:
        return Waived(installation, tuple(findings))
    day, why = day_of(time)
    named = _Named(findings, installation, code, issues)
    stands = [
        Stands(waiver, found := named.by(waiver), day, why, "" if found else named.why_none(waiver))
        for waiver in ordered
    ]
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


def _longest_first(waiver: Waiver) -> tuple[object, ...]:
    whose = (waiver.who, waiver.why, waiver.issue, waiver.rule, waiver.carriers, waiver.circuits)
    return (-waiver.until.toordinal(), *whose, waiver.compartment or 0)


class _Named:
    """Which findings waivers name."""

    def __init__(
        self, findings: Sequence[FindingRow], installation: Installation, code: Code, issues: Issues | None
    ) -> None:
        self._by_id = {row.id: row for row in findings}
        self._by_rule: dict[str, list[FindingRow]] = defaultdict(list)
        for row in findings:
            self._by_rule[row.rule].append(row)
        self._called = {carrier.key: carrier.place.names for carrier in installation.carriers}
        self._code, self._issues = code, issues
        self._held: Mapping[str, Collection[str]] | None = None

    def by(self, waiver: Waiver) -> tuple[FindingRow, ...]:
        """The findings that it names, in their order."""
        if waiver.issue:
            ids = {waiver.issue} if waiver.issue in self._by_id else set(self._of_issue(waiver.issue))
            return tuple(row for key, row in self._by_id.items() if key in ids)
        return tuple(row for row in self._by_rule.get(waiver.rule, ()) if self._fits(waiver, row))

    def why_none(self, waiver: Waiver) -> str:
        """Why it names no finding, as far as that can be told."""
        if waiver.issue:
            return "no finding and no issue of this run, or of the earlier notes that it goes on with, has that GUID"
        if waiver.rule not in self._code.limits:
            return f"the code {self._code.key} doesn't run that rule"
        for pattern in waiver.carriers:
            if not any(_fits(names, [pattern]) for names in self._called.values()):
                return f"no carrier is called {pattern!r}"
        near = [row for row in self._by_rule.get(waiver.rule, ()) if self._touches(waiver, row)]
        if near:
            return "what the rule found there names other carriers, circuits or compartments besides, or instead"
        return "the rule found nothing of that place"

    def _of_issue(self, guid: str) -> Collection[str]:
        if self._held is None:
            self._held = {} if self._issues is None else self._issues.held(tuple(self._by_id.values()))
        return self._held.get(guid, ())

    def _fits(self, waiver: Waiver, row: FindingRow) -> bool:
        """Whether all that it gives fits, and the finding names nothing besides."""
        if waiver.compartment is not None and row.compartment != waiver.compartment:
            return False
        if waiver.carriers and not (row.carriers and all(self._is_of(key, waiver) for key in row.carriers)):
            return False
        if not waiver.circuits:
            return True
        return bool(row.circuits) and all(_fits([mark], waiver.circuits) for mark in row.circuits)

    def _touches(self, waiver: Waiver, row: FindingRow) -> bool:
        is_there = any(self._is_of(key, waiver) for key in row.carriers)
        return is_there or any(_fits([mark], waiver.circuits) for mark in row.circuits)

    def _is_of(self, key: str, waiver: Waiver) -> bool:
        return _fits(self._called.get(key, ()), waiver.carriers)


def _fits(names: Iterable[str], patterns: Sequence[str]) -> bool:
    return any(wildcard(pattern).fullmatch(name) for name in names for pattern in patterns)


def _change(row: FindingRow, stands: Sequence[Stands]) -> Change | None:
    """What the waivers that name a finding make of it, the one that holds longest first; None: nothing."""
    if not stands or row.verdict not in {Outcome.FAIL, Outcome.UNKNOWN}:
        return None
    if row.verdict == Outcome.UNKNOWN:
        whose = " and ".join(dict.fromkeys(one.waiver.who for one in stands))
        return Change(Outcome.UNKNOWN, f"; {whose} would have it waived, but only a fail can be waived")
    holding = tuple(one.waiver for one in stands if one.holds)
    if holding:
        return Change(Outcome.WAIVED, f"; waived {'; also '.join(one.told for one in holding)}", holding)
    return Change(Outcome.FAIL, "".join(f"; {one.why_not}" for one in stands))
