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
from checker.given_once import GivenOnce

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

#: Options that several commands have.
Inside = Annotated[str, typer.Option(help="Or its inside, width by height in mm, as 96x46.")]
Bore = Annotated[str, typer.Option(help="Or the bore of a conduit in mm.")]
KindWithSides = Annotated[str, typer.Option(help="With --inside: trunking, tray or ladder.")]
Cables = Annotated[
    list[str] | None,
    typer.Option(help="KEY=COUNT or a size: 11.3mm=4, 10.9-12.4mm=4, flat 11.5x6.2mm=2. Again for each kind."),
]
Length = Annotated[float | None, typer.Option(help="Length of a conduit's whole run in m, between enclosures.")]
Bends = Annotated[float | None, typer.Option(help="Right-angled bends in it; 0.5 is one of 45 degrees.")]
SpaceFactor = Annotated[
    str | None,
    typer.Option(help="A limit of your own, 40% or 0.40: stricter than the code's, or where it has none."),
]
Spare = Annotated[str, typer.Option(help="What is to be free for later, as a share of what lies there: 25%.")]


@app.callback(invoke_without_command=True)
def wayroom(version: Annotated[bool, typer.Option("--version", help="Print the version and end.")] = False) -> None:
    """Checks cable carriers in IFC models: which circuits run where, whether they fit, carry their load, and are kept apart.

    A help to a competent designer, not a replacement: local codes and licensed practice come first.
    """
    if version:
        from checker import __version__

        typer.echo(f"wayroom {__version__}")
        raise typer.Exit


@app.command(cls=GivenOnce)
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
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Begin the issue notes anew; those in --out are kept beside them.")
    ] = False,
    reopen: Annotated[
        bool, typer.Option("--reopen", help="Open issue notes again that people closed, but that still fail.")
    ] = False,
    bcf: Annotated[
        str | None,
        typer.Option(
            help="The version of BCF to write: 2.1 or 3.0; else that of the issue notes that are gone on with, or 2.1."
        ),
    ] = None,
    now: Annotated[
        str | None, typer.Option(help="A time (ISO 8601) for notes and waivers, in place of the newest model's own.")
    ] = None,
    annotate: Annotated[
        Path | None,
        typer.Option(
            help="Also write the model to this .ifc or .ifczip with the verdicts on its carriers, as a property set Wayroom_Check, and "
            "nothing else changed; of several models, into this folder."
        ),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the counts and where the files are as JSON.")] = False,
) -> None:
    """Check a model: fill and segregation of every compartment, and the rating of every circuit, into CSV, JSON, a page and issue notes."""
    from checker.run import RunOptions, run

    options = RunOptions(tuple(where), circuits, code, out, previous, fresh, bcf, now, annotate, reopen)
    raise typer.Exit(run(options, as_json=as_json))


