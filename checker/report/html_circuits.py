"""Circuits with their ways, and how the rating of each was reached."""

from collections import defaultdict
from collections.abc import Sequence

from checker.model.texts import listed
from checker.report.html_markup import Html, join, name, names, tag
from checker.report.html_places import NOT_GIVEN, Places
from checker.report.html_tables import (
    VERDICTS,
    Cell,
    Column,
    live_table,
    number_cell,
    small,
    sort_key,
    verdict,
    verdict_cell,
)
from checker.result.tables import CircuitRow, RatingRow, Result

NOT_JUDGED = "not judged in this run"
NOT_ASKED = "no load, so none is asked for"


def chain(rating: RatingRow) -> str:
    """How a rating was reached, such as ``27 A × Ca 0.94 × Cg 0.65 (assumed) = 16.5 A ≥ 16 A``."""
    links = [_amperes(rating.base_a)]
    for factor in rating.factors:
        value = "not known" if factor.value is None else f"{factor.value:g}"
        links.append(f"{factor.name} {value}{' (assumed)' if factor.assumed else ''}")
    if rating.capacity_a is None:
        has_figures = rating.base_a is not None or rating.factors
        shown = f" ({'base ' if rating.base_a is None else ''}{' × '.join(links)})" if has_figures else ""
        return f"carries: not known{shown}; needs {_amperes(rating.required_a)}"
    written = f"{' × '.join(links)} = {_amperes(rating.capacity_a)}"
    if rating.required_a is None:
        return f"{written}; needed: not known"
    other = {"fail": "fails", "waived": "is waived"}.get(rating.verdict)
    if other and rating.capacity_a >= rating.required_a:
        return f"{written}; needed: {_amperes(rating.required_a)}, and it {other} for another reason"
    sign = "≥" if rating.capacity_a >= rating.required_a else "<"
    digits = 1
    if rating.capacity_a != rating.required_a and round(rating.capacity_a, 1) == round(rating.required_a, 1):
        digits = 4  # a fail by a hair must not read as exactly enough
        written = f"{' × '.join(links)} = {_amperes(rating.capacity_a, digits)}"
    return f"{written} {sign} {_amperes(rating.required_a, digits)}"


def _amperes(value: float | None, digits: int = 1) -> str:
    if value is None:
        return "not known"
    return f"{round(value, digits):.10g} A"


def circuits(result: Result, places: Places) -> Html:
    """Every circuit with its way, and below the ratings one by one."""
    ratings = sorted(result.ratings, key=_worst_first)
    by_circuit: dict[str, list[RatingRow]] = defaultdict(list)
    for rating in ratings:
        by_circuit[rating.circuit].append(rating)
    if not result.circuits:
        return tag("p", "No circuit was read.")
    columns = (
        Column("Circuit"), Column("From"), Column("To"), Column("Service", choice="Service"), Column("State", choice="State"),
        Column("Way: carriers in order", wide=True), Column("Length, m", "number"), Column("Drops, m", "number"),
        Column("Rating", "number", choice="Rating", wide=True),
    )  # fmt: skip
    near = _near_ways(result, places)
    rows = [
        _circuit(row, by_circuit.get(row.circuit, []), places, near.get(row.circuit, ""))
        for row in sorted(result.circuits, key=_mark)
    ]
    table = live_table("circuits", "Circuits and their ways", columns, rows)
    if not ratings and any(row.is_loaded for row in result.circuits):
        note = "Current ratings were not judged in this run: the rating of every circuit is unknown."
        return join([tag("p", note), table])
    if not ratings:
        return table
    return join([table, tag("h3", "How each rating was reached"), _ratings(ratings, places)])


def _mark(row: CircuitRow) -> str:
    return row.circuit


def _worst_first(rating: RatingRow) -> tuple[int, float, str, str, str]:
    margin = float("-inf")
    if rating.capacity_a is not None and rating.required_a is not None:
        margin = rating.capacity_a - rating.required_a
    place = VERDICTS.index(rating.verdict) if rating.verdict in VERDICTS else len(VERDICTS)
    return place, margin, rating.circuit, rating.carrier, rating.cable


