"""Does the neutral of three phases carry what third harmonics put on it?

The currents of three balanced phases cancel each other in the neutral, but for harmonics whose order is a multiple of three: those add up.
A neutral that is thinner than its lines may then be the first to overheat, and one that is thicker may be what makes a circuit possible.

    I_N = 3 · h3 · In  ≤  Iz_N = n · It · Ca · Ch · Cg

    I_N   the neutral's current, A
    h3    third harmonic over fundamental, a ratio
    In    rating of the device, A; its design current if that is more
    Iz_N  what the neutral carries on a length; the least of all lengths on its way governs, A
    n     parallel sets
    It    base rating of its size with three loaded conductors, A; Ca, Ch, Cg factors for ambient, harmonics and grouping: all as in
          grouping.rating

**Which conductor it is** a schedule tells by size alone. In a multicore cable all cores are alike. Of single cores the lines are three of
one size, and a fourth of that size is the neutral; else it is among the others: it is taken for the largest of them in its favour, and for
the smallest against it. Where there is one other and three are loaded, it may be a protective conductor: then too little is a fail, since a
circuit with third harmonics has a neutral and it is no larger than that, and enough is unknown. `loaded_conductors` = 4 says that it is the
neutral.

**Above 15 %** the table of harmonics counts the neutral as loaded, and its factors are for cables of like cores. For a neutral that is
thinner than the lines there is no factor then: too little current for it, even so, is a fail, and enough is unknown.

Asked only where the schedule gives three or four loaded conductors with a third harmonic, or four without one, and the neutral isn't known
to be as large as the lines: of a neutral as large as they are grouping.rating asks already, by the current that governs. A third harmonic
that isn't given is taken for none there, and there is no question here.

Clause: IEC 60364-5-52:2009 523.6 and Annex E, Table E.52.1; BS 7671 523.6 and Table 4Aa.

Worked example. 39 A with 40 % third harmonic: I_N = 3 · 0.40 · 39 = 46.8 A. A neutral of 10 mm², PVC, by method C carries
57 · 0.86 = 49.02 A: within; one of 6 mm² would carry 41 · 0.86 = 35.26 A: too little.

Not asked here: phases that aren't balanced, whose neutral carries more (the answer says "if the phases are in balance"); other harmonics;
the least size of a neutral without harmonics; whether devices see the neutral's current; the rating of the lines; circuits that are
declared not to be overloaded together, which here are grouped like others; rings.
"""

from dataclasses import replace

from checker.model import CircuitLoad, Enclosure, RoutedCircuit
from checker.model.loads import Neutral
from checker.rule import Limit, Outcome, Rating, Verdict, rule
from checker.rule.needs import of_circuit
from rules.grouping.figures import EXACTLY, current, few, need_of_current, needs_of
from rules.grouping.lengths import Length, chain, length_of
from rules.grouping.limits import RatingLimits
from rules.grouping.required import Needed

THREE_PHASE = {3, 4}
IN_BALANCE = "the phases are in balance"


class NeutralLimits(RatingLimits):
    """Those of ratings, and ``thinner_to``: up to which third harmonic there are figures for a neutral thinner than the lines, a ratio."""

    thinner_to: Limit


def asks(subject: RoutedCircuit) -> bool:
    """Whether third harmonics load a neutral, or may, that isn't known to be as large as the lines."""
    load = subject.load
    if load.loaded_conductors not in THREE_PHASE or load.neutral is None or load.neutral.is_as_lines:
        return False
    return bool(load.third_harmonic) or "third_harmonic" in load.unread or load.loaded_conductors == max(THREE_PHASE)


