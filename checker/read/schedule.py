"""Reads the circuit schedule: one row a kind of cable, several rows a circuit. A bad cell is a problem, and the rest goes on."""

import csv
import difflib
import hashlib
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.model import Circuit, Problem, ProblemKind, RouteStep, Service, State
from checker.read.cells import Row
from checker.read.project import CableSpec, Project
from checker.read.schedule_cables import known_cables, read_cable
from checker.read.schedule_loads import ELECTRICAL_NUMBERS, read_electrical
from checker.rule.catalogue import CableType

NEEDED = ("circuit", "from", "to")
KNOWN = (
    *NEEDED, "service", "cable", "diameter_mm", "width_mm", "height_mm", "count", "csa_mm2", "awg_kcmil", "cores", "conductor",
    "insulation", "rated_voltage_v", "voltage_v", "method", "ambient_c", "third_harmonic", "loaded_conductors", "sets",
    "design_current_a", "device_rating_a", "device", "state", "route", "compartment",
)  # fmt: skip
SAME_IN_EACH_ROW = (
    "from",
    "to",
    "service",
    "sets",
    "route",
    "compartment",
    "voltage_v",
    *ELECTRICAL_NUMBERS,
    "loaded_conductors",
    "method",
    "device",
)


@dataclass(frozen=True, slots=True)
class Schedule:
    """What a schedule holds. ``lost_rows`` are lines that name no circuit."""

    name: str
    sha256: str
    circuits: tuple[Circuit, ...]
    lost_rows: tuple[int, ...]
    problems: tuple[Problem, ...]


def read_schedule(path: Path, project: Project, catalogue: Mapping[str, CableType]) -> Schedule:
    """Reads a schedule.

    Raises:
        InputError: It can't be read at all, or lacks a column without which no circuit can be told.
    """
    if path.suffix.lower() != ".csv":
        raise InputError(str(path), "a schedule of this format can't be read", "save it as .csv")
    try:
        data = path.read_bytes()
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise InputError(
            str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
        ) from error
    except UnicodeDecodeError as error:
        raise InputError(str(path), "it isn't UTF-8 text", "save it as CSV in UTF-8") from error
    rows = list(_rows(path, text))
    by_mark: dict[str, list[Row]] = {}
    lost = []
    for row in rows:
        mark = row.text("circuit")
        if mark:
            by_mark.setdefault(mark, []).append(row)
        else:
            lost.append(row.line)
            row.complain(
                "circuit",
                "the row names no circuit",
                "what it holds could lie in any carrier",
                "give the circuit's mark",
            )
    cables = known_cables(project, catalogue)
    circuits = tuple(_circuit(mark, group, cables) for mark, group in by_mark.items())
    problems = (
        *(problem for row in rows for problem in row.problems),
        *_of_columns(path, rows),
        *_planned(path, circuits),
    )
    if not rows:
        problems = (
            Problem(
                path.name, "the schedule has no rows", "so nothing is known to lie in any carrier", "list the circuits"
            ),
        )
    return Schedule(path.name, hashlib.sha256(data).hexdigest(), circuits, tuple(lost), problems)


def _of_columns(path: Path, rows: list[Row]) -> Iterator[Problem]:
    """Columns that every row needs, told once where the whole column is missing."""
    for name in rows[0].cells if rows else ():
        near = difflib.get_close_matches(name, [known for known in KNOWN if known not in rows[0].cells], 1, 0.75)
        if name and name not in KNOWN and near:
            yield Problem(
                f"{path.name}, line 1",
                f"the column {name!r} isn't one that is read",
                "what it holds is kept, and used for nothing",
                f"did you mean {near[0]!r}?",
            )
    if rows and "count" not in rows[0].cells:
        yield Problem(
            f"{path.name}, line 1",
            "the column 'count' is missing",
            "so no cables can be counted",
            "add it: cables of a set",
        )


def _planned(path: Path, circuits: tuple[Circuit, ...]) -> Iterator[Problem]:
    """Cables whose size is a planning value, once for each key."""
    lines: dict[str, list[int]] = {}
    for circuit in circuits:
        for cable in circuit.cables:
            if cable.planning:
                lines.setdefault(cable.key, []).append(cable.row)
    for key, found in sorted(lines.items()):
        where = f"{path.name}, {'line' if len(found) == 1 else 'lines'} {', '.join(map(str, found[:10]))}"
        yield Problem(
            where,
            f"the size of {key} is a planning value",
            "no standard fixes it",
            "give the maker's diameter_mm",
            ProblemKind.ASSUMPTION,
            len(found),
        )


