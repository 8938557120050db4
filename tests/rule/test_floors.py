"""A limit that is the least that is wanted: what lacks most comes first, and every text says so."""

import csv
import io
import math
from dataclasses import replace

import pytest

from checker.assemble import _by_verdict
from checker.judging import Judged, JudgedSubject
from checker.model import Carrier, CarrierKind, Enclosure, LoadedCompartment, Place, Section
from checker.report.csv_files import failing_csv
from checker.report.html import report_html
from checker.report.html_tables import bar
from checker.result.notes import shown
from checker.result.tables import FindingRow, Result
from checker.result.topics import group_findings, make_topic
from checker.rule import Outcome, Verdict, use_of
from checker.sureness import _worst_first
from tests.report.results import small_result
from tests.report.test_terminal import printed

CARRIER = Carrier("K1", Place("K1", "m"), CarrierKind.TRAY, Section())


@pytest.mark.parametrize(
    ("value", "limit", "is_floor", "use"),
    [
        (0.9, 0.45, False, 2.0),  # twice what is allowed
        (0.45, 0.45, False, 1.0),
        (0.125, 0.25, True, 2.0),  # half of what is wanted
        (0.25, 0.25, True, 1.0),
        (0.5, 0.25, True, 0.5),  # twice what is wanted
        (0.0, 0.25, True, math.inf),  # nothing of what is wanted
        (-0.1, 0.25, True, math.inf),
        (None, 0.25, True, None),
        (0.5, None, True, None),
        (0.5, None, False, None),
    ],
)
def test_a_use_over_one_is_beyond_the_limit_whichever_way_it_goes(
    value: float | None,
    limit: float | None,
    is_floor: bool,  # noqa: FBT001 - a parameter of the table above
    use: float | None,
) -> None:
    assert use_of(value, limit, is_floor=is_floor) == use


def floor(value: float) -> Verdict:
    return Verdict(Outcome.FAIL, "", value, 0.25, "ratio", is_floor=True)


def test_of_two_that_lack_something_the_one_that_lacks_more_is_the_worse() -> None:
    little, much = (JudgedSubject("a.b", Enclosure(CARRIER, ()), floor(value)) for value in (0.05, 0.20))
    assert _by_verdict(little) > _by_verdict(much)


def test_asked_about_near_ways_is_first_the_one_that_lacks_more() -> None:
    subject = LoadedCompartment(CARRIER, 1, area_mm2=1.0)
    little, much = (Judged("a.b", subject, floor(value)) for value in (0.05, 0.20))
    assert _worst_first(little) < _worst_first(much)


def with_floors(*values: float) -> tuple[Result, list[FindingRow]]:
    """A result that fails in one carrier for each value, of which 25 % is wanted at the least."""
    result = small_result()
    failing = next(row for row in result.findings if row.verdict == "fail")
    rows = [
        replace(
            failing, id=f"f{n}", rule="sweeping.tray", carriers=(key.key,), compartment=1, value=value, limit=0.25,
            measure="", circuits=(f"C{n}",), is_floor=True, topic="",
        )
        for n, (key, value) in enumerate(zip(result.carriers, values, strict=False))
    ]  # fmt: skip
    return replace(result, findings=tuple(rows), topics=()), rows


def test_value_and_limit_say_that_it_is_the_least() -> None:
    _, (row, hair) = with_floors(0.20, 0.24999)
    assert shown(row) == "20 % / at least 25 %"
    assert shown(hair) == "24.9990 % / at least 25.0000 %"
    assert shown(replace(row, at_least=True)) == "at least 20 % / at least 25 %"


def test_the_terminal_lists_what_lacks_most_first() -> None:
    result, _ = with_floors(0.20, 0.05, 0.0)  # of T-001, T-002, T-003
    lines = [line.split() for line in printed(result) if line.startswith("T-0")]
    assert [line[0] for line in lines] == ["T-003/1", "T-002/1", "T-001/1"]
    assert all("at least 25 %" in " ".join(line) for line in lines)


def test_the_page_lists_what_lacks_most_first_and_says_what_is_wanted() -> None:
    result, _ = with_floors(0.20, 0.05, 0.10)
    page = report_html(result).decode("utf-8")
    table = page[page.index('id="failing-table"') :]
    places = [table.index(f"{percent} %</bdi></strong>") for percent in (5, 10, 20)]
    assert places == sorted(places)
    assert table.count(", wanted at least <bdi>25 %</bdi>") == 3


def test_a_bar_is_hatched_where_less_than_the_least_is_there() -> None:
    assert 'class="over"' in bar(0.20, 0.25, is_floor=True)
    assert 'class="over"' not in bar(0.30, 0.25, is_floor=True)
    assert 'class="over"' in bar(0.30, 0.25)


def test_issues_are_in_the_order_of_what_lacks_and_have_priority_by_it() -> None:
    # 0.25 / 0.20 = 1.25, which is high as is 1.25 times what is allowed; 0.25 / 0.21 = 1.19 isn't
    result, rows = with_floors(0.21, 0.20, 0.05)
    carriers = {row.key: row for row in result.carriers}
    groups = group_findings(rows, carriers, {})
    topics = [make_topic("g", group, carriers, (), "Room to sweep", ()) for group in groups]
    assert [group[0].value for group in groups] == [0.05, 0.20, 0.21]
    assert [topic.priority for topic in topics] == ["High", "High", "Normal"]
    assert topics[0].title.endswith(": 5 %, at least 25 %")


def test_failing_csv_says_which_way_the_limit_goes() -> None:
    result, rows = with_floors(0.20)
    both = replace(result, findings=(*rows, replace(rows[0], id="g", rule="z.z", is_floor=False)))
    table = list(csv.DictReader(io.StringIO(failing_csv(both).decode("utf-8"))))
    assert [(row["rule"], row["limit_is_least"]) for row in table] == [("sweeping.tray", "yes"), ("z.z", "")]
