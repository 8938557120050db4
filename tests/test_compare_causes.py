"""Which changes are of what was checked and which of other figures; and what is found, or told, in less usual ways."""

from dataclasses import replace

from checker.compare.comparing import compare
from checker.compare.tables import CarrierChange, Comparison
from checker.model import SourceFile
from checker.result.tables import CableRow, CarrierRow, FindingRow, Result
from tests.compared import LENGTHS, PASSING, causes, changes, shifted, way, with_carrier, with_circuits
from tests.report.html_pages import circuit, rating
from tests.report.results import global_id, small_result

FULL = (0.42, 0.42, *PASSING[2:])


def with_files(result: Result, *files: tuple[str, str, str]) -> Result:
    """A result of some files, each a role, a name and what its SHA-256 is made of."""
    return replace(result, files=tuple(SourceFile(role, name, sha * 64) for role, name, sha in files))


def fuller(result: Result, value: float = 0.43) -> Result:
    """The first two findings with another figure, and of no circuits, so that nothing but their carriers is known of them."""
    rows = tuple(replace(row, value=value, circuits=()) for row in result.findings[:2])
    return replace(result, findings=(*rows, *result.findings[2:]))


def the_carrier(comparison: Comparison, label: str = "T-001") -> tuple[str, str]:
    row = next(row for row in comparison.carriers if row.label == label)
    return row.change.value, row.what


def test_by_other_tables_only_what_has_no_change_of_its_own_is_told_apart() -> None:
    old = with_files(small_result(FULL), ("model", "a.ifc", "1"), ("table", "t.csv", "1"))
    wider = replace(old.carriers[0], width_mm=75.0)
    new = with_files(fuller(small_result(FULL)), ("model", "a.ifc", "2"), ("table", "t.csv", "2"))
    new = replace(new, carriers=(wider, *new.carriers[1:]))

    found = causes(compare(fuller(old, 0.42), new))

    assert found == {LENGTHS[0]: "what was checked", LENGTHS[1]: "other figures"}


def cable(number: int, mark: str, count: int = 3) -> CableRow:
    return CableRow(global_id(number), 1, mark, "single 2.5", count, 3.9, 11.9, "power", certain=True)


def test_other_cables_in_a_carrier_are_a_change_of_it() -> None:
    files = (("code", "c.toml", "1"), ("model", "a.ifc", "1"))
    old = replace(with_files(fuller(small_result(FULL), 0.42), *files), cables=(cable(1, "C9"),))
    new = replace(with_files(fuller(small_result(FULL)), ("code", "c.toml", "2"), ("model", "a.ifc", "2")),
                  cables=(cable(1, "C9", 4),))  # fmt: skip

    assert causes(compare(old, new)) == {LENGTHS[0]: "both", LENGTHS[1]: "other figures"}


def test_a_circuit_that_changed_is_a_change_of_the_carriers_that_it_lies_in() -> None:
    old, new = (
        replace(with_files(fuller(small_result(FULL), value), ("code", "c.toml", sha), ("model", "a.ifc", sha)),
                cables=(cable(1, "C9"),), circuits=(circuit("C9", service=service),))
        for value, sha, service in ((0.42, "1", "power"), (0.43, "2", "data"))
    )  # fmt: skip

    assert causes(compare(old, new)) == {LENGTHS[0]: "both", LENGTHS[1]: "other figures"}


def of_circuit(mark: str, limit: float, carrier: str = "") -> FindingRow:
    """What a circuit needs, 16 A, against what it carries."""
    return replace(
        small_result().findings[0], id=f"of {mark}", rule="grouping.rating", carriers=(carrier,) if carrier else (), compartment=None,
        circuits=(mark,), is_of_circuit=True, value=16.0, limit=limit, unit="A", verdict="pass" if limit >= 16.0 else "fail",
    )  # fmt: skip


def test_a_circuit_is_touched_by_what_else_lies_on_its_way_and_one_elsewhere_is_not() -> None:
    def result(sha: str, limit: float, *more: CableRow) -> Result:
        cables = (cable(1, "C1"), cable(3, "C2"), *more)
        circuits = (circuit("C1", carriers=way(1)), circuit("C2", carriers=way(3)))
        findings = (of_circuit("C1", limit), of_circuit("C2", limit))
        made = replace(small_result(PASSING), cables=cables, circuits=circuits, findings=findings)
        return with_files(made, ("code", "c.toml", sha), ("model", "a.ifc", sha))

    comparison = compare(result("1", 18.0), result("2", 14.0, cable(1, "C7")))

    assert changes(comparison) == {"circuit C1": "new", "circuit C2": "new"}
    assert causes(comparison) == {"circuit C1": "both", "circuit C2": "other figures"}


def test_what_a_circuit_carries_is_worked_out_and_no_figure_of_the_project() -> None:
    def result(sha: str, limit: float) -> Result:
        made = replace(small_result(PASSING), findings=(of_circuit("C1", limit),))
        return with_files(made, ("project", "wayroom.toml", sha), ("model", "a.ifc", sha))

    assert causes(compare(result("1", 18.0), result("2", 14.0))) == {"circuit C1": "what was checked"}


def test_a_circuit_that_another_length_governs_is_the_same_finding_in_a_project_of_another_key() -> None:
    old = replace(small_result(PASSING), findings=(of_circuit("C1", 15.0, global_id(1)),))
    row = replace(of_circuit("C1", 14.0, global_id(2)), id="another")

    comparison = compare(old, replace(old, project_key="another", findings=(row,)))

    assert [row.change.value for row in comparison.findings] == ["worse"]


