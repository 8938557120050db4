"""The tables of NFPA 70 as dictionaries, each read once."""

from collections.abc import Mapping
from functools import lru_cache

from checker.rule import Table, number
from rules.grouping.figures import Figure

#: The columns of Table 310.16, in °C at the conductor.
COLUMNS_C = (60, 75, 90)


@lru_cache(maxsize=16)
def ampacities(table: Table) -> Mapping[str, Mapping[int, Figure]]:
    """Size, AWG or kcmil → column in °C → A, the thinnest size first."""
    return {
        row["awg_kcmil"]: {
            column: Figure(float(row[f"amps_{column}"]), row["source"], words=f"{column} °C column")
            for column in COLUMNS_C
        }
        for row in table.rows
    }


@lru_cache(maxsize=64)
def is_at_least(table: Table, size: str, least: str) -> bool:
    """Whether a size of the table is as thick as another one."""
    order = list(ampacities(table))
    return order.index(size) >= order.index(least)


def ambient_factor(table: Table, column: int, ambient_c: float) -> Figure:
    """The factor of a column; a temperature between two rows has that of the warmer one, and beyond the end there is none."""
    for row in table.rows:
        if ambient_c <= float(row["ambient_most_c"]):
            factor = number(row[f"factor_{column}"])
            if factor is not None:
                return Figure(factor, row["source"], words=f"{ambient_c:g} °C, {column} °C column")
            break
    return Figure(None, why=f"conductors of {column} °C have no factor for an ambient of {ambient_c:g} °C")


def adjustment_factor(table: Table, conductors: int) -> Figure:
    """The factor of so many current-carrying conductors; fewer than the table begins with aren't adjusted."""
    for row in table.rows:
        if int(row["conductors_least"]) <= conductors <= (number(row["conductors_most"]) or conductors):
            return Figure(float(row["percent"]) / 100.0, row["source"])
    return Figure(1.0, table.rows[0]["source"])


@lru_cache(maxsize=16)
def standard_sizes(table: Table) -> tuple[float, ...]:
    """Standard ratings of devices in A, the smallest first."""
    return tuple(sorted(float(row["amps"]) for row in table.rows))
