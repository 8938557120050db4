"""What ``[notes]`` and earlier notes have that can't be gone by, told with the results."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from lxml import etree

from checker.errors import ProjectFileError
from checker.history.merge import topic_identity
from checker.model import Problem, ProblemKind
from checker.noting import never_due, odd_notes, with_statuses
from checker.read.project import read_project
from checker.read.project_notes import NotesSpec
from checker.result.dialect import V2, V3, Dialect
from checker.result.note_words import NoteWords, Statuses
from checker.result.tables import Result
from tests.history.people import PERSON, edited, run, set_status, unpacked
from tests.history.revisions import FAILS, MENDED
from tests.report.html_pages import page
from tests.report.html_pages import said as words_of
from tests.report.results import MODEL

EARLY, LATE = "2024-05-01T08:30:00Z", "2024-05-08T08:30:00Z"
KEY = FAILS.result().project_key


def of_time(result: Result, time: str, model: str | None = None) -> Result:
    """A result of a time, of a model of that time unless another is given."""
    return replace(result, created=time, files=(replace(MODEL, timestamp=model or time),))


def told(notes: bytes, time: str, model: str | None = None) -> list[Problem]:
    return list(odd_notes(notes, "notes/old.bcf", KEY, time, time if model is None else model))


@pytest.mark.parametrize("dialect", [V2, V3])
def test_a_model_that_is_older_than_that_of_the_notes_is_told(dialect: Dialect) -> None:
    notes = run(of_time(FAILS.result(), LATE), None, dialect)

    (problem,) = told(notes, EARLY)

    assert (problem.where, problem.kind) == ("old.bcf, models", ProblemKind.ASSUMPTION)
    assert problem.what == f"the newest model of this run is of {EARLY}, and these notes are of one of {LATE}"
    assert "--previous" in problem.hint


def test_a_model_that_is_as_old_or_newer_or_of_no_known_time_is_no_matter() -> None:
    notes = run(of_time(FAILS.result(), LATE))

    for time in (LATE, "2024-05-08T10:30:00+02:00", "2024-05-08T08:30:01Z", "", "1970-01-01T00:00:00"):
        assert told(notes, time) == [], time


def test_the_time_of_notes_of_no_known_time_is_not_later() -> None:
    assert told(run(of_time(FAILS.result(), "")), EARLY) == []


def test_by_a_time_that_is_given_it_is_told_as_well() -> None:
    notes = run(of_time(FAILS.result(), LATE, model=EARLY))  # with --now a week after the model's own time

    (problem,) = told(notes, "2024-05-07T00:00:00Z", EARLY)

    assert problem.what == f"this run is of 2024-05-07T00:00:00Z, and these notes are of a later one, of {LATE}"
    assert told(notes, LATE, EARLY) == []


def test_a_time_that_is_given_before_that_of_the_same_model_is_no_matter() -> None:
    assert told(run(of_time(FAILS.result(), EARLY, model=LATE)), EARLY, LATE) == []


def test_a_later_run_that_only_added_a_comment_is_told() -> None:
    first = run(of_time(FAILS.result(), EARLY))
    second = run(of_time(MENDED.result(), LATE), first)

    assert [problem.where for problem in told(second, EARLY)] == ["old.bcf, models"]


def test_what_people_wrote_later_says_nothing_of_the_model() -> None:
    """Nor does our comment after theirs, which is dated no earlier than that."""

    def comment(root: etree._Element) -> None:
        element = etree.SubElement(root, "Comment", Guid="3f0a4c1e-0000-4000-8000-000000000001")
        for tag, text in (("Date", "2024-06-01T12:00:00+02:00"), ("Author", PERSON), ("Comment", "Seen.")):
            etree.SubElement(element, tag).text = text

    asked = edited(run(of_time(FAILS.result(), EARLY)), "T-003", comment)
    later = run(of_time(MENDED.result(), LATE), asked)

    assert b"2024-06-01T10:00:00Z" in b"".join(_markups(later)), "our comment has their date"
    assert told(later, LATE) == []


def _markups(notes: bytes) -> list[bytes]:
    return [content for path, content in unpacked(notes).items() if path.endswith("markup.bcf")]


def test_notes_of_another_project_may_be_of_a_later_model() -> None:
    notes = run(of_time(replace(FAILS.result(), project_key="gatehouse"), LATE))

    assert [problem.where for problem in told(notes, EARLY)] == ["old.bcf"]


@pytest.mark.parametrize(
    ("due", "time", "number"),
    [
        (date(2024, 4, 30), "2024-05-01T08:30:00Z", 1),
        (date(2024, 5, 1), "2024-05-01T08:30:00Z", 0),  # due is the end of a day
        (date(2024, 4, 30), "2024-05-01T00:30:00+02:00", 0),  # still the day before by UTC
        (date(2024, 4, 30), "", 0),
    ],
)
def test_a_day_that_is_over_is_told(due: date, time: str, number: int) -> None:
    problems = never_due(NotesSpec(due=due), [replace(MODEL, timestamp=time)], None)

    assert [problem.where for problem in problems] == ["wayroom.toml, [notes] due"] * number
    assert all("it is 2024-04-30, and the run is of 2024-05-01" in problem.why for problem in problems)
    assert never_due(NotesSpec(due=due), [MODEL], "2024-04-01T00:00:00Z") == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[notes]\ndue_days = -3\n", "notes.due_days: it is -3, and must be 0 or more"),
        ("[notes]\ndue_days = 3651\n", "notes.due_days: it is 3651, and must be 3650 or less"),
        ("[project]\nreach_m = 0\n", "project.reach_m: it is 0, and must be more than 0"),
    ],
)
def test_a_number_that_is_too_small_or_large_is_told_in_our_words(tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "wayroom.toml").write_text(text, encoding="utf-8")

    with pytest.raises(ProjectFileError) as caught:
        read_project(tmp_path / "wayroom.toml")

    assert "line 2" in caught.value.where
    assert caught.value.what.startswith(said)


@pytest.mark.parametrize(("dialect", "said"), [(V2, "Closed"), (V3, "Closed"), (V2, "Review"), (V2, "In progress")])
def test_the_page_says_what_people_made_of_a_note_that_still_fails(dialect: Dialect, said: str) -> None:
    """T-003 has a note of its own, which somebody closed or is looking at; that of T-001 and T-002 is open as a new one."""
    notes = edited(run(FAILS.result(), None, dialect), "T-003", set_status(said))
    guids = topic_identity(notes, [topic.members for topic in FAILS.result().topics])
    found = FAILS.result()
    found = replace(found, topics=tuple(replace(one, guid=guid) for one, guid in zip(found.topics, guids, strict=True)))

    result = with_statuses(found, notes, "old.bcf", NoteWords())

    stands = {topic.title.split()[0]: topic.earlier_status for topic in result.topics}
    assert stands == {"T-001:": "", "T-003:": said}
    cards = [words_of(card) for card in page(result).xpath("//section[@id='todo']/ol/li")]
    assert [f"In the earlier issue notes: {said}." in card for card in cards] == ["T-003:" in card for card in cards]
    assert not any("earlier issue notes" in words_of(card) for card in page(found).xpath("//section[@id='todo']/ol/li"))


def test_a_projects_own_word_for_an_open_note_is_not_told() -> None:
    words = NoteWords(statuses=Statuses("Offen", "Prüfen", "Erledigt"))
    result = FAILS.result()

    told_of = with_statuses(result, run(result, None, words=words), "old.bcf", words)

    assert [topic.earlier_status for topic in told_of.topics] == ["", ""]
    assert with_statuses(result, None, "", words) is result
