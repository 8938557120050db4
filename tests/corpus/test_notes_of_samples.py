"""Notes of all sample models in both versions of BCF, by the official schemas and through an independent reader."""

from dataclasses import replace
from functools import cache
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from checker.checking import Request, check
from checker.history.merge import merged
from checker.read.sources import find_sources
from checker.report.bcf import draft, pack, topics_in
from checker.result.accounting import count
from checker.result.dialect import DIALECTS, V2, Dialect
from checker.result.facts import run_facts
from checker.result.note_state import split_text
from checker.result.note_words import NoteWords
from checker.result.tables import Result, Topic
from tests.history.people import PERSON, repacked, unpacked
from tests.report.test_bcf import needs_schemas, validate_all

SAMPLES = sorted(path.parent for path in (Path(__file__).parents[2] / "sample_models").glob("*/wayroom.toml"))

pytestmark = [pytest.mark.corpus, needs_schemas]
of_each = pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
of_samples = pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)


@cache
def result_of(sample: Path) -> Result:
    return check(Request(find_sources([sample], None)))


@cache
def notes_of(sample: Path, dialect: Dialect) -> bytes:
    return pack(draft(result_of(sample), dialect))


def commented(data: bytes, dialect: Dialect) -> bytes:
    """The notes after a person commented on each topic, with its viewpoint."""
    files = unpacked(data)
    for path in [path for path in files if path.endswith("/markup.bcf")]:
        root = etree.fromstring(files[path])
        comment = etree.Element("Comment", Guid="6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a4e5f")
        for tag, text in (("Date", "2024-05-02T09:00:00+02:00"), ("Author", PERSON), ("Comment", "Mine.")):
            etree.SubElement(comment, tag).text = text
        etree.SubElement(comment, "Viewpoint", Guid=root.find(dialect.views).get("Guid"))
        dialect.add(root, dialect.comments, comment)
        files[path] = etree.tostring(root, xml_declaration=True, encoding="UTF-8")
    return repacked(files)


def gone_on(sample: Path, dialect: Dialect) -> bytes:
    """Notes that a person commented on, after a run by another edition of the code: one comment of ours on each topic."""
    result = replace(result_of(sample), code_title="Another edition")
    return merged(commented(notes_of(sample, dialect), dialect), draft(result, dialect), run_facts(result))


def raised(sample: Path) -> int:
    return len(result_of(sample).topics) + len(result_of(sample).requests)


def test_there_are_samples_with_topics() -> None:
    assert len(SAMPLES) >= 3
    assert all(result_of(sample).topics for sample in SAMPLES)


@of_each
@of_samples
def test_all_topics_are_valid_new_and_gone_on_with(sample: Path, dialect: Dialect) -> None:
    # markup and viewpoint of each topic; version and project, and in 3.0 the words
    files = 2 * raised(sample) + (2 if dialect is V2 else 3)

    assert validate_all(notes_of(sample, dialect), dialect.version) == files
    assert validate_all(gone_on(sample, dialect), dialect.version) == files


@of_each
@of_samples
def test_the_same_input_gives_the_same_bytes(sample: Path, dialect: Dialect) -> None:
    assert pack(draft(result_of(sample), dialect)) == notes_of(sample, dialect)
    assert gone_on(sample, dialect) == gone_on(sample, dialect)


@of_each
@of_samples
def test_an_independent_reader_finds_every_topic_comment_viewpoint_selection_and_picture(
    sample: Path, dialect: Dialect, tmp_path: Path
) -> None:
    path = tmp_path / "issues.bcf"
    path.write_bytes(gone_on(sample, dialect))
    result = result_of(sample)
    book: Any = import_module(f"bcf.v{dialect.version[0]}.bcfxml").BcfXml.load(path)

    assert set(book.topics) == {topic.guid for topic in (*result.topics, *result.requests)}
    assert any(len(book.topics[topic.guid].comments) == 2 for topic in result.topics)
    for index, topic in enumerate((*result.topics, *result.requests), start=1):
        handler = book.topics[topic.guid]
        assert_says(handler.topic, topic, index, result)
        comments = handler.comments
        assert (comments[0].author, comments[0].comment) == (PERSON, "Mine.")
        assert {comment.author for comment in comments[1:]} <= {"wayroom"}
        assert all(comment.comment.strip() for comment in comments)
        assert list(handler.viewpoints) == ["viewpoint.bcfv"]
        view = handler.viewpoints["viewpoint.bcfv"]
        assert view.visualization_info.guid == comments[0].viewpoint.guid
        assert_shows(view.visualization_info, topic, result, dialect)
        assert view.snapshot == unpacked(notes_of(sample, dialect))[f"{topic.guid}/snapshot.png"]
        assert view.snapshot.startswith(b"\x89PNG")
        files = handler.header.file if dialect is V2 else handler.header.files.file
        assert {(file.filename, file.ifc_project) for file in files} <= {
            (file.name, file.ifc_project) for file in result.files if file.role == "model"
        }
        assert files


