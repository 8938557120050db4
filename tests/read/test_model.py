"""One small network in several spellings reads back to the same installation."""

from pathlib import Path

import ifcopenshell
import pytest

from checker.model import CarrierKind, Confidence, Installation, ProblemKind
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from tests.small_models import SmallModel, two_trunkings


def read(*paths: Path, project: str = "") -> Installation:
    where = list(paths)
    if project:
        file = paths[0].parent / "wayroom.toml"
        file.write_text(project, encoding="utf-8")
        where.append(file)
    return read_installation(find_sources(where, None), {})


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4", "IFC4X3"])
@pytest.mark.parametrize("prefix", ["MILLI", None])
def test_release_and_unit_change_nothing(tmp_path: Path, schema: str, prefix: str | None) -> None:
    if schema == "IFC2X3":
        model = SmallModel("IFC2X3", prefix)
        per = 1.0 if prefix else 0.001
        profile = model.profile("IfcRectangleHollowProfileDef", 50.0 * per, 50.0 * per, 1.0 * per)
        one = model.carrier("T1", (0.0, 0.0, 0.0), (4000.0 * per, 0.0, 0.0), profile)
        two = model.carrier("T2", (4000.0 * per, 0.0, 0.0), (6000.0 * per, 0.0, 0.0), profile)
        model.connect(one, two, (4000.0 * per, 0.0, 0.0))
        path = model.write(tmp_path / "model.ifc")
    else:
        path = two_trunkings(tmp_path / "model.ifc", schema=schema, prefix=prefix)
    first, second = sorted(read(path).carriers, key=lambda carrier: carrier.place.tag)
    for carrier, length in ((first, 4000.0), (second, 2000.0)):
        assert carrier.kind is CarrierKind.TRUNKING
        assert carrier.length_mm == pytest.approx(length)
        assert carrier.section.width_mm == pytest.approx(50.0)
        assert carrier.section.height_mm == pytest.approx(50.0)
        assert carrier.section.wall_mm == pytest.approx(1.0)
        assert carrier.place.storey == "Level 0"


def one_carrier(
    tmp_path: Path, kind: str | None, profile: tuple[str, ...] | tuple[str, float, float], **more: object
) -> Path:
    model = SmallModel()
    shape = model.profile(profile[0], *profile[1:]) if profile else None  # type: ignore[arg-type]
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), shape, kind)
    for set_name, values in more.items():
        model.properties(element, set_name, **values)  # type: ignore[arg-type]
    return model.write(tmp_path / "model.ifc")


def test_a_property_is_believed_before_a_profile_and_the_difference_is_said(tmp_path: Path) -> None:
    sets = {"Pset_CableCarrierSegmentTypeCableTrunkingSegment": {"NominalWidth": 100.0, "NominalHeight": 50.0}}
    path = one_carrier(tmp_path, "CABLETRUNKINGSEGMENT", ("IfcRectangleHollowProfileDef", 75.0, 50.0, 1.2), **sets)
    installation = read(path)
    section = installation.carriers[0].section
    assert (section.width_mm, section.height_mm, section.wall_mm) == (100.0, 50.0, 1.2)
    assert "property NominalWidth" in section.source
    assert any("width is 100 mm" in problem.what and "75 mm" in problem.what for problem in installation.problems)


def test_a_conduit_gets_its_bore_from_its_hollow_profile(tmp_path: Path) -> None:
    section = (
        read(one_carrier(tmp_path, "CONDUITSEGMENT", ("IfcCircleHollowProfileDef", 12.5, 1.6))).carriers[0].section
    )  # type: ignore[arg-type]
    assert section.outside_diameter_mm == 25.0
    assert section.wall_mm == 1.6


def test_a_tray_gets_side_height_and_base_from_its_u_profile(tmp_path: Path) -> None:
    path = one_carrier(tmp_path, "CABLETRAYSEGMENT", ("IfcUShapeProfileDef", 300.0, 60.0, 1.5, 2.0))  # type: ignore[arg-type]
    section = read(path).carriers[0].section
    assert (section.width_mm, section.height_mm) == (300.0, 60.0)
    assert section.wall_mm == 2.0  # of the sides; the base is 1.5
    assert section.usable_depth_mm == 58.5


