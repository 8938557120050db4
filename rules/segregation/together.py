"""What must be apart of cables that lie together: the tests that the rules of segregation share."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from pydantic import Field

from checker.model import CarrierKind, PlacedCable, Service
from checker.rule import DEFINES, Limit, Limits, Outcome, Verdict
from checker.rule.needs import of_cable, of_circuit

ALONE = {Service.FIRE_ALARM: "fire_alarm_alone", Service.EMERGENCY_CENTRAL: "central_battery_alone"}
ALWAYS_LOW_BAND = {Service.DATA, Service.ELV}
BY_VOLTAGE = {Service.CONTROL, Service.FIRE_ALARM}
OPEN_KINDS = {CarrierKind.TRAY, CarrierKind.LADDER}


class SegregationLimits(Limits):
    """What of services that must be apart is a figure.

    ``band_one_to_v``: the highest voltage of band I. ``fire_alarm_alone``, ``central_battery_alone``: 1, only one such service to a
    compartment; they have no other figure.
    """

    band_one_to_v: Limit = Field(json_schema_extra=DEFINES)
    fire_alarm_alone: Limit = Field(json_schema_extra=DEFINES)
    central_battery_alone: Limit = Field(json_schema_extra=DEFINES)


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
    is_open = not OPEN_KINDS.isdisjoint(
        kinds
    )  # there an answer may only lead to how far apart they are laid, which isn't known
    if mixed is not None:
        return replace(mixed, needs=()) if is_open else mixed
    if unsaid:
        needs = () if is_open else tuple(of_circuit("service", mark) for mark in unsaid)
        return _answer(Outcome.UNKNOWN, limits.band_one_to_v, f"the service isn't known of {', '.join(unsaid)}", needs)
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
            needs = [of_cable("rated voltage", cable) for cable in unrated] + _voltages(unsaid)
            told = f"{what} must be apart unless all are insulated for it: {', '.join(missing)}"
            return _answer(Outcome.UNKNOWN, limit, told, needs)
    if undecided and (low or high or len({cable.circuit for cable in undecided}) > 1) and not _one_fire_alarm(cables):
        told = f"the voltage isn't known of {_marks(undecided)}, so neither is its band"
        return _answer(Outcome.UNKNOWN, limit, told, _voltages(undecided))
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
    return replace(_answer(Outcome.FAIL, limit, reason), found="services together", wanted="must be apart")


def _answer(outcome: Outcome, limit: Limit, reason: str, needs: Iterable[str] = ()) -> Verdict:
    needs = tuple(dict.fromkeys(needs))
    return Verdict(outcome, reason, basis=limit.basis.value, source=limit.cited, needs=needs)


def _voltages(cables: Sequence[PlacedCable]) -> list[str]:
    return [of_circuit("voltage", cable.circuit) for cable in cables]


def _marks(cables: list[PlacedCable]) -> str:
    return ", ".join(sorted({cable.circuit for cable in cables}))
