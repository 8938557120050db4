"""Cells of a schedule: text to numbers and words, each defect told and none raised."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from checker.model import Problem

WordT = TypeVar("WordT")


@dataclass(slots=True)
class Row:
    """One row of a schedule: its line, its cells by column, and what couldn't be read of it.

    ``decimal_comma``: commas aren't what separates cells, so they may stand for a decimal point.
    """

    file: str
    line: int
    cells: Mapping[str, str]
    decimal_comma: bool
    problems: list[Problem] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)

    def text(self, column: str) -> str:
        """A cell without blanks around it; empty where there is none."""
        return (self.cells.get(column) or "").strip()

    def complain(self, column: str, what: str, why: str, hint: str) -> None:
        """Notes that a cell can't be read."""
        self.unread.append(column)
        self.problems.append(Problem(f"{self.file}, line {self.line}, {column}", what, why, hint))

    def number(self, column: str, *, above: float | None = 0.0) -> float | None:
        """A number greater than ``above``; None where the cell is empty or can't be read, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        plain = text.replace(",", ".") if self.decimal_comma else text
        try:
            value = float(plain)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            self.complain(column, f"{text!r} isn't a number", "the cell is left out", "write a plain number, as 2.5")
            return None
        if above is not None and value <= above:
            self.complain(column, f"{text} isn't more than {above:g}", "the cell is left out", "mend the number")
            return None
        return value

    def whole(self, column: str, *, least: int) -> int | None:
        """A whole number of at least ``least``; None where the cell is empty or can't be read."""
        value = self.number(column, above=None)
        if value is None:
            return None
        if value != int(value) or value < least:
            self.complain(
                column,
                f"{self.text(column)} isn't a whole number from {least}",
                "the cell is left out",
                "mend the number",
            )
            return None
        return int(value)

    def word(self, column: str, read: Callable[[str], WordT], choices: str) -> WordT | None:
        """One of a few words, any case; None where the cell is empty or holds another, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        try:
            return read(text.lower())
        except ValueError:
            self.complain(column, f"{text!r} isn't one of {choices}", "the cell is left out", "use one of those words")
            return None
