"""The panel of questions in a browser."""

from dataclasses import replace

import pytest

from checker.result.question_tables import QuestionRow
from tests.browser.opened import Opened
from tests.report.results import small_result

pytestmark = pytest.mark.browser

ROWS = tuple(
    QuestionRow(
        rank, f"the usable depth of type 'A long name of a type of carrier, number {rank}'", f"wayroom.toml, [[types]], entry {rank}",
        "side height less the base, or less the rungs", 3, 3 * rank, 5, ("fill.tray",), 1, 5, tuple(f"T-{n}/1" for n in range(4)),
    )
    for rank in range(1, 13)
)  # fmt: skip


def test_the_contents_lead_to_the_questions_and_the_first_ten_are_shown(opened: Opened) -> None:
    opened.open(replace(small_result(), questions=ROWS))

    opened.run("document.querySelector('a[href=\"#questions\"]').click()")

    assert opened.run("return location.hash") == "#questions"
    shown = opened.run(
        "return [...document.querySelectorAll('#questions tbody tr')].map((row) => row.cells[4].innerText)"
    )
    assert shown == [f"{3 * rank} of 36" for rank in range(1, 11)]


def test_the_questions_go_into_a_narrow_screen(opened: Opened) -> None:
    opened.look(360)
    opened.open(replace(small_result(), questions=ROWS))

    assert opened.run("return document.documentElement.scrollWidth") <= 360
