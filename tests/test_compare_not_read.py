"""What wasn't read, or isn't asked any more, isn't gone, and nothing is removed that may be there."""

import csv
import io
from dataclasses import replace

import pytest

from checker.compare.comparing import compare
from checker.compare.files import changes_csv
from checker.compare.tables import Comparison
from checker.compare.words import headline
from checker.model import SourceFile
from checker.result.tables import Result
from tests.compared import PASSING, changes, first, shifted, way, with_circuits
from tests.report.html_pages import circuit
from tests.report.results import global_id, small_result

FAILING = (0.5, *PASSING[1:])


def model(name: str, number: int) -> SourceFile:
    """A model of the one project that all have in common."""
    return SourceFile("model", name, str(number) * 64, "IFC4", "", global_id(900))


def of_two_models(name_first: str, name_others: str) -> Result:
    """T-001 is in one model of a building, all else in another."""
    result = small_result(FAILING)
    carriers = tuple(
        replace(row, place=replace(row.place, model=name_others if place else name_first))
        for place, row in enumerate(result.carriers)
    )
    return replace(result, carriers=carriers, files=(model(name_first, 1), model(name_others, 2)))


def only_others(result: Result, name: str) -> Result:
    """What is left of it if the model with T-001 isn't read, and the other is called so."""
    key = global_id(1)
    kept = (row for row in result.carriers if row.key != key)
    return replace(
        result,
        carriers=tuple(replace(row, place=replace(row.place, model=name)) for row in kept),
        compartments=tuple(row for row in result.compartments if row.carrier != key),
        findings=tuple(row for row in result.findings if key not in row.carriers),
        files=(model(name, 3),),
    )


@pytest.mark.parametrize("name", ["others.ifc", "others P02.ifc"])
def test_a_model_left_out_isn_t_read_though_all_models_have_one_project(name: str) -> None:
    old = of_two_models("first.ifc", "others.ifc")

    comparison = compare(old, only_others(old, name))

    assert first(comparison) == ("not checked again", "what was checked")
    assert [(row.label, row.change.value) for row in comparison.carriers if row.change != "same"] == [
        ("T-001", "not read")
    ]
    assert comparison.exit_status() == 3
    assert "models of OLD that NEW was checked without: first.ifc" in [one.what for one in comparison.differences]
    # less is known even where nothing was asked of it, but not of what is marked as demolished
    new = only_others(old, name)
    unasked = compare(replace(old, findings=new.findings), new)
    assert (unasked.exit_status(), {row.change.value for row in unasked.findings}) == (3, {"same"})
    demolished = compare(old, replace(new, demolished=(old.carriers[0].place,)))
    assert [row.change.value for row in demolished.carriers if row.label == "T-001"] == ["removed"]


def test_of_two_models_of_one_project_without_carriers_of_which_one_came_neither_is_known_as_read() -> None:
    result = small_result(PASSING)
    old = replace(result, files=(model("plant room.ifc", 1), model("walls.ifc", 2), model("slabs.ifc", 3)))

    def told(*others: SourceFile) -> list[str]:
        comparison = compare(old, replace(result, files=(model("plant room.ifc", 4), *others)))
        return [one.what for one in comparison.differences if "checked without" in one.what]

    assert told(model("walls P02.ifc", 5)) == ["models of OLD that NEW was checked without: slabs.ifc, walls.ifc"]
    assert told(model("walls P02.ifc", 5), model("slabs P02.ifc", 6)) == []


def test_a_model_whose_only_carriers_were_removed_is_read_where_another_of_its_project_came() -> None:
    old = of_two_models("first P01.ifc", "others.ifc")
    new = only_others(old, "others.ifc")

    comparison = compare(old, replace(new, files=(*new.files, model("first P02.ifc", 4))))

    assert first(comparison)[0] == "gone"
    assert [row.change.value for row in comparison.carriers if row.label == "T-001"] == ["removed"]


def of_a_pair(result: Result) -> Result:
    """A result in which T-001 and T-002 are too near to each other."""
    pair = replace(
        result.findings[0], id="a pair", rule="segregation.spacing", carriers=way(1, 2), compartment=None, value=20.0,
        limit=100.0, unit="mm", verdict="fail", is_floor=True, circuits=(),
    )  # fmt: skip
    other = replace(pair, id="another", carriers=way(3, 4), verdict="pass", value=200.0)
    return replace(result, findings=(pair, other))


def what_of_the_pair(comparison: Comparison) -> tuple[str, str]:
    row = next(row for row in comparison.findings if row.id_old == "a pair")
    return row.change.value, row.what


def test_of_a_pair_of_which_one_wasn_t_read_nothing_is_gone() -> None:
    old = of_a_pair(of_two_models("first.ifc", "others.ifc"))

    found = what_of_the_pair(compare(old, only_others(old, "others.ifc")))

    assert found == ("not checked again", "its model wasn't read: first.ifc")


def test_of_a_pair_of_which_one_was_removed_it_is_said_which() -> None:
    old = of_a_pair(small_result(PASSING))
    new = replace(old, carriers=old.carriers[1:], compartments=old.compartments[1:], findings=old.findings[1:])

    assert what_of_the_pair(compare(old, new)) == ("gone", "no such carriers were read: T-001")


