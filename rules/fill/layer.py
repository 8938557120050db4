"""Do the cables of a tray or ladder lie as few and as flat as their sizes ask?

Large cables heat what lies under them, so they lie side by side; small ones may be heaped, as long as air still gets between them. So
the limit goes by the conductors' sizes and by whether the bottom lets air through.

Multiconductor cables, by what lies there; W is the inside width, A the area that the code's table allows for it:

    all 4/0 AWG or larger       Σ OD  ≤  W                        solid bottom  0.90 · W
    all smaller                 Σ a   ≤  A₁                       solid bottom  A₃
    both                        Σ a + 1.2 · Sd  ≤  A₁             solid bottom  Σ a + 1.0 · Sd  ≤  A₃,  and  Sd  ≤  W
    control and signal only     Σ a   ≤  0.50 · W · d             solid bottom  0.40 · W · d

    OD   outside diameter of each cable; of a flat one its major axis
    a    π/4 · OD², of the cables smaller than 4/0 AWG, in²
    Sd   Σ OD of those of 4/0 AWG and larger, in; columns 2 and 4 take it off the allowed area, here it stands on the other side
    d    usable depth, at most 6 in

Single conductors, on ladders and ventilated trays:

    any of 1/0 to 4/0 AWG, or all of 1000 kcmil or larger         Σ OD  ≤  W
    all of 250 to 900 kcmil                                       Σ a   ≤  A₁ of the table for single conductors
    those with larger ones                                        Σ a + 1.1 · Sd  ≤  A₁,  Sd of 1000 kcmil and larger

Single conductors smaller than 1/0 AWG don't lie in trays, except from 4 AWG for equipment grounding (392.10(B)(1)); whether one is for
that isn't told, so from 4 AWG up the answer is unknown. Where multiconductor cables and single conductors lie in one tray each sort must
keep its own limit; no rule for both together is judged, so it is never a pass.

Fill and limit are told as shares of the inside, by area or by width. Where a conductor size, a service or the bottom of a tray isn't
given, every limit that may apply is asked, and the answer stands only if all agree. A cable of which neither size nor number of cores is
given is taken for a multiconductor one, and the answer says so.

Clause: NFPA 70 392.22(A)(1) to (4) and 392.22(B)(1), for cables of up to 2000 V; where no voltage is given, it is taken for no more. The
tables are used by their inch figures; a width between two of the table goes by the narrower. Where a tray is called by a wider row than its
inside has, both are asked, and the answer stands only if they agree. That a flat cable counts as a circle is
Chapter 9 note 9, which is for conduit; it is used here too.

Worked example. A ladder 24 in (609.6 mm) wide and 4 in deep: A₁ = 28 in² = 18,064.5 mm² of 61,935.4 mm², 29.2 %. Sixty cables of 12 AWG,
OD 16 mm: 60 · π/4 · 16² = 12,063.7 mm², 19.5 %: within. With four of 4/0 AWG, OD 50 mm, Sd = 200 mm = 7.874 in, which takes
1.2 · 7.874 = 9.449 in² = 6096.0 mm²: 18,159.7 mm², 29.3 %: over.

Not asked here: ampacity (392.80), spacing that an ampacity rests on, rung spacing, channel trays, cables of more than 2000 V, whether the
cables are of types for trays, separation of systems, load on the supports.
"""

from dataclasses import replace

from checker.model import CarrierKind, LoadedCompartment, Service
from checker.rule import Outcome, Tells, Verdict, rule
from checker.rule.needs import INSIDE, PERFORATED, SIZE, of_cable, of_circuit, of_type
from rules.fill.formula import needs_of, unsized
from rules.fill.tray_checks import Branch, Check, trays
from rules.fill.tray_limits import LayerLimits
from rules.fill.tray_rows import HIGHEST_V, Row, Sorted, sort


