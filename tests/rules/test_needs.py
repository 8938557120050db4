"""Whatever our rules ask for, there is a place where the answer is given, and how is said."""

from pathlib import Path

import pytest

from checker.rule.needs import answered_in
from checker.testing import answer_of, limits_of, read_cases

CASES = [case for path in sorted((Path(__file__).parent / "cases").glob("*.toml")) for case in read_cases(path)]
ASKED = sorted({(need, case.rule) for case in CASES for need in answer_of(case, limits_of(case)).needs})


def test_the_cases_of_most_rules_have_questions() -> None:
    """The others answer unknown only where nothing settles it, or never."""
    assert len({rule for _, rule in ASKED}) >= 12


@pytest.mark.parametrize(("need", "rule"), ASKED)
def test_a_question_of_a_rule_has_a_place_for_its_answer_and_a_hint(need: str, rule: str) -> None:
    where, hint = answered_in(need)
    assert where, (rule, need)
    assert hint, (rule, need)
