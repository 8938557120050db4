"""Do the conductors of a circuit carry its load, and does its device protect them, with all that heats them on their way?

A conductor's ampacity is taken from the column of its insulation, taken down for the warmth round it and for the current-carrying
conductors that lie with it, and held to what its terminals are made for. The lowest of all lengths on its way governs.

    I = n · min(A · Ca · Cg, At)

    I    what the circuit carries on a length, A
    n    parallel sets; each counts in the group
    A    ampacity of one set in the column of its insulation, 60, 75 or 90 °C: Table 310.16, copper, A
    Ca   factor for the ambient, in the same column: Table 310.15(B)(1)(1); between two rows that of the warmer one
    Cg   adjustment for the current-carrying conductors in the raceway, from four: Table 310.15(C)(1)
    At   ampacity in the column of the terminals, or of the insulation if that is lower, neither adjusted: 110.14(C), A

The chain shows the hold of the terminals as Ct = min(1, At / (A · Ca · Cg)), so that its product is what the circuit carries.

**What it needs.** I ≥ Ib. In ≤ I, or In is the next standard size above an I that is no standard size itself, up to 800 A (240.4(B),
240.6): granted up to 50 A only in the circuit's favour, as branch circuits of several receptacles don't have it. In ≤ 15, 20, 30 A for
14, 12 and 10 AWG (240.4(D)). In ≥ 1.25 · Ib and n · At ≥ 1.25 · Ib for a continuous load (210.19(A), 210.20(A), 215.2(A), 215.3). A
schedule doesn't say whether a load is continuous: a circuit that is short of 1.25 only is unknown. Sets in parallel from 1/0 AWG
(310.10(G)(1)).

**Terminals.** As declared for all ends (`[[terminations]]` in `wayroom.toml`), else of 75 °C, and against it of 60 °C for devices of up
to 100 A or sizes up to 1 AWG: the code lets such ends have 75 °C if they are made for it, so too little by 60 °C only is unknown.

**What counts.** Loaded conductors of all power circuits in the raceway, across its compartments, each set and each pass; spare conductors
too, also those in a cable that have no use. Protective conductors never count, nor do removed cables and data. A neutral counts where the
schedule says four loaded conductors, or third harmonics for three; against the circuit also where it says two of four or more, as they may
be two lines and the neutral of three phases (310.15(E)(2)). One loaded conductor is no count. Where loaded conductors aren't given, they
are two or three. Control, fire alarm and low-voltage circuits are left out in favour and counted against: the code counts power and
lighting. No light circuit is left out.

**Raceways.** Conduit: adjusted from four conductors; in one of up to 600 mm not at all (310.15(C)(1)(b)), which against the circuit holds
only for a run known to lie between boxes or trunking. Metal wireway: adjusted only above 30 conductors, then by all of them (376.22(B));
for surface raceway and strut channel that holds only above 4 in² of section (384.22, 386.22), and which of them a trunking is isn't known:
a smaller one is adjusted against the circuit. Other wireway: always (378.22). Fill of more than a fifth, which ends the relief, is for the
fill rule to find: here it is assumed not to be. Trunking that is cast in is relieved only in favour.

**Trays and ladders.** Multiconductor cables: adjusted only for the conductors inside each (392.80(A)(1)); cast in: unknown. Single
conductors: unknown, as Table 310.17 isn't here.

**Short parts.** Lengths of lower ampacity that are together no longer than 3 m and a tenth of the way may go by the others' ampacity
(310.14(A)(2)). Too little there alone is unknown, not a fail, since drops aren't counted here.

Inputs that aren't given are assumed only for ambient (30 °C), harmonics (linear loads), the place (dry, where the insulation's column
hangs on it), covers of trays (none), the fill of metal wireway (a fifth) and cables of type NM (none), and the answer says "within, if …".
What is given but can't be read, and every other missing input, makes it unknown.

Clause: NFPA 70 310.14 to 310.16, 110.14(C), 240.4, 240.6(A), 376.22(B), 392.80(A).

Worked example. Six conductors of 14 AWG THHN at 105 °F (40.6 °C) in one conduit: 25 · 0.87 · 0.80 = 17.4 A, held to 15 A by terminals
of 60 °C.

Not asked here: motors, welders, taps and transformers, whose devices may be larger (240.4(E) to (G)), voltage drop, sun on roofs,
thermal insulation, conductors in the ground, aluminium.
"""

from dataclasses import replace

from checker.model import RoutedCircuit
from checker.rule import Outcome, Rating, Tells, Verdict, rule
from rules.grouping.figures import EXACTLY, needs_of, with_short
from rules.grouping.nec_conductor import conductor
from rules.grouping.nec_lengths import Length, cable_words, chain, length_of, may_be_left_out
from rules.grouping.nec_limits import AmpacityLimits
from rules.grouping.nec_required import LARGER_DEVICES, Needed, needed


