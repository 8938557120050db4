"""When a topic was modified and by whom, and of which issue its documents are: ours is kept up to date, a person's stays."""

import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
import xmlschema
from lxml import etree

from checker.result.dialect import V2, V3, Dialect
from checker.result.tables import Result
from tests.history.people import PERSON, unpacked
from tests.history.revisions import (
    FAILS,
    MENDED,
    Revision,
    checked,
    of_length,
    run_of,
    says,
    sets,
    topics,
    worked,
    zipped,
)

XSD = Path(__file__).parents[3] / "shared" / "bcf" / "xsd"
LATER = "2024-05-08T08:30:00Z"
BOTH = pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)


def modified(notes: bytes, number: int = 3) -> tuple[str | None, str | None]:
    """When the topic of a length was modified, and by whom."""
    topic = topics(notes)[of_length(notes, number)].find("Topic")
    return topic.findtext("ModifiedDate"), topic.findtext("ModifiedAuthor")


def later(revision: Revision) -> Revision:
    return replace(revision, created=LATER)


@BOTH
def test_a_topic_that_we_change_says_when_and_that_it_was_us(dialect: Dialect) -> None:
    """T-003 passes in the second run, so that its status and text change; of the stretch nothing does."""
    first = checked(FAILS, None, dialect)
    assert modified(first) == (None, None)

    second = checked(later(MENDED), first, dialect)
    assert modified(second) == (LATER, "wayroom")
    assert modified(second, 1) == (None, None)
    third = checked(replace(FAILS, created="2024-05-15T08:30:00Z"), second, dialect)
    assert modified(third) == ("2024-05-15T08:30:00Z", "wayroom")


@BOTH
def test_it_was_not_modified_before_what_stands_there(dialect: Dialect) -> None:
    """Somebody checks an older model: neither before the last change of ours nor, where that is missing, before it was made."""
    second = checked(later(MENDED), checked(FAILS, None, dialect), dialect)
    assert modified(checked(replace(FAILS, created="2024-05-02T00:00:00Z"), second, dialect)) == (LATER, "wayroom")

    made = checked(FAILS, None, dialect)
    assert modified(checked(replace(MENDED, created="2023-01-01T00:00:00Z"), made, dialect))[0] == FAILS.created


@BOTH
@pytest.mark.parametrize(
    "entries",
    [
        {"ModifiedDate": "2024-05-03T10:00:00+02:00", "ModifiedAuthor": PERSON},
        {"ModifiedAuthor": PERSON},
        {"ModifiedDate": "2024-05-03T10:00:00+02:00"},
    ],
    ids=["both", "the author", "the date"],
)
def test_what_a_person_says_of_it_stays(dialect: Dialect, entries: Mapping[str, str]) -> None:
    first = checked(FAILS, None, dialect)
    work = [sets(tag, text) for tag, text in entries.items()]
    second = checked(later(MENDED), zipped(worked(first, {of_length(first, 3): work}, dialect)), dialect)

    assert modified(second) == (entries.get("ModifiedDate"), entries.get("ModifiedAuthor"))
    assert topics(second)[of_length(second, 3)].find("Topic").get("TopicStatus") == "Review"


def test_an_entry_without_a_word_says_nothing() -> None:
    first = checked(FAILS)
    work = {of_length(first, 3): [sets("ModifiedDate", ""), sets("ModifiedAuthor", " ")]}

    assert modified(checked(later(MENDED), zipped(worked(first, work, V2)))) == (LATER, "wayroom")


def test_a_comment_alone_does_not_modify_a_topic() -> None:
    """Closed by a person, but it still fails: that is said in a comment, and nothing else of it changes."""
    first = checked(FAILS)
    work = {of_length(first, 3): [lambda root, _: root.find("Topic").set("TopicStatus", "Closed")]}
    second = checked(later(FAILS), zipped(worked(first, work, V2)))

    assert len(topics(second)[of_length(second, 3)].findall("Comment")) == 1
    assert modified(second) == (None, None)


