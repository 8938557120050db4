"""Writes entities of any release: scaled lengths, ids that are always the same, frames and placements."""

from typing import Any

import ifcopenshell
import ifcopenshell.guid
import numpy as np
from numpy.typing import NDArray

from tests.spellings.network import Point

Entity = Any
Frame = NDArray[np.float64]
MM_PER_UNIT = {"mm": 1.0, "m": 1000.0, "cm": 10.0, "inch": 25.4, "foot": 304.8, "mm, degrees": 1.0}
SI_PREFIX = {"mm": "MILLI", "m": None, "cm": "CENTI", "mm, degrees": "MILLI"}


def frame(origin: Point, x: Point, z: Point) -> Frame:
    """A frame as a matrix: columns are its axes and its origin, mm."""
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, np.cross(z, x), z, origin
    return matrix


def turned(degrees: float, origin: Point) -> Frame:
    """A frame turned about the upright."""
    angle = np.radians(degrees)
    return frame(origin, (float(np.cos(angle)), float(np.sin(angle)), 0.0), (0.0, 0.0, 1.0))


def within(parent: Frame, child: Frame) -> Frame:
    """A frame of the world, as it is seen from another."""
    inside: Frame = np.linalg.inv(parent) @ child
    return inside


class Pen:
    """An IFC file in the making. Lengths are given in mm and written in the file's unit."""

    def __init__(self, release: str, unit: str) -> None:
        self.file = ifcopenshell.file(schema=release)
        self.make = self.file.create_entity
        self.release = release
        self._mm = MM_PER_UNIT[unit]
        self._count = 0
        self._owner = self._make_owner() if release == "IFC2X3" else None
        self.context = self.make(
            "IfcGeometricRepresentationContext", None, "Model", 3, 1e-5, self.frame3d(np.eye(4)), None
        )
        self.units = self.make("IfcUnitAssignment", self._units(unit))

    def _make_owner(self) -> Entity:
        person = self.make("IfcPerson", FamilyName="none")
        organization = self.make("IfcOrganization", Name="none")
        both = self.make("IfcPersonAndOrganization", person, organization)
        application = self.make("IfcApplication", organization, "0", "tests", "tests")
        return self.make(
            "IfcOwnerHistory",
            OwningUser=both,
            OwningApplication=application,
            ChangeAction="NOCHANGE",
            CreationDate=0,
        )

    def _units(self, unit: str) -> list[Entity]:
        if unit in SI_PREFIX:
            units = [self.make("IfcSIUnit", None, "LENGTHUNIT", SI_PREFIX[unit], "METRE")]
        else:
            base = self.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
            units = [self._converted(base, "LENGTHUNIT", unit.upper(), "IfcLengthMeasure", self._mm / 1000.0, 1)]
        radian = self.make("IfcSIUnit", None, "PLANEANGLEUNIT", None, "RADIAN")
        if unit.endswith("degrees"):
            radian = self._converted(radian, "PLANEANGLEUNIT", "DEGREE", "IfcPlaneAngleMeasure", np.pi / 180.0, 0)
        return [*units, radian]

    def _converted(self, base: Entity, what: str, name: str, measure: str, factor: float, length: int) -> Entity:
        factor_in_base = self.make("IfcMeasureWithUnit", self.make(measure, factor), base)
        return self.make(
            "IfcConversionBasedUnit",
            self.make("IfcDimensionalExponents", length, 0, 0, 0, 0, 0, 0),
            what,
            name,
            factor_in_base,
        )

    def long(self, mm: float) -> float:
        """A length in the file's unit."""
        return float(mm) / self._mm

    def rooted(self, name: str, **attributes: Any) -> Entity:
        """An entity with a GlobalId: the n-th always gets the same one."""
        self._count += 1
        attributes = {name: value for name, value in attributes.items() if value is not None}
        if self._owner is not None:
            attributes.setdefault("OwnerHistory", self._owner)
        return self.make(name, GlobalId=ifcopenshell.guid.compress(f"{self._count:032x}"), **attributes)

    def point(self, *mm: float) -> Entity:
        """A point in two or three dimensions."""
        return self.make("IfcCartesianPoint", [self.long(value) for value in mm])

    def direction(self, *ratios: float) -> Entity:
        """A direction."""
        return self.make("IfcDirection", [float(value) for value in ratios])

    def frame3d(self, matrix: Frame) -> Entity:
        """An axis placement."""
        return self.make(
            "IfcAxis2Placement3D",
            self.point(*matrix[:3, 3]),
            self.direction(*matrix[:3, 2]),
            self.direction(*matrix[:3, 0]),
        )

    def place(self, matrix: Frame, relative_to: Entity = None) -> Entity:
        """A local placement."""
        return self.make("IfcLocalPlacement", relative_to, self.frame3d(matrix))

    def polyline(self, *points: tuple[float, ...]) -> Entity:
        """A polyline."""
        return self.make("IfcPolyline", [self.point(*point) for point in points])

    def label(self, name: str, measure: str, value: Any) -> Entity:
        """A property with one value; lengths are to be given in the file's unit."""
        return self.make("IfcPropertySingleValue", Name=name, NominalValue=self.make(measure, value))
