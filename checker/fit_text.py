"""The answer to "does it fit", as text with its arithmetic, and as the object that machines read."""

from collections.abc import Iterable
from typing import Any

from checker.fit import Answer, Going
from checker.fit.carriers import is_outside_inferred
from checker.model import LoadedCompartment, PlacedCable, Run
from checker.model.texts import listed, percent
from checker.rule import Outcome, Verdict
from checker.rule.code import Code
from checker.tolerance import untoleranced

CAUTION = "A help to a competent designer: local codes and licensed practice come first."
GEOMETRY_ONLY = "geometry only, not an allowance"
#: The two ends of what isn't certain.
LEAST, MOST, BOTH = "least", "most", "both"
#: Ratios of these are told in per cent, those of terms as they are.
IN_PER_CENT = {"area", "width"}


def covered(verdict: Verdict) -> str:
    """What the answer covers, and what it doesn't."""
    what = f"fill by {verdict.source}" if verdict.source else "fill"
    return f"Covers {what}. Not current rating, segregation or drawing-in."


def limit_words(verdict: Verdict) -> str:
    """The limit as people read it; empty where there is none."""
    return "" if verdict.limit is None else ratio_words(verdict.limit, verdict.measure)


def ratio_words(ratio: float, measure: str) -> str:
    """A fill or its limit as people read it: a share of area or width in per cent, terms as a figure."""
    return f"{100 * ratio:.4g} %" if measure in IN_PER_CENT else f"{ratio:.4g}"


def as_object(answer: Answer, code: Code) -> dict[str, Any]:
    """One object; ``fill`` and ``limit`` are ratios, None where they can't be said."""
    verdict = answer.verdict
    found: dict[str, Any] = {
        "carrier": answer.carrier,
        "code": code.key,
        "rule": answer.rule,
        "fill": verdict.value,
        "fill_is_at_least": verdict.at_least,
        "limit": verdict.limit,
        "measure": verdict.measure,
        "fill_least": None if answer.ends is None else answer.ends[0],
        "fill_most": None if answer.ends is None else answer.ends[1],
        "occupied_mm2": answer.occupied_mm2,
        "occupied_least_mm2": answer.occupied_least_mm2,
        "internal_mm2": answer.internal_mm2,
        "verdict": answer.outcome.value,
        "basis": verdict.basis,
        "reason": answer.decisive.reason,
        "source": verdict.source,
        "working": list(verdict.working),
        "working_at_most": [] if answer.against is None else list(answer.against.working),
        "room_left": [{"cable": left.cable, "count": left.count} for left in answer.left],
        "covers": covered(verdict),
        "caution": CAUTION,
    }
    if answer.spare is not None:
        found["spare"] = spare_object(answer.spare)
    if not answer.asked_most:
        found["geometry_only"] = going_object(answer.going)
    else:
        found |= {"most": answer.most, "geometry_only_count": answer.geometry_only_count}
    return found


def spare_object(spare: Verdict) -> dict[str, Any]:
    """What was said of the spare that is wanted; ``fill`` is with the spare on top."""
    return {"fill": spare.value, "limit": spare.limit, "verdict": spare.outcome.value, "reason": spare.reason}


def going_object(going: Going) -> dict[str, str | None]:
    """Whether a place was found for all, and why not; the outcome is None where it wasn't looked for."""
    return {"outcome": going.found or None, "why": going.why}


def going_words(going: Going) -> list[str]:
    """Whether a place was found for all, as a line; none where it wasn't looked for."""
    if not going.found:
        return []
    why = f", {going.why}" if going.why else ""
    if going.found == "found":
        return [f"A place was found for all of them in a drawing{why}: {GEOMETRY_ONLY}."]
    proves = "" if going.found == "impossible" else ", which proves nothing; see how they are to lie"
    return [f"No place was found for all of them in a drawing{why}{proves}: geometry only."]


def tolerance_words(answer: Answer) -> list[str]:
    """Between what the fill lies by what standards let sizes be, as a line; none where that isn't known."""
    if answer.ends is None:
        return []
    verdict, (least, most) = answer.verdict, answer.ends
    low, high, where = f"{100 * least:.1f}", f"{100 * most:.1f}", ""
    if verdict.limit is not None and least <= verdict.limit < most:
        low, high = percent(least, verdict.limit, is_over=False), percent(most, verdict.limit, is_over=True)
        where = ", the limit lies between"
    line = f"with sizes as small and as large as their standards let them be: {low} to {high} %{where}"
    if others := untoleranced(answer.subject):
        line += f"; {listed(others)} at one size, as no tolerance is known"
    return [line]


