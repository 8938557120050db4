"""Finds out what ``WHERE`` names: IFC files, a project file, or a folder with one."""

from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.read.project import FILE_NAME, Project, read_project

MODEL_ENDINGS = {".ifc", ".ifczip", ".ifcxml"}


@dataclass(frozen=True, slots=True)
class Sources:
    """The files of a run. ``project_file`` and ``schedule`` may be absent."""

    models: tuple[Path, ...]
    schedule: Path | None
    project: Project
    project_file: Path | None
    project_sha256: str = ""

    def inputs(self) -> tuple[Path, ...]:
        """Every file that is read."""
        optional = (path for path in (self.schedule, self.project_file) if path is not None)
        return (*self.models, *optional)


def find_sources(where: list[Path], schedule: Path | None) -> Sources:
    """Resolves what the command line names.

    Raises:
        InputError: Something isn't there, or isn't what a model can be.
        ProjectFileError: The project file is wrong.
    """
    project, project_file, sha256 = Project(), None, ""
    models: list[Path] = []
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
            models.extend(named.parent / model for model in project.project.models)
        elif named.suffix.lower() in MODEL_ENDINGS:
            models.append(named)
        else:
            raise InputError(
                str(named), "it is neither a model nor a project file", "name .ifc files or a wayroom.toml"
            )
    if project_file is not None and schedule is None and project.project.schedule:
        schedule = project_file.parent / project.project.schedule
    unique = tuple({path.resolve(): path for path in models}.values())
    if not unique:
        raise InputError(str(project_file or "WHERE"), "no model is named", 'add models = ["….ifc"] under [project]')
    for path in (*unique, *([schedule] if schedule else [])):
        if not path.is_file():
            raise InputError(str(path), "there is no such file", "check the name here and in the project file")
    return Sources(unique, schedule, project, project_file, sha256)
