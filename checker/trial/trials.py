"""Tries changes: what the rules say of all that a change touches, before and after it."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from checker.network.loading import Loading
from checker.result.tables import FindingRow
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.rule.verdict import SEVERITY
from checker.trial.carve import Carve, Carver
from checker.trial.changes import Change
from checker.trial.situation import Situation, routing_of, situation_of

Findings = dict[str, FindingRow]
#: The circuits that lie in each compartment, and those that may.
Lying = dict[tuple[str, int], tuple[frozenset[str], frozenset[str]]]


@dataclass(frozen=True, slots=True)
class Effects:
    """What a change does to the findings on all that it touches, by id. A finding that is in one of the two only came or went with it."""

    before: Findings
    after: Findings
    situation: Situation

    def verdict(self, finding: str) -> str:
        """What a finding that is touched is after the change; empty: nothing asks it any more."""
        return self.after[finding].verdict if finding in self.after else ""

    @property
    def worse(self) -> list[FindingRow]:
        """What is worse after it: verdicts that are, fails that are farther beyond the limit, and new findings that don't pass.

        A new one that is unknown is no worse where it takes the place of one of its rule that was no better: a run that is parted in two.
        """
        return [
            row
            for key, row in sorted(self.after.items())
            if _is_worse(row, self.before.get(key)) and not self._takes_place(row)
        ]

    def _takes_place(self, row: FindingRow) -> bool:
        """Whether a finding that is new and unknown stands for one that went, told at the same carriers and more."""
        if row.id in self.before or row.verdict != Outcome.UNKNOWN:
            return False
        gone = (old for key, old in self.before.items() if key not in self.after and old.rule == row.rule)
        return any(
            set(row.carriers) < set(old.carriers) and old.verdict in {Outcome.UNKNOWN, Outcome.FAIL} for old in gone
        )


class Trials:
    """Tries changes on parts of an installation that are cut out around what they touch.

    A part is first asked whether the rules say the same of what is touched in it as in the whole; where they don't, the whole is asked.

    Args:
        situation: What was found, without any change.
        code: Whose limits apply.
        plugins: The rules that there are.
    """

    def __init__(self, situation: Situation, code: Code, plugins: Plugins) -> None:
        self._whole, self._code, self._plugins = situation, code, plugins
        self.carver = Carver(situation.installation, situation.routing, situation.loading)
        self._carriers = {carrier.key: carrier for carrier in situation.installation.carriers}
        self._parts: dict[tuple[frozenset[str], frozenset[str]], tuple[Carve, Lying]] = {}
        self._by_carrier: dict[str, list[str]] = defaultdict(list)
        self._by_circuit: dict[str, list[str]] = defaultdict(list)
        for row in situation.findings.values():
            for key in row.carriers:
                self._by_carrier[key].append(row.id)
            for mark in row.circuits:
                self._by_circuit[mark].append(row.id)
        #: How many carriers were judged in all, for those who bound the work.
        self.work = 0

    def effects(self, changes: Iterable[Change]) -> Effects:
        """What changes do that are made together, in their order.

        Args:
            changes: At least one.
        """
        changes = list(changes)
        keys = frozenset().union(*(change.carriers for change in changes))
        marks = frozenset().union(*(change.circuits for change in changes))
        while True:
            carve, lying = self._part(keys, marks)
            before = self._touched(self._whole_around(keys, marks), keys, marks, carve)
            installation, routes = carve.installation, carve.routes
            for change in changes:
                installation, routes = change.made(installation, routes)
            after = self._judged(replace(carve, installation=installation, routes=routes), keys, marks)
            # a compartment that is told in one carrier tells which one it is beyond the next bend
            more = _changed(lying, _lying(after.loading)) & carve.whole - keys
            if not more:
                return Effects(before, self._touched(after.findings, keys, marks, carve), after)
            keys |= more

    def _part(self, keys: frozenset[str], marks: frozenset[str]) -> tuple[Carve, Lying]:
        """A part that tells what the whole does of what is touched, and what lies in it."""
        part = self._parts.get((keys, marks))
        if part is None:
            carve = self.carver.around(keys & self._carriers.keys(), marks)
            judged = self._judged(carve, keys, marks)
            told = self._touched(judged.findings, keys, marks, carve)
            if not _same(told, self._touched(self._whole_around(keys, marks), keys, marks, carve)):
                carve, judged = self.carver.everything(), self._whole
            part = self._parts[keys, marks] = carve, _lying(judged.loading)
        return part

    def _whole_around(self, keys: frozenset[str], marks: frozenset[str]) -> Findings:
        """What was found without any change on what is touched, and some more."""
        ids = {own for key in keys for own in self._by_carrier.get(key, ())}
        ids |= {own for mark in marks | self.carver.circuits_in(keys) for own in self._by_circuit.get(mark, ())}
        return {own: self._whole.findings[own] for own in sorted(ids)}

    def _judged(self, carve: Carve, keys: frozenset[str], marks: frozenset[str]) -> Situation:
        """A part judged, as far as something is touched in it."""
        self.work += len(carve.installation.carriers)
        routing = replace(self._whole.routing, joins=carve.joins)
        routing = routing_of(carve.installation, routing, carve.routes)
        asked = marks | self.carver.circuits_in(keys)

        def touches(carriers: Iterable[str], circuits: Iterable[str]) -> bool:
            # a circuit is told at no carrier, and is touched where one is that it lies in
            return not keys.isdisjoint(carriers) or not (marks if carriers else asked).isdisjoint(circuits)

        return situation_of(carve.installation, routing, self._code, self._plugins, touches)

    def _touched(self, findings: Findings, keys: frozenset[str], marks: frozenset[str], carve: Carve) -> Findings:
        """The findings on what is touched: on circuits by their marks, on anything else by its carriers, or by circuits that change."""
        asked = marks | self.carver.circuits_in(keys)
        found = {}
        for key, row in findings.items():
            if row.is_of_circuit:
                is_touched = not asked.isdisjoint(row.circuits)
            else:
                is_touched = not keys.isdisjoint(row.carriers) and carve.whole.issuperset(row.carriers)
            if is_touched or not marks.isdisjoint(row.circuits):
                found[key] = row
        return found


def _lying(loading: Loading) -> Lying:
    return {
        (item.carrier.key, item.number): (
            frozenset(cable.circuit for cable in item.cables),
            frozenset(cable.circuit for cable in item.possible),
        )
        for item in loading.compartments
    }


def _changed(one: Lying, other: Lying) -> frozenset[str]:
    """The carriers in which other circuits lie, or may."""
    keys = one.keys() | other.keys()
    return frozenset(key for key, number in keys if one.get((key, number)) != other.get((key, number)))


def _same(one: Findings, other: Findings) -> bool:
    """Whether two answers are the same as far as anybody acts on them."""
    return {key: _told(row) for key, row in one.items()} == {key: _told(row) for key, row in other.items()}


def _told(row: FindingRow) -> tuple[object, ...]:
    return row.verdict, row.value, row.limit, row.carriers, row.compartment


def _is_worse(after: FindingRow, before: FindingRow | None) -> bool:
    if before is None or after.verdict != before.verdict:
        return SEVERITY[Outcome(after.verdict)] > (0 if before is None else SEVERITY[Outcome(before.verdict)])
    return after.verdict == Outcome.FAIL and (after.use or 0.0) > (before.use or 0.0) * (1.0 + 1e-9)
