"""The answer to "what size", as text with its arithmetic, and as the object that machines read."""

from collections.abc import Iterable
from typing import Any

from checker.fit.carriers import trade_size
from checker.fit_text import (
    CAUTION,
    covered,
    going_object,
    going_words,
    lacks_of_run,
    limit_words,
    planning,
    spare_object,
    working,
)
from checker.model.texts import listed
from checker.rule import Outcome, Verdict
from checker.rule.code import Code
from checker.size import Family, SizeAnswer, Taken, Tried


def as_object(answer: SizeAnswer, code: Code) -> dict[str, Any]:
    """One object, family by family; fills and limits are ratios."""
    return {
        "code": code.key,
        "cables": [{"cable": cable.key, "count": cable.count} for cable in answer.cables],
        "verdict": answer.outcome.value,
        "families": [_family_object(family) for family in answer.families],
        "covers": covered(_some_verdict(answer)),
        "caution": CAUTION,
    }


def _family_object(family: Family) -> dict[str, Any]:
    return {
        "kind": family.kind.value,
        "family": family.name,
        "verdict": family.outcome.value,
        "smallest": family.taken[0].tried.carrier.key if family.taken else None,
        "carriers": [_taken_object(taken) for taken in family.taken],
        "unknown": [tried.carrier.key for tried in family.unknown],
        "largest": None if family.taken else _tried_object(family.largest),
    }


def _taken_object(taken: Taken) -> dict[str, Any]:
    smaller = None if taken.smaller is None else _tried_object(taken.smaller)
    return {
        **_tried_object(taken.tried),
        "working": list(taken.tried.judged.fill.working),
        "working_at_most": [] if taken.tried.judged.against is None else list(taken.tried.judged.against.working),
        "geometry_only": going_object(taken.going),
        "next_smaller": smaller,
    }


def _tried_object(tried: Tried) -> dict[str, Any]:
    carrier, judged = tried.carrier, tried.judged
    found = {
        "key": carrier.key,
        "trade_size": carrier.trade_size,
        "width_mm": carrier.width_mm,
        "height_mm": carrier.height_mm,
        "inside_diameter_mm": carrier.inside_diameter_mm,
        "internal_mm2": tried.subject.area_mm2,
        "verdict": tried.outcome.value,
        "rule": judged.rule,
        "fill": judged.fill.value,
        "limit": judged.fill.limit,
        "measure": judged.fill.measure,
        "basis": judged.fill.basis,
        "source": judged.fill.source,
        "reason": judged.decisive.reason,
    }
    return found if judged.spare is None else found | {"spare": spare_object(judged.spare)}


def as_text(answer: SizeAnswer, code: Code) -> str:
    """The smallest of each family with its arithmetic, and what would be next smaller."""
    bundle = ", ".join(f"{cable.count} × {cable.key}" for cable in answer.cables)
    lines = [f"For {bundle}, the smallest of each family by the figures of {code.key}:"]
    for family in answer.families:
        if family.taken:
            lines += ["", f"{family.name} ({family.kind})", *_taken_lines(family)]
    for outcome, words in ((Outcome.UNKNOWN, "It can't be said of:"), (Outcome.FAIL, "Nothing takes them of:")):
        rest = [family for family in answer.families if family.outcome is outcome]
        if rest:
            lines += ["", words, *_left_out(rest)]
    lines.append("")
    runs = [family.unknown[-1].subject.run for family in answer.families if family.unknown and family.kind == "conduit"]
    if answer.wants_run and runs:
        lines.append(f"What goes into a conduit may depend on its run: say {lacks_of_run(runs[0])}.")
    told = {
        Outcome.PASS: "Something takes it",
        Outcome.FAIL: "Nothing in the catalogue takes it",
        Outcome.UNKNOWN: "Whether anything takes it can't be said",
    }[answer.outcome]
    lines.append(f"{answer.outcome.value.upper()} under {code.key}: {told}.")
    lines.append("Covers fill by the sources that are named. Not current rating, segregation or drawing-in.")
    return "\n".join([*lines, *planning(answer.cables), CAUTION])


def _taken_lines(family: Family) -> list[str]:
    lines = []
    for number, taken in enumerate(family.taken):
        tried = taken.tried
        lead = "smallest" if number == 0 else "or, of another shape"
        lines.append(f"  {lead}: {_called(tried)}")
        lines += [f"    {line}" for line in working(tried.subject, tried.judged.fill, tried.judged.against)]
        fill = tried.judged.fill
        if fill.limit is not None:
            lines.append(f"    limit {limit_words(fill)} ({fill.basis}): {fill.source}")
        if tried.judged.spare is not None:
            lines.append(f"    spare: {tried.judged.spare.reason}")
        if taken.smaller is not None:
            smaller = taken.smaller
            what = "fails" if smaller.outcome is Outcome.FAIL else "can't be said"
            lines.append(f"    next smaller, {_called(smaller)}, {what}: {smaller.judged.decisive.reason}")
        else:
            lines.append("    none smaller is in the catalogue")
        lines.append(f"    {_going(taken)}")
    return lines


def _going(taken: Taken) -> str:
    lines = going_words(taken.going)
    return lines[0] if lines else f"Whether they go in by geometry isn't drawn: {taken.going.why}."


def _left_out(families: Iterable[Family]) -> list[str]:
    """Why none takes it, those with one reason in a line."""
    alike: dict[str, list[str]] = {}
    for family in families:
        tried = family.unknown[-1] if family.unknown else family.largest
        told = f"{family.name} ({family.kind}), up to {_called(tried)}"
        alike.setdefault(tried.judged.decisive.reason, []).append(told)
    return [f"  {'; '.join(names)}: {reason}" for reason, names in alike.items()]


def _called(tried: Tried) -> str:
    """Trade size and key."""
    size = trade_size(tried.carrier)
    return f"{size} ({tried.carrier.key})" if size else tried.carrier.key


def _some_verdict(answer: SizeAnswer) -> Verdict:
    """The sources of all that takes it, as one verdict, for what is covered."""
    sources = list(
        dict.fromkeys(taken.tried.judged.fill.source for family in answer.families for taken in family.taken)
    )
    return Verdict(answer.outcome, "", source=listed([it for it in sources if it], 3, "; "))
