"""The tables of the network: the take-off of cables, joins with their places, and open ends."""

import csv
import io
from collections import defaultdict
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import Cable, Circuit, Installation, Place, State
from checker.network.routing import route_all
from checker.network_rows import cable_name, equipment_rows, join_rows, near_miss_rows, open_end_rows, take_off_rows
from checker.report.csv_files import cables_csv
from checker.result.network_tables import TakeOffRow
from checker.result.tables import CarrierRow
from tests.installations import carrier, circuit, installation, outlet
from tests.report.results import small_result

# A straight trunking of three lengths, 2 m each; DB hangs 0.3 m below its start, S1 0.4 m below the middle, S2 0.5 m below its end.
LINE = (
    carrier("A", (0, 0, 0), (2000, 0, 0)),
    carrier("B", (2000, 0, 0), (4000, 0, 0)),
    carrier("C", (4000, 0, 0), (6000, 0, 0)),
    outlet("DB", (0, 0, -300)),
    outlet("S1", (3000, 0, -400)),
    outlet("S2", (6000, 0, -500)),
)


def take_off(inst: Installation) -> tuple[TakeOffRow, ...]:
    return take_off_rows(inst, route_all(inst))


def test_a_cable_is_as_long_as_its_way_and_both_drops() -> None:
    (row,) = take_off(installation(*LINE, circuit("P1", "DB", "S2", count=3)))
    assert (row.circuit, row.origin, row.call, row.count, row.carriers) == ("P1", "DB", "S2", 3, ("A", "B", "C"))
    assert row.way_m == pytest.approx(6.0)
    assert row.drops_m == pytest.approx(0.3 + 0.5)
    assert row.length_m == pytest.approx(6.8)
    assert row.total_m == pytest.approx(3 * 6.8)


def test_what_the_project_allows_for_is_added_to_each_cable() -> None:
    (row,) = take_off(installation(*LINE, circuit("P1", "DB", "S2"), allowance_share=0.05, end_allowance_mm=250.0))
    assert row.length_m == pytest.approx(6.8 * 1.05 + 2 * 0.25)


def test_a_circuit_that_calls_at_several_is_one_cable_for_each_leg() -> None:
    first, second = take_off(installation(*LINE, circuit("P1", "DB", "S1", "S2")))
    assert (first.origin, first.call, first.leg, second.origin, second.call, second.leg) == (
        "DB",
        "S1",
        0,
        "S1",
        "S2",
        1,
    )
    # to S1: 3 m, down 0.3 and 0.4; on from there: up 0.4 again, 3 m, down 0.5
    assert first.length_m == pytest.approx(3.7)
    assert second.length_m == pytest.approx(3.9)
    assert first.carriers == ("A", "B")
    assert second.carriers == ("B", "C")


def test_parallel_sets_are_counted_and_each_kind_of_cable_has_its_row() -> None:
    two = replace(circuit("P1", "DB", "S2"), sets=2, cables=(Cable(2, "line", 3, 9.0), Cable(3, "earth", 1, 7.0)))
    rows = take_off(installation(*LINE, two))
    assert [(row.cable, row.count) for row in rows] == [("line", 6), ("earth", 2)]


def test_what_has_no_way_has_a_row_with_the_reason_and_no_length() -> None:
    (row,) = take_off(installation(*LINE, circuit("P1", "DB", "NOWHERE")))
    assert row.length_m is None
    assert row.total_m is None
    assert "NOWHERE" in row.reason


def test_a_route_with_a_gap_has_no_length() -> None:
    (row,) = take_off(installation(*LINE, circuit("P1", "DB", "S2", route="A;C")))
    assert row.length_m is None
    assert row.reason == "its route has a gap"
    assert row.carriers == ("A", "C")


def test_a_number_that_is_not_known_gives_no_total_but_a_length() -> None:
    (row,) = take_off(installation(*LINE, circuit("P1", "DB", "S2", count=None)))
    assert row.length_m == pytest.approx(6.8)
    assert row.total_m is None
    assert row.reason == "how many there are isn't known"


def test_removed_circuits_are_not_taken_off_and_existing_ones_say_so() -> None:
    rows = take_off(
        installation(
            *LINE, circuit("R", "DB", "S2", state=State.REMOVED), circuit("E", "DB", "S2", state=State.EXISTING)
        )
    )
    assert [(row.circuit, row.state) for row in rows] == [("E", "existing")]


