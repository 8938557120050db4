"""What is used against the limit, as a bar for each compartment that can be read without colour."""

import re
from collections.abc import Sequence

from checker.model.texts import number
from checker.model.tolerance import WITHIN_TOLERANCE
from checker.rule import Outcome, Verdict
from checker.section.letters import width_of
from checker.section.parts import LaneView, outcome_word
from checker.section.patterns import lines_in
from checker.section.sheet import Sheet
from checker.section.sketch import (
    END,
    INK,
    MIDDLE,
    PAPER,
    SOFT_INK,
    START,
    Colour,
    Hatching,
    Line,
    Style,
    Text,
    meet,
    rectangle,
)

USED: Colour = (60, 98, 140)
_PALE: Colour = (214, 226, 240)
OVER: Colour = (190, 50, 20)
_PALE_OVER: Colour = (250, 218, 206)
_HIGH_PX = 16.0
_SIZE, _SMALL = 15.0, 12.0
#: How rules end an area's arithmetic: its share, and the limit.
_FIGURES = re.compile(r"(?: is|,) ([0-9.]+) %, (?:over|within) ([0-9.]+) %$")
#: What the ratios are shares of.
_OF = {
    "area": "of the area inside is used",
    "term": "of the terms that the code grants are used",
    "width": "of the width inside is used",
}


def bars(sheet: Sheet, lanes: Sequence[LaneView]) -> None:
    """The verdict on each compartment in a sentence and, where there is a figure, its bar; then each clause once."""
    for lane in lanes:
        who = "" if len(lanes) == 1 else f"Compartment {lane.number}"
        verdict = lane.fill
        if verdict is None:
            sheet.paragraph(f"{who or 'It'}: nothing was asked about how full it is.", _SIZE, after=10.0)
            continue
        sheet.paragraph(sentence(verdict, who), _SIZE, after=4.0)
        if lane.room:
            sheet.paragraph(f"{_capital(lane.room)}.", _SIZE - 1.0, SOFT_INK, after=2.0)
        if verdict.value is not None and verdict.unit == "ratio":
            _draw(sheet, verdict)
        sheet.y += 8.0
    clauses: dict[str, list[str]] = {}
    for lane in lanes:
        if lane.fill is not None and lane.fill.source:
            told = ", ".join(part for part in (lane.fill.basis, lane.fill.source) if part)
            clauses.setdefault(told, []).append(str(lane.number))
    for told, numbers in clauses.items():
        who = "" if len(clauses) == 1 else f" of compartment{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}"
        sheet.paragraph(f"Limit{who}: {told}.", _SMALL, SOFT_INK)
    sheet.y += 6.0


def sentence(verdict: Verdict, who: str = "") -> str:
    """A verdict on fill in words, with the figures and, where it doesn't pass, why."""
    of = _OF.get(verdict.measure, "is used")
    used = limit = ""
    if verdict.value is not None:
        least = "at least " if verdict.at_least else ""
        used = f"{least}{number(verdict.value, verdict.unit)} {of}"
    if verdict.limit is not None:
        limit = f"the limit is {number(verdict.limit, verdict.unit)}"
    figures = ", ".join(part for part in (used, limit) if part)
    if verdict.outcome is Outcome.UNKNOWN:
        who = f"{who}: it" if who else "it"
        said = _capital(f"{who} can't be told whether it passes") + (f"; {figures}." if figures else ".")
    else:
        # said of fill alone: another rule may fail what lies there
        who = f"The fill of {who.lower()}" if who else "Its fill"
        said = f"{who} {outcome_word(verdict.outcome)}" + (f": {figures}." if figures else ".")
    reason = verdict.reason
    if verdict.outcome is Outcome.PASS:
        # of what passes only that it might as well not have
        _, begin, rest = verdict.reason.partition(WITHIN_TOLERANCE)
        reason = f"{begin}{rest}"
    reason = _capital(_without_figures(reason, verdict))
    return f"{said} {reason}." if reason else said


def _without_figures(reason: str, verdict: Verdict) -> str:
    """A reason without the value and the limit at the end of its first part, where the sentence before it has the same two."""
    if verdict.value is None or verdict.limit is None:
        return reason
    first, separator, rest = reason.partition("; ")
    found = _FIGURES.search(first)
    if found is None:
        return reason
    said = (number(verdict.value, verdict.unit), number(verdict.limit, verdict.unit))
    same = tuple(number(float(figure) / 100.0, "ratio") for figure in found.groups()) == said
    # digits that the sentence before doesn't have are kept
    is_as_fine = all(len(figure.partition(".")[2]) <= 1 for figure in found.groups())
    return f"{first[: found.start()]}{separator}{rest}" if same and is_as_fine else reason


def _capital(text: str) -> str:
    text = text.rstrip(".")
    return text[:1].upper() + text[1:]


def _draw(sheet: Sheet, verdict: Verdict) -> None:
    """The bar from nothing to all there is, or as far as is used; hatched up to the limit, crossed beyond it."""
    value, limit = max(verdict.value or 0.0, 0.0), verdict.limit
    whole = max(1.0, value, limit or 0.0)
    left, right = sheet.left, sheet.right
    top = sheet.y + _SMALL + 6.0
    bottom = top + _HIGH_PX

    def at(share: float) -> float:
        return left + (right - left) * share / whole

    sheet.add(rectangle((left, top, right, bottom), Style(PAPER)))
    within = value if limit is None else min(value, limit)
    for start, end, pale, ink, angles in (
        (0.0, within, _PALE, USED, (45.0,)),
        (within, value, _PALE_OVER, OVER, (45.0, 135.0)),
    ):
        if end > start:
            part = rectangle((at(start), top, at(end), bottom), Style(pale))
            lines = tuple(line for angle in angles for line in lines_in(part, angle, 5.0))
            sheet.add(part, Hatching(ink, 1.0, lines))
    if value > 0.0:
        sheet.add(rectangle((left, top, at(value), bottom), Style(None, INK, 1.0)))
    sheet.add(rectangle((left, top, right, bottom), Style(None, INK, 1.2)))
    used = f"used {number(value, 'ratio')}"
    sheet.add(_label(used, at(value), top - 5.0, left, right))
    below = bottom + _SMALL + 3.0
    texts: list[Text] = []
    if limit is not None:
        x = at(limit)
        sheet.add(Line(((x, top - 4.0), (x, bottom + 4.0)), Style(None, INK, 2.6)))
        texts.append(_label(f"limit {number(limit, 'ratio')}", x, below + 2.0, left, right))
    for text in (
        Text(left, below + 2.0, "0", _SMALL, SOFT_INK, START),
        Text(right, below + 2.0, number(whole, "ratio"), _SMALL, SOFT_INK, END),
    ):
        if not any(meet(text.box, other.box) for other in texts):
            texts.append(text)
    sheet.add(*texts)
    sheet.y = below + 10.0


def _label(text: str, x: float, y: float, left: float, right: float) -> Text:
    """A text centred at a place, moved so that it doesn't stand out at either end."""
    half = width_of(text, _SMALL) / 2.0
    return Text(min(max(x, left + half), right - half), y, text, _SMALL, INK, MIDDLE)
