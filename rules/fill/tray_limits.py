"""What NFPA 70 392.22 gives for cables in trays: its figures, and its tables by width."""

from functools import lru_cache

from pydantic import Field

from checker.rule import SHARE, Limit, Limits, Table
from checker.rule.lookup import Steps
from checker.units import MM_PER_INCH

#: A width of the table is met this near: half the difference of 12 in and its metric designation, 300 mm, and a little.
WIDTH_EXACTLY_MM = 3.0


class LayerLimits(Limits):
    """Figures of 392.22. ``…_ventilated`` is for ladders and ventilated trays, ``…_solid`` for solid bottoms.

    ``large_…``: of the width, for the diameters of 4/0 AWG and larger side by side. ``small_…``: of the table's area, for smaller ones.
    ``beside_…``: in² of that area that each inch of diameter of the large ones takes off it. ``one_layer``: of the width, for the large
    ones where there are smaller ones too. ``control_…``: of the section, for control and signal cables alone, up to ``control_depth_mm``.
    ``single_width``, ``single_area``, ``single_beside``: the same for single conductors. ``single_least_mm2``: the smallest of them.
    """

    multiconductor: Table
    single: Table
    large_ventilated: Limit
    large_solid: Limit
    small_ventilated: Limit
    small_solid: Limit
    beside_ventilated: Limit = Field(json_schema_extra={"stricter": "higher"})
    beside_solid: Limit = Field(json_schema_extra={"stricter": "higher"})
    one_layer: Limit
    control_ventilated: Limit = Field(json_schema_extra=SHARE)
    control_solid: Limit = Field(json_schema_extra=SHARE)
    control_depth_mm: Limit
    single_width: Limit
    single_area: Limit
    single_beside: Limit = Field(json_schema_extra={"stricter": "higher"})
    single_least_mm2: Limit = Field(json_schema_extra={"stricter": "higher"})


def table_area_mm2(table: Table, column: str, inside_mm: float, outside_mm: float | None) -> float | None:
    """The area that a table allows, in mm²; None beyond its ends.

    A tray is as wide as it is called, outside or inside, in inches or by its metric designation; between two widths the narrower counts.
    """
    by_metric, by_inches = _by_width(table, column)
    if outside_mm is not None:
        for widths in (by_metric, by_inches):
            if (called := widths.exact(outside_mm, WIDTH_EXACTLY_MM)).value is not None:
                return called.value
    found = by_metric.next_lower(inside_mm, WIDTH_EXACTLY_MM)
    widest_mm = by_inches.rows[-1][0] + WIDTH_EXACTLY_MM
    return found.value if found.past is None or inside_mm <= widest_mm else None


@lru_cache(maxsize=16)
def _by_width(table: Table, column: str) -> tuple[Steps[float], Steps[float]]:
    """Areas in mm² by the width in mm: of the metric designation, and of the inches."""
    areas = [(row, float(row[column]) * MM_PER_INCH**2) for row in table.rows]
    return (
        Steps.of((float(row["width_mm"]), area) for row, area in areas),
        Steps.of((float(row["width_in"]) * MM_PER_INCH, area) for row, area in areas),
    )
