"""What ``[notes]`` of the project file, and an earlier file of notes, have that can't be gone by."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import PurePath

from checker.history.previous import read_known
from checker.model import Problem, SourceFile
from checker.read.project import FILE_NAME
from checker.read.project_notes import NotesSpec
from checker.result.archive import File, newest_time
from checker.result.note_state import NO_SEAL, project_seal
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
    """A problem where days are to be counted from the time of the run, and there is none."""
    if spec.due_days is None or spec.words.due_time(now or newest_time(files)) is not None:
        return []
    return [
        Problem(f"{FILE_NAME}, [notes] due_days", "when notes are due isn't known", "no model says of when it is, so they have no due "
                "date", "give the time with --now, or a day: due = 2027-06-30")
    ]  # fmt: skip


def odd_notes(previous: File | None, where: str, project_key: str) -> Sequence[Problem]:
    """What can't be gone by in an earlier file of notes, and topics in it that are of another project.

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
    return told
