"""The case runner that authors of rules use: cases are data, one TOML file a rule.

A case::

    [[case]]
    name = "a sentence that says what it shows"
    source = "where the expected answer comes from"
    code = "bs-7671"                 # whose limits; figures of [case.limits] go over them
    kind = "trunking"
    area_mm2 = 2304.0
    cables = [{ count = 20, diameter_mm = 7.8 }]
    outcome = "pass"
    value = 0.4148                   # to the digits that are given; no_value = true: there must be none
    reason = "within"                # a part of it

What describes the subject hangs on its sort. The module that reads it explains its keys:

    LoadedCompartment, DividedFitting    checker.testing_compartments
    FilledCompartment                    checker.testing_filled
    RoutedCircuit                        checker.testing_circuits
    Enclosure                            checker.testing_enclosures; with cables alone testing_supports, with stacked testing_stacks
    LoadedRun                            checker.testing_runs
    Penetration                          checker.testing_penetration
    CarrierPair                          checker.testing_pairs
    CircuitPair                          checker.testing_circuit_pairs
    ModelledCarrier                      checker.testing_modelled

Cables are explained by ``checker.testing_cables``. Answers about circuits may also have ``capacity_a``, ``required_a``, ``base_a``, ``ca``,
``cg``, ``ch``, ``no_capacity_a``, ``governs`` (the number of the carrier, from 1) and ``assumes`` (a list).
"""

import tomllib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from checker.model import (
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
    Subject,
)
from checker.rule import Limits, Outcome, Rating, Rule, Verdict, judge, judge_circuit, judge_subject
from checker.rule.plugins import load_plugins
from checker.testing_circuit_pairs import circuit_pair_of
from checker.testing_circuits import routed_circuit_of
from checker.testing_compartments import fitting_of, subject_of
from checker.testing_enclosures import enclosure_of
from checker.testing_filled import filled_of
from checker.testing_keys import Keys, MissingKeyError, digits_of, figure
from checker.testing_limits import rule_and_limits
from checker.testing_modelled import modelled_carrier_of
from checker.testing_pairs import carrier_pair_of
from checker.testing_penetration import penetration_of
from checker.testing_runs import run_of
from checker.testing_stacks import stacked_enclosure_of

#: What every rule's cases show at the least: pass and fail by their outcomes, the others as words in their names.
NEEDED = ("pass", "fail", "exactly at the limit", "missing", "empty", "published")
BY_OUTCOME = {"pass", "fail"}

#: What a case may expect of the answer.
FIGURES = ("value", "capacity_a", "required_a", "base_a", "ca", "cg", "ch")
EXPECTED = ("source", "outcome", "reason", *FIGURES, "no_value", "no_capacity_a", "governs", "assumes")


@dataclass(frozen=True, slots=True)
class Case:
    """One case of one rule, as its file has it."""

    rule: str
    name: str
    data: dict[str, Any]


def read_cases(path: Path) -> Iterator[Case]:
    """The cases of a file, which bears the rule's id as its name.

    Raises:
        AssertionError: It has no cases, or one has no name.
    """
    cases = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=figure).get("case", [])
    assert cases, f"{path.name}: it has no [[case]]"
    for number, data in enumerate(cases, start=1):
        assert data.get("name"), f"{path.name}, case {number}: it lacks the key 'name'"
        yield Case(path.stem, data["name"], data)


def not_shown(cases: Iterable[Case]) -> list[str]:
    """What of ``NEEDED`` the cases of a rule don't show. One case may show several: a published one may be at the limit, and pass."""
    known = list(cases)
    outcomes = {case.data.get("outcome") for case in known}
    return [
        word
        for word in NEEDED
        if not (word in outcomes if word in BY_OUTCOME else any(word in case.name for case in known))
    ]


def limits_of(case: Case) -> Limits:
    """The limits that a case is asked with.

    Raises:
        AssertionError: Its code, rule or limit isn't there.
    """
    return rule_and_limits(case.rule, case.data, _called(case), load_plugins())[1]


def answer_of(case: Case, limits: Limits) -> Verdict:
    """What the rule answers to what a case describes.

    Raises:
        AssertionError: It can't be asked.
    """
    return _answer(case, _subject(case), limits)


