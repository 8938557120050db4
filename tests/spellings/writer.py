"""Writes the network in one spelling: a folder with a model, a schedule and a project file."""

from pathlib import Path
from typing import Any

import numpy as np

from tests.spellings import kinds, sizes
from tests.spellings.network import DEVICES, LEVELS, LIMITS, PIECES, SCHEDULE, SEGMENTS, Device, Piece, Point, Segment
from tests.spellings.pen import Entity, Frame, Pen, frame, turned, within
from tests.spellings.shapes import piece_shape, segment_frame, segment_shape
from tests.spellings.spelling import Spelling

#: Where site, building and storeys are in what is around them; each level besides at its height.
SITE, BUILDING, OFFSET = turned(0.0, (1200.0, -800.0, 150.0)), turned(0.0, (0.0, 4300.0, 0.0)), (250.0, 0.0, 0.0)
TURNED_BUILDING = turned(30.0, (-5000.0, 4300.0, 0.0))


class Writer:
    """Writes one model."""

    def __init__(self, spelling: Spelling) -> None:
        self.spelling = spelling
        self.pen = Pen(spelling.release, spelling.unit)
        self.frames: dict[int, Frame] = {}
        self.storeys: dict[str, Entity] = {}
        self.elements: dict[str, Entity] = {}
        self._spaces()

    def write(self, folder: Path) -> Path:
        """Writes the folder's files."""
        pen = self.pen
        for thing in (*SEGMENTS, *PIECES, *DEVICES):
            self.elements[thing.tag] = self._element(thing)
        for storey, contained in self.storeys.items():
            inside = [self.elements[thing.tag] for thing in (*SEGMENTS, *PIECES, *DEVICES) if thing.storey == storey]
            pen.rooted("IfcRelContainedInSpatialStructure", RelatedElements=inside, RelatingStructure=contained)
        if self.spelling.ports != "none":
            self._ports()
        pen.file.header.file_name.time_stamp = "2026-11-02T09:00:00"
        pen.file.write(str(folder / "model.ifc"))
        (folder / "circuits.csv").write_text(SCHEDULE, encoding="utf-8")
        head = '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n\n'
        told = kinds.toml((*SEGMENTS, *PIECES), self.spelling) + sizes.toml(SEGMENTS, self.spelling)
        (folder / "wayroom.toml").write_text(head + told + LIMITS, encoding="utf-8")
        return folder

    def _spaces(self) -> None:
        pen, flat = self.pen, self.spelling.placement == "flat"
        project = pen.rooted("IfcProject", Name="Small", RepresentationContexts=[pen.context], UnitsInContext=pen.units)
        inner = TURNED_BUILDING if self.spelling.placement == "rotated" else BUILDING
        site = pen.rooted(
            "IfcSite", Name="Plot", CompositionType="ELEMENT", ObjectPlacement=None if flat else self._placed(SITE)
        )
        around = site.ObjectPlacement
        building = pen.rooted("IfcBuilding", Name="House", CompositionType="ELEMENT",
                              ObjectPlacement=None if flat else self._placed(SITE @ inner, around))  # fmt: skip
        for name, height in LEVELS.items():
            level = SITE @ inner @ turned(0.0, (OFFSET[0], OFFSET[1], height))
            placement = None if flat else self._placed(level, building.ObjectPlacement)
            self.storeys[name] = pen.rooted(
                "IfcBuildingStorey", Name=name, CompositionType="ELEMENT", ObjectPlacement=placement
            )
        for whole, parts in ((project, [site]), (site, [building]), (building, list(self.storeys.values()))):
            pen.rooted("IfcRelAggregates", RelatingObject=whole, RelatedObjects=parts)

    def _placed(self, world: Frame, relative_to: Entity | None = None) -> Entity:
        """A placement whose frame in the world is ``world``."""
        parent = np.eye(4) if relative_to is None else self.frames[relative_to.id()]
        placement = self.pen.place(within(parent, world), relative_to)
        self.frames[placement.id()] = world
        return placement

    def _place(self, world: Frame, storey: str) -> Entity:
        """The placement of an element, relative to whatever the spelling says."""
        if self.spelling.placement == "flat":
            return self._placed(world)
        first = self.elements.get("T1")
        if self.spelling.placement == "parent" and first is not None:
            return self._placed(world, first.ObjectPlacement)
        return self._placed(world, self.storeys[storey].ObjectPlacement)

    def _element(self, thing: Segment | Piece | Device) -> Entity:
        if isinstance(thing, Device):
            return self._device(thing)
        local = self._own_frame(thing)
        placement = self._place(local, thing.storey)
        if isinstance(thing, Segment):
            shape = segment_shape(self.pen, thing, local, self.spelling.shape)
        else:
            shape = piece_shape(self.pen, thing, local, self.spelling.shape)
        element, of_type = kinds.element(
            self.pen, thing, self.spelling, ObjectPlacement=placement, Representation=shape
        )
        if isinstance(thing, Segment):
            sizes.write_sizes(self.pen, thing, element, of_type, self.spelling)
        return element

    def _own_frame(self, thing: Segment | Piece) -> Frame:
        """An element's own frame: along Z from its start, or along X from its middle; of a fitting upright, or turned."""
        along_z = self.spelling.frame == "z along"
        if isinstance(thing, Piece):
            x: Point = (1.0, 0.0, 0.0) if along_z else (0.0, 1.0, 0.0)
            return frame(thing.centre, x, (0.0, 0.0, 1.0))
        if along_z:
            return segment_frame(thing)
        x_, y_, z_ = ((a + b) / 2.0 for a, b in zip(thing.start, thing.end, strict=True))
        up: Any = np.cross(thing.along, thing.across)
        return frame((x_, y_, z_), thing.along, (float(up[0]), float(up[1]), float(up[2])))

    def _device(self, device: Device) -> Entity:
        old = self.spelling.release == "IFC2X3"
        names = ("IfcFlowController", "IfcFlowTerminal") if old else ("IfcElectricDistributionBoard", "IfcOutlet")
        upright = frame(device.point, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
        placement = self._place(upright, device.storey)
        return self.pen.rooted(
            names[0 if device.is_board else 1], Tag=device.tag, Name=device.tag, ObjectPlacement=placement
        )

    def _ports(self) -> None:
        """A port at each end of each carrier and each branch of each fitting."""
        at: dict[tuple[str, Point], Entity] = {}
        for segment in SEGMENTS:
            for point in (segment.start, segment.end):
                at[segment.tag, point] = self._port(segment.tag, point)
        for piece in PIECES:
            for tag, point in piece.branches:
                port = self._port(piece.tag, point)
                if self.spelling.ports != "coincident":
                    self.pen.rooted("IfcRelConnectsPorts", RelatingPort=at[tag, point], RelatedPort=port)

    def _port(self, tag: str, point: Point) -> Entity:
        element = self.elements[tag]
        upright = frame(point, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
        parent = None if self.spelling.placement == "flat" else element.ObjectPlacement
        port = self.pen.rooted("IfcDistributionPort", ObjectPlacement=self._placed(upright, parent))
        if self.spelling.ports == "connected" or (
            self.spelling.ports == "coincident" and self.spelling.release == "IFC2X3"
        ):
            self.pen.rooted("IfcRelConnectsPortToElement", RelatingPort=port, RelatedElement=element)
        else:
            self.pen.rooted("IfcRelNests", RelatingObject=element, RelatedObjects=[port])
        return port
