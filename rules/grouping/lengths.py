"""What a circuit carries on each length of its way, and the chain of figures that leads there."""

from dataclasses import dataclass

from checker.model import CircuitLoad, Enclosure, RoutedCircuit
from checker.rule import Factor, Rating
from checker.rule.needs import of_circuit, of_type
from rules.grouping.base import KIND, Alone, alone, neutral_share
from rules.grouping.figures import EXACTLY, Figure
from rules.grouping.group import group_of
from rules.grouping.limits import RatingLimits
from rules.grouping.required import Needed, overload_needed


@dataclass(frozen=True, slots=True)
class Length:
    """What a circuit carries on one length of its way, in A, and what it needs there. None: not known, and ``why_not`` says why.

    ``is_declared``: circuits are declared not to be overloaded together; then grouping is in what it needs, not in what it carries.
    ``questions``: what would tell what it carries, and ``beside`` what in the reading against it counts as it isn't known whether it is
    light; a blank where that isn't known.
    """

    enclosure: Enclosure
    alone: Alone
    group: Figure
    capacity_a: float | None = None
    needs: float | None = None
    needs_why: str = ""
    is_declared: bool = False
    why_not: str = ""
    questions: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()

    def room(self) -> float:
        """What it carries over what it needs; the length with the least governs."""
        carries = self.capacity_a or 0.0
        return round(carries / self.needs if self.needs else carries, 9)

    def is_enough(self, limits: RatingLimits) -> bool:
        """Whether it carries what it needs."""
        return self.needs is not None and (self.capacity_a or 0.0) * limits.load_share.value >= self.needs - EXACTLY

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was taken for inputs that weren't given."""
        figures = (self.alone.base, self.alone.ambient, self.alone.harmonic, self.group)
        return tuple(figure.assumed for figure in figures if figure.assumed)


def length_of(enclosure: Enclosure, subject: RoutedCircuit, need: Needed, limits: RatingLimits) -> Length:
    """What a circuit carries in one enclosure on its way."""
    load, carrier = subject.load, enclosure.carrier
    together = group_of(enclosure, limits, is_strict=subject.is_strict)
    by_itself = alone(load, together.where, limits, is_strict=subject.is_strict)
    group = together.factor(load.mark)
    if by_itself.amps is None or group.value is None or not load.sets:
        grouped = f"in {carrier.place.label} {group.why}" if group.why else ""
        whys = (by_itself.why_not, grouped, "" if load.sets else "how many sets it has can't be read")
        questions = [of_type(KIND, carrier) if need == KIND else need for need in by_itself.needs]
        questions += [group.need] if group.value is None else []
        questions += [] if load.sets else [of_circuit("sets", load.mark)]
        told = "; ".join(why for why in whys if why)
        return Length(enclosure, by_itself, group, why_not=told, questions=tuple(questions))
    ungrouped, beside = load.sets * by_itself.amps, together.told.questions(but=load.mark)
    if beside:  # what isn't routed counts as well
        beside += tuple(of_circuit("way", member.load.mark) for member in enclosure.possible if member.load.is_loaded)
    term, design, device = limits.overload_term, load.design_current_a, load.device_rating_a
    is_line = (
        neutral_share(load, limits, is_strict=subject.is_strict) == 0.0
    )  # the formula speaks of lines, not of a neutral
    if subject.not_overloaded_together and term is not None and design and device and is_line and not load.is_ring:
        needs = max(overload_needed(design, device, group.value, term.value), need.amps or 0.0)
        why = f"{need.why}, where circuits aren't overloaded together: {subject.not_overloaded_together}; {term.cited}"
        return Length(enclosure, by_itself, group, ungrouped, needs, why, is_declared=True, beside=beside)
    return Length(enclosure, by_itself, group, ungrouped * group.value, need.amps, need.why, beside=beside)


def chain(load: CircuitLoad, worst: Length) -> Rating:
    """The figures of a circuit's worst length, in order."""
    alone_ = worst.alone
    factors = [Factor("Ca", alone_.ambient.value, alone_.ambient.cited, bool(alone_.ambient.assumed))]
    if alone_.harmonic.source:
        factors.append(Factor("Ch", alone_.harmonic.value, alone_.harmonic.cited))
    if not worst.is_declared:
        factors.append(Factor("Cg", worst.group.value, worst.group.cited, bool(worst.group.assumed)))
    if (load.sets or 1) > 1:
        factors.append(Factor("sets", float(load.sets or 1), "parallel sets, by the schedule"))
    return Rating(
        carrier=worst.enclosure.carrier.key,
        cable=cable_words(load),
        csa_mm2=load.csa_mm2,
        base_a=alone_.base.value,
        base_source=alone_.base.cited,
        factors=tuple(factors),
        capacity_a=worst.capacity_a,
        required_a=worst.needs,
        required_why=worst.needs_why,
        assumptions=worst.assumptions,
        grouping_factor=worst.group.value,
    )


def cable_words(load: CircuitLoad) -> str:
    """Its live conductors in words."""
    size = "" if load.csa_mm2 is None else f"{load.csa_mm2:g} mm²"
    made_of = " ".join(part for part in (size, load.conductor, load.insulation) if part)
    form = {True: "single core", False: "multicore", None: ""}[load.is_single_core]
    return ", ".join(part for part in (made_of, form) if part)
