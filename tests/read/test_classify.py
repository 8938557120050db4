"""What an element is: of what is asked, the first that answers decides; and what only looks like a carrier is said."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import CarrierKind, Confidence, FittingKind, ProblemKind
from tests.read.reading import carrier_of, read, said
from tests.small_models import SmallModel

HERE = (0.0, 0.0, 0.0)
TRAY_SET = "Pset_CableCarrierSegmentTypeCableTraySegment"
TRUNKING_SET = "Pset_CableCarrierSegmentTypeCableTrunkingSegment"


def segment(model: SmallModel, name: str = "IfcCableCarrierSegment", **more: Any) -> Any:
    attributes = {"Tag": "X", "Name": "X", "ObjectPlacement": model.place(HERE), **more}
    element = model.rooted(name, **attributes)
    model.contained.append(element)
    return element


@pytest.mark.parametrize(
    ("own", "of_type", "kind", "source"),
    [
        ({"PredefinedType": "CABLETRAYSEGMENT"}, {"PredefinedType": "CONDUITSEGMENT"}, "tray", "predefined type"),
        ({"PredefinedType": "NOTDEFINED"}, {"PredefinedType": "CONDUITSEGMENT"}, "conduit", "predefined type of its type"),
        ({}, {"PredefinedType": "CABLELADDERSEGMENT"}, "ladder", "predefined type of its type"),
        ({"PredefinedType": "USERDEFINED", "ObjectType": "CABLETRAYSEGMENT "}, {"PredefinedType": "NOTDEFINED"}, "tray",
         "user-defined type"),
        ({"PredefinedType": "USERDEFINED", "ObjectType": "cableTraySegment"}, {"PredefinedType": "CONDUITSEGMENT"}, "tray",
         "user-defined type"),
        ({}, {"PredefinedType": "USERDEFINED", "ElementType": " ConduitSegment"}, "conduit", "user-defined type of its type"),
        ({"PredefinedType": "USERDEFINED", "ObjectType": "Kabelrinne gelocht"}, {"PredefinedType": "NOTDEFINED"}, "tray",
         "user-defined type, by the word 'kabelrinne'"),
    ],
)  # fmt: skip
def test_the_occurrence_goes_before_the_type_and_what_the_user_wrote_counts_where_it_is_userdefined(
    tmp_path: Path, own: dict[str, str], of_type: dict[str, str], kind: str, source: str
) -> None:
    model = SmallModel()
    model.type_of([segment(model, **own)], "IfcCableCarrierSegmentType", "Sort A", **of_type)
    carrier = read(tmp_path, model).carriers[0]
    assert (carrier.kind, carrier.kind_source) == (kind, source)
    assert carrier.kind_confidence is (Confidence.MEDIUM if "word" in source else Confidence.HIGH)


def test_in_ifc2x3_a_flow_segment_is_a_carrier_by_its_types_class(tmp_path: Path) -> None:
    model = SmallModel("IFC2X3")
    model.type_of(
        [segment(model, "IfcFlowSegment")], "IfcCableCarrierSegmentType", "A", PredefinedType="CABLETRAYSEGMENT"
    )
    model.type_of([segment(model, "IfcFlowSegment")], "IfcPipeSegmentType", "Cable tray", PredefinedType="NOTDEFINED")
    assert [carrier.kind for carrier in read(tmp_path, model).carriers] == [CarrierKind.TRAY]


def test_a_property_set_of_one_kind_tells_it_and_two_of_two_kinds_tell_nothing(tmp_path: Path) -> None:
    model = SmallModel()
    one, two = segment(model, Tag="one"), segment(model, Tag="two")
    for element, names in ((one, [TRAY_SET]), (two, [TRAY_SET, TRUNKING_SET])):
        for name in names:
            model.properties(element, name, HasCover=1)
    installation = read(tmp_path, model)
    assert carrier_of(installation, "one").kind is CarrierKind.TRAY
    assert carrier_of(installation, "one").kind_source == f"property set {TRAY_SET}"
    assert carrier_of(installation, "two").kind is CarrierKind.UNKNOWN


MAPPING = '[[classes]]\nkind = "ladder"\ntype = "KL *"\n'


@pytest.mark.parametrize(
    ("own", "kind", "said_of_it"),
    [
        ({"PredefinedType": "NOTDEFINED"}, "ladder", ""),
        (
            {"PredefinedType": "CABLETRAYSEGMENT"},
            "tray",
            "wayroom.toml calls it a ladder, but its predefined type says tray",
        ),
        ({"Name": "Conduit"}, "ladder", ""),  # words go last
    ],
)
def test_the_mapping_goes_after_predefined_types_and_before_words(
    tmp_path: Path, own: dict[str, str], kind: str, said_of_it: str
) -> None:
    model = SmallModel()
    model.type_of([segment(model, **own)], "IfcCableCarrierSegmentType", "KL 400", PredefinedType="NOTDEFINED")
    installation = read(tmp_path, model, MAPPING)
    assert installation.carriers[0].kind == kind
    assert bool(said(installation, "wayroom.toml calls it", ProblemKind.ASSUMPTION)) == bool(said_of_it)
    if said_of_it:
        assert said(installation, said_of_it)


def test_a_mapping_that_calls_a_segment_a_fitting_is_said_and_not_followed(tmp_path: Path) -> None:
    model = SmallModel()
    segment(model, Name="Weg 3")
    installation = read(tmp_path, model, '[[classes]]\nkind = "bend"\nname = "Weg*"\n')
    assert (len(installation.carriers), len(installation.fittings)) == (1, 0)
    assert said(installation, "calls it a bend, but by its class it is a segment", ProblemKind.ASSUMPTION)


@pytest.mark.parametrize(
    ("element", "of_type"),
    [("IfcDuctSegment", ""), ("IfcPipeSegment", ""), ("IfcFlowSegment", "IfcDuctSegmentType"), ("IfcFlowFitting", "IfcPipeFittingType"),
     ("IfcDuctFitting", ""), ("IfcCableSegment", "")],
)  # fmt: skip
def test_ducts_pipes_and_cables_are_never_carriers_whatever_name_and_mapping_say(
    tmp_path: Path, element: str, of_type: str
) -> None:
    model = SmallModel()
    made = segment(model, element, Name="Cable tray 300")
    if of_type:
        model.type_of([made], of_type, "Cable tray", PredefinedType="NOTDEFINED")
    bare = read(tmp_path, model)
    assert not bare.carriers + bare.fittings
    mapped = read(tmp_path, model, '[[classes]]\nkind = "tray"\nname = "Cable tray*"\n')
    assert not mapped.carriers + mapped.fittings
    assert said(mapped, "by its class it isn't one", ProblemKind.GAP)


def test_a_carrier_by_its_own_class_stays_one_though_its_type_is_a_pipes_and_that_is_said(tmp_path: Path) -> None:
    model = SmallModel()
    element = segment(model, PredefinedType="CABLETRAYSEGMENT")
    model.type_of([element], "IfcPipeSegmentType", "P", PredefinedType="NOTDEFINED")
    installation = read(tmp_path, model)
    assert installation.carriers[0].kind is CarrierKind.TRAY
    assert said(installation, "its type is an IfcPipeSegmentType", ProblemKind.ASSUMPTION)


@pytest.mark.parametrize(
    "name", ["Busbar trunking 800A", "Cable tray lid", "Cable tray support", "Conduit for water pipe"]
)
def test_a_carrier_by_class_is_no_kind_by_a_name_that_says_another_thing_too(tmp_path: Path, name: str) -> None:
    model = SmallModel()
    segment(model, Name=name)
    installation = read(tmp_path, model)
    assert installation.carriers[0].kind is CarrierKind.UNKNOWN
    assert said(installation, "which kind of carrier it is isn't said", ProblemKind.GAP)


@pytest.mark.parametrize("name", ["Busbar trunking", "Trunking lid", "Cable tray support", "Conduit - water"])
def test_what_only_looks_like_a_carrier_is_left_out_and_said(tmp_path: Path, name: str) -> None:
    model = SmallModel()
    segment(model, "IfcBuildingElementProxy", Name=name)
    installation = read(tmp_path, model)
    assert not installation.carriers + installation.fittings
    assert len(said(installation, "it may be a cable carrier, but isn't read", ProblemKind.GAP)) == 1


def test_an_element_of_no_class_that_is_a_carrier_by_name_is_one_with_low_confidence(tmp_path: Path) -> None:
    model = SmallModel()
    segment(model, "IfcBuildingElementProxy", Name="Kabelrinne_300")
    segment(model, "IfcBuildingElementProxy", Name="Cable tray with fittings")
    segment(model, "IfcBuildingElementProxy", Name="Conduit elbow")
    segment(model, "IfcFlowFitting", Name="Cable tray")
    segment(model, "IfcWall", Name="Cable tray wall")
    installation = read(tmp_path, model)
    assert [(item.kind, item.kind_confidence) for item in installation.carriers] == [
        (CarrierKind.TRAY, Confidence.LOW)
    ] * 2
    assert sorted(item.kind for item in installation.fittings) == [FittingKind.BEND, FittingKind.UNKNOWN]
    assert len(said(installation, "it is taken for a tray", ProblemKind.INFERENCE)) == 2


def test_fittings_are_known_by_class_predefined_type_and_words(tmp_path: Path) -> None:
    model = SmallModel("IFC4X3")
    for word, name in (
        ("CROSS", "a"),
        ("JUNCTION", "b"),
        ("TRANSITION", "c"),
        ("NOTDEFINED", "Kabelrinnenbogen"),
        ("NOTDEFINED", "d"),
    ):
        segment(model, "IfcCableCarrierFitting", Tag=name, Name=name, PredefinedType=word)
    segment(model, "IfcJunctionBox", Tag="e", Name="e")
    kinds = {item.place.tag: item.kind for item in read(tmp_path, model).fittings}
    assert kinds == {
        "a": FittingKind.CROSS,
        "b": FittingKind.UNKNOWN,
        "c": FittingKind.REDUCER,
        "Kabelrinnenbogen": FittingKind.BEND,
        "d": FittingKind.UNKNOWN,
        "e": FittingKind.BOX,
    }  # a JUNCTION has more than two ports: it may be a tee or a cross, and is no box
