from dataclasses import replace

import pytest

from checker.model import (
    Carrier,
    CarrierKind,
    Circuit,
    FittingKind,
    Installation,
    LoadedCompartment,
    ModelCable,
    Place,
    Port,
    Run,
    Section,
    Service,
    State,
    Vec,
)
from checker.network.loading import Loading, load
from checker.network.routing import RoutedBy, route_all
from checker.rule.plugins import load_plugins
from checker.units import circle_area_mm2
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

DB, S = outlet("DB", (0, 300, 0)), outlet("S", (2000, 300, 0))
THREE = replace(
    STEEL_50,
    width_mm=225.0,
    lanes=lanes(Service.POWER, Service.CONTROL, Service.DATA, widths=(92.0, 46.0, 80.6)),
    wall_mm=1.6,
)


def loaded(inst: Installation) -> Loading:
    return load(inst, route_all(inst), load_plugins().codes["bs-7671"].sizes)


def compartments(section: Section, *circuits: Circuit, **more: object) -> list[LoadedCompartment]:
    return list(
        loaded(installation(carrier("T", (0, 0, 0), (2000, 0, 0), section), DB, S, *circuits, **more)).compartments
    )


def marks(compartment: LoadedCompartment) -> list[str]:
    return [cable.circuit for cable in compartment.cables]


def test_a_circuit_lies_in_the_lane_for_its_service() -> None:
    found = compartments(THREE, circuit("P1", "DB", "S"), circuit("D1", "DB", "S", service=Service.DATA))
    assert [marks(compartment) for compartment in found] == [["P1"], [], ["D1"]]
    assert [compartment.area_mm2 for compartment in found] == pytest.approx([92.0 * 46.8, 46.0 * 46.8, 80.6 * 46.8])


def test_the_schedules_compartment_comes_before_the_lanes_service_and_the_routes_before_both() -> None:
    by_circuit = circuit("P1", "DB", "S", compartment=2)
    by_route = circuit("P2", "DB", "S", route="T/3", compartment=2)
    assert [marks(compartment) for compartment in compartments(THREE, by_circuit, by_route)] == [[], ["P1"], ["P2"]]


def test_without_a_hint_the_lane_is_unknown_and_the_cables_may_lie_in_each() -> None:
    undeclared = replace(STEEL_50, lanes=lanes(None, None))
    found = compartments(undeclared, circuit("P1", "DB", "S"))
    for compartment in found:
        assert not compartment.cables
        assert [cable.circuit for cable in compartment.possible] == ["P1"]
        assert any("P1" in doubt for doubt in compartment.possible_doubts)


def test_a_compartment_that_does_not_exist_is_a_problem_and_not_a_silent_one() -> None:
    inst = installation(carrier("T", (0, 0, 0), (2000, 0, 0), THREE), DB, S, circuit("P1", "DB", "S", compartment=4))
    found = loaded(inst)
    assert not any(compartment.cables for compartment in found.compartments)
    assert any("compartment 4, which doesn't exist" in problem.what for problem in found.problems)


def test_in_an_undivided_segment_a_compartment_falls_to_the_one_there_is_and_it_is_said() -> None:
    inst = installation(carrier("T", (0, 0, 0), (2000, 0, 0)), DB, S, circuit("P1", "DB", "S", compartment=2))
    found = loaded(inst)
    assert marks(found.compartments[0]) == ["P1"]
    assert any("expects compartment 2" in problem.what for problem in found.problems)


def test_spares_and_existing_cables_count_and_removed_ones_do_not() -> None:
    states = [circuit(state.value, "DB", "S", state=state) for state in State]
    assert set(marks(compartments(STEEL_50, *states)[0])) == {"new", "existing", "spare"}


def test_sets_multiply() -> None:
    assert compartments(STEEL_50, circuit("P1", "DB", "S", count=4, sets=2))[0].occupied_mm2 == pytest.approx(
        8 * circle_area_mm2(10.0)
    )


def test_an_unrouted_circuit_may_lie_in_every_compartment_that_takes_it() -> None:
    found = compartments(THREE, circuit("P1", "DB", "nowhere"), circuit("D1", "DB", "S", service=Service.DATA))
    assert [[cable.circuit for cable in compartment.possible] for compartment in found] == [["P1"], [], []]
    assert not any(compartment.unbounded for compartment in found)


def test_a_row_without_a_mark_may_be_anything_anywhere() -> None:
    assert all(compartment.unbounded for compartment in compartments(THREE, circuit("P1", "DB", "S"), lost_rows=(7,)))


