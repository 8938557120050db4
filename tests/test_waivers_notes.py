"""Waivers and issue notes over revisions: an issue that is waived is told in its note, and waives no more than people saw in it."""

import io
import zipfile
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from checker.checking import check_installation
from checker.history.merge import merged
from checker.model import Installation
from checker.report import bcf
from checker.result.accounting import count
from checker.result.dialect import DIALECTS, Dialect
from checker.result.facts import run_facts
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from checker.rule.waiver import Waiver
from tests.installations import carrier, circuit, installation, outlet
from tests.test_accounting import installations

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
NOW = "2026-11-28T09:00:00Z"
FILL = "fill.compartment"
LENGTH = 3000.0


def row_of(lengths: int) -> Installation:
    """Lengths in a row with 14 cables of one circuit: 14 · 78.54 / 2304 = 47.7 % of each, and the limit is 45 %."""
    parts = [carrier(f"T{n}", (LENGTH * (n - 1), 0.0, 0.0), (LENGTH * n, 0.0, 0.0)) for n in range(1, lengths + 1)]
    ends = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (LENGTH * lengths, 200.0, 0.0)))
    return installation(*parts, circuit("C1", "DB", "S1", count=14), *ends)


def checked(inst: Installation, *waivers: Waiver, previous: bytes | None = None, now: str = NOW) -> Result:
    return check_installation(inst, CODE, PLUGINS, now=now, waivers=waivers, previous=previous)


def noted(result: Result, previous: bytes | None, dialect: Dialect) -> bytes:
    draft = bcf.draft(result, dialect)
    return bcf.pack(draft) if previous is None else merged(previous, draft, run_facts(result))


def fills(result: Result) -> dict[str, str]:
    return {row.carriers[0]: row.verdict for row in result.findings if row.rule == FILL}


def issue_of(result: Result, key: str) -> str:
    return next(row.topic for row in result.findings if row.rule == FILL and row.carriers == (key,))


def waiver(issue: str, until: date = date(2027, 6, 30)) -> Waiver:
    return Waiver("R. Okafor", "one pull only", until, issue=issue)


def comments(notes: bytes, guid: str) -> list[str]:
    with zipfile.ZipFile(io.BytesIO(notes)) as archive:
        (path,) = [name for name in archive.namelist() if name.lower() == f"{guid}/markup.bcf"]
        root = etree.fromstring(archive.read(path))
    return [found.text or "" for found in root.iter("Comment") if found.text and found.text.strip()]


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=list(DIALECTS))
def test_an_issue_of_earlier_notes_waives_what_it_held_there_and_nothing_that_joined_it_since(dialect: Dialect) -> None:
    first = checked(row_of(2))
    assert fills(first) == {"T1": "fail", "T2": "fail"}
    issue = issue_of(first, "T1")
    assert issue == issue_of(first, "T2")
    notes = noted(first, None, dialect)
    grown = row_of(3)
    assert issue_of(checked(grown, previous=notes), "T3") == issue  # it would join it
    second = checked(grown, waiver(issue), previous=notes)
    assert fills(second) == {"T1": "waived", "T2": "waived", "T3": "fail"}
    # and so does the run after that, which goes on with what that one wrote
    third = checked(grown, waiver(issue), previous=noted(second, notes, dialect))
    assert fills(third) == fills(second)


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=list(DIALECTS))
def test_the_note_of_a_waived_issue_says_so_once_and_again_when_the_waiver_runs_out(dialect: Dialect) -> None:
    first = checked(row_of(2))
    issue = issue_of(first, "T1")
    notes = noted(first, None, dialect)
    second = checked(row_of(2), waiver(issue), previous=notes)
    assert second.topics == ()
    after = noted(second, notes, dialect)
    (told,) = [text for text in comments(after, issue) if "waived" in text]
    assert "by R. Okafor until 2027-06-30, whatever the figure: one pull only" in told
    again = checked(row_of(2), waiver(issue), previous=after)
    assert noted(again, after, dialect) == after
    late = checked(row_of(2), waiver(issue), previous=after, now="2027-07-01T00:00:00Z")
    assert fills(late) == {"T1": "fail", "T2": "fail"}
    assert [(row.rule, row.verdict, row.carriers) for row in late.findings if row.rule.startswith("waiver.")] == [
        ("waiver.expired", "fail", ("T1", "T2"))
    ]
    assert issue_of(late, "T1") == issue
    *before, said = comments(noted(late, after, dialect), issue)
    assert before == comments(after, issue)
    assert said.count("fails now, 47.7 % / 45 % (before: waived; that of R. Okafor ran out on 2027-06-30)") == 2


