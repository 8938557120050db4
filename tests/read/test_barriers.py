"""What of a model keeps fire, by its rating."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import Barrier, Installation, ProblemKind
from checker.read.barriers import read_barriers
from checker.read.context import Context, Notes
from checker.read.fire_ratings import is_no_rating
from checker.read.installation import read_installation
from checker.read.mapping import PropertySpec
from checker.read.project import Project
from checker.read.properties import Properties
from checker.read.relations import read_relations
from checker.read.shapes import Shapes
from checker.read.sources import find_sources
from tests.read.houses import COMMON, House, passed
from tests.read.reading import read, said
from tests.small_models import SmallModel


def barriers(installation: Installation) -> dict[str, str]:
    return {item.place.label: f"{item.what} {item.fire_rating}" for item in installation.barriers}


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4", "IFC4X3"])
@pytest.mark.parametrize(("prefix", "per"), [("MILLI", 1.0), (None, 0.001)])
def test_a_rated_wall_is_read_with_its_place_in_every_release(
    tmp_path: Path, schema: str, prefix: str | None, per: float
) -> None:
    model = House(schema=schema, prefix=prefix)
    plan = model.body(model.profile("IfcRectangleProfileDef", 10_000.0 * per, 200.0 * per), 3000.0 * per)
    model.wall("W1", at=(0.0, 1000.0 * per, 0.0), body=plan)
    (barrier,) = read(tmp_path, model).barriers
    (prism,) = barrier.prisms
    assert (barrier.what, barrier.fire_rating, barrier.place.storey) == ("wall", "EI 60", "Level 0")
    assert prism.depth_mm == pytest.approx(3000.0)
    corners = {corner(prism, at) for at in prism.outline}
    # 10 m along Y about y = 1000, 200 mm along X
    assert corners == {(x, y, 0) for x in (-100, 100) for y in (-4000, 6000)}


def corner(prism: Any, at: tuple[float, float]) -> tuple[int, ...]:
    point = tuple(o + at[0] * x + at[1] * y for o, x, y in zip(prism.origin_mm, prism.x, prism.y, strict=True))
    return tuple(round(value) for value in point)


def test_a_tray_passes_the_walls_across_it_and_no_others(tmp_path: Path) -> None:
    model = House()
    model.tray()
    model.wall("across")
    model.wall("beside", at=(0.0, 200.0, 0.0), across=(1.0, 0.0, 0.0))
    model.wall("low", at=(1000.0, 0.0, -1000.0))
    model.wall("ends in it", at=(3000.0, 0.0, 0.0))
    found = passed(read(tmp_path, model))
    assert found == {"across": "", "ends in it": "it ends in wall ends in it (EI 60)"}


def test_walls_slabs_roofs_and_coverings_are_asked_about(tmp_path: Path) -> None:
    model = House()
    for name in COMMON:
        model.wall(name, "REI 90", name=name)
    assert barriers(read(tmp_path, model)) == {
        "IfcWall": "wall REI 90", "IfcSlab": "slab REI 90", "IfcRoof": "roof REI 90", "IfcCovering": "covering REI 90",
        "IfcCurtainWall": "curtain wall REI 90",
    }  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "",
        "0",
        "None",
        "NA",
        "N/A",
        "n. a.",
        "-",
        " – ",
        "not rated",
        "<none>",
        "False",
        "Unrated",
        "0 hr",
        "0.0",
        "EI 0",
        "REI0",
        "0 min",
    ],
)
def test_some_words_say_that_there_is_no_rating(text: str) -> None:
    assert is_no_rating(text)


@pytest.mark.parametrize(
    "text",
    [
        "EI 60",
        "60",
        "60 min",
        "1HR",
        "F90-AB",
        "yes",
        "unknown",
        "No. 3",
        "?",
        "tbc",
        "R0/E30",
        "10",
        "EI 30",
        "0.5 h",
        "F30",
        "1 hr",
    ],
)
def test_all_other_words_are_ratings(text: str) -> None:
    assert not is_no_rating(text)


def test_walls_without_a_rating_are_counted_and_not_asked_about(tmp_path: Path) -> None:
    model = House()
    model.wall("W1", None)
    model.wall("W2", "None")
    model.wall("S1", "0", name="IfcSlab")
    model.wall("W3", "FD30")
    installation = read(tmp_path, model)
    assert barriers(installation) == {"W3": "wall FD30"}
    (problem,) = said(installation, "no fire rating")
    assert (problem.what, problem.kind, problem.where) == (
        "2 walls, 1 slab carry no fire rating",
        ProblemKind.ASSUMPTION,
        "model.ifc",
    )


def test_a_model_without_walls_says_nothing_of_them(tmp_path: Path) -> None:
    model = House()
    model.tray()
    installation = read(tmp_path, model)
    assert installation.barriers == ()
    assert said(installation, "fire") == []


def test_a_wall_s_own_rating_wins_over_its_type_s(tmp_path: Path) -> None:
    model = House()
    walls = [model.wall(tag, rating) for tag, rating in (("own", "EI 30"), ("of type", None), ("none", "-"))]
    kind = model.type_of(walls, "IfcWallType", "Shaft", PredefinedType="STANDARD")
    model.own_set(kind, "Pset_WallCommon", [model.single("FireRating", "IfcLabel", "EI 120")])
    assert barriers(read(tmp_path, model)) == {"own": "wall EI 30", "of type": "wall EI 120"}


def test_ratings_as_numbers_and_enumerations_are_read(tmp_path: Path) -> None:
    model = House()
    number, none, listed = (model.wall(tag, None) for tag in ("number", "none", "listed"))
    model.own_set(number, "Pset_WallCommon", [model.single("FireRating", "IfcReal", 90.0)])
    model.own_set(none, "Pset_WallCommon", [model.single("FireRating", "IfcReal", 0.0)])
    values = [model.wrapped("IfcLabel", "REI90")]
    model.own_set(
        listed, "Pset_WallCommon", [model.file.create_entity("IfcPropertyEnumeratedValue", "FireRating", None, values)]
    )
    assert barriers(read(tmp_path, model)) == {"number": "wall 90", "listed": "wall REI90"}


def test_a_rating_in_another_set_is_not_the_standard_s(tmp_path: Path) -> None:
    model = House()
    model.properties(model.wall("W1", None), "Identity", FireRating="EI 60")
    assert barriers(read(tmp_path, model)) == {}


def test_a_wall_that_is_meant_to_keep_fire_is_asked_about_without_a_rating(tmp_path: Path) -> None:
    model = House()
    for tag, value in (("keeps", True), ("doesn't", False)):
        model.own_set(model.wall(tag, None), "Pset_WallCommon", [model.single("Compartmentation", "IfcBoolean", value)])
    assert barriers(read(tmp_path, model)) == {"keeps": "wall keeps fire, by its Compartmentation"}


@pytest.mark.parametrize("word", ["n/a", "-", "none", "0"])
def test_a_word_for_no_rating_does_not_undo_that_a_wall_is_meant_to_keep_fire(tmp_path: Path, word: str) -> None:
    model = House()
    keeps = [model.single("FireRating", "IfcLabel", word), model.single("Compartmentation", "IfcBoolean", True)]
    model.own_set(model.wall("W1", None), "Pset_WallCommon", keeps)
    installation = read(tmp_path, model)
    assert barriers(installation) == {"W1": "wall keeps fire, by its Compartmentation"}
    assert said(installation, "no fire rating") == []


def test_a_rated_element_of_no_class_is_asked_about_and_one_without_a_rating_is_not_counted(tmp_path: Path) -> None:
    model = House()
    model.tray()
    for tag, at in (("P1", 0.0), ("P2", 1000.0)):
        model.wall(tag, None, name="IfcBuildingElementProxy", at=(at, 0.0, 0.0))
    model.properties(model.contained[-2], "Pset_BuildingElementProxyCommon", FireRating="EI 60")
    installation = read(tmp_path, model)
    assert barriers(installation) == {"P1": "building element EI 60"}
    assert passed(installation) == {"P1": ""}
    assert said(installation, "no fire rating") == []


@pytest.mark.parametrize(
    ("value", "keeps"), [("True", True), (".T.", True), ("Yes", True), ("FALSE", False), ("no", False), ("", False)]
)
def test_a_truth_that_is_written_as_a_text_is_one(tmp_path: Path, value: str, *, keeps: bool) -> None:
    model = House()
    model.own_set(model.wall("W1", None), "Pset_WallCommon", [model.single("Compartmentation", "IfcLabel", value)])
    assert bool(barriers(read(tmp_path, model))) == keeps


def test_a_rating_that_cannot_be_read_is_told_once_for_all(tmp_path: Path) -> None:
    model = House()
    for tag in ("W1", "W2"):
        table = model.file.create_entity("IfcPropertyTableValue", "FireRating", None, [model.wrapped("IfcLabel", "front")],
                                         [model.wrapped("IfcLabel", "EI 60")])  # fmt: skip
        model.own_set(model.wall(tag, None), "Pset_WallCommon", [table])
    blank = model.file.create_entity("IfcPropertySingleValue", "FireRating")
    model.own_set(model.wall("W3", None), "Pset_WallCommon", [blank])
    installation = read(tmp_path, model)
    assert installation.barriers == ()
    (problem,) = said(installation, "can't be read")
    assert (problem.what, problem.elements, problem.kind) == (
        "the fire rating of a wall can't be read",
        2,
        ProblemKind.GAP,
    )
    assert [item.what for item in said(installation, "no fire rating")] == ["1 wall carries no fire rating"]


def test_a_demolished_wall_keeps_no_fire_and_that_is_said(tmp_path: Path) -> None:
    model = House()
    for tag, status in (("gone", "DEMOLISH"), ("stays", "EXISTING")):
        model.properties(model.wall(tag), "Pset_WallCommon", Status=status)
    installation = read(tmp_path, model)
    assert barriers(installation) == {"stays": "wall EI 60"}
    (problem,) = said(installation, "demolished")
    assert (problem.where, problem.kind) == ("model.ifc, gone", ProblemKind.INFERENCE)


def test_a_status_that_is_not_understood_leaves_the_wall_and_is_said(tmp_path: Path) -> None:
    model = House()
    model.properties(model.wall("W1"), "Pset_WallCommon", Status="perhaps")
    model.properties(model.wall("unrated", None), "Pset_WallCommon", Status="perhaps")
    installation = read(tmp_path, model)
    assert barriers(installation) == {"W1": "wall EI 60"}
    assert [problem.where for problem in said(installation, "'perhaps'")] == ["model.ifc, W1"]


def test_an_ignored_wall_is_left_out(tmp_path: Path) -> None:
    model = House()
    model.wall("Existing party wall")
    model.wall("W2")
    project = '[[ignore]]\nclass = "IfcWall"\nname = "Existing*"\nreason = "the neighbour\'s"\n'
    assert barriers(read(tmp_path, model, project)) == {"W2": "wall EI 60"}


def test_a_wall_in_another_file_is_passed_and_one_in_both_is_one(tmp_path: Path) -> None:
    services, building = House(), House()
    services.tray()
    building.tray("another")  # so that both files have the same GlobalIds up to here
    for model in (services, building):
        model.wall("in both")
    building.wall("W2", at=(1000.0, 0.0, 0.0))
    paths = [services.write(tmp_path / "services.ifc"), building.write(tmp_path / "building.ifc")]
    installation = read_installation(find_sources(paths, None), {})
    assert passed(installation) == {"in both": "", "W2": ""}
    assert len(installation.barriers) == 2


def test_walls_of_one_global_id_that_stand_apart_are_two(tmp_path: Path) -> None:
    paths = []
    for number, x in enumerate((0.0, 1000.0)):
        model = House()
        model.tray(f"T{number}")
        model.wall("W", at=(x, 0.0, 0.0))
        paths.append(model.write(tmp_path / f"{number}.ifc"))
    found = read_installation(find_sources(paths, None), {}).barriers
    assert len(found) == len({item.key for item in found}) == 2


def test_a_carrier_of_which_the_axis_is_unknown_is_told_where_there_are_rated_walls(tmp_path: Path) -> None:
    for rating, count in (("EI 60", 1), ("none", 0)):
        model = House()
        model.element("IfcCableCarrierSegment", "lost", (0.0, 0.0, 0.0))
        model.wall("W1", rating)
        problems = said(read(tmp_path, model), "where they run isn't known")
        assert [problem.where for problem in problems] == ["lost"] * count


def mapped(model: SmallModel, *specs: PropertySpec) -> tuple[list[Barrier], set[tuple[str, int]]]:
    found, notes = read_relations(model.file), Notes("a.ifc")
    project = Project.model_construct(**{**Project().__dict__, "properties": specs})
    context = Context("a.ifc", model.file, project, found, 1.0, Shapes(), Properties(found, 0.001), notes)
    used: set[tuple[str, int]] = set()
    return read_barriers(context, (), used), used


def test_a_rating_is_read_from_where_the_project_says() -> None:
    model = House()
    model.properties(model.wall("W1", None), "Identity", Brandklasse="F90")
    model.properties(model.wall("W2", "EI 30"), "Identity", Brandklasse="none")
    specs = [
        PropertySpec.model_construct(quantity="fire_rating", set="*", property=name, unit=None)
        for name in ("Brandwand", "Brandklasse")
    ]
    found, used = mapped(model, *specs)
    assert {item.place.tag: item.fire_rating for item in found} == {"W1": "F90"}
    assert used == {("properties", 1)}
    found, used = mapped(model)
    assert {item.place.tag: item.fire_rating for item in found} == {"W2": "EI 30"}
    assert used == set()