@app.command(cls=GivenOnce)
def fit(
    context: typer.Context,
    code: Annotated[str, typer.Option(help="The code of practice; see: wayroom list codes.")] = "",
    carrier: Annotated[str, typer.Option(help="A carrier by its key; see: wayroom list carriers.")] = "",
    inside: Inside = "",
    bore: Bore = "",
    kind: KindWithSides = "trunking",
    cable: Cables = None,
    most: Annotated[str, typer.Option(help="How many of this cable go in besides: a key, or a size, 11.3mm.")] = "",
    occupied: Annotated[str, typer.Option(help="What is taken already, as a share of the inside: 30%.")] = "",
    length: Length = None,
    bends: Bends = None,
    space_factor: SpaceFactor = None,
    spare: Spare = "",
    draw: Annotated[Path | None, typer.Option(help="Draw the section into this file, .svg or .png.")] = None,
    sheet: Annotated[
        Path | None, typer.Option(help="Write the worked answer on one page into this file, .html or .pdf.")
    ] = None,
    blanks: Annotated[
        bool, typer.Option("--blanks", help="With --sheet: leave blank what is to be worked out, for those who learn.")
    ] = False,
    page: Annotated[
        Path | None,
        typer.Option(
            help="Write a page into this file that answers such questions offline, as on a phone; with --code alone."
        ),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Ask about one carrier and a list of cables, without a model. Shows the arithmetic."""
    from checker.fit import Question, answer
    from checker.fit.carriers import kind_with_sides
    from checker.fit_files import check_files, write_files
    from checker.fit_text import as_object, as_text
    from checker.rule.plugins import code_of, load_plugins

    plugins = load_plugins()
    if page is not None:
        from checker.calculator.write import write_page

        typer.echo(write_page(page, code, plugins, _given_beside(context, {"page", "code"})))
        return
    chosen = code_of(plugins, code)
    question = Question(
        chosen,
        carrier,
        inside,
        bore,
        kind_with_sides(kind),
        tuple(cable or ()),
        most,
        occupied,
        length,
        bends,
        space_factor,
        spare,
        geometry=True,
    )
    check_files(draw, sheet, blanks=blanks, most=most)
    found = answer(question, plugins)
    write_files(found, chosen, draw, sheet, blanks=blanks)
    typer.echo(
        json.dumps(as_object(found, chosen), ensure_ascii=False, indent=1) if as_json else as_text(found, chosen)
    )
    raise typer.Exit(found.exit_status)


@app.command(cls=GivenOnce)
def size(
    code: Annotated[str, typer.Option(help="The code of practice; see: wayroom list codes.")] = "",
    cable: Cables = None,
    spare: Spare = "",
    kind: Annotated[str, typer.Option(help="Only of this kind: trunking, conduit, tray or ladder.")] = "",
    family: Annotated[
        str, typer.Option(help="Only families with this in their name; see: wayroom list carriers.")
    ] = "",
    length: Length = None,
    bends: Bends = None,
    space_factor: SpaceFactor = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Ask for the smallest standard carriers, of each family, that take a list of cables. Shows the arithmetic."""
    from checker.rule.plugins import code_of, load_plugins
    from checker.size import KINDS, SizeQuestion
    from checker.size import size as sized
    from checker.size_text import as_object, as_text

    plugins = load_plugins()
    chosen = code_of(plugins, code)
    kinds = {one.value: one for one in KINDS}
    if kind and kind not in kinds:
        raise InputError("--kind", f"{kind!r} is no kind of carrier", f"one of: {', '.join(kinds)}")
    question = SizeQuestion(
        chosen, tuple(cable or ()), kinds[kind] if kind else None, family, spare, length, bends, space_factor
    )
    found = sized(question, plugins)
    typer.echo(
        json.dumps(as_object(found, chosen), ensure_ascii=False, indent=1) if as_json else as_text(found, chosen)
    )
    raise typer.Exit(found.exit_status)


@app.command(cls=GivenOnce)
def draw(
    where: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WHERE... SEGMENT",
            help="IFC files of one building, or a folder or file wayroom.toml; then the carrier by GlobalId, Tag or Name.",
        ),
    ] = None,
    compartment: Annotated[int | None, typer.Option(help="Draw this compartment alone, counted from 1.")] = None,
    circuits: Annotated[Path | None, typer.Option(help="The circuit schedule, as for check.")] = None,
    code: Annotated[str | None, typer.Option(help="The code of practice; see: wayroom list codes.")] = None,
    previous: Annotated[
        Path | None,
        typer.Option(
            help="Issue notes that a waiver may name an issue of, as for check; else those in wayroom-out, if there are some."
        ),
    ] = None,
    now: Annotated[
        str | None,
        typer.Option(help="A time (ISO 8601) by which waivers hold, in place of the model's own, as for check."),
    ] = None,
    out: Annotated[Path | None, typer.Option(help="Where the drawing goes: a name ending in .svg or .png.")] = None,
    as_laid: Annotated[
        bool, typer.Option("--as-laid", help="Cables as they fall in by hand, not in the best way that is found.")
    ] = False,
    seed: Annotated[int | None, typer.Option(help="With --as-laid: another number, another disorder.")] = None,
    trials: Annotated[
        int | None, typer.Option(help="With --as-laid: lay them so often, and tell how high the piles get.")
    ] = None,
    carrier: Annotated[str, typer.Option(help="Without a model: a carrier by its key.")] = "",
    inside: Inside = "",
    bore: Bore = "",
    kind: KindWithSides = "trunking",
    cable: Annotated[
        list[str] | None, typer.Option(help="Without a model: KEY=COUNT or a size, as for fit. Again for each kind.")
    ] = None,
    length: Annotated[float | None, typer.Option(help="Length of a conduit's whole run in m, as for fit.")] = None,
    bends: Annotated[float | None, typer.Option(help="Right-angled bends in it, as for fit.")] = None,
    space_factor: Annotated[
        str | None, typer.Option(help="Without a model: a limit of your own, 40% or 0.40, as for fit.")
    ] = None,
) -> None:
    """Draw the section of a carrier to scale, with its cables and what is used of the limit: one of a model, or one without a model.

    The figures and verdicts are those of check, or of fit. Exit status: 0 drawn, whatever the verdict; 2 not drawn.
    """
    from checker.draw import DrawOptions, draw_and_write

    options = DrawOptions(tuple(where or ()), compartment, circuits, code, out, as_laid, seed, carrier, inside, bore, kind,
                          tuple(cable or ()), length, bends, space_factor, trials, previous, now)  # fmt: skip
    typer.echo(draw_and_write(options))


