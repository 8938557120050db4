"""What the fill rules share: the ratio of areas, and how it is told."""

import math
from dataclasses import replace

from checker.model import CarrierKind, LoadedCompartment, PlacedCable
from checker.model.texts import MOST_DIGITS, percent
from checker.rule import Limit, Outcome, Verdict
from checker.rule.needs import INSIDE, limit_of, of_sizes, of_type

#: So that a ratio that equals its limit on paper isn't failed by the last bit of a float.
EXACTLY = 1e-12
#: On these a cable may stand above the sides.
OPEN_KINDS = {CarrierKind.TRAY, CarrierKind.LADDER}


def unsized(subject: LoadedCompartment) -> str:
    """The circuits whose cables have no known count or size, as a reason; empty where all have."""
    marks = sorted({cable.circuit for cable in subject.cables if cable.occupied_mm2 is None})
    return f"the size or number of cables isn't known of {', '.join(marks)}" if marks else ""


def needs_of(subject: LoadedCompartment) -> tuple[str, ...]:
    """The sizes that a fill goes by and that aren't known: of the inside, and of cables with their numbers."""
    inside = () if subject.area_mm2 else (of_type(INSIDE, subject.carrier),)
    return (*inside, *of_sizes(subject.cables))


def too_thick(subject: LoadedCompartment) -> str:
    """The circuits of whose cables one is too thick for the compartment, or a flat one too wide, as a reason; empty where none is."""
    side = subject.bore_mm if subject.bore_mm is not None else subject.side_mm
    if side is None:
        return ""
    marks = sorted({cable.circuit for cable in subject.cables if cable.count and _least_side(cable, subject) > side})
    return f"a cable of {', '.join(marks)} is thicker than the inside, {side:.1f} mm" if marks else _too_wide(subject)


def _too_wide(subject: LoadedCompartment) -> str:
    """The circuits of whose flat cables one is wider than a rectangle has room for on its diagonal, as a reason; empty where none is."""
    side, area = subject.side_mm, subject.area_mm2
    if subject.bore_mm is not None or not side or not area:
        return ""
    marks = set()
    for cable in subject.cables:
        if cable.count and cable.width_mm is not None and cable.height_mm is not None:
            thin, wide = sorted((cable.width_mm, cable.height_mm))
            # the middles of its round ends keep half its thickness from every wall
            if wide > (thin + math.hypot(side - thin, area / side - thin)) * (1.0 + EXACTLY):
                marks.add(cable.circuit)
    return f"a flat cable of {', '.join(sorted(marks))} is wider than the inside, even on its diagonal" if marks else ""


def two_too_wide(subject: LoadedCompartment) -> str:
    """Two cables that are wider together than a bore, as a reason; empty where none are, or there is no bore."""
    sides = (
        min(cable.height_mm or math.inf, cable.thickness_mm or 0.0)
        for cable in subject.cables
        for _ in range(min(cable.count or 0, 2))
    )
    widest = sorted(sides)[-2:]
    if subject.bore_mm is None or len(widest) < 2 or sum(widest) <= subject.bore_mm * (1.0 + EXACTLY):
        return ""
    # so many digits that the sum reads as wider too
    told = [[f"{size:.{digits}f}" for size in (*widest, subject.bore_mm)] for digits in range(1, MOST_DIGITS + 1)]
    one, other, bore = next((texts for texts in told if float(texts[0]) + float(texts[1]) > float(texts[2])), told[-1])
    return f"two cables of {one} and {other} mm are wider together than the bore of {bore} mm"


def _least_side(cable: PlacedCable, subject: LoadedCompartment) -> float:
    """What of a cable must go in: in a bore its widest, in a trunking a flat one's thinner side."""
    if subject.bore_mm is None and cable.height_mm is not None and cable.width_mm is not None:
        return min(cable.height_mm, cable.width_mm)
    return cable.thickness_mm or 0.0


def area_verdict(subject: LoadedCompartment, limit: Limit, remark: str = "") -> Verdict:
    """Σ(π/4 · OD²) over the internal area, held against a space factor.

    Args:
        subject: The compartment.
        limit: The space factor.
        remark: What else the reason should say.
    """
    blank = Verdict(
        Outcome.UNKNOWN,
        "",
        limit=limit.value,
        unit="ratio",
        measure="area",
        basis=limit.basis.value,
        source=limit.cited,
    )
    if not subject.area_mm2:
        return replace(blank, reason="no internal size is known", needs=needs_of(subject))
    reason = unsized(subject)
    if reason:
        return replace(blank, reason=reason, needs=needs_of(subject))
    occupied = subject.occupied_mm2 or 0.0
    fill = occupied / subject.area_mm2
    thick = too_thick(subject)
    if thick and subject.carrier.kind not in OPEN_KINDS:
        return replace(blank, outcome=Outcome.FAIL, reason=thick, value=fill, found="a cable thicker than the inside")
    is_over = fill > limit.value + EXACTLY
    outcome = Outcome.FAIL if is_over else Outcome.PASS
    text = (
        f"{occupied:.1f} mm² of {subject.area_mm2:.1f} mm² is {percent(fill, limit.value, is_over=is_over)} %,"
        f" {'over' if is_over else 'within'} {100 * limit.value:g} %{f'; {remark}' if remark else ''}"
    )
    return replace(
        blank, outcome=outcome, reason=text, value=fill, working=_working(subject) if subject.with_working else ()
    )


def _working(subject: LoadedCompartment) -> tuple[str, ...]:
    """Each cable's area, their sum, and the share."""
    lines = [cable_line(cable) for cable in subject.cables]
    occupied = subject.occupied_mm2 or 0.0
    lines.append(f"together {occupied:.1f} mm²")
    if subject.bore_mm is not None:
        lines.append(f"inside π/4 · {subject.bore_mm:g}² = {subject.area_mm2 or 0.0:.1f} mm²")
    else:
        lines.append(f"inside {subject.area_mm2 or 0.0:.1f} mm²")
    lines.append(f"fill {occupied:.1f} / {subject.area_mm2 or 0.0:.1f} = {occupied / (subject.area_mm2 or 1.0):.4f}")
    return tuple(lines)


def cable_line(cable: PlacedCable) -> str:
    """The area of cables of one kind, as a line."""
    name = cable.key or cable.circuit
    if cable.diameter_mm is not None:
        return f"{name}: {cable.count} × π/4 · {cable.diameter_mm:g}² = {cable.occupied_mm2 or 0.0:.1f} mm²"
    return f"{name}: {cable.count} × {cable.area_mm2 or 0.0:.1f} mm² = {cable.occupied_mm2 or 0.0:.1f} mm²"


def without_limit(subject: LoadedCompartment, why: str, rule_id: str) -> Verdict:
    """How full a compartment is, where there is no limit to hold it against: unknown, with the fill where it can be given."""
    needs = (*needs_of(subject), limit_of(rule_id))
    unknown = Verdict(Outcome.UNKNOWN, "", unit="ratio", measure="area", needs=needs)
    reason = unsized(subject) or ("" if subject.area_mm2 else "no internal size is known")
    if reason or not subject.area_mm2:
        return replace(unknown, reason=f"{reason}; {why}")
    thick = "" if subject.carrier.kind in OPEN_KINDS else too_thick(subject)
    working = _working(subject) if subject.with_working else ()
    fill = (subject.occupied_mm2 or 0.0) / subject.area_mm2
    return replace(unknown, value=fill, reason=f"{thick}; {why}" if thick else why, working=working)
