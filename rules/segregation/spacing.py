"""Do power cables run far enough from data cables that lie in the carrier beside them?

Power cables that run along data cables disturb them. What keeps that small is distance, metal round the cables, and cables that are made
to bear it. The distance goes by the cables and by how much power runs beside them:

    A = S · P

    A   clear distance that is wanted between data and power cables, mm
    S   separation by class of the data cable and by containment, mm (table below)
    P   factor for the amount of power cabling, by number of single-phase circuits of 20 A: 0.2 for up to 3, 0.4 for up to 6, 0.6 for up
        to 9, 0.8 for up to 12, 1.0 for up to 15, 2 for up to 30, 3 for up to 45, 4 for up to 60, 5 for up to 75, 6 for more

    S, mm       none or plastic   open metal (ladder, mesh)   perforated metal   solid metal
    class a     300               225                         150                0
    class b     100               75                          50                 0
    class c     50                38                          25                 0
    class d     10                8                           5                  0

**Distance.** Value is the clear distance between the outsides of two carriers on the stretch where they run side by side (directions within
15°), where it is least. Cables can lie anywhere in their carriers, so that is all that can be counted on. A size that isn't known makes
carriers touch in the reading against them.

**Class.** By the cable's key: coaxial a; unscreened cables of categories 5e to 6A b; screened ones c; category 7, screened pair by pair, d.
Any other data cable could be of each class, and of fibre, if no cross-section of its conductors is given. Keys that begin with `fibre` have
no question.

**Containment.** By material, kind and wall: solid is trunking or conduit of steel of at least 1.0 mm, or of aluminium of 1.5 mm; a thinner
wall counts for less, and of a metal that isn't named ("metal") a wall between the two could be either. Trunking that is declared perforated
isn't solid. A ladder of metal is open. A tray of metal that is declared perforated for ratings may have more holes than the table
means, so it is open or perforated; one declared not to be is perforated or solid, since it has no lid; any other may be each of the three.
Trunking is taken to be closed by its lid. Whether the containment of one side is enough isn't taken for granted: a pass holds with that of
the lesser side, a fail even with that of the better; `one_side_is_enough = 1` under `[limits."segregation.spacing"]` says that the better
counts.

**Circuits.** Power are circuits for power and emergency lighting, and for control and fire alarm above 50 V, if they carry a load. Each
counts as the multiples of 20 A that its device comes to, three-phase ones three times, and once for each pass; the two legs of a ring share
its current, so at the least they count once. Without a device rating the design current is the least, and there is no most; a
design current above the device's rating is the most.

What isn't known is taken in favour and against: the same answer is the answer, else it is unknown, with what would settle it.

The project can set, under `[limits."segregation.spacing"]`, `at_least_mm`, a distance that is wanted in any case (up to 300). A code may
have `least_beside_m`, below which length side by side nothing is asked, not even that: none of ours has it, and a project can't give it, as
it would ease what is asked. That length is of all stretches that go on in carriers joined to these; what runs through fittings between them
isn't measured.

Clause: EN 50174-2:2018, the tables of S and P. They are about interference, and don't replace what BS 7671 528.1 and IEC 60364-5-52 528.1
ask for safety.

Worked example. Cables of category 6, unscreened (class b), on a ladder, and 14 circuits of 20 A on another one: S is 75 mm, P is 1.0, so
75 mm are wanted. With 100 mm between the ladders: pass; with 50 mm: fail. Where it isn't known which material one of them has: at least
75 and, without metal, 100 mm, so that 100 mm pass and 80 mm are unknown.

Not asked here: data and power in one carrier, with a divider or without (segregation.compartment tells what may lie together at all);
where carriers cross or lie askew by more than 15°; carriers of which it isn't known where they run; bends, tees and other fittings;
several power carriers beside one data carrier, of which each is held against it alone; pairs in which neither data nor power is certain;
pairs farther apart than 300 mm and than the tables ask for as many circuits (60 mm each at most); drops; lamps, lifts, welding and other
sources; cables of extra-low voltage, bus and alarm as what is disturbed; power cables with a screen of their own.
"""

import math
from dataclasses import dataclass
from typing import Self

from pydantic import Field, model_validator

