"""Elements with numbers that are no place: they are said, joined to nothing, and leave all others as they are."""

import json
from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.model import Installation
from checker.network.joining import find_joins
from checker.read.installation import read_installation
from checker.read.placements import Frame, Placements
from checker.read.sources import find_sources
from checker.report.json_file import result_json
from tests.small_models import Point, SmallModel
from tests.small_shapes import Entity

ODD = ["T-far", "T-long", "F-far", "F-body", "E-far", "Room"]


def model_in(folder: Path, odd: float | None) -> Path:
    """Two trunkings that meet; and elements of every sort with a number that is none of a building."""
    folder.mkdir()
    model = SmallModel()
    square = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.2)
    model.carrier("T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), square)
    model.carrier("T2", (4000.0, 0.0, 0.0), (6000.0, 0.0, 0.0), square)
    if odd is not None:
        add_odd(model, square, odd)
    model.write(folder / "a.ifc")
    return folder


def add_odd(model: SmallModel, square: Entity, odd: float) -> None:
    far: Point = (odd, 0.0, 0.0)
    body = model.body(square, 500.0)
    model.carrier(
        "T-far", (0.0, 0.0, 0.0), (500.0, 0.0, 0.0), square, ObjectPlacement=model.place(far), Representation=body
    )
    model.carrier("T-long", (0.0, 0.0, 0.0), (500.0, 0.0, 0.0), square, Representation=model.body(square, odd))
    model.port(model.carrier("T-port", (0.0, 5000.0, 0.0), (500.0, 5000.0, 0.0), square), far)
    model.element("IfcCableCarrierFitting", "F-far", far, PredefinedType="BEND", Representation=body)
    huge = model.body(model.profile("IfcRectangleProfileDef", odd, odd), odd)
    model.element("IfcCableCarrierFitting", "F-body", (4000.0, 0.0, 0.0), PredefinedType="TEE", Representation=huge)
    model.element("IfcOutlet", "E-far", far)
    room = model.rooted("IfcSpace", Name="Room", ObjectPlacement=model.place((0.0, 0.0, 0.0)), Representation=huge)
    model.parts(model.storey, [room])


def read(folder: Path) -> Installation:
    return read_installation(find_sources([folder / "a.ifc"], None), {})


@pytest.mark.parametrize("odd", [1e16, 1e160, -1e300])
def test_elements_with_odd_numbers_are_said_and_joined_to_nothing(tmp_path: Path, odd: float) -> None:
    sound = {(join.one.mark, join.other.mark) for join in find_joins(read(model_in(tmp_path / "plain", None))).joins}
    installation = read(model_in(tmp_path / "odd", odd))
    assert sound
    assert {(join.one.mark, join.other.mark) for join in find_joins(installation).joins} == sound
    ways = {carrier.place.tag: carrier.axis_mm for carrier in installation.carriers}
    assert ways["T-far"] == ways["T-long"] == ()
    assert len(ways["T-port"]) == 2
    for tag in ODD:
        assert any(tag in problem.where for problem in installation.problems), tag


def test_a_result_with_odd_numbers_is_still_json(tmp_path: Path) -> None:
    folder = model_in(tmp_path / "odd", 1e300)
    (folder / "wayroom.toml").write_text('[project]\nmodels = ["a.ifc"]\ncode = "bs-7671"\n')
    result = check(Request(find_sources([folder], None)))
    text = result_json(result, 0, {})

    def refuse(name: str) -> None:
        raise AssertionError(name)

    assert json.loads(text, parse_constant=refuse)


def test_what_stands_on_a_place_that_is_none_is_refused_each_time() -> None:
    model = SmallModel()
    low = model.place((1e300, 0.0, 0.0))
    middle = model.place((0.0, 0.0, 100.0), within=low)
    places = Placements()
    for placement in (
        model.place((1.0, 0.0, 0.0), within=middle),
        middle,
        low,
        model.place((2.0, 0.0, 0.0), within=middle),
    ):
        for _ in range(2):
            with pytest.raises(ValueError, match="no place"):
                places.world(placement)
    assert places.world(model.place((3.0, 0.0, 0.0))) == Frame((3.0, 0.0, 0.0))
