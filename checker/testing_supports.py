"""Cases of the rule about what a carrier bears: what ``checker.testing`` reads where a case has ``safe_load_kg_per_m``.

A carrier with all its compartments::

    kind = "tray"                    # and type = "Corridor tray 300x50", if it matters
    safe_load_kg_per_m = 45.0        # these three as under [[types]] in wayroom.toml; left out: not declared
    span_m = 2.0
    mass_kg_per_m = 3.2
    cables = [{ key = "h07v-r-16", count = 10, mass_kg_per_km = 170 }]

Cables have ``circuit``, ``key``, ``count``, ``mass_kg_per_km``, ``csa_mm2``, ``awg_kcmil``, ``cores``, ``conductor``, ``diameter_mm``,
``width_mm`` and ``height_mm``; what is left out isn't known. ``possible`` are those that may lie there besides; ``unbounded = true``:
something uncounted may.
"""

from typing import Any

from checker.model import Carrier, CarrierKind, Enclosure, Laying, Place, PlacedCable, Section, Service, cable_area_mm2

DECLARED = ("safe_load_kg_per_m", "span_m", "mass_kg_per_m")
OF_CABLES = ("mass_kg_per_km", "csa_mm2", "awg_kcmil", "cores", "conductor", "diameter_mm", "width_mm", "height_mm")


def loaded_enclosure_of(data: dict[str, Any]) -> Enclosure:
    """The carrier that a case describes, with the cables that it bears."""
    is_open = data.get("possible") or data.get("unbounded")
    return Enclosure(
        carrier=Carrier(
            "carrier",
            Place("carrier", "case"),
            CarrierKind(data["kind"]),
            Section(),
            type_name=data.get("type", ""),
            laying=Laying(**{key: data[key] for key in DECLARED if key in data}),
        ),
        doubts=("a circuit isn't routed",) if is_open else (),
        unbounded=data.get("unbounded", False),
        cables=tuple(_cable(number, cable) for number, cable in enumerate(data.get("cables", []))),
        possible_cables=tuple(_cable(number, cable) for number, cable in enumerate(data.get("possible", []), 100)),
    )


def _cable(number: int, data: dict[str, Any]) -> PlacedCable:
    given = {key: data[key] for key in OF_CABLES if key in data}
    sizes = (data.get(key) for key in ("diameter_mm", "width_mm", "height_mm"))
    circuit = data.get("circuit", f"C{number}")
    return PlacedCable(circuit, Service.POWER, data.get("key", ""), data.get("count"), cable_area_mm2(*sizes), **given)
