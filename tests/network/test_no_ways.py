"""Circuits without a way: what is said of them where the network breaks or is closed, and how often.

A and B are trunkings in line along x, 2 m each, with 150 mm between their ends; DB hangs above the start of A, S above the end of B.
"""

from dataclasses import replace

import pytest

from checker.model import ProblemKind, Service, WayLimits
from checker.network.breaks import Breaks
from checker.network.route import Routing
from checker.network.routing import route_all
from checker.network_rows import break_rows
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

A, B = carrier("A", (0, 0, 0), (2000, 0, 0)), carrier("B", (2150, 0, 0), (4150, 0, 0))
DB, S = outlet("DB", (0, 0, 200)), outlet("S", (4150, 0, 200))
C1 = circuit("C1", "DB", "S")
FOR_DATA = replace(STEEL_50, lanes=lanes(Service.DATA))


def reason(routing: Routing, mark: str = "C1") -> str:
    return next(route.reason for route in routing.routes if route.circuit == mark)


def test_a_forgotten_fitting_is_told_with_the_two_carriers_and_the_place() -> None:
    routing = route_all(installation(A, B, DB, S, C1))
    # from 2000 to 2150 mm: in the middle x is 2.075 m, which is printed as 2.08 or 2.07
    assert reason(routing).startswith("no way through joined carriers that take power leads from A to B; ")
    assert "in two parts there, of 1 and 1 carriers; they come nearest at A and B, 150 mm apart (at x 2.0" in reason(
        routing
    )
    assert reason(routing).endswith("y 0.00, z 0.00 m, storey L0): a fitting may be missing")
    (row,) = break_rows(routing)
    assert (row.one, row.other, row.gap_mm, row.circuits) == ("A", "B", pytest.approx(150.0), ("C1",))
    (found,) = routing.breaks
    assert (found.one_mm, found.other_mm) == ((2000, 0, 0), (2150, 0, 0))
    (gap,) = [problem for problem in routing.problems if problem.where == "circuit C1"]
    assert gap.kind is ProblemKind.GAP
    assert gap.what == reason(routing)


def test_with_the_fitting_there_is_a_way_and_no_break() -> None:
    routing = route_all(installation(A, B, fitting("F", (2075, 0, 0), size=150.0), DB, S, C1))
    assert reason(routing) == ""
    assert break_rows(routing) == ()


def test_carriers_that_do_not_take_the_service_are_named_and_are_no_break() -> None:
    middle = carrier("M", (2000, 0, 0), (2150, 0, 0), FOR_DATA)
    routing = route_all(installation(A, middle, B, DB, S, C1))
    assert reason(routing).endswith("the two parts of the network are joined only through M, which is not for power")
    assert break_rows(routing) == ()
    data = route_all(installation(A, middle, B, DB, S, replace(C1, service=Service.DATA)))
    assert reason(data) == ""


def test_several_closed_carriers_in_a_row_are_named_in_the_order_of_the_way() -> None:
    first = carrier("Z", (2000, 0, 0), (2100, 0, 0), FOR_DATA)
    second = carrier("M", (2100, 0, 0), (2150, 0, 0), FOR_DATA)
    routing = route_all(installation(A, first, second, B, DB, S, C1))
    assert "joined only through Z, M, which are not for power" in reason(routing)


def test_what_wayroom_toml_closes_is_told_with_the_way_that_there_is_without_that() -> None:
    middle = carrier("M", (2000, 0, 0), (2150, 0, 0))
    closed = replace(C1, limits=WayLimits((), frozenset({"M"}), ("not through M",)))
    routing = route_all(installation(A, middle, B, DB, S, closed))
    assert "as wayroom.toml asks (not through M); without that there is one of 4.15 m" in reason(routing)
    assert break_rows(routing) == ()


def test_what_is_closed_by_service_and_by_wayroom_toml_is_told_apart() -> None:
    first = carrier("M1", (2000, 0, 0), (2100, 0, 0), FOR_DATA)
    second = carrier("M2", (2100, 0, 0), (2150, 0, 0))
    closed = replace(C1, limits=WayLimits((), frozenset({"M2"}), ("not through M2",)))
    routing = route_all(installation(A, first, second, B, DB, S, closed))
    assert reason(routing).endswith("joined only through M1, which is not for power, and M2, which is closed to it")


def test_of_three_parts_each_pair_that_circuits_need_has_a_row() -> None:
    # 150 mm between A and B, 250 mm between B and C, none needs A and C
    third = carrier("C", (4400, 0, 0), (6400, 0, 0))
    ends = (outlet("IN-B", (3000, 0, 200)), outlet("IN-C", (6400, 0, 200)))
    circuits = (circuit("C1", "DB", "IN-B"), circuit("C2", "IN-B", "IN-C"), circuit("C3", "IN-C", "IN-B"))
    rows = break_rows(route_all(installation(A, B, third, DB, *ends, *circuits)))
    # the pair that most circuits need comes first
    assert [(row.one, row.other, row.gap_mm, row.circuits) for row in rows] == [
        ("B", "C", pytest.approx(250.0), ("C2", "C3")),
        ("A", "B", pytest.approx(150.0), ("C1",)),
    ]


def test_a_circuit_whose_end_comes_in_nowhere_needs_no_join() -> None:
    circuits = (circuit("C1", "DB", "NOWHERE"), circuit("C2", "DB", "FAR"), C1)
    far = outlet("FAR", (4150, 9000, 0))  # 9 m off, beyond the reach of 3 m
    routing = route_all(installation(A, B, DB, S, far, replace(circuits[0]), circuits[1]))
    assert break_rows(routing) == ()
    assert "NOWHERE" in reason(routing)
    assert "two parts" not in reason(routing)
    assert "two parts" not in reason(routing, "C2")


def test_a_thousand_circuits_over_one_break_are_one_row_that_is_looked_for_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[tuple[str, str]] = []
    row_of = Breaks._row

    def counted(self: Breaks, one: tuple[str, ...], other: tuple[str, ...]) -> object:
        asked.append((one[0], other[0]))
        return row_of(self, one, other)

    monkeypatch.setattr(Breaks, "_row", counted)
    circuits = [circuit(f"P{number}", "DB", "S") for number in range(1, 1001)]
    routing = route_all(installation(A, B, DB, S, *circuits))
    (row,) = break_rows(routing)
    assert row.circuits == tuple(f"P{number}" for number in range(1, 1001))  # as people count: P2 before P10
    assert asked == [("A", "B")]
    assert len({route.reason for route in routing.routes}) == 1


@pytest.mark.parametrize("turned", [False, True])
def test_breaks_and_reasons_are_the_same_in_any_order(*, turned: bool) -> None:
    third = carrier("C", (4400, 0, 0), (6400, 0, 0))
    items: list[object] = [A, B, third, DB, S, outlet("IN-C", (6400, 0, 200)), C1, circuit("C2", "S", "IN-C")]
    routing = route_all(installation(*(items[::-1] if turned else items)))  # type: ignore[arg-type]
    assert {row.circuits: (row.one, row.other) for row in break_rows(routing)} == {
        ("C1",): ("A", "B"),
        ("C2",): ("B", "C"),
    }
    assert "at A and B" in reason(routing, "C1")
    assert "at B and C" in reason(routing, "C2")
