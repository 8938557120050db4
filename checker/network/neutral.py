"""Which conductor of a circuit of three phases is its neutral. A schedule tells conductors apart by size alone."""

from collections import Counter
from collections.abc import Mapping, Sequence

from checker.model import Cable, Circuit
from checker.model.loads import Neutral
from checker.network.live import OF_CABLES

#: Loaded conductors of circuits of three phases: without and with a loaded neutral.
WITH_NEUTRAL = {3, 4}
LINES = 3
#: Lines and a neutral.
LEAST_CORES = 4


def neutral_of(circuit: Circuit, loaded: int, metals: Mapping[str, str]) -> Neutral:
    """What a circuit's rows tell of its neutral.

    In a multicore cable all cores are alike. Of single cores the lines are three of one size. A fourth of that size is the neutral,
    unless a thicker conductor could be it as well: what is thinner is protective then. Where there are but three of that size, the
    neutral is among the others. A single other one may be protective, and no neutral be given, unless four are loaded.

    Args:
        circuit: As it was read.
        loaded: Its loaded conductors, 3 or 4.
        metals: What metals are called, by the words for them.
    """
    if "cable" in circuit.unread:
        return Neutral(doubt="its cable isn't known")
    unread = [column for column in (*OF_CABLES, "conductor", "insulation") if column in circuit.unread]
    if unread:
        return Neutral(doubt=f"{unread[0]} isn't given, can't be read, or contradicts its cable")
    rows = [cable for cable in circuit.cables if cable.count != 0]
    for name in ("cores", "count", "csa_mm2"):
        if not rows or not all(getattr(row, name) for row in rows):
            return Neutral(doubt=f"{name} isn't given")
    multicore = [row for row in rows if row.cores != 1]
    if multicore:
        return _of_multicore(rows, multicore, metals)
    counts: Counter[float] = Counter()
    for row in rows:
        counts[row.csa_mm2 or 0.0] += row.count or 0
    sizes = [size for size, number in counts.items() if number >= LINES]
    if len(sizes) != 1:
        return Neutral(doubt="which of its conductors are the lines isn't known: no three of one size, or several such")
    if counts[sizes[0]] >= 2 * LINES:
        number = f"{counts[sizes[0]]} conductors of {sizes[0]:g} mm²"
        return Neutral(doubt=f"it has {number}, which may be several a phase: give them as sets")
    return _of_single(rows, counts, sizes[0], loaded, metals)


def _of_multicore(rows: Sequence[Cable], multicore: Sequence[Cable], metals: Mapping[str, str]) -> Neutral:
    alike = {(row.csa_mm2, row.conductor.lower(), row.insulation.upper()) for row in multicore}
    if len(alike) > 1:
        return Neutral(doubt="its multicore cables differ, and which of them its neutral lies in isn't known")
    if any((row.cores or 0) < LEAST_CORES for row in multicore):
        beside = " and a single core beside it may be protective" if len(rows) > len(multicore) else ""
        return Neutral(doubt=f"its cable has no core for a neutral{beside}")
    size = multicore[0].csa_mm2
    return _made(multicore[0], size, size, size, metals, is_single_core=False)


def _of_single(
    rows: Sequence[Cable], counts: Counter[float], line: float, loaded: int, metals: Mapping[str, str]
) -> Neutral:
    if len({(row.conductor.lower(), row.insulation.upper()) for row in rows}) > 1:
        return Neutral(doubt="its conductors differ in insulation or metal, and which is the neutral isn't known")
    thicker = [size for size in counts if size > line]
    thinner = [size for size in counts if size < line]
    if counts[line] > LINES:
        could = [*thicker, line]
    else:
        could = [*thicker, *thinner]
    if not could:
        return Neutral(doubt="it has no conductor for a neutral")
    others = sum(counts.values()) - LINES
    most, least = max(could), min(could)
    doubt = ""
    if others == 1 and loaded < LEAST_CORES and counts[line] == LINES:
        doubt = f"whether its conductor of {most:g} mm² is the neutral or a protective one isn't said: give 4 loaded_conductors if it is"
        return _made(rows[0], line, most, None, metals, is_single_core=True, doubt=doubt)
    if most != least:
        doubt = f"which of its conductors of {' and '.join(f'{size:g}' for size in sorted(could))} mm² is the neutral isn't known"
    return _made(rows[0], line, most, least, metals, is_single_core=True, doubt=doubt)


def _made(
    row: Cable, line: float | None, most: float | None, least: float | None, metals: Mapping[str, str], *,
    is_single_core: bool, doubt: str = "",
) -> Neutral:  # fmt: skip
    metal = row.conductor.strip().lower()
    return Neutral(line, most, least, is_single_core, metals.get(metal, metal), row.insulation.strip().upper(), doubt)
