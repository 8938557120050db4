"""Cables that models draw: each once, with the sizes that a cable can have."""

from pathlib import Path
from typing import Any

import pytest

from checker.model import ModelCable, ProblemKind
from tests.read.reading import read, said
from tests.small_models import SmallModel

HERE = (0.0, 0.0, 0.0)


def drawn(tmp_path: Path, model: SmallModel) -> tuple[ModelCable, ...]:
    return read(tmp_path, model).model_cables


def test_a_cable_and_the_conductors_in_it_are_one(tmp_path: Path) -> None:
    model = SmallModel()
    cable = model.element("IfcCableSegment", "W1", HERE, PredefinedType="CABLESEGMENT")
    cores = [model.element("IfcCableSegment", f"core {n}", HERE, PredefinedType="CONDUCTORSEGMENT") for n in (1, 2, 3)]
    model.parts(cable, cores[:2], nested=True)
    model.parts(cable, cores[2:])
    model.group("IfcDistributionCircuit", "C9", cores[:1])
    installation = read(tmp_path, model)
    assert [item.place.tag for item in installation.model_cables] == ["W1"]
    assert installation.model_cables[0].marks == ("C9", "W1")  # what a conductor is assigned to, its cable is
    assert [item.place.tag for circuit in installation.model_circuits for item in circuit.cables] == ["W1"]


def test_a_conductor_in_no_cable_is_a_cable_and_a_busbar_is_none(tmp_path: Path) -> None:
    model = SmallModel()
    model.element("IfcCableSegment", "core", HERE, PredefinedType="CONDUCTORSEGMENT")
    model.element("IfcCableSegment", "bar", HERE, PredefinedType="BUSBARSEGMENT")
    assert [cable.place.tag for cable in drawn(tmp_path, model)] == ["core"]


def test_in_ifc2x3_a_flow_segment_of_a_cable_type_is_a_cable(tmp_path: Path) -> None:
    model = SmallModel("IFC2X3")
    cable, other = (model.element("IfcFlowSegment", tag, HERE) for tag in ("W1", "X"))
    model.type_of([cable], "IfcCableSegmentType", "NYM", PredefinedType="CABLESEGMENT")
    model.type_of([other], "IfcPipeSegmentType", "P", PredefinedType="RIGIDSEGMENT")
    model.group("IfcElectricalCircuit", "C9", [cable])
    installation = read(tmp_path, model)
    assert [item.place.tag for item in installation.model_cables] == ["W1"]
    assert [len(circuit.cables) for circuit in installation.model_circuits] == [1]


def test_cables_that_are_parts_of_each_other_come_to_an_end(tmp_path: Path) -> None:
    model = SmallModel()
    one, other = (model.element("IfcCableSegment", tag, HERE) for tag in "AB")
    model.parts(one, [other])
    model.parts(other, [one])
    assert len(drawn(tmp_path, model)) <= 2


def with_values(prefix: str | None, area_prefix: str | None, **values: Any) -> SmallModel:
    """A cable in a file with its own units of length and of area."""
    model = SmallModel(prefix=prefix)
    make = model.file.create_entity
    area = make("IfcSIUnit", None, "AREAUNIT", area_prefix, "SQUARE_METRE")
    units = model.project.UnitsInContext
    units.Units = [*units.Units, area]
    cable = model.element("IfcCableSegment", "W1", HERE)
    measures = {
        "OverallDiameter": "IfcPositiveLengthMeasure",
        "CrossSectionalArea": "IfcAreaMeasure",
        "NumberOfCores": "IfcReal",
    }
    model.own_set(cable, "P", [model.single(name, measures[name], value) for name, value in values.items()])
    return model


@pytest.mark.parametrize(
    ("prefix", "area_prefix", "value", "csa_mm2"),
    [
        ("MILLI", None, 2.5e-6, 2.5),  # millimetres and square metres, as most files have it
        (None, None, 2.5e-6, 2.5),
        ("MILLI", "MILLI", 2.5, 2.5),
        ("MILLI", None, 2.5, None),  # 2.5 m² is no conductor
        ("MILLI", "MILLI", 2.5e-6, None),  # nor is 0.0000025 mm²
    ],
)
def test_the_area_of_a_conductor_is_in_the_files_unit_of_area(
    tmp_path: Path, prefix: str | None, area_prefix: str | None, value: float, csa_mm2: float | None
) -> None:
    found = drawn(tmp_path, with_values(prefix, area_prefix, CrossSectionalArea=value))[0].csa_mm2
    assert found == (None if csa_mm2 is None else pytest.approx(csa_mm2))


@pytest.mark.parametrize(("value", "cores"), [(4.0, 4), (2.5, None), (0.0, None), (-3.0, None), (5000.0, None)])
def test_a_number_of_cores_is_a_whole_one(tmp_path: Path, value: float, cores: int | None) -> None:
    assert drawn(tmp_path, with_values(None, None, NumberOfCores=value))[0].cores == cores


@pytest.mark.parametrize(
    ("prefix", "value", "diameter_mm", "told"),
    [
        ("MILLI", 21.0, 21.0, ""),
        (None, 0.021, 21.0, ""),
        (None, 21.0, 21.0, "a cable 21000 mm thick can't be; its diameter is read as 21 mm"),
        ("MILLI", 0.021, 21.0, "a cable 0.021 mm thick can't be; its diameter is read as 21 mm"),
        (None, 900.0, None, "a cable 900000 mm thick can't be; its diameter is left out"),  # 900 mm can't be either
    ],
)
def test_a_diameter_that_no_cable_has_is_put_right_or_left_out_and_said(
    tmp_path: Path, prefix: str | None, value: float, diameter_mm: float | None, told: str
) -> None:
    installation = read(tmp_path, with_values(prefix, None, OverallDiameter=value))
    found = installation.model_cables[0].diameter_mm
    assert found == (None if diameter_mm is None else pytest.approx(diameter_mm))
    assert [problem.what for problem in said(installation, "thick can't be", ProblemKind.CORRECTION)] == (
        [told] if told else []
    )
