"""Is every end of a carrier joined to something, or does a circuit come in there?

Circuits are led through what is joined. An end that nothing is joined to and where no circuit comes in (within 300 mm of it, from
equipment) may be a stub on purpose; where a fitting is missing, circuits go another way round or none.

Clause: none.

Worked example. Three lengths of tray in a row, the first two joined, the third 2 m away from them; a board hangs at the beginning of the
first. Of the first no end is open, since the circuit comes in there. Of the second an end is joined to nothing. To the third nothing is
joined at all. Had the circuit no way, it might come in at any of them, and then the answer is unknown.

Not asked here: carriers whose open ends all nearly meet something (those are told one by one, with the distance); carriers of which it
isn't known where they are; whether an end is closed by a cap.
"""

from checker.model import ModelledCarrier
from checker.rule import Limits, Outcome, Tells, Verdict, rule

ADVICE = "if it should go on, model the fitting or connect the ports; the plans in the report show where it is"


class JoinedLimits(Limits):
    """None: it is joined or it isn't."""


def _is_untold(subject: ModelledCarrier) -> bool:
    return "ends" not in subject.told


@rule(id="completeness.joined", title="Carriers that end in nothing", tells=Tells.MODEL, asks=_is_untold)
def joined(subject: ModelledCarrier, limits: JoinedLimits) -> Verdict:  # noqa: ARG001 - every rule has limits
    """Fails where an end is open and no circuit comes in; unknown where that one may isn't known."""
    if subject.open_ends is None:
        return Verdict(Outcome.UNKNOWN, "where its ends are isn't known, so neither is whether they are joined")
    if not subject.open_ends:
        return Verdict(Outcome.PASS, "its ends are joined, or circuits come in there")
    what = "an end of it is" if len(subject.open_ends) == 1 else "both its ends are"
    what += " joined to nothing" if subject.is_joined else " joined to nothing, as all of it is"
    if subject.may_come_in:
        told = f"{what}, and as not all circuits have a way, one may come in there, so whether it is open on purpose isn't known"
        return Verdict(Outcome.UNKNOWN, told, advice=ADVICE)
    return Verdict(
        Outcome.FAIL, f"{what}, and no circuit comes in there, so no circuit is led on from it", advice=ADVICE
    )
