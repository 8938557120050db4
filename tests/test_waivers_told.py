"""Waivers that ran out, name nothing any more, or stand beside others: each is told, and none goes unseen."""

import csv
import io
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from checker.checking import check_installation
from checker.model import Installation, SourceFile
from checker.report.csv_files import failing_csv, questions_csv
from checker.report.html import report_html
from checker.report.json_file import result_json, result_schema
from checker.result.accounting import count, exit_status
from checker.rule.loosened import Loosened
from checker.rule.tighten import with_loosened
from checker.rule.waiver import Waiver
from tests.report.test_terminal import printed
from tests.waived import CODE, FILL, NOW, PLUGINS, W, about, checked, fill, plain, two


@pytest.mark.parametrize(
    ("now", "verdict"),
    [("2027-06-30T23:59:59Z", "waived"), ("2027-07-01T00:00:00Z", "fail"), ("2020-01-01T00:00:00Z", "waived")],
)
def test_it_holds_to_the_end_of_its_last_day(now: str, verdict: str) -> None:
    assert fill(checked(plain(), W, now=now)).verdict == verdict


def test_the_day_is_the_newest_models() -> None:
    files = tuple(SourceFile("model", name, "", timestamp=time) for name, time in (("a", "2027-07-09"), ("b", "2027-06-01")))  # fmt: skip
    late = checked(replace(plain(), files=files), W, now=None)
    early = checked(replace(plain(), files=files[1:]), W, now=None)
    assert (fill(late).verdict, fill(early).verdict) == ("fail", "waived")


def test_one_that_ran_out_fails_beside_what_fails_again() -> None:
    result = checked(plain(), W, now="2027-07-01T00:00:00Z")
    assert about(result) == [("waiver.expired", "fail")]
    (row,) = [row for row in result.findings if row.rule == "waiver.expired"]
    assert (row.carriers, row.circuits, row.at) == (("T1",), ("C1",), "waiver by R. Okafor of fill.compartment at T1")
    assert "ran out on 2027-06-30, and the run is of 2027-07-01" in row.reason
    assert fill(result).reason.endswith("; no longer waived: that of R. Okafor ran out on 2027-06-30")
    rows = [one for one in csv.DictReader(io.StringIO(failing_csv(result).decode("utf-8"))) if one["rule"] == row.rule]
    assert [(one["segment"], one["found"]) for one in rows] == [("T1", "ran out on 2027-06-30")]
    # what fails has its own note; the waiver has none, and stands in that
    assert row.id not in {member for topic in result.topics for member in topic.members}
    assert rows[0]["topic"] == row.topic == fill(result).topic == result.topics[0].guid
    lines = printed(result)
    at = lines.index("Waivers to see to:")
    assert lines[at + 1].startswith("  fill.compartment at T1, by R. Okafor: it ran out on 2027-06-30")
    assert "ran out on 2027-06-30" in report_html(result).decode("utf-8")
    assert result.waivers[0].finding == row.id


@pytest.mark.parametrize("waiver", [replace(W, carriers=(), circuits=("*",)), replace(W, carriers=("T*",), up_to=0.46)])
def test_one_of_several_notes_stands_at_each_length_in_the_note_of_that(waiver: Waiver) -> None:
    """14 cables take 47.7 % of either length, beyond 46 %; without that figure the waiver ran out."""
    result = checked(two(), waiver, now=NOW if waiver.up_to else "2027-07-01T00:00:00Z")
    topics = {row.carriers[0]: row.topic for row in result.findings if row.rule == FILL}
    rows = [one for one in csv.DictReader(io.StringIO(failing_csv(result).decode("utf-8"))) if one["rule"] != FILL]
    assert len(set(topics.values())) == 2
    assert {one["segment"]: one["topic"] for one in rows} == topics


def test_one_that_ran_out_where_nothing_fails_is_unknown_so_that_somebody_takes_it_out() -> None:
    result = checked(plain(13), W, now="2027-07-01T00:00:00Z")
    assert about(result) == [("waiver.expired", "unknown")]
    assert "of what it names 1 passes: take it out" in result.waivers[0].reason
    (row,) = [row for row in result.findings if row.rule == "waiver.expired"]
    assert exit_status(replace(result, findings=(row,))) == 3


def test_without_a_time_nothing_is_waived_and_that_is_told() -> None:
    result = checked(plain(), W, now=None)
    assert fill(result).verdict == "fail"
    assert about(result) == [("waiver.expired", "unknown")]
    assert result.waivers[0].state == "no time"