def test_a_plan_rectangle_extruded_upward_is_turned(tmp_path: Path) -> None:
    model = SmallModel()
    plan = model.profile("IfcRectangleProfileDef", 7000.0, 300.0)
    element = model.rooted(
        "IfcCableCarrierSegment", Tag="P", ObjectPlacement=model.place((0.0, 0.0, 2700.0)), Representation=model.body(plan, 100.0),
        PredefinedType="CABLETRAYSEGMENT",
    )  # fmt: skip
    model.contained.append(element)
    carrier = read(model.write(tmp_path / "model.ifc")).carriers[0]
    assert carrier.length_mm == pytest.approx(7000.0)
    assert (carrier.section.width_mm, carrier.section.height_mm) == (300.0, 100.0)
    assert {carrier.start_mm, carrier.end_mm} == {(-3500.0, 0.0, 2750.0), (3500.0, 0.0, 2750.0)}


@pytest.mark.parametrize("across", [(0.0, 1.0, 0.0), (0.0, 0.0, 1.0)])
def test_width_is_across_and_height_is_up_whichever_way_the_profile_is_turned(
    tmp_path: Path, across: tuple[float, float, float]
) -> None:
    model = SmallModel()
    sizes = (150.0, 50.0) if across[2] == 0.0 else (50.0, 150.0)  # X of the profile lies along `across`
    shape = model.body(model.profile("IfcRectangleProfileDef", *sizes), 3000.0)
    element = model.rooted("IfcCableCarrierSegment", Tag="T", PredefinedType="CABLETRAYSEGMENT", Representation=shape,
                           ObjectPlacement=model.place((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), across))  # fmt: skip
    model.contained.append(element)
    sets = {"NominalWidth": 150.0, "NominalHeight": 50.0}
    section = read(model.write(tmp_path / "model.ifc")).carriers[0].section
    assert (section.width_mm, section.height_mm) == (150.0, 50.0)
    model.properties(element, "Pset_CableCarrierSegmentTypeCableTraySegment", **sets)
    installation = read(model.write(tmp_path / "again.ifc"))
    assert not [problem for problem in installation.problems if "by its profile" in problem.what]


def test_of_a_riser_the_longer_side_is_the_width(tmp_path: Path) -> None:
    model = SmallModel()
    profile = model.profile("IfcRectangleProfileDef", 60.0, 300.0)
    shape = model.body(profile, 3000.0)
    model.contained.append(
        model.rooted("IfcCableCarrierSegment", Tag="R", PredefinedType="CABLELADDERSEGMENT", Representation=shape,
                     ObjectPlacement=model.place((0.0, 0.0, 0.0)))
    )  # fmt: skip
    section = read(model.write(tmp_path / "model.ifc")).carriers[0].section
    assert (section.width_mm, section.height_mm) == (300.0, 60.0)


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("CABLETRAYSEGMENT", CarrierKind.TRAY),
        ("CABLELADDERSEGMENT", CarrierKind.LADDER),
        ("NOTDEFINED", CarrierKind.UNKNOWN),
        (None, CarrierKind.UNKNOWN),
    ],
)
def test_the_kind_comes_from_the_predefined_type_and_is_never_guessed(
    tmp_path: Path, word: str | None, kind: CarrierKind
) -> None:
    assert read(one_carrier(tmp_path, word, ())).carriers[0].kind is kind


