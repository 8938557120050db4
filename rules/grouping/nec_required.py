"""What NFPA 70 asks of a circuit's conductors: that they carry its load, and that its device protects them."""

from dataclasses import dataclass

from checker.model import CircuitLoad
from checker.rule.needs import of_circuit
from rules.grouping.figures import EXACTLY, current, need_of_current
from rules.grouping.nec_conductor import Conductor
from rules.grouping.nec_count import LIMITED, MOST_LOADED, has_loaded_neutral
from rules.grouping.nec_limits import AmpacityLimits
from rules.grouping.nec_tables import ampacities, is_at_least, standard_sizes

#: The thinnest size that may be laid in parallel, NFPA 70 310.10(G)(1); its exceptions are for control and instruments.
PARALLEL_LEAST = "1/0"
LARGER_DEVICES = "whether 240.4(G) grants a larger device, for motors and other specific circuits, isn't asked about"


@dataclass(frozen=True, slots=True)
class Fault:
    """A demand that isn't met whatever the circuit's way is: in words, and its two figures in A where it has such.

    ``value`` may be no more than ``limit``.
    """

    words: str
    value: float | None = None
    limit: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Needed:
    """What a circuit needs wherever it lies, in A; None: not known. ``neutral_a``: what its neutral carries, where that is more.

    ``is_next_granted``: whether its device may be the next standard size; never a small conductor's (240.4(D)).
    ``no_pass``: why even enough isn't a pass. ``no_fail``: why too little isn't a fail. ``faults``: why it fails whatever its way is.
    ``needs``: what would settle why it isn't a pass, one for each reason; blank: it isn't known what would.
    """

    design_a: float | None
    device_a: float | None
    neutral_a: float | None = None
    is_next_granted: bool = True
    no_pass: tuple[str, ...] = ()
    no_fail: str = ""
    faults: tuple[Fault, ...] = ()
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Held:
    """What a capacity is held against, in A, why that, and whether it is enough; None: not known."""

    amps: float | None
    why: str
    is_enough: bool | None


def needed(load: CircuitLoad, alone: Conductor, limits: AmpacityLimits, *, is_strict: bool) -> Needed:
    """What a circuit needs wherever it lies.

    Args:
        load: The circuit.
        alone: What one set carries at the temperature of its terminals, unadjusted.
        limits: The code's figures.
        is_strict: Its load is taken as continuous.
    """
    device, no_device = current(load, "device_rating_a", "device's rating")
    design, no_design = current(load, "design_current_a", "design current")
    no_pass = [why for why in (no_device, no_design) if why]
    needs = [*need_of_current(load, "device_rating_a", "device rating")]
    needs += need_of_current(load, "design_current_a", "design current")
    if "device" in load.unread:
        no_pass.append("its device can't be read")
        needs.append(of_circuit("device", load.mark))
    no_fail = ""
    if load.is_ring:
        no_fail = "it is a ring, of which the code knows nothing"
    elif load.service in LIMITED:
        no_fail = "other articles may grant a circuit more that isn't known to be for power"
    sure = _of_device(design, device, limits, is_strict=is_strict)
    others = _of_terminals(load, design, alone, limits, is_strict=is_strict)
    known_size = load.awg_kcmil in ampacities(limits.ampacities) and not load.doubt
    small = _of_small(load.awg_kcmil, device, limits) if known_size else []
    others += small
    if known_size and (load.sets or 1) > 1 and not is_at_least(limits.ampacities, load.awg_kcmil, PARALLEL_LEAST):
        words = (
            f"its sets are {load.awg_kcmil} AWG, and {PARALLEL_LEAST} is the least in parallel (NFPA 70 310.10(G)(1))"
        )
        others.append(Fault(words, source="NFPA 70 310.10(G)(1)"))
    if not no_fail:
        sure += others
    elif load.is_ring or others:
        no_pass += [*(fault.words for fault in others), no_fail]
        needs.append(of_circuit("service", load.mark) if load.service is None and not load.is_ring else "")
    neutral = _neutral(load, design, is_strict=is_strict)
    return Needed(design, device, neutral, not small, tuple(no_pass), no_fail, tuple(sure), tuple(needs))