@pytest.mark.parametrize(
    ("cable", "name"),
    [
        (Cable(1, key="h07v-r-6", diameter_mm=5.0), "h07v-r-6"),
        (Cable(1, diameter_mm=11.3, csa_mm2=2.5), "11.3 mm, 2.5 mm²"),
        (Cable(1, width_mm=9.0, height_mm=4.0), "9 × 4 mm"),
        (Cable(1), "not said"),
    ],
)
def test_a_cable_is_called_by_its_key_else_by_its_size(cable: Cable, name: str) -> None:
    assert cable_name(cable) == name


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_totals_are_the_same_however_rows_are_ordered_and_split(data: st.DataObject) -> None:
    counts = data.draw(st.lists(st.integers(1, 5), min_size=1, max_size=5))
    ends = data.draw(st.lists(st.sampled_from(["S1", "S2"]), min_size=len(counts), max_size=len(counts)))
    whole = [circuit(f"P{n}", "DB", end, count=count) for n, (end, count) in enumerate(zip(ends, counts, strict=True))]

    def split(item: Circuit) -> Circuit:
        (cable,) = item.cables
        parts = [1] * (cable.count or 0)  # a row for each cable
        return replace(item, cables=tuple(replace(cable, count=one) for one in parts))

    order = data.draw(st.permutations([split(item) for item in whole]))
    totals = [defaultdict(float), defaultdict(float)]
    for found, circuits in zip(totals, (whole, order), strict=True):
        for row in take_off(installation(*LINE, *circuits)):
            assert row.total_m is not None
            found[row.circuit] += row.total_m
    lengths = {"S1": 3.7, "S2": 6.8}  # as worked above
    for n, (end, count) in enumerate(zip(ends, counts, strict=True)):
        assert totals[0][f"P{n}"] == pytest.approx(count * lengths[end])
        assert totals[1][f"P{n}"] == pytest.approx(count * lengths[end])


def test_joins_say_where_they_are_and_ends_that_nothing_meets_are_open() -> None:
    routing = route_all(installation(*LINE, carrier("D", (0, 5000, 0), (1000, 5000, 0)), circuit("P1", "DB", "S2")))
    points = {(row.one, row.other): row.point_mm for row in join_rows(routing)}
    assert points["A", "B"] == (2000, 0, 0)
    assert {(row.carrier, row.end, row.comes_in) for row in open_end_rows(routing)} == {
        ("A", "start", 1),  # the circuit comes in there, from DB
        ("C", "end", 1),
        ("D", "start", 0),
        ("D", "end", 0),
    }


def test_equipment_that_circuits_name_is_listed_with_its_circuits_and_no_other() -> None:
    twins = (outlet("X1", (0, 0, 0)), outlet("X2", (9, 0, 0)))
    named = [replace(one, place=replace(one.place, tag="TWIN")) for one in twins]
    inst = installation(
        *LINE, *named, circuit("P10", "DB", "S2"), circuit("P9", "DB", "C"), circuit("P1", "TWIN", "NOBODY")
    )
    found = equipment_rows(inst, route_all(inst))
    # S1 is named by none, C is a carrier, TWIN could be either of two
    assert [(row.key, row.storey, row.point_mm, row.circuits) for row in found] == [
        ("DB", "L0", (0, 0, -300), ("P9", "P10")),
        ("S2", "L0", (6000, 0, -500), ("P10",)),
    ]
    # DB hangs below the start of A, S2 below the end of C
    assert [[(at.circuit, at.carrier, at.point_mm) for at in row.comes_in] for row in found] == [
        [("P9", "A", (0, 0, 0)), ("P10", "A", (0, 0, 0))],
        [("P10", "C", (6000, 0, 0))],
    ]


def test_the_file_has_a_row_for_each_cable_of_each_leg() -> None:
    result = small_result()
    key = result.carriers[0].key
    named: CarrierRow = replace(result.carriers[0], place=Place(key, "m.ifc", tag="T-1"))
    row = TakeOffRow("=P1", 1, "cat6", "DB", "S2", 2, 6.0, 0.8, 6.8, (key,), "", "new")
    (found,) = csv.DictReader(io.StringIO(cables_csv(replace(result, carriers=(named,), take_off=(row,))).decode()))
    assert found == {
        "cable": "cat6", "circuit": "'=P1", "from": "DB", "to": "S2", "length_m": "6.8", "carriers": key, "count": "2",
        "total_m": "13.6", "way_m": "6.0", "drops_m": "0.8", "state": "new", "leg": "2", "tags": "T-1", "reason": "",
    }  # fmt: skip


def test_an_end_that_misses_something_is_used_where_circuits_come_in_there() -> None:
    # 40 mm from the end of C another begins; and 60 mm beyond the side of B a stub ends, where nothing comes in
    more = (carrier("D", (6040, 0, 0), (8000, 0, 0)), carrier("S", (3000, 85, 0), (3000, 900, 0)))
    idle, used = installation(*LINE, *more), installation(*LINE, *more, circuit("P1", "DB", "S2"))
    ends = [(row.one, row.other, row.is_used) for row in near_miss_rows(route_all(idle))]
    assert ends == [("C", "D", False), ("S", "B", False)]
    # S2 lies below the end of C; D's own end is open still, so that one of the two is dead
    assert [row.is_used for row in near_miss_rows(route_all(used))] == [False, False]
    both = installation(
        *LINE, *more, outlet("S3", (6040, 0, -900)), circuit("P1", "DB", "S2"), circuit("P2", "S3", "D")
    )
    assert [row.is_used for row in near_miss_rows(route_all(both))] == [True, False]
