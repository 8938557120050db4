"""What is worse, better, fixed or waived, and by what. Expected classes follow from 0.45, the limit of every length."""

import math
from dataclasses import replace

import pytest

from checker.compare.comparing import compare
from checker.compare.words import headline
from checker.model import SourceFile
from checker.result.tables import CompartmentRow, FindingRow, Result
from checker.result.waiver_tables import WaivedBy
from tests.compared import LENGTHS, PASSING, causes, changes, first, judged_by, shifted, with_carrier, with_circuits
from tests.report.html_pages import circuit
from tests.report.results import small_result

FAILING = (0.5, *PASSING[1:])
BY_R_OKAFOR = WaivedBy("R. Okafor", "it is widened in spring", "2027-06-30")


def with_first(result: Result, **changed: object) -> Result:
    """A result whose first finding, of T-001, is another."""
    return replace(result, findings=(replace(result.findings[0], **changed), *result.findings[1:]))  # type: ignore[arg-type]


def test_a_waiver_and_its_end_are_told_apart_from_what_was_checked() -> None:
    fails = small_result(FAILING)
    waived = with_first(fails, verdict="waived", waived_by=(BY_R_OKAFOR,),
                        reason="too full; waived by R. Okafor until 2027-06-30: it is widened in spring")  # fmt: skip

    begins, ends = compare(fails, waived), compare(waived, fails)

    assert first(begins) == ("waived now", "a waiver")
    assert begins.findings[0].what.startswith("waived by R. Okafor until 2027-06-30: it is widened in spring; too full")
    assert first(ends) == ("new", "a waiver")
    assert (
        headline(ends) == "Something is new or worse, all of it by waivers alone, which hold no more. Findings: 1 new."
    )
    assert headline(begins) == "Nothing is worse. Findings: 1 waived now."


def test_a_waiver_of_somebody_else_is_a_change_and_a_fuller_one_is_worse() -> None:
    waived = with_first(small_result(FAILING), verdict="waived", waived_by=(BY_R_OKAFOR,))
    other = with_first(waived, waived_by=(replace(BY_R_OKAFOR, who="L. Brandt"),))

    assert first(compare(waived, other)) == ("changed", "a waiver")
    assert first(compare(waived, with_first(waived, value=0.6))) == ("worse", "what was checked")
    assert first(compare(waived, with_first(waived, value=0.46))) == ("better", "what was checked")


def test_a_reason_that_is_a_part_of_the_earlier_one_is_told_beside_it() -> None:
    unknown = with_first(small_result(FAILING), verdict="unknown", value=None, reason="no bore; no cable size")

    (row,) = [
        row for row in compare(unknown, with_first(unknown, reason="no bore")).findings if row.change == "changed"
    ]

    assert row.what == "no bore; before: no bore; no cable size"


def test_what_is_waived_the_first_time_it_is_judged_is_no_pass() -> None:
    waived = with_first(small_result(FAILING), verdict="waived", waived_by=(BY_R_OKAFOR,))

    assert first(compare(replace(waived, findings=waived.findings[1:]), waived))[0] == "waived now"


@pytest.mark.parametrize(
    ("before", "after", "change"),
    [
        ({}, {"value": 0.48, "at_least": True}, "changed"),  # at least 0.48 may be more than 0.50
        ({}, {"value": 0.6, "at_least": True}, "worse"),
        ({}, {"value": math.nan}, "changed"),
        ({"found": "a cable is too thick"}, {"found": "a cable is too thick", "value": 0.48}, "changed"),  # not of the figure
        ({"value": None, "limit": None, "reason": "A with B"}, {"value": None, "limit": None, "reason": "A with C"}, "changed"),
        ({"value": None, "limit": None}, {"value": None, "limit": None}, "same"),
    ],
)  # fmt: skip
def test_less_is_better_only_where_it_is_known_to_be_less(
    before: dict[str, object], after: dict[str, object], change: str
) -> None:
    fails = small_result(FAILING)

    assert first(compare(with_first(fails, **before), with_first(fails, **after)))[0] == change


def test_what_another_wall_passes_is_not_what_one_wall_failed() -> None:
    def at(wall: str, verdict: str) -> Result:
        return with_first(small_result(FAILING), id=f"at {wall}", at=f"T-001 at {wall}", verdict=verdict)

    found = changes(compare(at("Wall A", "fail"), at("Wall B", "pass")))

    assert (found["T-001 at Wall A"], found["T-001 at Wall B"]) == ("not checked again", "added")


def test_a_mending_by_other_figures_alone_says_so_at_the_head() -> None:
    fills = (0.42, 0.42, *PASSING[2:])
    looser = compare(judged_by(small_result(fills), 0.40), judged_by(small_result(fills), 0.45, code_sha="c"))

    assert headline(looser) == "Nothing is worse. Findings: 2 fixed (all by other figures alone)."


def test_what_was_removed_is_no_matter_of_another_code() -> None:
    old = judged_by(small_result(FAILING), 0.45)
    new = judged_by(small_result(FAILING, without=(1,)), 0.40, code_sha="c", model_sha="d")

    assert first(compare(old, new)) == ("gone", "what was checked")


