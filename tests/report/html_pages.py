"""What tests of the page look at, and results that are out of the ordinary."""

import dataclasses
import enum
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lxml import html

from checker.report.html import report_html
from checker.result.cautions import CAUTIONS
from checker.result.network_tables import BreakRow, JoinRow, OpenEndRow, TakeOffRow
from checker.result.tables import CarrierRow, CircuitRow, RatingRow, Result
from checker.rule import Factor
from tests.report.results import box_mm, carrier, compartment, small_result


def factor(name: str, value: float | None, *, assumed: bool = False) -> Factor:
    return Factor(name, value, "a guide, table of factors", assumed)


def rating(**changes: Any) -> RatingRow:
    row = RatingRow(
        circuit="C1",
        rule="grouping.rating",
        carrier="",
        cable="single 2.5",
        csa_mm2=2.5,
        base_a=27.0,
        base_source="a guide, table of ratings",
        factors=(factor("Ca", 0.94), factor("Cg", 0.65, assumed=True)),
        capacity_a=27.0 * 0.94 * 0.65,
        required_a=16.0,
        required_why="the protective device's rating",
        verdict="pass",
        reason="",
        assumptions=("all cables are loaded",),
    )
    return replace(row, **changes)


def circuit(mark: str, **changes: Any) -> CircuitRow:
    row = CircuitRow(mark, "DB-1", ("S-1",), "power", "new", "shortest way", (), 12.5, (0.5, 0.25), "")
    return replace(row, **changes)


def large_result(carriers: int) -> Result:
    """Carriers T-001, T-002 … with a compartment each; every hundredth is too full, every fiftieth of the others isn't known."""
    rows = tuple(carrier(number, None, "tray" if number % 2 else "trunking") for number in range(1, carriers + 1))
    fills = [0.5 if n % 100 == 0 else None if n % 50 == 0 else n % 40 / 100 for n in range(1, carriers + 1)]
    parts = tuple(compartment(row, 1, (97.6, 47.6), fill) for row, fill in zip(rows, fills, strict=True))
    result = small_result()
    return replace(result, carriers=rows, compartments=parts, findings=(), topics=(), cautions=CAUTIONS)


def on_storey(row: CarrierRow, storey: str, verdict: str = "pass") -> CarrierRow:
    return replace(row, place=replace(row.place, storey=storey), worst_verdict=verdict)


def two_storeys() -> Result:
    """A building of 10 m by 5 m. Below: T-001 and T-002 in an L, from whose corner T-003 goes up; above: T-004.

    C1 goes through T-001 and T-002, C2 through T-001, T-003 and T-004, and C3 has no way.
    """
    rows = (
        on_storey(carrier(1, box_mm((0.0, 0.0, 0.0), (10_000.0, 0.0, 0.0), 100.0, 50.0)), "Ground"),
        on_storey(
            carrier(2, box_mm((10_000.0, 100.0, 0.0), (0.0, 4900.0, 0.0), 100.0, 50.0), "tray"), "Ground", "fail"
        ),
        on_storey(
            carrier(3, box_mm((5000.0, 1000.0, 0.0), (0.0, 0.0, 3000.0), 25.0, 25.0), "conduit"), "Ground", "unknown"
        ),
        on_storey(carrier(4, box_mm((5000.0, 2000.0, 3000.0), (4000.0, 0.0, 0.0), 300.0, 50.0), "ladder"), "First"),
    )
    one, two, three, four = (row.key for row in rows)
    ways = (circuit("C1", carriers=(one, two)), circuit("C2", carriers=(one, three, four), drops_m=(0.5, None)),
            circuit("C3", routed_by="", carriers=(), length_m=None, drops_m=(), reason="nothing leads there"))  # fmt: skip
    joins = (JoinRow(one, two, "ends that meet", 3.0, (9950.0, 50.0, 25.0)), JoinRow(one, "a tee", "an end in a fitting", 0.0),
             JoinRow(three, four, "connected ports", 0.0, (5012.5, 1012.5, 3000.0)))  # fmt: skip
    breaks = (BreakRow(three, four, 987.5, (5012.5, 1012.5, 3000.0), (5012.5, 2000.0, 3020.0), 3, 1, ("C3",)),)
    cables = (
        TakeOffRow("C1", 0, "h07v-u-4", "DB-1", "S-1", 3, 12.5, 0.75, 13.25, (one, two), state="new"),
        TakeOffRow("C3", 0, "h07v-u-4", "DB-1", "S-3", 3, None, None, None, (), "nothing leads there", "new"),
        TakeOffRow("C2", 0, "h07v-r-10", "DB-1", "S-2", 2, 20.0, 1.0, 21.0, (one, three, four), state="existing"),
        TakeOffRow("C2", 1, "h07v-r-10", "S-2", "S-4", 2, 4.0, 0.5, 4.5, (four,), state="existing"),
    )
    return replace(
        small_result(), carriers=rows, compartments=(), findings=(), topics=(), circuits=ways, joins=joins, breaks=breaks,
        open_ends=(OpenEndRow(two, "end", (9950.0, 5000.0, 30.0)),), take_off=cables,
    )  # fmt: skip


def mapped(value: Any, change: Callable[[str], str], kept: frozenset[str] = frozenset()) -> Any:
    """A result, or part of one, with every text in it changed, except in fields of the names that are kept."""
    if isinstance(value, enum.Enum):  # a word of ours, and none of the data's
        return value
    if isinstance(value, str):
        return change(value)
    if isinstance(value, tuple):
        return tuple(mapped(one, change, kept) for one in value)
    if isinstance(value, dict):
        return {change(key): change(text) for key, text in value.items()}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in dataclasses.fields(value) if field.name not in kept]
        return replace(value, **{name: mapped(getattr(value, name), change, kept) for name in names})
    return value


def page(result: Result) -> html.HtmlElement:
    """The page as a tree."""
    return html.document_fromstring(report_html(result).decode())


def said(element: html.HtmlElement) -> str:
    """The words of an element, with single spaces."""
    return " ".join(element.text_content().split())


def rows_of(tree: html.HtmlElement, key: str) -> list[list[str]]:
    """The cells of a table by its id, or of the first table of a section."""
    table = tree.xpath(f"//table[@id='{key}-table'] | //section[@id='{key}']//table")[0]
    return [[said(cell) for cell in row] for row in table.xpath("./tbody/tr")]
