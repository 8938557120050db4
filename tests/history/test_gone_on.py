"""What a run says of the notes that it went on with: counts that add up, and what they are of."""

from dataclasses import replace

import pytest

from checker.history.merge import merged_files
from checker.result.dialect import V2
from checker.result.gone_on import GoneOn
from tests.history.people import noted, unpacked
from tests.history.revisions import Revision, checked, of_length, sets_status, worked, zipped
from tests.history.test_life import FOREIGN

#: Over 45 % fails, each length is a topic of its own; T-006 passes at first.
FIRST = Revision({1: 0.5, 2: 0.5, 3: 0.5, 4: 0.5, 5: 0.5, 6: 0.4}, together=())
#: T-001 as before, T-002 fuller, T-003 passes, T-004 as before, T-005 passes, T-006 fails.
SECOND = replace(FIRST, fills={1: 0.5, 2: 0.6, 3: 0.4, 4: 0.5, 5: 0.4, 6: 0.5})
#: T-003 fails again.
THIRD = replace(SECOND, fills=dict(SECOND.fills) | {3: 0.5})


def gone_on(revision: Revision, previous: bytes, *, reopen: bool = False) -> GoneOn:
    """What a run tells, having made sure that it adds up to what it wrote and to what it raises."""
    draft, facts = noted(revision.result(), previous)
    found = merged_files(previous, draft, facts, "notes.bcf", reopen=reopen)
    told = found.gone_on
    assert sum(path.endswith("/markup.bcf") for path in found.files) == told.topics + told.new
    assert len(draft.notes) == told.still + told.new
    assert told.still <= told.ours <= told.topics
    assert told.to_review + told.set_back + told.reopened <= told.commented
    return told


def first() -> bytes:
    """The first run's notes; T-004 and T-005 are closed by people, and one topic of theirs is among them."""
    notes = checked(FIRST)
    work = {of_length(notes, number): [sets_status("Closed")] for number in (4, 5)}
    return zipped(worked(notes, work, V2, {"a folder/markup.bcf": FOREIGN}))


def test_each_thing_that_became_of_a_topic_is_counted_once() -> None:
    """Comments on T-002 (another figure), T-003 and T-005 (pass), T-004 (closed, but it fails); T-005 is closed, so it stays that."""
    assert gone_on(SECOND, first()) == GoneOn(
        "notes.bcf", topics=6, ours=5, still=3, commented=4, to_review=1, closed_failing=1, new=1
    )


def test_what_is_set_back_or_reopened_is_told_apart() -> None:
    """T-003 is back from its review and T-004 is opened; T-006 has its topic by now."""
    second = checked(SECOND, first())

    told = gone_on(THIRD, second, reopen=True)

    assert told == GoneOn("notes.bcf", topics=7, ours=6, still=5, commented=2, set_back=1, reopened=1)
    assert told.told == (
        "Went on with notes.bcf: 6 of its 7 topics are ours, 5 of them raised again; 2 got a comment, 1 set back from review, 1 reopened."
    )


def test_a_run_that_changes_nothing_says_so_and_who_closed_what_fails() -> None:
    told = gone_on(SECOND, checked(SECOND, first()))

    assert told == GoneOn("notes.bcf", topics=7, ours=6, still=4, closed_failing=1)
    assert told.told == (
        "Went on with notes.bcf: 6 of its 7 topics are ours, 4 of them raised again; nothing new to say; 1 that people closed still fails."
    )


@pytest.mark.parametrize(("status", "expected"), [("Review", 0), ("In Progress", 1)])
def test_a_review_that_a_person_asked_for_is_not_counted_as_ours(status: str, expected: int) -> None:
    notes = checked(FIRST)
    own = zipped(worked(notes, {of_length(notes, 3): [sets_status(status)]}, V2))

    assert gone_on(replace(FIRST, fills=dict(FIRST.fills) | {3: 0.4}), own).to_review == expected
    assert unpacked(own).keys() == unpacked(notes).keys()
