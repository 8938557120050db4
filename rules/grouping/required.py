"""What a circuit's conductors must carry: its device's rating, a ring's share of it, or what harmonics put on the neutral."""

import math
from dataclasses import dataclass, replace

from checker.model import CircuitLoad
from checker.rule.needs import of_circuit
from rules.grouping.base import neutral_share
from rules.grouping.figures import current, need_of_current
from rules.grouping.limits import RatingLimits

#: What a schedule calls a semi-enclosed fuse, in letters and digits alone. It needs a further factor that no table here has.
SEMI_ENCLOSED = ("3036", "rewir", "semienclosed")


@dataclass(frozen=True, slots=True)
class Needed:
    """What the conductors must carry, in A; None: not known.

    ``no_pass``: why even enough isn't a pass. ``no_fail``: why less isn't a fail. ``fails``: why it fails whatever they carry.
    ``over_a``: Ib and In, where Ib is more than In. ``needs``: what would settle why it isn't a pass, one for each reason; blank: it isn't
    known what would.
    """

    amps: float | None
    why: str
    no_pass: tuple[str, ...] = ()
    no_fail: str = ""
    fails: str = ""
    needs: tuple[str, ...] = ()
    over_a: tuple[float, float] | None = None


def needed(load: CircuitLoad, limits: RatingLimits, *, is_strict: bool) -> Needed:
    """What a circuit needs by Iz ≥ In ≥ Ib.

    Args:
        load: The circuit.
        limits: The code's figures.
        is_strict: What isn't given is read against it, else in its favour.
    """
    device, no_device = current(load, "device_rating_a", "device's rating")
    design, no_design = current(load, "design_current_a", "design current")
    no_pass = [why for why in (no_device, no_design) if why]
    needs = [*need_of_current(load, "device_rating_a", "device rating")]
    needs += need_of_current(load, "design_current_a", "design current")
    if "device" in load.unread:
        no_pass.append("its device can't be read")
        needs.append(of_circuit("device", load.mark))
    device_word = "".join(letter for letter in load.device.lower() if letter.isalnum())
    if any(word in device_word for word in SEMI_ENCLOSED):
        no_pass.append("a semi-enclosed fuse needs a further factor, for which there is no table here")
        needs.append("")
    if device is None:
        # the legs of a ring share its load, and how isn't known without the device
        no_fail = "the legs of a ring share its design current, and its device isn't given" if load.is_ring else ""
        return Needed(design, "its design current", tuple(no_pass), no_fail, needs=tuple(needs))
    fails, over = "", None
    if design is not None and design > device:
        over = (design, device)
        fails = f"its design current of {design:g} A is more than its device's {device:g} A"
    why = "its design current" if fails else f"its device of {device:g} A"
    found = Needed(max(device, design or 0.0), why, tuple(no_pass), "", fails, tuple(needs), over)
    if load.is_ring:
        found = _of_ring(load, device, found, limits)
    neutral = neutral_share(load, limits, is_strict=is_strict) * device
    if neutral > (found.amps or 0.0):
        found = replace(found, amps=neutral, why=f"its neutral, 3 × {load.third_harmonic:.0%} of {device:g} A")
    return found


def _of_ring(load: CircuitLoad, device: float, radial: Needed, limits: RatingLimits) -> Needed:
    """The legs of a ring share the load. Where the code doesn't say how, only a leg that carries all of it is surely enough."""
    leg, most, least = limits.ring_leg_a, limits.ring_device_a, limits.ring_device_least_a
    is_three_phase = (load.loaded_conductors or 0) > 2
    if leg is None or most is None or least is None or is_three_phase or not least.value <= device <= most.value:
        no_fail = f"the code has no figure for the legs of a ring on {device:g} A"
        return replace(radial, why=f"{radial.why}, all of it on one leg", no_fail=no_fail)
    return replace(radial, amps=leg.value, why=f"each leg of a ring on {device:g} A, {leg.cited}")


def overload_needed(design: float, device: float, group: float, term: float) -> float:
    """What base rating times ambient must be where circuits aren't overloaded together, in A.

    max[Ib/Cg, √(In² + term · Ib² · (1 − Cg²)/Cg²)]: BS 7671 Appendix 4, 5.1.2.
    """
    return max(design / group, math.sqrt(device**2 + term * design**2 * (1.0 - group**2) / group**2))
