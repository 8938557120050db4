"""What an answer says, as plain facts that text and machine readers share: the way, where it is fullest, what stops the next."""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from checker.model import CircuitPair
from checker.model.texts import listed
from checker.read.schedule_words import KNOWN
from checker.result.notes import found_and_wanted, is_of_figure, shown
from checker.result.tables import FindingRow
from checker.room.answering import Answer
from checker.room.counting import Counting, Tried
from checker.room.question import ALSO, OPTIONS
from checker.rule import Outcome
from checker.rule.needs import answered_in
from checker.units import metres

#: Rows of one rule that say the same are one, with so many places named.
MOST_PLACES = 4
#: What is behind these digits of a figure is noise of sums.
DIGITS = 6
_COLUMN = re.compile(r"\b[a-z]+(?:_[a-z0-9]+)*\b")


@dataclass(frozen=True, slots=True)
class Alike:
    """Findings of one rule that say the same of several places: the first, and what people call those places."""

    row: FindingRow
    places: tuple[str, ...]

    @property
    def where(self) -> str:
        """The first few places."""
        return listed(self.places, MOST_PLACES)


@dataclass(frozen=True, slots=True)
class Tightest:
    """The finding of all on what is added, ratings aside, that comes nearest to its limit, and what it was without it; None: new."""

    row: FindingRow
    before: FindingRow | None


def label(answer: Answer, key: str) -> str:
    """What a person would call a carrier."""
    return answer.carriers[key].place.label if key in answer.carriers else key


def where_of(answer: Answer, row: FindingRow) -> str:
    """What a finding is about, as a person would call it."""
    if row.at:
        return row.at
    told = listed([label(answer, key) for key in row.carriers], 2) or "the installation"
    if row.is_of_circuit:
        circuit = ", ".join(row.circuits)
        return f"circuit {circuit} in {told}" if row.carriers else f"circuit {circuit}"
    several = (
        row.compartment is not None
        and len(row.carriers) == 1
        and len(answer.carriers[row.carriers[0]].section.lanes) > 1
    )
    return f"{told}, compartment {row.compartment}" if several else told


def alike(answer: Answer, rows: Iterable[FindingRow]) -> list[Alike]:
    """Findings, those of one rule that say the same together."""
    groups: dict[tuple[str, str, str], list[FindingRow]] = {}
    for row in rows:
        said = re.sub(rf"\b{re.escape(answer.bundle.stem)} \d+\b", answer.bundle.stem, row.reason)
        groups.setdefault((row.rule, row.verdict, said), []).append(row)
    return [Alike(group[0], tuple(dict.fromkeys(where_of(answer, row) for row in group))) for group in groups.values()]


def tightest(tried: Tried) -> Tightest | None:
    """Where what is added comes nearest to a limit, by any rule but ratings; of what it makes fuller, if there is that."""
    rows = [row for row in tried.own if row.use is not None and not row.is_of_circuit and is_of_figure(row)]
    before = tried.effects.before
    fuller = [row for row in rows if row.id not in before or before[row.id].value != row.value]
    best = min(fuller or rows, key=lambda row: (-(row.use or 0.0), row.rule, row.id), default=None)
    return None if best is None else Tightest(best, before.get(best.id))


def already(counting: Counting) -> list[FindingRow]:
    """What fails on the way already, without anything added; not what two other circuits share."""
    tried = counting.of(1)
    lanes = tried.lanes
    found = []
    for row in tried.effects.before.values():
        if counting.plugins.rules[row.rule].subject is CircuitPair:
            continue
        here = [key for key in row.carriers if key in lanes]
        if row.verdict == Outcome.FAIL and any(
            row.compartment is None or row.compartment in lanes[key] for key in here
        ):
            found.append(row)
    return found


def failed_before(tried: Tried, row: FindingRow) -> bool:
    """Whether a finding failed already without what is added."""
    before = tried.effects.before.get(row.id)
    return before is not None and before.verdict == Outcome.FAIL


def gives(answer: Answer, row: FindingRow) -> list[str]:
    """What to give so that an unknown finding is settled: options of the command, else where its answer is written."""
    own = {f"cable {cable.key}" for cable in answer.bundle.circuit.cables if cable.key}
    is_own = re.compile(
        rf".+ of (the cables of )?(circuit {re.escape(answer.bundle.stem)} \d+|{'|'.join(map(re.escape, own)) or '-'})"
    )
    found = []
    for need in answer.needs.get(row.id, ()):
        where, hint = answered_in(need)
        where = _as_options(where) if is_own.fullmatch(need) else where
        found.append(f"{where} ({hint})" if where and hint else where or need)
    return list(dict.fromkeys(found))


def _as_options(where: str) -> str:
    """A place in the schedule as options of the command."""

    def option(found: re.Match[str]) -> str:
        return OPTIONS.get(found[0], f"{ALSO} {found[0]}=…") if found[0] in KNOWN else found[0]

    columns = where.removeprefix("schedule, ").partition(" of ")[0].partition(";")[0]
    return _COLUMN.sub(option, columns.replace(", or /N in route", ""))


def way_steps(counting: Counting) -> list[tuple[str, tuple[int, ...]]]:
    """The carriers of a way in order, each with the compartments in which what is added lies for certain."""
    lanes = counting.of(1).lanes
    keys = [visit.carrier for visit in counting.way.route.visits]
    return [(key, lanes.get(key, ())) for key, before in zip(keys, [None, *keys], strict=False) if key != before]


def way_words(answer: Answer, counting: Counting) -> str:
    """A way as the schedule's column ``route`` would give it: what isn't called so alone goes by its GlobalId."""
    parts = []
    for key, lanes in way_steps(counting):
        several = len(answer.carriers[key].section.lanes) > 1
        name = answer.in_route(key)
        parts.append(f"{name}/{lanes[0]}" if several and len(lanes) == 1 else name)
    return "; ".join(parts)


def assumed(answer: Answer, tried: Tried) -> list[str]:
    """What had to be said of reading what is added, and of the compartments that it takes, each once."""
    own = f"circuit {answer.bundle.numbered(1).mark}"
    problems = tried.effects.situation.loading.problems
    # what loading says of the schedule is here of the option
    lanes = [one.what.replace("the schedule", "--compartment") for one in problems if one.where == own]
    return list(dict.fromkeys(text for text in (*(one.what for one in answer.bundle.problems), *lanes) if text))


def wants_route(answer: Answer, counting: Counting) -> bool:
    """Whether the schedule must name the way, as a check would find another by itself."""
    return counting.way.is_other or bool(answer.question.via or answer.question.avoid)


def length_m(counting: Counting) -> float | None:
    """The length of a way through carriers, in m; None: not known."""
    length = counting.way.route.length_mm
    return None if length is None else round(metres(length), DIGITS)


def drops_m(counting: Counting) -> list[float | None]:
    """Its drops, in m."""
    return [None if drop is None else round(metres(drop), DIGITS) for drop in counting.way.route.drops_mm]


def counted(rows: Iterable[FindingRow]) -> dict[str, int]:
    """How many findings each rule made, by rule."""
    return dict(sorted(Counter(row.rule for row in rows).items()))


def figures(row: FindingRow) -> str:
    """What was found and what is wanted, in words; the reason where there is no figure."""
    return shown(row) or row.reason


def room_left(row: FindingRow) -> str:
    """What is left up to the limit, with its unit; empty where that says nothing."""
    if row.value is None or row.limit is None or row.is_floor or row.value > row.limit:
        return ""
    rest = replace(row, value=row.limit - row.value, limit=None, found="", wanted="", at_least=False)
    return found_and_wanted(rest)[0]
