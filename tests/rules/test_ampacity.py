"""Ampacities by NFPA 70. Each expected figure is worked beside it, from Tables 310.16, 310.15(B)(1)(1) and 310.15(C)(1)."""

import math
from typing import Any

import pytest

from checker.model import Member
from checker.rule import Outcome
from checker.rule.plugins import load_plugins
from checker.units import MM_PER_INCH
from tests.rules.rated import capacity, enclosure, factor, in_conduit, judged, load, others, reading, trunking

# The published and worked cases


def test_published_six_14_awg_thhn_at_105_f_carry_17_4_a() -> None:
    own = load(awg_kcmil="14", device_rating_a=15.0, design_current_a=8.0, ambient_c=(105 - 32) / 1.8)
    verdict = in_conduit(own, *others(2, awg_kcmil="14"))
    assert (factor(verdict, "Ca"), factor(verdict)) == (0.87, 0.80)
    assert capacity(verdict) == pytest.approx(25 * 0.80 * 0.87) == pytest.approx(17.4)
    assert verdict.outcome is Outcome.PASS


def test_published_twelve_of_thirteen_12_awg_thhn_in_a_small_channel_carry_15_a() -> None:
    """Twelve current-carrying, one protective; a channel of 1-5/8 in isn't above 4 in², so nothing relieves it."""
    own = load(conductors=3)
    way = trunking(own, *others(5, conductors=2), side_mm=1.625 * MM_PER_INCH, material="Steel")
    against = reading(own, way, is_strict=True)
    assert factor(against) == 0.50
    assert capacity(against) == pytest.approx(30 * 0.50) == 15.0
    # read as a wireway it is relieved: min(30 · 1, 25) for terminals of 75 °C; so it is unknown
    assert capacity(reading(own, way, is_strict=False)) == 25.0
    assert judged(own, way).outcome is Outcome.UNKNOWN


@pytest.mark.parametrize(("circuits", "adjusted", "carried"), [(16, 0.40, 12.0), (15, 1.0, 25.0)])
def test_a_wireway_of_6_by_6_in_with_32_of_12_awg_carries_12_a_and_with_30_isn_t_adjusted(
    circuits: int, adjusted: float, carried: float
) -> None:
    """30 · 0.40 = 12.0 above 30 conductors; at 30 of them min(30, 25)."""
    own = load()
    verdict = judged(own, trunking(own, *others(circuits - 1), material="Galvanised steel"))
    assert (factor(verdict), capacity(verdict)) == (adjusted, pytest.approx(carried))
    assert verdict.outcome is (Outcome.FAIL if circuits == 16 else Outcome.PASS)


@pytest.mark.parametrize(
    ("given", "adjusted"),
    [
        ({"third_harmonic": 0.0}, 0.70),  # 3 · 3 = 9
        ({"third_harmonic": 0.40, "conductors": 5}, 0.50),  # 3 · 4 = 12
        ({"loaded_conductors": 4, "conductors": 5}, 0.50),
    ],
)
def test_three_wye_circuits_in_one_conduit_are_9_conductors_or_12_with_nonlinear_loads(
    given: dict[str, Any], adjusted: float
) -> None:
    three = {"loaded_conductors": 3, "conductors": 4, **given}
    own = load(**three)
    way = enclosure(Member(own), *others(2, **three))
    assert {factor(reading(own, way, is_strict=strict)) for strict in (True, False)} == {adjusted}


# Columns, ambient and terminals


@pytest.mark.parametrize(
    ("insulation", "terminations_c", "carried"),
    [
        # 55 at 90 °C, held to the 40 of 60 °C
        ("THHN", 60.0, 40.0),
        ("THHN", 70.0, 40.0),
        ("THHN", 75.0, 50.0),
        ("THHN", 90.0, 55.0),
        ("THW", 90.0, 50.0),
        ("TW", 90.0, 40.0),
        ("UF", None, 40.0),
    ],
)
def test_a_column_is_held_to_the_terminals(insulation: str, terminations_c: float | None, carried: float) -> None:
    own = load(
        awg_kcmil="8", insulation=insulation, terminations_c=terminations_c, device_rating_a=50.0, design_current_a=30.0
    )
    verdict = in_conduit(own)
    assert capacity(verdict) == carried
    assert verdict.outcome is (Outcome.PASS if carried >= 50 else Outcome.FAIL)