@app.command(cls=GivenOnce)
def room(
    places: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WHERE... FROM TO",
            help="IFC files of one building, or a folder or file wayroom.toml; then the two ends: equipment or a carrier, by GlobalId, "
            "Tag or Name.",
        ),
    ] = None,
    cable: Annotated[
        list[str] | None,
        typer.Option(
            help="Cables of the circuit: KEY=COUNT, or a size, 11.3mm=2. Again for each kind: together they are one circuit."
        ),
    ] = None,
    times: Annotated[
        int | None,
        typer.Option(help="So many such circuits are wanted; else 1, and how many go in is told in any case."),
    ] = None,
    circuits: Annotated[Path | None, typer.Option(help="The schedule of the circuits that there are.")] = None,
    code: Annotated[str | None, typer.Option(help="The code of practice; see: wayroom list codes.")] = None,
    service: Annotated[str, typer.Option(help="What the circuit is for: power, data, fire-alarm, ...")] = "",
    compartment: Annotated[str, typer.Option(help="The compartment that it lies in, by number.")] = "",
    voltage: Annotated[str, typer.Option(help="Of the circuit, in V.")] = "",
    design_current: Annotated[str, typer.Option(help="Ib of each circuit, in A; ratings need it.")] = "",
    device_rating: Annotated[str, typer.Option(help="In of each circuit, in A; ratings need it.")] = "",
    loaded_conductors: Annotated[str, typer.Option(help="2 or 3; 4 with harmonics; 0 for one without load.")] = "",
    also: Annotated[
        list[str] | None,
        typer.Option(help="Any other column of the schedule: ambient_c=35, csa_mm2=2.5. Again for each."),
    ] = None,
    avoid: Annotated[
        list[str] | None,
        typer.Option(help="Carriers that it isn't to pass, by GlobalId, tag, name or type. Again for each."),
    ] = None,
    via: Annotated[
        list[str] | None, typer.Option(help="Carriers that it is to pass, in order, named likewise.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Ask what can be added between two places of a model: whether it goes in, how many, where it is fullest, what stops the next.

    All --cable together are one circuit: h07v-u-2.5=3 is one circuit of three single cores, and 7 go in means 7 circuits of three. For
    single cables say the key alone. Every rule is asked, with what is added and without it, on the shortest way and on a few others;
    where --times is given the shortest way that takes so many is told first, else the one that takes the most. Nothing is written.
    """
    from checker.room.command import RoomOptions, places_of, run_room

    where, origin, call = places_of(places or ())
    columns = {"service": service, "compartment": compartment, "voltage_v": voltage, "design_current_a": design_current,
               "device_rating_a": device_rating, "loaded_conductors": loaded_conductors}  # fmt: skip
    options = RoomOptions(
        where,
        origin,
        call,
        tuple(cable or ()),
        times,
        circuits,
        code,
        columns,
        tuple(also or ()),
        tuple(avoid or ()),
        tuple(via or ()),
    )
    raise typer.Exit(run_room(options, as_json=as_json))


@app.command()
def compare(
    old: Annotated[
        Path,
        typer.Argument(
            metavar="OLD", help="A folder of results, or its result.json; or a model or project to check now."
        ),
    ],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="What it is compared with, likewise.")],
    out: Annotated[
        Path | None, typer.Option(help="Write compare.html, changes.csv and compare.json into this folder.")
    ] = None,
    code: Annotated[str | None, typer.Option(help="The code of practice of models that are checked now.")] = None,
    circuits: Annotated[
        list[Path] | None,
        typer.Option(
            help="The schedule of models that are checked now; twice for two models: that of OLD, that of NEW."
        ),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Compare two results: what is new, worse, better, fixed, gone or no longer known, and what changed of carriers and circuits.

    Exit status: 0 nothing is worse; 1 something is new or worse; 2 not compared; 3 nothing is worse, but less is known.
    """
    from checker.compare.command import CompareOptions, run_compare

    options = CompareOptions(old, new, code, tuple(circuits or ()), out)
    raise typer.Exit(run_compare(options, as_json=as_json))


def _given_beside(context: typer.Context, names: set[str]) -> list[str]:
    """The options that were given besides some, as they are written."""
    sources = {option.opts[0]: context.get_parameter_source(option.name or "") for option in context.command.params}
    written = {f"--{name}" for name in names}
    return [name for name, source in sources.items() if name not in written and source and source.name == "COMMANDLINE"]


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
