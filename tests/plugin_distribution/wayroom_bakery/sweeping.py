"""Is so much of a tray's or ladder's width free of cables that flour can be swept off it?

Flour dust that lies between cables keeps their heat in and can burn. A brush takes it away only where there is room for the brush.

    free = 1 − Σ OD / w  ≥  free share

    OD   outside diameter of each cable, mm; of a flat one its width
    w    inside width of the compartment, mm

Clause: house guide of the bakery, 3.2. It is invented.

Worked example. A tray 100 mm wide inside holds three cables of 20 mm: 1 − 60 / 100 = 0.40, more than the 0.25 that the guide asks.

Not asked here: how full the tray is, the heat of its cables, how often it is swept.
"""

from dataclasses import replace

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment
from checker.rule import SHARE, Limit, Limits, Outcome, Verdict, rule

#: So that a share that equals its limit on paper isn't failed by the last bit of a float.
EXACTLY = 1e-12


class SweepingLimits(Limits):
    """``free_share``: the part of the width that must stay free, 0 to 1."""

    free_share: Limit = Field(json_schema_extra={"stricter": "higher", **SHARE})


@rule(id="sweeping.tray", title="Room to sweep a tray", kinds=[CarrierKind.TRAY, CarrierKind.LADDER])
def tray(subject: LoadedCompartment, limits: SweepingLimits) -> Verdict:
    """The free share of the width against the least that must be."""
    limit = limits.free_share
    blank = Verdict(
        Outcome.UNKNOWN, "", limit=limit.value, unit="ratio", basis=limit.basis.value, source=limit.cited, is_floor=True
    )
    if not subject.width_mm:
        return replace(blank, reason="its inside width isn't known")
    taken = 0.0
    for cable in subject.cables:
        size = cable.diameter_mm or cable.width_mm
        if cable.count is None or size is None:
            return replace(blank, reason=f"the size or number of cables isn't known of {cable.circuit}")
        taken += cable.count * size
    free = 1 - taken / subject.width_mm
    outcome = Outcome.PASS if free >= limit.value - EXACTLY else Outcome.FAIL
    reason = f"cables take {taken:.1f} mm of {subject.width_mm:.1f} mm: {100 * free:.1f} % is free"
    return replace(blank, outcome=outcome, reason=reason, value=free)
