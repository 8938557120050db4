"""Cases of rules that hold two circuits against each other.

A case::

[[case]]
circuits = ["PA-1", "PB-1"]
shared = [{ label = "CT-1", length_m = 4.0, divided = true }]     # carriers that both pass; length_m left out: not known
fittings = ["JB-1"]                                              # boxes and other fittings that both pass
nearby = [{ clear_mm = 120, beside_m = 6.0 }]                    # where they run near each other, the first in L-1…, the other in M-1…
unplaced = ["L-9"]                                               # carriers whose place or size isn't known
found = ["PA-1"]                                                 # whose way is the shortest that there is
open_ways = { PB-1 = "circuit PB-1 isn't routed: …" }           # whose way isn't all known, and why
"""

from typing import Any

from checker.model import Carrier, CarrierKind, CircuitPair, Nearby, Place, Section
from checker.model.pairs import SharedCarrier, SharedFitting


def circuit_pair_of(data: dict[str, Any]) -> CircuitPair:
    """The pair that a case describes."""
    one, other = data["circuits"]
    near = tuple(
        Nearby(_carrier(f"L-{number}"), _carrier(f"M-{number}"), float(item["clear_mm"]), float(item["beside_m"]))
        for number, item in enumerate(data.get("nearby", []), start=1)
    )
    return CircuitPair(
        one,
        other,
        shared=tuple(
            SharedCarrier(_carrier(item["label"]), item.get("length_m"), item.get("divided", False))
            for item in data.get("shared", [])
        ),
        fittings=tuple(SharedFitting(label, ("L-1", "M-1")) for label in data.get("fittings", [])),
        nearest=min(near, key=lambda item: item.clear_mm, default=None),
        nearer=lambda wanted_mm: tuple(item for item in near if item.clear_mm < wanted_mm),
        unplaced=tuple(_carrier(label) for label in data.get("unplaced", [])),
        found=tuple(data.get("found", [])),
        open_ways=tuple(data.get("open_ways", {}).items()),
    )


def _carrier(label: str) -> Carrier:
    return Carrier(label, Place(label, "case", tag=label), CarrierKind.TRAY, Section())