def run_case(case: Case) -> Verdict:
    """Asks the rule.

    Raises:
        AssertionError: The answer isn't the expected one, the case doesn't say where that comes from, or it can't be asked: its code, rule
            or limit isn't there, it lacks a key, or it has one that nobody asks for.
    """
    data, called = Keys(case.data), _called(case)
    case = replace(case, data=data)
    limits, subject = limits_of(case), _subject(case)
    for key in EXPECTED:
        data.get(key)
    # told before all else, since a misspelt key is why the answer is another
    unasked = data.unasked
    assert not unasked, f"{called}: no case of {case.rule} has the key {unasked[0]!r}, so it shows nothing"
    assert data.get("source"), f"{called}: the case names no source"
    outcomes = [item.value for item in Outcome]
    assert data.get("outcome") in outcomes, f"{called}: it lacks the key 'outcome', one of: {', '.join(outcomes)}"
    verdict = _answer(case, subject, limits)
    _hold(data, verdict, f"{called}: {verdict}")
    return verdict


def _hold(data: Keys, verdict: Verdict, told: str) -> None:
    """Holds an answer against what the case expects."""
    assert verdict.outcome.value == data["outcome"], told
    assert data.get("reason", "") in verdict.reason, told
    rating = verdict.rating or Rating()
    figures = {
        "value": verdict.value,
        "capacity_a": rating.capacity_a,
        "required_a": rating.required_a,
        "base_a": rating.base_a,
    }
    figures |= {factor.name.lower(): factor.value for factor in rating.factors}
    for name in ("value", "capacity_a"):
        if data.get(f"no_{name}"):
            assert figures[name] is None, told
    for name in FIGURES:
        if name in data:
            found = figures.get(name)
            assert found is not None, told
            assert abs(found - data[name]) <= 0.5 * 10 ** -digits_of(data[name]) + 1e-12, f"{name}: {told}"
    if "governs" in data:
        assert rating.carrier == f"carrier-{data['governs']}", told
    for text in data.get("assumes", []):
        assert text in rating.assumptions, told


def _called(case: Case) -> str:
    return f"{case.rule}, {case.name}"


def _rule(case: Case) -> Rule:
    return load_plugins().rules[case.rule]


def _subject(case: Case) -> Any:
    """What a case describes."""
    sort, called = _rule(case).subject, _called(case)
    readers: dict[type, Callable[[dict[str, Any]], Any]] = {
        LoadedCompartment: subject_of,
        RoutedCircuit: routed_circuit_of,
        **SUBJECTS_OF,
    }
    assert sort in readers, f"{called}: nothing in SUBJECTS_OF reads a {sort.__name__} from a case"
    try:
        return readers[sort](Keys.of(case.data))
    except MissingKeyError as error:
        raise AssertionError(f"{called}: {error.args[0]}, which a {sort.__name__} needs") from error
    except (TypeError, ValueError) as error:
        raise AssertionError(f"{called}: no {sort.__name__} can be made of it: {error}") from error


def _answer(case: Case, subject: Any, limits: Limits) -> Verdict:
    rule, called = _rule(case), _called(case)
    if isinstance(subject, LoadedCompartment):
        kinds = ", ".join(sorted(rule.kinds))
        kind = subject.carrier.kind
        assert rule.speaks_of(kind), f"{called}: kind = {kind.value!r}, but the rule speaks of {kinds} alone"
        return judge(rule, subject, limits)  # whatever rule.asks says: a case may show what it leaves out
    assert rule.asks(subject), f"{called}: the rule has no question to what the case describes"
    if isinstance(subject, RoutedCircuit):
        return judge_circuit(rule, subject, limits)
    return judge_subject(rule, subject, limits)


#: Sort of subject → what reads it from a case; compartments and circuits, which have judges of their own, beside.
SUBJECTS_OF: dict[type, Callable[[dict[str, Any]], Subject]] = {
    CarrierPair: carrier_pair_of,
    CircuitPair: circuit_pair_of,
    DividedFitting: fitting_of,
    Enclosure: lambda data: stacked_enclosure_of(data) if "stacked" in data else enclosure_of(data),
    FilledCompartment: filled_of,
    LoadedRun: run_of,
    ModelledCarrier: modelled_carrier_of,
    Penetration: lambda data: penetration_of(data, subject_of),
}
