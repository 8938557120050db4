"""The entries of an archive that nobody vouches for. Nothing is extracted to disk, followed or run.

Names may have backslashes, and folder entries may be missing. What leads out of the archive is left out, and told.
"""

import io
import struct
import zipfile
import zlib
from functools import partial

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.result.archive import Content, File, content_of

MOST_BYTES = 512 * 1024 * 1024
MOST_ENTRIES = 200_000
#: Longer names no file system takes, and few archives.
MOST_NAME_BYTES = 4096
HINT = "give the .bcf file of an earlier run, or start afresh without one"
#: What is looked into is held. All else, pictures and attachments, is read through once, and again when it is written.
HELD = ("/markup.bcf", ".bcfv", ".bcfp", ".xsd", ".xml", "bcf.version")
_PIECE_BYTES = 1 << 20
#: RuntimeError: packed in a way that Python doesn't know; the others: damaged.
_UNREADABLE = (zipfile.BadZipFile, zlib.error, struct.error, EOFError, OSError, RuntimeError, ValueError)
#: Those that every program writes. Others unpack without a bound.
_METHODS = {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}
_ENCRYPTED = 0x1
_UTF_8 = 0x800
_MOST_SHOWN = 100


def entries(data: File, where: str) -> tuple[dict[str, Content], list[Problem]]:
    """The content of every entry by its path, in their order (folders end with ``/``), and what of it is odd.

    Args:
        data: The archive; one that isn't in memory stays open as long as what comes of this is used.
        where: What messages call it.

    Raises:
        InputError: It is no zip archive, damaged, encrypted, or far too big.
    """
    files: dict[str, Content] = {}
    problems: list[Problem] = []
    times: dict[str, int] = {}
    try:
        archive = zipfile.ZipFile(io.BytesIO(data) if isinstance(data, bytes) else data)
        found = archive.infolist()
        _check_size(found, where)
        _check_packing(found, where)
        for entry in found:
            path = _tame(_name(entry))
            if path is None or (path.endswith("/") and entry.file_size):
                problems.append(_left_out(where, _name(entry)))
                continue
            content = b"" if path.endswith("/") else _content(archive, entry, is_held=path.lower().endswith(HELD))
            if path in files and content_of(files[path]) != content_of(content):
                kept = _free(path, files, times)
                files[kept] = files[path]
                problems.append(_twice(where, path, kept))
            files[path] = content
    except _UNREADABLE as error:
        raise InputError(where, f"it can't be read as a zip archive ({error})", HINT) from error
    return files, problems


def _check_size(found: list[zipfile.ZipInfo], where: str) -> None:
    if len(found) > MOST_ENTRIES:
        raise InputError(where, f"it holds more than {MOST_ENTRIES:,} files", HINT)
    if sum(entry.file_size for entry in found) > MOST_BYTES:
        raise InputError(where, f"unpacked it would be more than {MOST_BYTES >> 20} MB", HINT)


def _check_packing(found: list[zipfile.ZipInfo], where: str) -> None:
    secret = next((entry.filename for entry in found if entry.flag_bits & _ENCRYPTED), None)
    if secret is not None:
        hint = "save it without a password in the program that it comes from, or start afresh without it (--fresh)"
        raise InputError(where, f"{shown(secret)} in it is encrypted", hint)
    odd = next((entry.filename for entry in found if entry.compress_type not in _METHODS), None)
    if odd is not None:
        raise InputError(where, f"{shown(odd)} in it is packed in a way that issue notes never are", HINT)


def _content(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, *, is_held: bool) -> Content:
    """The content of an entry, all of which was seen to be there; no more is unpacked than it says that it is long."""
    if is_held:
        return _read(archive, entry)
    with archive.open(entry) as file:
        left = entry.file_size + 1
        while left > 0 and (piece := file.read(min(_PIECE_BYTES, left))):
            left -= len(piece)
    return partial(_read, archive, entry)


def _read(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    with archive.open(entry) as file:
        return file.read(entry.file_size + 1)


def _name(entry: zipfile.ZipInfo) -> str:
    """The name of an entry. Many programs write UTF-8 without saying so; then it is taken for letters of another alphabet."""
    name = entry.orig_filename.split("\0", 1)[0]
    if not entry.flag_bits & _UTF_8 and not name.isascii():
        try:
            return name.encode("cp437").decode("utf-8")
        except UnicodeError:
            return name
    return name


def _tame(name: str) -> str | None:
    """A path with slashes and without odd parts. None where it climbs out of the archive, or is no name: no note has such a one."""
    parts = name.replace("\\", "/").split("/")
    kept = [part for part in parts if part not in {"", "."}]
    if ".." in kept or not kept or len(name.encode()) > MOST_NAME_BYTES:
        return None
    return "/".join(kept) + ("/" if parts[-1] == "" else "")


def _free(path: str, files: dict[str, Content], times: dict[str, int]) -> str:
    """A path beside another; ``times`` says how often each was asked for, so that no number is tried twice."""
    folder, _, name = path.rpartition("/")
    stem, dot, suffix = name.rpartition(".")
    while True:
        number = times[path] = times.get(path, 1) + 1
        other = f"{stem} ({number}).{suffix}" if dot else f"{name} ({number})"
        kept = f"{folder}/{other}" if folder else other
        if kept not in files:
            return kept


def shown(path: str) -> str:
    """A path for a message: long ones cut, and odd signs spelled out."""
    short = path if len(path) <= _MOST_SHOWN else f"{path[:_MOST_SHOWN]}…"
    return short if short.isprintable() else repr(short)


def _left_out(where: str, name: str) -> Problem:
    return Problem(f"{where}, {shown(name)}", "this file isn't kept", "its name leads out of the archive, or can't be one of a file",
                   "put it in a topic's folder, if it belongs there")  # fmt: skip


def _twice(where: str, path: str, kept: str) -> Problem:
    return Problem(
        f"{where}, {shown(path)}",
        "it is there twice",
        f"the last counts, as in other programs; the earlier one is kept as {shown(kept)}",
        "look which is right",
        ProblemKind.ASSUMPTION,
    )
