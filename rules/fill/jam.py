"""Can three cables of one size wedge side by side as they are drawn into a conduit?

Three cables start out as a triangle, and in a bend they may roll into a row. Where the row is about as wide as the bore they jam, and
pulling harder only wedges them tighter. In a tighter conduit there is no room for a row, in a wider one it passes. So it can happen where

    from_ratio  ≤  D / d  ≤  to_ratio

    D    inside diameter of the conduit, mm
    d    outside diameter of one cable, mm; of three that aren't quite alike their mean

Three are of one size here where the thickest is no more than a tenth thicker than the thinnest, which is our own reading: makes and colours
of one size differ by less, sizes by more. It is asked of straight conduits too, since the note that it goes by doesn't spare them, and sets
are made on site; the answer says so where its run is known to have no bend.

Where bore or diameter is only known to lie in a range, more or less of either may be the worse: what can't be in the window at any of its
ends or between them passes, the rest is unknown; with one diameter and a range of bores it fails where all of that lies in the window.

Clause: NFPA 70 Chapter 9 Table 1, informational note 2: three of one size, D/d from 2.8 to 3.2. A note, no requirement. Neither BS 7671 nor
IEC 60364 has the like: there the project may ask for it,

    [limits."fill.jam"]
    from_ratio = 2.8
    to_ratio = 3.2
    reason = "as our cable puller asks"

Worked example. Three 2/0 AWG THHN, 13.513 mm, in EMT 1-1/2, 40.894 mm: D/d = 3.026: they may jam, though they take only 33 % of its area.
In EMT 2, 52.502 mm, D/d = 3.885: they don't.

Not asked here: any other number than three, so that three with a thinner protective conductor aren't asked about, as it is three that the
note speaks of; three of unlike sizes, of which it says nothing; flat cables; conduits of which it isn't known how many may lie in them, or
in which nothing lies for certain; formulas that multiply D by 1.05 for the oval of a bend.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from pydantic import Field, model_validator

from checker.model import CarrierKind, LoadedCompartment, PlacedCable
from checker.rule import ASKED_WITH, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import INSIDE, SIZE, of_cable, of_type
from rules.fill.formula import EXACTLY

THREE = 3
UNIT = "D/d"
#: What turns by no more, in degrees, is straight: angles in models aren't exact.
STRAIGHT_DEG = 4.5
#: The thickest of cables of one size over the thinnest.
ALIKE = 1.1


class JamLimits(Limits):
    """``from_ratio``, ``to_ratio``: between which D/d three cables of one size may jam, where code or project says."""

    from_ratio: Limit | None = Field(default=None, json_schema_extra=ASKED_WITH)
    to_ratio: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", **ASKED_WITH})

    @model_validator(mode="after")
    def _is_a_window(self) -> Self:
        if self.from_ratio is not None and self.to_ratio is not None and self.from_ratio.value > self.to_ratio.value:
            raise ValueError(f"from_ratio {self.from_ratio.value:g} is above to_ratio {self.to_ratio.value:g}")
        return self


@dataclass(frozen=True, slots=True)
class _Span:
    """Between what a size or a ratio lies."""

    least: float
    most: float

    @property
    def is_one(self) -> bool:
        return self.least == self.most

    def told(self, unit: str = "") -> str:
        figures = f"{self.least:.3g}" if self.is_one else f"between {self.least:.3g} and {self.most:.3g}"
        return f"{figures}{unit}"


def _may_be_three(subject: LoadedCompartment) -> bool:
    """Whether one to three round cables lie in it that may be of one size, and it is known between what numbers there may be three."""
    here = [cable for cable in subject.cables if cable.count != 0]
    every = (*here, *subject.possible)
    if subject.unbounded or any(cable.count is None or cable.is_several for cable in every):
        return False
    number = _number(here)
    if not 1 <= number <= THREE or number + _number(subject.possible) < THREE:
        return False
    return not any(_is_flat(cable) for cable in here) and _may_be_alike(
        [span for cable in here if (span := _span(cable))]
    )


@rule(id="fill.jam", title="Three cables that may jam in a conduit", kinds=[CarrierKind.CONDUIT], asks=_may_be_three)
def jam(subject: LoadedCompartment, limits: JamLimits) -> Verdict:
    """The bore over the diameter of three cables of one size, against the window in which they may jam."""
    low, high = limits.from_ratio, limits.to_ratio
    if low is None or high is None:
        return Verdict(Outcome.UNKNOWN, "between which D/d three cables may jam isn't given", unit=UNIT)
    blank = Verdict(Outcome.PASS, "", None, None, UNIT, basis=high.basis.value, source=_cited(low, high))
    here = [cable for cable in subject.cables if cable.count != 0]
    fewest, most = _reachable(subject, here)
    if not fewest <= THREE <= most:
        return replace(
            blank,
            reason=f"{fewest if fewest == most else f'{fewest} to {most}'} in number, not three"
            if most
            else "nothing lies in it",
        )
    if any(_is_flat(cable) for cable in here) and fewest == THREE:
        return replace(blank, reason="not all three are round")
    needs = tuple(
        dict.fromkeys(of_cable(SIZE, cable) for cable in here if _span(cable) is None and not _is_flat(cable))
    )
    if subject.bore_mm is None:
        needs = (of_type(INSIDE, subject.carrier), *needs)
    if subject.bore_mm is None or needs:
        what = "its inside diameter" if subject.bore_mm is None else "how thick its cables are"
        return replace(
            blank,
            outcome=Outcome.UNKNOWN,
            reason=f"three {'' if fewest == most else 'may '}lie in it, and {what} isn't known",
            needs=needs,
        )
    spans = _of_one_size(here, fewest)
    if not spans:
        return replace(blank, reason="no three of one size lie in it")
    bore = _bore(subject, subject.bore_mm)
    thin, thick = _mean(spans, fewest)
    ratio = _Span(bore.least / thick, bore.most / thin)
    may_jam = ratio.most >= low.value - EXACTLY and ratio.least <= high.value + EXACTLY
    must_jam = ratio.least >= low.value - EXACTLY and ratio.most <= high.value + EXACTLY
    is_one = fewest == most and ratio.is_one and not any(cable.is_ranged for cable in here)
    value = ratio.least if is_one else None
    window = f"from {low.value:g} to {high.value:g}"
    if not may_jam:
        side, is_floor = (low, False) if ratio.most < low.value else (high, True)
        reason = (
            f"three of one size, D/d {ratio.told()}, not {window}" if is_one else f"three of one size, D/d not {window}"
        )
        return replace(blank, reason=reason, value=value, limit=side.value, is_floor=is_floor)
    sure = must_jam and fewest == most and not any(cable.is_ranged for cable in here)
    if not sure and not subject.is_strict:
        return replace(blank, reason=f"D/d of three may be other than {window}")
    straight = ", though its run has no bend" if _is_straight(subject) else ""
    return replace(
        blank, outcome=Outcome.FAIL, value=value, limit=high.value, is_floor=True,
        reason=f"three of one size may wedge side by side: {bore.told(' mm')} over {_Span(thin, thick).told(' mm')} is {ratio.told()},"
        f" {window}{straight}; in a bore of more than {_rounded_up(high.value * thick):.1f} mm they don't",
        wanted=f"between {low.value:g} and {high.value:g} three may jam",
    )  # fmt: skip


def _rounded_up(size_mm: float) -> float:
    """A size to a tenth of a millimetre, never less than it is."""
    return math.ceil(10.0 * size_mm - EXACTLY) / 10.0


def _is_straight(subject: LoadedCompartment) -> bool:
    """Whether it is known that its run doesn't bend."""
    return subject.run is not None and subject.run.bends_deg is not None and subject.run.bends_deg <= STRAIGHT_DEG


