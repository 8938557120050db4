"""What is asked of one carrier and its cables: whether they fit, what size they need, how they lie."""

import json
from pathlib import Path
from typing import Annotated

import typer

from checker.errors import InputError

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


def _given_beside(context: typer.Context, names: set[str]) -> list[str]:
    """The options that were given besides some, as they are written."""
    sources = {option.opts[0]: context.get_parameter_source(option.name or "") for option in context.command.params}
    written = {f"--{name}" for name in names}
    return [name for name, source in sources.items() if name not in written and source and source.name == "COMMANDLINE"]
