import hashlib
import io
import zipfile
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import xmlschema
from bcf.v2.bcfxml import BcfXml
from lxml import etree

from checker.report.bcf import write_bcf
from tests.report.opened import file_of, unpacked, with_topic
from tests.report.results import MODEL, global_id, guid, small_result

SCHEMAS = Path(__file__).parents[3] / "shared" / "bcf" / "xsd"
needs_schemas = pytest.mark.skipif(not SCHEMAS.is_dir(), reason="the official schemas, ../shared/bcf/xsd, aren't here")


@cache
def _schema(path: Path) -> xmlschema.XMLSchema:
    return xmlschema.XMLSchema(path)


def validate_all(data: bytes, version: str = "2.1") -> int:
    """Holds every XML file of an archive against its official schema, topics of 2.1 against the archive's own words too.

    Returns:
        How many files were held against one; ``extensions.xsd`` isn't counted.
    """
    files = unpacked(data)
    kinds = {"bcf.version": "version", "project.bcfp": "project", "markup.bcf": "markup", "viewpoint.bcfv": "visinfo",
             "extensions.xml": "extensions", "documents.xml": "documents"}  # fmt: skip
    folder = SCHEMAS / version
    schemas = {
        name: _schema(folder / f"{kind}.xsd") for name, kind in kinds.items() if name[-3:] != "xml" or version == "3.0"
    }
    own_words = (
        xmlschema.XMLSchema(files["extensions.xsd"].decode(), base_url=str(folder)) if version == "2.1" else None
    )
    checked = 0
    for path, content in files.items():
        name = path.rsplit("/", 1)[-1]
        if name in schemas:
            schemas[name].validate(io.BytesIO(content))
            checked += 1
        if name == "markup.bcf" and own_words is not None:
            own_words.validate(io.BytesIO(content))
    return checked


@pytest.mark.corpus
@needs_schemas
def test_every_file_is_valid_by_its_official_schema() -> None:
    assert validate_all(write_bcf(small_result())) == 6  # version, project, and markup and viewpoint of two topics


@pytest.mark.corpus
@needs_schemas
def test_it_is_valid_with_odd_texts_no_camera_and_no_topics_too() -> None:
    odd = with_topic(small_result(), title="a\x00b\x1f <&> \ud83d", description="", camera=None, priority="", labels=())

    assert validate_all(write_bcf(odd)) == 6
    assert validate_all(write_bcf(replace(small_result(), topics=()))) == 2


def test_another_program_s_library_finds_everything(tmp_path: Path) -> None:
    result = small_result()
    path = tmp_path / "issues.bcf"
    path.write_bytes(write_bcf(result))

    book = BcfXml.load(path)

    assert book is not None
    assert book.project.name == "Plant room"
    assert set(book.topics) == {topic.guid for topic in result.topics}
    handler = book.topics[result.topics[0].guid]
    assert handler.topic.title == "T-001: 52.3% full"
    assert handler.topic.topic_status == "Open"
    assert handler.topic.labels == ["Fill", "Trunking"]
    view = handler.viewpoints["viewpoint.bcfv"]
    assert view.get_selected_guids() == [global_id(1), global_id(2), global_id(77)]  # carriers before cables
    assert view.visualization_info.perspective_camera.field_of_view == 60.0
    assert view.snapshot.startswith(b"\x89PNG")


def test_the_same_result_gives_the_same_bytes() -> None:
    assert write_bcf(small_result()) == write_bcf(small_result())


def test_folders_have_entries_and_the_time_is_the_models() -> None:
    result = small_result()

    with zipfile.ZipFile(io.BytesIO(write_bcf(result))) as archive:
        names = archive.namelist()
        times = {entry.date_time for entry in archive.infolist()}

    assert names[:3] == ["bcf.version", "project.bcfp", "extensions.xsd"]
    folder = f"{result.topics[0].guid}/"
    assert names[3:7] == [folder, f"{folder}markup.bcf", f"{folder}viewpoint.bcfv", f"{folder}snapshot.png"]
    assert times == {(2024, 5, 1, 8, 30, 0)}


def test_a_topic_says_what_the_result_says() -> None:
    result = small_result()
    topic = file_of(result, "markup.bcf").find("Topic")

    assert [child.tag for child in topic] == [
        "Title", "Priority", "Index", "Labels", "Labels", "CreationDate", "CreationAuthor", "Description",
    ]  # fmt: skip
    assert dict(topic.attrib) == {"Guid": result.topics[0].guid, "TopicType": "Capacity", "TopicStatus": "Open"}
    assert topic.findtext("CreationDate") == "2024-05-01T08:30:00Z"
    assert topic.findtext("CreationAuthor") == "wayroom"
    assert topic.findtext("Description").startswith(result.topics[0].description.partition("\n\nwayroom:")[0])