def test_too_little_only_for_undeclared_terminals_is_unknown_and_told_what_to_declare() -> None:
    """8 AWG THHN on 50 A: 40 A at 60 °C, 50 A at 75 °C. On 40 A it is enough at both."""
    own = load(awg_kcmil="8", terminations_c=None, device_rating_a=50.0, design_current_a=30.0)
    verdict = in_conduit(own)
    assert verdict.outcome is Outcome.UNKNOWN
    assert "declare both ends' terminals" in verdict.reason
    enough = in_conduit(load(awg_kcmil="8", terminations_c=None, device_rating_a=40.0, design_current_a=30.0))
    assert enough.outcome is Outcome.PASS
    assert "declare both" not in enough.reason
    assert in_conduit(load(awg_kcmil="8", terminations_c=60.0, device_rating_a=50.0)).outcome is Outcome.FAIL


def test_a_load_too_large_for_undeclared_terminals_only_is_unknown_too() -> None:
    """8 AWG on 40 A carries it; but 1.25 · 36 = 45 A is more than the 40 A of 60 °C."""
    own = load(awg_kcmil="8", terminations_c=None, device_rating_a=40.0, design_current_a=36.0)
    verdict = in_conduit(own)
    assert verdict.outcome is Outcome.UNKNOWN
    assert "less than the 45 A of 125% of its 36 A, taken as continuous" in verdict.reason
    assert "declare both ends' terminals" in verdict.reason


def test_the_hold_of_terminals_comes_after_the_adjustment_not_before() -> None:
    """8 AWG THHN, 6 conductors: min(55 · 0.80, 50) = 44; 50 · 0.80 = 40 would be wrong."""
    own = load(awg_kcmil="8", device_rating_a=40.0, design_current_a=30.0)
    assert capacity(in_conduit(own, *others(2))) == pytest.approx(44.0)


@pytest.mark.parametrize(
    ("size", "device", "favour", "against"),
    [
        ("1", 100.0, 130.0, 110.0),
        ("1", 125.0, 130.0, 110.0),
        ("1/0", 100.0, 150.0, 125.0),
        ("1/0", 110.0, 150.0, 150.0),
        ("1/0", None, 150.0, 125.0),
        ("1", None, 130.0, 110.0),
    ],
)
def test_undeclared_terminals_go_by_device_and_size(
    size: str, device: float | None, favour: float, against: float
) -> None:
    """1 AWG: 110 A at 60 °C, 130 A at 75 °C; 1/0: 125 A and 150 A. The code lets small ones have 75 °C too if they are made for it."""
    own = load(awg_kcmil=size, device_rating_a=device, design_current_a=70.0, terminations_c=None)
    way = enclosure(Member(own))
    assert capacity(reading(own, way, is_strict=False)) == favour
    assert capacity(reading(own, way, is_strict=True)) == against


@pytest.mark.parametrize(
    ("insulation", "ambient_c", "value"),
    [
        ("THHN", 40.0, 0.91),
        ("THHN", 40.6, 0.87),
        ("THHN", 10.0, 1.15),
        ("THHN", 10.1, 1.12),
        ("THW", 60.0, 0.58),
        ("TW", 55.0, 0.41),
    ],
)
def test_the_ambient_s_factor_is_of_the_warmer_row_and_of_the_insulation_s_column(
    insulation: str, ambient_c: float, value: float
) -> None:
    assert factor(in_conduit(load(insulation=insulation, ambient_c=ambient_c)), "Ca") == value


def test_a_cool_ambient_doesn_t_lift_it_above_its_own_column() -> None:
    """14 AWG TW at 10 °C: 15 · 1.29 = 19.35, held to 15 by its own 60 °C."""
    own = load(awg_kcmil="14", insulation="TW", ambient_c=10.0, device_rating_a=15.0)
    assert capacity(in_conduit(own)) == pytest.approx(15.0)


