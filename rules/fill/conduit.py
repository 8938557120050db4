"""Can the cables of a conduit be drawn in, by the cable and conduit terms of the UK guidance?

Cables are drawn into a conduit from end to end of a run, so what goes in depends on its length and its bends, not on the bore alone. The
guidance gives each cable a term and each conduit, by length and bends, another:

    Σ n · cable term  ≤  conduit term

A run is measured between points where cables can be drawn in: boxes, tees, open ends, other kinds of carrier.

* Straight runs of up to 3 m have their own pair of tables.
* Longer runs and runs with bends:  conduit term = K / (c + L · 2^b)

    L    length of the run, m, taken up to the next length that is published
    b    bends of 90°: the summed angles by which the run turns, over 90, rounded up
    K, c by outside diameter: 16 mm 6000, 30; 20 mm 10,000, 31; 25 mm 19,000, 33; 32 mm 36,000, 36; a fit that gives each published
         figure once rounded

Beyond the lengths and bends that are published the answer is unknown, never extrapolated.

A cable size that isn't in the table lies between the terms of its neighbours: the answer stands only if it is the same with both. A short
straight run whose terms aren't all tabled is held against the tables for longer runs at their shortest length, which is stricter: within
is a pass, over is unknown.

The terms are for single-core cables of ordinary diameter. Where a conduit holds any other cable, all goes by area too, Σ(π/4 · OD²) over
the bore's area, against the guidance's general space factor; the reason says so. What single-core cables there are must go in by their
terms besides, and the answer tells the one of the two that is nearer to its limit. A cable as thick as the bore or thicker never goes in.

Clause: UK on-site guidance, cable and conduit factors; BS 7671 regulation 522.8 itself only forbids damage.

Worked example. Six single-core cables of 2.5 mm² (term 30) in 20 mm conduit, 5 m long with two bends: 6 · 30 = 180; conduit term
10,000 / (31 + 5 · 2²) = 196.08, published as 196: 180 / 196 = 0.918, within. With three bends, 10,000 / (31 + 5 · 2³) = 140.8, 141: over.

Not asked here: current rating, segregation, pulling tension.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment, PlacedCable, Service
from checker.rule import SHARE, Limit, Limits, Outcome, Table, Tells, Verdict, number, rule
from checker.rule.lookup import Steps
from checker.rule.needs import of_cable, of_sizes, of_type
from rules.fill.formula import EXACTLY, area_verdict, needs_of, unsized

SHORT_RUN_M = 3.0
#: Half a millimetre: a length that equals a published one on paper isn't pushed to the next by the last bit of a float.
LENGTH_EXACTLY_M = 0.0005
#: A turn of this many degrees over a whole number of right angles isn't yet another bend: angles in models aren't exact.
BEND_EXACTLY_DEG = 4.5


class ConduitLimits(Limits):
    """The guidance's tables, and the space factor for what they don't speak of.

    ``capacities``: by outside diameter, ``straight_to_3_m``, ``k``, ``c``, ``multiplier``. ``lengths``: ``bends``, ``length_m`` that are
    published. ``cable_terms``: by ``straight_to_3_m``, ``strands``, ``csa_mm2``. ``utilisation``: Σ terms over the conduit's, 1.
    ``multicore_space_factor``: of the area, where a cable isn't single-core.
    """

    utilisation: Limit
    capacities: Table
    lengths: Table
    cable_terms: Table
    multicore_space_factor: Limit = Field(json_schema_extra=SHARE)


@rule(id="fill.conduit", title="Drawing into conduit, by terms", kinds=[CarrierKind.CONDUIT], tells=Tells.FILL)
def conduit(subject: LoadedCompartment, limits: ConduitLimits) -> Verdict:
    """Cable terms against the conduit's; by area besides where a cable isn't single-core."""
    if not subject.area_mm2:
        return _unknown(limits, "no internal size is known", needs_of(subject))
    if not subject.cables:
        return replace(_unknown(limits, "nothing is drawn in"), outcome=Outcome.PASS, value=0.0)
    bore = subject.bore_mm or 0.0
    thick = sorted({cable.circuit for cable in subject.cables if cable.count and (cable.thickness_mm or 0.0) >= bore})
    if bore and thick:
        reason = f"a cable of {', '.join(thick)} is as thick as the bore of {bore:.1f} mm, or thicker"
        return replace(_unknown(limits, reason), outcome=Outcome.FAIL, found="a cable as thick as the bore")
    single = tuple(cable for cable in subject.cables if is_single_core(cable))
    if len(single) == len(subject.cables):
        return _terms_of_run(subject, limits)
    by_area = area_verdict(subject, limits.multicore_space_factor, "by area, as not all cables are single-core")
    if not single or by_area.outcome is Outcome.FAIL:
        return by_area
    by_terms = _terms_of_run(replace(subject, cables=single), limits)
    if by_terms.outcome is Outcome.UNKNOWN and by_area.outcome is Outcome.UNKNOWN and by_terms.needs:
        return replace(by_terms, needs=tuple(dict.fromkeys((*by_area.needs, *by_terms.needs))))
    if by_terms.outcome is not Outcome.PASS:
        return by_terms
    # how near it is to its limit is told by the tighter of the two: rules that want room besides go by that
    is_tighter = by_terms.at_least or (by_terms.use or 0.0) > (by_area.use or 0.0)
    if by_area.outcome is Outcome.PASS and is_tighter:
        return replace(by_terms, reason=f"{by_terms.reason}; all together {by_area.reason}")
    return by_area


def is_single_core(cable: PlacedCable) -> bool:
    """Whether a cable goes by terms. One whose cores aren't given is taken for single-core, unless it is for data."""
    return cable.cores == 1 or (cable.cores is None and cable.service is not Service.DATA)


