"""The summary of a comparison in a terminal."""

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from checker.compare.sources import source_lines
from checker.compare.tables import (
    CarrierChange,
    Cause,
    CircuitChange,
    Comparison,
    FindingChange,
    FindingRow,
    Side,
)
from checker.compare.words import EXPLAINED, headline, sums
from checker.result.archive import time_told
from checker.result.provenance import document_words, is_time_given

#: So many rows are shown of each sort.
MOST_SHOWN = 12
#: Classes of findings that are listed, in this order.
LISTED = (
    FindingChange.NEW, FindingChange.WORSE, FindingChange.NEWLY_UNKNOWN, FindingChange.NOT_CHECKED, FindingChange.GONE,
    FindingChange.BETTER, FindingChange.FIXED, FindingChange.WAIVED,
)  # fmt: skip
_MOST_LETTERS = 200


def print_comparison(console: Console, comparison: Comparison, names: tuple[str, str], out: str) -> None:
    """Prints by what both differ as a whole, how many there are of each class, and the first of what is worse or less known.

    Args:
        console: Where to.
        comparison: What there is to say.
        names: What OLD and NEW were called.
        out: The folder of the files; empty where none was written.
    """
    console.print(f"[bold]{_plain(headline(comparison))}[/]")
    console.print(f"OLD: {_side(comparison.old, names[0])}\nNEW: {_side(comparison.new, names[1])}")
    for one in comparison.differences:
        console.print(f"  {'[bold]judged by other figures[/], ' if one.is_figures else ''}{_plain(one.what)}")
    console.print()
    console.print(_classes(comparison))
    for text in sums(comparison):
        console.print(_plain(text))
    _print_findings(console, comparison)
    _print_carriers(console, comparison)
    _print_circuits(console, comparison)
    _print_sources(console, comparison)
    if out:
        console.print(f"\nAll of it is in [bold]{_plain(out)}[/]: compare.html, changes.csv, compare.json")
    else:
        console.print("\nNothing was written; --out DIR writes all of it: compare.html, changes.csv, compare.json")


def _side(side: Side, name: str) -> str:
    made = f"{'as of' if is_time_given(side.created, side.files) else 'model of'} {time_told(side.created)}"
    told = (name, side.project_name or side.project_key, document_words(side.revision, side.status), side.code, made)
    return _plain(", ".join(filter(None, told)))


def _classes(comparison: Comparison) -> Table:
    counts = comparison.counts()
    table = Table(title="Findings", title_justify="left", box=None, pad_edge=False)
    table.add_column("what became of them")
    table.add_column("number", justify="right")
    by_figures = counts.by_other_figures
    if is_by_figures := any(by_figures[change] for change in FindingChange):
        table.add_column("by other figures alone", justify="right")
    table.add_column("which are")
    for change in FindingChange:
        number = counts.findings[change]
        if number:
            middle = [str(by_figures[change] or "")] if is_by_figures else []
            table.add_row(change.value, str(number), *middle, EXPLAINED[change])
    return table


def _print_findings(console: Console, comparison: Comparison) -> None:
    for change in LISTED:
        rows = [row for row in comparison.findings if row.change is change]
        if change is FindingChange.GONE:  # what passed and isn't there any more is no matter
            rows = [row for row in rows if row.verdict_old in {"fail", "waived"}]
        if rows:
            told = ", of what failed or was waived" if change is FindingChange.GONE else ""
            console.print(f"\n[bold]{change.value.capitalize()}[/]{told}:")
            for row in rows[:MOST_SHOWN]:
                console.print(f"  {_plain(_finding(row))}")
            _more(console, len(rows), "changes.csv")


def _finding(row: FindingRow) -> str:
    storey = f" ({row.storey})" if row.storey else ""
    by = {
        Cause.FIGURES: ", judged by other figures",
        Cause.WAIVER: ", by a waiver",
        Cause.BOTH: ", changed and judged by other figures",
    }
    old = f"{row.verdict_old}{f' {row.old}' if row.old else ''}" or "not judged"
    new = f"{row.verdict_new}{f' {row.new}' if row.new else ''}" or "not judged"
    what = "" if row.change in {FindingChange.NEW, FindingChange.WORSE} or not row.what else f": {_cut(row.what)}"
    return f"{row.where}{storey}, {row.rule}: {old} → {new}{by.get(row.cause, '')}{what}"


def _cut(text: str) -> str:
    return text if len(text) <= _MOST_LETTERS else f"{text[:_MOST_LETTERS].rsplit(' ', 1)[0]} …"


def _print_carriers(console: Console, comparison: Comparison) -> None:
    rows = [row for row in comparison.carriers if row.change is not CarrierChange.SAME]
    if rows:
        anew = comparison.counts().carriers_made_anew
        told = f", {anew} of them made anew with the same tag and place" if anew else ""
        console.print(f"\n[bold]Carriers[/] that changed: {len(rows)}{told}")
        for row in rows[:MOST_SHOWN]:
            size = row.size_new or row.size_old
            what = row.what or ", ".join(part for part in (row.kind, size) if part)
            console.print(f"  {row.change.value}: {_plain(row.label)}{_plain(f', {_cut(what)}' if what else '')}")
        _more(console, len(rows), "changes.csv")


def _print_circuits(console: Console, comparison: Comparison) -> None:
    rows = [row for row in comparison.circuits if row.change is not CircuitChange.SAME]
    if rows:
        console.print(f"\n[bold]Circuits[/] that changed: {len(rows)}")
        for row in rows[:MOST_SHOWN]:
            console.print(
                f"  {row.change.value}: {_plain(row.circuit)}{_plain(f', {_cut(row.what)}' if row.what else '')}"
            )
        _more(console, len(rows), "changes.csv")


def _print_sources(console: Console, comparison: Comparison) -> None:
    for which, side in (("OLD", comparison.old), ("NEW", comparison.new)):
        console.print(f"\n[bold]{which}[/] is of:")
        for line in source_lines(side):
            console.print(f"  {_plain(line)}")


def _plain(text: str) -> str:
    """A text of the data as a terminal may have it: on one line, with no signs that steer the terminal, and no markup."""
    return escape("".join(sign if sign.isprintable() else "\ufffd" for sign in text))


def _more(console: Console, number: int, file: str) -> None:
    if number > MOST_SHOWN:
        console.print(f"  … and {number - MOST_SHOWN} more in {file}")
