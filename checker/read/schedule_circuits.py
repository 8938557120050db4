"""Circuits of a schedule's rows: what the rows say of the circuit as a whole, its state, and what it may share no carrier with."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from checker.model import Circuit, Problem, ProblemKind, RouteStep, Service, State
from checker.model.texts import listed, quoted
from checker.read.cells import Row
from checker.read.project_schedule import ScheduleSpec
from checker.read.schedule_cables import Cables, read_cable
from checker.read.schedule_loads import read_electrical
from checker.read.schedule_words import KNOWN, SAME_IN_EACH_ROW, Nearest, normal

#: What ``return_way`` may say: whether a ring comes back by another way than it went out.
WAYS_BACK = {"shortest": False, "other": True}
#: No circuit has less: what is lower is in kilovolts.
LEAST_VOLTAGE_V = 2.0
#: So many rows that are the same are named.
MOST_SAME = 10
LIST_ENDS = re.compile(r"[;\r\n]")
ROUTE_ENDS = re.compile(r"[;|\r\n]")


class Words:
    """Words of a schedule, any case: the project's own, else ours."""

    def __init__(self, spec: ScheduleSpec) -> None:
        self._services = {normal(word): service for word, service in spec.services.items()}
        self._states = {normal(word): state for word, state in spec.states.items()}
        self.services = _choices(Service, spec.services)
        self.states = _choices(State, spec.states)

    def service(self, text: str) -> Service:
        """A service; ValueError where it is none."""
        return self._services.get(normal(text)) or Service(normal(text))

    def state(self, text: str) -> State:
        """A state; ValueError where it is none."""
        return self._states.get(normal(text)) or State(normal(text))


@dataclass(slots=True)
class CircuitReader:
    """Makes circuits of rows. ``problems``: what had to be said of their rows so far."""

    cables: Cables
    words: Words
    problems: list[Problem] = field(default_factory=list)

    def circuits(self, rows: Iterable[Row]) -> tuple[Circuit, ...]:
        """All circuits, in the order in which the rows first name them."""
        by_mark: dict[str, list[Row]] = {}
        for row in rows:
            by_mark.setdefault(row.text("circuit"), []).append(row)
        self.problems.extend(_nearly_same(by_mark))
        near = Nearest(by_mark)
        return tuple(self._circuit(mark, group, by_mark.keys(), near) for mark, group in by_mark.items())

    def _circuit(self, mark: str, rows: list[Row], marks: Collection[str], near: Nearest) -> Circuit:
        """One circuit of its rows. What they contradict each other in is unread: neither is believed."""
        state, there = self._state(rows)
        lead = _together(there)
        service = lead.word_of("service", self.words.service, self.words.services)
        if not lead.text("service") and "service" not in lead.unread:
            lead.complain(
                "service",
                f"circuit {mark} has no service",
                "its segregation can't be judged",
                f"one of {self.words.services}",
            )
        sets = lead.whole("sets", least=1)
        electrical = read_electrical(lead, is_loaded=state in {State.NEW, State.EXISTING})
        compartment, voltage = lead.whole("compartment", least=1), lead.volts("voltage_v", least=LEAST_VOLTAGE_V)
        cables = tuple(read_cable(row, self.cables) for row in there)
        origin, calls = lead.text("from"), _parts(lead.text("to"), LIST_ENDS)
        returns_other_way = _returns_other_way(lead, origin, calls)
        apart_from = _apart_from(there, lead, mark, marks, near)
        unread = tuple(dict.fromkeys(column for row in (*there, lead) for column in row.unread))
        self.problems.extend(problem for row in (*rows, lead) for problem in row.problems)
        if state is not State.REMOVED:
            self.problems.extend(_twice(there))
        return Circuit(
            mark=mark,
            origin=origin,
            calls=calls,
            service=None if "service" in unread else service,
            state=state,
            sets=1 if sets is None else sets,
            cables=cables,
            route=tuple(_step(part) for part in _parts(lead.text("route"), ROUTE_ENDS)),
            compartment=compartment,
            voltage_v=None if "voltage_v" in unread else voltage,
            electrical=electrical,
            other={name: text for name, text in lead.cells.items() if name not in KNOWN and name and text},
            unread=unread,
            returns_other_way=returns_other_way and "return_way" not in unread,
            apart_from=apart_from,
        )

    def _state(self, rows: list[Row]) -> tuple[State, list[Row]]:
        """The circuit's state, and the rows whose cables are there.

        A row that is removed, where others aren't, is gone with its cables. An empty cell means new in the first row of the rest, and what
        the first says in later ones. Where they differ they count as new: taking them for removed could hide them, for spare their load.
        """
        said = [row.word_of("state", self.words.state, self.words.states) for row in rows]
        blank = [not row.text("state") and "state" not in row.unread for row in rows]
        if all(state is State.REMOVED for state in said):
            return State.REMOVED, rows
        there = [row for row, state in zip(rows, said, strict=True) if state is not State.REMOVED]
        for row, state in zip(rows, said, strict=True):
            if state is State.REMOVED:
                hint = "give what is removed a mark of its own, if more of the circuit goes"
                row.note(
                    "state",
                    "it is removed, and other rows of the circuit aren't",
                    "its cables take no room, the rest stands",
                    hint,
                    ProblemKind.ASSUMPTION,
                )
        stays = [(state, is_blank) for state, is_blank in zip(said, blank, strict=True) if state is not State.REMOVED]
        kinds = {stays[0][0] or State.NEW} | {state or State.NEW for state, is_blank in stays if not is_blank}
        if len(kinds) == 1:
            return kinds.pop(), there
        what, hint = "the circuit's rows differ in their state", "give the parts marks of their own"
        if stays[0][1]:
            what, hint = f"{what}, the first being empty, which means new", "say the state in the first row as well"
        there[0].complain("state", what, "it is counted as new", hint, ProblemKind.ASSUMPTION)
        return State.NEW, there


