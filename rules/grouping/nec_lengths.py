"""What a circuit carries by NFPA 70 on each length of its way, and the chain of figures that leads there."""

from collections.abc import Sequence
from dataclasses import dataclass

from checker.model import CircuitLoad, Enclosure
from checker.rule import Factor, Rating
from checker.rule.needs import of_circuit
from rules.grouping.figures import Figure
from rules.grouping.nec_adjustment import adjustment
from rules.grouping.nec_conductor import Conductor
from rules.grouping.nec_limits import AmpacityLimits
from rules.grouping.nec_required import Held, Needed, held

KCMIL_FROM = 250


@dataclass(frozen=True, slots=True)
class Length:
    """What a circuit carries on one length of its way, in A, and what that is held against. None: not known; ``why_not`` says why.

    ``questions``: what would tell what it carries; a blank where that isn't known.
    """

    enclosure: Enclosure
    alone: Conductor
    group: Figure
    terminals: float = 1.0
    capacity_a: float | None = None
    held: Held | None = None
    why_not: str = ""
    questions: tuple[str, ...] = ()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was taken for inputs that weren't given."""
        figures = (self.alone.base, self.alone.ambient, self.group, self.alone.terminals)
        return tuple(figure.assumed for figure in figures if figure.assumed)

    @property
    def is_short_of(self) -> bool:
        """Whether it is known to carry too little."""
        return self.held is not None and self.held.is_enough is False


def length_of(
    enclosure: Enclosure, load: CircuitLoad, alone: Conductor, need: Needed, limits: AmpacityLimits, *, is_strict: bool
) -> Length:
    """What a circuit carries in one enclosure on its way.

    Args:
        enclosure: With all that lies in it.
        load: The circuit.
        alone: What one set of its conductors carries.
        need: What it needs.
        limits: The code's figures.
        is_strict: What isn't given is read against it.
    """
    group = adjustment(enclosure, load, limits, is_strict=is_strict)
    base, ambient, terminals = alone.base.value, alone.ambient.value, alone.terminals.value
    if base is None or ambient is None or terminals is None or group.value is None or not load.sets:
        whys = (alone.why_not, group.why, "" if load.sets else "how many sets it has can't be read")
        questions = [*alone.needs, *([group.need] if group.value is None else [])]
        questions += [] if load.sets else [of_circuit("sets", load.mark)]
        told = "; ".join(why for why in whys if why)
        return Length(enclosure, alone, group, why_not=told, questions=tuple(questions))
    adjusted = base * ambient * group.value
    capacity = load.sets * min(adjusted, terminals)
    share = min(1.0, terminals / adjusted)
    return Length(enclosure, alone, group, share, capacity, held(need, capacity, limits, is_strict=is_strict))


def may_be_left_out(small: Sequence[Length], lengths: Sequence[Length], limits: AmpacityLimits) -> bool:
    """Whether the code lets lengths of lower ampacity go by the higher one of the others, 310.14(A)(2), or may for all that is known.

    Only carriers count here, not drops; one whose length isn't known is taken for short.
    """
    if not small or len(small) == len(lengths):
        return False
    short = sum(length.enclosure.carrier.length_mm or 0.0 for length in small)
    each = [length.enclosure.carrier.length_mm for length in lengths]
    is_small_share = None in each or short <= limits.short_part_share.value * sum(length or 0.0 for length in each)
    return is_small_share and short <= limits.short_part_m.value * 1000.0


def chain(load: CircuitLoad, worst: Length) -> Rating:
    """The figures of a circuit's worst length, in order: their product is its capacity."""
    alone, against = worst.alone, worst.held
    factors = [
        Factor("Ca", alone.ambient.value, alone.ambient.cited, bool(alone.ambient.assumed)),
        Factor("Cg", worst.group.value, worst.group.cited, bool(worst.group.assumed)),
        Factor("Ct", worst.terminals, alone.terminals.cited),
    ]
    if (load.sets or 1) > 1:
        factors.append(Factor("sets", float(load.sets or 1), "parallel sets, by the schedule"))
    return Rating(
        carrier=worst.enclosure.carrier.key,
        cable=cable_words(load),
        base_a=alone.base.value,
        base_source=alone.base.cited,
        factors=tuple(factors),
        capacity_a=worst.capacity_a,
        required_a=against.amps if against is not None else None,
        required_why=against.why if against is not None else "",
        assumptions=worst.assumptions,
        grouping_factor=worst.group.value,
    )


def cable_words(load: CircuitLoad) -> str:
    """Its live conductors in words."""
    is_kcmil = load.awg_kcmil.isdecimal() and int(load.awg_kcmil) >= KCMIL_FROM
    size = f"{load.awg_kcmil} {'kcmil' if is_kcmil else 'AWG'} " if load.awg_kcmil else ""
    form = {True: "single conductors", False: "multiconductor", None: "cores not known"}[load.is_single_core]
    return f"{size}{load.conductor} {load.insulation}, {form}".strip()
