"""Reads the circuit schedule: one row a kind of cable, several rows a circuit. A bad cell is a problem, and the rest goes on."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.model import Circuit, Problem, ProblemKind, SourceFile
from checker.read.project import Project
from checker.read.schedule_cables import CHECK, Cables, known_cables
from checker.read.schedule_circuits import CircuitReader, Words
from checker.read.schedule_header import Headings
from checker.read.schedule_rows import sort_rows
from checker.read.schedule_sizes import other_sizes
from checker.read.schedule_tables import split
from checker.read.schedule_words import KNOWN
from checker.read.sheet import Sheet, read_bytes
from checker.read.sheet_csv import read_csv
from checker.rule.catalogue import CableType

TEXTS, WORKBOOKS = frozenset({".csv", ".txt", ".tsv"}), frozenset({".xlsx", ".xlsm"})
#: No schedule is larger: 20,000 rows are some 5 MB.
MOST_BYTES = 128 << 20
ZIP = b"PK\x03\x04"

__all__ = ["KNOWN", "Schedule", "read_schedule", "schedule_of"]


@dataclass(frozen=True, slots=True)
class Schedule:
    """What a schedule holds. ``lost_rows`` are lines that name no circuit, hide others, or stand where they aren't read."""

    name: str
    sha256: str
    circuits: tuple[Circuit, ...]
    lost_rows: tuple[int, ...]
    problems: tuple[Problem, ...]


def read_schedule(path: Path, project: Project, catalogue: Mapping[str, CableType]) -> Schedule:
    """Reads a schedule: text separated by commas, semicolons or tabs, or a sheet of a workbook.

    Raises:
        InputError: It can't be read at all, or lacks a column without which no circuit can be told.
    """
    headings = Headings(project.schedule)
    data, sheet = _grid(path, project, headings)
    file = SourceFile("schedule", path.name, hashlib.sha256(data).hexdigest())
    return schedule_of(sheet, project, catalogue, headings, file, tuple(_of_sheet(path, project)))


def schedule_of(
    sheet: Sheet,
    project: Project,
    catalogue: Mapping[str, CableType],
    headings: Headings,
    file: SourceFile,
    more: tuple[Problem, ...] = (),
) -> Schedule:
    """Reads a grid as a schedule.

    Args:
        sheet: The grid.
        project: The project file.
        catalogue: The cables that a row can name.
        headings: What its columns are called.
        file: Its name and SHA-256.
        more: What else had to be said of the file.

    Raises:
        InputError: It lacks a column without which no circuit can be told.
    """
    header = headings.header(sheet)
    tables = split(sheet, header, headings)
    found = sort_rows(sheet, tables.tables, project.schedule.group_headings)
    cables = known_cables(project, catalogue)
    reader = CircuitReader(cables, Words(project.schedule))
    circuits = reader.circuits(found.rows)
    problems = (
        *sheet.problems,
        *tables.problems(sheet, headings),
        *found.problems,
        *reader.problems,
        *(problem for each in tables.headers for problem in headings.problems(sheet, each)),
        *more,
        *_planned(sheet, circuits),
        *_resized(sheet, circuits, cables),
    )
    if not found.rows and not found.lost:
        what, why = "the schedule has no rows", "so nothing is known to lie in any carrier"
        problems = (*problems, Problem(sheet.place, what, why, "list the circuits"))
    return Schedule(file.name, file.sha256, circuits, tuple(found.lost), problems)


def _grid(path: Path, project: Project, headings: Headings) -> tuple[bytes, Sheet]:
    ending = path.suffix.lower()
    if ending not in TEXTS | WORKBOOKS:
        raise InputError(str(path), "a schedule of this format can't be read", "save it as .csv or .xlsx")
    data = read_bytes(path, MOST_BYTES)
    if ending in WORKBOOKS:
        from checker.read.sheet_xlsx import read_xlsx

        return data, read_xlsx(path, data, headings, project.schedule.sheet)
    if data.startswith(ZIP):
        raise InputError(
            str(path), "it is a packed file, and no text", "if it is a workbook, let its name end in .xlsx"
        )
    return data, read_csv(path, data, headings.rank)


def _of_sheet(path: Path, project: Project) -> Iterator[Problem]:
    if project.schedule.sheet and path.suffix.lower() in TEXTS:
        what = f"wayroom.toml names the sheet {project.schedule.sheet!r}, and a text file has none"
        yield Problem(path.name, what, "the whole file is read", "take the entry out", ProblemKind.ASSUMPTION)


def _planned(sheet: Sheet, circuits: tuple[Circuit, ...]) -> Iterator[Problem]:
    """Cables whose size is a planning value, once for each key."""
    lines: dict[str, list[int]] = {}
    for circuit in circuits:
        for cable in circuit.cables:
            if cable.planning:
                lines.setdefault(cable.key, []).append(cable.row)
    for key, found in sorted(lines.items()):
        what, why = f"the size of {key} is a planning value", "no standard fixes it"
        yield Problem(sheet.at(*found), what, why, "give the maker's diameter_mm", ProblemKind.ASSUMPTION, len(found))


def _resized(sheet: Sheet, circuits: tuple[Circuit, ...], cables: Cables) -> Iterator[Problem]:
    """Cables to which the schedule gives another size than the table, once for each."""
    for what, rows in sorted(other_sizes(circuits, cables.by_key).items()):
        yield Problem(sheet.at(*rows), what, "the schedule's is used", CHECK, ProblemKind.ASSUMPTION, len(rows))
