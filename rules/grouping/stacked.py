"""Do as many trays lie above each other as ratings were taken for, and as far apart as the tables ask?

What rises from a loaded tray warms those above it. The tables for cables in one layer on trays and ladders have a factor for each number of
tiers, and they are made for tiers that are 300 mm apart. Ratings go by what the project declares (`tiers` under `[[types]]`), or by one
tier where it declares nothing. Here that is held against what the model draws.

    n ≤ t,  and  d ≥ 300 mm between any two that follow each other

    n   tiers that lie above each other, this one counted, where they are most
    t   tiers that ratings are taken for: as declared, else 1
    d   vertical distance, mm, from floor to floor of the trays; where a height isn't known, from axis to axis

**Asked** of trays and ladders that run level, in which loaded circuits lie, if the tables with tiers are used for them: the project
declares that cables lie in a single layer (`single_layer = true`), and they may fit into one, or it declares tiers.

**What counts as a tier** is a tray or ladder with loaded circuits, level within 15°, that runs the same way within 15°, overlaps this one
in plan by more than a tenth of the narrower one's width, and follows the next one at no more than 300 mm. Trays side by side, up to 10 mm
higher or lower, are one tier. What follows at more than 300 and up to 600 mm may be one: the tables have no figure for wider spacing, and
600 mm is our own reading. What carries no load doesn't heat.

    n > t                                                     fail: the factor of the ratings is for fewer tiers
    two tiers follow each other at less than 300 mm           unknown: the tables say that factors are lower then, not how much
    n > t only with what may be a tier, or may be loaded      unknown
    else                                                      pass

Clause: IEC 60364-5-52:2009 Tables B.52.20 and B.52.21 with their notes (BS 7671 Tables 4C4 and 4C5).

Worked example. Three perforated trays with loaded circuits in one layer lie above each other, 300 mm from floor to floor. Of the type one
tier is declared: 3 > 1, fail; six cables on each are rated with 0.76 where three tiers have 0.71. With `tiers = 3`: pass. With 200 mm
between them: unknown.

Not asked here: trays that run upright or are fixed back to back (the tables have 225 mm for those); trunking and conduit above or below
trays; carriers whose cables are rated as bunched, for which no table has tiers; the 20 mm to the wall that the tables ask for; trays that
cross; fittings.
"""

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from pydantic import Field

from checker.model import CarrierKind, Enclosure
from checker.model.loads import STACK_MM, Stacked
from checker.model.texts import listed, natural
from checker.rule import Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import all_answered, of_type

#: Trays that are no more than this higher or lower are one tier.
LEVEL_MM = 10.0
#: Coordinates of models are no finer; a stretch that is no longer is none.
HAIR_MM = 0.1


class StackedLimits(Limits):
    """``table_spacing_mm``: how far apart the tiers of the tables are. ``counted_to_mm``: what follows within it may be a tier."""

    table_spacing_mm: Limit = Field(json_schema_extra={"stricter": "higher", "most": STACK_MM})
    counted_to_mm: Limit = Field(json_schema_extra={"stricter": "higher", "most": STACK_MM})


@dataclass(frozen=True, slots=True)
class Stack:
    """What lies above each other with a tray: how many tiers, the least distance between two, and the labels of the others."""

    tiers: int = 1
    least_mm: float = STACK_MM
    others: tuple[str, ...] = ()


def asks(subject: Enclosure) -> bool:
    """Whether loaded circuits lie on a tray or ladder that runs level, and its ratings go by tiers."""
    laying = subject.carrier.laying
    by_tiers = laying.tiers is not None or (laying.single_layer is True and subject.may_fit_one_layer)
    is_open = subject.carrier.kind in {CarrierKind.TRAY, CarrierKind.LADDER}
    is_loaded = any(member.load.is_loaded for member in subject.members)
    return is_open and by_tiers and is_loaded and subject.is_level is not False


