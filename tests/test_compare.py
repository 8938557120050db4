"""Two results compared: what became of each finding. Expected classes follow from the limit, 0.45 of every length."""

from dataclasses import replace
from pathlib import Path

import pytest

from checker.compare.comparing import compare
from checker.compare.sides import read_result
from checker.compare.tables import CarrierChange, FindingChange
from checker.compare.words import headline
from checker.model import SourceFile
from checker.report.json_file import result_json
from checker.result.tables import Result
from tests.compared import LENGTHS, PASSING, causes, changes, judged_by, shifted, with_carrier
from tests.report.results import carrier, global_id, small_result


def test_the_same_twice_has_nothing_that_changed() -> None:
    comparison = compare(small_result(), small_result())

    assert {row.change for row in comparison.findings} == {FindingChange.SAME}
    assert {row.change for row in comparison.carriers} == {CarrierChange.SAME}
    assert comparison.exit_status() == 0


def test_each_pair_of_verdicts_and_figures_has_its_class() -> None:
    old = small_result((0.50, 0.50, 0.50, None, 0.30, None))
    new = small_result((0.40, 0.60, 0.48, 0.20, 0.50, None))

    # 0.45 is allowed: 0.50 → 0.40 passes; 0.60 is farther beyond, 0.48 less far; not known → 0.20 passes; 0.30 → 0.50 fails
    found = changes(compare(old, new))

    assert [found[length] for length in LENGTHS] == ["fixed", "worse", "better", "known now", "new", "same"]


def test_what_passes_still_has_changed_and_what_was_known_is_newly_unknown() -> None:
    comparison = compare(
        small_result((0.30, 0.30, 0.30, 0.50, 0.30, 0.30)), small_result((0.31, 0.30, None, None, 0.30, 0.30))
    )

    found = changes(comparison)

    assert [found[length] for length in LENGTHS] == [
        "changed",
        "same",
        "newly unknown",
        "newly unknown",
        "same",
        "same",
    ]
    assert comparison.exit_status() == 3


def test_sums_that_were_added_in_another_order_are_the_same() -> None:
    old = small_result((0.1 + 0.2 + 0.3, *PASSING[1:]))
    new = small_result((0.3 + 0.2 + 0.1, *PASSING[1:]))
    assert old.findings[0].value != new.findings[0].value  # in the last bit

    assert set(changes(compare(old, new)).values()) == {"same"}


@pytest.mark.parametrize(
    ("before", "after", "status"),
    [
        (0.50, 0.40, 0),  # fixed
        (0.50, 0.48, 0),  # better
        (0.40, 0.44, 0),  # fuller, and passes still
        (0.40, 0.50, 1),  # new
        (0.50, 0.55, 1),  # worse
        (0.40, None, 3),  # newly unknown
        (0.50, None, 3),
        (None, None, 0),  # as unknown as it was
    ],
)
def test_the_exit_status_goes_by_what_is_new_or_worse_then_by_what_is_less_known(
    before: float | None, after: float | None, status: int
) -> None:
    comparison = compare(small_result((before, *PASSING[1:])), small_result((after, *PASSING[1:])))

    assert comparison.exit_status() == status


def test_new_outweighs_newly_unknown() -> None:
    comparison = compare(small_result(PASSING), small_result((0.5, None, *PASSING[2:])))

    assert comparison.exit_status() == 1


def test_of_a_limit_that_is_the_least_wanted_less_is_worse() -> None:
    def at_least(value: float) -> Result:
        result = small_result(PASSING)
        first = replace(result.findings[0], verdict="fail", value=value, limit=0.25, is_floor=True)
        return replace(result, findings=(first, *result.findings[1:]))

    assert changes(compare(at_least(0.20), at_least(0.10)))[LENGTHS[0]] == "worse"
    assert changes(compare(at_least(0.20), at_least(0.24)))[LENGTHS[0]] == "better"


def test_a_waived_fail_is_no_pass_and_comes_back_as_new() -> None:
    fails = small_result((0.5, *PASSING[1:]))
    waived = replace(fails, findings=(replace(fails.findings[0], verdict="waived"), *fails.findings[1:]))

    assert changes(compare(fails, waived))[LENGTHS[0]] == "waived now"
    assert changes(compare(waived, fails))[LENGTHS[0]] == "new"
    assert changes(compare(waived, small_result(PASSING)))[LENGTHS[0]] == "fixed"


