"""What became of carriers and circuits, and which element is which."""

import math
from collections import Counter
from dataclasses import replace

import pytest

from checker.compare.comparing import compare
from checker.compare.tables import CarrierChange, CircuitChange, FindingChange
from checker.result.tables import Box
from tests.compared import LENGTHS, PASSING, shifted, way, with_carrier, with_circuits
from tests.report.html_pages import circuit
from tests.report.results import box_mm, global_id, small_result


def test_an_element_made_anew_at_the_same_place_is_the_same_and_it_is_said() -> None:
    old = small_result((0.5, *PASSING[1:]))
    new = with_carrier(small_result((0.6, *PASSING[1:])), 0, shifted(old.carriers[0], 40.0, number=501))

    comparison = compare(old, new)

    row = next(row for row in comparison.carriers if row.label == "T-001")
    assert row.is_anew
    assert (row.global_id_old, row.global_id_new) == (global_id(1), global_id(501))
    assert comparison.counts().carriers_made_anew == 1
    worse = next(row for row in comparison.findings if row.where == LENGTHS[0])
    assert worse.change is FindingChange.WORSE
    assert worse.id_old != worse.id_new
    assert "made anew" in worse.what


def test_an_element_with_the_same_tag_elsewhere_is_another() -> None:
    old = small_result((0.5, *PASSING[1:]))
    far = shifted(old.carriers[0], 30000.0, number=501)  # 30 m off; it is 3 m long
    new = with_carrier(small_result((0.6, *PASSING[1:])), 0, far)

    comparison = compare(old, new)

    assert Counter(row.change.value for row in comparison.carriers) == {"same": 4, "added": 1, "removed": 1}
    assert sorted(row.change.value for row in comparison.findings if row.where == LENGTHS[0]) == ["gone", "new"]


def test_made_anew_with_one_name_for_all_the_nearest_are_matched() -> None:
    rows = small_result(PASSING).carriers
    named = tuple(replace(row, place=replace(row.place, tag="", name="Tray")) for row in rows)
    anew = tuple(shifted(row, 5.0, number=600 + place) for place, row in enumerate(named))
    empty = replace(small_result(PASSING), findings=(), compartments=())

    comparison = compare(replace(empty, carriers=named), replace(empty, carriers=tuple(reversed(anew))))

    pairs = {row.global_id_old: row.global_id_new for row in comparison.carriers}
    assert pairs == {old.place.global_id: new.place.global_id for old, new in zip(named, anew, strict=True)}


@pytest.mark.parametrize(
    ("key", "label", "by_mm", "classes"),
    [
        ("#7", "T-001", 300.0, ["moved"]),
        ("#7", "T-900", 30000.0, ["added", "removed"]),  # the number went to another element
        ("#9", "T-900", 30000.0, ["added", "removed"]),  # to have no GlobalId is nothing in common
        ("#9", "T-001", 0.4, ["same"]),
    ],
)
def test_what_has_no_global_id_goes_by_its_number_only_where_it_is_called_the_same(
    key: str, label: str, by_mm: float, classes: list[str]
) -> None:
    empty = replace(small_result(PASSING), findings=(), compartments=())
    (first, *_) = empty.carriers
    old = replace(first, key="#7", place=replace(first.place, global_id=""))
    new = replace(shifted(old, by_mm), key=key, place=replace(old.place, tag=label))

    comparison = compare(replace(empty, carriers=(old,)), replace(empty, carriers=(new,)))

    assert sorted(row.change.value for row in comparison.carriers) == classes
    assert not any(row.is_anew for row in comparison.carriers)


def test_what_is_found_of_another_element_with_the_number_of_an_earlier_one_is_another_finding() -> None:
    result = small_result((0.5, *PASSING[1:]))
    first = replace(result.carriers[0], key="#7", place=replace(result.carriers[0].place, global_id=""))
    old = with_carrier(result, 0, first)
    other = replace(shifted(first, 30000.0), place=replace(first.place, tag="T-900"))
    new = with_carrier(old, 0, other)
    assert old.findings[0].id == new.findings[0].id

    comparison = compare(old, new)

    failing = [
        (row.where, row.change.value) for row in comparison.findings if "fail" in {row.verdict_old, row.verdict_new}
    ]
    assert sorted(failing) == [("T-001, compartment 1", "gone"), ("T-900, compartment 1", "new")]


@pytest.mark.parametrize(
    ("changed", "change", "told"),
    [
        ({"width_mm": 150.0}, CarrierChange.RESIZED, "size 100 × 50 mm → 150 × 50 mm"),
        ({"width_mm": None}, CarrierChange.RESIZED, "size 100 × 50 mm → not known"),
        ({"length_m": 3.5}, CarrierChange.RESIZED, "length 3.00 m → 3.50 m"),
        ({"length_m": 3.0004}, CarrierChange.SAME, ""),  # 0.4 mm is rounding
        ({"kind": "tray"}, CarrierChange.CHANGED, "kind trunking → tray"),
        ({"boxes": ()}, CarrierChange.CHANGED, "where it lies isn't known now"),
        (
            {"boxes": (box_mm((1e308, 0.0, 0.0), (1e308, 0.0, 0.0), 1.0, 1.0),)},
            CarrierChange.CHANGED,
            "where it lies isn't known now",
        ),
        (
            {"boxes": (box_mm((math.nan, 0.0, 0.0), (1.0, 0.0, 0.0), 1.0, 1.0),)},
            CarrierChange.CHANGED,
            "where it lies isn't known now",
        ),
    ],
)
def test_what_changed_of_a_carrier_is_told(changed: dict[str, object], change: CarrierChange, told: str) -> None:
    old = small_result(PASSING)
    new = replace(old, carriers=(replace(old.carriers[0], **changed), *old.carriers[1:]))

    row = next(row for row in compare(old, new).carriers if row.label == "T-001")

    assert (row.change, row.what) == (change, told)


