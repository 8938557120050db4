"""Tables of figures: CSV files in which every row names its source."""

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import dataclass

from checker.errors import PluginError


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """A table of a code or a catalogue, as text; its users turn cells into numbers where they know the unit."""

    name: str
    rows: tuple[Mapping[str, str], ...]
    sha256: str = ""

    @classmethod
    def parse(cls, name: str, text: str, *, distribution: str = "", sha256: str = "") -> "Table":
        """Reads a CSV with a header row.

        Raises:
            PluginError: A row has no ``source``, or another number of cells than the header.
        """
        rows = list(csv.DictReader(io.StringIO(text)))
        for number, row in enumerate(rows, start=2):
            if None in row or None in row.values():
                raise PluginError(
                    f"table {name}, line {number} (from {distribution})",
                    "it has another number of cells than the header",
                    "mend the table in that distribution",
                )
            if not row.get("source", "").strip():
                raise PluginError(
                    f"table {name}, line {number} (from {distribution})",
                    "the row names no source",
                    "every figure needs its source beside it; mend the table in that distribution",
                )
        return cls(name, tuple(rows), sha256)

    def find(self, **cells: str) -> Mapping[str, str] | None:
        """The first row with these cells; None where there is none."""
        return next((row for row in self.rows if all(row[name] == text for name, text in cells.items())), None)


def number(text: str) -> float | None:
    """A cell as a number; None where it is empty.

    Raises:
        ValueError: It is neither, or no finite number.
    """
    value = float(text) if text.strip() else None
    if value is not None and not math.isfinite(value):
        raise ValueError(f"{text.strip()!r} is no figure")
    return value
