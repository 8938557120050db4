"""What fails the code and is waived, and by whom."""

from checker.report.html_markup import Html, join, name, names, tag
from checker.report.html_places import NOT_GIVEN, Places, many
from checker.report.html_tables import plain_table, told
from checker.result.gravity import gravity
from checker.result.tables import FindingRow, Result


def waived(result: Result, places: Places) -> Html:
    """A table of what is waived, the gravest first; nothing where nothing is."""
    rows = sorted((row for row in result.findings if row.verdict == "waived"), key=gravity)
    if not rows:
        return Html("")
    heads = (
        "Length / compartment, or circuit",
        "Rule",
        "Found against the code's limit",
        "Why, and by whom",
        "Circuits",
    )
    table = plain_table(
        "Waived: fails the code, and doesn't count as a fail", heads, [_row(row, places) for row in rows]
    )
    return join([tag("h3", f"Waived ({len(rows)})"), table])


def _row(row: FindingRow, places: Places) -> tuple[str, ...]:
    lengths = many([places.label(key, row.compartment) for key in row.carriers])
    subject = join(["circuit ", names(row.circuits), " in ", lengths]) if row.is_of_circuit else name(row.at) or lengths
    source = join([row.source or NOT_GIVEN, f" ({row.basis})" if row.basis else ""])
    why = join([row.reason, tag("p", source, class_="muted")])
    return subject or NOT_GIVEN, row.rule, told(row), why, names(row.circuits) or "none named"
