"""Where models draw their cables: from each shape that programs give them."""

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from checker.model import Installation, ModelCable, ProblemKind, Vec
from checker.network.drawn import DrawnWays
from tests.read.reading import read, said
from tests.small_models import SmallModel
from tests.small_shapes import Entity, ShapePen

#: Where the cable is placed; its shapes are given from there.
AT = (1000.0, 2000.0, 500.0)
BENT = ((0, 0, 0), (3000, 0, 0), (3000, 2000, 0))
BENT_IN_WORLD = ((1000.0, 2000.0, 500.0), (4000.0, 2000.0, 500.0), (4000.0, 4000.0, 500.0))


class CableModel(SmallModel):
    """A model of cables. ``pen`` makes shapes in its file."""

    @property
    def pen(self) -> ShapePen:
        pen = ShapePen(self.schema)
        pen.file, pen.make = self.file, self.file.create_entity
        return pen

    def cable(self, tag: str, *items: Entity, axis: Entity = None, at: Vec = AT, **more: Any) -> Entity:
        """A cable with some items as its body, and a curve as its axis."""
        make = self.file.create_entity
        shapes = [make("IfcShapeRepresentation", self.context, "Body", None, list(items))] if items else []
        if axis is not None:
            shapes.append(make("IfcShapeRepresentation", self.context, "Axis", "Curve3D", [axis]))
        if shapes:
            more["Representation"] = make("IfcProductDefinitionShape", Representations=shapes)
        if self.schema == "IFC2X3":
            cable = self.element("IfcFlowSegment", tag, at, **more)
            self.type_of([cable], "IfcCableSegmentType", f"type of {tag}", PredefinedType="CABLESEGMENT")
            return cable
        return self.element("IfcCableSegment", tag, at, **more)


def cable_of(installation: Installation, tag: str = "W1") -> ModelCable:
    (cable,) = [item for item in installation.model_cables if item.place.tag == tag]
    return cable


def assert_path(path: Sequence[Vec], *points: Vec) -> None:
    """The path has these points, in this order or the other."""
    assert len(path) == len(points), path
    assert list(path if math.dist(path[0], points[0]) < 1e-3 else path[::-1]) == [
        pytest.approx(point, abs=1e-3) for point in points
    ]


def test_a_disk_swept_along_a_polyline_runs_along_it(tmp_path: Path) -> None:
    model = CableModel()
    model.cable("W1", model.pen.disk(model.pen.polyline(*BENT), 6.0))
    cable = cable_of(read(tmp_path, model))
    assert_path(cable.path_mm, *BENT_IN_WORLD)
    assert cable.pieces_mm == ()


def test_in_ifc2x3_and_in_metres_it_is_the_same(tmp_path: Path) -> None:
    model = CableModel("IFC2X3", prefix=None)
    metres = [tuple(number / 1000.0 for number in point) for point in (*BENT, AT)]
    model.cable("W1", model.pen.disk(model.pen.polyline(*metres[:-1]), 0.006), at=metres[-1])  # type: ignore[arg-type]
    assert_path(cable_of(read(tmp_path, model)).path_mm, *BENT_IN_WORLD)


def test_arcs_become_chords_on_the_arc(tmp_path: Path) -> None:
    model = CableModel()
    # 2 m along x, a quarter of a circle of 500 around (2000, 500), 1 m along y
    half = 500.0 * math.sqrt(0.5)
    points = [(0, 0, 0), (2000, 0, 0), (2000 + half, 500 - half, 0), (2500, 500, 0), (2500, 1500, 0)]
    model.cable("W1", model.pen.disk(model.pen.indexed(points, (1, 2), (2, 3, 4), (4, 5)), 6.0), at=(0.0, 0.0, 0.0))
    path = cable_of(read(tmp_path, model)).path_mm
    assert (path[0], path[-1]) == (pytest.approx((0, 0, 0)), pytest.approx((2500, 1500, 0)))
    on_arc = [point for point in path if 2000.0 < point[0] < 2499.9]
    assert len(on_arc) >= 5  # no more than 15° to a chord: six chords for 90°
    assert [math.dist(point, (2000, 500, 0)) for point in on_arc] == [pytest.approx(500.0)] * len(on_arc)


