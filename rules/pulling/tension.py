"""Can the cables of a run of conduit be drawn in without stretching them, or crushing them in its bends?

Friction grows along the way, and at each bend by a factor. Too much force stretches the conductors; at a bend the cables are pressed
against its inner side. All that lies in the run is drawn in at one time, fed in without a force at one end and drawn out at the other. Both
ways are reckoned, since they differ, and the better one is answered.

    straight   T = T₀ + w · (μ · Wc · l ± h)
    bend       T = T₁ · cosh(μ · Wc · φ) + √(T₁² + (w · R)²) · sinh(μ · Wc · φ)
    side       p = k · T / R
    T  ≤  Tmax,    p  ≤  pmax

    T, T₀, T₁  tension of the cables, N; T₁ before a bend. The largest on the way counts
    w          weight of all cables, N/m: mass · 9.81
    μ          friction between cables and conduit: the project's `friction`, else 0.5 as of dry cables, which the answer says
    Wc         1 for one cable; for equal ones by x = d / (D − d), of cable and inside diameter: two 1/√(1 − x²); three the larger of
               1/√(1 − x²) and 1 + 4/3 · x²; four 1 + 2 · x²; 1.4 for any others, of two to four unlike ones not less than that of
               equal ones of their mean diameter
    l, h       how far it goes on the level, and how far up (+) or down (−), m
    φ, R       angle of the bend, radians; radius of its centre line, m; going up in it is added as in a straight
    k          1 for one cable and for any others; two Wc/2; three the larger of Wc/2 and (3 · Wc − 2)/3; four Wc − 1, at least 1/4
    Tmax       Σ conductors · mm² · N/mm², two thirds of it where they are unequal; 110 N for a data cable of four pairs; what a grip bears
    p, pmax    pressure on a bend's inner side, N/m; limit `side_n_per_m`

Of a corner between two conduits, or a fitting whose shape isn't read, the model draws no radius. Then the lengths beside it go on into the
corner, and the least radius that the code asks of a bend is taken: an inside radius of `bend_multiple` times the conduit's outside
diameter, or `bend_radius_mm` on the centre line. Without such a limit half the outside diameter is taken, at which the inner side is a
point. The answer says so. Against the cables it is not counted: what fails fails at any radius of such bends.

A cable's mass is given (schedule, `[[cables]]`, catalogue), else it lies between that of its conductors and an estimate from its size, if
it isn't armoured: the answer stands if it is the same with both. A metal that isn't known is copper or aluminium in the same way. Beside
power cables data cables might come to bear all of it: within is only what they bear alone. Of what may lie in the run besides, or doesn't
pass all of its conduits, it isn't known which is there: within is only what is so whichever of it is, and a fail stays one only if the
strength that it may lend wouldn't do.

Clause: none; the formulas are the usual ones of the trade, for two cables our own statics. BS 7671 522.8 and IEC 60364-5-52 522.8 only
forbid damage. The limits are guidance, the friction is an assumption.

Worked example. One cable of 3 kg/m, 29.43 N/m, is drawn 40 m on the level and round a bend of 90° with R = 0.6 m; μ = 0.35: after the
straight 0.35 · 29.43 · 40 = 412.0 N; at the end 412.0 · e^(0.35 · π/2) = 714.0 N (714.2 N with its own weight in the bend), and 714 / 0.6 =
1190 N/m. Fed in at the bend's end: in the bend 29.43 · 0.6 · sinh(0.55) = 10.2 N, then 422.2 N: that is the better way.

Not asked here: runs in which nothing can lie; straight runs of up to 30 m (on the level, at μ · Wc = 0.7, single cores of copper reach 50
N/mm² after some 400 m, a data cable of 45 g/m its 110 N after some 350 m, an armoured cable of 2 × 1.5 mm² and 302 g/m its 150 N after some
70 m), also where data cables are drawn with heavier ones; the pressure where axes don't quite line up, by up to 4.5°; jamming; the force
that holds a reel back; one cable after another; ropes and winches.
"""

import math
from dataclasses import dataclass, replace

from checker.model import LoadedRun, PlacedCable, RunPiece
from checker.rule import Limit, Outcome, Verdict, rule
from rules.pulling.forces import Bundle, Pull, bundle, pull, worst
from rules.pulling.limits import TensionLimits
from rules.pulling.runs import bends_of, is_undrawn, unknown_bends
from rules.pulling.strength import Drawn, drawn_together

#: Straight runs up to this are never the trouble.
LONG_M = 30.0
EXACTLY = 1e-9


