"""Opens IFC files: finds out what is wrong with one before its contents are believed."""

import hashlib
import re
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from checker.errors import InputError
from checker.model import Problem

if TYPE_CHECKING:
    import ifcopenshell

#: What ifcopenshell knows; a header that names another release is read as the nearest of these.
KNOWN_SCHEMAS = ("IFC2X3", "IFC4", "IFC4X3_ADD2")
SCHEMA_IN_HEADER = re.compile(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']*)'", re.IGNORECASE)
END_MARK = b"END-ISO-10303-21"
HEAD_BYTES, TAIL_BYTES = 65536, 4096
STAMP = re.compile(r"^\[error\]\s*(\[[^\]]*\])?")
NUMBERS = re.compile(r"#?\d+")
MOST_TOLD = 20


@dataclass(frozen=True, slots=True)
class OpenModel:
    """An opened model, with what its header says and what had to be assumed to open it."""

    path: Path
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


def open_model(path: Path) -> OpenModel:
    """Opens an IFC file.

    Raises:
        InputError: It is missing, empty, cut off, not IFC, or of a release that nobody knows.
    """
    import ifcopenshell  # slow to load: only once something is opened

    digest = _digest(path)
    problems: list[Problem] = []
    if path.suffix.lower() == ".ifc":
        declared = _look_at_text(path)
        schema = nearest_schema(declared)
        if schema is None:
            raise InputError(
                str(path), f"its header names the schema {declared!r}", "export it as IFC2X3, IFC4 or IFC4X3"
            )
    ifcopenshell.get_log()  # what is left of an earlier file
    try:
        model = ifcopenshell.open(str(path))
    except ifcopenshell.SchemaError:
        model = _as_nearest(path, problems)
    except Exception as error:  # whatever a parser written in another language throws
        raise InputError(
            str(path), f"it can't be read as IFC: {error}", "export the model again, as .ifc (STEP)"
        ) from error
    if model is None or not hasattr(model, "by_type"):
        raise InputError(str(path), "it can't be read as IFC", "export the model again, as .ifc (STEP)")
    problems.extend(_lost(path, ifcopenshell.get_log()))
    return OpenModel(path, model, digest, str(model.schema_identifier), _timestamp(model), tuple(problems))


def _lost(path: Path, log: str) -> list[Problem]:
    """What the parser says it could not read: it drops such lines and goes on."""
    told = [STAMP.sub("", line).strip() for line in log.splitlines() if line.startswith("[error]")]
    kinds = Counter(NUMBERS.sub("…", line) for line in told)
    return [
        Problem(
            path.name,
            f"{times} × {kind}",
            "what the file's writer got wrong there is missing from what was read",
            "export the model again",
        )
        for kind, times in sorted(kinds.items())[:MOST_TOLD]
    ]


def _digest(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as error:
        raise InputError(
            str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
        ) from error


def _look_at_text(path: Path) -> str:
    """Sees that a STEP file is whole, since the parser reads a cut-off one without a word; gives the schema that it names."""
    with path.open("rb") as stream:
        head = stream.read(HEAD_BYTES)
        stream.seek(0, 2)
        stream.seek(max(0, stream.tell() - TAIL_BYTES))
        tail = stream.read()
    if not head.strip():
        raise InputError(str(path), "it is empty", "export the model again")
    if b"ISO-10303-21" not in head:
        raise InputError(
            str(path), "it isn't an IFC file: it doesn't begin with ISO-10303-21", "export the model as .ifc (STEP)"
        )
    if END_MARK not in tail:
        raise InputError(
            str(path), "it is cut off: it has no END-ISO-10303-21 at its end", "copy or export the model again"
        )
    found = SCHEMA_IN_HEADER.search(head)
    if found is None:
        raise InputError(str(path), "its header names no schema", "export the model as .ifc (STEP)")
    return found[1].decode("latin-1")


def _as_nearest(path: Path, problems: list[Problem]) -> Any:
    import ifcopenshell

    text = path.read_text(encoding="latin-1")
    declared = SCHEMA_IN_HEADER.search(text[:HEAD_BYTES].encode("latin-1"))
    word = declared[1].decode("latin-1") if declared else ""
    nearest = nearest_schema(word)
    try:
        model = ifcopenshell.file.from_string(text.replace(f"'{word}'", f"'{nearest}'", 1))
    except Exception as error:
        raise InputError(
            str(path), f"its schema {word} can't be read, nor as {nearest}: {error}", "export it as IFC4"
        ) from error
    problems.append(
        Problem(path.name, f"schema {word} was read as {nearest}", "the reader doesn't know that release",
                "export as IFC4 or IFC4X3 (ADD2) if anything is missing")
    )  # fmt: skip
    return model


def _timestamp(model: Any) -> str:
    try:
        return str(model.header.file_name.time_stamp or "")
    except (AttributeError, RuntimeError):
        return ""
