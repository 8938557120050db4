"""Which waivers of limits hold at the time of the run, and which are of no use."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date

from checker.errors import InputError
from checker.model import Problem
from checker.read.project import FILE_NAME
from checker.result.archive import utc
from checker.rule import Verdict
from checker.rule.code import Code
from checker.rule.loosened import Loosened
from checker.rule.tighten import not_run

#: Files of an earlier year than the first such models are of no time: programs without a clock write the year 1970, and by that nothing
#: would ever run out.
EARLIEST_YEAR = 1997


def not_run_waivers(code: Code, loosened: Sequence[Loosened], installed: Collection[str]) -> list[Problem]:
    """A problem for each loosened limit of a rule that is installed, but that this code doesn't run."""
    left = not_run(code, {item.rule for item in loosened}, installed)
    return [
        Problem(_where(item), f"the code {code.key} doesn't run that rule", "so nothing is waived by it",
                "take it out, or loosen the limit that this code runs: wayroom list rules")
        for item in loosened
        if item.rule in left
    ]  # fmt: skip


def see_time(now: str | None) -> None:
    """Sees that what is given as the time of the run is one, if it is given.

    Raises:
        InputError: It is none.
    """
    if now is not None and utc(now) is None:
        raise InputError("--now", f"{now!r} is no time", "write it as 2026-11-02T09:00:00Z")


def day_of(time: str) -> tuple[date | None, str]:
    """The day of a run by its time, ISO 8601; None with the reason where that tells no day that could be."""
    now = utc(time)
    if now is None:
        return None, "no model says of when it is"
    if now.year < EARLIEST_YEAR:
        return None, f"the run is said to be of {now.date()}, when there were no such models"
    return now.date(), ""


def in_force(code: Code, time: str) -> tuple[Code, list[Problem]]:
    """The code with those limits loosened that are on the day of the run, and a problem for each other.

    Args:
        code: With all that the project waives of it.
        time: Of the run, ISO 8601: the model's own or the one that is asked for, never the clock's. Empty: there is none.
    """
    day, why = day_of(time)
    if day is None:
        told = [
            Problem(_where(item), "whether it has run out isn't known", f"{why}, so nothing is waived by it",
                    "give the time with --now, or save the model with one in its header")
            for item in code.loosened
        ]  # fmt: skip
        return replace(code, loosened=()), told
    told = [
        Problem(_where(item), f"it ran out on {item.until}", f"the run is of {day}, so nothing is waived by it",
                f"have {item.who} decide anew, or take it out")
        for item in code.loosened
        if item.until < day
    ]  # fmt: skip
    return replace(code, loosened=tuple(item for item in code.loosened if item.until >= day)), told


def unused_waivers(code: Code, verdicts: Iterable[Verdict]) -> list[Problem]:
    """A problem for each loosened limit that makes nothing waived."""
    used = {item for verdict in verdicts for item in verdict.waived_by}
    return [
        Problem(_where(item), "nothing is waived by it", "all that is asked passes by the code's own limit, fails by the loosened one too, "
                "or isn't known", "take it out, so that it doesn't hide what comes later")
        for item in code.loosened
        if item not in used
    ]  # fmt: skip


def _where(item: Loosened) -> str:
    return f"{FILE_NAME}, [[loosened]] {item.limit} of {item.rule}"
