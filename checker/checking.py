"""The one path through everything: read, join, route, load, judge, one result."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker import __version__
from checker.answers import not_asked
from checker.assemble import (
    cable_rows,
    carrier_rows,
    circuit_rows,
    compartment_rows,
    surroundings,
)
from checker.findings import model_problems, rating_rows
from checker.found import find
from checker.history.project_key import earlier_key
from checker.loosening import in_force, not_run_waivers, unused_waivers
from checker.model import Installation, Problem, SourceFile
from checker.model.texts import natural
from checker.network.route import ways_of
from checker.network_rows import (
    break_rows,
    equipment_rows,
    join_rows,
    near_miss_rows,
    near_way_rows,
    open_end_rows,
    take_off_rows,
)
from checker.noting import never_due, odd_notes, unused_words, with_statuses
from checker.pictures import sections_of
from checker.progress import Progress
from checker.questions import Unknowns, question_rows
from checker.raising import raised
from checker.read.installation import read_installation
from checker.read.project import FILE_NAME, Project
from checker.read.sources import Sources
from checker.remedies import remedies_of
from checker.result.archive import File, created_time, newest_time
from checker.result.cautions import CAUTIONS
from checker.result.gathering import gathered
from checker.result.tables import Result
from checker.result.topics import group_findings
from checker.rule.code import Code
from checker.rule.limits import eases_overload
from checker.rule.plugins import Plugins, code_of, load_plugins
from checker.rule.tighten import not_run, tightened, with_loosened
from checker.rule.waiver import Waiver
from checker.trial import Situation, situation_of
from checker.units import metres
from checker.waivers import check_waivers

#: Of advice where near ways are looked at.
WITHOUT_NEAR = (
    "Advice was tried with each circuit on its own way: ways that are a little longer (near_m) weren't looked at again."
)


@dataclass(frozen=True, slots=True)
class Request:
    """What a run is asked for. ``previous`` are the issue notes to go on with; ``now`` stands in for the model's own time."""

    sources: Sources
    code: str | None = None
    previous: File | None = None
    previous_name: str = ""
    now: str | None = None


def check(request: Request, progress: Progress | None = None) -> Result:
    """Checks what a request names.

    Raises:
        WayroomError: Nothing can be checked.
    """
    progress = progress or Progress()
    plugins = load_plugins()
    sources = request.sources
    code, unused = code_for(sources, request.code, plugins)
    installation = read_installation(request.sources, plugins.cables, progress.stage, tuple(plugins.carriers.values()))
    if request.previous is not None and not sources.project.project.key:
        projects = {file.ifc_project for file in installation.files if file.ifc_project}
        key = earlier_key(request.previous, installation.project_key, projects, request.previous_name)
        installation = replace(installation, project_key=key)
    files = (*installation.files, *table_files(code, plugins))
    unused += never_due(sources.project.notes, files, request.now)
    installation = replace(installation, files=files, problems=(*installation.problems, *unused))
    plugins = without_own(plugins, sources.project)
    result = check_installation(
        installation,
        code,
        plugins,
        previous=request.previous,
        previous_name=request.previous_name,
        now=request.now,
        progress=progress,
        waivers=[spec.waiver for spec in sources.project.waivers],
    )
    return with_statuses(result, request.previous, request.previous_name, sources.project.notes.words)


def code_for(sources: Sources, key: str | None, plugins: Plugins) -> tuple[Code, list[Problem]]:
    """The code that is asked for, with the project's own limits; and what of the project file it has no use for.

    Raises:
        WayroomError: There is no such code, a limit is looser than the code's, or a waiver names no rule that there is.
    """
    project = sources.project
    code = code_of(plugins, key or project.project.code)
    unused = [
        Problem(f'{FILE_NAME}, [limits."{rule_id}"]', f"the code {code.key} doesn't run that rule",
                "so the project's own limit isn't used", "set the limit that this code runs, if there is one: wayroom list rules")
        for rule_id in not_run(code, project.limits, plugins.rules)
    ]  # fmt: skip
    if project.rating.not_overloaded_together and not any(eases_overload(limits) for limits in code.limits.values()):
        unused.append(
            Problem(f"{FILE_NAME}, [rating] not_overloaded_together", f"the code {code.key} has no formula for it",
                    "so it isn't used", "leave it out, or choose the code that has one")
        )  # fmt: skip
    own = tightened(code, project.limits, str(sources.project_file), plugins.rules)
    check_waivers((spec.waiver for spec in project.waivers), plugins.rules, str(sources.project_file))
    unused += unused_words(project.notes, code)
    loosened = [spec.loosened for spec in project.loosened]
    unused += not_run_waivers(code, loosened, plugins.rules)
    return with_loosened(own, loosened, str(sources.project_file), plugins.rules), unused


