"""The paper calculation of what each loaded circuit may carry where it lies with others. `worked.py` writes it down.

    Iz = sets × It × Ca × Cg × Ch ≥ In ≥ Ib

Cg is that of the whole length of carrier, across its compartments. It shares no code with the checker.
"""

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import vet_worked_rating_figures as figures
from vet_worked_ways import LOOPS, RINGS

Row = dict[str, str]


@dataclass(frozen=True, slots=True)
class Load:
    """One loaded circuit. Unknown currents are None."""

    mark: str
    csa_mm2: float
    multicore: bool
    insulation: str
    loaded: int
    method: str
    sets: int
    members: int
    """As how many circuits it counts wherever it lies."""
    ambient: float
    harmonic: float
    neutral_a: float | None
    """The neutral's current 3·h·In where that rules, in A."""
    design_a: float | None
    device_a: float | None

    def plain_a(self, tag: str) -> float:
        """Return It of one set on a carrier: the lower of the carrier's method and the schedule's."""
        own = "E" if tag[:2] in figures.OPEN_WIDTHS_MM else "B2" if self.multicore else "B1"
        columns = [figures.BASE_A[self.insulation, self.loaded, method] for method in {own, self.method}]
        return min(column[self.csa_mm2] for column in columns if self.csa_mm2 in column)

    def alone_a(self, tag: str) -> float:
        """Return It · Ca · Ch of one set on a carrier: what it carries without others."""
        return self.plain_a(tag) * self.ambient * self.harmonic


def number(text: str) -> float | None:
    """Return a cell's number, None where it is empty."""
    return float(text) if text else None


def read_load(row: Row) -> Load:
    """Return the load of a circuit's first row, which holds its live conductors."""
    mark, multicore = row["circuit"], row["cores"] != "1"
    insulation = "XLPE" if mark in figures.BOTH_ENDS_AT_90_C else "PVC"
    sets, device_a = int(row["sets"]), number(row["device_rating_a"])
    # Single cores here are one set of line, neutral and protective conductors: one circuit for each set.
    members = sets * (int(row["count"]) if multicore else 1) * (2 if mark in RINGS else 1)
    share = number(row["third_harmonic"]) or 0.0
    share = share / 100 if share > 1 else share
    factor, by_neutral = next((factor, neutral) for top, factor, neutral in figures.HARMONICS if share <= top)
    return Load(
        mark=mark,
        csa_mm2=float(row["csa_mm2"]),
        multicore=multicore,
        insulation=insulation,
        loaded=int(row["loaded_conductors"]),
        method=row["method"],
        sets=sets,
        members=members,
        ambient=figures.AMBIENT[insulation, int(row["ambient_c"] or figures.ASSUMED_AMBIENT_C)],
        harmonic=factor,
        neutral_a=3 * share * device_a if by_neutral and device_a is not None else None,
        design_a=number(row["design_current_a"]),
        device_a=device_a,
    )


def next_higher(table: Mapping[int, float], count: int) -> float:
    """Return the factor of a count, or of the next higher one that the table has."""
    return table[min(given for given in table if given >= count)]


def grouping(tag: str, loads: list[Load], *, one_layer: bool) -> float:
    """Return Cg of a carrier for the circuits that count."""
    count = sum(load.members for load in loads)
    if tag[:2] not in figures.OPEN_WIDTHS_MM:
        places = [figures.SIZES_MM2.index(load.csa_mm2) for load in loads]
        mixed = max(places) - min(places) >= figures.ADJACENT
        return 1 / math.sqrt(count) if mixed else next_higher(figures.BUNCHED, count)
    if not one_layer:
        return next_higher(figures.BUNCHED, count)
    if tag.startswith("RL"):
        return next_higher(figures.LADDER, count)
    return min(next_higher(figures.TRAY_LEVEL, count), next_higher(figures.TRAY_UPRIGHT, count))


