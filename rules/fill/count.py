"""Do the conductors and cables of a conduit take no more than the share that their number is allowed?

The more conductors lie in a conduit, the less each can give way as they are drawn in; two side by side are the worst. So the share of
the inside that they may take goes by their number.

    Σ a  ≤  p(n) · A

    a     area of each conductor or cable, mm², as the code prints it; a flat cable counts as a circle on its major axis (note 9)
    n     how many there are; a multicore cable is one (note 5), equipment grounding conductors count (note 3)
    p(n)  0.53 for one, 0.31 for two, 0.40 for more; 0.60 where the whole run between enclosures is at most 600 mm (note 4);
          where it isn't known to lie between boxes or trunking, both shares are asked, and the answer stands only if they agree
    A     total area of the inside, mm², as the code prints it

Where all are of one size the count may be rounded up: n of them go in where p(n) · A / a, rounded up from 0.8, is at least n (note 7). This
holds for one and two as for more. Mixed sizes are never rounded up.

Two cables that are wider together than the bore don't go in whatever share is granted, as 0.60 of a short run may.

Clause: NFPA 70 Chapter 9, Table 1 and its notes. Areas are those of the inch columns of Tables 4 and 5.

Worked example. 14 AWG THHN (0.0097 in²) in 1/2 EMT (0.304 in²): 0.40 · 0.304 / 0.0097 = 12.54: twelve, as Annex C prints. 3/4 EMT
(0.533 in²): 21.98, rounded up from 0.8: twenty-two.

Not asked here: ampacity adjustment for more than three current-carrying conductors, bends, jamming, separation of systems.
"""

import math
from dataclasses import replace

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment, PlacedCable
from checker.model.texts import percent
from checker.rule import SHARE, Limit, Limits, Outcome, Tells, Verdict, rule
from checker.units import circle_area_mm2
from rules.fill.formula import EXACTLY, needs_of, two_too_wide, unsized

#: Half a millimetre over is the last bits of a model's coordinates, not a longer run.
LENGTH_EXACTLY_M = 0.0005
#: Areas this near each other, as a share, are of one size.
SAME_SIZE = 1e-6


class CountLimits(Limits):
    """Shares of the inside by number: ``one``, ``two``, ``more``; ``short_run`` where the run is no longer than ``short_run_to_m``.

    ``round_up_from``: the decimal from which a count of equal ones is rounded up.
    """

    one: Limit = Field(json_schema_extra=SHARE)
    two: Limit = Field(json_schema_extra=SHARE)
    more: Limit = Field(json_schema_extra=SHARE)
    short_run: Limit = Field(json_schema_extra=SHARE)
    short_run_to_m: Limit
    round_up_from: Limit = Field(json_schema_extra={"stricter": "higher"})


@rule(id="fill.count", title="Conduit fill by the number of conductors", kinds=[CarrierKind.CONDUIT], tells=Tells.FILL)
def count(subject: LoadedCompartment, limits: CountLimits) -> Verdict:
    """The share that is taken against the one that the number allows."""
    blank = Verdict(
        Outcome.UNKNOWN, "", unit="ratio", measure="area", basis=limits.more.basis.value, source=limits.more.cited
    )
    if not subject.area_mm2:
        return replace(blank, reason="no internal size is known", needs=needs_of(subject))
    reason = unsized(subject)
    if reason:
        return replace(blank, reason=reason, needs=needs_of(subject))
    number = sum(cable.count or 0 for cable in subject.cables)
    usual = _held(subject, number, _limit(number, subject, limits), limits)
    run = subject.run
    if run is None or run.length_m is None or run.length_m > limits.short_run_to_m.value + LENGTH_EXACTLY_M:
        return usual
    short = _held(subject, number, limits.short_run, limits)
    if run.between_enclosures:
        return short
    needs = (f"the ends of the run of {subject.carrier.place.label}",)
    if short.outcome is usual.outcome:
        return replace(usual, needs=needs)  # it may have a looser limit, which matters to rules that want room besides
    reason = f"{usual.reason}; within {100 * limits.short_run.value:g} % if its ends are at boxes or the like, which isn't known"
    return replace(usual, outcome=Outcome.UNKNOWN, reason=reason, needs=needs)


