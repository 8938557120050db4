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
    assert validate_all(write_bcf(vet_result)) == 2 + 2 * (len(vet_result.topics) + len(vet_result.requests))


def test_an_independent_reader_finds_topics_selections_and_pictures_of_elements_that_are_there(
    vet_result: Result, vet_practice: Path, tmp_path: Path
) -> None:
    path = tmp_path / "issues.bcf"
    path.write_bytes(write_bcf(vet_result))
    model = ifcopenshell.open(str(vet_practice / "model.ifc"))
    book = BcfXml.load(path)
    assert book is not None
    assert (len(vet_result.topics), len(vet_result.requests)) == (9, 2)
    assert len(book.topics) == 11
    tags = set()
    for topic in (*vet_result.topics, *vet_result.requests):
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


def test_no_floor_hides_what_a_note_is_about(vet_result: Result) -> None:
    labels = {row.key: row.place.label for row in vet_result.carriers}
    cut = {labels[key]: topic.clip_m for topic in vet_result.topics for key in topic.carriers}
    # floor trunking is 50 high, its lower face 65 mm below the floor's; 5 mm are left above it: -65 + 50 + 5 = -10
    assert {label for label, height in cut.items() if height == -0.01} == {"FT-01", "FT-02", "FT-07"}
    # all else hangs below one of the other slabs of the plan, whose undersides are at 3350 and 6950, and is seen from 5 below that
    assert {height for height in cut.values() if height != -0.01} == {3.345, 6.945}
    # WT-02 on the ground floor, WD-02 on the first, and the riser CD-R, which ends there
    assert [cut[label] for label in ("WT-02", "WD-02", "CD-R")] == [3.345, 6.945, 6.945]


def test_what_the_schedule_leaves_open_is_asked(vet_result: Result) -> None:
    """The schedule has no design current for UP-07, and no device for EV-02."""
    assert {topic.title for topic in vet_result.requests} == {
        "Question: the design current of circuit UP-07",
        "Question: the device rating of circuit EV-02",
    }
