"""What a circuit's conductors carry alone: base rating by method, insulation and loaded conductors, ambient and harmonics."""

from dataclasses import dataclass, replace
from functools import lru_cache

from checker.model import CarrierKind, CircuitLoad, Laying, Surroundings
from checker.rule.lookup import Steps
from checker.rule.needs import of_circuit
from rules.grouping.figures import USUAL_AMBIENT_C, Figure, base_ratings, by_temperature, insulations, need_of_doubt
from rules.grouping.limits import RatingLimits

#: Stands for the carrier's own kind among the needs.
KIND = "kind"
#: No insulation of the tables is for more.
HOTTEST_C = 1000.0
#: The conductor temperature that equipment's terminals are made for where nothing else is declared.
USUAL_TERMINALS_C = 70.0
OPEN = {CarrierKind.TRAY, CarrierKind.LADDER}
#: Free air: the columns for single cores, by loaded conductors; below their first size the table has none, and method C holds.
FREE_AIR = {"F": {2: "F touching", 3: "F trefoil"}, "G": {3: "G vertical spaced"}}
#: The first size of those columns.
FREE_AIR_FROM_MM2 = 25.0
#: Methods of BS 7671 that leave open whether cables are single-core or multicore.
EITHER = {"A": ("A1", "A2"), "B": ("B1", "B2")}
IN_TABLES = {"A1", "B1", "B2", "C", "E"}


@dataclass(frozen=True, slots=True)
class Alone:
    """What one set of a circuit's conductors carries on a carrier with nothing beside it."""

    base: Figure
    ambient: Figure
    harmonic: Figure

    @property
    def amps(self) -> float | None:
        """It · Ca · Ch."""
        figures = (self.base.value, self.ambient.value, self.harmonic.value)
        if None in figures:
            return None
        return figures[0] * figures[1] * figures[2]  # type: ignore[operator]

    @property
    def needs(self) -> tuple[str, ...]:
        """What would give the figures that aren't known; a blank for one of which that isn't known."""
        figures = (self.base, self.ambient, self.harmonic)
        return tuple(dict.fromkeys(figure.need for figure in figures if figure.value is None))

    @property
    def why_not(self) -> str:
        """Why that isn't known; empty where it is."""
        figures = (self.base, self.ambient, self.harmonic)
        return "; ".join(dict.fromkeys(figure.why for figure in figures if figure.value is None))


@dataclass(frozen=True, slots=True)
class Surrounding:
    """What a carrier does to each circuit in it, before they heat each other.

    Attributes:
        kind, laying: Of the carrier.
        coolest_c: What the least of the insulations in it may be used at, in °C.
        ambient_c: Taken for a circuit that gives none.
    """

    kind: CarrierKind
    laying: Laying
    coolest_c: float = HOTTEST_C
    ambient_c: float = USUAL_AMBIENT_C


@lru_cache(maxsize=65536)
def alone(load: CircuitLoad, where: Surrounding, limits: RatingLimits, *, is_strict: bool) -> Alone:
    """What a circuit carries on a carrier with nothing beside it.

    Args:
        load: The circuit.
        where: What the carrier is, and the insulation and warmth in it.
        limits: The code's tables.
        is_strict: What isn't given is read against it, else in its favour.
    """
    terminals = load.terminations_c if load.terminations_c is not None else USUAL_TERMINALS_C
    row, why, need = _insulation(load, min(terminals, where.coolest_c), limits)
    if row is None:
        unknown = Figure(None, why=why, need=need)
        return Alone(unknown, unknown, Figure(1.0))
    base = _base(load, where.kind, where.laying, row["base"], limits, is_strict=is_strict)
    if base.value is not None and row["base"] != insulations(limits.insulations)[load.insulation]["base"]:
        why = "cables of 70 °C lie with it"
        if where.coolest_c > terminals:
            why = (
                f"{load.undeclared or 'its ends'} isn't declared for 90 °C"
                if load.undeclared
                else "its ends are declared for less"
            )
        base = replace(base, source=f"{base.source}, column of {row['temperature_c']} °C: {why}")
    return Alone(
        base, _ambient(load, row["ambient"], where.ambient_c, limits), _harmonic(load, limits, is_strict=is_strict)
    )


