"""Do the cables of a compartment of trunking take no more than its space factor?

Cables that fill a trunking to the brim can't be laid without damage, can't be taken out again, and can't lose their heat. So a code, or
the guidance to it, lets them take only a part of the inside.

    fill = Σ (π/4 · OD²) / A  ≤  space factor

    OD   outside diameter of each cable, mm: the upper limit of its standard; every cable counts, protective conductors and spares too
    A    internal area of the compartment, mm²: nominal size less walls and dividers

A cable thicker than the compartment is wide or high doesn't go in, whatever the areas say: the lid doesn't close.
Nor does a flat one that is wider than the inside on its diagonal.

Where no wall is known the answer is had twice, with no wall and with the thickest plausible one, and stands only if both agree.

Clause: UK guidance has 45 %. It is guidance; BS 7671 regulation 522.8 itself only forbids damage.

Worked example. Steel trunking 50 × 50 mm, wall 1.0 mm: A = 48 · 48 = 2304 mm², of which 45 % is 1036.8 mm² (the guidance prints 1037).
Twenty single-core cables of 16 mm², OD 7.8 mm: 20 · π/4 · 7.8² = 955.7 mm², fill 41.5 %: within. Twenty-two: 1051.2 mm², 45.6 %: over.

Not asked here: current rating, segregation, drawing in.
"""

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment
from checker.rule import SHARE, Limit, Limits, Tells, Verdict, rule
from rules.fill.formula import area_verdict


class SpaceFactorLimits(Limits):
    """``space_factor``: the part of the inside that cables may take, 0 to 1."""

    space_factor: Limit = Field(json_schema_extra=SHARE)


@rule(
    id="fill.compartment",
    title="Space factor of a compartment of trunking",
    kinds=[CarrierKind.TRUNKING],
    tells=Tells.FILL,
)
def compartment(subject: LoadedCompartment, limits: SpaceFactorLimits) -> Verdict:
    """Fill by area against the space factor."""
    return area_verdict(subject, limits.space_factor)
