"""The issue notes that a run goes on with, and those that stand where it writes. What people wrote in either is never lost."""

import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from checker.errors import InputError, OutputError
from checker.report.publish import RESULT, digest_at
from checker.report.standing import Standing
from checker.result.archive import Content, pack

NOTES = "issues.bcf"
#: Issue notes beyond this wait on disk while a run has them in hand: ten thousand pictures are some 300 MB.
MOST_HELD_BYTES = 64 * 1024 * 1024


def notes_to_go_on_with(out: Path, previous: Path | None, *, fresh: bool, reopen: bool) -> Path | None:
    """The notes to go on with: as asked, else those in the output folder; None where there are none, or a run is to begin anew.

    Raises:
        InputError: What is asked contradicts itself, or names a folder.
    """
    if fresh and reopen:
        raise InputError(
            "--fresh", "it says to begin anew, and --reopen to go on with what was closed", "give one of them"
        )
    if previous is not None:
        if fresh:
            raise InputError("--fresh", "it says to begin anew, and --previous to go on", "give one of them")
        if previous.is_dir():
            hint = f"name the .bcf file in it, such as {previous / NOTES}"
            raise InputError("--previous", f"{previous} is a folder", hint)
        return previous
    found = out / NOTES
    return found if not fresh and found.is_file() else None


@contextmanager
def spool() -> Iterator[IO[bytes]]:
    """A file to put notes in, in memory as long as it is small."""
    with tempfile.SpooledTemporaryFile(MOST_HELD_BYTES) as file:
        yield file


@contextmanager
def opened(path: Path | None) -> Iterator[IO[bytes] | None]:
    """A copy of notes: whatever somebody does to them meanwhile, a run reads one and the same. None of none.

    Raises:
        InputError: They can't be read.
    """
    if path is None:
        yield None
        return
    with spool() as copy:
        try:
            with path.open("rb") as file:
                shutil.copyfileobj(file, copy)
        except OSError as error:
            raise InputError(
                str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
            ) from error
        yield copy


def put_together(target: IO[bytes], files: Mapping[str, Content], created: str) -> None:
    """Writes notes to a file of ``spool``; pictures are drawn now, and what an earlier file holds is read.

    Args:
        target: Where to.
        files: By path.
        created: ISO time that every entry bears.

    Raises:
        OutputError: They have no room.
    """
    try:
        pack(target, files.items(), created)
    except OSError as error:
        raise OutputError(
            tempfile.gettempdir(),
            f"the issue notes can't be put together: {error.strerror}",
            "make room for as much as they and the earlier ones take, or name another folder with TMPDIR",
        ) from error


def standing(out: Path, previous: Path | None, data: IO[bytes] | None, broken: Sequence[str]) -> Standing:
    """The notes where new ones go.

    Args:
        out: The folder.
        previous: The notes that the run goes on with.
        data: Their copy; None where it begins anew.
        broken: Files in the folder that aren't as its result says.

    Raises:
        OutputError: People wrote something there that isn't in those that the run goes on with.
    """
    from checker.history.said import said_by_people

    found = Standing.of(out / NOTES)
    if data is not None and found.differs(data):
        is_as_written = {NOTES, RESULT}.isdisjoint(broken) and (out / RESULT).is_file()
        with opened(found.path) as there:
            if not is_as_written or (there and said_by_people(there) - said_by_people(data)):
                raise found.not_spared(str(previous))
    return found


def kept_beside(found: Standing) -> dict[str, bytes]:
    """What to write beside notes that begin anew: those that stand there, by a name that is told by their content.

    The same notes may have been kept by that name before, and people may have worked on those since: they stay, and these get a number.
    """
    if not found.sha256:
        return {}
    stem, times = f"issues-{found.sha256[:12]}", 1
    name = f"{stem}.bcf"
    while (there := found.path.with_name(name)).exists() and digest_at(there) != found.sha256:
        times += 1
        name = f"{stem}-{times}.bcf"
    return {name: found.path.read_bytes()}
