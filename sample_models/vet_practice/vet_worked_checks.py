"""The paper calculation of what else is asked of lengths and runs: seals, closed conduits, loads, bends, pulls, enclosures, tiers.

Each answer is a row of the table `check`. Which walls and slabs are passed, and how a run goes, is read off the plan by hand.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import vet_worked_figures as figures
from vet_worked_laid import Laid
from vet_worked_ways import RUNS

Row = dict[str, object]
Lying = Mapping[tuple[str, int], list[Laid]]

# What lies across each wall or slab that keeps fire. The corridor's north wall is y = 6750 to 6850: TR-04 ends at its far face. The
# partition across the corridor is x = 12450 to 12550; EC-05 ends before it, CP-22 passes south of the corridor. The slab is z = 3350
# to 3600, and of the risers in it only conduits and the ladder are closed or open carriers of their own.
PASSED: dict[str, str] = {
    "WALL-06": "TR-04 TR-07 TR-08 TR-10",
    "WALL-21": "TR-05 FC-03",
    "SLAB-2": "RL-1 CD-R FC-R EC-07",
}
CLOSED = ("CD-R", "CD-1", "CD-2", "CD-3")

LEVEL, UP, DOWN = 0.0, 1.0, -1.0


@dataclass(frozen=True, slots=True)
class Bent:
    """A run with bends, from its first length's start to its last one's end, m."""

    tags: str
    radius_m: float
    """Of the middle line of each bend, as the bend is drawn."""
    straights: tuple[tuple[float, float], ...]
    """Length of each straight, and LEVEL, UP or DOWN. Between two of them is a bend of 90°."""


# 60 mm from the corner for conduit of 20 mm, 70 mm for 25 mm; straights are the lengths of plan and axes.
BENT = (
    Bent("CP-11 CP-12 CP-13 CP-14", 0.060, ((0.74, LEVEL), (1.28, LEVEL), (1.08, DOWN), (0.44, LEVEL))),
    Bent("CP-41 CP-42", 0.060, ((1.39, LEVEL), (0.88, UP))),
    Bent("CP-51 CP-52 CP-53", 0.060, ((2.24, LEVEL), (1.38, LEVEL), (0.54, DOWN))),
    Bent("CD-1 CD-2", 0.070, ((0.78, LEVEL), (1.68, DOWN))),
    Bent("EC-03 EC-04", 0.070, ((3.43, LEVEL), (5.58, LEVEL))),
)


def check(rule: str, tags: Iterable[str], verdict: str, *, number: object = "", value: float | None = None,
          limit: float | None = None, working: str = "") -> Row:  # fmt: skip
    """Return one row."""
    return {
        "table": "check",
        "key": "; ".join(tags),
        "compartment": number,
        "rule": rule,
        "value": "" if value is None else f"{value:.5f}",
        "limit": "" if limit is None else f"{limit:g}",
        "verdict": verdict,
        "working": working,
    }


def within(value: float, limit: float) -> str:
    """Return the verdict on a value that may be as much as its limit."""
    return "pass" if value <= limit + 1e-9 else "fail"


def seals(lying: Lying, areas: Mapping[tuple[str, int], float]) -> list[Row]:
    """Return a row for each compartment that passes a rated wall or slab."""
    rows = []
    for barrier, tags in PASSED.items():
        for place in sorted(place for place in areas if place[0] in tags.split()):
            occupied, area = sum(item.area_mm2 for item in lying.get(place, ())), areas[place]
            verdict = within(occupied / area, figures.SEAL_LIMIT)
            working = f"{barrier}: {occupied:.1f} of {area:.1f}"
            if verdict == "fail" and place[0][0] in "CEF" and area <= figures.UNSEALED_MM2:
                verdict = "unknown"  # BS 7671 527.2: so small a conduit may need no seal inside
            rows.append(
                check("fill.seal", [place[0]], verdict, number=place[1], value=occupied / area,
                      limit=figures.SEAL_LIMIT, working=working)
            )  # fmt: skip
    return rows


def closed(lying: Lying, areas: Mapping[tuple[str, int], float]) -> list[Row]:
    """Return a row for each conduit that can't be opened again."""
    rows = []
    for tag in CLOSED:
        occupied, area = sum(item.area_mm2 for item in lying[tag, 1]), areas[tag, 1]
        value = (1 + figures.CLOSED_SPARE) * occupied / area
        working = f"{1 + figures.CLOSED_SPARE} * {occupied:.1f} of {area:.1f}"
        verdict = within(value, figures.CLOSED_LIMIT)
        rows.append(
            check("access.closed", [tag], verdict, number=1, value=value, limit=figures.CLOSED_LIMIT, working=working)
        )
    return rows


def loads(lying: Lying, tags: Iterable[str]) -> list[Row]:
    """Return a row for each length of tray: what a metre of it bears."""
    rows = []
    for tag in tags:
        if tag[:2] in ("TR", "TU"):
            laid = [item for number in (1, 2) for item in lying.get((tag, number), ())]
            cables = sum(item.number * (item.mass_kg_per_km or math.nan) for item in laid) / 1000
            value = cables + figures.TRAY_KG_PER_M
            working = f"{cables:.3f} + {figures.TRAY_KG_PER_M:g}"
            verdict = within(value, figures.TRAY_SAFE_KG_PER_M)
            rows.append(
                check("support.load", [tag], verdict, value=value, limit=figures.TRAY_SAFE_KG_PER_M, working=working)
            )
    return rows


