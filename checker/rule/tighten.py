"""Limits that the project sets: stricter than the code's, or where the code has none. A looser one is refused."""

import math
from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import get_args

from checker.errors import ProjectFileError
from checker.rule.code import Code
from checker.rule.limits import Limit, Limits, is_only_a_codes, most_of, tighter_is_lower
from checker.rule.verdict import Basis

REASON = "reason"


Wanted = Mapping[str, Mapping[str, float | str]]


def not_run(code: Code, wanted: Wanted, installed: Collection[str]) -> list[str]:
    """Rules that the project sets limits for and that are installed, but that this code doesn't run."""
    return [rule_id for rule_id in wanted if rule_id not in code.limits and rule_id in installed]


def tightened(code: Code, wanted: Wanted, where: str, installed: Collection[str] = ()) -> Code:
    """The code with the project's own limits in it.

    Args:
        code: As it is shipped.
        wanted: Rule id → limit → figure, and a ``reason`` for them.
        where: The project file, for messages.
        installed: Rules that there are; limits of those that this code doesn't run are left out (see ``not_run``).

    Raises:
        ProjectFileError: A rule or limit doesn't exist, has no reason, or is looser than the code's.
    """
    limits = dict(code.limits)
    for rule_id, figures in wanted.items():
        at = f'{where}, [limits."{rule_id}"]'
        if rule_id not in limits and rule_id in installed:
            continue
        if rule_id not in limits:
            raise ProjectFileError(at, f"the code {code.key} runs no such rule", f"one of: {', '.join(limits)}")
        reason = figures.get(REASON)
        if not isinstance(reason, str) or not reason.strip():
            raise ProjectFileError(
                at, "it gives no reason", 'add reason = "…": it is printed with every finding that it touches'
            )
        for name, value in figures.items():
            if name != REASON:
                limits[rule_id] = _with(limits[rule_id], name, value, reason.strip(), at)
    return replace(code, limits=limits)


def _with(limits: Limits, name: str, value: float | str, reason: str, at: str) -> Limits:
    fields = [
        field
        for field, info in type(limits).model_fields.items()
        if Limit in (info.annotation, *get_args(info.annotation))
    ]
    if name not in fields:
        raise ProjectFileError(at, f"there is no limit {name}", f"one of: {', '.join(fields)}")
    if isinstance(value, str) or not math.isfinite(value) or value <= 0:
        raise ProjectFileError(
            at, f"{name} is {value!r}, which isn't a number above 0", "write a plain number, as 0.40"
        )
    most = most_of(type(limits), name)
    if value > most:
        raise ProjectFileError(at, f"{name} is {value:g}, more than {most:g}", f"a share is written as {value / 100:g}")
    before: Limit | None = getattr(limits, name)
    if before is None and is_only_a_codes(type(limits), name):
        raise ProjectFileError(at, f"the code has no {name}", "leave it out: it would ease what the code asks")
    if before is None:
        own = Limit(
            value=value,
            basis=Basis.PROJECT,
            source="the project's own limit",
            confidence="as the project says",
            reason=reason,
        )
        return limits.model_copy(update={name: own})
    stricter = value <= before.value if tighter_is_lower(type(limits), name) else value >= before.value
    if not stricter:
        raise ProjectFileError(
            at,
            f"{name} = {value:g} is looser than the code's {before.value:g}",
            "a project can only set a stricter limit",
        )
    source = f"the project's own limit; the code has {before.value:g}: {before.source}"
    return limits.model_copy(
        update={
            name: Limit(
                value=value,
                basis=Basis.PROJECT,
                source=source,
                confidence=before.confidence,
                reason=reason,
                code_value=before.value,
            )
        }
    )
