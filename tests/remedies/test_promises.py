"""What would be offered if less were looked at: promises that came out wrong when they were really done."""

import itertools
from dataclasses import replace

import pytest

from checker.model import Circuit, Condition, FittingKind, Installation, Section, Service, State
from checker.network.routing import route_all
from checker.progress import Progress
from checker.remedies import finding as of_findings
from checker.remedies import remedies_of
from checker.remedies.means import Means, Try
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.trial import Resize
from tests.installations import carrier, fitting, lanes, outlet
from tests.remedies.sites import BS, PLUGINS, STEEL_50, STEEL_100, failing, judged, laid, offered, ring, site, straight

STEEL_100_100 = Section(width_mm=100.0, height_mm=100.0, wall_mm=1.0)


def together(inst: Installation) -> tuple[RemedyRow, ...]:
    """What is offered where all that fails is one stretch."""
    situation = judged(inst)
    group = tuple(row for rows in failing(situation) for row in rows)
    assert len(group) > 1
    return remedies_of(situation, [group], BS, PLUGINS, Progress()).remedies


@pytest.mark.parametrize("fire", [13, 14])
def test_a_divider_isnt_offered_that_tells_a_compartment_beyond_the_bend_which_is_too_small(fire: int) -> None:
    """T1 is wide: each half 48.5 × 98 mm, of which 45 % hold 27 cables of 78.5 mm². Beyond the bend T2 is 100 × 50 in two halves.

    Nothing says in which half of T2 the fire alarm lies. When T1 is divided it is the first there, and so it is the first of T2,
    which holds thirteen cables, and no fourteenth.
    """
    inst = site(
        replace(straight(STEEL_100_100), end_mm=(2000.0, 0.0, 0.0), length_mm=2000.0),
        carrier(
            "T2", (2000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), replace(STEEL_100, lanes=lanes(None, None)), material="Steel"
        ),
        fitting("B", (2000.0, 0.0, 0.0), FittingKind.BEND),
        laid("F1", fire, service=Service.FIRE_ALARM),
        laid("P1", 2),
    )
    rows, _ = offered(inst)
    assert (RemedyKind.DIVIDER in rows) is (fire == 13)


def apart(number: int) -> Installation:
    """P1 and X2 may share no carrier: P1 goes along A, D, E, and X2, which would take D as well, along V beside it."""
    inst = ring(8)
    beside = carrier("V", (2200.0, 600.0, 0.0), (5800.0, 600.0, 0.0), STEEL_100_100, material="Steel")
    ends = (outlet("DB2", (3000.0, 250.0, 0.0)), outlet("S2", (5000.0, 250.0, 0.0)))
    other = replace(laid("X2", number), origin="DB2", calls=("S2",), apart_from=("P1",))
    lying = replace(inst.circuits[1], state=State.EXISTING)
    return replace(
        inst,
        carriers=(*inst.carriers, beside),
        equipment=(*inst.equipment, *ends),
        circuits=(inst.circuits[0], lying, other),
    )


def test_a_circuit_isnt_moved_after_which_one_is_led_that_keeps_apart_from_it() -> None:
    """Led round D, P1 would leave D to X2, which then lies there with the eight cables of P2 as P1 did."""
    inst = apart(8)
    assert {route.circuit: route.carriers for route in route_all(inst).routes}["X2"] == {"V"}
    rows, found = offered(inst)
    assert RemedyKind.WAY not in rows
    assert [row.kind for row in found.remedies] == [RemedyKind.CARRIER]
    there = (replace(own, condition=Condition.EXISTING) if own.key == "D" else own for own in inst.carriers)
    (told,) = set(offered(replace(inst, carriers=tuple(there)))[1].tried.values())
    assert "no other way (others are led apart from P1: give their routes first)" in told
    # with a way of its own in the schedule X2 stays where it is
    given = tuple(
        replace(one, route=laid("X2", 8, route="V").route) if one.mark == "X2" else one for one in inst.circuits
    )
    rows, _ = offered(replace(inst, circuits=given))
    assert rows[RemedyKind.WAY].circuits == ("P1",)


