"""Which questions to the design team are asked in one note: those of one kind, the kinds that settle most first."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from checker.result.guids import stable_guid
from checker.result.meetings import meetings
from checker.result.question_tables import QuestionRow
from checker.result.tables import Result
from checker.rule.needs import ALL_WAYS, WAY, answered_in, of_circuit
from checker.rule.question_kinds import MEETING, QUESTION, QuestionKind, kind_of

#: So many questions of one kind a note has, those that settle most.
MOST_ASKED = 100
#: The question for an end of a circuit that isn't found, which asks for its way as well.
END = "end"
#: The state of a circuit that needs no way.
REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class RequestGroup:
    """Questions of one kind, or all that is asked of one thing, those that settle most first.

    ``kind`` is of the first. ``ids`` are of the questions, as those of findings are, by which a topic keeps its identity. ``more`` are so
    many that are left to questions.csv.
    """

    kind: QuestionKind
    rows: tuple[QuestionRow, ...]
    ids: tuple[str, ...]
    more: int = 0

    @property
    def settles(self) -> int:
        """So many unknown findings its questions settle, each once those before it are answered."""
        return sum(row.settles for row in self.rows)

    @property
    def is_of_meetings(self) -> bool:
        """Whether it asks of near misses."""
        return (self.kind.what, self.kind.noun) == MEETING

    @property
    def is_of_one_thing(self) -> bool:
        """Whether it asks several things of one."""
        return len({kind_of(row.question)[0] for row in self.rows}) > 1


def question_id(project_key: str, question: str) -> str:
    """The id of a question: the same as long as it is asked in the same words."""
    return stable_guid(QUESTION, project_key, question)


def request_groups(result: Result, most: int) -> list[RequestGroup]:
    """The questions of a result as a person would ask them: those of one kind together; what is the only one of its kind by its thing.

    Args:
        result: Its questions.
        most: So many groups at the most, those that settle most.
    """
    of_kind: dict[QuestionKind, list[QuestionRow]] = defaultdict(list)
    for row in asked_rows(result):
        of_kind[kind_of(row.question)[0]].append(row)
    by: dict[object, list[QuestionRow]] = defaultdict(list)
    for kind, rows in of_kind.items():
        by[(kind.noun, kind_of(rows[0].question)[1]) if len(rows) == 1 and kind.noun else kind].extend(rows)
    groups = []
    for rows in by.values():
        first = sorted(rows, key=lambda row: (-row.settles, row.rank))[:MOST_ASKED]
        ids = tuple(question_id(result.project_key, row.question) for row in first)
        groups.append(RequestGroup(kind_of(first[0].question)[0], tuple(first), ids, len(rows) - len(first)))
    groups.sort(key=lambda group: (-group.settles, min(row.rank for row in group.rows)))
    told = groups[:most]
    return [*told, *_near_misses(result, told)][:most]


def asked_rows(result: Result) -> list[QuestionRow]:
    """The questions of a result, and for the ways of circuits that have none, though no unknown finding is known to hang on them."""
    rows = [row for row in result.questions if row.rank]
    kinds = [(kind.noun, kind.what, name) for kind, name in (kind_of(row.question) for row in rows)]
    if any(row.question == ALL_WAYS for row in rows):
        return rows
    told = {name for noun, what, name in kinds if noun == "circuit" and what in {WAY, END}}
    unrouted = (row.circuit for row in result.circuits if not row.is_routed and row.state != REMOVED)
    for mark in (mark for mark in dict.fromkeys(unrouted) if mark not in told):
        question = of_circuit(WAY, mark)
        rows.append(QuestionRow(len(result.questions) + 1, question, *answered_in(question), 0, 0, 0, circuits=1))
    return rows


def _near_misses(result: Result, told: Sequence[RequestGroup]) -> list[RequestGroup]:
    """What nearly meets, in one group, but what the questions for the ways of circuits tell of."""
    of_ways = {kind_of(row.question)[1] for group in told if group.kind.what == WAY for row in group.rows}
    asked = [one for one in meetings(result) if of_ways.isdisjoint(one.circuits)]
    if not asked:
        return []
    rows = tuple(one.row(rank) for rank, one in enumerate(asked[:MOST_ASKED], start=len(result.questions) + 1))
    ids = tuple(question_id(result.project_key, row.question) for row in rows)
    return [RequestGroup(QuestionKind(*MEETING), rows, ids, len(asked) - len(rows))]


def all_asked(result: Result) -> dict[str, str]:
    """Every question that a note may ask by its id, whether one does or not."""
    questions = [row.question for row in asked_rows(result)] + [one.question for one in meetings(result)]
    return {question_id(result.project_key, question): question for question in questions}
