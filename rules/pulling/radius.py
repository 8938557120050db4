"""Are the bends of a run of conduit wide enough for the cables that are drawn through them?

A cable that is bent too tightly is damaged where nobody sees it. The least radius is a multiple of the cable's outside diameter, of a flat
cable of its larger side, by how it is made and how thick it is. It is an internal radius, to the cable's inner face; under pull the cable
lies against the inner side of the bend, so the bend's own inner side is what is held against it:

    R − D / 2  ≥  m · OD

    R   radius of the bend's centre line, mm, as the model draws it
    D   inside diameter of the conduit, mm
    m   multiple, by the code's table of constructions; at least the limit `multiple`
    OD  outside diameter, of a flat cable its width, mm

The tightest bend is held against the cable that needs most. Fibre and unscreened data cables have a larger multiple while they are
pulled: that one is used. A catalogue's cable is told by its key. Of any other the construction isn't known: the answer stands only if it
is the same with the least and the largest multiple of the table's constructions that it could be: of data those of data cables, of other
signals these too, unless a cross-section is given. Where a project sets `multiple`, no cable needs less. What doesn't pass all conduits of
the run needn't pass the bend: no fail is told of it.

Of a corner between two straights, or a fitting whose shape isn't read, the model draws no radius. Where `[[fittings]]` declares none
either, `radius_mm` of the centre line, it is unknown, with the radius that it takes. Turns of up to 4.5° are no bends.

Clause: BS 7671 522.8 with the UK on-site guidance's table of minimum internal radii; BS 5467 for armoured cables; EN 50174-2 for data
cables; a maker's figure goes before all of them. NFPA 70 gives cables of up to 1000 V in conduit no multiple (the bends of conduit go by
Chapter 9 Table 2 there), and IEC 60364 none at all: there the project gives one for all, `[limits."pulling.radius"] multiple`.

Worked example. Single-core cables of 7.1 mm in conduit with a bore of 22.1 mm, bent to 62.5 mm on its centre line: 62.5 − 22.1 / 2 =
51.45 mm inside; needed 2 · 7.1 = 14.2 mm: within. An armoured cable of 25 mm² cores, 26.5 mm thick, would need 8 · 26.5 = 212 mm.

Not asked here: runs without a bend, or in which no cable that is known of lies or may; bends of trunking, tray and ladder; cables where
they leave a conduit; the radius at which cables lie after they are drawn in; whether a bend of conduit is as wide as its own standard asks.
"""

from pydantic import Field

from checker.model import LoadedRun, RunPiece
from checker.rule import ASKED_WITH, Limit, Limits, Outcome, Table, Verdict, rule
from checker.rule.needs import all_answered
from rules.pulling.multiples import Need, need_of
from rules.pulling.runs import bends_of, unknown_bends

#: A hundredth of a millimetre: figures that agree on paper do so here.
EXACTLY_MM = 0.01


class RadiusLimits(Limits):
    """``multiple``: of the diameter, the least that any cable needs; ``radii``: multiples by construction."""

    multiple: Limit | None = Field(default=None, json_schema_extra={**ASKED_WITH, "stricter": "higher"})
    radii: Table | None = None


def _has_bends(subject: LoadedRun) -> bool:
    """A run with a bend in which something lies, or may."""
    return bool(bends_of(subject)) and bool(subject.cables or subject.possible)


@rule(id="pulling.radius", title="Radius of bends against the cables", asks=_has_bends)
def radius(subject: LoadedRun, limits: RadiusLimits) -> Verdict:
    """The inside of the tightest bend against what the cable that needs most may be bent to."""
    limit = limits.multiple
    if limit is None:
        return Verdict(Outcome.UNKNOWN, "how tightly cables may be bent isn't given", unit="mm")
    needs = [need_of(cable, limits.radii, limit) for cable in subject.cables if cable.count != 0]
    found = bends_of(subject)
    drawn = [bend for bend in found if bend.radius_mm is not None]
    tightest = min(drawn, key=lambda bend: bend.radius_mm or 0.0, default=None)
    if not needs:
        return _verdict(Outcome.PASS, "nothing is drawn through its bends", limit)
    known = [need for need in needs if need.least_mm is not None]
    least = max(known, key=lambda need: need.least_mm or 0.0, default=None)
    if tightest is not None and least is not None and least.least_mm is not None:
        widest = _inside_mm(tightest, subject.bore_least_mm or 0.0)
        if widest < least.least_mm - EXACTLY_MM:
            reason = f"{tightest.label} has an inside radius of {widest:.0f} mm, and {least.words} must have {least.least_mm:.0f} mm"
            reason += f"; that is a centre line of at least {least.least_mm + (subject.widest_mm or 0.0) / 2.0:.0f} mm"
            return _verdict(Outcome.FAIL, reason, limit, widest, least)
    return _not_failed(subject, limit, needs, found, tightest)


