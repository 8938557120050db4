"""What types of carriers, which rooms and which storeys the data room has: the drawing's legend, as data.

All lengths here are in millimetres, in the building's own axes: x runs east, y north, z up from the finished level of level 0,
also for what lies on level 1. The model is written in metres, and the building stands turned on its site.
"""

from dataclasses import dataclass

Point = tuple[float, float, float]

LADDER, TRAY = "CABLELADDERSEGMENT", "CABLETRAYSEGMENT"


@dataclass(frozen=True, slots=True)
class CarrierType:
    """One type of carrier as the design team made it.

    `shape` is how its lengths are drawn: u, outline, hollow, solid (sections along the run), plan (the plan rectangle extruded upward),
    piece (a fixed length that the type draws once), mesh (a triangulated trough) or "" (nothing is drawn).
    `predefined_type` is what the type says of itself; a length says the same unless `Segment.said` has something else.
    """

    key: str
    name: str
    predefined_type: str
    width_mm: float
    height_mm: float
    shape: str
    quantity_m: tuple[float, float] | None = None
    """Width and height of the type's quantities, as they stand in the file, whose unit is the metre."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One straight length, from the middle of one end to the middle of the other."""

    tag: str
    type_key: str
    storey: int
    start: Point
    end: Point
    said: tuple[str, str | None] | None = None
    """What the length says of itself in place of its type's word: PredefinedType and ObjectType."""
    status: str = "NEW"
    drawn: bool = True
    space: str = ""
    """The room that it is listed in, by number; most lengths are listed in their storey."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """A bend, with a box as its body."""

    tag: str
    storey: int
    centre: Point
    size_mm: Point


@dataclass(frozen=True, slots=True)
class Joint:
    """Two things that meet, as `tag:start`, `tag:end` or the tag of a fitting, of equipment, or of a carrier met at its side.

    `how`: `ports` (both have a port and the file connects them), `coincident` (both have a port, and nothing connects them), `ends`
    (end on end, at least one without a port), `side` (an end at another carrier's side), `body` (an end in a bend that has no ports).
    """

    one: str
    other: str
    how: str


@dataclass(frozen=True, slots=True)
class Equipment:
    """What a circuit starts from or goes to. `centre` is the middle of its body; `space` the number of its room."""

    tag: str
    name: str
    ifc_class: str
    predefined_type: str
    storey: int
    space: str
    centre: Point
    size_mm: Point


RUNG_MM, RAIL_MM = 20.0, 2.0
"""How high a ladder's rungs stand, and how thick its rails are. What is left above the rungs, 100 - 20 = 80 mm, may be used."""

TYPES: dict[str, CarrierType] = {
    item.key: item
    for item in (
        CarrierType("main", "Main ladder", LADDER, 400.0, 100.0, "u"),
        CarrierType("upright", "Upright ladder", LADDER, 400.0, 100.0, "outline"),
        CarrierType("row-a", "Row ladder, supply A", LADDER, 300.0, 100.0, "hollow"),
        CarrierType("row-b", "Row ladder, supply B", LADDER, 300.0, 100.0, "solid"),
        # Somebody typed millimetres where the file's unit is the metre.
        CarrierType("row-b-1", "Row ladder, supply B, first row", LADDER, 300.0, 100.0, "solid", (300.0, 100.0)),
        CarrierType("spine", "Main basket", TRAY, 400.0, 60.0, "mesh"),
        CarrierType("row", "Row basket", TRAY, 300.0, 60.0, "plan"),
        CarrierType("piece", "Row basket, piece of 3 m", TRAY, 300.0, 60.0, "piece"),
        CarrierType("riser", "Riser basket", TRAY, 300.0, 60.0, "mesh"),
        CarrierType("link", "Cable basket 200 x 60", "NOTDEFINED", 200.0, 60.0, "plan"),
        CarrierType("later", "Basket, to be selected", TRAY, 0.0, 0.0, ""),
        CarrierType("floor", "Floor basket", "NOTDEFINED", 100.0, 50.0, "plan"),
    )
}

PIECE_MM = 3000.0

STOREYS: tuple[tuple[str, float], ...] = (("Level 0", 0.0), ("Level 1", 4500.0))
SITE_AT, BUILDING_AT, BUILDING_TURN_DEG = (200000.0, 150000.0, 35000.0), (12000.0, 8000.0, 0.0), 30.0

# number, storey, name, west, south, east, north, height
ROOMS: tuple[tuple[str, int, str, float, float, float, float, float], ...] = (
    ("0.01", 0, "Plant room, supply A", 0, 0, 9000, 5000, 4000),
    ("0.02", 0, "Plant room, supply B", 0, 8000, 9000, 12000, 4000),
    ("0.03", 0, "Meet-me room", 9000, 5000, 16000, 9000, 4000),
    ("1.01", 1, "Data hall", 0, 0, 16000, 12000, 4000),
)
ZONES: tuple[tuple[str, tuple[str, ...]], ...] = (("White space", ("1.01",)), ("Plant", ("0.01", "0.02")))

# storey, name, underside z, thickness
SLABS: tuple[tuple[int, str, float, float], ...] = (
    (0, "Ground slab", -300.0, 300.0),
    (1, "Slab of level 1", 4200.0, 300.0),
)
PLAN_SIZE_MM = (16000.0, 12000.0)

# The grid of the building, on both storeys: lines that run north at an x, and lines that run east at a y.
GRID_NORTH: tuple[tuple[str, float], ...] = (("A", 0.0), ("B", 5500.0), ("C", 11000.0), ("D", 16000.0))
GRID_EAST: tuple[tuple[str, float], ...] = (("1", 0.0), ("2", 6000.0), ("3", 12000.0))
GRID_BEYOND_MM = 1000.0
"""How far a line goes beyond the outer ones that it crosses."""
