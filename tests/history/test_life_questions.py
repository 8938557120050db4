"""What becomes of questions to the design team when they are answered, or asked again."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.history.merge import topic_identity
from checker.result.dialect import V2
from checker.result.question_tables import QuestionRow
from checker.result.request_groups import request_groups
from checker.result.requests import request_topics
from checker.result.tables import Result
from tests.history.people import repacked
from tests.history.revisions import (
    OTHER,
    PERSON,
    Revision,
    comments,
    length,
    of_length,
    of_roof,
    run_of,
    says,
    sets,
    sets_status,
    status,
    topics,
    worked,
)
from tests.report.results import MODEL

NOTHING_FAILS = Revision({1: 0.2, 2: 0.2})
MASSES = ("the mass of cable A", "the mass of cable B")


def asking(questions: Sequence[str], previous: bytes | None, revision: Revision = NOTHING_FAILS) -> Result:
    """A result that asks something, with its topics as a check makes them."""
    rows = tuple(
        QuestionRow(rank, text, "circuits.csv", "fill it in", 10 - rank, 10, 10 - rank, keys=(length(1).key,))
        for rank, text in enumerate(questions, start=1)
    )
    result = replace(revision.result(), questions=rows)
    groups = request_groups(result, 10)
    guids = topic_identity(previous, [group.ids for group in groups])
    return replace(result, requests=request_topics(result, groups, guids))


def after(*times: Sequence[str]) -> tuple[bytes, str]:
    """The notes after several checks, and the Guid of the first topic."""
    notes: bytes | None = None
    for questions in times:
        result = asking(questions, notes)
        notes = run_of(result, notes)
        assert run_of(asking(questions, notes), notes) == notes
    assert notes is not None
    (guid,) = topics(run_of(asking(times[0], None)))
    return notes, guid


def test_a_question_that_is_answered_is_told_by_its_words_and_put_up_for_review() -> None:
    notes, guid = after(MASSES, ())

    (said,) = comments(notes, guid)
    assert "the mass of cable A: no longer asked" in said
    assert "the mass of cable B: no longer asked" in said
    assert "Nothing here is asked any more. Status set to Review" in said
    assert status(notes, guid) == "Review"


def test_where_one_is_answered_the_topic_goes_on_with_the_other() -> None:
    notes, guid = after(MASSES, MASSES[1:])

    (said,) = comments(notes, guid)
    assert "the mass of cable A: no longer asked" in said
    assert "cable B" not in said
    assert status(notes, guid) == "Open"
    assert len(topics(notes)) == 1


def test_one_more_question_of_a_kind_joins_its_topic() -> None:
    notes, guid = after(MASSES, (*MASSES, "the mass of cable C"))

    assert ["the mass of cable C: asked now" in said for said in comments(notes, guid)] == [True]
    assert len(topics(notes)) == 1


def test_what_is_asked_again_after_a_review_is_open_again() -> None:
    notes, guid = after(MASSES, (), MASSES)

    assert "It is asked again. Status set back to Open." in comments(notes, guid)[1]
    assert status(notes, guid) == "Open"


def test_what_people_wrote_on_a_question_stays_and_a_closed_one_gets_one_comment() -> None:
    notes, guid = after(MASSES)
    work = {guid: [says("Ask the maker."), sets("AssignedTo", PERSON), sets_status("Closed")]}
    notes = repacked(worked(notes, work, V2))
    notes = run_of(asking(MASSES, notes), notes)

    assert comments(notes, guid, author=PERSON) == ["Ask the maker."]
    assert topics(notes)[guid].findtext("Topic/AssignedTo") == PERSON
    assert comments(notes, guid) == [
        "Closed, but it is still asked. It is not reopened: that is for a person to decide."
    ]


@pytest.mark.parametrize(
    ("of_other", "said"),
    [(1, "not re-checked, since its model was not read"), (3, "not asked now, but not everything was read")],
)
def test_what_is_not_asked_where_not_everything_was_read_is_not_called_answered(of_other: int, said: str) -> None:
    """The question is about T-001; T-003 fails. One of them is in the model that isn't read the second time."""
    files = {"files": (MODEL.name, OTHER), "projects": {MODEL.name: MODEL.ifc_project}}
    first = of_roof(asking(MASSES, None, Revision({1: 0.2, 3: 0.6}, **files)), of_other)
    notes = run_of(first)
    (guid,) = set(topics(notes)) - {of_length(notes, 3)}
    notes = run_of(asking((), notes, Revision({4 - of_other: 0.6 if of_other == 1 else 0.2})), notes)

    assert f"the mass of cable A: {said}" in comments(notes, guid)[0]
    assert status(notes, guid) == "Open"


def test_by_another_code_nothing_is_called_answered() -> None:
    notes = run_of(asking(MASSES, None))
    (guid,) = topics(notes)
    notes = run_of(asking((), notes, replace(NOTHING_FAILS, code="nfpa-70")), notes)

    assert "the mass of cable A: asked by bs-7671; nfpa-70 doesn't ask it" in comments(notes, guid)[0]
    assert status(notes, guid) == "Open"


def test_a_question_of_which_the_text_has_only_the_name_is_told_by_its_words_too() -> None:
    """Of more than fifteen of a kind the note says of the first what they are, and names the others."""
    many = [f"the mass of cable K{number}" for number in range(1, 21)]

    notes, guid = after(many, ())

    said = comments(notes, guid)[0].splitlines()[1:21]
    assert said == [f"{question}: no longer asked" for question in many]


def test_what_is_asked_by_another_code_too_is_the_same_question() -> None:
    notes = run_of(asking(MASSES, None))
    (guid,) = topics(notes)
    notes = run_of(asking(MASSES, notes, replace(NOTHING_FAILS, code="nfpa-70")), notes)

    assert comments(notes, guid) == []
