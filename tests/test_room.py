"""Room for one more, on installations so small that every answer is a division; trunking of 50 mm is 48 × 48 = 2304 mm² inside.

By bs-7671 45 % of that may be filled, 1036.8 mm². A cable of 10 mm takes π/4 · 10² = 78.54 mm², so 13 go in (1021.0) and not 14 (1099.6).
"""

from dataclasses import replace

import pytest

from checker.errors import InputError
from checker.model import CarrierKind, Section
from checker.room.counting import largest
from checker.room.objects import as_object
from checker.room.question import MOST_CIRCUITS
from checker.room.text import as_text
from checker.room.told import already, gives, tightest
from checker.rule import Outcome
from tests.installations import carrier, circuit, installation, outlet
from tests.room_questions import DATA, WIDE, ask, data, divided, keys, one_trunking, two_ways


def test_as_many_go_in_as_the_limit_leaves_and_one_more_doesnt() -> None:
    answer = ask(one_trunking(data("D1", 5)), "10mm")
    assert answer.most == answer.fits == 13 - 5
    assert answer.outcome is Outcome.PASS
    assert answer.exit_status == 0
    assert answer.next is not None
    assert answer.next.number == 9
    (stop,) = answer.next.fails
    assert (stop.rule, stop.carriers) == ("fill.compartment", ("T1",))
    assert stop.value == pytest.approx(14 * 78.5398 / 2304, abs=1e-5)
    found = as_object(answer)
    assert found["stops"]["circuits_then"] == 9
    assert found["length_m"] == pytest.approx(5.0)
    assert found["drops_m"] == [pytest.approx(0.3), pytest.approx(0.3)]
    # 5 + 1 cables of 78.54 mm² in 2304 mm²
    assert found["tightest"]["value"] == pytest.approx(6 * 78.5398 / 2304, abs=1e-5)
    assert found["tightest"]["value_before"] == pytest.approx(5 * 78.5398 / 2304, abs=1e-5)
    assert found["tightest"]["left"] == pytest.approx(0.45 - 6 * 78.5398 / 2304, abs=1e-5)
    assert "392.7 mm² lie there + 78.5 mm² added = 471.2 mm², of 2304.0 mm²: 20.5 %" in as_text(answer)


def test_all_cables_that_are_named_are_one_circuit() -> None:
    # 3 · 78.54 + 2 · π/4 · 5² = 235.62 + 39.27 = 274.89: three times 824.7, four times 1099.6
    answer = ask(one_trunking(data("D1", 0)), "10mm=3", "5mm=2")
    assert answer.most == 3
    assert [cable.count for cable in answer.bundle.circuit.cables] == [3, 2]


@pytest.mark.parametrize(("times", "outcome", "status"), [(8, Outcome.PASS, 0), (9, Outcome.FAIL, 1)])
def test_so_many_as_are_wanted_go_in_or_dont(times: int, outcome: Outcome, status: int) -> None:
    answer = ask(one_trunking(data("D1", 5)), "10mm", times=times)
    assert (answer.outcome, answer.exit_status, answer.most) == (outcome, status, 8)


def test_what_is_over_its_limit_already_is_told_apart() -> None:
    answer = ask(one_trunking(data("D1", 20)), "10mm")  # 1570.8 of 2304 mm²: 68 %
    assert (answer.outcome, answer.most) == (Outcome.FAIL, 0)
    assert answer.best is not None
    assert [row.carriers for row in already(answer.best)] == [("T1",)]
    assert as_object(answer)["stops"]["already"] is True
    assert "(fails already without it)" in as_text(answer)
    fresh = ask(one_trunking(data("D1", 13)), "10mm")
    assert as_object(fresh)["stops"]["already"] is False
    assert not as_object(fresh)["already"]


def test_without_a_number_the_way_that_takes_the_most_is_told_first() -> None:
    answer = ask(two_ways(12), "10mm")
    # A takes 13 - 12 more; B 45 % of 4704 = 2116.8 mm²: 26 (2042.0), not 27 (2120.6); S and E 4321.8 mm²: 55 - 12 = 43
    assert keys(answer) == ["S", "B1", "B2", "B3", "E"]
    assert answer.most == 26
    assert [other.most for other in answer.others] == [1]
    found = as_object(answer)
    assert (found["length_m"], found["alternatives"][0]["length_m"]) == (pytest.approx(6.0), pytest.approx(4.0))
    assert found["alternatives"][0]["route"] == "S; A; E"
    assert "by A instead of B1, B2, B3" in as_text(answer)


def test_with_a_number_the_shortest_way_that_takes_it_is_told_first() -> None:
    assert keys(ask(two_ways(12), "10mm", times=1)) == ["S", "A", "E"]
    assert keys(ask(two_ways(12), "10mm", times=2)) == ["S", "B1", "B2", "B3", "E"]


