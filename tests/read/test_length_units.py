"""Units of a file, by the definitions of the SI and of the international inch, foot and mile."""

import math
from typing import Any

import pytest

from checker.model import ProblemKind
from checker.read.length_units import angle_unit_rad, length_unit_mm, metres_in
from tests.small_shapes import Entity, ShapePen

NOTHING: list[tuple[ProblemKind, str]] = []


class UnitPen(ShapePen):
    """Units of one file, and what is said of them."""

    def __post_init__(self) -> None:
        super().__post_init__()
        self.said: list[tuple[ProblemKind, str]] = []

    def si(self, kind: str = "LENGTHUNIT", name: str = "METRE", prefix: str | None = None) -> Entity:
        return self.make("IfcSIUnit", None, kind, prefix, name)

    def converted(
        self, name: str, factor: Any, base: Entity, kind: str = "LENGTHUNIT", measure: str = "IfcLengthMeasure"
    ) -> Entity:
        value = None if factor is None else self.make(measure, factor)
        by = self.make("IfcMeasureWithUnit", value, base)
        return self.make(
            "IfcConversionBasedUnit", self.make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0), kind, name, by
        )

    def degree(self, factor: Any) -> Entity:
        return self.converted(
            "DEGREE", factor, self.si("PLANEANGLEUNIT", "RADIAN"), "PLANEANGLEUNIT", "IfcPlaneAngleMeasure"
        )

    def assign(self, *units: Entity) -> None:
        assignment = self.make("IfcUnitAssignment", list(units))
        self.make("IfcProject", GlobalId="0" * 22, UnitsInContext=assignment)

    def tell(self, kind: ProblemKind, what: str, _why: str, _hint: str) -> None:
        self.said.append((kind, what))

    def mm(self) -> float:
        return length_unit_mm(self.file, self.tell)

    def radians(self) -> float:
        return angle_unit_rad(self.file, self.tell)


@pytest.fixture
def pen() -> UnitPen:
    return UnitPen()


@pytest.mark.parametrize(("prefix", "mm"), [
    (None, 1000.0), ("MILLI", 1.0), ("CENTI", 10.0), ("DECI", 100.0), ("DECA", 1e4), ("KILO", 1e6), ("MICRO", 1e-3),
])  # fmt: skip
def test_metres_with_a_prefix(pen: UnitPen, prefix: str | None, mm: float) -> None:
    pen.assign(pen.si(prefix=prefix))
    assert pen.mm() == pytest.approx(mm, rel=1e-12)
    assert pen.said == NOTHING


@pytest.mark.parametrize(("name", "factor", "prefix", "mm"), [
    ("INCH", 0.0254, None, 25.4), ("INCH", 25.4, "MILLI", 25.4), ("INCH", 2.54, "CENTI", 25.4), ("FOOT", 0.3048, None, 304.8),
    ("ell", 1.143, None, 1143.0), ("INCH", 1, "CENTI", 10.0),
])  # fmt: skip
def test_units_by_a_factor(pen: UnitPen, name: str, factor: float, prefix: str | None, mm: float) -> None:
    pen.assign(pen.converted(name, factor, pen.si(prefix=prefix)))
    assert pen.mm() == pytest.approx(mm, rel=1e-12)
    assert pen.said == NOTHING


def test_a_unit_may_stand_on_one_that_stands_on_another(pen: UnitPen) -> None:
    inch = pen.converted("INCH", 0.0254, pen.si())
    pen.assign(pen.converted("FOOT", 12.0, inch))
    assert pen.mm() == pytest.approx(304.8)


@pytest.mark.parametrize(("name", "mm"), [("INCH", 25.4), (" foot ", 304.8), ("Yard", 914.4), ("MILE", 1609344.0)])
@pytest.mark.parametrize("factor", [None, 0.0, -1.0])
def test_a_known_name_helps_where_the_factor_is_missing_or_none(
    pen: UnitPen, name: str, mm: float, factor: float | None
) -> None:
    pen.assign(pen.converted(name, factor, pen.si()))
    assert pen.mm() == pytest.approx(mm)


def unusable(pen: UnitPen) -> list[Entity]:
    """Length units that can't be read."""
    loop = pen.converted("ell", 2.0, pen.si())
    loop.ConversionFactor.UnitComponent = loop
    nowhere = pen.make("IfcConversionBasedUnit", None, "LENGTHUNIT", "ell", None)
    return [
        loop, nowhere, pen.converted("ell", None, pen.si()), pen.converted("ell", 1e300, pen.si()), pen.converted("ell", 1e-300, pen.si()),
        pen.converted("ell", 2.0, pen.si("MASSUNIT", "GRAM")), pen.make("IfcContextDependentUnit", None, "LENGTHUNIT", "ell"),
        pen.converted("ell", 2.0, None), pen.si(prefix="EXA"), pen.si("MASSUNIT", "GRAM"),
    ]  # fmt: skip


@pytest.mark.parametrize("number", range(10))
def test_metres_are_assumed_and_that_is_said_where_no_unit_can_be_read(pen: UnitPen, number: int) -> None:
    pen.assign(unusable(pen)[number])
    assert pen.mm() == 1000.0
    assert [kind for kind, _ in pen.said] == [ProblemKind.ASSUMPTION]
    assert "metres are assumed" in pen.said[0][1]


def test_the_first_length_unit_that_can_be_read_holds(pen: UnitPen) -> None:
    pen.assign(
        pen.si("AREAUNIT", "SQUARE_METRE"), pen.converted("ell", None, pen.si()), pen.si(prefix="MILLI"), pen.si()
    )
    assert pen.mm() == 1.0


def test_an_assignment_that_no_project_names_is_better_than_none(pen: UnitPen) -> None:
    pen.make("IfcUnitAssignment", [pen.si(prefix="MILLI")])
    assert pen.mm() == 1.0
    assert pen.said == NOTHING


def test_no_units_at_all(pen: UnitPen) -> None:
    assert pen.mm() == 1000.0
    assert pen.radians() == 1.0  # the standard's own
    assert len(pen.said) == 1


@pytest.mark.parametrize("factor", [math.pi / 180.0, 0.0174532925])
def test_degrees(pen: UnitPen, factor: float) -> None:
    pen.assign(pen.degree(factor))
    assert pen.radians() == pytest.approx(math.pi / 180.0)
    assert pen.said == NOTHING


def test_radians(pen: UnitPen) -> None:
    pen.assign(pen.si("PLANEANGLEUNIT", "RADIAN"))
    assert pen.radians() == 1.0
    assert pen.said == NOTHING


def test_a_degree_of_57_radians_is_put_right_and_said(pen: UnitPen) -> None:
    pen.assign(pen.degree(180.0 / math.pi))
    assert pen.radians() == pytest.approx(math.pi / 180.0)
    assert [kind for kind, _ in pen.said] == [ProblemKind.CORRECTION]


@pytest.mark.parametrize("factor", [None, 0.0, -1.0])
def test_a_broken_angle_unit_is_radians_and_said(pen: UnitPen, factor: float | None) -> None:
    pen.assign(pen.degree(factor))
    assert pen.radians() == 1.0
    assert [kind for kind, _ in pen.said] == [ProblemKind.ASSUMPTION]


def test_a_unit_of_something_else_is_no_length(pen: UnitPen) -> None:
    assert metres_in(pen.si("PLANEANGLEUNIT", "RADIAN")) is None
    assert metres_in(None) is None
