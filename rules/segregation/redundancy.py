"""Does one fault take both of two circuits that the project wants apart?

The two supplies of one rack are worth no more than one where they lie in the same tray. Which circuits must be apart the project declares:

    [[redundant]]
    circuits = ["PA-*", "PB-*"]

or the schedule's column `apart_from`. Each pair is asked about once. Three tests:

1. They share no carrier. A carrier that both pass is shared from end to end of it, even where they lie in different compartments (a divider
   doesn't stop a fire, a falling load or a saw) or on different stretches of it; the answer says so.
2. They share no box or other fitting: where they cross in one, each on carriers of its own, one fault takes both just so.
3. Only where the project gives `clear_mm`: their carriers are nowhere nearer to each other than that, for more than `beside_m` in all.

The distance is between the outsides of the carriers, and never more than it is:

    L  =  Σ l   over the stretches of the first circuit's way on which  d < clear_mm;   pass if  L ≤ beside_m

    L         metres of the first circuit's way that are too near to the other's
    l         length of a stretch, m; looked at in pieces of 0.05 m, so that L is too long by less than 0.1 m where ways draw nearer
              or apart, and never too short
    d         clear distance there to the nearest carrier of the other way, mm
    clear_mm  the least that the project wants, mm
    beside_m  how long they may be nearer than that, as where they cross, or where both come to their rack, m; not given: not at all

    [limits."segregation.redundancy"]
    clear_mm = 1000
    beside_m = 3.0
    reason = "one fire load"

The value is in metres: what both pass of shared carriers, or L.

A way that isn't known, or has a gap, makes it unknown; so do carriers whose place or size isn't known, where a distance is asked for. Where
a way was found by Wayroom, and not given or drawn, the answer holds if cables are laid so, and says that.

Clause: none; it is the project's own demand. (IEC 60364-5-56 and BS 7671 560.7 ask that circuits of safety services are independent of
others, and don't say how far apart.)

Worked example. PA-01 and PB-01 feed one rack, each on a ladder of its own, and both pass 4.0 m of the same tray before it: 4.0 m > 0: fail.
With ladders of 100 mm, 600 mm apart from axis to axis for 6.0 m, the clear distance is 600 − 50 − 50 = 500 mm: with `clear_mm = 500` they
aren't nearer than that: pass; with 501, L = 6.0 m > 0: fail; with `beside_m = 6.0` besides: pass.

Not asked here: drops from carriers to equipment, where both come to the same rack; the equipment at their ends; how near bends and other
fittings come to the other way, of which only the carriers on both sides are measured; pairs of which the schedule lacks one circuit, which
are told among the problems, as is whether there are two such ways at all; fire compartments, and what else both could share.
"""

from dataclasses import replace

from pydantic import Field

from checker.model import CircuitPair, guess_of
from checker.model.pairs import Nearby
from checker.model.texts import listed
from checker.rule import Basis, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import WAY, of_carrier, of_circuit

SOURCE = "the project's own: circuits that it declares redundant share no carrier"
#: So that what is exactly as long as it may be isn't longer by the last bit of a float.
EXACTLY = 1e-9


class RedundancyLimits(Limits):
    """``clear_mm``: how near their carriers may come; ``beside_m``: for how long they may be nearer, not at all if it isn't given."""

    clear_mm: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher"})
    beside_m: Limit | None = None


@rule(id="segregation.redundancy", title="Circuits that one fault may not take together")
def redundancy(subject: CircuitPair, limits: RedundancyLimits) -> Verdict:
    """What they share, else where they are too near, else what of their ways isn't known."""
    if subject.shared or subject.fittings:
        return _sharing(subject)
    near = _near(subject, limits)
    if near.outcome is Outcome.FAIL:
        return near
    if subject.open_ways:
        needs = tuple(of_circuit(WAY, mark) for mark, _ in subject.open_ways)
        reason = "; ".join(subject.doubts)
        return replace(near, outcome=Outcome.UNKNOWN, reason=reason, value=None, needs=(*needs, *near.needs))
    if near.outcome is Outcome.PASS and subject.found:
        marks = " and ".join(subject.found)
        return replace(
            near, reason=f"{near.reason}, if {marks} {'are' if len(subject.found) > 1 else 'is'} laid as found"
        )
    return near


