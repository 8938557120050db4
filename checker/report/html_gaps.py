"""Circuits of which all or part of the way isn't known, and how much else isn't: what stands before anything that fails."""

from collections import defaultdict
from collections.abc import Iterator, Mapping

from checker.model import ProblemKind
from checker.model.texts import natural
from checker.report.html_markup import Html, name, tag
from checker.report.html_places import Places, cut
from checker.report.html_unknown import how_many
from checker.result.network_tables import HAS_GAP
from checker.result.tables import Result

#: So many circuits are named with their reasons; the table of circuits has the others.
MOST_CIRCUITS = 20


def gap_reasons(result: Result) -> dict[str, str]:
    """By its mark, why the way of a circuit has a gap."""
    told: dict[str, list[str]] = defaultdict(list)
    for problem in result.problems:
        if problem.kind is ProblemKind.GAP:
            told[problem.where].append(f"{problem.what} ({problem.why})" if problem.why else problem.what)
    marks = dict.fromkeys(row.circuit for row in result.take_off if row.reason == HAS_GAP)
    return {mark: "; ".join(told.get(f"circuit {mark}", ())) or "it doesn't hang together" for mark in marks}


def open_matters(result: Result, places: Places) -> Iterator[Html]:
    """Circuits without a way, those whose way has a gap, and how many answers aren't known, as far as there are any."""
    without = {row.circuit: row.reason for row in result.circuits if not row.is_routed and row.state != "removed"}
    yield from _circuits(without, "no way")
    yield from _circuits(gap_reasons(result), "a way with a gap")
    if unknown := how_many(result, places):
        told = "1 thing isn't known" if unknown == 1 else f"{unknown} things aren't known"
        yield tag("p", tag("strong", told), " of lengths, circuits and ratings: see ",
                  tag("a", "Unknown, and why", href="#unknown"), ".")  # fmt: skip


def _circuits(reasons: Mapping[str, str], what: str) -> Iterator[Html]:
    """How many circuits have what, and the first of them with their reasons."""
    if not reasons:
        return
    marks = sorted(reasons, key=lambda mark: (natural(mark), mark))
    told, whose = ("1 circuit has", "its") if len(marks) == 1 else (f"{len(marks)} circuits have", "their")
    yield tag("p", tag("strong", f"{told} {what}"), f", so where all {whose} cables lie isn't known:")
    lines = (
        tag("li", tag("b", name(mark)), ": ", cut(reasons[mark] or "no reason is given"))
        for mark in marks[:MOST_CIRCUITS]
    )
    yield tag("ul", *lines, class_="reasons")
    if len(marks) > MOST_CIRCUITS:
        yield tag("p", f"and {len(marks) - MOST_CIRCUITS} more: see ", tag("a", "Circuits", href="#circuits"), ".")
