"""What is installed, as rows for lists, and a rule's page of the manual."""

import re
import textwrap
from collections.abc import Callable
from typing import Any

from checker.errors import InputError
from checker.rule.limits import Limit, Table
from checker.rule.plugins import load_plugins

Rows = list[dict[str, Any]]


def _codes() -> Rows:
    return [
        {"key": code.key, "title": code.title, "edition": code.edition, "rules": list(code.limits), "note": code.note,
         "source": code.edition, "distribution": code.distribution}
        for code in load_plugins().codes.values()
    ]  # fmt: skip


def _rules() -> Rows:
    plugins = load_plugins()
    return [
        {"key": rule.id, "title": rule.title, "kinds": sorted(kind.value for kind in rule.kinds),
         "codes": [code.key for code in plugins.codes.values() if rule.id in code.limits],
         "source": f"distribution {rule.distribution}", "distribution": rule.distribution}
        for rule in plugins.rules.values()
    ]  # fmt: skip


def _carriers() -> Rows:
    return [
        {"key": item.key, "kind": item.kind, "family": item.family, "trade_size": item.trade_size, "width_mm": item.width_mm,
         "height_mm": item.height_mm, "wall_mm": item.wall_mm, "inside_diameter_mm": item.inside_diameter_mm, "source": item.source}
        for item in load_plugins().carriers.values()
    ]  # fmt: skip


def _cables() -> Rows:
    return [
        {"key": item.key, "family": item.family, "csa_mm2": item.csa_mm2, "awg_kcmil": item.awg_kcmil, "cores": item.cores,
         "conductor": item.conductor, "insulation": item.insulation,
         "diameter_mm": item.diameter_mm, "width_mm": item.width_mm, "height_mm": item.height_mm, "source": item.source}
        for item in load_plugins().cables.values()
    ]  # fmt: skip


#: What a terminal has room for; a pipe and ``--json`` have all.
ON_SCREEN = (
    "key",
    "title",
    "family",
    "trade_size",
    "width_mm",
    "height_mm",
    "inside_diameter_mm",
    "csa_mm2",
    "awg_kcmil",
    "diameter_mm",
    "distribution",
)

LISTS: dict[str, Callable[[], Rows]] = {"carriers": _carriers, "cables": _cables, "codes": _codes, "rules": _rules}


def print_rows(rows: Rows) -> None:
    """Prints rows as a table; in a pipe as lines of ``key``, tab, the rest."""
    import sys

    from rich.console import Console
    from rich.table import Table as RichTable

    def cell(value: object) -> str:
        if isinstance(value, list):
            return ", ".join(str(item) for item in value)
        return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)

    columns = [name for name in (rows[0] if rows else {}) if any(row[name] not in (None, "", []) for row in rows)]
    if not sys.stdout.isatty():
        print("\t".join(columns))  # noqa: T201 - this is the output
        for row in rows:
            print("\t".join(cell(row[name]) for name in columns))  # noqa: T201
        return
    table = RichTable(box=None, pad_edge=False)
    columns = [name for name in columns if name in ON_SCREEN]
    for name in columns:
        table.add_column(name, overflow="fold", no_wrap=name == "key")
    for row in rows:
        table.add_row(*(cell(row[name]) for name in columns))
    Console().print(table)


def manual_page(rule_id: str, code_key: str | None, width: int = 100) -> str:
    """A rule's page, and its limits under one code or all, in lines of a width.

    Raises:
        InputError: There is no such rule or code.
    """
    plugins = load_plugins()
    if rule_id not in plugins.rules:
        raise InputError(rule_id, "there is no such rule", f"one of: {', '.join(plugins.rules)}")
    if code_key is not None and code_key not in plugins.codes:
        raise InputError("--code", f"there is no code {code_key!r}", f"one of: {', '.join(plugins.codes)}")
    running = [key for key, code in plugins.codes.items() if rule_id in code.limits]
    if code_key is not None and code_key not in running:
        raise InputError(
            "--code", f"{code_key} doesn't run {rule_id}", f"it runs under: {', '.join(running) or 'none'}"
        )
    rule = plugins.rules[rule_id]
    lines = [f"{rule.id}: {rule.title}", "", _reflowed(rule.manual, width), ""]
    for code in plugins.codes.values():
        if rule_id not in code.limits or code_key not in {None, code.key}:
            continue
        lines.append(f"Limits under {code.key}, {code.title}:")
        for name, limit in code.limits[rule_id]:
            if isinstance(limit, Limit):
                lines.append(
                    f"  {name} = {limit.value:g}  ({limit.basis}; {limit.cited}; confidence: {limit.confidence})"
                )
            elif isinstance(limit, Table):
                lines.append(f"  {name}: table {limit.name}, {len(limit.rows)} rows, each with its source")
            else:
                lines.append(f"  {name}: this code has no figure")
    return "\n".join(lines)


def _reflowed(text: str, width: int) -> str:
    """A docstring for a terminal: paragraphs and points in lines of a width, formulas as they stand, no marks of code."""
    blocks = []
    for block in text.strip().replace("**", "").replace("`", "").split("\n\n"):
        if block.startswith("    "):
            blocks.append(block)
            continue
        points = re.split(r"\n(?=\* |\d\. )", block)
        hanging = "  " if len(points) > 1 or block.startswith("* ") else ""
        blocks.append(
            "\n".join(textwrap.fill(" ".join(point.split()), width, subsequent_indent=hanging) for point in points)
        )
    return "\n\n".join(blocks)
