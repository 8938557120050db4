"""What property sets hold: kinds of values, which of several holds, units of their own, and what is malformed."""

from functools import partial
from pathlib import Path
from typing import Any

import pytest

from checker.model import ProblemKind
from checker.read.properties import Held, Properties
from checker.read.relations import read_relations
from tests.read.reading import read, read_file, said
from tests.small_models import SmallModel

LENGTH = "IfcPositiveLengthMeasure"


def one(**unit: Any) -> tuple[SmallModel, Any]:
    model = SmallModel(**unit)
    return model, model.element("IfcCableCarrierSegment", "X", (0.0, 0.0, 0.0))


def held(model: SmallModel, element: Any, metres: float = 0.001) -> tuple[Held, ...]:
    return Properties(read_relations(model.file), metres).of(element)


def values(model: SmallModel, element: Any) -> dict[str, Any]:
    return {item.name: item.value for item in held(model, element)}


def test_values_of_every_sort_are_read_as_numbers_texts_and_truths() -> None:
    model, element = one()
    make = model.file.create_entity
    label, number = partial(model.wrapped, "IfcLabel"), partial(model.wrapped, "IfcReal")
    model.own_set(element, "P", [
        model.single("integer", "IfcInteger", 3),
        model.single("text", "IfcText", "  300 mm "),
        model.single("truth", "IfcBoolean", True),
        make("IfcPropertySingleValue", "nothing", None, None, None),
        model.single("blank", "IfcLabel", "  "),
        make("IfcPropertyEnumeratedValue", "one of many", None, [label("NEW")], None),
        make("IfcPropertyEnumeratedValue", "two of many", None, [label("EXISTING"), label("DEMOLISH")], None),
        make("IfcPropertyListValue", "list", None, [number(1.0), number(2.5)], None),
        make("IfcPropertyListValue", "list of one", None, [number(4.0)], None),
        make("IfcPropertyBoundedValue", "same bounds", None, number(5.0), number(5.0), None, None),
        make("IfcPropertyBoundedValue", "bounds", None, number(6.0), number(5.0), None, None),
        make("IfcPropertyBoundedValue", "half", None, number(6.0), None, None, None),
        make("IfcPropertyBoundedValue", "set point", None, number(9.0), number(5.0), None, number(7.0)),
    ])  # fmt: skip
    assert values(model, element) == {
        "integer": 3.0, "text": "300 mm", "truth": True, "one of many": "NEW",
        "two of many": "EXISTING, DEMOLISH",  # neither of the two is chosen
        "list": "1.0, 2.5", "list of one": 4.0,
        "same bounds": 5.0, "set point": 7.0,  # of bounds that differ, none is the value
    }  # fmt: skip


def test_what_is_nested_is_named_by_its_way_and_a_quantity_is_one() -> None:
    model, element = one()
    make = model.file.create_entity
    inner = model.single("Breite", LENGTH, 300.0)
    model.own_set(element, None, [make("IfcComplexProperty", "Abmessungen", None, "Size", [inner])])
    model.own_set(element, "Q", [make("IfcQuantityLength", "Width", None, None, 200.0, None)])
    model.own_set(element, "Q", [make("IfcQuantityCount", "Lanes", None, None, 2, None)])
    assert sorted(held(model, element), key=lambda item: item.name) == [
        Held("", "Abmessungen.Breite", 300.0, is_length=True),
        Held("Q", "Lanes", 2.0, is_quantity=True),
        Held("Q", "Width", 200.0, is_quantity=True, is_length=True),
    ]


def test_an_element_s_own_value_goes_before_its_types_and_a_later_set_before_an_earlier() -> None:
    model, element = one()
    kind = model.type_of([element], "IfcCableCarrierSegmentType", "T", PredefinedType="CABLETRAYSEGMENT")
    model.own_set(kind, "P", [model.single("a", "IfcReal", 1.0), model.single("b", "IfcReal", 2.0)])
    model.own_set(element, "P", [model.single("a", "IfcReal", 3.0)])
    model.own_set(element, "P", [model.single("a", "IfcReal", 4.0)])
    assert [(item.name, item.value, item.of_type) for item in held(model, element)] == [
        ("a", 4.0, False), ("a", 3.0, False), ("a", 1.0, True), ("b", 2.0, True)
    ]  # fmt: skip


def test_a_set_of_sets_is_read_as_its_sets(tmp_path: Path) -> None:
    model = SmallModel()
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None)
    width = model.own_set(element, "Pset_ElementSize", [model.single("NominalWidth", LENGTH, 100.0)])
    height = model.rooted(
        "IfcPropertySet", Name="Pset_ElementSize", HasProperties=[model.single("NominalHeight", LENGTH, 50.0)]
    )
    path = model.write(tmp_path / "model.ifc")
    text = path.read_text(encoding="utf-8")
    one, both = f",#{width.id()});", f",IFCPROPERTYSETDEFINITIONSET((#{width.id()},#{height.id()})));"
    assert text.count(one) == 1
    path.write_text(text.replace(one, both), encoding="utf-8")
    section = read_file(path).carriers[0].section
    assert (section.width_mm, section.height_mm) == (100.0, 50.0)