def _number(cables: Sequence[PlacedCable]) -> int:
    return sum(cable.count or 0 for cable in cables)


def _reachable(subject: LoadedCompartment, here: Sequence[PlacedCable]) -> tuple[int, int | float]:
    """How many may lie in it, at least and at most."""
    fewest = _number(here) if subject.fewest is None else subject.fewest
    most = _number(here) if subject.most is None else subject.most
    return fewest, math.inf if any(cable.count is None for cable in here) else most


def _is_flat(cable: PlacedCable) -> bool:
    return cable.diameter_mm is None and cable.width_mm is not None


def _span(cable: PlacedCable) -> _Span | None:
    """Between what the diameter of a round cable lies; None: it isn't known."""
    if cable.diameter_mm is None:
        return None
    least = cable.diameter_least_mm if cable.diameter_least_mm is not None else cable.diameter_mm
    return _Span(min(least, cable.diameter_mm), cable.diameter_mm)


def _may_be_alike(spans: Sequence[_Span]) -> bool:
    """Whether sizes may be one, wherever in their ranges they are."""
    return not spans or max(span.least for span in spans) <= ALIKE * min(span.most for span in spans) + EXACTLY


def _of_one_size(here: Sequence[PlacedCable], fewest: int) -> list[tuple[_Span, int | float]]:
    """Sizes and numbers of what may be three of one size: the certain ones, which come first, and if they are fewer what is like them."""
    certain: list[tuple[_Span, int | float]] = []
    perhaps: list[tuple[_Span, int | float]] = []
    counted = 0.0
    for cable in here:
        span, count = _span(cable), math.inf if cable.count is None else cable.count
        if span is not None:
            (certain if counted < fewest else perhaps).append((span, count))
        counted += count
    sizes = [span for span, _ in certain]
    if not _may_be_alike(sizes):
        return []
    alike = certain if fewest == THREE else [*certain, *(row for row in perhaps if _may_be_alike([*sizes, row[0]]))]
    return alike if sum(count for _, count in alike) >= THREE else []


def _mean(rows: Sequence[tuple[_Span, int | float]], fewest: int) -> tuple[float, float]:
    """Between what the mean diameter of the three lies; where it isn't known which three, between what all of them lie."""
    least, most = min(span.least for span, _ in rows), max(span.most for span, _ in rows)
    if fewest != THREE or least == most:
        return least, most
    return sum(count * span.least for span, count in rows) / THREE, sum(
        count * span.most for span, count in rows
    ) / THREE


def _bore(subject: LoadedCompartment, bore_mm: float) -> _Span:
    """Between what the bore lies. The reading against it keeps only the smaller end: the larger is with the thinnest wall."""
    if subject.is_strict and subject.size_doubt:
        section = subject.carrier.section
        thinnest = section.wall_range_mm[0] if section.wall_range_mm is not None else 0.0
        outside = section.outside_diameter_mm
        return _Span(bore_mm, math.inf if outside is None else max(outside - 2.0 * thinnest, bore_mm))
    if subject.is_strict:
        return _Span(bore_mm, bore_mm)
    area, least = subject.area_mm2, subject.area_least_mm2
    if not area or least is None or least >= area:
        return _Span(bore_mm, bore_mm)
    return _Span(bore_mm * math.sqrt(least / area), bore_mm)


def _cited(low: Limit, high: Limit) -> str:
    return high.cited if low.cited == high.cited else f"{low.cited}; {high.cited}"
