"""``[notes]`` of the project file."""

from datetime import date
from pathlib import Path

import pytest

from checker.errors import ProjectFileError
from checker.read.project import read_project
from checker.result.note_words import NoteWords, Statuses


def words(tmp_path: Path, text: str) -> NoteWords:
    path = tmp_path / "wayroom.toml"
    path.write_text(text, encoding="utf-8")
    return read_project(path)[0].notes.words


def test_a_project_that_says_nothing_of_notes_has_our_words(tmp_path: Path) -> None:
    assert words(tmp_path, "[project]\n") == NoteWords()


def test_everything_that_may_be_said_is_read_without_space_around_it(tmp_path: Path) -> None:
    text = """[notes]
labels = ["MEP ", "MEP", "Stage 4"]
stage = "Detailed design "
stages = ["Concept"]
people = ["b@example.org"]
due = 2027-06-30
[notes.status]
open = " Offen"
closed = "Erledigt"
[notes.priority]
high = "1"
[notes.types]
fill = "Clash"
"grouping.rating" = "Remark "
[notes.assigned]
fill = " a@example.org"
other = "c@example.org"
"""

    assert words(tmp_path, text) == NoteWords(
        statuses=Statuses("Offen", "Review", "Erledigt"),
        types={"fill": "Clash", "grouping.rating": "Remark"},
        priorities={"High": "1"},
        labels=("MEP", "Stage 4"),
        stage="Detailed design",
        stages=("Concept",),
        assigned={"fill": "a@example.org", "other": "c@example.org"},
        people=("b@example.org",),
        due=date(2027, 6, 30),
    )


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ('[notes]\ncolour = "red"\n', 2, "notes.colour: there is no such key"),
        ('[notes]\nlabels = "MEP"\n', 2, "notes.labels: it must be a list"),
        ("[notes]\ndue_days = 1.5\n", 2, "notes.due_days: it must be a whole number"),
        ("[notes]\ndue_days = -1\n", 2, "notes.due_days"),
        ('[notes]\ndue = "soon"\n', 2, "notes.due: it must be a day, as 2027-06-30, without quotes"),
        ("[notes]\ndue = 1814313600\n", 2, "notes.due: it must be a day, as 2027-06-30, without quotes"),
        ("[notes]\ndue = 2027-06-30T00:00:00Z\n", 2, "notes.due: it must be a day, as 2027-06-30, without a time"),
        ("[notes]\ndue = 2027-06-30\ndue_days = 3\n", 1, "give either due or due_days"),
        ('[notes.status]\nopen = "Closed"\n', 1, "three different words"),
        ('[notes.status]\nopen = "closed "\n', 1, "three different words"),
        ('[notes.status]\nreview = " "\n', 2, "notes.status.review: it is empty"),
        ('[notes.assigned]\nfill = ""\n', 2, "notes.assigned.fill: it is empty"),
        ('[notes.priority]\nlow = "3"\n', 2, "notes.priority.low: there is no such key"),
        # what XML can't hold would be written as another word than it is, or as none
        ('[notes.status]\nopen = "\\u0001\\u0000"\n', 2, "notes.status.open: it has control characters"),
        ('[notes.status]\nreview = "Re\\u0000view"\n', 2, "notes.status.review: it has control characters"),
        ('[notes]\nstage = "\\u007f"\n', 2, "notes.stage: it has control characters"),
        ('[notes]\nlabels = ["a\\nb"]\n', 2, "it has control characters or line ends"),
        ('[notes]\nstage = "a\\u2028b"\n', 2, "notes.stage: it has control characters or line ends"),
        ('[notes]\nstage = "a\\u2029b"\n', 2, "notes.stage: it has control characters or line ends"),
        ('[notes.types]\nfill = "\\u200b\\u200f"\n', 2, "notes.types.fill: nothing of it can be seen"),
    ],
)
def test_a_wrong_word_is_told_with_its_line(tmp_path: Path, text: str, line: int, said: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        words(tmp_path, text)

    assert f"line {line}" in caught.value.where
    assert said in caught.value.what
