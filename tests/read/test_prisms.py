"""Where walls and slabs are: by their plans and what is cut off them, by faces, by their parts. The walls are those of ``House``."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import ProblemKind, Vec
from tests.read.houses import House, passed
from tests.read.reading import read, said


@pytest.mark.parametrize("body", ["none", "axis"])
def test_a_rated_wall_without_a_body_is_told(tmp_path: Path, body: str) -> None:
    model = House()
    line = model.pen.polyline((0.0, 0.0), (5000.0, 0.0))
    axis = model.file.create_entity("IfcShapeRepresentation", model.context, "Axis", "Curve2D", [line])
    shape = model.file.create_entity("IfcProductDefinitionShape", Representations=[axis])
    model.wall("W1", body=None if body == "none" else shape)
    installation = read(tmp_path, model)
    assert [item.prisms for item in installation.barriers] == [()]
    (problem,) = said(installation, "can't be read")
    assert (problem.where, problem.kind) == ("model.ifc, W1", ProblemKind.GAP)
    assert problem.what == "the body of a wall that is rated for fire can't be read"


def test_a_wall_of_parts_is_its_parts_and_a_rated_part_stands_for_itself(tmp_path: Path) -> None:
    model = House()
    model.tray()
    whole = model.wall("whole", body=None)
    part = model.wall("part", None, name="IfcWall")
    model.parts(whole, [part])
    roof = model.wall("roof", "REI 30", name="IfcRoof", body=None)
    slabs = [
        model.wall(tag, rating, name="IfcSlab", at=(x, 0.0, 0.0))
        for tag, rating, x in (("own", "REI 60", 1000.0), ("its", None, 2000.0))
    ]
    model.parts(roof, slabs)
    installation = read(tmp_path, model)
    ratings = {item.place.label: item.fire_rating for item in installation.barriers}
    assert ratings == {"whole": "EI 60", "roof": "REI 30", "own": "REI 60"}
    assert passed(installation) == {"whole": "", "roof": "", "own": ""}
    counts = {item.place.label: len(item.prisms) for item in installation.barriers}
    assert counts == {"whole": 1, "roof": 1, "own": 1}
    assert said(installation, "no fire rating") == []


def test_a_whole_of_which_every_part_is_rated_is_known_by_its_parts(tmp_path: Path) -> None:
    model = House()
    model.tray()
    whole = model.wall("whole", body=None)
    model.parts(whole, [model.wall(tag, "EI 30") for tag in ("one", "other")])
    installation = read(tmp_path, model)
    assert passed(installation) == {"one": "", "other": ""}
    assert said(installation, "can't be read") == []


def test_an_opening_in_a_wall_is_passed_as_the_wall_is(tmp_path: Path) -> None:
    model = House()
    model.tray()
    wall = model.wall("W1")
    hole = model.body(model.profile("IfcRectangleProfileDef", 1000.0, 400.0), 3000.0)
    opening = model.rooted("IfcOpeningElement", ObjectPlacement=model.place((0.0, 0.0, 0.0)), Representation=hole)
    model.rooted("IfcRelVoidsElement", RelatingBuildingElement=wall, RelatedOpeningElement=opening)
    assert passed(read(tmp_path, model)) == {"W1": ""}


def clipped(model: House, height: float, second: str) -> Any:
    """The wall of other tests with its upper part cut off from a height on, or with a block cut out of its middle."""
    pen = model.pen
    plan = model.file.create_entity("IfcExtrudedAreaSolid", model.profile("IfcRectangleProfileDef", 10_000.0, 200.0), pen.frame(),
                                    pen.direction(0, 0, 1), 3000.0)  # fmt: skip
    plane = pen.make("IfcPlane", pen.frame((0, 0, height)))
    if second == "half":
        return model.shape(
            pen.make("IfcBooleanClippingResult", "DIFFERENCE", plan, pen.make("IfcHalfSpaceSolid", plane, False))
        )
    if second == "bounded":  # only for the first 2 m from its middle
        bounds = pen.closed((0, -500), (2000, -500), (2000, 500), (0, 500))
        half = pen.make("IfcPolygonalBoundedHalfSpace", plane, False, pen.frame(), bounds)
        return model.shape(pen.make("IfcBooleanClippingResult", "DIFFERENCE", plan, half))
    block = pen.swept(pen.profile("IfcRectangleProfileDef", 1000.0, 500.0), 3000.0)
    return model.shape(pen.make("IfcBooleanResult", "DIFFERENCE", plan, block))


@pytest.mark.parametrize(
    ("second", "height", "found"),
    [("half", 2400.0, {}), ("half", 2600.0, {"W1": ""}), ("bounded", 2400.0, {"W1": ""}), ("block", 0.0, {"W1": ""})],
)
def test_what_a_plane_cuts_off_a_wall_is_gone_and_what_a_block_cuts_out_is_an_opening(
    tmp_path: Path, second: str, height: float, found: dict[str, str]
) -> None:
    """The tray is 60 high about 2500, at the wall's middle less 500 mm, where bounds from there on don't reach."""
    model = House()
    model.tray(start=(-3000.0, -500.0, 2500.0), end=(3000.0, -500.0, 2500.0))
    model.wall("W1", body=clipped(model, height, second))
    assert passed(read(tmp_path, model)) == found


def test_two_bodies_made_one_before_they_were_cut_are_both_known(tmp_path: Path) -> None:
    """The wall's halves, each 5 m long; both are cut off at 2.4 m, and the tray is 2.5 m up."""
    model = House()
    model.tray("high", (-3000.0, 2000.0, 2500.0), (3000.0, 2000.0, 2500.0))
    model.tray("low", (-3000.0, 2000.0, 1500.0), (3000.0, 2000.0, 1500.0))
    pen = model.pen
    halves = [
        pen.swept(pen.profile("IfcRectangleProfileDef", 5000.0, 200.0), 3000.0, pen.frame((x, 0, 0)))
        for x in (-2500, 2500)
    ]
    whole = pen.make("IfcBooleanResult", "UNION", *halves)
    half_space = pen.make("IfcHalfSpaceSolid", pen.make("IfcPlane", pen.frame((0, 0, 2400))), False)
    model.wall("W1", body=model.shape(pen.make("IfcBooleanResult", "DIFFERENCE", whole, half_space)))
    installation = read(tmp_path, model)
    assert passed(installation, "high") == {}
    assert passed(installation, "low") == {"W1": ""}