def test_an_extruded_circle_runs_along_its_depth(tmp_path: Path) -> None:
    model = CableModel()
    pen = model.pen
    solid = pen.swept(pen.profile("IfcCircleProfileDef", 8.0), 4000, pen.frame((0, 0, 0), (1, 0, 0), (0, 1, 0)))
    model.cable("W1", solid)
    assert_path(cable_of(read(tmp_path, model)).path_mm, AT, (5000.0, 2000.0, 500.0))


def test_an_axis_representation_says_where_a_body_of_faces_runs(tmp_path: Path) -> None:
    model = CableModel()
    faces = model.pen.mesh([(0, 0, 0), (3000, 0, 0), (3000, 2000, 10)])
    model.cable("W1", faces, axis=model.pen.polyline(*BENT))
    model.cable("W2", axis=model.pen.indexed(BENT))
    installation = read(tmp_path, model)
    for tag in ("W1", "W2"):
        assert_path(cable_of(installation, tag).path_mm, *BENT_IN_WORLD)


def test_a_straight_body_of_faces_runs_along_its_length_and_a_bent_one_isnt_known(tmp_path: Path) -> None:
    model = CableModel()
    corners = [(x, y, z) for x in (0.0, 4000.0) for y in (-8.0, 8.0) for z in (-8.0, 8.0)]
    model.cable("W1", model.pen.mesh(corners))
    bent = [*corners, (4000.0, 3000.0, -8.0), (3984.0, 3000.0, 8.0)]
    model.cable("W2", model.pen.mesh(bent))
    installation = read(tmp_path, model)
    assert_path(cable_of(installation).path_mm, AT, (5000.0, 2000.0, 500.0))
    assert cable_of(installation, "W2").path_mm == ()
    (problem,) = said(installation, "can't be read from its shape", ProblemKind.GAP)
    assert problem.where == "model.ifc, W2"


def test_without_a_shape_it_is_taken_to_run_straight_between_its_ports_and_that_is_said(tmp_path: Path) -> None:
    model = CableModel()
    cable = model.cable("W1")
    for point in ((0.0, 0.0, 0.0), (4000.0, 0.0, 0.0)):
        model.port(cable, point)
    model.cable("W2")
    model.port(model.cable("W3"), (0.0, 0.0, 0.0))
    installation = read(tmp_path, model)
    assert_path(cable_of(installation).path_mm, (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0))
    assert [cable_of(installation, tag).path_mm for tag in ("W2", "W3")] == [(), ()]
    (problem,) = said(installation, "straight between its ports", ProblemKind.INFERENCE)
    assert problem.where == "model.ifc, W1"


def test_ports_dont_say_where_a_body_runs_that_bends_between_them(tmp_path: Path) -> None:
    model = CableModel()
    corners = [(0.0, 0.0, 0.0), (4000.0, 0.0, 16.0), (4000.0, 3000.0, 0.0), (3984.0, 3000.0, 16.0)]
    cable = model.cable("W1", model.pen.mesh(corners), at=(0.0, 0.0, 0.0))
    for point in (corners[0], corners[2]):
        model.port(cable, point)
    assert cable_of(read(tmp_path, model)).path_mm == ()


def test_cores_in_one_body_are_pieces_and_what_follows_each_other_is_one_path(tmp_path: Path) -> None:
    model = CableModel()
    pen = model.pen
    cores = [pen.disk(pen.polyline(*((x, y + shift, z) for x, y, z in BENT)), 3.0) for shift in (-10, 0, 10)]
    model.cable("W1", *cores)
    ahead = [pen.disk(pen.polyline(*points), 6.0) for points in (BENT[:2], BENT[1:])]
    model.cable("W2", *ahead)
    installation = read(tmp_path, model)
    found = cable_of(installation)
    assert found.path_mm == ()
    assert len(found.pieces_mm) == 3
    for path, shift in zip(sorted(found.pieces_mm), (-10, 0, 10), strict=True):
        assert_path(path, *((x, y + shift, z) for x, y, z in BENT_IN_WORLD))
    assert_path(cable_of(installation, "W2").path_mm, *BENT_IN_WORLD)