@dataclass(frozen=True, slots=True)
class _Way:
    """Drawn from one end to the other, with the most that is allowed."""

    fed_at: str
    drawn_at: str
    pull: Pull
    bears_n: float
    side_n_per_m: float

    @property
    def use(self) -> float:
        """The larger of tension and pressure over what is allowed."""
        return max(
            self.pull.tension_n / self.bears_n if self.bears_n else math.inf, self.pull.side_n_per_m / self.side_n_per_m
        )

    @property
    def is_side(self) -> bool:
        """Whether the pressure in a bend is what is nearest to its limit."""
        return self.pull.side_n_per_m / self.side_n_per_m >= self.use


def _asks(subject: LoadedRun) -> bool:
    """A run with a bend, or a long one, in which something lies or may."""
    length = sum(piece.length_m or 0.0 for piece in subject.pieces)
    return subject.may_hold and (length > LONG_M or bool(bends_of(subject)))


@rule(id="pulling.tension", title="Force to draw cables in", asks=_asks)
def tension(subject: LoadedRun, limits: TensionLimits) -> Verdict:
    """Tension, and pressure in bends, from the better end."""
    certain = tuple(cable for cable in subject.certain if cable.count != 0)
    perhaps = tuple(cable for cable in subject.perhaps if cable.count != 0)
    if not certain and not perhaps:
        return _verdict(Outcome.PASS, "nothing is drawn in", limits)
    light = _lightest(subject, certain, drawn_together(certain, (*perhaps, *subject.possible), limits), limits)
    drawn = drawn_together(certain, perhaps, limits)
    if _fails(light):
        return _answer(Outcome.FAIL, light, limits, drawn, "")
    return _heaviest(subject, drawn, limits)


def _fails(ways: list[_Way]) -> bool:
    """Whether neither way is within what is allowed."""
    return bool(ways) and ways[0].use > 1.0 + EXACTLY


def _known(subject: LoadedRun) -> bool:
    """Whether the way is known: not where it turns somewhere on a length that isn't parted into straights and bends."""
    return all(
        None not in (piece.length_m, piece.rise_m, piece.turn_deg)
        and not (piece.turn_deg and piece.length_m and piece.radius_mm is None)
        for piece in subject.pieces
    )


def _ways(
    subject: LoadedRun, pieces: tuple[RunPiece, ...], weight: float, bears: float, lying: Bundle, limits: TensionLimits
) -> list[_Way]:
    """Both ways, the better one first."""
    one, other = subject.called
    back = tuple(piece.turned_round() for piece in reversed(pieces))
    ways = [
        _Way(fed, out, pull(way, weight, limits.rubbing, lying), bears, limits.side_n_per_m.value)
        for fed, out, way in ((one, other, pieces), (other, one, back))
    ]
    return sorted(ways, key=lambda way: way.use)


def _lightest(subject: LoadedRun, certain: tuple[PlacedCable, ...], drawn: Drawn, limits: TensionLimits) -> list[_Way]:
    """Both ways with all that isn't known in their favour; none where the way itself, or what passes all of it, isn't known.

    What needn't be there may lend its strength, though no more than goes with its weight, and change how the rest lies.
    """
    if not certain or not _known(subject) or subject.bends_least_deg is None:
        return []
    if any(cable.count is None for cable in certain):
        return []
    heap = drawn.heaps[0] if len(drawn.heaps) == 1 else ()
    lying = (bundle(heap, subject.widest_mm) if heap else None) or Bundle(1.0, 0.0)
    return _ways(subject, subject.pieces, drawn.least_n_per_m, drawn.strongest_n, lying, limits)


def _heaviest(subject: LoadedRun, drawn: Drawn, limits: TensionLimits) -> Verdict:
    """A pass with all that isn't known against it; else why it can't be said."""
    name = subject.carriers[0].place.label
    lacking = dict(drawn.lacking)
    if not subject.is_whole:
        lacking[f"where the run ends isn't known: {unknown_bends(subject)}"] = (
            f"where the run of conduit {name} ends and turns"
        )
    elif not _known(subject):
        lacking["the way of the run isn't known"] = f"the way of the run of conduit {name}"
    lying = worst(bundle(heap, subject.bore_least_mm) for heap in drawn.heaps)
    if lying is None and subject.bore_least_mm is not None and subject.bore_least_mm == subject.bore_mm:
        lacking[f"its cables don't go beside each other into {subject.bore_mm:g} mm"] = ""
    elif lying is None:
        lacking["how its cables lie beside each other isn't known"] = f"the inside diameter of conduit {name}"
    pieces, assumed = _with_radii(subject, limits)
    undrawn = [piece.label for piece in pieces if is_undrawn(piece)]
    if lacking or lying is None or drawn.most_n_per_m is None or drawn.weakest_n is None:
        # what no answer settles leaves no question
        questions = () if "" in lacking.values() else tuple(dict.fromkeys(lacking.values()))
        return _verdict(Outcome.UNKNOWN, "; ".join(lacking), limits, questions=questions)
    ways = _ways(subject, pieces, drawn.most_n_per_m, drawn.weakest_n, lying, limits)
    if _fails(ways):
        questions = tuple(f"the mass of {label}" for _, label in drawn.estimated)
        questions += (f"the radius of the bends of conduit {name}",) if assumed else ()
        reason = f"with all that isn't known against it, {_takes(ways)}{_ifs(limits, drawn, assumed)}"
        return _verdict(Outcome.UNKNOWN, reason, limits, questions=questions)
    if undrawn:
        labels = list(dict.fromkeys(undrawn))
        least = max(lying.side_share * after / ways[0].side_n_per_m * 1000.0 for _, after in ways[0].pull.undrawn)
        reason = f"the model draws no radius of {', '.join(labels)}; from {math.ceil(least)} mm on the centre line it is wide enough"
        return _verdict(
            Outcome.UNKNOWN, reason, limits, questions=tuple(f"the radius of the bend {label}" for label in labels)
        )
    return _answer(Outcome.PASS, ways, limits, drawn, assumed)