def of_current(sha: str, source: str, basis: str = "requirement") -> Result:
    row: FindingRow = replace(
        small_result().findings[0], id="of C1", rule="grouping.rating", carriers=(), compartment=None, circuits=("C1",),
        is_of_circuit=True, value=16.0, limit=18.0 if sha == "1" else 14.0, unit="A", source=source, basis=basis,
        verdict="pass" if sha == "1" else "fail",
    )  # fmt: skip
    files = (SourceFile("project", "wayroom.toml", sha * 64), SourceFile("model", "a.ifc", sha * 64))
    return replace(small_result(PASSING), findings=(row,), files=files)


def test_a_figure_or_a_limit_that_is_another_is_no_matter_of_a_waiver_that_ended() -> None:
    fails = small_result(FAILING)
    waived = with_first(fails, verdict="waived", waived_by=(BY_R_OKAFOR,))

    assert first(compare(waived, fails)) == ("new", "a waiver")
    assert first(compare(waived, with_first(fails, value=0.6))) == ("new", "what was checked")
    assert first(compare(waived, with_first(fails, limit=0.4))) == ("new", "what was checked")


@pytest.mark.parametrize(
    ("other", "is_wider", "after", "cause"),
    [
        ("table", True, {"source": "clause 2"}, "what was checked"),  # a wider one may be asked for by another clause
        ("table", False, {"source": "clause 2"}, "other figures"),
        ("project", False, {"source": "clause 2"}, "what was checked"),  # a project sets no figures of clauses
        ("project", False, {"source": "wayroom.toml", "basis": "project"}, "other figures"),
        ("project", True, {"source": "wayroom.toml", "basis": "project"}, "both"),
    ],
)
def test_another_source_is_of_other_figures_only_where_what_it_is_about_can_t_be_why(
    other: str, after: dict[str, object], cause: str, *, is_wider: bool
) -> None:
    def result(sha: str, value: float, **changed: object) -> Result:
        files = (SourceFile("model", "a.ifc", sha * 64), SourceFile(other, "other.file", sha * 64))
        return replace(with_first(small_result(FAILING), value=value, circuits=(), **changed), files=files)

    old = result("1", 0.5, source="clause 1", basis="requirement")
    new = result("2", 0.4, **{"basis": "requirement", "verdict": "pass", **after})
    if is_wider:
        new = replace(new, carriers=(replace(new.carriers[0], width_mm=75.0), *new.carriers[1:]))

    assert first(compare(old, new)) == ("fixed", cause)


def test_what_was_made_anew_has_changed_and_comes_before_what_fails_by_other_figures_alone() -> None:
    """By a limit of 0.40 T-002 goes further beyond it, 0.44 / 0.40, than T-001, 0.41 / 0.40."""
    fills = small_result((0.41, 0.44, *PASSING[2:]))
    bare = replace(fills, findings=tuple(replace(row, circuits=()) for row in fills.findings))
    anew = with_carrier(bare, 0, shifted(bare.carriers[0], 0.0, number=501))

    comparison = compare(judged_by(bare, 0.45), judged_by(anew, 0.40, code_sha="c", model_sha="d"))

    assert [(row.where, row.cause.value) for row in comparison.findings if row.change == "new"] == [
        (LENGTHS[0], "both"), (LENGTHS[1], "other figures"),
    ]  # fmt: skip


def test_tables_that_a_circuit_needs_now_are_no_other_figures_though_the_project_file_is_another() -> None:
    comparison = compare(of_current("1", "clause 1; table B"), of_current("2", "clause 1; table B; table C"))

    assert causes(comparison) == {"circuit C1": "what was checked"}
    assert "table C" not in comparison.findings[0].what


def test_a_compartment_that_isn_t_there_any_more_is_named() -> None:
    old = small_result((*PASSING[:3], 0.6, *PASSING[4:]))
    kept: tuple[CompartmentRow, ...] = tuple(part for part in old.compartments if part.number == 1)
    new = replace(old, compartments=kept, findings=tuple(row for row in old.findings if row.compartment == 1))

    row = next(row for row in compare(old, new).findings if row.where == LENGTHS[3])

    assert (row.change.value, row.what) == ("gone", "there is no compartment 2 any more")


def test_a_circuit_with_the_ends_and_cables_of_one_that_is_gone_says_so() -> None:
    comparison = compare(with_circuits(circuit("C1"), circuit("C9")), with_circuits(circuit("C1a"), circuit("C9")))

    told = {row.circuit: (row.change.value, row.what) for row in comparison.circuits if row.change != "same"}
    assert told == {
        "C1": ("removed", "ends and cables as of C1a in NEW"), "C1a": ("added", "ends and cables as of C1 in OLD"),
    }  # fmt: skip
    # of two that are alike it isn't known which it was
    two = compare(with_circuits(circuit("C1"), circuit("C2")), with_circuits(circuit("C1a")))
    assert {row.circuit: row.what for row in two.circuits} == {"C1": "", "C2": "", "C1a": ""}
