"""Cells of a schedule: text to numbers and words, each defect told and none raised."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from checker.model import Problem, ProblemKind
from checker.model.texts import quoted
from checker.read.project_cables import V_PER_KV
from checker.read.schedule_words import UNITS
from checker.read.sheet_numbers import WITH_UNIT, Usage, without_unit

WordT = TypeVar("WordT")
PLAIN_NUMBER = re.compile(r"[+-]?[0-9]{1,15}(\.[0-9]{1,15})?([eE][+-]?[0-9]{1,2})?")
#: Two numbers, with a sign or word between them, for all that lies between; each with or without a unit.
RANGE = re.compile(
    r"([0-9][0-9.,]*?)\s*([^0-9\s.,–—−-]*?)\s*(?:-|–|—|−|\bto\b|\.{2,3}|…)\s*([0-9][0-9.,]*)\s*([^0-9\s.,–—−-]*)"
)
#: No range is longer; many blanks in a row would keep the pattern busy.
LONGEST_RANGE = 60
#: A spreadsheet may write 3 as 3.0; anything longer behind the point may as well be thousands.
WHOLE_NUMBER = re.compile(r"([0-9]{1,6})([.,]0)?")
#: For a mistake by the factor of a thousand there is no safe side here: a point isn't taken for a decimal one unless the file shows it.
NEVER_BY_DEFAULT = frozenset({"design_current_a", "device_rating_a", "mass_kg_per_km"})
#: What the columns of voltages are of.
VOLTAGES = {"voltage_v": "circuit", "rated_voltage_v": "cable's rating"}


@dataclass(slots=True)
class Row:
    """One row of a schedule, or what several say of one circuit: its line, its cells by column, and what couldn't be read of it.

    Attributes:
        place: What the sheet is called in problems.
        line: The row's number there.
        cells: Texts by column.
        usage: What signs in the file's numbers mean.
        word: What a row is called there, ``line`` or ``row``.
        exact: Columns whose cells are numbers to the program that wrote them.
        lines: Numbers of rows by column, where cells come from several rows.
    """

    place: str
    line: int
    cells: Mapping[str, str]
    usage: Usage
    word: str = "line"
    exact: frozenset[str] = frozenset()
    lines: Mapping[str, int] = field(default_factory=dict)
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
        where = f"{self.place}, {self.word} {self.lines.get(column, self.line)}, {column}"
        self.problems.append(Problem(where, what, why, hint, kind))

    def leave_out(self, column: str, what: str, hint: str) -> None:
        """Notes that a cell holds a figure that can't be, so that it isn't known."""
        self.complain(column, what, "so it isn't known", hint)

    def number(self, column: str, *, above: float | None = 0.0) -> float | None:
        """A number greater than ``above``; None where the cell is empty or can't be read, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        value = self._value(column, without_unit(text, UNITS.get(column, ())))
        if value is not None and above is not None and value <= above:
            self.leave_out(column, f"{quoted(text)} isn't more than {above:g}", "mend the number")
            return None
        return value

    def volts(self, column: str, *, least: float) -> float | None:
        """A voltage of at least ``least`` volts; a lower one can't be, and is told. None as of ``number``."""
        value = self.number(column)
        if value is not None and value < least:
            hint = f"give it in volts: {value:g} kV is {value * V_PER_KV:g}"
            self.leave_out(column, f"{value:g} V is too low for a {VOLTAGES[column]}", hint)
            return None
        return value

    def span(self, column: str) -> tuple[float, float] | None:
        """A number greater than 0 twice, or the two ends of a range of such; None where the cell is empty or can't be read."""
        text = self.text(column)
        is_text = column not in self.exact and len(text) <= LONGEST_RANGE
        found = RANGE.fullmatch(text) if is_text else None
        if found is None or not {found[2], found[4]} <= {"", *UNITS.get(column, ())}:
            value = self.number(column)
            return None if value is None else (value, value)
        least = self._value(column, found[1])
        most = None if least is None else self._value(column, found[3])
        if least is None or most is None:
            return None
        if least <= 0.0 or least > most:
            what = "isn't more than 0" if least <= 0.0 else "has its larger end first"
            self.leave_out(column, f"the range {quoted(text)} {what}", "write the smaller end first, as 10.9-12.4")
            return None
        return least, most

    def _value(self, column: str, bare: str) -> float | None:
        """The number that a text without a unit is, whatever its sign."""
        text = self.text(column)
        if column in self.exact:
            return float(bare)
        plain = self.usage.plain(bare, by_default=column not in NEVER_BY_DEFAULT)
        if plain is None:
            hint = "write it without a separator of thousands, or with another number of decimals"
            what = f"{quoted(text)} could be thousands or thousandths"
            self.complain(column, what, "so it isn't known", hint)
            return None
        if PLAIN_NUMBER.fullmatch(plain) and math.isfinite(float(plain)):
            return float(plain)
        unit = f" in {UNITS[column][0]}" if column in UNITS and WITH_UNIT.fullmatch(bare) else ""
        hint = "write a plain number, as 2.5"
        self.complain(column, f"{quoted(text)} isn't a number{unit}", "so it isn't known", hint)
        return None

    def share(self, column: str) -> float | None:
        """A share: a ratio, or a percentage with its sign."""
        text = self.text(column)
        if not text.endswith("%"):
            return self.number(column, above=None)
        value = self._value(column, text[:-1].strip())
        return None if value is None else value / 100.0

    def whole(self, column: str, *, least: int) -> int | None:
        """A whole number of at least ``least``; None where the cell is empty or can't be read."""
        text = self.text(column)
        if not text:
            return None
        found = WHOLE_NUMBER.fullmatch(text)
        if found is None or int(found[1]) < least:
            what = f"{quoted(text)} isn't a whole number from {least}"
            self.leave_out(column, what, f"write a whole number from {least}")
            return None
        return int(found[1])

    def word_of(self, column: str, read: Callable[[str], WordT], choices: str) -> WordT | None:
        """One of a few words, any case; None where the cell is empty or holds another, the latter with a problem."""
        text = self.text(column)
        if not text:
            return None
        try:
            return read(text)
        except ValueError:
            self.complain(
                column, f"{quoted(text)} isn't one of {choices}", "so it isn't known", "use one of those words"
            )
            return None
