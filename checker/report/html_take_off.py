"""How much of which cable is needed: of each kind together, and leg by leg."""

import math
from collections import defaultdict
from collections.abc import Sequence

from checker.model.texts import natural
from checker.report.html_markup import Html, join, name, names, tag
from checker.report.html_places import NOT_GIVEN, Places
from checker.report.html_tables import Cell, Column, live_table, number_cell, plain_table, small
from checker.result.network_tables import TakeOffRow
from checker.result.tables import Result

#: What stands for cables that the schedule gives by their size alone.
NO_KEY = "no key given (may be several kinds)"


def take_off(result: Result, places: Places) -> Html:
    """The totals of each kind of cable, and below them each leg of each circuit."""
    if not result.take_off:
        return tag("p", "No cable is listed: no circuit was read, or none that lies in this building.")
    unknown = sum(row.total_m is None for row in result.take_off)
    intro = (
        "Lengths go through the carriers and their drops, with what the project allows for. The total of a cable is the sum over its rows "
        "below: how many there are, times the length of one. What is there already is apart from what is new."
    )
    lacking = (
        f"Of {unknown} of the {len(result.take_off)} rows the total isn't known: more is needed than the totals say."
    )
    return join(
        [tag("p", intro, f" {lacking}" if unknown else ""), _totals(result.take_off), _legs(result.take_off, places)]
    )


def _totals(rows: Sequence[TakeOffRow]) -> Html:
    by_cable: dict[tuple[str, str], list[TakeOffRow]] = defaultdict(list)
    for row in rows:
        by_cable[row.cable, row.state].append(row)
    lines = []
    for cable, state in sorted(by_cable, key=lambda one: (natural(one[0]), one)):
        own = by_cable[cable, state]
        known = [total for row in own if (total := row.total_m) is not None]
        unknown = len(own) - len(known)
        written = f"{'at least ' if unknown else ''}{math.fsum(known):.2f}" if known else "not known"
        lines.append((name(cable or NO_KEY), name(state or NOT_GIVEN), written, str(len(own)), str(unknown)))
    return plain_table("Cables in all", ("Cable", "State", "Total, m", "Rows", "Rows of which it isn't known"), lines)


def _legs(rows: Sequence[TakeOffRow], places: Places) -> Html:
    columns = (
        Column("Circuit"), Column("Leg", "number"), Column("Cable", choice="Cable"), Column("State", choice="State"), Column("From"),
        Column("To"), Column("How many", "number"), Column("Through carriers, m", "number"), Column("Drops, m", "number"),
        Column("Length of one, m", "number"), Column("Total, m", "number"), Column("Why not known", wide=True),
    )  # fmt: skip
    ordered = sorted(rows, key=lambda row: (natural(row.circuit), row.circuit, row.leg, natural(row.cable), row.cable))
    return live_table("take-off-legs", "Cables, leg by leg", columns, [_leg(row, places) for row in ordered])


def _leg(row: TakeOffRow, places: Places) -> list[Cell]:
    way = names((places.label(key) for key in row.carriers), " → ")
    return [
        Cell(join([tag("b", name(row.circuit)), small("Way: ", way) if way else ""]), row.circuit),
        number_cell(row.leg + 1),
        Cell(name(row.cable or NOT_GIVEN), word=row.cable or NOT_GIVEN),
        Cell(name(row.state or NOT_GIVEN), word=row.state or NOT_GIVEN),
        Cell(name(row.origin or NOT_GIVEN)),
        Cell(name(row.call or NOT_GIVEN)),
        number_cell(row.count),
        _metres(row.way_m),
        _metres(row.drops_m),
        _metres(row.length_m),
        _metres(row.total_m),
        Cell(name(row.reason)),
    ]


def _metres(value: float | None) -> Cell:
    return number_cell(value, None if value is None else f"{value:.2f}")
