"""The CSV files. UTF-8, a header row, rows sorted; a text that a spreadsheet would run as a formula begins with an apostrophe."""

import csv
import io
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence

from checker.model import Place
from checker.result.network_tables import TakeOffRow
from checker.result.notes import found_and_wanted
from checker.result.problems import problem_groups
from checker.result.ratings import no_rating, no_rating_why, worst_ratings
from checker.result.tables import CarrierRow, CircuitRow, CompartmentRow, FindingRow, RatingRow, Result

Cell = str | float | int | None
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
#: Figures are written to this many decimals: a millionth of a mm² is noise.
DECIMALS = 6


def text_of(cell: Cell) -> str:
    """A cell as text. Numbers are written plainly, and never begin with an apostrophe."""
    if cell is None:
        return ""
    if isinstance(cell, bool) or not isinstance(cell, (int, float)):
        text = str(cell)
        return f"'{text}" if text.startswith(FORMULA_STARTS) else text
    return str(cell) if isinstance(cell, int) else repr(round(cell, DECIMALS) + 0.0)


def _csv(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([text_of(cell) for cell in row] for row in rows)
    return buffer.getvalue().encode("utf-8")


def failing_csv(result: Result) -> bytes:
    """One row for each failing finding and segment that it names."""
    columns = ("finding", "segment", "tag", "name", "storey", "compartment", "rule", "value", "limit", "unit", "measure", "basis",
               "circuits", "reason", "advice", "source", "model", "space", "topic", "zone", "other_ways", "mark",
               "limit_is_least", "at", "found", "wanted", "tried")  # fmt: skip
    carriers = {row.key: row for row in result.carriers}
    topics = _topics_of_waivers(result)
    rows = []
    for finding in (finding for finding in result.findings if finding.verdict == "fail"):
        for key in finding.carriers:
            place = carriers[key].place
            rows.append((
                finding.id, place.global_id, place.tag, place.name, place.storey, finding.compartment, finding.rule, finding.value,
                finding.limit, finding.unit, finding.measure, finding.basis, "; ".join(finding.circuits), finding.reason, finding.advice,
                finding.source, place.model, place.space, topics.get((finding.id, key), finding.topic), place.zone,
                finding.other_ways, place.mark, "yes" if finding.is_floor else "", finding.at, *found_and_wanted(finding),
                finding.tried,
            ))  # fmt: skip
    return _csv(columns, sorted(rows, key=lambda row: (row[4], row[2], row[1], row[5] or 0, row[6], row[12])))


def _topics_of_waivers(result: Result) -> dict[tuple[str, str], str]:
    """Of findings about waivers the note of what fails in a carrier, by both; the gravest of several."""
    if not any(row.fails for row in result.waivers):
        return {}
    findings = {row.id: row for row in result.findings}
    gravest_last = [(row.finding, findings[key]) for row in result.waivers for key in reversed(row.fails)]
    return {(about, key): one.topic for about, one in gravest_last for key in one.carriers}


def waived_csv(result: Result) -> bytes:
    """One row for each waived finding and segment that it names, with who waives it; one that names none has one, too."""
    columns = ("finding", "segment", "tag", "name", "storey", "compartment", "rule", "value", "limit", "unit", "measure", "basis",
               "circuits", "waived_by", "why", "until", "up_to", "reason", "source", "model", "space", "at", "found", "wanted",
               "code")  # fmt: skip
    places = {row.key: row.place for row in result.carriers}
    rows = [
        (
            finding.id, place.global_id, place.tag, place.name, place.storey, finding.compartment, finding.rule, finding.value,
            finding.limit, finding.unit, finding.measure, finding.basis, "; ".join(finding.circuits), *_waivers_of(finding), finding.reason,
            finding.source, place.model, place.space, finding.at, *found_and_wanted(finding), finding.code,
        )
        for finding in result.findings
        if finding.verdict == "waived"
        for place in [places[key] for key in finding.carriers] or [Place("", "")]
    ]  # fmt: skip
    return _csv(columns, sorted(rows, key=lambda row: (row[4], row[2], row[1], row[5] or 0, row[6], row[12], row[0])))


def _waivers_of(finding: FindingRow) -> Iterable[Cell]:
    """By whom it is waived, why, until when and how far; the first of each belong together, and so on."""
    by = finding.waived_by
    figures = ("" if one.up_to is None else text_of(one.up_to) for one in by)
    columns = ((one.who for one in by), (one.why for one in by), (one.until for one in by), figures)
    return ["; ".join(column) for column in columns]


def segments_csv(result: Result) -> bytes:
    """One row for each compartment of each carrier segment read."""
    columns = ("segment", "tag", "name", "kind", "storey", "compartment", "width_mm", "height_mm", "internal_area_mm2",
               "dimension_source", "cables", "occupied_mm2", "fill", "measure", "limit", "utilisation", "verdict", "worst_verdict",
               "reason", "model", "space", "type", "length_m", "compartment_width_mm",
               "services", "circuits", "circuits_possible", "fill_is_at_least", "kind_source", "kind_confidence",
               "dimension_confidence", "condition", "zone", "bore_mm", "other_ways", "mark", "fill_least", "fill_most",
               "untoleranced")  # fmt: skip
    carriers = {row.key: row for row in result.carriers}

    def cells(row: CompartmentRow, carrier: CarrierRow) -> tuple[Cell, ...]:
        place = carrier.place
        return (
            place.global_id, place.tag, place.name, carrier.kind, place.storey, row.number, carrier.width_mm, carrier.height_mm,
            row.internal_area_mm2, carrier.dimension_source, row.cables, row.occupied_mm2, row.fill, row.measure, row.limit,
            row.utilisation, row.verdict, row.worst_verdict, row.reason, place.model, place.space, carrier.type_name, carrier.length_m,
            row.inside_width_mm, "; ".join(row.services), "; ".join(row.circuits), "; ".join(row.circuits_possible),
            "yes" if row.at_least else "", carrier.kind_source, carrier.kind_confidence, carrier.dimension_confidence, carrier.condition,
            place.zone, carrier.bore_mm, row.other_ways, place.mark, row.fill_least, row.fill_most, "; ".join(row.untoleranced),
        )  # fmt: skip

    def order(row: CompartmentRow) -> tuple[str, str, str, int]:
        place = carriers[row.carrier].place
        return place.storey, place.tag, row.carrier, row.number

    return _csv(columns, (cells(row, carriers[row.carrier]) for row in sorted(result.compartments, key=order)))


def routes_csv(result: Result) -> bytes:
    """One row for each circuit, with its rating at the segment that governs. One that carries no load has no verdict."""
    columns = ("circuit", "from", "to", "service", "state", "routed_by", "length_m", "drops_m", "segments", "tags",
               *RATED, "other", "cable_length_m", "near_ways")  # fmt: skip
    carriers = {row.key: row for row in result.carriers}
    ratings = worst_ratings(result)
    near: dict[str, str] = defaultdict(str)
    for way in result.near_ways:
        told = f"by {carriers[way.by].place.label} {way.longer_m:.2f} m longer"
        near[way.circuit] = f"{near[way.circuit]}; {told}" if near[way.circuit] else told

    def cells(row: CircuitRow) -> tuple[Cell, ...]:
        way: tuple[Cell, ...] = (
            row.circuit, row.origin, "; ".join(row.calls), row.service, row.state, row.routed_by, row.length_m,
            "; ".join("unknown" if drop is None else f"{drop:.3f}" for drop in row.drops_m),
            " ".join(carriers[key].place.global_id for key in row.carriers),
            "; ".join(carriers[key].place.label for key in row.carriers),
        )  # fmt: skip
        rating = ratings.get(row.circuit)
        if rating is None:
            rated: dict[str, Cell] = {"verdict": no_rating(row), "reason": row.reason or no_rating_why(row)}
        else:
            rated = _rated(rating, carriers)
        return (
            *way,
            *(rated.get(column) for column in RATED),
            "; ".join(f"{k}={v}" for k, v in row.other.items()),
            row.cable_m,
            near[row.circuit],
        )

    return _csv(columns, (cells(row) for row in sorted(result.circuits, key=lambda row: row.circuit)))


#: What routes.csv says of a rating.
RATED = (
    "governing_segment", "governing_tag", "cable", "base_a", "base_source", "factors", "grouping_factor", "capacity_a", "required_a",
    "verdict", "reason", "assumed",
)  # fmt: skip


def _rated(rating: RatingRow, carriers: Mapping[str, CarrierRow]) -> dict[str, Cell]:
    place = carriers[rating.carrier].place if rating.carrier else None
    return {
        "governing_segment": place.global_id if place else "",
        "governing_tag": place.label if place else "",
        "cable": rating.cable,
        "base_a": rating.base_a,
        "base_source": rating.base_source,
        "factors": "; ".join(f"{factor.name}={text_of(factor.value)}" for factor in rating.factors),
        "grouping_factor": rating.grouping_factor,
        "capacity_a": rating.capacity_a,
        "required_a": rating.required_a,
        "verdict": rating.verdict,
        "reason": rating.reason,
        "assumed": "; ".join(rating.assumptions),
    }


def cables_csv(result: Result) -> bytes:
    """The take-off: one row for each cable of each leg of each circuit. Lengths are of one cable, ``total_m`` of all of them."""
    columns = ("cable", "circuit", "from", "to", "length_m", "carriers", "count", "total_m", "way_m", "drops_m", "state", "leg", "tags",
               "reason")  # fmt: skip
    carriers = {row.key: row for row in result.carriers}

    def cells(row: TakeOffRow) -> tuple[Cell, ...]:
        places = [carriers[key].place for key in row.carriers]
        return (
            row.cable, row.circuit, row.origin, row.call, row.length_m, " ".join(place.global_id for place in places), row.count,
            row.total_m, row.way_m, row.drops_m, row.state, row.leg + 1, "; ".join(place.label for place in places), row.reason,
        )  # fmt: skip

    return _csv(columns, map(cells, sorted(result.take_off, key=lambda row: (row.circuit, row.leg))))


def problems_csv(result: Result) -> bytes:
    """One row for each thing that could not be read or assessed, or was corrected, assumed or inferred; ``elements`` are the group's."""
    columns = ("where", "what", "why", "hint", "kind", "elements", "group")
    return _csv(columns, (
        (problem.where, problem.what, problem.why, problem.hint, group.kind, group.elements, group.number)
        for group in problem_groups(result.problems)
        for problem in group.problems
    ))  # fmt: skip


def questions_csv(result: Result) -> bytes:
    """What to answer first. Counts are of unknown findings; the last row, without a rank, has those of which no question is known."""
    columns = (
        "rank",
        "question",
        "where",
        "hint",
        "settles",
        "together",
        "touches",
        "rules",
        "circuits",
        "carriers",
        "examples",
    )
    return _csv(columns, (
        (
            row.rank or None, row.question, row.where, row.hint, row.settles, row.together, row.touches, "; ".join(row.rules),
            row.circuits, row.carriers, "; ".join(row.examples),
        )
        for row in result.questions
    ))  # fmt: skip


#: File name → its writer.
WRITERS: dict[str, Callable[[Result], bytes]] = {
    "failing.csv": failing_csv,
    "waived.csv": waived_csv,
    "segments.csv": segments_csv,
    "routes.csv": routes_csv,
    "cables.csv": cables_csv,
    "problems.csv": problems_csv,
    "questions.csv": questions_csv,
}
