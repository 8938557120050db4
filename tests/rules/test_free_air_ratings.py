"""Base ratings of single cores in free air, as IEC 60364-5-52 tables B.52.10 and B.52.12 print them."""

from typing import Any

import pytest

from checker.testing import Case, answer_of, limits_of


@pytest.mark.parametrize(
    ("insulation", "loaded", "method", "csa_mm2", "base_a"),
    [
        ("PVC", 2, "F", 35, 162),
        ("PVC", 3, "F", 35, 137),
        (
            "PVC",
            3,
            "G",
            35,
            137,
        ),  # spaced they would carry 162 A, but a ladder alone is method F, and the lower figure holds
        ("XLPE", 2, "F", 35, 200),
        ("PVC", 2, "F", 25, 131),
    ],
)
def test_a_single_core_in_free_air_has_the_printed_base(
    insulation: str, loaded: int, method: str, csa_mm2: float, base_a: float
) -> None:
    circuit: dict[str, Any] = {
        "mark": "C1", "csa_mm2": csa_mm2, "count": loaded, "cores": 1, "loaded_conductors": loaded, "method": method, "ambient_c": 30,
        "design_current_a": 50, "device_rating_a": 63, "insulation": insulation, "terminations_c": 90,
    }  # fmt: skip
    carrier = {"kind": "ladder", "holds": ["C1"], "single_layer": True, "tiers": 1, "fits_one_layer": True}
    case = Case(
        "grouping.rating", f"{insulation} {method}", {"code": "iec-60364", "circuits": [circuit], "carriers": [carrier]}
    )
    verdict = answer_of(case, limits_of(case))
    assert verdict.rating is not None
    assert verdict.rating.base_a == base_a, verdict


@pytest.mark.parametrize(("declared", "base_a", "is_said"), [(90, 200, False), (None, 162, True)])
def test_a_cable_of_90_degrees_is_rated_as_one_of_70_where_its_ends_are_not_declared_and_that_is_said(
    declared: int | None, base_a: float, *, is_said: bool
) -> None:
    circuit: dict[str, Any] = {
        "mark": "C1", "csa_mm2": 35, "count": 2, "cores": 1, "loaded_conductors": 2, "method": "F", "ambient_c": 30,
        "design_current_a": 50, "device_rating_a": 63, "insulation": "XLPE",
    }  # fmt: skip
    circuit |= {} if declared is None else {"terminations_c": declared}
    carrier = {"kind": "ladder", "holds": ["C1"], "single_layer": True, "tiers": 1, "fits_one_layer": True}
    case = Case("grouping.rating", "ends", {"code": "iec-60364", "circuits": [circuit], "carriers": [carrier]})
    verdict = answer_of(case, limits_of(case))
    assert verdict.rating is not None
    assert verdict.rating.base_a == base_a
    assert ("isn't declared for 90 °C" in f"{verdict.reason} {verdict.rating}") is is_said, verdict
