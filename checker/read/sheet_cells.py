"""The cells of a workbook's sheet: values as last calculated, what isn't believed of them, and what is merged or hidden."""

import io
import math
import re
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import IO

from lxml import etree

from checker.errors import InputError
from checker.read.sheet import MOST_CELLS, Cell, Line, text_cell
from checker.read.sheet_workbook import Workbook, drop, local, parse, text_of

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
REFERENCE = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})")
#: Formatted and blank, rows among them: a sheet of a million such rows is still read.
MOST_BLANK = 4_000_000
MOST_MERGED = 1_000_000
#: Digits of a number that mean something: beyond them is the noise of counting in twos.
DIGITS = 15


@dataclass(slots=True)
class Marks:
    """What a sheet says of its rows and columns. Merged ranges and hidden columns are first and last places; rows count from 1.

    ``across``: over how many columns cells are merged, by row and first column.
    """

    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    across: dict[tuple[int, int], int] = field(default_factory=dict)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[tuple[int, int]] = field(default_factory=list)

    def hidden_columns_up_to(self, most: int) -> set[int]:
        """Places of hidden columns, from 0."""
        return {place for first, last in self.hidden_columns for place in range(first, min(last, most - 1) + 1)}


def read_lines(stream: IO[bytes] | io.RawIOBase, book: Workbook, marks: Marks) -> Iterator[Line]:
    """The rows that aren't blank, as they stand in the file, and ``marks`` filled on the way."""
    number, place, met, blank = 0, -1, 0, 0
    cells: dict[int, Cell] = {}
    for element in parse(stream, "row", "c", "mergeCell", "col"):
        tag = local(element)
        if tag == "c":
            met += 1
            if met > LAST_COLUMN:
                raise ValueError("a row has more cells than there are columns")
            place = _column(element, place)
            cell = _cell(element, book) if len(element) else None
            if cell is not None:
                cells[place] = cell
            blank += cell is None
            continue  # it goes with its row
        if blank > MOST_BLANK:
            what = f"a sheet has more than {MOST_BLANK} cells that are formatted and blank"
            raise InputError("", what, "delete the blank rows and columns around the schedule")
        if tag == "row":
            blank += not cells
            number = _row_number(element, number)
            if cells:
                yield Line(number, cells)
                # of rows that are blank it doesn't matter, and there may be a million
                if element.get("hidden") in {"1", "true"}:
                    marks.hidden_rows.add(number)
            place, met, cells = -1, 0, {}
        else:
            _mark(element, tag, marks)
        drop(element)


def _mark(element: etree._Element, tag: str, marks: Marks) -> None:
    if tag == "col" and element.get("hidden") in {"1", "true"}:
        first, last = int(element.get("min", "")), int(element.get("max", ""))
        if len(marks.hidden_columns) < LAST_COLUMN:
            marks.hidden_columns.append((first - 1, last - 1))
    elif tag == "mergeCell":
        ends = element.get("ref", "").split(":")
        (left, top), (right, bottom) = _place(ends[0]), _place(ends[-1])
        if bottom > top:  # along a row it is a title, and holds where it stands
            marks.merged.append((top, left, bottom, right))
        if right > left:
            marks.across[top, left] = right - left + 1
        if len(marks.merged) + len(marks.across) > MOST_MERGED:
            raise InputError("", f"it has more than {MOST_MERGED} merged cells", "check that it is the schedule")


def fill_merged(lines: list[Line], marks: Marks) -> tuple[list[Line], int]:
    """Gives each row that isn't blank what is merged down over it, and cells how far they are merged across.

    Returns:
        The rows, and how many cells were filled.
    """
    numbers = [line.number for line in lines]
    found = [dict(line.cells) for line in lines]
    places = {number: place for place, number in enumerate(numbers)}
    for (row, left), columns in marks.across.items():
        if row in places and left in found[places[row]]:
            found[places[row]][left] = replace(found[places[row]][left], columns=columns)
    ends: dict[int, int] = {}  # of what is merged in a column: ranges don't overlap in a whole file
    filled = 0
    for top, left, bottom, _ in sorted(marks.merged):
        at = bisect_left(numbers, top)
        is_new, ends[left] = ends.get(left, 0) < top, max(bottom, ends.get(left, 0))
        if not is_new or at == len(numbers) or numbers[at] != top or left not in found[at]:
            continue
        value = found[at][left]
        for place in range(at + 1, bisect_left(numbers, bottom + 1)):
            if left not in found[place]:
                found[place][left] = value
                filled += 1
        if filled > MOST_CELLS:
            raise InputError("", f"more than {MOST_CELLS} of its cells are merged", "check that it is the schedule")
    return [Line(number, cells) for number, cells in zip(numbers, found, strict=True)], filled


def _row_number(element: etree._Element, before: int) -> int:
    number = int(element.get("r", before + 1))
    if not 1 <= number <= LAST_ROW:
        raise ValueError(f"there is no row {number}")
    return number


def _column(element: etree._Element, before: int) -> int:
    reference = element.get("r")
    return before + 1 if reference is None else _place(reference)[0]


def _place(reference: str) -> tuple[int, int]:
    """Column from 0 and row from 1 of a reference such as B12."""
    found = REFERENCE.fullmatch(reference)
    if not found:
        raise ValueError(f"there is no cell {reference[:20]!r}")
    column = 0
    for letter in found[1].upper():
        column = 26 * column + ord(letter) - 64
    if column > LAST_COLUMN or not 1 <= int(found[2]) <= LAST_ROW:
        raise ValueError(f"there is no cell {reference!r}")
    return column - 1, int(found[2])


def _cell(element: etree._Element, book: Workbook) -> Cell | None:
    """What a cell shows; None where it is blank."""
    kind = element.get("t", "n")
    children = {local(child): child for child in element}
    value = children["v"].text if "v" in children else None
    if "f" in children and not value and kind != "str":
        hint = "let the workbook calculate, and save it"
        return Cell("", defect="it holds a formula that was never calculated", hint=hint)
    if kind == "inlineStr":
        return _text(text_of(children["is"]) if "is" in children else "")
    if value is None:
        return None
    if kind == "s":
        return _text(book.texts[int(value)])
    if kind == "str":
        return _text(value)
    if kind == "b":
        return Cell("TRUE" if value in {"1", "true"} else "FALSE")
    if kind == "e":
        return Cell(value, defect=f"it holds the error {value}", hint="mend the formula, or write what is meant")
    if kind == "d":
        return _date(value)
    return _number(value, int(element.get("s", 0)), book)


def _text(text: str) -> Cell | None:
    return text_cell(text) if text.strip() else None


def _date(shown: str) -> Cell:
    shown = shown.removesuffix(" 00:00:00")
    hint = "format the column as text, and type it again"
    return Cell(shown, defect=f"it is a date to the workbook, {shown}, whatever was typed", hint=hint)


def _number(value: str, style: int, book: Workbook) -> Cell:
    number = float(value)
    if not math.isfinite(number):
        return Cell(value)
    if style in book.dates:
        return _date(_day(number, book) or value)
    if number.is_integer() and abs(number) < 10**DIGITS:
        return Cell(str(int(number)), is_number=True)
    return Cell(f"{number:.{DIGITS}g}", is_number=True)


def _day(number: float, book: Workbook) -> str:
    from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH, from_excel

    try:
        return str(from_excel(number, MAC_EPOCH if book.is_1904 else WINDOWS_EPOCH))
    except (ValueError, OverflowError, TypeError):
        return ""
