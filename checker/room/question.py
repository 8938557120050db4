"""What is asked, and the circuit that it makes: its cables are read as rows of a schedule are, with the same reader."""

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from checker.embedded_rows import schedule_of_rows
from checker.errors import InputError
from checker.fit.cables import SIZE
from checker.model import Carrier, Circuit, Installation, Problem
from checker.model.texts import quoted
from checker.model.words import wildcard
from checker.read.project import Project
from checker.read.project_ways import WaySpec
from checker.read.schedule_cables import known_cables
from checker.read.schedule_words import KNOWN, SAME_IN_EACH_ROW
from checker.read.sources import Sources
from checker.read.ways import with_way_limits
from checker.room.ways import AS_ASKED
from checker.rule.plugins import Plugins

#: More circuits than this aren't tried.
MOST_CIRCUITS = 200
MOST_CABLES = 10_000
CABLE, ALSO = "--cable", "--also"
#: The options that say what a column of the schedule says; any other column goes by ``--also``.
OPTIONS = {
    "service": "--service",
    "compartment": "--compartment",
    "voltage_v": "--voltage",
    "design_current_a": "--design-current",
    "device_rating_a": "--device-rating",
    "loaded_conductors": "--loaded-conductors",
}
#: Columns that the command says otherwise, or that mean nothing of a circuit that isn't there yet.
_SIZES = {"cable", "count", "diameter_mm", "width_mm", "height_mm"}
_NOT_ALSO = _SIZES | {"circuit", "from", "to", "state", "route", "return_way", "apart_from"}
HOW = "write KEY or KEY=COUNT, as h07v-u-2.5=3; or a size: 11.3mm, 10.9-12.4mm=2 for a range, 11.5x6.2mm for a flat one"


@dataclass(frozen=True, slots=True)
class RoomQuestion:
    """What is asked. All ``cables``, as ``KEY=COUNT``, together are one circuit.

    ``times``: so many such circuits are wanted; None: it is asked how many go in. ``columns``: what the schedule would say of the circuit,
    by column, as text. ``avoid`` and ``via``: carriers, by GlobalId, tag, name or type, as in ``[[ways]]`` of the project file.
    """

    sources: Sources
    origin: str
    call: str
    cables: tuple[str, ...]
    code: str | None = None
    times: int | None = None
    columns: tuple[tuple[str, str], ...] = ()
    avoid: tuple[str, ...] = ()
    via: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bundle:
    """The circuit that is to be added, as often as is asked, and what had to be said of reading it."""

    circuit: Circuit
    problems: tuple[Problem, ...]
    stem: str

    def numbered(self, number: int) -> Circuit:
        """The circuit as one of several, from 1."""
        return replace(self.circuit, mark=f"{self.stem} {number}")


def also_of(texts: Iterable[str]) -> list[tuple[str, str]]:
    """Columns and their texts of ``--also COLUMN=VALUE``.

    Raises:
        InputError: One is no such pair, or no column that can be given so.
    """
    found = []
    allowed = [name for name in KNOWN if name not in _NOT_ALSO and name not in OPTIONS]
    for text in texts:
        column, separator, value = (part.strip() for part in text.partition("="))
        if not separator or not value:
            raise InputError(ALSO, f"{text!r} is no column with a value", "write it as ambient_c=35")
        if column in OPTIONS:
            raise InputError(ALSO, f"{column} has an option of its own", f"say {OPTIONS[column]} {value}")
        if column not in allowed:
            raise InputError(ALSO, f"{column!r} is no column that can be given so", f"one of: {', '.join(allowed)}")
        found.append((column, value))
    return found


def bundle_of(question: RoomQuestion, installation: Installation, plugins: Plugins) -> Bundle:
    """The circuit that is asked about, with what the project says of the ways of such circuits.

    Raises:
        InputError: Something of it can't be read, or isn't known.
    """
    _check(question)
    project = question.sources.project
    # the project's words for services hold here too; its headings are of its own file
    ours = project.model_copy(update={"schedule": project.schedule.model_copy(update={"columns": {}})})
    stem = _free_stem(installation)
    rows = _rows(question, project, plugins, f"{stem} 1")
    schedule = schedule_of_rows(rows, ours, plugins.cables)
    if len(schedule.circuits) != 1 or schedule.lost_rows:
        raise InputError(CABLE, "the circuit can't be read from what is given", HOW)
    given = {"cable", *(name for row in rows for name in row)}
    for problem in schedule.problems:
        column = problem.where.rpartition(", ")[2]
        if column in given and column in schedule.circuits[0].unread:
            option = OPTIONS.get(column, CABLE if column in _SIZES else ALSO)
            raise InputError(option, problem.what, problem.hint)
    circuit = replace(schedule.circuits[0], origin=question.origin, calls=(question.call,))
    _check_compartment(circuit, installation.carriers)
    led = _led(question, circuit, installation.carriers, project)
    told = tuple(problem for problem in schedule.problems if problem.where.rpartition(", ")[2] != "service")
    return Bundle(led, told, stem)


