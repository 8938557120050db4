"""What is said of each carrier: names, types and values of the properties, from the result and nothing else."""

import math
import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from checker.result.archive import NO_TIME, utc
from checker.result.gravity import gravity
from checker.result.tables import CarrierRow, CompartmentRow, FindingRow, Result
from checker.rule.verdict import SEVERITY, Outcome

#: Of a ratio: more than any limit has, and no noise of the last figures.
DIGITS = 9
#: The property that every set has, and the names of all that sets may have. A name that isn't written any more stays, since models have it.
ALWAYS = "WorstVerdict"
NAMES = re.compile(
    r"(?:Compartment\d{1,9})?(?:Fill(?:IsAtLeast|Limit|Measure|Verdict|Rule)?|WorstVerdict)|FillCompartment|Worst(?:Rule|Reason|Clause)"
    r"|(?:Findings|Rules)(?:Fail|Unknown|Waived)|WaivedBy|Code|CodeEdition|CheckedAt|CheckedBy"
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One property: its name, the IFC type of its value, and the value; a tuple is a list of values."""

    name: str
    measure: str
    value: str | float | int | bool | tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Annotation:
    """All that is said of one carrier. ``key`` and ``global_id`` are the carrier's; ``facts`` have names of their own each."""

    key: str
    global_id: str
    label: str
    facts: tuple[Fact, ...]


def annotations(result: Result, model: str, fill_rules: Collection[str], *, has_times: bool) -> list[Annotation]:
    """What is said of the carriers of one model, in the result's order.

    Args:
        result: What was found.
        model: The model, by the name that the result has for it.
        fill_rules: The ids of the rules that say how full a carrier is.
        has_times: Whether the model's release has a type for times.
    """
    compartments: dict[str, list[CompartmentRow]] = defaultdict(list)
    for row in result.compartments:
        compartments[row.carrier].append(row)
    findings: dict[str, list[FindingRow]] = defaultdict(list)
    for finding in sorted(result.findings, key=gravity):
        for key in dict.fromkeys(finding.carriers):
            findings[key].append(finding)
    how = tuple(_how(result, has_times=has_times))
    return [
        Annotation(
            row.key,
            row.place.global_id,
            row.place.label,
            (*_of_carrier(row, compartments[row.key], findings[row.key], fill_rules), *how),
        )
        for row in result.carriers
        if row.place.model == model
    ]


def _of_carrier(
    row: CarrierRow, compartments: list[CompartmentRow], findings: list[FindingRow], fill_rules: Collection[str]
) -> Iterator[Fact]:
    rules = {
        found.compartment: found.rule for found in findings if found.rule in fill_rules and found.carriers == (row.key,)
    }
    if compartments:
        fullest = max(compartments, key=_by_fill)
        yield from _fill("", fullest, rules)
        if len(compartments) > 1:
            yield Fact("FillCompartment", "IfcInteger", fullest.number)
    yield Fact(ALWAYS, "IfcLabel", row.worst_verdict)
    worst = next((finding for finding in findings if finding.verdict == row.worst_verdict), None)
    if worst is not None:
        yield Fact("WorstRule", "IfcIdentifier", worst.rule)
        yield Fact("WorstReason", "IfcText", worst.reason)
        yield Fact("WorstClause", "IfcText", worst.source)
    if len(compartments) > 1:
        for one in compartments:
            yield from _fill(f"Compartment{one.number}", one, rules)
            yield Fact(f"Compartment{one.number}WorstVerdict", "IfcLabel", one.worst_verdict)
    for verdict in (Outcome.FAIL, Outcome.UNKNOWN, Outcome.WAIVED):
        those = [finding for finding in findings if finding.verdict == verdict.value]
        if those:
            yield Fact(f"Rules{verdict.value.capitalize()}", "IfcIdentifier", _once(one.rule for one in those))
            yield Fact(f"Findings{verdict.value.capitalize()}", "IfcIdentifier", tuple(one.id for one in those))
    waivers = _once(
        f"{finding.rule}: {waiver.who}, until {waiver.until}: {waiver.why}"
        for finding in findings
        for waiver in finding.waived_by
    )
    if waivers:
        yield Fact("WaivedBy", "IfcText", waivers)


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


def _by_fill(row: CompartmentRow) -> tuple[int, float, int]:
    """The one that speaks for the carrier: by its verdict, then by how full it is, then the first."""
    return SEVERITY[Outcome(row.verdict)], row.utilisation or 0.0, -row.number


def _fill(before: str, row: CompartmentRow, rules: dict[int | None, str]) -> Iterator[Fact]:
    """Fill, limit and verdict of a compartment; what isn't known is left out."""
    if _is_known(row.fill):
        yield Fact(f"{before}Fill", "IfcRatioMeasure", round(row.fill or 0.0, DIGITS))
        if row.at_least:
            yield Fact(f"{before}FillIsAtLeast", "IfcBoolean", True)
    if _is_known(row.limit):
        yield Fact(f"{before}FillLimit", "IfcRatioMeasure", round(row.limit or 0.0, DIGITS))
    yield Fact(f"{before}FillMeasure", "IfcLabel", row.measure)
    yield Fact(f"{before}FillVerdict", "IfcLabel", row.verdict)
    yield Fact(f"{before}FillRule", "IfcIdentifier", rules.get(row.number, ""))


def _is_known(number: float | None) -> bool:
    return number is not None and math.isfinite(number)


def _how(result: Result, *, has_times: bool) -> Iterable[Fact]:
    """By what it was judged, when and by whom."""
    yield Fact("Code", "IfcIdentifier", result.code)
    yield Fact("CodeEdition", "IfcLabel", result.code_title)
    time = utc(result.created)
    if time is not None and time != NO_TIME:  # else the models name none
        yield Fact("CheckedAt", "IfcDateTime" if has_times else "IfcLabel", result.created)
    yield Fact("CheckedBy", "IfcLabel", f"Wayroom {result.version}")
