"""What ``[notes]`` of the project file, and an earlier file of notes, have that can't be gone by."""

from collections.abc import Iterable, Sequence
from pathlib import PurePath

from checker.history.previous import read_previous
from checker.model import Problem, SourceFile
from checker.read.project import FILE_NAME
from checker.read.project_notes import NotesSpec
from checker.result.archive import newest_time
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


def odd_notes(previous: bytes | None, where: str) -> Sequence[Problem]:
    """What can't be gone by in an earlier file of notes.

    Raises:
        InputError: It can't be read at all.
    """
    return () if previous is None else read_previous(previous, PurePath(where).name or where).problems
