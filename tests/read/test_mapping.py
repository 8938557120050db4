"""What the project file says of classes, layers and what isn't read; and wholes with parts."""

from pathlib import Path
from typing import Any

import pytest

from checker.errors import ProjectFileError
from checker.model import CarrierKind, FittingKind, ProblemKind
from checker.read.project import read_project
from tests.read.reading import read, said
from tests.small_models import SmallModel

HERE = (0.0, 0.0, 0.0)


def box(model: SmallModel) -> Any:
    return model.body(model.profile("IfcRectangleProfileDef", 300.0, 60.0), 2000.0)


def proxy(model: SmallModel, tag: str, name: str = "IfcBuildingElementProxy", **more: Any) -> Any:
    element = model.rooted(name, Tag=tag, Name=tag, ObjectPlacement=model.place(HERE), **more)
    model.contained.append(element)
    return element


@pytest.mark.parametrize(
    ("patterns", "fits"),
    [
        ('class = "IfcBuildingElementProxy"', 1),
        ('class = "ifcbuildingelementproxy"', 1),
        ('class = "IfcElement"', 1),  # a class above its own
        ('class = "IfcBuiltElement*"', 0),  # the name of that class in another release
        ('class = "IfcBuildingElement"', 1),
        ('name = "weg ?"', 1),
        ('name = "Weg"', 0),
        ('name = "Weg*"\ntype = "KR*"', 0),  # all that are given must match, and it has no type
        ('layer = "E-*"', 1),
        ('layer = "A-*"', 0),
    ],
)
def test_all_patterns_that_are_given_must_match_in_any_case(tmp_path: Path, patterns: str, fits: int) -> None:
    model = SmallModel()
    element = proxy(model, "Weg 3", Representation=box(model))
    model.file.create_entity(
        "IfcPresentationLayerAssignment",
        Name="E-Containment",
        AssignedItems=[element.Representation.Representations[0]],
    )
    installation = read(tmp_path, model, f'[[classes]]\nkind = "tray"\n{patterns}\n')
    assert [item.kind for item in installation.carriers] == [CarrierKind.TRAY] * fits


def test_the_layer_of_what_is_mapped_in_counts_too(tmp_path: Path) -> None:
    model = SmallModel()
    make = model.file.create_entity
    inner = box(model).Representations[0]
    make("IfcPresentationLayerAssignment", Name="Cables", AssignedItems=[inner.Items[0]])
    origin = model.place(HERE).RelativePlacement
    source = make("IfcRepresentationMap", origin, inner)
    target = make("IfcCartesianTransformationOperator3D", None, None, make("IfcCartesianPoint", HERE))
    shape = make(
        "IfcShapeRepresentation", model.context, "Body", "MappedRepresentation", [make("IfcMappedItem", source, target)]
    )
    proxy(model, "A", Representation=make("IfcProductDefinitionShape", Representations=[shape]))
    assert len(read(tmp_path, model, '[[classes]]\nkind = "tray"\nlayer = "cables"\n').carriers) == 1


def test_the_first_entry_that_matches_decides_and_a_fitting_may_be_mapped(tmp_path: Path) -> None:
    model = SmallModel()
    proxy(model, "Ecke 1")
    proxy(model, "Weg 1")
    entries = (
        '[[classes]]\nkind = "bend"\nname = "Ecke*"\n[[classes]]\nkind = "conduit"\nclass = "IfcBuildingElementProxy"\n'
    )
    installation = read(tmp_path, model, entries)
    assert [item.kind for item in installation.fittings] == [FittingKind.BEND]
    assert [item.kind for item in installation.carriers] == [CarrierKind.CONDUIT]
    assert installation.carriers[0].kind_source == "project file"


def test_what_is_ignored_is_in_no_list_and_is_said_with_the_reason(tmp_path: Path) -> None:
    model = SmallModel()
    proxy(model, "Keep", "IfcCableCarrierSegment", PredefinedType="CABLETRAYSEGMENT")
    proxy(model, "Spare 1", "IfcCableCarrierSegment", PredefinedType="CABLETRAYSEGMENT")
    proxy(model, "Spare 2", "IfcCableCarrierFitting", PredefinedType="BEND")
    proxy(model, "Spare 3", "IfcOutlet")
    proxy(model, "Spare 4", "IfcCableSegment", PredefinedType="CABLESEGMENT")
    installation = read(tmp_path, model, '[[ignore]]\nname = "Spare*"\nreason = "space kept free"\n')
    assert [item.place.tag for item in installation.carriers] == ["Keep"]
    assert not installation.fittings + installation.equipment + installation.model_cables
    assert len(said(installation, "space kept free", ProblemKind.ASSUMPTION)) == 4


