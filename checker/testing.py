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

Of a rule about circuits, see ``checker.testing_circuits``; its answers may also have ``capacity_a``, ``required_a``, ``base_a``, ``ca``,
``cg``, ``ch``, ``no_capacity_a``, ``governs`` (the number of the carrier, from 1) and ``assumes`` (a list).

A case of a rule about places where divided carriers meet names with each cable the ``compartment`` that it passes in (left out: not known),
and may have ``partition`` with its ``partition_why``, and ``no_fitting = true``.

Further keys: ``area_least_mm2``, ``width_mm``, ``width_least_mm``, ``side_mm``, ``side_least_mm``, ``bore_mm``, ``possible``,
``unbounded``, ``run = { length_m, bends_deg, between_enclosures }``;
``perforated``, ``outside_diameter_mm`` and ``outside_width_mm`` of the carrier; of a cable ``diameter_least_mm``, where its size is a range;
``checker.model.LoadedCompartment`` and ``Laying`` explain them.
"""

import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from checker.model import (
    Carrier,
    CarrierKind,
    CarrierPair,
    CircuitPair,
    DividedFitting,
    Enclosure,
    FilledCompartment,
    Fitting,
    FittingKind,
    Lane,
    Laying,
    LoadedCompartment,
    LoadedRun,
    ModelledCarrier,
    Partition,
    Passing,
    Penetration,
    Place,
    PlacedCable,
    RoutedCircuit,
    Run,
    Section,
    Service,
    Subject,
)
from checker.rule import Limits, Rating, Verdict, judge, judge_circuit, judge_subject
from checker.rule.plugins import load_plugins
from checker.testing_circuit_pairs import circuit_pair_of
from checker.testing_circuits import routed_circuit_of
from checker.testing_enclosures import enclosure_of
from checker.testing_filled import filled_of
from checker.testing_keys import Keys, digits_of, figure
from checker.testing_limits import rule_and_limits
from checker.testing_modelled import modelled_carrier_of
from checker.testing_pairs import carrier_pair_of
from checker.testing_penetration import penetration_of
from checker.testing_runs import run_of
from checker.testing_stacks import stacked_enclosure_of
from checker.units import circle_area_mm2

#: What every rule's cases show at the least, as words in the names of cases.
NEEDED = ("pass", "fail", "exactly at the limit", "missing", "empty", "published")


@dataclass(frozen=True, slots=True)
class Case:
    """One case of one rule, as its file has it."""

    rule: str
    name: str
    data: dict[str, Any]


def read_cases(path: Path) -> Iterator[Case]:
    """The cases of a file, which bears the rule's id as its name."""
    for data in tomllib.loads(path.read_text(encoding="utf-8"), parse_float=figure)["case"]:
        yield Case(path.stem, data["name"], data)


def limits_of(case: Case) -> Limits:
    """The limits that a case is asked with.

    Raises:
        AssertionError: Its code, rule or limit isn't there.
    """
    return rule_and_limits(case.rule, case.data, f"{case.rule}, {case.name}", load_plugins())[1]


def answer_of(case: Case, limits: Limits) -> Verdict:
    """What the rule answers to what a case describes.

    Raises:
        AssertionError: It can't be asked.
    """
    data, rule = case.data, load_plugins().rules[case.rule]
    if rule.subject is RoutedCircuit:
        return judge_circuit(rule, routed_circuit_of(data), limits)
    if rule.subject is LoadedCompartment:
        return judge(rule, subject_of(data), limits)
    told = f"{case.rule}, {case.name}"
    assert rule.subject in SUBJECTS_OF, f"{told}: nothing in SUBJECTS_OF reads a {rule.subject.__name__} from a case"
    subject = SUBJECTS_OF[rule.subject](data)
    assert rule.asks(subject), f"{told}: the rule has no question to what the case describes"
    return judge_subject(rule, subject, limits)


