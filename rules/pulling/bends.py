"""By how much may a run of conduit turn between two points where cables can be drawn in?

Each bend multiplies the force that it takes to draw cables on, so codes and practice bound how much a run may turn in all. What counts
is the sum of the angles, not the number of bends: a set or an offset counts by its angles as a right-angle bend does by its 90°.

    Σ φ  ≤  limit

    φ      angle by which the run turns at a bend, a set, or where two conduits meet, °
    limit  `most_deg`, °

A run goes from one point to draw in to the next: boxes, tees, crosses, other kinds of carrier, open ends from which a cable drops. What is
drawn in doesn't matter; but where it isn't known of any cable, as without a schedule, neither is the answer. Where the run may go on (an
open end, something that joins it half-way) its bends aren't known; it fails all the same where what is known of it turns too much already.
That cables leave it for equipment half-way makes no point to draw in without a box there; a fail says so, since the box may only lack in
the model. A set or a saddle that is one fitting, and bends that follow each other directly, may turn by more than the angle between their
ends: where that may be so it isn't known by how much. Angles in models aren't exact: up to 1° over the limit is at the limit.

Clause: NFPA 70 342.26, 344.26, 352.26, 358.26: 360° between pull points. For BS 7671 UK practice: no more than two right-angle bends, or
what comes to them, between points to draw in, 180°. IEC 60364 has no figure: there it is the project's, `[limits."pulling.bends"]`.

Worked example. A run leaves a box, turns by 90°, by 45° and back by 45°, and by 90° into the next box: 90 + 45 + 45 + 90 = 270°. By UK
practice (180°) too much, by NFPA 70 (360°) within.

Not asked here: runs without a bend, and runs of unknown bends in which nothing can lie; the length between points to draw in; how tight
each bend is (pulling.radius); whether a box at which a run ends can be reached.
"""

from pydantic import Field

from checker.model import LoadedRun
from checker.rule import ASKED_WITH, Limit, Limits, Outcome, Verdict, rule
from rules.pulling.runs import EXACTLY_DEG, LEAST_BEND_DEG, between, unknown_bends


class BendsLimits(Limits):
    """``most_deg``: the most that a run may turn in all, in degrees."""

    most_deg: Limit | None = Field(default=None, json_schema_extra=ASKED_WITH)


def _bends(subject: LoadedRun) -> bool:
    """A run that bends; or one of which that isn't known, if anything can lie in it."""
    known = subject.run.bends_deg
    return subject.may_hold if known is None else known > LEAST_BEND_DEG


@rule(id="pulling.bends", title="Bends between points to draw in", asks=_bends)
def bends(subject: LoadedRun, limits: BendsLimits) -> Verdict:
    """The sum of the angles of a run against the most that they may come to."""
    limit = limits.most_deg
    if limit is None:
        return Verdict(Outcome.UNKNOWN, "how much a run may turn isn't given", unit="deg")
    whole, least = subject.run.bends_deg, subject.bends_least_deg or 0.0
    found = least if whole is None else whole
    over = found > limit.value + EXACTLY_DEG
    is_asked_of_nothing = subject.unbounded and not subject.cables
    if is_asked_of_nothing:
        over, turn = False, "by an unknown angle" if whole is None else f"by {found:.0f}°"
        outcome, reason = Outcome.UNKNOWN, f"it turns {turn}, and what is drawn through it, if anything, isn't known"
    elif over:
        outcome = Outcome.FAIL
        reason = f"turns by {'at least ' if whole is None else ''}{found:.0f}° between {between(subject)}"
        reason += "; cables leave it half-way, and no box is modelled there" if subject.is_left else ""
    elif whole is None:
        outcome, reason = Outcome.UNKNOWN, f"how much the run turns isn't known: {unknown_bends(subject)}"
    else:
        outcome, reason = Outcome.PASS, f"turns by {found:.0f}° between {between(subject)}"
    return Verdict(
        outcome, reason, None if outcome is Outcome.UNKNOWN else found, limit.value, unit="deg",
        basis=limit.basis.value, source=limit.cited, at_least=over and whole is None, regardless=not is_asked_of_nothing,
        needs=(f"where the run of conduit {subject.carriers[0].place.label} ends and turns",)
        if outcome is Outcome.UNKNOWN and not is_asked_of_nothing
        else (),
        found="{} of bends in a run",
    )  # fmt: skip
