"""What NFPA 70 asks of a circuit's device and conductors. Each expected figure is worked beside it."""

from dataclasses import replace
from typing import Any

import pytest

from checker.model import Member, Service
from checker.rule import Outcome
from tests.rules.rated import capacity, enclosure, in_conduit, load, others, reading


@pytest.mark.parametrize(("size", "most"), [("14", 15.0), ("12", 20.0), ("10", 30.0)])
def test_small_conductors_have_small_devices(size: str, most: float) -> None:
    """All would carry more: 20, 25 and 35 A at 75 °C."""
    own = load(awg_kcmil=size, device_rating_a=most, design_current_a=8.0)
    assert in_conduit(own).outcome is Outcome.PASS
    verdict = in_conduit(replace(own, device_rating_a=most + 5.0))
    assert verdict.outcome is Outcome.FAIL
    assert "240.4(D)" in verdict.reason
    assert "240.4(G)" in verdict.reason
    # what it carries would be enough, so the figures are those of 240.4(D)
    assert (verdict.value, verdict.limit) == (most + 5.0, most)
    assert "240.4(D)" in verdict.source
    # the next size isn't granted to small conductors: 14 AWG at 40.6 °C, 6 conductors, 17.4 A is held against 20 A, not against its load
    warm = in_conduit(load(awg_kcmil="14", ambient_c=40.6, device_rating_a=20.0), *others(2))
    assert warm.rating is not None
    assert warm.rating.required_a == 20.0


@pytest.mark.parametrize(
    ("design", "outcome"),
    [(16.0, Outcome.PASS), (16.1, Outcome.UNKNOWN), (20.0, Outcome.UNKNOWN), (20.1, Outcome.FAIL)],
)
def test_a_load_that_may_be_continuous_needs_a_quarter_more(design: float, outcome: Outcome) -> None:
    """1.25 · 16 = 20 A, exactly its device."""
    verdict = in_conduit(load(design_current_a=design))
    assert verdict.outcome is outcome
    assert ("taken as continuous" in verdict.reason) is (outcome is Outcome.UNKNOWN)


def test_conductors_need_a_quarter_more_at_their_terminals_whatever_the_device_is() -> None:
    """1/0 at 75 °C: 150 A; 1.25 · 125 = 156.25 A, which the device of 175 A has."""
    own = load(awg_kcmil="1/0", device_rating_a=175.0, design_current_a=125.0)
    verdict = in_conduit(own)
    assert (
        "150 A at their terminals, less than the 156.2 A" in reading(own, enclosure(Member(own)), is_strict=True).reason
    )
    assert verdict.outcome is Outcome.FAIL  # 150 A is a standard size, so 175 A isn't granted


@pytest.mark.parametrize(
    ("size", "beside", "device", "outcome"),
    [
        ("3/0", 1, 175.0, Outcome.PASS),  # 225 · 0.80 = 180
        ("3/0", 1, 200.0, Outcome.PASS),  # the next size above 180
        ("3/0", 1, 225.0, Outcome.FAIL),  # the next but one
        ("2/0", 0, 175.0, Outcome.PASS),  # 175 at 75 °C
        ("2/0", 0, 200.0, Outcome.FAIL),  # 175 is a standard size
    ],
)
def test_the_next_standard_size_is_granted_unless_it_is_one_itself(
    size: str, beside: int, device: float, outcome: Outcome
) -> None:
    three: dict[str, Any] = {"loaded_conductors": 3, "conductors": 4}
    own = load(awg_kcmil=size, device_rating_a=device, design_current_a=120.0, **three)
    assert in_conduit(own, *others(beside, **three)).outcome is outcome


