"""No reason prints a figure that reads as on the other side of its limit."""

import pytest

from checker.fit import Question, answer
from checker.rule import Basis, Limit
from checker.rule.plugins import code_of, load_plugins
from rules.fill.tray_checks import Check

PLUGINS = load_plugins()


@pytest.mark.parametrize(
    ("diameter_mm", "words"),
    [
        (75.6, "44.9 %, within 45 %"),  # π/4 · 75.6² = 4488.8 mm² of 10,000
        (75.693, "45.0 %, within 45 %"),  # 4499.9
        (75.695, "45.001 %, over 45 %"),  # 4500.13
        (75.7, "45.01 %, over 45 %"),  # 4500.7
        (76.0, "45.4 %, over 45 %"),  # 4536.5
    ],
)
def test_a_fill_by_area_reads_as_it_is_judged(diameter_mm: float, words: str) -> None:
    asked = Question(code_of(PLUGINS, "bs-7671"), inside="100x100", cables=(f"{diameter_mm}mm=1",))
    assert answer(asked, PLUGINS).verdict.reason.endswith(words)


def test_a_fill_by_number_reads_as_it_is_judged() -> None:
    # 2 · 36.5148² + 36.52² = 2666.66 + 1333.71 = 4000.37 of 100² = 10,000, and sizes that differ aren't rounded up
    cables = ("36.5148mm=2", "36.52mm=1")
    asked = Question(code_of(PLUGINS, "nfpa-70"), bore="100", cables=cables, length_m=5.0, bends=0.0)
    assert answer(asked, PLUGINS).verdict.reason.endswith("40.004 %, over 40 % for 3")


def test_two_that_are_too_wide_together_read_so() -> None:
    # 8.42 + 8.42 = 16.84 > 16.8, though they take 2 · 8.42² / 16.8² = 50.2 % of it, where 60 % are allowed in a short run
    asked = Question(
        code_of(PLUGINS, "nfpa-70"),
        bore="16.8",
        cables=("8.42mm=2",),
        length_m=0.3,
        bends=0.0,
    )
    said = answer(asked, PLUGINS).verdict
    assert said.outcome.value == "fail"
    assert said.reason == "two cables of 8.42 and 8.42 mm are wider together than the bore of 16.80 mm"


def test_a_limit_of_a_tray_and_what_is_used_read_as_they_are_judged() -> None:
    limit = Limit(value=1.0, basis=Basis.REQUIREMENT, source="test", confidence="high")
    over = Check("side by side", 300.02, 300.02, 300.0, 300.0, is_area=False, limit=limit)
    assert over.told() == "side by side: 300.02 mm, over 300.00 mm"
    at = Check("side by side", 300.0, 300.0, 300.0, 300.0, is_area=False, limit=limit)
    assert at.told() == "side by side: 300.0 mm, within 300.0 mm"
