"""Failing lengths, all compartments, and what is left out."""

import math
from collections.abc import Iterator

from checker.model import Confidence
from checker.model.texts import natural, number
from checker.report.gauge import could_lie
from checker.report.html_markup import Html, dotted, join, name, names, tag
from checker.report.html_places import NOT_GIVEN, Places, many, size_mm
from checker.report.html_tables import (
    Cell,
    Column,
    against,
    live_table,
    number_cell,
    small,
    sort_key,
    told,
    verdict_cell,
)
from checker.result.gravity import gravity
from checker.result.notes import amounts
from checker.result.tables import CompartmentRow, FindingRow, Result


def failing_lengths(result: Result, places: Places) -> Html:
    """A row for each failing finding with all lengths that it names, the gravest first."""
    topics = {topic.guid: place for place, topic in enumerate(result.topics, start=1)}

    def order(row: FindingRow) -> tuple[object, ...]:
        labels = [natural(places.label(key)) for key in row.carriers]
        return (*gravity(row)[:3], labels, row.compartment or 0, [natural(mark) for mark in row.circuits], row.id)

    failing = sorted((row for row in result.findings if row.verdict == "fail"), key=order)
    if not failing:
        return tag("p", "No length fails. What is unknown is listed below.")
    columns = (
        Column("Length / compartment"), Column("Found against limit", "number"), Column("Arithmetic", wide=True),
        Column("Basis and source", choice="Basis", wide=True), Column("Storey, space", choice="Storey"), Column("Rule", choice="Rule"),
        Column("Circuits", wide=True), Column("To do", "number"),
    )  # fmt: skip
    rows = [_failing(row, places, topics) for row in failing]
    return live_table("failing", "Failing lengths, the gravest first: a row for each finding", columns, rows)


def _failing(row: FindingRow, places: Places, topics: dict[str, int]) -> list[Cell]:
    keys = row.carriers or ("",)
    labels = [places.label(key, row.compartment) if key else "the installation" for key in keys]
    topic = topics.get(row.topic)
    link = tag("a", name(f"no. {topic}"), href=f"#todo-{topic}") if topic else "no note"
    identities = [
        join([name(carrier.place.name), ", GlobalId ", carrier.place.global_id])
        for key in keys
        if (carrier := places.row(key))
    ]
    advice = tag("p", "Advice: ", row.advice) if row.advice else ""
    shown = (
        [tag("b", name(row.at)), *([": ", many(labels)] if len(keys) > 1 else [])]
        if row.at
        else [tag("b", many(labels))]
    )
    return [
        Cell(join([*shown, small(join(identities, "; "))] if identities else shown), row.at or labels[0]),
        Cell(_found(row), "1e999" if row.use is None or row.use == math.inf else sort_key(row.use)),
        Cell(join([row.reason, advice])),
        Cell(join([tag("b", row.basis or NOT_GIVEN), ": ", row.source or NOT_GIVEN]), word=row.basis or NOT_GIVEN),
        Cell(join(dict.fromkeys(places.where(key) for key in keys), "; "), word=places.storey(keys[0])),
        Cell(dotted(row.rule), word=row.rule),
        Cell(names(row.circuits) or "none named"),
        Cell(link, str(topic or "")),
    ]


def _found(row: FindingRow) -> Html:
    if row.is_current:
        needed, allowed = amounts(row.value, row.limit, row.unit)
        return join([tag("strong", needed or "not known"), " needed, ", allowed or "not known", " allowed"])
    return told(row)


