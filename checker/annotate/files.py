"""Where annotated models go: over no input and nothing of somebody else's, each file whole or not at all."""

import hashlib
import os
import tempfile
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePath

from checker.annotate.facts import annotations
from checker.annotate.writing import Annotated, annotated, is_as_written, see_annotatable
from checker.errors import InputError, OutputError
from checker.model.texts import listed
from checker.read.ifc_file import file_digest, nearest_schema
from checker.read.packed import inside
from checker.read.properties import OURS
from checker.read.revisions import is_pattern, would_match
from checker.read.sources import Sources
from checker.read.step_header import HEAD_BYTES, read_header
from checker.report.publish import write_beside
from checker.result.archive import NO_TIME, packed, utc
from checker.result.tables import Result
from checker.rule import Tells
from checker.rule.plugins import load_plugins

PLAIN, ZIPPED = ".ifc", ".ifczip"
OPTION = "--annotate"


@dataclass(frozen=True, slots=True)
class Target:
    """One model and the file that its annotated text goes into. ``name`` is what results call the model; ``path`` leads to no link."""

    model: Path
    name: str
    path: Path


@dataclass(frozen=True, slots=True)
class Made:
    """An annotated model that was written. ``missed``: carriers without a property set, since it isn't plain which element they are."""

    path: Path
    carriers: int
    missed: tuple[str, ...]
    sha256: str

    @property
    def told(self) -> str:
        """It in a sentence or two."""
        some = (
            f" {len(self.missed)} have none, since their GlobalIds or numbers are damaged or others' too: {listed(self.missed)}."
            if self.missed
            else ""
        )
        return f"Annotated: {self.path}, with a property set {OURS} on {self.carriers} carriers.{some}"


def fill_rules() -> frozenset[str]:
    """The ids of the rules that say how full a carrier is."""
    return frozenset(key for key, one in load_plugins().rules.items() if one.tells is Tells.FILL)


def targets(sources: Sources, out: Path) -> tuple[Target, ...]:
    """Sees before a run where the annotated models go: into a file, or of several models, into a folder under their own names.

    Raises:
        InputError: The name says no file for them, or a model can't be annotated.
        OutputError: An input, or a file that isn't ours, stands there.
    """
    in_folder = os.path.isdir(out) or (len(sources.models) > 1 and not out.suffix)  # noqa: PTH112 - no error for odd names
    if not in_folder and len(sources.models) > 1:
        what = f"{len(sources.models)} models are checked, and it names one file"
        raise InputError(f"{OPTION} {out}", what, "name a folder; each goes into it under its own name")
    paths = [out / model.name if in_folder else out for model in sources.models]
    for path in paths:
        if path.suffix.lower() not in {PLAIN, ZIPPED}:
            raise InputError(
                f"{OPTION} {path}",
                f"an annotated model is written as {PLAIN} or {ZIPPED}",
                "end its name with one of them",
            )
    if len({os.path.realpath(path).casefold() for path in paths}) < len(paths):
        names = ", ".join(sorted(path.name for path in paths))
        raise InputError(f"{OPTION} {out}", f"two models would go into one file: {names}", "annotate them one by one")
    found = []
    for model, path in zip(sources.models, paths, strict=True):
        real = Path(os.path.realpath(path))
        _see_no_revision(path, real, sources)
        if not in_folder and not os.path.isdir(real.parent):  # noqa: PTH112 - no error for odd names
            what = f"there is no folder {out.parent}"
            raise InputError(f"{OPTION} {path}", what, "make it first, or name a file in a folder that there is")
        _check(path, real, model, sources)
        see_annotatable(_text(model), str(model))
        found.append(Target(model, sources.name(model), real))
    return tuple(found)


def _see_no_revision(path: Path, real: Path, sources: Sources) -> None:
    """A next run would take an annotated model for a revision, where a pattern of the project file fits it."""
    project = sources.project_file
    if project is None:
        return
    for pattern in sources.project.project.models:
        if is_pattern(pattern) and would_match(pattern, project.parent.resolve(), real):
            what = f"{project.name} would take it for a revision of the model, by its pattern {pattern!r}"
            raise InputError(f"{OPTION} {path}", what, "write it into a folder that no pattern names")


def _check(path: Path, real: Path, model: Path, sources: Sources) -> None:
    if not os.path.exists(real):  # noqa: PTH110 - Path.exists raises an error for a name that is too long
        return
    if any(one.exists() and real.samefile(one) for one in sources.inputs()):
        raise OutputError(
            str(path), "the annotated model would be written over an input", f"name another file with {OPTION}"
        )
    if not real.is_file():
        raise OutputError(str(path), "what stands there is no file", f"name another one with {OPTION}")
    if not (_is_as_written(real) or file_digest(real) == file_digest(model)):
        what = "a file of that name stands there, and it isn't one that wayroom annotated and nobody changed since"
        raise OutputError(str(path), what, f"move it, or name another one with {OPTION}")


def _is_as_written(path: Path) -> bool:
    """Whether it is an annotated model that nobody changed since: another program may have saved somebody's work there."""
    try:
        return is_as_written(_text(path), str(path))
    except InputError:
        return False


def _text(path: Path) -> bytes:
    """A model's text, unpacked."""
    with tempfile.TemporaryDirectory(prefix="wayroom-") as folder, inside(path) as held:
        if not held.is_packed:
            return path.read_bytes()
        held.copy_to(Path(folder) / "unpacked.ifc")
        return (Path(folder) / "unpacked.ifc").read_bytes()


@contextmanager
def written(result: Result, wanted: Sequence[Target], fill_rules: Collection[str]) -> Iterator[list[Made]]:
    """Writes annotated models beside where they go; they take their places when the block ends without an error, else nothing is left.

    Raises:
        InputError: A model was changed meanwhile, or can't be annotated.
        OutputError: They can't be written.
    """
    beside: list[tuple[Path, Path]] = []
    made: list[Made] = []
    try:
        with _told():
            for target in wanted:
                one = _annotated(result, target, fill_rules)
                target.path.parent.mkdir(parents=True, exist_ok=True)
                content = _packed(target.path, one.text, result.created)
                beside.append((write_beside(target.path, content), target.path))
                made.append(Made(target.path, one.carriers, one.missed, hashlib.sha256(content).hexdigest()))
        yield made
        with _told():
            for unfinished, path in beside:
                unfinished.replace(path)
    finally:
        for unfinished, _ in beside:
            unfinished.unlink(missing_ok=True)


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        what = f"the annotated model can't be written: {error.strerror}"
        raise OutputError(str(error.filename or OPTION), what, f"check permissions and room, or {OPTION}") from error


def _annotated(result: Result, target: Target, fill_rules: Collection[str]) -> Annotated:
    checked = {file.sha256 for file in result.files if file.role == "model" and file.name == target.name}
    text = _text(target.model)
    if file_digest(target.model) not in checked:
        raise InputError(str(target.model), "it was changed while it was checked", "check it again")
    schemas = read_header(text[:HEAD_BYTES], str(target.model)).schemas
    release = next((known for word in schemas if (known := nearest_schema(word))), "")
    is_old = release == "IFC2X3"
    said = annotations(result, target.name, fill_rules, has_times=not is_old)
    time = utc(result.created)
    seconds = 0 if time is None or time == NO_TIME else int(time.timestamp())
    return annotated(text, str(target.model), said, needs_owner=is_old, seconds=seconds)


def _packed(path: Path, text: bytes, created: str) -> bytes:
    return (
        text if path.suffix.lower() == PLAIN else packed([(PurePath(path.name).with_suffix(PLAIN).name, text)], created)
    )
