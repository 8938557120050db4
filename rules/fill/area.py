"""Do the cables in a trunking or conduit take no more than the share of its inside that the project allows?

For a code that sets no fill limit of its own: how full a carrier is is still worth knowing, and the project may set a limit.

    fill = Σ (π/4 · OD²) / A  ≤  space factor

    OD   outside diameter of each cable, mm
    A    internal area of the compartment, mm²: trunking nominal size less walls, conduit its bore

Trays and ladders are the subject of `fill.tray`.

Clause: IEC 60364-5-52 522.8 asks for carriers in which cables aren't damaged when they are drawn in and used; it gives no figure. So the
answer is unknown until the project sets its own limit in ``wayroom.toml``:

    [limits."fill.area"]
    space_factor = 0.40
    reason = "why"

Worked example. Conduit with a bore of 16.8 mm: A = 221.7 mm². Six cables of 3.9 mm take 6 · π/4 · 3.9² = 71.7 mm², 32.3 %: within
a project's limit of 40 %.

Not asked here: drawing in, jamming, bends, current rating.
"""

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment
from checker.rule import SHARE, Limit, Limits, Tells, Verdict, rule
from rules.fill.formula import area_verdict, without_limit


class AreaLimits(Limits):
    """``space_factor``: the part of the inside that cables may take, 0 to 1; where the code has no figure, the project's."""

    space_factor: Limit | None = Field(default=None, json_schema_extra=SHARE)


@rule(
    id="fill.area",
    title="Fill of a trunking or conduit by area",
    kinds=[CarrierKind.TRUNKING, CarrierKind.CONDUIT],
    tells=Tells.FILL,
)
def area(subject: LoadedCompartment, limits: AreaLimits) -> Verdict:
    """Fill by area against the project's limit."""
    if limits.space_factor is not None:
        return area_verdict(subject, limits.space_factor)
    return without_limit(
        subject,
        'the code sets no fill limit: give the project\'s own in wayroom.toml, [limits."fill.area"]',
        "fill.area",
    )