def all_compartments(result: Result, places: Places) -> Html:
    """Every compartment of every carrier segment read."""
    columns = (
        Column("Length / compartment"), Column("Kind", choice="Kind"), Column("Storey, space", choice="Storey"), Column("Outside, mm"),
        Column("Inside, mm²", "number"), Column("Cables", "number"), Column("Occupied, mm²", "number"),
        Column("Fill against limit", "number"), Column("Fill verdict", "number", choice="Fill verdict"),
        Column("Worst verdict", "number", choice="Worst verdict"), Column("Why, and which circuits", wide=True),
    )  # fmt: skip
    if not result.compartments:
        return join([tag("p", "No carrier segment was read."), *_demolished(result)])

    def order(row: CompartmentRow) -> tuple[str, str, str, int]:
        return places.storey(row.carrier), places.label(row.carrier), row.carrier, row.number

    rows = [_compartment(row, places) for row in sorted(result.compartments, key=order)]
    return join(
        [live_table("compartments", "All compartments of all lengths read", columns, rows), *_demolished(result)]
    )


def _demolished(result: Result) -> Iterator[Html]:
    """What is left out of everything, by name."""
    if result.demolished:
        labels = sorted((place.label for place in result.demolished), key=natural)
        head = tag("strong", f"Marked as demolished, and left out of everything ({len(labels)}): ")
        yield tag("div", head, many(labels))


def _compartment(row: CompartmentRow, places: Places) -> list[Cell]:
    carrier = places.row(row.carrier)
    label = places.label(row.carrier, row.number)
    long = "" if carrier is None or carrier.length_m is None else f"{carrier.length_m:g} m long, "
    kind = carrier.kind if carrier else "unknown"
    size = size_mm(carrier)
    inside = [f"{side:g}" for side in (row.inside_width_mm, row.inside_height_mm) if side is not None]
    identity = small(name(carrier.place.name), f", {long}GlobalId ", carrier.place.global_id, ", ", name(carrier.place.model),
                     f", {carrier.condition}" if carrier.condition else "") if carrier else ""  # fmt: skip
    why = [
        row.reason or "no reason is given",
        ". ",
        tag("span", f"Circuits ({len(row.circuits)}): ", names(row.circuits) or "none", class_="muted"),
        small(
            f"Inside {' × '.join(inside) or 'not known'} mm; for {', '.join(row.services) or 'any service'}. Sizes: ",
            (carrier.dimension_source if carrier else "") or NOT_GIVEN,
            *([". Kind: ", carrier.kind_source] if carrier and carrier.kind_source else []),
            *([". Its fill on other ways: ", row.other_ways] if row.other_ways else []),
            *_by_tolerances(row),
        ),
    ]
    return [
        Cell(join([tag("b", name(label)), identity]), label),
        _told(kind, "kind", carrier.kind_confidence if carrier else "", word=kind),
        Cell(places.where(row.carrier), word=places.storey(row.carrier)),
        _told(size, "size", carrier.dimension_confidence if carrier else "", sort="" if size == "not known" else None),
        number_cell(row.internal_area_mm2),
        number_cell(row.cables),
        number_cell(row.occupied_mm2),
        Cell(
            _fill(row),
            "" if could_lie(row) else sort_key(row.utilisation),
        ),
        verdict_cell(row.verdict),
        verdict_cell(row.worst_verdict),
        Cell(join(why)),
    ]


def _fill(row: CompartmentRow) -> Html:
    if possible := could_lie(row):
        return join([tag("strong", "not known"), f": {possible}"])
    return join(["at least " if row.at_least else "", against(row.fill, row.limit, "ratio", row.measure)])


def _by_tolerances(row: CompartmentRow) -> list[str]:
    """Between what fill lies by the tolerances of sizes; nothing where that isn't known."""
    if row.fill_least is None or row.fill_most is None:
        return []
    least, most = (number(value, "ratio") for value in (row.fill_least, row.fill_most))
    unknown = f"; none is known of cables of {', '.join(row.untoleranced)}" if row.untoleranced else ""
    return [f". By the tolerances of sizes its fill lies between {least} and {most}{unknown}"]


def _told(text: str, what: str, confidence: str, word: str | None = None, sort: str | None = None) -> Cell:
    """A cell with a reading, which says where it is of low confidence; that doesn't bear on how it is sorted."""
    if confidence != Confidence.LOW:
        return Cell(text, sort, word)
    return Cell(join([text, " ", tag("span", f"{what}: low confidence", class_="muted")]), text, word)
