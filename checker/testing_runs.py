"""Cases of rules about runs of conduit.

A case of such a rule describes the run from its first end, piece by piece, and what lies in it::

    pieces = [
      { length_m = 4.0 },                              # a straight; rise_m = 1.5 if its far end is higher
      { turn_deg = 90, radius_mm = 62.5, length_m = 0.098 },
      { turn_deg = 45 },                               # a corner: the model draws no radius
    ]
    bore_mm = 16.8
    cables = [{ count = 6, diameter_mm = 4.0, csa_mm2 = 2.5, cores = 1, conductor = "copper", key = "h07v-r-2.5" }]

``unknown`` in a piece lists what isn't known of it, as ``["turn_deg"]``. ``open = true``: the run may go on; ``tapped = true``: something
joins it half-way; ``left = true``: cables leave it half-way. ``bore_least_mm`` and ``widest_mm`` are as large as ``bore_mm`` unless given;
``outside_mm`` is the conduit's. ``possible`` are cables that may lie in it besides, ``unbounded = true``: others, that can't be counted,
too. ``checker.testing_cables`` says what cables have.
"""

import math
from typing import Any

from checker.model import Carrier, CarrierKind, LoadedRun, Place, Run, RunPiece, Section
from checker.testing_cables import placed_cable_of


def run_of(data: dict[str, Any]) -> LoadedRun:
    """The run that a case describes: one conduit between two boxes."""
    pieces = tuple(_piece(number, piece) for number, piece in enumerate(data.get("pieces", []), start=1))
    is_tapped = data.get("tapped", False)
    is_whole = not (data.get("open", False) or is_tapped)
    lengths = [piece.length_m for piece in pieces]
    turns = [piece.turn_deg for piece in pieces]
    known = [turn for turn in turns if turn is not None]
    length = math.fsum(item for item in lengths if item is not None) if is_whole and None not in lengths else None
    bore = data.get("bore_mm")
    outside = data.get("outside_mm")
    conduit = Carrier(
        "C-1", Place("C-1", "case", tag="C-1"), CarrierKind.CONDUIT, Section(outside_diameter_mm=outside, bore_mm=bore)
    )
    doubts = ("a circuit isn't routed",) if data.get("possible") or data.get("unbounded") else ()
    return LoadedRun(
        run=Run(1, ("C-1",), length, math.fsum(known) if is_whole and len(known) == len(turns) else None),
        carriers=(conduit,),
        ends=("BOX-1", "" if data.get("open") else "BOX-2"),
        pieces=pieces,
        is_whole=is_whole,
        bends_least_deg=None if is_tapped else math.fsum(known),
        is_left=data.get("left", False),
        bore_mm=bore,
        bore_least_mm=data.get("bore_least_mm", bore),
        widest_mm=data.get("widest_mm", bore),
        outside_mm=outside,
        cables=tuple(placed_cable_of(number, cable) for number, cable in enumerate(data.get("cables", []), start=1)),
        possible=tuple(
            placed_cable_of(number, cable) for number, cable in enumerate(data.get("possible", []), start=101)
        ),
        possible_doubts=doubts,
        unbounded=data.get("unbounded", False),
    )


def _piece(number: int, data: dict[str, Any]) -> RunPiece:
    unknown = data.get("unknown", [])

    def figure(name: str) -> float | None:
        return None if name in unknown else float(data.get(name, 0.0))

    label = data.get("label", f"B-{number}" if data.get("turn_deg") else "C-1")
    return RunPiece(label, figure("length_m"), figure("rise_m"), figure("turn_deg"), data.get("radius_mm"))
