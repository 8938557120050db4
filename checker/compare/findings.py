"""What became of each finding, and whether the change is one of what was checked or of the figures that judge."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from checker.compare.carriers import same
from checker.compare.matching import Match
from checker.compare.tables import CarrierRow, Cause, CircuitRow, FindingChange, FindingRow
from checker.model.texts import listed, natural
from checker.result.facts import run_facts
from checker.result.gravity import gravity
from checker.result.tables import FindingRow as Finding
from checker.result.tables import Result
from checker.result.waiver_tables import FAMILY

#: Figures whose share differs by no more than this are the same: sums are added in other orders.
SAME_SHARE = 1e-6
_ORDER = tuple(FindingChange)


@dataclass(frozen=True, slots=True)
class Both:
    """What is known of both results.

    ``touched`` are keys of NEW (of OLD, where there is none) and ``circuits`` marks that changed. ``other_code``: another code, edition
    or figures of it; ``other_figures``: that, or other tables or another version; ``other_limits``: another project file, which may have
    limits. ``unread`` are models.
    """

    old: Result
    new: Result
    match: Match
    touched: frozenset[str]
    circuits: frozenset[str]
    anew: frozenset[str]
    unread: frozenset[str]
    other_code: bool
    other_figures: bool
    other_limits: bool


def touched(
    old: Result, new: Result, match: Match, carriers: Iterable[CarrierRow], circuits: Iterable[CircuitRow]
) -> tuple[frozenset[str], frozenset[str]]:
    """Keys of carriers, as NEW has them, in which something changed that may bear on a verdict; and marks of such circuits.

    A circuit of which a carrier on its way changed, or what lies in it, is one too: others may heat it.
    """
    marks = {row.circuit for row in circuits if row.is_material}
    keys = {row.key_new or row.key_old for row in carriers if row.is_material or row.is_anew}
    before = {(match.new_of.get(key, key), content) for key, content in _contents(old)}
    after = set(_contents(new))
    keys |= {key for key, _ in before ^ after}
    lies_in = {(match.new_of.get(key, key), mark) for key, mark in _lies_in(old)} | set(_lies_in(new))
    keys |= {key for key, mark in lies_in if mark in marks}
    for row in new.circuits:
        if not keys.isdisjoint(row.carriers):
            marks.add(row.circuit)
    return frozenset(keys), frozenset(marks)


def _contents(result: Result) -> Iterable[tuple[str, tuple[object, ...]]]:
    for row in result.cables:
        yield row.carrier, (row.number, row.circuit, row.cable, row.count, row.certain)


def _lies_in(result: Result) -> Iterable[tuple[str, str]]:
    for row in result.cables:
        yield row.carrier, row.circuit


def finding_changes(both: Both) -> tuple[FindingRow, ...]:
    """A row for each finding of both, those to be looked at first first, the gravest of a class before the others."""
    facts = [run_facts(result).findings for result in (both.old, both.new)]
    storeys = {row.key: row.place.storey for row in (*both.old.carriers, *both.new.carriers)}
    rules = frozenset(row.rule for row in both.new.findings)
    keys = (frozenset(row.key for row in both.new.carriers), frozenset(row.circuit for row in both.new.circuits))
    models = {row.key: row.place.model for row in both.old.carriers}
    rows = []
    for old, new in matched(both):
        if old is not None and new is None:
            change, what = _left(old, both, rules, keys[1], models)
        else:
            change = _change(old, new)
            what = "; ".join(_differing(old, new, both)) if old is not None and new is not None else ""
        one = new or old
        assert one is not None  # noqa: S101 - a pair has a finding
        cause = _cause(old, new, both) if change is not FindingChange.SAME else Cause.NONE
        label = (facts[1] if new else facts[0])[one.id].label
        told = [what] if what else []
        told += [one.reason] if new is not None and one.verdict != "pass" and one.reason not in what else []
        told += ["the carrier was made anew"] if new and not both.anew.isdisjoint(new.carriers) else []
        row = FindingRow(
            change, cause, one.rule, label, next((storeys.get(key, "") for key in one.carriers), ""), one.circuits,
            old.id if old else "", new.id if new else "", old.verdict if old else "", new.verdict if new else "",
            facts[0][old.id].shown if old else "", facts[1][new.id].shown if new else "", old.use if old else None,
            new.use if new else None, "; ".join(told),
        )  # fmt: skip
        rows.append(((_ORDER.index(change), cause is Cause.FIGURES, *gravity(one)[:3], natural(label), one.id), row))
    return tuple(row for _, row in sorted(rows, key=lambda item: item[0]))


def matched(both: Both) -> list[tuple[Finding | None, Finding | None]]:
    """Findings of both, each once: by id, else by rule and what they are about, where only one on either side is about that."""
    pairs: list[tuple[Finding | None, Finding | None]] = []
    old, new = list(both.old.findings), list(both.new.findings)
    # keys that stand for another carrier now, so that ids which are made of them do too
    keys = [{row.key for row in result.carriers} for result in (both.old, both.new)]
    reused = {key for key in keys[0] & keys[1] if both.match.new_of.get(key) != key}
    told: tuple[Callable[[Finding, bool], object], ...] = (
        lambda row, is_old: row.id if row.is_of_circuit or reused.isdisjoint(row.carriers) else (row.id, is_old),
        lambda row, is_old: (_about(row, both.match if is_old else None), row.at, tuple(sorted(row.circuits))),
        lambda row, is_old: (_about(row, both.match if is_old else None), row.at),
        lambda row, is_old: _about(row, both.match if is_old else None),
    )
    for key in told:
        old, new = _paired(old, new, key, pairs)
    return [*pairs, *((row, None) for row in old), *((None, row) for row in new)]


def _paired(
    old: Sequence[Finding],
    new: Sequence[Finding],
    key: Callable[[Finding, bool], object],
    pairs: list[tuple[Finding | None, Finding | None]],
) -> tuple[list[Finding], list[Finding]]:
    """Takes out those that are alone on either side with a key; gives those that are left."""
    ones: dict[object, list[Finding]] = defaultdict(list)
    others: dict[object, list[Finding]] = defaultdict(list)
    for row in old:
        ones[key(row, True)].append(row)
    for row in new:
        others[key(row, False)].append(row)
    found = {fact for fact, rows in ones.items() if len(rows) == 1 and len(others.get(fact, ())) == 1}
    pairs.extend((ones[fact][0], others[fact][0]) for fact in ones if fact in found)
    return (
        [row for fact, rows in ones.items() if fact not in found for row in rows],
        [row for fact, rows in others.items() if fact not in found for row in rows],
    )


def _about(row: Finding, match: Match | None) -> tuple[object, ...]:
    """The rule and the subject of a finding, carriers as NEW calls them."""
    if row.is_of_circuit:
        return row.rule, True, tuple(sorted(row.circuits)), None
    keys = row.carriers if match is None else tuple(match.new_of.get(key, f"gone {key}") for key in row.carriers)
    return row.rule, False, tuple(sorted(keys)), row.compartment


def _change(old: Finding | None, new: Finding | None) -> FindingChange:
    """The class of a finding that NEW has."""
    before = old.verdict if old else ""
    after = new.verdict if new else ""
    if old is None or new is None or before != after:
        became = {"fail": FindingChange.NEW, "unknown": FindingChange.NEWLY_UNKNOWN}.get(after)
        if became is not None:
            return became
        if old is None:
            return FindingChange.ADDED
        if after == "waived":
            return FindingChange.WAIVED
        return FindingChange.KNOWN if before == "unknown" else FindingChange.FIXED
    uses = (old.use, new.use)
    if after == "fail" and uses[0] is not None and uses[1] is not None and not _alike(*uses):
        return FindingChange.WORSE if uses[1] > uses[0] else FindingChange.BETTER
    return FindingChange.SAME if _is_same(old, new) else FindingChange.CHANGED


def _alike(one: float | None, other: float | None) -> bool:
    largest = max(abs(one or 0.0), abs(other or 0.0))
    return same(one, other, SAME_SHARE * largest if largest != float("inf") else 0.0)


def _is_same(old: Finding, new: Finding) -> bool:
    if not (_alike(old.value, new.value) and _alike(old.limit, new.limit)):
        return False
    if old.verdict == "unknown" and old.reason != new.reason:
        return False
    return _words(old) == _words(new)


def _words(row: Finding) -> tuple[object, ...]:
    return (
        row.unit,
        row.measure,
        row.basis,
        row.source,
        row.found,
        row.wanted,
        row.at_least,
        sorted(row.circuits),
        row.code,
    )


def _differing(old: Finding, new: Finding, both: Both) -> Iterable[str]:
    """By what two findings on the same differ besides figures and verdicts, in words."""
    before, after = set(old.circuits), set(new.circuits)
    if came := sorted(after - before, key=natural):
        yield f"now with {listed(came)}"
    if went := sorted(before - after, key=natural):
        yield f"no longer with {listed(went)}"
    may_be = both.other_figures or both.other_limits  # else another source is no news
    if old.code != new.code:
        yield f"code {old.code} → {new.code}"
    elif may_be and old.source != new.source and old.source and new.source:
        yield f"by {new.source}, before by {old.source}"
    if old.verdict == new.verdict == "unknown" and old.reason != new.reason:
        yield f"before: {old.reason}"


def _left(
    old: Finding, both: Both, rules: frozenset[str], marks: frozenset[str], models: dict[str, str]
) -> tuple[FindingChange, str]:
    """What became of a finding that only OLD has, and why."""
    if old.rule.startswith(f"{FAMILY}."):
        return FindingChange.GONE, "no waiver is told of there any more"
    there = [key for key in old.carriers if key in both.match.new_of]
    unread = sorted({models[key] for key in old.carriers if models.get(key) in both.unread})
    if unread and not there:
        return FindingChange.NOT_CHECKED, f"its model wasn't read: {', '.join(unread)}"
    is_there = all(mark in marks for mark in old.circuits) if old.is_of_circuit or not old.carriers else bool(there)
    if not is_there:
        if old.is_of_circuit and not both.new.circuits:
            return FindingChange.NOT_CHECKED, "no circuits were read"
        return FindingChange.GONE, "no longer in the schedule" if old.is_of_circuit else "no longer in the model"
    if old.rule not in rules:
        return FindingChange.NOT_CHECKED, f"{old.rule} judged nothing"
    return FindingChange.GONE, f"the length or circuit is there, and {old.rule} has no such question to it any more"


def _cause(old: Finding | None, new: Finding | None, both: Both) -> Cause:
    """Whether a change is one of what was checked, of the figures that judge, or of both."""
    is_touched = any(_is_touched(row, both) for row in (old, new) if row is not None)
    may_be = both.other_figures or both.other_limits  # else what it is judged by hangs on what it is about alone
    if both.other_code or (may_be and _is_direct(old, new, is_touched=is_touched)):
        return Cause.BOTH if is_touched else Cause.FIGURES
    return Cause.FIGURES if both.other_figures and not is_touched else Cause.CHECKED


def _is_touched(row: Finding, both: Both) -> bool:
    keys = {both.match.new_of.get(key, key) for key in row.carriers}
    return not both.touched.isdisjoint(keys) or not both.circuits.isdisjoint(row.circuits)


def _is_direct(old: Finding | None, new: Finding | None, *, is_touched: bool) -> bool:
    """Whether it is plain from a finding that other figures judge it; a limit of a circuit's current is worked out."""
    if old is None or new is None:
        return False
    if (old.code, old.basis, old.source) != (new.code, new.basis, new.source):
        return bool(old.source and new.source) or old.code != new.code
    is_derived = is_touched or old.is_current or new.is_current
    return not is_derived and old.limit is not None and new.limit is not None and not _alike(old.limit, new.limit)
