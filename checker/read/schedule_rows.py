"""Sorts the lines of a schedule: rows of circuits, rows that are lost, and lines that certainly hold no cable. All are accounted for."""

import re
from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass, field

from checker.model import Problem, ProblemKind
from checker.model.texts import quoted
from checker.read.cells import Row
from checker.read.schedule_header import Header
from checker.read.schedule_tables import Table
from checker.read.schedule_words import KNOWN, LISTS, MAY_BE_TOTALLED, NEEDED, NUMBERS, TOTALS, UNITS, normal
from checker.read.sheet import Cell, Line, Sheet
from checker.read.sheet_numbers import Usage, usage_of, without_unit

#: What may be said of a group of circuits as well as of one.
MAY_HEAD = frozenset({"circuit", "from", "to", "service"})
IF_HEADING = "if it is a heading, name it in wayroom.toml, [schedule] group_headings, or merge it over the columns of mark and ends"
WHY_LOST = "what it holds could lie in any carrier"
NO_CABLE = "so it is taken to hold no cable"


@dataclass(slots=True)
class Sorted:
    """The rows of a schedule: those with a mark in order, numbers of those that are lost, and what had to be said."""

    rows: list[Row] = field(default_factory=list)
    lost: list[int] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def sort_rows(sheet: Sheet, tables: Iterable[Table], group_headings: Iterable[str] = ()) -> Sorted:
    """The rows of all tables.

    A line holds certainly no cable if it stands right below a header and holds only units; if it begins with a word for a total and has
    nothing of ours besides but what is added up; or if it is a heading. A heading has text in one cell only, which is one of
    ``group_headings``; or is merged over the columns of mark and ends; or stands in a further column; or has several words and no digit,
    and stands in a column of ends or services. A mark alone is a circuit of which nothing else is known; several words alone in that
    column are lost, since they may be either. So is any other line without a mark, and one with more cells than its header, blank or not,
    since a separator within a cell may have moved them: what it holds could lie anywhere.
    """
    tables = list(tables)
    sorter = _Sorter(sheet, _usage(sheet, tables), _shapes_of_marks(tables), frozenset(map(normal, group_headings)))
    for table in tables:
        if table.header is None:
            sorter.found.lost.extend(line.number for line in table.lines)
        else:
            sorter.sort(table, table.header)
    return sorter.finished()


