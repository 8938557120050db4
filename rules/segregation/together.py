"""What must be apart of cables that lie together: the tests that the rules of segregation share."""

from collections.abc import Sequence

from checker.model import CarrierKind, PlacedCable, Service
from checker.rule import Limit, Limits, Outcome, Verdict

ALONE = {Service.FIRE_ALARM: "fire_alarm_alone", Service.EMERGENCY_CENTRAL: "central_battery_alone"}
ALWAYS_LOW_BAND = {Service.DATA, Service.ELV}
BY_VOLTAGE = {Service.CONTROL, Service.FIRE_ALARM}
OPEN_KINDS = {CarrierKind.TRAY, CarrierKind.LADDER}


class SegregationLimits(Limits):
    """``band_one_to_v``: the highest voltage of band I. The others have no figure but 1: only one such service to a compartment."""

    band_one_to_v: Limit
    fire_alarm_alone: Limit
    central_battery_alone: Limit


def together(cables: Sequence[PlacedCable], kinds: set[CarrierKind], limits: SegregationLimits) -> Verdict:
    """The worst answer of the three tests.

    Args:
        cables: What lies together.
        kinds: The kinds of carrier that it lies in; on one of ``OPEN_KINDS`` it can be apart without a divider.
        limits: Of the code.
    """
    services = sorted({cable.service for cable in cables if cable.service is not None})
    unsaid = sorted({cable.circuit for cable in cables if cable.service is None})
    for service, name in ALONE.items():
        if service in services and len(services) > 1:
            others = ", ".join(other for other in services if other != service)
            marks = ", ".join(sorted({cable.circuit for cable in cables if cable.service is service}))
            return _apart(kinds, getattr(limits, name), f"{service} ({marks}) lies with {others}")
    mixed = _bands(cables, kinds, limits)
    if mixed is not None:
        return mixed
    if unsaid:
        return _answer(Outcome.UNKNOWN, limits.band_one_to_v, f"the service isn't known of {', '.join(unsaid)}")
    what = ", ".join(services) if services else "nothing"
    return _answer(Outcome.PASS, limits.band_one_to_v, f"{what} in it: nothing that must be apart")


def _bands(cables: Sequence[PlacedCable], kinds: set[CarrierKind], limits: SegregationLimits) -> Verdict | None:
    """The test of bands; None where it finds nothing."""
    limit = limits.band_one_to_v
    banded = [(cable, _is_low_band(cable, limit.value)) for cable in cables if cable.service is not None]
    low = [cable for cable, is_low in banded if is_low]
    high = [cable for cable, is_low in banded if is_low is False]
    undecided = [cable for cable, is_low in banded if is_low is None]
    if low and high:
        what = f"{_marks(low)} (band I) with {_marks(high)} (band II)"
        both = (*low, *high)
        present = max((cable.voltage_v for cable in high if cable.voltage_v is not None), default=None)
        if present is not None:
            short = [cable for cable in both if cable.rated_voltage_v is not None and cable.rated_voltage_v < present]
            if short:
                return _apart(kinds, limit, f"{what}: not insulated for {present:g} V: {_marks(short)}")
        unrated = [cable for cable in both if cable.rated_voltage_v is None]
        unsaid = [cable for cable in high if cable.voltage_v is None]
        if unrated or unsaid:
            missing = [f"the rated voltage isn't known of {_marks(unrated)}"] if unrated else []
            missing += [f"the voltage isn't known of {_marks(unsaid)}"] if unsaid else []
            return _answer(
                Outcome.UNKNOWN, limit, f"{what} must be apart unless all are insulated for it: {', '.join(missing)}"
            )
    if undecided and (low or high or len({cable.circuit for cable in undecided}) > 1) and not _one_fire_alarm(cables):
        return _answer(
            Outcome.UNKNOWN, limit, f"the voltage isn't known of {_marks(undecided)}, so neither is its band"
        )
    return None


def _one_fire_alarm(cables: Sequence[PlacedCable]) -> bool:
    """Whether only fire alarm cables lie here, which are of one system."""
    return all(cable.service is Service.FIRE_ALARM for cable in cables)


def _is_low_band(cable: PlacedCable, limit_v: float) -> bool | None:
    if cable.service in ALWAYS_LOW_BAND:
        return True
    if cable.service in BY_VOLTAGE:
        return None if cable.voltage_v is None else cable.voltage_v <= limit_v
    return False


def _apart(kinds: set[CarrierKind], limit: Limit, reason: str) -> Verdict:
    if not OPEN_KINDS.isdisjoint(kinds):
        return _answer(Outcome.UNKNOWN, limit, f"{reason}; how far apart they are laid isn't known")
    return _answer(Outcome.FAIL, limit, reason)


def _answer(outcome: Outcome, limit: Limit, reason: str) -> Verdict:
    return Verdict(outcome, reason, basis=limit.basis.value, source=limit.cited)


def _marks(cables: list[PlacedCable]) -> str:
    return ", ".join(sorted({cable.circuit for cable in cables}))
