"""Five revisions of one model, with people at work on its notes in between: nothing that they did is lost, and statuses are right."""

import io
from dataclasses import dataclass
from pathlib import Path

import pytest
import xmlschema

from checker.result.dialect import V2, V3, Dialect
from tests.history.people import unpacked
from tests.history.revisions import (
    PERSON,
    Revision,
    attaches,
    checked,
    comments,
    labels,
    of_length,
    related,
    says,
    sets,
    sets_status,
    status,
    topics,
    worked,
    zipped,
)

XSD = Path(__file__).parents[3] / "shared" / "bcf" / "xsd"
FOREIGN = b"""\xef\xbb\xbf<?xml version="1.0" encoding="utf-8"?>
<Markup><Topic Guid="c2a3f2d8-1d55-4b6e-9c7a-0a1b2c3d4e5f" TopicType="Issue" TopicStatus="Open"><Title>Door too low</Title>
<CreationDate>2024-01-01T00:00:00Z</CreationDate><CreationAuthor>reviewer@example.org</CreationAuthor></Topic></Markup>"""

#: What fails is over 45 %. T-001 and T-002 are one stretch. T-005 passes at first; T-006 is deleted and comes back.
FIRST = Revision({1: 0.523, 2: 0.481, 3: 0.6, 4: 0.5, 5: 0.3, 6: 0.7}, "2024-05-01T08:30:00Z")
SECOND = Revision({1: 0.55, 2: 0.481, 3: 0.4, 4: 0.5, 5: 0.5}, "2024-05-08T08:30:00Z")
THIRD = Revision({1: 0.4, 2: 0.4, 3: 0.58, 4: None, 5: 0.5, 6: 0.7}, "2024-05-15T08:30:00Z")
#: Checked with --reopen. T-004 was deleted and made again.
FOURTH = Revision({1: 0.4, 2: 0.4, 3: 0.58, 4: 0.5, 5: 0.44, 6: None}, "2024-05-22T08:30:00Z", made_again=(4,))
FIFTH = Revision({1: 0.55, 2: 0.4, 3: 0.58, 4: 0.4, 5: 0.44, 6: 0.4}, "2024-05-29T08:30:00Z", made_again=(4,))


@dataclass(frozen=True, slots=True)
class Life:
    """The notes after each revision, before people work on them, and the Guids of the topics by the number of a length."""

    dialect: Dialect
    notes: tuple[bytes, ...]
    stretch: str
    third: str
    fourth: str
    fifth: str
    sixth: str
    again: str


def live(dialect: Dialect) -> Life:
    """Lives through the five revisions."""
    first = checked(FIRST, None, dialect)
    stretch, third, fourth, sixth = (of_length(first, number) for number in (1, 3, 4, 6))
    photo = {f"{stretch}/sketch.txt": b"a sketch", "a folder/markup.bcf": FOREIGN, "read me.txt": b"of somebody"}
    work = {
        stretch: [says("I will look at it.", 1), attaches("sketch.txt"), sets("Priority", "Critical")],
        third: [sets("AssignedTo", PERSON), sets("DueDate", "2024-06-01T00:00:00Z"), says("Yours?", 2)],
        fourth: [sets_status("Closed"), says("We live with it.", 3)],
        sixth: [labels("Level 1 works"), sets("Title", "T-006: my own title")],
    }
    second = checked(SECOND, zipped(worked(first, work, dialect, photo)), dialect)
    fifth = of_length(second, 5)
    work = {
        third: [sets_status("Closed"), says("Mended, thank you.", 4)],
        fifth: [sets_status("In Progress"), sets("Stage", "Second fix")],
        sixth: [says("Was it deleted on purpose?", 5)],
    }
    photo = {f"{sixth}/photo.jpg": b"a photo"}
    third_run = checked(THIRD, zipped(worked(second, work, dialect, photo), backslashes=True), dialect)
    work = {stretch: [sets_status("Closed"), labels("Done with")], fifth: [says("Two cables fewer.", 6)]}
    fourth_run = checked(FOURTH, zipped(worked(third_run, work, dialect), folders=True), dialect, reopen=True)
    again = next(guid for guid in topics(fourth_run) if related(fourth_run, guid, dialect))
    work = {
        again: [says("This is the same trunking.", 7), sets("AssignedTo", PERSON)],
        third: [sets("Description", "Only T-003 matters.")],
    }
    last = checked(FIFTH, zipped(worked(fourth_run, work, dialect)), dialect)
    return Life(dialect, (first, second, third_run, fourth_run, last), stretch, third, fourth, fifth, sixth, again)


@pytest.fixture(scope="module", params=[V2, V3], ids=lambda dialect: dialect.version)
def life(request: pytest.FixtureRequest) -> Life:
    return live(request.param)


