"""Opens IFC files: finds out what is wrong with one before its contents are believed."""

import hashlib
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.read.letters import WINDOWS, spelt_out
from checker.read.packed import copy_rest, inside, printable
from checker.read.parser_log import lost
from checker.read.step_header import AS_STEP, HEAD_BYTES, Header, read_header

if TYPE_CHECKING:
    import ifcopenshell

#: What ifcopenshell knows; a header that names another release is read as the nearest of these.
KNOWN_SCHEMAS = ("IFC2X3", "IFC4", "IFC4X3_ADD2")
END_MARK = b"END-ISO-10303-21"
TAIL_BYTES = 4096


@dataclass(frozen=True, slots=True)
class OpenModel:
    """An opened model, with what its header says and what had to be assumed to open it.

    ``name`` is what it is called in all that is said of it; ``sha256`` the file's as it was given.
    """

    path: Path
    name: str
    file: "ifcopenshell.file"
    sha256: str
    schema: str
    timestamp: str
    problems: tuple[Problem, ...] = ()


def nearest_schema(declared: str) -> str | None:
    """The release that we know for a header's word; None for what isn't IFC."""
    word = declared.strip().upper()
    if word in KNOWN_SCHEMAS:
        return word
    for start, known in (("IFC2X", "IFC2X3"), ("IFC4X", "IFC4X3_ADD2"), ("IFC4", "IFC4")):
        if word.startswith(start):
            return known
    return None


def open_model(path: Path, name: str = "") -> OpenModel:
    """Opens an IFC file, packed or not.

    Args:
        path: The file.
        name: What it is called in what is said of it; its own name where none is given.

    Raises:
        InputError: It is missing, empty, cut off, damaged, not IFC, or of a release that nobody knows.
    """
    name = name or path.name
    digest = file_digest(path)
    with tempfile.TemporaryDirectory(prefix="wayroom-") as folder, inside(path) as packed:
        text = path
        if packed.is_packed:
            text = Path(folder) / "unpacked.ifc"
            packed.copy_to(text)
        where = packed.where
        header = _look_at_text(text, where)
        schema, problems = _schema(header, where, name)
        spelt = Path(folder) / "spelt.ifc"
        if (letters := spelt_out(text, spelt)) is not None:
            text, header = spelt, _look_at_text(spelt, where)
            problems.append(_of_letters(letters, name))
        if not header.is_plain or header.schemas != (schema,):
            whole = text
            text = Path(folder) / "with_header.ifc"
            copy_rest(whole, header.data_at, header.naming(schema), text)
        model, log = _parse(text, where)
        problems += lost(log, text, name)
    return OpenModel(path, name, model, digest, str(model.schema_identifier), header.written, tuple(problems))


def file_digest(path: Path) -> str:
    """SHA-256 of a file.

    Raises:
        InputError: It can't be read.
    """
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as error:
        raise InputError(
            str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
        ) from error


def written_at(path: Path) -> str:
    """The time stamp in a model's header, packed or not; empty where it has none.

    Raises:
        InputError: It has no header.
    """
    with inside(path) as packed:
        return read_header(packed.head(HEAD_BYTES), packed.where).written


def _look_at_text(path: Path, where: str) -> Header:
    """Reads the header, and sees that the file is whole, since the parser reads a cut-off one without a word."""
    with path.open("rb") as stream:
        head = stream.read(HEAD_BYTES)
        stream.seek(0, 2)
        stream.seek(max(0, stream.tell() - TAIL_BYTES))
        tail = stream.read()
    header = read_header(head, where)
    if END_MARK not in tail.upper():
        raise InputError(
            where, "it is cut off: it has no END-ISO-10303-21 at its end", "copy or export the model again"
        )
    return header


def _schema(header: Header, where: str, name: str) -> tuple[str, list[Problem]]:
    """The release to read a file as, and what is assumed by that."""
    told = printable(", ".join(word.strip() for word in header.schemas))
    known = [schema for word in header.schemas if (schema := nearest_schema(word)) is not None]
    if not known:
        raise InputError(where, f"its header names the schema {told!r}", "export it as IFC2X3, IFC4 or IFC4X3")
    if told.upper() == known[0]:
        return known[0], []
    why = (
        "the reader doesn't know that release"
        if len(header.schemas) == 1
        else "a file is of one release; the first is believed"
    )
    hint = "export as IFC4 or IFC4X3 (ADD2) if anything is missing"
    return known[0], [Problem(name, f"schema {told} was read as {known[0]}", why, hint, ProblemKind.ASSUMPTION)]


def _of_letters(encoding: str, name: str) -> Problem:
    why = "it has letters beyond ASCII as plain bytes, which the standard allows since 2016 only"
    if encoding == WINDOWS:
        why = "it has letters beyond ASCII as plain bytes, which the standard doesn't allow, and they aren't UTF-8"
    hint = "look whether names with such letters are right; if they aren't, export the model again"
    return Problem(name, f"letters beyond ASCII were read as {encoding}", why, hint, ProblemKind.ASSUMPTION)


def _parse(path: Path, where: str) -> tuple[Any, str]:
    """The model, and what the parser says of it."""
    import ifcopenshell  # slow to load: only once something is opened

    ifcopenshell.ifcopenshell_wrapper.set_log_format_text()  # a validator in the same process may have set another
    ifcopenshell.get_log()  # what is left of an earlier file
    try:
        model = ifcopenshell.open(str(path), format=".ifc")
    except Exception as error:  # whatever a parser written in another language throws
        raise InputError(
            where, f"it can't be read as IFC: {error}", "export the model again, as .ifc (STEP)"
        ) from error
    if model is None or not hasattr(model, "by_type"):
        raise InputError(where, "it can't be read as IFC", AS_STEP)
    return model, ifcopenshell.get_log()
