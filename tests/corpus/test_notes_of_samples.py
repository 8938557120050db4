"""Notes of all sample models in both versions of BCF, by the official schemas and through an independent reader."""

from dataclasses import replace
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from checker.checking import Request, check
from checker.history.merge import merged
from checker.read.sources import find_sources
from checker.report.bcf import draft, pack
from checker.result.dialect import DIALECTS, V2, Dialect
from checker.result.facts import run_facts
from checker.result.tables import Result
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
    carriers = {row.key: row.place.global_id for row in result.carriers}

    book: Any = import_module(f"bcf.v{dialect.version[0]}.bcfxml").BcfXml.load(path)

    assert set(book.topics) == {topic.guid for topic in (*result.topics, *result.requests)}
    for topic in (*result.topics, *result.requests):
        handler = book.topics[topic.guid]
        assert handler.topic.title == topic.title
        authors = [comment.author for comment in handler.comments]
        assert authors[0] == PERSON
        assert set(authors[1:]) <= {"wayroom"}
        view = handler.viewpoints["viewpoint.bcfv"]
        chosen = view.get_selected_guids()
        wanted = [carriers[key] for key in topic.carriers if key in carriers]
        assert chosen[: len(wanted)] == wanted[:1000]
        assert view.snapshot.startswith(b"\x89PNG")
        assert view.visualization_info.guid == handler.comments[0].viewpoint.guid
    assert any(len(book.topics[topic.guid].comments) == 2 for topic in result.topics)
