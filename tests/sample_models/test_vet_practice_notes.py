"""The sample's issue notes, by the official schemas and through an independent reader."""

from pathlib import Path

import ifcopenshell
import pytest
from bcf.v2.bcfxml import BcfXml

from checker.report.bcf import write_bcf
from checker.result.tables import Result
from tests.report.test_bcf import needs_schemas, validate_all


@pytest.mark.corpus
@needs_schemas
def test_they_are_valid_by_the_official_schemas(vet_result: Result) -> None:
    assert validate_all(write_bcf(vet_result)) == 2 + 2 * len(vet_result.topics)


def test_an_independent_reader_finds_topics_selections_and_pictures_of_elements_that_are_there(
    vet_result: Result, vet_practice: Path, tmp_path: Path
) -> None:
    path = tmp_path / "issues.bcf"
    path.write_bytes(write_bcf(vet_result))
    model = ifcopenshell.open(str(vet_practice / "model.ifc"))
    book = BcfXml.load(path)
    assert book is not None
    assert len(book.topics) == len(vet_result.topics) == 9
    tags = set()
    for topic in vet_result.topics:
        handler = book.topics[topic.guid]
        view = handler.viewpoints["viewpoint.bcfv"]
        selected = [model.by_guid(guid) for guid in view.get_selected_guids()]
        tags |= {element.Tag for element in selected}
        assert selected[0].is_a("IfcCableCarrierSegment")  # carriers first
        assert view.visualization_info.perspective_camera is not None
        assert view.snapshot.startswith(b"\x89PNG")
        assert handler.topic.description is not None
        assert "licensed" in handler.topic.description
    assert {
        "FT-01",
        "TR-03",
        "CP-14",
        "WD-02",
        "WT-02",
        "MT-5",
        "FT-07",
        "TR-05",
        "CD-R",
        "CB-DA-07",
        "CB-FA-06",
    } <= tags
