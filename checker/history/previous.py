"""Reading an earlier file of notes, whoever wrote or changed it: leniently, and without trusting it.

Nothing is ever extracted, no entity is resolved, nothing is fetched. Names may have backslashes, folder entries may be
missing and a folder need not be named as its topic. What isn't understood is kept as it is.
"""

import io
import lzma
import struct
import zipfile
import zlib
from dataclasses import dataclass, field

from lxml import etree

from checker.errors import InputError
from checker.history.topic import Topic, parsed

MOST_BYTES = 512 * 1024 * 1024
MOST_ENTRIES = 200_000
VERSION = "2.1"
#: RuntimeError: encrypted, or an odd compression; the others: damaged.
_UNREADABLE = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, EOFError, OSError, RuntimeError, ValueError
)  # fmt: skip
_HINT = "give the .bcf file of an earlier run, or start afresh without one"


@dataclass(frozen=True, slots=True)
class Previous:
    """An earlier file: its entries by path, in their order (folders end with ``/``), and the topics among them."""

    files: dict[str, bytes]
    topics: list[Topic] = field(default_factory=list)


def read_previous(data: bytes, where: str = "previous notes") -> Previous:
    """Reads a file of BCF 2.1.

    Args:
        data: The file.
        where: What messages call it.

    Raises:
        InputError: It is no zip archive, damaged, far too big, or of another version of BCF.
    """
    files = _entries(data, where)
    _check_version(files, where)
    topics = []
    for path, content in files.items():
        if path.lower().endswith("/markup.bcf"):
            topic = Topic.read(path, content)
            if topic is not None:
                topics.append(topic)
    return Previous(files, topics)


def _entries(data: bytes, where: str) -> dict[str, bytes]:
    files: dict[str, bytes] = {}
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            if len(entries) > MOST_ENTRIES or sum(entry.file_size for entry in entries) > MOST_BYTES:
                raise InputError(where, f"unpacked it would be more than {MOST_BYTES >> 20} MB", _HINT)
            for entry in entries:
                path = _tame(entry.filename)
                if path is not None:
                    files[path] = b"" if path.endswith("/") else archive.read(entry)
    except _UNREADABLE as error:
        raise InputError(where, f"it can't be read as a zip archive ({error})", _HINT) from error
    return files


def _tame(name: str) -> str | None:
    """A path with slashes and without odd parts. None where it climbs out of the archive: no note has such a name."""
    parts = name.replace("\\", "/").split("/")
    kept = [part for part in parts if part not in {"", "."}]
    if ".." in kept or not kept:
        return None
    return "/".join(kept) + ("/" if parts[-1] == "" else "")


def _check_version(files: dict[str, bytes], where: str) -> None:
    """A file that doesn't say its version is taken for one of ours."""
    content = next((content for path, content in files.items() if path.lower() == "bcf.version"), None)
    if content is None:
        return
    try:
        version = parsed(content).getroot().get("VersionId", "").strip()
    except etree.XMLSyntaxError:
        raise InputError(where, "its bcf.version can't be read", _HINT) from None
    if version != VERSION:
        raise InputError(
            where,
            f"it is BCF {version or 'of no version'}, and these notes are {VERSION}",
            f"save it as BCF {VERSION} in the program that it comes from, or start afresh without it",
        )
