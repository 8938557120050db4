"""Zip archives that come out the same, byte for byte, whenever the same goes in."""

import io
import zipfile
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from functools import lru_cache
from typing import IO

from checker.model import SourceFile

#: What is in a file, or what makes that once it is written: pictures take far longer, and far more room, than all else.
Content = bytes | Callable[[], bytes]

#: An archive, or any file: its bytes, or what can be read and gone back in.
File = bytes | IO[bytes]

#: What a time is where the input gives none: the first that a zip archive can hold. Never the wall clock.
NO_TIME = datetime(1980, 1, 1, tzinfo=UTC)
_LAST_YEAR = 2107


def utc(text: str) -> datetime | None:
    """A time from ISO 8601 text, in UTC and whole seconds; one without a zone is taken as UTC. None: it is no time."""
    try:
        time = datetime.fromisoformat(text.strip())
        aware = time.replace(tzinfo=UTC) if time.tzinfo is None else time.astimezone(UTC)
    except (ValueError, OverflowError):
        return None
    return aware.replace(microsecond=0)


@lru_cache(maxsize=256)  # a run has few times, and asks for them at every topic
def xml_time(text: str) -> str | None:
    """The same as XML wants it, ``2024-05-01T10:00:00Z``; None where the text is no time."""
    time = utc(text)
    return time.strftime("%Y-%m-%dT%H:%M:%SZ").rjust(20, "0") if time else None


def created_time(text: str) -> str:
    """The time of a run for elements that must have one."""
    return xml_time(text) or f"{NO_TIME:%Y-%m-%dT%H:%M:%SZ}"


def time_told(text: str) -> str:
    """The time of a run for a sentence: ``an unknown time`` where there is none, or it stands for none."""
    return "an unknown time" if utc(text) in {None, NO_TIME} else text


def newest_time(files: Iterable[SourceFile]) -> str:
    """The time of the newest model among some files, as XML wants it; empty where none says of when it is."""
    return max((xml_time(file.timestamp) or "" for file in files if file.role == "model"), default="")


def content_of(content: Content) -> bytes:
    """What is in a file."""
    return content if isinstance(content, bytes) else content()


def packed(files: Iterable[tuple[str, Content]], created: str) -> bytes:
    """The bytes of what ``pack`` writes."""
    target = io.BytesIO()
    pack(target, files, created)
    return target.getvalue()


def pack(target: IO[bytes], files: Iterable[tuple[str, Content]], created: str) -> None:
    """Writes a zip archive of files in their order, with an entry for each folder before its first file.

    Args:
        target: Where to; one that can be gone back in.
        files: Path, with ``/`` between its parts, and content. A path that ends with ``/`` is a folder.
        created: ISO time that every entry bears.
    """
    time = utc(created) or NO_TIME
    if not NO_TIME.year <= time.year <= _LAST_YEAR:
        time = NO_TIME
    stamp = (time.year, time.month, time.day, time.hour, time.minute, time.second)
    seen: set[str] = set()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for path, content in files:
            parts = path.rstrip("/").split("/")
            folders = ["/".join(parts[:depth]) + "/" for depth in range(1, len(parts))]
            for folder in [*folders, path] if path.endswith("/") else folders:
                if folder not in seen:
                    seen.add(folder)
                    archive.writestr(_entry(folder, stamp), b"")
            if not path.endswith("/"):
                archive.writestr(_entry(path, stamp), content_of(content))


def _entry(path: str, stamp: tuple[int, int, int, int, int, int]) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(path, stamp)
    entry.create_system = 3  # the same on every system
    is_folder = path.endswith("/")
    entry.external_attr = (0o40755 << 16 | 0x10) if is_folder else 0o100644 << 16
    # pictures are compressed already: to try again costs time and saves nothing
    stored = is_folder or path.lower().endswith((".png", ".jpg", ".jpeg"))
    entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
    return entry
