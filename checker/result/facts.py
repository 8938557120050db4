"""What the merger of notes must know of a run besides its notes."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.result.notes import code_word, shown
from checker.result.provenance import document_words, is_time_given
from checker.result.request_groups import all_asked
from checker.result.tables import CarrierRow, FindingRow, Result
from checker.result.waiver_tables import NO_LONGER


@dataclass(frozen=True, slots=True)
class Judgement:
    """What this run says of one finding, in words for a comment.

    ``carriers``: the keys of those that it is about; ``ran_out``: whose waiver of it did, and when.
    """

    label: str
    verdict: str
    shown: str
    reason: str
    code: str
    rule: str = ""
    carriers: tuple[str, ...] = ()
    ran_out: str = ""


#: What a finding is about, as its id has it: keys of carriers, a compartment, and the mark of a circuit that it is of.
Subject = tuple[tuple[str, ...], int | None, str]


@dataclass(frozen=True, slots=True)
class RunFacts:
    """What the merger must know of a run besides its notes: ``models`` are those that were read, ``projects`` those of each IfcProject.

    ``code`` is as in ``State``, ``code_title`` for people. ``subjects``: the ids of the findings about each; none of a carrier, a
    compartment or a circuit that no rule asked about. ``questions`` are those asked, by their ids, whether a note asks them or not.
    ``document`` is the revision and status that the project gives its documents, in words. ``is_time_given``: whether ``created`` is a
    time that was asked for, and not the newest model's.
    """

    created: str
    findings: dict[str, Judgement] = field(default_factory=dict)
    rules: frozenset[str] = frozenset()
    projects: Mapping[str, frozenset[str]] = field(default_factory=dict)
    models: frozenset[str] = frozenset()
    code: str = ""
    code_title: str = ""
    project_key: str = ""
    carriers: tuple[CarrierRow, ...] = ()
    subjects: dict[Subject, list[str]] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)
    document: str = ""
    has_schedule: bool = False
    is_time_given: bool = False


def run_facts(result: Result) -> RunFacts:
    """The facts of a result."""
    labels = {row.key: row.place.label for row in result.carriers}
    models = [file for file in result.files if file.role == "model"]
    return RunFacts(
        result.created,
        {row.id: _judgement(row, labels) for row in result.findings},
        frozenset(row.rule for row in result.findings),
        {
            own: frozenset(file.name for file in models if file.ifc_project == own)
            for file in models
            if (own := file.ifc_project)
        },
        frozenset(file.name for file in models),
        code_word(result),
        result.code_title,
        result.project_key,
        result.carriers,
        _subjects(result),
        all_asked(result),
        document_words(result.revision, result.status),
        any(file.role == "schedule" for file in result.files),
        is_time_given(result.created, result.files),
    )


def _subjects(result: Result) -> dict[Subject, list[str]]:
    found: dict[Subject, list[str]] = {((row.key,), None, ""): [] for row in result.carriers}
    found |= {((row.carrier,), row.number, ""): [] for row in result.compartments}
    found |= {((), None, row.circuit): [] for row in result.circuits}
    for row in result.findings:
        subject = (
            ((), None, row.circuits[0]) if row.is_of_circuit and row.circuits else (row.carriers, row.compartment, "")
        )
        found.setdefault(subject, []).append(row.id)
    return found


def _judgement(row: FindingRow, labels: dict[str, str]) -> Judgement:
    return Judgement(
        _label(row, labels),
        row.verdict,
        shown(row),
        row.reason,
        row.code,
        row.rule,
        row.carriers,
        "; ".join(part.removeprefix(NO_LONGER) for part in row.reason.split("; ") if part.startswith(NO_LONGER)),
    )


def _label(row: FindingRow, labels: dict[str, str]) -> str:
    if row.at:
        return row.at
    label = ", ".join(labels.get(key, key) for key in row.carriers[:2]) or "the installation"
    if row.is_of_circuit:
        label = f"circuit {', '.join(row.circuits)}" + (f" in {label}" if row.carriers else "")
    if len(row.carriers) > 2:
        label += f" and {len(row.carriers) - 2} more"
    if row.compartment is not None:
        label += f", compartment {row.compartment}"
    return label
