"""The sample models with their annotations: what they say, that nothing else changed, and that they are read as before."""

import csv
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.validate
import pytest

from checker.annotate.files import fill_rules, targets, written
from checker.checking import Request, check
from checker.read.ifc_file import file_digest
from checker.read.sources import find_sources
from checker.result.tables import Result

SAMPLES = Path(__file__).parents[1] / "sample_models"
#: Each sample with the name of its model.
MODELS = {"vet_practice": "model.ifc", "data_room": "model.ifc", "workshop": "workshop-P02.ifc"}


@dataclass(frozen=True)
class Sample:
    """A sample before and after."""

    name: str
    model: Path
    made: Path
    result: Result


@pytest.fixture(scope="module", params=MODELS)
def sample(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Sample:
    folder = tmp_path_factory.mktemp(request.param)
    sources = find_sources([SAMPLES / request.param], None)
    is_vet = request.param == "vet_practice"  # which others check too
    result = request.getfixturevalue("vet_result") if is_vet else check(Request(sources))
    made = folder / MODELS[request.param]
    with written(result, targets(sources, made), fill_rules()):
        pass
    return Sample(request.param, sources.models[0], made, result)


def ours(made: Path) -> Iterator[tuple[Any, dict[str, Any]]]:
    """Each element that has sets of ours, with the values of each."""
    for rel in ifcopenshell.open(str(made)).by_type("IfcRelDefinesByProperties"):
        if rel.RelatingPropertyDefinition.Name == "Wayroom_Check":
            for element in rel.RelatedObjects:
                properties = rel.RelatingPropertyDefinition.HasProperties
                yield element, {item.Name: value(item) for item in properties}


def value(item: Any) -> Any:
    if item.is_a("IfcPropertyListValue"):
        return [one.wrappedValue for one in item.ListValues]
    return item.NominalValue.wrappedValue


def test_the_text_before_the_end_of_the_data_is_the_models_to_the_byte(sample: Sample) -> None:
    before, after = sample.model.read_bytes(), sample.made.read_bytes()
    head, mark, tail = before.rpartition(b"ENDSEC;")
    assert after.startswith(head)
    assert after.endswith(mark + tail)
    added = after[len(head) : -len(mark + tail)].decode("ascii")
    owners = {"IFCPERSON", "IFCORGANIZATION", "IFCPERSONANDORGANIZATION", "IFCAPPLICATION", "IFCOWNERHISTORY"}
    assert {line.partition("(")[0].partition("=")[2] for line in added.splitlines()} == {
        "IFCPROPERTYSINGLEVALUE", "IFCPROPERTYLISTVALUE", "IFCPROPERTYSET", "IFCRELDEFINESBYPROPERTIES",
        *(owners if b"('IFC2X3')" in before else ()),
    }  # fmt: skip


def test_every_entity_is_as_it_was(sample: Sample) -> None:
    before, after = ifcopenshell.open(str(sample.model)), ifcopenshell.open(str(sample.made))
    assert {item.id(): str(item) for item in before}.items() <= {item.id(): str(item) for item in after}.items()
    assert str(before.header.file_name) == str(after.header.file_name)


def test_the_validator_finds_nothing_in_it(sample: Sample) -> None:
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(str(sample.made), log)
    assert log.statements == []


def test_every_carrier_has_one_set_and_nothing_else_has(sample: Sample) -> None:
    assert sorted(element.GlobalId for element, _ in ours(sample.made)) == sorted(
        row.place.global_id for row in sample.result.carriers
    )


def test_the_sets_say_what_the_result_says(sample: Sample) -> None:
    rows, compartments = {row.place.global_id: row for row in sample.result.carriers}, defaultdict(list)
    for one in sample.result.compartments:
        compartments[one.carrier].append(one)
    findings = {one.id: one for one in sample.result.findings}
    seen: set[str] = set()
    for element, said in ours(sample.made):
        row = rows[element.GlobalId]
        own = {one.number: one for one in compartments[row.key]}
        tightest = own[said.get("FillCompartment", 1)]
        assert said["WorstVerdict"] == row.worst_verdict
        assert said["FillVerdict"] == tightest.verdict
        assert said.get("Fill") == pytest.approx(tightest.fill, abs=1e-9)
        assert said.get("FillLimit") == pytest.approx(tightest.limit, abs=1e-9)
        assert said.get("FillIsAtLeast", False) is (tightest.at_least and tightest.fill is not None)
        assert ("FillCompartment" in said) == (len(own) > 1)
        for number, one in own.items() if len(own) > 1 else ():
            assert said[f"Compartment{number}FillVerdict"] == one.verdict
            assert said.get(f"Compartment{number}Fill") == pytest.approx(one.fill, abs=1e-9)
            assert said[f"Compartment{number}WorstVerdict"] == one.worst_verdict
        for verdict in ("fail", "unknown", "waived"):
            ids = said.get(f"Findings{verdict.capitalize()}", [])
            assert sorted(ids) == sorted(
                key for key, one in findings.items() if row.key in one.carriers and one.verdict == verdict
            )
            seen.update(ids)
        if row.worst_verdict in {"fail", "unknown"}:
            worst = findings[said[f"Findings{row.worst_verdict.capitalize()}"][0]]
            assert (said["WorstRule"], said["WorstReason"]) == (worst.rule, worst.reason)
        assert (said["Code"], said["CodeEdition"]) == (sample.result.code, sample.result.code_title)
        assert (said["CheckedAt"], said["CheckedBy"]) == (sample.result.created, f"Wayroom {sample.result.version}")
    told = {key for key, one in findings.items() if one.verdict in {"fail", "unknown", "waived"} and one.carriers}
    assert seen == told


def test_the_sets_say_what_was_worked_out_on_paper(sample: Sample) -> None:
    """Against the worked answers of the sample, which don't come from the program."""
    with (SAMPLES / sample.name / "expected.csv").open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if row["table"] == "segment"]
    labels = {row.place.global_id: row.place.label for row in sample.result.carriers}
    sets = {labels[element.GlobalId]: said for element, said in ours(sample.made)}
    assert len(rows) > 40
    for row in rows:
        said = sets[row["key"]]
        before = f"Compartment{row['compartment']}" if "FillCompartment" in said and row["compartment"] else ""
        assert said[f"{before}FillVerdict"] == row["verdict"], row["key"]
        assert said[f"{before}WorstVerdict"] == row["worst_verdict"], row["key"]
        if row["fill"] and row["verdict"] != "unknown":
            for name, worked in (("Fill", row["fill"]), ("FillLimit", row["limit"])):
                half_a_digit = 0.51 * 10.0 ** -len(worked.partition(".")[2])
                assert said[f"{before}{name}"] == pytest.approx(float(worked), abs=half_a_digit), row["key"]


def test_it_is_read_as_the_model_was(sample: Sample, tmp_path: Path) -> None:
    for path in (SAMPLES / sample.name).iterdir():
        if path.suffix in {".toml", ".csv", ".xlsx"}:
            (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / sample.made.name).write_bytes(sample.made.read_bytes())
    again = check(Request(find_sources([tmp_path], None)))
    hashes = {file.name: file.sha256 for file in sample.result.files}
    files = tuple(replace(file, sha256=hashes[file.name]) if file.role == "model" else file for file in again.files)
    assert again.files != sample.result.files
    assert replace(again, files=files) == sample.result


def test_annotating_the_annotated_gives_the_same_bytes(sample: Sample, tmp_path: Path) -> None:
    sources = find_sources([SAMPLES / sample.name], None)
    digest = {file.name: file for file in sample.result.files}
    files = tuple(
        replace(file, sha256=file_digest(sample.made)) if file is digest[sample.made.name] else file
        for file in sample.result.files
    )
    annotated = replace(sources, models=(sample.made,))
    with written(replace(sample.result, files=files), targets(annotated, tmp_path / "again.ifc"), fill_rules()):
        pass
    assert (tmp_path / "again.ifc").read_bytes() == sample.made.read_bytes()
