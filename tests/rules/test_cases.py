from pathlib import Path

import pytest

from checker.rule.plugins import load_plugins
from checker.testing import Case, not_shown, read_cases, run_case

FOLDER = Path(__file__).parent / "cases"
CASES = [case for path in sorted(FOLDER.glob("*.toml")) for case in read_cases(path)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.rule}: {case.name}")
def test_a_rule_answers_its_cases(case: Case) -> None:
    run_case(case)


@pytest.mark.parametrize("rule", load_plugins().rules)
def test_every_rule_has_the_cases_that_every_rule_needs(rule: str) -> None:
    assert not not_shown(case for case in CASES if case.rule == rule)


def test_no_two_cases_of_a_rule_bear_the_same_name() -> None:
    names = [(case.rule, case.name) for case in CASES]
    assert len(names) == len(set(names))
