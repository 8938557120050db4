"""A run of ``wayroom check``: the check, the notes merged with the earlier ones, the files, the summary."""

import dataclasses
import gc
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from checker.checking import Request, check
from checker.earlier_notes import NOTES, kept_beside, notes_to_go_on_with, opened, put_together, spool, standing
from checker.errors import InputError
from checker.loosening import see_time
from checker.progress import Progress
from checker.read.sources import find_sources
from checker.report.publish import RESULT, check_out, disagreeing, publish

if TYPE_CHECKING:
    from rich.console import Console

    from checker.result.archive import Content, File
    from checker.result.dialect import Dialect
    from checker.result.gone_on import GoneOn
    from checker.result.notes import Draft
    from checker.result.tables import Result

PAGE = "report.html"
#: Columns of the summary in a pipe, where nothing says how wide a line may be.
WIDE = 120


@dataclasses.dataclass(frozen=True, slots=True)
class RunOptions:
    """What the command was given."""

    where: tuple[Path, ...]
    circuits: Path | None
    code: str | None
    out: Path
    previous: Path | None
    fresh: bool
    bcf: str | None
    now: str | None
    annotate: Path | None = None
    reopen: bool = False


def run(options: RunOptions, *, as_json: bool) -> int:
    """Checks, writes and tells; see ``_run``."""
    with uncollected():
        return _run(options, as_json=as_json)


@contextmanager
def uncollected() -> Iterator[None]:
    """The collector of cycles is off meanwhile.

    Nothing here makes many, and looking for them among millions of rows took a fifth of the time of a run over 10,000 carriers.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _run(options: RunOptions, *, as_json: bool) -> int:
    """Checks, writes and tells.

    Returns:
        The exit status.

    Raises:
        WayroomError: Nothing could be checked; earlier results are as they were.
    """
    from checker.annotate.files import fill_rules, targets, written
    from checker.history.previous import check_version
    from checker.report import bcf
    from checker.report.csv_files import WRITERS
    from checker.report.html import report_html
    from checker.report.json_file import result_json
    from checker.report.publish import digest
    from checker.result.accounting import count, exit_status
    from checker.result.dialect import V2

    asked = _dialect(options.bcf)
    see_time(options.now)
    sources = find_sources(list(options.where), options.circuits)
    check_out(options.out, sources.inputs(), [*WRITERS, PAGE, NOTES], [] if options.fresh else [NOTES])
    wanted = () if options.annotate is None else targets(sources, options.annotate)
    previous = notes_to_go_on_with(options.out, options.previous, fresh=options.fresh, reopen=options.reopen)
    broken = disagreeing(options.out)
    with shown_progress(quiet=as_json) as progress, opened(previous) as data, spool() as notes:
        dialect = (asked or V2) if data is None else check_version(data, str(previous), asked)
        stands = standing(options.out, previous, data, broken)
        request = Request(sources, options.code, data, str(previous or ""), options.now)
        result = check(request, progress)
        progress.stage("writing results")
        files: dict[str, File] = {name: writer(result) for name, writer in WRITERS.items()}
        draft = bcf.draft(result, dialect, sources.project.notes.words)
        files[PAGE] = report_html(result)
        noted, gone_on = _noted(result, draft, data, str(previous), reopen=options.reopen)
        put_together(notes, noted, draft.created)
        files[NOTES] = notes
        earlier = bcf.topics_in(notes) - len(result.topics) - len(result.requests)
        outputs = {name: digest(content) for name, content in sorted(files.items())}
        with written(result, wanted, fill_rules()) as annotated:
            sums = {one.path.name: one.sha256 for one in annotated}
            stands.check_unchanged()
            kept = kept_beside(stands) if options.fresh else {}
            publish(options.out, {**files, **kept}, result_json(result, exit_status(result), outputs, sums))
    if as_json:
        summary = {"counts": dataclasses.asdict(count(result)), "exit_status": exit_status(result), "code": result.code,
                   "out": str(options.out), "files": sorted([*files, *kept, RESULT]), "cautions": list(result.cautions)}  # fmt: skip
        annotated_as = [dataclasses.asdict(one) | {"path": str(one.path)} for one in annotated]
        summary |= {"annotated": annotated_as} if wanted else {}
        summary |= {"earlier_notes": dataclasses.asdict(gone_on)} if gone_on else {}
        print(json.dumps(summary, ensure_ascii=False, indent=1))  # noqa: T201 - this is the output
    else:
        console = _tell(result, options, broken, earlier, gone_on)
        for name in kept:
            console.print(f"The notes that stood in {options.out} are kept there as {name}.", markup=False)
        for one in annotated:
            console.print(one.told, markup=False)
    return exit_status(result)


def _noted(
    result: "Result", draft: "Draft", data: "File | None", where: str, *, reopen: bool
) -> "tuple[Mapping[str, Content], GoneOn | None]":
    """The files of the notes by path, and what has become of earlier ones that the run goes on with, if there are some."""
    from checker.history.merge import merged_files
    from checker.result.facts import run_facts

    if data is None:
        return dict(draft.files()), None
    found = merged_files(data, draft, run_facts(result), where, reopen=reopen)
    return found.files, found.gone_on


def _dialect(version: str | None) -> "Dialect | None":
    """The version of BCF that was asked for; None: that of the notes to go on with, else the older."""
    from checker.result.dialect import DIALECTS

    if version is None:
        return None
    if version not in DIALECTS:
        raise InputError("--bcf", f"BCF {version} can't be written", f"say --bcf {' or --bcf '.join(DIALECTS)}")
    return DIALECTS[version]


def _tell(
    result: "Result", options: RunOptions, broken: Sequence[str], earlier: int, gone_on: "GoneOn | None"
) -> "Console":
    """The summary, for people; what it was printed on."""
    from rich.console import Console

    from checker.report.terminal import print_summary

    changed = [name for name in broken if name != NOTES]
    if changed:
        told = f"The earlier results in {options.out} didn't agree ({', '.join(changed)}); they were made anew."
        Console(stderr=True, soft_wrap=True).print(told, highlight=False, markup=False)
    console = Console(width=None if sys.stdout.isatty() else WIDE, soft_wrap=True, highlight=False)
    print_summary(console, result, str(options.out), earlier, gone_on)
    return console


@contextmanager
def shown_progress(*, quiet: bool) -> Iterator[Progress]:
    """A progress line on a terminal; nothing in a pipe."""
    if quiet or not sys.stderr.isatty():
        yield Progress()
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bar

    class Shown(Progress):
        def stage(self, text: str) -> None:
            bar.update(task, description=text, completed=0, total=None)

        def step(self, done: int, total: int) -> None:
            if done % 64 == 0 or done == total:
                bar.update(task, completed=done, total=total)

    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Bar(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("starting", total=None)
        yield Shown()