def test_of_the_same_files_all_that_differs_is_a_matter_of_the_figures() -> None:
    files = (("model", "a.ifc", "1"), ("schedule", "s.csv", "1"))
    old = with_files(fuller(small_result(FULL), 0.42), *files, ("code", "c.toml", "1"))
    new = replace(with_files(fuller(small_result(FULL)), *files, ("code", "c.toml", "2")), cables=(cable(1, "C9"),))

    assert set(causes(compare(old, new)).values()) == {"other figures"}


def test_insides_that_other_tables_give_are_no_other_size() -> None:
    def result(sha: str, inside_mm: float) -> Result:
        made = small_result(PASSING)
        part = replace(made.compartments[0], inside_width_mm=inside_mm)
        return with_files(replace(made, compartments=(part, *made.compartments[1:])), ("table", "t.csv", sha))

    told = "compartment 1: inside 97.6 × 47.6 mm → 96 × 47.6 mm"
    assert the_carrier(compare(result("1", 97.6), result("1", 96.0))) == ("resized", told)
    assert the_carrier(compare(result("1", 97.6), result("2", 96.0))) == ("same", "")


def test_what_a_circuit_needs_is_a_change_of_it_unless_another_code_says_so() -> None:
    def result(code: str, needs: float) -> Result:
        return replace(with_circuits(circuit("C1")), code=code, ratings=(rating(required_a=needs),))

    same, other = (compare(result("one", 16.0), result(code, 20.0)).circuits[0] for code in ("one", "two"))
    assert (same.change.value, same.what) == ("changed", "needs 16 → 20 A")
    assert other.change.value == "same"


def test_what_grows_at_one_end_has_not_moved_besides_and_what_moved_besides_says_so() -> None:
    old = small_result(PASSING)
    box = old.carriers[0].boxes[0]
    longer = replace(box, edges_mm=((4000.0, 0.0, 0.0), *box.edges_mm[1:]))
    grown = replace(old.carriers[0], length_m=4.0, boxes=(longer,))

    def against(row: CarrierRow) -> Comparison:
        return compare(old, replace(old, carriers=(row, *old.carriers[1:])))

    assert the_carrier(against(grown)) == ("resized", "length 3.00 m → 4.00 m")
    # its middle is 500 mm further by what it grew, and 5000 mm by what it moved
    assert the_carrier(against(shifted(grown, 5000.0))) == (
        "resized", "length 3.00 m → 4.00 m; moved 5500 mm (x 5500, y 0, z 0)",
    )  # fmt: skip


def test_a_longer_one_with_the_only_such_tag_over_the_same_place_is_made_anew() -> None:
    old = small_result(PASSING)
    box = old.carriers[0].boxes[0]
    longer = replace(box, edges_mm=((4000.0, 0.0, 0.0), *box.edges_mm[1:]))
    new = with_carrier(old, 0, shifted(replace(old.carriers[0], length_m=4.0, boxes=(longer,)), 0.0, number=501))

    change, what = the_carrier(compare(old, new))

    assert (change, what.endswith("length 3.00 m → 4.00 m"), "made anew" in what) == ("resized", True, True)


def test_of_several_with_one_tag_what_lies_more_than_a_hand_s_breadth_off_is_another() -> None:
    empty = replace(small_result(PASSING), findings=(), compartments=())
    alike = tuple(replace(row, place=replace(row.place, tag="", name="Tray")) for row in empty.carriers[:2])
    far = tuple(shifted(row, 150.0, number=600 + place) for place, row in enumerate(alike))  # more than 100 mm

    comparison = compare(replace(empty, carriers=alike), replace(empty, carriers=far))

    assert sorted(row.change.value for row in comparison.carriers) == ["added", "added", "removed", "removed"]


def test_the_same_global_id_under_another_key_is_the_same_element() -> None:
    old = small_result(PASSING)
    renamed = replace(old.carriers[0], key=f"of a second file {old.carriers[0].key}")
    new = replace(old, carriers=(renamed, *old.carriers[1:]), findings=(), compartments=())

    row = next(row for row in compare(replace(old, findings=(), compartments=()), new).carriers if row.label == "T-001")

    assert (row.change, row.is_anew, row.key_new) == (CarrierChange.SAME, False, renamed.key)


def test_what_is_marked_as_demolished_now_says_so() -> None:
    old = small_result(PASSING)
    new = replace(small_result(PASSING, without=(1,)), demolished=(old.carriers[0].place,))

    assert the_carrier(compare(old, new)) == ("removed", "marked as demolished now")


def test_a_circuit_that_is_removed_now_lost_neither_way_nor_cables() -> None:
    old = with_circuits(circuit("C1"))
    gone = replace(with_circuits(circuit("C1", state="removed", routed_by="", carriers=(), length_m=None)), take_off=())

    comparison = compare(old, gone)

    assert comparison.circuits[0].what == "no way now; state new → removed"
    assert comparison.exit_status() == 0


def test_a_cable_of_another_diameter_is_another_cable() -> None:
    old = replace(with_circuits(circuit("C1")), cables=(cable(1, "C1"),))
    new = replace(old, cables=(replace(cable(1, "C1"), diameter_mm=4.4),))

    row = compare(old, new).circuits[0]

    assert (row.change.value, row.what) == ("cables changed", "single 2.5: diameter 3.9 mm → 4.4 mm")


def test_a_model_of_another_name_and_project_whose_carriers_are_there_was_read() -> None:
    old = small_result((0.5, *PASSING[1:]))
    files = (SourceFile("model", "revision 2.ifc", "2" * 64, "IFC4", "", global_id(901)),)

    comparison = compare(old, replace(small_result(PASSING, without=(1,)), files=files))

    assert changes(comparison)[LENGTHS[0]] == "gone"
    assert not any("models of OLD" in one.what for one in comparison.differences)
