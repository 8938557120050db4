"""Whether a drawn section says on which side its compartments begin, or whoever reads it takes a convention."""

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.read.axes import Axis
from tests.read.reading import carrier_of, read
from tests.small_models import SmallModel
from tests.small_shapes import ShapePen, X, Y, Z, prism, rectangle

ENDS = ((0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))


def along_x(pen: ShapePen, name: str, *sizes: float) -> Axis:
    """A section moved along x, its own X level, its own Y up."""
    return pen.read(pen.swept(pen.profile(name, *sizes), 3000, pen.frame((0, 0, 0), X, Y)))


DRAWN: dict[str, Callable[[ShapePen], Axis]] = {
    "a rectangle": lambda pen: along_x(pen, "IfcRectangleProfileDef", 300, 60),
    "a hollow one": lambda pen: along_x(pen, "IfcRectangleHollowProfileDef", 300, 60, 1),
}
TAKEN: dict[str, Callable[[ShapePen], Axis]] = {
    "an axis alone": lambda pen: pen.read(axis=pen.polyline(*ENDS)),
    "ports alone": lambda pen: pen.read(ports=list(ENDS)),
    "a bounding box": lambda pen: pen.read(pen.box((0, 0, 0), 3000, 300, 60)),
    "a body of faces": lambda pen: pen.read(pen.mesh(prism(rectangle(300, 60), 3000))),
    "a body of faces and an axis": lambda pen: pen.read(
        pen.mesh(prism(rectangle(300, 60), 3000)), axis=pen.polyline((-1500, 0, 0), (1500, 0, 0))
    ),
    "a plan that is moved upward": lambda pen: pen.read(
        pen.swept(pen.profile("IfcRectangleProfileDef", 3000, 300), 60)
    ),
    "a pipe": lambda pen: pen.read(pen.disk(pen.polyline(*ENDS), 10)),
    "a circle": lambda pen: along_x(pen, "IfcCircleHollowProfileDef", 10, 1),
    "a bent pipe": lambda pen: pen.read(pen.disk(pen.polyline((0, 0, 0), (900, 0, 0), (900, 900, 0)), 10)),
}


@pytest.mark.parametrize("name", DRAWN)
def test_a_section_that_is_drawn_and_moved_straight_has_sides(name: str) -> None:
    axis = DRAWN[name](ShapePen())
    assert axis.is_across_known
    assert axis.across == pytest.approx(Y)  # not −y: the direction of the profile's own X


@pytest.mark.parametrize("name", TAKEN)
def test_of_everything_else_the_side_is_a_convention(name: str) -> None:
    axis = TAKEN[name](ShapePen())
    assert axis.points_mm
    assert not axis.is_across_known


def test_a_riser_that_is_drawn_has_sides_and_one_of_an_axis_alone_has_none() -> None:
    pen = ShapePen()
    drawn = pen.read(pen.swept(pen.profile("IfcRectangleProfileDef", 300, 60), 2800))
    assert (drawn.is_across_known, drawn.across) == (True, pytest.approx(X))
    assert not pen.read(axis=pen.polyline((0, 0, 0), (0, 0, 2800))).is_across_known
    assert Z == (0.0, 0.0, 1.0)


PROJECT = """
[[types]]
name = "Two-lane*"
width_mm = 150
height_mm = 50
wall_mm = 1
compartments = [{ width_mm = 92 }, { width_mm = 46 }]
"""
SCHEDULE = "circuit,from,to,service,diameter_mm,count,route\nP1,K1,K2,power,5,2,K1/1;K2\n"


def test_a_carrier_keeps_whether_its_side_is_known(tmp_path: Path) -> None:
    """K1 and K2 have nothing but an axis: level along y, then upright."""
    small = SmallModel()
    make = small.file.create_entity
    found = []
    for tag, ends in (("K1", ((0, 0, 0), (0, 2000, 0))), ("K2", ((0, 2000, 0), (0, 2000, 3000)))):
        points = [make("IfcCartesianPoint", tuple(map(float, point))) for point in ends]
        axis = make("IfcShapeRepresentation", small.context, "Axis", "Curve3D", [make("IfcPolyline", points)])
        found.append(
            small.rooted("IfcCableCarrierSegment", Tag=tag, PredefinedType="CABLETRUNKINGSEGMENT",
                         ObjectPlacement=small.place((0.0, 0.0, 0.0)),
                         Representation=make("IfcProductDefinitionShape", Representations=[axis]))
        )  # fmt: skip
    small.contained += found
    small.type_of(found, "IfcCableCarrierSegmentType", "Two-lane", PredefinedType="CABLETRUNKINGSEGMENT")
    read_back = read(tmp_path, small, PROJECT, SCHEDULE)
    # the section of an upright one could be turned any way
    for tag, has_direction in (("K1", True), ("K2", False)):
        carrier = carrier_of(read_back, tag)
        assert (carrier.across is not None, carrier.is_across_known) == (has_direction, False)