def test_a_cable_is_where_its_pieces_are_unless_it_has_a_shape_itself(tmp_path: Path) -> None:
    model = CableModel()
    pen = model.pen

    def piece(tag: str, *points: Sequence[float]) -> Entity:
        return model.cable(tag, pen.disk(pen.polyline(*points), 3.0), PredefinedType="CONDUCTORSEGMENT")

    one = model.cable("W1")
    model.parts(one, [piece("core 1", *BENT)], nested=True)
    two = model.cable("W2")
    inner = model.cable("bundle", PredefinedType="CORESEGMENT")
    model.parts(two, [inner, piece("core 2", *BENT[:2])], nested=True)
    model.parts(inner, [piece("core 3", *BENT[1:])], nested=True)  # pieces of pieces
    three = model.cable("W3", pen.disk(pen.polyline(*BENT), 6.0))
    model.parts(three, [piece("core 4", (0, 0, 0), (0, 0, 900))])
    installation = read(tmp_path, model)
    assert sorted(cable.place.tag for cable in installation.model_cables) == ["W1", "W2", "W3"]
    assert_path(cable_of(installation, "W1").path_mm, *BENT_IN_WORLD)
    assert_path(cable_of(installation, "W3").path_mm, *BENT_IN_WORLD)
    second = cable_of(installation, "W2")
    assert second.path_mm == ()
    pieces = sorted(second.pieces_mm)
    assert len(pieces) == 2
    assert_path(pieces[0], *BENT_IN_WORLD[:2])
    assert_path(pieces[1], *BENT_IN_WORLD[1:])


def test_a_path_of_more_than_a_kilometre_is_left_out_and_said(tmp_path: Path) -> None:
    model = CableModel()
    model.cable("W1", model.pen.disk(model.pen.polyline((0, 0, 0), (1_000_001, 0, 0)), 6.0))
    installation = read(tmp_path, model)
    assert cable_of(installation).path_mm == ()
    assert [problem.what for problem in said(installation, "in one piece", ProblemKind.CORRECTION)] == [
        "this cable is 1000 m long in one piece, which can't be; where it runs is left out"
    ]


def test_a_malformed_shape_or_placement_leaves_the_cable_without_a_path_and_is_said(tmp_path: Path) -> None:
    model = CableModel()
    model.cable("W1", model.pen.disk(model.pen.polyline((0, 0, 0), (1e200, 0, 0)), 6.0))
    shaped = model.cable("W2", model.pen.disk(model.pen.polyline(*BENT), 6.0))
    shaped.ObjectPlacement.PlacementRelTo = shaped.ObjectPlacement  # within itself
    installation = read(tmp_path, model)
    assert [cable_of(installation, tag).path_mm for tag in ("W1", "W2")] == [(), ()]
    assert {"model.ifc, W1", "model.ifc, W2"} <= {problem.where for problem in installation.problems}


def test_from_the_file_to_the_way_that_is_drawn_in_it(tmp_path: Path) -> None:
    """Two trunkings 50 × 50 at a corner; the cable of circuit C9 in them, named by the group that it is assigned to."""
    model = CableModel()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    model.carrier("T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), profile)
    model.carrier("T2", (4000.0, 0.0, 0.0), (4000.0, 3000.0, 0.0), profile)
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 0.0, -300.0))
    model.element("IfcOutlet", "S1", (4000.0, 2500.0, -400.0))
    curve = model.pen.polyline((0, 0, -300), (0, 10, 0), (3990, 10, 0), (3990, 2500, 0), (4000, 2500, -400))
    cable = model.cable("W1", model.pen.disk(curve, 6.0), at=(0.0, 0.0, 0.0))
    model.group("IfcDistributionCircuit", "C9", [cable])
    schedule = "circuit,from,to,service,diameter_mm,count\nC9,DB,S1,power,12,1\n"
    installation = read(tmp_path, model, schedule=schedule)
    keys = {item.place.tag: item.key for item in installation.carriers}
    ways = DrawnWays(installation, {keys["T1"]: {keys["T2"]}, keys["T2"]: {keys["T1"]}})
    way = ways.way(installation.circuits[0])
    assert way is not None
    assert [(visit.carrier, visit.from_mm, visit.to_mm) for visit in way.visits] == [
        (keys["T1"], pytest.approx(0.0, abs=0.1), pytest.approx(4000.0, abs=40.0)),
        (keys["T2"], pytest.approx(0.0, abs=40.0), pytest.approx(2500.0, abs=0.1)),
    ]
    assert (way.has_gap, way.problems) == (False, ())
