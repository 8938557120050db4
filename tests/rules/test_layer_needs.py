"""What an unknown answer about a tray under NFPA 70 asks for."""

from typing import Any

import pytest

from checker.rule import Outcome
from checker.testing import Case, answer_of, limits_of

TRAY: dict[str, Any] = {"code": "nfpa-70", "kind": "tray", "perforated": True, "width_mm": 300.0, "outside_width_mm": 300.0,
                        "side_mm": 100.0, "area_mm2": 30000.0}  # fmt: skip


@pytest.mark.parametrize(
    ("cable", "needs"),
    [
        ({"cores": 1}, {"the conductor size of the cables of circuit C0"}),
        ({"cores": 1, "awg_kcmil": "4/0"}, set()),
        ({"cores": 1, "csa_mm2": 120.0}, set()),
    ],
)
def test_it_asks_for_what_tells_which_part_of_the_clause_holds(cable: dict[str, Any], needs: set[str]) -> None:
    data = {**TRAY, "cables": [{"count": 3, "diameter_mm": 20.0, **cable}]}
    case = Case("fill.layer", "needs", data)
    verdict = answer_of(case, limits_of(case))
    assert set(verdict.needs) == needs, verdict
    assert (verdict.outcome is Outcome.UNKNOWN) == bool(needs)
