"""Does every carrier hold a circuit?

A carrier that no circuit uses may not be needed; or circuits that should run there lack in the schedule, or were led another way.

Clause: none.

Worked example. A loop of four trays, of which circuits pass two, since that is the shorter way: the other two hold none. Is one circuit
not routed that could lie there, it isn't known whether they do.

Not asked here: carriers in which something may lie that can't be counted, as without a schedule, after rows of it were lost, in existing
carriers of which the schedule says nothing, or where the model draws cables that no circuit owns: each of these is told for itself.
Carriers that are kept free on purpose can't be told from others.
"""

from checker.model import ModelledCarrier
from checker.rule import Limits, Outcome, Tells, Verdict, rule


class UsedLimits(Limits):
    """None: it is used or it isn't."""


def _is_untold(subject: ModelledCarrier) -> bool:
    return "use" not in subject.told


@rule(id="completeness.used", title="Carriers that hold no circuit", tells=Tells.MODEL, asks=_is_untold)
def used(subject: ModelledCarrier, limits: UsedLimits) -> Verdict:  # noqa: ARG001 - every rule has limits
    """Fails where no circuit lies in it and none may; unknown where one may."""
    if subject.circuits:
        return Verdict(Outcome.PASS, "circuits lie in it")
    if subject.may_hold:
        return Verdict(
            Outcome.UNKNOWN,
            "no circuit lies in it for certain, and circuits whose way or compartment isn't known may, so whether it is used isn't known",
            advice="mend what keeps those circuits from a way",
        )
    return Verdict(
        Outcome.FAIL,
        "no circuit lies in it, so it may not be needed, or its circuits lack in the schedule",
        advice="look whether circuits are missing in the schedule, or were led another way",
    )
