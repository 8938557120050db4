"""The tables of the rating rules as dictionaries, each read once; and what a figure is that a rule takes from one."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from checker.model import CircuitLoad, Enclosure
from checker.rule import Rating, Table, Verdict
from checker.rule.lookup import Steps
from checker.rule.needs import of_circuit

#: So that what equals its limit on paper isn't failed by the last bit of a float.
EXACTLY = 1e-9
#: What the air round conductors is taken for where nothing is said.
USUAL_AMBIENT_C = 30.0
#: More reasons than this aren't told one by one.
MOST_REASONS = 3
#: More circuits than this aren't named one by one.
MOST_NAMED = 12

#: What is asked for where a doubt of the live conductors begins with the name of a column.
ASKED_FOR = {
    "csa_mm2": "conductor size", "awg_kcmil": "conductor size", "count": "number of cables", "sets": "sets",
    "cores": "number of cores of the cables", "diameter_mm": "diameter of the cables",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with where it comes from; None: there is none, and ``why`` says why.

    ``words``: what it was looked up for. ``assumed``: what was taken as it wasn't given. ``need``: what would give it, or empty.
    """

    value: float | None
    source: str = ""
    why: str = ""
    assumed: str = ""
    words: str = ""
    need: str = ""

    @property
    def cited(self) -> str:
        """What it was looked up for, and where."""
        return f"{self.words}: {self.source}" if self.words else self.source


@lru_cache(maxsize=16)
def base_ratings(table: Table) -> Mapping[tuple[str, int, str, float], Figure]:
    """(insulation, loaded, method, mm²) → A."""
    return {
        (row["insulation"], int(row["loaded"]), row["method"], float(row["csa_mm2"])): Figure(
            float(row["amps"]), row["source"]
        )
        for row in table.rows
    }


@lru_cache(maxsize=16)
def by_temperature(table: Table) -> Mapping[str, tuple[tuple[float, Figure], ...]]:
    """Insulation → its (ambient in °C, factor), the coolest first."""
    found: dict[str, list[tuple[float, Figure]]] = {}
    for row in table.rows:
        found.setdefault(row["insulation"], []).append(
            (float(row["ambient_c"]), Figure(float(row["factor"]), row["source"]))
        )
    return {key: tuple(sorted(rows, key=lambda row: row[0])) for key, rows in found.items()}


@lru_cache(maxsize=64)
def by_count(table: Table, count: str, keys: tuple[tuple[str, str], ...]) -> tuple[tuple[int, Figure], ...]:
    """(count, factor) of the rows with these cells, the fewest first. ``count`` is the column of the count."""
    return tuple(
        sorted(
            (
                (int(row[count]), Figure(float(row["factor"]), row["source"]))
                for row in table.rows
                if all(row[name] == text for name, text in keys)
            ),
            key=lambda row: row[0],
        )
    )


@lru_cache(maxsize=16)
def insulations(table: Table) -> Mapping[str, Mapping[str, str]]:
    """A cable's insulation in one word → its row."""
    return {row["word"]: row for row in table.rows}


@lru_cache(maxsize=16)
def size_order(table: Table) -> Mapping[float, int]:
    """Standard cross-section in mm² → its place in the series."""
    return {float(row["csa_mm2"]): place for place, row in enumerate(table.rows)}


def at_least(rows: tuple[tuple[int, Figure], ...], count: int) -> Figure | None:
    """The figure of a count; between two counts the lower factor of both. None beyond the end."""
    return Steps(rows).safer(count, lambda figure: figure.value or 0.0).value


def named(marks: Iterable[str]) -> str:
    """Marks in order, the first few of many."""
    ordered = sorted(marks)
    more = len(ordered) - MOST_NAMED
    return ", ".join(ordered[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def with_short(verdict: Verdict, enclosures: Iterable[Enclosure]) -> Verdict:
    """A verdict that says in which enclosures on its way the circuit carries too little."""
    keys = tuple(dict.fromkeys(enclosure.carrier.key for enclosure in enclosures))
    return replace(verdict, rating=replace(verdict.rating or Rating(), short=keys))


def needs_of(needs: Iterable[str]) -> tuple[str, ...]:
    """What would settle all of several doubts; nothing where one of them is blank, so that it isn't known what would."""
    found = tuple(dict.fromkeys(needs))
    return () if "" in found else found


def need_of_doubt(load: CircuitLoad) -> str:
    """What would settle which conductors are live: the column that its doubt is about, where it is about one."""
    return of_circuit(ASKED_FOR.get(load.doubt.split(" ", 1)[0], "live conductors"), load.mark)


def need_of_current(load: CircuitLoad, column: str, name: str) -> tuple[str, ...]:
    """What would give a current of the schedule, where there is none."""
    is_open = column in load.unread or getattr(load, column) is None
    return (of_circuit(name, load.mark),) if is_open else ()


def few(reasons: Iterable[str]) -> list[str]:
    """The first of many reasons, and how many more there are: on a long way the same one comes back at every length."""
    found = list(dict.fromkeys(reasons))
    more = len(found) - MOST_REASONS
    return found if more <= 0 else [*found[:MOST_REASONS], f"and {more} more like these"]


def current(load: CircuitLoad, column: str, name: str) -> tuple[float | None, str]:
    """A current of the schedule in A, or why there is none."""
    if column in load.unread:
        return None, f"its {name} can't be read"
    value: float | None = getattr(load, column)
    return value, "" if value is not None else f"its {name} isn't given"
