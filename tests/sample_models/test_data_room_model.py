"""The data room's model by independent means: it is valid, and what is drawn lies where the plan has it."""

import csv
import importlib.util
import io
import math
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.placement
import ifcopenshell.validate
import pytest

FOLDER = Path(__file__).parents[2] / "sample_models" / "data_room"
Point = tuple[float, float, float]


def of_sample(name: str) -> ModuleType:
    """A module of the sample's own folder, under a name that no other sample's has."""
    spec = importlib.util.spec_from_file_location(f"data_room_{name}", FOLDER / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.path.insert(0, str(FOLDER))
    sys.modules[spec.name] = module  # its dataclasses look it up
    try:
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(str(FOLDER))
    return module


@pytest.fixture(scope="module")
def model() -> Any:
    return ifcopenshell.open(str(FOLDER / "model.ifc"))


def on_plan(point: Any) -> Point:
    """A point of the world, in metres, in the plan's axes in mm: site and building are moved, the building is turned."""
    plan = of_sample("data_plan")
    x, y, z = (
        1000.0 * float(value) - site - building
        for value, site, building in zip(point, plan.SITE_AT, plan.BUILDING_AT, strict=True)
    )
    turn = math.radians(-plan.BUILDING_TURN_DEG)
    return (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn), z)


@pytest.mark.filterwarnings("ignore::ResourceWarning")  # the library leaves its rules' file open
def test_it_is_valid_by_the_schema_and_its_rules(model: Any) -> None:
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, log, express_rules=True)
    assert log.statements == []
    assert model.schema_identifier == "IFC4X3_ADD2"


def test_building_it_again_gives_the_same_content(tmp_path: Path) -> None:
    of_sample("build").build(tmp_path / "model.ifc")
    again, checked_in = ((path / "model.ifc").read_text(encoding="utf-8") for path in (tmp_path, FOLDER))
    assert again.split("DATA;")[1] == checked_in.split("DATA;")[1]  # the header may name another version of the library


def test_the_worked_answers_are_those_that_are_checked_in() -> None:
    worked = of_sample("worked")
    again = io.StringIO()
    writer = csv.DictWriter(again, worked.COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(worked.work())
    assert again.getvalue() == (FOLDER / "expected.csv").read_text(encoding="utf-8")


def test_every_body_fills_the_box_that_the_plan_gives_it(model: Any) -> None:
    plan, carriers = of_sample("data_plan"), of_sample("data_carriers")
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    elements = {element.Tag: element for element in model.by_type("IfcCableCarrierSegment")}
    drawn = [segment for segment in carriers.SEGMENTS if segment.drawn]
    assert len(drawn) == len(elements) - 2
    for segment in drawn:
        kind = plan.TYPES[segment.type_key]
        shape = ifcopenshell.geom.create_shape(settings, elements[segment.tag])
        values = shape.geometry.verts
        points = [on_plan(values[place : place + 3]) for place in range(0, len(values), 3)]
        along = next(index for index in range(3) if segment.start[index] != segment.end[index])
        # upright: the width lies east; level: across, and the height up
        wide, high = (0, 1) if along == 2 else (1 - along, 2)
        half = {along: 0.0, wide: kind.width_mm / 2, high: kind.height_mm / 2}
        for index in range(3):
            ends = sorted((segment.start[index], segment.end[index]))
            wanted = (ends[0] - half[index], ends[1] + half[index])
            found = (min(point[index] for point in points), max(point[index] for point in points))
            assert found == pytest.approx(wanted, abs=0.01), (segment.tag, index)


def test_ports_lie_at_the_ends_that_they_are_for_and_are_connected_as_the_plan_says(model: Any) -> None:
    carriers = of_sample("data_carriers")
    ends = {f"{item.tag}:{name}": getattr(item, name) for item in carriers.SEGMENTS for name in ("start", "end")}
    ports = {port.Name: port for port in model.by_type("IfcDistributionPort")}
    for name, port in ports.items():
        placed = ifcopenshell.util.placement.get_local_placement(port.ObjectPlacement)
        assert on_plan(placed[:3, 3]) == pytest.approx(ends[name.split(">")[-1]], abs=0.01), name
    connected = {
        frozenset((rel.RelatingPort.Name, rel.RelatedPort.Name)) for rel in model.by_type("IfcRelConnectsPorts")
    }
    wanted = {
        frozenset((joint.one, joint.other if ":" in joint.other else f"{joint.other}>{joint.one}"))
        for joint in carriers.JOINTS
        if joint.how == "ports"
    }
    assert connected == wanted
    assert len(wanted) > 10


def test_the_axes_of_the_grid_lie_where_the_plan_has_them(model: Any) -> None:
    plan = of_sample("data_plan")
    (grid,) = model.by_type("IfcGrid")
    placed = ifcopenshell.util.placement.get_local_placement(grid.ObjectPlacement)
    for axes, lines, across in ((grid.UAxes, plan.GRID_NORTH, 0), (grid.VAxes, plan.GRID_EAST, 1)):
        assert [axis.AxisTag for axis in axes] == [tag for tag, _ in lines]
        for axis, (_, at) in zip(axes, lines, strict=True):
            ends = [on_plan((placed @ (*point.Coordinates, 0.0, 1.0))[:3]) for point in axis.AxisCurve.Points]
            assert [end[across] for end in ends] == pytest.approx([at, at], abs=0.01)
            reach = sorted(end[1 - across] for end in ends)
            assert reach == pytest.approx([-1000.0, plan.PLAN_SIZE_MM[1 - across] + 1000.0], abs=0.01)


def test_no_property_set_has_a_width_or_a_height(model: Any) -> None:
    names = {prop.Name for owner in model.by_type("IfcPropertySet") for prop in owner.HasProperties}
    assert names == {"LadderConfiguration", "HasCover", "Status"}
    quantities = {quantity.LengthValue for quantity in model.by_type("IfcQuantityLength")}
    assert quantities == {300.0, 100.0}  # in a file whose unit is the metre


def test_it_says_what_its_elements_are_in_as_many_ways_as_the_plan_has(model: Any) -> None:
    said = {item.Tag: (item.PredefinedType, item.ObjectType) for item in model.by_type("IfcCableCarrierSegment")}
    assert said["BU-02"] == ("USERDEFINED", "CABLETRAYSEGMENT ")
    assert {tag for tag, (word, _) in said.items() if word == "NOTDEFINED"} == {"BD-31", "BD-32"}
    assert {item.Tag for item in model.by_type("IfcDuctSegment") + model.by_type("IfcPipeSegment")} == {"SA-1", "CHW-1"}
    assert {zone.Name for zone in model.by_type("IfcZone")} == {"White space", "Plant"}