def test_with_no_circuits_at_all_nothing_is_known() -> None:
    assert all(compartment.unbounded for compartment in compartments(THREE))


def test_a_circuit_that_goes_out_and_back_counts_twice_and_one_that_goes_on_once() -> None:
    spur = carrier("U", (1000, 0, 0), (1000, 1500, 0))
    here = fitting("TEE", (1000, 0, 0), FittingKind.TEE, size=60.0)
    one, two = carrier("T1", (0, 0, 0), (1000, 0, 0)), carrier("T2", (1000, 0, 0), (2000, 0, 0))
    middle = outlet("M", (1000, 1600, 0))
    inst = installation(one, two, spur, here, DB, S, middle, circuit("P1", "DB", "M", "S"))
    counts = {item.carrier.key: sum(cable.count or 0 for cable in item.cables) for item in loaded(inst).compartments}
    assert counts == {"T1": 1, "U": 2, "T2": 1}
    straight = installation(
        carrier("T", (0, 0, 0), (2000, 0, 0)), DB, S, outlet("M", (1000, 100, 0)), circuit("P1", "DB", "M", "S")
    )
    assert sum(cable.count or 0 for cable in loaded(straight).compartments[0].cables) == 1


@pytest.mark.parametrize(
    ("section", "kind", "material", "area", "least"),
    [
        # with a wall of the model's own
        (STEEL_50, CarrierKind.TRUNKING, "", 48.0 * 48.0, None),
        # steel without a wall: the code's table has 1.2 mm for 75 × 50
        (replace(STEEL_50, width_mm=75.0, wall_mm=None), CarrierKind.TRUNKING, "Galvanised steel", 72.6 * 47.6, None),
        # a plastic one, and a size that isn't tabled: between none and 3 mm
        (replace(STEEL_50, wall_mm=None), CarrierKind.TRUNKING, "PVC", 50.0 * 50.0, 44.0 * 44.0),
        (replace(STEEL_50, width_mm=77.0, wall_mm=None), CarrierKind.TRUNKING, "steel", 77.0 * 50.0, 71.0 * 44.0),
        # a tray by usable depth; else between the side height and 5 mm less
        (Section(width_mm=300.0, height_mm=50.0, wall_mm=1.5, usable_depth_mm=48.5), CarrierKind.TRAY, "", 297.0 * 48.5, None),
        (Section(width_mm=300.0, height_mm=50.0, wall_mm=1.5), CarrierKind.TRAY, "", 297.0 * 50.0, 297.0 * 45.0),
        (Section(width_mm=300.0, height_mm=60.0), CarrierKind.LADDER, "", 300.0 * 60.0, 296.0 * 15.0),
        # conduit by its bore: given, by its wall, by the code's table, or between
        (Section(bore_mm=20.0), CarrierKind.CONDUIT, "", circle_area_mm2(20.0), None),
        (Section(outside_diameter_mm=25.0, wall_mm=1.5), CarrierKind.CONDUIT, "", circle_area_mm2(22.0), None),
        (Section(outside_diameter_mm=25.0), CarrierKind.CONDUIT, "steel", circle_area_mm2(21.8), None),
        (Section(outside_diameter_mm=25.0), CarrierKind.CONDUIT, "", circle_area_mm2(25.0), circle_area_mm2(17.0)),
        # nothing known
        (Section(), CarrierKind.TRUNKING, "", None, None),
        (Section(width_mm=50.0), CarrierKind.TRUNKING, "steel", None, None),
    ],
)  # fmt: skip
def test_the_inside_is_nominal_less_walls(
    section: Section, kind: CarrierKind, material: str, area: float | None, least: float | None
) -> None:
    here = loaded(
        installation(
            carrier("T", (0, 0, 0), (2000, 0, 0), section, kind, material=material), DB, S, circuit("P1", "DB", "S")
        )
    )
    assert here.compartments[0].area_mm2 == pytest.approx(area)
    assert here.compartments[0].area_least_mm2 == pytest.approx(least)
    assert bool(here.compartments[0].size_doubt) == (least is not None)


def test_a_count_alone_splits_equally_with_dividers_as_thick_as_the_wall() -> None:
    section = Section(width_mm=100.0, height_mm=50.0, wall_mm=2.0, lanes=lanes(None, None, None))
    found = compartments(section, circuit("P1", "DB", "S"))
    assert [compartment.area_mm2 for compartment in found] == pytest.approx([(96.0 - 4.0) / 3 * 46.0] * 3)


