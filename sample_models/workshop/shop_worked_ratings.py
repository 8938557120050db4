"""Works out the ampacity of each loaded circuit by hand arithmetic: NFPA 70 310.14 to 310.16, 110.14(C), 240.4.

What isn't given is read against the circuit: terminals of 60 °C up to 100 A or 1 AWG, loads as continuous, branch circuits of several
receptacles.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shop_worked_figures as figures
from shop_worked_ways import WAYS

Row = dict[str, str]


@dataclass(frozen=True, slots=True)
class Load:
    """A circuit: its live conductors' size, how many of them heat in a group, what it carries and what protects it."""

    mark: str
    service: str
    size: str
    loaded: int
    is_multicore: bool
    design_a: float
    device_a: float

    @property
    def terminals_a(self) -> float:
        """What its ends allow: the ampacity at 60 °C, or 75 °C above 100 A and 1 AWG."""
        column = 0 if self.device_a <= 100 or self.size in figures.SMALL else 1
        return float(figures.AMPACITY[self.size][column])

    @property
    def base_a(self) -> float:
        """The ampacity at 90 °C, THHN and XHHW, at 30 °C."""
        return float(figures.AMPACITY[self.size][2])


def read_load(row: Row) -> Load:
    """Return the load of a circuit's first row, which has its live conductors."""
    return Load(
        mark=row["circuit"],
        service=row["service"],
        size=row["awg_kcmil"],
        loaded=int(row["loaded_conductors"]),
        is_multicore=int(row["cores"]) > 1,
        design_a=float(row["design_current_a"]),
        device_a=float(row["device_rating_a"]),
    )


def adjustment(tag: str, lying: list[Load]) -> float:
    """Return the factor for what lies with a circuit."""
    if tag in figures.OPEN or tag in figures.NIPPLES:
        # 392.80(A)(1): multiconductor cables in a tray go by the three inside each; 310.15(C)(1)(b): no nipple is adjusted
        return 1.0
    number = sum(other.loaded for other in lying)
    if tag in figures.WIREWAYS and number <= figures.WIREWAY_MOST:
        return 1.0
    return next(factor for least, factor in figures.ADJUSTMENT if number >= least)


def rate(load: Load, lying: Mapping[str, list[Load]]) -> dict[str, object]:
    """Return the row of one circuit; the first of its carriers with the lowest capacity governs."""
    found = {}
    for tag in WAYS[load.mark].split():
        factor = adjustment(tag, lying[tag])
        found[tag] = (min(load.base_a * factor, load.terminals_a), factor)
    tag = min(found, key=lambda each: round(found[each][0], 6))
    capacity, factor = found[tag]
    needed = max(load.device_a, load.design_a)
    verdict = "pass"
    if capacity < needed - 1e-9:
        following = min(size for size in figures.STANDARD if size > capacity + 1e-9)
        is_standard = any(abs(size - capacity) < 1e-9 for size in figures.STANDARD)
        # 240.4(B) grants the next standard size, but not to a branch circuit of several receptacles, which nobody says it is
        may_be_granted = not is_standard and load.device_a <= following and capacity >= load.design_a
        verdict = "unknown" if may_be_granted else "fail"
    sure = load.device_a <= figures.SMALL_DEVICE.get(load.size, 1000)
    sure = sure and figures.CONTINUOUS * load.design_a <= min(load.device_a, load.terminals_a) + 1e-9
    if not sure:
        raise ValueError(
            f"{load.mark}: its device or its terminals are too small for its load, which isn't designed in"
        )
    relation = "≥" if capacity >= needed - 1e-9 else "<"
    return {
        "table": "rating",
        "key": load.mark,
        "governing_segment": tag,
        "grouping_factor": f"{factor:.3f}",
        "capacity_a": f"{capacity:.3f}",
        "required_a": f"{needed:.3f}",
        "verdict": verdict,
        "working": f"min({load.base_a:g} A × {factor:g}, {load.terminals_a:g} A) = {capacity:g} A {relation} {needed:g} A",
    }


def ratings(schedule: Sequence[Row]) -> list[dict[str, object]]:
    """Return a row for each loaded circuit, in the schedule's order."""
    first: dict[str, Row] = {}
    for row in schedule:
        if row["state"] in {"new", "existing"} and row["loaded_conductors"] != "0":
            first.setdefault(row["circuit"], row)
    loads = [read_load(row) for row in first.values()]
    lying: dict[str, list[Load]] = defaultdict(list)
    for load in loads:
        for tag in WAYS[load.mark].split():
            lying[tag].append(load)
    return [rate(load, lying) for load in loads]
