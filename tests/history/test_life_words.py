"""A project that calls its statuses otherwise from one run to the next: what we set is still ours, what a person set is still theirs."""

import re
from dataclasses import replace

import pytest

from checker.result.dialect import V2
from checker.result.note_words import NoteWords, Statuses
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
    run_of,
    sets_status,
    status,
    worked,
)
from tests.report.results import MODEL

OURS = NoteWords()
THEIRS = NoteWords(Statuses("Offen", "Zu prüfen", "Erledigt"))


def lived(*steps: tuple[Revision, NoteWords], by_person: str = "") -> tuple[str, list[str]]:
    """The status and our comments of T-003 after runs with a project's words; before the last a person may set its status."""
    notes = None
    for number, (revision, words) in enumerate(steps, start=1):
        if by_person and notes is not None and number == len(steps):
            notes = repacked(worked(notes, {of_length(notes, 3): [sets_status(by_person)]}, V2))
        notes = run(revision.result(), notes, V2, words)
        assert run(revision.result(), notes, V2, words) == notes
    assert notes is not None
    guid = of_length(notes, 3)
    return status(notes, guid), comments(notes, guid)


@pytest.mark.parametrize(("before", "now"), [(OURS, THEIRS), (THEIRS, OURS)], ids=["from ours", "to ours"])
def test_a_review_that_we_asked_for_in_other_words_is_taken_back_where_it_fails_again(
    before: NoteWords, now: NoteWords
) -> None:
    state, said = lived((FAILS, before), (MENDED, before), (FAILS, now))

    assert state == now.statuses.open
    assert len(said) == 2
    assert f"Status set back to {now.statuses.open}." in said[1]


@pytest.mark.parametrize(("before", "now"), [(OURS, THEIRS), (THEIRS, OURS)], ids=["from ours", "to ours"])
def test_an_open_topic_that_nobody_has_touched_is_no_closed_one_by_other_words(
    before: NoteWords, now: NoteWords
) -> None:
    assert lived((FAILS, before), (FAILS, now)) == (before.statuses.open, [])


def test_what_passes_is_put_up_for_review_in_the_words_of_today() -> None:
    state, (said,) = lived((FAILS, THEIRS), (MENDED, OURS))

    assert state == "Review"
    assert "Status set to Review" in said


def test_what_a_person_set_is_theirs_by_any_words() -> None:
    state, said = lived((FAILS, THEIRS), (FAILS, OURS), by_person="Erledigt")

    assert state == "Erledigt"
    assert ["Erledigt, but it still fails. It is not reopened" in one for one in said] == [True]


def test_what_a_person_closed_after_the_review_isn_t_taken_back() -> None:
    state, said = lived((FAILS, OURS), (MENDED, OURS), (FAILS, THEIRS), by_person="Done")

    assert state == "Done"
    assert "set back" not in "".join(said)


def test_a_review_is_taken_back_though_the_run_in_between_could_not_tell() -> None:
    """It passed; then a model was missing, so that it passed only as far as was read; now it fails."""
    two = {MODEL.name: MODEL.ifc_project, OTHER: "1Zu5Bv0LOHrPC10026FoQQ"}

    def whole(revision: Revision) -> Result:
        return of_roof(of_roof(replace(revision, files=(MODEL.name, OTHER), projects=two).result(), 1), 2)

    notes = run_of(whole(FAILS))
    third = of_length(notes, 3)
    less = checked(Revision({3: 0.4, 4: 0.3}), run_of(whole(MENDED), notes))
    assert status(less, third) == "Review"
    assert "not everything was read" in comments(less, third)[-1]

    assert status(run_of(whole(FAILS), less), third) == "Open"


def test_a_review_is_taken_back_where_what_fails_again_is_waived() -> None:
    notes = checked(MENDED, checked(FAILS))
    later = checked(replace(FAILS, waived=(3,)), notes)
    third = of_length(later, 3)

    assert status(later, third) == "Open"
    assert "What is waived is not mended. Status set back to Open." in comments(later, third)[-1]


def test_notes_of_before_statuses_had_a_seal_are_gone_on_with() -> None:
    review = checked(MENDED, checked(FAILS))
    third = of_length(review, 3)
    files = unpacked(review)
    path = f"{third}/markup.bcf"
    files[path], times = re.subn(rb"(/[0-9a-f]{12})/[0-9a-f]{12}/[0-9a-f]{12}</Desc", rb"\1</Desc", files[path])
    assert times == 1

    later = checked(FAILS, repacked(files))

    assert status(later, third) == "Open"
    assert "It fails again. Status set back to Open." in comments(later, third)[-1]
