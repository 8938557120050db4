"""A project's own words in its notes."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from bcf.v3.bcfxml import BcfXml
from lxml import etree

from checker.report.bcf import write_bcf
from checker.result.dialect import DIALECTS, V2, V3, Dialect
from checker.result.note_words import NoteWords, Statuses
from tests.history.people import markup_path, run
from tests.report.opened import unpacked
from tests.report.results import small_result
from tests.report.test_bcf import needs_schemas, validate_all

WORDS = NoteWords(
    statuses=Statuses("Offen", "Prüfen", "Erledigt"),
    types={"fill": "Clash"},
    priorities={"High": "1", "Normal": "2"},
    labels=("MEP",),
    stage="Detailed design",
    stages=("Concept",),
    assigned={"fill": "a@example.org"},
    people=("b@example.org",),
    due=date(2024, 6, 30),
)
RESULT = replace(small_result(), revision="P03", status="S4")
of_each = pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)


def topic_of(dialect: Dialect, words: NoteWords | None = WORDS) -> etree._Element:
    files = unpacked(write_bcf(RESULT, dialect, words))
    return etree.fromstring(files[f"{RESULT.topics[0].guid}/markup.bcf"])


@of_each
@pytest.mark.corpus
@needs_schemas
def test_notes_in_a_project_s_words_are_valid_by_the_official_schemas(dialect: Dialect) -> None:
    # version, project, and two files of each topic; the words are a schema in 2.1 and a file in 3.0
    assert validate_all(write_bcf(RESULT, dialect, WORDS), dialect.version) == {"2.1": 6, "3.0": 7}[dialect.version]


@of_each
def test_a_topic_bears_the_project_s_words(dialect: Dialect) -> None:
    root = topic_of(dialect)
    topic = root.find("Topic")

    assert (topic.get("TopicType"), topic.get("TopicStatus")) == ("Clash", "Offen")
    assert [label.text for label in root.findall(dialect.labels)] == ["Fill", "Trunking", "MEP"]
    said = {tag: topic.findtext(tag) for tag in ("Priority", "DueDate", "AssignedTo", "Stage")}
    assert said == {
        "Priority": "1",
        "DueDate": "2024-06-30T23:59:59Z",
        "AssignedTo": "a@example.org",
        "Stage": "Detailed design",
    }


@of_each
def test_a_topic_names_the_revision_of_the_model(dialect: Dialect) -> None:
    root = topic_of(dialect)
    references = root.findall(dialect.documents)

    assert [one.findtext("Description") for one in references] == ["plant room.ifc, revision P03, status S4"]
    assert references[0].get("Guid") is not None
    if dialect is V2:
        assert references[0].findtext("ReferencedDocument") == "plant room.ifc"
        assert references[0].get("isExternal") == "true"


@of_each
def test_without_a_revision_no_document_is_named(dialect: Dialect) -> None:
    files = unpacked(write_bcf(small_result(), dialect, WORDS))

    assert etree.fromstring(files[f"{RESULT.topics[0].guid}/markup.bcf"]).findall(dialect.documents) == []


def test_the_words_are_in_the_schema_of_the_older_version_but_people_are_not() -> None:
    schema = etree.fromstring(unpacked(write_bcf(RESULT, V2, WORDS))["extensions.xsd"])
    lists = {
        kind.get("name"): [value.get("value") for value in kind.iter("{*}enumeration")]
        for kind in schema.iter("{*}simpleType")
    }

    assert lists["TopicStatus"] == ["Offen", "Prüfen", "Erledigt"]
    assert lists["Priority"] == ["1", "2"]
    assert lists["TopicLabel"] == ["Fill", "MEP", "Trunking"]
    assert lists["Stage"] == ["Concept", "Detailed design"]
    assert "Clash" in lists["TopicType"]
    assert set(lists) == {"TopicStatus", "Priority", "TopicLabel", "Stage", "TopicType"}


def test_the_words_are_in_the_list_of_the_newer_version_with_people() -> None:
    root = etree.fromstring(unpacked(write_bcf(RESULT, V3, WORDS))["extensions.xml"])
    lists = {group.tag: [word.text for word in group] for group in root}

    assert lists["TopicStatuses"] == ["Offen", "Prüfen", "Erledigt"]
    assert lists["Priorities"] == ["1", "2"]
    assert lists["Stages"] == ["Concept", "Detailed design"]
    assert lists["Users"] == ["a@example.org", "b@example.org", "wayroom"]


def test_another_program_s_library_finds_the_words(tmp_path: Path) -> None:
    path = tmp_path / "issues.bcf"
    path.write_bytes(write_bcf(RESULT, V3, WORDS))
    book = BcfXml.load(path)
    assert book is not None
    topic = book.topics[RESULT.topics[0].guid].topic

    assert (topic.assigned_to, topic.stage, topic.due_date.to_datetime().date()) == (
        "a@example.org", "Detailed design", date(2024, 6, 30),
    )  # fmt: skip
    assert topic.document_references.document_reference[0].description == "plant room.ifc, revision P03, status S4"


@of_each
def test_the_words_of_an_earlier_run_stay_and_new_ones_are_learned(dialect: Dialect) -> None:
    first = run(small_result(), dialect=dialect)
    before = unpacked(first)

    after = unpacked(run(small_result(), first, dialect, WORDS))

    path = markup_path(first, "T-001")
    assert after[path] == before[path]  # who is to answer, what it is called: decided when it was raised
    name = "extensions.xsd" if dialect is V2 else "extensions.xml"
    for word in ("Open", "Review", "Closed", "Offen", "Prüfen", "Erledigt", "Clash"):
        assert word in after[name].decode()
