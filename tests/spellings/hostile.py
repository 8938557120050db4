"""Models that would make a careless reader run for ever: loops, chains, and little text that unfolds into much.

Each builder takes a size and puts that much of one sort of trouble around a sound pair of trunkings.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ifcopenshell.guid

from tests.small_models import SmallModel

Entity = Any
Builder = Callable[["Trouble", int], None]
UP = (0.0, 0.0, 1.0)
#: Chains in which each link has the next one twice unfold to 2 to this power.
DOUBLINGS = 30


class Trouble(SmallModel):
    """A board, a trunking, a socket at its far end; more is put beside them."""

    def __post_init__(self) -> None:
        super().__post_init__()
        self.make = self.file.create_entity
        hollow = self.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
        self.first = self.carrier("T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), hollow)
        self.element("IfcElectricDistributionBoard", "DB", (0.0, 300.0, 0.0))
        self.element("IfcOutlet", "S1", (4000.0, 200.0, 0.0))

    def rooted(self, name: str, **attributes: Any) -> Entity:
        """As above, but counting instead of looking how many there are: these models are large."""
        self._roots = getattr(self, "_roots", 0) + 1
        attributes.setdefault("GlobalId", ifcopenshell.guid.compress(f"{self._roots:032x}"))
        return self.file.create_entity(name, **attributes)

    def more(self, number: int, **attributes: Any) -> Entity:
        """One more carrier, far from the others, without a body unless one is given."""
        attributes.setdefault("ObjectPlacement", self.place((0.0, 10_000.0 + 1000.0 * number, 0.0)))
        element = self.rooted(
            "IfcCableCarrierSegment", Tag=f"M{number}", PredefinedType="CABLETRUNKINGSEGMENT", **attributes
        )
        self.contained.append(element)
        return element

    def shape(self, *items: Entity, style: str = "SweptSolid") -> Entity:
        """A body of some items."""
        return self.make("IfcProductDefinitionShape", Representations=[self.representation(*items, style=style)])

    def representation(self, *items: Entity, style: str = "SweptSolid") -> Entity:
        """A representation of some items."""
        return self.make("IfcShapeRepresentation", self.context, "Body", style, list(items))

    def solid(self) -> Entity:
        """A plain bar."""
        return self.body(self.profile("IfcRectangleProfileDef", 50.0, 50.0), 500.0).Representations[0].Items[0]

    def map_of(self, *items: Entity) -> Entity:
        """A mapped item of a map of items."""
        source = self.make("IfcRepresentationMap", self._frame((0.0, 0.0, 0.0)), self.representation(*items))
        return self.make("IfcMappedItem", source, self.operator())

    def operator(self) -> Entity:
        """A transformation that does nothing."""
        origin = self.make("IfcCartesianPoint", (0.0, 0.0, 0.0))
        return self.make("IfcCartesianTransformationOperator3D", None, None, origin, 1.0, None)

    def points(self, count: int) -> list[Entity]:
        """Points of a long zigzag."""
        return [self.make("IfcCartesianPoint", (float(i), float(i % 7), float(i % 3))) for i in range(count)]


def write(folder: Path, build: Builder, size: int) -> tuple[Path, int]:
    """Writes a folder with such a model and a schedule.

    Returns:
        The folder, and how many entities the model has.
    """
    folder.mkdir()
    model = Trouble()
    build(model, size)
    model.write(folder / "model.ifc")
    schedule = "circuit,from,to,service,cable,count\nK1,DB,S1,power,h07v-u-2.5,3\n"
    (folder / "circuits.csv").write_text(schedule, encoding="utf-8")
    (folder / "wayroom.toml").write_text(
        '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n', encoding="utf-8"
    )
    return folder, sum(1 for _ in model.file)
