"""Models that speak against themselves, or say something unlikely: what is read of them is said, and is no surer than it can be."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import CarrierKind, Confidence, Installation, ProblemKind, Section
from tests.read.reading import carrier_of, read, said
from tests.small_models import SmallModel

HOLLOW, PLAIN, ROUND = "IfcRectangleHollowProfileDef", "IfcRectangleProfileDef", "IfcCircleProfileDef"
TRAY, TRUNKING, LADDER, CONDUIT = (
    f"{name}SEGMENT" for name in ("CABLETRAY", "CABLETRUNKING", "CABLELADDER", "CONDUIT")
)
LONG = ((0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))


def one(
    tmp_path: Path, kind: str, *profile: Any, name: str = "X", sizes: dict[str, float] | None = None
) -> Installation:
    model = SmallModel()
    shape = model.profile(*profile) if profile else None
    element = model.carrier(name, *LONG, shape, kind)
    if sizes:
        model.properties(element, "Pset_ElementSize", **sizes)
    return read(tmp_path, model)


def sides(section: Section) -> tuple[float | None, float | None]:
    return section.width_mm, section.height_mm


@pytest.mark.parametrize(
    ("kind", "name", "width_mm", "height_mm"),
    [
        (TRAY, "Cable tray 60x200", 200.0, 60.0),  # no tray is 60 wide and 200 high
        (TRAY, "Cable tray 200x60", 200.0, 60.0),
        (TRAY, "Cable tray 54x60", 54.0, 60.0),  # there are such small ones
        (TRAY, "Cable tray W60 x H200", 60.0, 200.0),  # letters leave nothing to conclude
        (LADDER, "Ladder 100x600", 600.0, 100.0),
        (TRUNKING, "Trunking 50x150", 50.0, 150.0),
    ],
)
def test_trays_and_ladders_are_broader_than_high_whichever_number_stands_first(
    tmp_path: Path, kind: str, name: str, width_mm: float, height_mm: float
) -> None:
    carrier = carrier_of(one(tmp_path, kind, name=name), name)
    assert sides(carrier.section) == (width_mm, height_mm)
    assert carrier.section.confidence is Confidence.LOW


def on_edge(tmp_path: Path, kind: str, width: float, height: float, **sizes: float) -> Installation:
    """A carrier along X, its profile's first side upright, as on a wall."""
    model = SmallModel()
    element = model.carrier("X", *LONG, model.profile(PLAIN, width, height), kind)
    element.ObjectPlacement = model.place((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    if sizes:
        model.properties(element, "Pset_ElementSize", **sizes)
    return read(tmp_path, model)


def test_a_tray_on_edge_keeps_its_width_and_that_is_said(tmp_path: Path) -> None:
    installation = on_edge(tmp_path, TRAY, 300.0, 60.0)
    carrier = carrier_of(installation, "X")
    assert sides(carrier.section) == (300.0, 60.0)
    assert carrier.across is not None
    assert abs(carrier.across[2]) == pytest.approx(1.0)  # its body stands where it stood
    assert len(said(installation, "stands on edge", ProblemKind.INFERENCE)) == 1


def test_a_width_by_property_and_a_body_on_edge_make_one_section(tmp_path: Path) -> None:
    """170 wide by the property; the body is 50 across and 170 up. 170 x 170 would be neither."""
    installation = on_edge(tmp_path, TRUNKING, 170.0, 50.0, NominalWidth=170.0)
    assert sides(carrier_of(installation, "X").section) == (170.0, 50.0)
    installation = on_edge(tmp_path, TRUNKING, 170.0, 50.0, NominalHeight=50.0)
    assert sides(carrier_of(installation, "X").section) == (170.0, 50.0)


@pytest.mark.parametrize(
    ("kind", "profile", "sizes", "words"),
    [
        (TRAY, (), {"NominalWidth": 3000.0, "NominalHeight": 60.0}, "3000 mm is an unusual width of a tray"),
        (LADDER, (), {"NominalWidth": 2000.0, "NominalHeight": 100.0}, "2000 mm is an unusual width of a ladder"),
        (CONDUIT, (), {"NominalDiameter": 2500.0}, "2500 mm is an unusual diameter of a conduit"),
        (TRAY, (PLAIN, 2900.0, 60.0), {}, "2900 mm is an unusual width of a tray"),
    ],
)
def test_a_size_that_carriers_hardly_have_is_used_as_a_guess_and_said(
    tmp_path: Path, kind: str, profile: tuple[Any, ...], sizes: dict[str, float], words: str
) -> None:
    installation = one(tmp_path, kind, *profile, sizes=sizes)
    assert carrier_of(installation, "X").section.confidence is Confidence.LOW
    assert len(said(installation, words, ProblemKind.ASSUMPTION)) == 1


def test_an_unusual_size_that_is_not_used_is_not_said_to_be(tmp_path: Path) -> None:
    sizes = {"NominalWidth": 300.0, "NominalHeight": 60.0}
    installation = one(tmp_path, TRAY, PLAIN, 2900.0, 60.0, sizes=sizes)
    assert sides(carrier_of(installation, "X").section) == (300.0, 60.0)
    assert not said(installation, "unusual")


@pytest.mark.parametrize(
    ("kind", "profile", "words"),
    [
        (TRAY, (ROUND, 12.5), "it is read as a tray (predefined type), but its section is round"),
        (CONDUIT, (PLAIN, 300.0, 60.0), "it is read as a conduit (predefined type), but its section is 300 x 60 mm"),
    ],
)
def test_a_kind_that_the_section_speaks_against_is_a_guess(
    tmp_path: Path, kind: str, profile: tuple[Any, ...], words: str
) -> None:
    installation = one(tmp_path, kind, *profile)
    assert carrier_of(installation, "X").kind_confidence is Confidence.LOW
    assert len(said(installation, words, ProblemKind.ASSUMPTION)) == 1


def test_a_square_conduit_is_no_contradiction(tmp_path: Path) -> None:
    installation = one(tmp_path, CONDUIT, PLAIN, 25.0, 24.0)  # a coarse drawing of a round one
    assert carrier_of(installation, "X").kind_confidence is Confidence.HIGH


def test_a_predefined_type_against_that_of_the_type_is_said(tmp_path: Path) -> None:
    model = SmallModel()
    element = model.carrier("X", *LONG, model.profile(ROUND, 12.5), CONDUIT)
    model.type_of([element], "IfcCableCarrierSegmentType", "T", PredefinedType=TRAY)
    installation = read(tmp_path, model)
    assert carrier_of(installation, "X").kind is CarrierKind.CONDUIT
    assert len(said(installation, "says conduit, which is used, and its type's says tray", ProblemKind.ASSUMPTION)) == 1


def divided(tmp_path: Path, *places: float) -> Installation:
    """Trunking 150 x 50 with dividers 1 mm thick at some distances from its middle."""
    model = SmallModel()
    element = model.carrier("X", *LONG, model.profile(HOLLOW, 150.0, 50.0, 1.0), TRUNKING)
    make, body = model.file.create_entity, element.Representation.Representations[0]
    for place in places:
        plate = model.profile(PLAIN, 1.0, 48.0)
        frame = model._frame((place, 0.0, 0.0))
        up = make("IfcDirection", (0.0, 0.0, 1.0))
        body.Items = [*body.Items, make("IfcExtrudedAreaSolid", plate, frame, up, 3000.0)]
    lid = make("IfcExtrudedAreaSolid", model.profile(PLAIN, 150.0, 1.0), model._frame((0.0, 25.5, 0.0)),
               make("IfcDirection", (0.0, 0.0, 1.0)), 3000.0)  # fmt: skip
    body.Items = [*body.Items, lid]
    return read(tmp_path, model)


def test_dividers_in_a_body_are_compartments_of_one_width(tmp_path: Path) -> None:
    assert len(carrier_of(divided(tmp_path), "X").section.lanes) == 1
    section = carrier_of(divided(tmp_path, -25.0, 25.0), "X").section  # 150 mm in three of 50
    assert len(section.lanes) == 3
    assert section.confidence is Confidence.MEDIUM
    assert "compartments: as its body shows" in section.source


def test_of_compartments_of_different_widths_none_can_be_the_first(tmp_path: Path) -> None:
    installation = divided(tmp_path, -25.0)
    assert sides(carrier_of(installation, "X").section) == (None, None)
    assert len(said(installation, "its body shows 2 compartments of different widths", ProblemKind.GAP)) == 1
    assert not said(installation, "its size isn't known")


def test_a_section_with_several_voids_has_as_many_compartments(tmp_path: Path) -> None:
    model = SmallModel()
    make = model.file.create_entity

    def loop(left: float, right: float, half: float) -> Any:
        corners = ((left, -half), (right, -half), (right, half), (left, half), (left, -half))
        return make("IfcPolyline", [make("IfcCartesianPoint", corner) for corner in corners])

    voids = [loop(-49.0, -0.5, 24.0), loop(0.5, 49.0, 24.0)]
    profile = make("IfcArbitraryProfileDefWithVoids", "AREA", None, loop(-50.0, 50.0, 25.0), voids)
    model.carrier("X", *LONG, profile, TRUNKING)
    section = carrier_of(read(tmp_path, model), "X").section
    assert sides(section) == (100.0, 50.0)
    assert len(section.lanes) == 2


@pytest.mark.parametrize(
    ("name", "count"),
    [
        ("Trunking 150x50 3 compartment", 3),
        ("Trunking 2-compartment 100x50", 2),
        ("Kabelkanal 130x60 3-zügig", 3),
        ("Trunking 100x50 compartment", 1),
        ("Trunking 12 compartment", 1),
    ],
)
def test_a_number_of_compartments_in_a_name_is_a_guess(tmp_path: Path, name: str, count: int) -> None:
    installation = one(tmp_path, TRUNKING, HOLLOW, 150.0, 50.0, 1.0, name=name)
    section = carrier_of(installation, name).section
    assert len(section.lanes) == count
    assert (section.confidence is Confidence.LOW) == (count > 1)


def test_two_carriers_in_one_place_are_said(tmp_path: Path) -> None:
    model = SmallModel()
    profile = model.profile(HOLLOW, 50.0, 50.0, 1.0)
    model.carrier("A", *LONG, profile)
    model.carrier("A copied", *LONG[::-1], profile)
    model.carrier("B", (0.0, 60.0, 0.0), (3000.0, 60.0, 0.0), profile)
    (problem,) = said(read(tmp_path, model), "lie in the same place", ProblemKind.GAP)
    assert problem.where == "model.ifc, A; model.ifc, A copied"
    assert problem.elements == 2


def test_a_status_that_is_not_understood_is_said(tmp_path: Path) -> None:
    model = SmallModel()
    profile = model.profile(HOLLOW, 50.0, 50.0, 1.0)
    for number, text in enumerate(("Phase 2", "UNSET", "EXISTING")):
        start, end = (0.0, 100.0 * number, 0.0), (3000.0, 100.0 * number, 0.0)
        element = model.carrier(text, start, end, profile)
        sets = "Pset_CableCarrierSegmentTypeCommon"
        model.own_set(element, sets, [model.single("Status", "IfcLabel", text)])
    (problem,) = said(read(tmp_path, model), "status", ProblemKind.ASSUMPTION)
    assert problem.what == "its status 'Phase 2' isn't understood; it is read as one that stays"


def test_a_group_and_texts_of_one_number_that_feed_different_things_are_two_circuits(tmp_path: Path) -> None:
    model = SmallModel()
    outlet = model.element("IfcOutlet", "S1", (1000.0, 0.0, 0.0))
    lamp = model.element("IfcLightFixture", "L7", (2000.0, 0.0, 0.0))
    model.group("IfcDistributionCircuit", "9", [lamp])
    texts = [model.single("Circuit Number", "IfcLabel", "9"), model.single("Panel", "IfcLabel", "DB2")]
    model.own_set(outlet, "Electrical", texts)
    circuits = read(tmp_path, model).model_circuits
    assert [(item.panel, item.members) for item in circuits] == [("", (lamp.GlobalId,)), ("DB2", (outlet.GlobalId,))]


def test_any_sign_may_stand_in_what_a_circuit_feeds(tmp_path: Path) -> None:
    """A raised two is a digit to Python, but no number."""
    model = SmallModel()
    board = model.element("IfcElectricDistributionBoard", "DB", (0.0, 0.0, 0.0))
    fed = [model.element("IfcOutlet", tag, (1000.0, 0.0, 0.0)) for tag in ("1²", "S3", "٣")]
    model.group("IfcDistributionCircuit", "DB/1", [board, *fed])
    table = "circuit,from,to,cable,count\nDB/1,,,,1\n"
    (circuit,) = read(tmp_path, model, schedule=table).circuits
    assert sorted(circuit.calls) == sorted(item.Tag for item in fed)


@pytest.mark.parametrize(
    "name",
    ["Void for cable ladder", "Cable tray clearance zone", "Sleeve for conduit 50", "Cable tray fire stop", "Trunking floor box",
     "Opening cable tray 300x100", "Conduit aéraulique", "Conduit rectangulaire 400x200", "Aussparung Kabeltrasse",
     "Réservation chemin de câbles"],
)  # fmt: skip
def test_what_is_made_for_a_carrier_or_is_called_so_elsewhere_is_none(tmp_path: Path, name: str) -> None:
    model = SmallModel()
    element = model.element("IfcBuildingElementProxy", name, (0.0, 0.0, 0.0))
    element.Representation = model.body(model.profile(PLAIN, 100.0, 50.0), 2000.0)
    installation = read(tmp_path, model)
    assert not installation.carriers
    assert len(said(installation, "it may be a cable carrier, but isn't read", ProblemKind.GAP)) == 1
