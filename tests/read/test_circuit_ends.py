"""Circuits of the schedule and of the models together: marks, ends, what one has and the other lacks, and no schedule at all."""

from pathlib import Path
from typing import Any

import pytest

from checker.checking import check_installation
from checker.model import Installation, ProblemKind
from checker.rule.plugins import load_plugins
from tests.read.reading import read, said
from tests.small_models import SmallModel

HEAD = "circuit,from,to,service,diameter_mm,count\n"


def way(panel: str = "DB1", number: str = "9", **more: Any) -> SmallModel:
    """Two boards, a trunking between them and two outlets, which have a circuit as texts."""
    model = SmallModel()
    model.carrier(
        "T1", (0.0, 0.0, 0.0), (6000.0, 0.0, 0.0), model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    )
    for tag, x in (("DB1", 0.0), ("DB2", 6000.0)):
        model.element("IfcElectricDistributionBoard", tag, (x, 200.0, 0.0))
    for tag, x in (("S10", 5000.0), ("S2", 3000.0)):
        outlet = model.element("IfcOutlet", tag, (x, 200.0, 0.0))
        model.properties(outlet, "Electrical", Panel=panel, **{"Circuit Number": number}, **more)
    return model


def ends(installation: Installation) -> list[tuple[str, tuple[str, ...]]]:
    return [(circuit.origin, circuit.calls) for circuit in installation.circuits]


@pytest.mark.parametrize("mark", ["DB1/9", "DB1-9", "DB1 9", "db1/9", "DB1.9", "DB1:9", "9"])
def test_a_row_without_ends_takes_them_from_the_models_circuit_however_its_mark_is_written(
    tmp_path: Path, mark: str
) -> None:
    installation = read(tmp_path, way(), schedule=f"{HEAD}{mark},,,power,10,3\n")
    assert ends(installation) == [("DB1", ("S2", "S10"))]  # in the order of their numbers, not of their letters
    assert (
        len(
            said(
                installation, "its ends are those of the model (text properties): DB1 to S2, S10", ProblemKind.INFERENCE
            )
        )
        == 1
    )
    assert not said(installation, "it has circuits that the schedule hasn't")


@pytest.mark.parametrize("mark", ["DB1/90", "DB1/", "DB19", "DB2/9", "1/9"])
def test_a_mark_that_the_model_hasnt_takes_nothing(tmp_path: Path, mark: str) -> None:
    installation = read(tmp_path, way(), schedule=f"{HEAD}{mark},,,power,10,3\n")
    assert ends(installation) == [("", ())]
    assert len(said(installation, "it has circuits that the schedule hasn't: DB1/9", ProblemKind.GAP)) == 1


def test_a_mark_that_two_circuits_may_have_takes_nothing(tmp_path: Path) -> None:
    model = way()
    other = model.element("IfcOutlet", "S3", (4000.0, 200.0, 0.0))
    model.properties(other, "Electrical", Panel="DB2", **{"Circuit Number": "9"})
    installation = read(tmp_path, model, schedule=f"{HEAD}9,,,power,10,3\nDB2/9,,,power,10,1\n")
    assert ends(installation) == [("", ()), ("DB2", ("S3",))]


def test_ends_that_the_schedule_names_are_kept_and_only_the_missing_one_is_taken(tmp_path: Path) -> None:
    rows = f"{HEAD}9,DB1,S10,power,10,3\n"
    assert ends(read(tmp_path, way(), schedule=rows)) == [("DB1", ("S10",))]
    assert ends(read(tmp_path, way(), schedule=f"{HEAD}9,DB2,,power,10,3\n")) == [("DB2", ("S2", "S10"))]


def test_a_panel_that_is_no_element_gives_no_origin_and_that_is_said(tmp_path: Path) -> None:
    installation = read(tmp_path, way(panel="MSB"), schedule=f"{HEAD}MSB/9,,,power,10,3\n")
    assert ends(installation)[0][0] == ""
    assert len(said(installation, "which element the panel 'MSB' is isn't known", ProblemKind.GAP)) == 1


