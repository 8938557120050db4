"""Which current-carrying conductors NFPA 70 counts, where: the factors are those of Table 310.15(C)(1)."""

from dataclasses import replace
from typing import Any

import pytest

from checker.model import CarrierKind, CircuitLoad, Laying, Member, Run, Service, State, Surroundings
from checker.rule import Outcome
from checker.units import MM_PER_INCH
from tests.rules.rated import capacity, enclosure, factor, in_conduit, judged, load, others, reading, trunking


def test_protective_conductors_don_t_count() -> None:
    """Three circuits of two loaded: six, 0.80; nine with the protective ones would be 0.70."""
    assert factor(in_conduit(load(), *others(2))) == 0.80


def test_up_to_three_conductors_aren_t_adjusted() -> None:
    three = load(loaded_conductors=3, conductors=4)
    assert factor(in_conduit(three)) == 1.0
    assert factor(in_conduit(load(), *others(1))) == 0.80


@pytest.mark.parametrize(
    ("spare", "adjusted"),
    [
        ({"state": State.SPARE, "is_loaded": False}, 0.70),  # 2 · 3 + 2 = 8
        ({"state": State.REMOVED, "is_loaded": False}, 0.80),  # 2 · 3
        ({"service": Service.DATA, "is_loaded": False, "loaded_conductors": None}, 0.80),
    ],
)
def test_spares_count_but_removed_cables_and_data_don_t(spare: dict[str, Any], adjusted: float) -> None:
    assert factor(in_conduit(load(), *others(2), Member(load("S", **spare)))) == adjusted


def test_all_conductors_of_a_spare_count_but_perhaps_one_where_loaded_ones_aren_t_given() -> None:
    """6 and, of four spares, four or all but one that may be protective: 10 → 0.50, 9 → 0.70."""
    own = load()
    spare = Member(load("S", state=State.SPARE, is_loaded=False, loaded_conductors=None, conductors=4))
    way = enclosure(Member(own), *others(2), spare)
    assert factor(reading(own, way, is_strict=False)) == 0.70
    assert factor(reading(own, way, is_strict=True)) == 0.50


def test_unused_conductors_of_a_cable_are_spares_against_it() -> None:
    """Two of twelve loaded: beside a neutral and a protective one eight are spare, 2 + 8 = 10 → 0.50."""
    own = load(is_single_core=False, conductors=12)
    way = enclosure(Member(own))
    assert factor(reading(own, way, is_strict=False)) == 1.0
    assert factor(reading(own, way, is_strict=True)) == 0.50


def test_a_little_third_harmonic_counts_the_neutral_only_against_it() -> None:
    three = {"loaded_conductors": 3, "conductors": 5, "third_harmonic": 0.10}
    own = load(**three)
    way = enclosure(Member(own), *others(2, **three))
    assert factor(reading(own, way, is_strict=False)) == 0.70  # 9
    assert factor(reading(own, way, is_strict=True)) == 0.50  # 12


def test_a_neutral_that_isn_t_there_doesn_t_count() -> None:
    three = {"loaded_conductors": 3, "conductors": 3, "third_harmonic": 0.50}
    assert factor(in_conduit(load(**three), *others(2, **three))) == 0.70


def test_a_neutral_that_carries_more_than_the_lines_must_be_carried() -> None:
    """Alone 4 → 0.80: 30 · 0.80 = 24 ≥ 20; its neutral carries 3 · 0.80 · 12 = 28.8 A."""
    verdict = in_conduit(load(loaded_conductors=3, conductors=5, third_harmonic=0.80))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "needs 28.8 A (its neutral" in verdict.reason


def test_a_light_circuit_is_not_left_out() -> None:
    assert factor(in_conduit(load(), *others(2, design_current_a=0.1))) == 0.80


def test_sets_and_passes_count_each() -> None:
    """Two sets of three 1/0 pass twice: 12 → 0.50; of 170 A: 2 · 85 = 170 A."""
    own = load(
        awg_kcmil="1/0",
        sets=2,
        circuits=2,
        loaded_conductors=3,
        conductors=4,
        device_rating_a=150.0,
        design_current_a=100.0,
    )
    verdict = judged(own, enclosure(Member(own, passes=2)))
    assert factor(verdict) == 0.50
    assert capacity(verdict) == pytest.approx(2 * 170 * 0.50)


def test_control_circuits_count_only_against_it() -> None:
    own = load()
    way = enclosure(Member(own), *others(4, service=Service.CONTROL))
    assert factor(reading(own, way, is_strict=False)) == 1.0
    assert factor(reading(own, way, is_strict=True)) == 0.50  # 10
    control = load(service=Service.CONTROL)
    assert factor(reading(control, enclosure(Member(control), *others(1)), is_strict=False)) == 0.80  # its own count


def test_what_may_lie_there_counts_only_against_it() -> None:
    """30 · 0.50 = 15 < 20 with four more circuits, 25 A at 75 °C without."""
    own = load()
    verdict = judged(own, enclosure(Member(own), possible=others(4), doubts=("N1 to N4 aren't routed",)))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "N1 to N4 aren't routed" in verdict.reason
    assert capacity(verdict) is None


