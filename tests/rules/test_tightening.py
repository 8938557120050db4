"""What a project may write as a stricter limit is one: by it nothing passes that didn't before, of all that the rules' cases describe."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from checker.rule import Limits, Outcome
from checker.rule.limits import Limit, figures_of, is_definition, most_of, tighter_is_lower
from checker.rule.plugins import load_plugins
from checker.testing import answer_of, limits_of, read_cases

FOLDER = Path(__file__).parent / "cases"
#: From a little stricter to far beyond what anybody would write.
SHARES = (0.99, 0.9, 0.5, 0.2, 0.05)


def stricter(limits: Limits) -> Iterator[tuple[str, Limits]]:
    """The limits with one of them tightened, the way that the rule says is stricter."""
    kind = type(limits)
    for name in figures_of(kind):
        limit: Limit | None = getattr(limits, name)
        if limit is None or is_definition(kind, name):
            continue
        for share in SHARES:
            value = limit.value * share if tighter_is_lower(kind, name) else limit.value / share
            if value <= most_of(kind, name):
                changed = limit.model_copy(update={"value": value})
                yield f"{name} = {value:g}", limits.model_copy(update={name: changed})


@pytest.mark.parametrize("rule", load_plugins().rules)
def test_by_a_stricter_limit_nothing_passes_that_did_not(rule: str) -> None:
    passing = []
    asked = 0
    for case in read_cases(FOLDER / f"{rule}.toml"):
        limits = limits_of(case)
        if answer_of(case, limits).outcome is Outcome.PASS:
            continue
        for told, tightened in stricter(limits):
            asked += 1
            if answer_of(case, tightened).outcome is Outcome.PASS:
                passing.append(f"{case.name}: {told}")
    assert passing == []
    assert asked or not any(settable(rule))


def settable(rule: str) -> Iterator[str]:
    """The limits of a rule that some code has and a project may tighten."""
    for code in load_plugins().codes.values():
        limits = code.limits.get(rule)
        for name in figures_of(type(limits)) if limits is not None else ():
            if getattr(limits, name) is not None and not is_definition(type(limits), name):
                yield name
