"""The workshop's own files: the model is valid, as awkward as its README says, and built and worked out again to the same."""

import csv
import importlib.util
from pathlib import Path
from types import ModuleType

import ifcopenshell
import ifcopenshell.validate
import pytest

MODEL = "workshop-P02.ifc"


@pytest.fixture(scope="module")
def workshop() -> Path:
    return Path(__file__).parents[2] / "sample_models" / "workshop"


def load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"workshop_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_building_the_model_again_gives_the_same_content(workshop: Path, tmp_path: Path) -> None:
    module = load(workshop / "build.py")
    module.build(tmp_path / MODEL)
    again, checked_in = ((path / MODEL).read_text(encoding="utf-8") for path in (tmp_path, workshop))
    assert again.split("DATA;")[1] == checked_in.split("DATA;")[1]  # the header may name another version of the library


def test_the_worked_answers_are_those_that_the_sample_works_out(workshop: Path) -> None:
    worked = load(workshop / "worked.py").work()
    with (workshop / "expected.csv").open(encoding="utf-8", newline="") as stream:
        written = list(csv.DictReader(stream))
    assert len(written) > 100
    assert written == [{column: str(row.get(column, "")) for column in written[0]} for row in worked]


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")  # the validator leaves a file open
def test_the_model_keeps_the_schema_with_its_rules(workshop: Path) -> None:
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(str(workshop / MODEL), logger, express_rules=True)
    assert logger.statements == []


def test_the_model_is_as_awkward_as_it_says(workshop: Path) -> None:
    model = ifcopenshell.open(str(workshop / MODEL))
    assert model.schema == "IFC2X3"
    assert not model.by_type("IfcDistributionPort")
    (units,) = model.by_type("IfcUnitAssignment")
    assert {unit.Name for unit in units.Units} == {"FOOT", "SQUARE FOOT", "CUBIC FOOT", "DEGREE"}
    typed = {element.id() for relation in model.by_type("IfcRelDefinesByType") for element in relation.RelatedObjects}
    segments = model.by_type("IfcFlowSegment")
    assert len(segments) == 49
    assert len([element for element in segments if element.id() not in typed]) > 25
    assert (
        len(
            [
                element
                for element in segments
                if element.Representation.Representations[0].RepresentationIdentifier == "Axis"
            ]
        )
        == 8
    )