def test_parts_of_a_whole_with_a_shape_are_not_counted_beside_it(tmp_path: Path) -> None:
    model = SmallModel()
    whole, *parts = (
        proxy(model, tag, "IfcCableCarrierSegment", PredefinedType="CABLETRAYSEGMENT", Representation=box(model))
        for tag in "WAB"
    )
    model.parts(whole, parts)
    installation = read(tmp_path, model)
    assert [item.place.tag for item in installation.carriers] == ["W"]
    assert len(said(installation, "it is a part of W and isn't counted beside it", ProblemKind.ASSUMPTION)) == 2


def test_a_whole_without_a_shape_is_its_parts(tmp_path: Path) -> None:
    model = SmallModel()
    whole = proxy(model, "W", "IfcCableCarrierSegment")
    parts = [proxy(model, tag, "IfcCableCarrierSegment", Representation=box(model)) for tag in "AB"]
    model.parts(whole, parts, nested=True)
    installation = read(tmp_path, model)
    assert sorted(item.place.tag for item in installation.carriers) == ["A", "B"]
    told = said(installation, "it has no shape but parts, such as B, and isn't counted beside them")
    assert [problem.where.split(", ")[-1] for problem in told] == ["W"]


def test_a_part_of_a_part_is_not_counted_beside_the_whole_either(tmp_path: Path) -> None:
    model = SmallModel()
    whole, last = (proxy(model, tag, "IfcCableCarrierSegment", Representation=box(model)) for tag in "WZ")
    middle = proxy(model, "M", "IfcCableCarrierSegment")
    model.parts(whole, [middle])
    model.parts(middle, [last])
    assert [item.place.tag for item in read(tmp_path, model).carriers] == ["W"]


def test_wholes_that_are_parts_of_each_other_all_stay(tmp_path: Path) -> None:
    model = SmallModel()
    one, other = (proxy(model, tag, "IfcCableCarrierSegment", Representation=box(model)) for tag in "AB")
    model.parts(one, [other])
    model.parts(other, [one])
    assert sorted(item.place.tag for item in read(tmp_path, model).carriers) == ["A", "B"]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('[[properties]]\nquantity = "breadth"\nproperty = "B"\n', 2, "properties.1.quantity"),
        ('[[properties]]\nquantity = "width"\nproperty = "B"\nunit = "yd"\n', 4, "'yd' isn't one of mm, cm, m, in, ft"),
        ('[[properties]]\nquantity = "width"\n', 1, "properties.1.property"),
        ('[[properties]]\nquantity = "width"\nproperty = ""\n', 3, "properties.1.property"),
        ('[[properties]]\nquantity = "width"\nproperty = "B"\nsett = "*"\n', 4, "there is no such key"),
        ('[[classes]]\nkind = "tray"\n', 1, "give at least one of class, type, name, layer"),
        (
            '[[classes]]\nkind = "gutter"\nname = "G*"\n',
            2,
            "'gutter' isn't one of trunking, conduit, tray, ladder, bend",
        ),
        ('[[classes]]\nkind = "unknown"\nname = "G*"\n', 2, "isn't one of"),
        ('[[classes]]\nname = "G*"\n', 1, "classes.1.kind"),
        ('[[ignore]]\nname = "G*"\n', 1, "ignore.1.reason"),
        ('[[ignore]]\nname = "G*"\nreason = ""\n', 3, "ignore.1.reason"),
        ('[[ignore]]\nreason = "none"\n', 1, "give at least one of"),
        (
            '[[types]]\nname = "A"\nwidth_mm = 100\ndiameter_mm = 20\n',
            1,
            "give width_mm and height_mm, or diameter_mm and bore_mm",
        ),
        ('[[types]]\nname = "A"\ndiameter_mm = 20\nbore_mm = 21\n', 1, "bore_mm is more than diameter_mm"),
        ('[[types]]\nname = "A"\n[[types]]\nname = "B"\nwidth_mm = 0\n', 5, "types.2.width_mm"),
        ('[[types]]\nname = "A"\nheight_mm = nan\n', 3, "types.1.height_mm"),
    ],
)
def test_a_mistake_in_a_mapping_is_told_with_its_line_and_key(tmp_path: Path, text: str, line: int, words: str) -> None:
    path = tmp_path / "wayroom.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ProjectFileError) as caught:
        read_project(path)
    assert f"line {line}" in caught.value.where
    assert words in caught.value.what


def test_a_mapped_tag_stands_beside_a_tag_of_the_element_itself_and_is_what_it_is_called(tmp_path: Path) -> None:
    model = SmallModel()
    element = proxy(model, "481516", "IfcOutlet")
    model.properties(element, "Equipment", Mark="SO-7")
    (item,) = read(
        tmp_path, model, '[[properties]]\nquantity = "tag"\nset = "Equipment"\nproperty = "Mark"\n'
    ).equipment
    assert (item.place.tag, item.place.mark, item.place.label) == ("481516", "SO-7", "SO-7")
