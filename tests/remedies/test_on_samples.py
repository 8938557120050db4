"""Every remedy that is offered for the samples is done to their files, and what it promises is what is found then."""

import functools
from collections.abc import Callable
from html import escape
from pathlib import Path

import pytest

from checker import checking
from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.remedies import Remedied
from checker.report.html import report_html
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.result.tables import Result
from tests.remedies import made
from tests.remedies.applied import SAMPLES, apply, copied
from tests.remedies.verdicts import worse

NAMES = ("data_room", "vet_practice", "workshop")


def checked(folder: Path) -> Result:
    return check(Request(find_sources([folder], None)))


@functools.cache
def before(name: str) -> Result:
    return checked(SAMPLES / name)


def offered() -> list[object]:
    return [
        pytest.param(name, row, id=f"{name}-{row.kind}-{number}")
        for name in NAMES
        for number, row in enumerate(before(name).remedies)
    ]


@pytest.mark.parametrize(("name", "row"), offered())
def test_what_a_remedy_promises_is_found_when_it_is_done(
    name: str, row: RemedyRow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = copied(name, tmp_path)
    apply(row, before(name), folder)
    monkeypatch.setattr(checking, "remedies_of", lambda *_: Remedied())  # what is left needn't be tried again
    keeps_its_promise(row, before(name), checked(folder))


def keeps_its_promise(row: RemedyRow, than: Result, after: Result) -> None:
    failed = {finding.id for finding in than.findings if finding.verdict == "fail"}
    assert row.findings
    assert failed.issuperset(row.findings)
    verdicts = {finding.id: finding.verdict for finding in after.findings}
    assert {verdicts.get(own, "pass") for own in row.findings} == {"pass"}, row.text
    assert worse(after, than) == []
    # it isn't mended by being lost
    assert [one.place.global_id for one in after.carriers] == [one.place.global_id for one in than.carriers]
    assert [(one.circuit, one.is_routed) for one in after.circuits] == [
        (one.circuit, one.is_routed) for one in than.circuits
    ]


@pytest.mark.parametrize(
    ("make", "kind"),
    [
        (made.way_round, RemedyKind.WAY),
        (made.beside, RemedyKind.COMPARTMENT),
        (made.three_bends, RemedyKind.BOX),
    ],
)
def test_what_the_samples_dont_show_holds_in_small_buildings(
    make: Callable[[Path], Path], kind: RemedyKind, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    than = checked(make(tmp_path / "before"))
    assert kind in {row.kind for row in than.remedies}
    monkeypatch.setattr(checking, "remedies_of", lambda *_: Remedied())
    for number, row in enumerate(than.remedies):
        folder = make(tmp_path / f"after {number}")
        apply(row, than, folder)
        keeps_its_promise(row, than, checked(folder))


def test_the_samples_show_what_can_be_offered() -> None:
    kinds = {row.kind for name in NAMES for row in before(name).remedies}
    assert {RemedyKind.CARRIER, RemedyKind.CABLE, RemedyKind.DIVIDER} <= kinds


@pytest.mark.parametrize("name", NAMES)
def test_each_finding_that_fails_has_advice_or_what_was_tried(name: str) -> None:
    result = before(name)
    for finding in result.findings:
        texts = [row.text for row in result.remedies if finding.id in row.findings]
        assert len(texts) <= 3
        assert finding.advice == " Or: ".join(texts)
        assert bool(finding.tried) == (finding.verdict == "fail" and not texts)


@pytest.mark.parametrize("name", NAMES)
def test_notes_and_page_tell_what_was_tried_and_came_out_right(name: str) -> None:
    result = before(name)
    page = report_html(result).decode()
    for topic in result.topics:
        advices = {row.advice for row in result.findings if row.id in topic.members and row.advice}
        assert topic.description.count("Advice: ") == len(advices)
        for advice in advices:
            assert advice in topic.description
            assert escape(advice, quote=False) in page.replace("&quot;", '"')
