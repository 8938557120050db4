"""Do services lie together in one compartment that must be apart?

Three tests, each on what lies in the same compartment:

1. Extra-low voltage and data (band I) and low voltage (band II) don't share a compartment unless every cable is insulated for the highest
   voltage present. So each cable's rated voltage is an input; where it decides and isn't given, the answer is unknown.
2. Fire alarm cables lie on their own.
3. Cables of emergency lighting from a central battery lie on their own. Self-contained luminaires are fed by ordinary circuits.

    band I    data, elv; fire-alarm and control at up to 50 V
    band II   power, emergency lighting; fire-alarm and control above 50 V

On a tray or ladder cables can be apart without a divider. How far apart they will be laid isn't known, so there the answer is unknown.
A service or a voltage that isn't given makes the answer unknown wherever it decides.

Clause: BS 7671 528.1 (bands), 560.7 with BS 5839-1 clause 26 (fire alarm), 560.7 with BS 5266-1 (escape lighting).

Worked example. A wall trunking of one compartment with socket circuits at 230 V in cables for 750 V, and data cables rated 125 V: 230 V is
present and the data cables aren't insulated for it: fail. Control at 24 V in single-core cables for 750 V beside the same circuits: pass.

Not asked here: distances between carriers, separation at tees and crossings, fire-resisting or screened cable used in place of separation.
"""

from checker.model import CarrierKind, LoadedCompartment, PlacedCable, Service
from checker.rule import Limit, Limits, Outcome, Verdict, rule

ALONE = {Service.FIRE_ALARM: "fire_alarm_alone", Service.EMERGENCY_CENTRAL: "central_battery_alone"}
ALWAYS_LOW_BAND = {Service.DATA, Service.ELV}
BY_VOLTAGE = {Service.CONTROL, Service.FIRE_ALARM}
OPEN_KINDS = {CarrierKind.TRAY, CarrierKind.LADDER}


class SegregationLimits(Limits):
    """``band_one_to_v``: the highest voltage of band I. The others have no figure but 1: only one such service to a compartment."""

    band_one_to_v: Limit
    fire_alarm_alone: Limit
    central_battery_alone: Limit


@rule(id="segregation.compartment", title="Services that must be apart in a compartment")
def compartment(subject: LoadedCompartment, limits: SegregationLimits) -> Verdict:
    """The worst answer of the three tests."""
    services = sorted({cable.service for cable in subject.cables if cable.service is not None})
    unsaid = sorted({cable.circuit for cable in subject.cables if cable.service is None})
    for service, name in ALONE.items():
        if service in services and len(services) > 1:
            others = ", ".join(other for other in services if other != service)
            marks = ", ".join(sorted({cable.circuit for cable in subject.cables if cable.service is service}))
            return _apart(subject, getattr(limits, name), f"{service} ({marks}) lies with {others}")
    mixed = _bands(subject, limits)
    if mixed is not None:
        return mixed
    if unsaid:
        return _answer(Outcome.UNKNOWN, limits.band_one_to_v, f"the service isn't known of {', '.join(unsaid)}")
    what = ", ".join(services) if services else "nothing"
    return _answer(Outcome.PASS, limits.band_one_to_v, f"{what} in it: nothing that must be apart")


def _bands(subject: LoadedCompartment, limits: SegregationLimits) -> Verdict | None:
    """The test of bands; None where it finds nothing."""
    limit = limits.band_one_to_v
    banded = [(cable, _is_low_band(cable, limit.value)) for cable in subject.cables if cable.service is not None]
    low = [cable for cable, is_low in banded if is_low]
    high = [cable for cable, is_low in banded if is_low is False]
    undecided = [cable for cable, is_low in banded if is_low is None]
    if low and high:
        what = f"{_marks(low)} (band I) with {_marks(high)} (band II)"
        together = (*low, *high)
        present = max((cable.voltage_v for cable in high if cable.voltage_v is not None), default=None)
        if present is not None:
            short = [
                cable for cable in together if cable.rated_voltage_v is not None and cable.rated_voltage_v < present
            ]
            if short:
                return _apart(subject, limit, f"{what}: not insulated for {present:g} V: {_marks(short)}")
        unrated = [cable for cable in together if cable.rated_voltage_v is None]
        unsaid = [cable for cable in high if cable.voltage_v is None]
        if unrated or unsaid:
            missing = [f"the rated voltage isn't known of {_marks(unrated)}"] if unrated else []
            missing += [f"the voltage isn't known of {_marks(unsaid)}"] if unsaid else []
            return _answer(
                Outcome.UNKNOWN, limit, f"{what} must be apart unless all are insulated for it: {', '.join(missing)}"
            )
    if undecided and (low or high or len({cable.circuit for cable in undecided}) > 1) and not _one_fire_alarm(subject):
        return _answer(
            Outcome.UNKNOWN, limit, f"the voltage isn't known of {_marks(undecided)}, so neither is its band"
        )
    return None


def _one_fire_alarm(subject: LoadedCompartment) -> bool:
    """Whether only fire alarm cables lie here, which are of one system."""
    return all(cable.service is Service.FIRE_ALARM for cable in subject.cables)


def _is_low_band(cable: PlacedCable, limit_v: float) -> bool | None:
    if cable.service in ALWAYS_LOW_BAND:
        return True
    if cable.service in BY_VOLTAGE:
        return None if cable.voltage_v is None else cable.voltage_v <= limit_v
    return False


def _apart(subject: LoadedCompartment, limit: Limit, reason: str) -> Verdict:
    if subject.carrier.kind in OPEN_KINDS:
        return _answer(Outcome.UNKNOWN, limit, f"{reason}; how far apart they are laid isn't known")
    return _answer(Outcome.FAIL, limit, reason)


def _answer(outcome: Outcome, limit: Limit, reason: str) -> Verdict:
    return Verdict(outcome, reason, basis=limit.basis.value, source=limit.cited)


def _marks(cables: list[PlacedCable]) -> str:
    return ", ".join(sorted({cable.circuit for cable in cables}))
