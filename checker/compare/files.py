"""The files of a comparison: ``changes.csv`` and ``compare.json``. What is the same stands in the counts alone."""

import csv
import dataclasses
import io
from collections.abc import Iterable
from typing import Any

from pydantic_core import to_json

from checker.compare.sources import source_pairs
from checker.compare.tables import CarrierChange, Cause, CircuitChange, Comparison, FindingChange
from checker.report.csv_files import Cell, text_of

FORMAT = "wayroom-comparison"
FORMAT_VERSION = 1
COLUMNS = (
    "sort", "change", "cause", "where", "storey", "rule", "circuits", "verdict_old", "verdict_new", "old", "new", "use_old", "use_new",
    "length_m_old", "length_m_new", "what", "id_old", "id_new",
)  # fmt: skip


def changes_csv(comparison: Comparison) -> bytes:
    """A row for each finding, carrier and circuit that isn't the same; ``sort`` says which it is.

    ``id_old`` and ``id_new`` are a finding's id, a carrier's GlobalId, or a circuit's mark. Last come rows of the sorts ``difference``, by
    what both differ as a whole, and ``source``, of what each side is: what it is in ``where``, a file's SHA-256 in ``old`` and ``new``.
    """
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in _rows(comparison):
        writer.writerow([text_of(row.get(column)) for column in COLUMNS])
    return buffer.getvalue().encode("utf-8")


def _rows(comparison: Comparison) -> Iterable[dict[str, Cell]]:
    for row in comparison.findings:
        if row.change is not FindingChange.SAME:
            yield {
                "sort": "finding", "change": row.change.value, "cause": row.cause.value, "where": row.where, "storey": row.storey,
                "rule": row.rule, "circuits": "; ".join(row.circuits), "verdict_old": row.verdict_old, "verdict_new": row.verdict_new,
                "old": row.old, "new": row.new, "use_old": row.use_old, "use_new": row.use_new, "what": row.what,
                "id_old": row.id_old, "id_new": row.id_new,
            }  # fmt: skip
    for carrier in comparison.carriers:
        if carrier.change is not CarrierChange.SAME:
            yield {
                "sort": "carrier", "change": carrier.change.value, "where": carrier.label, "storey": carrier.storey,
                "old": carrier.size_old, "new": carrier.size_new, "what": carrier.what, "id_old": carrier.global_id_old,
                "id_new": carrier.global_id_new,
            }  # fmt: skip
    for circuit in comparison.circuits:
        if circuit.change is not CircuitChange.SAME:
            yield {
                "sort": "circuit", "change": circuit.change.value, "where": f"circuit {circuit.circuit}", "circuits": circuit.circuit,
                "old": "; ".join(circuit.way_old), "new": "; ".join(circuit.way_new), "length_m_old": circuit.length_m_old,
                "length_m_new": circuit.length_m_new, "what": circuit.what,
                "id_old": "" if circuit.change is CircuitChange.ADDED else circuit.circuit,
                "id_new": "" if circuit.change in {CircuitChange.REMOVED, CircuitChange.NOT_READ} else circuit.circuit,
            }  # fmt: skip
    for one in comparison.differences:
        yield {"sort": "difference", "cause": Cause.FIGURES.value if one.is_figures else "", "what": one.what}
    for where, before, now in source_pairs(comparison):
        yield {"sort": "source", "where": where, "old": before, "new": now}


def as_object(comparison: Comparison, outputs: dict[str, str]) -> dict[str, Any]:
    """A comparison as one object: counts of every class, and rows of what isn't the same.

    Args:
        comparison: What there is to say.
        outputs: File name → SHA-256 of the files written with it; none where none is.
    """
    return {
        "format": FORMAT,
        "format_version": FORMAT_VERSION,
        "exit_status": comparison.exit_status(),
        "outputs": outputs,
        "old": dataclasses.asdict(comparison.old),
        "new": dataclasses.asdict(comparison.new),
        "differences": [dataclasses.asdict(one) for one in comparison.differences],
        "counts": dataclasses.asdict(comparison.counts()),
        "findings": [dataclasses.asdict(row) for row in comparison.findings if row.change is not FindingChange.SAME],
        "carriers": [dataclasses.asdict(row) for row in comparison.carriers if row.change is not CarrierChange.SAME],
        "circuits": [dataclasses.asdict(row) for row in comparison.circuits if row.change is not CircuitChange.SAME],
    }


def compare_json(comparison: Comparison, outputs: dict[str, str]) -> bytes:
    """The bytes of ``compare.json``. A figure without end, as the use of a limit by nothing, is null."""
    return to_json(as_object(comparison, outputs), indent=1, inf_nan_mode="null") + b"\n"