def test_the_type_gives_what_the_occurrence_does_not(tmp_path: Path) -> None:
    model = SmallModel()
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None, "NOTDEFINED")
    kind = model.type_of([element], "IfcCableCarrierSegmentType", "Dado 100x50", PredefinedType="CABLETRUNKINGSEGMENT")
    make = model.file.create_entity
    width = make("IfcPropertySingleValue", Name="NominalWidth", NominalValue=make("IfcPositiveLengthMeasure", 100.0))
    height = make("IfcPropertySingleValue", Name="NominalHeight", NominalValue=make("IfcPositiveLengthMeasure", 50.0))
    kind.HasPropertySets = [
        model.rooted(
            "IfcPropertySet", Name="Pset_CableCarrierSegmentTypeCableTrunkingSegment", HasProperties=[width, height]
        )
    ]
    project = '[project]\ncode = "bs-7671"\n[[types]]\nname = "Dado*"\nwall_mm = 2.0\ncount = 2\n'
    carrier = read(model.write(tmp_path / "model.ifc"), project=project).carriers[0]
    assert carrier.kind is CarrierKind.TRUNKING
    assert (carrier.section.width_mm, carrier.section.height_mm, carrier.section.wall_mm) == (100.0, 50.0, 2.0)
    assert len(carrier.section.lanes) == 2


def test_a_globalid_in_two_files_is_told_and_both_elements_stay(tmp_path: Path) -> None:
    paths = [two_trunkings(tmp_path / name) for name in ("a.ifc", "b.ifc")]
    paths[1].write_text(
        paths[1].read_text(encoding="utf-8").replace("Level 0", "Level 1"), encoding="utf-8"
    )  # else it is a copy
    installation = read(*paths)
    assert len(installation.carriers) == 4
    assert len({carrier.key for carrier in installation.carriers}) == 4
    told = [problem for problem in installation.problems if "used by other elements" in problem.what]
    assert [(problem.where, problem.elements) for problem in told] == [
        ("b.ifc", 2)
    ] * 2  # two trunkings, a board and an outlet


def test_a_placement_that_refers_to_itself_places_nothing_and_is_said(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    text = path.read_text(encoding="utf-8")
    element = next(line for line in text.splitlines() if "IFCCABLECARRIERSEGMENT(" in line and "'T1'" in line)
    own = element.split(",")[5]
    line = next(line for line in text.splitlines() if line.startswith(f"{own}="))
    path.write_text(
        text.replace(line, line.replace("IFCLOCALPLACEMENT($,", f"IFCLOCALPLACEMENT({own},")), encoding="utf-8"
    )
    installation = read(path)
    one, two = sorted(installation.carriers, key=lambda carrier: carrier.place.tag)
    assert (one.start_mm, one.length_mm) == (None, None)
    assert two.length_mm == pytest.approx(2000.0)
    assert any(
        problem.where.endswith("T1") and "no usable placement" in problem.what for problem in installation.problems
    )


@pytest.mark.parametrize("log_format", ["text", "json"])
def test_a_line_that_the_parser_drops_is_said(tmp_path: Path, log_format: str) -> None:
    # ifcopenshell's validator, if it ran before in the same process, leaves the parser's log in JSON
    getattr(ifcopenshell.ifcopenshell_wrapper, f"set_log_format_{log_format}")()
    path = two_trunkings(tmp_path / "model.ifc")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("IFCCABLECARRIERSEGMENT(", "IFCCABLECARRIERSEGMNT(", 1), encoding="utf-8")
    installation = read(path)
    assert len(installation.carriers) == 1
    assert any("IFCCABLECARRIERSEGMNT" in problem.what for problem in installation.problems)


def test_a_size_that_no_carrier_has_is_left_out_and_said(tmp_path: Path) -> None:
    sets = {"Pset_CableCarrierSegmentTypeCableTrunkingSegment": {"NominalWidth": 100_000.0, "NominalHeight": 50.0}}
    profile = ("IfcRectangleHollowProfileDef", 100.0, 50.0, 1.2)
    installation = read(one_carrier(tmp_path, "CABLETRUNKINGSEGMENT", profile, **sets))  # type: ignore[arg-type]
    section = installation.carriers[0].section
    assert (section.width_mm, section.height_mm) == (100.0, 50.0)
    assert "width: profile" in section.source
    assert any("100000 mm is no width of a carrier" in problem.what for problem in installation.problems)


