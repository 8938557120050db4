"""What packing costs, and how good it is: ``python -m tests.benchmarks.packing WHAT``. Nothing here is asserted.

Processor time throughout: other work on the machine doesn't count.

- ``tiers``: 50 cables in a conduit, a trunking and a tray, each tier alone once all is loaded: median of many calls, compiled and
  plain, and what loading the compiler costs. The area tier's bodies and inside are prepared before, as for a list asked about often.
- ``circles``: the smallest circle for each count of equal circles against the best known (``--table``, a CSV file with N and R_over_r).
- ``squares``: the smallest square likewise; without a table only what was found.
- ``mixed``: of 20 bundles of 50 round cables, diameters log-uniform from 1 to 4, the densest packing that relaxation finds.

``--effort thorough`` looks longer.
"""

import argparse
import csv
import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from checker.section import compiled, packing
from checker.section.packing import Effort
from checker.section.prepared import FILLED, Prepared, prepare
from checker.section.proofs import bounds_of, proof_of_area, proof_of_width, sizes_of
from checker.section.searching import search
from checker.section.shapes import Body, Box, Channel, Inside, Round, circle
from checker.section.starts import LOWS, Chance, dropped

COUNT, BUNDLES, MOST = 50, 20, 91
UNIT = circle(2.0)


def bundle(seed: int) -> list[Body]:
    """Round cables whose diameters are log-uniform from 1 to 4."""
    chance = Chance(seed)
    return [circle(4.0 ** chance.next()) for _ in range(COUNT)]


def inside_for(bodies: list[Body], form: str, density: float) -> Inside:
    """A conduit, a trunking of 2:1 or a tray of 5:1 that the bodies fill to a share."""
    area = sum(body.area_mm2 for body in bodies) / density
    if form == "conduit":
        return Round(math.sqrt(4.0 * area / math.pi))
    if form == "trunking 2:1":
        return Box(math.sqrt(2.0 * area), math.sqrt(area / 2.0))
    return Channel(math.sqrt(5.0 * area), math.sqrt(area / 5.0))


FORMS = ("conduit", "trunking 2:1", "tray 5:1")


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def _seconds(call: Callable[[], object], times: int) -> float:
    call()
    taken = []
    for _ in range(times):
        start = time.process_time()
        call()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def tiers() -> None:
    """The table of the tiers."""
    start = time.process_time()
    fast = compiled.kernels()
    packing.pack(Round(30.0), [circle(10.0)] * 7)
    _say(f"loading: {time.process_time() - start:.2f} s; compiled: {fast is not compiled.plain()}\n")
    _say(
        "| inside | area, µs | width, µs | preparing, µs | one drop, ms | … plain | all drops, ms | relaxation that fails, ms | … plain |"
    )
    _say("| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
    for form in FORMS:
        _say(f"| {form} | " + " | ".join(f"{figure:.2f}" for figure in _tiers_of(form, fast)) + " |")


def _tiers_of(form: str, fast: compiled.Kernels) -> list[float]:
    """One row: µs and ms as the table's header says."""
    bodies = bundle(1)
    inside = inside_for(bodies, form, 0.86)  # denser than what relaxation finds, so that it looks to its end
    sizes, bounds = sizes_of(bodies), bounds_of(inside)
    asked = prepare(inside, bodies)
    order, plain = list(range(COUNT)), compiled.plain()
    return [
        _seconds(lambda: proof_of_area(sizes, bounds), 2000) * 1e6,
        _seconds(lambda: proof_of_width(sizes, bounds, inside), 2000) * 1e6,
        _seconds(lambda: (sizes_of(bodies), bounds_of(inside), prepare(inside, bodies)), 50) * 1e6,
        _seconds(lambda: dropped(asked, fast, order, LOWS[0], asked.target), 50) * 1e3,
        _seconds(lambda: dropped(asked, plain, order, LOWS[0], asked.target), 3) * 1e3,
        _seconds(lambda: packing._by_dropping(asked), 20) * 1e3,
        _seconds(lambda: _relaxed(asked, fast, asked.target, Effort.USUAL), 5) * 1e3,
        _seconds(lambda: _relaxed(asked, plain, asked.target, Effort.USUAL), 1) * 1e3,
    ]


def _relaxed(asked: Prepared, kernels: compiled.Kernels, target: float, effort: Effort) -> float:
    return search(asked, kernels, packing.NEAR, target, packing._budget(asked.count, effort)).scale


def table(form: Callable[[float], Inside], best: dict[int, float], effort: Effort, per_size: float, most: int) -> None:
    """Smallest insides of equal circles, in their radii, against a table."""
    _say("| N | found | best known | more, % | s |")
    _say("| --- | --- | --- | --- | --- |")
    over = []
    for count in range(1, most + 1):
        start = time.process_time()
        found = packing.smallest(form, [UNIT] * count, effort=effort) * per_size
        known = best.get(count)
        share = "" if known is None else f"{100.0 * (found / known - 1.0):.3f}"
        if known is not None:
            over.append((100.0 * (found / known - 1.0), count))
        _say(f"| {count} | {found:.5f} | {known or ''} | {share} | {time.process_time() - start:.2f} |")
    for low, high in ((1, 61), (62, MOST)):
        within = [one for one in over if low <= one[1] <= high]
        if within:
            _say(f"\n{low} to {high}: at most {max(within)[0]:.3f} % more (N = {max(within)[1]})")


def mixed(effort: Effort) -> None:
    """Densities of mixed bundles."""
    _say("| inside | median density | least | most | median ms | most ms |")
    _say("| --- | --- | --- | --- | --- | --- |")
    kernels = compiled.kernels()
    for form in FORMS:
        densities, taken = [], []
        for seed in range(BUNDLES):
            bodies = bundle(seed)
            asked = prepare(inside_for(bodies, form, FILLED), bodies)
            start = time.process_time()
            densities.append(FILLED * _relaxed(asked, kernels, math.inf, effort) ** 2)
            taken.append(1e3 * (time.process_time() - start))
        _say(
            f"| {form} | {statistics.median(densities):.4f} | {min(densities):.4f} | {max(densities):.4f} | "
            f"{statistics.median(taken):.0f} | {max(taken[1:]):.0f} |"
        )


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Measures packing.")
    parser.add_argument("what", choices=["tiers", "circles", "squares", "mixed"])
    parser.add_argument("--table", type=Path, help="a CSV file with the columns N and R_over_r: the best known")
    parser.add_argument("--effort", type=Effort, default=Effort.USUAL, choices=list(Effort))
    parser.add_argument("--most", type=int, default=MOST, help="the largest count")
    given = parser.parse_args()
    best = {}
    if given.table is not None:
        with given.table.open(encoding="utf-8", newline="") as lines:
            best = {int(row["N"]): float(row["R_over_r"]) for row in csv.DictReader(lines)}
    if given.what == "tiers":
        tiers()
    elif given.what == "mixed":
        mixed(given.effort)
    elif given.what == "circles":
        table(Round, best, given.effort, 0.5, given.most)
    else:
        table(lambda size: Box(size, size), best, given.effort, 1.0, given.most)


if __name__ == "__main__":
    main()
