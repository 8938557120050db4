"""Near misses as questions: carriers that come close and don't meet, of which nobody but the design team knows whether they should."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checker.model import Place, Vec
from checker.model.texts import listed, natural
from checker.result.camera import cube
from checker.result.network_tables import BreakRow
from checker.result.question_tables import QuestionRow
from checker.result.tables import Box, Result
from checker.rule.question_kinds import MEETING, QuestionKind
from checker.units import metres

#: A gap that is wider lacks more than a fitting: that is for whoever leads the circuits another way.
MOST_MISSED_MM = 3000.0


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two elements that may be meant to meet.

    Attributes:
        question: Whether they are, in words that are the same from run to run.
        name: What people call both.
        said: How they lie.
        keys: Of both.
        gap_mm: Between them.
        point_mm: Where that is.
        circuits: The marks of those that have no way as long as they don't meet.
    """

    question: str
    name: str
    said: str
    keys: tuple[str, str]
    gap_mm: float
    point_mm: Vec
    circuits: tuple[str, ...] = ()

    def row(self, rank: int) -> QuestionRow:
        """The same as a question."""
        return QuestionRow(
            rank, self.question, f"model, {self.name}", "close the gap or connect their ports if cables pass there, else say so",
            0, 0, 0, circuits=len(self.circuits), carriers=2, examples=self.circuits, keys=self.keys,
        )  # fmt: skip


def meetings(result: Result) -> list[Meeting]:
    """What may be meant to meet, each once: first what most circuits need, then the nearest.

    An end at which circuits come in is open on purpose. It is asked of where circuits need it all the same.
    """
    breaks = {frozenset((row.one, row.other)): row for row in result.breaks if row.gap_mm <= MOST_MISSED_MM}
    labels = {row.key: row.place.label for row in result.carriers}
    found: dict[str, list[Meeting]] = defaultdict(list)
    missed = set()
    for row in result.near_misses:
        pair = frozenset((row.one, row.other))
        missed.add(pair)
        if not row.is_used or pair in breaks:
            circuits = breaks[pair].circuits if pair in breaks else ()
            made = _meeting(row.names, row.said, (row.one, row.other), row.gap_mm, row.point_mm, circuits)
            found[made.question].append(made)
    for pair, cut in breaks.items():
        if pair not in missed:
            names = labels.get(cut.one, cut.one), labels.get(cut.other, cut.other)
            made = _meeting(names, _told(cut), (cut.one, cut.other), cut.gap_mm, cut.point_one_mm, cut.circuits)
            found[made.question].append(made)
    once = [min(alike, key=_turn) for alike in found.values()]
    return sorted(once, key=_turn)


def meeting_line(row: QuestionRow, said: str) -> str:
    """A line of a note: who needs it, and what would answer it.

    Args:
        row: As of ``Meeting.row``.
        said: How both lie.
    """
    needed = "no circuit is known to need it"
    if row.examples:
        needed = f"{listed(row.examples)} {'have' if len(row.examples) > 1 else 'has'} no way as it is"
    return f"- {row.question} ({said}; {needed}). Answer: {row.where}: {row.hint}."


def fittings_missed(result: Result, keys: Iterable[str]) -> Iterator[tuple[Place, Box]]:
    """The fittings among what nearly meets, each with a cube around the end that misses it.

    Args:
        result: Its near misses.
        keys: Of what nearly meets.
    """
    wanted = set(keys) - {row.key for row in result.carriers}
    for miss in result.near_misses:
        if miss.other in wanted:
            yield Place(miss.other, "", tag=miss.names[1]), cube(miss.point_mm)


def _meeting(
    names: tuple[str, str], said: str, keys: tuple[str, str], gap_mm: float, point_mm: Vec, circuits: tuple[str, ...]
) -> Meeting:
    name = " / ".join(" ".join(one.split()) for one in names)
    return Meeting(QuestionKind(*MEETING).words(name, are_many=False), name, said, keys, gap_mm, point_mm, circuits)


def _told(row: BreakRow) -> str:
    return f"they come within {metres(row.gap_mm):.2f} m of each other and don't meet"


def _turn(one: Meeting) -> tuple[object, ...]:
    return -len(one.circuits), round(one.gap_mm, 1), natural(one.name), one.question, one.keys