def run_case(case: Case) -> Verdict:
    """Asks the rule.

    Raises:
        AssertionError: The answer isn't the expected one, the case doesn't say where that comes from, or it can't be asked: its code, rule
            or limit isn't there, or it has a key that nobody asks for.
    """
    data = Keys(case.data)
    case = replace(case, data=data)
    verdict = answer_of(case, limits_of(case))
    told = f"{case.rule}, {case.name}: {verdict}"
    assert data.get("source"), f"{told}: the case names no source"
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
    for name in ("value", "capacity_a", "required_a", "base_a", "ca", "cg", "ch"):
        if name in data:
            found = figures.get(name)
            assert found is not None, told
            assert abs(found - data[name]) <= 0.5 * 10 ** -digits_of(data[name]) + 1e-12, f"{name}: {told}"
    if "governs" in data:
        assert rating.carrier == f"carrier-{data['governs']}", told
    for text in data.get("assumes", []):
        assert text in rating.assumptions, told
    unasked = data.unasked
    assert not unasked, (
        f"{case.rule}, {case.name}: no case of {case.rule} has the key {unasked[0]!r}, so it shows nothing"
    )
    return verdict


def subject_of(data: dict[str, Any]) -> LoadedCompartment:
    """The compartment that a case describes."""
    kind = CarrierKind(data["kind"])
    section = Section(width_mm=data.get("outside_width_mm"), outside_diameter_mm=data.get("outside_diameter_mm"))
    laying = Laying(perforated=data.get("perforated"))
    run = data.get("run")
    bore = data.get("bore_mm")
    return LoadedCompartment(
        carrier=Carrier("carrier", Place("carrier", "case"), kind, section, laying=laying),
        number=1,
        area_mm2=data.get("area_mm2", circle_area_mm2(bore) if bore else None),
        area_least_mm2=data.get("area_least_mm2"),
        width_mm=data.get("width_mm"),
        width_least_mm=data.get("width_least_mm"),
        side_mm=data.get("side_mm"),
        side_least_mm=data.get("side_least_mm"),
        bore_mm=bore,
        size_doubt="the wall isn't known" if "area_least_mm2" in data else "",
        cables=tuple(_cable(number, cable) for number, cable in enumerate(data.get("cables", []))),
        possible=tuple(_cable(number, cable) for number, cable in enumerate(data.get("possible", []), start=100)),
        possible_doubts=("a circuit isn't routed",) if data.get("possible") or data.get("unbounded") else (),
        unbounded=data.get("unbounded", False),
        run=None
        if run is None
        else Run(1, ("carrier",), run.get("length_m"), run.get("bends_deg"), run.get("between_enclosures")),
    )


def fitting_of(data: dict[str, Any]) -> DividedFitting:
    """The place that a case describes: three carriers of a kind and two compartments meet at a tee; all passes from one to another."""
    kind, lanes = CarrierKind(data["kind"]), (Lane(1), Lane(2))
    keys = ("L-1", "L-2", "L-3")
    partition = data.get("partition")
    tee = Fitting(
        "TEE-1",
        Place("TEE-1", "case", tag="TEE-1"),
        FittingKind.TEE,
        partition=Partition(partition) if partition else None,
        partition_why=data.get("partition_why", ""),
    )
    return DividedFitting(
        None if data.get("no_fitting") else tee,
        tuple(Carrier(key, Place(key, "case", tag=key), kind, Section(lanes=lanes)) for key in keys),
        passing=tuple(
            Passing(tuple((key, cable.get("compartment")) for key in keys[:2]), (_cable(number, cable),))
            for number, cable in enumerate(data.get("cables", []))
        ),
        possible=tuple(_cable(number, cable) for number, cable in enumerate(data.get("possible", []), start=100)),
        possible_doubts=("a circuit isn't routed",) if data.get("possible") or data.get("unbounded") else (),
        unbounded=data.get("unbounded", False),
    )


def _cable(number: int, data: dict[str, Any]) -> PlacedCable:
    diameter, least = data.get("diameter_mm"), data.get("diameter_least_mm")
    service = data.get("service", "power")
    return PlacedCable(
        circuit=data.get("circuit", f"C{number}"),
        service=Service(service) if service else None,
        key="",
        count=data.get("count"),
        area_mm2=data.get("area_mm2", circle_area_mm2(diameter) if diameter else None),
        area_least_mm2=circle_area_mm2(least) if least else None,
        diameter_mm=diameter,
        diameter_least_mm=least,
        width_mm=data.get("width_mm"),
        csa_mm2=data.get("csa_mm2"),
        awg_kcmil=data.get("awg_kcmil", ""),
        cores=data.get("cores"),
        stranded=data.get("stranded"),
        rated_voltage_v=data.get("rated_voltage_v"),
        voltage_v=data.get("voltage_v"),
    )


#: Sort of subject → what reads it from a case.
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
