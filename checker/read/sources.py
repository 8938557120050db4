"""Finds out what ``WHERE`` names: IFC files, a project file, or a folder with one."""

from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.read.global_ids import global_ids
from checker.read.ifc_file import file_digest, written_at
from checker.read.project import FILE_NAME, Project, read_project
from checker.read.revisions import is_pattern, pick

MODEL_ENDINGS = frozenset({".ifc", ".ifczip", ".ifcxml"})


@dataclass(frozen=True, slots=True)
class Sources:
    """The files of a run. ``schedule`` and ``project_file`` may be absent; ``problems``: what had to be assumed to find them."""

    models: tuple[Path, ...]
    schedule: Path | None
    project: Project
    project_file: Path | None
    project_sha256: str = ""
    problems: tuple[Problem, ...] = ()

    def inputs(self) -> tuple[Path, ...]:
        """Every file that is read."""
        optional = (path for path in (self.schedule, self.project_file) if path is not None)
        return (*self.models, *optional)

    def name(self, model: Path) -> str:
        """What a model is called in all that is said of it: its file's name, with the folders that tell it from its namesakes."""
        parts = model.resolve().parts
        others = [other.resolve().parts for other in self.models if other.name == model.name and other != model]
        size = next((n for n in range(1, len(parts)) if all(other[-n:] != parts[-n:] for other in others)), len(parts))
        return "/".join(parts[-size:]) if others else model.name


def find_sources(where: list[Path], schedule: Path | None) -> Sources:
    """Resolves what the command line names.

    Raises:
        InputError: Something isn't there, or isn't what a model can be.
        ProjectFileError: The project file is wrong.
    """
    project, project_file, sha256 = Project(), None, ""
    models: list[Path] = []
    problems: list[Problem] = []
    for path in where:
        named = path / FILE_NAME if path.is_dir() else path
        if not named.exists():
            hint = f"name IFC files, or a folder that has a {FILE_NAME}" if path.is_dir() else "check the name"
            raise InputError(str(named), "there is no such file", hint)
        if named.suffix.lower() == ".toml":
            if project_file is not None:
                raise InputError(
                    str(named), f"it is the second project file, beside {project_file}", "name one of them"
                )
            project, sha256 = read_project(named)
            project_file = named
            models.extend(_model(named, model, problems) for model in project.project.models)
        elif named.suffix.lower() in MODEL_ENDINGS:
            models.append(named)
        else:
            raise InputError(
                str(named), "it is neither a model nor a project file", "name .ifc files or a wayroom.toml"
            )
    if project_file is not None and schedule is None and project.project.schedule:
        schedule = _schedule(project_file, project.project.schedule, problems)
    unique = tuple({path.resolve(): path for path in models}.values())
    if not unique:
        raise InputError(str(project_file or "WHERE"), "no model is named", 'add models = ["….ifc"] under [project]')
    for path in (*unique, *([schedule] if schedule else [])):
        _see_file(path)
    problems += _unread_project(unique) if project_file is None else []
    different = _without_copies(unique, problems)
    return Sources(different, schedule, project, project_file, sha256, tuple(problems))


def _see_file(path: Path) -> None:
    if not path.is_file():
        raise InputError(str(path), "there is no such file", "check the name here and in the project file")
    if any("\ud800" <= char <= "\udfff" for char in path.name):  # no file that we write could name it
        raise InputError(str(path), "its name has bytes that are no UTF-8", "rename the file")


def _unread_project(models: tuple[Path, ...]) -> list[Problem]:
    """A project file that lies beside a model and that nobody named."""
    if not any((path.parent / FILE_NAME).is_file() for path in models):
        return []
    what, why = "it lies beside a model, and isn't read", "no project file was named, so only what the models say holds"
    return [Problem(FILE_NAME, what, why, "name its folder instead of the model", ProblemKind.ASSUMPTION)]


def _model(project_file: Path, name: str, problems: list[Problem]) -> Path:
    """A model that the project file names, or the newest of those that it names by a pattern."""
    if not is_pattern(name):
        return project_file.parent / name
    picked = pick(name, project_file.parent, MODEL_ENDINGS, f"{project_file.name}, models", written_at, global_ids)
    problems.extend(picked.problems)
    return picked.path


def _schedule(project_file: Path, name: str, problems: list[Problem]) -> Path:
    if not is_pattern(name):
        return project_file.parent / name
    picked = pick(name, project_file.parent, frozenset(), f"{project_file.name}, schedule")
    problems.extend(picked.problems)
    return picked.path


def _without_copies(models: tuple[Path, ...], problems: list[Problem]) -> tuple[Path, ...]:
    """Models less those that are another of them byte for byte under a second name: each element would be there twice."""
    sizes = [path.stat().st_size for path in models]
    kept: dict[str, Path] = {}
    for path, size in sorted(zip(models, sizes, strict=True), key=lambda entry: (entry[0].name, str(entry[0]))):
        first = kept.setdefault(file_digest(path) if sizes.count(size) > 1 else str(path), path)
        if first != path:
            what = f"it is the same file as {first.name}, byte for byte"
            problems.append(
                Problem(path.name, what, "so it is read once", "name it once, or name the model that was meant", ProblemKind.ASSUMPTION)
            )  # fmt: skip
    return tuple(path for path in models if path in kept.values())
