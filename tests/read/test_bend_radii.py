"""The radius to which bend fittings are drawn."""

import math
from typing import Any

import pytest

from checker.read.bend_radii import bend_radius_mm
from checker.read.placements import WORLD
from checker.read.shapes import Shapes
from tests.small_models import SmallModel


def fitting(model: SmallModel, *items: Any, identifier: str = "Body", mapped_type: str = "AdvancedSweptSolid") -> Any:
    shape = model.file.create_entity("IfcShapeRepresentation", model.context, identifier, mapped_type, list(items))
    shapes = model.file.create_entity("IfcProductDefinitionShape", Representations=[shape])
    return model.rooted("IfcCableCarrierFitting", Representation=shapes)


def point(model: SmallModel, *at: float) -> Any:
    return model.file.create_entity("IfcCartesianPoint", at)


def disk(model: SmallModel, directrix: Any) -> Any:
    return model.file.create_entity("IfcSweptDiskSolid", Directrix=directrix, Radius=10.0)


def arc_with_tails(model: SmallModel, radius: float, tail: float) -> Any:
    """Along x, a quarter circle to the left, along y."""
    half = radius * math.sin(math.radians(45.0))
    points = [
        (-tail, 0.0, 0.0),
        (0.0, 0.0, 0.0),
        (half, radius - half, 0.0),
        (radius, radius, 0.0),
        (radius, radius + tail, 0.0),
    ]
    make = model.file.create_entity
    segments = [make("IfcLineIndex", (1, 2)), make("IfcArcIndex", (2, 3, 4)), make("IfcLineIndex", (4, 5))]
    return make("IfcIndexedPolyCurve", Points=make("IfcCartesianPointList3D", points), Segments=segments)


def radius_of(element: Any, mm: float = 1.0) -> float | None:
    return bend_radius_mm(Shapes(), element, WORLD, mm)


@pytest.mark.parametrize("mm", [1.0, 304.8])
def test_a_pipe_bent_between_two_straights_has_the_radius_of_its_arc(mm: float) -> None:
    model = SmallModel()
    assert radius_of(fitting(model, disk(model, arc_with_tails(model, 75.0, 20.0))), mm) == pytest.approx(75.0 * mm)


def test_a_section_turned_about_an_axis_has_the_distance_of_its_middle_from_it() -> None:
    model = SmallModel()
    make = model.file.create_entity
    profile = model.profile("IfcCircleProfileDef", 10.0)
    axis = make("IfcAxis1Placement", point(model, -60.0, 0.0, 0.0), make("IfcDirection", (0.0, 1.0, 0.0)))
    solid = make("IfcRevolvedAreaSolid", profile, model._frame((0.0, 0.0, 0.0)), axis, math.pi / 2.0)
    assert radius_of(fitting(model, solid)) == pytest.approx(60.0)


def test_a_collar_that_is_turned_all_round_is_no_bend() -> None:
    model = SmallModel()
    make = model.file.create_entity
    ring = model.profile("IfcCircleProfileDef", 2.0)
    around = make("IfcAxis1Placement", point(model, -12.0, 0.0, 0.0), make("IfcDirection", (0.0, 1.0, 0.0)))
    collar = make("IfcRevolvedAreaSolid", ring, model._frame((0.0, 0.0, 0.0)), around, 2.0 * math.pi)
    bent = disk(model, arc_with_tails(model, 75.0, 20.0))
    assert radius_of(fitting(model, bent, collar)) == pytest.approx(75.0)
    assert radius_of(fitting(model, collar)) is None


def test_its_axis_goes_before_its_body_and_pieces_of_several_radii_count_by_the_tightest() -> None:
    model = SmallModel()
    both = [disk(model, arc_with_tails(model, radius, 20.0)) for radius in (75.0, 50.0)]
    assert radius_of(fitting(model, *both)) == pytest.approx(50.0)
    axis = fitting(model, arc_with_tails(model, 40.0, 5.0), identifier="Axis", mapped_type="Curve3D")
    assert radius_of(axis) == pytest.approx(40.0)


def test_of_a_mitred_bend_a_straight_body_or_none_no_radius_is_known() -> None:
    model = SmallModel()
    mitred = model.file.create_entity(
        "IfcPolyline", [point(model, *at) for at in ((-50.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 50.0, 0.0))]
    )
    assert radius_of(fitting(model, disk(model, mitred))) is None
    assert radius_of(fitting(model, disk(model, mitred), disk(model, arc_with_tails(model, 75.0, 20.0)))) is None
    straight = model.file.create_entity("IfcPolyline", [point(model, 0.0, 0.0, 0.0), point(model, 50.0, 0.0, 0.0)])
    assert radius_of(fitting(model, disk(model, straight))) is None
    assert radius_of(model.rooted("IfcCableCarrierFitting")) is None