def test_of_ways_that_take_nothing_the_one_of_a_check_is_told() -> None:
    # the nearest carriers lead round in 7 m, with 0.30 m of drop at each end; T4, 0.58 m away, in 5 m
    here = installation(
        carrier("T1", (0.0, 0.0, 0.0), (0.0, -1000.0, 0.0)),
        carrier("T2", (0.0, -1000.0, 0.0), (5000.0, -1000.0, 0.0)),
        carrier("T3", (5000.0, -1000.0, 0.0), (5000.0, 0.0, 0.0)),
        carrier("T4", (0.0, 500.0, 0.0), (5000.0, 500.0, 0.0)),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
        data("D1", 0),
    )
    answer = ask(here, "60mm")  # thicker than the 48 mm of any
    assert (answer.most, keys(answer)) == (0, ["T1", "T2", "T3"])
    assert [other.way.measure_mm < answer.best.way.measure_mm for other in answer.others if answer.best] == [True]


def test_carriers_are_avoided_and_passed_as_asked() -> None:
    assert keys(ask(two_ways(0), "10mm", times=1)) == ["S", "A", "E"]
    assert keys(ask(two_ways(0), "10mm", times=1, avoid=("A",))) == ["S", "B1", "B2", "B3", "E"]
    assert keys(ask(two_ways(0), "10mm", times=1, via=("B?",))) == ["S", "B1", "B2", "B3", "E"]
    with pytest.raises(InputError, match="no carrier is called"):
        ask(two_ways(0), "10mm", avoid=("C9",))


def test_what_is_asked_of_the_way_may_leave_none() -> None:
    answer = ask(two_ways(0), "10mm", avoid=("A", "B2"))
    assert (answer.exit_status, answer.most) == (1, 0)
    assert answer.none is not None
    assert (
        "as --via, --avoid or wayroom.toml asks (not by A or B2: as asked); without that there is one of 4.00 m"
        in answer.none.why
    )
    shut = ask(
        two_ways(0), "10mm", avoid=("S", "A", "B1", "B2")
    )  # from B3 the board is 3.01 m away, and 3 m is the reach
    assert shut.exit_status == 1
    assert shut.none is not None
    assert "closed to it" in shut.none.why


def test_another_end_may_come_in_on_a_carrier_beside_but_not_hang_from_the_same_way() -> None:
    side = carrier("T2", (0.0, 500.0, 0.0), (5000.0, 500.0, 0.0), WIDE)
    here = one_trunking(data("D1", 13, route="T1"))
    answer = ask(installation(*here.carriers, side, *here.equipment, *here.circuits), "10mm")
    assert (keys(answer), answer.most) == (["T2"], 26)
    long = installation(
        carrier("T1", (0.0, 0.0, 0.0), (5000.0, 0.0, 0.0)),
        carrier("T2", (5000.0, 0.0, 0.0), (6000.0, 0.0, 0.0), Section(width_mm=25.0, height_mm=25.0, wall_mm=1.0)),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (6000.0, 0.0, 300.0)),
        data("D1", 0),
    )
    answer = ask(long, "10mm")  # 23 × 23 · 45 % = 238.05 mm²: 3, not 4 (314.2)
    assert (keys(answer), answer.most, answer.others) == (["T1", "T2"], 3, ())


def test_the_compartment_is_as_asked() -> None:
    here = divided(data("D1", 13, compartment=1))
    assert ask(here, "10mm", columns=(*DATA, ("compartment", "2"))).most == 13
    assert ask(here, "10mm", columns=(*DATA, ("compartment", "1"))).most == 0


def test_where_nothing_tells_the_compartment_the_best_is_picked_and_said() -> None:
    answer = ask(divided(data("D1", 13, compartment=1)), "10mm")
    assert (answer.outcome, answer.most) == (Outcome.PASS, 13)
    found = as_object(answer)
    assert (found["route"], found["compartment_picked"]) == ("T1/2", 2)
    assert [(other["route"], other["most"]) for other in found["alternatives"]] == [("T1/1", 0)]
    assert "in compartment 2 where none is said" in as_text(answer)


def test_where_no_compartment_takes_any_it_is_a_no() -> None:
    answer = ask(divided(data("D1", 13, compartment=1), data("D2", 13, compartment=2)), "10mm")
    assert (answer.outcome, answer.most) == (Outcome.FAIL, 0)


def test_ends_may_be_carriers() -> None:
    answer = ask(two_ways(12), "10mm", ends=("S", "E"), times=1)
    assert keys(answer) == ["S", "A", "E"]
    assert as_object(answer)["drops_m"] == [0.0, 0.0]


