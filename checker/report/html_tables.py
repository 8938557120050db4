"""Tables that the page's script makes sortable and filterable. Without a script they are there whole."""

from collections.abc import Sequence
from dataclasses import dataclass

from checker.report.html_markup import Html, join, name, safe, tag
from checker.result.notes import amounts, found_and_wanted
from checker.result.tables import FindingRow

#: Rows that are laid out at first; the script shows the others on request.
PART = 200

#: The worst first.
VERDICTS = ("fail", "unknown", "waived", "pass")

_BAR_PX = 96.0
#: What the whole length of a bar stands for, as a ratio.
_BAR_FULL = 1.25


@dataclass(frozen=True, slots=True)
class Column:
    """A column. ``by`` is how it is sorted: ``text`` or ``number``. ``choice`` is the label of its filter; empty: it has none.

    ``wide`` asks for room for sentences.
    """

    title: str
    by: str = "text"
    choice: str = ""
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell: what it shows, what it is sorted by (None: by what it shows; empty: at the end) and its word in the filter.

    ``figure``: it stands to the right, so that its digits stand under those of others.
    """

    shown: str
    sort: str | None = None
    word: str | None = None
    figure: bool = False


def live_table(key: str, caption: str, columns: Sequence[Column], rows: Sequence[Sequence[Cell]]) -> Html:
    """A table with its filters, its count and its buttons. The first cell of a row is the row's header.

    Args:
        key: The beginning of the ids in it; one per page.
        caption: What it holds.
        columns: Of every row, in order.
        rows: In the order in which they are shown at first.
    """
    heads = (
        tag("th", column.title, scope="col", data_by=column.by, class_="wide" if column.wide else None)
        for column in columns
    )
    bodies = [join(map(_row, rows[:PART])), join(map(_row, rows[PART:]))]
    parts = [tag("tbody", body, class_="rest" if place else None) for place, body in enumerate(bodies) if body]
    table = tag("table", tag("caption", caption), tag("thead", tag("tr", *heads)), *parts, id=f"{key}-table")
    return tag(
        "div",
        _controls(key, caption, columns, rows),
        tag("p", _rows(len(rows)), class_="count", role="status"),
        tag("div", table, class_="scroll", tabindex=0, role="region", aria_label=caption),
        tag(
            "p",
            tag("button", f"Show {PART} more", type="button", data_act="more"),
            " ",
            tag("button", "Show all", type="button", data_act="all"),
            class_="further",
            hidden=True,
        ),
        class_="live",
        data_part=PART,
    )


def _rows(count: int) -> str:
    return f"{count} row{'' if count == 1 else 's'}."


def _row(cells: Sequence[Cell]) -> Html:
    shown = [
        tag(
            "td" if place else "th",
            cell.shown,
            scope=None if place else "row",
            data_v=cell.sort,
            data_k=cell.word,
            class_="figure" if cell.figure else None,
        )
        for place, cell in enumerate(cells)
    ]
    return Html(f"{tag('tr', *shown)}\n")


def _controls(key: str, caption: str, columns: Sequence[Column], rows: Sequence[Sequence[Cell]]) -> Html:
    controls = [tag("label", "Text in a row ", tag("input", type="search", id=f"{key}-text", autocomplete="off"))]
    for place, column in enumerate(columns):
        if column.choice:
            words = {word for row in rows if (word := row[place].word) is not None}
            options = [tag("option", word, value=word) for word in sorted(words, key=_order)]
            select = tag(
                "select", tag("option", "all", value=""), *options, id=f"{key}-{place}", data_column=place,
                data_label=column.choice.lower(),
            )  # fmt: skip
            controls.append(tag("label", f"{column.choice} ", select))
    controls.append(
        tag("label", tag("input", type="checkbox", id=f"{key}-more"), " Small print in each row", class_="box")
    )
    controls.append(tag("button", "Clear filters", type="button", data_act="clear"))
    return tag("div", *controls, class_="controls", role="group", aria_label=f"Filter: {caption}", hidden=True)


def _order(word: str) -> tuple[int, str]:
    return VERDICTS.index(word) if word in VERDICTS else len(VERDICTS), word


def verdict(word: str) -> Html:
    """A verdict, told by its word; the frame only helps the eye."""
    return tag("span", word, class_=f"verdict {word}" if word in VERDICTS else "verdict")


def verdict_cell(word: str) -> Cell:
    """A cell with a verdict, which sorts the worst first."""
    return Cell(verdict(word), str(_order(word)[0]), word)


def number_cell(value: float | None, text: str | None = None) -> Cell:
    """A cell with a number; ``text`` is how it is shown, else one that isn't whole by its type has one decimal."""
    if value is None:
        return Cell(text or "not known", "", figure=True)
    return Cell(text or (str(value) if isinstance(value, int) else f"{value:.1f}"), sort_key(value), figure=True)


