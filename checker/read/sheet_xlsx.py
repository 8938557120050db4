"""Schedules as workbooks: the sheet that holds the schedule, its values as last calculated, and what is merged or hidden there."""

import io
import lzma
import struct
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import replace
from itertools import islice
from pathlib import Path

from lxml import etree

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.model.texts import listed, quoted
from checker.read.schedule_header import Headings
from checker.read.schedule_words import KNOWN, NEEDED, normal
from checker.read.sheet import HEADER_WITHIN, MOST_CELLS, MOST_COLUMNS, Line, Sheet, best_header
from checker.read.sheet_cells import Marks, fill_merged, read_lines
from checker.read.sheet_workbook import Workbook, open_workbook

OLD = b"\xd0\xcf\x11\xe0"
SAVE = "save it again as .xlsx, without a password"
#: What reading ends in where a workbook is damaged or was made to do harm.
DAMAGED = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, etree.LxmlError, EOFError, OSError, RuntimeError, ValueError, LookupError,
    TypeError, ArithmeticError, AttributeError,
)  # fmt: skip


#: The first lines of a sheet that aren't blank.
Head = tuple[Line, ...]
NO_RANK = (False, -1)


def read_xlsx(path: Path, data: bytes, headings: Headings, wanted: str) -> Sheet:
    """The grid of a workbook's sheet.

    Args:
        path: The file, for messages.
        data: Its bytes.
        headings: What our columns are called there.
        wanted: The sheet's name, in any case; empty: the only one that has the needed columns.

    Raises:
        InputError: It is no workbook, damaged or too large, or it isn't clear which sheet is meant.
    """
    if data.startswith(OLD):
        raise InputError(str(path), "it is encrypted, or a workbook of the old format", SAVE)
    if not zipfile.is_zipfile(io.BytesIO(data)):
        raise InputError(str(path), "it isn't a workbook", SAVE)
    try:
        book = open_workbook(data)
        if wanted:
            return _sheet(path, book, _named(path, book, wanted))
        heads = {name: _head(book, name) for name in book.sheets} if len(book.sheets) > 1 else {}
        name = _chosen(path, book, heads, headings)
        rest = {other: head for other, head in heads.items() if other != name}
        sheet = _sheet(path, book, name)
        told, lost = _not_read(path, book, name, rest, headings)
        return replace(sheet, problems=(*sheet.problems, *told), doubtful=sheet.doubtful | lost)
    except InputError as error:
        raise InputError(error.where or str(path), error.what, error.hint) from error
    except DAMAGED as error:
        what = f"it can't be read as a workbook: {quoted(str(error) or type(error).__name__)}"
        raise InputError(str(path), what, SAVE) from error


def _named(path: Path, book: Workbook, wanted: str) -> str:
    same = [name for name in book.sheets if normal(name) == normal(wanted)]
    if not same:
        what = f"it has no sheet {quoted(wanted)}; it has {_listed(book.sheets)}"
        raise InputError(str(path), what, "name one of them in wayroom.toml, [schedule] sheet")
    return wanted if wanted in same else same[0]


def _chosen(path: Path, book: Workbook, heads: Mapping[str, Head], headings: Headings) -> str:
    names = list(book.sheets)
    if not names:
        raise InputError(str(path), "it has no sheet", SAVE)
    if len(names) == 1:
        return names[0]
    ranks = {
        name: best_header(heads[name][:HEADER_WITHIN], headings.rank)[1] if heads[name] else NO_RANK for name in names
    }
    whole = [name for name in names if ranks[name][0]]
    if len(whole) > 1:
        what = f"several of its sheets have the columns {', '.join(NEEDED)}: {_listed(whole, book.hidden)}"
        raise InputError(str(path), what, "name the one that is meant in wayroom.toml, [schedule] sheet")
    return whole[0] if whole else max(names, key=lambda name: ranks[name])


def _head(book: Workbook, name: str) -> Head:
    """The lines of a sheet in which a header may stand, and one more; none where it can't be a schedule's."""
    try:
        return tuple(islice(_lines(book, name, Marks()), HEADER_WITHIN + 1))
    except InputError:
        return ()


