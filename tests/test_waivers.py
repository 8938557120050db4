"""Findings that somebody waives: which are meant, what becomes of them, and that none is waived by more than was meant."""

import csv
import io
from dataclasses import replace
from datetime import date

import pytest

from checker.report.csv_files import failing_csv, segments_csv, waived_csv
from checker.report.html import report_html
from checker.result.accounting import count, exit_status
from checker.rule import Outcome, Verdict
from checker.rule.waiver import Waiver
from checker.waivers import waive
from tests.installations import carrier, installation, outlet
from tests.report.test_terminal import printed
from tests.waived import CODE, FILL, NOW, W, about, cables, checked, fill, fills, plain, two


def test_a_fail_that_is_named_is_waived_and_says_by_whom_and_until_when() -> None:
    before, after = fill(checked(plain())), fill(checked(plain(), W))
    assert (before.verdict, after.verdict) == ("fail", "waived")
    assert after.reason == f"{before.reason}; waived by R. Okafor until 2027-06-30, whatever the figure: one pull only"
    assert [(one.who, one.why, one.until) for one in after.waived_by] == [("R. Okafor", "one pull only", "2027-06-30")]
    # all else stays as the rule said it
    same = replace(after, verdict="fail", reason=before.reason, waived_by=())
    assert same == replace(before, advice="", tried="", topic="")


def test_nothing_else_changes_its_verdict() -> None:
    before, after = checked(plain()), checked(plain(), W)
    others = [{row.id: row.verdict for row in result.findings if row.rule != FILL} for result in (before, after)]
    assert others[0] == others[1]
    assert about(after) == []


def test_a_pass_that_is_named_stays_one() -> None:
    assert fill(checked(plain(13), W)).verdict == "pass"


def test_counts_and_exit_status_are_as_if_it_passed() -> None:
    before, after = checked(plain()), checked(plain(), W)
    told = count(after)
    assert (told.findings_waived, told.findings_fail) == (1, count(before).findings_fail - 1)
    whole = told.findings_pass + told.findings_fail + told.findings_unknown + told.findings_waived
    assert whole == len(after.findings) == len(before.findings)
    assert told.carriers_checked == 1
    # alone: what isn't known of ratings is left out
    assert exit_status(replace(before, findings=(fill(before),))) == 1
    assert exit_status(replace(after, findings=(fill(after),))) == 0


def test_no_note_is_made_of_it_it_is_in_no_list_of_failing_and_nothing_is_tried() -> None:
    before, after = checked(plain()), checked(plain(), W)
    assert fill(before).id in {row for topic in before.topics for row in topic.members}
    assert fill(after).id not in {row for topic in after.topics for row in topic.members}
    listed_ = [row["finding"] for row in csv.DictReader(io.StringIO(failing_csv(after).decode("utf-8")))]
    assert fill(after).id not in listed_
    assert any(fill(before).id in row.findings for row in before.remedies)
    assert not any(fill(after).id in row.findings for row in after.remedies)
    assert (fill(after).advice, fill(after).tried) == ("", "")


def test_the_table_of_segments_says_waived() -> None:
    (row,) = csv.DictReader(io.StringIO(segments_csv(checked(plain(), W)).decode("utf-8")))
    assert (row["verdict"], row["limit"]) == ("waived", "0.45")
    assert "waived by R. Okafor until 2027-06-30, whatever the figure: one pull only" in row["reason"]


def test_page_and_terminal_say_by_whom_until_when_and_why() -> None:
    result = checked(plain(), W)
    page = report_html(result).decode("utf-8")
    section = page[page.index("Waived (1)") :]
    assert "47.7 %" in section
    assert "waived by R. Okafor until 2027-06-30, whatever the figure: one pull only" in section
    assert "Waivers of findings (1)" in section
    assert "<td>whatever the figure</td>" in section
    lines = printed(result)
    at = lines.index("Waived, and by whom:")
    assert lines[at + 1].endswith("waived by R. Okafor until 2027-06-30, whatever the figure: one pull only")
    assert "Waivers to see to:" not in lines


def test_the_result_has_a_row_for_each_waiver() -> None:
    result = checked(plain(), W)
    (row,) = result.waivers
    assert (row.names, row.who, row.why, row.until) == (
        "fill.compartment at T1",
        "R. Okafor",
        "one pull only",
        "2027-06-30",
    )
    assert (row.state, row.reason, row.findings, row.finding) == ("holds", "", (fill(result).id,), "")


@pytest.mark.parametrize(
    ("changes", "waives"),
    [
        ({}, {"T1"}),
        ({"carriers": ("T?",)}, {"T1", "T2"}),
        ({"carriers": ("*2",)}, {"T2"}),
        ({"carriers": ("t1",)}, set()),  # case counts, as in every pattern of the file
        ({"carriers": ("T1", "T2")}, {"T1", "T2"}),
        ({"compartment": 1}, {"T1"}),
        ({"compartment": 2}, set()),
        ({"circuits": ("C1",)}, {"T1"}),
        ({"circuits": ("C2",)}, set()),  # all that is given must fit
        ({"carriers": (), "circuits": ("C2",)}, {"T2"}),
        ({"rule": "fill.tray"}, set()),
        ({"rule": "segregation.compartment"}, set()),
    ],
)
def test_rule_and_place_say_which_finding_is_meant(changes: dict[str, object], waives: set[str]) -> None:
    verdicts = fills(checked(two(), replace(W, **changes)))  # type: ignore[arg-type]
    assert {key for key, verdict in verdicts.items() if verdict == "waived"} == waives
    assert {key for key, verdict in verdicts.items() if verdict == "fail"} == {"T1", "T2"} - waives


