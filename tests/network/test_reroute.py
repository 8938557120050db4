"""Other ways are such as a schedule can give: named, read back and measured as any given route."""

import itertools
from dataclasses import replace

import pytest

from checker.model import CarrierKind, Installation, Section
from checker.network.reroute import Detours
from checker.network.route import RoutedBy
from checker.network.routing import route_all
from tests.installations import carrier, circuit, installation, outlet

POINTS = [(0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), (6000.0, 0.0, 0.0)]


def site(**circuit_more: object) -> Installation:
    """A, B and C in line, and U1, U2 and U3 round B, 1 m off."""
    line = [carrier(key, one, two) for key, one, two in zip("ABC", POINTS, POINTS[1:], strict=False)]
    corners = [POINTS[1], (2000.0, 1000.0, 0.0), (4000.0, 1000.0, 0.0), POINTS[2]]
    round_it = [
        carrier(f"U{number}", one, two) for number, (one, two) in enumerate(itertools.pairwise(corners), start=1)
    ]
    board, socket = outlet("DB", (0.0, -300.0, 0.0)), outlet("S1", (6000.0, -200.0, 0.0))
    return installation(*line, *round_it, board, socket, circuit("P1", "DB", "S1", **circuit_more))  # type: ignore[arg-type]


def around(inst: Installation, *closed: str):
    routing = route_all(inst)
    return Detours(inst, routing).around(inst.circuits[0], routing.routes[0], frozenset(closed))


def test_the_shortest_way_round_says_how_much_longer_it_is() -> None:
    found = around(site(), "B")
    assert found is not None
    assert found.text == "A; U1; U2; U3; C"
    assert found.longer_mm == 2000.0  # 1 + 2 + 1 m instead of 2
    assert found.way.length_mm == 8000.0
    assert found.way.routed_by is RoutedBy.SCHEDULE


def test_what_is_given_as_route_is_led_just_so() -> None:
    inst = site()
    found = around(inst, "B")
    assert found is not None
    steps = circuit("P1", "DB", "S1", route=found.text.replace("; ", ";")).route
    again = route_all(replace(inst, circuits=(replace(inst.circuits[0], route=steps),)))
    assert again.routes == (found.way,)


def test_there_is_none_where_all_ways_are_closed() -> None:
    assert around(site(), "B", "U2") is None
    assert around(site(), "A") is None  # by B alone it would hang loose for 2.02 m instead of 0.30


def test_names_that_others_bear_are_given_by_global_id() -> None:
    inst = site()
    carriers = tuple(
        replace(own, place=replace(own.place, tag="U" if own.key.startswith("U") else own.key)) for own in inst.carriers
    )
    found = around(replace(inst, carriers=carriers), "B")
    assert found is not None
    assert found.text == "A; U1; U2; U3; C"  # their GlobalIds
    odd = tuple(
        replace(own, place=replace(own.place, tag="A;1" if own.key == "A" else own.key)) for own in inst.carriers
    )
    found = around(replace(inst, carriers=odd), "B")
    assert found is not None
    assert found.text.startswith("A; U1")


def test_a_compartment_is_named_behind_its_carrier() -> None:
    inst = site()
    routing = route_all(inst)
    found = Detours(inst, routing).by(inst.circuits[0], routing.routes[0], ["A", "B", "C"], {"B": 1})
    assert found is not None
    assert found.text == "A; B/1; C"
    assert [visit.compartment for visit in found.way.visits] == [None, 1, None]


def test_compartments_that_the_route_names_stay_where_it_goes_on_as_before() -> None:
    found = around(site(route="A/1;B/1;C"), "B")
    assert found is not None
    assert found.text == "A/1; U1; U2; U3; C"


@pytest.mark.parametrize(("origin", "calls"), [("DB", ()), ("", ("S1",)), ("", ())])
def test_of_a_circuit_with_one_end_or_none_nothing_tells_that_it_passes_all_that_is_named(
    origin: str, calls: tuple[str, ...]
) -> None:
    inst = site(route="A;B;C")
    inst = replace(inst, circuits=(replace(inst.circuits[0], origin=origin, calls=calls),))
    routing = route_all(inst)
    assert Detours(inst, routing).by(inst.circuits[0], routing.routes[0], ["A", "B", "C"], {"B": 1}) is None


def test_what_doesnt_hang_together_is_no_way() -> None:
    inst = site()
    routing = route_all(inst)
    assert Detours(inst, routing).by(inst.circuits[0], routing.routes[0], ["A", "C"], {}) is None
    assert (
        Detours(inst, routing).by(inst.circuits[0], routing.routes[0], ["A", "B"], {}) is None
    )  # it would hang loose for 2 m


def test_where_it_would_leave_a_run_of_conduit_elsewhere_it_is_no_way() -> None:
    inst = site()
    tube = Section(outside_diameter_mm=20.0, wall_mm=1.6)
    beside = carrier("N", (0.0, 800.0, 0.0), (6000.0, 800.0, 0.0), tube, CarrierKind.CONDUIT)
    trunking = carrier("N", (0.0, 800.0, 0.0), (6000.0, 800.0, 0.0))
    closed = ("A", "B", "C", "U1", "U2", "U3")
    by_trunking = around(replace(inst, carriers=(*inst.carriers, trunking)), *closed)
    assert by_trunking is not None
    assert by_trunking.text == "N"
    # as long, and from 800 mm off its axis: 1100 mm of drop instead of 300, and 1000 instead of 200
    assert by_trunking.longer_mm == 1600.0
    assert by_trunking.more_drop_mm == 1600.0
    assert around(replace(inst, carriers=(*inst.carriers, beside)), *closed) is None
