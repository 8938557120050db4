"""Catalogues: cables and carriers by key, as tables with a source on every row."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

from checker.errors import PluginError
from checker.model import CarrierKind
from checker.model.tolerance import Tolerance
from checker.rule.table import Table, number

T = TypeVar("T")

#: The columns that a catalogue can't be read without.
CABLE_COLUMNS = (
    "key", "family", "csa_mm2", "cores", "conductor", "strands", "diameter_mm", "width_mm", "height_mm", "insulation",
    "rated_voltage_v", "planning", "source", "confidence",
)  # fmt: skip
CARRIER_COLUMNS = (
    "key", "kind", "family", "material", "trade_size", "width_mm", "height_mm", "wall_mm", "inside_diameter_mm", "source",
    "confidence",
)  # fmt: skip
STRANDS = {"solid": False, "stranded": True, "": None}
YES_OR_NO = {"yes": True, "no": False, "": None}
#: What a standard lets a size be, at least and at most; columns that a catalogue of cables may have.
LIMITED = {size: (f"{size}_lower_mm", f"{size}_upper_mm") for size in ("diameter", "width", "height")}
KINDS = {kind.value: kind.value for kind in CarrierKind if kind is not CarrierKind.UNKNOWN}


@dataclass(frozen=True, slots=True)
class CableType:
    """A cable that a schedule can name by ``key``.

    ``diameter_mm`` is the one that fill counts: the upper limit where there is one. ``area_mm2`` is for cables whose code prints an area;
    else it follows from the size. ``planning`` says that no standard fixes the size: the maker's figure belongs in its place.
    ``mass_kg_per_km`` is what it weighs about; no standard fixes it. None: the table has none. ``tolerance`` is between what its standard
    lets its size be, by ``limits_source``; None: that isn't known.
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
    tolerance: Tolerance | None = None
    limits_source: str = ""


@dataclass(frozen=True, slots=True)
class CarrierType:
    """A carrier by ``key``. Widths and heights are outside, nominal. ``inside_area_mm2`` is for those whose code prints an area.

    ``usable_depth_mm`` and ``perforated`` are of trays and ladders whose standard fixes them; None: it doesn't. ``wall_tolerance_mm`` is by
    how much its standard lets the wall be thinner or thicker; None: not known. ``codes`` are keys of the codes in whose countries it is a
    usual size; none: of any.
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
    wall_tolerance_mm: float | None = None
    codes: tuple[str, ...] = ()


def read_cables(table: Table, distribution: str) -> Iterator[CableType]:
    """The cables of a table.

    Raises:
        PluginError: It lacks a column, a cell isn't what its column holds, or a cable has no size.
    """
    for row in _rows(table, distribution, CABLE_COLUMNS):
        cable = CableType(
            key=row.filled("key"),
            family=row.text("family"),
            csa_mm2=row.above_zero("csa_mm2"),
            cores=row.whole("cores"),
            conductor=row.text("conductor"),
            stranded=row.one_of("strands", STRANDS),
            diameter_mm=row.above_zero("diameter_mm"),
            width_mm=row.above_zero("width_mm"),
            height_mm=row.above_zero("height_mm"),
            insulation=row.text("insulation"),
            rated_voltage_v=row.above_zero("rated_voltage_v"),
            planning=row.one_of("planning", YES_OR_NO) or False,
            source=row.text("source"),
            awg_kcmil=row.text("awg_kcmil"),
            area_mm2=row.above_zero("area_mm2"),
            mass_kg_per_km=row.above_zero("mass_kg_per_km"),
            tolerance=_tolerance(row),
            limits_source=row.text("limits_source"),
        )
        if cable.diameter_mm is None and cable.area_mm2 is None and None in {cable.width_mm, cable.height_mm}:
            hint = "give its diameter_mm; of a flat one width_mm and height_mm; or, where its code prints an area, area_mm2"
            raise PluginError(row.at, f"the cable {cable.key} has no size", hint)
        yield cable


def read_carriers(table: Table, distribution: str) -> Iterator[CarrierType]:
    """The carriers of a table.

    Raises:
        PluginError: It lacks a column, or a cell isn't what its column holds.
    """
    for row in _rows(table, distribution, CARRIER_COLUMNS):
        yield CarrierType(
            key=row.filled("key"),
            kind=row.one_of("kind", KINDS),
            family=row.text("family"),
            material=row.text("material"),
            trade_size=row.text("trade_size"),
            width_mm=row.above_zero("width_mm"),
            height_mm=row.above_zero("height_mm"),
            wall_mm=row.from_zero("wall_mm"),
            inside_diameter_mm=row.above_zero("inside_diameter_mm"),
            source=row.text("source"),
            inside_area_mm2=row.above_zero("inside_area_mm2"),
            usable_depth_mm=row.above_zero("usable_depth_mm"),
            perforated=row.one_of("perforated", YES_OR_NO),
            wall_tolerance_mm=row.above_zero("wall_tolerance_mm"),
            codes=tuple(row.text("codes").split()),
        )


def check_name(table: Table, distribution: str) -> None:
    """Refuses a catalogue by another name: it would be a table that nothing reads, and nobody would be told.

    Raises:
        PluginError: It has all columns of a catalogue, and isn't named as one.
    """
    for word, columns in (("cables", CABLE_COLUMNS), ("carriers", CARRIER_COLUMNS)):
        if not table.name.startswith(word) and table.rows and all(column in table.rows[0] for column in columns):
            what = f"it has the columns of a catalogue of {word}, and isn't named as one"
            raise PluginError(f"table {table.name} (from {distribution})", what, f"name it {word}….csv")


@dataclass(frozen=True, slots=True)
class _Row:
    """A row, of which each cell that can't be read is named with its column. ``at``: where it stands, for messages."""

    cells: Mapping[str, str]
    at: str

    def text(self, column: str) -> str:
        """A cell as it stands; empty where the table hasn't the column."""
        return self.cells.get(column, "")

    def filled(self, column: str) -> str:
        """A cell that can't be empty."""
        text = self.text(column).strip()
        if not text:
            raise PluginError(self.at, f"{column} is empty", "every row needs one of its own")
        return text

    def from_zero(self, column: str) -> float | None:
        """A figure from 0 up; None where the cell is empty."""
        text = self.text(column)
        try:
            figure = number(text)
        except ValueError as error:
            hint = f"{column} is a number with a decimal point and no unit; empty where it isn't known"
            raise PluginError(self.at, f"{column} = {text.strip()!r} isn't a number", hint) from error
        if figure is not None and figure < 0.0:
            raise PluginError(self.at, f"{column} = {figure:g} is less than 0", "empty where it isn't known")
        return figure

    def above_zero(self, column: str) -> float | None:
        """A figure above 0; None where the cell is empty."""
        figure = self.from_zero(column)
        if figure == 0.0:
            raise PluginError(self.at, f"{column} = 0, which nothing has", "empty where it isn't known")
        return figure

    def whole(self, column: str) -> int | None:
        """A whole number above 0; None where the cell is empty."""
        figure = self.above_zero(column)
        if figure is not None and not figure.is_integer():
            raise PluginError(self.at, f"{column} = {figure:g} isn't a whole number", "empty where it isn't known")
        return None if figure is None else int(figure)

    def one_of(self, column: str, words: Mapping[str, T]) -> T:
        """What a word stands for."""
        text = self.text(column).strip()
        if text not in words:
            choice = ", ".join(word or "nothing" for word in words)
            raise PluginError(self.at, f"{column} = {text!r} is none of its words", f"{column} is one of: {choice}")
        return words[text]


