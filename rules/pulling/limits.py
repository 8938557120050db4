"""What the rule of tension reads from a code."""

from pydantic import Field

from checker.rule import SHARE, Limit, Limits

#: Friction of dry cables in conduit, as the trade takes it where nothing is known; about 0.35 with a usual lubricant.
DRY = 0.5
#: More is a slip, as a figure in per cent.
MOST_FRICTION = 2.0


class TensionLimits(Limits):
    """What cables bear, and what they rub with.

    ``friction``: between cables and conduit, where the project knows it. ``copper_n_per_mm2``, ``aluminium_n_per_mm2``: what a conductor
    bears. ``unequal_share``: of their sum, where they differ. ``four_pair_n``: what a data cable of four pairs bears. ``grip_n``: what a
    grip over all of them bears. ``side_n_per_m``: the pressure in a bend. ``bend_multiple``: the inside radius taken for a bend that is
    drawn without one, over the conduit's outside diameter. ``bend_radius_mm``: the same on the centre line, where the code has one figure.
    """

    friction: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", "most": MOST_FRICTION})
    copper_n_per_mm2: Limit
    aluminium_n_per_mm2: Limit
    unequal_share: Limit = Field(json_schema_extra=SHARE)
    four_pair_n: Limit
    side_n_per_m: Limit
    grip_n: Limit | None = None
    bend_multiple: Limit | None = None
    bend_radius_mm: Limit | None = None

    @property
    def rubbing(self) -> float:
        """The friction between cables and conduit: the project's, else that of dry cables."""
        return DRY if self.friction is None else self.friction.value

    @property
    def rubbing_words(self) -> str:
        """The same as an answer's condition says it."""
        return f"the friction is {self.rubbing:g}{' (assumed: dry)' if self.friction is None else ''}"
