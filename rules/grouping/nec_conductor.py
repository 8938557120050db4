"""What a circuit's conductors carry alone by NFPA 70: the ampacity of their column, the ambient, and what their terminals allow."""

from dataclasses import dataclass, replace

from checker.model import CircuitLoad
from checker.rule.needs import of_circuit
from rules.grouping.figures import USUAL_AMBIENT_C, Figure, insulations, need_of_doubt
from rules.grouping.nec_limits import AmpacityLimits
from rules.grouping.nec_tables import COLUMNS_C, ambient_factor, ampacities, is_at_least

#: The thickest size whose terminals are for 60 °C unless declared, 110.14(C)(1)(a).
SMALL_MOST = "1"


@dataclass(frozen=True, slots=True)
class Conductor:
    """One set of a circuit's conductors: ampacity, ambient factor, and what no more than may be used of it for its terminals' sake.

    ``advice``: what would help where the terminals allow too little, to go on with; empty where nothing does.
    """

    base: Figure
    ambient: Figure
    terminals: Figure
    advice: str = ""

    @property
    def needs(self) -> tuple[str, ...]:
        """What would give the figures that aren't known; a blank for one of which that isn't known."""
        unknown = [
            figure for figure in (self.base, self.ambient, self.terminals) if figure.value is None and figure.why
        ]
        return tuple(figure.need for figure in unknown)

    @property
    def why_not(self) -> str:
        """Why one of them isn't known; empty where all are."""
        whys = [figure.why for figure in (self.base, self.ambient, self.terminals) if figure.value is None]
        return "; ".join(dict.fromkeys(why for why in whys if why))


def conductor(load: CircuitLoad, limits: AmpacityLimits, *, is_strict: bool) -> Conductor:
    """What one set carries before it is adjusted.

    Args:
        load: The circuit.
        limits: The code's tables.
        is_strict: Terminals that aren't declared are read against the circuit.
    """
    why, need = _why_no_column(load, limits)
    if why:
        unknown = Figure(None, why=why, need=need)
        return Conductor(unknown, Figure(None), Figure(None))
    row = insulations(limits.insulations)[load.insulation]
    column = int(row["temperature_c"])
    base = replace(ampacities(limits.ampacities)[load.awg_kcmil][column], assumed=row["note"])
    terminals = _terminals(load, column, limits, is_strict=is_strict)
    is_open = is_strict and load.terminations_c is None and column > COLUMNS_C[0] and _may_be_small(load, limits)
    advice = "; declare both ends' terminals" if is_open else ""
    return Conductor(base, _ambient(load, column, limits), terminals, advice)


def _why_no_column(load: CircuitLoad, limits: AmpacityLimits) -> tuple[str, str]:
    """Why no figure of Table 310.16 is for it, and what would tell, where that is known; empty where a figure is."""
    if load.doubt:
        return load.doubt, need_of_doubt(load)
    for column in ("conductor", "insulation"):
        if column in load.unread:
            return f"its {column} can't be read", of_circuit(column, load.mark)
    if not load.awg_kcmil:
        why = "its size isn't given in AWG or kcmil, and Table 310.16 has no others"
        return why, of_circuit("conductor size", load.mark)
    if load.awg_kcmil not in ampacities(limits.ampacities):
        return f"Table 310.16 has no size {load.awg_kcmil}", ""
    if load.conductor != "copper":
        if load.conductor:
            return f"there is no table for {load.conductor}", ""
        return "its conductor's metal isn't given", of_circuit("conductor", load.mark)
    if load.insulation not in insulations(limits.insulations):
        if load.insulation:
            return f"no column is for insulation {load.insulation}", ""
        return "its insulation isn't given", of_circuit("insulation", load.mark)
    return "", ""


def _ambient(load: CircuitLoad, column: int, limits: AmpacityLimits) -> Figure:
    if "ambient_c" in load.unread:
        return Figure(None, why="its ambient can't be read", need=of_circuit("ambient", load.mark))
    ambient = load.ambient_c if load.ambient_c is not None else USUAL_AMBIENT_C
    assumed = "" if load.ambient_c is not None else f"ambient {USUAL_AMBIENT_C:g} °C"
    return replace(ambient_factor(limits.ambient, column, ambient), assumed=assumed)


def _terminals(load: CircuitLoad, insulation_c: int, limits: AmpacityLimits, *, is_strict: bool) -> Figure:
    """The unadjusted ampacity at the lower temperature of terminals and insulation, 110.14(C)."""
    declared = load.terminations_c
    if declared is None:
        is_small = _may_be_small(load, limits)
        usable = 60 if is_strict and is_small else 75
        end = f" ({load.undeclared} isn't)" if load.undeclared else ""
        words = f"as its terminals are for {usable} °C unless declared{end}"
        if is_small and not is_strict:
            words = f"if its terminals are for {usable} °C, which isn't declared{end}"
    else:
        usable = max((column for column in COLUMNS_C if column <= declared), default=0)
        words = f"as its terminals are declared for {declared:g} °C"
    if not usable:
        return Figure(None, why=f"its terminals are declared for {declared:g} °C, for which there is no column")
    column = min(usable, insulation_c)
    found = ampacities(limits.ampacities)[load.awg_kcmil][column]
    # 334.80 and 340.80 hold the cables of types NM and UF to 60 °C whatever their conductors are made for
    assumed = "no cable of type NM or UF" if load.is_single_core is False and column > COLUMNS_C[0] else ""
    words = f"no more than the {found.value:g} A of {column} °C, {words}"
    return replace(found, source=f"NFPA 70 110.14(C)(1), {found.source}", words=words, assumed=assumed)


def _may_be_small(load: CircuitLoad, limits: AmpacityLimits) -> bool:
    """Whether undeclared terminals may be for 60 °C: of up to 100 A, or for 14 to 1 AWG. Where the two differ the code leaves it open."""
    is_thin = load.awg_kcmil == SMALL_MOST or not is_at_least(limits.ampacities, load.awg_kcmil, SMALL_MOST)
    return is_thin or load.device_rating_a is None or load.device_rating_a <= limits.terminals_small_a.value
