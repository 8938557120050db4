"""The section on a sheet: to scale, each kind of cable with its number in the list, and nothing that the list says already."""

from checker.fit import Answer
from checker.fit.carriers import as_drawn
from checker.fit_text import GEOMETRY_ONLY
from checker.section.cable_marks import cable_marks, lying, text_within
from checker.section.drawing import scale_bar, top_mm
from checker.section.letters import clean
from checker.section.outline import Frame, outline, plan_of
from checker.section.parts import MOST_DRAWN
from checker.section.sketch import MIDDLE, SOFT_INK, Mark, Sketch, Text
from checker.section.view import view_of

WIDE_PX, MARGIN_PX = 660.0, 12.0
#: No carrier is drawn larger than this, in pixels a millimetre.
LARGEST_SCALE = 9.0


def section_of(answer: Answer, high_px: float) -> Sketch | None:
    """The section of what was asked about, no higher than so many pixels; None: no size inside is known.

    Nothing in it gives the answer away but the cables themselves.
    """
    subject = answer.subject
    view = view_of(as_drawn(subject.carrier), [subject], {})
    plan = plan_of(view)
    if plan is None:
        return None
    lane = view.lanes[0]
    origin = plan.insides[0][1]
    high_mm = top_mm(view, plan)
    scale = min((WIDE_PX - 2.0 * MARGIN_PX) / plan.width_mm, (high_px - 60.0) / high_mm, LARGEST_SCALE)
    wide, high = plan.width_mm * scale, high_mm * scale
    left = (WIDE_PX - wide) / 2.0
    frame = Frame(scale, left, MARGIN_PX + high)
    marks: list[Mark] = [*outline(view, plan, frame)]
    numbers: dict[str, int] = {}
    for number, cable in enumerate(subject.cables, start=1):
        numbers.setdefault(cable.key, number)
    for placed in lane.placed:
        bundle = lane.bundles[lane.drawn[placed.body]]
        lies = lying(bundle, placed, origin, frame)
        marks += cable_marks(lies, frame)
        marks += text_within(lies, str(numbers.get(bundle.key, "")), over_metal=True)
    y = MARGIN_PX + high + 14.0
    marks += scale_bar((left, y), wide, scale)
    is_whole = not any(cable.is_several for cable in subject.cables)
    wanted = sum(cable.count or 0 for cable in subject.cables if not cable.is_several)
    told = caption(len(lane.placed), wanted, is_whole=is_whole)
    marks.append(Text(WIDE_PX / 2.0, y + 28.0, clean(told), 11.0, SOFT_INK, MIDDLE))
    what = ", ".join(f"{cable.count} × {cable.key}" for cable in subject.cables)
    title = f"Section of {subject.carrier.place.label}"
    return Sketch(WIDE_PX, round(y + 34.0), tuple(marks), clean(title), clean(f"It holds {what}. {told}"))


def caption(shown: int, wanted: int, *, is_whole: bool = True) -> str:
    """What the drawing is, in a line.

    Args:
        shown: How many cables are drawn.
        wanted: How many there are.
        is_whole: Whether nothing lies there besides.
    """
    if wanted > MOST_DRAWN:
        return f"Of {wanted} cables nothing is drawn: more than {MOST_DRAWN} aren't."
    if wanted and not shown:
        return f"No place was found for the cables in a drawing ({GEOMETRY_ONLY})."
    if shown < wanted:
        beside = "" if is_whole else ", without what is there already"
        return f"To scale. Only {shown} of {wanted} cables are drawn{beside}: for more no place was found. {GEOMETRY_ONLY.capitalize()}."
    if not is_whole:
        return f"To scale, without what is there already. {GEOMETRY_ONLY.capitalize()}."
    return f"To scale. Numbers are those of the list, where there is room for them. {GEOMETRY_ONLY.capitalize()}."
