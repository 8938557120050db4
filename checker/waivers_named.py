"""Which findings a waiver names: no more than whoever gave it can have seen."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from checker.history.issues import Held
from checker.model import Installation
from checker.model.texts import listed, natural
from checker.model.words import wildcard
from checker.result.tables import FindingRow
from checker.rule.code import Code
from checker.rule.waiver import Waiver
from checker.waivers_issues import Issues

#: Why what may have joined an issue isn't waived with it, after ``it`` or whose it is.
NOT_IN_NOTES = "names an issue that no earlier notes hold, so whether this was in it isn't known (give those that do, or name the finding)"


@dataclass(frozen=True, slots=True)
class Meant:
    """The findings that a waiver names, and why of each of which it isn't known whether it is meant, by id."""

    rows: tuple[FindingRow, ...]
    unsure: Mapping[str, str] = field(default_factory=dict)


class Named:
    """Which findings waivers name.

    A name without wildcards that carriers of several storeys have is of none of them, unless the waiver says which: who gave it may have
    seen one. Wildcards don't go by GlobalIds, which begin and end with anything.
    """

    def __init__(
        self, findings: Sequence[FindingRow], installation: Installation, code: Code, issues: Issues | None
    ) -> None:
        """See ``waivers.waive``."""
        self._by_id = {row.id: row for row in findings}
        self._by_rule: dict[str, list[FindingRow]] = defaultdict(list)
        for row in findings:
            self._by_rule[row.rule].append(row)
        self._places = {carrier.key: carrier.place for carrier in installation.carriers}
        self._called: dict[str, list[str]] = defaultdict(list)
        for key, place in self._places.items():
            for name in place.names:
                self._called[name].append(key)
        self._at: dict[str, dict[str, list[int]]] = {}
        self._code, self._issues = code, issues
        self._held: Mapping[str, Held] | None = None

    def by(self, waiver: Waiver) -> Meant:
        """The findings that it names, in their order."""
        if waiver.issue:
            return self._of_issue(waiver.issue)
        if not waiver.carriers:
            return Meant(
                tuple(row for row in self._by_rule.get(waiver.rule, ()) if _is_meant(waiver, row, frozenset()))
            )
        keys = {name: self._keys(name, waiver.storeys) for name in waiver.carriers}
        rows = self._rows(waiver, frozenset().union(*keys.values()))
        several = {} if waiver.storeys else {name: why for name in waiver.carriers if (why := self._several(name))}
        sure = frozenset().union(*(keys[name] for name in waiver.carriers if name not in several))
        unsure = {
            row.id: next(why for name, why in several.items() if keys[name].intersection(row.carriers))
            for row in rows
            if not sure.issuperset(row.carriers)
        }
        return Meant(rows, unsure)

    def why_none(self, waiver: Waiver) -> str:
        """Why it names no finding, as far as that can be told."""
        if waiver.issue:
            if self._held and waiver.issue in self._held:
                return "of what that issue holds in the earlier notes nothing is asked any more"
            return "no finding, and no issue of what fails, in this run or in the earlier notes that it goes on with, has that GUID"
        if waiver.rule not in self._code.limits:
            return f"the code {self._code.key} doesn't run that rule"
        for name in waiver.carriers:
            called = self._keys(name, ())
            if not called:
                return f"no carrier is called {name!r}"
            if not self._keys(name, waiver.storeys):
                return f"{name!r} is on {_listed({self._places[key].storey for key in called})}"
        keys = frozenset[str]().union(*(self._keys(name, waiver.storeys) for name in waiver.carriers))
        if any(self._touches(waiver, row, keys) for row in self._by_rule.get(waiver.rule, ())):
            return "what the rule found there names other carriers, circuits or compartments besides, or instead"
        return "the rule found nothing of that place"

    def _of_issue(self, guid: str) -> Meant:
        if guid in self._by_id:
            return Meant((self._by_id[guid],))
        if self._held is None:
            self._held = {} if self._issues is None else self._issues.held(tuple(self._by_id.values()))
        held = self._held.get(guid, Held())
        rows = tuple(row for key, row in self._by_id.items() if key in held.known or key in held.perhaps)
        return Meant(rows, dict.fromkeys(held.perhaps, NOT_IN_NOTES))

    def _several(self, name: str) -> str:
        """Why it isn't known which carrier is meant by a name, where it isn't."""
        storeys = {self._places[key].storey for key in self._called.get(name, ())}
        if _is_wild(name) or len(storeys) < 2:
            return ""
        return f"names {name!r}, and on {_listed(storeys)} there is one: say which with storeys, or by GlobalId"

    def _rows(self, waiver: Waiver, keys: frozenset[str]) -> tuple[FindingRow, ...]:
        """Those of its rule at carriers, by their keys, that it means."""
        rows = self._by_rule.get(waiver.rule, [])
        if waiver.rule not in self._at:
            at = self._at[waiver.rule] = defaultdict(list)
            for number, row in enumerate(rows):
                for key in row.carriers:
                    at[key].append(number)
        numbers = sorted({number for key in keys for number in self._at[waiver.rule].get(key, ())})
        return tuple(rows[number] for number in numbers if _is_meant(waiver, rows[number], keys))

    def _keys(self, name: str, storeys: Sequence[str]) -> frozenset[str]:
        """The carriers of a name, on some storeys; none given: on any."""
        if _is_wild(name):
            fits = wildcard(name).fullmatch
            found = [
                key
                for key, place in self._places.items()
                if any(text and fits(text.strip()) for text in (place.mark, place.tag, place.name))
            ]
        else:
            found = self._called.get(name, [])
        return frozenset(key for key in found if not storeys or _fits(self._places[key].storey.strip(), storeys))

    def _touches(self, waiver: Waiver, row: FindingRow, keys: frozenset[str]) -> bool:
        return not keys.isdisjoint(row.carriers) or any(_fits(mark, waiver.circuits) for mark in row.circuits)


def _is_meant(waiver: Waiver, row: FindingRow, keys: frozenset[str]) -> bool:
    """Whether all that it gives fits, and the finding names nothing besides. ``keys`` are of the carriers that it names."""
    if waiver.compartment is not None and row.compartment != waiver.compartment:
        return False
    if waiver.carriers and not (row.carriers and keys.issuperset(row.carriers)):
        return False
    if not waiver.circuits:
        return True
    return bool(row.circuits) and all(_fits(mark, waiver.circuits) for mark in row.circuits)


def _is_wild(name: str) -> bool:
    return "*" in name or "?" in name


def _listed(storeys: Iterable[str]) -> str:
    named = sorted((storey or "no storey" for storey in storeys), key=natural)
    return listed(named, len(named), " and ")


def _fits(name: str, patterns: Sequence[str]) -> bool:
    return any(wildcard(pattern).fullmatch(name) for pattern in patterns)
