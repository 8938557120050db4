"""A schedule's cells as a grid, whatever file they come in: with the numbers of lines that a person sees, and where they are told."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.model import Problem

#: The header is sought in so many lines that aren't blank.
HEADER_WITHIN = 50
#: No schedule has more columns. What stands farther right is a defect of the file.
MOST_COLUMNS = 1000
#: No schedule has more cells with something in them.
MOST_CELLS = 2_000_000
#: What spreadsheets put where a formula has no answer.
ERRORS = frozenset({"#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"})


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell that isn't blank.

    ``is_number``: a number to the program that wrote it. ``defect``: why what it shows isn't believed, and ``hint`` what to do.
    ``columns``: over how many it is merged.
    """

    text: str
    is_number: bool = False
    defect: str = ""
    hint: str = ""
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Line:
    """One line: its number in the file, from 1; its cells by place, from 0, without blank ones; how many it has with those, if told."""

    number: int
    cells: Mapping[int, Cell]
    width: int = 0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A grid.

    Attributes:
        file: The file's whole name, for errors.
        place: What problems call it, without a line.
        word: What a line is called there, ``line`` or ``row``.
        lines: Those that aren't blank, in order.
        point_is_plain: Whether a decimal point is what one expects there.
        shifts: Whether a cell too many in a line has moved those before it, as an unquoted separator does.
        problems: What had to be said of the file.
        doubtful: Numbers of lines that may hide others, and of rows on sheets that aren't read.
    """

    file: str
    place: str
    word: str
    lines: tuple[Line, ...]
    point_is_plain: bool = False
    shifts: bool = False
    problems: tuple[Problem, ...] = ()
    doubtful: frozenset[int] = frozenset()

    @property
    def in_errors(self) -> str:
        """What errors call it: the file's whole name, and the sheet's."""
        return self.file + self.place.removeprefix(Path(self.file).name)

    def at(self, *numbers: int) -> str:
        """Where some lines are, as problems tell it: the first ten. How many there are is for ``Problem.elements``."""
        word = self.word if len(numbers) == 1 else f"{self.word}s"
        return f"{self.place}, {word} {', '.join(map(str, numbers[:10]))}"


def text_cell(text: str) -> Cell:
    """The cell of a text that isn't blank."""
    shown = text.strip()
    if shown in ERRORS:
        return Cell(text, defect=f"it holds the error {shown}", hint="mend the formula, or write what is meant")
    return Cell(text)


#: How many of the columns of ours a line names as headings, and whether it has all that are needed.
Rank = Callable[[Line], tuple[bool, int]]


def best_header(lines: tuple[Line, ...], rank: Rank) -> tuple[int, tuple[bool, int]]:
    """The place of the first line that has all needed columns, else of the one with most of ours, and its rank.

    One column of ours makes no header: any cell may say ``route``. Then it is the first line.
    """
    ranks = [rank(line) for line in lines[:HEADER_WITHIN]]
    if not ranks:
        return 0, (False, 0)
    best = next((rank for rank in ranks if rank[0]), max(ranks))
    if best[1] < 2:
        return 0, ranks[0]
    return ranks.index(best), best


def read_bytes(path: Path, most: int) -> bytes:
    """A file's bytes.

    Raises:
        InputError: It can't be read, or has more than ``most``.
    """
    try:
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(str(path), f"it can't be read: {reason}", "check the name and the permissions") from error
    if len(data) > most:
        what = f"it has more than {most >> 20} MB, which no schedule has"
        raise InputError(str(path), what, "check that it is the schedule")
    return data
