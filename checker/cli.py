"""The command ``wayroom``: options and exit codes; no logic."""

import json
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer

from checker.errors import InputError, PluginError, WayroomError

REPORT = "nothing was written; please report it with the input, and with what WAYROOM_TRACEBACK=1 shows"

WHAT = "Checks cable carriers in IFC models: which circuits run where, whether they fit, carry their load, and are kept apart."

app = typer.Typer(
    name="wayroom",
    help=WHAT,
    epilog="Exit status: 0 all passes or is waived, 1 something fails, 2 not checked, 3 nothing fails but something is unknown.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


@app.callback(invoke_without_command=True)
def wayroom(version: Annotated[bool, typer.Option("--version", help="Print the version and end.")] = False) -> None:
    """Checks cable carriers in IFC models: which circuits run where, whether they fit, carry their load, and are kept apart.

    A help to a competent designer, not a replacement: local codes and licensed practice come first.
    """
    if version:
        from checker import __version__

        typer.echo(f"wayroom {__version__}")
        raise typer.Exit


@app.command()
def check(
    where: Annotated[
        list[Path],
        typer.Argument(metavar="WHERE...", help="IFC files of one building, or a folder or file wayroom.toml."),
    ],
    circuits: Annotated[
        Path | None, typer.Option(help="The circuit schedule, a text file (.csv, .tsv) or a workbook (.xlsx).")
    ] = None,
    code: Annotated[str | None, typer.Option(help="The code of practice; see: wayroom list codes.")] = None,
    out: Annotated[Path, typer.Option(help="Where the results go.")] = Path("wayroom-out"),
    previous: Annotated[
        Path | None, typer.Option(help="Issue notes of an earlier run, to go on with; else those in --out.")
    ] = None,
    fresh: Annotated[bool, typer.Option("--fresh", help="Begin the issue notes anew, whatever is in --out.")] = False,
    bcf: Annotated[str, typer.Option(help="The version of BCF to write: 2.1.")] = "2.1",
    now: Annotated[
        str | None, typer.Option(help="A time (ISO 8601) for the notes, in place of the model's own.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the counts and where the files are as JSON.")] = False,
) -> None:
    """Check a model: fill and segregation of every compartment, and the rating of every circuit, into CSV, JSON, a page and issue notes."""
    from checker.run import RunOptions, run

    options = RunOptions(tuple(where), circuits, code, out, previous, fresh, bcf, now)
    raise typer.Exit(run(options, as_json=as_json))


@app.command()
def fit(
    code: Annotated[str, typer.Option(help="The code of practice; see: wayroom list codes.")] = "",
    carrier: Annotated[str, typer.Option(help="A carrier by its key; see: wayroom list carriers.")] = "",
    inside: Annotated[str, typer.Option(help="Or its inside, width by height in mm, as 96x46.")] = "",
    bore: Annotated[str, typer.Option(help="Or the bore of a conduit in mm.")] = "",
    kind: Annotated[str, typer.Option(help="With --inside: trunking, tray or ladder.")] = "trunking",
    cable: Annotated[
        list[str] | None, typer.Option(help="KEY=COUNT or a diameter, 11.3mm=4. Again for each kind.")
    ] = None,
    most: Annotated[str, typer.Option(help="How many of this cable go in besides: a key, or a diameter, 11.3mm.")] = "",
    occupied: Annotated[str, typer.Option(help="What is taken already, as a share of the inside: 30%.")] = "",
    length: Annotated[
        float | None, typer.Option(help="Length of a conduit's whole run in m, between enclosures.")
    ] = None,
    bends: Annotated[float | None, typer.Option(help="Right-angled bends in it; 0.5 is one of 45 degrees.")] = None,
    space_factor: Annotated[
        float | None, typer.Option(help="A limit of your own, as 0.40: stricter than the code's, or where it has none.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Ask about one carrier and a list of cables, without a model. Shows the arithmetic."""
    from checker.fit import Question, answer
    from checker.fit_text import as_object, as_text
    from checker.model import CarrierKind
    from checker.rule.plugins import code_of, load_plugins

    plugins = load_plugins()
    chosen = code_of(plugins, code)
    kinds = {kind.value for kind in (CarrierKind.TRUNKING, CarrierKind.TRAY, CarrierKind.LADDER)}
    if kind not in kinds:
        raise InputError("--kind", f"{kind!r} is no kind of carrier with sides", f"one of: {', '.join(sorted(kinds))}")
    question = Question(
        chosen,
        carrier,
        inside,
        bore,
        CarrierKind(kind),
        tuple(cable or ()),
        most,
        occupied,
        length,
        bends,
        space_factor,
    )
    found = answer(question, plugins)
    typer.echo(
        json.dumps(as_object(found, chosen), ensure_ascii=False, indent=1) if as_json else as_text(found, chosen)
    )
    raise typer.Exit(found.exit_status)


@app.command("list")
def list_(
    what: Annotated[str, typer.Argument(metavar="carriers|cables|codes|rules", help="What to list.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print a JSON list of objects.")] = False,
) -> None:
    """List what is installed: codes, rules, and the carriers and cables that can be named by key."""
    from checker.listing import LISTS

    if what not in LISTS:
        raise InputError(f"wayroom list {what}", "there is no such list", f"one of: {', '.join(LISTS)}")
    rows = LISTS[what]()
    if as_json:
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    from checker.listing import print_rows

    print_rows(rows)


@app.command()
def explain(
    rule: Annotated[str, typer.Argument(help="The rule's id; see: wayroom list rules.")],
    code: Annotated[str | None, typer.Option(help="Show this code's limits only.")] = None,
) -> None:
    """Explain a rule: what it asks, its formula, its limits with their clauses, a worked example."""
    from checker.manual import manual_page

    width = min(shutil.get_terminal_size((100, 24)).columns, 100)
    typer.echo(manual_page(rule, code, width))


@app.command()
def schema() -> None:
    """Print the JSON Schema of result.json."""
    from checker.report.json_file import result_schema

    typer.echo(json.dumps(result_schema(), indent=1))


def main(arguments: list[str] | None = None) -> None:
    """Runs the command and ends the process with its exit status."""
    sys.exit(run_command(lambda: app(args=arguments, standalone_mode=True)))


def run_command(command: Callable[[], Any]) -> int:
    """Runs something; what ends it early is told on standard error, and is exit status 2.

    A defect of ours is told too, in one line: what a traceback says is for developers, who set WAYROOM_TRACEBACK.
    """
    try:
        command()
    except WayroomError as error:
        if os.environ.get("WAYROOM_TRACEBACK") and isinstance(error, PluginError) and error.__cause__ is not None:
            raise  # for who wrote the rule that broke down
        typer.echo(f"{error.where}: {error.what}\n  {error.hint}", err=True)
        return 2
    except Exception as error:
        if os.environ.get("WAYROOM_TRACEBACK"):
            raise
        typer.echo(f"wayroom: a defect of its own stopped it: {type(error).__name__}: {error}\n  {REPORT}", err=True)
        return 2
    return 0
