"""Cases of the rule about what a carrier bears: what ``checker.testing`` reads where a case has ``safe_load_kg_per_m``.

A carrier with all its compartments::

    kind = "tray"                    # and type = "Corridor tray 300x50", if it matters
    safe_load_kg_per_m = 45.0        # these three as under [[types]] in wayroom.toml; left out: not declared
    span_m = 2.0
    mass_kg_per_m = 3.2
    cables = [{ key = "h07v-r-16", count = 10, mass_kg_per_km = 170 }]

``checker.testing_cables`` says what cables have. ``possible`` are those that may lie there besides; ``unbounded = true``: something
uncounted may.
"""

from typing import Any

from checker.model import Carrier, CarrierKind, Enclosure, Laying, Place, Section
from checker.testing_cables import placed_cable_of

DECLARED = ("safe_load_kg_per_m", "span_m", "mass_kg_per_m")


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
        cables=tuple(placed_cable_of(number, cable) for number, cable in enumerate(data.get("cables", []))),
        possible_cables=tuple(
            placed_cable_of(number, cable) for number, cable in enumerate(data.get("possible", []), 100)
        ),
    )