def test_what_is_cut_off_within_bounds_is_gone_there_and_no_farther(tmp_path: Path) -> None:
    """The bounds go from the wall's middle to 2 m beyond."""
    model = House()
    for tag, y in (("within", 1000.0), ("beyond", 3000.0)):
        model.tray(tag, (-3000.0, y, 2500.0), (3000.0, y, 2500.0))
    model.wall("W1", body=clipped(model, 2400.0, "bounded"))
    installation = read(tmp_path, model)
    assert passed(installation, "within") == {}
    assert passed(installation, "beyond") == {"W1": ""}


def test_a_wall_of_which_one_body_cannot_be_read_is_not_known(tmp_path: Path) -> None:
    model = House()
    plan = model.pen.swept(model.profile("IfcRectangleProfileDef", 10_000.0, 200.0), 3000.0)
    sphere = model.pen.make("IfcSphere", model.pen.frame(), 500.0)
    model.wall("W1", body=model.shape(plan, sphere))
    installation = read(tmp_path, model)
    assert [item.prisms for item in installation.barriers] == [()]
    assert len(said(installation, "can't be read")) == 1


def test_a_slab_with_a_notch_is_passed_only_where_it_is(tmp_path: Path) -> None:
    model = House()
    pen = model.pen
    plan = pen.outline(pen.closed((0, 0), (8000, 0), (8000, 3000), (4000, 3000), (4000, 6000), (0, 6000)))
    slab = pen.swept(plan, 250.0, pen.frame((0, 0, -250)))
    model.wall("S1", name="IfcSlab", body=model.shape(slab), across=(1.0, 0.0, 0.0))
    model.tray("in", (1000.0, 5000.0, -2000.0), (1000.0, 5000.0, 2000.0))
    model.tray("out", (6000.0, 5000.0, -2000.0), (6000.0, 5000.0, 2000.0))
    installation = read(tmp_path, model)
    assert passed(installation, "in") == {"S1": ""}
    assert passed(installation, "out") == {}