def tiers(lying: Lying, tags: Iterable[str]) -> list[Row]:
    """Return a row for each level tray in which a load is rated as on one tier: none lies above another but by a storey's height."""
    return [
        check("grouping.stacked", [tag], "pass", value=1, limit=1)
        for tag in tags
        if tag[:2] in ("TR", "TU") and any(item.is_loaded for n in (1, 2) for item in lying.get((tag, n), ()))
    ]


def enclosures(lying: Lying, tags: Iterable[str]) -> list[Row]:
    """Return a row for each steel trunking or conduit with single cores: all rows of a circuit take one way, so none lies alone."""
    return [
        check("segregation.enclosure", [tag], "pass")
        for tag in tags
        if tag[:2] not in ("TR", "TU", "RL")
        and any(item.single_core and item.is_loaded for n in (1, 2, 3) for item in lying.get((tag, n), ()))
    ]


def bends() -> list[Row]:
    """Return a row for each run that turns: two right angles between points to draw in, and what is waived above."""
    rows = []
    for tags, _, count, _ in RUNS:
        if count:
            value, limit = 90.0 * count, figures.MOST_BENDS_DEG
            verdict = "waived" if limit < value <= figures.WAIVED_BENDS_DEG else within(value, limit)
            rows.append(
                check("pulling.bends", tags.split(), verdict, value=value, limit=limit, working=f"{count} * 90")
            )
    return rows


def radii(lying: Lying) -> list[Row]:
    """Return a row for each run that turns: inside of its bends against what its thickest cable needs."""
    rows = []
    sizes = {tags: size for tags, size, _, _ in RUNS}
    for run in BENT:
        bore = sizes[run.tags] - 2 * figures.CONDUIT_WALL_MM
        thickest = max(item.diameter_mm for item in lying[run.tags.split()[0], 1])
        multiple = figures.DATA_RADIUS if run.tags.startswith("CD") else figures.SINGLE_CORE_RADIUS
        inside, wanted = 1000 * run.radius_m - bore / 2, multiple * thickest
        verdict = "pass" if inside >= wanted else "fail"
        working = f"{1000 * run.radius_m:g} - {bore:g} / 2; {multiple:g} * {thickest:g}"
        rows.append(check("pulling.radius", run.tags.split(), verdict, value=inside, limit=wanted, working=working))
    return rows


def pulled(run: Bent, straights: Iterable[tuple[float, float]], weight: float, wedged: float) -> tuple[float, float]:
    """Return the largest tension, N, and the largest tension over radius, N/m, on the way through a run."""
    tension = most = pressed = 0.0
    before: float | None = None
    for length, way in straights:
        if before is not None:
            friction, by_weight = figures.DRY_FRICTION * wedged * math.pi / 2, weight * run.radius_m
            tension = tension * math.cosh(friction) + math.hypot(tension, by_weight) * math.sinh(friction)
            tension += by_weight if UP in (before, way) else 0.0
            most, pressed = max(most, tension), max(pressed, tension / run.radius_m)
        rise = way * length
        level = 0.0 if way else length
        tension = max(tension + weight * (figures.DRY_FRICTION * wedged * level + rise), 0.0)
        most, before = max(most, tension), way
    return most, pressed


def pulls(lying: Lying) -> list[Row]:
    """Return a row for each run that turns: what it takes to draw its cables in, by the better way."""
    rows = []
    sizes = {tags: size for tags, size, _, _ in RUNS}
    for run in BENT:
        laid = lying[run.tags.split()[0], 1]
        number = sum(item.number for item in laid)
        weight = 9.81 * sum(item.number * (item.mass_kg_per_km or math.nan) for item in laid) / 1000
        if run.tags.startswith("CD"):  # four equal ones, as a diamond
            d = laid[0].diameter_mm
            x = d / (sizes[run.tags] - 2 * figures.CONDUIT_WALL_MM - d)
            wedged, share, bears = 1 + 2 * x**2, max(2 * x**2, 0.25), number * figures.FOUR_PAIR_N
        else:  # more than four
            unequal = len({item.csa_mm2 for item in laid}) > 1
            copper = sum(item.number * (item.csa_mm2 or math.nan) for item in laid)
            wedged, share = 1.4, 1.0
            bears = copper * figures.COPPER_N_PER_MM2 * (figures.UNEQUAL_SHARE if unequal else 1.0)
        backwards = [(length, -way) for length, way in reversed(run.straights)]
        uses = []
        for straights in (run.straights, backwards):
            tension, pressed = pulled(run, straights, weight, wedged)
            asked = [(tension / bears, tension, bears),
                     (share * pressed / figures.SIDE_N_PER_M, share * pressed, figures.SIDE_N_PER_M)]  # fmt: skip
            uses.append(max(asked))
        use, value, limit = min(uses)
        working = f"{weight:.3f} N/m, Wc {wedged:.3f}"
        verdict = "pass" if use <= 1 else "fail"
        rows.append(check("pulling.tension", run.tags.split(), verdict, value=value, limit=limit, working=working))
    return rows


def checks(lying: Lying, areas: Mapping[tuple[str, int], float]) -> list[Row]:
    """Return all rows.

    Args:
        lying: What lies in each compartment.
        areas: Of each compartment, mm².
    """
    tags = list(dict.fromkeys(tag for tag, _ in areas))
    return [
        *seals(lying, areas), *closed(lying, areas), *loads(lying, tags), *tiers(lying, tags), *enclosures(lying, tags),
        *bends(), *radii(lying), *pulls(lying),
    ]  # fmt: skip
