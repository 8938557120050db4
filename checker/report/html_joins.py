"""How the lengths were found to belong together."""

from collections import Counter

from checker.report.html_markup import Html, join, tag
from checker.report.html_tables import plain_table
from checker.result.tables import Result


def joins(result: Result) -> Html:
    """How many joins there are by each way of finding them, with the widest gap."""
    if not result.joins:
        return tag("p", "No two elements are joined, so no circuit can be led from one length to another.")
    numbers = Counter(row.found_by for row in result.joins)
    rows = []
    for way, number in sorted(numbers.items(), key=lambda item: (-item[1], item[0])):
        gaps = [row.gap_mm for row in result.joins if row.found_by == way and row.gap_mm is not None]
        rows.append((way, str(number), f"{max(gaps):.1f}" if gaps else "not known"))
    intro = tag(
        "p", f"{len(result.joins)} places where two of the lengths, fittings and equipment belong together. ",
        "What isn't by connected ports was concluded from where elements lie.",
    )  # fmt: skip
    return join([intro, plain_table("Joins, by how they were found", ("Found by", "How many", "Widest gap, mm"), rows)])
