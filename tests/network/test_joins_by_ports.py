"""What ports say, what they can't, and where they contradict the geometry. T is trunking 50 × 50 mm."""

import pytest

from checker.model import Port, ProblemKind
from checker.network.joining import FoundBy, find_joins
from tests.installations import carrier, fitting, installation, outlet
from tests.network.joined import found, gaps_told, told

A = carrier("A", (0, 0, 0), (2000, 0, 0))
B = carrier("B", (2000, 0, 0), (4000, 0, 0))
BY_PORTS, TOGETHER, MEETING = FoundBy.PORTS, FoundBy.PORTS_AT_ONE_PLACE, FoundBy.MEETING


@pytest.mark.parametrize("links", [(("q",), ()), ((), ("p",)), (("q",), ("p",)), (("q", "q"), ("p", "p"))])
def test_ports_connected_on_one_side_or_both_join_once(links: tuple[tuple[str, ...], tuple[str, ...]]) -> None:
    far = carrier("B", (2900, 0, 0), (4000, 0, 0))
    ports = (Port("p", "A", (2000, 0, 0), links[0]), Port("q", "B", (2900, 0, 0), links[1]))
    (join,) = find_joins(installation(A, far, ports=ports)).joins
    assert join.found_by is BY_PORTS
    assert join.gap_mm == pytest.approx(900.0)
    assert told(A, far, ports=ports) == ()


def test_ports_in_a_ring_or_of_nothing_that_was_read_are_no_trouble() -> None:
    ports = (
        Port("p", "A", (2000, 0, 0), ("q", "r", "p", "nowhere")),
        Port("q", "B", (2000, 0, 0), ("r", "p")),
        Port("r", "a pipe", (2000, 0, 0), ("p", "q")),
    )
    assert found(A, B, ports=ports) == {("A", "B", BY_PORTS)}


def test_unconnected_ports_at_one_place_join_and_that_is_said() -> None:
    ports = (Port("p", "A", (2000, 0, 0)), Port("q", "B", (2009, 0, 0)))
    assert found(A, B, ports=ports) == {("A", "B", TOGETHER)}
    (problem,) = told(A, B, ports=ports)
    assert (problem.kind, problem.where, problem.elements) == (ProblemKind.INFERENCE, "joins by ports at one place", 2)
    apart = carrier("B", (2011, 0, 0), (4000, 0, 0))
    assert found(A, apart, ports=(Port("p", "A", (2000, 0, 0)), Port("q", "B", (2011, 0, 0)))) == set()


def test_an_end_that_a_connected_port_joins_is_not_joined_to_what_is_merely_near() -> None:
    ports = (Port("p", "A", (2000, 0, 0), ("q",)), Port("q", "B", (2000, 0, 0), ("p",)))
    near = carrier("N", (2000, 34, 0), (2000, 3000, 0))  # 9 mm from the sides, within the tolerance of 10 mm
    assert found(A, B, near, ports=ports) == {("A", "B", BY_PORTS)}
    assert found(A, B, near) == {("A", "B", MEETING), ("A", "N", FoundBy.AT_SIDE), ("B", "N", FoundBy.AT_SIDE)}
    touching = carrier("N", (2000, 0, 0), (2000, 3000, 0))
    assert ("A", "N", MEETING) in found(A, B, touching, ports=ports)


def test_nor_is_it_joined_to_an_end_within_tolerance_that_it_does_not_touch() -> None:
    # A's end is connected to a box above it; N begins 6 mm before it
    ports = (Port("p", "A", (2000, 0, 0), ("q",)), Port("q", "F", (2000, 0, 250), ("p",)))
    box, near = fitting("F", (2000, 0, 300)), carrier("N", (2006, 0, 0), (4000, 0, 0))
    assert found(A, box, near, ports=ports) == {("A", "F", BY_PORTS)}
    assert ("A / N", "their ends are 6 mm apart and aren't joined") in gaps_told(A, box, near, ports=ports)
    assert ("A", "N", MEETING) in found(A, box, near)


def test_the_other_end_of_such_an_element_is() -> None:
    ports = (Port("p", "A", (0, 0, 0), ("q",)), Port("q", "F", None, ("p",)))
    box = fitting("F", (-50, 0, 0))
    assert found(A, B, box, ports=ports) == {("A", "F", BY_PORTS), ("A", "B", MEETING)}


def test_a_port_half_way_along_joins_there_and_leaves_both_ends_free() -> None:
    tap = carrier("C", (1000, 0, 0), (1000, 3000, 0))
    ports = (Port("p", "A", (1000, 0, 0), ("q",)), Port("q", "C", (1000, 0, 0), ("p",)))
    assert found(A, B, tap, ports=ports) == {("A", "C", BY_PORTS), ("A", "B", MEETING)}


