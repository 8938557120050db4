"""The paper calculation of what else is asked: jams, bends, pulls, and whether conductors of one circuit lie together.

Each answer is a row of the table `check`. How a run goes is read off the drawing by hand, in feet.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import shop_worked_figures as figures

Row = dict[str, object]
#: By carrier, for each row of the schedule that lies there: AWG size, number, whether it is power.
Lying = Mapping[str, Sequence[tuple[str, int, bool]]]

FOOT_M = 0.3048
LEVEL, UP, DOWN = 0.0, 1.0, -1.0


@dataclass(frozen=True, slots=True)
class Bent:
    """A run of conduit with bends: straights between bends of 90°, each LEVEL, UP or DOWN, in ft."""

    tags: str
    straights: tuple[tuple[float, float], ...]
    inside_in: float
    radius_ft: float | None = None
    """Of the middle line of its bends; None: corners are drawn, and 4 in are the least that the code has, NFPA 70 Chapter 9 Table 2."""


# A run begins where it leaves a wireway or box. RC-06 has a bend of 1 ft radius, so each of its straights is 1 ft less; the elbow FB-01
# one of 0.5 ft. In FA-03 five bends, over MW-05 and round to horn and detector; nothing leaves it half-way.
BENT = (
    Bent("C-10", ((4, LEVEL), (8, DOWN)), 0.824),
    Bent("C-11", ((2, LEVEL), (8, DOWN)), 0.824),
    Bent("FA-01; FA-02", ((6.75, UP), (18.25, LEVEL)), 0.824, 0.5),
    Bent("FA-03", ((9.75, LEVEL), (1, UP), (4, LEVEL), (1, DOWN), (12, LEVEL), (1, LEVEL)), 0.824),
    Bent("FD-01", ((1.5, DOWN), (10, LEVEL), (1.5, UP)), 2.047),
    Bent("RC-05", ((6 + 10 / 12, DOWN), (4, LEVEL), (4, LEVEL)), 0.622),
    Bent("RC-06", ((8 + 4 / 12 - 1, LEVEL), (1.5, UP)), 1.049, 1.0),
    Bent("RC-12", ((4 / 12, UP), (24, LEVEL)), 0.622),
)
#: Conduits in which three of one size lie, and their bore in in; None: not known.
THREE: dict[str, float | None] = {"RC-02": 0.622, "RC-12": 0.622, "RC-09": None}


def check(
    rule: str, tags: str, verdict: str, value: float | None = None, limit: float | None = None, working: str = ""
) -> Row:
    """Return one row."""
    return {
        "table": "check",
        "key": tags,
        "rule": rule,
        "value": "" if value is None else f"{value:.4f}",
        "limit": "" if limit is None else f"{limit:.4f}",
        "verdict": verdict,
        "working": working,
    }


def area_mm2(size: str) -> float:
    """Return the cross-section of a conductor, by the definition of AWG: 0.127 mm · 92^((36 - n) / 39) in diameter."""
    number = 1 - int(size[0]) if size.endswith("/0") else int(size)
    diameter: float = 0.127 * 92 ** ((36 - number) / 39)
    return math.pi / 4 * diameter**2


def kg_per_km(size: str) -> float:
    """Return the most that a conductor weighs: copper and its lay, and all the rest as the heaviest usual sheath."""
    metal, outside = area_mm2(size), math.pi / 4 * (figures.THHN_IN[size] * figures.INCH_MM) ** 2
    return metal * 8.89 * 1.05 + (outside - metal) * 1.5


def jams(lying: Lying) -> list[Row]:
    """Return a row for each conduit with three of one size."""
    rows = []
    for tag, bore_in in THREE.items():
        [(size, number, _)] = lying[tag]
        if number != 3:
            raise ValueError(f"there aren't three in {tag}")
        if bore_in is None:
            rows.append(check("fill.jam", tag, "unknown"))
            continue
        ratio = bore_in / figures.THHN_IN[size]
        least, most = figures.JAM
        fails = "waived" if tag == figures.JAM_WAIVED else "fail"
        verdict = fails if least <= ratio <= most else "pass"
        rows.append(check("fill.jam", tag, verdict, ratio, most, f"{bore_in:g} / {figures.THHN_IN[size]:g}"))
    return rows


def together(lying: Lying) -> list[Row]:
    """Return a row for each wireway or conduit with power conductors: all rows of a circuit take one way, so none lies alone."""
    return [
        check("segregation.enclosure", tag, "pass")
        for tag, laid in lying.items()
        if tag not in figures.OPEN and any(is_power for _, _, is_power in laid)
    ]


def bends() -> list[Row]:
    """Return a row for each run that turns."""
    rows = []
    for run in BENT:
        value = 90.0 * (len(run.straights) - 1)
        verdict = "pass" if value <= figures.MOST_BENDS_DEG else "fail"
        rows.append(
            check("pulling.bends", run.tags, verdict, value, figures.MOST_BENDS_DEG, f"{len(run.straights) - 1} * 90")
        )
    return rows


def pulled(run: Bent, straights: Iterable[tuple[float, float]], weight: float, wedged: float) -> tuple[float, float]:
    """Return the largest tension, N, and the largest tension over radius, N/m, on the way through a run."""
    tension = most = pressed = 0.0
    radius = figures.LEAST_BEND_M if run.radius_ft is None else run.radius_ft * FOOT_M
    friction = figures.DRY_FRICTION * wedged
    before: float | None = None
    for length_ft, way in straights:
        if before is not None:
            by_weight = weight * radius
            tension = tension * math.cosh(friction * math.pi / 2) + math.hypot(tension, by_weight) * math.sinh(
                friction * math.pi / 2
            )
            # corners are reached by the straights themselves, so only a bend that is drawn goes up by its radius
            tension += by_weight if UP in (before, way) and run.radius_ft is not None else 0.0
            most, pressed = max(most, tension), max(pressed, tension / radius)
        length = length_ft * FOOT_M
        tension = max(tension + weight * (friction * (0.0 if way else length) + way * length), 0.0)
        most, before = max(most, tension), way
    return most, pressed


def pulls(lying: Lying) -> list[Row]:
    """Return a row for each run that turns: what it takes to draw its conductors in, by the better way."""
    rows = []
    for run in BENT:
        laid = lying[run.tags.split("; ")[0]]
        number, sizes = sum(count for _, count, _ in laid), {size for size, _, _ in laid}
        weight = 9.81 * sum(count * kg_per_km(size) for size, count, _ in laid) / 1000
        wedged, share = 1.4, 1.0
        if len(sizes) == 1 and number in (3, 4):
            [diameter] = [figures.THHN_IN[size] for size in sizes]
            x = diameter / (run.inside_in - diameter)
            cradled, triangular = 1 + 4 / 3 * x**2, 1 / math.sqrt(1 - x**2)
            if number == 3:
                wedged, share = max(cradled, triangular), max(triangular / 2, (3 * cradled - 2) / 3)
            else:
                wedged, share = 1 + 2 * x**2, max(2 * x**2, 0.25)
        bears = sum(count * area_mm2(size) for size, count, _ in laid) * figures.COPPER_N_PER_MM2
        bears = min(bears * (figures.UNEQUAL_SHARE if len(sizes) > 1 else 1.0), figures.GRIP_N)
        backwards = [(length, -way) for length, way in reversed(run.straights)]
        uses = []
        for straights in (run.straights, backwards):
            tension, pressed = pulled(run, straights, weight, wedged)
            asked = [(tension / bears, tension, bears),
                     (share * pressed / figures.SIDE_N_PER_M, share * pressed, figures.SIDE_N_PER_M)]  # fmt: skip
            uses.append(max(asked))
        use, value, limit = min(uses)
        verdict = "pass" if use <= 1 else "fail"
        rows.append(check("pulling.tension", run.tags, verdict, value, limit, f"{weight:.3f} N/m, Wc {wedged:.3f}"))
    return rows


def checks(lying: Lying) -> list[Row]:
    """Return all rows."""
    return [*jams(lying), *together(lying), *bends(), *pulls(lying)]