def square(names: str, *circuits: Circuit) -> Installation:
    """Two ways as long as each other."""
    points = [(0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), (2000.0, 2000.0, 0.0), (0.0, 2000.0, 0.0), (0.0, 0.0, 0.0)]
    made = [carrier(f"{names}{n}", a, b, STEEL_50) for n, (a, b) in enumerate(itertools.pairwise(points))]
    socket = outlet("S1", (2200.0, 2200.0, 0.0))
    return replace(
        site(*made, *circuits),
        equipment=(outlet("DB", (-200.0, -200.0, 0.0)), socket, outlet("M", (700.0, 200.0, 0.0))),
    )


def test_which_of_two_ways_as_long_is_taken_doesnt_hang_on_where_others_come_in() -> None:
    other = replace(laid("P2", 1), calls=("M",))
    for names in "ABCDEFGHIJKL":
        alone, both = (route_all(square(names, laid("P1", 1), *more)).routes[0].carriers for more in ((), (other,)))
        assert alone == both, names


def test_carriers_of_other_material_dont_become_what_one_of_them_is_made_of() -> None:
    steel = carrier("T1", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), STEEL_50, material="Steel")
    rest = carrier("T2", (2000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), STEEL_50, material="Steel")
    assert {row.kind for row in together(site(steel, rest, laid("P1", 16)))} == {RemedyKind.CARRIER}
    assert together(site(steel, replace(rest, material="PVC"), laid("P1", 16))) == ()


def test_of_compartments_of_several_widths_only_what_is_true_of_all_is_told() -> None:
    """T1 and T2 differ in their walls, so that the first compartment would be of another width in each: one width is told."""

    def two(wall_mm: float) -> Installation:
        made = [
            carrier(key, (at, 0.0, 0.0), (at + 2000.0, 0.0, 0.0), material="Steel", section=replace(
                STEEL_100, wall_mm=1.0, divider_mm=divider, lanes=lanes(None, None, widths=(45.0, 45.0))))
            for key, at, divider in (("T1", 0.0, 1.0), ("T2", 2000.0, wall_mm))
        ]  # fmt: skip
        return site(*made, laid("P1", 16, compartment=1))

    assert RemedyKind.CARRIER in {row.kind for row in together(two(1.0))}
    assert RemedyKind.CARRIER not in {row.kind for row in together(two(2.0))}


@pytest.mark.parametrize(("gap_mm", "kinds"), [(0.0, 0), (5.0, 0), (30.0, 1)])
def test_a_size_for_which_there_is_no_room_isnt_offered(gap_mm: float, kinds: int) -> None:
    """Another trunking along the whole side of it: 75 wide it takes 12.5 mm more to either side."""
    at = 50.0 + gap_mm
    beside = carrier("X", (500.0, 0.0, at), (3500.0, 0.0, at), STEEL_50, material="Steel")
    rows, _ = offered(site(straight(), beside, laid("P1", 16, route="T1")))
    assert len(rows) == kinds


def test_a_size_for_which_there_is_no_room_below_what_crosses_it_isnt_offered() -> None:
    """A trunking across it, 10 mm off its side: 75 wide it would reach 2.5 mm into that; 13 mm off it wouldn't."""

    def under(gap_mm: float) -> Installation:
        at = 25.0 + gap_mm + 25.0
        return site(
            straight(),
            carrier("X", (2000.0, -3000.0, at), (2000.0, 3000.0, at), STEEL_50, material="Steel"),
            laid("P1", 16, route="T1"),
        )

    assert RemedyKind.CARRIER not in offered(under(10.0))[0]
    assert offered(under(14.0))[0][RemedyKind.CARRIER].after == "trunking-steel-75x50"


def test_a_way_far_round_isnt_offered_and_is_told() -> None:
    """By 7 m to the side the way is 14 m longer: more than 10 m, and more than the 8 m that it was."""
    rows, _ = offered(ring(8, far_mm=4000.0))
    assert rows[RemedyKind.WAY].longer_m == 8.0
    rows, _ = offered(ring(8, far_mm=7000.0))
    assert set(rows) == {RemedyKind.CARRIER}


def test_the_cheapest_comes_first() -> None:
    """The trunking that would be larger is 4 m long. A way that is 4 m longer is told before it, one of 8 m after it."""
    near, far = (
        [row.kind for row in offered(inst)[1].remedies]
        for inst in (made_of_steel(ring(8)), made_of_steel(ring(8, far_mm=4000.0)))
    )
    assert near == [RemedyKind.WAY, RemedyKind.CARRIER]
    assert far == [RemedyKind.CARRIER, RemedyKind.WAY]