@rule(id="grouping.neutral", title="Neutral that third harmonics load", asks=asks)
def neutral(subject: RoutedCircuit, limits: NeutralLimits) -> Verdict:
    """What the neutral carries at its worst length against the harmonics' current."""
    load, need = subject.load, _needed(subject.load)
    of_it = load.neutral or Neutral(doubt="which of its conductors is the neutral isn't known")
    size = of_it.least_mm2 if subject.is_strict else of_it.most_mm2
    open_ones = [*need.needs, *([of_circuit("neutral", load.mark)] if of_it.doubt else [])]
    if size is None or need.amps is None:
        whys = [of_it.doubt if size is None else "", need.why if need.amps is None else ""]
        unknown = _answer(Outcome.UNKNOWN, "; ".join(why for why in whys if why), None, need, load, limits)
        return replace(unknown, needs=needs_of(open_ones))
    its = replace(_lines(load, of_it), csa_mm2=size)
    one = replace(subject, load=its, not_overloaded_together="")
    lengths = [length_of(_with_lines(enclosure, load, of_it), one, need, limits) for enclosure in subject.enclosures]
    worst = min((length for length in lengths if length.capacity_a is not None), key=Length.room, default=None)
    seen: Length | None
    unseen = few(length.why_not for length in lengths if length.capacity_a is None)
    doubts = [*need.no_pass, *unseen]
    open_ones += [text for length in lengths for text in length.questions]
    if (load.third_harmonic or 0.0) > limits.thinner_to.value + EXACTLY and size < (of_it.line_mm2 or 0.0):
        thin = f"the neutral of {size:g} mm² is thinner than the lines of {of_it.line_mm2:g} mm²"
        doubts.append(f"{thin}, and above {limits.thinner_to.value:.0%} third harmonic there is no factor for that")
        open_ones.append("")
    if worst is not None and not worst.is_enough(limits):
        outcome, seen, doubts = Outcome.FAIL, worst, []
    else:
        outcome = Outcome.UNKNOWN if doubts or worst is None else Outcome.PASS
        seen = None if unseen else worst
    told = [*([] if seen is None else [_told(seen, size, need, limits)]), *doubts]
    return replace(_answer(outcome, "; ".join(told), seen, need, its, limits), needs=needs_of(open_ones))


def _needed(load: CircuitLoad) -> Needed:
    """3 · h3 · In."""
    harmonic = (of_circuit("third harmonic", load.mark),)
    if "third_harmonic" in load.unread:
        return Needed(None, "its third harmonic can't be read", needs=harmonic)
    if load.third_harmonic is None:
        return Needed(None, "its neutral is loaded, and by how much third harmonic isn't given", needs=harmonic)
    if load.is_ring:
        return Needed(None, "how the neutrals of a ring share their current isn't known", needs=("",))
    device, no_device = current(load, "device_rating_a", "device's rating")
    design, no_design = current(load, "design_current_a", "design current")
    needs = (
        *need_of_current(load, "device_rating_a", "device rating"),
        *need_of_current(load, "design_current_a", "design current"),
    )
    no_pass = tuple(why for why in (no_device, no_design) if why)
    if device is None and design is None:
        return Needed(None, "; ".join(no_pass), needs=needs)
    amps = max(device or 0.0, design or 0.0)
    why = f"3 × {load.third_harmonic:.0%} of {amps:g} A"
    return Needed(3.0 * load.third_harmonic * amps, why, no_pass, needs=needs)


def _lines(load: CircuitLoad, of_it: Neutral) -> CircuitLoad:
    """The circuit with its lines for live conductors: that its neutral is of another size is no doubt here."""
    circuits = load.circuits or load.sets
    return replace(
        load, doubt="", csa_mm2=of_it.line_mm2, is_single_core=of_it.is_single_core, conductor=of_it.conductor,
        insulation=of_it.insulation, circuits=circuits, circuits_least=load.circuits_least or load.sets,
    )  # fmt: skip


def _with_lines(enclosure: Enclosure, load: CircuitLoad, of_it: Neutral) -> Enclosure:
    """An enclosure in which the circuit's lines stand for it in the group."""
    lines = _lines(load, of_it)
    members = tuple(
        replace(member, load=lines) if member.load.mark == load.mark else member for member in enclosure.members
    )
    return replace(enclosure, members=members)


def _told(worst: Length, size: float, need: Needed, limits: RatingLimits) -> str:
    is_enough = worst.is_enough(limits)
    ifs = f", if {', '.join((IN_BALANCE, *worst.assumptions))}" if is_enough else ""
    carried = f"carries {worst.capacity_a:.4g} A in {worst.enclosure.carrier.place.label} ({worst.group.words})"
    if limits.load_share.value < 1.0:
        carried += f", of which a load may take {limits.load_share.value:.0%}"
    enough = "within" if is_enough else "too little"
    return f"its neutral of {size:g} mm² {carried}, needs {need.amps:.4g} A ({need.why}): {enough}{ifs}"


def _answer(
    outcome: Outcome, reason: str, worst: Length | None, need: Needed, load: CircuitLoad, limits: RatingLimits
) -> Verdict:
    """The answer with its figures; ``worst`` None: what the neutral carries isn't known."""
    limit, source = limits.load_share, limits.harmonics.rows[0]["source"]
    figures = Rating(required_a=need.amps, required_why=need.why)
    if worst is not None:
        figures = chain(load, worst)
        source = f"{source}; {worst.alone.base.source}; {worst.group.source}"
    allowed = None if figures.capacity_a is None else figures.capacity_a * limit.value
    basis = limit.basis.value
    return Verdict(
        outcome, reason, need.amps, allowed, "A", "", basis, source, rating=figures,
        found="its neutral needs {}", wanted="{} allowed" if allowed is not None else "",
    )  # fmt: skip
