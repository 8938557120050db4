"""What is asked of models: checked, compared, what room there is."""

from pathlib import Path
from typing import Annotated

import typer


def check(
    where: Annotated[
        list[Path],
        typer.Argument(metavar="WHERE...", help="IFC files of one building, or a folder or file wayroom.toml."),
    ],
    circuits: Annotated[
        Path | None,
        typer.Option(help="The circuit schedule, a text file (.csv, .tsv, .txt) or a workbook (.xlsx, .xlsm)."),
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
    """Check a model: every compartment and every circuit by every rule of a code, into CSV, JSON, a page and issue notes.

    Exit status: 0 everything passes or is waived; 1 something fails; 2 not checked; 3 nothing fails, but not all is known.
    """
    from checker.run import RunOptions, run

    options = RunOptions(tuple(where), circuits, code, out, previous, fresh, bcf, now, annotate, reopen)
    raise typer.Exit(run(options, as_json=as_json))


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

    All --cable together are one circuit: h07v-u-2.5=3 is one circuit of three single cores, and 7 go in means 7 circuits of three.
    For single cables say the key alone.

    Every rule is asked, with what is added and without it, on the shortest way and on a few others; nothing is written.
    Where --times is given the shortest way that takes so many is told first, else the one that takes the most.
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
