"""Where on its way a circuit carries too little, besides the length that governs."""

from typing import Any

from checker.model import CarrierKind, CircuitLoad, Enclosure, Member, RoutedCircuit, Service, State
from checker.rule import Outcome, Verdict, judge_circuit
from checker.rule.plugins import load_plugins
from tests.rules.rated import enclosure, judged, load, others


def lines(mark: str, **given: Any) -> CircuitLoad:
    """A pair of 2.5 mm² lines in PVC on 20 A: 24 A alone in trunking."""
    usual: dict[str, Any] = {
        "service": Service.POWER, "state": State.NEW, "is_loaded": True, "is_single_core": True, "csa_mm2": 2.5, "conductor": "copper",
        "insulation": "PVC", "loaded_conductors": 2, "conductors": 3, "sets": 1, "circuits": 1, "design_current_a": 18.0,
        "device_rating_a": 20.0, "ambient_c": 30.0, "third_harmonic": 0.0,
    }  # fmt: skip
    return CircuitLoad(mark=mark, **{**usual, **given})


def in_trunking(key: str, own: CircuitLoad, number: int) -> Enclosure:
    beside = (Member(lines(f"N{one}")) for one in range(number))
    return enclosure(Member(own), *beside, kind=CarrierKind.TRUNKING, key=key)


def rated(own: CircuitLoad, *enclosures: Enclosure) -> Verdict:
    plugins = load_plugins()
    limits = plugins.codes["bs-7671"].limits["grouping.rating"]
    return judge_circuit(plugins.rules["grouping.rating"], RoutedCircuit(own, enclosures), limits)


def test_every_length_with_too_little_is_told_in_the_order_of_the_way() -> None:
    """24 · 0.80 = 19.2 A with one beside it, 24 alone, 24 · 0.70 = 16.8 A with two, of which 20 A are needed."""
    own = lines("C1")
    verdict = rated(own, in_trunking("K1", own, 1), in_trunking("K2", own, 0), in_trunking("K3", own, 2))
    assert verdict.outcome is Outcome.FAIL
    assert verdict.rating is not None
    assert (verdict.rating.carrier, verdict.rating.short) == ("K3", ("K1", "K3"))


def test_of_one_that_passes_none_is_told() -> None:
    own = lines("C1")
    verdict = rated(own, in_trunking("K2", own, 0))
    assert verdict.outcome is Outcome.PASS
    assert verdict.rating is not None
    assert verdict.rating.short == ()


def test_nor_of_one_whose_device_is_too_small_for_its_load() -> None:
    own = lines("C1", design_current_a=21.0)
    verdict = rated(own, in_trunking("K2", own, 0))
    assert verdict.outcome is Outcome.FAIL
    assert verdict.rating is not None
    assert verdict.rating.short == ()


def test_by_nfpa_70_too() -> None:
    """30 · 0.50 = 15 A with 10 and with 12 conductors, min(30 · 0.80, 25) = 24 A with 4, of which 20 A are needed."""
    own = load()
    way = [enclosure(Member(own), *others(number), key=key) for key, number in (("K1", 4), ("K2", 1), ("K3", 5))]
    verdict = judged(own, *way)
    assert verdict.outcome is Outcome.FAIL
    assert verdict.rating is not None
    assert (verdict.rating.carrier, verdict.rating.short) == ("K1", ("K1", "K3"))
