"""What becomes of the question whether two carriers are meant to meet."""

from collections.abc import Sequence
from dataclasses import replace

from checker.history.merge import topic_identity
from checker.result.network_tables import BreakRow, NearMissRow
from checker.result.question_tables import QuestionRow
from checker.result.request_groups import request_groups
from checker.result.requests import request_topics
from checker.result.tables import Result
from tests.history.revisions import Revision, comments, length, run_of, status, topics

AT = (0.0, 0.0, 0.0)


def missing(names: Sequence[str], previous: bytes | None, ways: Sequence[str] = ()) -> Result:
    """A result in which a carrier nearly meets others, with its topics as a check makes them; and perhaps circuits whose ways are asked."""
    rows = tuple(
        NearMissRow(length(1).key, f"key {name}", ("T-001", name), "their ends are 60 mm apart", 60.0, AT)
        for name in names
    )
    breaks = tuple(BreakRow(length(1).key, f"key {names[0]}", 60.0, AT, AT, 1, 1, tuple(ways)) for _ in ways[:1])
    asked = tuple(
        QuestionRow(rank, f"the way of circuit {mark}", "schedule", "give it", 1, rank, 1)
        for rank, mark in enumerate(ways, start=1)
    )
    result = replace(Revision({1: 0.2}).result(), near_misses=rows, breaks=breaks, questions=asked)
    groups = request_groups(result, 10)
    guids = topic_identity(previous, [group.ids for group in groups])
    return replace(result, requests=request_topics(result, groups, guids))


def test_a_gap_that_is_closed_is_put_up_for_review_and_one_that_is_left_stays_asked() -> None:
    first = run_of(missing(["T-002", "T-003"], None))
    (guid,) = topics(first)
    second = run_of(missing(["T-003"], first), first)
    assert run_of(missing(["T-003"], second), second) == second
    (said,) = comments(second, guid)
    assert "whether these are meant to meet: T-001 / T-002: no longer asked" in said
    assert "T-003: no longer asked" not in said
    assert status(second, guid) == "Open"
    third = run_of(missing([], second), second)
    assert status(third, guid) == "Review"


def test_a_gap_that_another_question_tells_of_isn_t_told_to_be_answered() -> None:
    first = run_of(missing(["T-002"], None))
    (guid,) = topics(first)
    second = run_of(missing(["T-002"], first, ways=["C1"]), first)
    assert len(topics(second)) == 2
    assert status(second, guid) == "Open"
    assert not any("no longer asked" in said for said in comments(second, guid))
    assert "T-001 / T-002" in str(topics(second)[guid].findtext("Topic/Title"))
