"""Tables of figures: CSV files in which every row names its source."""

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import dataclass

from checker.errors import PluginError

#: What every row says beside its figures, and why.
STANDS_BEHIND = {
    "source": "every figure needs its source beside it",
    "confidence": "every row says how sure its figures are, as high or medium",
}


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
            PluginError: It has no rows, or a row has no ``source`` or ``confidence``, or another number of cells than the header.
        """
        where = f"(from {distribution})"
        rows = list(csv.DictReader(io.StringIO(text)))
        if not rows:
            hint = "write a line of column names and a line for each row, or leave the file out"
            raise PluginError(f"table {name} {where}", "it has no rows", hint)
        if absent := [column for column in STANDS_BEHIND if column not in rows[0]]:
            hint = "; ".join(STANDS_BEHIND[column] for column in absent)
            raise PluginError(f"table {name} {where}", f"it lacks the column {' and '.join(absent)}", hint)
        for number, row in enumerate(rows, start=2):
            at = f"table {name}, line {number} {where}"
            if None in row or None in row.values():
                what = "it has another number of cells than the header"
                raise PluginError(at, what, "mend the table in that distribution")
            for column, why in STANDS_BEHIND.items():
                if not row[column].strip():
                    raise PluginError(at, f"the row names no {column}", f"{why}; mend the table in that distribution")
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
