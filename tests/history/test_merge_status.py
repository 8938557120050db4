"""Who may move a topic's status: people close and reopen; we only ask for a review, and take that back."""

import pytest

from tests.history.people import again, comments, edited, run, set_status, status
from tests.report.results import small_result

FIRST = small_result()
MENDED = small_result((0.4, 0.4, 0.31, 0.6, 0.12, 0.4))
LINE, DIVIDED = "T-001", "T-003"


def test_what_passes_now_is_put_up_for_review() -> None:
    after = again(MENDED, run(FIRST))

    assert status(after, LINE) == "Review"
    (said,) = comments(after, LINE)
    assert "T-001, compartment 1: passes now (40 % / 45 %)" in said
    assert "T-002, compartment 1: passes now" in said
    assert status(after, DIVIDED) == "Open"


def test_a_person_s_status_after_the_review_stays() -> None:
    reviewed = run(MENDED, run(FIRST))

    for word in ("Closed", "Open"):
        assert status(again(MENDED, edited(reviewed, LINE, set_status(word))), LINE) == word


def test_what_passes_now_stays_closed_where_a_person_closed_it() -> None:
    after = again(MENDED, edited(run(FIRST), LINE, set_status("Closed")))

    assert status(after, LINE) == "Closed"
    assert len(comments(after, LINE)) == 1


def test_what_fails_again_after_a_review_is_open_again() -> None:
    after = again(FIRST, run(MENDED, run(FIRST)))

    assert status(after, LINE) == "Open"
    assert "fails again" in comments(after, LINE)[-1]


def test_a_review_that_a_person_asked_for_is_not_taken_back() -> None:
    fuller = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))

    after = again(fuller, edited(run(FIRST), LINE, set_status("Review")))

    assert status(after, LINE) == "Review"
    assert len(comments(after, LINE)) == 1


def test_what_fails_again_after_it_was_closed_is_not_reopened() -> None:
    closed = edited(run(MENDED, run(FIRST)), LINE, set_status("Closed"))

    after = again(FIRST, closed)

    assert status(after, LINE) == "Closed"
    assert any("not reopened" in said for said in comments(after, LINE))


@pytest.mark.parametrize("word", ["Closed", "Won't do"])
def test_what_is_closed_but_still_fails_gets_one_comment(word: str) -> None:
    after = again(FIRST, edited(run(FIRST), LINE, set_status(word)))

    assert status(after, LINE) == word
    assert len(comments(after, LINE)) == 1
    assert "still fails" in comments(after, LINE)[0]


@pytest.mark.parametrize("word", ["In Progress", "ReOpened"])
def test_a_status_of_somebody_at_work_is_not_a_closed_one(word: str) -> None:
    after = again(FIRST, edited(run(FIRST), LINE, set_status(word)))

    assert status(after, LINE) == word
    assert comments(after, LINE) == []
