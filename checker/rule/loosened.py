"""Limits of a code that the project waives to looser ones: whose decision, why, until when; and how a rule is asked beside them."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from checker.rule.limits import Limits, in_words
from checker.rule.verdict import Outcome, Verdict


@dataclass(frozen=True, slots=True)
class Loosened:
    """One limit of one rule, waived to a looser figure by somebody. ``until`` is the last day on which it holds."""

    rule: str
    limit: str
    value: float
    who: str
    why: str
    until: date


def ask_beside(ask: Callable[[Limits], Verdict], limits: Limits, loosened: Sequence[Loosened]) -> Verdict:
    """Asks by the code's limits; what fails them, but not those that the project loosened, is waived.

    The answer by the code's own limits stays: its value, limit, basis and source. Of several loosened limits only those count that are
    needed.

    Args:
        ask: What a rule answers by some limits.
        limits: The code's.
        loosened: The project's for this rule.
    """
    verdict = ask(limits)
    if verdict.outcome is not Outcome.FAIL:
        return verdict
    for chosen in _each_and_all(loosened):
        eased = ask(_with(limits, chosen)).outcome
        if eased is Outcome.PASS:
            needed = _needed(ask, limits, chosen)
            told = " and ".join(_told(item, limits) for item in needed)
            return replace(
                verdict, outcome=Outcome.WAIVED, reason=f"{verdict.reason}; fails {told}", waived_by=tuple(needed)
            )
        if eased is Outcome.UNKNOWN and len(chosen) == len(loosened):
            looser = " and ".join(f"{item.limit} = {item.value:g}" for item in chosen)
            reason = f"{verdict.reason}; whether it is within what the project loosened it to ({looser}) isn't known"
            return replace(verdict, reason=reason)
    return verdict


def _needed(ask: Callable[[Limits], Verdict], limits: Limits, chosen: Sequence[Loosened]) -> list[Loosened]:
    """Those of some loosened limits without which it doesn't pass; where one stands in for another, the later."""
    needed = list(chosen)
    for item in chosen:
        rest = [other for other in needed if other is not item]
        if rest and ask(_with(limits, rest)).outcome is Outcome.PASS:
            needed = rest
    return needed


def _each_and_all(loosened: Sequence[Loosened]) -> Iterator[list[Loosened]]:
    for item in loosened:
        yield [item]
    if len(loosened) > 1:
        yield list(loosened)


def _with(limits: Limits, chosen: Sequence[Loosened]) -> Limits:
    """The limits with looser figures in them; all else of each stays."""
    return limits.model_copy(
        update={item.limit: getattr(limits, item.limit).model_copy(update={"value": item.value}) for item in chosen}
    )


def _told(item: Loosened, limits: Limits) -> str:
    before, after = (
        in_words(type(limits), item.limit, value) for value in (getattr(limits, item.limit).value, item.value)
    )
    return f"the code's {before} ({item.limit}), waived to {after} by {item.who} until {item.until}: {item.why}"
