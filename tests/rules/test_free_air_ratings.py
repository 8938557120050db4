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