def _rows(path: Path, text: str) -> Iterator[Row]:
    head = text.lstrip().split("\n", 1)[0]
    if not head.strip():
        raise InputError(str(path), "it is empty", f"give it a header row with at least {', '.join(NEEDED)}")
    separator = max(",;\t", key=head.count)
    reader = csv.reader(io.StringIO(text), delimiter=separator)
    columns: list[str] = []
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if not columns:
                columns = [cell.strip().lower() for cell in cells]
                _check_head(path, columns)
                continue
            row = Row(
                path.name, reader.line_num, dict(zip(columns, cells, strict=False)), decimal_comma=separator != ","
            )
            if len(cells) > len(columns):
                row.complain(
                    "row",
                    "it has more cells than the header",
                    "those beyond it are left out",
                    "check separators and quotes",
                )
            yield row
    except csv.Error as error:
        raise InputError(
            f"{path}, line {reader.line_num}", f"it can't be read as CSV: {error}", "save it as CSV again"
        ) from error


def _check_head(path: Path, columns: list[str]) -> None:
    for name in NEEDED:
        if name not in columns:
            near = difflib.get_close_matches(name, columns, 1)
            hint = f"rename the column {near[0]!r} to {name!r}" if near else f"add a column {name!r} to the header row"
            raise InputError(f"{path}, line 1", f"the column {name!r} is missing; it has {', '.join(columns)}", hint)
    twice = sorted({name for name in columns if name and columns.count(name) > 1})
    if twice:
        raise InputError(f"{path}, line 1", f"the column {twice[0]!r} stands there twice", "rename or remove one")


def _circuit(mark: str, rows: list[Row], cables: Mapping[str, CableType | CableSpec]) -> Circuit:
    """One circuit of its rows. What they contradict each other in is unread: neither is believed."""
    first = rows[0]
    for row in rows[1:]:
        for column in SAME_IN_EACH_ROW:
            if row.text(column) and row.text(column) != first.text(column):
                row.complain(
                    column, f"{row.text(column)!r} differs from {first.text(column)!r} in the circuit's first row",
                    "so which one holds isn't known", "say the same in each row of a circuit, or leave the later ones empty",
                )  # fmt: skip
    service = first.word("service", Service, ", ".join(Service))
    if not first.text("service"):
        first.complain(
            "service",
            f"circuit {mark} has no service",
            "its segregation can't be judged",
            f"one of {', '.join(Service)}",
        )
    sets = first.whole("sets", least=1)
    electrical: dict[str, float | str] = {}
    state = _state(rows)
    electrical |= read_electrical(first, is_loaded=state in {State.NEW, State.EXISTING})
    compartment, voltage = first.whole("compartment", least=1), first.number("voltage_v")
    cable_lines = tuple(read_cable(row, cables) for row in rows)
    unread = tuple(dict.fromkeys(column for row in rows for column in row.unread))
    return Circuit(
        mark=mark,
        origin=first.text("from"),
        calls=tuple(part.strip() for part in first.text("to").split(";") if part.strip()),
        service=None if "service" in unread else service,
        state=state,
        sets=1 if sets is None else sets,
        cables=cable_lines,
        route=tuple(_step(part) for part in re.split(r"[;|]", first.text("route")) if part.strip()),
        compartment=compartment,
        voltage_v=None if "voltage_v" in unread else voltage,
        electrical=electrical,
        other={name: text for name, text in first.cells.items() if name not in KNOWN and name and text},
        unread=unread,
    )


def _state(rows: list[Row]) -> State:
    """The circuit's state. Where rows differ the cables count: taking them for removed could hide them."""
    states = {row.word("state", State, ", ".join(State)) or State.NEW for row in rows}
    if len(states) == 1:
        return states.pop()
    rows[0].complain(
        "state",
        "the circuit's rows differ in their state",
        "it is counted as new",
        "give the parts marks of their own",
        ProblemKind.ASSUMPTION,
    )
    return State.NEW


def _step(text: str) -> RouteStep:
    found = re.fullmatch(r"(.+?)\s*/\s*(\d{1,4})", text.strip())
    return RouteStep(text.strip(), found[1], int(found[2])) if found else RouteStep(text.strip(), text.strip())