@rule(id="grouping.stacked", title="Trays above each other, and the tiers that ratings are for", asks=asks)
def stacked(subject: Enclosure, limits: StackedLimits) -> Verdict:
    """The tiers that the model draws against those that ratings are taken for."""
    declared = subject.carrier.laying.tiers
    taken, spacing, reach = declared or 1, limits.table_spacing_mm, limits.counted_to_mm.value
    sure = [item for item in subject.stacked if item.is_certain]
    certain, most = _stack(sure, spacing.value), _stack(subject.stacked, reach)
    nearest_mm = _stack(sure, reach).least_mm
    outcome, value, why, needs = Outcome.PASS, float(certain.tiers), "", ""
    if certain.tiers > taken:
        outcome = Outcome.FAIL
    elif nearest_mm < spacing.value - HAIR_MM:
        outcome = Outcome.UNKNOWN
        why = f"two of them are {nearest_mm:.4g} mm apart: how much lower factors are below {spacing.value:g} mm isn't tabled"
    elif most.tiers > taken or most.least_mm < spacing.value - HAIR_MM:
        outcome = Outcome.UNKNOWN
        perhaps = sorted(set(most.others) - set(certain.others), key=natural)
        why = f"{listed(perhaps)} may count too: more than {spacing.value:g} and up to {reach:g} mm away, or not loaded for certain"
        needs = of_type("tiers", subject.carrier)
    elif subject.stack_doubt or subject.is_level is None:
        outcome = Outcome.UNKNOWN
        why = subject.stack_doubt or f"where {subject.carrier.place.label} runs isn't known"
        needs = why.replace(" isn't known", "")
    return Verdict(
        outcome,
        f"ratings are for {_tiers(taken)}{'' if declared else ', as none are declared'}; {_told(certain)}{f'; {why}' if why else ''}",
        None if outcome is Outcome.UNKNOWN else value,
        float(taken),
        "tiers",
        basis=spacing.basis.value,
        source=spacing.cited,
        needs=all_answered([needs]) if needs else (),
        found="{} above each other",
        wanted=f"ratings are for {_tiers(taken)}",
    )


def _told(stack: Stack) -> str:
    if stack.tiers == 1:
        return "no other loaded tray lies above or below it for certain"
    return f"{_tiers(stack.tiers)} lie above each other, with {listed(stack.others)}"


def _tiers(number: int) -> str:
    return f"{number} tier{'' if number == 1 else 's'}"


def _stack(items: Iterable[Stacked], step_mm: float) -> Stack:
    """The most tiers that lie above each other anywhere along a tray, where each follows the next within a step."""
    found = Stack()
    for here in _places(list(items)):
        chain = sorted([*_onward(here, step_mm, 1.0), 0.0, *_onward(here, step_mm, -1.0)])
        least = min((b - a for a, b in itertools.pairwise(chain)), default=STACK_MM)
        others = {label for label, up in here if any(abs(up - level) <= LEVEL_MM for level in chain if level)}
        if len(chain) == found.tiers:
            others.update(found.others)
        named = tuple(sorted(others, key=natural)) if len(chain) >= found.tiers else found.others
        found = Stack(max(found.tiers, len(chain)), min(found.least_mm, least), named)
    return found


def _onward(here: Iterable[tuple[str, float]], step_mm: float, sign: float) -> Iterator[float]:
    """The levels that follow each other upwards (``sign`` 1) or downwards (-1)."""
    at = 0.0
    for up in sorted(sign * up for _, up in here):
        if up - at > step_mm + HAIR_MM:
            return
        if up > LEVEL_MM and up - at > LEVEL_MM:
            at = up
            yield sign * up


def _places(items: list[Stacked]) -> Iterator[list[tuple[str, float]]]:
    """What lies above or below a tray, with how much higher, on each of its stretches on which that is the same."""
    marks = sorted({mark for item in items for mark in (item.from_mm, item.to_mm)})
    for begin, end in itertools.pairwise(marks):
        if end - begin > HAIR_MM:
            middle = (begin + end) / 2.0
            yield [(item.carrier.place.label, item.up_mm) for item in items if item.from_mm < middle < item.to_mm]
