"""Notes of several projects: whose a topic is, and which project it is where nothing else says so; and topics whose ids people moved."""

from dataclasses import replace

import pytest

from checker.history.merge import topic_identity
from checker.history.project_key import earlier_key
from checker.model import Problem
from checker.noting import odd_notes
from checker.result.dialect import V2, V3, Dialect
from checker.result.guids import stable_guid
from checker.result.note_state import split_text
from checker.result.tables import Result
from tests.history.people import repacked, run, unpacked
from tests.history.revisions import (
    FAILS,
    MENDED,
    OTHER,
    Revision,
    checked,
    comments,
    of_length,
    of_roof,
    sets,
    topics,
    worked,
)
from tests.report.results import MODEL


def of_project(result: Result, key: str) -> Result:
    """The same building as another project: its findings have other ids."""
    ids = {row.id: stable_guid(key, row.id) for row in result.findings}

    def named(text: str) -> str:
        for old, new in ids.items():
            text = text.replace(old, new)
        return text

    made = tuple(
        replace(one, description=named(one.description), members=tuple(map(named, one.members)), worst=ids[one.worst])
        for one in result.topics
    )
    findings = tuple(replace(row, id=ids[row.id]) for row in result.findings)
    return replace(result, project_key=key, findings=findings, topics=made)


@pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)
def test_topics_of_another_project_stay_byte_for_byte_and_hold_nothing_up(dialect: Dialect) -> None:
    """A coordinator has put the notes of two buildings, with models of other names, into one file."""
    theirs = replace(FAILS, files=("gatehouse.ifc",), projects={"gatehouse.ifc": "1Zu5Bv0LOHrPC10026FoQQ"})
    other = run(of_project(theirs.result(), "gatehouse"), None, dialect)
    ours = checked(FAILS, None, dialect)
    third = of_length(ours, 3)
    before = unpacked(other)

    later = checked(MENDED, repacked(before | unpacked(ours)), dialect)

    after = unpacked(later)
    kept = [path for path in before if path.endswith("/markup.bcf")]
    assert len(kept) == 2
    assert {path: after[path] for path in kept} == {path: before[path] for path in kept}
    assert topics(later)[third].find("Topic").get("TopicStatus") == "Review"


def test_topics_of_another_project_are_told() -> None:
    other = run(of_project(FAILS.result(), "gatehouse"))

    assert odd_notes(other, "notes/old.bcf", "gatehouse") == []
    (told,) = odd_notes(other, "notes/old.bcf", "plant-room")
    assert isinstance(told, Problem)
    assert (told.where, told.what, told.elements) == ("old.bcf", "2 of its topics are of another project", 2)
    assert "plant-room" in told.why
    assert 'put the earlier one back: key = "gatehouse" under [project]' in told.hint


def test_the_key_of_a_project_without_a_file_is_that_of_its_earlier_notes() -> None:
    """They are of two models. The one that gave the key is left out, or named second."""
    roof = "1Zu5Bv0LOHrPC10026FoQQ"
    two = replace(FAILS, files=(MODEL.name, OTHER), projects={MODEL.name: MODEL.ifc_project, OTHER: roof})
    result = of_project(of_roof(two.result(), 3), MODEL.ifc_project)
    notes = run(result)

    assert earlier_key(notes, roof, {roof}) == MODEL.ifc_project
    assert earlier_key(notes, roof, {roof, MODEL.ifc_project}) == MODEL.ifc_project
    assert earlier_key(notes, MODEL.ifc_project, {MODEL.ifc_project}) == MODEL.ifc_project
    assert earlier_key(notes, "0Zu5Bv0LOHrPC10026FoQQ", {"0Zu5Bv0LOHrPC10026FoQQ"}) == "0Zu5Bv0LOHrPC10026FoQQ"


def test_of_several_projects_in_earlier_notes_it_is_the_one_that_it_would_be_without_them() -> None:
    roof = "1Zu5Bv0LOHrPC10026FoQQ"
    ours = run(of_project(FAILS.result(), MODEL.ifc_project))
    theirs = run(of_project(replace(FAILS, files=(OTHER,), projects={OTHER: roof}).result(), roof))
    both = repacked(unpacked(theirs) | unpacked(ours))

    for default in (roof, MODEL.ifc_project):
        assert earlier_key(both, default, {roof, MODEL.ifc_project}) == default


def test_the_key_of_earlier_notes_counts_though_none_of_their_topics_is_of_the_model_that_gave_it() -> None:
    roof = "1Zu5Bv0LOHrPC10026FoQQ"
    of_the_roof = of_project(replace(FAILS, files=(OTHER,), projects={OTHER: roof}).result(), "a key of a project file")

    assert earlier_key(run(of_the_roof), roof, {roof}) == "a key of a project file"
    assert earlier_key(run(of_project(FAILS.result(), roof)), roof, {roof}) == roof


def test_ids_that_a_person_quotes_before_ours_are_not_taken_for_ours() -> None:
    first = checked(FAILS)
    third, stretch = of_length(first, 3), of_length(first, 1)
    (quoted,) = split_text(topics(first)[third].findtext("Topic/Description")).state.values
    text = f"The same as wayroom: {quoted}\nor not?\n" + topics(first)[stretch].findtext("Topic/Description")
    notes = repacked(worked(first, {stretch: [sets("Description", text)]}, V2))

    later = checked(FAILS, notes)

    assert comments(later, stretch) == comments(later, third) == []
    assert topics(later)[stretch].findtext("Topic/Description") == text
    assert len(topics(later)) == len(topics(first)) == 2


@pytest.mark.parametrize("number", [0, 1])
def test_a_topic_whose_ids_were_removed_is_known_by_the_finding_that_its_guid_was_made_of(number: int) -> None:
    """The topic was made for one length; then the other joined it. One of the two has the smaller id."""
    alone, other = ((1, 2), (2, 1))[number]
    first = checked(Revision({alone: 0.5, 3: 0.6}))
    guid = of_length(first, alone)
    notes = repacked(worked(first, {guid: [sets("Description", "Mine.")]}, V2))

    later = checked(Revision({alone: 0.5, other: 0.5, 3: 0.6}), notes)

    assert len(topics(later)) == 2
    assert topics(later)[guid].findtext("Topic/Description") == "Mine."


def test_identity_is_asked_of_the_same_notes_twice_with_the_same_answer() -> None:
    notes = checked(FAILS)
    groups = [topic.members for topic in FAILS.result().topics]

    assert topic_identity(notes, groups) == topic_identity(notes, groups)
    assert sorted(topic_identity(notes, groups)) == sorted(topics(notes))
