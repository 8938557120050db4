"""Issue notes as plain data, between the writer and the merger: a topic's files, and what its text says for machines.

The last lines of a description that we write are for the next run::

    wayroom: <finding id> <finding id>
    wayroom state: <rule> | <code> | <value> | <value> | <seals of the title, the text, the status and the project's key, with / between>

One value per finding, in the same order. Where a person changed the title, the text or the status, its seal no longer fits: it is
theirs now. Everything is read back by words, not by lines, since other programs wrap and trim texts as they like.
"""

import hashlib
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from checker.model.texts import listed, natural, number
from checker.result.archive import Content
from checker.result.dialect import V2, Dialect
from checker.result.note_words import NoteWords
from checker.result.tables import FindingRow, Result, Topic
from checker.rule.question_kinds import is_question

#: CreationAuthor of our topics and Author of our comments.
AUTHOR = "wayroom"

#: The seal of a text that isn't ours, or of which we can't tell.
NO_SEAL = "0" * 12

#: As what we set a status.
OPEN, REVIEW = "open", "review"

#: So many different things that were tried in vain are told of one topic; the findings have all.
MOST_TOLD = 4

_UUID = r"[0-9a-fA-F]{8}(?:-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}"
_IDS = re.compile(rf"(?:wayroom:(?:\s+{_UUID})+\s*)+")
_SEAL = "([0-9a-f]{12})"
_STATE = re.compile(rf"wayroom\s+state:\s([^|]*)\|([^|]*)\|(.*?)\|\s*{_SEAL}/{_SEAL}(?:/{_SEAL}/{_SEAL})?\b", re.DOTALL)


@dataclass(frozen=True, slots=True)
class State:
    """What a topic's text says for machines.

    ``values`` are by finding id: figures for one that fails, else a word. Empty text: nothing was said of it. ``status_seal`` is of the
    status that we set last, and as what (``status_seal``); ``project_seal`` is of the key of the project whose findings they are.
    """

    values: dict[str, str]
    rule: str = ""
    code: str = ""
    title_seal: str = NO_SEAL
    body_seal: str = NO_SEAL
    status_seal: str = NO_SEAL
    project_seal: str = NO_SEAL

    @property
    def seals(self) -> tuple[str, str, str, str]:
        """As they stand in a text."""
        return self.title_seal, self.body_seal, self.status_seal, self.project_seal


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
    topic: Topic, findings: dict[str, FindingRow], code: str = "", project_key: str = "", status: str = ""
) -> State:
    """What stands for machines in a topic.

    Args:
        topic: A new one.
        findings: The result's, by id.
        code: Its ``code_word``.
        project_key: The result's.
        status: What the topic's is called.
    """
    parted = split_text(topic.description)
    # in the order of the ids that stand there already, where these are the topic's own
    listed = tuple(parted.state.values) if parted.state else ()
    order = listed if sorted(listed) == sorted(topic.members) else topic.members
    rows = [findings[member] for member in order if member in findings]
    values = dict.fromkeys(order, "unknown" if is_question(topic.rule) else "") | {row.id: _word(row) for row in rows}
    named = code or (rows[0].code if rows else "")
    seals = (seal(topic.title), seal(parted.text), status_seal(OPEN, status), project_seal(project_key))
    return State(values, topic.rule, named, *seals)


def _word(finding: FindingRow) -> str:
    """What stands for a finding, as it will be read back."""
    return finding.verdict if finding.value is None else _plain(clean(shown(finding)))


def _plain(value: str) -> str:
    return " ".join(value.replace("|", " ").split())


@lru_cache(maxsize=8)
def project_seal(key: str) -> str:
    """A seal of a project's key."""
    return seal(key)


@lru_cache(maxsize=32)
def status_seal(role: str, status: str) -> str:
    """A seal of a status that we set, and as what: a project may call it otherwise the next time. Case doesn't count."""
    return seal(f"{role} {status.lower()}") if status.strip() else NO_SEAL


def seal(text: str) -> str:
    """A short hash of a text that tells whether somebody changed it; spaces and line ends don't count."""
    return hashlib.sha256(" ".join(clean(text).split()).encode()).hexdigest()[:12]


def state_lines(state: State) -> str:
    """The lines that end a description."""
    values = "".join(f"{_plain(value)} | " for value in state.values.values())
    return (
        f"wayroom: {' '.join(state.values)}\n"
        f"wayroom state: {state.rule} | {state.code} | {values}{'/'.join(state.seals)}"
    )


@dataclass(frozen=True, slots=True)
class Parted:
    """A description: what it says to people, to machines, and what somebody wrote after that."""

    text: str
    state: State | None
    after: str = ""

    def rejoined(self, state: State) -> str:
        """The same with another state; one that had none gets its lines at the end."""
        text = self.text if self.text.endswith("\n") or not self.text else f"{self.text}\n\n"
        return text + state_lines(state) + (f"\n{self.after}" if self.after else "")


@lru_cache(maxsize=8)  # each is asked for several times in a row
def split_text(description: str) -> Parted:
    """Parts a description. What is given must not be changed."""
    text = clean(description)
    every = list(_IDS.finditer(text))  # people quote ids; ours are those that the state is of
    if not every:
        return Parted(text, None)
    ids = next((one for one in every if _STATE.match(text, one.end())), every[0])
    keys = list(dict.fromkeys(key.lower() for key in re.findall(_UUID, ids[0])))
    before, rest = text[: ids.start()], text[ids.end() :]
    found = _STATE.match(rest)
    if found is None:
        return Parted(before, State(dict.fromkeys(keys, "")), rest.strip())
    values = [" ".join(value.split()) for value in found[3].split("|")]
    known = values if len(values) == len(keys) else [""] * len(keys)
    seals = (found[4], found[5], found[6] or NO_SEAL, found[7] or NO_SEAL)
    state = State(dict(zip(keys, known, strict=True)), found[1].strip(), found[2].strip(), *seals)
    return Parted(before, state, rest[found.end() :].strip())


def disarmed(text: str) -> str:
    """A text for people in which no name of a model reads as the words that our lines for machines begin with."""
    return clean(text).replace("wayroom:", "wayroom :")


#: What XML 1.0 can't hold, not even escaped.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def clean(text: str) -> str:
    """A text as XML can hold it, with plain line ends."""
    if text.isprintable():  # most are, and that is quick to tell
        return text
    return _FORBIDDEN.sub("", text).replace("\r\n", "\n").replace("\r", "\n")