def test_loaded_conductors_that_aren_t_given_are_two_or_three() -> None:
    """Three circuits: 6 → 0.80 or 9 → 0.70."""
    own = load(loaded_conductors=None)
    way = enclosure(Member(own), *others(2, loaded_conductors=None))
    assert factor(reading(own, way, is_strict=False)) == 0.80
    assert factor(reading(own, way, is_strict=True)) == 0.70


def test_four_single_conductors_are_one_circuit_in_favour_and_never_more_than_four() -> None:
    """Two loaded of four alike may be two circuits, or one with a neutral and a protective conductor: 4 + 2 or 2 + 2 with its neighbour."""
    four = load(conductors=4, circuits=2)
    way = enclosure(Member(four), *others(1))
    assert "(4 current-carrying conductors of C1, N1)" in reading(four, way, is_strict=False).reason
    assert "(6 current-carrying conductors of C1, N1)" in reading(four, way, is_strict=True).reason
    open_ = load(conductors=4, circuits=2, loaded_conductors=None)  # up to three in each, of four
    assert (
        "(6 current-carrying conductors of C1, N1)"
        in reading(open_, enclosure(Member(open_), *others(1)), is_strict=True).reason
    )


@pytest.mark.parametrize("missing", [{"circuits": None}, {"conductors": None}, {"unread": ("loaded_conductors",)}])
def test_a_neighbour_that_can_t_be_counted_makes_it_unknown(missing: dict[str, Any]) -> None:
    verdict = in_conduit(load(), Member(load("N", **missing)))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "how many current-carrying conductors N has isn't known" in verdict.reason


# Raceways and trays


@pytest.mark.parametrize(("length_m", "adjusted"), [(0.6, 1.0), (0.602, 0.50)])
def test_a_nipple_isn_t_adjusted(length_m: float, adjusted: float) -> None:
    own = load()
    way = enclosure(Member(own), *others(9), length_m=length_m, between_enclosures=True)
    assert factor(reading(own, way, is_strict=True)) == adjusted


@pytest.mark.parametrize("between", [None, False])
def test_a_short_run_that_isn_t_known_to_lie_between_enclosures_is_one_only_in_its_favour(
    *, between: bool | None
) -> None:
    """20 conductors: 30 · 0.50 = 15 < 20 A."""
    own = load()
    way = enclosure(Member(own), *others(9), length_m=0.6, between_enclosures=between)
    assert factor(reading(own, way, is_strict=False)) == 1.0
    assert factor(reading(own, way, is_strict=True)) == 0.50
    assert judged(own, way).outcome is Outcome.UNKNOWN


def test_two_loaded_of_four_conductors_may_be_two_lines_and_a_neutral_of_three_phases() -> None:
    """NFPA 70 310.15(E)(2): three circuits of two are 6 → 0.80 and 9 → 0.70."""
    own = load(conductors=4)
    way = enclosure(Member(own), *others(2, conductors=4))
    assert factor(reading(own, way, is_strict=False)) == 0.80
    assert factor(reading(own, way, is_strict=True)) == 0.70
    three = load(conductors=3)
    assert factor(reading(three, enclosure(Member(three), *others(2)), is_strict=True)) == 0.80  # 6


@pytest.mark.parametrize("place", [CarrierKind.CONDUIT, CarrierKind.TRAY])
def test_a_single_loaded_conductor_is_no_count(place: CarrierKind) -> None:
    own = load(loaded_conductors=1, is_single_core=False)
    verdict = judged(own, enclosure(Member(own), kind=place))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "how many current-carrying conductors" in verdict.reason


def test_a_conduit_of_unknown_length_may_be_a_nipple_only_in_its_favour() -> None:
    own = load()
    way = enclosure(Member(own), *others(4), length_m=None)
    assert factor(reading(own, way, is_strict=False)) == 1.0
    assert factor(reading(own, way, is_strict=True)) == 0.50


@pytest.mark.parametrize(
    ("material", "favour", "against"),
    [
        ("Steel", 1.0, 1.0),
        ("Aluminium", 1.0, 1.0),
        ("sheet metal", 1.0, 1.0),
        ("PVC", 0.50, 0.50),
        ("Nonmetallic", 0.50, 0.50),
        ("non-metallic", 0.50, 0.50),
        ("", 1.0, 0.50),
        ("PVC-coated steel", 1.0, 0.50),
        ("metal-free polymer", 1.0, 0.50),
        ("no metal", 1.0, 0.50),
        ("ABS, metallic look", 1.0, 0.50),
        ("steel-like GRP", 1.0, 0.50),
        ("steelite", 1.0, 0.50),
        ("GRP", 0.50, 0.50),
    ],
)
def test_only_metal_wireway_is_relieved(material: str, favour: float, against: float) -> None:
    own = load()
    way = trunking(own, *others(4), material=material)
    assert factor(reading(own, way, is_strict=False)) == favour
    assert factor(reading(own, way, is_strict=True)) == against


