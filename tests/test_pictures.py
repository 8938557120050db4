"""A result shows the sections that its topics are about, each once, and no more than is soon done."""

from pathlib import Path

import pytest

import checker.pictures
from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.report.html import report_html
from checker.result.tables import Result
from checker.section.overlap import overlap_um

VET = Path(__file__).parents[1] / "sample_models" / "vet_practice"


@pytest.fixture(scope="module")
def result() -> Result:
    return check(Request(find_sources([VET], None)))


def test_the_worst_carrier_of_each_topic_has_its_section_once(result: Result) -> None:
    findings = {row.id: row for row in result.findings}
    worst = [findings[topic.worst].carriers[0] for topic in result.topics]
    assert [row.carrier for row in result.sections] == list(dict.fromkeys(worst))


def test_a_section_holds_every_cable_that_lies_there_for_certain(result: Result) -> None:
    for row in result.sections:
        for lane in row.view.lanes:
            lying = [item for item in result.cables if (item.carrier, item.number) == (row.carrier, lane.number)]
            assert len(lane.placed) == sum(item.count or 0 for item in lying if item.certain)
            bodies = [lane.bundles[number].body for number in lane.drawn]
            if lane.inside is not None and bodies and None not in bodies:
                assert overlap_um(lane.inside, [body for body in bodies if body is not None], lane.placed) < 1.0


def test_its_verdict_of_fill_is_the_one_in_the_table(result: Result) -> None:
    told = {(row.carrier, row.number): row for row in result.compartments}
    for row in result.sections:
        for lane in row.view.lanes:
            fill = lane.fill
            assert fill is not None
            assert (fill.outcome, fill.value) == (
                told[row.carrier, lane.number].verdict,
                told[row.carrier, lane.number].fill,
            )


def test_every_card_of_the_page_has_its_section(result: Result) -> None:
    page = report_html(result).decode()
    assert page.count('<details class="section">') == len(result.topics)
    assert page.count("<svg xmlns") == len(result.topics)
    assert "<?xml" not in page


def test_of_more_than_is_soon_done_the_topics_at_the_end_go_without(
    monkeypatch: pytest.MonkeyPatch, result: Result
) -> None:
    def work(row) -> int:
        return sum(len(lane.placed) ** 2 for lane in row.view.lanes)

    first = result.sections[:2]
    monkeypatch.setattr(checker.pictures, "MOST_WORK", sum(map(work, first)))
    fewer = check(Request(find_sources([VET], None)))
    assert fewer.sections[:2] == first
    assert len(fewer.sections) < len(result.sections)
    assert [topic.guid for topic in fewer.topics] == [topic.guid for topic in result.topics]
    report_html(fewer)
