"""What a rule is: a pure function with an id, found by its decorator."""

import inspect
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
from checker.rule.limits import Limits
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
        setattr(function, MARK, (id, title, frozenset(kinds), tells, asks))
        return function

    return declare


def read_rule(function: RuleFunction, distribution: str) -> Rule:
    """Makes a rule of a declared function.

    Raises:
        PluginError: Its signature isn't a rule's, or its module has no docstring.
    """
    rule_id, title, kinds, tells, asks = getattr(function, MARK)
    where = f"rule {rule_id} (from {distribution})"
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
    manual = sys.modules[function.__module__].__doc__ or ""
    if not manual.strip():
        raise PluginError(
            where, "its module has no docstring", "the module's docstring is the rule's page of the manual"
        )
    return Rule(rule_id, title, kinds, wanted[0], wanted[1], function, manual, distribution, tells, asks)
