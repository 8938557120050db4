"""The answer to "does it fit", as text with its arithmetic, and as the object that machines read."""

from typing import Any

from checker.fit import Answer
from checker.rule import Outcome
from checker.rule.code import Code

CAUTION = "A help to a competent designer: local codes and licensed practice come first."


def covered(answer: Answer) -> str:
    """What the answer covers, and what it doesn't."""
    what = f"fill by {answer.verdict.source}" if answer.verdict.source else "fill"
    return f"Covers {what}. Not current rating, segregation or drawing-in."


def as_object(answer: Answer, code: Code) -> dict[str, Any]:
    """One object; ``fill`` and ``limit`` are ratios, None where they can't be said."""
    verdict = answer.verdict
    found: dict[str, Any] = {
        "carrier": answer.carrier,
        "code": code.key,
        "rule": answer.rule,
        "fill": verdict.value,
        "limit": verdict.limit,
        "measure": verdict.measure,
        "occupied_mm2": answer.occupied_mm2,
        "internal_mm2": answer.internal_mm2,
        "verdict": verdict.outcome.value,
        "basis": verdict.basis,
        "reason": verdict.reason,
        "source": verdict.source,
        "working": list(verdict.working),
        "covers": covered(answer),
        "caution": CAUTION,
    }
    if answer.asked_most:
        found |= {"most": answer.most, "geometry_only_count": None}
    return found


def as_text(answer: Answer, code: Code) -> str:
    """The arithmetic line by line, the answer, and what stands behind it."""
    verdict = answer.verdict
    lines = [answer.carrier, f"  size: {answer.size_source}", *(f"  {line}" for line in verdict.working)]
    if verdict.limit is not None:
        limit = f"{100 * verdict.limit:g} %" if verdict.measure == "area" else f"{verdict.limit:g}"
        lines.append(f"  limit {limit} ({verdict.basis}): {verdict.source}")
    if answer.asked_most:
        if answer.most is None:
            lines.append("How many go in can't be said.")
        elif answer.most == 0:
            lines.append(f"Not even one goes in by the figures of {code.key}.")
        else:
            lines.append(
                f"{answer.most} go in by the figures of {code.key}. Whether they can be laid like that isn't drawn."
            )
    if verdict.outcome is Outcome.UNKNOWN and verdict.limit is None and verdict.value is not None:
        lines.append("For a limit of your own say --space-factor.")
    if verdict.outcome is Outcome.UNKNOWN and answer.wants_run:
        lines.append("What goes into a conduit depends on its run: say --length, and --bends.")
    lines.append(f"{verdict.outcome.value.upper()} under {code.key}: {verdict.reason}")
    return "\n".join([*lines, covered(answer), CAUTION])