def without_own(plugins: Plugins, project: Project) -> Plugins:
    """The plug-ins less the catalogue's cables whose keys the project gives to others: a schedule that names one has the project's."""
    own = {cable.key.lower() for cable in project.cables}
    kept = {key: item for key, item in plugins.cables.items() if key.lower() not in own}
    return replace(plugins, cables=kept)


def table_files(code: Code, plugins: Plugins) -> list[SourceFile]:
    """The files of a code, of those that it extends, and of all tables."""
    tables = [SourceFile("table", table.name, table.sha256) for table in plugins.tables.values()]
    return [*(SourceFile("code", f"{one.key}.toml", one.sha256) for one in code.chain), *tables]


def check_installation(
    installation: Installation,
    code: Code,
    plugins: Plugins,
    *,
    previous: File | None = None,
    previous_name: str = "",
    now: str | None = None,
    progress: Progress | None = None,
    waivers: Sequence[Waiver] = (),
) -> Result:
    """Routes, loads and judges what was read.

    Args:
        installation: What there is.
        code: Whose limits apply.
        plugins: The rules that there are.
        previous: The issue notes of the run before, whose topics keep their identity.
        previous_name: What messages call them.
        now: A time to use instead of the model's own.
        progress: Is told how far it is.
        waivers: Findings that the project waives.
    """
    progress = progress or Progress()
    time = now or newest_time(installation.files)
    code, run_out = in_force(code, time)
    found = find(installation, code, plugins, waivers, time, progress, previous=previous, previous_name=previous_name)
    routing, loading, waived, answers = found.routing, found.loading, found.waived, found.answers
    judged, rated, others = answers.judged, answers.rated, answers.others
    progress.stage("finding what to answer first")
    unknowns = Unknowns(installation, routing, loading, plugins.rules, code)
    questions = question_rows([*unknowns.of_all(judged, rated, others), *waived.unsettled()])
    findings = waived.findings
    compartments = compartment_rows(loading, judged, rated, others, found.ranges)
    take_off = take_off_rows(installation, routing)
    result = Result(
        version=__version__,
        project_key=installation.project_key,
        project_name=installation.name,
        code=code.key,
        code_title=code.full_title,
        created=created_time(time),
        files=installation.files,
        carriers=carrier_rows(installation, loading, compartments),
        compartments=compartments,
        circuits=circuit_rows(installation, routing, found.grouped.circuits, take_off),
        cables=cable_rows(loading),
        findings=findings,
        problems=tuple(
            sorted(
                (
                    *installation.problems,
                    *routing.problems,
                    *loading.problems,
                    *answers.problems,
                    *model_problems(answers.of_model, plugins.rules),
                    *unknowns.problems(),
                    *run_out,
                    *unused_waivers(code, answers.verdicts()),
                    *odd_notes(
                        previous, previous_name, installation.project_key, time, newest_time(installation.files)
                    ),
                ),
                key=lambda p: (natural(p.where), p.what, p.why, p.hint, p.kind, p.elements),
            )
        ),
        topics=(),
        ratings=rating_rows(rated, plugins.rules),
        surroundings=surroundings(installation),
        cautions=(*CAUTIONS[:-1], *not_asked(code, plugins), CAUTIONS[-1]),
        demolished=installation.demolished,
        joins=join_rows(routing),
        breaks=break_rows(routing),
        near_misses=near_miss_rows(routing),
        open_ends=open_end_rows(routing),
        take_off=take_off,
        near_ways=near_way_rows(found.near),
        near_m=None if installation.near_mm is None else metres(installation.near_mm),
        equipment=equipment_rows(installation, routing),
        questions=questions,
        revision=installation.revision,
        status=installation.status,
        grids=installation.setting.grids,
    )
    progress.stage("grouping findings")
    carriers = {row.key: row for row in result.carriers}
    groups = group_findings(findings, carriers, routing.network.neighbours(), ways_of(routing))
    progress.stage("trying what would help")
    if installation.near_mm is None:
        situation = Situation(installation, routing, loading, found.judged, {row.id: row for row in found.as_judged})
    else:  # trials don't ask about other ways
        situation = situation_of(installation, routing, code, plugins)
    remedied = remedies_of(situation, groups, code, plugins, progress)
    groups = [tuple(map(remedied.told, group)) for group in groups]
    told = {row.id: row for group in groups for row in group}
    findings = (*(told.get(row.id, row) for row in findings), *waived.about)
    result = replace(result, findings=findings, remedies=remedied.remedies, waivers=waived.waivers)
    if installation.near_mm is not None and remedied.remedies:
        result = replace(result, cautions=(*result.cautions[:-1], WITHOUT_NEAR, result.cautions[-1]))
    result = raised(result, gathered(groups, carriers), installation, plugins, (previous, previous_name))
    progress.stage("drawing sections")
    return replace(result, sections=sections_of(result, loading, answers))
