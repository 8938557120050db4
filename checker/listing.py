"""What is installed, as rows for lists."""

from collections.abc import Callable
from typing import Any

from checker.manual import SUBJECT_WORDS, differences_in_words
from checker.rule.limits import figures_of
from checker.rule.plugins import load_plugins

Rows = list[dict[str, Any]]


def _codes() -> Rows:
    plugins = load_plugins()
    return [
        {"key": code.key, "title": code.title, "edition": code.edition, "extends": code.base.key if code.base else "",
         "differs": differences_in_words(code), "rules": list(code.limits), "note": code.note, "source": code.edition,
         "distribution": code.distribution}
        for code in plugins.codes.values()
    ]  # fmt: skip


def _rules() -> Rows:
    plugins = load_plugins()
    return [
        {"key": rule.id, "title": rule.title, "kinds": sorted(kind.value for kind in rule.kinds), "about": SUBJECT_WORDS[rule.subject],
         "limits": figures_of(rule.limits), "codes": [code.key for code in plugins.codes.values() if rule.id in code.limits],
         "source": f"distribution {rule.distribution}", "distribution": rule.distribution}
        for rule in plugins.rules.values()
    ]  # fmt: skip


def _carriers() -> Rows:
    return [
        {"key": item.key, "kind": item.kind, "family": item.family, "trade_size": item.trade_size, "width_mm": item.width_mm,
         "height_mm": item.height_mm, "wall_mm": item.wall_mm, "inside_diameter_mm": item.inside_diameter_mm,
         "usable_depth_mm": item.usable_depth_mm, "perforated": item.perforated, "codes": list(item.codes), "source": item.source}
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
    "extends",
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
