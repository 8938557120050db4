"""Does a carrier bear the weight of its cables between its supports?

    q = (1 + s) · Σ (nᵢ · mᵢ) / 1000 + m_c  ≤  q_safe

    q        load of one metre, kg/m
    s        spare for later, of the cables' weight; 0 unless the project sets spare_share
    nᵢ, mᵢ   number of cables of a kind in all compartments together, and the mass of one, kg/km
    m_c      mass of the carrier itself, with its lid, kg/m
    q_safe   safe working load, evenly spread, at the span between the supports, kg/m

The makers of trays and ladders declare the safe working load for each span, so it is the project's to give, by type, in ``wayroom.toml``:

    [[types]]
    name = "Corridor tray 300x50*"
    span_m = 2.0                # between the supports
    safe_load_kg_per_m = 45.0   # what it bears at that span (1 kg/m is 9.81 N/m)
    mass_kg_per_m = 3.2         # of the tray and its lid

A cable's mass is the schedule's mass_kg_per_km, else the project's or the table's (approximate: no standard fixes it), else it is bounded
by its construction: at least its cores, A · n · 8.89 (copper; aluminium 2.70, also where the metal isn't known); at most, if it isn't
armoured, A · n' · 8.89 · 1.05 + (π/4 · OD² − A · n') · 1.5, where n' is one core more in any but a single round core, 1.05 the lay and 1.5
g/cm³ the heaviest usual sheath. What passes by that estimate says so, with "if"; what would fail by it alone is unknown. Of a cable that
its key tells to be armoured only the least is known.

Clause: IEC 61537: the safe working load is the least of a sag of 1/100 of the span, of 1/20 of the width across, and of 1/1.7 of the load
at which it collapses. A class of load and span, as they are usual under NFPA 70, is such a figure too.

Worked example. Ten H07V-R of 16 mm², 170 kg/km each, and four of 25 mm², 260 kg/km: (1700 + 1040) / 1000 = 2.74 kg/m. In a tray of 1.8 kg/m
that is 4.54 kg/m. Safe at its span of 1.5 m are 5.0 kg/m: within. With a spare of 20 % it is 1.2 · 2.74 + 1.8 = 5.088 kg/m: not within.

A safe load is declared for level spans. Of a carrier that climbs by more than 30° in any part the answer is unknown: there the weight hangs
on cleats and on the uppermost supports.

Not asked here: carriers whose type declares nothing of its supports; single loads, as a man or a pulley; wind, snow and ice; end spans,
which bear less, and joints at another place than in the maker's test; the supports and what they are fixed to; the planning figure of 0.028
N per m and mm² of usable section, which a project may declare as its safe load.
"""

import itertools
import math

from pydantic import Field

from checker.model import Carrier, Enclosure, PlacedCable
from checker.model.geometry import distance
from checker.model.texts import listed, natural
from checker.rule import SHARE, Basis, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import of_cable, of_circuit, of_type
from rules.support.mass import Mass, mass_of

#: Sums of decimals that are exactly at a limit differ from it by less, in kg/m.
HAIR = 1e-9
M_PER_KM = 1000.0
#: Of 30°: what is less steep is carried by its supports as a level span is, nearly.
SINE_OF_STEEP = 0.5


class SupportLimits(Limits):
    """``spare_share``: what is kept free for later, as a share of the cables' weight; not given, nothing is."""

    spare_share: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", **SHARE})


def _is_declared(subject: Enclosure) -> bool:
    """Whether the project speaks of its supports: where it gives a span or a mass, the safe load is forgotten rather than unasked."""
    laying = subject.carrier.laying
    return any(figure is not None for figure in (laying.safe_load_kg_per_m, laying.span_m, laying.mass_kg_per_m))