def conduit(key: str, start: tuple[float, float, float], end: tuple[float, float, float]) -> Carrier:
    return carrier(key, start, end, Section(outside_diameter_mm=20.0, wall_mm=1.6), CarrierKind.CONDUIT)


def run_of(inst: Installation, key: str) -> Run:
    run = next(item.run for item in loaded(inst).compartments if item.carrier.key == key)
    assert run is not None
    return run


def test_a_run_goes_through_bends_and_ends_at_boxes() -> None:
    inst = installation(
        conduit("C1", (0, 0, 0), (2000, 0, 0)), fitting("B1", (2000, 0, 0), FittingKind.BEND, 60.0),
        conduit("C2", (2000, 0, 0), (2000, 1000, 0)), fitting("B2", (2000, 1000, 0), FittingKind.BEND, 60.0),
        conduit("C3", (2000, 1000, 0), (2000, 1000, -1500)), fitting("X", (2000, 1000, -1500), FittingKind.BOX, 60.0),
        conduit("C4", (2000, 1000, -1500), (2000, 3000, -1500)), circuit("P1", "C1", "C4"),
    )  # fmt: skip
    first, last = run_of(inst, "C1"), run_of(inst, "C4")
    assert first.carriers == ("C1", "C2", "C3")
    assert first.length_m == pytest.approx(4.5)
    assert first.bends_deg == pytest.approx(180.0)
    assert (last.carriers, last.bends_deg) == (("C4",), 0.0)


@pytest.mark.parametrize(
    ("kind", "between"),
    [
        (FittingKind.BOX, True),
        (FittingKind.TEE, False),
        (FittingKind.CROSS, False),
        (FittingKind.BEND, None),
        (None, None),
    ],
)
def test_a_run_lies_between_enclosures_where_both_of_its_ends_are_at_boxes(
    kind: FittingKind | None, *, between: bool | None
) -> None:
    ends = [fitting("X", (0, 0, 0), FittingKind.BOX, 60.0)]
    ends += [] if kind is None else [fitting("Y", (500, 0, 0), kind, 60.0)]
    inst = installation(conduit("C1", (0, 0, 0), (500, 0, 0)), *ends, circuit("P1", "C1", "C1"))
    assert run_of(inst, "C1").between_enclosures is between


@pytest.mark.parametrize(
    ("kind", "between"),
    [
        (CarrierKind.TRUNKING, True),
        (CarrierKind.TRAY, False),
        (CarrierKind.LADDER, False),
        (CarrierKind.UNKNOWN, None),
    ],
)
def test_a_run_from_a_box_to_another_carrier_lies_between_enclosures_if_that_is_trunking(
    kind: CarrierKind, *, between: bool | None
) -> None:
    box = fitting("X", (0, 0, 0), FittingKind.BOX, 60.0)
    other = carrier("T", (500, 0, 0), (4000, 0, 0), kind=kind)
    run = run_of(installation(conduit("C1", (0, 0, 0), (500, 0, 0)), box, other, circuit("P1", "C1", "T")), "C1")
    assert run.between_enclosures is between


def test_an_open_end_from_which_a_cable_drops_is_no_known_enclosure() -> None:
    """Equipment that stands there may be a box or not."""
    box, near = fitting("X", (0, 0, 0), FittingKind.BOX, 60.0), outlet("M", (500, 100, 0))
    inst = installation(conduit("C1", (0, 0, 0), (500, 0, 0)), box, near, circuit("P1", "M", "M", route="C1"))
    run = run_of(inst, "C1")
    assert (run.length_m, run.between_enclosures) == (pytest.approx(0.5), None)


def test_conduits_that_meet_without_a_fitting_are_one_run_with_the_angle_between_them() -> None:
    pair = (conduit("C1", (0, 0, 0), (2000, 0, 0)), conduit("C2", (2000, 0, 0), (3000, 1000, 0)))
    run = run_of(installation(*pair, circuit("P1", "C1", "C2")), "C1")
    assert run.carriers == ("C1", "C2")
    assert run.bends_deg == pytest.approx(45.0)


def test_a_run_ends_where_trunking_begins() -> None:
    pair = (conduit("C1", (0, 0, 0), (2000, 0, 0)), carrier("T", (2000, 0, 0), (4000, 0, 0)))
    run = run_of(installation(*pair, circuit("P1", "C1", "T")), "C1")
    assert run.carriers == ("C1",)
    assert run.length_m == pytest.approx(2.0)


