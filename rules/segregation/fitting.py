"""Do services that lie in different compartments stay apart where divided carriers meet?

A divider ends where three or more carriers meet, unless the fitting has one of its own or its parts are cut to fit. No model says so, so
the project declares it:

    [[fittings]]
    name = "TEE-*"            # the fitting's name, its tag or its type's name
    partition = "kept"        # or "open"
    reason = "made with a bridge over the crossing compartments"

Asked is of tees and crosses, and of any other place but a box where three or more carriers meet, if one of them is divided and two of the
circuits that pass lie together in no compartment there.

    kept           pass: what lies together in a compartment is judged in the carriers
    open           all that passes is asked as if it lay in one compartment
    not declared   pass if all that passes could lie in one compartment, else unknown

The tests are those of segregation.compartment: bands, fire alarm, emergency lighting from a central battery. A circuit whose way isn't
known could pass too.

Clause: BS 7671 528.1 (bands), 560.7 with BS 5839-1 clause 26 (fire alarm), 560.7 with BS 5266-1 (escape lighting).

Worked example. At a tee three lengths of trunking meet, each of two compartments; sockets at 230 V in cables for 750 V pass it in the
first, data cables rated 125 V in the second. Declared as kept: pass. Declared as open: 230 V is present and the data cables aren't
insulated for it: fail. Not declared: unknown, with what would fail. With data cables rated 750 V: pass in any case.

Not asked here: bends, connectors and reducers, through which compartments keep their side; boxes; whether cables have to cross a divider,
which is told among the problems.
"""

from dataclasses import replace

from checker.model import DividedFitting, Partition
from checker.rule import Basis, Outcome, Verdict, rule
from rules.segregation.together import SegregationLimits, together


@rule(id="segregation.fitting", title="Services that must be apart where divided carriers meet")
def fitting(subject: DividedFitting, limits: SegregationLimits) -> Verdict:
    """By what the project declares of it; without that, a pass only where nothing needs to be apart."""
    why = subject.fitting.partition_why if subject.fitting is not None else ""
    if subject.partition is Partition.KEPT:
        reason = f"{subject.label} keeps compartments apart, as declared ({why}): what lies together is judged in the carriers"
        return Verdict(Outcome.PASS, reason, basis=Basis.PROJECT.value, source=f"declared by the project: {why}")
    answer = together(subject.cables, {carrier.kind for carrier in subject.carriers}, limits)
    if subject.partition is Partition.OPEN:
        return replace(answer, reason=f"{subject.label} is open, as declared ({why}): {answer.reason}")
    if answer.outcome is Outcome.PASS:
        return replace(answer, reason=f"all that passes {subject.label} could lie together: {answer.reason}")
    hint = "declare it: [[fittings]] in wayroom.toml"
    if subject.fitting is None:
        hint = "model a fitting there and declare it: [[fittings]] in wayroom.toml"
    reason = f"whether {subject.label} keeps compartments apart isn't declared, and if not: {answer.reason}; {hint}"
    return replace(answer, outcome=Outcome.UNKNOWN, reason=reason)