def test_a_property_with_a_unit_of_its_own_is_read_in_it(tmp_path: Path) -> None:
    model = SmallModel(prefix=None)
    element = model.carrier("X", (0.0, 0.0, 0.0), (3.0, 0.0, 0.0), None)
    make = model.file.create_entity
    inch = make("IfcConversionBasedUnit", None, "LENGTHUNIT", "INCH", None)
    inch.Dimensions = make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
    inch.ConversionFactor = make(
        "IfcMeasureWithUnit", make("IfcLengthMeasure", 25.4), make("IfcSIUnit", None, "LENGTHUNIT", "MILLI", "METRE")
    )
    items = [
        make("IfcPropertySingleValue", name, None, make("IfcPositiveLengthMeasure", value), unit)
        for name, value, unit in (("NominalWidth", 4.0, inch), ("NominalHeight", 0.05, None))
    ]
    properties = model.rooted("IfcPropertySet", Name="Pset_ElementSize", HasProperties=items)
    model.rooted("IfcRelDefinesByProperties", RelatedObjects=[element], RelatingPropertyDefinition=properties)
    section = read(model.write(tmp_path / "model.ifc")).carriers[0].section
    assert (section.width_mm, section.height_mm) == (pytest.approx(101.6), pytest.approx(50.0))


@pytest.mark.parametrize(("value", "lanes"), [(3, 3), (0, 1), (-2, 1), (5000, 1)])
def test_a_number_of_compartments_that_cannot_be_makes_the_inside_unknown(
    tmp_path: Path, value: int, lanes: int
) -> None:
    sets = {"Pset_CableCarrierSegmentTypeCableTrunkingSegment": {"NumberOfCompartments": value}}
    profile = ("IfcRectangleHollowProfileDef", 100.0, 50.0, 1.2)
    installation = read(one_carrier(tmp_path, "CABLETRUNKINGSEGMENT", profile, **sets))  # type: ignore[arg-type]
    section = installation.carriers[0].section
    assert len(section.lanes) == lanes
    assert (section.width_mm is None) == (value != 3)
    assert any("number of compartments" in problem.what for problem in installation.problems) == (value != 3)


def test_a_bent_conduit_in_one_element_is_as_long_as_it_is_and_turns_as_it_does(tmp_path: Path) -> None:
    model = SmallModel()
    make = model.file.create_entity
    corners = ((0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), (2000.0, 1000.0, 0.0), (2000.0, 1000.0, 500.0))
    curve = make("IfcPolyline", [make("IfcCartesianPoint", corner) for corner in corners])
    disk = make("IfcSweptDiskSolid", curve, 10.0, 8.4, None, None)
    shape = make("IfcShapeRepresentation", model.context, "Body", "AdvancedSweptSolid", [disk])
    body = make("IfcProductDefinitionShape", Representations=[shape])
    model.contained.append(
        model.rooted("IfcCableCarrierSegment", Tag="C", ObjectPlacement=model.place((0.0, 0.0, 0.0)), Representation=body,
                     PredefinedType="CONDUITSEGMENT")
    )  # fmt: skip
    carrier = read(model.write(tmp_path / "model.ifc")).carriers[0]
    assert carrier.length_mm == pytest.approx(3500.0)
    assert carrier.turn_deg == pytest.approx(180.0)
    assert (carrier.section.outside_diameter_mm, carrier.section.wall_mm) == (20.0, pytest.approx(1.6))


def test_a_malformed_shape_is_said_and_the_segment_stays(tmp_path: Path) -> None:
    model = SmallModel()
    make = model.file.create_entity
    element = model.carrier(
        "X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), model.profile("IfcCircleProfileDef"), "CONDUITSEGMENT"
    )
    loop = make("IfcBooleanResult", "UNION")
    loop.FirstOperand = loop.SecondOperand = loop
    element.Representation.Representations[0].Items = [loop]
    installation = read(model.write(tmp_path / "model.ifc"))
    assert len(installation.carriers) == 1
    assert installation.carriers[0].section.width_mm is None