@rule(
    id="fill.layer",
    title="Cables in trays by size and layer",
    kinds=[CarrierKind.TRAY, CarrierKind.LADDER],
    tells=Tells.FILL,
)
def layer(subject: LoadedCompartment, limits: LayerLimits) -> Verdict:
    """What the cables take of the width or of the area that their sizes allow."""
    blank = Verdict(
        Outcome.UNKNOWN, "", unit="ratio", measure="area", basis=limits.small_ventilated.basis.value,
        source=limits.small_ventilated.cited,
    )  # fmt: skip
    if not subject.area_mm2 or not subject.width_mm:
        return replace(
            blank, reason="no internal size is known", needs=needs_of(subject) or (of_type(INSIDE, subject.carrier),)
        )
    reason = unsized(subject)
    if reason:
        return replace(blank, reason=reason, needs=needs_of(subject))
    least = limits.single_least_mm2
    found = sort(subject, least.value)
    if found.barred:
        return replace(
            blank, outcome=Outcome.FAIL, basis=least.basis.value, source=least.cited,
            reason=f"{', '.join(found.barred)}: single conductors of less than {least.value:g} mm² may not lie in a tray",
            found=f"single conductors of less than {least.value:g} mm²", wanted="none in a tray",
        )  # fmt: skip
    answers = [_answer(subject, limits, found, blank, rows) for rows in (found.multi, found.single) if rows]
    failed = next((answer for answer in answers if answer.outcome is Outcome.FAIL), None)
    if failed is not None:
        return failed
    if found.odd:
        return replace(blank, reason="; ".join(found.odd), needs=_needs_of_odd(subject))
    if len(answers) > 1:
        both = "multiconductor cables and single conductors lie in it, and no rule for both together is judged"
        return replace(blank, reason=both)
    return answers[0] if answers else replace(blank, outcome=Outcome.PASS, value=0.0, reason="nothing lies in it")


def _answer(
    subject: LoadedCompartment, limits: LayerLimits, found: Sorted, blank: Verdict, rows: tuple[Row, ...]
) -> Verdict:
    """The answer for cables of one sort, on which all limits that may apply agree.

    More cables can bring a looser limit: a power cable among control cables, a small one among large ones. So where others may come to lie
    there a fail must be one with them too, and where some may be missing a pass must be one without them.
    """
    is_single = rows is found.single
    if is_single and subject.carrier.kind is CarrierKind.TRAY and not subject.carrier.laying.perforated:
        known = "isn't declared to be" if subject.carrier.laying.perforated is None else "isn't"
        reason = (
            f"392.22(B) speaks of single conductors on ladders and in ventilated trays, and this one {known} ventilated"
        )
        return replace(blank, reason=reason, needs=() if known == "isn't" else (of_type(PERFORATED, subject.carrier),))
    readings = trays(subject, limits)
    fewer = found.is_open and subject.is_strict
    branches: list[Branch] = []
    for tray in readings:  # a limit that doesn't go by the width's row is the same in each reading of the width
        branches += [it for it in tray.asked(rows, is_single=is_single, fewer=fewer) if it not in branches]
    outcomes = {_outcome(branch) for branch in branches}
    notes = _notes(subject, found, rows)
    if len(branches) > 1 and len({tray.outside_mm for tray in readings}) > 1:
        notes.append("it is called by another width of the table than its inside has")
    if outcomes == {Outcome.FAIL} and found.is_open and not fewer:
        wider = [branch for tray in readings for branch in tray.asked(rows, is_single=is_single, wider=True)]
        if any(_outcome(branch) is not Outcome.FAIL for branch in wider):
            reason = f"{_told(branches)}; but what else may lie in it would bring another limit: {_told(wider)}"
            return replace(blank, reason="; ".join((*notes, reason)))
    if len(outcomes) > 1 or outcomes == {Outcome.UNKNOWN}:
        return replace(blank, reason="; ".join((*notes, _told(branches))), needs=_needs(subject, rows, branches))
    (outcome,) = outcomes
    is_pass = outcome is Outcome.PASS
    check = (max if is_pass else min)((_worst(branch) for branch in branches), key=_share)
    if len(branches) > 1:
        notes.append(f"that is the {'tightest' if is_pass else 'loosest'} of the limits that may apply")
    return replace(
        blank, outcome=outcome, reason="; ".join((check.told(), *notes)), value=check.used / check.whole,
        limit=(check.allowed or 0.0) / check.whole, measure="area" if check.is_area else "width",
        basis=check.limit.basis.value, source=check.limit.cited, working=_working(rows, check) if subject.with_working else (),
    )  # fmt: skip


