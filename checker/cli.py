"""The command ``wayroom``: its commands, what ends them, and exit codes."""

import os
import sys
from collections.abc import Callable
from typing import Annotated, Any

import typer

from checker.commands import lists, models, sections
from checker.errors import PluginError, WayroomError
from checker.given_once import GivenOnce

REPORT = "nothing was written; please report it with the input, and with what WAYROOM_TRACEBACK=1 shows"

WHAT = "Checks cable carriers in IFC models: which circuits run where, whether they fit, carry their load, and are kept apart."

app = typer.Typer(
    name="wayroom",
    help=WHAT,
    epilog="Exit status, where a command says no other: 0 all passes or is waived, 1 something fails, 2 not checked, 3 nothing fails but "
    "something is unknown.",
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


app.command(cls=GivenOnce)(models.check)
app.command(cls=GivenOnce)(sections.fit)
app.command(cls=GivenOnce)(sections.size)
app.command(cls=GivenOnce)(sections.draw)
app.command(cls=GivenOnce)(models.room)
app.command(cls=GivenOnce)(models.compare)
app.command("list")(lists.list_)
app.command(cls=GivenOnce)(lists.explain)
app.command()(lists.schema)


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