def factors_on(tag: str, loads: list[Load], *, one_layer: bool) -> dict[str, float]:
    """Return Cg of each circuit on a carrier: light ones are left out for those that aren't."""
    full = grouping(tag, loads, one_layer=one_layer)

    def is_light(load: Load) -> bool:
        grouped_a = load.alone_a(tag) * full
        return load.design_a is not None and load.design_a / load.sets <= figures.LIGHT * grouped_a

    heavy = [load for load in loads if not is_light(load)]
    without_light = grouping(tag, heavy, one_layer=one_layer) if heavy else full
    return {load.mark: full if is_light(load) else without_light for load in loads}


def needed_a(load: Load) -> float:
    """Return what Iz is held against; where In or Ib isn't given, the other."""
    if load.mark in RINGS or load.mark in LOOPS:
        return figures.RING_LEG_A
    return max(load.neutral_a or 0.0, load.device_a or 0.0, load.design_a or 0.0)


def rate(load: Load, factors: Mapping[str, Mapping[str, float]], way: str) -> dict[str, object]:
    """Return the row of one circuit; the first of its carriers with the lowest Iz governs."""
    tags = list(dict.fromkeys(step.split("/")[0] for step in way.split()))
    found = {
        tag: load.sets * load.plain_a(tag) * load.ambient * factors[tag][load.mark] * load.harmonic for tag in tags
    }
    tag = min(found, key=lambda each: round(found[each], 6))
    capacity, group, needed = found[tag], factors[tag][load.mark], needed_a(load)
    enough = capacity >= needed - 1e-9
    missing = [name for name, given in (("In", load.device_a), ("Ib", load.design_a)) if given is None]
    if not enough or (load.device_a or math.inf) < (load.design_a or 0.0):
        verdict = "fail"
    else:
        verdict = "unknown" if missing else "pass"
    working = f"{load.sets} × " if load.sets > 1 else ""
    working += f"{load.plain_a(tag):g} A × Ca {load.ambient:g} × Cg {round(group, 4):g}"
    working += f" × Ch {load.harmonic:g}" if load.harmonic != 1 else ""
    working += f" = {capacity:.2f} A {'≥' if enough else '<'} {needed:g} A"
    working += "".join(f", and {name} isn't given" for name in missing)
    return {
        "table": "rating",
        "key": load.mark,
        "governing_segment": tag,
        "grouping_factor": f"{group:.6f}",
        "capacity_a": f"{capacity:.3f}",
        "required_a": f"{needed:.3f}",
        "verdict": verdict,
        "working": working,
    }


def ratings(
    schedule: list[Row], diameters_mm: Mapping[tuple[str, int], float], ways: Mapping[str, str]
) -> list[dict[str, object]]:
    """Return a row for each loaded circuit.

    Args:
        schedule: The rows of the schedule.
        diameters_mm: The sum of cable diameters in each compartment.
        ways: How each circuit is led.
    """
    first: dict[str, Row] = {}
    for row in schedule:
        if row["state"] in {"new", "existing"} and row["loaded_conductors"] != "0":
            first.setdefault(row["circuit"], row)
    loads = [read_load(row) for row in first.values()]
    lying: dict[str, list[Load]] = defaultdict(list)
    for load in loads:
        for tag in dict.fromkeys(step.split("/")[0] for step in ways[load.mark].split()):
            lying[tag].append(load)
    factors = {}
    for tag, group in lying.items():
        # IEC 60364-5-52 523.5: the least insulation of a group holds for all of it. On this plan that changes nothing.
        kinds = {first[load.mark]["insulation"] for load in group}
        if any(load.insulation == "XLPE" for load in group) and kinds != {"XLPE"}:
            raise ValueError(f"in {tag} cables of 70 °C lie with circuits that are rated at 90 °C")
        widths = figures.OPEN_WIDTHS_MM.get(tag[:2], ())
        fits = all(diameters_mm.get((tag, lane), 0.0) <= width for lane, width in enumerate(widths, start=1))
        factors[tag] = factors_on(tag, group, one_layer=fits)
    return [rate(load, factors, ways[load.mark]) for load in loads]
