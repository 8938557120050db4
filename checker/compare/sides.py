"""Opens OLD and NEW: a result that was written, or models that are checked now."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import from_json

from checker.checking import Request, check
from checker.earlier_notes import NOTES
from checker.errors import InputError
from checker.progress import Progress
from checker.read.sources import find_sources
from checker.report.json_file import FORMAT, FORMAT_VERSION, Document
from checker.report.publish import RESULT, disagreeing
from checker.result.accounting import count
from checker.result.tables import Result
from checker.rule import Outcome

AGAIN = "check the model again, or name another folder"


@dataclass(frozen=True, slots=True)
class Opened:
    """A result, and the files that were read for it."""

    result: Result
    inputs: tuple[Path, ...]


def is_written(path: Path) -> bool:
    """Whether a path names a result that was written: its folder, or its ``result.json``."""
    return (path / RESULT).is_file() or path.suffix.lower() == ".json"


def open_side(path: Path, code: str | None, circuits: Path | None, progress: Progress) -> Opened:
    """Opens one of the two.

    Args:
        path: A folder of results, its ``result.json``; or a model, a project file or a folder with one, which is checked.
        code: Of models that are checked.
        circuits: The schedule of models that are checked.
        progress: Is told how far it is.

    Raises:
        WayroomError: It can't be read, or isn't whole.
    """
    if is_written(path):
        file = path / RESULT if path.is_dir() else path
        result = read_result(file, whole=path.is_dir())
        return Opened(result, (file,))
    if path.is_dir() and not (path / "wayroom.toml").exists():
        what = f"it has neither a {RESULT} nor a wayroom.toml"
        raise InputError(str(path), what, "name a folder that wayroom check wrote, or a model or project to check")
    if path.is_file() and path.suffix.lower() in {".csv", ".html", ".bcf"}:
        what = "it is one file of a result at the most"
        raise InputError(str(path), what, "name the folder that wayroom check wrote")
    sources = find_sources([path], circuits)
    return Opened(check(Request(sources, code), progress), sources.inputs())


def read_result(file: Path, *, whole: bool) -> Result:
    """Reads a ``result.json``.

    Args:
        file: Where it is.
        whole: Whether every file that it vouches for must be there; those that are must be as it says in any case.

    Raises:
        InputError: It isn't one, is of another format version, is broken, or files beside it aren't as it says.
    """
    where = str(file)
    try:
        document: Any = from_json(file.read_bytes())
    except OSError as error:
        raise InputError(where, f"it can't be read: {error.strerror}", "check the name and the permissions") from error
    except ValueError as error:
        raise InputError(where, f"it is broken: {error}", AGAIN) from error
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise InputError(where, "it is no result of wayroom check", "name a folder that wayroom check wrote")
    version = document.get("format_version")
    if version != FORMAT_VERSION or isinstance(version, bool):
        what = f"its format has the version {version!r}, and {FORMAT_VERSION} can be read"
        raise InputError(where, what, "check that model again with this version of wayroom")
    try:
        read = Document.model_validate({key: document[key] for key in Document.model_fields if key in document})
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(part) for part in first["loc"])
        raise InputError(where, f"it is broken at {place}: {first['msg']}", AGAIN) from error
    _see_whole(where, read)
    if file.name == RESULT:
        # people write in the notes between two runs
        changed = [name for name in disagreeing(file.parent) if name != NOTES]
        changed = [name for name in changed if whole or (file.parent / name).exists()]
        if changed:
            what = f"it doesn't agree with what stands beside it: {', '.join(changed)}"
            raise InputError(
                where,
                what,
                "check again into that folder; a run that was cut off leaves such a set, and so does editing",
            )
    return read.result


def _see_whole(where: str, document: Document) -> None:
    """Sees that the tables agree with each other, as far as a comparison needs it."""
    result = document.result
    keys = {row.key for row in result.carriers}
    named = {key for rows in (result.findings, result.circuits) for row in rows for key in row.carriers}
    numbers = (
        "carriers_read",
        "circuits_read",
        "findings_pass",
        "findings_fail",
        "findings_unknown",
        "findings_waived",
    )
    counted = count(result)
    what = ""
    if len(keys) != len(result.carriers):
        what = "two carriers have the same key"
    elif len({row.circuit for row in result.circuits}) != len(result.circuits):
        what = "two circuits have the same mark"
    elif named - keys:
        what = f"a finding or circuit names the carrier {min(named - keys)!r}, which isn't there"
    elif {row.verdict for row in result.findings} - set(Outcome):
        what = "a finding has no verdict that there is"
    elif any(getattr(counted, number) != getattr(document.counts, number) for number in numbers):
        what = "its counts aren't those of its tables"
    if what:
        raise InputError(where, f"it is broken: {what}", AGAIN)
