"""What a circuit names as its ends, and whether what the model draws comes to them.

K1 and K2 are trunkings of 4 m in line along x; DB hangs 0.2 m beside the start of K1, S1 beside where they meet. A cable is drawn between
those two.
"""

from dataclasses import replace

import pytest

from checker.model import Carrier, Circuit, Equipment, Place, Service
from checker.network.drawn import DrawnWay, DrawnWays
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet
from tests.network.test_drawn import line, told, told_of_ends

K1, K2 = carrier("K1", (0, 0, 0), (4000, 0, 0)), carrier("K2", (4000, 0, 0), (8000, 0, 0))
DB, S1 = outlet("DB", (0, 200, 0)), outlet("S1", (4000, 200, 0))
CABLE = line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0), (4000, 200, 0))


def drawn(of: Circuit, *more: Carrier | Equipment, cables: tuple = (CABLE,)) -> DrawnWay:  # type: ignore[type-arg]
    model = installation(K1, K2, DB, S1, *more, model_cables=cables)
    way = DrawnWays(model, {"K1": {"K2"}, "K2": {"K1"}}).way(of)
    assert way is not None
    return way


def test_an_end_that_the_model_doesnt_have_is_missed() -> None:
    way = drawn(circuit("P1", "DB", "S1", "S2"))
    assert (way.missed, way.has_gap) == (("S2",), True)
    assert told_of_ends(way) == ["nothing in the model is called 'S2'"]
    assert drawn(circuit("P1", "DB?", "S1")).missed == ("DB?",)


def test_an_end_that_two_elements_are_called_is_missed() -> None:
    two = [
        replace(outlet(key, (4000, y, 0)), place=Place(key, "test.ifc", tag="S2"))
        for key, y in (("A", 250), ("B", 900))
    ]
    way = drawn(circuit("P1", "DB", "S1", "S2"), *two)
    assert way.missed == ("S2",)
    assert told_of_ends(way) == ["2 elements are called 'S2'"]


def test_an_end_that_has_no_place_is_missed() -> None:
    way = drawn(circuit("P1", "DB", "S2"), replace(outlet("S2", (0, 0, 0)), point_mm=None))
    assert (way.missed, told_of_ends(way)) == (("S2",), ["where 'S2' is isn't known"])


def test_a_circuit_that_names_nothing_that_it_feeds_has_a_gap() -> None:
    way = drawn(circuit("P1", "DB"))
    assert (way.has_gap, told_of_ends(way)) == (True, ["what it feeds isn't named"])
    assert told_of_ends(drawn(circuit("P1", "", "S1"))) == ["one of its ends isn't named"]


def test_a_carrier_that_is_named_as_an_end_is_reached_only_if_the_way_passes_it() -> None:
    way = drawn(circuit("P1", "DB", "S1", "K2"))
    assert (way.missed, told_of_ends(way)) == (("K2",), ["the cables that the model draws miss 'K2'"])
    assert way.drops_mm == (pytest.approx(200.0), pytest.approx(200.0), None)
    way = drawn(circuit("P1", "K1", "S1"))
    assert (way.missed, way.has_gap) == ((), False)
    assert way.drops_mm == (0.0, pytest.approx(200.0))


def test_an_end_in_reach_is_missed_where_a_carrier_that_isnt_passed_leads_on_to_it() -> None:
    """The line ends where K2 begins, and S3 hangs 0.2 m beside K2, 2.5 m on: within 3 m, but not without K2."""
    of = circuit("P1", "DB", "S3")
    way = drawn(of, outlet("S3", (6500, 200, 0)), cables=(line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0)),))
    assert way.missed == ("S3",)
    up = outlet("S3", (4000, 0, 2500))  # straight up from where it ends, where no carrier is
    assert drawn(of, up, cables=(line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0)),)).missed == ()


def test_a_carrier_that_doesnt_take_the_service_isnt_what_leads_on() -> None:
    data = replace(K2, section=replace(STEEL_50, lanes=lanes(Service.DATA)))
    ends = (line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0)),)
    model = installation(K1, data, DB, outlet("S3", (6500, 200, 0)), model_cables=ends)
    way = DrawnWays(model, {}).way(circuit("P1", "DB", "S3", service=Service.POWER))
    assert way is not None
    assert way.missed == ()


def test_lines_dont_meet_where_a_carrier_lies_between_that_neither_passes() -> None:
    """A gap of 0.4 m over a short trunking between two long ones; without it the two ends meet."""
    one, short = carrier("A", (0, 0, 0), (4000, 0, 0)), carrier("B", (4000, 0, 0), (4400, 0, 0))
    other, far = carrier("C", (4400, 0, 0), (8400, 0, 0)), outlet("S9", (8400, 200, 0))
    cables = (
        line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0)),
        line("b", (4400, 0, 0), (8400, 0, 0), (8400, 200, 0)),
    )
    of = circuit("P1", "DB", "S9")
    with_it = DrawnWays(installation(one, short, other, DB, far, model_cables=cables), {}).way(of)
    without = DrawnWays(installation(one, other, DB, far, model_cables=cables), {}).way(of)
    assert with_it is not None
    assert without is not None
    assert (with_it.parts, without.parts) == (2, 1)


def test_lines_that_end_in_reach_of_equipment_dont_meet_there_where_a_carrier_lies_between() -> None:
    """S hangs over the middle of a trunking of 4 m between the two lines' ends, 2 m from each."""
    one, middle = carrier("A", (0, 0, 0), (4000, 0, 0)), carrier("B", (4000, 0, 0), (8000, 0, 0))
    other, far = carrier("C", (8000, 0, 0), (12000, 0, 0)), outlet("S9", (12000, 200, 0))
    cables = (
        line("a", (0, 200, 0), (0, 0, 0), (4000, 0, 0)),
        line("b", (8000, 0, 0), (12000, 0, 0), (12000, 200, 0)),
    )
    model = installation(one, middle, other, DB, outlet("S", (6000, 60, 0)), far, model_cables=cables)
    way = DrawnWays(model, {}).way(circuit("P1", "DB", "S", "S9"))
    assert way is not None
    assert (way.parts, way.missed, way.is_in_part) == (2, ("S",), True)


def test_what_has_to_be_said_of_the_ends_is_kept_apart_from_what_is_so_in_any_case() -> None:
    way = drawn(circuit("P1", "DB", "S1", "S2", count=3))
    assert told(way) == ["the model draws one line for its 3 cables"]
    assert told_of_ends(way) == ["nothing in the model is called 'S2'"]
