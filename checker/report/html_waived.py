"""What fails the code and is waived, by whom and until when; and every waiver of findings that the project has."""

from checker.model.texts import natural
from checker.report.html_markup import Html, join, name, names, tag
from checker.report.html_places import NOT_GIVEN, Places, many
from checker.report.html_tables import plain_table, told
from checker.result.gravity import gravity
from checker.result.tables import FindingRow, Result
from checker.result.waiver_tables import WaiverRow


def waived(result: Result, places: Places) -> Html:
    """A table of what is waived, the gravest first, and one of the waivers; nothing where there is nothing of it."""
    rows = sorted((row for row in result.findings if row.verdict == "waived"), key=gravity)
    parts = []
    if rows:
        heads = (
            "Length / compartment, or circuit",
            "Rule",
            "Found against the code's limit",
            "Why, and by whom",
            "Until",
            "Circuits",
        )
        caption = "Waived: fails the code, and doesn't count as a fail"
        parts += [
            tag("h3", f"Waived ({len(rows)})"),
            plain_table(caption, heads, [_row(row, places) for row in rows]),
        ]
    if result.waivers:
        columns = ("Waiver of", "By", "Why", "Until", "Up to", "How it stands", "Waives")
        ordered = sorted(result.waivers, key=lambda row: (row.state == "holds", natural(row.names), row.who, row.until))
        parts += [
            tag("h3", f"Waivers of findings ({len(ordered)})"),
            plain_table(
                "Waivers of findings, those that need seeing to first", columns, [_waiver(row) for row in ordered]
            ),
        ]
    return join(parts)


def _row(row: FindingRow, places: Places) -> tuple[str, ...]:
    lengths = many([places.label(key, row.compartment) for key in row.carriers])
    subject = join(["circuit ", names(row.circuits), " in ", lengths]) if row.is_of_circuit else name(row.at) or lengths
    source = join([row.source or NOT_GIVEN, f" ({row.basis})" if row.basis else ""])
    why = join([row.reason, tag("p", source, class_="muted")])
    until = names(dict.fromkeys(one.until for one in row.waived_by)) or NOT_GIVEN
    return subject or NOT_GIVEN, row.rule, told(row), why, until, names(row.circuits) or "none named"


def _waiver(row: WaiverRow) -> tuple[str, ...]:
    stands = join([tag("strong", row.state), ": ", row.reason]) if row.reason else Html(row.state)
    number = len(row.findings)
    return (
        name(row.names),
        name(row.who),
        row.why,
        name(row.until),
        "whatever the figure" if row.up_to is None else f"{row.up_to:.10g}",
        stands,
        f"{number} finding{'' if number == 1 else 's'}",
    )