def test_two_bends_joined_to_each_other_turn_twice_though_the_conduits_are_parallel() -> None:
    # an offset: along x, aside by y, along x again; the fittings meet each other, not the conduits
    bends = [replace(fitting(f"B{n}", (2000, y, 0), FittingKind.BEND), body=None) for n, y in ((1, 0.0), (2, 300.0))]
    ports = (
        Port("p1", "C1", (2000, 0, 0), ("p2",)), Port("p2", "B1", (2000, 0, 0), ("p1",)),
        Port("p3", "B1", (2000, 150, 0), ("p4",)), Port("p4", "B2", (2000, 150, 0), ("p3",)),
        Port("p5", "B2", (2000, 300, 0), ("p6",)), Port("p6", "C2", (2000, 300, 0), ("p5",)),
    )  # fmt: skip
    pair = (conduit("C1", (0, 0, 0), (2000, 0, 0)), conduit("C2", (2000, 300, 0), (4000, 300, 0)))
    run = run_of(installation(*pair, *bends, circuit("P1", "C1", "C2"), ports=ports), "C1")
    assert run.carriers == ("C1", "C2")
    assert run.bends_deg == pytest.approx(180.0)
    assert run.length_m == pytest.approx(4.3)


def test_ports_a_little_off_the_ends_are_one_join_and_not_two() -> None:
    ports = (Port("p1", "C1", (1999, 0, 0), ("p2",)), Port("p2", "C2", (2001, 0, 0), ("p1",)))
    pair = (conduit("C1", (0, 0, 0), (2000, 0, 0)), conduit("C2", (2000, 0, 0), (2000, 3000, 0)))
    run = run_of(installation(*pair, circuit("P1", "C1", "C2"), ports=ports), "C1")
    assert run.carriers == ("C1", "C2")
    assert run.bends_deg == pytest.approx(90.0)


@pytest.mark.parametrize(
    "more",
    [
        (),  # an open end in the middle of nowhere
        (fitting("B", (2000, 0, 0), FittingKind.BEND, 60.0),),  # a bend that leads nowhere
        (
            conduit("C2", (2000, 0, 0), (2000, 2000, 0)),
            conduit("C3", (2000, 0, 0), (2000, -2000, 0)),
        ),  # three at one point
    ],
)
def test_where_a_run_may_go_on_neither_its_length_nor_its_bends_are_known(more: tuple[Carrier, ...]) -> None:
    near = outlet("M", (0, 100, 0))
    inst = installation(conduit("C1", (0, 0, 0), (2000, 0, 0)), *more, near, circuit("P1", "M", "M", route="C1"))
    run = run_of(inst, "C1")
    assert (run.length_m, run.bends_deg) == (None, None)


def test_a_conduit_that_bends_on_its_own_way_counts_its_bends() -> None:
    bent = replace(conduit("C1", (0, 0, 0), (1000, 1000, 0)), length_mm=2000.0, turn_deg=90.0)
    run = run_of(installation(bent, circuit("P1", "C1", "C1")), "C1")
    assert (run.length_m, run.bends_deg) == (pytest.approx(2.0), pytest.approx(90.0))
    unknown = replace(bent, turn_deg=None)
    assert run_of(installation(unknown, circuit("P1", "C1", "C1")), "C1").bends_deg is None


@pytest.mark.parametrize("step", ["T/0", "T/4", "T/99"])
def test_a_compartment_of_a_route_that_does_not_exist_hides_no_cable(step: str) -> None:
    found = compartments(THREE, circuit("P1", "DB", "S", route=step))
    assert not any(compartment.cables for compartment in found)
    assert [cable.circuit for compartment in found for cable in compartment.possible] == ["P1"]  # in the lane for power


def test_a_route_with_a_gap_may_lie_anywhere_else_too() -> None:
    parts = (
        carrier("A", (0, 0, 0), (1000, 0, 0)),
        carrier("B", (1000, 0, 0), (1500, 0, 0)),
        carrier("C", (1500, 0, 0), (2000, 0, 0)),
    )
    found = {
        item.carrier.key: item
        for item in loaded(installation(*parts, DB, S, circuit("P1", "DB", "S", route="A;C"))).compartments
    }
    assert [marks(found[key]) for key in "ABC"] == [["P1"], [], ["P1"]]
    assert [cable.circuit for cable in found["B"].possible] == ["P1"]


def test_lanes_wider_than_the_inside_are_a_problem_and_their_size_is_not_known() -> None:
    wide = replace(STEEL_50, width_mm=100.0, lanes=lanes(None, None, widths=(250.0, 250.0)))
    here = loaded(installation(carrier("T", (0, 0, 0), (2000, 0, 0), wide), DB, S, circuit("P1", "DB", "S")))
    assert [compartment.area_mm2 for compartment in here.compartments] == [None, None]
    assert any("wider together" in problem.what for problem in here.problems)