def test_a_rating_wants_currents_and_the_rest_is_judged_without() -> None:
    power = (("service", "power"), ("voltage_v", "230"))
    answer = ask(one_trunking(data("D1", 0)), "h07v-u-2.5=3", columns=power)
    assert (answer.outcome, answer.most) == (Outcome.UNKNOWN, None)
    # three cables of 3.9 mm by the table of the code: 3 · 11.95 = 35.8 mm² a circuit; 1036.8 / 35.8 = 28.9
    assert answer.fits == 28
    assert answer.best is not None
    told = {text for row in answer.best.of(1).unknowns for text in gives(answer, row)}
    assert "--device-rating (give In)" in told
    assert "--design-current (give Ib)" in told
    loaded = (*power, ("design_current_a", "8"), ("device_rating_a", "10"), ("loaded_conductors", "2"))
    answer = ask(one_trunking(data("D1", 0)), "h07v-u-2.5=3", columns=loaded)
    # 24 A by method B1; bunched it is 24 · 0.50 = 12 A for 9 circuits, · 0.45 = 10.8 A for 12, · 0.41 = 9.84 A for 16, which holds from the
    # 13th on, as the table has nothing between; each needs 10 A
    assert answer.most == 12
    assert answer.next is not None
    assert {row.rule for row in answer.next.fails} == {"grouping.rating"}
    assert [row.limit for row in answer.next.fails] == [pytest.approx(9.84)] * 13


def test_what_it_makes_fail_of_others_stops_it_too() -> None:
    # 2.5 mm² carries 24 A alone and 24 · 0.8 = 19.2 A beside another: enough for its own 10 A, and too little for the 24 A of P1
    loads = {"loaded_conductors": 2, "design_current_a": 20.0, "device_rating_a": 24.0}
    here = one_trunking(circuit("P1", "DB", "S1", count=3, area_of=3.9, voltage_v=230.0, electrical=loads))
    columns = (
        ("service", "power"), ("voltage_v", "230"), ("design_current_a", "8"), ("device_rating_a", "10"), ("loaded_conductors", "2"),
    )  # fmt: skip
    answer = ask(here, "h07v-u-2.5=3", columns=columns)
    assert (answer.outcome, answer.most) == (Outcome.FAIL, 0)
    assert answer.next is not None
    assert [(row.circuits, row.limit) for row in answer.next.fails] == [(("P1",), pytest.approx(19.2))]


def test_more_may_go_in_where_fewer_jam() -> None:
    # bore 31.7 mm, 789.2 mm²; 78.54 mm² each: one 10 % of 53, two 19.9 % of 31, three jam (31.7 / 10 = 3.17), four 39.8 % of 40, five 49.8
    here = installation(
        carrier("C1", (0.0, 0.0, 0.0), (5000.0, 0.0, 0.0), Section(bore_mm=31.7, source="test"), CarrierKind.CONDUIT),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
        data("D0", 0),
    )
    answer = ask(here, "10mm", code="nfpa-70", columns=(*DATA, ("mass_kg_per_km", "100")))
    assert answer.best is not None
    assert answer.fits == 4
    assert answer.best.except_for == [3]
    assert [answer.best.of(number).outcome is Outcome.FAIL for number in (1, 2, 3, 4, 5)] == [
        False,
        False,
        True,
        False,
        True,
    ]
    assert "But not exactly 3." in as_text(answer)


def test_so_many_go_in_that_the_bound_is_reached() -> None:
    answer = ask(one_trunking(data("D1", 0)), "1mm")  # 0.785 mm²: 1320 would
    assert answer.most == MOST_CIRCUITS
    assert answer.next is None
    assert "200 or more go in" in as_text(answer)
    assert as_object(answer)["bound_reached"] is True


@pytest.mark.parametrize("limit", [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 31, 63, 64, 65, 127, 128, 129, 198, 199, 200, 1000])
def test_the_largest_number_that_goes_is_found_with_few_tries(limit: int) -> None:
    asked: list[int] = []

    def goes(number: int) -> bool:
        asked.append(number)
        return number <= limit

    assert largest(goes) == min(limit, MOST_CIRCUITS)
    assert len(asked) <= 17  # 4, then up to 6 doublings, then up to 7 halvings


def test_flat_cables_are_asked_about_by_width_and_height() -> None:
    # a stadium of 12 × 6 mm: 6 · 6 + π/4 · 6² = 64.27 mm²: 16 (1028.4), not 17 (1092.7)
    assert ask(one_trunking(data("D1", 0)), "12x6mm").most == 16


def test_where_it_is_tightest_is_by_what_it_makes_fuller() -> None:
    answer = ask(two_ways(12), "10mm", times=1)
    assert answer.best is not None
    found = tightest(answer.best.of(1))
    assert found is not None
    assert found.row.carriers == ("A",)
    assert found.row.value == pytest.approx(13 * 78.5398 / 2304, abs=1e-5)


def test_a_way_is_named_so_that_the_schedule_can_have_it_as_its_route() -> None:
    """B1's tag has what parts names, B2 and B3 share one, and E's mark is A's tag: each goes by its GlobalId."""
    called = {"B1": {"tag": "B;1"}, "B2": {"tag": "B"}, "B3": {"tag": "B"}, "E": {"mark": "A"}}
    here = two_ways(0)
    named = [
        replace(one, place=replace(one.place, global_id=f"id-{one.key}", **called.get(one.key, {})))
        for one in here.carriers
    ]
    there = replace(here, carriers=tuple(named))
    answer = ask(there, "10mm", times=1, via=("id-B2",))
    assert as_object(answer)["route"] == "S; id-B1; id-B2; id-B3; id-E"
    assert as_object(ask(there, "10mm", times=1))["route"] == "S; A; id-E"
