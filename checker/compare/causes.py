"""Whether a change of a finding is one of what was checked, of the figures that judge, or of a waiver."""

from collections.abc import Iterable
from dataclasses import dataclass

from checker.compare.carriers import same
from checker.compare.matching import Match
from checker.compare.tables import CarrierRow, Cause, CircuitRow
from checker.result.tables import FindingRow as Finding
from checker.result.tables import Result
from checker.result.waiver_tables import FAMILY

#: Figures whose share differs by no more than this are the same: sums are added in other orders.
SAME_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class Both:
    """What is known of both results.

    ``touched`` are keys of NEW (of OLD, where there is none) and ``circuits`` marks that changed. ``other_code``: another code, edition
    or figures of it; ``other_figures``: that, or other tables or another version; ``other_limits``: another project file, which may have
    limits. ``unread`` are models; ``lost`` marks of circuits that had a way, or were read, and aren't now.
    """

    old: Result
    new: Result
    match: Match
    touched: frozenset[str]
    circuits: frozenset[str]
    anew: frozenset[str]
    unread: frozenset[str]
    lost: frozenset[str]
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


def cause_of(old: Finding | None, new: Finding | None, both: Both) -> Cause:
    """Whether a change is one of what was checked, of the figures that judge, of a waiver, or of both of the first."""
    if _is_of_waiver(old, new):
        return Cause.WAIVER
    touching = any(is_touched(row, both) for row in (old, new) if row is not None)
    may_be = both.other_figures or both.other_limits  # else what it is judged by hangs on what it is about alone
    if both.other_code or (may_be and _is_direct(old, new, both, touching=touching)):
        return Cause.BOTH if touching else Cause.FIGURES
    return Cause.FIGURES if both.other_figures and not touching else Cause.CHECKED


def _is_of_waiver(old: Finding | None, new: Finding | None) -> bool:
    """Whether all that is another is that somebody waives it, or no longer does; or it is about a waiver itself."""
    if any(row is not None and row.rule.startswith(f"{FAMILY}.") for row in (old, new)):
        return True
    if old is None or new is None or {old.verdict, new.verdict} not in ({"fail", "waived"}, {"waived"}):
        return False
    return old.waived_by != new.waived_by and alike(old.value, new.value) and alike(old.limit, new.limit)


def is_touched(row: Finding, both: Both) -> bool:
    """Whether something changed of what a finding is about."""
    keys = {both.match.new_of.get(key, key) for key in row.carriers}
    return not both.touched.isdisjoint(keys) or not both.circuits.isdisjoint(row.circuits)


def _is_direct(old: Finding | None, new: Finding | None, both: Both, *, touching: bool) -> bool:
    """Whether it is plain from a finding that other figures judge it.

    A limit of a circuit's current is worked out, and its source says from what; another project file alone sets no figures but its own.
    """
    if old is None or new is None:
        return False
    if old.code != new.code:
        return True
    is_derived = touching or old.is_current or new.is_current
    may_say = both.other_figures or "project" in {old.basis, new.basis}
    if may_say and not is_derived and (old.basis, old.source) != (new.basis, new.source) and old.source and new.source:
        return True
    if may_say and old.basis != new.basis and "project" in {old.basis, new.basis}:
        return True
    return not is_derived and old.limit is not None and new.limit is not None and not alike(old.limit, new.limit)


def alike(one: float | None, other: float | None) -> bool:
    """Whether two figures are the same but for how they were added up."""
    largest = max(abs(one or 0.0), abs(other or 0.0))
    return same(one, other, SAME_SHARE * largest if largest != float("inf") else 0.0)
