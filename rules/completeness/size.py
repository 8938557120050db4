"""Can the inside of every carrier be had from the model?

How full a carrier is can't be told without its inside: outside size less walls and dividers, or bore.

Clause: none; without the inside no clause about fill can be asked.

Worked example. A conduit of 16 mm outside whose property gives a wall of 8 mm: 16 − 2 · 8 = 0 mm, so its wall leaves no bore, which is
told with all others of which that is so.

Not asked here: carriers of which nothing, or only one side, is known, and compartments that are wider together than their carrier: those
are told where they are read. A wall that isn't known: then the inside has two readings, rules are asked about both, and verdicts that hang
on it say so. Whether a size is right.
"""

from checker.model import ModelledCarrier
from checker.model.texts import listed
from checker.rule import Limits, Outcome, Tells, Verdict, rule


class SizeLimits(Limits):
    """None: it is known or it isn't."""


def _is_untold(subject: ModelledCarrier) -> bool:
    return "size" not in subject.told


@rule(id="completeness.size", title="Carriers whose inside isn't known", tells=Tells.MODEL, asks=_is_untold)
def size(subject: ModelledCarrier, limits: SizeLimits) -> Verdict:  # noqa: ARG001 - every rule has limits
    """Fails where the inside of one of its compartments can't be had."""
    if not subject.lacking:
        return Verdict(Outcome.PASS, "its inside is known")
    return Verdict(
        Outcome.FAIL,
        f"{listed(subject.lacking, between='; ')}, so how full it is isn't known",
        advice="mend its sizes in the model, or give those of its type: [[types]] in wayroom.toml",
    )