@rule(id="support.load", title="Weight of cables between supports", asks=_is_declared)
def load(subject: Enclosure, limits: SupportLimits) -> Verdict:
    """The carrier with all its cables against its safe working load; in its favour what isn't known weighs nothing."""
    laying = subject.carrier.laying
    if laying.safe_load_kg_per_m is None:
        reason = "its safe load isn't declared, though other figures of its supports are"
        needs = (of_type("safe load", subject.carrier),)
        return Verdict(Outcome.UNKNOWN, reason, unit="kg/m", needs=needs, found="{} between supports")
    safe, own = laying.safe_load_kg_per_m or 0.0, laying.mass_kg_per_m
    weighed = [(cable, mass_of(cable)) for cable in subject.cables if cable.count != 0]
    masses = ((cable.count or 0) * ((mass.most or 0.0) if subject.is_strict else mass.least) for cable, mass in weighed)
    of_cables = math.fsum(masses) / M_PER_KM
    spare = 1.0 + (limits.spare_share.value if limits.spare_share is not None else 0.0)
    value = spare * of_cables + (own or 0.0)
    lacking = _lacking(subject, weighed)
    by_estimate = {_name(cable): of_cable("mass", cable) for cable, mass in weighed if mass.is_estimated}
    estimated = sorted(by_estimate, key=natural)
    is_least = not subject.is_strict and bool(lacking or estimated)
    told = f"its cables weigh {'at least ' if is_least else ''}{of_cables:.2f} kg/m"
    told += f", with {100 * (spare - 1.0):g} % spare {spare * of_cables:.2f} kg/m" if spare > 1.0 else ""
    told += (
        f", itself {own:g} kg/m: {value:.2f}" if own is not None else f": {value:.2f} (its own weight isn't declared)"
    )
    told += f" of {safe:g} kg/m" + ("" if laying.span_m is None else f" at a span of {laying.span_m:g} m")
    if laying.span_m is None:
        outcome = Outcome.UNKNOWN
        told = f"at which span its safe load of {safe:g} kg/m holds isn't declared; {told}"
    elif _climbs(subject.carrier):
        outcome = Outcome.UNKNOWN
        told = f"it climbs, and its safe load of {safe:g} kg/m is for level spans; {told}"
    elif value > safe + HAIR:
        outcome = Outcome.FAIL
    elif subject.is_strict and lacking:
        outcome = Outcome.UNKNOWN
        told = f"{listed(list(lacking.values()), between='; ')}; without that {told}"
    else:
        outcome = Outcome.PASS
    if subject.is_strict and estimated:
        weigh = "weighs" if len(estimated) == 1 else "weigh"
        told += f", if {listed(estimated)} {weigh} "
        told += "no more than" if outcome is Outcome.PASS else "as much as"
        told += " estimated from conductors and size, without armour"
    is_open = outcome is Outcome.UNKNOWN or (outcome is Outcome.FAIL and subject.is_strict)
    is_open = is_open and not _climbs(subject.carrier)  # no figure settles that
    # what lacks, but for the span, makes the load the least that it can be, which is no value of an unknown answer
    is_whole = len(lacking) == (laying.span_m is None)
    source = "safe working load at its span (IEC 61537), as the project declares it for the type"
    if limits.spare_share is not None:
        source += f"; spare: {limits.spare_share.cited}"
    return Verdict(
        outcome,
        told,
        value=value if is_whole or outcome is Outcome.FAIL else None,
        limit=safe,
        unit="kg/m",
        basis=Basis.PROJECT.value,
        source=source,
        at_least=outcome is Outcome.FAIL and is_least,
        needs=tuple(dict.fromkeys([*lacking, *(by_estimate[name] for name in estimated)])) if is_open else (),
        found="{} between supports",
    )


def _climbs(carrier: Carrier) -> bool:
    """Whether a part of it is steeper than 30°."""
    return any(abs(b[2] - a[2]) > SINE_OF_STEEP * distance(a, b) for a, b in itertools.pairwise(carrier.axis_mm))


def _lacking(subject: Enclosure, weighed: list[tuple[PlacedCable, Mass]]) -> dict[str, str]:
    """What would have to be known to tell the load, and in words that it isn't."""
    carrier = subject.carrier
    lacking = {}
    if carrier.laying.span_m is None:
        lacking[of_type("span", carrier)] = "its span isn't declared"
    if carrier.laying.mass_kg_per_m is None:
        lacking[of_type("mass", carrier)] = "what it weighs itself isn't declared"
    for cable, mass in sorted(weighed, key=lambda pair: natural(_name(pair[0]))):
        if mass.most is None:
            lacking[of_cable("mass", cable)] = f"what {_name(cable)} weighs isn't known"
    for mark in sorted({cable.circuit for cable, _ in weighed if cable.count is None}, key=natural):
        lacking[of_circuit("number of cables", mark)] = f"how many cables circuit {mark} has isn't known"
    return lacking


def _name(cable: PlacedCable) -> str:
    return f"cable {cable.key}" if cable.key else f"the cables of circuit {cable.circuit}"
