"""The short summary at the end of a run, which a person can act on."""

from collections import Counter

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from checker.result.accounting import count
from checker.result.tables import CarrierRow, FindingRow, Result

WORST_SHOWN = 10
REASONS_SHOWN = 6


def print_summary(console: Console, result: Result, out: str) -> None:
    """Prints what was read, what fails, what isn't known and why, under which code, and where the files are."""
    counts = count(result)
    console.print(
        f"[bold]{escape(result.project_name)}[/], checked against [bold]{escape(result.code)}[/]: {escape(result.code_title)}"
    )
    console.print(
        f"Carriers: {counts.carriers_read} read = {counts.carriers_checked} checked + {counts.carriers_unknown} unknown."
        f" Circuits: {counts.circuits_read} read = {counts.circuits_routed} routed + {counts.circuits_unrouted} not routed"
        + (f" ({counts.circuits_removed} of them removed)." if counts.circuits_removed else ".")
    )
    console.print(
        f"Findings: {counts.findings_fail} fail, {counts.findings_unknown} unknown, {counts.findings_pass} pass."
        f" Issue notes: {counts.topics}. Problems listed: {counts.problems}."
    )
    carriers = {row.key: row for row in result.carriers}
    failing = sorted((finding for finding in result.findings if finding.verdict == "fail"), key=_worst_first)
    if failing:
        console.print()
        console.print(_table(failing, carriers))
        if len(failing) > WORST_SHOWN:
            console.print(f"… and {len(failing) - WORST_SHOWN} more in failing.csv")
    unknown = [finding for finding in result.findings if finding.verdict == "unknown"]
    if unknown:
        console.print("\n[bold]Unknown[/], and why:")
        for reason, times in Counter(finding.reason for finding in unknown).most_common(REASONS_SHOWN):
            console.print(f"  {times} × {escape(reason)}")
    unrouted = [row for row in result.circuits if not row.is_routed and row.state != "removed"]
    if unrouted:
        console.print("\n[bold]Not routed[/]:")
        for row in unrouted[:REASONS_SHOWN]:
            console.print(f"  {escape(row.circuit)}: {escape(row.reason)}")
    console.print(
        f"\nResults are in [bold]{escape(out)}[/]: failing.csv, issues.bcf, segments.csv, routes.csv, problems.csv, result.json"
    )
    console.print(f"[italic]{result.cautions[0]} {result.cautions[-1]}[/]")


def _worst_first(finding: FindingRow) -> tuple[float, str, tuple[str, ...]]:
    use = finding.value / finding.limit if finding.value is not None and finding.limit else float("inf")
    return (-use, finding.rule, finding.carriers)


def _table(failing: list[FindingRow], carriers: dict[str, CarrierRow]) -> Table:
    table = Table(title="Failing, worst first (length/compartment)", title_justify="left", box=None, pad_edge=False)
    for name in ("length", "storey", "rule", "found", "limit", "basis"):
        table.add_column(name, justify="right" if name in {"found", "limit"} else "left", overflow="fold")
    for finding in failing[:WORST_SHOWN]:
        row = carriers[finding.carriers[0]]
        found = f"{100 * finding.value:.1f} %" if finding.value is not None else "together"
        limit = f"{100 * finding.limit:g} %" if finding.limit is not None else "apart"
        length = f"{row.place.label}/{finding.compartment}" if finding.compartment is not None else row.place.label
        table.add_row(escape(length), escape(row.place.storey), finding.rule, found, limit, finding.basis)
    return table
