"""Issue notes as plain data, between the writer and the merger: a topic's files, and what is found and wanted in words."""

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from checker.model.texts import listed, natural, number
from checker.result.archive import Content
from checker.result.dialect import V2, Dialect
from checker.result.note_state import OPEN, Parted, State, plain, project_seal, seal, status_seal
from checker.result.note_words import NoteWords
from checker.result.tables import FindingRow, Result, Topic
from checker.rule.question_kinds import is_question

#: CreationAuthor of our topics and Author of our comments.
AUTHOR = "wayroom"

#: So many different things that were tried in vain are told of one topic; the findings have all.
MOST_TOLD = 4


@dataclass(frozen=True, slots=True)
class Note:
    """One topic: its folder's files, by name, and what it was made of. ``text`` is what it says to people.

    ``pictures`` are drawn when they are written, by what they are named: a topic that has one already needs none.
    """

    guid: str
    title: str
    text: str
    state: State
    files: dict[str, bytes]
    pictures: Mapping[str, Callable[[], bytes]] = field(default_factory=dict)

    def contents(self) -> dict[str, Content]:
        """All files of its folder, by name."""
        return {**self.files, **self.pictures}


@dataclass(frozen=True, slots=True)
class Draft:
    """All notes of one run, before they meet the previous ones.

    ``head`` are the files beside their folders; ``dialect`` is the version of BCF of all files, ``words`` are the project's.
    """

    created: str
    head: dict[str, bytes]
    notes: tuple[Note, ...]
    dialect: Dialect = V2
    words: NoteWords = field(default_factory=NoteWords)

    def files(self) -> list[tuple[str, Content]]:
        """Every file with its path, in the order in which it is written."""
        topics = [(f"{note.guid}/{name}", content) for note in self.notes for name, content in note.contents().items()]
        return [*self.head.items(), *topics]


def code_word(result: Result) -> str:
    """A code and its edition as one word, ``bs-7671/3f2a91bc``: the hash is of its title and edition."""
    title = result.code_title.encode("utf-8", "surrogatepass")
    return f"{result.code}/{hashlib.sha256(title).hexdigest()[:8]}"


def shown(finding: FindingRow) -> str:
    """What was found and what is wanted in one, such as ``52.3 % / 45 %`` or ``20 % / at least 25 %``; empty where there is neither."""
    return " / ".join(part for part in found_and_wanted(finding) if part)


def found_and_wanted(finding: FindingRow) -> tuple[str, str]:
    """What was found and what is wanted, such as ``52.3 %`` and ``45 %``, ``20 %`` and ``at least 25 %``; empty where there is none.

    The rule's own words where it gave some, such as ``53.3 % with 5 % spare``.
    """
    value, limit = amounts(finding.value, finding.limit, finding.unit)
    is_figure = is_of_figure(finding)
    bound = f"{'at least ' if finding.is_floor else ''}{limit}" if limit and is_figure else ""
    at_least = "at least " if finding.at_least and is_figure else ""
    found = finding.found or value
    return (f"{at_least}{found}", finding.wanted or bound) if found else ("", "")


def is_of_figure(finding: FindingRow) -> bool:
    """Whether it is its figure that is told against the limit; not so of a cable that is too thick, however little it fills."""
    value, _ = amounts(finding.value, finding.limit, finding.unit)
    return bool(value) and value in (finding.found or value)


def amounts(value: float | None, limit: float | None, unit: str) -> tuple[str, str]:
    """Value and limit as people read them; a fail by a hair doesn't read as exactly at the limit. Empty where there is none."""
    digits = 1
    if value is not None and limit is not None and value != limit and number(value, unit) == number(limit, unit):
        digits = 4
    first, second = ("" if amount is None else number(amount, unit, digits) for amount in (value, limit))
    return first, second


def in_words(text: str, value: str) -> str:
    """A rule's words with the figure in them; empty where it hasn't one."""
    return text.replace("{}", value) if value or "{}" not in text else ""


def advices(findings: Iterable[FindingRow]) -> list[str]:
    """What would help, each thing once; where there are several, of circuits, with whose each is."""
    whose: dict[str, dict[str, None]] = {}
    for row in findings:
        if row.advice:
            whose.setdefault(row.advice, {}).update(dict.fromkeys(row.circuits if row.is_of_circuit else ()))
    if len(whose) < 2:
        return list(whose)
    return [f"{', '.join(marks)}: {text}" if marks else text for text, marks in whose.items()]


def vain(findings: Iterable[FindingRow], labels: Mapping[str, str]) -> str:
    """What was tried in vain, or that nothing was, for those without advice: each thing once, with whose it is unless it is everybody's.

    Empty where all have advice.

    Args:
        findings: Those of one topic.
        labels: What carriers are called, by key.
    """
    rows = list(findings)
    whose: dict[str, dict[str, None]] = {}
    for row in rows:
        if row.tried and not row.advice:
            own = row.circuits if row.is_of_circuit else (row.at,) if row.at else (labels[key] for key in row.carriers)
            whose.setdefault(row.tried, {}).update(dict.fromkeys(own))
    if len(whose) == 1 and all(row.tried and not row.advice for row in rows):
        return next(iter(whose))
    told = [f"{listed(sorted(names, key=natural))}: {text}" if names else text for text, names in whose.items()]
    return listed(told, MOST_TOLD, "; ")


def topic_state(
    topic: Topic,
    parted: Parted,
    findings: Mapping[str, FindingRow],
    code: str,
    project_key: str,
    status: str,
    fields_seal: str,
) -> State:
    """What stands for machines in a topic.

    Args:
        topic: A new one.
        parted: Its text.
        findings: The result's, by id.
        code: Its ``code_word``.
        project_key: The result's.
        status: What the topic's is called.
        fields_seal: Of what else it says.
    """
    # in the order of the ids that stand there already, where these are the topic's own
    there = tuple(parted.state.values) if parted.state else ()
    order = there if sorted(there) == sorted(topic.members) else topic.members
    rows = [findings[member] for member in order if member in findings]
    values = dict.fromkeys(order, "unknown" if is_question(topic.rule) else "") | {row.id: _word(row) for row in rows}
    seals = seal(topic.title), seal(parted.text), status_seal(OPEN, status), project_seal(project_key)
    return State(values, topic.rule, code, *seals, fields_seal)


def _word(finding: FindingRow) -> str:
    """What stands for a finding, as it will be read back."""
    return finding.verdict if finding.value is None else plain(shown(finding))
