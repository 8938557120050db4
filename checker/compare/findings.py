"""What became of each finding."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from checker.compare.causes import Both, alike, cause_of, is_touched
from checker.compare.matching import Match
from checker.compare.tables import Cause, FindingChange, FindingRow
from checker.compare.vanished import Vanished
from checker.model.texts import listed, natural
from checker.result.facts import run_facts
from checker.result.gravity import gravity
from checker.result.notes import is_of_figure
from checker.result.tables import FindingRow as Finding

#: With this begins by whom a finding is waived, at the end of its reason.
WAIVED_BY = "waived by "
_ORDER = tuple(FindingChange)


def finding_changes(both: Both) -> tuple[FindingRow, ...]:
    """A row for each finding of both, those to be looked at first first, the gravest of a class before the others."""
    facts = [run_facts(result).findings for result in (both.old, both.new)]
    storeys = {row.key: row.place.storey for row in (*both.old.carriers, *both.new.carriers)}
    vanished = Vanished(both)
    rows = []
    for old, new in matched(both):
        one = new or old
        assert one is not None  # noqa: S101 - a pair has a finding
        if new is not None:
            change = _change(old, new)
            told = list(_differing(old, new, both)) if old is not None else []
            told += _reasons(new) if new.verdict != "pass" else []
            told += _before(old, new) if old is not None else []
            told += ["the carrier was made anew"] if not both.anew.isdisjoint(new.carriers) else []
            cause = cause_of(old, new, both) if change is not FindingChange.SAME else Cause.NONE
        else:
            change, why, is_there = vanished.told(one, touching=is_touched(one, both))
            told = [why]
            cause = cause_of(one, None, both) if is_there else Cause.CHECKED
        label = (facts[1] if new else facts[0])[one.id].label
        row = FindingRow(
            change, cause, one.rule, label, next((storeys.get(key, "") for key in one.carriers), ""), one.circuits,
            old.id if old else "", new.id if new else "", old.verdict if old else "", new.verdict if new else "",
            facts[0][old.id].shown if old else "", facts[1][new.id].shown if new else "", old.use if old else None,
            new.use if new else None, "; ".join(told),
        )  # fmt: skip
        rows.append(((_ORDER.index(change), cause is Cause.FIGURES, *gravity(one)[:3], natural(label), one.id), row))
    return tuple(row for _, row in sorted(rows, key=lambda item: item[0]))


def _reasons(row: Finding) -> list[str]:
    """Why it is so; of a waived one first by whom it is waived."""
    before, by, who = row.reason.partition(WAIVED_BY) if row.verdict == "waived" else (row.reason, "", "")
    return [f"{by}{who}", before.rstrip("; ,")] if by else [row.reason]


def matched(both: Both) -> list[tuple[Finding | None, Finding | None]]:
    """Findings of both, each once: by id, else by rule and what they are about, where only one on either side is about that.

    What is about a carrier at another wall or fitting than before is another finding.
    """
    pairs: list[tuple[Finding | None, Finding | None]] = []
    old, new = list(both.old.findings), list(both.new.findings)
    # keys that stand for another carrier now, so that ids which are made of them do too
    keys = [{row.key for row in result.carriers} for result in (both.old, both.new)]
    reused = {key for key in keys[0] & keys[1] if both.match.new_of.get(key) != key}
    told: tuple[Callable[[Finding, bool], object], ...] = (
        lambda row, is_old: row.id if row.is_of_circuit or reused.isdisjoint(row.carriers) else (row.id, is_old),
        lambda row, is_old: (_about(row, both.match if is_old else None), row.at, tuple(sorted(row.circuits))),
        lambda row, is_old: (_about(row, both.match if is_old else None), row.at),
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


def _change(old: Finding | None, new: Finding) -> FindingChange:
    """The class of a finding that NEW has."""
    before, after = old.verdict if old else "", new.verdict
    if old is None or before != after:
        became = {
            "fail": FindingChange.NEW, "unknown": FindingChange.NEWLY_UNKNOWN, "waived": FindingChange.WAIVED,
        }.get(after)  # fmt: skip
        if became is not None:
            return became
        if old is None:
            return FindingChange.ADDED
        return FindingChange.KNOWN if before == "unknown" else FindingChange.FIXED
    if after in {"fail", "waived"} and is_of_figure(old) and is_of_figure(new):
        uses = (old.use, new.use)
        if uses[0] is not None and uses[1] is not None and not alike(*uses):
            if uses[1] > uses[0]:
                return FindingChange.WORSE
            if uses[1] < uses[0] and not new.at_least:  # of what is the least that it can be, less isn't better
                return FindingChange.BETTER
    return FindingChange.SAME if _is_same(old, new) else FindingChange.CHANGED


def _is_same(old: Finding, new: Finding) -> bool:
    if not (alike(old.value, new.value) and alike(old.limit, new.limit)):
        return False
    if (old.verdict == "unknown" or not is_of_figure(new)) and old.reason != new.reason:
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
        row.waived_by,
    )


def _differing(old: Finding, new: Finding, both: Both) -> Iterable[str]:
    """By what two findings on the same differ besides figures and verdicts, in words."""
    before, after = set(old.circuits), set(new.circuits)
    if came := sorted(after - before, key=natural):
        yield f"now with {listed(came)}"
    if went := sorted(before - after, key=natural):
        lost = listed([mark for mark in went if mark in both.lost])
        yield f"no longer with {listed(went)}" + (f", but of {lost} the way isn't known now" if lost else "")
    may_be = both.other_figures or (both.other_limits and "project" in {old.basis, new.basis})  # else it's no news
    if old.code != new.code:
        yield f"code {old.code} → {new.code}"
    elif may_be and old.source != new.source and old.source and new.source:
        yield f"by {new.source}, before by {old.source}"


def _before(old: Finding, new: Finding) -> Iterable[str]:
    """What stood there before, after what stands there now."""
    is_reason = new.verdict in {"unknown", "fail"} and not is_of_figure(new)
    if is_reason and old.verdict == new.verdict and old.reason != new.reason:
        yield f"before: {old.reason}"
    if old.waived_by and old.waived_by != new.waived_by:
        yield f"before: {_reasons(old)[0]}"
