"""A result shows the sections that its topics are about, each once, and no more than is soon done."""

from pathlib import Path

import pytest

import checker.pictures
from checker.checking import Request, check
from checker.model import CarrierKind
from checker.read.sources import find_sources
from checker.report.html import report_html
from checker.result.tables import Result
from checker.section.filling import laid_in
from checker.section.overlap import overlap_um
from checker.section.parts import Bundle, LaneView, Look, Way
from checker.section.shapes import Box, Channel, circle

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


def test_of_more_than_is_soon_dropped_in_the_sections_at_the_end_are_laid_in_rows(
    monkeypatch: pytest.MonkeyPatch, result: Result
) -> None:
    def work(row) -> int:
        return sum(len(lane.placed) ** 2 for lane in row.view.lanes)

    first = result.sections[:2]
    monkeypatch.setattr(checker.pictures, "MOST_WORK", sum(map(work, first)))
    now = check(Request(find_sources([VET], None))).sections
    assert now[:2] == first
    assert now != result.sections
    # a code's limit leaves so much room that all of them find a place in rows, too
    assert [row.carrier for row in now] == [row.carrier for row in result.sections]
    assert list(map(work, now)) == list(map(work, result.sections))


def test_of_more_than_is_soon_done_even_so_the_topics_at_the_end_go_without_and_say_so(
    monkeypatch: pytest.MonkeyPatch, result: Result
) -> None:
    monkeypatch.setattr(
        checker.pictures, "MOST_CABLES", sum(len(lane.placed) for row in result.sections[:2] for lane in row.view.lanes)
    )
    fewer = check(Request(find_sources([VET], None)))
    assert fewer.sections[:2] == result.sections[:2]
    assert len(fewer.sections) < len(result.sections)
    assert [topic.guid for topic in fewer.topics] == [topic.guid for topic in result.topics]
    page = report_html(fewer).decode()
    drawn = page.count('<details class="section">')
    assert drawn < len(result.topics)
    assert (
        page.count("Its section isn&#x27;t drawn here") + page.count("Its section isn't drawn here")
        == len(result.topics) - drawn
    )


def test_a_result_looks_for_places_only_shortly(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("moving cables about takes seconds where nothing is compiled")

    monkeypatch.setattr("checker.section.filling.pack", never)
    assert check(Request(find_sources([VET], None))).sections


@pytest.mark.parametrize("look", [Look.SHORT, Look.ROWS])
def test_of_more_than_go_in_it_is_said_how_many_are_drawn_and_that_the_look_was_short(look: Look) -> None:
    # seven rows of seven of 11.3 fill 79.1 of 80; 55 · 100.3 = 5516 mm² of 6400: that alone proves nothing
    bundle = Bundle("L1", None, "11.3mm", 55, circle(11.3))
    view = laid_in(LaneView(1, Box(80.0, 80.0), bundles=(bundle,)), CarrierKind.TRUNKING, Way(look=look))
    assert 49 <= len(view.placed) < 55
    assert f"{len(view.placed)} of 55 are drawn" in view.way
    assert "at a short look, which proves nothing" in view.way


def test_a_tray_over_its_sides_is_drawn_whole_in_rows_too() -> None:
    bundle = Bundle("L1", None, "30mm", 40, circle(30.0))
    view = laid_in(LaneView(1, Channel(96.0, 46.0), bundles=(bundle,)), CarrierKind.TRAY, Way(look=Look.ROWS))
    assert len(view.placed) == 40
    # 40 · π/4 · 30² = 28274 mm² of 96 · 46 = 4416
    assert (
        "they can't all lie below the sides: the cables' sections are 28274.3 mm² and the inside is 4416.0 mm²"
        in view.way
    )