def _sharing(subject: CircuitPair) -> Verdict:
    """A fail with all carriers and fittings that both pass."""
    lengths = [item.length_m for item in subject.shared]
    total = None if None in lengths else sum(length for length in lengths if length is not None)
    said = []
    if subject.shared:
        labels = listed([item.carrier.place.label for item in subject.shared])
        said.append(f"both pass {labels}" + (f", together for {total:.2f} m" if total else ""))
    divided = [item.carrier.place.label for item in subject.shared if item.is_divided]
    if divided:
        said.append(f"in different compartments of {listed(divided)}, but in one carrier")
    off = [
        item.carrier.place.label for item in subject.shared if item.length_m is not None and item.length_m <= EXACTLY
    ]
    if off:
        said.append(f"on different stretches of {listed(off)}, but in one carrier")
    if subject.fittings:
        said.append(f"both pass through {listed([item.label for item in subject.fittings])}")
    what = "{}" if total else "a carrier" if subject.shared else "a fitting"
    return Verdict(
        Outcome.FAIL,
        f"one fault can take both {subject.one} and {subject.other}: {'; '.join(said)}",
        value=total or None,
        limit=0.0,
        unit="m",
        basis=Basis.PROJECT.value,
        source=SOURCE,
        found=f"{what} shared by {subject.one} and {subject.other}",
        wanted="none may be",
    )


def _near(subject: CircuitPair, limits: RedundancyLimits) -> Verdict:
    """Whether they are near each other for too long, of two that share nothing; how near they come, where that isn't asked."""
    apart = f"{subject.one} and {subject.other} share no carrier and no fitting"
    if limits.clear_mm is None:
        return Verdict(
            Outcome.PASS, f"{apart}{_nearest(subject)}", value=0.0, limit=0.0, unit="m",
            basis=Basis.PROJECT.value, source=SOURCE,
        )  # fmt: skip
    clear, may = limits.clear_mm.value, 0.0 if limits.beside_m is None else limits.beside_m.value
    near = subject.nearer(clear)
    total = sum(item.beside_m for item in near)
    sources = [limits.clear_mm.cited] + ([limits.beside_m.cited] if limits.beside_m is not None else [])
    answer = Verdict(
        Outcome.PASS, "", value=total, limit=may, unit="m", basis=limits.clear_mm.basis.value,
        source="; ".join(dict.fromkeys(sources)), found=f"{{}} nearer than {clear:g} mm", wanted="" if may else "none may be",
    )  # fmt: skip
    places = f": {listed([_place(item) for item in near], between='; ')}" if near else ""
    guess = guess_of(dict.fromkeys(carrier for item in near for carrier in (item.one, item.other)))
    if guess:
        places += f"; {guess} is of low confidence"
    allowed = f"; {may:.2f} m may be" if may else ""
    long = f"they are nearer than {clear:g} mm for {total:.2f} m in all{allowed}"
    if total > may + EXACTLY:
        return replace(answer, outcome=Outcome.FAIL, reason=f"{apart}, but {long}{places}")
    if subject.unplaced:
        labels = [carrier.place.label for carrier in subject.unplaced]
        return replace(
            answer,
            outcome=Outcome.UNKNOWN,
            value=None,
            reason=f"{apart}; whether they are {clear:g} mm apart isn't known: where {listed(labels)} runs, or how large it is, isn't",
            needs=tuple(of_carrier("place and size", carrier) for carrier in subject.unplaced),
        )
    if not near:
        return replace(answer, reason=f"{apart}, and are nowhere nearer than {clear:g} mm{_nearest(subject, clear)}")
    return replace(answer, reason=f"{apart}; {long}{places}")


def _nearest(subject: CircuitPair, wanted_mm: float = 0.0) -> str:
    """How near they come, unless that is known less well than that they are farther apart than is wanted."""
    item = subject.nearest
    if item is None or subject.unplaced or item.clear_mm < wanted_mm:
        return ""
    return f"; nearest are {item.one.place.label} and {item.other.place.label}, at least {item.clear_mm:.0f} mm clear"


def _place(item: Nearby) -> str:
    labels = f"{item.one.place.label} to {item.other.place.label}"
    return f"{labels} for {item.beside_m:.2f} m, {item.clear_mm:.0f} mm at the least"
