"""What has become of a topic's findings since the notes were last written, and how that is said."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from checker.history import outcome as words
from checker.history.anew import Selected, findings_on, selected
from checker.history.asked import questions_in
from checker.history.identity import finding_id
from checker.history.outcome import WORDS, Run, is_same_code, outcome, outcome_of
from checker.history.topic import MOVED, Topic
from checker.model.texts import listed, natural
from checker.result.facts import Judgement
from checker.result.note_state import State
from checker.result.notes import Note
from checker.result.tables import CarrierRow
from checker.rule.question_kinds import is_question

_MOST_LINES = 20
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


def change_text(topic_change: Change, run: Run, ending: str) -> str:
    """The comment on a change, with a sentence at its end."""
    facts = run.facts
    issue = f", {facts.document}" if facts.document else ""
    as_of = " as of" if facts.is_time_given else "; the model is of"
    lines = [f"Checked again{as_of} {facts.created or 'an unknown time'}{issue}."]
    if topic_change.by_other_code and topic_change.old:
        lines.append(_of_codes(topic_change.old.code, topic_change.new.code, facts.code_title))
    told = [_line(key, pair, topic_change, run) for key, pair in topic_change.differing.items()]
    told.sort(key=lambda line: (natural(line), line))
    lines += told[:_MOST_LINES]
    if len(told) > _MOST_LINES:
        lines.append(f"and {len(told) - _MOST_LINES} more")
    return "\n".join([*lines, ending] if ending else lines)


def _of_codes(old: str, new: str, title: str) -> str:
    before, now = _key(old), _key(new)
    if before != now:
        return f"Judged by {now} now, by {before} before."
    return f"Judged by another edition of {now} than before: {title}."


def _key(code: str) -> str:
    return code.partition("/")[0]


def _line(key: str, pair: tuple[str | None, str], topic_change: Change, run: Run) -> str:
    judged = run.facts.findings.get(key)
    state = topic_change.old or topic_change.new
    if topic_change.is_question:
        label = run.facts.questions.get(key) or topic_change.labels.get(key) or "A question"
        return f"{label}: {_of_question(key, pair[1], topic_change, run)}"
    label = (
        judged.label if judged else topic_change.labels.get(key) or run.label(state.rule, key) or f"Finding {key[:8]}"
    )
    old, new = pair
    if new not in WORDS:
        if old and old not in WORDS:
            return f"{label}: {old} → {new}"
        figures = "" if new == words.FAILS else f", {new}"
        return f"{label}: fails{' now' if old else ''}{figures}{f' (before: {_BEFORE.get(old, old)})' if old else ''}"
    before = f", before {old}" if old and old not in WORDS and old != words.FAILS else ""
    return f"{label}: {_said(key, new, judged, topic_change, run)}{before if new in _PASSES else ''}"


_BEFORE = {words.OTHER_CODE: "judged by another code", words.PASSES_IN_PART: "pass, but not everything was read"}
_PASSES = frozenset({words.PASSES, words.PASSES_IN_PART, words.WAIVED})


def _said(key: str, word: str, judged: Judgement | None, topic_change: Change, run: Run) -> str:
    shown = f" ({judged.shown})" if judged and judged.shown else ""
    reason = f": {judged.reason}" if judged and judged.reason else ""
    state = topic_change.old or topic_change.new
    if word == words.PASSES_IN_PART:
        return f"passes now{shown}, but not everything was read"
    if word == words.GONE and state.rule in run.of_circuits:
        return "no circuit of that mark is in what was read: taken out, or marked otherwise"
    if word == words.MADE_ANEW:
        return "gone from the model, but " + "; ".join(_made_anew(key, topic_change, run))
    if word == words.OTHER_CODE:
        return "not re-checked " + _by_other(state.code, run, f"says {judged.verdict if judged else ''}")
    if word == words.NOT_JUDGED:
        said = [
            f"{one.rule} says {one.verdict}{f' ({one.shown})' if one.shown else ''}"
            for one in run.others(state.rule, key)
        ]
        now = f"; of the same {listed(said)}" if said else ""
        rule = _rule_of(key, state, run)
        return f"not re-checked, since {rule} judged nothing in this run{now}"
    if word == words.NOT_ASKED:
        rule = _rule_of(key, state, run)
        return (
            f"not re-checked: still in the model, but {rule} has no question about it now, as of what nothing runs in"
        )
    return {
        words.PASSES: f"passes now{shown}",
        words.UNKNOWN: f"unknown now{reason}",
        words.WAIVED: f"waived now{reason}",
        MOVED: f"now part of the topic “{run.titles.get(key, '')}”",
        words.NOT_READ: "not re-checked, since its model was not read",
        words.NO_SCHEDULE: "not re-checked, since no schedule was read",
    }.get(word, "gone from the model: deleted, made anew with another GlobalId, or joined or divided otherwise")


def _rule_of(key: str, state: State, run: Run) -> str:
    """The rule of a finding: a topic may have some of other rules than its own."""
    found = run.subject(state.rule, key)
    return found[0] if found else state.rule


def _of_question(key: str, word: str, topic_change: Change, run: Run) -> str:
    said = {
        words.ASKED: "asked now",
        words.ANSWERED: "no longer asked",
        words.ANSWERED_IN_PART: "not asked now, but not everything was read",
    }
    if word == words.OTHER_CODE:
        return "asked " + _by_other((topic_change.old or topic_change.new).code, run, "doesn't ask it")
    return said.get(word) or _said(key, word, None, topic_change, run)


def _by_other(code: str, run: Run, does: str) -> str:
    before, now = _key(code), _key(run.facts.code)
    if before != now:
        return f"by {before}; {now} {does}"
    return f"by that edition of {before}; this one {does}"


def _made_anew(key: str, topic_change: Change, run: Run) -> Iterator[str]:
    row = topic_change.made_anew.get(key)
    yield f"{row.place.label if row else 'it'} was made anew there with another GlobalId"
    if row is not None:
        rule = (topic_change.old or topic_change.new).rule
        failing = [own for own in run.on_carrier.get((rule, row.key), ()) if own in run.titles]
        if any(topic_change.new.values.get(own, MOVED) != MOVED for own in failing):
            yield "that one is in this topic too"
        else:
            titles = dict.fromkeys(run.titles[own] for own in failing)
            yield f"see the topic {listed([f'“{title}”' for title in titles])}" if titles else "nothing of it fails"
