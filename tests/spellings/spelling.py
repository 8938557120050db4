"""The ways in which the network is written, and what each of them can't tell."""

from dataclasses import dataclass
from enum import Enum

AXES: dict[str, tuple[str, ...]] = {
    "release": ("IFC4", "IFC2X3", "IFC4X3_ADD2"),
    "unit": ("mm", "m", "cm", "inch", "foot", "mm, degrees"),
    "ports": ("connected", "nested", "coincident", "none"),
    "shape": ("sweep", "disk", "plan", "mesh", "brep", "mapped", "box", "outline", "axis"),
    "size": ("occurrence", "type", "foreign", "quantity", "material", "shape", "project", "name"),
    "kind": ("occurrence", "type", "user", "user type", "mapped", "proxy", "words", "bare words"),
    "placement": ("flat", "nested", "rotated", "parent"),
    "frame": ("z along", "x along"),
    "declared": ("no", "yes"),
}

#: Pairs that can't be written, with reasons. What a schema only frowns on is written, as real files have it: ports nested in IFC2X3.
EXCLUDED: dict[tuple[tuple[str, str], tuple[str, str]], str] = {
    (("release", "IFC2X3"), ("shape", "mesh")): "that release has no tessellated bodies",
    (("release", "IFC2X3"), ("size", "material")): "that release has no profiles of materials",
    (("release", "IFC2X3"), ("kind", "occurrence")): "flow segments of that release have no predefined type",
    (("release", "IFC2X3"), ("kind", "user")): "flow segments of that release have no predefined type",
    (("kind", "mapped"), ("size", "type")): "such elements are written without a type",
    (("kind", "bare words"), ("size", "type")): "such elements are written without a type",
    (("kind", "proxy"), ("ports", "connected")): "a proxy can't have ports by that relationship since IFC4",
}


class Told(Enum):
    """Whether a spelling tells a figure. ``PERHAPS``: by a source that needn't be asked, but if it is, the figure must be right."""

    YES = "yes"
    PERHAPS = "perhaps"
    NO = "no"


@dataclass(frozen=True)
class Spelling:
    """One way to write the network.

    Attributes:
        release: Of the schema.
        unit: Of length; "mm, degrees" has a unit of angles besides that isn't the SI's.
        ports: Connected to their elements and each other, nested and connected, nested but not connected, or not there.
        shape: Of the carriers; "disk": a swept disk for round ones, a plain rectangle along the axis for others; "plan": a rectangle as
            seen from above, extruded upward; "axis": no body, an axis.
        size: Where width, height and diameter are written. Bodies show them too, but for "axis".
        kind: How it is said what an element is.
        placement: What placements are relative to.
        frame: Which of its own axes an element lies along, and whether its origin is at its start or in its middle.
        declared: Whether the project file gives walls and usable depths.
    """

    release: str
    unit: str
    ports: str
    shape: str
    size: str
    kind: str
    placement: str
    frame: str
    declared: str

    @property
    def has_type(self) -> bool:
        """Whether elements have a type of their own."""
        return self.kind not in {"mapped", "bare words"}

    @property
    def knows_size(self) -> bool:
        """Whether outside sizes are told at all."""
        return not (self.size == "shape" and self.shape == "axis")

    @property
    def knows_round(self) -> bool:
        """Whether a round section is told from a square one: a box round a pipe doesn't say."""
        return self.size != "shape" or self.shape in {"sweep", "disk", "mapped"}

    def tells_wall(self, *, is_round: bool) -> Told:
        """Whether the wall is told."""
        if self.declared == "yes" or self.size == "foreign" or self.shape in {"sweep", "mapped"}:
            return Told.YES
        if self.shape == "disk" and is_round:
            return Told.YES
        return Told.PERHAPS if self.size == "material" or (self.size == "quantity" and is_round) else Told.NO

    def tells_depth(self) -> Told:
        """Whether the usable depth of trays and ladders is told."""
        if self.declared == "yes" or self.size == "foreign" or self.shape in {"sweep", "mapped"}:
            return Told.YES
        return Told.PERHAPS if self.size == "material" else Told.NO

    @property
    def knows_joins(self) -> bool:
        """Whether it is told what fittings join: they have ports, or a body in which ends lie."""
        return not (self.ports == "none" and self.shape == "axis")