def _with_radii(subject: LoadedRun, limits: TensionLimits) -> tuple[tuple[RunPiece, ...], str]:
    """The pieces, with the radius that is taken for bends drawn without one, and how that is told."""
    has_undrawn = any(is_undrawn(piece) for piece in subject.pieces)
    multiple, fixed, outside = limits.bend_multiple, limits.bend_radius_mm, subject.outside_mm or None
    if multiple is not None and outside is not None:
        centre, why = (multiple.value + 0.5) * outside, multiple.source
    elif fixed is not None:
        centre, why = fixed.value, fixed.source
    elif outside is not None:
        centre, why = outside / 2.0, "tighter, the inner side of the conduit were a point"
    else:
        return subject.pieces, ""
    pieces = tuple(replace(piece, radius_mm=centre) if is_undrawn(piece) else piece for piece in subject.pieces)
    told = f"bends that are drawn without a radius have at least {centre:.0f} mm on their centre line ({why})"
    return pieces, told if has_undrawn else ""


def _takes(ways: list[_Way]) -> str:
    """What it takes from the better end, and from the other."""
    best, other = ways
    way = f"drawn from {best.fed_at} to {best.drawn_at} it takes {best.pull.tension_n:.0f} N of {best.bears_n:.0f} N"
    if best.pull.side_at:
        way += (
            f" and presses with {best.pull.side_n_per_m:.0f} N/m of {best.side_n_per_m:.0f} N/m in {best.pull.side_at}"
        )
    side = f" and {other.pull.side_n_per_m:.0f} N/m" if other.pull.side_at else ""
    return f"{way}; the other way {other.pull.tension_n:.0f} N{side}"


def _ifs(limits: TensionLimits, drawn: Drawn, assumed: str) -> str:
    ifs = [limits.rubbing_words, "all is drawn in at one time"]
    ifs += [supposed for supposed, _ in drawn.estimated]
    ifs += [assumed] if assumed else []
    return f", if {', and '.join(ifs)}"


def _answer(outcome: Outcome, ways: list[_Way], limits: TensionLimits, drawn: Drawn, assumed: str) -> Verdict:
    """A pass or fail with the figure that is nearest to its limit."""
    way = ways[0]
    known = drawn if outcome is Outcome.PASS else replace(drawn, estimated=())
    reason = f"{_takes(ways)}{_ifs(limits, known, assumed)}"
    if way.is_side:
        names: tuple[str, ...] = ("side_n_per_m",)
        value, most, unit, found = way.pull.side_n_per_m, way.side_n_per_m, "N/m", "{} pressure in a bend"
    else:
        is_grip = limits.grip_n is not None and way.bears_n == limits.grip_n.value
        names = ("grip_n",) if is_grip else drawn.by
        value, most, unit, found = way.pull.tension_n, way.bears_n, "N", "{} to draw it in"
    governing: list[Limit] = [getattr(limits, name) for name in names]
    return Verdict(
        outcome, reason, value, most, unit=unit, basis=governing[0].basis.value,
        source="; ".join(dict.fromkeys(limit.cited for limit in governing)),
        at_least=outcome is Outcome.FAIL and bool(drawn.estimated), found=found,
    )  # fmt: skip


def _verdict(outcome: Outcome, reason: str, limits: TensionLimits, questions: tuple[str, ...] = ()) -> Verdict:
    limit = limits.copper_n_per_mm2
    value = 0.0 if outcome is Outcome.PASS else None
    return Verdict(
        outcome, reason, value, None, unit="N", basis=limit.basis.value, source=limit.cited, needs=questions
    )  # fmt: skip
