"""Sorts the lines of a schedule: rows of circuits, rows that are lost, and lines that certainly hold no cable. All are accounted for."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from checker.model import Problem, ProblemKind
from checker.model.texts import quoted
from checker.read.cells import Row
from checker.read.schedule_header import Header
from checker.read.schedule_words import KNOWN, NEEDED, NO_UNIT, NUMBERS, OTHER_UNITS, TOTALS, UNITS, normal
from checker.read.sheet import Cell, Line, Sheet
from checker.read.sheet_numbers import Usage, usage_of, without_unit

#: Every unit, for columns that aren't ours.
ANY_UNIT = OTHER_UNITS | frozenset(unit.casefold() for units in UNITS.values() for unit in units)
#: What may be said of a group of circuits as well: a line of nothing else is a heading, if it doesn't look like a circuit's mark.
MAY_HEAD = frozenset({"circuit", "from", "to", "service"})
WHY_LOST = "what it holds could lie in any carrier"
NO_CABLE = "so it is taken to hold no cable"


@dataclass(slots=True)
class Sorted:
    """The rows of a schedule: those with a mark in order, numbers of those that are lost, and what had to be said."""

    rows: list[Row] = field(default_factory=list)
    lost: list[int] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def sort_rows(sheet: Sheet, header: Header) -> Sorted:
    """The rows below the header.

    A line holds certainly no cable if it repeats the header; if it stands right below it and holds only units; if it begins with a word for
    a total and has neither ends nor a cable or size; or if it has text in one cell only, which is no column of cables, and that text isn't
    written like a circuit's mark. Any other line without a mark is lost: what it holds could lie anywhere.
    """
    below = sheet.lines[header.index + 1 :]
    names = {place: ours for ours, place in header.places.items()}
    usage = _usage(sheet, below, header)
    shapes = {_shape(line.cells[header.places["circuit"]].text) for line in below if _has_mark_and_more(line, header)}
    found = Sorted(lost=sorted(sheet.doubtful))
    repeated, beside = [], []
    width = max(header.line.width, max(header.line.cells) + 1)
    for line in below:
        if _repeats(line, header):
            repeated.append(line.number)
            continue
        what = _no_cable(line, names, shapes, is_first=line is below[0])
        if what:
            hint = "if it is a circuit's, give its mark, ends, cable and count"
            found.problems.append(Problem(sheet.at(line.number), what, NO_CABLE, hint, ProblemKind.ASSUMPTION))
            continue
        row = _row(sheet, line, header, usage)
        if sheet.shifts and max(line.cells) >= width:
            why = f"so which is which isn't known, and {WHY_LOST}"
            row.complain("row", "it has more cells than the header", why, "check separators and quotes")
            found.lost.append(line.number)
            found.problems.extend(row.problems)
            continue
        if any(place not in names and place not in header.others for place in line.cells):
            beside.append(line.number)
        if row.text("circuit"):
            found.rows.append(row)
            continue
        row.complain("circuit", "the row names no circuit", WHY_LOST, "give the circuit's mark")
        found.lost.append(line.number)
        found.problems.extend(row.problems)
    found.lost = sorted(set(found.lost))
    found.problems.extend(_folded(sheet, repeated, beside))
    return found


def _folded(sheet: Sheet, repeated: list[int], beside: list[int]) -> Iterator[Problem]:
    """What is told once for all lines that it is about."""
    if repeated:
        what = "the header is repeated"
        yield Problem(sheet.at(*repeated), what, NO_CABLE, "nothing, if it does", ProblemKind.ASSUMPTION, len(repeated))
    if beside:
        what, hint = "there are cells in columns without a heading", "give the column a heading, if it should be kept"
        yield Problem(sheet.at(*beside), what, "they are used for nothing", hint, ProblemKind.ASSUMPTION, len(beside))


def _no_cable(line: Line, names: Mapping[int, str], shapes: set[str], *, is_first: bool) -> str:
    """Why a line certainly holds no cable; empty where it may hold one."""
    if any(cell.defect for cell in line.cells.values()):
        return ""
    if is_first and _is_units(line, names):
        return "it is a row of units"
    place = min(line.cells)
    first, columns = line.cells[place].text, {names.get(place, "") for place in line.cells}
    if (
        normal(first).rstrip(": ") in TOTALS
        and names.get(place) in MAY_HEAD
        and len(line.cells) > 1
        and columns <= {names[place], "count", "sets", ""}
    ):
        return f"it is a total: {quoted(first.strip())}"
    if len(line.cells) > 1 or not columns <= MAY_HEAD | {""} or _shape(first) in shapes:
        return ""
    return f"it has text in one cell only, {quoted(first.strip())}: a heading"


def _is_units(line: Line, names: Mapping[int, str]) -> bool:
    """Whether each cell is its column's unit or says that there is none, and at least one is a unit of ours."""
    words = [(names.get(place), normal(cell.text).strip("()[] ")) for place, cell in line.cells.items()]
    units = [(column, word) for column, word in words if word not in NO_UNIT]
    return any(column in UNITS for column, _ in units) and all(
        word in (ANY_UNIT if column is None else {unit.casefold() for unit in UNITS.get(column, ())})
        for column, word in units
    )


def _has_mark_and_more(line: Line, header: Header) -> bool:
    return header.places["circuit"] in line.cells and len(line.cells) > 1


def _shape(text: str) -> str:
    """How a text is written: runs of letters, digits, and what is between. ``DB1/9`` and ``LP12/3`` are alike."""
    return re.sub(r"[^\W\d_]+", "a", re.sub(r"\d+", "9", normal(text)))


def _repeats(line: Line, header: Header) -> bool:
    places = [header.places[name] for name in NEEDED]
    return all(
        place in line.cells and normal(line.cells[place].text) == normal(header.line.cells[place].text)
        for place in places
    )


def _usage(sheet: Sheet, below: tuple[Line, ...], header: Header) -> Usage:
    """What the numbers of the file show of the signs in them."""
    columns = [(header.places[name], UNITS.get(name, ())) for name in NUMBERS if name in header.places]
    texts = (
        without_unit(line.cells[place].text.strip(), units).rstrip("% ")
        for line in below
        for place, units in columns
        if place in line.cells and not line.cells[place].is_number
    )
    return usage_of(texts, point_is_plain=sheet.point_is_plain)


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