def _terms_of_run(subject: LoadedCompartment, limits: ConduitLimits) -> Verdict:
    """By terms, with as many bends as the run has; where that isn't known, with none to four."""
    run = subject.run
    if run is None or run.length_m is None:
        needs = (f"the length of the run of {subject.carrier.place.label}",)
        return _unknown(limits, "the length of the conduit's run isn't known", needs)
    if run.bends_deg is not None:
        bends = max(math.ceil((run.bends_deg - BEND_EXACTLY_DEG) / 90.0), 0)
        return _by_terms(subject, limits, run.length_m, bends)
    each = [_by_terms(subject, limits, run.length_m, bends) for bends in range(5)]
    if len({verdict.outcome for verdict in each}) == 1:
        return each[0]
    answers = ", ".join(f"{bends}: {verdict.outcome}" for bends, verdict in enumerate(each))
    needs = (f"the bends of the run of {subject.carrier.place.label}",)
    return _unknown(limits, f"how often the run bends isn't known; with so many bends it would be {answers}", needs)


def _by_terms(subject: LoadedCompartment, limits: ConduitLimits, length_m: float, bends: int) -> Verdict:
    where = f"run of {length_m:.2f} m with {bends} bend{'' if bends == 1 else 's'}"
    diameter = subject.carrier.section.outside_diameter_mm
    row = next(
        (row for row in limits.capacities.rows if diameter and float(row["outside_diameter_mm"]) == diameter), None
    )
    if row is None:
        named = (
            "no outside diameter is known"
            if diameter is None
            else f"the code has no term for conduit of {diameter:g} mm"
        )
        return _unknown(limits, named, () if diameter else (of_type("outside diameter", subject.carrier),))
    short = bends == 0 and length_m <= SHORT_RUN_M + LENGTH_EXACTLY_M
    tabled = number(row["straight_to_3_m"])
    if short and tabled is not None:
        low, high = _terms(subject.cables, limits.cable_terms, short=True)
        if low == high:
            return _held(subject, limits, low, high, tabled, f"straight {where}")
    length = _published_m(limits.lengths, bends).next_higher(length_m, LENGTH_EXACTLY_M).value
    if length is None:
        return _unknown(limits, f"{where}: the code's tables end before that")
    term = float(row["multiplier"]) * _half_up(float(row["k"]) / (float(row["c"]) + length * 2**bends))
    low, high = _terms(subject.cables, limits.cable_terms, short=False)
    verdict = _held(subject, limits, low, high, term, where if not short else f"{where}, judged as one of {length:g} m")
    if short and verdict.outcome is Outcome.FAIL:
        return _unknown(
            limits, f"{verdict.reason}; the tables for short straight runs lack a term, and the others are stricter"
        )
    return verdict


@lru_cache(maxsize=64)
def _published_m(lengths: Table, bends: int) -> Steps[float]:
    """The lengths that are published for so many bends."""
    there = (float(row["length_m"]) for row in lengths.rows if int(row["bends"]) == bends)
    return Steps.of((length, length) for length in there)


def _held(
    subject: LoadedCompartment, limits: ConduitLimits, low: float, high: float | None, capacity: float, where: str
) -> Verdict:
    """Holds what the cables need, somewhere from ``low`` to ``high``, against the conduit's term."""
    fill, limit = low / capacity, limits.utilisation.value
    least, untabled = ("", "") if low == high else ("of at least ", "; not every cable's term is tabled")
    reason = unsized(subject)
    if fill > limit + EXACTLY:
        outcome, reason = (
            Outcome.FAIL,
            f"cable terms {least}{low:g} over {capacity:g}, the conduit's for a {where}{untabled}",
        )
    elif reason or high is None:
        outcome, reason = Outcome.UNKNOWN, reason or _without_term(subject)
    elif high / capacity <= limit + EXACTLY:
        outcome, reason = (
            Outcome.PASS,
            f"cable terms {_span(low, high)} within {capacity:g}, the conduit's for a {where}",
        )
    else:
        reason = f"cable terms lie between {low:g} and {high:g}, as not every size is tabled; the conduit's is {capacity:g} for a {where}"
        outcome = Outcome.UNKNOWN
    working = _working(subject, limits, low, high, capacity, where) if subject.with_working else ()
    needs = _needs(subject) if outcome is Outcome.UNKNOWN else ()
    shown = None if outcome is Outcome.UNKNOWN and high is None else fill
    return Verdict(
        outcome, reason, shown, limit, unit="ratio", measure="term", basis=limits.utilisation.basis.value,
        source=limits.utilisation.cited, at_least=low != high, working=working, needs=needs,
    )  # fmt: skip


