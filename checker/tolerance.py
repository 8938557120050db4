"""How far fill would move if cables and bores were as small, or as large, as their standards let them be.

That changes no verdict: the code says by which size a cable counts. But where the limit lies within that range, how the verdict came to
be hangs on that convention, and its reason says so.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from checker.judging import Judged, asking
from checker.model import LoadedCompartment
from checker.model.texts import listed, natural, percent
from checker.model.tolerance import WITHIN_TOLERANCE
from checker.rule import Limits, Outcome, Rule, Verdict
from checker.rule.code import Code
from checker.units import circle_area_mm2

#: Of these sizes tell; conduit terms go by size classes.
MEASURES = {"area": "", "width": " of the width"}
#: So that what equals its limit on paper isn't beyond it by the last bit of a float.
EXACTLY = 1e-12


@dataclass(frozen=True, slots=True)
class FillRange:
    """Fill with all sizes as their standards let them be, one way and the other, as ratios.

    ``untoleranced``: the circuits with cables of which no tolerance is known; these count at their one size.
    """

    least: float
    most: float
    untoleranced: tuple[str, ...] = ()


def with_ranges(
    judged: Iterable[Judged], rules: Mapping[str, Rule], code: Code
) -> tuple[list[Judged], dict[tuple[str, int], FillRange]]:
    """The same verdicts, those of which the limit lies within the tolerance saying so; and the ranges, by carrier and compartment.

    Args:
        judged: What was answered about compartments.
        rules: By id.
        code: Whose limits hold.
    """
    told, ranges = [], {}
    limits = {key: asking(rules[key], code).limits for key in code.limits}
    for item in judged:
        ends = None
        if item.tells_fill and item.rule in limits and _is_of_sizes(item.verdict):
            ends = _ends(rules[item.rule], item.subject, limits[item.rule], item.verdict)
        if ends is None:
            told.append(item)
            continue
        unknown = untoleranced(item.subject)
        ranges[item.subject.carrier.key, item.subject.number] = FillRange(*ends, unknown)
        told.append(replace(item, verdict=told_within(item.verdict, item.subject, ends)))
    return told, ranges


def fill_range(rule: Rule, subject: LoadedCompartment, limits: Limits) -> tuple[float, float] | None:
    """Fill at both ends of the tolerances, as ratios: the rule itself is asked about both.

    Args:
        rule: The code's rule of fill for that kind of carrier.
        subject: What lies where.
        limits: Of the rule.

    Returns:
        None: no tolerance is known of anything there, what lies there or the inside isn't sure, the rule gives no figure or doesn't go by
        sizes, or it would hold the cables against another limit.
    """
    return _ends(rule, subject, limits, None)


def _ends(rule: Rule, subject: LoadedCompartment, limits: Limits, own: Verdict | None) -> tuple[float, float] | None:
    """The same; ``own`` is what the rule answered as the code counts, None where it wasn't asked."""
    if not any(cable.count for cable in subject.cables) or not _has_tolerance(subject) or not _is_sure(subject):
        return None
    asked = replace(subject, with_working=False).least_loaded()  # it is sure, so that there is no other reading
    own = rule.function(asked, limits) if own is None else own
    if not _is_of_sizes(own):
        return None
    small, large = rule.function(_smallest(asked), limits), rule.function(_largest(asked), limits)
    if {(end.measure, end.limit) for end in (small, large)} != {(own.measure, own.limit)}:
        return None
    if own.value is None or small.value is None or large.value is None:
        return None
    in_order = small.value <= own.value + EXACTLY and own.value <= large.value + EXACTLY
    return (small.value, large.value) if in_order else None


def _is_of_sizes(verdict: Verdict) -> bool:
    return verdict.value is not None and verdict.measure in MEASURES


def told_within(verdict: Verdict, subject: LoadedCompartment, ends: tuple[float, float]) -> Verdict:
    """The same verdict; where its limit lies within the range its reason says so.

    Args:
        verdict: Of the code's rule of fill.
        subject: What it is about.
        ends: What ``fill_range`` gave.
    """
    least, most = ends
    limit = verdict.limit
    # what a rule found besides the figure doesn't hang on it
    if limit is None or verdict.outcome is Outcome.UNKNOWN or verdict.found:
        return verdict
    if not least <= limit + EXACTLY < most:
        return verdict
    by_code = verdict.value is not None and verdict.value <= limit + EXACTLY
    how = ", and with the largest it would be over" if by_code else ", and with the smallest it would be within"
    if by_code is not (verdict.outcome is Outcome.PASS):
        how = ""  # it passes by more than its figure, as where counts round up
    span = f"{percent(least, limit, is_over=False)} and {percent(most, limit, is_over=True)} %"
    words = (
        f"{WITHIN_TOLERANCE} {_whose(subject)}: fill lies between {span}"
        f"{MEASURES.get(verdict.measure, '')}, limit {100 * limit:g} %{how}"
    )
    notes = []
    planned = {cable.circuit for cable in subject.cables if cable.count and cable.tolerance and cable.planning}
    if planned:
        notes.append(f"those of {_marks(planned)} are planning values")
    if unknown := untoleranced(subject):
        notes.append(f"cables of {_marks(unknown)} count at their one size, as no tolerance of theirs is known")
    return replace(verdict, reason="; ".join((verdict.reason, words, *notes)))


def untoleranced(subject: LoadedCompartment) -> tuple[str, ...]:
    """The circuits with cables of which no tolerance is known, sorted."""
    marks = {cable.circuit for cable in subject.cables if cable.count and cable.tolerance is None}
    return tuple(sorted(marks, key=lambda mark: (natural(mark), mark)))


def _is_sure(subject: LoadedCompartment) -> bool:
    """Whether there is one reading of it: else its figure is a bound already, and a range around that would be none of the fill."""
    is_ranged = any(cable.is_ranged for cable in subject.cables)
    is_doubtful = subject.size_doubt or subject.possible or subject.unbounded
    return not (is_ranged or is_doubtful or subject.occupied_mm2 is None)


def _has_tolerance(subject: LoadedCompartment) -> bool:
    return subject.bore_tolerance_mm is not None or any(cable.tolerance for cable in subject.cables if cable.count)


def _smallest(subject: LoadedCompartment) -> LoadedCompartment:
    """All cables as thin, and the bore as wide, as may be."""
    thin = tuple(cable.thinnest() for cable in subject.cables)
    return replace(_with_bore(subject, subject.bore_tolerance_mm or 0.0), cables=thin)


def _largest(subject: LoadedCompartment) -> LoadedCompartment:
    """All cables as thick, and the bore as narrow, as may be."""
    thick = tuple(cable.thickest() for cable in subject.cables)
    return replace(_with_bore(subject, -(subject.bore_tolerance_mm or 0.0)), cables=thick)


def _with_bore(subject: LoadedCompartment, more_mm: float) -> LoadedCompartment:
    if not more_mm or subject.bore_mm is None:
        return subject
    bore = max(subject.bore_mm + more_mm, 0.0)
    return replace(subject, area_mm2=circle_area_mm2(bore), bore_mm=bore, width_mm=bore, side_mm=bore)


def _whose(subject: LoadedCompartment) -> str:
    """What has the tolerance, in words."""
    is_of_cables = any(cable.tolerance for cable in subject.cables if cable.count)
    parts = ["the cables' sizes"] if is_of_cables else []
    return " and ".join([*parts, *(["the conduit's bore"] if subject.bore_tolerance_mm is not None else [])])


def _marks(marks: Iterable[str]) -> str:
    return listed(sorted(marks, key=lambda mark: (natural(mark), mark)))