@rule(
    id="grouping.ampacity",
    title="Ampacity, adjusted for current-carrying conductors and held to terminals",
    tells=Tells.RATING,
)
def ampacity(subject: RoutedCircuit, limits: AmpacityLimits) -> Verdict:
    """What the circuit carries at its worst length against what its load and its device need."""
    load, is_strict = subject.load, subject.is_strict
    alone = conductor(load, limits, is_strict=is_strict)
    need = needed(load, alone, limits, is_strict=is_strict)
    lengths = [length_of(enclosure, load, alone, need, limits, is_strict=is_strict) for enclosure in subject.enclosures]
    # of equal ones the first governs, so that every run names the same place
    worst = min((length for length in lengths if length.capacity_a is not None), key=_capacity, default=None)
    small = [length for length in lengths if length.is_short_of]
    no_fail = [need.no_fail] if need.no_fail else []
    if not is_strict and may_be_left_out(small, lengths, limits):
        no_fail.append(f"what carries too little may be short enough to be left out ({limits.short_part_m.cited})")
    unseen = [length.why_not for length in lengths if length.capacity_a is None]
    short, doubts = [_told(worst)] if small else [], [*need.no_pass, *unseen]
    if need.faults or (small and not no_fail):
        faults = [fault.words for fault in need.faults]
        outcome, reasons = Outcome.FAIL, [*short, *(_of_device(worst, need) if small else []), *faults]
    elif small or doubts or worst is None:
        outcome = Outcome.UNKNOWN
        told = [_told(worst)] if worst is not None and not unseen else short
        reasons = [*told, *(no_fail if small else []), *doubts]
    else:
        outcome, reasons = Outcome.PASS, [_told(worst)]
    reason = "; ".join(dict.fromkeys(text for text in reasons if text))
    verdict = _verdict(outcome, reason, subject, worst if not unseen or small else None, need, limits)
    if outcome is Outcome.UNKNOWN:
        blank = [""] if small and no_fail and not need.needs else []
        return replace(
            verdict, needs=needs_of((*need.needs, *blank, *(text for one in lengths for text in one.questions)))
        )
    if outcome is Outcome.FAIL and small:
        verdict = with_short(verdict, [one.enclosure for one in small])
    if not need.faults or small:
        return verdict
    first = need.faults[0]  # what it carries may be enough: the figures are those of the demand that isn't met
    return replace(verdict, value=first.value, limit=first.limit, source=first.source)


def _capacity(length: Length) -> float:
    return length.capacity_a or 0.0


def _told(worst: Length | None) -> str:
    """The worst length in words."""
    if worst is None or worst.held is None:
        return ""
    carried = f"carries {worst.capacity_a:.4g} A in {worst.enclosure.carrier.place.label} ({worst.group.words})"
    if worst.terminals < 1.0:
        carried += f", {worst.alone.terminals.words}"
    if worst.held.amps is None:
        return carried
    ifs = f", if {', '.join(worst.assumptions)}" if worst.assumptions else ""
    enough = "within" if worst.held.is_enough else f"too little{worst.alone.advice if worst.terminals < 1.0 else ''}"
    return f"{carried}, needs {worst.held.amps:.4g} A ({worst.held.why}): {enough}{ifs}"


def _of_device(worst: Length | None, need: Needed) -> list[str]:
    """What isn't asked about where it carries enough for its load, but not for its device."""
    if worst is None or worst.held is None or worst.held.amps != need.device_a:
        return []
    return [LARGER_DEVICES] if (worst.capacity_a or 0.0) >= (need.design_a or 0.0) - EXACTLY else []


def _verdict(
    outcome: Outcome, reason: str, subject: RoutedCircuit, worst: Length | None, need: Needed, limits: AmpacityLimits
) -> Verdict:
    """The answer with its figures; ``worst`` None: what it carries isn't known."""
    load = subject.load
    if worst is not None:
        figures = chain(load, worst)
        # what grants the next standard size is cited in the reason, where it decides
        source = f"{worst.alone.base.source}; {worst.group.source}"
    else:
        required, why = (
            (need.device_a, "its device") if need.device_a is not None else (need.design_a, "its design current")
        )
        figures = Rating("", cable_words(load), required_a=required, required_why=why)
        source = limits.continuous.cited
    basis = (
        limits.continuous.basis.value
    )  # what it carries and must carry is required; the next standard size only grants more
    return Verdict(outcome, reason, figures.required_a, figures.capacity_a, "A", "", basis, source, rating=figures)