@pytest.mark.parametrize(("side_mm", "adjusted"), [(2 * MM_PER_INCH + 3.0, 0.50), (2 * MM_PER_INCH + 3.1, 1.0)])
def test_metal_wireway_is_surely_relieved_only_above_4_in2_inside(side_mm: float, adjusted: float) -> None:
    """Walls of 1.5 mm: outside 53.8 mm is exactly 2 in inside, 4 in²."""
    own = load()
    assert (
        factor(reading(own, trunking(own, *others(4), side_mm=side_mm, material="steel"), is_strict=True)) == adjusted
    )


def test_metal_wireway_is_relieved_if_it_is_no_more_than_a_fifth_full() -> None:
    own = load()
    verdict = judged(own, trunking(own, *others(4), material="steel"))
    assert verdict.outcome is Outcome.PASS
    assert "a wireway no more than 20 % full" in verdict.reason
    assert "20 % full" not in judged(own, trunking(own, material="PVC")).reason


def test_metal_trunking_that_is_cast_in_is_relieved_only_in_its_favour() -> None:
    own = load()
    way = trunking(own, *others(4), material="steel", laying=Laying(installed=Surroundings.CAST_IN))
    assert factor(reading(own, way, is_strict=False)) == 1.0
    assert factor(reading(own, way, is_strict=True)) == 0.50


def multiconductor(mark: str = "C1", **given: Any) -> CircuitLoad:
    return load(mark, is_single_core=False, insulation="XHHW-2", **given)


@pytest.mark.parametrize("kind", [CarrierKind.TRAY, CarrierKind.LADDER])
def test_a_cable_on_a_tray_isn_t_adjusted_for_its_neighbours(kind: CarrierKind) -> None:
    own = multiconductor()
    verdict = judged(own, enclosure(Member(own), *others(20, is_single_core=False), kind=kind))
    assert factor(verdict) == 1.0
    assert verdict.outcome is Outcome.PASS
    assert "no solid cover on the tray" in verdict.reason


def test_a_cable_on_a_tray_is_adjusted_for_the_conductors_inside_it() -> None:
    own = multiconductor(loaded_conductors=4, conductors=5)
    assert factor(judged(own, enclosure(Member(own), kind=CarrierKind.TRAY))) == 0.80


@pytest.mark.parametrize(
    ("given", "why"),
    [
        ({"kind": CarrierKind.TRAY}, "Table 310.17"),
        ({"kind": CarrierKind.LADDER}, "Table 310.17"),
        ({"kind": CarrierKind.UNKNOWN}, "what kind of carrier K1 is isn't known"),
        ({"laying": Laying(installed=Surroundings.GROUND)}, "in the ground"),
        ({"kind": CarrierKind.TRAY, "laying": Laying(installed=Surroundings.CAST_IN)}, "is cast in"),
        ({"kind": CarrierKind.LADDER, "laying": Laying(installed=Surroundings.CAST_IN)}, "is cast in"),
    ],
)
def test_where_no_table_is_for_it_is_unknown(given: dict[str, Any], why: str) -> None:
    verdict = in_conduit(load(), **given)
    assert verdict.outcome is Outcome.UNKNOWN
    assert why in verdict.reason
    assert capacity(verdict) is None


def test_the_lowest_length_governs_and_of_equal_ones_the_first() -> None:
    own = load()
    full = [enclosure(Member(own), *others(3), key=key) for key in ("K2", "K3")]
    verdict = judged(own, enclosure(Member(own), key="K1"), *full)
    assert verdict.rating is not None
    assert verdict.rating.carrier == "K2"
    assert capacity(verdict) == pytest.approx(30 * 0.70)  # 8


@pytest.mark.parametrize(
    ("crowded_m", "free_m", "outcome"),
    [
        (2.0, 18.0, Outcome.UNKNOWN),  # a tenth of 20 m
        (2.1, 18.0, Outcome.FAIL),  # more than a tenth of 20.1 m
        (3.1, 100.0, Outcome.FAIL),
        (3.0, 100.0, Outcome.UNKNOWN),
        (None, 100.0, Outcome.UNKNOWN),
    ],
)
def test_a_short_part_of_lower_ampacity_is_no_fail(crowded_m: float | None, free_m: float, outcome: Outcome) -> None:
    """Crowded: 30 · 0.50 = 15 A < 20 A. The code grants up to 10 ft and a tenth of the circuit."""
    own = load()
    crowded = trunking(own, *others(4), material="PVC", length_m=crowded_m)
    if crowded_m is None:
        crowded = replace(
            crowded, carrier=replace(crowded.carrier, kind=CarrierKind.CONDUIT), run=Run(1, ("K1",), 5.0, 0.0)
        )
    assert judged(own, crowded, enclosure(Member(own), key="K2", length_m=free_m)).outcome is outcome
