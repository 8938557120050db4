"""Compares two results; reads like the list of what there is to compare."""

from checker.compare.carriers import carrier_changes
from checker.compare.causes import Both, touched
from checker.compare.circuits import circuit_changes
from checker.compare.findings import finding_changes
from checker.compare.heads import (
    code_figures,
    differences,
    figures,
    other_project,
    same_inputs,
    side_of,
    unread_models,
    without_schedule,
)
from checker.compare.matching import match_carriers
from checker.compare.tables import CircuitChange, Comparison
from checker.result.tables import Result


def compare(old: Result, new: Result) -> Comparison:
    """Compares two results of one building, OLD the earlier one.

    Args:
        old: A result, as ``checker.check`` gives it.
        new: Another.
    """
    match = match_carriers(old.carriers, new.carriers)
    other_figures = bool(figures(old, new))
    unread = frozenset(unread_models(old, new, match))
    is_unread = without_schedule(old, new)
    carriers = carrier_changes(old, new, match, unread, same_figures=not other_figures)
    circuits = circuit_changes(old, new, match, same_figures=not other_figures, is_unread=is_unread)
    keys, marks = touched(old, new, match, carriers, circuits)
    if same_inputs(old, new):  # whatever differs is a matter of how it was judged
        keys, marks = frozenset(), frozenset()
    both = Both(
        old,
        new,
        match,
        keys,
        marks,
        match.anew,
        unread,
        lost=frozenset(row.circuit for row in circuits if row.lost_way or row.change is CircuitChange.NOT_READ),
        other_code=any(True for _ in code_figures(old, new)),
        other_figures=other_figures,
        other_limits=other_project(old, new),
    )
    return Comparison(
        side_of(old), side_of(new), differences(old, new, match), finding_changes(both), carriers, circuits
    )