def faces(model: House, *outlines: list[tuple[float, float]], low: float = -100.0, high: float = 100.0) -> Any:
    """A body of faces whose corners are those of outlines in XZ, on two planes across Y."""
    corners: list[Vec] = [(x, y, z) for outline in outlines for y in (low, high) for x, z in outline]
    return model.shape(model.pen.mesh(corners))


WITH_DOOR = [(-5000, 0), (-500, 0), (-500, 2100), (500, 2100), (500, 0), (5000, 0), (5000, 3000), (-5000, 3000)]


def test_a_wall_of_faces_is_passed_with_its_door_and_gable(tmp_path: Path) -> None:
    model = House()
    model.tray()
    model.tray("in the door", (-3000.0, 0.0, 1000.0), (3000.0, 0.0, 1000.0))
    model.tray("over the slope", (-3000.0, 4500.0, 2900.0), (3000.0, 4500.0, 2900.0))
    model.wall("door", body=faces(model, WITH_DOOR))
    # from 2 m at both ends up to 3 m in the middle: at 4.5 m it is 2.1 m high
    gable = [(-5000.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (0.0, 3000.0), (-5000.0, 2000.0)]
    model.wall("gable", at=(1000.0, 0.0, 0.0), body=faces(model, gable))
    installation = read(tmp_path, model)
    assert passed(installation) == {"door": "", "gable": ""}
    assert passed(installation, "in the door") == {"door": "", "gable": ""}
    assert passed(installation, "over the slope") == {"door": ""}


def test_of_a_body_of_faces_that_is_no_plate_only_the_surroundings_are_known(tmp_path: Path) -> None:
    model = House()
    model.tray()
    buttress = [(0.0, 1000.0), (1000.0, 1000.0), (0.0, 0.0)]
    corners: list[Vec] = [(x, y, z) for x in (-5000.0, 5000.0) for y in (-100.0, 100.0) for z in (0.0, 3000.0)]
    corners += [(x, 400.0, z) for x, z in buttress]
    model.wall("W1", body=model.shape(model.pen.mesh(corners)))
    doubt = passed(read(tmp_path, model))["W1"]
    assert doubt == "the body of wall W1 (EI 60) isn't a plan extruded, and only what surrounds it was looked at"


def test_a_slab_of_faces_is_known_only_if_it_has_no_notch(tmp_path: Path) -> None:
    """Its corners tell a rectangle; with a notch they don't tell where it ends."""
    model = House()
    for tag, outline in (("plain", [(0, 0), (8000, 0), (8000, 6000), (0, 6000)]),
                         ("notched", [(0, 0), (8000, 0), (8000, 3000), (4000, 3000), (4000, 6000), (0, 6000)])):  # fmt: skip
        corners: list[Vec] = [(float(x), float(y), z) for z in (-250.0, 0.0) for x, y in outline]
        model.wall(tag, name="IfcSlab", body=model.shape(model.pen.mesh(corners)), across=(1.0, 0.0, 0.0))
    model.tray("T1", (1000.0, 2000.0, -2000.0), (1000.0, 2000.0, 2000.0))
    found = passed(read(tmp_path, model))
    assert found["plain"] == ""
    assert found["notched"].startswith("the body of slab notched (EI 60) isn't")


@pytest.mark.parametrize("odd", [1e300, 1e14, -1.0, 0.0])
def test_odd_numbers_end_nothing(tmp_path: Path, odd: float) -> None:
    model = House()
    model.tray()
    model.wall("odd depth", body=model.body(model.profile("IfcRectangleProfileDef", 10_000.0, 200.0), odd))
    model.wall("odd width", body=model.body(model.profile("IfcRectangleProfileDef", 10_000.0, odd), 3000.0))
    model.wall("sound")
    installation = read(tmp_path, model)
    assert passed(installation)["sound"] == ""
    assert {item.place.label for item in installation.barriers} == {"odd depth", "odd width", "sound"}
