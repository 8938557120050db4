"""What the model has of each carrier: insides, open ends, circuits. Trays of 2 m in a row along x, 1 m high apart from others."""

from dataclasses import replace

import pytest

from checker.model import Condition, Installation, ModelledCarrier, Section, Service, State
from checker.network.loading import load
from checker.network.modelled import modelled_carriers, open_ends
from checker.network.routing import route_all
from checker.network_rows import open_end_rows
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet

SIZES = load_plugins().codes["bs-7671"].sizes
ROW = (
    carrier("A", (0, 0, 0), (2000, 0, 0)),
    carrier("B", (2000, 0, 0), (4000, 0, 0)),
    carrier("FAR", (9000, 0, 0), (11000, 0, 0)),  # 5 m from B
    outlet("DB", (0, 0, -300)),
    outlet("S1", (2500, 0, -400)),
)


def modelled(inst: Installation) -> dict[str, ModelledCarrier]:
    routing = route_all(inst)
    return {item.carrier.key: item for item in modelled_carriers(inst, routing, load(inst, routing, SIZES))}


def test_an_end_is_open_where_nothing_is_joined_and_no_circuit_comes_in() -> None:
    found = modelled(installation(*ROW, circuit("P1", "DB", "S1")))
    # the circuit comes in at A's start, and into B half a metre from its start: B's end, 1.5 m on, is open
    assert (found["A"].open_ends, found["B"].open_ends, found["FAR"].open_ends) == ((), ("end",), ("start", "end"))
    assert [found[key].is_joined for key in ("A", "B", "FAR")] == [True, True, False]
    assert [found[key].circuits for key in ("A", "B", "FAR")] == [("P1",), ("P1",), ()]
    assert not any(item.may_come_in or item.may_hold or item.told for item in found.values())


def test_open_ends_are_those_of_the_table() -> None:
    routing = route_all(installation(*ROW, circuit("P1", "DB", "S1")))
    table = [(row.carrier, row.end, row.point_mm, row.comes_in) for row in open_end_rows(routing)]
    assert [tuple(end) for end in open_ends(routing)] == table
    assert len(table) == 4  # A's start, where the circuit comes in, B's end and both of FAR


def test_a_circuit_without_a_way_may_come_in_anywhere_and_lie_where_its_service_may() -> None:
    data = carrier("DATA", (9000, 5000, 0), (11000, 5000, 0), replace(STEEL_50, lanes=lanes(Service.DATA)))
    found = modelled(installation(*ROW, data, circuit("P1", "DB", "S1"), circuit("P2", "DB", "NOWHERE")))
    assert all(item.may_come_in for item in found.values())
    assert (found["FAR"].may_hold, found["DATA"].may_hold) == (True, False)
    assert not found["FAR"].told


def test_a_removed_circuit_comes_in_nowhere() -> None:
    gone = circuit("P2", "DB", "NOWHERE", state=State.REMOVED)
    found = modelled(installation(*ROW, circuit("P1", "DB", "S1"), gone))
    assert not any(item.may_come_in or item.may_hold for item in found.values())


@pytest.mark.parametrize("why", [{"is_scheduled": False}, {"lost_rows": (7,)}])
def test_what_cannot_be_counted_is_told_for_itself(why: dict[str, object]) -> None:
    found = modelled(installation(*ROW, circuit("P1", "DB", "S1"), **why))
    assert all("use" in item.told and item.may_hold and item.may_come_in for item in found.values())


def test_an_existing_carrier_holds_what_no_schedule_says() -> None:
    there = replace(carrier("OLD", (0, 5000, 0), (2000, 5000, 0)), condition=Condition.EXISTING)
    found = modelled(installation(*ROW, there, circuit("P1", "DB", "S1")))
    assert "use" in found["OLD"].told
    assert "use" not in found["FAR"].told


