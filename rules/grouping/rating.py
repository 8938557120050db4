"""Do the conductors of a circuit still carry their load where other circuits heat them?

Cables that fit into a trunking may still cook each other there. What a conductor carries alone, in cool air, is taken down for the
warmth round it and for every loaded circuit beside it; the worst length on its way governs.

    Iz = n · It · Ca · Ch · Cg  ≥  In  ≥  Ib

    Iz   what the circuit carries on a length, A; the least of all lengths on its way governs
    n    parallel sets; each counts as a circuit in the group
    It   base rating of one set: by method, insulation and loaded conductors, copper, in air of 30 °C, A
    Ca   factor for the ambient; between two temperatures that of the warmer one
    Ch   factor for a neutral that third harmonics load: 0.86 from 15 % to 45 %; above 33 % the neutral's current, 3 · h3 · In, governs
    Cg   grouping factor; between two counts that of the higher one; beyond the table's end unknown
    In   rating of the device, A
    Ib   design current, A

**Method.** In conduit and trunking B1 for single cores, B2 for multicore cables, also where they are cast in. On ladders E and F. On
trays E and F where the project declares them perforated or the schedule says so, else C. Where the schedule gives a method of its own,
the lower of the two figures holds. A carrier in the ground is unknown: there are no ground tables here. A drop lies in no carrier: it is
taken for the schedule's method, or for the method and the company of the length that it leaves, so it never governs.

**Conductors.** A schedule tells them apart by size alone. Multicore cables are live, and single cores beside them protective. Of single
cores the thickest are live, as many as are loaded; the others are protective. Where that could be otherwise (thinner rows that are as many,
rows of one size that differ, multicore cables of two sizes, a neutral that harmonics load among thinner rows) the rating is unknown.

**Insulation.** A 90 °C rating only where all ends of the circuit are declared for 90 °C (`[[terminations]]` in `wayroom.toml`); else the
columns of 70 °C. Those hold for every circuit of a group in which one cable is for 70 °C (523.5).

**What counts.** Every loaded circuit in the whole segment, across its compartments: a thin divider separates services, not heat. Two sets
are two circuits, and so are the two legs of a ring; single cores that are enough for several circuits may be so many. Protective
conductors, spares and removed circuits don't count, nor data of which no load is given. A circuit whose design current is known and no
more than 30 % of its own grouped rating is left out for the others (where harmonics load its neutral more than its lines, the neutral's
current); that is tested once, against the full group, and its own rating stays that of the full group. One whose load or own rating isn't
known may be light: it counts against the others, and too little is a fail for them only if it would be without it.

**Arrangement.** Conduit and trunking: bunched, Table B.52.17 item 1; circuits whose sizes span more than three adjacent ones: 1/√n. Trays
and ladders: bunched too, unless the project declares that cables lie in a single layer (`single_layer = true`) and they are together no
wider than the tray: then Tables B.52.20, B.52.21 or B.52.17 items 2, 4, 5.

**Rings.** BS 7671 433.1.204: on 30 A or 32 A each leg carries at least 20 A.

**Not overloaded together.** Only where the designer declares it (`[rating] not_overloaded_together = true`), and only under BS 7671:
n · It · Ca · Ch ≥ max[Ib/Cg, √(In² + 0.48 · Ib² · (1 − Cg²)/Cg²)].

Inputs that aren't given are assumed only for ambient (30 °C, or as warm as another circuit in the enclosure says), harmonics (none),
method (by the carrier), tiers of trays (one) and how they lie (level), and that the tables of trays hold for unlike sizes; and the answer
says "within, if …". Loaded conductors that aren't given are taken for two and for three, and both must agree. What is given but can't be
read, or contradicts the table of cables, and every other missing input, makes it unknown.

Clause: IEC 60364-5-52:2009 523 and Annex B (BS 7671 Appendix 4); coordination with the device: 433.

Worked example. Six circuits of 2.5 mm² PVC single cores, two loaded, in one trunking: 24 · 0.57 = 13.68 A. Two of them carry 4 A each,
which is no more than 0.30 · 13.68 = 4.10 A: left out, four are left, and the others carry 24 · 0.65 = 15.60 A.

Not asked here: voltage drop, short circuits, fault protection, thermal insulation, sun, conductors in the ground, aluminium; conduits side
by side, crowding inside fittings and boxes, the distances between trays that B.52.20 asks for (grouping.stacked), groups of unlike sizes on
trays (the tables are for like ones; the answer then says so); whether the insulation of cables that carry no load bears the heat.
"""

from dataclasses import replace

from checker.model import RoutedCircuit
from checker.rule import Outcome, Rating, Tells, Verdict, rule
from rules.grouping.figures import EXACTLY, few, needs_of, with_short
from rules.grouping.lengths import Length, cable_words, chain, length_of
from rules.grouping.limits import RatingLimits
from rules.grouping.required import Needed, needed