def _check(question: RoomQuestion) -> None:
    if not question.cables:
        raise InputError(CABLE, "no cable is named", HOW)
    if question.times is not None and not 1 <= question.times <= MOST_CIRCUITS:
        hint = "ask for fewer at once" if question.times > MOST_CIRCUITS else "write 1 or more, or leave it out"
        raise InputError("--times", f"{question.times} is no number of circuits from 1 to {MOST_CIRCUITS}", hint)
    for option, text in (("FROM", question.origin), ("TO", question.call)):
        if not text.strip():
            raise InputError(option, "it is blank", "name equipment or a carrier by GlobalId, Tag or Name")


def _check_compartment(circuit: Circuit, carriers: Sequence[Carrier]) -> None:
    most = max((len(carrier.section.lanes) for carrier in carriers), default=0)
    if circuit.compartment is not None and circuit.compartment > most > 0:
        what = f"no carrier has a compartment {circuit.compartment}"
        raise InputError("--compartment", what, f"name one from 1 to {most}, or none")


def _free_stem(installation: Installation) -> str:
    """A word for the marks of what is added that no mark of the schedule begins with."""
    marks = [circuit.mark.casefold() for circuit in installation.circuits]
    stem = "new"
    while any(mark.startswith(stem) for mark in marks):
        stem = f"{stem}er" if stem == "new" else f"{stem}-x"
    return stem


def _rows(question: RoomQuestion, project: Project, plugins: Plugins, mark: str) -> list[dict[str, str]]:
    """The rows of a schedule: the first says what is said of the circuit as a whole."""
    whole = {name: text for name, text in question.columns if name in SAME_IN_EACH_ROW}
    each = {name: text for name, text in question.columns if name not in SAME_IN_EACH_ROW}
    known = known_cables(project, plugins.cables).by_key
    rows = []
    for number, text in enumerate(question.cables):
        cells = {"circuit": mark, "from": "A", "to": "B", **_cable_cells(text, known), **each}
        rows.append(cells | (whole if number == 0 else {}))
    return rows


def _cable_cells(text: str, known: Mapping[str, object]) -> dict[str, str]:
    """What a row says of the cables of one ``--cable``."""
    key, separator, count = (part.strip() for part in text.rpartition("="))
    if not separator:
        key, count = text.strip(), "1"
    if not (count.isascii() and count.isdecimal() and 0 < int(count[:9]) <= MOST_CABLES):
        raise InputError(CABLE, f"{count!r} is no number of cables from 1 to {MOST_CABLES}", HOW)
    size = SIZE.fullmatch(key)
    if size is not None:
        bare = re.sub(r"\s*mm$", "", key, flags=re.IGNORECASE)
        sides = [side.strip() for side in re.split(r"[x×]", bare, flags=re.IGNORECASE)]
        names = ("diameter_mm",) if len(sides) == 1 else ("width_mm", "height_mm")
        return {**dict(zip(names, sides, strict=True)), "count": count}
    if key.lower() not in known:
        near = difflib.get_close_matches(key.lower(), list(known), 3)
        hint = f"did you mean {', '.join(near)}?" if near else f"see: wayroom list cables; {HOW}"
        raise InputError(CABLE, f"there is no cable {quoted(key)}", hint)
    return {"cable": key, "count": count}


def _led(question: RoomQuestion, circuit: Circuit, carriers: Sequence[Carrier], project: Project) -> Circuit:
    """The circuit with what the project and the question ask of its way."""
    for option, patterns in (("--via", question.via), ("--avoid", question.avoid)):
        for pattern in patterns:
            _fits_one(option, pattern, carriers)
    if question.via or question.avoid:
        spec = WaySpec(circuits=(circuit.mark,), via=question.via, avoid=question.avoid, reason=AS_ASKED)
        project = project.model_copy(update={"ways": (*project.ways, spec)})
    return with_way_limits([circuit], carriers, project).circuits[0]


def _fits_one(option: str, pattern: str, carriers: Sequence[Carrier]) -> None:
    fits = wildcard(pattern.strip()).fullmatch
    names = {name for carrier in carriers for name in (*carrier.place.names, carrier.type_name.strip()) if name}
    if any(fits(name) for name in names):
        return
    near = difflib.get_close_matches(pattern, sorted(names)[:2000], 3)
    hint = f"did you mean {', '.join(near)}?" if near else "name carriers by GlobalId, tag, name or type"
    raise InputError(option, f"no carrier is called {quoted(pattern)}", hint)
