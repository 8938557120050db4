"""Circuits and enclosures for tests of ampacities: one circuit of 12 AWG THHN, varied."""

from typing import Any

from checker.model import (
    Carrier,
    CarrierKind,
    CircuitLoad,
    Enclosure,
    Laying,
    Member,
    Place,
    RoutedCircuit,
    Run,
    Section,
    Service,
    State,
)
from checker.rule import Verdict, judge_circuit
from checker.rule.plugins import load_plugins

RULE = load_plugins().rules["grouping.ampacity"]
LIMITS = load_plugins().codes["nfpa-70"].limits["grouping.ampacity"]


def load(mark: str = "C1", **given: Any) -> CircuitLoad:
    """Two loaded conductors and a protective one, all of 12 AWG THHN, single, on 20 A; terminals for 75 °C."""
    usual: dict[str, Any] = {
        "service": Service.POWER, "state": State.NEW, "is_loaded": True, "is_single_core": True, "awg_kcmil": "12",
        "conductor": "copper", "insulation": "THHN", "loaded_conductors": 2, "conductors": 3, "sets": 1, "circuits": 1,
        "design_current_a": 12.0, "device_rating_a": 20.0, "ambient_c": 30.0, "third_harmonic": 0.0, "terminations_c": 75.0,
    }  # fmt: skip
    return CircuitLoad(mark=mark, **{**usual, **given})


def others(number: int, **given: Any) -> tuple[Member, ...]:
    return tuple(Member(load(f"N{one}", **given)) for one in range(1, number + 1))


def enclosure(*members: Member, kind: CarrierKind = CarrierKind.CONDUIT, key: str = "K1", **given: Any) -> Enclosure:
    length_m = given.pop("length_m", 6.0)
    section, material = given.pop("section", Section()), given.pop("material", "")
    laying = given.pop("laying", Laying())
    between = given.pop("between_enclosures", None)
    length_mm = None if length_m is None else length_m * 1000.0
    carrier = Carrier(key, Place(key, "m", tag=key), kind, section, "", material, length_mm=length_mm, laying=laying)
    run = Run(1, (key,), length_m, 0.0, between) if kind is CarrierKind.CONDUIT else None
    return Enclosure(carrier, members, run=run, **given)


def judged(own: CircuitLoad, *enclosures: Enclosure) -> Verdict:
    return judge_circuit(RULE, RoutedCircuit(own, enclosures), LIMITS)


def reading(own: CircuitLoad, *enclosures: Enclosure, is_strict: bool) -> Verdict:
    return RULE.function(RoutedCircuit(own, enclosures, is_strict=is_strict), LIMITS)


def in_conduit(own: CircuitLoad, *beside: Member, **given: Any) -> Verdict:
    return judged(own, enclosure(Member(own), *beside, **given))


def factor(verdict: Verdict, name: str = "Cg") -> float | None:
    assert verdict.rating is not None
    return next(item.value for item in verdict.rating.factors if item.name == name)


def capacity(verdict: Verdict) -> float | None:
    assert verdict.rating is not None
    return verdict.rating.capacity_a


def trunking(own: CircuitLoad, *beside: Member, side_mm: float = 152.4, **given: Any) -> Enclosure:
    section = Section(width_mm=side_mm, height_mm=side_mm, wall_mm=1.5)
    return enclosure(Member(own), *beside, kind=CarrierKind.TRUNKING, section=section, **given)