def insulation_c(load: CircuitLoad, limits: RatingLimits) -> float | None:
    """What a circuit's insulation may be used at, in °C; None: not known."""
    row = None if "insulation" in load.unread else insulations(limits.insulations).get(load.insulation)
    return None if row is None else float(row["temperature_c"])


def loaded_of(load: CircuitLoad, *, is_strict: bool) -> int:
    """Its loaded conductors as the tables count them: a loaded neutral of three phases is a matter of harmonics."""
    return min(load.loaded_conductors if load.loaded_conductors is not None else 3 if is_strict else 2, 3)


def _insulation(load: CircuitLoad, usable_c: float, limits: RatingLimits) -> tuple[dict[str, str] | None, str, str]:
    """The row of insulation that its conductors may be used at; or why none is known, and what would tell."""
    if load.doubt:
        return None, load.doubt, need_of_doubt(load)
    for column in ("conductor", "insulation"):
        if column in load.unread:
            return None, f"its {column} can't be read, or contradicts its cable", of_circuit(column, load.mark)
    if load.conductor != "copper":
        if load.conductor:
            return None, f"there is no table for {load.conductor}", ""
        return None, "its conductor's metal isn't given", of_circuit("conductor", load.mark)
    known = insulations(limits.insulations)
    row = known.get(load.insulation)
    if row is None:
        if load.insulation:
            return None, f"no table is for insulation {load.insulation}", ""
        return None, "its insulation isn't given", of_circuit("insulation", load.mark)
    if float(row["temperature_c"]) > usable_c:
        row = next((other for other in known.values() if float(other["temperature_c"]) <= usable_c), None)
        if row is None:
            return None, f"its terminals are declared for {usable_c:g} °C, for which there is no table", ""
    return dict(row), "", ""


def _base(
    load: CircuitLoad, kind: CarrierKind, laying: Laying, insulation: str, limits: RatingLimits, *, is_strict: bool
) -> Figure:
    """The lower of what the carrier's method and the schedule's give."""
    if load.loaded_conductors is not None and load.loaded_conductors not in {2, 3, 4}:
        return Figure(None, why=f"no table is for {load.loaded_conductors} loaded conductors")
    for column in ("method", "loaded_conductors"):
        if column in load.unread:
            need = of_circuit(column.replace("_", " "), load.mark)
            return Figure(None, why=f"its {column} can't be read", need=need)
    if laying.installed is Surroundings.GROUND:
        return Figure(None, why="it lies in the ground, for which there are no tables here")
    if kind is CarrierKind.UNKNOWN:
        return Figure(None, why="what kind of carrier it lies in isn't known", need=KIND)
    if kind in OPEN and laying.installed is Surroundings.CAST_IN:
        return Figure(None, why="no method is for a tray or ladder that is cast in")
    if load.csa_mm2 is None:
        return Figure(None, why="its size isn't given in mm²", need=of_circuit("conductor size", load.mark))
    loaded = loaded_of(load, is_strict=is_strict)
    found = []
    words = [_carrier_method(load, kind, laying, is_strict=is_strict)] + ([load.method] if load.method else [])
    for word in words:
        column, figure = _tabled(word, load, loaded, insulation, limits)
        if figure.value is None:
            return figure
        found.append((figure, column))
    lowest, column = min(found, key=lambda pair: pair[0].value or 0.0)
    assumed = "" if load.method else f"method {column}, by its carrier and for its drops"
    return replace(lowest, words=f"method {column}, {loaded} loaded", assumed=assumed)


