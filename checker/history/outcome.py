"""What this run says of a finding that an earlier one told: not everything that doesn't fail now is mended."""

from collections.abc import Container, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from checker.history.identity import finding_id
from checker.history.previous import Previous
from checker.history.topic import MOVED, Topic
from checker.result.archive import Content, content_of, created_time
from checker.result.facts import Judgement, RunFacts, Subject
from checker.result.gathering import ASK_FILL_AGAIN
from checker.result.note_state import State
from checker.result.notes import Draft
from checker.result.tables import CarrierRow
from checker.rule.question_kinds import is_question

PASSES = "pass"
#: It passes, but in a run without a model that the notes know: circuits may be missing.
PASSES_IN_PART = "pass in part"
FAILS = "fail"
UNKNOWN = "unknown"
WAIVED = "waived"
GONE = "gone"
MADE_ANEW = "made anew"
NOT_READ = "not read"
#: Of a circuit of a schedule, in a run without one.
NO_SCHEDULE = "no schedule"
NOT_JUDGED = "not judged"
NOT_ASKED = "not asked"
OTHER_CODE = "other code"
#: Of a question: what its text says, and one that a note or questions.csv still asks.
ASKED = UNKNOWN
ANSWERED = "answered"
#: Not asked any more, but in a run without a model that the notes know.
ANSWERED_IN_PART = "answered in part"
WORDS = frozenset({
    PASSES, PASSES_IN_PART, MOVED, UNKNOWN, WAIVED, GONE, MADE_ANEW, NOT_READ, NO_SCHEDULE, NOT_JUDGED, NOT_ASKED, OTHER_CODE, ASKED,
    ANSWERED, ANSWERED_IN_PART,
})  # fmt: skip