@rule(id="grouping.rating", title="Current-carrying capacity where circuits are grouped", tells=Tells.RATING)
def rating(subject: RoutedCircuit, limits: RatingLimits) -> Verdict:
    """What the circuit carries at its worst length against what it needs."""
    need = needed(subject.load, limits, is_strict=subject.is_strict)
    lengths = [length_of(enclosure, subject, need, limits) for enclosure in subject.enclosures]
    # of equal ones the first governs, so that every run names the same place
    worst = min((length for length in lengths if length.capacity_a is not None), key=Length.room, default=None)
    is_short = worst is not None and worst.needs is not None and not worst.is_enough(limits)
    unseen = few(length.why_not for length in lengths if length.capacity_a is None)
    doubts = [*need.no_pass, *unseen]
    if need.fails or (is_short and not need.no_fail):
        outcome = Outcome.FAIL
        reasons = [_told(worst, limits)] if worst is not None and is_short else []
        reasons += [need.fails]
    elif is_short or doubts or worst is None:
        outcome = Outcome.UNKNOWN
        reasons = [_told(worst, limits)] if worst is not None and not unseen else []
        reasons += [need.no_fail] * is_short + doubts
    else:
        outcome, reasons = Outcome.PASS, [_told(worst, limits)]
    reason = "; ".join(dict.fromkeys(text for text in reasons if text))
    verdict = _verdict(outcome, reason, subject, worst if not unseen or outcome is Outcome.FAIL else None, need, limits)
    if outcome is Outcome.UNKNOWN:
        no_fail = [""] if is_short and need.no_fail and not need.needs else []
        open_ones = (*need.needs, *no_fail, *(text for length in lengths for text in length.questions))
        return replace(verdict, needs=needs_of(open_ones))
    if outcome is Outcome.FAIL and is_short and worst is not None:
        small = [
            one for one in lengths if one.capacity_a is not None and one.needs is not None and not one.is_enough(limits)
        ]
        verdict = with_short(verdict, [one.enclosure for one in small])
        # of the reading against it: what would settle it where the other reading passes
        open_beside = _open_beside(lengths, limits) if subject.is_strict and not need.fails else ()
        alone = _alone(worst, limits)
        return replace(verdict, reason=f"{reason}; {alone}" if alone else reason, needs=open_beside)
    return verdict


def _open_beside(lengths: list[Length], limits: RatingLimits) -> tuple[str, ...]:
    """What would tell how crowded it is where it carries too little; nothing if one such length is as crowded for other reasons."""
    questions: list[str] = []
    for length in lengths:
        if length.capacity_a is None:
            questions += length.questions
        elif not length.is_enough(limits):
            questions += length.beside or ("",)
    return needs_of(questions)


def _alone(worst: Length, limits: RatingLimits) -> str:
    """Of a circuit that carries too little, whether it is the company that it lies in."""
    if worst.is_declared:
        return ""
    ungrouped = (worst.capacity_a or 0.0) / (worst.group.value or 1.0)
    is_enough = ungrouped * limits.load_share.value >= (worst.needs or 0.0) - EXACTLY
    return f"{'' if is_enough else 'even '}alone it would carry {'' if is_enough else 'only '}{ungrouped:.4g} A there"


def _told(worst: Length, limits: RatingLimits) -> str:
    """The worst length in words."""
    beside = worst.group.words
    if worst.is_declared:
        beside = f"without Cg {worst.group.value:.4g}, {beside}, which is in what it needs"
    carried = f"carries {worst.capacity_a:.4g} A in {worst.enclosure.carrier.place.label} ({beside})"
    if limits.load_share.value < 1.0:
        carried += f", of which a load may take {limits.load_share.value:.0%}"
    if worst.needs is None:
        return carried
    ifs = f", if {', '.join(worst.assumptions)}" if worst.assumptions else ""
    enough = "within" if worst.is_enough(limits) else "too little"
    return f"{carried}, needs {worst.needs:.4g} A ({worst.needs_why}): {enough}{ifs}"


def _verdict(
    outcome: Outcome, reason: str, subject: RoutedCircuit, worst: Length | None, need: Needed, limits: RatingLimits
) -> Verdict:
    """The answer with its figures; ``worst`` None: what it carries isn't known."""
    if worst is not None:
        figures = chain(subject.load, worst)
        source = f"{limits.load_share.cited}; {worst.alone.base.source}; {worst.group.source}"
    else:
        figures = Rating(
            "", cable_words(subject.load), subject.load.csa_mm2, required_a=need.amps, required_why=need.why
        )
        source = limits.load_share.cited
    basis = limits.load_share.basis.value
    may_take = None if figures.capacity_a is None else figures.capacity_a * limits.load_share.value
    if need.over_a is not None and outcome is Outcome.FAIL and (may_take is None or may_take > need.over_a[1]):
        design, device = need.over_a  # its device is the lower of the two limits that it is beyond
        held = Verdict(outcome, reason, design, device, "A", "", basis, source, rating=figures)
        return replace(held, found="its design current of {}", wanted="its device of {}")
    return Verdict(outcome, reason, figures.required_a, may_take, "A", "", basis, source, rating=figures)