def _carrier_method(load: CircuitLoad, kind: CarrierKind, laying: Laying, *, is_strict: bool) -> str:
    if kind not in OPEN:
        return "B1" if load.is_single_core else "B2"
    is_free = kind is CarrierKind.LADDER or laying.perforated is True
    if laying.perforated is None and not is_free:
        is_free = load.method in {"E", "F", "G"} or (not load.method and not is_strict)
    if not is_free:
        return "C"
    return "F" if load.is_single_core else "E"


def _tabled(word: str, load: CircuitLoad, loaded: int, insulation: str, limits: RatingLimits) -> tuple[str, Figure]:
    """The column that a method names, and its figure."""
    word = EITHER[word][0 if load.is_single_core else 1] if word in EITHER else word
    if word not in IN_TABLES and word not in FREE_AIR:
        why = f"there is no table here for method {word} (A1, B1, B2, C, E, F, G)"
        return "", Figure(None, why=why)
    table, csa = base_ratings(limits.base_ratings), load.csa_mm2 or 0.0
    column = word
    if word in FREE_AIR:
        column = FREE_AIR[word].get(loaded, word) if csa >= FREE_AIR_FROM_MM2 else "C"
    figure = table.get((insulation, loaded, column, csa))
    if figure is None:
        return "", Figure(None, why=f"the table of method {column} has no {csa:g} mm² with {loaded} loaded")
    return column, figure


def _ambient(load: CircuitLoad, insulation: str, usual_c: float, limits: RatingLimits) -> Figure:
    """Ca; between two temperatures that of the warmer one."""
    if "ambient_c" in load.unread:
        return Figure(None, why="its ambient can't be read", need=of_circuit("ambient", load.mark))
    ambient = load.ambient_c if load.ambient_c is not None else usual_c
    assumed = "" if load.ambient_c is not None else f"ambient {ambient:g} °C"
    rows = by_temperature(limits.ambient)[insulation]
    found = Steps(rows).next_higher(ambient).value
    if found is None:
        return Figure(None, why=f"the table of ambients ends at {rows[-1][0]:g} °C, below {ambient:g} °C")
    return replace(found, words=f"{ambient:g} °C", assumed=assumed)


def _harmonic(load: CircuitLoad, limits: RatingLimits, *, is_strict: bool) -> Figure:
    """Ch: what the neutral's heat leaves of the rating."""
    if "third_harmonic" in load.unread:
        return Figure(None, why="its third harmonic can't be read", need=of_circuit("third harmonic", load.mark))
    if loaded_of(load, is_strict=is_strict) < 3:
        return Figure(1.0)
    if load.third_harmonic is None:
        if load.loaded_conductors == 4:
            why = "its neutral is loaded, and by how much third harmonic isn't given"
            return Figure(None, why=why, need=of_circuit("third harmonic", load.mark))
        return Figure(1.0, assumed="no third harmonic")
    row = harmonic_row(load.third_harmonic, limits)
    return Figure(float(row["factor"]), row["source"], words=f"third harmonic {load.third_harmonic:.0%}")


def harmonic_row(share: float, limits: RatingLimits) -> dict[str, str]:
    """The row of a third harmonic: its factor, and which conductor's current it goes by."""
    rows = limits.harmonics.rows
    return dict(
        next(row for row in rows if not row["third_harmonic_most"] or share <= float(row["third_harmonic_most"]))
    )


def neutral_share(load: CircuitLoad, limits: RatingLimits, *, is_strict: bool) -> float:
    """The neutral's current over the line's, where the harmonic table goes by it; else 0."""
    is_three_phase = loaded_of(load, is_strict=is_strict) == 3 and load.loaded_conductors in {None, 3, 4}
    if load.third_harmonic is None or "third_harmonic" in load.unread or not is_three_phase:
        return 0.0
    row = harmonic_row(load.third_harmonic, limits)
    return 3.0 * load.third_harmonic if row["on"] == "neutral" else 0.0
