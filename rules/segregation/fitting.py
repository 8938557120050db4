"""Do services that come in different compartments or carriers stay apart where these meet?

A divider ends where three or more carriers meet, unless the fitting has one of its own or its parts are cut to fit. In a box, and in an
undivided tee or cross, cables lie together that lie in different carriers before and after. No model says how they are kept apart there,
so the project declares it:

    [[fittings]]
    name = "TEE-*"            # the fitting's name, its tag or its type's name
    partition = "kept"        # or "open"
    reason = "made with a bridge over the crossing compartments"

Asked is of boxes, tees and crosses, and of any other place where three or more carriers meet, if two of the circuits that pass, or that
could, lie together in no compartment there. Of a bend, connector, reducer or direct joint it is asked only where what is known of
compartments takes a circuit across the divider.

    kept           pass: what lies together in a compartment is judged in the carriers; but as if it weren't declared where a circuit
                   comes in one compartment and goes on in another, and so crosses what is kept
    open           all that passes is asked as if it lay in one compartment
    not declared   pass if all that passes could lie in one compartment, else unknown

The tests are those of segregation.compartment: bands, fire alarm, emergency lighting from a central battery. A circuit whose way isn't
known could pass too.

Clause: BS 7671 528.1 (bands), 560.7 with BS 5839-1 clause 26 (fire alarm), 560.7 with BS 5266-1 (escape lighting).

Worked example. At a tee three lengths of trunking meet, each of two compartments; sockets at 230 V in cables for 750 V pass it in the
first, data cables rated 125 V in the second. Declared as kept: pass. Declared as open: 230 V is present and the data cables aren't
insulated for it: fail. Not declared: unknown, with what would fail. With data cables rated 750 V: pass in any case. Through a cross of
four undivided lengths the sockets pass from west to east and the data cables from north to south: not declared, it is unknown as well.

Not asked here: bends, connectors and reducers through which all compartments keep their side; what two circuits do that share a
compartment on one side of the place, since they lie together in it; what goes past an opening in the side of the carrier that it stays
in; whether a circuit that is alone there crosses a divider, which is told among the problems.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from checker.model import DividedFitting, Partition, Passing
from checker.model.texts import listed, natural
from checker.rule import Basis, Outcome, Verdict, rule
from checker.rule.needs import COMPARTMENT, of_circuit
from rules.segregation.together import SegregationLimits, together


@rule(id="segregation.fitting", title="Services that must be apart where carriers meet")
def fitting(subject: DividedFitting, limits: SegregationLimits) -> Verdict:
    """By what the project declares of it; without that, a pass only where nothing needs to be apart."""
    why = subject.fitting.partition_why if subject.fitting is not None else ""
    crossing = list(dict.fromkeys(_crossing(subject, subject.passing))) if subject.partition is Partition.KEPT else []
    if subject.partition is Partition.KEPT and not crossing:
        reason = f"{subject.label} keeps compartments apart, as declared ({why}): what lies together is judged in the carriers"
        return Verdict(Outcome.PASS, reason, basis=Basis.PROJECT.value, source=f"declared by the project: {why}")
    answer = together(subject.cables, {carrier.kind for carrier in subject.carriers}, limits)
    if subject.partition is Partition.OPEN:
        return replace(answer, reason=f"{subject.label} is open, as declared ({why}): {answer.reason}")
    if answer.outcome is Outcome.PASS:
        return replace(answer, reason=f"all that passes {subject.label} could lie together: {answer.reason}")
    if crossing:
        reason = (
            f"{subject.label} keeps compartments apart, as declared ({why}), but cables would have to cross its divider: "
            f"{listed(crossing, between='; ')}; and if not all is kept apart there: {answer.reason}; "
            f"give each circuit one compartment: /N in the route"
        )
        marks = sorted(
            {cable.circuit for item in subject.passing for cable in item.cables if list(_crossing(subject, [item]))},
            key=natural,
        )
        needs = tuple(of_circuit(COMPARTMENT, mark) for mark in marks)
        return replace(answer, outcome=Outcome.UNKNOWN, reason=reason, needs=needs)
    hint = "declare it: [[fittings]] in wayroom.toml"
    if subject.fitting is None:
        hint = "model a fitting there and declare it: [[fittings]] in wayroom.toml"
    is_divided = any(len(carrier.section.lanes) > 1 for carrier in subject.carriers)
    what = f"{subject.label} keeps {'compartments' if is_divided else 'what passes it'} apart"
    reason = f"whether {what} isn't declared, and if not: {answer.reason}; {hint}"
    declared = (f"the partition of fitting {subject.label}",)
    # declared as open it would hang on what isn't known of its cables
    needs = (*declared, *answer.needs) if answer.needs or answer.outcome is not Outcome.UNKNOWN else ()
    return replace(answer, outcome=Outcome.UNKNOWN, reason=reason, needs=needs)


def _crossing(subject: DividedFitting, passing: Sequence[Passing]) -> Iterator[str]:
    """What comes in one compartment and goes on in another of as many: compartments keep their number where carriers meet."""
    carriers = {carrier.key: carrier for carrier in subject.carriers}
    for item in passing:
        sides = [(carriers[key], number) for key, number in item.compartments if key in carriers and number is not None]
        if len(sides) < 2 or len({len(carrier.section.lanes) for carrier, _ in sides}) > 1:
            continue
        if len({number for _, number in sides}) > 1:
            places = listed([f"{number} of {carrier.place.label}" for carrier, number in sides], between=" and ")
            marks = sorted({cable.circuit for cable in item.cables}, key=natural)
            yield f"{', '.join(marks)} in compartments {places}"
