"""The network as a picture: a plan of each storey, what its signs mean, and the way of a circuit through all of them."""

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from checker.model.texts import listed, natural
from checker.report.html_markup import Html, join, name, tag
from checker.report.html_places import Places
from checker.report.html_plan_signs import definitions, kind_word, legend
from checker.report.plan_labels import LETTER_PX, Named, labels
from checker.report.plan_marks import (
    BREAK_END,
    ENTRY,
    JOINS,
    KINDS,
    OPEN_END,
    OTHER_JOIN,
    VERDICTS,
    fill_of,
    kind_of,
    verdict_of,
)
from checker.report.plan_paper import MARGIN_PX, WIDTH_PX, Paper, Point, line, path, spot, written
from checker.report.plan_sheets import Drawn, Plan, Sheets, counted, sheets
from checker.result.network_tables import BreakRow, OpenEndRow
from checker.result.tables import CircuitRow, Result

NO_STOREY = "no storey"
#: From so many circuits on, a field finds one among them.
MANY_CIRCUITS = 20
_BAR_PX_ABOVE_EDGE = 12.0


def plans(result: Result, places: Places) -> Html:
    """The section: controls, what the signs mean, and the plans from the bottom up."""
    made = sheets(result)
    if not made.plans:
        return join(
            [tag("p", "No plan can be drawn: of no carrier is it known where it is."), _not_drawn(made.not_drawn)]
        )
    drawn = [_plan(number, plan, made.paper, places) for number, plan in enumerate(made.plans, start=1)]
    intro = tag(
        "p", "Carriers as seen from straight above, to scale; where they would hardly be seen they are drawn wider. Up the page is the "
        "model's y axis, which needn't be true north. All plans show the same ground at one scale: what stands above each other in the "
        "building has the same place on them.",
    )  # fmt: skip
    way = tag("div", id="plan-way", role="status")
    parts = [
        intro,
        _tools(result, made),
        way,
        legend(made),
        _not_drawn(made.not_drawn),
        *drawn,
        _names(result, made, places),
    ]
    return tag("div", definitions(), *parts, class_="plans")


def _plan(number: int, plan: Plan, paper: Paper, places: Places) -> Html:
    key, storey = f"plan-{number}", plan.storey or NO_STOREY
    carriers = [_kind(kind, [one for one in plan.carriers if kind_of(one.row.kind) == kind]) for kind in KINDS]
    drawing = tag(
        "svg",
        tag("title", f"Plan of {storey}", id=f"{key}-title"),
        tag("desc", _counts(plan), id=f"{key}-desc"),
        *carriers,
        _joins(plan),
        tag("g", *(_break(row, one, other, places) for row, one, other in plan.breaks), class_="breaks"),
        tag(
            "g",
            *(_open_end(row, at, places) for row, at in plan.open_ends),
            class_="ends",
        ),
        _labels(plan, paper),
        _scale_bar(paper),
        class_="plan",
        viewBox=f"0 0 {written(WIDTH_PX)} {written(paper.height_px)}",
        role="img",
        aria_labelledby=f"{key}-title",
        aria_describedby=f"{key}-desc",
    )
    left_out = (
        tag("p", f"Not drawn: {counted(plan.left_out, 'further carrier')} of this storey.") if plan.left_out else ""
    )
    return tag(
        "figure",
        tag("figcaption", tag("h3", name(storey)), tag("p", f"{_counts(plan)}.", class_="muted"), left_out),
        tag("div", drawing, class_="scroll sheet", tabindex=0, role="region", aria_label=f"Plan of {storey}"),
        id=key,
    )


def _counts(plan: Plan) -> str:
    """What is on a plan, in words."""
    kinds = Counter(kind_of(one.row.kind) for one in plan.carriers)
    verdicts = Counter(verdict_of(one.row.worst_verdict) for one in plan.carriers)
    by_kind = ", ".join(f"{kinds[kind]} {kind_word(kind)}" for kind in KINDS if kinds[kind])
    by_verdict = ", ".join(f"{verdicts[word]} {word}" for word in VERDICTS if verdicts[word])
    marks = (
        counted(sum(map(len, plan.joins.values())), "join"),
        counted(len(plan.open_ends), "open end"),
        counted(len(plan.breaks), "break"),
    )
    return f"{counted(len(plan.carriers), 'carrier')} drawn: {by_kind}; {by_verdict}; {', '.join(marks)}"


def _kind(kind: str, carriers: Sequence[Drawn]) -> Html:
    return tag("g", *map(_carrier, carriers), class_=kind, fill=fill_of(kind)) if carriers else Html("")


def _carrier(one: Drawn) -> Html:
    size = f" {one.row.size}" if one.row.size else ""
    told = f"{one.row.place.label}: {one.row.kind}{size}, {one.row.worst_verdict or 'not judged'}"
    return tag(
        "path", tag("title", told), id=f"n{one.number}", class_=verdict_of(one.row.worst_verdict), d=path(one.pieces)
    )