def sort_key(value: float | None) -> str:
    """A number for the script to sort by; empty where there is none."""
    return "" if value is None else repr(round(float(value), 6) + 0.0)


def told(row: FindingRow) -> Html:
    """What a finding found against what is wanted, in the rule's own words where it gave some."""
    if not (row.found or row.wanted):
        return against(row.value, row.limit, row.unit, row.measure, is_floor=row.is_floor, at_least=row.at_least)
    found, wanted = found_and_wanted(row)
    word = "" if row.wanted or not wanted else "wanted " if row.is_floor else "limit "
    words = join(
        [tag("strong", name(found)) if found else tag("span", "no figure"), f", {word}" if wanted else "", name(wanted)]
    )
    drawn = bar(row.value, row.limit, is_floor=row.is_floor) if row.unit == "ratio" and row.value is not None else ""
    return tag("span", drawn, tag("span", words), class_="against")


def against(
    value: float | None, limit: float | None, unit: str, measure: str, *, is_floor: bool = False, at_least: bool = False
) -> Html:
    """What was found against what is allowed, or wanted at least: a bar where both are ratios, and the same in words."""
    found, allowed = amounts(value, limit, unit)
    of = {"area": "of the area", "term": "of the conduit's term", "width": "of the width"}.get(measure, "")
    words = [
        "at least " if at_least and found else "",
        tag("strong", name(found)) if found else tag("span", "no figure"),
        f" {of}" if found and of else "",
        join([", wanted at least " if is_floor else ", limit ", name(allowed)])
        if allowed
        else ", no limit in the code"
        if found
        else "",
    ]
    drawn = bar(value, limit, is_floor=is_floor) if unit == "ratio" and value is not None else ""
    return tag("span", drawn, tag("span", *words), class_="against")


def bar(value: float, limit: float | None, *, is_floor: bool = False) -> Html:
    """A ratio as a bar with a mark at the limit; hatched where it is over, or under the least, so that it reads in grey too."""

    def place(ratio: float) -> str:
        return f"{_BAR_PX * min(max(ratio / _BAR_FULL, 0.0), 1.0):.1f}"

    over = limit is not None and (value < limit if is_floor else value > limit)
    parts = [
        tag("rect", class_="frame", x="0.5", y="0.5", width=f"{_BAR_PX - 1.0:.0f}", height="11"),
        tag("rect", class_="over" if over else "used", y="1", x="0", width=place(value), height="10"),
    ]
    if limit is not None:
        parts.append(tag("path", class_="limit", d=f"M{place(limit)} 0V12"))
    size = f"{_BAR_PX:.0f}"
    return tag("svg", *parts, class_="bar", width=size, height=12, viewBox=f"0 0 {size} 12", aria_hidden="true")


def small(*parts: str) -> Html:
    """Small print of a row, which the script hides until it is asked for."""
    return tag("span", join(safe(part) for part in parts), class_="small")


def plain_table(caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Html:
    """A table without controls, whose first column heads its rows."""
    top = tag("tr", *(tag("th", head, scope="col") for head in heads))
    body = [tag("tr", tag("th", row[0], scope="row"), *(tag("td", cell) for cell in row[1:])) for row in rows]
    table = tag("table", tag("caption", caption), tag("thead", top), tag("tbody", *body))
    return tag("div", table, class_="scroll", tabindex=0, role="region", aria_label=caption)