def assert_says(read: Any, topic: Topic, index: int, result: Result) -> None:
    """What a library read of a topic is what we have of it; its description all that people read, and our lines for the next run."""
    labels = read.labels if isinstance(read.labels, list) else read.labels.label
    assert (read.title, read.priority, read.index, tuple(labels)) == (topic.title, topic.priority, index, topic.labels)
    words = NoteWords()
    assert (read.topic_type, read.topic_status, read.creation_author) == (words.type_of(topic.rule), "Open", "wayroom")
    assert read.creation_date.to_datetime().isoformat().replace("+00:00", "Z") == result.created
    told = split_text(topic.description).text.strip()
    assert " ".join(read.description.split()).startswith(" ".join(told.split()))
    last = read.description.strip().splitlines()[-2:]
    assert sorted(last[0].removeprefix("wayroom: ").split()) == sorted(topic.members)
    assert last[1].startswith(f"wayroom state: {topic.rule} | ")


def assert_shows(read: Any, topic: Topic, result: Result, dialect: Dialect) -> None:
    """What a library read of a viewpoint is what a topic is about: selected and coloured, carriers first, seen from its camera."""
    places = {row.key: row.place for row in result.carriers}
    wanted = [place.global_id for place in (*(places[key] for key in topic.carriers), *topic.cables) if place.global_id]
    parts = read.components
    assert [one.ifc_guid for one in parts.selection.component] == list(dict.fromkeys(wanted))[:1000]
    (colour,) = parts.coloring.color
    coloured = colour.component if dialect is V2 else colour.components.component
    assert [one.ifc_guid for one in coloured] == [one.ifc_guid for one in parts.selection.component]
    assert parts.visibility.default_visibility is True
    if topic.camera is not None:
        at, way, up = (
            (vector.x, vector.y, vector.z)
            for vector in (
                read.perspective_camera.camera_view_point,
                read.perspective_camera.camera_direction,
                read.perspective_camera.camera_up_vector,
            )
        )
        assert at == pytest.approx(topic.camera.point_m, abs=1e-6)
        assert way == pytest.approx(topic.camera.direction, abs=1e-6)
        assert up == pytest.approx(topic.camera.up, abs=1e-6)
    planes = read.clipping_planes.clipping_plane if read.clipping_planes else []
    assert [plane.location.z for plane in planes] == (
        [] if topic.clip_m is None else [pytest.approx(topic.clip_m, abs=1e-6)]
    )


@of_samples
def test_everything_that_fails_is_in_one_note_and_the_counts_are_those_of_the_notes(sample: Path) -> None:
    result = result_of(sample)
    failing = sorted(row.id for row in result.findings if row.verdict == "fail")

    assert sorted(member for topic in result.topics for member in topic.members) == failing
    assert {row.id: row.topic for row in result.findings if row.topic} == {
        member: topic.guid for topic in result.topics for member in topic.members
    }
    counts = count(result)
    raised_in = {dialect.version: topics_in(BytesIO(notes_of(sample, dialect))) for dialect in DIALECTS.values()}
    assert raised_in == dict.fromkeys(raised_in, counts.topics + counts.requests)


def test_near_misses_of_the_samples_are_asked_where_nothing_comes_in_at_the_end() -> None:
    """By the samples' plans: the gap at BU-03 is told with the way of LD-02, which needs it; at FC-W and CP-23 circuits come in."""
    asked = {
        sample.name: [line.split(": ")[1].split(" (")[0] for line in text.splitlines() if line.startswith("- whether")]
        for sample in SAMPLES
        for text in ["\n".join(topic.description for topic in result_of(sample).requests)]
    }
    assert asked == {"data_room": ["BD-31 / BD-32"], "vet_practice": [], "workshop": ["RC-99 / LW-04"]}
    (way,) = (
        topic
        for topic in result_of(next(path for path in SAMPLES if path.name == "data_room")).requests
        if topic.rule == "question.way"
    )
    assert way.title == "Question: the way of circuit LD-02"
    assert "BU-03 and BU-04 come within 0.06 m of each other and don't meet" in way.description
