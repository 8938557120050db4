"""A circuit is asked about at both ends of what isn't certain."""

from typing import Any

import pytest

from checker.model import Carrier, CarrierKind, CircuitLoad, Enclosure, Member, Place, RoutedCircuit, Section, State
from checker.rule import Limits, Outcome, Rating, Rule, Verdict, judge_circuit

LOAD = CircuitLoad("C1", None, State.NEW, is_loaded=True)
PASS, FAIL, UNKNOWN = Outcome.PASS, Outcome.FAIL, Outcome.UNKNOWN


def subject(*open_doubts: str) -> RoutedCircuit:
    carrier = Carrier("K1", Place("K1", "m"), CarrierKind.TRUNKING, Section())
    return RoutedCircuit(LOAD, (Enclosure(carrier, (Member(LOAD),), doubts=("C9 isn't routed",)),), open_doubts)


def answer(outcome: Outcome, amps: float, words: str) -> Verdict:
    return Verdict(outcome, words, 16.0, amps, "A", rating=Rating("K1", capacity_a=amps, grouping_factor=amps / 20.0))


def asking(favour: Verdict, against: Verdict) -> Rule:
    def function(asked: RoutedCircuit, _: Any) -> Verdict:
        return against if asked.is_strict else favour

    return Rule("x.y", "", frozenset(), RoutedCircuit, Limits, function, "manual")


@pytest.mark.parametrize(
    ("favour", "against", "outcome", "amps"),
    [
        (PASS, PASS, PASS, 15.0),  # the figure against it is reported
        (FAIL, FAIL, FAIL, 20.0),  # the figure in its favour is
        (FAIL, UNKNOWN, FAIL, 20.0),
        (PASS, FAIL, UNKNOWN, None),
        (PASS, UNKNOWN, UNKNOWN, None),
        (UNKNOWN, PASS, PASS, 15.0),
        (FAIL, PASS, UNKNOWN, None),  # a light circuit may be worse off in its favour
    ],
)
def test_both_ends(favour: Outcome, against: Outcome, outcome: Outcome, amps: float | None) -> None:
    rule = asking(answer(favour, 20.0, "in favour"), answer(against, 15.0, "against"))
    found = judge_circuit(rule, subject(), Limits())
    assert found.outcome is outcome
    assert found.rating is not None
    assert found.rating.capacity_a == amps
    assert found.rating.grouping_factor == (None if amps is None else amps / 20.0)


def test_a_doubt_that_cannot_be_counted_lets_nothing_pass_and_a_fail_stand() -> None:
    good, bad = answer(PASS, 20.0, "good"), answer(FAIL, 9.0, "bad")
    assert judge_circuit(asking(good, good), subject("lost rows"), Limits()).outcome is UNKNOWN
    assert "lost rows" in judge_circuit(asking(good, good), subject("lost rows"), Limits()).reason
    assert judge_circuit(asking(bad, bad), subject("lost rows"), Limits()).outcome is FAIL


def test_one_figure_at_both_ends_is_given_even_where_the_answer_is_unknown() -> None:
    same = answer(UNKNOWN, 20.0, "no design current")
    found = judge_circuit(asking(same, same), subject(), Limits())
    assert found.rating is not None
    assert (found.outcome, found.rating.capacity_a, found.reason) == (UNKNOWN, 20.0, "no design current")


def test_a_circuit_without_a_way_is_unknown() -> None:
    found = judge_circuit(
        asking(answer(PASS, 20.0, ""), answer(PASS, 20.0, "")), RoutedCircuit(LOAD, (), ("it isn't routed",)), Limits()
    )
    assert (found.outcome, found.reason) == (UNKNOWN, "it isn't routed")
