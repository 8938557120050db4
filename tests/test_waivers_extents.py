"""How far a finding may go that isn't certain: what the bound of a waiver is held against.

A rule of one line answers for the reading against what it is asked about; the finding tells 50 % where 45 % may be.
"""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.result.tables import FindingRow
from checker.rule import Outcome, Verdict
from checker.waivers_bounds import Extents
from tests.waived import checked, fill, plain

FOUND = Verdict(Outcome.FAIL, "too full", 0.5, 0.45)
COUNTED, UNCOUNTED = SimpleNamespace(occupied_mm2=78.5), SimpleNamespace(occupied_mm2=None)
SORTS: dict[str, tuple[Any, dict[str, object], dict[str, object]]] = {
    # of each sort: what isn't certain but has a bound; what has none
    "possible": (Judged, {}, {"possible": (UNCOUNTED,)}),
    "placed": (Judged, {"possible": (COUNTED,)}, {"cables": (UNCOUNTED,)}),
    "unbounded": (Judged, {}, {"unbounded": True}),
    "circuit": (JudgedCircuit, {}, {"open_doubts": ("its route has a gap",)}),
    "subject": (JudgedSubject, {}, {"more_may_count": True}),
}


def row_of(**changed: object) -> FindingRow:
    return replace(fill(checked(plain())), rule="a.rule", value=0.5, limit=0.45, **changed)  # type: ignore[arg-type]


def worst(
    monkeypatch: pytest.MonkeyPatch, sort: Any, row: FindingRow, against: Verdict, **known: object
) -> tuple[float | None, float | None]:
    facts = {
        "is_certain": False, "unbounded": False, "cables": (COUNTED,), "possible": (), "open_doubts": (), "more_may_count": False,
        "most_loaded": lambda: "against",
    }  # fmt: skip
    item = sort("a.rule", SimpleNamespace(**(facts | known)), FOUND)
    answered = {"against": against}
    rule = SimpleNamespace(function=lambda subject, _: answered[subject])
    monkeypatch.setattr("checker.waivers_bounds.id_of", lambda *_: row.id)
    answers: Any = SimpleNamespace(all=lambda: [item])
    rules: Any = {"a.rule": rule}
    code: Any = SimpleNamespace(limits={"a.rule": None})
    found = Extents(plain(), answers, rules, code).worst(row)
    return found.value, found.limit


@pytest.mark.parametrize("sort", SORTS)
def test_what_has_a_bound_goes_as_far_as_the_reading_against_it_and_what_has_none_nobody_knows_how_far(
    monkeypatch: pytest.MonkeyPatch, sort: str
) -> None:
    made, bounded, unbounded = SORTS[sort]
    against = replace(FOUND, value=0.6, limit=0.4)
    assert worst(monkeypatch, made, row_of(), against, **bounded) == (0.6, 0.4)
    assert worst(monkeypatch, made, row_of(), against, **unbounded)[0] is None


def test_what_is_certain_is_not_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    found = worst(monkeypatch, Judged, row_of(), FOUND, is_certain=True, most_loaded=lambda: "never asked")
    assert found == (0.5, 0.45)


@pytest.mark.parametrize(
    ("is_floor", "against", "furthest"), [(False, 0.6, 0.6), (False, 0.4, 0.5), (True, 0.6, 0.5), (True, 0.4, 0.4)]
)
def test_the_further_of_both_readings_counts_whichever_it_is(
    monkeypatch: pytest.MonkeyPatch, against: float, furthest: float, *, is_floor: bool
) -> None:
    """More cables aren't always worse, as of what may jam."""
    verdict = replace(FOUND, value=against)
    assert worst(monkeypatch, JudgedSubject, row_of(is_floor=is_floor), verdict)[0] == furthest


def test_of_a_current_it_is_the_use_that_is_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    """25 A of 24 A is 104 %; in the reading against it 25 A of 19.2 A is 130 %."""
    row = replace(row_of(is_of_circuit=True, unit="A"), value=25.0, limit=24.0)
    verdict = replace(FOUND, value=25.0, limit=19.2)
    assert worst(monkeypatch, JudgedCircuit, row, verdict) == (25.0, 19.2)


def test_a_reading_against_it_without_a_figure_is_no_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    assert worst(monkeypatch, JudgedSubject, row_of(), replace(FOUND, value=None))[0] is None
