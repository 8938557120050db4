"""What an unknown rating asks for: only what isn't known of the circuit, in the words that other rules use for it."""

from typing import Any

import pytest

from checker.rule import Outcome
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
