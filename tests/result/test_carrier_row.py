"""How a carrier's size is written, everywhere the same."""

import pytest

from checker.model import Place
from checker.result.tables import CarrierRow


@pytest.mark.parametrize(
    ("kind", "width_mm", "height_mm", "bore_mm", "size"),
    [
        ("trunking", 225.0, 50.0, None, "225 × 50"),
        ("trunking", 50.0, 50.0, None, "50 × 50"),
        ("conduit", 20.0, 20.0, 16.8, "20"),  # outside where that is known
        ("conduit", None, None, 15.7988, "bore 15.8"),
        ("tray", 304.8, 101.6, None, "304.8 × 101.6"),
        ("tray", 300.0, None, None, "300"),
        ("tray", None, 60.0, None, ""),
    ],
)
def test_a_size_is_outside_and_a_bore_is_called_so(
    kind: str, width_mm: float | None, height_mm: float | None, bore_mm: float | None, size: str
) -> None:
    row = CarrierRow("k", Place("k", "m.ifc"), kind, "", width_mm, height_mm, 1.0, "", True, "pass", bore_mm=bore_mm)
    assert row.size == size