from checker.model import CarrierPair, Side
from checker.model.pairs import NEIGHBOURS_MM
from checker.model.texts import listed, natural
from checker.rule import DEFINES, ONLY_A_CODES, Basis, Limit, Limits, Outcome, Table, Verdict, rule
from checker.rule.needs import all_answered
from rules.segregation.separation import containment, data_cables, factor, factors, power_circuits, s_mm, separations

#: Neighbours as near as this always have the question, so a project's own distance can be as much; those farther away only if any cable
#: could want so much beside so many circuits.
ALWAYS_MM, MOST_MM_A_CIRCUIT = 300.0, 60.0
#: Coordinates of models are no finer.
HAIR_MM = 0.01
#: The voltage by which ``asks`` tells power: none, so that what could be counts.
ANY_VOLTAGE = 0.0


class SpacingLimits(Limits):
    """Tables of S and P and of the classes of data cables.

    ``band_one_to_v``: above it control and fire alarm are power cabling. ``solid_steel_mm``, ``solid_aluminium_mm``: the least wall of
    solid containment. ``least_beside_m``, where a code has it: side by side over less there is nothing to ask. Of the project:
    ``at_least_mm``, a distance wanted in any case; ``one_side_is_enough``: the containment of the better side counts.
    """

    separations: Table
    factors: Table
    classes: Table
    band_one_to_v: Limit = Field(json_schema_extra=DEFINES)
    solid_steel_mm: Limit = Field(json_schema_extra={"stricter": "higher"})
    solid_aluminium_mm: Limit = Field(json_schema_extra={"stricter": "higher"})
    at_least_mm: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", "most": ALWAYS_MM})
    least_beside_m: Limit | None = Field(default=None, json_schema_extra=ONLY_A_CODES)
    one_side_is_enough: Limit | None = None

    @property
    def cited(self) -> str:
        """Where the tables come from."""
        return f"{self.separations.rows[0]['source']}; {self.factors.rows[0]['source']}"

    @model_validator(mode="after")
    def _are_neighbours_enough(self) -> Self:
        """Pairs that aren't looked for, or not asked, must not be such as the tables speak of."""
        s = max(separations(self.separations).values())
        if any(s * p > min(NEIGHBOURS_MM, MOST_MM_A_CIRCUIT * fewest) for fewest, p in factors(self.factors)):
            raise ValueError(
                f"more than {MOST_MM_A_CIRCUIT:g} mm a circuit or {NEIGHBOURS_MM:g} mm in all isn't looked for"
            )
        return self


@dataclass(frozen=True, slots=True)
class Wanted:
    """The distance that is wanted from the data cables of one side to the power cables of the other, between two readings, in mm."""

    least_mm: float
    most_mm: float
    words: str
    terms: str
    needs: tuple[str, ...]


def asks(subject: CarrierPair) -> bool:
    """Whether data lies in one of the two and power in the other, one of them for certain, and near enough to matter."""
    return any(_is_near(*sides, subject) for sides in ((subject.one, subject.other), (subject.other, subject.one)))


def _is_near(data: Side, power: Side, subject: CarrierPair) -> bool:
    any_data = data_cables(data.most_loaded())
    if not any(any_data):
        return False
    sure_data, _ = data_cables(data)
    sure_power, _ = power_circuits(power, math.inf)
    any_power, marks = power_circuits(power.most_loaded(), ANY_VOLTAGE)
    if not marks or not (sure_data or sure_power.least):
        return False
    clear = 0.0 if subject.size_doubt else subject.clear_mm
    return clear <= max(ALWAYS_MM, MOST_MM_A_CIRCUIT * any_power.most)