def test_what_was_removed_is_gone_and_not_fixed() -> None:
    comparison = compare(small_result((0.5, *PASSING[1:])), small_result((0.5, *PASSING[1:]), without=(1,)))

    assert changes(comparison)[LENGTHS[0]] == "gone"
    assert [row.label for row in comparison.carriers if row.change is CarrierChange.REMOVED] == ["T-001"]
    assert comparison.exit_status() == 0


def test_what_was_not_read_again_is_not_gone() -> None:
    old = small_result((0.5, *PASSING[1:]))
    other = SourceFile("model", "another.ifc", "5" * 64, "IFC4", "", global_id(900))
    elsewhere = shifted(replace(carrier(9, None), place=replace(carrier(9, None).place, model="another.ifc")), 0.0)
    new = replace(small_result(PASSING, without=(1, 2, 3, 4, 5)), files=(other,), carriers=(elsewhere,))

    comparison = compare(old, new)

    assert set(changes(comparison).values()) == {"not checked again"}
    assert comparison.exit_status() == 3
    assert any("models of OLD that NEW was checked without" in one.what for one in comparison.differences)


def test_a_rule_that_judges_nothing_any_more_mends_nothing() -> None:
    old = small_result((0.5, *PASSING[1:]))
    new = replace(old, findings=())

    comparison = compare(old, new)

    assert set(changes(comparison).values()) == {"not checked again"}
    assert comparison.findings[0].what == "fill.compartment judged nothing"


def spacing(result: Result, number: int) -> Result:
    """A result with one finding of a rule that has no other: two carriers lie side by side."""
    pair = replace(
        result.findings[0], rule="segregation.spacing", id="pair", carriers=(global_id(number),), compartment=None
    )
    return replace(result, findings=(*result.findings, pair))


def moved_apart(old: Result) -> Result:
    """The next model, in which the first carrier lies 900 mm away."""
    moved = with_carrier(small_result(PASSING), 0, shifted(old.carriers[0], 900.0))
    return replace(moved, files=tuple(replace(file, sha256="8" * 64) for file in moved.files))


def test_a_question_that_is_gone_with_what_was_moved_is_no_rule_that_was_not_asked() -> None:
    """The only pair that lay side by side was moved apart: by the same figures and limits there is nothing to ask any more."""
    old = spacing(small_result(PASSING), 1)
    moved = moved_apart(old)

    rows = [row for row in compare(old, moved).findings if row.rule == "segregation.spacing"]

    assert [row.change for row in rows] == [FindingChange.GONE]
    assert rows[0].what == "what it is about changed, and segregation.spacing has no such question to it now"


def test_where_other_limits_may_be_why_a_rule_judged_nothing_that_is_told() -> None:
    project = SourceFile("project", "wayroom.toml", "7" * 64)
    old = replace(spacing(small_result(PASSING), 1), files=(*small_result().files, project))
    moved = moved_apart(old)

    rows = [row for row in compare(old, moved).findings if row.rule == "segregation.spacing"]

    assert [(row.change, row.what) for row in rows] == [
        (FindingChange.NOT_CHECKED, "segregation.spacing judged nothing")
    ]


def test_nothing_at_all_is_not_nothing_worse() -> None:
    old = replace(small_result(PASSING), findings=())
    comparison = compare(old, replace(old, carriers=(), compartments=()))

    assert comparison.exit_status() == 3


def test_what_other_figures_judge_is_told_apart_from_what_changed() -> None:
    fills = (0.42, 0.42, *PASSING[2:])
    old = judged_by(small_result(fills), 0.45)
    wider = replace(small_result(fills).carriers[1], width_mm=75.0)
    built = replace(
        small_result(fills), carriers=(small_result(fills).carriers[0], wider, *small_result(fills).carriers[2:])
    )
    new = judged_by(built, 0.40, code_sha="c", model_sha="d")

    comparison = compare(old, new)

    # 0.42 passes at 0.45 and fails at 0.40; T-002 was built otherwise besides
    assert changes(comparison)[LENGTHS[0]] == changes(comparison)[LENGTHS[1]] == "new"
    assert causes(comparison)[LENGTHS[0]] == "other figures"
    assert causes(comparison)[LENGTHS[1]] == "both"
    assert comparison.differences[0].is_figures
    assert comparison.differences[0].what == "other figures of the code bs-7671, under the same title: c.toml"
    assert comparison.counts().by_other_figures["new"] == 1
    assert comparison.exit_status() == 1