def _not_failed(
    subject: LoadedRun, limit: Limit, needs: list[Need], found: tuple[RunPiece, ...], tightest: RunPiece | None
) -> Verdict:
    """A pass if all is known and wide enough; else why it can't be said."""
    unsized = [need for need in needs if need.most_mm is None]
    if unsized:
        return _verdict(Outcome.UNKNOWN, unsized[0].words, limit, questions=tuple(need.question for need in unsized))
    most = max(needs, key=lambda need: need.most_mm or 0.0)
    wanted = most.most_mm or 0.0
    enough = ""
    if subject.widest_mm is not None:
        enough = f"; a bend with a centre line of at least {wanted + subject.widest_mm / 2.0:.0f} mm is wide enough"
    if not subject.is_whole:
        question = (f"where the run of conduit {subject.carriers[0].place.label} ends and turns",)
        reason = f"not all bends of the run are known: {unknown_bends(subject)}{enough}"
        return _verdict(Outcome.UNKNOWN, reason, limit, questions=question)
    undrawn = list(dict.fromkeys(bend.label for bend in found if bend.radius_mm is None))
    if undrawn or tightest is None:
        reason = f"neither model nor project gives a radius of {', '.join(undrawn)}, and {most.words} must have {wanted:.0f} mm inside"
        reason += enough
        questions = tuple(dict.fromkeys(_question(bend) for bend in found if bend.radius_mm is None))
        return _verdict(Outcome.UNKNOWN, reason, limit, questions=questions)
    if subject.widest_mm is None:
        question = (f"the inside diameter of conduit {subject.carriers[0].place.label}",)
        return _verdict(
            Outcome.UNKNOWN,
            "no inside diameter is known, so neither is the inside of its bends",
            limit,
            questions=question,
        )
    inside = _inside_mm(tightest, subject.widest_mm)
    if inside >= wanted - EXACTLY_MM:
        reason = (
            f"inside radius {inside:.0f} mm at the tightest, {tightest.label}; {most.words} must have {wanted:.0f} mm"
        )
        return _verdict(Outcome.PASS, reason, limit, inside, most)
    span = f"{most.least_mm or 0.0:.0f} to {wanted:.0f} mm"
    reason = f"{tightest.label} has an inside radius of {inside:.0f} mm; {most.words} must have {span}"
    if subject.bore_least_mm != subject.widest_mm:
        reason += ", and the inside diameter isn't known exactly"
    return _verdict(Outcome.UNKNOWN, f"{reason}{enough}", limit, questions=(most.question,))


def _question(bend: RunPiece) -> str:
    """By its type, so that one answer counts for all of its sort."""
    return (
        f"the radius of bends of type {bend.type_name!r}" if bend.type_name else f"the radius of the bend {bend.label}"
    )


def _inside_mm(bend: RunPiece, bore_mm: float) -> float:
    return (bend.radius_mm or 0.0) - bore_mm / 2.0


def _verdict(
    outcome: Outcome, reason: str, limit: Limit, value: float | None = None, need: Need | None = None,
    questions: tuple[str, ...] = (),
) -> Verdict:  # fmt: skip
    wanted = None
    if need is not None:
        wanted = need.least_mm if outcome is Outcome.FAIL else need.most_mm
    return Verdict(
        outcome, reason, value, wanted, unit="mm", basis=limit.basis.value,
        source=need.source if need is not None and need.source else limit.cited,
        needs=all_answered(questions), is_floor=True, found="{} inside radius of a bend",
    )  # fmt: skip
