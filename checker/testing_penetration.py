"""Cases of the rule about seals: what ``checker.testing`` reads where a carrier passes a wall.

The carrier with its cables is written as in other cases (``kind``, ``area_mm2``, ``area_least_mm2``, ``bore_mm``, ``cables``, ``possible``,
``unbounded``). Besides::

    barrier = "wall"                 # what it passes; "wall" unless it is given
    fire_rating = "EI 60"            # as a model writes it; that unless it is given
    doubt = "it ends in wall W-1"    # why it isn't certain that it passes; left out: it does
    compartments = 2                 # of the carrier; 1 unless it is given
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from checker.model import Barrier, Lane, LoadedCompartment, Penetration, Place


def penetration_of(data: dict[str, Any], loaded_of: Callable[[dict[str, Any]], LoadedCompartment]) -> Penetration:
    """The compartment and the wall that a case describes."""
    loaded = loaded_of(data)
    lanes = tuple(Lane(number) for number in range(1, data.get("compartments", 1) + 1))
    carrier = replace(loaded.carrier, section=replace(loaded.carrier.section, lanes=lanes))
    barrier = Barrier(
        "wall", Place("W-1", "case", tag="W-1"), data.get("barrier", "wall"), data.get("fire_rating", "EI 60")
    )
    return Penetration(replace(loaded, carrier=carrier), barrier, data.get("doubt", ""))
