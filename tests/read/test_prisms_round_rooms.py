"""Walls round a room, bent walls, and what is cut off in a way that isn't understood: what isn't known of a body is asked about."""

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from checker.model import Vec
from checker.network.penetrations import doubt_of
from tests.installations import carrier
from tests.read.houses import House, passed
from tests.read.reading import read


def round_a_room(model: House, shape: str, high: float) -> Any:
    """The walls round a room of 20 m by 10 m, 300 thick, in one body; or round a shaft of 4 m across."""
    pen = model.pen
    if shape == "circle":
        plan = pen.make("IfcCircleHollowProfileDef", "AREA", None, None, 2000.0, 300.0)
    elif shape == "rectangle":
        plan = pen.make("IfcRectangleHollowProfileDef", "AREA", None, None, 20_000.0, 10_000.0, 300.0)
    else:
        outer = pen.closed((-10_000, -5000), (10_000, -5000), (10_000, 5000), (-10_000, 5000))
        corners = [(-9700, -4700), (9700, -4700), (9700, 4700), (-9700, 4700)]
        inner = pen.closed(*(corners if shape == "one way round" else corners[::-1]))
        plan = pen.make("IfcArbitraryProfileDefWithVoids", "AREA", None, outer, [inner])
    return model.shape(pen.swept(plan, high))


@pytest.mark.parametrize("shape", ["circle", "rectangle", "one way round", "the other"])
def test_walls_round_a_room_are_passed_on_the_way_out_of_it_and_not_within_it(tmp_path: Path, shape: str) -> None:
    """Of a full block of 20 m length the ends would be narrow faces, and what comes out by them wouldn't be asked about."""
    model = House()
    model.tray("out", (0.0, 0.0, 1500.0), (12_000.0, 0.0, 1500.0))
    model.tray("through", (-12_000.0, 0.0, 1500.0), (12_000.0, 0.0, 1500.0))
    model.tray("within", (-1000.0, 0.0, 1500.0), (1000.0, 0.0, 1500.0))
    model.wall("W1", body=round_a_room(model, shape, 3000.0), across=(1.0, 0.0, 0.0))
    installation = read(tmp_path, model)
    assert [prism.is_exact for prism in installation.barriers[0].prisms] == [True]
    found = {tag: passed(installation, tag) for tag in ("out", "through", "within")}
    assert found == {"out": {"W1": ""}, "through": {"W1": ""}, "within": {}}


def test_a_hole_in_a_slab_is_an_opening_however_thick_the_slab_is(tmp_path: Path) -> None:
    """8 m by 8 m with a hole of 1 m: 2 · 63 m² over 36 m of sides is 3.5 m, more than it is thick."""
    model = House()
    pen = model.pen
    outer, inner = (
        pen.closed((0, 0), (8000, 0), (8000, 8000), (0, 8000)),
        pen.closed((500, 500), (1500, 500), (1500, 1500), (500, 1500)),
    )
    plan = pen.make("IfcArbitraryProfileDefWithVoids", "AREA", None, outer, [inner])
    for tag, thick, x in (("thin", 250.0, 0.0), ("thick", 900.0, 20_000.0)):
        model.wall(
            tag, name="IfcSlab", body=model.shape(pen.swept(plan, thick)), at=(x, 0.0, 0.0), across=(1.0, 0.0, 0.0)
        )
        model.tray(f"riser {tag}", (x + 1000.0, 1000.0, -2000.0), (x + 1000.0, 1000.0, 2000.0))
    installation = read(tmp_path, model)
    assert passed(installation, "riser thin") == {"thin": ""}
    assert passed(installation, "riser thick") == {"thick": ""}


