"""Which other compartments, ways and cables are offered, and above all which aren't."""

from dataclasses import replace

from checker.model import Circuit, Condition, Service, State
from checker.result.remedy_tables import RemedyKind
from tests.installations import circuit, lanes
from tests.remedies.sites import PLUGINS, STEEL_100, judged, laid, offered, ring, site, straight


def test_a_circuit_is_moved_beside_where_both_compartments_pass_then() -> None:
    section = replace(STEEL_100, lanes=lanes(None, None))
    # eight of P1 and eight of P2 in the first: sixteen are too many, eight aren't
    rows, _ = offered(site(straight(section), laid("P1", 8, compartment=1), laid("P2", 8, compartment=1)))
    row = rows[RemedyKind.COMPARTMENT]
    assert (row.circuits, row.routes) == (("P1",), (("P1", "T1/2"),))
    assert row.text == "lay P1 in compartment 2 of T1: route = T1/2"


def test_a_circuit_that_would_overload_the_other_compartment_isnt_moved() -> None:
    section = replace(STEEL_100, lanes=lanes(None, None))
    both = (laid("P1", 8, compartment=1), laid("P2", 8, compartment=1))
    # six and eight are fourteen, one too many; five and eight are thirteen
    full, _ = offered(site(straight(section), *both, laid("P3", 6, compartment=2)))
    half, _ = offered(site(straight(section), *both, laid("P3", 5, compartment=2)))
    assert RemedyKind.COMPARTMENT not in full
    assert half[RemedyKind.COMPARTMENT].circuits == ("P1",)


def test_a_circuit_of_which_only_one_end_is_named_isnt_moved() -> None:
    section = replace(STEEL_100, lanes=lanes(None, None))
    one_end = replace(laid("P1", 16, route="T1/1"), calls=())
    rows, _ = offered(site(straight(section), one_end))
    assert set(rows) == {RemedyKind.CARRIER}


def test_a_circuit_isnt_moved_where_its_service_may_not_lie() -> None:
    section = replace(STEEL_100, lanes=lanes(Service.POWER, Service.DATA))
    rows, _ = offered(site(straight(section), laid("P1", 8), laid("P2", 8)))
    assert set(rows) == {RemedyKind.CARRIER}


def test_what_is_there_already_isnt_moved_nor_made_larger() -> None:
    section = replace(STEEL_100, lanes=lanes(None, None))
    lying = [laid(mark, 8, compartment=1, state=State.EXISTING) for mark in ("P1", "P2")]
    rows, found = offered(site(straight(section, condition=Condition.EXISTING), *lying))
    assert rows == {}
    (told,) = found.tried.values()
    assert (
        told
        == "nothing helped: no other compartment, no other way, no larger standard size (what is existing isn't changed)"
    )


def loaded(number: int, state: State = State.NEW, device_a: float = 16.0) -> Circuit:
    """A circuit of two H07V-U 2.5 mm² with a device of its own."""
    own = PLUGINS.cables["h07v-u-2.5"]
    made = circuit(f"P{number}", "DB", "S1", count=2, voltage_v=230.0, state=state)
    cables = tuple(
        replace(
            cable, key=own.key, diameter_mm=own.diameter_mm, source=own.source, mass_kg_per_km=own.mass_kg_per_km,
            rated_voltage_v=own.rated_voltage_v, stranded=own.stranded, tolerance=own.tolerance,
        )
        for cable in made.cables
    )  # fmt: skip
    loads = {"loaded_conductors": 2.0, "design_current_a": 12.0, "device_rating_a": device_a, "ambient_c": 30.0}
    return replace(made, cables=cables, electrical={**loads, "third_harmonic": 0.0, "method": "B1"})


def test_thicker_conductors_are_offered_for_what_carries_too_little_unless_they_lie_there_already() -> None:
    """Six circuits of 2.5 mm² in one trunking carry 24 · 0.57 = 13.68 A each (IEC 60364-5-52 B.52.2, B.52.17), and need 16.

    With 4 mm² one carries 32 · 0.57 = 18.24 A.
    """
    states = [State.NEW, State.EXISTING, *([State.NEW] * 4)]
    inst = site(straight(), *(loaded(number, state) for number, state in enumerate(states, start=1)))
    found = offered(inst)[1]
    situation = judged(inst)
    marks = {row.id: row.circuits[0] for row in situation.findings.values() if row.verdict == "fail"}
    assert sorted(marks.values()) == [f"P{number}" for number in range(1, 7)]
    offers = {row.circuits[0]: row.text for row in found.remedies}
    # what the row gives itself comes before the catalogue's: left as it is the conductors would stay the thin ones
    given = "(leave csa_mm2, awg_kcmil and mass_kg_per_km empty, or give those of that cable)"
    told = "lay h07v-u-4 instead of h07v-u-2.5 for P1 (2 cables on 4.00 m of way)"
    assert offers["P1"] == f"{told}: cable = h07v-u-4 {given}"
    assert offers.keys() == {"P1", "P3", "P4", "P5", "P6"}
    assert {marks[key]: told for key, told in found.tried.items()} == {
        "P2": "nothing helped: no other way, no thicker cable (its cables are existing, so they aren't changed)"
    }


def test_thicker_conductors_that_arent_thick_enough_arent_offered() -> None:
    """For 25 A 4 mm² carry 32 · 0.57 = 18.24 A and 6 mm² 41 · 0.57 = 23.37 A.

    With 10 mm² the sizes span more than three adjacent ones, so that all carry 1/√6 = 0.41: 57 · 0.41 = 23.3 A.
    """
    rows, found = offered(site(straight(), *(loaded(number, device_a=25.0) for number in range(1, 7))))
    assert rows == {}
    assert len(found.tried) == 6
    assert set(found.tried.values()) == {"nothing helped: 3 thicker cables; no other way"}


def test_another_way_is_offered_with_how_much_longer_it_is() -> None:
    rows, _ = offered(ring(8))
    row = rows[RemedyKind.WAY]
    assert (row.circuits, row.longer_m) == (("P1",), 4.0)  # 2 + 4 + 2 m instead of 4
    assert row.text == "lead P1 another way, 4.00 m longer: route = A; U1; U2; U3; E"
    assert row.carriers == ("U1", "U2", "U3")


def test_another_way_that_would_be_too_full_isnt_offered() -> None:
    # fifteen cables of 78.5 mm² don't pass in 50 × 50 alone either
    rows, found = offered(ring(15, other=50))
    assert RemedyKind.WAY not in rows
    assert set(rows) == {RemedyKind.CARRIER}
    assert found.tried == {}


def test_two_circuits_are_moved_together_where_one_isnt_enough() -> None:
    inst = ring(8)
    # fourteen and eight cables: without P1 or P2 alone too many are left, without both none
    third = laid("P3", 14)
    rows, _ = offered(replace(inst, circuits=(*inst.circuits[:1], third)))
    assert rows[RemedyKind.WAY].circuits == ("P3",)  # 8 are left
    fourth = laid("P4", 14)
    rows, _ = offered(replace(inst, circuits=(*inst.circuits[:1], third, fourth)))
    assert rows[RemedyKind.WAY].circuits == ("P3", "P4")