def _near_ways(result: Result, places: Places) -> dict[str, str]:
    """By circuit what is to be said of ways that it could as well take."""
    ways: dict[str, list[str]] = defaultdict(list)
    for way in result.near_ways:
        ways[way.circuit].append(f"by {places.label(way.by)} {way.longer_m:.2f} m longer")
    told = f"Ways up to {result.near_m:g} m longer: " if result.near_m is not None else ""
    return {circuit: told + listed(found, between="; ") for circuit, found in ways.items()}


def _circuit(row: CircuitRow, ratings: Sequence[RatingRow], places: Places, near: str) -> list[Cell]:
    way = names((places.label(key) for key in row.carriers), " → ")
    other = "; ".join(f"{key} = {value}" for key, value in row.other.items())
    how = row.routed_by or "no way"
    told = [
        way,
        " " if way else "",
        tag("span", f"({how}{': ' if row.reason else ''}", name(row.reason), ")", class_="muted"),
    ]
    told += [small("Of the schedule: ", other)] if other else []
    told += [small(near)] if near else []
    first = next(iter(ratings), None)
    more = tag("p", f"and {len(ratings) - 1} more below") if len(ratings) > 1 else ""
    word = first.verdict if first else "unknown" if row.is_loaded else "none"
    told_of = NOT_JUDGED if row.is_loaded else NOT_ASKED
    shown = [verdict(word), " "] if word in VERDICTS else []
    rated = [*shown, _told(first) if first else tag("span", told_of, class_="muted"), more]
    known = [drop for drop in row.drops_m if drop is not None]
    drops = " + ".join("not known" if drop is None else f"{drop:.2f}" for drop in row.drops_m)
    return [
        Cell(tag("b", name(row.circuit)), row.circuit),
        Cell(name(row.origin)),
        Cell(names(row.calls)),
        Cell(row.service or NOT_GIVEN, word=row.service or NOT_GIVEN),
        Cell(row.state or NOT_GIVEN, word=row.state or NOT_GIVEN),
        Cell(join(told)),
        number_cell(row.length_m, None if row.length_m is None else f"{row.length_m:.2f}"),
        Cell(drops or "not known", sort_key(max(known)) if known else ""),
        Cell(join(rated), str(VERDICTS.index(word)) if word in VERDICTS else "", word),
    ]


def _told(rating: RatingRow) -> Html:
    return join([chain(rating), f"; {rating.reason}" if rating.reason else ""])


def _ratings(ratings: Sequence[RatingRow], places: Places) -> Html:
    columns = (
        Column("Circuit"), Column("Length that governs"), Column("Cable"), Column("Verdict", "number", choice="Verdict"),
        Column("Chain", wide=True), Column("Needed"), Column("Where the figures come from", wide=True), Column("Assumed"),
    )  # fmt: skip
    return live_table("ratings", "Ratings, worst first", columns, [_rating(row, places) for row in ratings])


def _rating(row: RatingRow, places: Places) -> list[Cell]:
    sources = [tag("li", f"{_amperes(row.base_a)}: ", row.base_source or NOT_GIVEN)]
    for factor in row.factors:
        value = "not known" if factor.value is None else f"{factor.value:g}"
        assumed = " (assumed)" if factor.assumed else ""
        sources.append(tag("li", f"{factor.name} {value}{assumed}: ", factor.source or NOT_GIVEN))
    assumptions = [tag("li", text) for text in row.assumptions]
    return [
        Cell(tag("b", name(row.circuit)), row.circuit),
        Cell(name(places.label(row.carrier)) if row.carrier else "none"),
        Cell(name(row.cable or NOT_GIVEN)),
        verdict_cell(row.verdict),
        Cell(_told(row)),
        Cell(join([_amperes(row.required_a), ": ", row.required_why or NOT_GIVEN])),
        Cell(tag("ul", *sources)),
        Cell(tag("ul", *assumptions) if assumptions else "nothing"),
    ]