@pytest.mark.parametrize(("insulation", "ambient_c"), [("TW", 55.1), ("THW", 71.0), ("THHN", 86.0)])
def test_an_ambient_without_a_factor_is_unknown(insulation: str, ambient_c: float) -> None:
    verdict = in_conduit(load(insulation=insulation, ambient_c=ambient_c))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "no factor for an ambient" in verdict.reason


# What is missing


@pytest.mark.parametrize(
    ("missing", "why"),
    [
        ({"awg_kcmil": "", "csa_mm2": 4.0}, "isn't given in AWG or kcmil"),
        ({"awg_kcmil": "11"}, "has no size 11"),
        ({"conductor": ""}, "its conductor's metal isn't given"),
        ({"conductor": "aluminium"}, "no table for aluminium"),
        ({"insulation": ""}, "its insulation isn't given"),
        ({"insulation": "PVC"}, "no column is for insulation PVC"),
        ({"terminations_c": 50.0}, "for which there is no column"),
        ({"device_rating_a": None}, "its device's rating isn't given"),
        ({"design_current_a": None}, "its design current isn't given"),
        ({"sets": None, "circuits": None}, "how many sets it has can't be read"),
        ({"doubt": "cores isn't given"}, "cores isn't given"),
        *(
            ({"unread": (column,)}, f"its {name} can't be read")
            for column, name in (
                ("ambient_c", "ambient"), ("conductor", "conductor"), ("insulation", "insulation"), ("device", "device"),
                ("device_rating_a", "device's rating"), ("design_current_a", "design current"),
            )
        ),
    ],
)  # fmt: skip
def test_what_is_missing_makes_it_unknown(missing: dict[str, Any], why: str) -> None:
    verdict = in_conduit(load(**missing))
    assert verdict.outcome is Outcome.UNKNOWN
    assert why in verdict.reason


def test_a_load_above_its_device_fails_whatever_else_is_missing() -> None:
    assert in_conduit(load(awg_kcmil="", design_current_a=21.0)).outcome is Outcome.FAIL


def test_a_device_that_isn_t_given_doesn_t_hide_that_the_load_is_too_much() -> None:
    """Ten conductors: 30 · 0.50 = 15 A < 16 A."""
    assert in_conduit(load(device_rating_a=None, design_current_a=16.0), *others(4)).outcome is Outcome.FAIL


def test_what_was_assumed_is_said() -> None:
    own = load(ambient_c=None, third_harmonic=None, loaded_conductors=3, conductors=5, is_single_core=False)
    verdict = in_conduit(own)
    assert verdict.outcome is Outcome.PASS
    for words in ("a dry or damp place", "ambient 30 °C", "linear loads", "no cable of type NM or UF"):
        assert words in verdict.reason
        assert verdict.rating is not None
        assert words in verdict.rating.assumptions
    wet_too = in_conduit(load(insulation="THWN-2"))
    assert wet_too.rating is not None
    assert wet_too.rating.assumptions == ()


@pytest.mark.parametrize("beside", [0, 2, 5])
@pytest.mark.parametrize("terminations_c", [None, 75.0])
@pytest.mark.parametrize("sets", [1, 2])
def test_the_chain_s_product_is_the_capacity(beside: int, terminations_c: float | None, sets: int) -> None:
    own = load(
        awg_kcmil="2/0", sets=sets, circuits=sets, terminations_c=terminations_c, ambient_c=38.0, device_rating_a=70.0
    )
    way = enclosure(Member(own), *others(beside))
    rating = reading(own, way, is_strict=True).rating
    assert rating is not None
    assert rating.base_a == 195.0
    product = math.prod(item.value for item in rating.factors if item.value is not None)
    assert rating.base_a * product == pytest.approx(rating.capacity_a)


def test_each_insulation_is_for_one_of_the_three_columns() -> None:
    columns = {row["word"]: row["temperature_c"] for row in load_plugins().tables["nec_insulations.csv"].rows}
    assert set(columns.values()) == {"60", "75", "90"}
    assert (columns["TW"], columns["THWN"], columns["THWN-2"], columns["THHN"]) == ("60", "75", "90", "90")
