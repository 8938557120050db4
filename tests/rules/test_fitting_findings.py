"""From what is declared of a fitting to the finding and to the issue that a person would raise."""

from dataclasses import replace

import pytest

from checker.assemble import carrier_rows, compartment_rows
from checker.findings import finding_rows
from checker.judging import judge_all, judge_subjects
from checker.model import Confidence, Fitting, FittingKind, Installation, Partition, Service
from checker.network.loading import load
from checker.network.routing import route_all
from checker.result.tables import FindingRow
from checker.result.topics import group_findings
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
TEE = fitting("TEE", (1000.0, 0.0, 0.0), FittingKind.TEE, 60.0)


def site(tee: Fitting | None, confidence: Confidence = Confidence.HIGH) -> Installation:
    """Three lengths of two compartments at a tee; power passes in the first, data rated 125 V in the second."""
    section = replace(STEEL_50, lanes=lanes(Service.POWER, Service.DATA), confidence=confidence)
    parts = (
        carrier("A", (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), section),
        carrier("B", (1000.0, 0.0, 0.0), (2000.0, 0.0, 0.0), section),
        carrier("C", (1000.0, 0.0, 0.0), (1000.0, 1000.0, 0.0), section),
    )
    power = circuit("P", "A", "B", voltage_v=230.0)
    data = circuit("D", "A", "B", service=Service.DATA, voltage_v=5.0)
    rated = [
        replace(item, cables=(replace(item.cables[0], rated_voltage_v=volts),))
        for item, volts in ((power, 750.0), (data, 125.0))
    ]
    return installation(*parts, *rated, *([] if tee is None else [tee]))


def findings(tee: Fitting | None, confidence: Confidence = Confidence.HIGH) -> tuple[FindingRow, ...]:
    inst = site(tee, confidence)
    loading = load(inst, route_all(inst), CODE.sizes)
    return finding_rows(inst, [], [], CODE, judge_subjects(loading.fittings, PLUGINS.rules, CODE))


@pytest.mark.parametrize(
    ("partition", "verdict"), [(Partition.KEPT, "pass"), (Partition.OPEN, "fail"), (None, "unknown")]
)
def test_a_finding_names_all_carriers_that_meet_and_no_compartment(partition: Partition | None, verdict: str) -> None:
    (found,) = findings(replace(TEE, partition=partition, partition_why="as ordered"))
    assert (found.rule, found.verdict) == ("segregation.fitting", verdict)
    assert (found.carriers, found.compartment, found.circuits) == (("A", "B", "C"), None, ("D", "P"))
    assert "TEE" in found.reason
    assert ("as ordered" in found.reason) is (partition is not None)


def test_a_finding_is_the_same_whatever_is_declared_and_another_where_another_fitting_is() -> None:
    ids = {findings(replace(TEE, partition=partition))[0].id for partition in (None, *Partition)}
    assert len(ids) == 1
    other, none = findings(replace(TEE, key="TEE-2"))[0].id, findings(None)[0].id
    assert len({*ids, other, none}) == 3


def test_a_failing_one_becomes_an_issue_and_an_unknown_one_does_not() -> None:
    for partition, issues in ((Partition.OPEN, 1), (None, 0)):
        inst = site(replace(TEE, partition=partition))
        loading = load(inst, route_all(inst), CODE.sizes)
        rows = compartment_rows(loading, judge_all(loading, PLUGINS.rules, CODE), [])
        carriers = {row.key: row for row in carrier_rows(inst, loading, rows)}
        groups = group_findings(findings(replace(TEE, partition=partition)), carriers, {})
        assert len(groups) == issues


def test_dividers_that_are_a_guess_are_said_beside_what_rests_on_them() -> None:
    opened = replace(TEE, partition=Partition.OPEN)
    assert "how A, B, C is divided is of low confidence" in findings(opened, Confidence.LOW)[0].reason
    assert "confidence" not in findings(opened)[0].reason
    assert "confidence" not in findings(TEE, Confidence.LOW)[0].reason  # unknown rests on nothing