def test_ends_that_nearly_meet_are_told_already_but_no_other_end() -> None:
    near = carrier("NEAR", (4060, 0, 0), (6000, 0, 0))  # 60 mm from B's end
    side = carrier("SIDE", (10000, 150, 0), (10000, 3000, 0))  # its start 150 - 25 mm from FAR's side
    found = modelled(installation(*ROW, near, side, circuit("P1", "DB", "S1")))
    # B's only open end is told; NEAR and SIDE have another, 2 m and more from anything
    assert {key for key, item in found.items() if "ends" in item.told} == {"B"}
    assert [found[key].open_ends for key in ("B", "NEAR", "SIDE")] == [("end",), ("start", "end"), ("start", "end")]


def test_of_carriers_of_one_name_it_cannot_be_told_whose_end_nearly_meets() -> None:
    near = carrier("NEAR", (4060, 0, 0), (6000, 0, 0))
    other = replace(carrier("OTHER", (0, 9000, 0), (2000, 9000, 0)), place=near.place)
    found = modelled(installation(*ROW, near, other, circuit("P1", "DB", "S1")))
    assert {key for key, item in found.items() if "ends" in item.told} == {"B"}


def test_where_it_is_must_be_known_for_its_ends() -> None:
    lost = replace(carrier("LOST", (0, 5000, 0), (2000, 5000, 0)), start_mm=None, end_mm=None)
    found = modelled(installation(*ROW, lost))
    assert found["LOST"].open_ends is None
    assert "ends" in found["LOST"].told  # by the reader


@pytest.mark.parametrize(
    ("section", "lacking", "is_told"),
    [
        (STEEL_50, (), False),
        (Section(width_mm=50.0, height_mm=50.0, source="test"), (), False),  # between two walls
        (Section(), ("its size isn't known",), True),  # the reader tells it
        (Section(width_mm=50.0), ("its height isn't known",), True),
        (Section(outside_diameter_mm=16.0, wall_mm=8.0, source="test"), ("its wall leaves no bore",), False),
        (replace(STEEL_50, wall_mm=25.0), ("its walls and dividers leave no room inside",), False),
        # 2 · 40 mm and a divider go into no 48 mm: told of the type
        (
            replace(STEEL_50, lanes=lanes(None, None, widths=(40.0, 40.0))),
            ("its walls and dividers leave no room inside",),
            True,
        ),
    ],
)
def test_why_an_inside_lacks_is_said_and_whether_that_is_told(
    section: Section, lacking: tuple[str, ...], *, is_told: bool
) -> None:
    found = modelled(installation(*ROW, carrier("X", (0, 5000, 0), (2000, 5000, 0), section)))["X"]
    assert found.lacking == lacking
    assert ("size" in found.told) is is_told


def test_of_two_open_ends_one_that_nearly_meets_something_leaves_the_other_to_be_told() -> None:
    # B's start is 200 mm from A's end, which is told; its own end, at 4 m, is open all the same
    near = carrier("B", (2200, 0, 0), (4000, 0, 0))
    found = modelled(
        installation(ROW[0], near, outlet("DB", (0, 0, -300)), outlet("S1", (1900, 0, -400)), circuit("P1", "DB", "S1"))
    )
    assert found["B"].open_ends == ("start", "end")
    assert "ends" not in found["B"].told
    assert found["A"].open_ends == ()  # the circuit comes in at both
    both = modelled(
        installation(
            ROW[0], near, carrier("C", (4200, 0, 0), (6000, 0, 0)), outlet("DB", (0, 0, -300)), circuit("P1", "DB", "A")
        )
    )
    assert both["B"].told >= {"ends"}


def test_a_name_with_a_stroke_in_it_is_not_taken_for_another_carriers() -> None:
    # "A / B" nearly meets C; nothing is told of the carrier called A, 9 m away
    far = replace(carrier("FAR", (9000, 9000, 0), (11000, 9000, 0)), place=replace(ROW[0].place, tag="A"))
    one = replace(carrier("ONE", (0, 0, 0), (2000, 0, 0)), place=replace(ROW[0].place, tag="A / B"))
    found = modelled(installation(one, carrier("C", (2200, 0, 0), (4000, 0, 0)), far, is_scheduled=True))
    assert "ends" not in found["FAR"].told