def _continuous(design: float, limits: AmpacityLimits, *, is_strict: bool) -> tuple[float, str]:
    """What a load asks of device and terminals: more where it is continuous, which no schedule says."""
    if not is_strict:
        return design, f"its design current of {design:g} A"
    share = limits.continuous.value
    return (
        share * design,
        f"the {share * design:.4g} A of {share:.0%} of its {design:g} A, taken as continuous ({limits.continuous.cited})",
    )


def _of_device(design: float | None, device: float | None, limits: AmpacityLimits, *, is_strict: bool) -> list[Fault]:
    if design is None or device is None:
        return []
    asked, words = _continuous(design, limits, is_strict=is_strict)
    if device >= asked - EXACTLY:
        return []
    return [Fault(f"its device of {device:g} A is less than {words}", asked, device, limits.continuous.cited)]


def _of_terminals(
    load: CircuitLoad, design: float | None, alone: Conductor, limits: AmpacityLimits, *, is_strict: bool
) -> list[Fault]:
    if design is None or alone.terminals.value is None or not load.sets:
        return []
    asked, words = _continuous(design, limits, is_strict=is_strict)
    carried = load.sets * alone.terminals.value
    if carried >= asked - EXACTLY:
        return []
    told = f"its conductors have {carried:g} A at their terminals, less than {words}{alone.advice}"
    return [Fault(told, asked, carried, f"{limits.continuous.cited}; {alone.terminals.source}")]


def _of_small(size: str, device: float | None, limits: AmpacityLimits) -> list[Fault]:
    most = {"14": limits.small_14_a, "12": limits.small_12_a, "10": limits.small_10_a}.get(size)
    if most is None or device is None or device <= most.value:
        return []
    words = (
        f"its device of {device:g} A is more than the {most.value:g} A of {size} AWG ({most.cited}); {LARGER_DEVICES}"
    )
    return [Fault(words, device, most.value, most.cited)]


def _neutral(load: CircuitLoad, design: float | None, *, is_strict: bool) -> float | None:
    """What a neutral carries that third harmonics load more than a line: three times their share of it."""
    loaded = min(load.loaded_conductors or MOST_LOADED, MOST_LOADED)
    share = load.third_harmonic
    if not is_strict or design is None or share is None or 3.0 * share <= 1.0:
        return None
    return 3.0 * share * design if has_loaded_neutral(load, loaded, is_strict=True) else None


def held(need: Needed, capacity_a: float, limits: AmpacityLimits, *, is_strict: bool) -> Held:
    """What a capacity is held against: the device, or the load where the device is the next standard size above the capacity.

    Args:
        need: What the circuit needs.
        capacity_a: What it carries, adjusted and within its terminals.
        limits: The code's figures.
        is_strict: A branch circuit is taken to feed several receptacles, to which no next size is granted.
    """
    load, device = need.design_a, need.device_a
    if need.neutral_a is not None and capacity_a < need.neutral_a - EXACTLY:
        return Held(need.neutral_a, "its neutral, three times the third harmonic", is_enough=False)
    if device is None:
        enough = None if load is None else capacity_a >= load - EXACTLY
        return Held(load, "its design current", enough)
    least, why = device, f"its device of {device:g} A"
    if capacity_a >= device - EXACTLY:
        return Held(max(least, load or 0.0), why, capacity_a >= (load or 0.0) - EXACTLY)
    following = _next_size(capacity_a, limits)
    if need.is_next_granted and following is not None and device <= min(following, limits.next_size_most_a.value):
        granted = (
            f"{following:g} A is the next standard size above {capacity_a:.4g} A ({limits.next_size_most_a.cited})"
        )
        if not is_strict or device > limits.receptacles_most_a.value:
            return Held(load, f"its design current; {granted}", None if load is None else capacity_a >= load - EXACTLY)
        why += f"; {granted}, but not granted to a branch circuit of several receptacles ({limits.receptacles_most_a.cited})"
    return Held(max(least, load or 0.0), why, is_enough=False)


def _next_size(capacity_a: float, limits: AmpacityLimits) -> float | None:
    """The next standard size; None where the capacity is one itself, or above all."""
    for size in standard_sizes(limits.devices):
        if abs(size - capacity_a) <= EXACTLY:
            return None
        if size > capacity_a:
            return size
    return None
