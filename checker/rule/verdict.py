"""What a rule answers."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from checker.rule.rating import Rating

if TYPE_CHECKING:
    from checker.rule.loosened import Loosened
    from checker.rule.waiver import Waiver


class Outcome(StrEnum):
    """The answer in one word. Missing data is ``unknown``, never ``pass``."""

    PASS = "pass"  # noqa: S105 - a verdict, not a password
    FAIL = "fail"
    UNKNOWN = "unknown"
    WAIVED = "waived"


class Basis(StrEnum):
    """What stands behind a limit."""

    REQUIREMENT = "requirement"
    GUIDANCE = "guidance"
    NOTE = "note"
    PROJECT = "project"


#: From best to worst, for the worst verdict of several.
SEVERITY = {Outcome.PASS: 0, Outcome.WAIVED: 1, Outcome.UNKNOWN: 2, Outcome.FAIL: 3}


@dataclass(frozen=True, slots=True)
class Verdict:
    """One rule's answer on one subject.

    Attributes:
        outcome: The answer.
        value: What was found, in ``unit``; None where nothing could be.
        limit: What it is held against.
        unit: ``ratio`` for fills; empty where there is no number.
        measure: What the two are ratios of: ``area``, ``term`` or ``width``; empty elsewhere.
        basis: What stands behind the limit.
        source: Clause and publication of the limit.
        reason: One or two sentences for a person.
        at_least: Whether the value is only the least that it can be.
        regardless: Whether it stands whatever else may lie there: what can't be counted doesn't bear on it.
        is_floor: Whether the limit is the least that is wanted, not the most that is allowed.
        working: The arithmetic, a line a step; only where the subject asks for it.
        rating: Of a circuit: how its rating was reached.
        advice: Of a rule of the model: what to mend. Of any other it isn't told: what would help there is tried (``checker.remedies``).
        needs: Of an unknown one, what would settle it, a question each, as "the design current of circuit C14". Words that are the same for
            the same question, so that it can be counted how many verdicts one answer settles.
        waived_by: Of a waived one, the limits that the project loosened so that it isn't a fail, or who waives it.
        found: What was found as a title says it, ``{}`` standing for the figure, as ``{} with 5 % spare``; empty: the figure alone. Without
            ``{}`` it isn't about the figure, so that the limit isn't told beside it either.
        wanted: The same of the limit, as ``none may be``; empty: ``limit {}``, or ``at least {}``.
    """

    outcome: Outcome
    reason: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    measure: str = ""
    basis: str = ""
    source: str = ""
    at_least: bool = False
    working: tuple[str, ...] = ()
    rating: Rating | None = None
    advice: str = ""
    needs: tuple[str, ...] = ()
    is_floor: bool = False
    regardless: bool = False
    waived_by: "tuple[Loosened | Waiver, ...]" = ()
    found: str = ""
    wanted: str = ""

    @property
    def use(self) -> float | None:
        """How far the value goes towards its limit, see ``use_of``."""
        return use_of(self.value, self.limit, is_floor=self.is_floor)


def use_of(value: float | None, limit: float | None, *, is_floor: bool) -> float | None:
    """How far a value goes towards its limit: 1 is exactly at it, more is beyond; None where one of them is missing.

    Args:
        value: What was found.
        limit: What it is held against, in the same unit.
        is_floor: Whether the limit is the least that is wanted.
    """
    if value is None or not limit:
        return None
    if is_floor:
        return limit / value if value > 0 else math.inf
    return value / limit


def worst(outcomes: "list[Outcome] | tuple[Outcome, ...]") -> Outcome:
    """The worst of several; ``unknown`` of none, since nothing was judged."""
    return max(outcomes, key=SEVERITY.__getitem__, default=Outcome.UNKNOWN)
