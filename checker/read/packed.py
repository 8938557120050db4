"""Looks into models that are packed: a zip or gzip archive, known by its first bytes, whatever its name ends in."""

import gzip
import io
import lzma
import shutil
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO

from checker.errors import InputError
from checker.model.texts import listed

ZIP, GZIP = (b"PK\x03\x04", b"PK\x05\x06", b"PK\x07\x08"), b"\x1f\x8b"
MODEL_ENDINGS = frozenset({".ifc", ".ifcxml"})
#: STEP text packs to a tenth, seldom to a fortieth. What unpacks to more than this many times its size is made to fill a disk.
MOST_TIMES = 200
#: Below this the share doesn't matter.
SMALL_BYTES = 64 << 20
CHUNK_BYTES = 1 << 20
#: What unpacking ends in where an archive is damaged or of a kind that Python doesn't know.
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    OSError,
    RuntimeError,
    NotImplementedError,
    ValueError,
)


@dataclass(frozen=True, slots=True)
class Inside:
    """A model as text: a stream of it, what messages call it, and the size of the file that it comes in, in bytes."""

    stream: IO[bytes] | io.BufferedIOBase
    where: str
    is_packed: bool
    file_bytes: int

    def head(self, size: int) -> bytes:
        """The first bytes.

        Raises:
            InputError: The archive is damaged.
        """
        return self._read(size)

    def copy_to(self, target: Path) -> None:
        """Unpacks the rest of it.

        Raises:
            InputError: The archive is damaged, or unpacks to more than any model has.
        """
        most, size = max(SMALL_BYTES, MOST_TIMES * self.file_bytes), 0
        with target.open("wb") as out:
            while chunk := self._read(CHUNK_BYTES):
                size += len(chunk)
                if size > most:
                    what = f"it unpacks to more than {MOST_TIMES} times its size, which no model does"
                    raise InputError(self.where, what, "pack the model again")
                try:
                    out.write(chunk)
                except OSError as error:
                    raise InputError(
                        self.where, f"it can't be unpacked: {error.strerror}", "make room on the disk"
                    ) from error

    def _read(self, size: int) -> bytes:
        try:
            return self.stream.read(size)
        except DAMAGED as error:
            hint = "pack or copy the model again" if self.is_packed else "check the file and its disk"
            raise InputError(self.where, f"it is damaged: {error}", hint) from error


@contextmanager
def inside(path: Path) -> Iterator[Inside]:
    """The model in a file: itself, or what is packed in it.

    Raises:
        InputError: It can't be read, or doesn't hold just one model.
    """
    try:
        stream = path.open("rb")
    except OSError as error:
        raise InputError(
            str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
        ) from error
    with stream:
        first = stream.read(4)
        size = stream.seek(0, io.SEEK_END)
        stream.seek(0)
        if first.startswith(GZIP):
            with gzip.GzipFile(fileobj=stream) as unpacked:
                yield Inside(unpacked, str(path), is_packed=True, file_bytes=size)
        elif first.startswith(ZIP):
            with _member(stream, path) as (unpacked_member, name):
                yield Inside(unpacked_member, f"{path}, {name}", is_packed=True, file_bytes=size)
        else:
            yield Inside(stream, str(path), is_packed=False, file_bytes=size)


@contextmanager
def _member(stream: IO[bytes], path: Path) -> Iterator[tuple[IO[bytes], str]]:
    """The one model in a zip archive."""
    hint = "pack the model again, as a plain zip with one .ifc in it"
    try:
        archive = zipfile.ZipFile(stream)
        names = [entry for entry in archive.infolist() if not entry.is_dir()]
    except DAMAGED as error:
        raise InputError(str(path), f"it is a damaged zip archive: {error}", hint) from error
    models = [entry for entry in names if _is_model(entry.filename)]
    if not models:
        held = f"; it holds {_listed([entry.filename for entry in names])}" if names else "; it is empty"
        raise InputError(str(path), f"it is a zip archive with no model in it{held}", hint)
    if len(models) > 1:
        what = f"it is a zip archive with {len(models)} models in it: {_listed([entry.filename for entry in models])}"
        raise InputError(str(path), what, "unpack it and name the models one by one")
    if models[0].flag_bits & 1:
        raise InputError(str(path), "it is a zip archive with a password", "pack the model again, without one")
    try:
        unpacked = archive.open(models[0])
    except DAMAGED as error:
        raise InputError(str(path), f"it is a damaged zip archive: {error}", hint) from error
    with unpacked:
        yield unpacked, printable(models[0].filename)


def _is_model(name: str) -> bool:
    """Some systems put a twin of each file's attributes beside it, under its name with ``._`` before it."""
    path = PurePosixPath(name.replace("\\", "/"))
    return path.suffix.lower() in MODEL_ENDINGS and "__MACOSX" not in path.parts and not path.name.startswith("._")


def _listed(names: list[str]) -> str:
    return listed([printable(name) for name in sorted(names)])


def printable(name: str) -> str:
    """A name from a file, without what a terminal would obey."""
    return "".join(sign if sign.isprintable() else "?" for sign in name)


def copy_rest(source: Path, start: int, head: bytes, target: Path) -> None:
    """Writes a file with another beginning: ``head``, and the source from byte ``start`` on."""
    with source.open("rb") as stream, target.open("wb") as out:
        stream.seek(start)
        out.write(head)
        shutil.copyfileobj(stream, out, CHUNK_BYTES)
