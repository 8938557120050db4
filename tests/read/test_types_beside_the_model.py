"""Where ``[[types]]`` and ``[[fittings]]`` of the project file and the model differ, or entries take carriers from each other."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import Installation, Problem, ProblemKind
from tests.read.reading import carrier_of, read, said
from tests.read.test_bend_radii import arc_with_tails, disk
from tests.small_models import SmallModel

TYPE = '[[types]]\nname = "{}"\n{}\n'
ROUND = '[[fittings]]\nname = "{}"\nradius_mm = {}\n'


def trunkings(*tags: str, type_name: str = "", wall: float = 1.6) -> SmallModel:
    """Trunkings of 100 x 50 with a wall, one beside the other."""
    model = SmallModel()
    made = [
        model.carrier(tag, (0.0, 500.0 * n, 0.0), (3000.0, 500.0 * n, 0.0),
                      model.profile("IfcRectangleHollowProfileDef", 100.0, 50.0, wall))
        for n, tag in enumerate(tags)
    ]  # fmt: skip
    if type_name:
        model.type_of(made, "IfcCableCarrierSegmentType", type_name, PredefinedType="CABLETRUNKINGSEGMENT")
    return model


def tray(depth: float | None = None) -> SmallModel:
    """A tray of 300 x 60, drawn as a block of a type T."""
    model = SmallModel()
    made = model.carrier("C1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), model.profile("IfcRectangleProfileDef", 60.0, 300.0),
                         "CABLETRAYSEGMENT")  # fmt: skip
    model.properties(made, "Pset_ElementSize", NominalWidth=300.0, NominalHeight=60.0)
    if depth is not None:
        model.properties(made, "Own", Depth=depth)
    model.type_of([made], "IfcCableCarrierSegmentType", "T", PredefinedType="CABLETRAYSEGMENT")
    return model


def of_entry(found: Installation, name: str) -> list[Problem]:
    return [item for item in found.problems if item.where == f"wayroom.toml, [[types]] {name!r}"]


@pytest.mark.parametrize(
    ("given", "shown"), [("1.2", "1.2"), ("2", "2"), ("[0.8, 1.5]", "0.8 to 1.5"), ("[1.8, 2.0]", "1.8 to 2")]
)
def test_a_wall_that_the_model_overrules_is_told_once_for_its_type(tmp_path: Path, given: str, shown: str) -> None:
    found = read(tmp_path, trunkings("T1", "T2", "T3", type_name="T"), TYPE.format("T", f"wall_mm = {given}"))
    assert {item.section.wall_mm for item in found.carriers} == {1.6}
    (told,) = said(found, "gives a wall_mm of", ProblemKind.ASSUMPTION)
    assert f"[[types]] 'T' of wayroom.toml gives a wall_mm of {shown}; the model has 1.6 mm" in told.what
    assert told.elements == 3
    assert told.why == "wayroom.toml and the model differ"


@pytest.mark.parametrize("given", ["1.6", "1.62", "[1.5, 1.6]", "[0.8, 2.0]"])
def test_a_wall_that_the_model_has_too_is_not_told(tmp_path: Path, given: str) -> None:
    found = read(tmp_path, trunkings("T1", type_name="T"), TYPE.format("T", f"wall_mm = {given}"))
    assert said(found, "wall_mm") == []


@pytest.mark.parametrize(("given", "used"), [(60.0, 60.0), (59.9, 59.9), (60.1, None), (600.0, None)])
def test_a_usable_depth_above_the_height_is_not_used_and_told(tmp_path: Path, given: float, used: float | None) -> None:
    found = read(tmp_path, tray(), TYPE.format("T", f"usable_depth_mm = {given}"))
    assert carrier_of(found, "C1").section.usable_depth_mm == used
    told = [item.what for item in said(found, "more than its height of 60 mm; it isn't used", ProblemKind.CORRECTION)]
    assert len(told) == (0 if used else 1)


@pytest.mark.parametrize(
    ("given", "used", "words", "kind"),
    [
        (45.0, 45.0, "gives a usable_depth_mm of 45, which is used; the model has 50 mm", ProblemKind.ASSUMPTION),
        (55.0, 55.0, "gives a usable_depth_mm of 55, which is used; the model has 50 mm", ProblemKind.ASSUMPTION),
        (70.0, 50.0, "more than its height of 60 mm; the model's 50 mm is used", ProblemKind.CORRECTION),
    ],
)
def test_a_usable_depth_beside_one_that_the_model_states_is_told(
    tmp_path: Path, given: float, used: float, words: str, kind: ProblemKind
) -> None:
    mapped = '[[properties]]\nquantity = "usable_depth"\nset = "Own"\nproperty = "Depth"\n'
    found = read(tmp_path, tray(50.0), TYPE.format("T", f"usable_depth_mm = {given}") + mapped)
    assert carrier_of(found, "C1").section.usable_depth_mm == used
    assert len(said(found, words, kind)) == 1


def test_a_width_of_the_project_file_that_the_model_overrules_is_no_contradiction_of_the_models(tmp_path: Path) -> None:
    found = read(tmp_path, trunkings("T1", type_name="T"), TYPE.format("T", "width_mm = 150\nheight_mm = 50"))
    (told,) = said(found, "width is 100 mm by its profile and 150 mm by its project file")
    assert told.why == "wayroom.toml and the model differ"
    assert told.hint == "mend whichever of the two is wrong"


def test_an_entry_that_an_earlier_one_leaves_nothing_is_told_with_the_one_that_goes_before(tmp_path: Path) -> None:
    entries = TYPE.format("Floor*", "count = 2") + TYPE.format("Floor 100x50", "count = 3")
    found = read(tmp_path, trunkings("T1", type_name="Floor 100x50"), entries)
    assert len(carrier_of(found, "T1").section.lanes) == 2
    assert of_entry(found, "Floor*") == []
    (told,) = of_entry(found, "Floor 100x50")
    assert told.what == "all carriers that it fits are taken by [[types]] 1 ('Floor*'), which goes before"


def test_an_entry_that_an_earlier_one_leaves_some_carriers_is_not_told(tmp_path: Path) -> None:
    entries = TYPE.format("T1", "count = 2") + TYPE.format("T*", "count = 3")
    found = read(tmp_path, trunkings("T1", "T2"), entries)
    assert [len(carrier_of(found, tag).section.lanes) for tag in ("T1", "T2")] == [2, 3]
    assert of_entry(found, "T1") + of_entry(found, "T*") == []


def test_an_entry_that_several_earlier_ones_leave_nothing_names_them_all(tmp_path: Path) -> None:
    entries = "".join(TYPE.format(name, "count = 2") for name in ("T1", "T2", "T?"))
    (told,) = of_entry(read(tmp_path, trunkings("T1", "T2"), entries), "T?")
    assert "taken by [[types]] 1 ('T1'), [[types]] 2 ('T2'), which go before" in told.what


@pytest.mark.parametrize(("pattern", "fits"), [("North run", True), ("CT-7", True), ("CT-?", True), ("CT", False)])
def test_a_carrier_without_a_type_is_found_by_its_name_or_tag(tmp_path: Path, pattern: str, *, fits: bool) -> None:
    model = trunkings("CT-7")
    model.contained[0].Name = "North run"
    found = read(tmp_path, model, TYPE.format(pattern, "count = 3"))
    assert len(carrier_of(found, "CT-7").section.lanes) == (3 if fits else 1)
    assert bool(of_entry(found, pattern)) is not fits


def test_a_carrier_with_a_type_is_found_by_that_alone(tmp_path: Path) -> None:
    found = read(tmp_path, trunkings("CT-7", type_name="Main"), TYPE.format("CT-7", "count = 3"))
    assert len(carrier_of(found, "CT-7").section.lanes) == 1
    assert [item.what for item in of_entry(found, "CT-7")] == ["no carrier of the models has such a type"]


def bend(model: SmallModel) -> Any:
    """A bend drawn to a radius of 90 mm."""
    shape = model.file.create_entity(
        "IfcShapeRepresentation", model.context, "Body", "AdvancedSweptSolid", [disk(model, arc_with_tails(model, 90.0, 20.0))]
    )  # fmt: skip
    made = model.rooted("IfcCableCarrierFitting", Tag="B1", Name="B1", PredefinedType="BEND",
                        ObjectPlacement=model.place((0.0, 0.0, 0.0)),
                        Representation=model.file.create_entity("IfcProductDefinitionShape", Representations=[shape]))  # fmt: skip
    model.contained.append(made)
    return made


@pytest.mark.parametrize(("given", "is_told"), [(150.0, True), (75.0, True), (90.0, False), (90.5, False)])
def test_a_radius_that_the_model_overrules_is_told(tmp_path: Path, given: float, *, is_told: bool) -> None:
    model = SmallModel()
    bend(model)
    found = read(tmp_path, model, ROUND.format("B*", given))
    assert [item.radius_mm for item in found.fittings] == [pytest.approx(90.0)]
    words = f"[[fittings]] gives a radius_mm of {given:g}; the model draws 90 mm, which is used"
    assert len(said(found, words, ProblemKind.ASSUMPTION)) == is_told