def made_of_steel(inst: Installation) -> Installation:
    return replace(inst, carriers=tuple(replace(own, material="Steel") for own in inst.carriers))


def test_only_what_was_tried_is_said_to_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """Six circuits could go round it, none of which comes out right: four of them are tried, and no more are told."""
    monkeypatch.setattr(of_findings._Trier, "_tried", lambda *_: None)
    inst = ring(8)
    # any one of them taken out leaves five times three: fifteen are too many, so each is ruled out at a glance
    six = tuple(laid(f"P{number}", 3) for number in range(1, 7))
    (told,) = set(offered(replace(inst, circuits=six))[1].tried.values())
    assert "other ways for 6 circuits" in told
    # twelve are left of fourteen without any of them: each may be enough alone, and is tried
    six = (laid("P0", 2, state=State.EXISTING), *(laid(f"P{number}", 2) for number in range(1, 7)))
    (told,) = set(offered(replace(inst, circuits=six))[1].tried.values())
    assert "other ways for 4 circuits" in told


def test_compartments_and_types_are_told_of_larger_sizes() -> None:
    def text(inst: Installation) -> str:
        return offered(inst)[0][RemedyKind.CARRIER].text

    halves = replace(STEEL_100, lanes=lanes(Service.POWER, Service.DATA))
    assert "instead of 100 × 50 mm (1 length, 4.00 m), still with 2 equal compartments" in text(
        site(straight(halves), laid("P1", 16))
    )
    own = straight(type_name="Trunking 50")
    other = carrier("T9", (0.0, 9000.0, 0.0), (4000.0, 9000.0, 0.0), STEEL_50, material="Steel")
    told = "as a type of their own, since others have theirs too, with what [[types]] in wayroom.toml says of that"
    assert told not in text(site(own, other, laid("P1", 16)))
    assert told in text(site(own, replace(other, type_name="Trunking 50"), laid("P1", 16)))


def test_what_a_change_doesnt_touch_isnt_mended_by_it() -> None:
    """Two trunkings that fail alike, one of them made larger: of the other one nothing is asked then, and it fails as it did."""
    inst = site(
        straight(), carrier("T2", (0.0, 9000.0, 0.0), (4000.0, 9000.0, 0.0), STEEL_50), laid("P1", 16, route="T1")
    )
    ends = (outlet("DB2", (0.0, 9200.0, 0.0)), outlet("S2", (4000.0, 9200.0, 0.0)))
    second = replace(laid("P2", 16, route="T2"), origin="DB2", calls=("S2",))
    situation = judged(replace(inst, equipment=(*inst.equipment, *ends), circuits=(*inst.circuits, second)))
    ids = {row.carriers[0]: row.id for row in situation.findings.values() if row.verdict == "fail"}
    assert ids.keys() == {"T1", "T2"}
    trier = of_findings._Trier(Means(situation, BS, PLUGINS), 100)
    change = Resize((("T1", STEEL_100_100),))
    of_one = Try((change,), RemedyRow(RemedyKind.CARRIER, (ids["T1"],), ""))
    of_both = Try((change,), RemedyRow(RemedyKind.CARRIER, (ids["T1"], ids["T2"]), ""))
    assert trier._tried(of_one) is not None
    assert trier._tried(of_both) is None


def test_the_fittings_between_larger_carriers_are_told() -> None:
    one = carrier("T1", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), STEEL_50, material="Steel")
    two = carrier("T2", (2000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), STEEL_50, material="Steel")
    between = fitting("F1", (2000.0, 0.0, 0.0), FittingKind.CONNECTOR)
    at_the_end = fitting("F2", (4000.0, 0.0, 0.0), FittingKind.CONNECTOR)
    (row,) = together(site(one, two, at_the_end, laid("P1", 16)))
    assert row.text.startswith("make T1, T2 trunking-steel-75x50,")
    (row,) = together(site(one, two, between, laid("P1", 16)))
    assert row.text.startswith("make T1, T2 and the fittings between them trunking-steel-75x50,")
