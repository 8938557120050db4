"""Circuits as models have them: groups of the standard and text properties, each counted once and never made up."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import ModelCircuit
from tests.read.reading import read
from tests.small_models import SmallModel


def building(schema: str = "IFC4") -> tuple[SmallModel, Any, list[Any]]:
    """Two boards and three outlets."""
    model = SmallModel(schema)
    if schema == "IFC2X3":
        boards = [model.element("IfcFlowController", tag, (0.0, 0.0, 0.0)) for tag in ("DB1", "DB2")]
        outlets = [model.element("IfcFlowTerminal", f"S{number}", (1000.0 * number, 0.0, 0.0)) for number in (1, 2, 3)]
        model.type_of(outlets, "IfcOutletType", "Socket", PredefinedType="POWEROUTLET")
        return model, boards, outlets
    boards = [model.element("IfcElectricDistributionBoard", tag, (0.0, 0.0, 0.0)) for tag in ("DB1", "DB2")]
    outlets = [model.element("IfcOutlet", f"S{number}", (1000.0 * number, 0.0, 0.0)) for number in (1, 2, 3)]
    return model, boards, outlets


def circuits(tmp_path: Path, model: SmallModel, project: str = "") -> tuple[ModelCircuit, ...]:
    return read(tmp_path, model, project).model_circuits


def tags(tmp_path: Path, model: SmallModel, project: str = "") -> list[tuple[str, str, list[str]]]:
    """Mark, panel and what is fed of each circuit."""
    installation = read(tmp_path, model, project)
    names = {item.key: item.place.tag for item in installation.equipment}
    return [(item.mark, item.panel, sorted(names[key] for key in item.members)) for item in installation.model_circuits]


@pytest.mark.parametrize(
    ("schema", "name", "more"),
    [
        ("IFC2X3", "IfcElectricalCircuit", {}),
        ("IFC2X3", "IfcSystem", {}),
        ("IFC4", "IfcDistributionCircuit", {}),
        ("IFC4", "IfcDistributionSystem", {"PredefinedType": "ELECTRICAL"}),
        ("IFC4", "IfcSystem", {}),
        ("IFC4X3", "IfcDistributionCircuit", {}),
    ],
)
def test_a_circuit_may_be_any_of_these_groups(tmp_path: Path, schema: str, name: str, more: dict[str, str]) -> None:
    model, _, outlets = building(schema)
    model.group(name, "L1", outlets[:2], **more)
    assert tags(tmp_path, model) == [("L1", "", ["S1", "S2"])]


@pytest.mark.parametrize(
    ("name", "more", "members"),
    [
        ("IfcSystem", {}, "IfcPipeSegment"),  # nothing electrical in it
        ("IfcDistributionSystem", {"PredefinedType": "VENTILATION"}, "IfcDuctSegment"),
        ("IfcDistributionSystem", {"PredefinedType": "ELECTRICAL"}, "IfcCableCarrierSegment"),  # a system of trays
        ("IfcZone", {}, "IfcOutlet"),
        ("IfcGroup", {}, "IfcOutlet"),
    ],
)
def test_other_groups_are_no_circuits(tmp_path: Path, name: str, more: dict[str, str], members: str) -> None:
    model = SmallModel()
    model.group(name, "G", [model.element(members, "X", (0.0, 0.0, 0.0))], **more)
    assert not circuits(tmp_path, model)


def test_a_system_that_holds_circuits_is_none_itself(tmp_path: Path) -> None:
    model, _, outlets = building()
    circuit = model.group("IfcDistributionCircuit", "L1", outlets[:1])
    model.group("IfcDistributionSystem", "Lighting", [circuit], PredefinedType="LIGHTING")
    whole = model.group("IfcDistributionSystem", "Power", outlets[1:], PredefinedType="ELECTRICAL")
    model.parts(whole, [model.group("IfcDistributionCircuit", "P1", outlets[1:])])
    assert [circuit.mark for circuit in circuits(tmp_path, model)] == ["L1", "P1"]


def texts(model: SmallModel, element: Any, panel: str | None, number: str | float | int) -> None:
    items = [
        model.single("Circuit Number", {str: "IfcLabel", float: "IfcReal", int: "IfcInteger"}[type(number)], number)
    ]
    items += [model.single("Panel", "IfcLabel", panel)] if panel is not None else []
    model.own_set(element, "Electrical", items)


def test_a_circuit_by_texts_has_every_mark_that_a_schedule_may_write(tmp_path: Path) -> None:
    model, _, (one, two, three) = building()
    texts(model, one, "DB1", 9)
    texts(model, two, "DB1", "9")
    texts(model, three, "DB2", "10, 12,14")
    nine, ten = circuits(tmp_path, model)
    assert (nine.mark, nine.panel, len(nine.members), nine.source) == ("DB1/9", "DB1", 2, "text properties")
    assert set(nine.marks) == {"DB1/9", "DB1-9", "DB1 9", "DB1:9", "DB1.9", "9"}
    assert (ten.mark, len(ten.members)) == ("DB2/10,12,14", 1)
    assert {"DB2/10,12,14", "DB2/10", "DB2-10", "10,12,14"} <= set(ten.marks)
    assert "10" not in ten.marks


def test_a_number_that_two_panels_have_means_neither_without_its_panel(tmp_path: Path) -> None:
    model, _, (one, two, _) = building()
    texts(model, one, "DB1", "9")
    texts(model, two, "DB2", "9")
    found = circuits(tmp_path, model)
    assert [circuit.mark for circuit in found] == ["DB1/9", "DB2/9"]
    assert all("9" not in circuit.marks for circuit in found)


def test_a_circuit_of_three_poles_and_one_of_the_first_of_them_stay_two(tmp_path: Path) -> None:
    model, _, (one, two, _) = building()
    texts(model, one, "DB1", "9")
    texts(model, two, "DB1", "9,11,13")
    single, triple = circuits(tmp_path, model)
    assert (single.mark, triple.mark) == ("DB1/9", "DB1/9,11,13")
    assert "DB1/9" not in triple.marks


@pytest.mark.parametrize(
    "value", ["", "  ", "-", "<unnamed>", "n/a", "N/A", "none", "TBC", "?", ",".join(map(str, range(60))), "x" * 200]
)
def test_a_text_that_stands_for_nothing_is_no_circuit(tmp_path: Path, value: str) -> None:
    model, _, (one, _, _) = building()
    texts(model, one, "DB1", value)
    assert not circuits(tmp_path, model)


def test_a_truth_is_no_circuit_and_a_panel_alone_neither(tmp_path: Path) -> None:
    model, _, (one, two, _) = building()
    model.own_set(one, "Electrical", [model.single("Circuit", "IfcBoolean", True)])
    model.own_set(two, "Electrical", [model.single("Panel", "IfcLabel", "DB1")])
    assert not circuits(tmp_path, model)


def test_what_the_project_maps_goes_before_what_is_known_by_name(tmp_path: Path) -> None:
    model, _, (one, two, _) = building()
    model.own_set(one, "Elektro", [model.single("Abgang", "IfcLabel", "F7"), model.single("Circuit", "IfcLabel", "phase A"),
                                   model.single("UV", "IfcLabel", "DB2")])  # fmt: skip
    model.own_set(
        two, "Elektro", [model.single("Stromkreis", "IfcLabel", "F8"), model.single("Verteiler", "IfcLabel", "DB2")]
    )
    mapping = '[[properties]]\nquantity = "circuit"\nproperty = "abgang"\n[[properties]]\nquantity = "panel"\nproperty = "uv"\n'
    assert tags(tmp_path, model, mapping) == [("DB2/F7", "DB2", ["S1"]), ("DB2/F8", "DB2", ["S2"])]


def test_the_same_circuit_in_three_ways_is_one(tmp_path: Path) -> None:
    model, boards, (one, two, _) = building()
    model.group("IfcDistributionCircuit", "DB1/9", [boards[0], one])
    model.group("IfcSystem", "DB1/9", [one])
    texts(model, one, "DB1", "9")
    texts(model, two, "DB1", "9")
    assert tags(tmp_path, model) == [("DB1/9", "DB1", ["S1", "S2"])]
    found = circuits(tmp_path, model)[0]
    assert found.source == "IfcDistributionCircuit, IfcSystem, text properties"
    assert {"DB1/9", "DB1-9", "9"} <= set(found.marks)


def test_circuits_of_one_number_are_two_where_their_panels_differ(tmp_path: Path) -> None:
    model, boards, (one, two, _) = building()
    model.group("IfcDistributionCircuit", "9", [boards[0], one])
    model.group("IfcDistributionCircuit", "9", [boards[1], two])
    texts(model, two, "DB2", "9")
    assert tags(tmp_path, model) == [("DB1/9", "DB1", ["S1"]), ("DB2/9", "DB2", ["S2"])]
    assert all("9" not in circuit.marks for circuit in circuits(tmp_path, model))


def test_what_two_circuits_of_one_number_and_two_panels_both_feed_makes_them_no_one(tmp_path: Path) -> None:
    model, boards, (one, _, _) = building()
    for board in boards:
        model.group("IfcDistributionCircuit", "9", [board, one])
    assert tags(tmp_path, model) == [("DB1/9", "DB1", ["S1"]), ("DB2/9", "DB2", ["S1"])]


def test_circuits_of_one_name_with_nothing_to_tell_them_apart_stay_two(tmp_path: Path) -> None:
    model, _, (one, two, _) = building()
    model.group("IfcDistributionCircuit", "9", [one])
    model.group("IfcDistributionCircuit", "9", [two])
    assert tags(tmp_path, model) == [("9", "", ["S1"]), ("9", "", ["S2"])]


@pytest.mark.parametrize(
    ("name", "with_boards", "panel", "fed"),
    [
        ("L1", (0,), "DB1", ["S1"]),
        ("DB1/3", (0, 1), "DB1", ["DB2", "S1"]),  # the one that its name begins with feeds it
        ("L1", (0, 1), "", ["DB1", "DB2", "S1"]),  # which of the two feeds it isn't said
    ],
)
def test_a_board_in_a_circuit_feeds_it_where_no_other_may(
    tmp_path: Path, name: str, with_boards: tuple[int, ...], panel: str, fed: list[str]
) -> None:
    model, boards, (one, _, _) = building()
    model.group("IfcDistributionCircuit", name, [*(boards[index] for index in with_boards), one])
    assert tags(tmp_path, model) == [(name, panel, fed)]


def test_a_board_that_is_all_that_a_circuit_has_is_what_it_feeds(tmp_path: Path) -> None:
    model, boards, _ = building()
    model.group("IfcDistributionCircuit", "MAIN/2", [boards[1]])
    assert tags(tmp_path, model) == [("MAIN/2", "", ["DB2"])]