@pytest.mark.parametrize(("device", "outcome"), [(800.0, Outcome.PASS), (900.0, Outcome.PASS), (1000.0, Outcome.FAIL)])
def test_above_800_a_no_next_size_is_granted(device: float, outcome: Outcome) -> None:
    """Three sets of 500 kcmil, nine conductors: 3 · min(430 · 0.70, 380) = 903 A; the next size is 1000 A."""
    own = load(
        awg_kcmil="500",
        sets=3,
        circuits=3,
        loaded_conductors=3,
        conductors=4,
        device_rating_a=device,
        design_current_a=600.0,
    )
    verdict = in_conduit(own)
    assert capacity(verdict) == pytest.approx(903.0)
    assert verdict.outcome is outcome


def test_the_next_size_up_to_50_a_hangs_on_what_the_branch_circuit_feeds() -> None:
    """12 AWG, 8 conductors at 45 °C: 30 · 0.87 · 0.70 = 18.27 A; 20 A is the next size."""
    verdict = in_conduit(load(ambient_c=45.0), *others(3))
    assert verdict.outcome is Outcome.UNKNOWN
    assert "several receptacles" in verdict.reason
    assert capacity(verdict) == pytest.approx(18.27)
    tight = in_conduit(load(ambient_c=45.0, design_current_a=18.5), *others(3))
    assert tight.outcome is Outcome.FAIL  # its load is more than 18.27 A, however the device is read


def test_exactly_its_device_is_enough() -> None:
    """6 AWG THHN, 6 conductors: 75 · 0.80 = 60, held to 65."""
    verdict = in_conduit(load(awg_kcmil="6", device_rating_a=60.0, design_current_a=40.0), *others(2))
    assert capacity(verdict) == pytest.approx(60.0)
    assert verdict.outcome is Outcome.PASS


@pytest.mark.parametrize(("size", "outcome"), [("1", Outcome.FAIL), ("1/0", Outcome.PASS)])
def test_sets_in_parallel_are_1_0_and_larger(size: str, outcome: Outcome) -> None:
    own = load(awg_kcmil=size, sets=2, circuits=2, device_rating_a=150.0, design_current_a=100.0)
    verdict = in_conduit(own)
    assert verdict.outcome is outcome
    assert ("310.10(G)(1)" in verdict.reason) is (outcome is Outcome.FAIL)
    assert (verdict.value is None and verdict.limit is None) is (outcome is Outcome.FAIL)


def test_a_load_above_its_device_has_the_two_as_its_figures() -> None:
    verdict = in_conduit(load(awg_kcmil="8", design_current_a=30.0, device_rating_a=25.0))
    assert (verdict.outcome, verdict.value, verdict.limit) == (Outcome.FAIL, 30.0, 25.0)


def test_a_device_above_what_is_carried_may_be_one_that_isn_t_asked_about() -> None:
    """3/0 beside one: 225 · 0.80 = 180 A, next size 200 A. A load of 190 A is too much whatever its device is."""
    three: dict[str, Any] = {"loaded_conductors": 3, "conductors": 4, "awg_kcmil": "3/0", "device_rating_a": 225.0}
    verdict = in_conduit(load(design_current_a=120.0, **three), *others(1, **three))
    assert verdict.outcome is Outcome.FAIL
    assert "240.4(G)" in verdict.reason
    loaded = in_conduit(load(design_current_a=190.0, **three), *others(1, **three))
    assert loaded.outcome is Outcome.FAIL
    assert "240.4(G)" not in loaded.reason


def test_a_ring_is_unknown_even_where_a_leg_carries_all() -> None:
    assert in_conduit(load(is_ring=True)).outcome is Outcome.UNKNOWN


def test_a_control_circuit_that_is_short_is_unknown_and_one_that_isn_t_passes() -> None:
    assert in_conduit(load(service=Service.CONTROL)).outcome is Outcome.PASS
    short = in_conduit(load(service=Service.CONTROL, device_rating_a=25.0))
    assert short.outcome is Outcome.UNKNOWN
    assert "other articles" in short.reason
    # nothing is short here: only what is missing is said
    assert "other articles" not in in_conduit(load(service=Service.CONTROL, design_current_a=None)).reason