def test_a_large_conduit_without_a_wall_is_not_assumed_to_have_a_thin_one() -> None:
    here = compartments(Section(outside_diameter_mm=110.0), circuit("P1", "DB", "S"))[0]
    assert here.area_least_mm2 == 0.0


def test_a_schedule_of_removed_circuits_tells_nothing() -> None:
    assert all(
        compartment.unbounded for compartment in compartments(THREE, circuit("P1", "DB", "S", state=State.REMOVED))
    )


def test_an_unrouted_circuit_may_lie_in_the_compartment_that_the_schedule_says() -> None:
    found = compartments(THREE, circuit("D1", "DB", "nowhere", service=Service.DATA, compartment=1))
    assert [[cable.circuit for cable in compartment.possible] for compartment in found] == [["D1"], [], []]


def test_a_compartment_for_another_service_is_taken_as_the_schedule_says_and_told() -> None:
    inst = installation(
        carrier("T", (0, 0, 0), (2000, 0, 0), THREE),
        DB,
        S,
        circuit("D1", "DB", "S", service=Service.DATA, compartment=1),
    )
    found = loaded(inst)
    assert marks(found.compartments[0]) == ["D1"]
    assert any("compartment 1 isn't for data" in problem.what for problem in found.problems)


def test_equipment_that_no_circuit_feeds_does_not_end_a_run_at_a_gap() -> None:
    lamp = outlet("LAMP", (2000, 600, 0))
    parts = (conduit("C1", (0, 0, 0), (1990, 0, 0)), conduit("C2", (2010, 0, 0), (4000, 0, 0)))
    run = run_of(installation(*parts, lamp, circuit("P1", "C1", "C1")), "C1")
    assert run.length_m is None  # the gap of 20 mm is perhaps a forgotten coupler


@pytest.mark.parametrize("drawn", [(), ((0.0, 300.0, 0.0), (0.0, 0.0, 0.0), (3800.0, 0.0, 0.0))])
def test_nothing_passes_on_a_carrier_of_unknown_length_that_a_shorter_way_may_lead_through(
    drawn: tuple[Vec, ...],
) -> None:
    """The way is found, or drawn along A only and found from there on."""
    unknown = replace(carrier("U", (0, 0, 0), (1, 0, 0)), start_mm=None, end_mm=None, length_mm=None)
    ports = (Port("p1", "A", (4000, 0, 0), ("p2",)), Port("p2", "U", None, ("p1",)),
             Port("p3", "C", (12000, 0, 0), ("p4",)), Port("p4", "U", None, ("p3",)))  # fmt: skip
    parts = (
        carrier("A", (0, 0, 0), (4000, 0, 0)),
        carrier("B", (4000, 0, 0), (12000, 0, 0)),
        carrier("C", (12000, 0, 0), (14000, 0, 0)),
    )
    end = outlet("S", (14000, 300, 0))
    cables = (ModelCable(Place("W", "test.ifc"), ("P1",), path_mm=drawn),) if drawn else ()
    inst = installation(*parts, unknown, DB, end, circuit("P1", "DB", "S"), ports=ports, model_cables=cables)
    by = RoutedBy.DRAWN_IN_PART if drawn else RoutedBy.SHORTEST
    assert [route.routed_by for route in route_all(inst).routes] == [by]
    found = {item.carrier.key: item for item in loaded(inst).compartments}
    assert found["U"].unbounded
    assert not found["B"].unbounded


def test_how_often_a_circuit_passes_that_calls_nobody_knows_where_is_not_known() -> None:
    lost = circuit("P1", "DB", count=1)  # no call is named: one cable would fit, but it may pass any number of times
    (found,) = compartments(STEEL_50, lost, circuit("P2", "DB", "S"))
    assert found.unbounded
    (known,) = compartments(STEEL_50, circuit("P1", "DB", "NOWHERE"), circuit("P2", "DB", "S"))
    assert not known.unbounded  # its one call is named, if not found


def test_a_circuit_that_was_led_by_hand_may_lie_in_any_compartment_once_its_route_is_lost() -> None:
    by_hand = circuit("D1", "DB", "S", service=Service.DATA, route="X/1")  # the carrier is called T
    found = compartments(THREE, by_hand)
    assert [[cable.circuit for cable in compartment.possible] for compartment in found] == [["D1"], ["D1"], ["D1"]]
