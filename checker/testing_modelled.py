"""Cases of rules that ask whether the model is complete: what ``checker.testing`` reads for them.

One carrier with what the model has of it::

    kind = "conduit"
    outside_diameter_mm = 16.0       # and bore_mm, wall_mm, width_mm, height_mm, divider_mm, usable_depth_mm, lanes = 2: all by the model;
    wall_mm = 8.0                    # its inside is had as the code of the case reads it
    open_ends = ["end"]              # that nothing is joined to and where no circuit comes in; ends_known = false: where they are isn't
    is_joined = true                 # whether anything is joined to it
    may_come_in = false              # whether circuits without a way may come in there
    circuits = ["C1"]                # that lie in it
    may_hold = false                 # whether others may
"""

from typing import Any

from checker.model import Carrier, CarrierKind, Lane, ModelledCarrier, Place, Section
from checker.network.modelled import lacking_of
from checker.network.sizing import insides
from checker.rule.plugins import load_plugins

SIZES = ("width_mm", "height_mm", "outside_diameter_mm", "bore_mm", "wall_mm", "divider_mm", "usable_depth_mm")


def modelled_carrier_of(data: dict[str, Any]) -> ModelledCarrier:
    """The carrier that a case describes."""
    section = Section(
        **{name: data[name] for name in SIZES if name in data},
        lanes=tuple(Lane(number) for number in range(1, data.get("lanes", 1) + 1)),
        source="case",
    )
    carrier = Carrier("carrier", Place("carrier", "case"), CarrierKind(data["kind"]), section)
    return ModelledCarrier(
        carrier,
        lacking=lacking_of(carrier, insides(carrier, load_plugins().codes[data["code"]].sizes)),
        open_ends=tuple(data.get("open_ends", ())) if data.get("ends_known", True) else None,
        is_joined=data.get("is_joined", True),
        may_come_in=data.get("may_come_in", False),
        circuits=tuple(data.get("circuits", ())),
        may_hold=data.get("may_hold", False),
    )
