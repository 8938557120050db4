"""What a drawing of the workshop says, as data: the kinds of entries, its storeys, rooms and carrier types.

Coordinates are in feet in the building's own axes: x runs east, y north, z up from the shop floor, also on the mezzanine. Sections of
carriers are in inches, as the trade names them.
"""

from dataclasses import dataclass

Point = tuple[float, float, float]

FOOT_MM, INCH_MM = 304.8, 25.4


@dataclass(frozen=True, slots=True)
class Segment:
    """One element that carries cables: its axis as a line of points, and how it is written.

    ``shape``: ``brep`` (a faceted box, of a round one a prism of twelve sides), ``box`` (a bounding box), ``axis`` (no body), ``disks`` (a
    swept disk for each straight piece), ``disk`` (one for all), ``curve`` (one along a line, a quarter circle and a line: of the points
    the middle one is the corner, ``bend_ft`` the radius). ``size_in``: width and height, or the outside diameter alone.
    ``inner_in``: of a disk that is drawn hollow. ``fabricated_in``: width and depth by the property set "Fabrication".
    """

    tag: str
    name: str
    points: tuple[Point, ...]
    shape: str
    size_in: tuple[float, ...] = ()
    type_key: str = ""
    storey: int = 0
    inner_in: float | None = None
    bend_ft: float = 0.0
    fabricated_in: tuple[float, float] | None = None
    finish: str = ""
    is_steel: bool = False


@dataclass(frozen=True, slots=True)
class Fitting:
    """A bend or box. ``low`` and ``high`` are opposite corners of its body; ``corner`` is where the axes of a bend meet."""

    tag: str
    name: str
    kind: str
    low: Point
    high: Point
    type_class: str = ""
    type_name: str = ""
    corner: Point | None = None
    disk_in: float | None = None

    @property
    def centre(self) -> Point:
        """The middle of its body."""
        a, b = self.low, self.high
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


@dataclass(frozen=True, slots=True)
class Equipment:
    """What a circuit starts from or goes to; ``centre`` is the middle of its body.

    ``circuit``: the set, the two property names and their texts by which the model says what feeds it.
    """

    tag: str
    name: str
    ifc_class: str
    type_class: str
    predefined_type: str
    centre: Point
    size_ft: Point
    storey: int = 0
    circuit: tuple[str, str, str, str, str] | None = None


@dataclass(frozen=True, slots=True)
class CarrierType:
    """A type object. ``nominal_in``: width and height in the standard's property set."""

    name: str
    predefined_type: str
    nominal_in: tuple[float, float] | None = None


TRUNKING, TRAY, LADDER, CONDUIT = "CABLETRUNKINGSEGMENT", "CABLETRAYSEGMENT", "CABLELADDERSEGMENT", "CONDUITSEGMENT"

TYPES: dict[str, CarrierType] = {
    "riser": CarrierType("Riser wireway", TRUNKING, (4.0, 4.0)),
    "shop": CarrierType("Shop wireway", TRUNKING),
    "small": CarrierType("Wireway 2-1/2 x 2-1/2 in", TRUNKING),
    "whip": CarrierType("Machine whip", CONDUIT),
    "rmc34": CarrierType("RMC 3/4 in", CONDUIT),
    "rmc114": CarrierType("Conduit RMC 1-1/4 in", CONDUIT),
    "fire": CarrierType('Fire alarm conduit EMT 3/4"', CONDUIT),
    "data": CarrierType('Data tray 12" x 4"', TRAY),
    "ladder": CarrierType('Cable ladder 12" x 4"', LADDER),
    "trough": CarrierType("Ventilated trough", TRAY),
}

# Outside diameters of conduit by trade size, in: EMT to ANSI C80.3, rigid conduit and PVC to ANSI C80.1 and NEMA TC 2.
EMT_1_2, EMT_3_4, EMT_1 = 0.706, 0.922, 1.163
RIGID_3_4, RIGID_1_1_4, RIGID_2 = 1.050, 1.660, 2.375

STOREYS: tuple[tuple[str, float], ...] = (("Shop floor", 0.0), ("Mezzanine", 10.0))

# storey, number, name, west, south, east, north
ROOMS: tuple[tuple[int, str, str, float, float, float, float], ...] = (
    (0, "101", "Joinery shop", 0, 0, 46, 40),
    (0, "102", "Metal shop", 46, 0, 80, 50),
    (0, "103", "Store", 0, 40, 46, 50),
    (1, "201", "Office", 0, 40, 24, 50),
)
# storey, name, x1, y1, x2, y2
WALLS: tuple[tuple[int, str, float, float, float, float], ...] = (
    (0, "South", 0, -0.5, 80, -0.5),
    (0, "North", 0, 50.5, 80, 50.5),
    (0, "West", -0.5, 0, -0.5, 50),
    (0, "East", 80.5, 0, 80.5, 50),
)
ROOM_HEIGHT_FT, WALL_FT = 16.0, 0.5

#: Where the site and the building lie: 2 km from the origin, and turned.
SITE_FT: Point = (5900.0, 3300.0, 410.0)
BUILDING_FT: Point = (40.0, 25.0, 0.0)
TURNED_DEG = 27.0
