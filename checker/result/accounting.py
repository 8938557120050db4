"""The accounts: everything that was read is checked, or unknown with a reason, and the sums agree."""

from dataclasses import dataclass

from checker.result.ratings import worst_ratings
from checker.result.tables import Result


@dataclass(frozen=True, slots=True)
class Counts:
    """What was read and what became of it. Carriers are segments, not fittings."""

    carriers_read: int
    carriers_checked: int
    carriers_unknown: int
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
    topics: int


def count(result: Result) -> Counts:
    """Counts a result. ``circuits_removed`` are among the unrouted: there is nothing to route.

    ``circuits_rated``, ``circuits_rating_unknown`` and ``circuits_without_load`` add up to the circuits read.
    """
    verdicts = [finding.verdict for finding in result.findings]
    checked = sum(row.checked for row in result.carriers)
    ratings = worst_ratings(result)
    rated = sum(row.circuit in ratings and ratings[row.circuit].verdict != "unknown" for row in result.circuits)
    without_load = sum(not row.is_loaded for row in result.circuits)
    routed = sum(row.is_routed for row in result.circuits)
    return Counts(
        carriers_read=len(result.carriers),
        carriers_checked=checked,
        carriers_unknown=len(result.carriers) - checked,
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
        topics=len(result.topics),
    )


def exit_status(result: Result) -> int:
    """0: everything passes or is waived; 1: something fails; 3: nothing fails, but something is unknown or was not looked at."""
    counts = count(result)
    if counts.findings_fail:
        return 1
    unrouted = counts.circuits_unrouted > counts.circuits_removed
    if counts.findings_unknown or counts.carriers_unknown or unrouted or not counts.carriers_read:
        return 3
    return 0
