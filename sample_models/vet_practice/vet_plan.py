"""What kinds of carriers and which rooms the practice has: the drawing's legend, as data.

All lengths are in millimetres. Points are (x, y, z): x runs east, y north, z up from the ground floor's finished level,
also for what lies on the first floor.
"""

from dataclasses import dataclass

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class CarrierType:
    """One size of one kind of carrier, as it is ordered."""

    key: str
    name: str
    predefined_type: str
    width_mm: float
    height_mm: float
    wall_mm: float
    dividers_at_mm: tuple[float, ...] = ()
    """Where the centre of each divider stands, from the middle of the width."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One straight length, from the point where it starts to the point where it ends."""

    tag: str
    type_key: str
    storey: int
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Fitting:
    """A bend, tee, cross, reducer or box, and the segment ends that meet in it, as `tag:start` or `tag:end`."""

    tag: str
    kind: str
    storey: int
    centre: Point
    joins: tuple[str, ...]
    box_mm: Point | None = None


@dataclass(frozen=True, slots=True)
class Equipment:
    """What a circuit starts from or goes to. `centre` is the middle of its body."""

    tag: str
    name: str
    ifc_class: str
    predefined_type: str
    storey: int
    centre: Point
    size_mm: Point
    joins: tuple[str, ...] = ()
    """The segment ends that open into it, as a fitting's."""


TRUNKING, TRAY, LADDER, CONDUIT = "CABLETRUNKINGSEGMENT", "CABLETRAYSEGMENT", "CABLELADDERSEGMENT", "CONDUITSEGMENT"

# Floor trunking, from the left: wall 1.6, lane 92, divider 1.6, lane 46, divider 1.6, lane 80.6, wall 1.6 = 225.
FLOOR_DIVIDERS_MM = (-112.5 + 1.6 + 92.0 + 0.8, -112.5 + 1.6 + 92.0 + 1.6 + 46.0 + 0.8)

# Steel walls: trunking up to 50x50 1.0 mm, to 100x50 1.2 mm, above 1.6 mm; heavy gauge conduit of 20 and 25 mm 1.6 mm
# (usual sizes to BS 4678-1 and BS 4568-1 / EN 61386-21). Tray and ladder are this sample's own choice.
TYPES: dict[str, CarrierType] = {
    item.key: item
    for item in (
        CarrierType("floor", "Floor trunking 225x50 three-lane", TRUNKING, 225.0, 50.0, 1.6, FLOOR_DIVIDERS_MM),
        CarrierType("floor100", "Front floor trunking 100x50", TRUNKING, 100.0, 50.0, 1.2),
        CarrierType("main", "Main trunking 150x150", TRUNKING, 150.0, 150.0, 1.6),
        CarrierType("wall100", "Wall trunking 100x50", TRUNKING, 100.0, 50.0, 1.2),
        CarrierType("wall50", "Wall trunking 50x50", TRUNKING, 50.0, 50.0, 1.0),
        CarrierType("data100", "Data trunking 100x50", TRUNKING, 100.0, 50.0, 1.2),
        CarrierType("fire50", "Fire alarm trunking 50x50", TRUNKING, 50.0, 50.0, 1.0),
        CarrierType("tray", "Corridor tray 300x50 two-lane", TRAY, 300.0, 50.0, 1.5),
        CarrierType("ladder", "Riser ladder 300x60", LADDER, 300.0, 60.0, 15.0),
        CarrierType("power20", "Power conduit 20", CONDUIT, 20.0, 20.0, 1.6),
        CarrierType("power25", "Power conduit 25", CONDUIT, 25.0, 25.0, 1.6),
        CarrierType("control20", "Control conduit 20", CONDUIT, 20.0, 20.0, 1.6),
        CarrierType("data25", "Data conduit 25", CONDUIT, 25.0, 25.0, 1.6),
        CarrierType("fire20", "Fire alarm conduit 20", CONDUIT, 20.0, 20.0, 1.6),
        CarrierType("fire25", "Fire alarm conduit 25", CONDUIT, 25.0, 25.0, 1.6),
        CarrierType("emergency20", "Emergency conduit 20", CONDUIT, 20.0, 20.0, 1.6),
        CarrierType("emergency25", "Emergency conduit 25", CONDUIT, 25.0, 25.0, 1.6),
    )
}

