"""Splits a schedule's lines into tables: one below each header, since a page or a floor may have a header of its own with other columns."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.read.schedule_header import Columns, Header, Headings
from checker.read.schedule_words import NEEDED, NO_UNIT, OTHER_UNITS, UNITS, normal
from checker.read.sheet import Line, Sheet

#: Every unit, for columns that aren't ours.
ANY_UNIT = OTHER_UNITS | frozenset(unit.casefold() for units in UNITS.values() for unit in units)
#: No schedule has more headers that differ.
MOST_HEADERS = 40


@dataclass(slots=True)
class Table:
    """Lines below one header. ``header`` is None where it can't be told from ``line`` which columns they have: then they are lost."""

    line: Line
    header: Header | None
    lines: list[Line] = field(default_factory=list)

    @property
    def has_units(self) -> bool:
        """Whether its first line is a row of units."""
        return self.header is not None and bool(self.lines) and _is_units(self.lines[0], self.header)


@dataclass(slots=True)
class Tables:
    """All tables of a schedule in order, numbers of lines that repeat the header above them, and of those that are a title."""

    tables: list[Table] = field(default_factory=list)
    repeated: list[int] = field(default_factory=list)
    titles: list[int] = field(default_factory=list)

    @property
    def headers(self) -> list[Header]:
        """The different headers with rows below them; the first where none has any."""
        whole = [(table.header, table.lines) for table in self.tables if table.header is not None]
        different: dict[Columns, Header] = {}
        for header, lines in whole:
            if lines:
                different.setdefault(header.columns, header)
        return list(different.values()) or [header for header, _ in whole[:1]]

    def problems(self, sheet: Sheet, headings: Headings) -> Iterator[Problem]:
        """What is told of headers and of what stands above the first."""
        if self.titles:
            what, hint = "what stands above the header is taken for a title", "move circuits below the header"
            yield Problem(sheet.at(*self.titles), what, "it is used for nothing", hint, ProblemKind.INFERENCE)
        if self.repeated:
            what, why = "the header is repeated", "so it is taken to hold no cable"
            hint, count = "nothing, if it does", len(self.repeated)
            yield Problem(sheet.at(*self.repeated), what, why, hint, ProblemKind.ASSUMPTION, count)
        used = [table for table in self.tables if table.lines]
        empty = [table.line.number for table in self.tables if not table.lines and table.line.number not in self.titles]
        if empty and used:
            what, why = "a header has no rows below it", "so it is taken to hold no cable"
            hint, count = "nothing, if it has none", len(empty)
            yield Problem(sheet.at(*empty), what, why, hint, ProblemKind.ASSUMPTION, count)
        whole = [table for table in used if table.header is not None]
        others = [table.line.number for table in whole[1:]]
        if others:
            what, why = "another header stands there, with other columns", "the rows below it are read by it"
            hint = "check that its columns are those of the rows below it"
            yield Problem(sheet.at(*others), what, why, hint, ProblemKind.INFERENCE, len(others))
        for table in used:
            if table.header is None:
                what = f"a header stands there {headings.wrong_with(table.line)}"
                why = "so what the rows below it hold isn't known, and could lie in any carrier"
                hint = f"give it the columns {', '.join(headings.called(name) for name in NEEDED)}, each once"
                yield Problem(sheet.at(table.line.number), what, why, hint, elements=len(table.lines))


def split(sheet: Sheet, header: Header, headings: Headings) -> Tables:
    """The tables of a sheet, ``header`` being the first that has all needed columns.

    A header is repeated if all columns stand in the same places. Else it is another: the lines below it are read by it.

    Raises:
        InputError: It has more different headers than any schedule.
    """
    found = Tables()
    for line in sheet.lines[: header.index]:
        if headings.heads_circuits(line, only_circuits=True):
            found.tables.append(Table(line, None))
        elif found.tables:
            found.tables[-1].lines.append(line)
        else:
            found.titles.append(line.number)
    found.titles = sorted(found.titles + [table.line.number for table in found.tables if not table.lines])
    different = {header.columns}
    table = Table(header.line, header)
    found.tables.append(table)
    for place, line in enumerate(sheet.lines[header.index + 1 :], header.index + 1):
        is_units = not table.lines and table.header is not None and _is_units(line, table.header)
        if is_units or not headings.heads_circuits(line):
            table.lines.append(line)
            continue
        other = headings.header_in(line, place)
        if other is not None and table.header is not None and other.columns == table.header.columns:
            found.repeated.append(line.number)
            continue
        different |= {other.columns} if other is not None else set()
        if len(different) > MOST_HEADERS:
            what = f"it has more than {MOST_HEADERS} different headers, which no schedule has"
            raise InputError(f"{sheet.in_errors}, {sheet.word} {line.number}", what, "check that it is the schedule")
        table = Table(line, other)
        found.tables.append(table)
    return found


def _is_units(line: Line, header: Header) -> bool:
    """Whether each cell is its column's unit, its heading again, or says that there is none; and at least one is a unit of ours."""
    names = {place: ours for ours, place in header.places.items()}
    words = [
        (names.get(place), normal(cell.text).strip("()[] "))
        for place, cell in line.cells.items()
        if place not in header.line.cells or normal(cell.text) != normal(header.line.cells[place].text)
    ]
    units = [(column, word) for column, word in words if word not in NO_UNIT]
    return any(column in UNITS for column, _ in units) and all(
        word in (ANY_UNIT if column is None else {unit.casefold() for unit in UNITS.get(column, ())})
        for column, word in units
    )
