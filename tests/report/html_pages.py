"""What tests of the page look at, and results that are out of the ordinary."""

import dataclasses
import enum
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from lxml import html

from checker.report.html import report_html
from checker.result.cautions import CAUTIONS
from checker.result.tables import CircuitRow, RatingRow, Result
from checker.rule import Factor
from tests.report.results import carrier, compartment, small_result


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