def _needs(subject: LoadedCompartment, rows: tuple[Row, ...], branches: list[Branch]) -> tuple[str, ...]:
    """What would tell which of the limits applies; nothing where the code's table has no such width."""
    if any(check.allowed is None for branch in branches for check in branch):
        return ()
    sizes = {row.name for row in rows if row.is_large is None}
    uses = {row.name for row in rows if row.is_signal is None}
    here = [cable for cable in subject.cables if cable.count]
    needs = [of_cable("conductor size", cable) for cable in here if (cable.key or cable.circuit) in sizes]
    needs += [of_circuit("service", cable.circuit) for cable in here if (cable.key or cable.circuit) in uses]
    needs += [of_cable(SIZE, cable) for cable in here if cable.thickness_mm is None]
    if subject.carrier.kind is CarrierKind.TRAY and subject.carrier.laying.perforated is None:
        needs.append(of_type(PERFORATED, subject.carrier))
    return tuple(dict.fromkeys(needs))


def _needs_of_odd(subject: LoadedCompartment) -> tuple[str, ...]:
    """What would tell of which sort cables are; nothing where another answer wouldn't help."""
    here = [cable for cable in subject.cables if cable.count and cable.service is not Service.DATA]
    needs = [of_cable("number of cores", cable) for cable in here if cable.cores is None]
    needs += [
        of_cable("conductor size", cable)
        for cable in here
        if cable.cores == 1 and cable.csa_mm2 is None and not cable.awg_kcmil
    ]
    return tuple(dict.fromkeys(needs))


def _outcome(branch: Branch) -> Outcome:
    """All of a branch's checks must hold."""
    outcomes = {check.outcome for check in branch}
    return next(outcome for outcome in (Outcome.FAIL, Outcome.UNKNOWN, Outcome.PASS) if outcome in outcomes)


def _worst(branch: Branch) -> Check:
    return max(branch, key=_share)


def _share(check: Check) -> float:
    return check.share


def _told(branches: list[Branch]) -> str:
    return "; ".join(dict.fromkeys(check.told() for branch in branches for check in branch))


def _notes(subject: LoadedCompartment, found: Sorted, rows: tuple[Row, ...]) -> list[str]:
    """What isn't known, so that several limits may apply; and what is taken for what."""
    sizes = list(dict.fromkeys(row.name for row in rows if row.is_large is None))
    uses = list(dict.fromkeys(row.name for row in rows if row.is_signal is None))
    notes = []
    if sizes:
        notes.append(f"no conductor size is known of {', '.join(sizes)}")
    if uses and rows is found.multi:
        notes.append(f"whether for power or signals isn't known of {', '.join(uses)}")
    if subject.carrier.kind is CarrierKind.TRAY and subject.carrier.laying.perforated is None:
        notes.append("whether its bottom is solid isn't declared")
    if found.assumed and rows is found.multi:
        notes.append(f"{', '.join(found.assumed)} taken for multiconductor cable, as no number of cores is given")
    if found.has_no_voltage:
        notes.append(f"if of no more than {HIGHEST_V:g} V, as no voltage is given")
    return notes


def _working(rows: tuple[Row, ...], check: Check) -> tuple[str, ...]:
    """Area and breadth of each row, and the share."""
    unit = "mm²" if check.is_area else "mm"
    return (
        *(f"{row.name}: {row.number} take {row.area_mm2:.1f} mm², {row.across_mm:.1f} mm side by side" for row in rows),
        check.told(),
        f"inside {check.whole:.1f} {unit}, of which {check.allowed or 0.0:.1f} {unit} is allowed",
        f"fill {check.used:.1f} / {check.whole:.1f} = {check.used / check.whole:.4f}",
    )
