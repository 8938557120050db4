"""The parts that a benchmark's building is made of, as a modelling program would write them: every one with its own lines."""

from collections import defaultdict
from collections.abc import Sequence
from typing import TextIO

from tests.benchmarks.step import Point, StepFile

#: Directions that carriers run in: their axis, and across it the direction of their width.
ALONG_X, ALONG_Y, DOWN, UP = "along x", "along y", "down", "up"
_WAYS = {
    ALONG_X: ((1, 0, 0), (0, 1, 0)),
    ALONG_Y: ((0, 1, 0), (1, 0, 0)),
    DOWN: ((0, 0, -1), (1, 0, 0)),
    UP: ((0, 0, 1), (1, 0, 0)),
}

TRUNKING = "Ceiling trunking 225x50"
CONDUITS = {"power": "Power conduit 20", "control": "Control conduit 20", "data": "Data conduit 20"}
WALL_MM, TRUNKING_MM, CONDUIT_MM = 1.6, (225.0, 50.0), 20.0
FITTING_MM = 100.0


class Building:
    """Writes elements into storeys; what relates many is written by ``end``."""

    def __init__(self, stream: TextIO) -> None:
        self.step = step = StepFile(stream)
        self._ways = {name: (self._direction(axis), self._direction(across)) for name, (axis, across) in _WAYS.items()}
        origin = step.point((0.0, 0.0, 0.0))
        self._frame = step.add(f"IFCAXIS2PLACEMENT3D({origin},$,$)")
        self.context = step.add(f"IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-05,{self._frame},$)")
        unit = step.add("IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)")
        units = step.add(f"IFCUNITASSIGNMENT(({unit}))")
        self._project = step.rooted("IFCPROJECT", f"'Benchmark',$,$,$,$,({self.context}),{units}")
        world = step.add(f"IFCLOCALPLACEMENT($,{self._frame})")
        self._building = step.rooted("IFCBUILDING", f"'Benchmark building',$,$,{world},$,$,.ELEMENT.,$,$,$")
        self._world = world
        self._steel = step.add("IFCMATERIAL('Steel, galvanised',$,$)")
        self._types, self._profiles = self._make_types()
        flat = self._flat_frame()
        self._block = step.add(f"IFCRECTANGLEPROFILEDEF(.AREA.,$,{flat},{FITTING_MM},{FITTING_MM})")
        self._wall_type = step.rooted("IFCWALLTYPE", "'Wall 200',$,$,$,$,$,$,.STANDARD.")
        self._of_type: dict[str, list[str]] = defaultdict(list)
        self._storeys: list[str] = []
        self._here: list[str] = []
        self.carriers = 0

    def _direction(self, way: tuple[int, int, int]) -> str:
        return self.step.add(f"IFCDIRECTION(({way[0]}.,{way[1]}.,{way[2]}.))")

    def _flat_frame(self) -> str:
        return self.step.add(f"IFCAXIS2PLACEMENT2D({self.step.add('IFCCARTESIANPOINT((0.,0.))')},$)")

    def _make_types(self) -> tuple[dict[str, str], dict[str, str]]:
        """Types with the standard property set of their size, and the profile of each."""
        step, types, profiles = self.step, {}, {}
        width, height = TRUNKING_MM
        measure = "IFCPOSITIVELENGTHMEASURE"
        sizes = [("NominalWidth", f"{measure}({width})"), ("NominalHeight", f"{measure}({height})")]
        kinds = {TRUNKING: ("Pset_CableCarrierSegmentTypeCableTrunkingSegment", sizes, "CABLETRUNKINGSEGMENT")}
        round_size = [("NominalDiameter", f"{measure}({CONDUIT_MM})")]
        for name in CONDUITS.values():
            kinds[name] = ("Pset_CableCarrierSegmentTypeConduitSegment", round_size, "CONDUITSEGMENT")
        for name, (set_name, values, predefined) in kinds.items():
            properties = step.property_set(set_name, values)
            types[name] = step.rooted("IFCCABLECARRIERSEGMENTTYPE", f"'{name}',$,$,({properties}),$,$,$,.{predefined}.")
            flat = self._flat_frame()
            sides = f"{width},{height},{WALL_MM},$,$" if name == TRUNKING else f"{CONDUIT_MM / 2},{WALL_MM}"
            profile = "IFCRECTANGLEHOLLOWPROFILEDEF" if name == TRUNKING else "IFCCIRCLEHOLLOWPROFILEDEF"
            profiles[name] = step.add(f"{profile}(.AREA.,'{name}',{flat},{sides})")
        return types, profiles

    def storey(self, number: int, elevation: float) -> None:
        """Begins a storey; what is written from here on stands in it."""
        self._close_storey()
        self._floor = self.step.placement(self._world, (0.0, 0.0, elevation))
        name = f"Level {number:02d}"
        self._storeys.append(
            self.step.rooted("IFCBUILDINGSTOREY", f"'{name}',$,$,{self._floor},$,$,.ELEMENT.,{elevation}")
        )

    def _close_storey(self) -> None:
        if self._storeys:
            self.step.relate("IFCRELCONTAINEDINSPATIALSTRUCTURE", self._storeys[-1], self._here, many_first=True)
        self._here = []

    def carrier(self, tag: str, kind: str, start: Point, way: str, length: float) -> tuple[str, str]:
        """A carrier segment with a hollow profile and two ports, in the storey's coordinates. Gives its ports, start and end."""
        step = self.step
        axis, across = self._ways[way]
        place = step.placement(self._floor, start, axis, across)
        up = self._ways[UP][0]
        solid = step.add(f"IFCEXTRUDEDAREASOLID({self._profiles[kind]},{self._frame},{up},{length})")
        shape = step.shape(self.context, "SweptSolid", solid)
        predefined = "CABLETRUNKINGSEGMENT" if kind == TRUNKING else "CONDUITSEGMENT"
        element = step.rooted("IFCCABLECARRIERSEGMENT", f"'{kind}',$,$,{place},{shape},'{tag}',.{predefined}.")
        quantity = step.add(f"IFCQUANTITYLENGTH('GrossLength',$,$,{length},$)")
        base = step.rooted("IFCELEMENTQUANTITY", f"'Qto_CableCarrierSegmentBaseQuantities',$,$,({quantity})")
        step.relate("IFCRELDEFINESBYPROPERTIES", base, [element], many_first=True)
        self._tell(element, tag, "segment")
        self._of_type[self._types[kind]].append(element)
        self.carriers += 1
        one, other = self._ports(element, place, [(0.0, 0.0, 0.0), (0.0, 0.0, length)])
        return one, other

    def fitting(self, tag: str, kind: str, centre: Point, offsets: Sequence[Point]) -> list[str]:
        """A fitting (BEND, TEE, CONNECTOR, BOX) with a port at each offset from its centre. Gives its ports.

        IFC4 has a class of its own for boxes, and no word for connectors: there what the user wrote says it.
        """
        step = self.step
        place = step.placement(self._floor, centre)
        low = step.add(f"IFCAXIS2PLACEMENT3D({step.point((0.0, 0.0, -FITTING_MM / 2))},$,$)")
        solid = step.add(f"IFCEXTRUDEDAREASOLID({self._block},{low},{self._ways[UP][0]},{FITTING_MM})")
        shape = step.shape(self.context, "SweptSolid", solid)
        name = "IFCJUNCTIONBOX" if kind == "BOX" else "IFCCABLECARRIERFITTING"
        words = {"BOX": ("$", "POWER"), "CONNECTOR": ("'CONNECTOR'", "USERDEFINED")}
        free, predefined = words.get(kind, ("$", kind))
        element = step.rooted(name, f"'{kind.capitalize()}',$,{free},{place},{shape},'{tag}',.{predefined}.")
        self._tell(element, tag, "fitting")
        return self._ports(element, place, offsets)

    def _ports(self, element: str, place: str, offsets: Sequence[Point]) -> list[str]:
        ports = []
        for number, offset in enumerate(offsets, start=1):
            spot = self.step.placement(place, offset)
            rest = f"'Port {number}',$,$,{spot},$,.SOURCEANDSINK.,.CABLECARRIER.,$"
            ports.append(self.step.rooted("IFCDISTRIBUTIONPORT", rest))
        self.step.relate("IFCRELNESTS", element, ports)
        return ports

    def _tell(self, element: str, tag: str, what: str) -> None:
        """Properties as people keep them, which a check has to read past."""
        values = (
            ("Mark", f"IFCLABEL('{tag}')"), ("Part", f"IFCLABEL('{what}')"), ("Work package", "IFCLABEL('Electrical, second fix')"),
            ("Phase", "IFCINTEGER(2)"), ("Supports", "IFCPOSITIVELENGTHMEASURE(1200.)"), ("Fire stopped", "IFCBOOLEAN(.F.)"),
        )  # fmt: skip
        properties = self.step.property_set("Installation", values)
        self.step.relate("IFCRELDEFINESBYPROPERTIES", properties, [element], many_first=True)
        self._here.append(element)

    def connect(self, one: str, other: str) -> None:
        """Two ports that belong together."""
        self.step.rooted("IFCRELCONNECTSPORTS", f"$,$,{one},{other},$")

    def equipment(self, name: str, tag: str, at: Point) -> None:
        """A board or an outlet, without a body."""
        place = self.step.placement(self._floor, at)
        self._here.append(self.step.rooted(name, f"'{tag}',$,$,{place},$,'{tag}',$"))

    def wall(self, tag: str, at: Point, points: str, triangles: str) -> None:
        """A wall with a body of triangles; both lists as STEP text."""
        step = self.step
        coordinates = step.add(f"IFCCARTESIANPOINTLIST3D({points})")
        mesh = step.add(f"IFCTRIANGULATEDFACESET({coordinates},$,.T.,{triangles},$)")
        shape = step.shape(self.context, "Tessellation", mesh)
        element = step.rooted("IFCWALL", f"'Wall',$,$,{step.placement(self._floor, at)},{shape},'{tag}',.STANDARD.")
        no = "IFCBOOLEAN(.F.)"
        values = (("Reference", "IFCIDENTIFIER('W200')"), ("LoadBearing", no), ("IsExternal", no))
        properties = step.property_set("Pset_WallCommon", values)
        step.relate("IFCRELDEFINESBYPROPERTIES", properties, [element], many_first=True)
        self._of_type[self._wall_type].append(element)
        self._here.append(element)

    def end(self) -> None:
        """Writes what relates many, and the end of the file."""
        self._close_storey()
        for kind, elements in self._of_type.items():
            self.step.relate("IFCRELDEFINESBYTYPE", kind, elements, many_first=True)
        made = [element for kind in self._types.values() for element in self._of_type[kind]]
        self.step.relate("IFCRELASSOCIATESMATERIAL", self._steel, made, many_first=True)
        self.step.relate("IFCRELAGGREGATES", self._project, [self._building])
        self.step.relate("IFCRELAGGREGATES", self._building, self._storeys)
        self.step.end()