@pytest.mark.corpus
@pytest.mark.skipif(not XSD.is_dir(), reason="the official schemas, ../shared/bcf/xsd, aren't here")
@BOTH
def test_modified_topics_and_comments_that_name_a_view_are_valid(dialect: Dialect) -> None:
    """T-003 is modified, the stretch grows by it and is due on a day that a person set."""
    first = checked(FAILS, None, dialect)
    work = {of_length(first, 1): [sets("DueDate", LATER), says("Mine.")]}
    second = checked(later(MENDED), zipped(worked(first, work, dialect)), dialect)
    grown = replace(FAILS, together=(1, 2, 4), fills={1: 0.523, 2: 0.481, 3: 0.4, 4: 0.5}, created=LATER)
    third = checked(grown, second, dialect)

    markups = [content for path, content in unpacked(third).items() if path.endswith("/markup.bcf")]
    assert sum(b"<ModifiedDate>" in content for content in markups) == 2
    assert sum(b"<Viewpoint Guid=" in content for content in markups) == 1
    schema = xmlschema.XMLSchema(XSD / dialect.version / "markup.xsd")
    for content in markups:
        schema.validate(io.BytesIO(content))


def issued(revision: Revision, issue: str, status: str = "") -> Result:
    return replace(revision.result(), revision=issue, status=status)


def documents(notes: bytes, dialect: Dialect, number: int = 3) -> list[str | None]:
    """What the topic of a length says of its documents."""
    return [one.findtext("Description") for one in topics(notes)[of_length(notes, number)].findall(dialect.documents)]


@BOTH
def test_our_document_is_brought_to_the_revision_of_the_run(dialect: Dialect) -> None:
    first = run_of(issued(FAILS, "P01", "S2, for comment"), None, dialect)
    assert documents(first, dialect) == ["plant room.ifc, revision P01, status S2, for comment"]
    second = run_of(issued(FAILS, "P02"), first, dialect)
    assert documents(second, dialect) == ["plant room.ifc, revision P02"]
    third = run_of(issued(FAILS, "P03", "S4"), second, dialect)
    assert documents(third, dialect) == ["plant room.ifc, revision P03, status S4"]


@BOTH
def test_a_project_that_names_no_revision_any_more_leaves_no_old_one_on_our_document(dialect: Dialect) -> None:
    """With a comma in the status, too, which nobody could tell from their words without the topic's text."""
    first = run_of(issued(FAILS, "P01", "S2, for comment"), None, dialect)
    second = run_of(issued(FAILS, ""), first, dialect)
    assert documents(second, dialect) == ["plant room.ifc"]
    third = run_of(issued(FAILS, "P03"), second, dialect)
    assert documents(third, dialect) == ["plant room.ifc, revision P03"]


@BOTH
@pytest.mark.parametrize("theirs", ["plant room.ifc, revision P01a", "plant room.ifc"])
def test_what_a_person_wrote_of_our_document_stays(dialect: Dialect, theirs: str) -> None:
    first = run_of(issued(FAILS, "P01"), None, dialect)

    def edits(root: etree._Element, dialect: Dialect) -> None:
        root.find(f"{dialect.documents}/Description").text = theirs

    edited = zipped(worked(first, {of_length(first, 3): [edits]}, dialect))
    assert documents(run_of(issued(FAILS, "P02"), edited, dialect), dialect) == [theirs]


def test_a_document_of_a_topic_whose_text_is_a_person_s_is_renewed_as_long_as_it_is_in_our_words() -> None:
    """Their text names no revision, and isn't brought up to date; the document is, run after run."""
    first = run_of(issued(FAILS, "P01"))
    guid = of_length(first, 3)
    ours = topics(first)[guid].findtext("Topic/Description")
    text = ours.replace("Documents: revision P01.", "").replace("Too full.", "T-003 is mine.")
    notes = zipped(worked(first, {guid: [sets("Description", text)]}, V2))
    for issue in ("P02", "P03"):
        notes = run_of(issued(FAILS, issue), notes)
        assert documents(notes, V2) == [f"plant room.ifc, revision {issue}"]
        assert "T-003 is mine." in topics(notes)[guid].findtext("Topic/Description")
