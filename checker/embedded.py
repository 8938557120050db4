"""The checker inside a host program: models that are open, a schedule as a file or as rows, one result. Nothing is written.

    import checker
    result = checker.check(model, rows, "bs-7671")
    failing = [finding for finding in result.findings if finding.verdict == "fail"]

It is what ``wayroom check`` answers for the same model in a file, but for hashes and names of files, and for one problem a model: what a
parser lost when the host opened its file can't be known from the open model. A model is called what the header says its file is called.
"""

import hashlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

from checker.checking import check_installation, code_for, table_files, without_own
from checker.embedded_rows import Rows, schedule_of_rows
from checker.errors import InputError
from checker.model import Installation, Problem, ProblemKind, SourceFile
from checker.read.ifc_file import KNOWN_SCHEMAS, OpenModel
from checker.read.installation import put_together
from checker.read.model import ModelReader
from checker.read.packed import printable
from checker.read.project import FILE_NAME, Project, read_project
from checker.read.schedule import Schedule, read_schedule
from checker.read.sources import Sources
from checker.read.step_header import DATE
from checker.result.tables import Result
from checker.rule.plugins import Plugins, load_plugins

__all__ = ["Rows", "check_open"]

UNNAMED = "model"
AN_OPEN_ONE = "give what ifcopenshell.open returns, or several of them; for files there is the command wayroom check"


def check_open(
    model: Any, schedule: str | Path | Rows | None, code: str | None, *, project: str | Path | None = None
) -> Result:
    """Checks models that are open; see ``checker.check``.

    Raises:
        WayroomError: Nothing can be checked.
    """
    plugins = load_plugins()
    sources = _sources(project, schedule)
    chosen, unused = code_for(sources, code, plugins)
    installation = _read(_opened(model), _schedule(schedule, sources.project, plugins), sources, plugins)
    files = (*installation.files, *table_files(chosen, plugins))
    installation = replace(installation, files=files, problems=(*installation.problems, *unused))
    waivers = [spec.waiver for spec in sources.project.waivers]
    return check_installation(installation, chosen, without_own(plugins, sources.project), waivers=waivers)


def _sources(project: str | Path | None, schedule: str | Path | Rows | None) -> Sources:
    """The project file, if one is named. The files that it names itself aren't opened; that its schedule isn't is said."""
    if project is None:
        return Sources((), None, Project(), None)
    path = Path(project)
    path = path / FILE_NAME if path.is_dir() else path
    read, sha256 = read_project(path)
    problems = []
    if schedule is None and read.project.schedule:
        what, why = "the schedule that it names isn't read", "the program that asks gave none"
        hint = "give that file, or its rows, as the schedule"
        problems.append(Problem(f"{path.name}, [project] schedule", what, why, hint, ProblemKind.ASSUMPTION))
    return Sources((), None, read, path, sha256, tuple(problems))


def _schedule(schedule: str | Path | Rows | None, project: Project, plugins: Plugins) -> Schedule | None:
    if schedule is None:
        return None
    if isinstance(schedule, str | Path):
        return read_schedule(Path(schedule), project, plugins.cables)
    return schedule_of_rows(schedule, project, plugins.cables)


def _read(opened: list[OpenModel], schedule: Schedule | None, sources: Sources, plugins: Plugins) -> Installation:
    carriers = tuple(plugins.carriers.values())
    contents = [ModelReader(item, sources.project, carriers).read() for item in opened]
    files = [
        SourceFile("model", item.name, item.sha256, item.schema, item.timestamp, content.ifc_project)
        for item, content in zip(opened, contents, strict=True)
    ]
    return put_together(sources, files, contents, schedule)


def _opened(given: Any) -> list[OpenModel]:
    """The open models in an order that doesn't hang on how they are given; one that is there twice is read once."""
    if isinstance(given, str | Path) or not (_is_open(given) or isinstance(given, Iterable)):
        raise InputError("model", f"a {type(given).__name__} is no open model", AN_OPEN_ONE)
    models = [given] if _is_open(given) else list(given)
    if not models:
        raise InputError("model", "no model is given", AN_OPEN_ONE)
    for item in models:
        if not _is_open(item):
            raise InputError("model", f"one of the models is a {type(item).__name__}, and not open", AN_OPEN_ONE)
        schema = str(item.schema_identifier)
        if schema not in KNOWN_SCHEMAS:
            hint = "save it, and check the file, or convert it to IFC4"
            raise InputError(_name(item), f"it is open as {schema}, which isn't read from an open model", hint)
    sizes = [len(item.by_type("IfcRoot")) for item in models]
    texts = [_digest(item) if sizes.count(size) > 1 else "" for item, size in zip(models, sizes, strict=True)]
    keyed = {(_name(item), size, text): item for item, size, text in zip(models, sizes, texts, strict=True)}
    copies = Counter((_name(item), size, text) for item, size, text in zip(models, sizes, texts, strict=True))
    names: Counter[str] = Counter()
    opened = []
    for key in sorted(keyed):
        names[key[0]] += 1
        name = key[0] if names[key[0]] == 1 else f"{key[0]} ({names[key[0]]})"
        opened.append(_open_model(keyed[key], name, copies[key]))
    return opened


def _is_open(given: object) -> bool:
    return hasattr(given, "by_type") and hasattr(given, "schema_identifier") and hasattr(given, "header")


def _digest(model: Any) -> str:
    return hashlib.sha256(model.to_string().encode()).hexdigest()


def _name(model: Any) -> str:
    """What the header says that its file is called, without folders."""
    text = printable(str(model.header.file_name.name or "")).replace("\\", "/")
    return text.rsplit("/", 1)[-1].strip() or UNNAMED


def _open_model(model: Any, name: str, times: int) -> OpenModel:
    what, why = "it is open, and taken for whole", "what was lost when its file was opened can't be told from that"
    hint = "check the file itself, with wayroom check, where that matters"
    problems = [Problem(name, what, why, hint, ProblemKind.ASSUMPTION)]
    if times > 1:
        what, hint = "it is given more than once", "give it once, or give the model that was meant"
        problems.append(Problem(name, what, "so it is read once", hint, ProblemKind.ASSUMPTION))
    stamp = str(model.header.file_name.time_stamp or "")
    written = stamp if DATE.match(stamp) else ""
    return OpenModel(Path(name), name, model, "", str(model.schema_identifier), written, tuple(problems))
