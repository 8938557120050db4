"""The paper calculation of what each loaded circuit may carry where it lies with others. `worked.py` writes it down.

    Iz = sets × It × Ca × Cg × Ch ≥ In ≥ Ib

It shares no code with the checker. All of it is on ladders in one layer, but for the floor baskets, where cables are bunched.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import data_worked_figures as figures
from data_worked_ways import WAYS

Row = dict[str, str]


@dataclass(frozen=True, slots=True)
class Load:
    """One loaded circuit. Unknown currents are None."""

    mark: str
    csa_mm2: float
    is_single_core: bool
    loaded: int
    method: str
    sets: int
    design_a: float | None
    device_a: float | None

    @property
    def base_a(self) -> float:
        """It of one set. Method E or F holds on ladders and wire mesh, and the schedule gives the same."""
        insulation = "XLPE" if self.mark in figures.AT_90_C else "PVC"
        return figures.BASE_A[insulation, self.loaded, self.method][self.csa_mm2]

    @property
    def alone_a(self) -> float:
        """It · Ca · Ch of one set."""
        return self.base_a * figures.AMBIENT_FACTOR * figures.HARMONIC_FACTOR


def read_load(row: Row) -> Load:
    """Return the load of a circuit's first row, which holds its live conductors."""
    return Load(
        mark=row["circuit"],
        csa_mm2=float(row["csa_mm2"]),
        is_single_core=row["cores"] == "1",
        loaded=int(row["loaded_conductors"]),
        method=row["method"],
        sets=int(row["sets"]),
        design_a=float(row["design_current_a"]) if row["design_current_a"] else None,
        device_a=float(row["device_rating_a"]) if row["device_rating_a"] else None,
    )


def grouping(tag: str, loads: list[Load], width_mm: float, across_mm: float) -> float:
    """Return Cg of a carrier for the circuits that count. `across_mm`: all its cables side by side."""
    count = sum(load.sets for load in loads)
    single = {load.is_single_core for load in loads}
    if tag.startswith("BU-"):
        table = figures.BUNCHED
    else:
        # the plan has single cores and multicore cables on no ladder together, and nothing too wide for one layer
        if len(single) > 1 or across_mm > width_mm:
            raise ValueError(f"{tag} isn't as the plan has it")
        table = figures.LADDER_SINGLE if True in single else figures.LADDER_MULTICORE
    return table[min(given for given in table if given >= count)]


def factors_on(tag: str, loads: list[Load], width_mm: float, across_mm: float) -> dict[str, float]:
    """Return Cg of each circuit on a carrier: light ones are left out for those that aren't."""
    full = grouping(tag, loads, width_mm, across_mm)

    def is_light(load: Load) -> bool:
        return load.design_a is not None and load.design_a / load.sets <= figures.LIGHT * load.alone_a * full

    heavy = [load for load in loads if not is_light(load)]
    without_light = grouping(tag, heavy, width_mm, across_mm) if heavy else full
    return {load.mark: full if is_light(load) else without_light for load in loads}


def rate(load: Load, factors: Mapping[str, Mapping[str, float]]) -> dict[str, object]:
    """Return the row of one circuit; the first of its carriers with the lowest Iz governs."""
    found = {tag: load.sets * load.alone_a * factors[tag][load.mark] for tag in WAYS[load.mark].split()}
    tag = min(found, key=lambda each: round(found[each], 6))
    capacity, group = found[tag], factors[tag][load.mark]
    needed = max(load.device_a or 0.0, load.design_a or 0.0)
    enough = capacity >= needed - 1e-9
    missing = [name for name, given in (("In", load.device_a), ("Ib", load.design_a)) if given is None]
    verdict = "fail" if not enough else "unknown" if missing else "pass"
    working = f"{load.sets} × " if load.sets > 1 else ""
    working += f"{load.base_a:g} A × Cg {group:g} = {capacity:.2f} A {'≥' if enough else '<'} {needed:g} A"
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
    schedule: list[Row], across_mm: Mapping[str, float], width_mm: Mapping[str, float]
) -> list[dict[str, object]]:
    """Return a row for each loaded circuit.

    Args:
        schedule: The rows of the schedule.
        across_mm: The sum of all cable diameters on each carrier.
        width_mm: How wide each carrier is inside.
    """
    first: dict[str, Row] = {}
    for row in schedule:
        if row["state"] in {"new", "existing"} and row["loaded_conductors"] != "0":
            first.setdefault(row["circuit"], row)
    loads = [read_load(row) for row in first.values()]
    lying: dict[str, list[Load]] = defaultdict(list)
    for load in loads:
        for tag in WAYS[load.mark].split():
            lying[tag].append(load)
    factors = {tag: factors_on(tag, group, width_mm[tag], across_mm[tag]) for tag, group in lying.items()}
    return [rate(load, factors) for load in loads]
