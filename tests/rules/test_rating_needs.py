"""What an unknown rating asks for: only what isn't known of the circuit, in the words that other rules use for it."""

from typing import Any

import pytest

from checker.rule import Outcome, Verdict
from checker.testing import Case, answer_of, limits_of

KNOWN: dict[str, Any] = {
    "mark": "C1", "csa_mm2": 2.5, "count": 3, "cores": 1, "loaded_conductors": 2, "design_current_a": 8, "device_rating_a": 10,
    "method": "B1", "ambient_c": 30,
}  # fmt: skip


@pytest.mark.parametrize(
    ("blank", "need"),
    [
        ({"insulation": ""}, "the insulation of circuit C1"),
        ({"device_rating_a": None}, "the device rating of circuit C1"),
        ({"design_current_a": None}, "the design current of circuit C1"),
    ],
)
def test_it_asks_for_what_is_not_known_and_for_nothing_else(blank: dict[str, Any], need: str) -> None:
    circuit = {key: value for key, value in {**KNOWN, **blank}.items() if value is not None}
    data = {"code": "bs-7671", "kind": "trunking", "circuits": [circuit]}
    case = Case("grouping.rating", need, data)
    verdict = answer_of(case, limits_of(case))
    assert verdict.outcome is Outcome.UNKNOWN
    assert verdict.needs == (need,)


def answered(*circuits: dict[str, Any], kind: str = "trunking") -> Verdict:
    """What the first of some circuits in one carrier is answered."""
    case = Case("grouping.rating", "case", {"code": "bs-7671", "kind": kind, "circuits": list(circuits)})
    return answer_of(case, limits_of(case))


def test_it_asks_for_the_loads_of_those_beside_it_that_may_be_light() -> None:
    # B1, 2.5 mm², 2 loaded: 24 A; three: 24 · 0.70 = 16.8 A < 18; if both are light: 24 A
    own = {**KNOWN, "design_current_a": 17, "device_rating_a": 18}
    others: list[dict[str, Any]] = [{**KNOWN, "mark": mark, "design_current_a": None} for mark in ("C2", "C3")]
    others = [{key: value for key, value in other.items() if value is not None} for other in others]
    verdict = answered(own, *others)
    assert verdict.outcome is Outcome.UNKNOWN
    assert verdict.needs == ("the design current of circuit C2", "the design current of circuit C3")
    assert answered({**own, "device_rating_a": 25}, *others).outcome is Outcome.FAIL  # 24 A even alone
    passing = answered({**own, "design_current_a": 9, "device_rating_a": 16}, *others)
    assert (passing.outcome, passing.needs) == (Outcome.PASS, ())  # 16.8 A with both


def test_it_asks_nothing_of_others_where_something_that_no_answer_tells_stands_beside() -> None:
    # what rubber may carry is in no table, so neither is whether it is light: 24 · 0.80 = 19.2 A < 20, alone 24 A
    own = {**KNOWN, "design_current_a": 17, "device_rating_a": 20}
    verdict = answered(own, {**KNOWN, "mark": "C2", "insulation": "rubber"})
    assert (verdict.outcome, verdict.needs) == (Outcome.UNKNOWN, ())


def test_a_device_below_the_load_is_the_limit_that_fails() -> None:
    # 24 A alone is enough for 15 A; a device of 10 A isn't
    small = {**KNOWN, "design_current_a": 15, "device_rating_a": 10}
    verdict = answered(small)
    assert (verdict.outcome, verdict.value, verdict.limit) == (Outcome.FAIL, 15, 10)
    assert (verdict.found, verdict.wanted) == ("its design current of {}", "its device of {}")


def test_where_it_carries_even_less_than_its_device_that_is_the_limit() -> None:
    # seven beside it: 8 circuits, 24 · 0.52 = 12.48 A, less than its device of 13 A; all carry more than 30 % of it
    small = {**KNOWN, "design_current_a": 15, "device_rating_a": 13}
    verdict = answered(small, *[{**KNOWN, "mark": f"D{number}"} for number in range(7)])
    assert (verdict.outcome, verdict.value, verdict.found) == (Outcome.FAIL, 15, "")
    assert verdict.limit == pytest.approx(12.48)
