"""Results that are compared in tests, and what is said of them by what it is about."""

from dataclasses import replace

from checker.compare.tables import Cause, Comparison
from checker.model import SourceFile
from checker.result.network_tables import TakeOffRow
from checker.result.tables import CarrierRow, CircuitRow, FindingRow, Result
from tests.report.results import finding, global_id, small_result

#: The lengths of small_result, in the order of its fills.
LENGTHS = ("T-001, compartment 1", "T-002, compartment 1", "T-003, compartment 1", "T-003, compartment 2", "T-004, compartment 1",
           "T-005, compartment 1")  # fmt: skip
PASSING = (0.1,) * 6


def changes(comparison: Comparison) -> dict[str, str]:
    return {row.where: row.change.value for row in comparison.findings}


def causes(comparison: Comparison) -> dict[str, str]:
    return {row.where: row.cause.value for row in comparison.findings if row.cause is not Cause.NONE}


def first(comparison: Comparison) -> tuple[str, str]:
    """The class of what became of T-001, and its cause."""
    return changes(comparison)[LENGTHS[0]], causes(comparison).get(LENGTHS[0], "")


def with_carrier(result: Result, place: int, row: CarrierRow) -> Result:
    """A result in which a carrier is another, and all that names it names that."""
    old = result.carriers[place].key
    rows = list(result.carriers)
    rows[place] = row

    def renamed(finding_row: FindingRow) -> FindingRow:
        if finding_row.carriers != (old,):
            return finding_row
        part = next(
            part for part in result.compartments if (part.carrier, part.number) == (old, finding_row.compartment)
        )
        return replace(finding(row, replace(part, carrier=row.key)), topic="")

    return replace(
        result,
        carriers=tuple(rows),
        compartments=tuple(replace(part, carrier=row.key) if part.carrier == old else part for part in result.compartments),
        findings=tuple(map(renamed, result.findings)),
    )  # fmt: skip


def shifted(row: CarrierRow, by_mm: float, number: int | None = None) -> CarrierRow:
    """A carrier that lies elsewhere; with a number one with another GlobalId."""
    boxes = tuple(replace(box, corner_mm=(box.corner_mm[0] + by_mm, *box.corner_mm[1:])) for box in row.boxes)
    if number is None:
        return replace(row, boxes=boxes)
    guid = global_id(number)
    return replace(row, boxes=boxes, key=guid, place=replace(row.place, global_id=guid))


def with_circuits(*rows: CircuitRow, cables: int = 3) -> Result:
    result = small_result(PASSING)
    take_off = tuple(
        TakeOffRow(row.circuit, 0, "single 2.5", row.origin, "S-1", cables, 12.5, 0.75, 13.25, row.carriers)
        for row in rows
    )
    return replace(result, circuits=rows, take_off=take_off)


def way(*numbers: int) -> tuple[str, ...]:
    return tuple(global_id(number) for number in numbers)


def judged_by(result: Result, limit: float, code_sha: str = "a", model_sha: str = "b") -> Result:
    """A result as another edition of the code gives it: with its limit, and its file."""
    files = (
        SourceFile("model", "m.ifc", model_sha * 64, ifc_project=global_id(900)),
        SourceFile("code", "c.toml", code_sha * 64),
    )
    findings = tuple(
        replace(row, limit=limit, verdict="fail" if row.value is not None and row.value > limit else "pass")
        for row in result.findings
    )
    return replace(result, files=files, findings=findings)
