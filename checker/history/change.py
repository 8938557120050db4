"""What has become of a topic's findings since the notes were last written; how that is said is in ``change_text``."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.history import outcome as words
from checker.history.anew import Selected, findings_on, selected
from checker.history.asked import questions_in
from checker.history.identity import finding_id
from checker.history.outcome import Run, is_same_code, outcome, outcome_of
from checker.history.topic import MOVED, Topic
from checker.result.note_state import State
from checker.result.notes import Note
from checker.result.tables import CarrierRow
from checker.rule.question_kinds import is_question

_CIRCUITS = re.compile(r"^Circuits: (.+)\.\s*$", re.MULTILINE)
#: What passes, or is told elsewhere, is done with where something else of the topic fails. What isn't known must not be forgotten.
_DONE = frozenset({words.PASSES, words.ANSWERED, MOVED})
#: What this run has no finding for.
_WITHOUT_FINDING = frozenset({
    words.GONE, words.MADE_ANEW, words.NOT_READ, words.NO_SCHEDULE, words.NOT_JUDGED, words.NOT_ASKED,
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Change:
    """Old and new state of a topic.

    ``differing``: old and new word by finding id; None: there was none, or is none. ``made_anew``: the carriers that stand for elements
    which are gone, by the ids of the findings that these had; ``labels``: what findings were about that this run has none for.
    """

    old: State | None
    new: State
    differing: dict[str, tuple[str | None, str]] = field(default_factory=dict)
    made_anew: Mapping[str, CarrierRow] = field(default_factory=dict)
    labels: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_nothing(self) -> bool:
        """Whether there is nothing to say."""
        return not self.differing and not self.by_other_code

    @property
    def by_other_code(self) -> bool:
        """Whether another code, or another edition of it, judges now. What is asked is the same question by any."""
        return self.old is not None and not self.is_question and not is_same_code(self.old.code, self.new.code)

    @property
    def passed(self) -> bool:
        """Whether everything did before."""
        return self.old is not None and set(self.old.values.values()) in ({words.PASSES}, {words.ANSWERED})

    def all_are(self, *allowed: str) -> bool:
        """Whether nothing has become of any finding but these."""
        return bool(self.new.values) and set(self.new.values.values()) <= set(allowed)

    @property
    def new_words(self) -> frozenset[str]:
        """What there is now, of all its findings."""
        return frozenset(self.new.values.values())

    @property
    def is_question(self) -> bool:
        """Whether the topic asks something."""
        return is_question((self.old or self.new).rule)

    def texts(self) -> tuple[str, str]:
        """Old and new as two texts, for the Guid of a comment."""
        old = {key: pair[0] for key, pair in sorted(self.differing.items())}
        new = {key: pair[1] for key, pair in sorted(self.differing.items())}
        before = self.old.code if self.old and self.by_other_code else ""
        return json.dumps([before, old]), json.dumps([self.new.code if before else "", new])


def change(topic: Topic, note: Note | None, run: Run) -> Change:
    """What has changed for a topic. ``note`` is this run's with the same Guid; None where nothing of it fails now."""
    old = topic.description.state
    if old is None and note is None:
        return Change(None, State({}))
    before = old.values if old else {}
    values = dict(note.state.values) if note else {}
    left = [key for key in before if key not in values]
    became = {key: outcome(key, topic, old, run) for key in left} if old else {}
    again: dict[str, CarrierRow] = {}
    labels: dict[str, str] = {}
    if old and is_question(old.rule):
        labels = questions_in(topic.description.text, run.facts.project_key, became)
    elif old and not _WITHOUT_FINDING.isdisjoint(became.values()):
        on = findings_on(old.rule, selected(topic, run), run)
        labels = {key: _label(*on[key]) for key in became if key in on}
        if old.rule in run.of_circuits:
            labels |= _circuits(topic, old, run)
        gone = [key for key, word in became.items() if word in {words.GONE, words.MADE_ANEW}]
        again = {key: row for key in gone if key in on and (row := on[key][0].made_anew) is not None}
        became |= dict.fromkeys(again, words.MADE_ANEW)
    differing: dict[str, tuple[str | None, str]] = {
        key: (before.get(key), word) for key, word in (values | became).items() if before.get(key) != word
    }
    kept = (
        became
        if note is None
        else values | {key: word for key, own in became.items() if (word := _by_this_code(key, own, run)) not in _DONE}
    )
    source = note.state if note else old or State({})
    return Change(old, State(kept, source.rule, source.code), differing, again, labels)


def _by_this_code(key: str, word: str, run: Run) -> str:
    """The word for a topic that goes on by another code: what that says, or the next run would tell it as a change."""
    if word != words.OTHER_CODE:
        return word
    judged = run.facts.findings.get(key)
    return outcome_of(judged.verdict, run) if judged else words.ANSWERED


def _circuits(topic: Topic, old: State, run: Run) -> dict[str, str]:
    """What findings of circuits were about, by their ids, of those that the topic's text names. A mark may have commas."""
    lines = _CIRCUITS.findall(topic.description.text)
    marks = {mark.strip() for line in lines for comma in (", ", ",") for mark in line.split(comma)}
    return {finding_id(run.facts.project_key, old.rule, (), None, mark): f"circuit {mark}" for mark in marks if mark}


def _label(element: Selected, number: int | None) -> str:
    return (element.tag or element.global_id) + ("" if number is None else f", compartment {number}")