def test_a_circuit_that_comes_in_later_is_not_waived_with_those_that_are_named() -> None:
    """8 + 6 cables are 14; a waiver of C1 alone says nothing of C1 and C2 together."""
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    length = carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))
    inst = installation(length, cables("C1", 8), cables("C2", 6), *outlets)
    assert fill(checked(inst, replace(W, circuits=("C1",)))).verdict == "fail"
    assert fill(checked(inst, replace(W, circuits=("C1", "C2")))).verdict == "waived"


@pytest.mark.parametrize("called", ["FT-7", "Floor trunking", "G-1", "M-9"])
def test_a_carrier_is_meant_by_its_tag_name_mark_or_global_id(called: str) -> None:
    inst = plain()
    (length,) = inst.carriers
    place = replace(length.place, global_id="G-1", tag="FT-7", name="Floor trunking", mark="M-9")
    inst = replace(inst, carriers=(replace(length, place=place),))
    assert fill(checked(inst, replace(W, carriers=(called,)))).verdict == "waived"


@pytest.mark.parametrize(
    ("carriers", "circuits", "verdict"),
    [
        (("T1",), (), "fail"),
        (("T1", "T2"), (), "waived"),
        (("T?",), (), "waived"),
        ((), ("C1",), "fail"),
        ((), ("C1", "C2"), "waived"),
        (("T1", "T2"), ("C2",), "fail"),
    ],
)
def test_of_what_is_found_of_several_all_must_be_named(
    carriers: tuple[str, ...], circuits: tuple[str, ...], verdict: str
) -> None:
    """Two lengths that run too near each other: who waives that of one of them may not have known which the other is."""
    row = replace(fill(checked(plain())), id="pair", carriers=("T1", "T2"), compartment=None, circuits=("C1", "C2"))
    (found,) = waive([replace(W, carriers=carriers, circuits=circuits)], [row], two(), CODE, NOW).findings
    assert found.verdict == verdict


@pytest.mark.parametrize("what", [{"carriers": ("T1",)}, {"carriers": (), "circuits": ("C1",)}])
def test_what_names_no_carrier_or_no_circuit_is_not_meant_by_one(what: dict[str, tuple[str, ...]]) -> None:
    row = replace(fill(checked(plain())), id="whole", carriers=(), compartment=None, circuits=())
    (found,) = waive([replace(W, **what)], [row], plain(), CODE, NOW).findings  # type: ignore[arg-type]
    assert found.verdict == "fail"


def test_a_finding_is_meant_by_its_id_or_by_the_guid_of_its_issue() -> None:
    before = checked(two())
    row = next(row for row in before.findings if row.rule == FILL and row.carriers == ("T2",))
    for issue in (row.id, row.topic):
        assert issue
        verdicts = fills(checked(two(), Waiver(W.who, W.why, W.until, issue=issue)))
        assert verdicts == {"T1": "fail", "T2": "waived"}


NO_ONE = "00000000-0000-0000-0000-000000000000"


def test_an_issue_that_there_is_none_of_waives_nothing_and_is_told() -> None:
    result = checked(plain(), Waiver(W.who, W.why, W.until, issue=NO_ONE))
    assert fill(result).verdict == "fail"
    assert about(result) == [("waiver.unmatched", "unknown")]
    assert "has that GUID" in result.waivers[0].reason


def test_an_answer_says_by_whom_it_is_waived_as_its_finding_does() -> None:
    found = waive([W], [fill(checked(plain()))], plain(), CODE, NOW)
    verdict = Verdict(Outcome.FAIL, "over")
    (change,) = found.changes.values()
    told = "over; waived by R. Okafor until 2027-06-30, whatever the figure: one pull only"
    assert change.of(verdict) == replace(verdict, outcome=Outcome.WAIVED, reason=told, waived_by=(W,))


def test_what_is_not_known_stays_unknown_and_says_so() -> None:
    inst = plain()
    (one,) = inst.circuits
    inst = replace(inst, circuits=(replace(one, cables=tuple(replace(cable, count=None) for cable in one.cables)),))
    before, after = checked(inst), checked(inst, W)
    assert (fill(before).verdict, fill(after).verdict) == ("unknown", "unknown")
    assert fill(after).reason == f"{fill(before).reason}; R. Okafor would have it waived, but only a fail can be waived"
    assert about(after) == [("waiver.unmatched", "unknown")]
    assert "1 is unknown, and only a fail can be waived" in after.waivers[0].reason


def test_a_table_has_all_that_is_waived_with_whose_decision_it_is() -> None:
    other = replace(W, who="=L. Strand", why="measured", until=date(2028, 1, 31), up_to=0.5)
    (row,) = csv.DictReader(io.StringIO(waived_csv(checked(plain(), W, other)).decode("utf-8")))
    assert (row["segment"], row["rule"], row["found"], row["wanted"]) == ("T1", FILL, "47.7 %", "45 %")
    # a text that a spreadsheet would run begins with an apostrophe
    assert row["waived_by"] == "'=L. Strand; R. Okafor"
    assert (row["why"], row["until"]) == ("measured; one pull only", "2028-01-31; 2027-06-30")
    assert row["up_to"] == "0.5; "
    assert list(csv.DictReader(io.StringIO(waived_csv(checked(plain())).decode("utf-8")))) == []


def test_words_of_a_waiver_are_no_markup_on_the_page_and_in_the_terminal() -> None:
    hostile = replace(W, who="<script>alert(1)</script>", why="[bold]x[/bold] & <b>")
    result = checked(plain(), hostile)
    page = report_html(result).decode("utf-8")
    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert any("[bold]x[/bold] & <b>" in line for line in printed(result))