def _not_read(
    path: Path, book: Workbook, name: str, rest: Mapping[str, Head], headings: Headings
) -> tuple[list[Problem], frozenset[int]]:
    """What is told of the sheets that aren't read, and a row of each that has rows below a header of circuits: it could hold any."""
    problems: list[Problem] = []
    lost: set[int] = set()
    meant = "name the one that is meant in wayroom.toml, [schedule] sheet"
    if name in book.hidden:
        what, why = f"its sheet {quoted(name)} is hidden", "it is read, since only it has the columns"
        problems.append(Problem(path.name, what, why, meant, ProblemKind.ASSUMPTION))
    for other, head in rest.items():
        place = next((at for at, line in enumerate(head[:-1]) if headings.heads_circuits(line)), None)
        if place is None:
            continue
        line = head[place]
        lost.add(head[place + 1].number)
        columns = ", ".join(column for column in KNOWN if column in headings.named(line))
        what = f"it isn't read, though it has columns of circuits ({columns}) {headings.wrong_with(line)}"
        where = f"{path.name}, sheet {_listed([other], book.hidden)}, row {line.number}"
        problems.append(
            Problem(where, what, "what it holds could lie in any carrier", f"complete its header, or {meant}")
        )
    if rest:
        what, why = (
            f"its other sheets aren't read: {_listed(rest, book.hidden)}",
            f"only {quoted(name)} has the columns",
        )
        problems.append(Problem(path.name, what, why, meant, ProblemKind.INFERENCE, len(rest)))
    return problems, frozenset(lost)


def _sheet(path: Path, book: Workbook, name: str) -> Sheet:
    marks = Marks()
    read = list(_lines(book, name, marks))
    read.sort(key=lambda line: line.number)
    lines, filled = fill_merged(read, marks)
    if len({line.number for line in lines}) < len(lines):
        raise InputError(str(path), f"sheet {quoted(name)} has two rows of one number", SAVE)
    place = f"{path.name}, sheet {quoted(name)}"
    return Sheet(str(path), place, "row", tuple(lines), problems=tuple(_told(place, lines, marks, filled)))


def _lines(book: Workbook, name: str, marks: Marks) -> Iterator[Line]:
    """The rows of a sheet that aren't blank, as they come."""
    cells = 0
    with book.part(book.sheets[name]) as stream:
        for line in read_lines(stream, book, marks):
            cells += len(line.cells)
            if cells > MOST_CELLS or max(line.cells) >= MOST_COLUMNS:
                what = f"sheet {quoted(name)} has more than {MOST_COLUMNS} columns or {MOST_CELLS} cells, which no schedule has"
                raise InputError("", what, "check that it is the schedule")
            yield line


def _told(place: str, lines: list[Line], marks: Marks, filled: int) -> Iterator[Problem]:
    """What is said once of the whole sheet."""
    hidden = [line.number for line in lines if line.number in marks.hidden_rows]
    used = {column for line in lines for column in line.cells}
    columns = sorted(used & marks.hidden_columns_up_to(MOST_COLUMNS))
    hint = "delete it if it doesn't hold any more"
    if hidden:
        what = f"{len(hidden)} of its rows {'is' if len(hidden) == 1 else 'are'} hidden ({listed([str(n) for n in hidden], 10)})"
        yield Problem(place, what, "what is hidden is read like the rest", hint, ProblemKind.ASSUMPTION, len(hidden))
    if columns:
        letters = listed([letters_of(column) for column in columns], 10)
        what = f"{len(columns)} of its columns {'is' if len(columns) == 1 else 'are'} hidden ({letters})"
        yield Problem(place, what, "what is hidden is read like the rest", hint, ProblemKind.ASSUMPTION, len(columns))
    if filled:
        what = "it has cells that are merged over several rows"
        why = "what stands there is taken to hold for each of them"
        hint = "unmerge them, if a value is meant for one row only"
        yield Problem(place, what, why, hint, ProblemKind.ASSUMPTION, filled)


def letters_of(column: int) -> str:
    """A column's letters of its place from 0: A, B, … Z, AA."""
    letters, rest = "", column + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(65 + digit) + letters
    return letters


def _listed(names: Iterable[str], hidden: Set[str] = frozenset()) -> str:
    return listed([f"{quoted(name)} (hidden)" if name in hidden else quoted(name) for name in names], 20)
