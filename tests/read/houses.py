"""A model with walls that carriers pass, for tests."""

from dataclasses import dataclass
from typing import Any

from checker.model import Installation
from checker.network.penetrations import doubt_of
from tests.read.reading import carrier_of
from tests.small_models import Point, SmallModel
from tests.small_shapes import ShapePen

COMMON = {"IfcWall": "Pset_WallCommon", "IfcSlab": "Pset_SlabCommon", "IfcRoof": "Pset_RoofCommon",
          "IfcCovering": "Pset_CoveringCommon", "IfcCurtainWall": "Pset_CurtainWallCommon"}  # fmt: skip


@dataclass
class House(SmallModel):
    """A model of walls, 10 m along Y, 200 mm thick and 3 m high, and of trays from x = -3 m to 3 m, 2.5 m up."""

    def __post_init__(self) -> None:
        super().__post_init__()
        self.pen = ShapePen(self.schema)
        self.pen.file, self.pen.make = self.file, self.file.create_entity

    def tray(self, tag: str = "T1", start: Point = (-3000.0, 0.0, 2500.0), end: Point = (3000.0, 0.0, 2500.0)) -> Any:
        return self.carrier(tag, start, end, self.profile("IfcRectangleProfileDef", 300.0, 60.0), "CABLETRAYSEGMENT")

    def shape(self, *items: Any) -> Any:
        made = self.file.create_entity("IfcShapeRepresentation", self.context, "Body", "SweptSolid", list(items))
        return self.file.create_entity("IfcProductDefinitionShape", Representations=[made])

    def wall(self, tag: str = "W1", rating: Any = "EI 60", *, at: Point = (0.0, 0.0, 0.0), name: str = "IfcWall",
             body: Any = "a plan", across: Point = (0.0, 1.0, 0.0), **more: Any) -> Any:  # fmt: skip
        """Its middle stands at a point; it runs along ``across``."""
        if body == "a plan":
            body = self.body(self.profile("IfcRectangleProfileDef", 10_000.0, 200.0), 3000.0)
        place = self.place(at, across=across)
        element = self.rooted(name, Tag=tag, Name=tag, ObjectPlacement=place, Representation=body, **more)
        self.contained.append(element)
        if rating is not None:
            self.properties(element, COMMON[name], FireRating=rating)
        return element


def passed(installation: Installation, tag: str = "T1") -> dict[str, str]:
    """The barriers that a carrier passes, with the doubt that there is."""
    carrier = carrier_of(installation, tag)
    found = {item.place.label: doubt_of(carrier, item) for item in installation.barriers}
    return {label: doubt for label, doubt in found.items() if doubt is not None}
