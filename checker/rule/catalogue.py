"""Catalogues: cables and carriers by key, as tables with a source on every row."""

from collections.abc import Iterator
from dataclasses import dataclass

from checker.errors import PluginError
from checker.rule.table import Table, number


@dataclass(frozen=True, slots=True)
class CableType:
    """A cable that a schedule can name by ``key``.

    ``diameter_mm`` is the one that fill counts: the upper limit where there is one. ``area_mm2`` is for cables whose code prints an area;
    else it follows from the size. ``planning`` says that no standard fixes the size: the maker's figure belongs in its place.
    ``mass_kg_per_km`` is what it weighs about; no standard fixes it. None: the table has none.
    """

    key: str
    family: str
    csa_mm2: float | None
    cores: int | None
    conductor: str
    stranded: bool | None
    diameter_mm: float | None
    width_mm: float | None
    height_mm: float | None
    insulation: str
    rated_voltage_v: float | None
    planning: bool
    source: str
    awg_kcmil: str = ""
    area_mm2: float | None = None
    mass_kg_per_km: float | None = None


@dataclass(frozen=True, slots=True)
class CarrierType:
    """A carrier by ``key``. Widths and heights are outside, nominal. ``inside_area_mm2`` is for those whose code prints an area.

    ``usable_depth_mm`` and ``perforated`` are of trays and ladders whose standard fixes them; None: it doesn't.
    """

    key: str
    kind: str
    family: str
    material: str
    trade_size: str
    width_mm: float | None
    height_mm: float | None
    wall_mm: float | None
    inside_diameter_mm: float | None
    source: str
    inside_area_mm2: float | None = None
    usable_depth_mm: float | None = None
    perforated: bool | None = None


def read_cables(table: Table, distribution: str) -> Iterator[CableType]:
    """The cables of a table.

    Raises:
        PluginError: A cell isn't what its column holds.
    """
    for line, row in enumerate(table.rows, start=2):
        try:
            cores = number(row["cores"])
            yield CableType(
                key=row["key"],
                family=row["family"],
                csa_mm2=number(row["csa_mm2"]),
                cores=None if cores is None else int(cores),
                conductor=row["conductor"],
                stranded={"solid": False, "stranded": True, "": None}[row["strands"]],
                diameter_mm=number(row["diameter_mm"]),
                width_mm=number(row["width_mm"]),
                height_mm=number(row["height_mm"]),
                insulation=row["insulation"],
                rated_voltage_v=number(row["rated_voltage_v"]),
                planning=row["planning"] == "yes",
                source=row["source"],
                awg_kcmil=row.get("awg_kcmil", ""),
                area_mm2=number(row.get("area_mm2", "")),
                mass_kg_per_km=number(row.get("mass_kg_per_km", "")),
            )
        except (KeyError, ValueError) as error:
            raise _bad(table, line, distribution, error) from error


def read_carriers(table: Table, distribution: str) -> Iterator[CarrierType]:
    """The carriers of a table.

    Raises:
        PluginError: A cell isn't what its column holds.
    """
    for line, row in enumerate(table.rows, start=2):
        try:
            yield CarrierType(
                key=row["key"],
                kind=row["kind"],
                family=row["family"],
                material=row["material"],
                trade_size=row["trade_size"],
                width_mm=number(row["width_mm"]),
                height_mm=number(row["height_mm"]),
                wall_mm=number(row["wall_mm"]),
                inside_diameter_mm=number(row["inside_diameter_mm"]),
                source=row["source"],
                inside_area_mm2=number(row.get("inside_area_mm2", "")),
                usable_depth_mm=number(row.get("usable_depth_mm", "")),
                perforated={"yes": True, "no": False, "": None}[row.get("perforated", "")],
            )
        except (KeyError, ValueError) as error:
            raise _bad(table, line, distribution, error) from error


def _bad(table: Table, line: int, distribution: str, error: Exception) -> PluginError:
    return PluginError(
        f"table {table.name}, line {line} (from {distribution})", f"a cell can't be read: {error}", "mend the table"
    )
