"""Cells of a schedule: text to numbers and words, each defect told and none raised."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from checker.model import Problem, ProblemKind
from checker.model.texts import quoted

WordT = TypeVar("WordT")
PLAIN_NUMBER = re.compile(r"[+-]?\d{1,15}(\.\d{1,15})?([eE][+-]?\d{1,2})?")
#: A spreadsheet may write 3 as 3.0; anything longer behind the point may as well be thousands.
WHOLE_NUMBER = re.compile(r"(\d{1,6})([.,]0)?")


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

    def complain(self, column: str, what: str, why: str, hint: str, kind: ProblemKind = ProblemKind.GAP) -> None:
        """Notes that a cell can't be read."""
        self.unread.append(column)
        self.note(column, what, why, hint, kind)

    def note(self, column: str, what: str, why: str, hint: str, kind: ProblemKind) -> None:
        """Notes something about a cell that was read."""
        self.problems.append(Problem(f"{self.file}, line {self.line}, {column}", what, why, hint, kind))

    def leave_out(self, column: str, what: str, hint: str) -> None:
        """Notes that a cell holds a figure that can't be, so that it isn't known."""
        self.complain(column, what, "so it isn't known", hint, ProblemKind.CORRECTION)

    def number(self, column: str, *, above: float | None = 0.0) -> float | None:
        """A number greater than ``above``; None where the cell is empty or can't be read, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        plain = text.replace(",", ".") if self.decimal_comma else text
        if not PLAIN_NUMBER.fullmatch(plain) or not math.isfinite(float(plain)):
            self.complain(column, f"{quoted(text)} isn't a number", "so it isn't known", "write a plain number, as 2.5")
            return None
        value = float(plain)
        if above is not None and value <= above:
            self.leave_out(column, f"{quoted(text)} isn't more than {above:g}", "mend the number")
            return None
        return value

    def share(self, column: str) -> float | None:
        """A share: a ratio, or a percentage with its sign."""
        text = self.text(column)
        if text.endswith("%"):
            bare = text[:-1].strip().replace(",", "." if self.decimal_comma else ",")
            if PLAIN_NUMBER.fullmatch(bare):
                return float(bare) / 100.0
        return self.number(column, above=None)

    def whole(self, column: str, *, least: int) -> int | None:
        """A whole number of at least ``least``; None where the cell is empty or can't be read."""
        text = self.text(column)
        if not text:
            return None
        found = WHOLE_NUMBER.fullmatch(text)
        if found is None or int(found[1]) < least:
            what = f"{quoted(text)} isn't a whole number from {least}"
            kind = ProblemKind.GAP if found is None else ProblemKind.CORRECTION
            self.complain(column, what, "so it isn't known", f"write a whole number from {least}", kind)
            return None
        return int(found[1])

    def word(self, column: str, read: Callable[[str], WordT], choices: str) -> WordT | None:
        """One of a few words, any case; None where the cell is empty or holds another, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        try:
            return read(text.lower())
        except ValueError:
            self.complain(
                column, f"{quoted(text)} isn't one of {choices}", "so it isn't known", "use one of those words"
            )
            return None
