"""What has become of a topic's findings since the notes were last written, and how that is said."""

import json
from dataclasses import dataclass, field

from checker.history.topic import MOVED, Topic
from checker.result.notes import Draft, Note, RunFacts, State

PASSES = "pass"
FAILS = "fail"
UNKNOWN = "unknown"
WAIVED = "waived"
GONE = "gone"
NOT_READ = "not read"
NOT_JUDGED = "not judged"
OTHER_CODE = "other code"
_WORDS = frozenset({PASSES, MOVED, UNKNOWN, WAIVED, GONE, NOT_READ, NOT_JUDGED, OTHER_CODE})
_MOST_LINES = 20


@dataclass(frozen=True, slots=True)
class Run:
    """A run as old topics meet it. ``titles``: of the new notes, by the ids of their findings."""

    facts: RunFacts
    titles: dict[str, str]

    @classmethod
    def of(cls, draft: Draft, facts: RunFacts) -> "Run":
        """The run of a draft."""
        return cls(facts, {member: note.title for note in draft.notes for member in note.state.values})


@dataclass(frozen=True, slots=True)
class Change:
    """Old and new state of a topic. ``differing``: old and new word by finding id; None: there was none, or is none."""

    old: State | None
    new: State
    differing: dict[str, tuple[str | None, str]] = field(default_factory=dict)

    @property
    def is_nothing(self) -> bool:
        """Whether there is nothing to say."""
        return not self.differing and not self.by_other_code

    @property
    def by_other_code(self) -> bool:
        """Whether another code judges now."""
        return self.old is not None and bool(self.old.code) and self.old.code != self.new.code

    @property
    def passes(self) -> bool:
        """Whether everything that there was passes now."""
        return set(self.new.values.values()) == {PASSES}

    @property
    def passed(self) -> bool:
        """Whether everything did before."""
        return self.old is not None and set(self.old.values.values()) == {PASSES}

    def words(self) -> tuple[str, str]:
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
    became = {key: _outcome(key, topic, old, run) for key in before if key not in values} if old else {}
    differing: dict[str, tuple[str | None, str]] = {
        key: (before.get(key), word) for key, word in (values | became).items() if before.get(key) != word
    }
    if note is None:
        kept = became
    else:  # what passes, or is told elsewhere, is done with here; what isn't known must not be forgotten
        kept = values | {key: word for key, word in became.items() if word not in {PASSES, MOVED}}
    source = note.state if note else old or State({})
    return Change(old, State(kept, source.rule, source.code), differing)


def _outcome(key: str, topic: Topic, old: State, run: Run) -> str:
    if key in run.titles:
        return MOVED
    judged = run.facts.findings.get(key)
    if judged is not None:
        return OTHER_CODE if old.code and judged.code != old.code else judged.verdict
    if not all(_was_read(project, name, run.facts) for project, name in topic.models()):
        return NOT_READ
    return NOT_JUDGED if old.rule and old.rule not in run.facts.rules else GONE


def _was_read(project: str, name: str, facts: RunFacts) -> bool:
    """Whether a model was: by its project, since files are renamed from revision to revision; else by its name."""
    return project in facts.projects if project else name in facts.models


def change_text(topic_change: Change, run: Run, ending: str) -> str:
    """The comment on a change, with a sentence at its end."""
    facts = run.facts
    lines = [f"Checked again; the model is of {facts.created or 'an unknown time'}."]
    if topic_change.by_other_code and topic_change.old:
        lines.append(f"Judged by {topic_change.new.code} now, by {topic_change.old.code} before.")
    told = [_line(key, pair, topic_change, run) for key, pair in topic_change.differing.items()]
    lines += told[:_MOST_LINES]
    if len(told) > _MOST_LINES:
        lines.append(f"and {len(told) - _MOST_LINES} more")
    return "\n".join([*lines, ending] if ending else lines)


def _line(key: str, pair: tuple[str | None, str], topic_change: Change, run: Run) -> str:
    judged = run.facts.findings.get(key)
    label = judged.label if judged else f"Finding {key[:8]}"
    old, new = pair
    if new not in _WORDS:
        if old:
            return f"{label}: {old} → {new}"
        return f"{label}: fails" + ("" if new == FAILS else f", {new}")
    shown = f" ({judged.shown})" if judged and judged.shown else ""
    reason = f": {judged.reason}" if judged and judged.reason else ""
    state = topic_change.old or topic_change.new
    by, verdict = (judged.code, judged.verdict) if judged else ("", "")
    said = {
        PASSES: f"passes now{shown}",
        UNKNOWN: f"unknown now{reason}",
        WAIVED: f"waived now{reason}",
        MOVED: f"now part of the topic “{run.titles.get(key, '')}”",
        GONE: "gone from the model: deleted, or made anew with another GlobalId or other compartments",
        NOT_READ: "not re-checked, since its model was not read",
        NOT_JUDGED: f"not re-checked, since {state.rule} judged nothing in this run",
        OTHER_CODE: f"not re-checked by {state.code}; {by} says {verdict}",
    }
    return f"{label}: {said[new]}"
