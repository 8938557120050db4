"""The tables of NFPA 70 as dictionaries, each read once."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from checker.rule import Table, number
from checker.rule.lookup import Steps
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
    found = _by_ambient(table, column).next_higher(ambient_c).value
    if found is None:
        return Figure(None, why=f"conductors of {column} °C have no factor for an ambient of {ambient_c:g} °C")
    return replace(found, words=f"{ambient_c:g} °C, {column} °C column")


@lru_cache(maxsize=16)
def _by_ambient(table: Table, column: int) -> Steps[Figure]:
    """By the warmest ambient in °C that a row is for; of the rows that have a factor in the column."""
    factors = ((row, number(row[f"factor_{column}"])) for row in table.rows)
    return Steps.of(
        (float(row["ambient_most_c"]), Figure(factor, row["source"])) for row, factor in factors if factor is not None
    )


def adjustment_factor(table: Table, conductors: int) -> Figure:
    """The factor of so many current-carrying conductors; fewer than the table begins with aren't adjusted."""
    return _by_conductors(table).next_lower(conductors).value or Figure(1.0, table.rows[0]["source"])


@lru_cache(maxsize=16)
def _by_conductors(table: Table) -> Steps[Figure]:
    """By the fewest conductors that a row is for; the last row has no end."""
    return Steps.of(
        (int(row["conductors_least"]), Figure(float(row["percent"]) / 100.0, row["source"])) for row in table.rows
    )


@lru_cache(maxsize=16)
def standard_sizes(table: Table) -> tuple[float, ...]:
    """Standard ratings of devices in A, the smallest first."""
    return tuple(sorted(float(row["amps"]) for row in table.rows))
