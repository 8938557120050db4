"""The accounts: everything that was read is checked, or unknown with a reason, and the sums agree."""

from collections import Counter
from dataclasses import dataclass

from checker.model import ProblemKind
from checker.result.ratings import worst_ratings
from checker.result.tables import Result


@dataclass(frozen=True, slots=True)
class Counts:
    """What was read and what became of it. Carriers are segments, not fittings.

    ``carriers_demolished`` are in no other count: they are left out of everything. ``topics`` are the issue notes of what fails,
    ``requests`` those that ask something; notes that earlier runs or people raised are in neither.
    """

    carriers_read: int
    carriers_checked: int
    carriers_unknown: int
    carriers_demolished: int
    compartments_read: int
    compartments_failing: int
    circuits_read: int
    circuits_routed: int
    circuits_unrouted: int
    circuits_removed: int
    circuits_rated: int
    circuits_rating_unknown: int
    circuits_without_load: int
    findings_pass: int
    findings_fail: int
    findings_unknown: int
    findings_waived: int
    problems: int
    problems_gap: int
    problems_correction: int
    problems_assumption: int
    problems_inference: int
    topics: int
    requests: int = 0


def count(result: Result) -> Counts:
    """Counts a result. ``circuits_removed`` are among the unrouted: there is nothing to route.

    ``circuits_rated``, ``circuits_rating_unknown`` and ``circuits_without_load`` add up to the circuits read; ``problems_gap`` and the
    other kinds to the problems.
    """
    verdicts = [finding.verdict for finding in result.findings]
    checked = sum(row.checked for row in result.carriers)
    ratings = worst_ratings(result)
    rated = sum(row.circuit in ratings and ratings[row.circuit].verdict != "unknown" for row in result.circuits)
    without_load = sum(not row.is_loaded for row in result.circuits)
    routed = sum(row.is_routed for row in result.circuits)
    kinds = Counter(problem.kind for problem in result.problems)
    return Counts(
        carriers_read=len(result.carriers),
        carriers_checked=checked,
        carriers_unknown=len(result.carriers) - checked,
        carriers_demolished=len(result.demolished),
        compartments_read=len(result.compartments),
        compartments_failing=sum(row.worst_verdict == "fail" for row in result.compartments),
        circuits_read=len(result.circuits),
        circuits_routed=routed,
        circuits_unrouted=len(result.circuits) - routed,
        circuits_removed=sum(row.state == "removed" for row in result.circuits),
        circuits_rated=rated,
        circuits_rating_unknown=len(result.circuits) - without_load - rated,
        circuits_without_load=without_load,
        findings_pass=verdicts.count("pass"),
        findings_fail=verdicts.count("fail"),
        findings_unknown=verdicts.count("unknown"),
        findings_waived=verdicts.count("waived"),
        problems=len(result.problems),
        problems_gap=kinds[ProblemKind.GAP],
        problems_correction=kinds[ProblemKind.CORRECTION],
        problems_assumption=kinds[ProblemKind.ASSUMPTION],
        problems_inference=kinds[ProblemKind.INFERENCE],
        topics=len(result.topics),
        requests=len(result.requests),
    )


def carriers_in_words(counts: Counts) -> str:
    """The sums of carriers; that with the demolished ones only where there are any."""
    told = f"{counts.carriers_read} read = {counts.carriers_checked} checked + {counts.carriers_unknown} unknown"
    if counts.carriers_demolished:
        whole = counts.carriers_read + counts.carriers_demolished
        told += f"; {whole} in the models = {counts.carriers_read} read + {counts.carriers_demolished} marked as demolished and left out"
    return f"{told}."


def notes_in_words(counts: Counts) -> str:
    """How many issue notes a run raises: of what fails, and of those besides that ask something, if there are any."""
    return f"{counts.topics}{f', and {counts.requests} with questions' if counts.requests else ''}"


def exit_status(result: Result) -> int:
    """0: everything passes or is waived; 1: something fails; 3: nothing fails, but something is unknown or was not looked at."""
    counts = count(result)
    if counts.findings_fail:
        return 1
    unrouted = counts.circuits_unrouted > counts.circuits_removed
    if counts.findings_unknown or counts.carriers_unknown or unrouted or not counts.carriers_read:
        return 3
    return 0
