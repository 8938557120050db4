"""The official sample files of both versions, those that break their own rules among them: all that is in them stays."""

import io
from pathlib import Path

import pytest
import xmlschema
from lxml import etree

from checker.history.previous import read_previous
from checker.result.dialect import DIALECTS, Dialect
from tests.history.people import run, unpacked
from tests.report.results import small_result

CORPUS = Path(__file__).parents[3] / "shared" / "bcf"
CASES = [
    (path, dialect)
    for dialect in DIALECTS.values()
    for path in sorted((CORPUS / "cases" / dialect.version).glob("*.bcf"))
]
FIRST = small_result()
FULLER = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))

pytestmark = [
    pytest.mark.corpus,
    pytest.mark.skipif(not CASES, reason="the official sample files, ../shared/bcf/cases, aren't here"),
]
of_each = pytest.mark.parametrize(("case", "dialect"), CASES, ids=lambda value: getattr(value, "stem", "")[:24])


def topics_by_hand(files: dict[str, bytes]) -> list[str]:
    return sorted(
        etree.fromstring(content).find("Topic").get("Guid").lower()
        for path, content in files.items()
        if path.endswith("/markup.bcf")
    )


def words(content: bytes) -> dict[str, list[str]]:
    return {group.tag: [word.text for word in group] for group in etree.fromstring(content)}


def test_there_are_ten_of_each_version() -> None:
    assert [sum(dialect is one for _, dialect in CASES) for one in DIALECTS.values()] == [10, 10]


@of_each
def test_every_topic_is_read_and_nothing_is_odd(case: Path, dialect: Dialect) -> None:
    data = case.read_bytes()

    before = read_previous(data, case.name)

    assert before.dialect is dialect
    assert before.problems == []
    assert sorted(topic.guid.lower() for topic in before.topics) == topics_by_hand(unpacked(data))
    assert not any(topic.is_ours for topic in before.topics)
    for topic in before.topics:
        text = unpacked(data)[topic.path].decode("utf-8-sig")
        assert len(topic.comments()) == text.count("<Comment Guid=")
        assert topic.has_view is ("<ViewPoint Guid=" in text or "<Viewpoints Guid=" in text)


@of_each
def test_every_file_stays_byte_for_byte_and_ours_are_valid_beside_them(case: Path, dialect: Dialect) -> None:
    schema = xmlschema.XMLSchema(CORPUS / "xsd" / dialect.version / "markup.xsd")
    data = case.read_bytes()
    theirs = unpacked(data)

    once = run(FIRST, data, dialect)
    twice = run(FULLER, once, dialect)  # with comments of ours

    assert run(FIRST, once, dialect) == once
    for after in (unpacked(once), unpacked(twice)):
        assert {path for path in theirs if after[path] != theirs[path]} <= {"extensions.xsd", "extensions.xml"}
        ours = [path for path in set(after) - set(theirs) if path.endswith("markup.bcf")]
        assert len(ours) == len(FIRST.topics)
        for path in ours:
            schema.validate(io.BytesIO(after[path]))


@of_each
def test_their_list_of_words_keeps_all_and_learns_ours(case: Path, dialect: Dialect) -> None:
    data = case.read_bytes()
    theirs, after = unpacked(data).get("extensions.xml"), unpacked(run(FIRST, data, dialect)).get("extensions.xml")
    if dialect.version == "2.1":
        assert after is None
        return
    schema = xmlschema.XMLSchema(CORPUS / "xsd" / "3.0" / "extensions.xsd")
    assert theirs is not None
    assert after is not None
    old, new = words(theirs), words(after)
    assert all(new[group][: len(listed)] == listed for group, listed in old.items())
    assert {"Open", "Review", "Closed"} <= set(new["TopicStatuses"])
    assert "Capacity" in new["TopicTypes"]
    assert "wayroom" in new["Users"]
    if schema.is_valid(io.BytesIO(theirs)):
        schema.validate(io.BytesIO(after))