STOREYS: tuple[tuple[str, float], ...] = (("Ground floor", 0.0), ("First floor", 3600.0))

# storey, number, name, west, south, east, north
ROOMS: tuple[tuple[int, str, str, float, float, float, float], ...] = (
    (0, "G01", "Plant room", 0, 0, 3700, 5200),
    (0, "G02", "Reception", 3700, 0, 8500, 5200),
    (0, "G03", "Consulting room 1", 8500, 0, 12500, 5200),
    (0, "G04", "Consulting room 2", 12500, 0, 16500, 5200),
    (0, "G05", "X-ray room", 16500, 0, 20500, 5200),
    (0, "G06", "Pharmacy", 20500, 0, 24000, 5200),
    (0, "G07", "Corridor", 0, 5200, 24000, 6800),
    (0, "G08", "Data room", 3700, 6800, 8500, 12000),
    (0, "G09", "Riser cupboard", 9400, 6800, 10600, 7600),
    (0, "G10", "Theatre and preparation", 10600, 6800, 16000, 12000),
    (0, "G11", "Imaging and kennels", 16000, 6800, 24000, 12000),
    (1, "F01", "Corridor", 0, 5200, 24000, 6800),
    (1, "F02", "Meeting room", 0, 6800, 9400, 9000),
    (1, "F03", "Riser cupboard", 9400, 6800, 10600, 7600),
    (1, "F04", "Staff kitchen", 0, 9000, 12500, 12000),
    (1, "F05", "Office", 12500, 6800, 19500, 12000),
    (1, "F06", "Laboratory", 19500, 6800, 24000, 12000),
    (1, "F07", "Flat roof plant", 0, 0, 24000, 5200),
)

# storey, name, from (x, y), to (x, y): the middle line of each wall
WALLS: tuple[tuple[int, str, float, float, float, float], ...] = (
    (0, "South front", 0, -100, 24000, -100),
    (0, "North front", 0, 12100, 24000, 12100),
    (0, "West front", -100, 0, -100, 12000),
    (0, "East front", 24100, 0, 24100, 12000),
    (0, "Corridor south", 0, 5200, 24000, 5200),
    (0, "Corridor north", 0, 6800, 24000, 6800),
    (0, "Plant to reception", 3700, 0, 3700, 5200),
    (0, "Reception to consulting 1", 8500, 0, 8500, 5200),
    (0, "Consulting 1 to 2", 12500, 0, 12500, 5200),
    (0, "Consulting 2 to X-ray", 16500, 0, 16500, 5200),
    (0, "X-ray to pharmacy", 20500, 0, 20500, 5200),
    (0, "Theatre to imaging", 16000, 6800, 16000, 12000),
    (1, "South front", 0, -100, 24000, -100),
    (1, "North front", 0, 12100, 24000, 12100),
    (1, "West front", -100, 0, -100, 12000),
    (1, "East front", 24100, 0, 24100, 12000),
    (1, "Corridor south", 0, 5200, 24000, 5200),
    (1, "Corridor north", 0, 6800, 24000, 6800),
    (1, "Kitchen to office", 12500, 6800, 12500, 12000),
    (1, "Office to laboratory", 19500, 6800, 19500, 12000),
    (0, "Corridor partition", 12500, 5250, 12500, 6750),
)
WALL_THICKNESS_MM, ROOM_HEIGHT_MM = 100.0, 3350.0

# storey, name, underside z, thickness
SLABS: tuple[tuple[int, str, float, float], ...] = (
    (0, "Ground floor slab", -200.0, 200.0),
    (1, "First floor slab", 3350.0, 250.0),
    (1, "Roof slab", 6950.0, 250.0),
)
PLAN_SIZE_MM = (24000.0, 12000.0)

# storey and name of each wall and slab that keeps fire, and for how long
FIRE_RATINGS: dict[tuple[int, str], str] = {
    (0, "Corridor north"): "EI 60",
    (0, "Corridor partition"): "EI 30",
    (1, "First floor slab"): "REI 60",
}