def as_text(answer: Answer, code: Code) -> str:
    """The arithmetic line by line, the answer, and what stands behind it."""
    verdict = answer.verdict
    lines = [
        answer.carrier,
        f"  size: {size_words(answer)}",
        *(f"  {line}" for line in working(answer.subject, verdict, answer.against)),
    ]
    if verdict.limit is not None:
        lines.append(f"  limit {limit_words(verdict)} ({verdict.basis}): {verdict.source}")
    lines += [f"  {line}" for line in tolerance_words(answer)]
    if answer.asked_most:
        lines += _most(answer, code)
    lines += [*going_words(answer.going), *left_words(answer, code)]
    if verdict.outcome is Outcome.UNKNOWN and verdict.limit is None and verdict.value is not None:
        lines.append("For a limit of your own say --space-factor.")
    if verdict.outcome is Outcome.UNKNOWN and answer.wants_run:
        lines.append(f"What goes into a conduit depends on its run: say {lacks_of_run(answer.subject.run)}.")
    lines.append(f"{answer.outcome.value.upper()} under {code.key}: {answer.decisive.reason}")
    return "\n".join([*lines, covered(verdict), *planning(answer.subject.cables), CAUTION])


def decides(verdict: Verdict, against: Verdict | None) -> str:
    """Which end of what isn't certain the answer hangs on: ``most``, ``least``, or ``both`` where they don't agree.

    Args:
        verdict: The answer; its arithmetic is that of the least.
        against: The rule's answer at the most; None: there is nothing uncertain.
    """
    if against is None:
        return LEAST
    if verdict.outcome is Outcome.UNKNOWN:
        return BOTH
    return MOST if against.outcome is Outcome.PASS else LEAST


def end_words(subject: LoadedCompartment, end: str) -> str:
    """One end of what isn't certain, ``least`` or ``most``, as in "with the largest cables and the least inside"."""
    cables, inside = ("largest cables", "least inside") if end == MOST else ("smallest cables", "most inside")
    parts = [*([cables] if subject.range_doubt else []), *([inside] if subject.size_doubt else [])]
    return f"with the {' and the '.join(parts)}" if parts else f"at the {end} that it can be"


def working(subject: LoadedCompartment, verdict: Verdict, against: Verdict | None) -> list[str]:
    """The arithmetic as the rule did it; where sizes or a wall aren't certain at the end that decides, or at both, which is said.

    Args:
        subject: What it is about.
        verdict: The answer; its arithmetic is that of the least.
        against: The rule's answer at the most; None: there is nothing uncertain.
    """
    if against is None:
        return list(verdict.working)
    lines, end = {LEAST: verdict.working, MOST: against.working}, decides(verdict, against)
    if end == BOTH:
        return [
            line for one, own in lines.items() for line in (f"{end_words(subject, one)}:", *(f"  {it}" for it in own))
        ]
    other = LEAST if end == MOST else MOST
    return [
        f"{end_words(subject, end)}, which decides:",
        *(f"  {line}" for line in lines[end]),
        *(f"{end_words(subject, other)}: {line}" for line in lines[other][-1:]),
    ]


def size_words(answer: Answer) -> str:
    """Where the size comes from; and what of it is inferred."""
    carrier = answer.subject.carrier
    if not is_outside_inferred(carrier):
        return answer.size_source
    return f"{answer.size_source}; outside {carrier.section.outside_diameter_mm:g} mm, inferred from the code's table of bores"


def lacks_of_run(run: Run | None) -> str:
    """The options that would say what isn't known of a run; empty where all of it is."""
    lacking = [
        *(["--length"] if run is None or run.length_m is None else []),
        *(["--bends"] if run is None or run.bends_deg is None else []),
    ]
    return ", and ".join(lacking)


def planning(cables: Iterable[PlacedCable]) -> list[str]:
    """A line about cables whose size no standard fixes; none where there are none."""
    keys = [cable.key or cable.circuit for cable in cables if cable.planning and cable.count]
    if not keys:
        return []
    return [f"Sizes to plan with, no standard fixes them, so take the maker's: {', '.join(dict.fromkeys(keys))}."]


def _most(answer: Answer, code: Code) -> list[str]:
    if answer.most is None:
        lines = ["How many go in can't be said."]
    elif answer.most == 0:
        lines = [f"Not even one goes in by the figures of {code.key}."]
    else:
        lines = [f"{answer.most} go in by the figures of {code.key}."]
    count = answer.geometry_only_count
    if count is None:
        return [*lines, f"For how many a place can be found in a drawing isn't said ({GEOMETRY_ONLY})."]
    lines.append(f"A place was found for {count} in a drawing: {GEOMETRY_ONLY}.")
    if answer.most is not None and count < answer.most:
        lines.append(
            "Fewer than by the code: go by the fewer. The code's figures may be for another bore, higher sides or thinner cables."
        )
    return lines


def left_words(answer: Answer, code: Code) -> list[str]:
    """The room that is left, for each kind that was listed; only one of them at a time."""
    told = [f"{left.count} more {left.cable}" for left in answer.left if left.count]
    unsaid = [left.cable for left in answer.left if left.count is None]
    lines = [f"Room left by {code.key} for: {', or '.join(told)}."] if told else []
    if answer.left and not told and not unsaid:
        lines = ["No room left for another cable of these kinds."]
    return [*lines, *([f"How many more can't be said: {', '.join(unsaid)}."] if unsaid else [])]