def test_the_rest_of_an_issue_keeps_its_note_where_one_finding_of_it_is_waived() -> None:
    first = checked(row_of(2))
    issue = issue_of(first, "T1")
    notes = noted(first, None, DIALECTS["2.1"])
    one = next(row.id for row in first.findings if row.rule == FILL and row.carriers == ("T1",))
    second = checked(row_of(2), waiver(one), previous=notes)
    assert fills(second) == {"T1": "waived", "T2": "fail"}
    assert issue_of(second, "T2") == issue
    (topic,) = [topic for topic in second.topics if topic.guid == issue]
    assert topic.carriers == ("T2",)


def test_a_remedy_may_leave_what_is_waived_beside_it_as_it_is() -> None:
    """T1 and T2 fail alike; with T1 waived T2 still has its advice, since trials are judged as if nothing were waived."""
    one = Waiver("R. Okafor", "one pull only", date(2027, 6, 30), rule=FILL, carriers=("T1",))
    result = checked(row_of(2), one)
    by_carrier = {row.carriers[0]: row for row in result.findings if row.rule == FILL}
    assert by_carrier["T2"].advice
    assert not by_carrier["T1"].advice
    assert by_carrier["T1"].tried == ""


PATTERNS = st.lists(st.sampled_from(["K0", "K1", "K?", "G*", "C0", "C*", "C1"]), max_size=2).map(tuple)
WAIVERS = st.lists(
    st.builds(
        Waiver,
        st.sampled_from(["R. Okafor", "L. Strand"]),
        st.just("so"),
        st.sampled_from([date(2026, 1, 1), date(2027, 1, 1)]),
        rule=st.sampled_from([FILL, "fill.conduit", "grouping.rating", "segregation.compartment"]),
        carriers=PATTERNS,
        circuits=PATTERNS,
        compartment=st.sampled_from([None, None, 1, 2]),
        up_to=st.sampled_from([None, None, 0.5, 1.1]),
    ).filter(lambda one: bool(one.carriers or one.circuits)),
    min_size=1,
    max_size=4,
)


@settings(max_examples=40, deadline=None)
@given(installations(), WAIVERS)
def test_waivers_turn_fails_into_waived_and_change_nothing_else(inst: Installation, waivers: list[Waiver]) -> None:
    before, after = checked(inst), checked(inst, *waivers)
    was = {row.id: row for row in before.findings}
    of_rules = {row.id: row for row in after.findings if not row.rule.startswith("waiver.")}
    assert was.keys() == of_rules.keys()
    waived = {key for key, row in of_rules.items() if row.verdict == "waived"}
    assert all(was[key].verdict == "fail" for key in waived)
    assert all(row.verdict == was[key].verdict for key, row in of_rules.items() if key not in waived)
    # what waives says so, and no other
    assert {key for row in after.waivers for key in row.findings} == waived
    assert all(bool(row.waived_by) == (key in waived) for key, row in of_rules.items())
    # nobody's waiver goes unseen: each waives something, or is a finding
    about = {row.id: row for row in after.findings if row.rule.startswith("waiver.")}
    assert len(after.waivers) == len(set(waivers))
    assert all(row.findings or row.finding in about for row in after.waivers)
    assert all(not row.findings or row.finding not in about for row in after.waivers if row.state != "exceeded")
    assert len(about) == sum(bool(row.finding) for row in after.waivers)
    fails = {row.carriers for row in of_rules.values() if row.verdict == "fail"}
    assert all(row.verdict == "unknown" or fails for row in about.values())
    # the counts
    told = count(after)
    whole = told.findings_pass + told.findings_fail + told.findings_unknown + told.findings_waived
    assert whole == len(after.findings) == len(before.findings) + len(about)
    # what lies in a compartment or circuit that fails is no better than waived
    worst = {(row.carrier, row.number): row.worst_verdict for row in before.compartments}
    for row in after.compartments:
        better = {"fail": {"fail", "unknown", "waived"}}.get(worst[row.carrier, row.number])
        assert row.worst_verdict in (better or {worst[row.carrier, row.number]})
    assert [replace(row, verdict="", reason="") for row in before.ratings] == [
        replace(row, verdict="", reason="") for row in after.ratings
    ]
