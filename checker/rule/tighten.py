"""Limits that the project sets: stricter than the code's, or where it has none; and looser ones, which somebody must have waived."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from pydantic import ValidationError

from checker.errors import ProjectFileError
from checker.rule.code import Code
from checker.rule.limits import Limit, Limits, figures_of, is_definition, is_only_a_codes, most_of, tighter_is_lower
from checker.rule.loosened import Loosened
from checker.rule.verdict import Basis

REASON = "reason"


Wanted = Mapping[str, Mapping[str, float | str]]


def not_run(code: Code, wanted: Collection[str], installed: Collection[str]) -> list[str]:
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
        _check_rule(code, rule_id, at)
        reason = figures.get(REASON)
        if not isinstance(reason, str) or not reason.strip():
            raise ProjectFileError(
                at, "it gives no reason", 'add reason = "…": it is printed with every finding that it touches'
            )
        for name, value in figures.items():
            if name != REASON:
                limits[rule_id] = _with(limits[rule_id], name, value, reason.strip(), at)
        _hold_together(limits[rule_id], at)
    return replace(code, limits=limits)


def with_loosened(code: Code, wanted: Sequence[Loosened], where: str, installed: Collection[str] = ()) -> Code:
    """The code, its limits as they are, with what the project waives of them.

    Args:
        code: With the project's own limits in it.
        wanted: In the order of the file.
        where: The project file, for messages.
        installed: Rules that there are; waivers of limits of those that this code doesn't run are left out (see ``not_run``).

    Raises:
        ProjectFileError: A rule or limit doesn't exist, is loosened twice, or tightened too, or the figure isn't a looser one.
    """
    kept: dict[tuple[str, str], Loosened] = {}
    for number, item in enumerate(wanted, start=1):
        at = f"{where}, [[loosened]] {number}"
        if item.rule not in code.limits and item.rule in installed:
            continue
        _check_rule(code, item.rule, at)
        limits = code.limits[item.rule]
        before = _checked(limits, item.limit, item.value, at)
        own = f'[limits."{item.rule}"]'
        if before is None:
            hint = f"set it in {own}"
            raise ProjectFileError(at, f"the code has no {item.limit}, so there is nothing to loosen", hint)
        if before.basis is Basis.PROJECT:
            raise ProjectFileError(at, f"{own} sets {item.limit}, too", "keep one of the two")
        if _is_as_strict(limits, item.limit, item.value, before.value):
            what = f"{item.limit} = {item.value:g} isn't looser than the code's {before.value:g}"
            raise ProjectFileError(at, what, f"set it in {own}")
        if (item.rule, item.limit) in kept:
            raise ProjectFileError(at, f"{item.limit} of {item.rule} is loosened twice", "keep one of the two")
        kept[item.rule, item.limit] = item
    return replace(code, loosened=tuple(kept[key] for key in sorted(kept)))


def _hold_together(limits: Limits, at: str) -> None:
    """Refuses figures that contradict each other, as a window whose end comes before its beginning."""
    try:
        type(limits).model_validate(dict(limits))
    except ValidationError as error:
        what = error.errors()[0]["msg"].removeprefix("Value error, ")
        raise ProjectFileError(at, what, "mend one of the figures") from error


def _check_rule(code: Code, rule_id: str, at: str) -> None:
    if rule_id not in code.limits:
        raise ProjectFileError(at, f"the code {code.key} runs no such rule", f"one of: {', '.join(code.limits)}")


def _checked(limits: Limits, name: str, value: float | str, at: str) -> Limit | None:
    """The limit as it is, if there is one of that name that could have such a figure."""
    fields = figures_of(type(limits))
    if name not in fields:
        raise ProjectFileError(at, f"there is no limit {name}", f"one of: {', '.join(fields)}")
    if is_definition(type(limits), name):
        raise ProjectFileError(at, f"{name} says what the rule speaks of, and is no limit", "leave it out")
    # of what is wanted at the least nothing may be wanted
    is_too_low = not isinstance(value, str) and (value < 0 or (value == 0 and tighter_is_lower(type(limits), name)))
    if isinstance(value, str) or not math.isfinite(value) or is_too_low:
        raise ProjectFileError(
            at, f"{name} is {value!r}, which isn't a number above 0", "write a plain number, as 0.40"
        )
    most = most_of(type(limits), name)
    if value > most:
        raise ProjectFileError(at, f"{name} is {value:g}, more than {most:g}", f"a share is written as {value / 100:g}")
    before: Limit | None = getattr(limits, name)
    return before


def _is_as_strict(limits: Limits, name: str, value: float, before: float) -> bool:
    return value <= before if tighter_is_lower(type(limits), name) else value >= before


def _with(limits: Limits, name: str, value: float | str, reason: str, at: str) -> Limits:
    before = _checked(limits, name, value, at)
    if before is None and is_only_a_codes(type(limits), name):
        raise ProjectFileError(at, f"the code has no {name}", "leave it out: it would ease what the code asks")
    if before is None:
        own = Limit(
            value=float(value),
            basis=Basis.PROJECT,
            source="the project's own limit",
            confidence="as the project says",
            reason=reason,
        )
        return limits.model_copy(update={name: own})
    if not _is_as_strict(limits, name, float(value), before.value):
        raise ProjectFileError(
            at,
            f"{name} = {value:g} is looser than the code's {before.value:g}",
            "a project can only set a stricter limit; a looser one has to be waived by somebody: [[loosened]]",
        )
    source = f"the project's own limit; the code has {before.value:g}: {before.source}"
    return limits.model_copy(
        update={
            name: Limit(
                value=float(value),
                basis=Basis.PROJECT,
                source=source,
                confidence=before.confidence,
                reason=reason,
                code_value=before.value,
            )
        }
    )
