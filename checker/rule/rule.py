"""What a rule is: a pure function with an id, found by its decorator."""

import inspect
import math
import sys
import typing
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from checker.errors import PluginError
from checker.model import CarrierKind, DividedFitting, LoadedCompartment, Partition, RoutedCircuit
from checker.rule.limits import Limits
from checker.rule.verdict import Outcome, Verdict

#: The subjects that a rule may ask for.
SUBJECTS: tuple[type, ...] = (LoadedCompartment, RoutedCircuit, DividedFitting)

MARK = "__wayroom_rule__"


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule as it was found.

    ``kinds`` are the kinds of carrier that it speaks of; empty: all. ``manual`` is its page, the docstring of its module.
    """

    id: str
    title: str
    kinds: frozenset[CarrierKind]
    subject: type
    limits: type[Limits]
    function: Callable[[Any, Any], Verdict]
    manual: str
    distribution: str = ""

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
) -> Callable[[RuleFunction], RuleFunction]:
    """Declares a function to be a rule. Its signature is the contract: ``(subject, limits) -> Verdict``.

    Args:
        id: Family and name, as ``fill.compartment``.
        title: A few words for lists.
        kinds: The kinds of carrier that it speaks of; none given: all.
    """

    def declare(function: RuleFunction) -> RuleFunction:
        setattr(function, MARK, (id, title, frozenset(kinds)))
        return function

    return declare


def read_rule(function: RuleFunction, distribution: str) -> Rule:
    """Makes a rule of a declared function.

    Raises:
        PluginError: Its signature isn't a rule's, or its module has no docstring.
    """
    rule_id, title, kinds = getattr(function, MARK)
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
    return Rule(rule_id, title, kinds, wanted[0], wanted[1], function, manual, distribution)


def judge(rule_: Rule, subject: LoadedCompartment, limits: Limits) -> Verdict:
    """Asks a rule at both ends of what isn't certain: same answer, that answer; else ``unknown`` with why.

    A fail with all doubt in its favour is a fail. A pass with all doubt against it is a pass. What is reported is the reading in
    its favour, since every other may be an invention.
    """
    lenient = rule_.function(subject.least_loaded(), limits)
    if lenient.outcome is Outcome.UNKNOWN:  # a value that is only a lower bound isn't one
        strict = rule_.function(subject.most_loaded(), limits)
        if subject.unbounded or subject.occupied_mm2 is None or strict.value != lenient.value:
            reasons = (*subject.doubts, lenient.reason)
            return replace(lenient, value=None, reason="; ".join(dict.fromkeys(reason for reason in reasons if reason)))
        return lenient
    if lenient.outcome is not Outcome.PASS:
        return lenient
    if subject.is_certain:
        return lenient
    doubts = []
    if subject.size_doubt and rule_.function(replace(subject.most_loaded(), cables=subject.cables), limits) != lenient:
        doubts.append(subject.size_doubt)
    larger = replace(subject.most_loaded(), area_mm2=subject.area_mm2, bore_mm=subject.bore_mm)
    if subject.unbounded or rule_.function(larger, limits) != lenient:
        doubts.extend(subject.possible_doubts)
    if subject.unbounded:
        return replace(lenient, outcome=Outcome.UNKNOWN, reason="; ".join(doubts))
    strict = rule_.function(subject.most_loaded(), limits)
    if strict.outcome is Outcome.PASS:
        return replace(lenient, reason=f"{lenient.reason}; holds even so: {'; '.join(doubts)}") if doubts else lenient
    value = (
        None if subject.occupied_mm2 is None else lenient.value
    )  # what isn't sized makes it a lower bound of nothing known
    return replace(
        lenient, outcome=Outcome.UNKNOWN, value=value, reason="; ".join(dict.fromkeys((*doubts, strict.reason)))
    )


def judge_fitting(rule_: Rule, subject: DividedFitting, limits: Limits) -> Verdict:
    """Asks a rule about a place where carriers meet, with what passes it for certain, and with all that could.

    A fail with the first alone is a fail; a pass with all is a pass, unless what can't be counted may pass it and nothing keeps it apart.
    """
    lenient = rule_.function(replace(subject, possible=()), limits)
    if lenient.outcome is not Outcome.PASS:
        return lenient
    strict = rule_.function(subject.most_loaded(), limits)
    is_bounded = not subject.unbounded or subject.partition is Partition.KEPT
    if strict.outcome is Outcome.PASS and is_bounded:
        return lenient
    reasons = subject.possible_doubts if strict.outcome is Outcome.PASS else (*subject.possible_doubts, strict.reason)
    return replace(lenient, outcome=Outcome.UNKNOWN, reason="; ".join(dict.fromkeys(reasons)))


def judge_circuit(rule_: Rule, subject: RoutedCircuit, limits: Limits) -> Verdict:
    """Asks a rule about a circuit at both ends of what isn't certain.

    A fail with all doubt in its favour is a fail, unless the other end passes: a circuit that is light in its favour alone keeps to the
    full group there. A pass with all doubt against it is a pass, and reported are its figures then, since no more can be counted on. Else
    it is unknown, with a figure only where both ends have the same.
    """
    doubts = subject.open_doubts
    if not subject.enclosures:
        return Verdict(Outcome.UNKNOWN, "; ".join(doubts), unit="A")
    lenient, strict = rule_.function(subject, limits), rule_.function(subject.most_loaded(), limits)
    if lenient.outcome is Outcome.FAIL and strict.outcome is not Outcome.PASS:
        return lenient
    if strict.outcome is Outcome.PASS and lenient.outcome is not Outcome.FAIL and not doubts:
        # what is read in its favour needn't be better everywhere: alone in a layer a cable may carry less than alone in a bunch
        both = [strict, lenient] if lenient.outcome is Outcome.PASS else [strict]
        return min(both, key=lambda verdict: math.inf if verdict.limit is None else verdict.limit)
    perhaps = [] if strict == lenient else [doubt for enclosure in subject.enclosures for doubt in enclosure.doubts]
    reasons = [*doubts, strict.reason, *perhaps]
    if strict.reason != lenient.reason:
        reasons.append(f"in its favour it {lenient.reason}" if lenient.outcome is Outcome.PASS else lenient.reason)
    rating = strict.rating
    is_one = (
        not doubts
        and rating is not None
        and lenient.rating is not None
        and rating.capacity_a == lenient.rating.capacity_a
    )
    if rating is not None and not is_one:
        rating = replace(
            rating, carrier="", base_a=None, base_source="", factors=(), capacity_a=None, grouping_factor=None
        )
    return replace(
        strict,
        outcome=Outcome.UNKNOWN,
        limit=strict.limit if is_one else None,
        reason="; ".join(dict.fromkeys(reason for reason in reasons if reason)),
        rating=rating,
    )