def test_the_description_ends_with_values_for_the_next_run() -> None:
    result = small_result()
    fuller = result.findings[0].id
    values = ["52.3 % / 45 %" if member == fuller else "48.1 % / 45 %" for member in result.topics[0].members]

    last = file_of(result, "markup.bcf").findtext("Topic/Description").splitlines()[-1]

    edition = hashlib.sha256(b"Guidance").hexdigest()[:8]  # of the code's title and edition
    assert last.startswith(f"wayroom state: fill.compartment | bs-7671/{edition} | {values[0]} | {values[1]} | ")


@pytest.mark.parametrize(("rule", "kind"), [("segregation.compartment", "Segregation"), ("somebody.else", "Issue")])
def test_the_type_of_a_topic_comes_from_the_family_of_its_rule(rule: str, kind: str) -> None:
    assert file_of(with_topic(small_result(), rule=rule), "markup.bcf").find("Topic").get("TopicType") == kind


def test_the_header_names_the_model() -> None:
    file = file_of(small_result(), "markup.bcf").find("Header/File")

    assert dict(file.attrib) == {"IfcProject": "3Zu5Bv0LOHrPC10026FoQQ", "isExternal": "true"}
    assert [(child.tag, child.text) for child in file] == [
        ("Filename", "plant room.ifc"),
        ("Date", "2024-05-01T08:30:00Z"),  # no zone in the IFC header: taken as UTC
    ]


def test_the_header_names_those_models_only_that_a_topic_is_about() -> None:
    other = replace(MODEL, name="roof.ifc", ifc_project="")

    header = file_of(replace(small_result(), files=(other, MODEL)), "markup.bcf").find("Header")

    assert [file.findtext("Filename") for file in header] == ["plant room.ifc"]


@pytest.mark.parametrize(
    ("timestamp", "date"),
    [
        ("", None),
        ("yesterday", None),
        ("2024-13-45T99:00:00", None),
        ("2024-05-01T10:30:00+02:00", "2024-05-01T08:30:00Z"),
        ("2024-05-01T08:30:00.75Z", "2024-05-01T08:30:00Z"),
        ("0001-01-01T00:30:00+02:00", None),  # before the first year there is
    ],
)
def test_a_header_date_is_left_out_where_it_is_no_date(timestamp: str, date: str | None) -> None:
    result = replace(small_result(), files=(replace(MODEL, timestamp=timestamp),))

    assert file_of(result, "markup.bcf").findtext("Header/File/Date") == date


def test_without_a_time_the_notes_have_a_fixed_one() -> None:
    result = replace(small_result(), created="")

    assert file_of(result, "markup.bcf").findtext("Topic/CreationDate") == "1980-01-01T00:00:00Z"
    assert write_bcf(result) == write_bcf(result)


def test_texts_are_escaped_and_lose_only_what_xml_cannot_hold() -> None:
    title = "T-1 <&> \"Ø\" \x00\x0b\ufffe'é' 日本"

    assert file_of(with_topic(small_result(), title=title), "markup.bcf").findtext("Topic/Title") == (
        "T-1 <&> \"Ø\" 'é' 日本"
    )


def test_the_extension_schema_lists_the_words_in_use() -> None:
    result = with_topic(small_result(), labels=("Fill", "Riser"), priority="Low")
    schema = etree.fromstring(unpacked(write_bcf(result))["extensions.xsd"])
    lists = {
        kind.get("name"): {value.get("value") for value in kind.iter("{*}enumeration")}
        for kind in schema.iter("{*}simpleType")
    }

    assert lists["TopicLabel"] == {"Fill", "Riser", "Trunking"}
    assert lists["Priority"] == {"Low", "High", "Normal"}
    assert lists["TopicStatus"] == {"Open", "Review", "Closed"}
    assert {"Capacity", "Segregation", "Issue"} <= lists["TopicType"]


def test_a_topic_whose_findings_are_unknown_to_the_result_is_written_all_the_same() -> None:
    strange = guid("strange")
    result = with_topic(small_result(), members=(strange,), description="Nothing for machines here.", worst=strange)

    text = file_of(result, "markup.bcf").findtext("Topic/Description")

    assert text.startswith(f"Nothing for machines here.\n\nwayroom: {strange}\n")
