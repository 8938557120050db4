"""The network as a picture: a plan of each storey, what its signs mean, and the way of a circuit through all of them."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

from checker.model.texts import listed
from checker.report.html_markup import Html, join, name, tag
from checker.report.html_places import Places
from checker.report.html_plan_signs import definitions, kind_word, legend
from checker.report.html_plan_tools import NO_STOREY, gap_mm, passed_names, tools
from checker.report.plan_labels import LETTER_PX, Named, labels
from checker.report.plan_marks import (
    BREAK_END,
    ENTRY,
    EQUIPMENT,
    JOINS,
    KINDS,
    OPEN_END,
    OTHER_JOIN,
    VERDICTS,
    fill_of,
    kind_of,
    verdict_of,
)
from checker.report.plan_paper import MARGIN_PX, WIDTH_PX, Paper, Piece, Point, Rectangle, line, path, spot, written
from checker.report.plan_sheets import Drawn, Plan, Sheets, counted, sheets
from checker.result.network_tables import BreakRow, EquipmentRow, OpenEndRow
from checker.result.tables import Result

#: Half of what the words of a gap take up across, about, and how far they stand above its line.
_GAP_HALF_PX, _GAP_ABOVE_PX = 24.0, 9.0
_BAR_PX_ABOVE_EDGE = 12.0


def plans(result: Result, places: Places) -> Html:
    """The section: controls, what the signs mean, and the plans from the bottom up."""
    made = sheets(result)
    if not made.plans:
        return join(
            [tag("p", "No plan can be drawn: of no carrier is it known where it is."), _not_drawn(made.not_drawn)]
        )
    drawn = [_plan(number, plan, made, places) for number, plan in enumerate(made.plans, start=1)]
    intro = tag(
        "p", "Carriers as seen from straight above, to scale; where they would hardly be seen they are drawn wider. Up the page is the "
        "model's y axis, which needn't be true north. All plans show the same ground at one scale: what stands above each other in the "
        "building has the same place on them.",
    )  # fmt: skip
    way = tag("div", id="plan-way", role="status")
    parts = [
        intro,
        tools(result, made, places),
        way,
        legend(made, has_circuits=bool(result.circuits)),
        _not_drawn(made.not_drawn),
        *drawn,
        passed_names(result, made, places),
    ]
    return tag("div", definitions(), *parts, class_="plans")


def _plan(number: int, plan: Plan, made: Sheets, places: Places) -> Html:
    paper = made.paper
    key, storey = f"plan-{number}", plan.storey or NO_STOREY
    carriers = [_kind(kind, [one for one in plan.carriers if kind_of(one.row.kind) == kind]) for kind in KINDS]
    drawing = tag(
        "svg",
        tag("title", f"Plan of {storey}", id=f"{key}-title"),
        tag("desc", _counts(plan), id=f"{key}-desc"),
        *carriers,
        _joins(plan),
        tag("g", *(_open_end(row, at, places) for row, at in plan.open_ends), class_="ends"),
        _all_equipment(plan, made),
        _labels(plan, paper),
        # last, since what nobody may overlook is hidden by nothing
        tag(
            "g",
            *(_break(made.break_numbers[row], row, one, other, places) for row, one, other in plan.breaks),
            class_="breaks",
        ),
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
        *([counted(len(plan.equipment), "equipment mark")] if plan.equipment else []),
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


def _all_equipment(plan: Plan, made: Sheets) -> Html:
    """The marks, and under them the drops of circuits, which show when one of these is chosen."""
    if not plan.equipment:
        return Html("")
    drops = [drop for row, at in plan.equipment for drop in _drops(row, at, made)]
    marks = [_equipment(row, at, made) for row, at in plan.equipment]
    return join([tag("g", *drops, class_="drops") if drops else "", tag("g", *marks, class_="equipment")])


def _equipment(row: EquipmentRow, at: Point, made: Sheets) -> Html:
    told = f"{row.label}: equipment; {counted(len(row.circuits), 'circuit')} from or to it"
    return tag("path", tag("title", told), d=f"M{spot(at)}{EQUIPMENT}", data_for=_for(row.circuits, made))


def _drops(row: EquipmentRow, at: Point, made: Sheets) -> Iterator[Html]:
    """A line to each place at which circuits come in from equipment."""
    by_place: dict[str, set[str]] = defaultdict(set)
    for coming in row.comes_in:
        end = made.paper.px(coming.point_mm)
        if all(map(math.isfinite, end)) and made.paper.holds(end):
            by_place[line((at, end))].add(coming.circuit)
    for data, marks in sorted(by_place.items()):
        yield tag("path", d=data, data_for=_for(marks, made))


def _for(marks: Iterable[str], made: Sheets) -> str:
    """The numbers of circuits, for the script."""
    return " ".join(map(str, sorted(made.circuit_numbers[mark] for mark in marks if mark in made.circuit_numbers)))


def _gap_at(one: Point, other: Point) -> Point:
    """Where the words of a gap stand."""
    return (one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0 - _GAP_ABOVE_PX


def _break(number: int, row: BreakRow, one: Point, other: Point, places: Places) -> Html:
    gap, middle = gap_mm(row), _gap_at(one, other)
    return tag(
        "g",
        tag(
            "title",
            f"break between {places.label(row.one)} and {places.label(row.other)}: gap {gap}; needed by {listed(row.circuits)}",
        ),
        tag("path", d=line((one, other))),
        tag("path", d=f"M{spot(one)}{BREAK_END}M{spot(other)}{BREAK_END}", class_="tip"),
        tag("text", gap, x=written(middle[0]), y=written(middle[1])),
        data_break=number,
    )


def _labels(plan: Plan, paper: Paper) -> Html:
    things = [Named(one.number, one.row.place.label, one.pieces) for one in plan.carriers]
    points = [point for points in plan.joins.values() for point in points]
    points += [at for _, at in plan.open_ends]
    points += [point for _, *pair in plan.breaks for point in pair]
    gaps = [_gap_at(one, other) for _, one, other in plan.breaks]
    points += [(x + share * _GAP_HALF_PX, y) for x, y in gaps for share in (-1.0, -0.5, 0.0, 0.5, 1.0)]
    # names of equipment stand beside it, as those of upright carriers do
    things += [
        Named(-2 - number, row.label, (Piece(Rectangle(at, (1.0, 0.0), 6.0, 6.0), is_upright=True),))
        for number, (row, at) in enumerate(plan.equipment)
    ]
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


def _not_drawn(reasons: Iterable[str]) -> Html:
    lines = [tag("li", reason) for reason in reasons]
    return join([tag("p", "Not drawn:"), tag("ul", *lines)]) if lines else Html("")
