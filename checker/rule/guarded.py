"""Rules asked so that one that breaks down is told by its name and its distribution's, wherever it's asked from."""

import traceback
from collections.abc import Callable
from functools import wraps
from pathlib import PurePath
from typing import Any

from checker.errors import PluginError, WayroomError
from checker.model import LoadedCompartment, RoutedCircuit
from checker.model.texts import listed, quoted
from checker.rule.verdict import Outcome, Verdict

OURS = "wayroom"


def asked_safely(
    function: Callable[[Any, Any], Verdict], rule: str, distribution: str
) -> Callable[[Any, Any], Verdict]:
    """A rule's function, of which whatever it raises, or answers that is no verdict, is a ``PluginError``.

    Args:
        function: As its author wrote it.
        rule: The rule's id.
        distribution: Who ships it.
    """

    @wraps(function)
    def ask(subject: Any, limits: Any) -> Verdict:
        try:
            answer = function(subject, limits)
        except (WayroomError, MemoryError):
            raise
        except Exception as error:
            raise _broken(rule, distribution, subject, raised(error)) from error
        if not isinstance(answer, Verdict):
            raise _broken(rule, distribution, subject, f"it answered {quoted(repr(answer))}, which is no Verdict")
        if type(answer.outcome) is not Outcome:  # text that looks like one is none of them
            what = f"its verdict's outcome is {quoted(repr(answer.outcome))}, which is no Outcome"
            raise _broken(rule, distribution, subject, what)
        return answer

    return ask


def asks_safely(asks: Callable[[Any], object], rule: str, distribution: str) -> Callable[[Any], bool]:
    """The same of what says whether a rule has a question: by an answer like None it would never be asked, and nobody be told."""

    @wraps(asks)
    def ask(subject: Any) -> bool:
        try:
            answer = asks(subject)
        except (WayroomError, MemoryError):
            raise
        except Exception as error:
            raise _broken(rule, distribution, subject, f"its asks: {raised(error)}") from error
        if not isinstance(answer, bool):
            what = f"its asks answered {quoted(repr(answer))}, which is neither True nor False"
            raise _broken(rule, distribution, subject, what)
        return answer

    return ask


def told_somewhere(verdict: Verdict, subject: Any, rule: str, distribution: str) -> Verdict:
    """A verdict, unless it fails what lies in no carrier: an issue needs a place that can be shown.

    Raises:
        PluginError: It does.
    """
    if verdict.outcome is Outcome.FAIL and not subject.about.carriers:
        raise _broken(
            rule, distribution, subject, "it fails something that lies in no carrier, which nobody could be shown"
        )
    return verdict


def raised(error: Exception) -> str:
    """What was raised, and at which line of which file."""
    told = f"it raised {type(error).__name__}" + (f": {error}" if str(error) else "")
    frames = traceback.extract_tb(error.__traceback__)
    return f"{told} (line {frames[-1].lineno} of {PurePath(frames[-1].filename).name})" if frames else told


def what_to_do(distribution: str) -> str:
    """What helps against a distribution that breaks down."""
    if distribution == OURS:
        return "it's a defect of Wayroom's own: please report it with the input"
    return f"mend or uninstall {distribution}"


def _broken(rule: str, distribution: str, subject: Any, what: str) -> PluginError:
    where = f"rule {rule} (from {distribution}), asked about {_named(subject)}"
    return PluginError(where, what, what_to_do(distribution))


def _named(subject: Any) -> str:
    """What a person would call a subject; the rule's author is told its sort besides."""
    if isinstance(subject, LoadedCompartment):
        return f"compartment {subject.number} of {subject.carrier.place.label}"
    if isinstance(subject, RoutedCircuit):
        return f"circuit {subject.load.mark}"
    sort = type(subject).__name__
    about = getattr(subject, "about", None)
    if about is None:
        return f"a {sort}"
    carrier = getattr(subject, "carrier", None)
    alone = (carrier.place.label,) if carrier is not None else about.carriers
    return f"the {sort} {about.label or listed(alone or about.circuits)}"