def _joins(plan: Plan) -> Html:
    """A path for each way of finding them: there are many, and each is only a sign."""
    paths = []
    for way, points in plan.joins.items():
        shape, filled = JOINS.get(way, OTHER_JOIN)
        data = "".join(f"M{spot(point)}{shape}" for point in points)
        paths.append(tag("path", tag("title", f"joins: {way}"), class_=None if filled else "open", d=data))
    return tag("g", *paths, class_="joins")


def _open_end(row: OpenEndRow, at: Point, places: Places) -> Html:
    entry = f"; {counted(row.comes_in, 'circuit')} in or out there" if row.comes_in else ""
    told = f"open end: {places.label(row.carrier)}, its {row.end}{entry}"
    shape, kind = (ENTRY, "entry") if row.comes_in else (OPEN_END, None)
    return tag("path", tag("title", told), d=f"M{spot(at)}{shape}", class_=kind)


def _break(row: BreakRow, one: Point, other: Point, places: Places) -> Html:
    gap = f"{row.gap_mm:.0f} mm" if math.isfinite(row.gap_mm) else "not known"
    middle = (one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0 - 9.0
    return tag(
        "g",
        tag(
            "title",
            f"break between {places.label(row.one)} and {places.label(row.other)}: gap {gap}; needed by {listed(row.circuits)}",
        ),
        tag("path", d=line((one, other))),
        tag("path", d=f"M{spot(one)}{BREAK_END}M{spot(other)}{BREAK_END}", class_="tip"),
        tag("text", gap, x=written(middle[0]), y=written(middle[1])),
    )


def _labels(plan: Plan, paper: Paper) -> Html:
    things = [Named(one.number, one.row.place.label, one.pieces) for one in plan.carriers]
    points = [point for points in plan.joins.values() for point in points]
    points += [at for _, at in plan.open_ends]
    points += [point for _, *pair in plan.breaks for point in pair]
    found = []
    for label in labels(things, points, paper.height_px - MARGIN_PX / 2.0):
        x, y = map(written, label.at)
        turned = f"rotate({written(label.turned_deg)} {x} {y})" if label.turned_deg else None
        found.append(tag("text", label.name, x=x, y=y, transform=turned))
    return tag("g", *found, class_="labels", font_size=written(LETTER_PX))


def _scale_bar(paper: Paper) -> Html:
    length_m = paper.bar_m()
    left, right = MARGIN_PX / 2.0, MARGIN_PX / 2.0 + length_m * paper.px_per_m
    y = paper.height_px - _BAR_PX_ABOVE_EDGE
    bar = line(((left, y - 6.0), (left, y), (right, y), (right, y - 6.0)))
    text = tag("text", f"{length_m:g} m", x=written(right + 6.0), y=written(y))
    return tag("g", tag("path", d=bar), text, class_="bar-m")


def _tools(result: Result, made: Sheets) -> Html:
    """What the page's script works with. Without it none of this shows."""
    storeys = [
        tag("option", plan.storey or NO_STOREY, value=f"plan-{number}")
        for number, plan in enumerate(made.plans, start=1)
    ]
    circuits = sorted(result.circuits, key=lambda row: natural(row.circuit))
    options = [tag("option", row.circuit, data_way=_way(row, made), data_said=said(row)) for row in circuits]
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


_SIZES = (("as wide as the page", ""), ("twice as wide", "twice"), ("four times as wide", "four-times"))


def _way(row: CircuitRow, made: Sheets) -> str:
    return " ".join(str(made.numbers[key]) for key in row.carriers)


def said(row: CircuitRow) -> str:
    """The way of a circuit in words, without its carriers."""
    ends = f"from {row.origin or 'an origin not given'} to {', '.join(row.calls) or 'an end not given'}"
    if not row.is_routed:
        return f"{ends}: no way is known{f' ({row.reason})' if row.reason else ''}."
    length = "length not known" if row.length_m is None else f"{row.length_m:.2f} m long"
    drops = " + ".join("not known" if drop is None else f"{drop:.2f}" for drop in row.drops_m)
    by = f", {length}, drops of {drops} m" if drops else f", {length}"
    return f"{ends}; routed by {row.routed_by}{f' ({row.reason})' if row.reason else ''}{by}."


def _names(result: Result, made: Sheets, places: Places) -> Html:
    """The names of all carriers that circuits pass, by number, for the script; those that aren't drawn are among them."""
    passed = sorted({(made.numbers[key], key) for row in result.circuits for key in row.carriers})
    return tag("template", *(tag("data", places.label(key), value=number) for number, key in passed), id="plan-names")


def _not_drawn(reasons: Iterable[str]) -> Html:
    lines = [tag("li", reason) for reason in reasons]
    return join([tag("p", "Not drawn:"), tag("ul", *lines)]) if lines else Html("")
