"""What is to be said of a drawing, and what it shows in words."""

from checker.rule import Outcome
from checker.rule.verdict import SEVERITY
from checker.section.bars import sentence
from checker.section.cores import cores_of
from checker.section.letters import clean, is_legible
from checker.section.parts import LaneView, SectionView, outcome_word

#: Of so many answers of other rules that don't pass the reason is told.
_MOST_RULES = 8
_CONVENTION = "Conductors are to scale by the area of their metal; where they lie in a cable is a convention."


def told(view: SectionView) -> str:
    """What the drawing shows, in words."""
    parts = [f"{view.size}."]
    for lane in view.lanes:
        who = f"Compartment {lane.number}" if len(view.lanes) > 1 else ""
        what = "; ".join(bundle.words for bundle in lane.bundles if not bundle.is_possible) or (
            "no cables known" if _is_open(lane) else "no cables"
        )
        parts.append(f"{who}: {what}." if who else f"{what[:1].upper()}{what[1:]}.")
        parts += [] if lane.fill is None else [sentence(lane.fill, who)]
    return " ".join(parts)


def _is_open(lane: LaneView) -> bool:
    """Whether more may lie there than is known."""
    return lane.fill is not None and lane.fill.outcome is Outcome.UNKNOWN


def notes(view: SectionView) -> list[str]:
    """What is to be said of a drawing, each only once."""
    found: list[str] = []
    for lane in view.lanes:
        who = f"Compartment {lane.number}: " if len(view.lanes) > 1 else ""
        found += [f"{who}{one}" for one in _of_other_rules(lane)]
        found += [f"{who}{caution}" for caution in lane.cautions]
        if not lane.bundles:
            found.append(f"{who}no cables {'are known to ' if _is_open(lane) else ''}lie here.")
    ways: dict[str, list[str]] = {}
    for lane in view.lanes:
        if lane.way:
            ways.setdefault(lane.way, []).append(str(lane.number))
    for way, numbers in ways.items():
        several = "s" if len(numbers) > 1 else ""
        who = "" if len(numbers) == len(view.lanes) else f"Compartment{several} {', '.join(numbers)}: "
        found.append(who + way)
    found += _of_conductors(view)
    if view.code:
        found.append(f"Code: {view.code}.")
    texts = {bundle.mark for lane in view.lanes for bundle in lane.bundles} | {view.title}
    if not all(is_legible(clean(text)) for text in texts):
        found.append("Letters that a picture's font lacks are shown as ? there; a drawing as .svg has them.")
    return [*view.notes, *dict.fromkeys(found)]


def _of_other_rules(lane: LaneView) -> list[str]:
    """What other rules found, what fails first; what passes isn't told."""
    bad = [one for one in lane.asked if not one.tells_fill and one.verdict.outcome is not Outcome.PASS]
    bad.sort(key=lambda one: -SEVERITY[one.verdict.outcome])
    told = []
    for one in bad[:_MOST_RULES]:
        about = f" ({one.about})" if one.about else ""
        told.append(f"{one.rule}{about} {outcome_word(one.verdict.outcome)}: {one.verdict.reason.rstrip('.')}.")
    if len(bad) > _MOST_RULES:
        told.append(f"{len(bad) - _MOST_RULES} more answers of other rules don't pass; wayroom check lists them.")
    return told


def _of_conductors(view: SectionView) -> list[str]:
    unknown: list[str] = []
    some = False
    for lane in view.lanes:
        for number in sorted(set(lane.drawn)):
            bundle = lane.bundles[number]
            if bundle.body is None:
                continue
            if cores_of(bundle.body, bundle.cores, bundle.metal_mm2) is None:
                unknown.append(bundle.key or bundle.size or bundle.mark)
            else:
                some = True
    found = [_CONVENTION] if some else []
    if unknown:
        names = list(dict.fromkeys(unknown))
        what = ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
        found.append(f"Conductors not known, so none is drawn: {what}.")
    return found
