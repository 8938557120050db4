"""Finds a schedule's columns: by our names or, where ``wayroom.toml`` says so, by the project's own."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.model.texts import listed, quoted
from checker.read.project_schedule import UNIT_IN_BRACKETS, ScheduleSpec
from checker.read.schedule_words import KNOWN, NEEDED, UNITS, Nearest, normal
from checker.read.sheet import Line, Sheet, best_header

#: So many headings are looked at for a name that is nearly one of ours.
MOST_LOOKED_AT = 200
#: So many headings are named where one is missing.
MOST_HEADINGS = 40
#: Columns of circuits: a line that names two of them is a header, whole or not.
TELLING = frozenset({*NEEDED, "count", "cable"})
#: So is one that names so many of any of ours.
MANY = 3
#: A heading is nearly one of ours from this likeness on; one of the project's own is offered from less.
ALIKE, OFFERED = 0.75, 0.6
#: Places by our names, and further names by place.
Columns = tuple[frozenset[tuple[str, int]], frozenset[tuple[int, str]]]


@dataclass(frozen=True, slots=True)
class Header:
    """Where the columns are. ``places`` by our names; ``others``: names of the further ones by place."""

    index: int
    line: Line
    places: Mapping[str, int]
    others: Mapping[int, str]

    @property
    def columns(self) -> Columns:
        """All columns with their places: headers that have the same here say the same."""
        return frozenset(self.places.items()), frozenset(self.others.items())


class Headings:
    """What our columns are called in a project's schedule."""

    def __init__(self, spec: ScheduleSpec) -> None:
        self._theirs = dict(spec.columns)
        self._by_name = {normal(name): name for name in KNOWN} | {
            normal(name): ours for ours, name in spec.columns.items()
        }

    def called(self, ours: str) -> str:
        """The name of one of our columns there."""
        return self._theirs.get(ours, ours)

    def rank(self, line: Line) -> tuple[bool, int]:
        """Whether a line names all columns that are needed, and how many of ours it names."""
        found = self._places(line)
        return all(name in found for name in NEEDED), len(found)

    def header(self, sheet: Sheet) -> Header:
        """The header of a grid.

        Raises:
            InputError: A needed column is missing, or one of ours stands there twice.
        """
        index, (is_whole, _) = best_header(sheet.lines, self.rank)
        if not sheet.lines:
            raise InputError(sheet.in_errors, "it is empty", f"give it a header row with at least {', '.join(NEEDED)}")
        line = sheet.lines[index]
        where = f"{sheet.in_errors}, {sheet.word} {line.number}"
        found = self._places(line)
        if not is_whole:
            self._complain(where, line, found)
        for ours, at in found.items():
            if len(at) > 1:
                name = _shown(line.cells[at[0]].text)
                raise InputError(
                    where, f"the column {name!r} stands there twice", f"rename or remove one: it is our {ours!r}"
                )
        return _header(index, line, found)

    def header_in(self, line: Line, index: int) -> Header | None:
        """The header that a line is; None where a needed column is missing, or one of ours stands there twice."""
        found = self._places(line)
        if not all(name in found for name in NEEDED) or any(len(at) > 1 for at in found.values()):
            return None
        return _header(index, line, found)

    def named(self, line: Line) -> set[str]:
        """Columns of ours that a line names, as the project or as we call them, whatever unit they bear."""
        found = set()
        for cell in line.cells.values():
            name = "" if cell.is_number else normal(cell.text)
            unit = UNIT_IN_BRACKETS.search(name)
            ours = self._by_name.get(name) or (self._by_name.get(name[: unit.start()].strip()) if unit else None)
            if ours:
                found.add(ours)
        return found

    def heads_circuits(self, line: Line, *, only_circuits: bool = False) -> bool:
        """Whether a line is a header of circuits, whole or not.

        Args:
            line: Any line.
            only_circuits: Whether it must name the circuit's column, since a title may say from and to of anything.
        """
        named = self.named(line)
        if only_circuits and "circuit" not in named:
            return False
        return len(named & TELLING) > 1 or len(named) >= MANY

    def wrong_with(self, line: Line) -> str:
        """Why a line can't be the header of the rows below it."""
        found = self._places(line)
        missing = [name for name in NEEDED if name not in found]
        if missing:
            return f"without {' and '.join(repr(self.called(name)) for name in missing)}"
        return f"with {' and '.join(repr(self.called(name)) for name, at in found.items() if len(at) > 1)} twice"

    def problems(self, sheet: Sheet, header: Header) -> Iterator[Problem]:
        """What is told once of a header's columns."""
        where = sheet.at(header.line.number)
        free = [name for name in KNOWN if name not in header.places and name not in self._theirs]
        near = Nearest(free)
        for name in list(header.others.values())[:MOST_LOOKED_AT]:
            for meant in near.of(name, 1, ALIKE):
                yield Problem(
                    where,
                    f"the column {name!r} isn't one that is read",
                    "what it holds is kept, and used for nothing",
                    f"did you mean {meant!r}?",
                )
        theirs = Nearest([normal(name) for name in header.others.values()])
        for ours, name in self._theirs.items():
            if ours not in header.places:
                close = theirs.of(normal(name), 1, OFFERED)
                hint = f"did you mean {close[0]!r}?" if close else f"it has {_listed(header.line)}"
                what = f"the column {quoted(name)} isn't there, which wayroom.toml names for {ours!r}"
                yield Problem(where, what, "so what it would hold isn't known", hint)
            elif normal(ours) in header.others.values():
                what = f"the column {ours!r} isn't read, since wayroom.toml names {quoted(name)} for it"
                yield Problem(
                    where,
                    what,
                    "what it holds is kept, and used for nothing",
                    "check which one is meant",
                    ProblemKind.ASSUMPTION,
                )
        if "count" not in header.places:
            what = "the column 'count' is missing"
            yield Problem(where, what, "so no cables can be counted", "add it: cables of a set")

    def _places(self, line: Line) -> dict[str, list[int]]:
        """Places of our columns in a line of headings."""
        whole: dict[str, list[int]] = {}
        bare: dict[str, list[tuple[int, str]]] = {}
        for place, cell in line.cells.items():
            name = normal(cell.text)
            whole.setdefault(name, []).append(place)
            unit = UNIT_IN_BRACKETS.search(name)
            if unit:
                bare.setdefault(name[: unit.start()].strip(), []).append((place, unit[1].strip()))
        found = {}
        for ours in KNOWN:
            name = normal(self.called(ours))
            units = [unit.casefold() for unit in UNITS.get(ours, ())]
            places = whole.get(name) or [place for place, unit in bare.get(name, []) if not units or unit in units]
            if places:
                found[ours] = places
        return found

    def _complain(self, where: str, line: Line, found: Mapping[str, list[int]]) -> None:
        """Ends the run for the needed columns that a header lacks, all at once, each with the heading that is most like it."""
        missing = [name for name in NEEDED if name not in found]
        taken = {place for places in found.values() for place in places}
        free = {normal(cell.text): _as_written(cell.text) for place, cell in line.cells.items() if place not in taken}
        near: dict[str, str] = {}
        for name in missing:
            for meant in Nearest(free).of(normal(self.called(name))):
                near[name] = free.pop(meant)
        named = [
            repr(name) if self.called(name) == name else f"{self.called(name)!r} (our {name!r})" for name in missing
        ]
        is_one = len(missing) == 1
        what = f"the column{'' if is_one else 's'} {_and(named)} {'is' if is_one else 'are'} missing; it has {_listed(line)}"
        hints = [f"rename the column {heading!r} to {self.called(name)!r}" for name, heading in near.items()]
        rest = [repr(self.called(name)) for name in missing if name not in near]
        if rest:
            hints.append(f"add {'a column' if len(rest) == 1 else 'columns'} {_and(rest)} to the header row")
        entries = ", ".join(f"{name} = {_as_toml(near.get(name, '…'))}" for name in missing)
        which = "which it is" if is_one else "which they are"
        raise InputError(where, what, f"{', '.join(hints)}, or say {which}: [schedule] columns = {{ {entries} }}")


def _header(index: int, line: Line, found: Mapping[str, list[int]]) -> Header:
    places = {ours: at[0] for ours, at in found.items()}
    return Header(index, line, places, _others(line, frozenset(places.values())))


def _others(line: Line, taken: frozenset[int]) -> dict[int, str]:
    """Names of further columns by place; a name that stands there again gets a number."""
    names: dict[int, str] = {}
    times: dict[str, int] = {}
    for place, cell in sorted(line.cells.items()):
        name = _shown(cell.text)
        if place in taken or not name:
            continue
        times[name] = times.get(name, 0) + 1
        names[place] = name if times[name] == 1 else f"{name}, column {place + 1}"
    return names


def _shown(text: str) -> str:
    return _as_written(text).lower()


def _listed(line: Line) -> str:
    return listed([_as_written(cell.text)[:60] for _, cell in sorted(line.cells.items())], MOST_HEADINGS)


def _as_written(text: str) -> str:
    return " ".join(text.split())


def _and(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _as_toml(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