@rule(id="segregation.spacing", title="Distance between data and power in neighbouring carriers", asks=asks)
def spacing(subject: CarrierPair, limits: SpacingLimits) -> Verdict:
    """The clear distance against what is wanted from the data cables of each to the power cables of the other."""
    both = (_wanted(subject.one, subject.other, limits), _wanted(subject.other, subject.one, limits))
    found = [wanted for wanted in both if wanted is not None]
    if not found:
        reason = "of what certainly lies in them nothing is data beside power cabling"
        return Verdict(Outcome.PASS, reason, basis=Basis.GUIDANCE.value, source=limits.cited, is_floor=True)
    labels = " and ".join(side.carrier.place.label for side in (subject.one, subject.other))
    words = f"{labels} run side by side over {subject.beside_m:.3g} m ({'; '.join(wanted.words for wanted in found)})"
    exempt, clear = limits.least_beside_m, subject.clear_mm
    if exempt is not None and subject.along_m < exempt.value:
        reason = f"{words}, {subject.along_m:.3g} m in all: below {exempt.value:g} m the project asks nothing"
        return Verdict(Outcome.PASS, reason, clear, None, "mm", "", exempt.basis.value, exempt.cited, is_floor=True)
    least, most = (max(found, key=key) for key in (lambda wanted: wanted.least_mm, lambda wanted: wanted.most_mm))
    if clear < least.least_mm - HAIR_MM:
        outcome, limit, terms = Outcome.FAIL, least.least_mm, f"at least {least.least_mm:.4g} mm wanted: {least.terms}"
    elif clear >= most.most_mm - HAIR_MM:
        outcome, limit, terms = Outcome.PASS, most.most_mm, f"{most.most_mm:.4g} mm wanted: {most.terms}"
    else:
        outcome, limit = Outcome.UNKNOWN, None
        terms = f"between {least.least_mm:.4g} and {most.most_mm:.4g} mm wanted: {most.terms}"
    needs = tuple(dict.fromkeys(need for wanted in found for need in wanted.needs)) if limit is None else ()
    is_own = limits.at_least_mm is not None and limit == limits.at_least_mm.value
    return Verdict(
        outcome,
        f"{words}; {clear:.4g} mm apart, {terms}{f'; it hangs on {listed(needs)}' if needs else ''}",
        clear,
        limit,
        "mm",
        basis=(Basis.PROJECT if is_own else Basis.GUIDANCE).value,
        source=limits.at_least_mm.cited if is_own and limits.at_least_mm is not None else limits.cited,
        needs=all_answered(needs),
        is_floor=True,
        found="{} between data and power",
    )


def _wanted(data: Side, power: Side, limits: SpacingLimits) -> Wanted | None:
    """What is wanted from the data cables of one side to the power cables of the other; None: there aren't both."""
    sure, perhaps = data_cables(data)
    circuits, marks = power_circuits(power, limits.band_one_to_v.value)
    if not (sure or perhaps) or not marks:
        return None
    rows, unsure = zip(
        *(containment(side.carrier, limits.solid_steel_mm, limits.solid_aluminium_mm) for side in (data, power)),
        strict=True,
    )
    sides = (rows[0], rows[1])
    of_sure = s_mm(sure, sides, limits.one_side_is_enough, limits.separations, limits.classes)
    of_all = s_mm([*sure, *perhaps], sides, limits.one_side_is_enough, limits.separations, limits.classes)
    p_least, p_most = factor(limits.factors, circuits.least), factor(limits.factors, circuits.most)
    own = limits.at_least_mm.value if limits.at_least_mm is not None else 0.0
    needs: list[str] = [f"the service of circuit {cable.circuit}" for cable in perhaps]
    if of_sure.least != of_all.most:
        needs += [*of_all.needs, *unsure[0], *unsure[1]]
        if limits.one_side_is_enough is None and rows[0] != rows[1]:
            needs.append("whether the containment of one side is enough (one_side_is_enough)")
    if p_least != p_most:
        needs += circuits.needs
    amount, counted = _span(circuits.least, circuits.most), "circuit" if circuits.most == 1.0 else "circuits"
    names = [listed(sorted(set(found), key=natural)) for found in ([c.circuit for c in (*sure, *perhaps)], marks)]
    return Wanted(
        round(max(of_sure.least * p_least, own), 6) if sure and p_least else 0.0,
        round(max(of_all.most * p_most, own), 6),
        f"data of {names[0]} in {data.carrier.place.label}, power of {names[1]} in {power.carrier.place.label}",
        f"S {_span(of_sure.least, of_all.most)} mm · P {_span(p_least, p_most)} of {amount} {counted} of 20 A",
        tuple(dict.fromkeys(needs)),
    )


def _span(least: float, most: float) -> str:
    if least == most:
        return f"{most:g}"
    return f"{least:g} or more" if math.isinf(most) else f"{least:g} to {most:g}"
