"""Does a carrier that passes a wall or slab rated for fire hold no more cables than the seal in it may?

Where cables pass a wall or slab that keeps fire, the hole is closed again, round the carrier and inside it. What closes it is approved for
a part of the opening that cables take, and no more: so a carrier that is full enough for its code may be too full for its seal.

    fill = Σ (π/4 · OD²) / A  ≤  space factor

    OD   outside diameter of each cable, mm: every cable counts, protective conductors and spares too
    A    internal area of the compartment, mm²: nominal size less walls and dividers; of a tray or ladder inside width · usable depth

It goes by area for every kind of carrier, whatever the code's own measure is, since approvals do. The section is that of the carrier: if
the seal's opening is larger or smaller, set the limit for that.

Which walls and slabs: those with a FireRating in Pset_WallCommon, Pset_SlabCommon, Pset_RoofCommon, Pset_CoveringCommon … (the element's
own before its type's), and those that their Compartmentation says keep fire; elements that a model gives no class, too. A carrier passes
one where its axis goes in by a large face and out by the one opposite, through an opening that is drawn as well as beside it. One that
ends in the wall, or only reaches into it by a part of its section, may pass it: what is within the limit is so all the same, and what is
over it is unknown. So it is where a body is no plan that is moved, as of a bent wall of faces: what surrounds it is looked at, and what
runs in that may pass it.

Clause: no code gives a figure; the approval of the product does, commonly about 60 %. So the answer is unknown until the project sets the
limit of the product that it uses in ``wayroom.toml``:

    [limits."fill.seal"]
    space_factor = 0.60
    reason = "the seal's approval"

BS 7671 527.2 asks for the seal inside a conduit or trunking only where its internal section is over 710 mm², if the conduit or
trunking is classified as non-flame propagating and as tight as that clause asks. No model says so reliably. So such a small one
is never passed for being small: within the limit it passes like any other, and over it the answer is unknown, since whether there is a seal
inside at all isn't known. The section is that of the whole conduit or trunking; for one that is divided this isn't considered, which is the
stricter reading.

Worked example. Trunking 100 × 50 mm, wall 1.2 mm: A = 97.6 · 47.6 = 4645.76 mm². Twenty cables of 13.0 mm take 20 · π/4 · 13.0² =
2654.65 mm², 57.1 %: within a project's limit of 60 %. Twenty-two: 2920.11 mm², 62.9 %: over.

Not asked here: whether there is a seal, which product it is and whether it is approved for that wall; the ring between carrier and wall;
fittings that lie in a wall while the carriers on both sides end before it; cables that pass without a carrier; walls that carry no rating.
"""

from dataclasses import replace

from pydantic import Field

from checker.model import CarrierKind, Penetration
from checker.rule import ONLY_A_CODES, SHARE, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import of_carrier
from rules.fill.formula import area_verdict, without_limit

ID = "fill.seal"
CLOSED_KINDS = {CarrierKind.TRUNKING, CarrierKind.CONDUIT}
HINT = 'no code sets a fill limit for fire seals, their approvals do: give it in wayroom.toml, [limits."fill.seal"] space_factor = …'


class SealLimits(Limits):
    """``space_factor``: the part of a section that cables may take where it is sealed, 0 to 1; it is the project's to give.

    ``unsealed_mm2``: up to this internal section a conduit or trunking of the right classification needs no seal inside, where the
    code says so.
    """

    space_factor: Limit | None = Field(default=None, json_schema_extra=SHARE)
    unsealed_mm2: Limit | None = Field(default=None, json_schema_extra=ONLY_A_CODES)


@rule(id=ID, title="Fill where a carrier passes a wall or slab rated for fire")
def seal(subject: Penetration, limits: SealLimits) -> Verdict:
    """Fill by area against the project's limit for seals."""
    # whether a cable goes in at all is the business of the kind's own rule of fill
    loaded = replace(subject.loaded, side_mm=None, bore_mm=None)
    if limits.space_factor is None:
        verdict = without_limit(loaded, HINT, ID)
    else:
        verdict = area_verdict(loaded, limits.space_factor)
    verdict, told = replace(verdict, found=f"{{}} at {subject.barrier.called}"), verdict.reason
    if verdict.outcome is Outcome.FAIL:
        spared = _spared(subject, limits.unsealed_mm2)
        if subject.doubt or spared:
            # no model or project says how a trunking is classified, so that no answer settles that
            needs = () if spared else (of_carrier(f"way through {subject.barrier.label}", loaded.carrier),)
            reason = "; ".join(text for text in (told, subject.doubt, spared) if text)
            return replace(verdict, outcome=Outcome.UNKNOWN, reason=reason, needs=needs)
    if not subject.doubt:
        return replace(verdict, reason=told)
    so = ", whether it passes that or not" if verdict.outcome is Outcome.PASS else ""
    return replace(verdict, reason=f"{told}{so}; {subject.doubt}")


def _spared(subject: Penetration, limit: Limit | None) -> str:
    """Why a conduit or trunking may need no seal inside; empty where it is too large for that."""
    loaded = subject.loaded
    carrier = loaded.carrier
    areas = [area for area in (loaded.area_mm2, loaded.area_least_mm2) if area is not None]
    if limit is None or not areas or carrier.kind not in CLOSED_KINDS or len(carrier.section.lanes) > 1:
        return ""
    if min(areas) > limit.value:
        return ""
    return (
        f"its inside isn't over {limit.value:g} mm², so if it is classified as non-flame propagating no seal is needed inside"
        f" ({limit.cited})"
    )