def test_a_question_that_isn_t_asked_any_more_of_what_didn_t_change_is_not_gone() -> None:
    old = of_a_pair(small_result(PASSING))
    new = replace(old, findings=old.findings[1:])

    same = compare(old, new)
    carriers = (shifted(old.carriers[0], 5000.0), *old.carriers[1:])
    moved = compare(old, replace(new, carriers=carriers, files=(model("plant room.ifc", 3),)))

    assert what_of_the_pair(same)[0] == "not checked again"
    assert same.exit_status() == 3
    told = "what it is about changed, and segregation.spacing has no such question to it now"
    assert what_of_the_pair(moved) == ("gone", told)  # 5 m apart nobody asks


def test_what_changed_is_not_gone_either_where_a_model_with_walls_was_left_out() -> None:
    old = replace(of_a_pair(small_result(PASSING)), files=(model("carriers.ifc", 1), model("walls.ifc", 2)))
    carriers = (shifted(old.carriers[0], 5000.0), *old.carriers[1:])
    new = replace(old, carriers=carriers, findings=old.findings[1:], files=(model("carriers.ifc", 3),))

    change, what = what_of_the_pair(compare(old, new))

    assert (change, what.endswith("not all models were read: walls.ifc")) == ("not checked again", True)


def test_without_a_schedule_circuits_are_not_removed_and_what_was_found_of_them_is_not_gone() -> None:
    schedule = SourceFile("schedule", "circuits.csv", "7" * 64)
    rating = replace(
        small_result().findings[0], id="of C2", rule="grouping.rating", carriers=(), compartment=None, circuits=("C2",),
        is_of_circuit=True, verdict="fail", value=16.0, limit=14.0, unit="A",
    )  # fmt: skip
    old = replace(with_circuits(circuit("C1"), circuit("C2")), files=(schedule,))
    old = replace(old, findings=(*old.findings, rating))
    new = replace(with_circuits(circuit("C1")), files=())  # C1 is drawn in the model

    comparison = compare(old, new)

    assert [(row.circuit, row.change.value) for row in comparison.circuits] == [("C2", "not read"), ("C1", "same")]
    assert changes(comparison)["circuit C2"] == "not checked again"
    assert comparison.exit_status() == 3
    assert headline(comparison).endswith(" Findings: 1 not checked again. Not read: 1 circuit.")
    assert compare(replace(old, findings=old.findings[:-1]), new).exit_status() == 3
    (row,) = [row for row in csv.DictReader(io.StringIO(changes_csv(comparison).decode())) if row["sort"] == "circuit"]
    assert (row["change"], row["id_old"], row["id_new"]) == ("not read", "C2", "")  # NEW has none of it

    # of a schedule without a line nothing is known either
    empty = compare(old, replace(with_circuits(), files=(schedule,)))
    gone = next(row for row in empty.findings if row.where == "circuit C2")
    assert (gone.change.value, gone.what) == ("not checked again", "no circuits were read")


def test_what_vanished_with_the_way_of_its_circuit_is_not_gone() -> None:
    old = with_circuits(circuit("C1", carriers=way(1)))
    lost = with_circuits(circuit("C1", routed_by="", carriers=(), length_m=None, reason="DB-1 is in no model"))

    comparison = compare(old, replace(lost, findings=lost.findings[1:]))

    assert first(comparison)[0] == "not checked again"  # C1 and C2 lie in T-001


def test_a_circuit_whose_way_is_known_only_in_part_now_is_less_known() -> None:
    old = with_circuits(circuit("C1", carriers=way(1, 2)))
    in_part = with_circuits(circuit("C1", carriers=way(1), length_m=None, reason="its lines end at T-001"))

    comparison = compare(old, in_part)

    assert comparison.exit_status() == 3
    assert comparison.circuits[0].what.startswith(
        "its whole way isn't known now: its lines end at T-001; no longer by T-002"
    )
    told = "Nothing is worse as far as it is known, and less is known. Of 1 circuit the way isn't known any more."
    assert headline(comparison) == told
    assert compare(in_part, old).exit_status() == 0


def test_what_passes_without_a_circuit_that_lost_its_way_says_so() -> None:
    old = with_circuits(circuit("C1", carriers=way(1)))
    old = replace(old, findings=(replace(old.findings[0], verdict="fail", value=0.5), *old.findings[1:]))
    lost = with_circuits(circuit("C1", routed_by="", carriers=(), length_m=None, reason="DB-1 is in no model"))
    passes = replace(lost.findings[0], circuits=("C2",))

    comparison = compare(old, replace(lost, findings=(passes, *lost.findings[1:])))

    assert first(comparison)[0] == "fixed"  # what isn't routed was reckoned with, or it would be unknown
    assert comparison.findings[0].what == "no longer with C1, but of C1 the way isn't known now"
    assert comparison.exit_status() == 3


def test_two_results_with_nothing_in_common_are_not_nothing_worse() -> None:
    old = small_result(FAILING, without=(2, 3, 4, 5))
    new = small_result(PASSING, without=(1,))

    comparison = compare(old, new)

    assert comparison.exit_status() == 3
    assert any("they may be of different buildings" in one.what for one in comparison.differences)