def test_of_walls_round_a_room_that_is_not_understood_only_the_surroundings_are_known(tmp_path: Path) -> None:
    model = House()
    pen = model.pen
    model.tray("within", (-1000.0, 0.0, 1500.0), (1000.0, 0.0, 1500.0))
    outer = pen.closed((-10_000, -5000), (10_000, -5000), (10_000, 5000), (-10_000, 5000))
    points = [pen.make("IfcCartesianPoint", (x, y)) for x, y in ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 0.0))]
    spline = pen.make(
        "IfcBSplineCurveWithKnots", 1, points, "POLYLINE_FORM", True, False, [2, 1, 1, 2], [0.0, 1.0, 2.0, 3.0], "UNSPECIFIED"
    )  # fmt: skip
    plan = pen.make("IfcArbitraryProfileDefWithVoids", "AREA", None, outer, [spline])
    model.wall("W1", body=model.shape(pen.swept(plan, 3000.0)), across=(1.0, 0.0, 0.0))
    doubt = passed(read(tmp_path, model), "within")["W1"]
    assert doubt == "it runs within what surrounds wall W1 (EI 60), and where in that its body is can't be told"


@pytest.mark.parametrize("what", ["boundary", "surface"])
def test_what_is_cut_off_in_a_way_that_is_not_understood_stays(tmp_path: Path, what: str) -> None:
    """A boundary that is a spline, 3 to 4 m from the wall's middle; or a cylinder in place of the plane. The tray is at its middle."""
    model = House()
    model.tray()
    pen = model.pen
    plan = pen.swept(model.profile("IfcRectangleProfileDef", 10_000.0, 200.0), 3000.0)
    frame = pen.frame((0, 0, 2000))
    if what == "surface":
        half = pen.make("IfcHalfSpaceSolid", pen.make("IfcCylindricalSurface", frame, 100.0), False)
    else:
        corners = ((3000.0, -500.0), (4000.0, -500.0), (4000.0, 500.0), (3000.0, 500.0), (3000.0, -500.0))
        points = [pen.make("IfcCartesianPoint", corner) for corner in corners]
        knots = [0.0, 1.0, 2.0, 3.0, 4.0]
        often = [2, 1, 1, 1, 2]
        spline = pen.make(
            "IfcBSplineCurveWithKnots", 1, points, "POLYLINE_FORM", True, False, often, knots, "UNSPECIFIED"
        )
        half = pen.make("IfcPolygonalBoundedHalfSpace", pen.make("IfcPlane", frame), False, pen.frame(), spline)
    model.wall("W1", body=model.shape(pen.make("IfcBooleanClippingResult", "DIFFERENCE", plan, half)))
    assert passed(read(tmp_path, model)) == {"W1": ""}


@pytest.mark.parametrize("steps", [6, 12])
def test_of_a_bent_wall_only_the_surroundings_are_known_so_what_runs_in_them_may_pass_it(
    tmp_path: Path, steps: int
) -> None:
    """A quarter or half of a ring of faces, 5 m in radius, 200 thick, 3 m high, which opens towards its middle, the place of the wall.

    One way turns by a right angle inside the ring, one passes through it, one stays on the other side of its middle.
    """
    model = House()
    turns = [math.radians(15.0 * (step - steps / 2)) for step in range(steps + 1)]
    corners: list[Vec] = [
        (radius * math.cos(turn), radius * math.sin(turn), z) for radius in (4800.0, 5000.0) for turn in turns for z in (0.0, 3000.0)
    ]  # fmt: skip
    model.wall("bent", body=model.shape(model.pen.mesh(corners)), at=(7000.0, 0.0, 0.0), across=(1.0, 0.0, 0.0))
    installation = read(tmp_path, model)
    (wall,) = installation.barriers
    assert [prism.is_hollow for prism in wall.prisms] == [True]
    inside = replace(
        carrier("T", (11_000.0, -300.0, 1500.0), (11_500.0, 300.0, 1500.0)), corners_mm=((11_500.0, -300.0, 1500.0),)
    )
    through = carrier("T", (11_000.0, 0.0, 1500.0), (13_000.0, 0.0, 1500.0))
    beside = carrier("T", (5000.0, -300.0, 1500.0), (6500.0, 300.0, 1500.0))
    assert doubt_of(inside, wall)  # a reason: it may pass
    assert doubt_of(through, wall)
    assert doubt_of(beside, wall) is None