def test_a_length_with_a_unit_of_its_own_is_brought_into_the_files() -> None:
    model, element = one(prefix=None)
    milli = model.file.create_entity("IfcSIUnit", None, "LENGTHUNIT", "MILLI", "METRE")
    model.own_set(element, "P", [model.single("a", LENGTH, 300.0, milli), model.single("b", "IfcReal", 300.0, milli),
                                 model.single("c", LENGTH, 0.3)])  # fmt: skip
    read_in_metres = held(model, element, 1.0)
    assert [item.value for item in read_in_metres] == pytest.approx([0.3, 0.3, 0.3])
    assert all(item.is_length for item in read_in_metres)


def test_more_nesting_than_anybody_needs_and_nesting_in_itself_come_to_an_end() -> None:
    model, element = one()
    make = model.file.create_entity
    loop = make("IfcComplexProperty", "loop", None, "x")
    loop.HasProperties = [loop, model.single("a", "IfcReal", 1.0)]
    model.own_set(element, "P", [loop])
    assert {item.value for item in held(model, element)} == {1.0}
    assert len(held(model, element)) <= 5  # one a level, four levels deep


NORMAL = "IFCPROPERTYLISTVALUE('Abc',$,(IFCLABEL('QQQ')),$)"


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        (NORMAL, "IFCQUANTITYLENGTH('Abc',$,$,'wide')"),
        (NORMAL, "IFCPROPERTYLISTVALUE('Abc',$,(5.0),$)"),
        (NORMAL, "IFCPROPERTYLISTVALUE('Abc',$,(#1),#1)"),
        (NORMAL, "IFCPROPERTYLISTVALUE('Abc',$,$,$)"),
        (NORMAL, "IFCPROPERTYENUMERATEDVALUE('Abc',$,$,#1)"),
        (NORMAL, "IFCPROPERTYBOUNDEDVALUE(5,$,#1,'x',#1)"),
        (NORMAL, "IFCPROPERTYSINGLEVALUE('Abc',$,#1,#1)"),
        (NORMAL, "IFCCOMPLEXPROPERTY('Abc',$,$,5)"),
        (NORMAL, "IFCWALL('Abc')"),
    ],
)
def test_a_malformed_value_takes_nothing_else_with_it(tmp_path: Path, was: str, becomes: str) -> None:
    model = SmallModel()
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None)
    model.properties(element, "Pset_ElementSize", NominalWidth=100.0, NominalHeight=50.0)
    make = model.file.create_entity
    model.own_set(element, "P", [make("IfcPropertyListValue", "Abc", None, [model.wrapped("IfcLabel", "QQQ")])])
    text = model.write(tmp_path / "whole.ifc").read_text(encoding="utf-8")
    assert text.count(was) == 1
    broken = tmp_path / "broken.ifc"
    broken.write_text(text.replace(was, becomes), encoding="utf-8")
    section = read_file(broken).carriers[0].section
    assert (section.width_mm, section.height_mm) == (100.0, 50.0)


@pytest.mark.parametrize("wrong", ["IFCPOSITIVELENGTHMEASURE('x')", "#1", "IFCLOGICAL(.U.)", "IFCBOOLEAN(.T.)"])
def test_a_size_that_is_no_number_is_no_size(tmp_path: Path, wrong: str) -> None:
    model = SmallModel()
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None)
    model.properties(element, "Pset_ElementSize", NominalWidth=100.0, NominalHeight=50.0)
    path = model.write(tmp_path / "model.ifc")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("IFCPOSITIVELENGTHMEASURE(100.)", wrong), encoding="utf-8")
    installation = read_file(path)
    assert installation.carriers[0].section.width_mm is None
    assert said(installation, "its width isn't known, only its height", ProblemKind.GAP)


def test_one_property_twice_with_two_values_is_said_and_the_last_is_used(tmp_path: Path) -> None:
    model = SmallModel()
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None)
    model.properties(element, "Pset_ElementSize", NominalWidth=100.0, NominalHeight=50.0)
    model.properties(element, "Pset_ElementSize", NominalWidth=150.0, NominalHeight=50.0)
    installation = read(tmp_path, model)
    assert installation.carriers[0].section.width_mm == 150.0
    told = said(installation, "NominalWidth several times, with 100 and 150", ProblemKind.ASSUMPTION)
    assert len(told) == 1
    assert not said(installation, "NominalHeight several times")
