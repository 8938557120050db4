"""The command that compares: opens both, compares, writes, tells."""

import hashlib
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.compare.comparing import compare
from checker.compare.files import changes_csv, compare_json
from checker.compare.page import compare_html
from checker.compare.sides import is_written, open_side
from checker.compare.text import print_comparison
from checker.errors import InputError, OutputError
from checker.report.publish import RESULT, check_out, publish
from checker.run import WIDE, shown_progress, uncollected

VOUCHER = "compare.json"
WRITERS = {"changes.csv": changes_csv, "compare.html": compare_html}


@dataclass(frozen=True, slots=True)
class CompareOptions:
    """What the command was given. ``circuits``: one schedule for both, or that of OLD and that of NEW."""

    old: Path
    new: Path
    code: str | None
    circuits: tuple[Path, ...]
    out: Path | None


def run_compare(options: CompareOptions, *, as_json: bool) -> int:
    """Compares, writes and tells.

    Returns:
        The exit status, as ``Comparison.exit_status`` has it.

    Raises:
        WayroomError: It can't be compared, or written; what stood there is as it was.
    """
    with uncollected():
        return _run(options, as_json=as_json)


def _run(options: CompareOptions, *, as_json: bool) -> int:
    schedules = _schedules(options)
    _see_apart(options.out, [options.old, options.new], ())
    with shown_progress(quiet=as_json) as progress:
        progress.stage("reading OLD")
        old = open_side(options.old, options.code, schedules[0], progress)
        progress.stage("reading NEW")
        new = open_side(options.new, options.code, schedules[1], progress)
        _see_apart(options.out, [options.old, options.new], (*old.inputs, *new.inputs))
        progress.stage("comparing")
        comparison = compare(old.result, new.result)
        outputs: dict[str, str] = {}
        if options.out is not None:
            files = {name: writer(comparison) for name, writer in WRITERS.items()}
            outputs = {name: hashlib.sha256(content).hexdigest() for name, content in sorted(files.items())}
            publish(options.out, files, compare_json(comparison, outputs), VOUCHER)
    if as_json:
        sys.stdout.write(compare_json(comparison, outputs).decode())
    else:
        from rich.console import Console

        console = Console(width=None if sys.stdout.isatty() else WIDE, soft_wrap=True, highlight=False)
        print_comparison(console, comparison, (str(options.old), str(options.new)), str(options.out or ""))
    return comparison.exit_status()


def _schedules(options: CompareOptions) -> tuple[Path | None, Path | None]:
    """The schedule of each side that is checked now."""
    checked = [not is_written(path) for path in (options.old, options.new)]
    given = options.circuits
    for option, is_given in (("--code", options.code is not None), ("--circuits", bool(given))):
        if is_given and not any(checked):
            raise InputError(
                option, "both are results that were written, and nothing is checked", "leave it out, or name models"
            )
    if len(given) > 2:
        raise InputError(
            "--circuits",
            f"it was given {len(given)} times",
            "give it once for both, or twice: that of OLD, then that of NEW",
        )
    if len(given) == 2:
        if not all(checked):
            raise InputError("--circuits", "it was given twice, and only one side is checked", "give it once")
        return given[0], given[1]
    one = given[0] if given else None
    return (one if checked[0] else None), (one if checked[1] else None)


def _see_apart(out: Path | None, sides: Sequence[Path], inputs: Sequence[Path]) -> None:
    """Sees that nothing would be written into OLD or NEW, nor over anything that is read.

    Within a folder of results nothing is; beside a project file there may be a folder for it, as there is for results.
    """
    if out is None:
        return
    target = out.resolve()
    for side in sides:
        folder = side if side.is_dir() else side.parent if side.name == RESULT else None
        if folder is None:
            continue
        is_within = is_written(side) and folder.resolve() in target.parents
        if target == folder.resolve() or is_within:
            what = f"it would be written into {folder}, which is compared"
            raise OutputError(str(out), what, "name a folder beside it with --out")
    check_out(out, inputs, list(WRITERS), voucher=VOUCHER)
