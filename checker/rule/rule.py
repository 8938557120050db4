"""What a rule is: a pure function with an id, found by its decorator."""

import inspect
import re
import sys
import typing
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from checker.errors import PluginError
from checker.model import (
    CarrierKind,
    CarrierPair,
    CircuitPair,
    DividedFitting,
    Enclosure,
    FilledCompartment,
    LoadedCompartment,
    LoadedRun,
    ModelledCarrier,
    Penetration,
    RoutedCircuit,
)
from checker.rule.guarded import asked_safely, asks_safely
from checker.rule.limits import Limits, unread_fields
from checker.rule.verdict import Verdict

#: The subjects that a rule may ask for.
SUBJECTS: tuple[type, ...] = (
    LoadedCompartment,
    FilledCompartment,
    RoutedCircuit,
    DividedFitting,
    Enclosure,
    LoadedRun,
    Penetration,
    CarrierPair,
    CircuitPair,
    ModelledCarrier,
)

MARK = "__wayroom_rule__"
#: What an id is: its family, which is a word too, and its name, the folder and the file that it stands in.
ID = re.compile(r"[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*")


class Tells(StrEnum):
    """What a rule's answer stands for beside being a finding."""

    FINDING = "finding"
    #: How full a compartment is: one such rule for each kind of carrier.
    FILL = "fill"
    #: A circuit's current-carrying capacity.
    RATING = "rating"
    #: Something of the model itself: what fails or isn't known goes to the problems, and is no finding.
    MODEL = "model"


def _of_all(_: Any) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule as it was found.

    ``kinds`` are the kinds of carrier that it speaks of; empty: all. ``manual`` is its page, the docstring of its module. ``asks``: whether
    it is asked about a subject at all.
    """

    id: str
    title: str
    kinds: frozenset[CarrierKind]
    subject: type
    limits: type[Limits]
    function: Callable[[Any, Any], Verdict]
    manual: str
    distribution: str = ""
    tells: Tells = Tells.FINDING
    asks: Callable[[Any], bool] = _of_all

    @property
    def family(self) -> str:
        """The first word of the id, as ``fill``."""
        return self.id.split(".", 1)[0]

    def speaks_of(self, kind: CarrierKind) -> bool:
        """Whether it judges carriers of a kind."""
        return not self.kinds or kind in self.kinds


RuleFunction = Callable[[Any, Any], Verdict]


def rule(
    *,
    id: str,  # noqa: A002 - the word that everyone uses for it
    title: str,
    kinds: Iterable[CarrierKind] = (),
    tells: Tells = Tells.FINDING,
    asks: Callable[[Any], bool] = _of_all,
) -> Callable[[RuleFunction], RuleFunction]:
    """Declares a function to be a rule. Its signature is the contract: ``(subject, limits) -> Verdict``.

    Args:
        id: Family and name, as ``fill.compartment``.
        title: A few words for lists.
        kinds: The kinds of carrier that it speaks of; none given: all.
        tells: What its answer stands for beside being a finding.
        asks: Of a subject, whether the rule has a question to it at all; where it hasn't there is no verdict.
    """

    def declare(function: RuleFunction) -> RuleFunction:
        # what isn't a list is told when the rule is read, where its distribution is known
        given = tuple(kinds) if isinstance(kinds, Iterable) and not isinstance(kinds, str) else kinds
        setattr(function, MARK, (id, title, given, tells, asks))
        return function

    return declare


def read_rule(function: RuleFunction, distribution: str) -> Rule:
    """Makes a rule of a declared function. What it raises when it's asked is a ``PluginError`` that names it.

    Raises:
        PluginError: What it declares isn't a rule's: its id, kinds, signature, limits, or its module has no docstring.
    """
    rule_id, title, kinds, tells, asks = getattr(function, MARK)
    where = f"rule {rule_id} (from {distribution})"
    if not isinstance(rule_id, str) or not ID.fullmatch(rule_id):
        hint = (
            'an id is two words of a-z, 0-9 and _, each beginning with a letter, with a dot between: id="family.name"'
        )
        raise PluginError(where, f"{rule_id!r} is no rule's id", hint)
    if not isinstance(title, str) or not title.strip():
        raise PluginError(where, "it has no title", 'say in a few words what it is about: title="…"')
    _check_kinds(kinds, where)
    if not isinstance(tells, Tells):
        raise PluginError(where, f"tells is {tells!r}", f"it is one of: {', '.join(map(str, Tells))}, as Tells.FILL")
    if not callable(asks):
        raise PluginError(where, f"asks is {asks!r}", "it is a function of the subject, which answers True or False")
    hints = typing.get_type_hints(function)
    parameters = list(inspect.signature(function).parameters)
    wanted = [hints.get(name) for name in parameters]
    if (
        len(wanted) != 2
        or wanted[0] not in SUBJECTS
        or not (isinstance(wanted[1], type) and issubclass(wanted[1], Limits))
        or hints.get("return") is not Verdict
    ):
        raise PluginError(
            where,
            f"its signature is {inspect.signature(function)}, which no rule has",
            f"write it as (subject: {' or '.join(kind.__name__ for kind in SUBJECTS)}, limits: a model of Limits) -> Verdict",
        )
    if unread := unread_fields(wanted[1]):
        raise PluginError(
            where,
            f"in {wanted[1].__name__} there is {' and '.join(unread)}, which no code can give",
            "a field of Limits is a Limit, a Table, or either with | None",
        )
    manual = sys.modules[function.__module__].__doc__ or ""
    if not manual.strip():
        raise PluginError(
            where, "its module has no docstring", "the module's docstring is the rule's page of the manual"
        )
    safe, safe_asks = asked_safely(function, rule_id, distribution), asks_safely(asks, rule_id, distribution)
    return Rule(rule_id, title, frozenset(kinds), wanted[0], wanted[1], safe, manual, distribution, tells, safe_asks)


def _check_kinds(kinds: Any, where: str) -> None:
    """Refuses what is no list of kinds: a rule of a kind that isn't there would never be asked, and nobody would be told."""
    if not isinstance(kinds, tuple):
        known = isinstance(kinds, str) and kinds in set(CarrierKind)
        one = f"CarrierKind.{CarrierKind(kinds).name}" if known else "CarrierKind.TRAY"
        raise PluginError(where, f"kinds is {kinds!r}, which is no list", f"kinds is a list; write kinds=[{one}]")
    for kind in kinds:
        if isinstance(kind, CarrierKind):
            continue
        if isinstance(kind, str) and kind in set(CarrierKind):
            hint = f"write kinds=[CarrierKind.{CarrierKind(kind).name}], with: from checker.model import CarrierKind"
            raise PluginError(where, f"in kinds {kind!r} is text, not a kind of carrier", hint)
        hint = f"kinds is a list of: {', '.join(f'CarrierKind.{each.name}' for each in CarrierKind)}"
        raise PluginError(where, f"{kind!r} is no kind of carrier", hint)
