"""Grids and floors of a model: they tell where things are, and no verdict goes by them."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from checker.model import Installation, ProblemKind
from checker.read import setting
from tests.read.reading import read
from tests.small_models import Point, SmallModel


@dataclass
class Gridded(SmallModel):
    """A trunking, and what grids and slabs are made of."""

    def __post_init__(self) -> None:
        super().__post_init__()
        section = self.profile("IfcRectangleProfileDef", 100.0, 50.0)
        self.carrier("T1", (0.0, 0.0, 2700.0), (3000.0, 0.0, 2700.0), section, "CABLETRUNKINGSEGMENT")

    def point(self, *at: float) -> Any:
        return self.file.create_entity("IfcCartesianPoint", at)

    def polyline(self, *points: tuple[float, float]) -> Any:
        return self.file.create_entity("IfcPolyline", [self.point(*one) for one in points])

    def line(self, at: tuple[float, float], along: tuple[float, float]) -> Any:
        way = self.file.create_entity("IfcVector", self.file.create_entity("IfcDirection", along), 1.0)
        return self.file.create_entity("IfcLine", self.point(*at), way)

    def axis(self, tag: str | None, curve: Any) -> Any:
        return self.file.create_entity("IfcGridAxis", tag, curve, True)

    def grid(
        self, first: list[Any], second: list[Any], at: Point = (0.0, 0.0, 0.0), across: Point = (1.0, 0.0, 0.0)
    ) -> Any:
        made = self.rooted(
            "IfcGrid", Name="Grid", ObjectPlacement=self.place(at, across=across), UAxes=first, VAxes=second
        )
        self.contained.append(made)
        return made

    def slab(self, at: Point, kind: str | None = "FLOOR", name: str = "IfcSlab", **more: Any) -> Any:
        body = self.body(self.profile("IfcRectangleProfileDef", 6000.0, 4000.0), 200.0)
        given = {"Name": "Slab", "ObjectPlacement": self.place(at), "Representation": body, "PredefinedType": kind}
        made = self.rooted(name, **(given | more))
        self.contained.append(made)
        return made


def axes(installation: Installation) -> list[tuple[str, list[tuple[float, float]]]]:
    (grid,) = installation.setting.grids
    return [(axis.tag, [(round(x, 3), round(y, 3)) for x, y in axis.points_mm]) for one in grid.sets for axis in one]


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4", "IFC4X3"])
def test_axes_are_read_where_their_grid_is_placed_and_turned(tmp_path: Path, schema: str) -> None:
    model = Gridded(schema=schema)
    one, two = (
        model.axis("1", model.polyline((0.0, 0.0), (0.0, 9000.0))),
        model.axis("A", model.polyline((0.0, 0.0), (6000.0, 0.0))),
    )
    # its x axis points along the world's y: (x, y) of the grid is (1000 - y, 2000 + x) of the world
    model.grid([one], [two], at=(1000.0, 2000.0, 0.0), across=(0.0, 1.0, 0.0))
    assert axes(read(tmp_path, model)) == [
        ("1", [(1000.0, 2000.0), (-8000.0, 2000.0)]),
        ("A", [(1000.0, 2000.0), (1000.0, 8000.0)]),
    ]


def test_an_axis_without_ends_goes_far_both_ways(tmp_path: Path) -> None:
    model = Gridded()
    model.grid(
        [model.axis("1", model.line((500.0, 0.0), (0.0, 2.0)))],
        [model.axis("A", model.polyline((0.0, 0.0), (6000.0, 0.0)))],
    )
    tag, points = axes(read(tmp_path, model))[0]
    assert (tag, points) == ("1", [(500.0, -1_000_000.0), (500.0, 1_000_000.0)])


def test_axes_without_a_name_or_a_length_are_left_out_and_said_nothing_of(tmp_path: Path) -> None:
    model = Gridded()
    good = model.axis("1", model.polyline((0.0, 0.0), (0.0, 9000.0)))
    none = [
        model.axis(None, model.polyline((1.0, 0.0), (1.0, 9000.0))),
        model.axis("B", model.polyline((1.0, 1.0), (1.0, 1.0))),
    ]
    model.grid([good], none)
    installation = read(tmp_path, model)
    assert [tag for tag, _ in axes(installation)] == ["1"]
    assert not any("Grid" in problem.where for problem in installation.problems)


def test_floors_are_slabs_where_they_lie_and_roofs_are_told_apart(tmp_path: Path) -> None:
    model = Gridded()
    model.slab((1000.0, 500.0, -200.0))
    model.slab((1000.0, 500.0, 3000.0), "ROOF")
    floor, roof = read(tmp_path, model).setting.floors
    assert (floor.is_roof, roof.is_roof) == (False, True)
    # 6000 by 4000 about (1000, 500)
    assert floor.heights_mm == pytest.approx((-200.0, 0.0))
    assert [
        floor.holds(point) for point in ((3990.0, 2490.0, -10.0), (4010.0, 500.0, -10.0), (1000.0, 500.0, 50.0))
    ] == [
        True,
        False,
        False,
    ]


def test_the_kind_of_a_slab_may_be_its_types(tmp_path: Path) -> None:
    model = Gridded()
    roof, floor = model.slab((0.0, 0.0, 3000.0), "NOTDEFINED"), model.slab((0.0, 0.0, 0.0), None)
    model.type_of([roof], "IfcSlabType", "Flat roof", PredefinedType="ROOF")
    model.type_of([floor], "IfcSlabType", "Slab", PredefinedType="FLOOR")
    found = read(tmp_path, model).setting.floors
    assert {one.heights_mm[0]: one.is_roof for one in found} == {3000.0: True, 0.0: False}


def test_a_screed_is_a_floor_and_a_ceiling_is_none(tmp_path: Path) -> None:
    model = Gridded()
    model.slab((0.0, 0.0, 0.0), "FLOORING", "IfcCovering")
    model.slab((0.0, 0.0, 2800.0), "CEILING", "IfcCovering")
    (found,) = read(tmp_path, model).setting.floors
    assert found.heights_mm == pytest.approx((0.0, 200.0))


def test_a_slab_without_a_shape_is_its_parts(tmp_path: Path) -> None:
    model = Gridded()
    whole = model.slab((0.0, 0.0, 0.0), Representation=None)
    part = model.slab((0.0, 0.0, 0.0), "NOTDEFINED", "IfcBuildingElementPart")
    model.rooted("IfcRelAggregates", RelatingObject=whole, RelatedObjects=[part])
    (found,) = read(tmp_path, model).setting.floors
    assert found.holds((0.0, 0.0, 100.0))


def test_a_grid_knows_its_storey(tmp_path: Path) -> None:
    model = Gridded()
    model.grid([model.axis("1", model.polyline((0.0, 0.0), (0.0, 9000.0)))], [])
    (grid,) = read(tmp_path, model).setting.grids
    assert grid.storey == "Level 0"


def test_what_is_beyond_the_bounds_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    model = Gridded()
    for n in range(3):
        model.slab((0.0, 0.0, 3000.0 * n))
        model.grid([model.axis(str(n), model.polyline((0.0, 0.0), (0.0, 9000.0)))], [])
    monkeypatch.setattr(setting, "MOST_FLOORS", 2)
    monkeypatch.setattr(setting, "MOST_POINTS", 5)  # two axes of two points, and one point more
    installation = read(tmp_path, model)
    assert (len(installation.setting.floors), len(installation.setting.grids)) == (2, 2)
    told = [problem.what for problem in installation.problems if problem.kind is ProblemKind.GAP]
    assert "1 of 3 floors aren't read" in told
    assert "this grid isn't read: with it the axes of the model have more than 5 points" in told


def test_a_model_without_any_has_none(tmp_path: Path) -> None:
    setting = read(tmp_path, Gridded()).setting
    assert (setting.grids, setting.floors) == ((), ())


def test_the_project_names_revision_and_status_of_its_documents(tmp_path: Path) -> None:
    named = read(tmp_path, Gridded(), '[project]\nrevision = " P03 "\nstatus = "S4"\n')
    assert (named.revision, named.status) == ("P03", "S4")
    (tmp_path / "other").mkdir()
    silent = read(tmp_path / "other", Gridded())
    assert (silent.revision, silent.status) == ("", "")


def test_the_project_says_how_many_notes_with_questions_it_wants(tmp_path: Path) -> None:
    assert read(tmp_path, Gridded(), "[notes]\nquestions = 0\n").most_requests == 0
    (tmp_path / "other").mkdir()
    assert read(tmp_path / "other", Gridded()).most_requests == 10