@pytest.mark.parametrize(
    ("inst", "changes", "words"),
    [
        (lambda: plain(13), {}, "of what it names 1 passes"),
        (plain, {"carriers": ("T9",)}, "no carrier is called 'T9'"),
        (plain, {"rule": "fill.area"}, "the code bs-7671 doesn't run that rule"),
        (plain, {"compartment": 4}, "names other carriers, circuits or compartments besides, or instead"),
        (plain, {"rule": "fill.conduit"}, "the rule found nothing of that place"),
    ],
)
def test_one_that_waives_nothing_is_told_with_the_reason(
    inst: Callable[[], Installation], changes: dict[str, object], words: str
) -> None:
    result = checked(inst(), replace(W, **changes))  # type: ignore[arg-type]
    assert about(result) == [("waiver.unmatched", "unknown")]
    (row,) = result.waivers
    assert (row.state, row.findings) == ("waives nothing", ())
    assert words in row.reason
    # once, in a list of its own
    assert len([line for line in printed(result) if row.reason in line]) == 1
    assert row.reason.split("'")[0] in report_html(result).decode("utf-8").replace("&#x27;", "'")


def test_what_a_looser_limit_waives_already_is_told() -> None:
    """47.7 % is within 50 %, which the project waives the limit to."""
    loose = Loosened(FILL, "space_factor", 0.5, "L. Strand", "laid in", date(2027, 6, 30))
    code = with_loosened(CODE, [loose], "")
    result = check_installation(plain(), code, PLUGINS, now=NOW, waivers=[W])
    assert [one.who for one in fill(result).waived_by] == ["L. Strand"]
    assert "1 is waived by a looser limit" in result.waivers[0].reason


LONGER = replace(W, who="L. Strand", why="measured on site", until=date(2028, 1, 31))


def test_of_two_waivers_both_are_told_and_the_one_that_holds_longest_comes_first() -> None:
    for waivers in ((W, LONGER), (LONGER, W)):
        row = fill(checked(plain(), *waivers))
        assert [one.who for one in row.waived_by] == ["L. Strand", "R. Okafor"]
        assert row.reason.endswith(
            "; waived by L. Strand until 2028-01-31, whatever the figure: measured on site"
            "; also by R. Okafor until 2027-06-30, whatever the figure: one pull only"
        )
    late = checked(plain(), W, LONGER, now="2027-07-01T00:00:00Z")
    assert fill(late).verdict == "waived"
    assert [one.who for one in fill(late).waived_by] == ["L. Strand"]
    # the other ran out, and nothing fails because of that
    assert about(late) == [("waiver.expired", "unknown")]
    assert any("1 is waived by another waiver" in row.reason for row in late.waivers)


def test_the_order_of_waivers_changes_no_byte() -> None:
    waivers = [W, LONGER, replace(W, carriers=("T9",)), replace(W, carriers=("T2",), until=date(2026, 1, 1))]
    one, other = (checked(two(), *order) for order in (waivers, waivers[::-1]))
    assert result_json(one, 1, {}) == result_json(other, 1, {})


def test_one_that_stands_twice_counts_once() -> None:
    assert len(checked(plain(), W, W).waivers) == 1


def test_ids_of_findings_about_waivers_are_the_same_from_run_to_run_and_differ_between_waivers() -> None:
    late = "2029-01-01T00:00:00Z"
    first, second = checked(plain(), W, LONGER, now=late), checked(plain(), LONGER, W, now=late)
    ids = [sorted(row.id for row in result.findings if row.rule == "waiver.expired") for result in (first, second)]
    assert ids[0] == ids[1]
    assert len(set(ids[0])) == 2


def test_every_unknown_finding_is_accounted_for_among_the_questions() -> None:
    """The last row of all has those of which no question is known; with it the questions settle and lack all that is unknown."""
    before, after = checked(plain()), checked(plain(), replace(W, carriers=("T9",)))
    last = [next((row for row in result.questions if row.rank == 0), None) for result in (before, after)]
    lost = [0 if row is None else row.touches for row in last]
    assert lost[1] == lost[0] + 1
    assert count(after).findings_unknown == count(before).findings_unknown + 1
    assert b"waiver.unmatched" in questions_csv(after)
    # one that fails asks nothing
    assert b"waiver." not in questions_csv(checked(plain(), W, now="2027-07-01T00:00:00Z"))


def test_the_schema_knows_the_tables() -> None:
    assert {"WaivedBy", "WaiverRow", "Waiver"} <= set(result_schema()["$defs"])