def test_by_the_same_figures_a_change_is_one_of_what_was_checked() -> None:
    comparison = compare(small_result((0.4, *PASSING[1:])), small_result((0.5, *PASSING[1:])))

    assert causes(comparison) == {LENGTHS[0]: "what was checked"}
    assert not any(one.is_figures for one in comparison.differences)


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"code": "iec-60364"}, "other code: bs-7671 (Guidance) → iec-60364 (Guidance)"),
        ({"code_title": "Guidance, second edition"}, "other edition of bs-7671: Guidance → Guidance, second edition"),
        ({"version": "9.9"}, "other version of Wayroom: 0.1.0 → 9.9"),
        ({"files": (SourceFile("table", "t.csv", "2" * 64),)}, "other tables: t.csv"),
    ],
)
def test_another_code_edition_version_or_table_is_said_at_the_head(other: dict[str, object], told: str) -> None:
    old = replace(small_result(PASSING), files=(SourceFile("table", "t.csv", "1" * 64),))

    heads = compare(old, replace(old, **other)).differences

    assert [one.what for one in heads if one.is_figures] == [told]


def test_a_stricter_limit_of_the_project_is_another_figure() -> None:
    def with_project(sha: str, limit: float, basis: str) -> Result:
        result = judged_by(small_result((0.42, *PASSING[1:])), limit)
        rows = tuple(replace(row, basis=basis) for row in result.findings)
        return replace(result, files=(*result.files, SourceFile("project", "wayroom.toml", sha * 64)), findings=rows)

    comparison = compare(with_project("1", 0.45, "guidance"), with_project("2", 0.40, "project"))

    assert causes(comparison)[LENGTHS[0]] == "other figures"


def test_a_waiver_that_is_told_of_no_more_is_gone_and_no_less_is_known() -> None:
    old = small_result(PASSING)
    expired = replace(
        old.findings[0],
        id="of a waiver",
        rule="waiver.expired",
        verdict="unknown",
        carriers=(),
        circuits=(),
        compartment=None,
    )

    comparison = compare(replace(old, findings=(*old.findings, expired)), old)

    assert [row.change.value for row in comparison.findings if row.rule == "waiver.expired"] == ["gone"]
    assert comparison.exit_status() == 0


def test_that_all_that_fails_anew_is_judged_by_other_figures_is_said_first() -> None:
    fills = (0.42, *PASSING[1:])
    by_figures = compare(judged_by(small_result(fills), 0.45), judged_by(small_result(fills), 0.40, code_sha="c"))
    built = compare(judged_by(small_result(PASSING), 0.40), judged_by(small_result(fills), 0.40, model_sha="d"))

    assert headline(by_figures) == "Something is new or worse, all of it by other figures alone. Findings: 1 new."
    assert headline(built) == "Something is new or worse. Findings: 1 new."


def test_a_sample_that_is_written_and_read_back_is_the_same(vet_result: Result, tmp_path: Path) -> None:
    file = tmp_path / "kept.json"
    file.write_bytes(result_json(vet_result, 1, {}))

    comparison = compare(vet_result, read_result(file, whole=False))

    assert comparison.counts().findings["same"] == len(vet_result.findings) > 400
    assert comparison.counts().carriers["same"] == len(vet_result.carriers) == 97  # as its README counts them
    assert comparison.counts().circuits["same"] == len(vet_result.circuits)


def test_another_project_key_is_told_and_findings_are_found_by_what_they_are_about() -> None:
    old = small_result((0.5, *PASSING[1:]))
    new = small_result((0.6, *PASSING[1:]))
    renamed = tuple(replace(row, id=f"another {row.id}") for row in new.findings)

    comparison = compare(old, replace(new, project_key="another", findings=renamed))

    assert changes(comparison)[LENGTHS[0]] == "worse"
    assert len(comparison.findings) == 6
    assert any("other project key" in one.what for one in comparison.differences)


def test_older_as_new_is_asked_about() -> None:
    older = tuple(replace(file, timestamp="2024-04-01T08:30:00") for file in small_result().files)
    new = replace(small_result(), created="2024-04-01T08:30:00Z", files=older)

    assert any("wrong way round" in one.what for one in compare(small_result(), new).differences)
