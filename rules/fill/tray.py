"""Do the cables on a tray or ladder take no more than the share of its section that is allowed?

    fill = Σ (π/4 · OD²) / (w · d)  ≤  space factor

    OD   outside diameter of each cable, mm
    w    inside width of the compartment, mm
    d    usable depth, mm: side height less the base of a tray, or less the rungs of a ladder

Where the usable depth isn't known the answer is had twice, with the whole side height and with the largest usual deduction, and stands
only if both agree.

Clause: IEC 60364-5-52, BS 7671 and the guidance to it set no fill limit for trays and ladders. Under them the answer is unknown until
the project sets its own limit in ``wayroom.toml``:

    [limits."fill.tray"]
    space_factor = 0.40
    reason = "why"

Worked example. A tray 297 mm wide inside and 48.5 mm deep holds 14,404.5 mm²; thirty cables of 12.6 mm take 30 · π/4 · 12.6² = 3740.7 mm²,
which is 26.0 %: within a project's limit of 40 %.

Not asked here: whether they lie in one layer, which the rating tables for trays assume; the load on the supports.
"""

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment
from checker.rule import SHARE, Limit, Limits, Tells, Verdict, rule
from rules.fill.formula import area_verdict, without_limit


class TrayLimits(Limits):
    """``space_factor``: the part of the section that cables may take, 0 to 1; where the code has no figure, the project's."""

    space_factor: Limit | None = Field(default=None, json_schema_extra=SHARE)


@rule(id="fill.tray", title="Fill of a tray or ladder", kinds=[CarrierKind.TRAY, CarrierKind.LADDER], tells=Tells.FILL)
def tray(subject: LoadedCompartment, limits: TrayLimits) -> Verdict:
    """Fill by area against the code's or the project's limit."""
    if limits.space_factor is not None:
        return area_verdict(subject, limits.space_factor)
    why = 'the code sets no limit for trays and ladders: give the project\'s own in wayroom.toml, [limits."fill.tray"]'
    return without_limit(subject, why, "fill.tray")