def test_a_carrier_a_hundred_thousand_kilometres_long_is_left_out_of_space_and_said(tmp_path: Path) -> None:
    profile = ("IfcRectangleHollowProfileDef", 100.0, 50.0, 1.2)
    model = SmallModel()
    model.carrier("X", (0.0, 0.0, 0.0), (1e11, 0.0, 0.0), model.profile(*profile))
    installation = read(model.write(tmp_path / "model.ifc"))
    assert installation.carriers[0].length_mm is None
    assert any("m long, which no carrier is" in problem.what for problem in installation.problems)


def test_what_is_a_carrier_by_name_alone_is_read_with_low_confidence_and_said(tmp_path: Path) -> None:
    model = SmallModel("IFC2X3")
    for name in ("Conduit 25", "Pipe 25", "Pipe - conduit for water 50", "Cable tray support"):
        model.contained.append(model.rooted("IfcFlowSegment", Name=name, ObjectPlacement=model.place((0.0, 0.0, 0.0))))
    installation = read(model.write(tmp_path / "model.ifc"))
    assert [(item.place.name, item.kind, item.kind_confidence) for item in installation.carriers] == [
        ("Conduit 25", CarrierKind.CONDUIT, Confidence.LOW)
    ]
    told = [
        (problem.where.split(", ")[-1], problem.kind)
        for problem in installation.problems
        if "taken for a conduit" in problem.what
    ]
    assert told == [("Conduit 25", ProblemKind.INFERENCE)]
    left = {
        problem.where.split(", ")[-1]: problem.kind for problem in installation.problems if "isn't read" in problem.what
    }
    assert left == {"Pipe - conduit for water 50": ProblemKind.GAP, "Cable tray support": ProblemKind.GAP}


def test_a_type_of_the_project_file_that_matches_nothing_is_said(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    problems = read(path, project='[[types]]\nname = "Floor trunkng*"\ncount = 3\n').problems
    assert any("Floor trunkng*" in problem.where for problem in problems)


def test_the_order_in_which_files_are_named_changes_nothing(tmp_path: Path) -> None:
    paths = [two_trunkings(tmp_path / name) for name in ("a.ifc", "b.ifc")]
    one, other = read(*paths), read(*reversed(paths))
    assert one == other
    again = read(paths[0], tmp_path / "." / "a.ifc")
    assert len(again.carriers) == 2


def test_ports_of_two_files_with_the_same_globalids_stay_with_their_elements(tmp_path: Path) -> None:
    paths = [two_trunkings(tmp_path / name) for name in ("a.ifc", "b.ifc")]
    paths[1].write_text(
        paths[1].read_text(encoding="utf-8").replace("Level 0", "Level 1"), encoding="utf-8"
    )  # else it is a copy
    installation = read(*paths)
    keys = {carrier.key for carrier in installation.carriers}
    assert {port.element for port in installation.ports} == keys
    assert len({port.key for port in installation.ports}) == len(installation.ports) == 4


def test_a_model_without_carriers_says_so(tmp_path: Path) -> None:
    installation = read(SmallModel().write(tmp_path / "model.ifc"))
    assert any("no cable carrier segment" in problem.what for problem in installation.problems)


def test_a_model_without_a_unit_is_read_in_metres_and_says_so(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc", prefix=None)
    text = path.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if "IFCPROJECT(" in line)
    path.write_text(text.replace(line, line[: line.rindex(",")] + ",$);"), encoding="utf-8")
    text = "\n".join(line for line in path.read_text(encoding="utf-8").splitlines() if "IFCUNITASSIGNMENT" not in line)
    path.write_text(text + "\n", encoding="utf-8")
    installation = read(path)
    assert any("metres are assumed" in problem.what for problem in installation.problems)
    assert {carrier.length_mm for carrier in installation.carriers} == {4000.0, 2000.0}