def test_every_word_of_a_person_is_there_at_the_end(life: Life) -> None:
    last, dialect = life.notes[-1], life.dialect
    theirs = {
        life.stretch: ["I will look at it."],
        life.third: ["Yours?", "Mended, thank you."],
        life.fourth: ["We live with it."],
        life.fifth: ["Two cables fewer."],
        life.sixth: ["Was it deleted on purpose?"],
        life.again: ["This is the same trunking."],
    }
    assert {guid: comments(last, guid, dialect, PERSON) for guid in theirs} == theirs

    found = {guid: root.find("Topic") for guid, root in topics(last).items()}
    assert found[life.stretch].findtext("Priority") == "Critical"
    assert found[life.third].findtext("AssignedTo") == found[life.again].findtext("AssignedTo") == PERSON
    assert found[life.third].findtext("DueDate") == "2024-06-01T00:00:00Z"
    assert found[life.third].findtext("Description") == "Only T-003 matters."
    assert found[life.fifth].findtext("Stage") == "Second fix"
    assert found[life.sixth].findtext("Title") == "T-006: my own title"
    names = {guid: [label.text for label in topics(last)[guid].findall(dialect.labels)] for guid in found}
    assert names[life.stretch][0] == "Done with"
    assert names[life.sixth][0] == "Level 1 works"
    documents = topics(last)[life.stretch].findall(dialect.documents)
    assert ["".join(one.itertext()).strip() for one in documents] == ["sketch.txt"]

    files = unpacked(last)
    assert files["a folder/markup.bcf"] == FOREIGN
    assert files["read me.txt"] == b"of somebody"
    assert files[f"{life.stretch}/sketch.txt"] == b"a sketch"
    assert files[f"{life.sixth}/photo.jpg"] == b"a photo"


def test_statuses_are_right_after_each_revision(life: Life) -> None:
    after = [
        {name: status(notes, getattr(life, name)) for name in names if getattr(life, name) in topics(notes)}
        for notes in life.notes
        for names in [("stretch", "third", "fourth", "fifth", "sixth", "again")]
    ]
    assert after == [
        {"stretch": "Open", "third": "Open", "fourth": "Open", "sixth": "Open"},
        # the third passes; the fourth was closed, but fails; the sixth is gone
        {"stretch": "Open", "third": "Review", "fourth": "Closed", "fifth": "Open", "sixth": "Open"},
        # the stretch passes; the third fails again after it was closed; the fourth isn't known
        {"stretch": "Review", "third": "Closed", "fourth": "Closed", "fifth": "In Progress", "sixth": "Open"},
        # the third is reopened; the fourth is gone, and made anew; the fifth passes; the sixth isn't known
        {"stretch": "Closed", "third": "Open", "fourth": "Closed", "fifth": "Review", "sixth": "Open", "again": "Open"},
        # the stretch fails again after it was closed; what was made anew passes, and so does the sixth
        {
            "stretch": "Closed",
            "third": "Open",
            "fourth": "Closed",
            "fifth": "Review",
            "sixth": "Review",
            "again": "Review",
        },
    ]


def test_each_change_is_told_once_and_in_order(life: Life) -> None:
    last = life.notes[-1]
    told = {
        life.stretch: [
            "T-001, compartment 1: 52.3 % / 45 % → 55 % / 45 %",
            "T-001, compartment 1: passes now (40 % / 45 %), before 55 % / 45 %",
            "It fails again. It was Closed.",
            "Closed, but it fails again. It is not reopened",
        ],
        life.third: [
            "passes now (40 % / 45 %), before 60 % / 45 %",
            "T-003, compartment 1: fails now, 58 % / 45 % (before: pass)",
            "Closed, but it fails again. It is not reopened",
            "Closed, but it still fails. Status set to Open, as this run was asked to.",
            "T-003, compartment 1: fails, 58 % / 45 %",  # its text, which is theirs now, doesn't say what was told last
        ],
        life.fourth: [
            "Closed, but it still fails. It is not reopened",
            "unknown now: no diameter is known of C2",
            "T-004 was made anew there with another GlobalId; see the topic “T-004: 50.0% full”",
        ],
        life.fifth: ["passes now (44 % / 45 %), before 50 % / 45 %"],
        life.sixth: [
            "gone from the model",
            "T-006, compartment 1: fails now, 70 % / 45 % (before: gone)",
            "unknown now",
            "passes now (40 % / 45 %)",
        ],
        life.again: ["passes now (40 % / 45 %), before 50 % / 45 %"],
    }
    for guid, parts in told.items():
        said = comments(last, guid, life.dialect)
        assert [part in text for part, text in zip(parts, said, strict=True)] == [True] * len(parts), said


def test_what_was_made_anew_is_a_topic_of_its_own_related_to_the_old_one(life: Life) -> None:
    assert related(life.notes[-1], life.again, life.dialect) == [life.fourth]
    assert life.again not in topics(life.notes[2])
    assert len(topics(life.notes[-1])) == 7  # the stretch, T-003 to T-006, T-004 made anew, and somebody's own


def test_a_topic_of_which_nothing_changed_is_byte_for_byte_the_same(life: Life) -> None:
    before, after = (unpacked(notes) for notes in life.notes[-2:])

    assert after[f"{life.fifth}/markup.bcf"] == before[f"{life.fifth}/markup.bcf"]
    assert after["a folder/markup.bcf"] == before["a folder/markup.bcf"]
    assert all(after[path] == content for path, content in before.items() if path.endswith((".bcfv", ".png")))


@pytest.mark.corpus
@pytest.mark.skipif(not XSD.is_dir(), reason="the official schemas, ../shared/bcf/xsd, aren't here")
def test_all_topics_are_valid_by_the_official_schema_after_each_revision(life: Life) -> None:
    schema = xmlschema.XMLSchema(XSD / life.dialect.version / "markup.xsd")
    checked_files = 0
    for notes in life.notes:
        for path, content in unpacked(notes).items():
            if path.endswith("/markup.bcf"):
                schema.validate(io.BytesIO(content))
                checked_files += 1
    assert (
        checked_files == 4 + 6 + 6 + 7 + 7
    )  # somebody's own is among them from the second on; T-004 made anew from the fourth