def test_a_panel_of_which_there_are_two_is_neither(tmp_path: Path) -> None:
    model = way()
    model.element("IfcElectricDistributionBoard", "DB1", (3000.0, 900.0, 0.0))
    installation = read(tmp_path, model, schedule=f"{HEAD}DB1/9,,,power,10,3\n")
    assert ends(installation)[0][0] == ""


def test_a_circuit_that_the_schedule_lacks_is_said_once_for_all(tmp_path: Path) -> None:
    model = way()
    for number in range(20, 30):
        outlet = model.element("IfcOutlet", f"X{number}", (4000.0, 200.0, 0.0))
        model.properties(outlet, "Electrical", Panel="DB2", **{"Circuit Number": str(number)})
    installation = read(tmp_path, model, schedule=f"{HEAD}9,,,power,10,3\n")
    told = said(installation, "it has circuits that the schedule hasn't", ProblemKind.GAP)
    assert [problem.elements for problem in told] == [10]
    assert told[0].what.endswith("DB2/20, DB2/21, DB2/22, DB2/23, DB2/24 and 5 more")


def test_three_poles_that_the_schedule_has_as_three_circuits_are_not_missing(tmp_path: Path) -> None:
    rows = "".join(f"DB1/{number},DB1,S2,power,10,1\n" for number in (9, 11, 13))
    installation = read(tmp_path, way(number="9,11,13"), schedule=HEAD + rows)
    assert not said(installation, "it has circuits that the schedule hasn't")


def test_the_routed_circuit_lies_in_the_carrier_between_the_ends_of_the_model(tmp_path: Path) -> None:
    installation = read(tmp_path, way(), schedule=f"{HEAD}9,,,power,10,3\n")
    plugins = load_plugins()
    result = check_installation(installation, plugins.codes["bs-7671"], plugins)
    assert result.circuits[0].is_routed
    assert [row.cables for row in result.compartments] == [3]


def test_without_a_schedule_the_circuits_are_the_models_and_nothing_passes(tmp_path: Path) -> None:
    model = way()
    cable = model.element("IfcCableSegment", "W1", (0.0, 0.0, 0.0))
    model.own_set(cable, "P", [model.single("OverallDiameter", "IfcPositiveLengthMeasure", 10.0)])
    outlet = model.element("IfcOutlet", "S4", (2000.0, 200.0, 0.0))
    board = model.element("IfcElectricDistributionBoard", "DB3", (0.0, 200.0, 0.0))
    model.group("IfcDistributionCircuit", "L1", [board, outlet, cable])
    installation = read(tmp_path, model)
    assert not installation.is_scheduled
    assert [circuit.mark for circuit in installation.circuits] == ["DB1/9", "L1"]
    assert ends(installation) == [("DB1", ("S2", "S10")), ("DB3", ("S4",))]
    assert all(cable.count is None for circuit in installation.circuits for cable in circuit.cables)
    assert [cable.diameter_mm for cable in installation.circuits[1].cables] == [10.0]
    plugins = load_plugins()
    result = check_installation(installation, plugins.codes["bs-7671"], plugins)
    assert result.compartments
    assert {row.verdict for row in result.compartments} == {"unknown"}
    assert {finding.verdict for finding in result.findings} <= {"unknown"}
    assert len(said(installation, "2 circuits are known from the models alone: DB1/9, L1", ProblemKind.INFERENCE)) == 1


def test_a_thickness_that_differs_is_said_and_the_schedules_is_used(tmp_path: Path) -> None:
    model = way()
    cable = model.element("IfcCableSegment", "W1", (0.0, 0.0, 0.0))
    model.own_set(cable, "P", [model.single("OverallDiameter", "IfcPositiveLengthMeasure", 14.0)])
    model.group("IfcDistributionCircuit", "L1", [cable])
    installation = read(tmp_path, model, schedule=f"{HEAD}L1,DB1,S2,power,10,3\n")
    assert [cable.diameter_mm for circuit in installation.circuits for cable in circuit.cables] == [10.0]
    assert (
        len(
            said(
                installation,
                "10 mm thick by the schedule, which is used, and 14 mm in the model",
                ProblemKind.ASSUMPTION,
            )
        )
        == 1
    )
