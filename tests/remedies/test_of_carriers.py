"""Which larger sizes, dividers and boxes are offered, and above all which aren't."""

from dataclasses import replace

from checker.model import CarrierKind, Installation, Section, Service
from checker.progress import Progress
from checker.remedies import remedies_of
from checker.result.remedy_tables import RemedyKind
from checker.rule.tighten import tightened
from tests.installations import carrier, circuit
from tests.remedies.sites import (
    BS,
    NO_LOAD,
    PLUGINS,
    STEEL_50,
    STEEL_100,
    bends,
    failing,
    judged,
    laid,
    offered,
    site,
    straight,
)


def test_the_next_size_is_the_smallest_that_passes_and_says_what_it_costs() -> None:
    # sixteen cables are 1256.6 mm²; 45 % of 75 × 50 with walls of 1.2, (72.6 · 47.6) mm², are 1555: enough
    rows, found = offered(site(straight(), laid("P1", 16)))
    row = rows[RemedyKind.CARRIER]
    assert row.after == "trunking-steel-75x50"
    assert (row.lengths, row.length_m) == (1, 4.0)
    assert row.text == "make T1 trunking-steel-75x50, 75 × 50 mm, wall 1.2 mm, instead of 50 × 50 mm (1 length, 4.00 m)"
    assert list(rows) == [RemedyKind.CARRIER]
    assert found.tried == {}


def test_all_of_a_stretch_gets_one_size() -> None:
    one = carrier("T1", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), STEEL_50, material="Steel")
    two = carrier("T2", (2000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), STEEL_50, material="Steel")
    situation = judged(site(one, two, laid("P1", 16)))
    (group,) = [tuple(row for group in failing(situation) for row in group)]
    assert len(group) == 2
    (row,) = remedies_of(situation, [group], BS, PLUGINS, Progress()).remedies
    assert (row.carriers, row.length_m, len(row.findings)) == (("T1", "T2"), 4.0, 2)


def test_a_size_that_passes_and_comes_too_near_to_another_carrier_isnt_offered() -> None:
    """Data in a tray beside the power: what the wider trunking is nearer by must not make its distance fail."""

    def beside(apart_mm: float) -> Installation:
        power = straight()
        # its side that faces the trunking, 25 mm off its own axis, is apart_mm from the trunking's, 25 mm off its axis
        at = 25.0 + apart_mm + 25.0
        tray = Section(width_mm=50.0, height_mm=50.0, wall_mm=1.0, usable_depth_mm=48.0)
        data = carrier("D1", (0.0, 0.0, at), (4000.0, 0.0, at), tray, CarrierKind.TRAY, material="Steel")
        own = circuit("N1", "D1", "D1", service=Service.DATA, area_of=6.0, count=1, route="D1", voltage_v=5.0)
        # of a class that the table has, so that the distance is known
        own = replace(own, cables=tuple(replace(cable, key="cat6-f-utp") for cable in own.cables))
        loads = {"loaded_conductors": 2.0, "design_current_a": 6.0, "device_rating_a": 10.0}
        return site(power, data, replace(laid("P1", 16, route="T1"), electrical=loads), own)

    code = tightened(
        BS, {"segregation.spacing": {"at_least_mm": 20.0, "reason": "as the maker asks"}}, "wayroom.toml", PLUGINS.rules
    )
    situations = {apart: judged(beside(apart), code) for apart in (22.0, 200.0)}
    spacing = {
        apart: {row.verdict for row in situation.findings.values() if row.rule == "segregation.spacing"}
        for apart, situation in situations.items()
    }
    assert spacing == {22.0: {"pass"}, 200.0: {"pass"}}
    # 75 wide it comes 12.5 mm nearer: 9.5 mm are left of 22, and far more than is wanted of 200
    near, _ = offered(beside(22.0), code)
    far, _ = offered(beside(200.0), code)
    assert far[RemedyKind.CARRIER].after == "trunking-steel-75x50"
    assert RemedyKind.CARRIER not in near


def test_a_size_that_would_come_to_touch_what_it_passes_by_isnt_offered() -> None:
    """A trunking that ends beside it: 15 mm from its side, more than the 10 mm at which ends join; with 75 mm 12.5 mm less are left."""

    def passing(apart_mm: float) -> Installation:
        beside = carrier("X", (2000.0, 0.0, 25.0 + apart_mm), (2000.0, 0.0, 3000.0), STEEL_50, material="Steel")
        return site(straight(), beside, laid("P1", 16))

    near, _ = offered(passing(15.0))
    far, _ = offered(passing(100.0))
    assert far[RemedyKind.CARRIER].after == "trunking-steel-75x50"
    assert RemedyKind.CARRIER not in near


def test_a_divider_parts_services_where_both_go_in_then() -> None:
    def mixed(power: int) -> Installation:
        data = circuit("N1", "DB", "S1", service=Service.DATA, area_of=6.0, count=4, voltage_v=5.0)
        return site(straight(STEEL_100), laid("P1", power), replace(data, electrical=dict(NO_LOAD)))

    # unrated data cables with power are unknown; with 300 V they fail beside 230 V only if they are rated below it
    def rated(inst: Installation) -> Installation:
        circuits = tuple(
            replace(one, cables=tuple(replace(cable, rated_voltage_v=60.0) for cable in one.cables))
            if one.mark == "N1"
            else one
            for one in inst.circuits
        )
        return replace(inst, circuits=circuits)

    # of each half 45 % are 1047.6 mm²: thirteen power cables go in, fourteen don't (in the whole they do: 45 % are 2116.8)
    enough, _ = offered(rated(mixed(13)))
    narrow, found = offered(rated(mixed(14)))
    row = enough[RemedyKind.DIVIDER]
    assert row.lanes[0].services == ("data", "elv")
    assert (row.length_m, row.carriers) == (4.0, ("T1",))
    assert RemedyKind.DIVIDER not in narrow
    assert found.tried
    assert all("a divider" in told for told in found.tried.values())


def test_a_box_goes_in_the_place_of_the_bend_nearest_to_the_middle() -> None:
    rows, _ = offered(bends(3))
    assert rows[RemedyKind.BOX].fittings == ("B2",)  # 90° on either side
    # five bends: 180° on either side of the third
    rows, _ = offered(bends(5))
    assert rows[RemedyKind.BOX].fittings == ("B3",)


def test_one_box_isnt_offered_where_two_are_needed() -> None:
    # of six bends one becomes a box, and on one side three are left: 270°, over 180°
    rows, found = offered(bends(6))
    assert RemedyKind.BOX not in rows
    (told,) = found.tried.values()
    assert told == "nothing helped: boxes in place of 4 bends; no other way"  # no more than four are tried
