"""The cables of a case: what ``checker.testing`` reads of each table in ``cables`` and ``possible``.

They have the fields of ``checker.model.PlacedCable`` (``checker/model/subjects.py`` explains them)::

    cables = [
      { circuit = "P1", count = 3, diameter_mm = 7.8 },
      { circuit = "D1", service = "data", key = "cat6-u-utp", count = 2, diameter_mm = 6.2, diameter_least_mm = 5.8 },
      { count = 1, width_mm = 13.5, height_mm = 7.0 },
    ]

``circuit`` is C0, C1, … and ``service`` power unless given; ``service = ""``: it isn't known. ``area_mm2`` follows from the size unless it
is given, and ``area_least_mm2`` from ``diameter_least_mm``, ``width_least_mm`` and ``height_least_mm``, where the size is a range. What
else is left out isn't known.
"""

from typing import Any

from checker.model import PlacedCable, Service, cable_area_mm2

SIZES = ("diameter_mm", "width_mm", "height_mm")
LEAST = ("diameter_least_mm", "width_least_mm", "height_least_mm")
PLAIN = (
    *SIZES, *LEAST, "csa_mm2", "awg_kcmil", "cores", "stranded", "rated_voltage_v", "voltage_v", "planning", "is_several",
    "mass_kg_per_km", "conductor",
)  # fmt: skip


def placed_cable_of(number: int, data: dict[str, Any]) -> PlacedCable:
    """The cables that a table of a case describes.

    Args:
        number: What their circuit is called by, where the table doesn't say.
        data: The table.
    """
    given = {key: data[key] for key in PLAIN if key in data}
    service = data.get("service", "power")
    sizes = [given.get(key) for key in SIZES]
    least = [given.get(key, size) for key, size in zip(LEAST, sizes, strict=True)]
    is_ranged = any(key in given for key in LEAST)
    return PlacedCable(
        circuit=data.get("circuit", f"C{number}"),
        service=Service(service) if service else None,
        key=data.get("key", ""),
        count=data.get("count"),
        area_mm2=data.get("area_mm2", cable_area_mm2(*sizes)),
        area_least_mm2=data.get("area_least_mm2", cable_area_mm2(*least) if is_ranged else None),
        **given,
    )