@dataclass
class Run:
    """A run as old topics meet it.

    ``titles``: of the new notes, by the ids of their findings. ``missing``: the models that open topics of ours are about and that weren't
    read, and a schedule that was. ``files``: the earlier file's, by path. ``alike``: GlobalIds of IfcProject that models share, of which
    not all were read.
    """

    facts: RunFacts
    titles: dict[str, str] = field(default_factory=dict)
    missing: tuple[str, ...] = ()
    files: dict[str, Content] = field(default_factory=dict)
    alike: frozenset[str] = frozenset()

    @classmethod
    def of(cls, draft: Draft, facts: RunFacts, before: Previous, *, reopen: bool = False) -> "Run":
        """The run of a draft that meets an earlier file. ``reopen``: whether topics that were closed, but fail, are opened."""
        titles = {member: note.title for note in draft.notes for member in note.state.values}
        again = {note.guid.lower() for note in draft.notes} if reopen else set()
        ours = [topic for topic in before.topics if topic.is_of(facts.project_key)]
        undone = [topic for topic in ours if topic.is_open_by(draft.words.statuses) or topic.guid.lower() in again]
        run = cls(facts, titles, (), before.files, _alike(ours, facts, {note.guid.lower() for note in draft.notes}))
        known = {model for topic in undone for model in topic.models()}
        missing = {name or project for project, name in known if not run.was_read(project, name)}
        if not facts.has_schedule:
            missing |= {name for topic in undone for name, _ in topic.schedules()}
        run.missing = tuple(sorted(missing))
        return run

    def was_read(self, project: str, name: str) -> bool:
        """Whether a model was: by its project, since files are renamed from revision to revision, or by its name."""
        return (project in self.facts.projects and project not in self.alike) or name in self.facts.models

    def subject(self, rule: str, key: str) -> tuple[str, Subject] | None:
        """The rule of a finding of a topic, and what it is about, if anything in this run is the same.

        Args:
            rule: The topic's.
            key: The finding's id.
        """
        for own in rules_with(rule):
            if own not in self._subjects:
                of = self.facts.project_key
                self._subjects[own] = {finding_id(of, own, *subject): subject for subject in self.facts.subjects}
            if key in self._subjects[own]:
                return own, self._subjects[own][key]
        return None

    def label(self, rule: str, key: str) -> str:
        """What a finding is about that this run has no finding of that rule for; empty where that can't be told."""
        carriers, number, mark = found[1] if (found := self.subject(rule, key)) else ((), None, "")
        named = [self._by_key[one].place.label for one in carriers if one in self._by_key]
        label = f"circuit {mark}" if mark else ", ".join(named)
        return label and label + ("" if number is None else f", compartment {number}")

    def others(self, rule: str, key: str) -> list[Judgement]:
        """What other rules of the same family say of what a finding is about."""
        found = self.subject(rule, key)
        said = [self.facts.findings[own] for own in self.facts.subjects.get(found[1], ())] if found else []
        return [one for one in said if found and one.rule != found[0] and _family(one.rule) == _family(rule)]

    def views(self, topic: Topic) -> list[bytes]:
        """The viewpoints in a topic's folder."""
        return [content_of(self.files[path]) for path in self._views.get(topic.folder, ())]

    @cached_property
    def taken(self) -> frozenset[str]:
        """The paths of the earlier file, in lower case: some programs, and disks, tell none apart by that."""
        return frozenset(path.lower() for path in self.files)

    @cached_property
    def by_global_id(self) -> dict[str, CarrierRow]:
        """The carriers that were read; of one in several parts the last."""
        return {row.place.global_id: row for row in self.facts.carriers}

    @cached_property
    def _by_key(self) -> dict[str, CarrierRow]:
        return {row.key: row for row in self.facts.carriers}

    @cached_property
    def by_tag(self) -> dict[str, CarrierRow]:
        """The carriers with tags that only one element bears."""
        found: dict[str, CarrierRow] = {}
        shared = set()
        for row in self.facts.carriers:
            first = found.setdefault(row.place.tag, row)
            if first.place.global_id != row.place.global_id:
                shared.add(row.place.tag)
        return {tag: row for tag, row in found.items() if tag and tag not in shared}

    @cached_property
    def on_carrier(self) -> dict[tuple[str, str], list[str]]:
        """The ids of the findings by rule and key of a carrier."""
        found: dict[tuple[str, str], list[str]] = {}
        for own, one in self.facts.findings.items():
            for key in one.carriers:
                found.setdefault((one.rule, key), []).append(own)
        return found

    @cached_property
    def of_circuits(self) -> frozenset[str]:
        """The rules whose findings are of circuits."""
        found = self.facts.findings
        return frozenset(found[own].rule for subject, ids in self.facts.subjects.items() if subject[2] for own in ids)

    @cached_property
    def _subjects(self) -> dict[str, dict[str, Subject]]:
        return {}

    @cached_property
    def _views(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for path in self.files:
            if path.lower().endswith(".bcfv"):
                found.setdefault(path.rpartition("/")[0], []).append(path)
        return found


def outcome(key: str, topic: Topic, old: State, run: Run) -> str:
    """A word for what has become of a finding that doesn't fail in this topic now.

    Args:
        key: Its id.
        topic: The topic that told it.
        old: What the topic's text says for machines.
        run: This run.
    """
    if key in run.titles:
        return MOVED
    if key in run.facts.questions:
        return ASKED
    judged = run.facts.findings.get(key)
    if judged is not None:
        if not is_same_code(old.code, run.facts.code):
            return OTHER_CODE
        return outcome_of(judged.verdict, run)
    if not all(run.was_read(project, name) for project, name in topic.models()):
        return NOT_READ
    if is_question(old.rule):
        if not is_same_code(old.code, run.facts.code):
            return OTHER_CODE
        return ANSWERED_IN_PART if run.missing else ANSWERED
    if old.rule and old.rule not in run.facts.rules:
        return NOT_JUDGED
    found = run.subject(old.rule, key)
    if found is not None:
        return NOT_ASKED if found[0] in run.facts.rules else NOT_JUDGED
    return _of_no_subject(key, topic, old, run)


def _of_no_subject(key: str, topic: Topic, old: State, run: Run) -> str:
    """The word where nothing that was read is what a finding was about."""
    if old.rule in run.of_circuits and not run.facts.has_schedule and topic.schedules():
        return NO_SCHEDULE
    return MADE_ANEW if old.values.get(key) == MADE_ANEW else GONE  # it may be told apart by where it was


def outcome_of(verdict: str, run: Run) -> str:
    """The word for a verdict: to pass in a run without a model that the notes know isn't to be mended."""
    return PASSES_IN_PART if verdict == PASSES and run.missing else verdict


def _alike(topics: Sequence[Topic], facts: RunFacts, new: Container[str]) -> frozenset[str]:
    """The projects of which more models were there at one time than now: files that were copied, or saved in parts, share one.

    At one time is in one topic's text, or in headers of topics made at one time. ``new``: the Guids of this run's topics. What it may have
    written doesn't count, or the same run once more would see more.
    """
    names = {project: set(own) for project, own in facts.projects.items()}
    at_once: dict[tuple[str, str], set[str]] = {}
    for topic in topics:
        is_dated = topic.created not in {"", created_time("")}
        is_earlier = topic.guid.lower() not in new or topic.created != created_time(facts.created)
        for project, name in topic.models():
            if project in names:
                names[project].add(name)
                if is_dated and is_earlier:
                    at_once.setdefault((project, topic.created), set()).add(name)
    found = {project for (project, _), own in at_once.items() if len(own) > len(facts.projects[project])}
    doubtful = {project for project, own in names.items() if len(own) > len(facts.projects[project])} - found
    for topic in topics if doubtful else ():
        if topic.guid.lower() not in new:
            told = topic.told_models()
            found |= {project for project in doubtful if len(told & names[project]) > len(facts.projects[project])}
    return frozenset(found)


def is_same_code(old: str, new: str) -> bool:
    """Whether two codes are one, as states have them: by their editions too, where both say theirs. Of none it can't be told."""
    if not old or not new:
        return True
    first, second = old.partition("/"), new.partition("/")
    return first == second if first[2] and second[2] else first[0] == second[0]


def rules_with(rule: str) -> tuple[str, ...]:
    """The rules whose findings may stand in a topic of a rule, its own first."""
    return (rule, *sorted(ASK_FILL_AGAIN - {rule})) if _family(rule) == "fill" else (rule,)


def _family(rule: str) -> str:
    return rule.partition(".")[0]
