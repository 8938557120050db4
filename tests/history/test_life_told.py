"""What comments say: what is new in a topic, what was opened again, of which revision it is, and what isn't known of one alone."""

from dataclasses import replace

import pytest

from checker.history.previous import read_previous
from checker.result.dialect import V2, V3, Dialect
from checker.result.tables import Result
from tests.history.revisions import (
    FAILS,
    MENDED,
    Revision,
    checked,
    comments,
    labels,
    of_length,
    run_of,
    sets,
    sets_status,
    status,
    topics,
    worked,
    zipped,
)

LATER = "2024-05-08T08:30:00Z"
BOTH = pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)


def closed(notes: bytes, dialect: Dialect = V2, word: str = "Closed") -> bytes:
    """The notes after a person closed the topic of T-003."""
    return zipped(worked(notes, {of_length(notes, 3): [sets_status(word)]}, dialect))


def said(notes: bytes, dialect: Dialect = V2) -> list[str]:
    """Our comments on T-003."""
    return comments(notes, of_length(notes, 3), dialect)


@BOTH
def test_what_was_closed_when_it_passed_and_fails_again_is_reopened_in_one_comment(dialect: Dialect) -> None:
    notes = closed(checked(MENDED, checked(FAILS, None, dialect), dialect), dialect)
    after = checked(FAILS, notes, dialect, reopen=True)

    assert status(after, of_length(after, 3)) == "Open"
    (_, again) = said(after, dialect)
    assert "T-003, compartment 1: fails now, 60 % / 45 % (before: pass)" in again
    assert "Closed, but it fails again. Status set to Open, as this run was asked to." in again


def test_what_is_closed_and_reopened_time_and_again_is_told_each_time() -> None:
    """Passing and failing by turns, closed in between: two comments a turn, and none of them is taken for one of before."""
    notes = checked(FAILS)
    for turn in range(1, 4):
        notes = checked(FAILS, closed(checked(MENDED, notes)), reopen=True)
        assert len(said(notes)) == 2 * turn
        assert status(notes, of_length(notes, 3)) == "Open"

    # closed while it fails: told once, then opened in a comment of its own, since nothing has changed besides
    still = checked(FAILS, closed(notes))
    assert said(still)[6:] == ["Closed, but it still fails. It is not reopened: that is for a person to decide."]
    opened = checked(FAILS, still, reopen=True)
    assert said(opened)[7:] == ["Closed, but it still fails. Status set to Open, as this run was asked to."]


def test_a_change_that_comes_again_after_it_was_undone_in_a_reopening_is_told_again() -> None:
    """60 % → 70 %; back to 60 % in the run that opens it; closed again, and 70 % once more."""
    fuller = replace(FAILS, fills=dict(FAILS.fills) | {3: 0.7})
    notes = checked(FAILS, closed(checked(fuller, checked(FAILS))), reopen=True)
    after = checked(fuller, closed(notes))

    assert ["60 % / 45 % → 70 % / 45 %" in text for text in said(after)] == [True, False, True, False]
    assert "70 % / 45 % → 60 % / 45 %" in said(after)[1]


def test_a_member_that_joins_an_old_topic_is_told_to_be_new_in_it() -> None:
    grown = replace(FAILS, fills=dict(FAILS.fills) | {4: 0.517}, together=(1, 2, 4))
    after = checked(grown, checked(FAILS))

    (text,) = comments(after, of_length(after, 4))
    assert text.splitlines()[1:] == ["T-004, compartment 1, new here: fails, 51.7 % / 45 %"]


def issued(revision: Revision, issue: str = "") -> Result:
    return replace(revision.result(), revision=issue)


@pytest.mark.parametrize(
    ("issue", "as_of"), [("P02", " (the model is of 2024-05-01T08:30:00Z, revision P02)"), ("", "")]
)
def test_what_was_closed_but_fails_says_of_which_revision_if_the_project_names_one(issue: str, as_of: str) -> None:
    notes = closed(run_of(issued(FAILS, "P01")))
    after = run_of(issued(FAILS, issue), notes)
    assert said(after) == [f"Closed, but it still fails{as_of}. It is not reopened: that is for a person to decide."]
    opened = run_of(issued(FAILS, issue), notes, reopen=True)
    assert said(opened) == [f"Closed, but it still fails{as_of}. Status set to Open, as this run was asked to."]


def test_of_one_alone_that_is_gone_or_unknown_it_is_said_that_it_isn_t_known_to_be_mended() -> None:
    for fills in ({1: 0.523, 2: 0.481, 4: 0.3}, {1: 0.523, 2: 0.481, 3: None, 4: 0.3}):
        after = checked(replace(FAILS, fills=fills), checked(FAILS))
        assert said(after)[-1].splitlines()[-1] == "It isn't known to be mended: the status stays as it was."
    both = checked(replace(FAILS, fills={3: 0.6, 4: 0.3}), checked(FAILS))
    (text,) = comments(both, of_length(both, 1))
    assert text.splitlines()[-1] == "Not everything here is known to be mended: the status stays as it was."


@BOTH
def test_words_that_the_extensions_do_not_list_are_no_fault_and_stay(dialect: Dialect) -> None:
    """A person's words of every kind, none of which any list has. The status counts as somebody's decision; what we set goes on."""
    first = checked(FAILS, None, dialect)
    stretch, third = of_length(first, 1), of_length(first, 3)
    theirs = [sets("Priority", "P0 – today"), sets("Stage", "Second fix"), labels("Riser 3")]
    work = {
        stretch: [*theirs, lambda root, _: root.find("Topic").set("TopicType", "Snag"), sets_status("Parked")],
        third: theirs,
    }
    notes = zipped(worked(first, work, dialect))
    assert read_previous(notes).problems == []

    second = checked(replace(MENDED, fills={1: 0.55, 2: 0.481, 3: 0.4}, created=LATER), notes, dialect)
    third_run = checked(replace(FAILS, created="2024-05-15T08:30:00Z"), second, dialect)
    for after, expected in ((second, "Review"), (third_run, "Open")):
        assert (status(after, stretch), status(after, third)) == ("Parked", expected)
        assert read_previous(after).problems == []
        for guid in (stretch, third):
            root = topics(after)[guid]
            assert [root.findtext(f"Topic/{tag}") for tag in ("Priority", "Stage")] == ["P0 – today", "Second fix"]
            assert root.findall(dialect.labels)[0].text == "Riser 3"
        assert topics(after)[stretch].find("Topic").get("TopicType") == "Snag"