def test_a_carrier_that_lies_elsewhere_has_moved_and_one_that_rounds_otherwise_has_not() -> None:
    old = small_result(PASSING)
    moved = (shifted(old.carriers[0], 300.0), shifted(old.carriers[1], 0.4), *old.carriers[2:])

    rows = {row.label: row for row in compare(old, replace(old, carriers=moved)).carriers}

    assert rows["T-001"].change is CarrierChange.MOVED
    assert rows["T-001"].what == "moved 300 mm (x 300, y 0, z 0)"
    assert rows["T-002"].change is CarrierChange.SAME


def test_a_carrier_turned_about_its_middle_has_moved() -> None:
    old = small_result(PASSING)
    turned = Box((1450.0, -1400.0, 2700.0), ((0.0, 3000.0, 0.0), (100.0, 0.0, 0.0), (0.0, 0.0, 50.0)))
    middle = old.carriers[0].boxes[0]
    # from 0…3000 along x and -50…50 or 0…100 along y: the middle stays where it is when the turned box is put about it
    centre = [c + sum(edge[axis] for edge in middle.edges_mm) / 2 for axis, c in enumerate(middle.corner_mm)]
    turned = replace(turned, corner_mm=(centre[0] - 50.0, centre[1] - 1500.0, centre[2] - 25.0))

    row = next(
        row
        for row in compare(old, replace(old, carriers=(replace(old.carriers[0], boxes=(turned,)), *old.carriers[1:]))).carriers
        if row.label == "T-001"
    )  # fmt: skip

    assert (row.change, row.what) == (CarrierChange.MOVED, "lies otherwise about the same middle")


def test_that_all_moved_by_the_same_is_said_once() -> None:
    old = small_result(PASSING)
    new = replace(old, carriers=tuple(shifted(row, 1000.0) for row in old.carriers))

    told = [one.what for one in compare(old, new).differences]

    assert "all carriers that are in both moved by the same, in mm: x 1000, y 0, z 0" in told


def test_a_compartment_more_is_a_carrier_resized() -> None:
    old = small_result(PASSING)
    new = replace(old, compartments=tuple(part for part in old.compartments if part.number == 1))

    row = next(row for row in compare(old, new).carriers if row.label == "T-003")

    assert (row.change, row.what) == (CarrierChange.RESIZED, "compartments 2 → 1")


def test_circuits_are_added_removed_rerouted_and_recabled() -> None:
    old = with_circuits(circuit("C1", carriers=way(1, 2)), circuit("C2", carriers=way(1)), circuit("C3"), circuit("C4"))
    new = with_circuits(
        circuit("C1", carriers=way(1, 3), length_m=14.0), circuit("C3"), circuit("C4", service="data"), circuit("C5")
    )

    rows = {row.circuit: row for row in compare(old, new).circuits}

    assert {mark: row.change.value for mark, row in rows.items()} == {
        "C1": "rerouted", "C2": "removed", "C3": "same", "C4": "changed", "C5": "added",
    }  # fmt: skip
    assert rows["C1"].what == "now by T-003, no longer by T-002; way 12.50 m → 14.00 m"
    assert rows["C4"].what == "service power → data"
    more = {
        row.circuit: row
        for row in compare(with_circuits(circuit("C1")), with_circuits(circuit("C1"), cables=5)).circuits
    }
    assert (more["C1"].change, more["C1"].what) == (CircuitChange.RECABLED, "cables 3 × single 2.5 → 5 × single 2.5")


def test_a_circuit_that_lost_its_way_is_told_and_is_less_known() -> None:
    lost = circuit("C1", routed_by="", carriers=(), length_m=None, reason="DB-1 is in no model")
    comparison = compare(with_circuits(circuit("C1", carriers=way(1))), with_circuits(lost))

    row = comparison.circuits[0]
    assert (row.change, row.what) == (CircuitChange.REROUTED, "no way now: DB-1 is in no model")
    assert comparison.exit_status() == 3
    assert compare(with_circuits(lost), with_circuits(circuit("C1", carriers=way(1)))).exit_status() == 0


def test_a_way_by_an_element_made_anew_is_the_same_way() -> None:
    old = with_circuits(circuit("C1", carriers=way(1)))
    new = with_carrier(with_circuits(circuit("C1", carriers=way(501))), 0, shifted(old.carriers[0], 0.0, number=501))

    assert [row.change for row in compare(old, new).circuits] == [CircuitChange.SAME]