@dataclass(slots=True)
class _Sorter:
    """Sorts lines. ``shapes``: how marks are written; ``beside``: numbers of lines with cells in columns without a heading."""

    sheet: Sheet
    usage: Usage
    shapes: Set[str]
    group_headings: Set[str]
    found: Sorted = field(default_factory=Sorted)
    beside: list[int] = field(default_factory=list)

    def sort(self, table: Table, header: Header) -> None:
        """Sorts the lines below one header."""
        taken = {*header.places.values(), *header.others}
        width = max(header.line.width, max(header.line.cells) + 1)
        if self._ends_in_separators(table, header, width):
            longest, numbers = table.lines[0].width, [line.number for line in table.lines]
            what = f"all rows have {longest} cells, the header {width}, and none has anything beyond it"
            why, hint = "the last separators are taken for nothing", "check that what holds a separator is in quotes"
            told = Problem(self.sheet.at(*numbers), what, why, hint, ProblemKind.ASSUMPTION, len(numbers))
            self.found.problems.append(told)
            width = longest
        for place, line in enumerate(table.lines):
            what = "it is a row of units" if place == 0 and table.has_units else self._no_cable(line, header)
            if what:
                hint = "if it is a circuit's, give its mark, ends, cable and count"
                told = Problem(self.sheet.at(line.number), what, NO_CABLE, hint, ProblemKind.ASSUMPTION)
                self.found.problems.append(told)
                continue
            row = _row(self.sheet, line, header, self.usage)
            if any(place not in taken for place in line.cells):
                self.beside.append(line.number)
            if self._is_lost(line, row, width):
                self.found.lost.append(line.number)
                self.found.problems.extend(row.problems)
                continue
            if len(line.cells) == 1:
                what = f"{quoted(row.text('circuit'))} stands alone"
                why = "it is taken for a circuit's mark, and the rest isn't known"
                row.note("circuit", what, why, IF_HEADING, ProblemKind.ASSUMPTION)
            self.found.rows.append(row)

    def finished(self) -> Sorted:
        """What was found, with what is told once for all lines that it is about."""
        self.found.lost = sorted({*self.found.lost, *self.sheet.doubtful})
        if self.beside:
            what, why = "there are cells in columns without a heading", "they are used for nothing"
            hint, count = "give the column a heading, if it should be kept", len(self.beside)
            told = Problem(self.sheet.at(*self.beside), what, why, hint, ProblemKind.ASSUMPTION, count)
            self.found.problems.append(told)
        return self.found

    def _is_lost(self, line: Line, row: Row, width: int) -> bool:
        """Whether it isn't known whose a row is, which is told."""
        mark = row.text("circuit")
        if self.sheet.shifts and line.width > width:
            what, hint = f"it has {line.width} cells, the header {width}", "put quotes round what holds the separator"
            row.complain("row", what, f"so which is which isn't known, and {WHY_LOST}", hint)
        elif not mark:
            row.complain("circuit", "the row names no circuit", WHY_LOST, "give the circuit's mark")
        elif len(line.cells) == 1 and _is_prose(mark) and _shape(mark) not in self.shapes:
            what = f"{quoted(mark)} stands alone, and could be a heading or a circuit's mark"
            row.complain("circuit", what, WHY_LOST, f"{IF_HEADING}; if it is a circuit, give the rest")
        else:
            return False
        return True

    def _ends_in_separators(self, table: Table, header: Header, width: int) -> bool:
        """Whether rows are longer than their header only because each was written with separators at its end.

        One within a cell, without quotes, makes some rows longer and not all, and fills the cell to the right. Where one could have made
        all of them longer alike, it isn't so.
        """
        lines, places = table.lines, header.places
        if len(lines) < 2 or len({line.width for line in lines}) > 1 or lines[0].width <= width:
            return False
        if any(max(line.cells) >= width for line in lines):
            return False
        if self.sheet.point_is_plain and not self.usage.decimals:
            return False  # commas separate the cells, and each row may have one in a number
        ends = {places[name] for name in (*NEEDED, *LISTS) if name in places}
        named = {normal(cell.text) for line in lines for place, cell in line.cells.items() if place in ends}
        beside = {places[name] + 1 for name in LISTS if name in places} - ends
        right = (cell for line in lines for place, cell in line.cells.items() if place in beside)
        return not any(normal(cell.text) in named for cell in right)

    def _no_cable(self, line: Line, header: Header) -> str:
        """Why a line certainly holds no cable; empty where it may hold one."""
        names = {place: ours for ours, place in header.places.items()}
        place = min(line.cells)
        first, column = line.cells[place], names.get(place, "")
        columns = {names.get(place, "") for place in line.cells}
        is_total = normal(first.text).rstrip(": ") in TOTALS
        if is_total and column in MAY_HEAD and columns <= MAY_BE_TOTALLED | {column, ""}:
            return f"it is a total: {quoted(first.text.strip())}"
        if any(cell.defect for cell in line.cells.values()):
            return ""
        if len(line.cells) > 1 or not columns <= MAY_HEAD | {""}:
            return ""
        ends = [header.places[name] for name in NEEDED]
        is_across = place <= min(ends) and max(ends) < place + first.columns
        is_named = normal(first.text) in self.group_headings
        if not (column == "" or is_across or is_named or (column != "circuit" and _is_prose(first.text))):
            return ""
        return f"it has text in one cell only, {quoted(first.text.strip())}: a heading"


def _is_prose(text: str) -> bool:
    return len(text.split()) > 1 and not any(sign.isdigit() for sign in text)


def _shapes_of_marks(tables: Iterable[Table]) -> set[str]:
    """How marks are written that have more beside them."""
    return {
        _shape(line.cells[table.header.places["circuit"]].text)
        for table in tables
        if table.header is not None
        for line in table.lines
        if table.header.places["circuit"] in line.cells and len(line.cells) > 1
    }


def _shape(text: str) -> str:
    """How a text is written: runs of letters, digits, and what is between. ``DB1/9`` and ``LP12/3`` are alike."""
    return re.sub(r"[^\W\d_]+", "a", re.sub(r"\d+", "9", normal(text)))


def _usage(sheet: Sheet, tables: Iterable[Table]) -> Usage:
    """What the numbers of the file show of the signs in them."""
    return usage_of(_numbers(tables), point_is_plain=sheet.point_is_plain)


def _numbers(tables: Iterable[Table]) -> Iterator[str]:
    """Texts without their units in all columns of numbers."""
    for table in tables:
        places = table.header.places if table.header is not None else {}
        columns = [(places[name], UNITS.get(name, ())) for name in NUMBERS if name in places]
        for line in table.lines:
            for place, units in columns:
                if place in line.cells and not line.cells[place].is_number:
                    yield without_unit(line.cells[place].text.strip(), units).rstrip("% ")


def _row(sheet: Sheet, line: Line, header: Header, usage: Usage) -> Row:
    """A line as a row by columns. A cell of ours that isn't believed is told, and blank."""
    nothing = Cell("")
    found = {ours: line.cells.get(place, nothing) for ours, place in header.places.items()}
    others = {}
    for place, name in header.others.items():
        cell = line.cells.get(place, nothing)
        others[name if name not in KNOWN else f"{name} (not read)"] = cell.text or cell.defect
    cells = others | {ours: "" if cell.defect else cell.text for ours, cell in found.items()}
    exact = frozenset(ours for ours, cell in found.items() if cell.is_number)
    row = Row(sheet.place, line.number, cells, usage, sheet.word, exact)
    for ours, cell in found.items():
        if cell.defect:
            row.complain(ours, cell.defect, "so it isn't known", cell.hint)
    return row
