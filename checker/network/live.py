"""Which conductors of a circuit are live, and how many circuits its cables are. A schedule tells them apart by size alone."""

from collections.abc import Sequence
from dataclasses import dataclass

from checker.model import Cable, Circuit
from checker.rule.catalogue import CableType
from checker.units import awg_area_mm2

#: Columns without which the live conductors aren't known.
OF_CABLES = ("csa_mm2", "cores", "count", "sets", "awg_kcmil")
NO_CABLE, NO_SIZE = "its cable isn't known", "diameter_mm isn't given, or can't be read"
#: The fewest loaded conductors that a circuit has.
FEWEST_LOADED = 2
#: So many are loaded where the neutral is one of them.
WITH_NEUTRAL = 4
#: From this third harmonic a neutral is loaded: the first step of IEC 60364-5-52 Table E.52.1.
NEUTRAL_LOADED_ABOVE = 0.15


@dataclass(frozen=True, slots=True)
class Live:
    """The live conductors of one set: a row that stands for them, and how many circuits they are at least and at most.

    ``row`` None: not known. ``doubt``: why they aren't, or what of them isn't; one that a single column would settle begins with its name.
    """

    row: Cable | None
    least: int | None = None
    most: int | None = None
    doubt: str = ""


def live_conductors(circuit: Circuit, loaded: int | None, third_harmonic: float | None) -> Live:
    """Finds the live conductors among a circuit's rows.

    Multicore cables are live, and single cores beside them protective. Of single cores the thickest are live, as many as are loaded; a
    thicker protective conductor is passed over so, and a thinner one left. Where that could be otherwise, it isn't known.

    Args:
        circuit: As it was read.
        loaded: Its loaded conductors; None: not given.
        third_harmonic: As a ratio; None: not given.
    """
    if "cable" in circuit.unread:
        is_sized = all(cable.diameter_mm or (cable.width_mm and cable.height_mm) for cable in circuit.cables)
        return Live(None, doubt=NO_CABLE if is_sized else f"{NO_SIZE}, so {NO_CABLE}")
    unread = [column for column in OF_CABLES if column in circuit.unread]
    if unread:
        return Live(None, doubt=f"{unread[0]} isn't given, can't be read, or contradicts its cable")
    rows = [cable for cable in circuit.cables if cable.count != 0]
    if not rows:
        return Live(None, doubt="no cable is given")
    for name in ("cores", "count"):
        if not all(getattr(row, name) for row in rows):
            return Live(None, doubt=f"{name} isn't given")
    unsized = any(not thickness(row) for row in rows)
    if unsized and len(rows) > 1:
        return Live(None, doubt="csa_mm2 isn't given")
    each = loaded or FEWEST_LOADED
    is_neutral_loaded = each > 3 or (each == 3 and (third_harmonic or 0.0) > NEUTRAL_LOADED_ABOVE)
    multicore = [row for row in rows if (row.cores or 0) > 1]
    single = [row for row in rows if row.cores == 1]
    needed = max(each, WITH_NEUTRAL) if is_neutral_loaded else each
    found = _multicore(multicore, single, each, needed) if multicore else _single(single, each, needed)
    if unsized and found.row is not None:
        return Live(found.row, found.least, found.most, "csa_mm2 isn't given")
    return found


def _multicore(rows: Sequence[Cable], single: Sequence[Cable], loaded: int, needed: int) -> Live:
    if any((row.cores or 0) < needed for row in rows):
        return Live(None, doubt=f"a cable has fewer cores than the {needed} that are loaded")
    if sum(row.count or 0 for row in single) >= loaded:
        return Live(None, doubt="it has single-core cables beside multicore ones, and which carry its load isn't known")
    if not _alike(rows):
        return Live(
            None,
            doubt="its multicore cables differ, and which carry its load isn't known: give them marks of their own",
        )
    number = sum(row.count or 0 for row in rows)
    return Live(rows[0], number, number)


def _single(rows: Sequence[Cable], loaded: int, needed: int) -> Live:
    ordered = sorted(rows, key=thickness, reverse=True)
    found, reached = 0, None
    for row in ordered:
        found += row.count or 0
        if found >= needed:
            reached = row
            break
    if reached is None:
        return Live(None, doubt=f"it has {found} conductors, and {needed} are loaded")
    size = thickness(reached)
    used = [row for row in ordered if thickness(row) >= size]
    if sum(row.count or 0 for row in ordered if thickness(row) < size) >= loaded:
        return Live(None, doubt="which of its conductors are live isn't known: its thinner ones could be")
    if not _alike(used, sized=False):
        return Live(None, doubt="its conductors differ in insulation or metal, and which are live isn't known")
    if needed >= WITH_NEUTRAL and not _alike(used):
        return Live(None, doubt="which of its conductors is the neutral, that harmonics load, isn't known")
    alike = sum(row.count or 0 for row in used if thickness(row) == size)
    return Live(reached, 1, max(1, alike // loaded))


def _alike(rows: Sequence[Cable], *, sized: bool = True) -> bool:
    kinds = {(row.insulation.upper(), row.conductor.lower(), thickness(row) if sized else 0.0) for row in rows}
    return len(kinds) == 1


def thickness(cable: Cable | CableType) -> float:
    """Cross-section of its conductors in mm², to order sizes by; 0: not known."""
    return cable.csa_mm2 or awg_area_mm2(cable.awg_kcmil) or 0.0
