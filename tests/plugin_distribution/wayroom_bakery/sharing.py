"""Do so few circuits share a carrier that a baker can switch them all off before sweeping it?

Whoever sweeps a tray with a metal brush switches off what lies on it first, by hand, from a list beside the board. A long list is not
followed.

    n  ≤  most

    n     circuits with cables in the carrier, in any of its compartments, spare ones too
    most  the most circuits that the guide allows

Clause: house guide of the bakery, 3.3. It is invented.

Worked example. A tray holds the cables of the ovens O1 and O2 and of the mixer M1: 3 circuits, no more than the 3 that the guide allows.

Not asked here: how many cables a circuit has, whether they can be swept.
"""

from checker.model import Enclosure
from checker.rule import Limit, Limits, Outcome, Verdict, rule


class SharingLimits(Limits):
    """``most_circuits``: how many circuits may lie in one carrier."""

    most_circuits: Limit


@rule(id="sharing.carrier", title="Circuits that share a carrier", asks=lambda subject: bool(subject.about.circuits))
def carrier(subject: Enclosure, limits: SharingLimits) -> Verdict:
    """The number of circuits against the most that may be."""
    limit = limits.most_circuits
    marks = sorted({cable.circuit for cable in subject.cables})
    outcome = Outcome.PASS if len(marks) <= limit.value else Outcome.FAIL
    reason = f"{len(marks)} circuits share it: {', '.join(marks)}"
    basis, source = limit.basis.value, limit.cited
    return Verdict(outcome, reason, float(len(marks)), limit.value, "circuits", basis=basis, source=source)
