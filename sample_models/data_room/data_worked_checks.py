"""The paper calculation of what else is asked: how near data lies to power, what pairs share, what ladders bear, in how many tiers.

Each answer is a row of the table `check`. What lies beside what is read off the plan by hand.
"""

import math
from collections.abc import Iterable, Mapping, Sequence

import data_worked_figures as figures
from data_worked_ways import APART, SHARING

Row = dict[str, object]

# Data basket, power ladder; how far apart they are sideways and upwards, mm; circuits of 20 A in the ladder, None: not known, as B106
# has no device. A tap box has 32 or 40 A, two of 20 A; a cooling unit 40 A in three phases, six; PN-01 63 A in three phases, twelve.
# Over the rows: 500 from axis to axis less twice 150; from the top of a ladder at 7300 (7000) to the bottom of a basket at 7900
# 7870 - 7350 (7050). BD-31 and BD-32 are 200 wide: LB-06 and LB-07 700 - 150 - 100 from them, LA-06 1700 - 150 - 100. LA-31 lies
# 366 - 150 - 200 from BD-01. LA-22 with six and LB-22 with twelve are too far for as many; so is LA-07 from BD-31 and BD-32.
BESIDE: tuple[tuple[str, str, float, float, int | None], ...] = (
    ("BD-13", "LA-11", 200, 520, 6 * 2 + 6),
    ("BD-11", "LA-12", 200, 520, 3 * 2 + 6),
    ("BD-12", "LA-12", 200, 520, 3 * 2 + 6),
    ("BD-22", "LA-21", 200, 520, 6 * 2),
    ("BD-23", "LA-21", 200, 520, 6 * 2),
    ("BD-31", "LA-06", 1450, 520, 12 * 2 + 6),
    ("BD-01", "LA-31", 16, 0, 12),
    ("BD-13", "LB-11", 200, 820, None),
    ("BD-11", "LB-12", 200, 820, None),
    ("BD-12", "LB-12", 200, 820, None),
    ("BD-22", "LB-21", 200, 820, 6 * 2 + 6),
    ("BD-23", "LB-21", 200, 820, 6 * 2 + 6),
    ("BD-32", "LB-06", 450, 820, None),
    ("BD-31", "LB-07", 450, 820, None),
    ("BD-32", "LB-07", 450, 820, None),
)

# What DX-01 and DX-02 pass together, m, rack to rack: from x = 4.0 in BD-13, the whole of six baskets, to x = 4.0 in BD-23.
TOGETHER_M = 2.00 + 3.00 + 2.75 + 1.65 + 1.85 + 3.00 + 3.00 + 1.75

# Ladders that lie level with a load on them; LA-21 crosses LB-06, and nothing lies along another one.
LEVEL = (
    "LA-01 LA-02 LA-05 LA-06 LA-07 LA-11 LA-12 LA-21 LA-22 LA-31 LB-01 LB-02 LB-05 LB-06 LB-07 LB-11 LB-12 LB-21 LB-22"
)
ROW_LADDERS = "LA-06 LA-07 LA-11 LA-12 LA-21 LA-22 LA-31 LB-06 LB-07 LB-11 LB-12 LB-21 LB-22"


def check(rule: str, tags: Iterable[str], verdict: str, value: float, limit: float, working: str) -> Row:
    """Return one row."""
    return {
        "table": "check",
        "key": "; ".join(tags),
        "rule": rule,
        "value": f"{value:.2f}" if rule == "segregation.spacing" else f"{value:.4f}",
        "limit": f"{limit:g}",
        "verdict": verdict,
        "working": working,
    }


def spacings() -> list[Row]:
    """Return a row for each data basket beside a power ladder: what passes must as an open mesh, what fails as a perforated tray too."""
    rows = []
    for data, power, sideways, upwards, circuits in BESIDE:
        clear = math.hypot(sideways, upwards)
        number = math.inf if circuits is None else circuits
        factor = next(factor for most, factor in figures.POWER_FACTORS if number <= most)
        least, most = figures.PERFORATED_MM * factor, figures.OPEN_MM * factor
        if circuits is not None and clear < least:
            verdict, limit, words = "fail", least, f"{figures.PERFORATED_MM:g} × {factor:g}"
        else:
            verdict = "pass" if clear >= most else "unknown"
            limit, words = most, f"{figures.OPEN_MM:g} × {factor:g}"
        rows.append(check("segregation.spacing", sorted((data, power)), verdict, clear, limit, words))
    return rows


def pairs() -> list[Row]:
    """Return a row for each two circuits that go apart, by their marks: the metres that both pass of the same carriers."""
    rows = []
    for one, other in APART:
        shared = SHARING.get((one, other), "")
        value = TOGETHER_M if shared else 0.0
        rows.append(check("segregation.redundancy", (one, other), "fail" if shared else "pass", value, 0.0, shared))
    return rows


def loads(lying: Mapping[str, Sequence[tuple[int, float]]]) -> list[Row]:
    """Return a row for each row ladder: what a metre of it bears.

    Args:
        lying: By carrier, the number and the mass in kg/km of each row of the schedule.
    """
    rows = []
    for tag in ROW_LADDERS.split():
        cables = sum(number * mass for number, mass in lying[tag]) / 1000
        value, safe = cables + figures.LADDER_KG_PER_M, figures.LADDER_SAFE_KG_PER_M
        working = f"{cables:.3f} + {figures.LADDER_KG_PER_M:g}"
        rows.append(check("support.load", [tag], "pass" if value <= safe else "fail", value, safe, working))
    return rows


def spares(fills: Iterable[tuple[str, float, float]]) -> list[Row]:
    """Return a row for each carrier: its fill with the spare on top. Without a size it isn't known.

    Args:
        fills: By carrier, the least and the most that its fill can be; not a number where it has no size.
    """
    rows = []
    for tag, least, most in fills:
        limit = figures.FILL_LIMIT
        if math.isnan(least):
            row = check("fill.spare", [tag], "unknown", 0.0, limit, "no size") | {"value": ""}
        elif (1 + figures.SPARE) * least > limit:
            row = check(
                "fill.spare", [tag], "fail", (1 + figures.SPARE) * least, limit, f"{1 + figures.SPARE:g} × {least:.5f}"
            )
        else:
            verdict = "pass" if (1 + figures.SPARE) * most <= limit else "unknown"
            row = check(
                "fill.spare", [tag], verdict, (1 + figures.SPARE) * most, limit, f"{1 + figures.SPARE:g} × {most:.5f}"
            )
        rows.append(row)
    return rows


def checks(lying: Mapping[str, Sequence[tuple[int, float]]], fills: Iterable[tuple[str, float, float]]) -> list[Row]:
    """Return all rows; what lies where as for ``loads``, how full carriers are as for ``spares``."""
    tiers = [check("grouping.stacked", [tag], "pass", 1, 1, "one tier") for tag in LEVEL.split()]
    return [*spares(fills), *spacings(), *pairs(), *loads(lying), *tiers]
