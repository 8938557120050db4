"""The words of a project's notes."""

from datetime import date

import pytest

from checker.result.note_words import NoteWords


@pytest.mark.parametrize(
    ("rule", "kind", "who"),
    [
        ("fill.conduit", "Tight", "c@example.org"),  # the rule itself comes first
        ("fill.compartment", "Clash", "a@example.org"),  # then its family
        ("grouping.rating", "Rating", "z@example.org"),  # then our own word, and whoever is for the rest
        ("somebody.else", "Other", "z@example.org"),
    ],
)
def test_a_type_and_who_answers_go_by_rule_then_family_then_the_rest(rule: str, kind: str, who: str) -> None:
    words = NoteWords(
        types={"fill.conduit": "Tight", "fill": "Clash", "other": "Other"},
        assigned={"fill.conduit": "c@example.org", "fill": "a@example.org", "other": "z@example.org"},
    )

    assert words.type_of(rule) == kind
    assert words.assigned_to(rule) == who


def test_without_words_of_its_own_nobody_is_named_and_nothing_is_due() -> None:
    words = NoteWords()

    assert words.type_of("question.way") == "Request"
    assert words.assigned_to("fill.compartment") == ""
    assert words.due_time("2024-05-01T08:30:00Z") is None
    assert words.priority("High") == "High"


def test_what_is_due_on_a_day_is_so_at_its_end() -> None:
    assert NoteWords(due=date(2027, 6, 30)).due_time("") == "2027-06-30T23:59:59Z"


@pytest.mark.parametrize(
    ("created", "due"),
    [
        ("2024-02-27T08:30:00Z", "2024-03-01T23:59:59Z"),  # three days on, over the 29th of a leap year
        ("2024-02-27T23:30:00-01:00", "2024-03-02T23:59:59Z"),  # that is the 28th in UTC
        ("1980-01-01T00:00:00Z", None),  # stands for no time
        ("", None),
        ("9999-12-30T00:00:00Z", None),  # beyond the last day there is
    ],
)
def test_days_count_from_the_time_of_the_run(created: str, due: str | None) -> None:
    assert NoteWords(due_days=3).due_time(created) == due
