"""What the page's script works with on plans: the fields, and of each circuit its way, where it breaks, and both in words."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from checker.model.texts import natural
from checker.report.html_gaps import gap_reasons
from checker.report.html_markup import Html, tag
from checker.report.html_places import Places
from checker.report.plan_sheets import Sheets
from checker.result.network_tables import BreakRow
from checker.result.tables import CircuitRow, Result

NO_STOREY = "no storey"
#: From so many circuits on, a field finds one among them.
MANY_CIRCUITS = 20
_SIZES = (("as wide as the page", ""), ("twice as wide", "twice"), ("four times as wide", "four-times"))


def tools(result: Result, made: Sheets, places: Places) -> Html:
    """The fields. Without the script none of this shows."""
    storeys = [
        tag("option", plan.storey or NO_STOREY, value=f"plan-{number}")
        for number, plan in enumerate(made.plans, start=1)
    ]
    circuits = sorted(result.circuits, key=lambda row: natural(row.circuit))
    options = _options(circuits, result, made, places)
    search = tag("label", "Find a circuit ", tag("input", type="search", id="plan-find", autocomplete="off"))
    return tag(
        "fieldset",
        tag("legend", "What the plans show"),
        search if len(circuits) >= MANY_CIRCUITS else "",
        tag("label", "Show the way of a circuit ", tag("select", tag("option", "none", value=""), *options, id="plan-circuit"))
        if circuits
        else "",
        tag("label", "Storey ", tag("select", tag("option", "all", value=""), *storeys, id="plan-storey")),
        tag(
            "label", "Size ",
            tag("select", *(tag("option", word, value=value) for word, value in _SIZES), id="plan-size"),
        ),
        *(
            tag("label", tag("input", type="checkbox", checked=True, data_shows=key), f" {word}", class_="box")
            for word, key in (("Names", "labels"), ("Joins", "joins"))
        ),
        class_="tools",
        hidden=True,
    )  # fmt: skip


def _options(circuits: Sequence[CircuitRow], result: Result, made: Sheets, places: Places) -> list[Html]:
    """An option for each circuit, with its number and those of its carriers and breaks."""
    breaks: dict[str, list[BreakRow]] = defaultdict(list)
    for row in sorted(made.break_numbers, key=made.break_numbers.__getitem__):
        for mark in row.circuits:
            breaks[mark].append(row)
    gaps = gap_reasons(result)
    return [
        tag(
            "option",
            row.circuit,
            data_way=_numbers(made.numbers[key] for key in row.carriers),
            data_breaks=_numbers(made.break_numbers[one] for one in breaks[row.circuit]) or None,
            data_number=made.circuit_numbers[row.circuit],
            data_said=" ".join([said(row, gaps), *(_broken(one, places) for one in breaks[row.circuit])]),
        )
        for row in circuits
    ]


def _numbers(numbers: Iterable[int]) -> str:
    return " ".join(map(str, numbers))


def said(row: CircuitRow, gaps: Mapping[str, str]) -> str:
    """The way of a circuit in words, without its carriers. ``gaps`` says of those whose way has one what is known of it."""
    ends = f"from {row.origin or 'an origin not given'} to {', '.join(row.calls) or 'an end not given'}"
    if not row.is_routed:
        return f"{ends}: no way is known{f' ({row.reason})' if row.reason else ''}."
    length = "length not known" if row.length_m is None else f"{row.length_m:.2f} m long"
    drops = " + ".join("not known" if drop is None else f"{drop:.2f}" for drop in row.drops_m)
    by = f", {length}, drops of {drops} m" if drops else f", {length}"
    gap = f" Its way has a gap: {gaps[row.circuit]}." if row.circuit in gaps else ""
    return f"{ends}; routed by {row.routed_by}{f' ({row.reason})' if row.reason else ''}{by}.{gap}"


def gap_mm(row: BreakRow) -> str:
    """How wide a break is."""
    return f"{row.gap_mm:.0f} mm" if math.isfinite(row.gap_mm) else "not known"


def _broken(row: BreakRow, places: Places) -> str:
    return f"The network breaks between {places.label(row.one)} and {places.label(row.other)}: gap {gap_mm(row)}."


def passed_names(result: Result, made: Sheets, places: Places) -> Html:
    """The names of all carriers that circuits pass, by number, for the script; those that aren't drawn are among them."""
    passed = sorted({(made.numbers[key], key) for row in result.circuits for key in row.carriers})
    return tag("template", *(tag("data", places.label(key), value=number) for number, key in passed), id="plan-names")