def _without_term(subject: LoadedCompartment) -> str:
    """Why cables have no term: what of them isn't known, else that the tables end below them."""
    here = [cable for cable in subject.cables if cable.count]
    open_ones = sorted({cable.circuit for cable in here if cable.csa_mm2 is None or cable.cores is None})
    if open_ones:
        return f"terms go by conductor size and number of cores, which aren't known of {', '.join(open_ones)}"
    return "the code has no term for a cable so large"


def _needs(subject: LoadedCompartment) -> tuple[str, ...]:
    """What isn't known of the cables that terms go by; nothing where the tables lack a size."""
    sizes = [of_cable("conductor size", cable) for cable in subject.cables if cable.count and cable.csa_mm2 is None]
    cores = [of_cable("number of cores", cable) for cable in subject.cables if cable.count and cable.cores is None]
    return tuple(dict.fromkeys((*of_sizes(subject.cables), *sizes, *cores)))


def _working(
    subject: LoadedCompartment, limits: ConduitLimits, low: float, high: float | None, capacity: float, where: str
) -> tuple[str, ...]:
    """Each cable's terms, their sum, and the conduit's."""
    short = where.startswith("straight")
    lines = []
    for cable in subject.cables:
        below, above = _term(cable, limits.cable_terms, short=short)
        term = _span(below, above) if above is not None else f"at least {below:g}" if below else "not known"
        lines.append(f"{cable.key or cable.circuit}: {cable.count} × term {term}")
    if high is not None or low:
        lines.append(f"together {f'at least {low:g}' if high is None else _span(low, high)}")
    lines.append(f"the conduit's term for a {where}: {capacity:g}")
    if high is None:
        # a share of what is known alone is none, unless it is too much already
        is_over = low / capacity > limits.utilisation.value + EXACTLY
        return (*lines, f"used at least {low:g} / {capacity:g} = {low / capacity:.4f}") if is_over else tuple(lines)
    ends = [f"{used / capacity:.4f}" for used in dict.fromkeys((low, high))]
    return (*lines, f"used {_span(low, high)} / {capacity:g} = {' to '.join(ends)}")


def _terms(cables: tuple[PlacedCable, ...], table: Table, *, short: bool) -> tuple[float, float | None]:
    """Σ of the cable terms, at least and at most; None: the table ends below one of the sizes."""
    low, high = 0.0, 0.0
    unbounded = False
    for cable in cables:
        below, above = _term(cable, table, short=short)
        low += (cable.count or 0) * below
        if above is None:
            unbounded = unbounded or cable.count != 0
        else:
            high += (cable.count or 0) * above
    return low, None if unbounded else high


def _term(cable: PlacedCable, table: Table, *, short: bool) -> tuple[float, float | None]:
    """One cable's term: the tabled one twice, or its neighbours'; terms rise with size, and a solid one is below a stranded one.

    A cable thicker than those that a row is for needs at least its term, and at the most the one of a larger size that is as thick.
    """
    if cable.csa_mm2 is None or cable.cores is None:
        return 0.0, None
    strands = {True: "stranded", False: "solid", None: None}[cable.stranded]
    rows = [row for row in table.rows if row["straight_to_3_m"] == ("yes" if short else "no")]
    own = [row for row in rows if float(row["csa_mm2"]) == cable.csa_mm2 and row["strands"] in {"", strands}]
    if own and _is_for(own[0], cable):
        return float(own[0]["term"]), float(own[0]["term"])
    smaller = [float(row["term"]) for row in own] or [
        float(row["term"]) for row in rows if float(row["csa_mm2"]) < cable.csa_mm2 and row["strands"] in {"", "solid"}
    ]
    larger = [
        float(row["term"])
        for row in rows
        if row["strands"] in {"", "stranded"}
        and _is_for(row, cable)
        and (float(row["csa_mm2"]) > cable.csa_mm2 or (float(row["csa_mm2"]) == cable.csa_mm2 and strands == "solid"))
    ]
    return max(smaller, default=0.0), min(larger, default=None)


def _is_for(row: Mapping[str, str], cable: PlacedCable) -> bool:
    """Whether a cable is no thicker than those that a row of the table is for."""
    most = number(row["diameter_most_mm"])
    return most is None or cable.diameter_mm is None or cable.diameter_mm <= most


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _half_up(value: float) -> float:
    return math.floor(value + 0.5)


def _unknown(limits: ConduitLimits, reason: str, needs: tuple[str, ...] = ()) -> Verdict:
    return Verdict(
        Outcome.UNKNOWN, reason, limit=limits.utilisation.value, unit="ratio", measure="term",
        basis=limits.utilisation.basis.value, source=limits.utilisation.cited, needs=needs,
    )  # fmt: skip