def _tolerance(row: _Row) -> Tolerance | None:
    """Between what a cable's standard lets its size be; None where the row has no such limits.

    Raises:
        PluginError: A limit of a size stands alone, the size isn't between its limits, or it isn't said where they are from.
    """
    limits = {size: tuple(map(row.above_zero, columns)) for size, columns in LIMITED.items()}
    if not any(limit is not None for pair in limits.values() for limit in pair):
        return None
    sized = [size for size in LIMITED if row.above_zero(f"{size}_mm") is not None]
    if row.above_zero("area_mm2") is not None:
        raise PluginError(
            row.at, "it has limits of its size beside a printed area", "leave out area_mm2, or the limits"
        )
    for size, (lower, upper) in limits.items():
        own, columns = row.above_zero(f"{size}_mm"), " and ".join(LIMITED[size])
        if (size in sized) != (lower is not None) or (size in sized) != (upper is not None):
            raise PluginError(
                row.at, f"{columns} don't both go with {size}_mm", "each size that it has needs both, no other any"
            )
        if lower is not None and upper is not None and own is not None and not lower <= own <= upper:
            raise PluginError(
                row.at, f"{size}_mm = {own:g} isn't between {lower:g} and {upper:g}", f"look at {columns}"
            )
    for column in ("limits_source", "limits_confidence"):
        row.filled(column)
    return Tolerance(*limits["diameter"], *limits["width"], *limits["height"])


def _rows(table: Table, distribution: str, columns: tuple[str, ...]) -> Iterator[_Row]:
    """The rows of a table that has some columns."""
    lacking = [column for column in columns if table.rows and column not in table.rows[0]]
    if lacking:
        noun = "the column" if len(lacking) == 1 else "the columns"
        hint = f"needed are: {', '.join(columns)}; a cell may be empty where a figure isn't known"
        raise PluginError(f"table {table.name} (from {distribution})", f"it lacks {noun} {', '.join(lacking)}", hint)
    for line, cells in enumerate(table.rows, start=2):
        yield _Row(cells, f"table {table.name}, line {line} (from {distribution})")
