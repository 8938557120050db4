"""Of which circuits it is asked whether their neutral carries its harmonics, and what is left to the rating."""

import pytest

from checker.model import RoutedCircuit
from checker.rule import Outcome, judge_circuit
from checker.rule.plugins import load_plugins
from checker.testing_circuits import routed_circuit_of

PLUGINS = load_plugins()
LIMITS = PLUGINS.codes["iec-60364"].limits
RULE, RATING = (PLUGINS.rules[key] for key in ("grouping.neutral", "grouping.rating"))
REDUCED = [{"csa_mm2": 25, "count": 3, "cores": 1}, {"csa_mm2": 16, "count": 2, "cores": 1}]
ALIKE = [{"csa_mm2": 25, "count": 4, "cores": 1}]
CABLE = [{"csa_mm2": 25, "count": 1, "cores": 4}]


def subject(
    cables: list[dict[str, float]], loaded: int | None = 3, harmonic: float | None = 0.12, **more: object
) -> RoutedCircuit:
    given: dict[str, object] = {"mark": "C1", "cables": cables, "design_current_a": 60, "device_rating_a": 63, **more}
    given |= {} if loaded is None else {"loaded_conductors": loaded}
    given |= {} if harmonic is None else {"third_harmonic": harmonic}
    return routed_circuit_of({"kind": "trunking", "circuits": [given]})


@pytest.mark.parametrize(
    ("cables", "loaded", "harmonic", "is_asked"),
    [
        (REDUCED, 3, 0.12, True),
        (REDUCED, 4, None, True),  # its neutral is loaded, by an unknown harmonic
        (REDUCED, 3, None, False),  # none is assumed, as in the rating
        (REDUCED, 3, 0.0, False),
        (REDUCED, 2, 0.12, False),  # one phase: the neutral carries what the line does
        (REDUCED, None, 0.12, False),
        (ALIKE, 4, 0.40, False),  # as large as the lines: the rating asks by the current that governs
        (CABLE, 4, 0.40, False),
    ],
)
def test_it_is_asked_where_harmonics_load_a_neutral_that_may_be_of_another_size(
    cables: list[dict[str, float]], loaded: int | None, harmonic: float | None, *, is_asked: bool
) -> None:
    assert RULE.asks(subject(cables, loaded, harmonic)) is is_asked


def test_of_a_neutral_as_large_as_the_lines_the_rating_asks_for_the_same_current() -> None:
    # 3 · 0.40 · 63 = 75.6 A, where the rating has the harmonics' table on its side: 89 · 0.86 = 76.54 A
    verdict = judge_circuit(RATING, subject(ALIKE, 4, 0.40), LIMITS["grouping.rating"])
    assert verdict.outcome is Outcome.PASS
    assert verdict.value == pytest.approx(75.6)


def test_what_cant_be_read_is_asked_and_unknown_with_what_would_settle_it() -> None:
    found = subject(REDUCED, 3, None, unread=["third_harmonic"])
    assert RULE.asks(found)
    verdict = judge_circuit(RULE, found, LIMITS["grouping.neutral"])
    assert verdict.outcome is Outcome.UNKNOWN
    assert verdict.needs == ("the third harmonic of circuit C1",)


def test_two_sets_carry_twice_as_much() -> None:
    # 3 · 0.12 · 63 = 22.68 A; 16 mm² by B1 carries 68 A, two sets are two circuits: 0.80 (Table B.52.17); 2 · 68 · 0.80 = 108.8 A
    verdict = judge_circuit(RULE, subject(REDUCED, sets=2), LIMITS["grouping.neutral"])
    assert verdict.outcome is Outcome.PASS
    assert (verdict.value, verdict.limit) == (pytest.approx(22.68), pytest.approx(108.8))


def test_a_circuit_that_isnt_routed_is_unknown() -> None:
    found = RoutedCircuit(subject(REDUCED).load, (), ("it isn't routed: there is no way",))
    verdict = judge_circuit(RULE, found, LIMITS["grouping.neutral"])
    assert verdict.outcome is Outcome.UNKNOWN
    assert "isn't routed" in verdict.reason