def _together(rows: list[Row]) -> Row:
    """What the rows of a circuit say as a whole: of each column the first cell that isn't empty."""
    first = rows[0]
    cells, lines, exact = dict(first.cells), {}, set(first.exact)
    for row in rows[1:]:
        for column, text in row.cells.items():
            if text.strip() and not cells.get(column, "").strip():
                cells[column], lines[column] = text, row.line
                exact |= {column} & row.exact
    for row in rows[1:]:
        for column in SAME_IN_EACH_ROW:
            text, other = row.text(column), cells.get(column, "").strip()
            if text and text != other:
                where = f"{row.word} {lines.get(column, first.line)}"
                row.complain(
                    column, f"{quoted(text)} differs from {quoted(other)} in {where}",
                    "so which one holds isn't known", "say the same in each row of a circuit, or leave the later ones empty",
                )  # fmt: skip
    unread = [column for column in SAME_IN_EACH_ROW if any(column in row.unread for row in rows)]
    return replace(first, cells=cells, lines=lines, exact=frozenset(exact), problems=[], unread=unread)


def _twice(rows: list[Row]) -> Iterator[Problem]:
    """Tells rows of a circuit that are the same in all cells, once for all that are: one may have been pasted twice."""
    alike: dict[frozenset[tuple[str, str]], list[Row]] = {}
    for row in rows:
        cells = frozenset((column, text.strip()) for column, text in row.cells.items() if text.strip())
        alike.setdefault(cells, []).append(row)
    for same in alike.values():
        if len(same) > 1:
            first, numbers = same[0], [str(row.line) for row in same]
            shown = (
                f"{', '.join(numbers[:-1])} and {numbers[-1]}" if len(same) <= MOST_SAME else listed(numbers, MOST_SAME)
            )
            why = f"{'both' if len(same) == 2 else 'all'} are counted"
            where = f"{first.place}, {first.word}s {', '.join(numbers[:MOST_SAME])}"
            what, hint = f"{first.word}s {shown} are the same", "take out what is there twice by mistake"
            yield Problem(where, what, why, hint, ProblemKind.ASSUMPTION, len(same))


def _nearly_same(by_mark: Mapping[str, list[Row]]) -> Iterator[Problem]:
    """Tells circuits whose marks differ in nothing but case or blanks: one circuit, written in two ways, would be read as two."""
    alike: dict[str, list[str]] = {}
    for mark in by_mark:
        alike.setdefault("".join(mark.split()).casefold(), []).append(mark)
    for marks in alike.values():
        if len(marks) > 1:
            first = by_mark[marks[0]][0]
            lines = ", ".join(str(by_mark[mark][0].line) for mark in marks[:10])
            count = "two" if len(marks) == 2 else str(len(marks))
            what = f"{count} circuits have marks that differ only in case or blanks: {listed([quoted(mark) for mark in marks])}"
            why, hint = "each is taken for a circuit of its own", "if they are one, write its mark the same in each row"
            where = f"{first.place}, {first.word}s {lines}"
            yield Problem(where, what, why, hint, ProblemKind.ASSUMPTION, len(marks))


def _returns_other_way(lead: Row, origin: str, calls: tuple[str, ...]) -> bool:
    """Whether the last leg of a ring is to take another way than those out."""
    if not lead.word_of("return_way", _way_back, " or ".join(WAYS_BACK)):
        return False
    if calls[-1:] == (origin,) and any(call != origin for call in calls):
        return True
    what = "the circuit is no ring: its last call isn't its origin"
    lead.complain(
        "return_way",
        what,
        "so it has no way back, and the cell isn't used",
        "name the origin last in 'to', or leave it empty",
    )
    return False


def _way_back(text: str) -> bool:
    if normal(text) not in WAYS_BACK:
        raise ValueError(text)
    return WAYS_BACK[normal(text)]


def _apart_from(rows: Sequence[Row], lead: Row, mark: str, marks: Collection[str], near: Nearest) -> tuple[str, ...]:
    """Marks of circuits that it may share no carrier with, of all its rows; those that aren't in the schedule are told and left out."""
    found = tuple(dict.fromkeys(other for row in rows for other in _parts(row.text("apart_from"), LIST_ENDS)))
    if mark in found:
        why, hint = "no circuit can be apart from itself, so it isn't used", "give the marks of others"
        lead.complain("apart_from", f"{quoted(mark)} is the circuit's own mark", why, hint)
    for other in found:
        if other not in marks:
            close = near.of(other)
            hint = f"did you mean {close[0]!r}?" if close else "give marks of circuits of this schedule, separated by ;"
            why = "so whether they are apart can't be judged"
            lead.complain("apart_from", f"there is no circuit {quoted(other)}", why, hint)
    return tuple(other for other in found if other != mark and other in marks)


def _parts(text: str, ends: re.Pattern[str]) -> tuple[str, ...]:
    return tuple(part.strip() for part in ends.split(text) if part.strip())


def _step(text: str) -> RouteStep:
    found = re.fullmatch(r"(.+?)\s*/\s*([0-9]{1,4})", text)
    return RouteStep(text, found[1], int(found[2])) if found else RouteStep(text, text)


def _choices(kind: type[Service] | type[State], more: Iterable[str]) -> str:
    return ", ".join([*kind, *more])
