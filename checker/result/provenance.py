"""What a run was made of, in lines for issue notes: files with their SHA-256, and the documents' revision and status."""

import hashlib
from collections.abc import Iterable, Sequence

from checker.model import SourceFile
from checker.result.archive import created_time, newest_time, xml_time
from checker.result.note_state import disarmed
from checker.result.tables import Result
from checker.result.topic_text import IDS_LINE

#: Roles of files that are told one by one; all others are figures of a code, of which there are many.
TOLD = ("model", "schedule", "project")
SAID_AS = {"model": "Model", "schedule": "Schedule", "project": "Project file"}


def document_words(revision: str, status: str) -> str:
    """Revision and status as the project names them, as ``revision P03, status S4``; empty where it names neither."""
    return ", ".join(f"{word} {text}" for word, text in (("revision", revision), ("status", status)) if text)


def is_time_given(created: str, files: Iterable[SourceFile]) -> bool:
    """Whether the time of a run is one that it was asked for, and not that of the newest model that it read, or what stands for none."""
    models = [file for file in files if file.role == "model"]
    time = xml_time(created)
    return bool(models) and time is not None and time != created_time(newest_time(models))


def provenance_lines(result: Result) -> list[str]:
    """One line for each file that was read, and one for code and tables together."""
    said = document_words(result.revision, result.status)
    lines = [f"Documents: {said}."] if said else []
    for role in TOLD:
        lines += [f"{SAID_AS[role]}: {file.name}, SHA-256 {file.sha256}." for file in result.files if file.role == role]
    figures = [file for file in result.files if file.role not in TOLD]
    if figures:
        lines.append(f"Code {result.code} and tables: {len(figures)} files, together {digest_of(figures)}.")
    return [*lines, f"Checked by Wayroom {result.version}."]


def digest_of(files: Iterable[SourceFile]) -> str:
    """The SHA-256 of the lines ``<sha256>  <name>`` of files, sorted: one that changes when any of them does."""
    lines = sorted(f"{file.sha256}  {file.name}\n" for file in files)
    return hashlib.sha256("".join(lines).encode("utf-8", "surrogatepass")).hexdigest()


def with_lines(description: str, lines: Sequence[str]) -> str:
    """A topic's description with lines before its last one, which is for machines."""
    text, found, ids = description.rpartition(f"\n{IDS_LINE}")
    if not found:
        return description
    told = disarmed("\n".join(lines))
    return f"{text.rstrip()}\n\n{told}\n{found}{ids}"
