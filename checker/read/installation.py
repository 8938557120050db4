"""Puts what was read from all files together into one installation."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from checker.model import (
    Carrier,
    Circuit,
    Equipment,
    Fitting,
    Installation,
    ModelCircuit,
    Port,
    Problem,
    ProblemKind,
    SourceFile,
)
from checker.model.texts import listed
from checker.read.barriers import barriers_of
from checker.read.circuit_ends import CircuitEnds, not_scheduled, of_models_alone, with_model_ends
from checker.read.copies import same_places
from checker.read.federation import mismatches
from checker.read.ifc_file import OpenModel, open_model
from checker.read.model import ModelContents, ModelReader
from checker.read.schedule import Schedule, read_schedule
from checker.read.setting import together
from checker.read.sources import Sources
from checker.read.unmatched import unmatched_entries, unmatched_terminations, unmatched_types
from checker.read.ways import with_way_limits
from checker.rule.catalogue import CableType, CarrierType
from checker.units import MM_PER_M

Keyed = TypeVar("Keyed", Carrier, Fitting, Equipment)


def read_installation(
    sources: Sources,
    catalogue: Mapping[str, CableType],
    tell: Callable[[str], None] = lambda _: None,
    carriers: Sequence[CarrierType] = (),
) -> Installation:
    """Reads everything that a run is asked for.

    Args:
        sources: The files.
        catalogue: The cables that a schedule can name.
        tell: Is told what is being read.
        carriers: Carriers whose inside goes by a family and a trade size.

    Raises:
        InputError: A file can't be read at all.
    """
    schedule = None
    if sources.schedule is not None:  # first, since it is quick and its errors are the likeliest
        tell(f"reading {sources.schedule.name}")
        schedule = read_schedule(sources.schedule, sources.project, catalogue)
    files: list[SourceFile] = []
    contents: list[ModelContents] = []
    for path in sorted(sources.models, key=lambda path: (path.name, str(path))):  # in whatever order they are named
        tell(f"reading {path.name}")
        opened = open_model(path, sources.name(path))
        contents.append(ModelReader(opened, sources.project, carriers).read())
        files.append(_source(opened, contents[-1]))
    return put_together(sources, files, contents, schedule)


def _source(opened: OpenModel, contents: ModelContents) -> SourceFile:
    return SourceFile("model", opened.name, opened.sha256, opened.schema, opened.timestamp, contents.ifc_project)


def put_together(
    sources: Sources, files: list[SourceFile], contents: list[ModelContents], schedule: Schedule | None
) -> Installation:
    """One installation of several models and a schedule; a GlobalId that two elements share is told apart by its file."""
    problems = [
        *sources.problems,
        *(problem for model in contents for problem in model.problems),
        *mismatches(contents),
    ]
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
    problems.extend(unmatched_types(sources, contents))
    problems.extend(unmatched_entries(sources, contents))
    rating = sources.project.rating
    taken: set[str] = set()
    carriers: list[Carrier] = []
    fittings: list[Fitting] = []
    equipment: list[Equipment] = []
    ports: list[Port] = []
    drawn: list[ModelCircuit] = []
    for model in contents:
        keys: dict[str, str] = {}
        carriers.extend(_keyed(model.carriers, taken, keys, problems))
        fittings.extend(_keyed(model.fittings, taken, keys, problems))
        equipment.extend(_keyed(model.equipment, taken, keys, problems))
        ports.extend(replace(port, element=keys.get(port.element, port.element)) for port in model.ports)
        drawn.extend(_with_keys(item, keys) for item in model.circuits)
    problems.extend(same_places(carriers))
    barriers = barriers_of([model.barriers for model in contents], carriers, problems)
    ends = CircuitEnds(drawn, equipment, carriers)
    led = with_way_limits(_circuits(schedule, ends, problems), carriers, sources.project)
    problems.extend(led.problems)
    circuits = tuple(led.circuits)
    problems.extend(unmatched_terminations(sources, circuits))
    owned = {circuit.mark for circuit in circuits} | {
        found.mark for item in circuits if (found := ends.of(item.mark)) is not None
    }
    problems.extend(_unscheduled_cables(contents, owned))
    key = head.key or next((model.ifc_project for model in contents if model.ifc_project), files[0].name)
    return Installation(
        project_key=key,
        name=head.name or next((model.project_name for model in contents if model.project_name), key),
        files=tuple(files),
        carriers=tuple(sorted(carriers, key=lambda item: item.key)),
        fittings=tuple(sorted(fittings, key=lambda item: item.key)),
        equipment=tuple(sorted(equipment, key=lambda item: item.key)),
        ports=tuple(ports),
        circuits=circuits,
        model_cables=tuple(cable for model in contents for cable in model.cables),
        model_circuits=ends.circuits,
        left_out=tuple(entry for model in contents for entry in model.left_out),
        is_scheduled=schedule is not None,
        demolished=tuple(place for model in contents for place in model.demolished),
        lost_rows=schedule.lost_rows if schedule is not None else (),
        reach_mm=head.reach_m * MM_PER_M,
        near_mm=None if sources.project.routing.near_m is None else sources.project.routing.near_m * MM_PER_M,
        allowance_share=sources.project.lengths.allowance_percent / 100.0,
        end_allowance_mm=sources.project.lengths.end_allowance_m * MM_PER_M,
        terminations_c=tuple((spec.name, spec.temperature_c) for spec in sources.project.terminations),
        not_overloaded_together=rating.reason.strip() if rating.not_overloaded_together else "",
        problems=tuple(problems),
        barriers=barriers,
        setting=together(model.setting for model in contents),
        most_requests=sources.project.notes.questions,
        revision=head.revision.strip(),
        status=head.status.strip(),
    )


def _with_keys(circuit: ModelCircuit, keys: Mapping[str, str]) -> ModelCircuit:
    """A circuit whose members go by the keys that they have among all models."""
    members = tuple(keys.get(key, key) for key in circuit.members)
    return replace(circuit, members=members, board=keys.get(circuit.board, circuit.board))


def _circuits(schedule: Schedule | None, ends: CircuitEnds, problems: list[Problem]) -> tuple[Circuit, ...]:
    """The schedule's circuits, with what the models know of them; without a schedule the models' own."""
    if schedule is None:
        matched = of_models_alone(ends)
    else:
        matched = with_model_ends(schedule.circuits, ends)
        problems.extend(not_scheduled([circuit.mark for circuit in schedule.circuits], ends))
    problems.extend(matched.problems)
    return tuple(matched.circuits)


def _unscheduled_cables(contents: list[ModelContents], marks: set[str]) -> list[Problem]:
    """Cables that a model draws and no circuit of the schedule owns. What they take up isn't counted."""
    problems = []
    for model in contents:
        loose = [cable.place.label for cable in model.cables if marks.isdisjoint(cable.marks)]
        if loose:
            some = listed(sorted(loose))
            problems.append(
                Problem(model.name, f"it draws cables of no circuit in the schedule: {some}",
                        "they aren't counted in any carrier, and what they are drawn in doesn't pass",
                        "add their circuits to the schedule, or name them by the circuit's mark", elements=len(loose))
            )  # fmt: skip
    return problems


def _keyed(items: Iterable[Keyed], taken: set[str], keys: dict[str, str], problems: list[Problem]) -> Iterator[Keyed]:
    """Elements of one model with keys that no other has: one whose GlobalId is taken gets its file's name into it.

    Args:
        items: The elements.
        taken: Keys in use; added to.
        keys: GlobalId → key in this model, for its ports; added to.
        problems: Added to: one for all that share theirs.
    """
    shared = []
    for item in items:
        key, number = item.key, 1
        while key in taken:
            number += 1
            key = f"{item.key}@{item.place.model}" if number == 2 else f"{item.key}@{item.place.model}#{number}"
        if key != item.key:
            shared.append(item)
        taken.add(key)
        keys.setdefault(item.key, key)
        yield replace(item, key=key)
    if shared:
        some = listed([f"{item.place.label} ({item.key})" for item in shared])
        what = f"elements have GlobalIds that are used by other elements too: {some}"
        problems.append(
            Problem(shared[0].place.model, what, "both are kept, told apart by their files", "give each element a GlobalId of its own",
                    ProblemKind.CORRECTION, len(shared))
        )  # fmt: skip
