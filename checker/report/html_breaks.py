"""Where the network ends, and where circuits need it to go on and it doesn't."""

import math
from collections.abc import Sequence

from checker.model import Vec
from checker.model.texts import natural
from checker.report.html_markup import Html, join, name, names, tag
from checker.report.html_places import Places, many
from checker.report.html_tables import Cell, Column, live_table, number_cell
from checker.result.network_tables import BreakRow, OpenEndRow
from checker.result.tables import Result
from checker.units import metres


def breaks(result: Result, places: Places) -> Html:
    """The breaks, and below them the open ends."""
    return join([_breaks(result.breaks, places), _open_ends(result.open_ends, places)])


def _breaks(rows: Sequence[BreakRow], places: Places) -> Html:
    if not rows:
        return tag("p", "No break is listed that keeps a circuit from its way.")
    columns = (
        Column("Carrier"), Column("Nearest of the other part"), Column("Gap, mm", "number"), Column("Circuits that need it", wide=True),
        Column("Storeys"), Column("Carriers on either side"), Column("Between, x y z in m", wide=True),
    )  # fmt: skip
    intro = tag(
        "p", "Two parts of the network that circuits need joined and that don't meet, and where they come nearest. The gap is from axis to "
        "axis.",
    )  # fmt: skip
    ordered = sorted(
        rows, key=lambda row: (-len(row.circuits), natural(places.label(row.one)), natural(places.label(row.other)))
    )
    return join(
        [intro, live_table("breaks", "Where the network breaks", columns, [_break(row, places) for row in ordered])]
    )


def _break(row: BreakRow, places: Places) -> list[Cell]:
    storeys = dict.fromkeys((places.storey(row.one), places.storey(row.other)))
    between = f"{point_m(row.point_one_mm)} and {point_m(row.point_other_mm)}"
    return [
        Cell(tag("b", name(places.label(row.one)))),
        Cell(name(places.label(row.other))),
        number_cell(row.gap_mm if math.isfinite(row.gap_mm) else None),
        Cell(many(row.circuits) or "none named", str(len(row.circuits))),
        Cell(names(storeys)),
        Cell(f"{row.carriers_one} and {row.carriers_other}"),
        Cell(between),
    ]


def _open_ends(rows: Sequence[OpenEndRow], places: Places) -> Html:
    if not rows:
        return tag("p", "No end of a carrier is listed as open.")
    columns = (
        Column("Carrier"), Column("Storey", choice="Storey"), Column("Space"), Column("Which end"),
        Column("Legs that come in there", "number"), Column("x, m", "number"), Column("y, m", "number"), Column("z, m", "number"),
    )  # fmt: skip
    intro = tag(
        "p", "Ends of carriers that nothing is joined to. Where circuits come in from equipment, an end is open on purpose; elsewhere the "
        "carrier ends there, or a join is missing.",
    )  # fmt: skip
    ordered = sorted(rows, key=lambda row: (natural(places.label(row.carrier)), row.carrier, row.end))
    return join([intro, live_table("open-ends", "Open ends", columns, [_open_end(row, places) for row in ordered])])


def _open_end(row: OpenEndRow, places: Places) -> list[Cell]:
    storey = places.storey(row.carrier)
    return [
        Cell(tag("b", name(places.label(row.carrier)))),
        Cell(name(storey), word=storey),
        Cell(name(places.space(row.carrier))),
        Cell(row.end),
        number_cell(row.comes_in),
        *(_metres_cell(one) for one in row.point_mm),
    ]


def _metres_cell(value_mm: float) -> Cell:
    if not math.isfinite(value_mm):
        return number_cell(None)
    return number_cell(metres(value_mm), _written_m(value_mm))


def point_m(point_mm: Vec) -> str:
    """A place as ``x y z`` in m, to a centimetre."""
    return " ".join(_written_m(one) if math.isfinite(one) else "not known" for one in point_mm)


def _written_m(value_mm: float) -> str:
    return f"{round(metres(value_mm), 2) + 0.0:.2f}"
