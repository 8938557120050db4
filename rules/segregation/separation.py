"""What the distance between data and power cables is worked out from: classes of cables, containment, the amount of power cabling.

What isn't known is carried as all that it could be, with what would settle it.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from checker.model import Carrier, CarrierKind, CircuitLoad, PlacedCable, Service, Side
from checker.model.words import is_metal
from checker.rule import Limit, Table
from checker.rule.needs import WALL, of_type
from rules.segregation.together import BY_VOLTAGE

#: Rows of the table of S, from the least protection to the best.
NONE, OPEN, PERFORATED, SOLID = "none", "open metal", "perforated metal", "solid metal"
#: Services of circuits that are power cabling at any voltage.
POWER = {Service.POWER, Service.EMERGENCY_CENTRAL, Service.EMERGENCY_SELF_CONTAINED}
#: Words of the metals that the table gives a wall for.
STEELS = {"steel", "galvanised", "galvanized", "iron"}
ALUMINIUMS = {"aluminium", "aluminum"}
#: Keys of fibre begin so: no metal carries its signal, and the tables are of what metal couples into.
FIBRE = "fibre"
#: What the table of P counts in, in A, and as how many such circuits a three-phase one counts.
CIRCUIT_A, THREE_PHASE = 20.0, 3
#: So that a device of exactly 20 A is one circuit.
EXACTLY = 1e-9


@dataclass(frozen=True, slots=True)
class Amount:
    """Something between ``least`` and ``most``; ``needs``: what would settle it."""

    least: float
    most: float
    needs: tuple[str, ...] = ()


@lru_cache(maxsize=8)
def separations(table: Table) -> dict[tuple[str, str], float]:
    """S in mm by class and containment."""
    return {(row["class"], row["containment"]): float(row["s_mm"]) for row in table.rows}


@lru_cache(maxsize=8)
def classes(table: Table) -> dict[str, str]:
    """The class of a data cable by its key."""
    return {row["key"]: row["class"] for row in table.rows}


@lru_cache(maxsize=8)
def factors(table: Table) -> tuple[tuple[int, float], ...]:
    """From so many circuits on, and P, the fewest first."""
    return tuple(sorted((int(row["from_circuits"]), float(row["p"])) for row in table.rows))


def factor(table: Table, circuits: float) -> float:
    """P of a number of circuits of 20 A, which may be without end; 0 of none."""
    return max((p for fewest, p in factors(table) if circuits >= fewest), default=0.0)


def data_cables(side: Side) -> tuple[list[PlacedCable], list[PlacedCable]]:
    """The data cables of a side that metal carries the signals of: for certain, and those whose service isn't known."""
    cables = [cable for cable in side.cables if not cable.key.startswith(FIBRE)]
    return (
        [cable for cable in cables if cable.service is Service.DATA],
        [cable for cable in cables if cable.service is None],
    )


def is_power(service: Service | None, voltage_v: float | None, band_one_to_v: float) -> bool | None:
    """Whether a circuit is power cabling; None: its service or voltage would say."""
    if service in POWER:
        return True
    if service is None:
        return None
    if service in BY_VOLTAGE:
        return None if voltage_v is None else voltage_v > band_one_to_v
    return False


def power_circuits(side: Side, band_one_to_v: float) -> tuple[Amount, tuple[str, ...]]:
    """How many single-phase circuits of 20 A lie in a side, and the marks of the circuits that are or could be power cabling."""
    volts = {cable.circuit: cable.voltage_v for cable in side.cables}
    least = most = 0.0
    needs: list[str] = []
    marks = []
    for member in side.members:
        load = member.load
        found = is_power(load.service, volts.get(load.mark), band_one_to_v) if load.is_loaded else False
        if found is False:
            continue
        of_one = _of_one(load)
        # the two legs of a ring share its current
        least += of_one.least * (1 if load.is_ring else member.passes) if found else 0.0
        most += of_one.most * member.passes
        what = "service" if load.service is None else "voltage"
        needs.extend(of_one.needs if found else (f"the {what} of circuit {load.mark}", *of_one.needs))
        marks.append(load.mark)
    return Amount(least, most, tuple(dict.fromkeys(needs))), tuple(dict.fromkeys(marks))


def _of_one(load: CircuitLoad) -> Amount:
    """As how many single-phase circuits of 20 A one counts."""
    needs = []
    loaded = None if "loaded_conductors" in load.unread else load.loaded_conductors
    least_phases, most_phases = 1, THREE_PHASE
    if loaded is None:
        needs.append(f"the loaded conductors of circuit {load.mark}")
    else:
        least_phases = most_phases = THREE_PHASE if loaded >= THREE_PHASE else 1
    device = None if "device_rating_a" in load.unread else load.device_rating_a
    design = None if "design_current_a" in load.unread else load.design_current_a
    if device is None or device < (design or 0.0):
        needs.append(f"the device rating of circuit {load.mark}")
    most = math.inf if device is None else _multiples(max(device, design or 0.0))
    return Amount(least_phases * _multiples(device or design or 0.0), most_phases * most, tuple(needs))


