"""Writes a set of files whole or not at all: beside the old ones first, then renamed, the one that vouches for them last."""

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from checker.errors import OutputError
from checker.result.archive import File

RESULT = "result.json"
STAGING = ".wayroom-unfinished-"


def check_out(
    out: Path, inputs: Sequence[Path], names: Sequence[str], merged: Sequence[str] = (), voucher: str = RESULT
) -> None:
    """Sees before a run that its results can be written, over no input and over no file of somebody else's.

    Args:
        out: The folder.
        inputs: Files that are read.
        names: Files that will be written.
        merged: Those of them that an earlier file of the same name goes into.
        voucher: The file that vouches for the others.

    Raises:
        OutputError: They can't.
    """
    taken = {path.resolve() for path in inputs}
    for name in (*names, voucher):
        target = (out / name).resolve()
        if target in taken:
            raise OutputError(
                str(out / name), "the results would be written over an input", "name another folder with --out"
            )
        if target.is_dir():
            raise OutputError(
                str(out / name), "a folder stands where a result goes", "move it, or name another folder with --out"
            )
        if name not in merged and target.exists() and not _is_ours(out, voucher):
            what = "a file of that name stands there, and no result of wayroom that vouches for it"
            raise OutputError(str(out / name), what, "move it, or name another folder with --out")
    if out.exists() and not out.is_dir():
        raise OutputError(str(out), "it is a file, not a folder", "name a folder with --out")


def _is_ours(out: Path, voucher: str) -> bool:
    """Whether a folder holds results of ours, or of a run of ours that was cut off."""
    if any(out.glob(f"{STAGING}*")):
        return True
    try:
        return bool({"format", "format_version", "outputs"} <= json.loads((out / voucher).read_bytes()).keys())
    except (OSError, ValueError, AttributeError):
        return False


def publish(out: Path, files: Mapping[str, File], result: bytes, voucher: str = RESULT) -> None:
    """Writes files and then the result that vouches for them. An interrupted call leaves the earlier ones as they were.

    Args:
        out: The folder; made if it isn't there.
        files: Name → content.
        result: The content of the file that vouches for them.
        voucher: Its name.

    Raises:
        OutputError: The folder can't be written.
    """
    try:
        out.mkdir(parents=True, exist_ok=True)
        for left in out.glob(f"{STAGING}*"):  # of a run that was interrupted
            shutil.rmtree(left, ignore_errors=True)
        staging = Path(tempfile.mkdtemp(prefix=STAGING, dir=out))
        try:
            for name, content in (*files.items(), (voucher, result)):
                _write(staging / name, content)
        except BaseException:
            shutil.rmtree(staging, ignore_errors=True)
            raise
        for name in (
            *files,
            voucher,
        ):  # cut off here, the folder that stays tells the next run that what is there is ours
            (staging / name).replace(out / name)
        shutil.rmtree(staging, ignore_errors=True)
    except OSError as error:
        where = str(error.filename or out)
        raise OutputError(
            where, f"the results can't be written: {error.strerror}", "check permissions and room, or --out"
        ) from error


def write_beside(path: Path, content: bytes) -> Path:
    """Writes a file beside where it goes, with the rights that a new one has there; whoever asks lets it take its place.

    Raises:
        OSError: It can't be written; nothing is left of it.
    """
    handle, name = tempfile.mkstemp(prefix=STAGING, suffix=path.suffix, dir=path.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        mask = os.umask(0)
        os.umask(mask)
        beside.chmod(0o666 & ~mask)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _write(path: Path, content: File) -> None:
    with path.open("wb") as stream:
        if isinstance(content, bytes):
            stream.write(content)
        else:
            content.seek(0)
            shutil.copyfileobj(content, stream)
        stream.flush()
        os.fsync(stream.fileno())


def disagreeing(out: Path) -> tuple[str, ...]:
    """Files of an earlier set that aren't as its ``result.json`` says; none where there is no earlier set."""
    try:
        outputs = json.loads((out / RESULT).read_bytes())["outputs"]
        return tuple(name for name, digest in sorted(outputs.items()) if digest_at(out / name) != digest)
    except FileNotFoundError:
        return ()
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return (RESULT,)


def digest(content: File) -> str:
    """The SHA-256 of a file, as ``result.json`` has it."""
    if isinstance(content, bytes):
        return hashlib.sha256(content).hexdigest()
    content.seek(0)
    return hashlib.file_digest(content, "sha256").hexdigest()  # type: ignore[arg-type]  # any file that can be gone back in


def digest_at(path: Path) -> str:
    """The SHA-256 of a file at a path; empty where there is none that can be read."""
    try:
        with path.open("rb") as file:
            return digest(file)
    except OSError:
        return ""