def test_a_port_without_a_place_lies_at_the_one_that_it_is_connected_to() -> None:
    ports = (Port("p", "A", None, ("q",)), Port("q", "B", (2000, 0, 0), ("p",)))
    (join,) = find_joins(installation(A, B, ports=ports)).joins
    assert {(spot.element, spot.where) for spot in (join.one, join.other)} == {("A", "end"), ("B", "start")}


def test_of_two_ports_without_a_place_the_nearest_ends_are_joined() -> None:
    ports = (Port("p", "A", None, ("q",)), Port("q", "B", None, ("p",)))
    (join,) = find_joins(installation(A, B, ports=ports)).joins
    assert {(spot.element, spot.where) for spot in (join.one, join.other)} == {("A", "end"), ("B", "start")}
    assert join.found_by is BY_PORTS


def test_ports_heaped_at_one_place_of_a_carrier_do_not_say_which_end_is_meant() -> None:
    # both ports of B lie at its start, as where they have no placement of their own; C goes on at its end
    after = carrier("C", (4000, 0, 0), (6000, 0, 0))
    ports = (
        Port("a", "A", (2000, 0, 0), ("b",)), Port("b", "B", (2000, 0, 0), ("a",)),
        Port("c", "B", (2000, 0, 0), ("d",)), Port("d", "C", (4000, 0, 0), ("c",)),
    )  # fmt: skip
    joins = find_joins(installation(A, B, after, ports=ports)).joins
    assert {(spot.element, spot.where) for join in joins for spot in (join.one, join.other)} == {
        ("A", "end"), ("B", "start"), ("B", "end"), ("C", "start"),
    }  # fmt: skip
    (problem,) = told(A, B, after, ports=ports)
    assert (problem.where, problem.kind, problem.elements) == ("B", ProblemKind.ASSUMPTION, 1)


def test_connected_ports_that_lie_far_apart_are_joined_and_told() -> None:
    far = carrier("B", (4500, 0, 0), (6000, 0, 0))
    ports = (Port("p", "A", (2000, 0, 0), ("q",)), Port("q", "B", (4500, 0, 0), ("p",)))
    assert found(A, far, ports=ports) == {("A", "B", BY_PORTS)}
    (problem,) = told(A, far, ports=ports)
    assert (problem.kind, problem.where) == (ProblemKind.ASSUMPTION, "A / B")
    assert problem.what == "their ports are connected, but they lie 2.5 m apart"


def test_ports_that_lie_far_from_bodies_that_touch_are_no_contradiction() -> None:
    ports = (Port("p", "A", (2000, 9000, 0), ("q",)), Port("q", "B", (2000, 9000, 0), ("p",)))
    assert found(A, B, ports=ports) == {("A", "B", BY_PORTS)}
    assert told(A, B, ports=ports) == ()


def test_ports_at_one_place_of_bodies_far_apart_are_a_contradiction() -> None:
    # B's own port lies 3 m before its body
    far = carrier("B", (5000, 0, 0), (6000, 0, 0))
    ports = (Port("p", "A", (2000, 0, 0), ("q",)), Port("q", "B", (2000, 0, 0), ("p",)))
    (problem,) = told(A, far, ports=ports)
    assert problem.what == "their ports are connected, but they lie 3.0 m apart"


def test_equipment_is_joined_by_ports_and_never_to_equipment_by_place() -> None:
    board, other = outlet("S", (2000, 0, 0)), outlet("R", (2000, 0, 0))
    ports = (Port("p", "S", (2000, 0, 0)), Port("q", "R", (2000, 0, 0)))
    assert found(A, board, other, ports=ports) == set()
    assert found(A, board, ports=(*ports[:1], Port("q", "A", (2000, 0, 0)))) == {("A", "S", TOGETHER)}


def test_two_fittings_whose_ports_coincide_are_joined() -> None:
    one, other = fitting("F", (0, 0, 0)), fitting("G", (100, 0, 0))
    ports = (Port("p", "F", (50, 0, 0)), Port("q", "G", (50, 0, 0)))
    assert found(one, other, ports=ports) == {("F", "G", TOGETHER)}


def test_ports_connected_at_the_far_ends_of_carriers_that_touch_are_told() -> None:
    # A ends where B begins, but A's start is said to be connected to B's end: 2 m and B's own length away
    ports = (Port("p", "A", A.start_mm, ("q",)), Port("q", "B", B.end_mm, ("p",)))
    (problem,) = [problem for problem in told(A, B, ports=ports) if problem.kind is ProblemKind.ASSUMPTION]
    assert problem.what == "their ports are connected, but they lie 4.0 m apart"