def _multiples(amps: float) -> float:
    return float(max(math.ceil(amps / CIRCUIT_A - EXACTLY), 1))


def containment(carrier: Carrier, steel_mm: Limit, aluminium_mm: Limit) -> tuple[frozenset[str], tuple[str, ...]]:
    """What the containment of a carrier may be, as rows of the table of S, and what would settle it.

    Solid is only a closed carrier with a wall as thick as the table asks for; whether a metal is steel is read both ways where its name
    doesn't tell. What ratings call perforated may have more holes than what the table calls so.
    """
    name = f"type {carrier.type_name!r}" if carrier.type_name else f"carrier {carrier.place.label}"
    metal = is_metal(carrier.material)
    if metal is False:
        return frozenset({NONE}), ()
    needs = [] if metal else [of_type("material", carrier)]
    found = {OPEN, PERFORATED, SOLID}
    if carrier.kind is CarrierKind.LADDER:
        found = {OPEN}
    elif carrier.kind is CarrierKind.TRAY:
        if carrier.laying.perforated is not None:
            found = {OPEN, PERFORATED} if carrier.laying.perforated else {PERFORATED, SOLID}
        needs.append(f"how {name} is perforated")
    elif carrier.kind is CarrierKind.UNKNOWN:
        needs.append(of_type("kind", carrier))
    elif carrier.laying.perforated:
        found = {OPEN, PERFORATED}
        needs.append(f"how {name} is perforated")
    elif (wall := _wall_mm(carrier)) is None:
        needs.append(of_type(WALL, carrier))
    else:
        could_be = _least_walls_mm(carrier.material, steel_mm, aluminium_mm)
        is_thick = {wall >= least - EXACTLY for least in could_be}
        found = ({SOLID} if True in is_thick else set()) | ({OPEN, PERFORATED} if False in is_thick else set())
        if len(is_thick) > 1:
            needs.append(of_type("material", carrier))
        elif False in is_thick:
            needs.append(f"what a thin wall of {name} shields")
    return frozenset(found if metal else {*found, NONE}), tuple(dict.fromkeys(needs))


def _least_walls_mm(material: str, steel_mm: Limit, aluminium_mm: Limit) -> set[float]:
    """The walls that make what it may be made of solid: of steel, of aluminium, or, where its name doesn't tell which, both."""
    words = set(re.findall("[a-z]+", material.lower()))
    is_steel, is_aluminium = bool(words & STEELS), bool(words & ALUMINIUMS)
    if is_steel == is_aluminium:
        return {steel_mm.value, aluminium_mm.value}
    return {steel_mm.value if is_steel else aluminium_mm.value}


def _wall_mm(carrier: Carrier) -> float | None:
    section = carrier.section
    if section.wall_mm is not None:
        return section.wall_mm
    if section.outside_diameter_mm is not None and section.bore_mm is not None:
        return (section.outside_diameter_mm - section.bore_mm) / 2.0
    return None


def possible_classes(cable: PlacedCable, table: Table) -> tuple[frozenset[str | None], tuple[str, ...]]:
    """The classes that a data cable may be of, None for fibre, and what would settle it."""
    known = classes(table)
    if cable.key in known:
        return frozenset({known[cable.key]}), ()
    is_metallic = cable.csa_mm2 is not None or bool(cable.awg_kcmil)
    what = f"data cable {cable.key}" if cable.key else f"the data cable of circuit {cable.circuit}"
    every: set[str | None] = set(known.values())
    return frozenset(every if is_metallic else {*every, None}), (f"the class of {what}",)


def s_mm(
    cables: Iterable[PlacedCable],
    sides: tuple[frozenset[str], frozenset[str]],
    one_is_enough: Limit | None,
    separation: Table,
    class_of: Table,
) -> Amount:
    """S of the least protected of some data cables.

    The table's containment is that of either side, or of both; which, is read in favour and against, unless the project says that one
    side's is enough.

    Args:
        cables: Of data.
        sides: What the containment of the two carriers may be.
        one_is_enough: Of the project.
        separation: The table of S.
        class_of: The table of classes by key.
    """
    figures = separations(separation)
    least = most = 0.0
    needs: list[str] = []
    for cable in cables:
        found, unsure = possible_classes(cable, class_of)
        needs.extend(unsure)
        low, high = math.inf, 0.0
        for name in found:
            of_sides = [[figures[name, row] for row in rows] if name is not None else [0.0] for rows in sides]
            low = min(low, *(min(of_side) for of_side in of_sides))
            worst = [max(of_side) for of_side in of_sides]
            high = max(high, min(worst) if one_is_enough is not None else max(worst))
        least, most = max(least, low), max(most, high)
    return Amount(least, most, tuple(dict.fromkeys(needs)))