def _held(subject: LoadedCompartment, number: int, limit: Limit, limits: CountLimits) -> Verdict:
    """What is taken against one limit."""
    inside = subject.area_mm2 or 0.0
    areas = [_area(cable) for cable in subject.cables if cable.count]
    taken = sum((cable.count or 0) * _area(cable) for cable in subject.cables)
    fill = taken / inside
    blank = Verdict(
        Outcome.FAIL, "", fill, limit.value, "ratio", "area", limit.basis.value, limit.cited,
        working=_working(subject, taken, limit, number) if subject.with_working else (),
    )  # fmt: skip
    if wide := two_too_wide(subject):
        return replace(blank, reason=wide, found="two cables wider than the bore")
    is_over = fill > limit.value + EXACTLY
    told = f"{number} take {taken:.1f} mm² of {inside:.1f} mm², {percent(fill, limit.value, is_over=is_over)} %"
    if not is_over:
        return replace(blank, outcome=Outcome.PASS, reason=f"{told}, within {100 * limit.value:g} %")
    largest = max(areas)
    # against it nothing is rounded up where more could come, or sizes are ranges: they could be of another size
    if _may_be_alike(subject, largest) and not (subject.is_strict and _is_open(number, subject)):
        from_where = limits.round_up_from.value
        allowed = _rounded(limit.value * inside / largest, from_where)
        if number <= allowed:
            return replace(
                blank,
                outcome=Outcome.PASS,
                reason=f"{told}; {allowed} of one size go in, as counts round up from {from_where:g}",
            )
    return replace(blank, outcome=Outcome.FAIL, reason=f"{told}, over {100 * limit.value:g} % for {number}")


def _area(cable: PlacedCable) -> float:
    """A conductor's area; of a flat cable the circle on its major axis."""
    return circle_area_mm2(cable.width_mm) if cable.width_mm is not None else cable.area_mm2 or 0.0


def _may_be_alike(subject: LoadedCompartment, largest: float) -> bool:
    """Whether all are of one size: in its favour those of which only a range is known may be, against it rows of them aren't."""
    rows = [cable for cable in subject.cables if cable.count]
    if subject.is_strict and len(rows) > 1 and any(cable.is_ranged for cable in rows):
        return False
    fixed = [_area(cable) for cable in rows if not cable.is_ranged]
    return largest - min(fixed, default=largest) <= SAME_SIZE * largest


def _is_open(number: int, subject: LoadedCompartment) -> bool:
    """Whether more or fewer may come to lie there than are counted."""
    return subject.fewest not in {None, number} or subject.most not in {None, number}


def _limit(number: int, subject: LoadedCompartment, limits: CountLimits) -> Limit:
    """The limit for a number; where that isn't sure, the strictest or the least strict of those that it may come to.

    Two are granted less than one and less than three, so that more cables can be allowed what fewer aren't.
    """
    fewest = number if subject.fewest is None else subject.fewest
    most = number if subject.most is None else subject.most
    reachable = [_of_number(n, limits) for n in range(fewest, min(most, fewest + 3) + 1)] or [
        _of_number(number, limits)
    ]
    return min(reachable, key=_value) if subject.is_strict else max(reachable, key=_value)


def _of_number(number: int, limits: CountLimits) -> Limit:
    return {1: limits.one, 2: limits.two}.get(number, limits.more)


def _value(limit: Limit) -> float:
    return limit.value


def _rounded(counted: float, round_up_from: float) -> int:
    """A count, rounded up where its decimal is at least so much."""
    whole = math.floor(counted + EXACTLY)
    return whole + 1 if counted - whole >= round_up_from - EXACTLY else whole


def _working(subject: LoadedCompartment, taken: float, limit: Limit, number: int) -> tuple[str, ...]:
    inside = subject.area_mm2 or 1.0
    lines = [
        f"{cable.key or cable.circuit}: {cable.count} × {_area(cable):.2f} mm² = {(cable.count or 0) * _area(cable):.1f} mm²"
        for cable in subject.cables
    ]
    return (
        *lines,
        f"together {taken:.1f} mm², {number} in number",
        f"inside {inside:.1f} mm², of which {100 * limit.value:g} % is {limit.value * inside:.1f} mm²",
        f"fill {taken:.1f} / {inside:.1f} = {taken / inside:.4f}",
    )
