"""Puts what was read from all files together into one installation."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from checker.model import Carrier, Equipment, Fitting, Installation, Problem, SourceFile
from checker.read.ifc_file import OpenModel, open_model
from checker.read.model import ModelContents, ModelReader
from checker.read.schedule import Schedule, read_schedule
from checker.read.sources import Sources
from checker.rule.catalogue import CableType
from checker.units import MM_PER_M

Keyed = TypeVar("Keyed", Carrier, Fitting, Equipment)


def read_installation(
    sources: Sources, catalogue: Mapping[str, CableType], tell: Callable[[str], None] = lambda _: None
) -> Installation:
    """Reads everything that a run is asked for.

    Args:
        sources: The files.
        catalogue: The cables that a schedule can name.
        tell: Is told what is being read.

    Raises:
        InputError: A file can't be read at all.
    """
    schedule = None
    if sources.schedule is not None:  # first, since it is quick and its errors are the likeliest
        tell(f"reading {sources.schedule.name}")
        schedule = read_schedule(sources.schedule, sources.project, catalogue)
    files: list[SourceFile] = []
    contents: list[ModelContents] = []
    for path in sources.models:
        tell(f"reading {path.name}")
        opened = open_model(path)
        contents.append(ModelReader(opened, sources.project).read())
        files.append(_source(opened, contents[-1]))
    return put_together(sources, files, contents, schedule)


def _source(opened: OpenModel, contents: ModelContents) -> SourceFile:
    return SourceFile("model", opened.path.name, opened.sha256, opened.schema, opened.timestamp, contents.ifc_project)


def put_together(
    sources: Sources, files: list[SourceFile], contents: list[ModelContents], schedule: Schedule | None
) -> Installation:
    """One installation of several models and a schedule; a GlobalId that two elements share is told apart by its file."""
    problems = [problem for model in contents for problem in model.problems]
    if not any(model.carriers for model in contents):
        problems.append(
            Problem(", ".join(file.name for file in files), "no cable carrier segment was found", "so nothing could be checked",
                    "export cable carriers as IfcCableCarrierSegment")
        )  # fmt: skip
    if schedule is None:
        problems.append(
            Problem(
                "schedule",
                "no circuit schedule was given",
                "so what lies in the carriers isn't known",
                "give --circuits FILE",
            )
        )
    else:
        problems.extend(schedule.problems)
        files = [*files, SourceFile("schedule", schedule.name, schedule.sha256)]
    head = sources.project.project
    if sources.project_file is not None:
        files = [*files, SourceFile("project", sources.project_file.name, sources.project_sha256)]
    taken: set[str] = set()
    carriers = _keyed((item for model in contents for item in model.carriers), taken, problems)
    fittings = _keyed((item for model in contents for item in model.fittings), taken, problems)
    equipment = _keyed((item for model in contents for item in model.equipment), taken, problems)
    key = head.key or next((model.ifc_project for model in contents if model.ifc_project), files[0].name)
    return Installation(
        project_key=key,
        name=head.name or next((model.project_name for model in contents if model.project_name), key),
        files=tuple(files),
        carriers=carriers,
        fittings=fittings,
        equipment=equipment,
        ports=tuple(port for model in contents for port in model.ports),
        circuits=schedule.circuits if schedule is not None else (),
        model_cables=tuple(cable for model in contents for cable in model.cables),
        lost_rows=schedule.lost_rows if schedule is not None else (),
        reach_mm=head.reach_m * MM_PER_M,
        problems=tuple(problems),
    )


def _keyed(items: Iterable[Keyed], taken: set[str], problems: list[Problem]) -> tuple[Keyed, ...]:
    """In order of their keys; one whose GlobalId is taken gets its file's name into the key, and a number if need be."""
    kept = []
    for item in items:
        key, number = item.key, 1
        while key in taken:
            number += 1
            key = f"{item.key}@{item.place.model}" if number == 2 else f"{item.key}@{item.place.model}#{number}"
        if key != item.key:
            problems.append(
                Problem(f"{item.place.model}, {item.place.label}", f"the GlobalId {item.key} is used by another element too",
                        "both are kept; joins through ports may be ambiguous", "give each element a GlobalId of its own")
            )  # fmt: skip
        taken.add(key)
        kept.append(replace(item, key=key))
    return tuple(sorted(kept, key=lambda item: item.key))
