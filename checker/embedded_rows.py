"""A schedule that a host program has as rows: mappings of columns to texts or numbers. The first is row 1; row 0 are their columns."""

import re
from collections.abc import Iterable, Mapping
from typing import TypeAlias

from checker.errors import InputError
from checker.model import Problem, ProblemKind, SourceFile
from checker.model.texts import quoted
from checker.read.project import Project
from checker.read.schedule import Schedule, schedule_of
from checker.read.schedule_header import Headings
from checker.read.schedule_words import KNOWN, NEEDED
from checker.read.sheet import MOST_CELLS, MOST_COLUMNS, Cell, Line, Sheet, text_cell
from checker.rule.catalogue import CableType

PLACE = "schedule"
WHAT_IS_ONE = "give a path, or rows that are mappings of columns to texts"
#: Digits that tell a float from every other that a person may have written.
DIGITS = 15
#: Signs that no text has, and halves of signs, which can't be written to any file.
CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
Rows: TypeAlias = Iterable[Mapping[str, str | float | None]]


def schedule_of_rows(rows: Rows, project: Project, catalogue: Mapping[str, CableType]) -> Schedule:
    """Reads rows as a schedule's file is read, with the same rules for headings, totals and whatever isn't understood.

    Args:
        rows: In order. Columns as the schedule's, or as the project file calls them; further ones are kept. None or blank: no value.
        project: The project file.
        catalogue: The cables that a row can name.

    Raises:
        InputError: A row or a value can't be one, or a needed column is missing.
    """
    headings = Headings(project.schedule)
    sheet = sheet_of_rows(rows, [headings.called(name) for name in KNOWN], [headings.called(name) for name in NEEDED])
    return schedule_of(sheet, project, catalogue, headings, SourceFile("schedule", PLACE, ""))


def sheet_of_rows(rows: object, known: Iterable[str], needed: Iterable[str]) -> Sheet:
    """Rows as a grid: its first line, number 0, holds all their columns.

    Args:
        rows: The rows.
        known: The columns that come first, in order; the rest follow by name, in whatever order the rows have them.
        needed: The columns of a schedule without rows.

    Raises:
        InputError: A row is no mapping, a column no text, a value neither text nor number, or there are too many.
    """
    if not isinstance(rows, Iterable):
        raise InputError(PLACE, f"a {type(rows).__name__} is no schedule", WHAT_IS_ONE)
    listed = [_checked(number, row) for number, row in enumerate(rows, start=1)]
    there = {name for row in listed for name in row} if listed else set(needed)
    first = [name for name in dict.fromkeys(known) if name in there]
    places = {name: place for place, name in enumerate([*first, *sorted(there.difference(first))])}
    if len(places) > MOST_COLUMNS:
        what = f"it has more than {MOST_COLUMNS} columns, which no schedule has"
        raise InputError(PLACE, what, "check that it is the schedule")
    lines = [Line(0, {place: Cell(name) for name, place in places.items() if name.strip()}, len(places))]
    controls: list[int] = []
    count = 0
    for number, row in enumerate(listed, start=1):
        if any(isinstance(value, str) and CONTROLS.search(value) for value in row.values()):
            controls.append(number)
        cells = {
            places[name]: _cell(value)
            for name, value in sorted(row.items(), key=lambda entry: places[entry[0]])
            if value is not None and str(value).strip()
        }
        count += len(cells)
        if cells:
            lines.append(Line(number, cells, len(places)))
    if count > MOST_CELLS:
        what = f"it has more than {MOST_CELLS} cells, which no schedule has"
        raise InputError(PLACE, what, "check that it is the schedule")
    sheet = Sheet(PLACE, PLACE, "row", tuple(lines), point_is_plain=True)
    if not controls:
        return sheet
    what, why, hint = "it holds control characters, which no text has", "each is shown as \ufffd", "take them out"
    told = Problem(sheet.at(*controls), what, why, hint, ProblemKind.CORRECTION, len(controls))
    return Sheet(PLACE, PLACE, "row", tuple(lines), point_is_plain=True, problems=(told,))


def _checked(number: int, row: object) -> Mapping[str, str | float | None]:
    where = f"{PLACE}, row {number}"
    if not isinstance(row, Mapping):
        raise InputError(where, f"it is a {type(row).__name__}, and no mapping", WHAT_IS_ONE)
    for name, value in row.items():
        if not isinstance(name, str) or CONTROLS.search(name):
            raise InputError(where, f"its column {name!a} is no text", "name columns as the schedule does")
        is_number = isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 10**DIGITS
        if not (value is None or isinstance(value, str) or is_number):
            what = f"what it has in {name!r}, {quoted(repr(value))}, is neither a text nor a number of a schedule"
            raise InputError(where, what, "write it as text, or give None where it isn't known")
    return row


def _cell(value: str | float | None) -> Cell:
    if isinstance(value, str):
        return text_cell(CONTROLS.sub("\ufffd", value))
    if isinstance(value, float) and not value.is_integer():
        return Cell(f"{value:.{DIGITS}g}", is_number=True)
    return Cell(str(int(value or 0)), is_number=True)
