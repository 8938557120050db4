"""What is installed, and what it means."""

import json
import shutil
from typing import Annotated

import typer

from checker.errors import InputError


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


def explain(
    rule: Annotated[str, typer.Argument(help="The rule's id; see: wayroom list rules.")],
    code: Annotated[str | None, typer.Option(help="Show this code's limits only.")] = None,
) -> None:
    """Explain a rule: what it asks, its formula, its limits with their clauses, a worked example."""
    from checker.manual import manual_page

    width = min(shutil.get_terminal_size((100, 24)).columns, 100)
    typer.echo(manual_page(rule, code, width))


def schema() -> None:
    """Print the JSON Schema of result.json."""
    from checker.report.json_file import result_schema

    typer.echo(json.dumps(result_schema(), indent=1))
