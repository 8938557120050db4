"""What ``[notes]`` of the project file, and an earlier file of notes, have that can't be gone by."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import PurePath

from checker.history.previous import read_known
from checker.model import Problem, ProblemKind, SourceFile
from checker.read.project import FILE_NAME
from checker.read.project_notes import NotesSpec
from checker.result.archive import NO_TIME, File, newest_time, utc, xml_time
from checker.result.note_state import NO_SEAL, project_seal
from checker.result.note_words import NoteWords
from checker.result.tables import Result, Topic
from checker.rule.code import Code

#: Families of what is noted without a rule of the code.
_ALWAYS = frozenset({"question", "waiver"})


def unused_words(spec: NotesSpec, code: Code) -> list[Problem]:
    """A problem for each word of ``types`` or ``assigned`` that is for rules that this code doesn't run."""
    known = {*code.limits, *(rule.split(".", 1)[0] for rule in code.limits), *_ALWAYS}
    return [
        Problem(f"{FILE_NAME}, [notes.{table}] {key}", f"the code {code.key} has no rule or family of rules of that name",
                "so no note is by it", "write a family such as fill, a rule's id in quotes, or other: wayroom list rules")
        for table, keys in spec.named().items()
        for key in keys
        if key not in known and key.split(".", 1)[0] not in _ALWAYS
    ]  # fmt: skip


def never_due(spec: NotesSpec, files: Iterable[SourceFile], now: str | None) -> list[Problem]:
    """A problem where notes are due before the time of the run, or days are to be counted from that and there is none."""
    time = now or newest_time(files)
    due, run = utc(spec.words.due_time(time) or ""), utc(time)
    if spec.due is not None and due is not None and run is not None and due < run:
        return [
            Problem(f"{FILE_NAME}, [notes] due", "new notes are due on a day that is over",
                    f"it is {spec.due}, and the run is of {run.date()}",
                    "give a later day, or days from the time of the run: due_days = 14")
        ]  # fmt: skip
    if spec.due_days is None or due is not None:
        return []
    return [
        Problem(f"{FILE_NAME}, [notes] due_days", "when notes are due isn't known", "no model says of when it is, so they have no due "
                "date", "give the time with --now, or a day: due = 2027-06-30")
    ]  # fmt: skip


def odd_notes(
    previous: File | None, where: str, project_key: str, time: str = "", of_models: str = ""
) -> Sequence[Problem]:
    """What can't be gone by in an earlier file of notes, topics in it that are of another project, and notes of a later run than this.

    Args:
        previous: The file; None: there is none.
        where: What messages call it.
        project_key: Of this run.
        time: Of this run, ISO 8601; empty: not known.
        of_models: That of its newest model, likewise.

    Raises:
        InputError: It can't be read at all.
    """
    if previous is None:
        return ()
    known = read_known(previous, where)
    name = PurePath(where).name or where
    told = [replace(one, where=one.where.replace(where, name, 1)) for one in known.problems]
    seals = [topic.project_seal for topic in known.topics if topic.is_ours]
    others = [one for one in seals if one not in {NO_SEAL, project_seal(project_key)}]
    if others:
        is_named = project_seal(known.project_id) in others
        earlier = f'key = "{known.project_id}"' if is_named else "key"
        told.append(
            Problem(
                name,
                f"{len(others)} of its topics {'is' if len(others) == 1 else 'are'} of another project",
                f"made for another key than “{project_key}”; they stay as they are, and nothing in them was checked again",
                f"give the notes of this project; where only its key was changed, put the earlier one back: {earlier} under [project]",
                elements=len(others),
            )
        )
    own = [topic.newest for topic in known.topics if topic.is_ours and topic.project_seal not in others]
    told += _of_a_later_run(own, name, time, of_models)
    return told


def _of_a_later_run(own: Sequence[tuple[str, str]], name: str, time: str, of_models: str) -> list[Problem]:
    """A problem where notes of ours are of a later model, or a later run, than this one; ``own`` are as ``Topic.newest``."""
    model, run = (max((times[place] for times in own), default="") for place in (1, 0))
    if _is_known(of_models) and model > (mine := xml_time(of_models) or ""):
        what = f"the newest model of this run is of {mine}, and these notes are of one of {model}"
    elif _is_known(time) and run > (mine := xml_time(time) or ""):
        what = f"this run is of {mine}, and these notes are of a later one, of {run}"
    else:
        return []
    why = "an older model may have been checked than theirs: they then tell what changed the wrong way round"
    hint = "check the newest model; for an older one go on with notes of its time (--previous), into a folder of its own (--out)"
    return [Problem(f"{name}, models", what, why, hint, ProblemKind.ASSUMPTION)]


def _is_known(time: str) -> bool:
    """Whether it is a time; programs without a clock write one from before there were such models."""
    found = utc(time)
    return found is not None and found > NO_TIME


def with_statuses(result: Result, previous: File | None, where: str, words: NoteWords) -> Result:
    """A result whose topics say what they are in the earlier notes, where that isn't what a new one is.

    Args:
        result: The result.
        previous: The earlier notes; None: there are none.
        where: What messages call them.
        words: The project's.

    Raises:
        InputError: They can't be read at all.
    """
    if previous is None:
        return result
    known = {one.guid.lower(): one.status for one in reversed(read_known(previous, where).topics) if one.is_ours}
    new = {"", words.statuses.open.lower()}

    def told(topics: Iterable[Topic]) -> tuple[Topic, ...]:
        stand = ((topic, known.get(topic.guid.lower(), "")) for topic in topics)
        return tuple(topic if was.lower() in new else replace(topic, earlier_status=was) for topic, was in stand)

    return replace(result, topics=told(result.topics), requests=told(result.requests))
