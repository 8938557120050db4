"""The adjustment factor of NFPA 70: how much current-carrying conductors that lie together take from each other."""

from dataclasses import replace

from checker.model import Carrier, CarrierKind, CircuitLoad, Enclosure, Surroundings
from checker.model.words import is_metal
from checker.rule.needs import of_type
from rules.grouping.figures import Figure
from rules.grouping.nec_count import in_cable, in_raceway
from rules.grouping.nec_limits import AmpacityLimits
from rules.grouping.nec_tables import adjustment_factor

OPEN = {CarrierKind.TRAY, CarrierKind.LADDER}
#: Half a millimetre over is the last bits of a model's coordinates, not a longer raceway.
LENGTH_EXACTLY_MM = 0.5


def adjustment(enclosure: Enclosure, load: CircuitLoad, limits: AmpacityLimits, *, is_strict: bool) -> Figure:
    """The factor for a circuit in an enclosure, in the reading in its favour or against it.

    Args:
        enclosure: With all that lies in it.
        load: The circuit.
        limits: The code's figures.
        is_strict: What isn't given is read against it.
    """
    carrier = enclosure.carrier
    label = carrier.place.label
    if carrier.laying.installed is Surroundings.GROUND:
        return Figure(None, why=f"{label} lies in the ground, for which there are no tables here")
    if carrier.kind is CarrierKind.UNKNOWN:
        return Figure(None, why=f"what kind of carrier {label} is isn't known", need=of_type("kind", carrier))
    if carrier.kind in OPEN:
        if carrier.laying.installed is Surroundings.CAST_IN:
            return Figure(None, why=f"{label} is cast in, and 392.80 is for trays in air")
        return _on_tray(load, limits, is_strict=is_strict)
    if _is_short(enclosure, limits, is_strict=is_strict):
        words = f"a raceway of no more than {limits.short_raceway_mm.value:g} mm"
        return Figure(1.0, limits.short_raceway_mm.cited, words=words)
    counted = in_raceway(enclosure, load, is_strict=is_strict)
    if counted.conductors is None:
        return Figure(None, why=counted.why, need=counted.need)
    words, most = f"{counted.conductors} current-carrying conductors of {counted.among}", limits.metal_wireway_most
    assumed = counted.assumed
    found = adjustment_factor(limits.adjustment, counted.conductors)
    if (
        carrier.kind is CarrierKind.TRUNKING
        and counted.conductors <= most.value
        and _is_metal_wireway(carrier, limits, is_strict=is_strict)
    ):
        found, words = Figure(1.0, most.cited), f"{words} in metal wireway, no more than {most.value:g}"
        assumed = ", ".join(text for text in (assumed, "a wireway no more than 20 % full") if text)
    return replace(found, words=words, assumed=assumed)


def _on_tray(load: CircuitLoad, limits: AmpacityLimits, *, is_strict: bool) -> Figure:
    """On trays multiconductor cables are adjusted only for the conductors inside each, 392.80(A)(1)."""
    if load.is_single_core is not False:
        return Figure(None, why="single conductors on a tray go by Table 310.17, which isn't here")
    counted = in_cable(load, is_strict=is_strict)
    if counted.conductors is None:
        return Figure(None, why=counted.why, need=counted.need)
    found = adjustment_factor(limits.adjustment, counted.conductors)
    assumed = ", ".join(text for text in (counted.assumed, "no solid cover on the tray") if text)
    words = f"{counted.conductors} current-carrying conductors in the cable"
    return replace(found, source=f"NFPA 70 392.80(A)(1), {found.source}", words=words, assumed=assumed)


def _is_short(enclosure: Enclosure, limits: AmpacityLimits, *, is_strict: bool) -> bool:
    """Whether the whole raceway is known to be a nipple; in its favour, whether it may be one."""
    most = limits.short_raceway_mm.value + LENGTH_EXACTLY_MM
    run, carrier = enclosure.run, enclosure.carrier
    if is_strict and (run is None or run.between_enclosures is not True):
        return False
    if carrier.kind is CarrierKind.CONDUIT and run is not None and run.length_m is not None:
        return run.length_m * 1000.0 <= most
    # a longer segment is certainly no nipple; a shorter one may be part of a longer raceway
    return not is_strict and (carrier.length_mm is None or carrier.length_mm <= most)


def _is_metal_wireway(carrier: Carrier, limits: AmpacityLimits, *, is_strict: bool) -> bool:
    """Whether the relief of 376.22(B) holds.

    A model doesn't tell wireway from surface raceway and strut channel, for which the same relief needs a section above 4 in²: against the
    circuit it must be large enough for all three, and not cast in.
    """
    found = is_metal(carrier.material)
    if not is_strict:
        return found is not False
    section = carrier.section
    if found is not True or carrier.laying.installed is Surroundings.CAST_IN:
        return False
    if section.width_mm is None or section.height_mm is None:
        return False
    thickest = limits.thickest_wall_mm.value if section.wall_range_mm is None else section.wall_range_mm[1]
    wall = section.wall_mm if section.wall_mm is not None else thickest
    return (section.width_mm - 2 * wall) * (section.height_mm - 2 * wall) > limits.channel_least_mm2.value
