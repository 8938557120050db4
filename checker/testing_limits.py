"""The rule and the limits that a case is asked with: those of its ``code``, and over them the figures of ``[case.limits]``."""

from typing import Any

from checker.rule import Basis, Limit, Limits, Rule, lacking
from checker.rule.limits import figures_of
from checker.rule.plugins import Plugins


def rule_and_limits(rule_id: str, data: dict[str, Any], told: str, plugins: Plugins) -> tuple[Rule, Limits]:
    """What a case is asked with.

    Args:
        rule_id: The rule that its file is named after.
        data: The case.
        told: What messages call it.
        plugins: All that is installed.

    Raises:
        AssertionError: There is no such rule, code or limit, or the code doesn't ask the rule; the message says which there are.
    """
    rule = plugins.rules.get(rule_id)
    if rule is None:
        raise AssertionError(
            f"{told}: there is no rule {rule_id!r}, after which its file is named; {_choice(plugins.rules)}"
        )
    key = data.get("code")
    if key is None:
        raise AssertionError(f'{told}: it names no code; write code = "…", {_choice(plugins.codes)}')
    if key not in plugins.codes:
        raise AssertionError(f"{told}: there is no code {key!r}; {_choice(plugins.codes)}")
    if rule_id not in plugins.codes[key].limits:
        asking = [name for name, code in plugins.codes.items() if rule_id in code.limits]
        raise AssertionError(f"{told}: the code {key} doesn't ask {rule_id}; {_choice(asking)}")
    limits = plugins.codes[key].limits[rule_id]
    known = figures_of(type(limits))
    for name, value in data.get("limits", {}).items():
        if name not in known:
            raise AssertionError(f"{told}: {rule_id} has no limit {name!r}; {_choice(known)}")
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise AssertionError(f"{told}: {name} = {value!r} is no number")  # noqa: TRY004 - as all that a case gets wrong
        own = Limit(value=value, basis=Basis.PROJECT, source="the case", confidence="given")
        limits = limits.model_copy(update={name: own})
    if left := lacking(limits):
        raise AssertionError(
            f"{told}: without {', '.join(left)} the rule isn't asked; give it: limits = {{ {left[0]} = … }}"
        )
    return rule, limits


def _choice(names: Any) -> str:
    return f"one of: {', '.join(names) or 'none'}"
