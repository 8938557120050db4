"""Circuits whose cables the model draws take the way that they are drawn.

T1 and T2 are trunkings 50 × 50 in line along x, 4 m and 2 m long. A line is in one from 35 mm beside its axis: half of 50, and the least
tolerance of 10 mm.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.model import (
    Carrier,
    CarrierKind,
    Circuit,
    Equipment,
    Fitting,
    ModelCable,
    ModelCircuit,
    Place,
    Section,
    Service,
    Vec,
)
from checker.network.drawn import DrawnWay, DrawnWays
from checker.network.drawn_bodies import CarrierBoxes
from tests.installations import carrier, circuit, fitting, installation, lanes, outlet

TRAY_300 = Section(width_mm=300.0, height_mm=60.0, source="test")
T1, T2 = carrier("T1", (0, 0, 0), (4000, 0, 0)), carrier("T2", (4000, 0, 0), (6000, 0, 0))
DB, S1 = outlet("DB", (0, 300, 0)), outlet("S1", (6000, 200, 0))
STRAIGHT = ((0, 300, 0), (0, 0, 0), (6000, 0, 0), (6000, 200, 0))
IN_LINE = {"T1": {"T2"}, "T2": {"T1"}}
P1 = circuit("P1", "DB", "S1")


def line(name: str, *points: Vec, mark: str = "P1") -> ModelCable:
    place = Place(name, "test.ifc", tag=name)
    return ModelCable(place, (mark,), path_mm=tuple((float(x), float(y), float(z)) for x, y, z in points))


def tray(key: str, start: Vec, end: Vec, kind: CarrierKind = CarrierKind.TRAY, across: Vec = (0, 1, 0)) -> Carrier:
    return replace(carrier(key, start, end, TRAY_300, kind), across=across)


def ways_of(
    cables: Sequence[ModelCable],
    *items: Carrier | Equipment | Fitting,
    neighbours: dict[str, set[str]] | None = None,
    **more: object,
) -> DrawnWays:
    model = installation(*items, model_cables=tuple(cables), **more)
    return DrawnWays(model, IN_LINE if neighbours is None else neighbours)


def way_of(
    cables: Sequence[ModelCable],
    *items: Carrier | Equipment | Fitting,
    of: Circuit = P1,
    neighbours: dict[str, set[str]] | None = None,
    **more: object,
) -> DrawnWay:
    way = ways_of(cables, *items, neighbours=neighbours, **more).way(of)
    assert way is not None
    return way


def visits(way: DrawnWay) -> list[tuple[str, float, float]]:
    return [(visit.carrier, round(visit.from_mm, 3), round(visit.to_mm, 3)) for visit in way.visits]


def told(way: DrawnWay) -> list[str]:
    return [problem.what for problem in way.problems]


def told_of_ends(way: DrawnWay) -> list[str]:
    return [problem.what for problem in way.open_problems]


def moved(points: Sequence[Vec], x: float = 0.0, y: float = 0.0, z: float = 0.0) -> tuple[Vec, ...]:
    return tuple((px + x, py + y, pz + z) for px, py, pz in points)


def test_a_straight_line_passes_both_trunkings_and_drops_at_both_ends() -> None:
    way = way_of([line("a", *STRAIGHT)], T1, T2, DB, S1)
    assert visits(way) == [("T1", 0, 4000), ("T2", 0, 2000)]
    assert (way.gaps, way.missed, way.has_gap, way.problems) == ((), (), False, ())
    assert way.drops_mm == pytest.approx((300.0, 200.0))
    assert (way.length_mm, way.strands) == (pytest.approx(6000.0), 1)


def test_a_line_that_comes_in_half_way_passes_from_there() -> None:
    lines = [line("a", (1500, 300, 0), (1500, 0, 0), (5000, 0, 0), (5000, 200, 0))]
    assert visits(way_of(lines, T1, T2)) == [("T1", 1500, 4000), ("T2", 0, 1000)]


def test_the_way_begins_at_the_origin_however_the_line_is_drawn() -> None:
    there, back = circuit("P1", "DB", "S1"), circuit("P1", "S1", "DB")
    for points in (STRAIGHT, STRAIGHT[::-1]):
        way = way_of([line("a", *points)], T1, T2, DB, S1, of=there)
        assert visits(way) == [("T1", 0, 4000), ("T2", 0, 2000)]
        assert way.drops_mm == pytest.approx((300.0, 200.0))
        way = way_of([line("a", *points)], T1, T2, DB, S1, of=back)
        assert visits(way) == [("T2", 2000, 0), ("T1", 4000, 0)]
        assert way.drops_mm == pytest.approx((200.0, 300.0))


def test_a_line_follows_a_bent_carrier_along_its_corner() -> None:
    bent = replace(carrier("B", (0, 0, 0), (2000, 1000, 0)), corners_mm=((2000, 0, 0),), length_mm=3000.0)
    outside = line("a", (0, -20, 0), (2020, -20, 0), (2020, 1000, 0))  # 20 mm outside of the axis all along
    inside = line("a", (0, 20, 0), (1980, 20, 0), (1980, 1000, 0))
    assert all(atom.hits for atom in CarrierBoxes([bent]).atoms(outside.path_mm))  # nowhere out of it
    for drawn, length in ((outside, 3040.0), (inside, 2960.0)):  # all of them lies in it, round the corner too
        way = way_of([drawn], bent)
        assert (visits(way), way.gaps) == ([("B", 0, 3000)], ())
        assert way.length_mm == pytest.approx(length)


def test_a_line_follows_an_arc_that_both_draw_in_chords_of_their_own() -> None:
    def arc(chords: int) -> list[Vec]:
        angles = [math.radians(90.0 * step / chords) for step in range(chords + 1)]
        return [(1000.0 * math.sin(angle), 1000.0 - 1000.0 * math.cos(angle), 0.0) for angle in angles]

    points = arc(6)
    along = math.pi / 2.0 * 1000.0  # a quarter of a circle of 1 m, which is what the carrier is long
    bend = replace(carrier("B", points[0], points[-1]), corners_mm=tuple(points[1:-1]), length_mm=along)
    way = way_of([line("a", *arc(37))], bend)
    assert [(visit.carrier, visit.from_mm, visit.to_mm) for visit in way.visits] == [
        ("B", pytest.approx(0.0, abs=1.0), pytest.approx(along, abs=1.0))
    ]
    assert way.gaps == ()


@pytest.mark.parametrize(
    ("kind", "height_mm", "is_on_it"),
    [
        (CarrierKind.TRAY, 70, True),  # 40 above the edge at 30
        (CarrierKind.LADDER, 70, True),
        (CarrierKind.TRAY, 205, True),  # 30, the tolerance of 30 (a tenth of 300) and 150 are 210
        (CarrierKind.TRAY, 215, False),
        (CarrierKind.TRAY, -55, True),  # below, within the tolerance
        (CarrierKind.TRAY, -65, False),
        (CarrierKind.TRUNKING, 70, False),
    ],
)
def test_cables_lie_on_a_tray_or_ladder_as_well_as_in_it(
    kind: CarrierKind, height_mm: float, *, is_on_it: bool
) -> None:
    for start, end in (((0, 0, 0), (5000, 0, 0)), ((5000, 0, 0), (0, 0, 0))):  # up is up whichever way it runs
        way = way_of([line("a", (0, 100, height_mm), (5000, 100, height_mm))], tray("C", start, end, kind))
        assert bool(way.visits) == is_on_it


def test_on_a_tray_that_stands_cables_may_lie_on_either_side() -> None:
    riser = tray("R", (0, 0, 0), (0, 0, 3000), across=(1, 0, 0))
    for side in (-100, 100):
        assert visits(way_of([line("a", (50, side, 0), (50, side, 3000))], riser)) == [("R", 0, 3000)]
    assert way_of([line("a", (250, 0, 0), (250, 0, 3000))], riser).visits == ()  # beside its width


def test_of_two_trunkings_beside_each_other_the_line_lies_in_the_one_around_it() -> None:
    one, other = carrier("A", (0, 0, 0), (5000, 0, 0)), carrier("B", (0, 50, 0), (5000, 50, 0))
    for y, key in ((20, "A"), (30, "B")):
        assert visits(way_of([line("a", (0, y, 0), (5000, y, 0))], one, other)) == [(key, 0, 5000)]


def test_beside_a_wide_tray_the_line_lies_in_what_is_around_it_not_in_what_has_the_nearer_axis() -> None:
    wide, narrow = tray("A", (0, 0, 0), (5000, 0, 0)), carrier("B", (0, 175, 0), (5000, 175, 0))  # they meet at 150
    for y, key in ((145, "A"), (155, "B")):
        assert visits(way_of([line("a", (0, y, 0), (5000, y, 0))], wide, narrow)) == [(key, 0, 5000)]


def test_a_line_that_wavers_between_two_trays_stays_in_one() -> None:
    one, other = tray("A", (0, 0, 0), (8000, 0, 0)), tray("B", (0, 300, 0), (8000, 300, 0))
    # by turns 500 mm along A, 5 mm from where they meet at 150, and 500 mm along B, 7 mm from there
    steps = [(500.0 * number, 150.0 + (7.0 if number % 2 else -5.0), 0.0) for number in range(16)]
    points = [place for x, y, z in steps for place in ((x, y, z), (x + 500.0, y, z))]
    assert visits(way_of([line("a", *points)], one, other)) == [("B", 0, 8000)]


def test_a_line_that_changes_over_to_the_tray_beside_it_passes_both() -> None:
    one, other = tray("A", (0, 0, 0), (8000, 0, 0)), tray("B", (0, 300, 0), (8000, 300, 0))
    way = way_of([line("a", (0, 0, 0), (4000, 0, 0), (4000, 300, 0), (8000, 300, 0))], one, other)
    assert visits(way) == [("A", 0, 4000), ("B", 4000, 8000)]
    assert way.gaps == ()


@pytest.mark.parametrize("angle_deg", [90.0, 60.0, 50.0])
def test_a_line_that_crosses_a_carrier_doesnt_visit_it(angle_deg: float) -> None:
    x, y = 3000.0 * math.cos(math.radians(angle_deg)), 3000.0 * math.sin(math.radians(angle_deg))
    way = way_of([line("a", (2500 - x, -y, 0), (2500 + x, y, 0))], tray("C", (0, 0, 0), (5000, 0, 0)))
    assert way.visits == ()
    assert [gap.length_mm for gap in way.gaps] == [pytest.approx(6000.0)]


def test_a_line_in_a_carrier_for_less_than_its_width_doesnt_visit_it() -> None:
    on_tray = lambda length: line("a", (1000, 0, 900), (1000, 0, 0), (1000 + length, 0, 0), (1000 + length, 0, 900))  # noqa: E731
    assert way_of([on_tray(290)], tray("C", (0, 0, 0), (5000, 0, 0))).visits == ()
    assert visits(way_of([on_tray(310)], tray("C", (0, 0, 0), (5000, 0, 0)))) == [("C", 1000, 1310)]


def test_a_carrier_shorter_than_wide_is_passed_by_what_runs_through_it() -> None:
    short = tray("S", (0, 0, 0), (100, 0, 0))
    assert visits(way_of([line("a", (-500, 0, 0), (600, 0, 0))], short)) == [("S", 0, 100)]


def test_a_crossing_carrier_doesnt_interrupt_the_one_that_the_line_runs_in() -> None:
    across = tray("X", (2000, -3000, 0), (2000, 3000, 0), across=(1, 0, 0))
    assert visits(way_of([line("a", *STRAIGHT)], T1, T2, across)) == [("T1", 0, 4000), ("T2", 0, 2000)]


def test_a_carrier_of_unknown_size_holds_what_is_within_50_mm_and_its_tolerance() -> None:
    unknown = carrier("U", (0, 0, 0), (5000, 0, 0), Section())
    for off, found in ((55, [("U", 0, 5000)]), (65, [])):  # 50 and 10
        assert visits(way_of([line("a", (0, off, 0), (5000, off, 0))], unknown)) == found


def test_a_carrier_whose_axis_isnt_known_holds_nothing() -> None:
    nowhere = replace(T1, key="N", start_mm=None, end_mm=None, across=None)
    assert visits(way_of([line("a", *STRAIGHT)], nowhere, T1, T2)) == [("T1", 0, 4000), ("T2", 0, 2000)]


def test_places_go_in_proportion_where_the_length_isnt_that_of_the_axis() -> None:
    longer = replace(T1, length_mm=4400.0)
    assert visits(way_of([line("a", (1000, 0, 0), (4000, 0, 0))], longer)) == [("T1", 1100, 4400)]


def test_slack_within_a_carrier_is_no_pass_of_its_own() -> None:
    points = [(0, 0, 0), (2000, 0, 0), (2000, 10, 0), (1920, 10, 0), (1920, -10, 0), (4000, -10, 0)]  # 80 mm back
    assert visits(way_of([line("a", *points)], T1)) == [("T1", 0, 4000)]


def test_a_loop_outside_of_a_carrier_that_comes_in_again_farther_back_is_a_second_pass() -> None:
    points = [(0, 0, 0), (2000, 0, 0), (2000, 60, 0), (1800, 60, 0), (1800, 0, 0), (4000, 0, 0)]
    assert visits(way_of([line("a", *points)], T1)) == [("T1", 0, 2000), ("T1", 1800, 4000)]


RING = circuit("P1", "DB", "S1", "DB")


def test_a_line_that_is_drawn_out_and_back_passes_twice() -> None:
    far = [(0, 300, 0), (0, 10, 0), (5000, 10, 0), (5000, 200, 0), (5000, -10, 0), (0, -10, 0), (0, 310, 0)]
    for of in (P1, RING, circuit("P1", "DB", "S1", count=3)):
        way = way_of([line("a", *far)], T1, T2, DB, of=of)
        assert visits(way) == [("T1", 0, 4000), ("T2", 0, 1000), ("T2", 1000, 0), ("T1", 4000, 0)]
        assert way.strands == 1


def test_a_line_that_turns_back_within_a_carrier_passes_twice_as_far_as_it_does() -> None:
    way = way_of([line("a", (0, 10, 0), (3000, 10, 0), (3000, -10, 0), (1000, -10, 0))], T1)
    assert visits(way) == [("T1", 0, 3000), ("T1", 3000, 1000)]


def test_a_ring_in_two_lines_out_and_back_passes_twice_even_where_the_circuit_has_several_cables() -> None:
    out, back = line("a", *moved(STRAIGHT, y=10)), line("b", *moved(STRAIGHT, y=-10))
    ring = circuit("P1", "DB", "S1", "DB", count=3)
    assert sorted(visits(way_of([out, back], T1, T2, DB, S1, of=ring))) == [
        ("T1", 0, 4000), ("T1", 0, 4000), ("T2", 0, 2000), ("T2", 0, 2000)
    ]  # fmt: skip


def test_lines_from_call_to_call_pass_as_often_as_they_are_drawn() -> None:
    first = line("a", (0, 300, 0), (0, 0, 0), (3000, 0, 0), (3000, 300, 0))
    second = line("b", (3000, 300, 0), (3010, 10, 0), (1000, 10, 0), (1000, 300, 0))  # back to a second call
    of = circuit("P1", "DB", "S", "L", count=3)
    way = way_of([first, second], T1, DB, outlet("S", (3000, 320, 0)), outlet("L", (1000, 320, 0)), of=of)
    assert [(key, round(a, -2), round(b, -2)) for key, a, b in visits(way)] == [("T1", 0, 3000), ("T1", 3000, 1000)]
    assert (way.gaps, way.missed) == ((), ())


CORES = [line(name, *moved(STRAIGHT, y=y)) for name, y in (("a", -15), ("b", 0), ("c", 15))]


def test_three_cores_beside_each_other_are_one_pass() -> None:
    way = way_of(CORES, T1, T2, DB, S1, of=circuit("P1", "DB", "S1", count=3))
    assert visits(way) == [("T1", 0, 4000), ("T2", 0, 2000)]
    assert (way.strands, way.problems) == (3, ())
    assert way.length_mm == pytest.approx(6000.0)  # of one of them


def test_sets_count_as_cables() -> None:
    of = circuit("P1", "DB", "S1", count=1, sets=3)
    assert visits(way_of(CORES, T1, T2, DB, S1, of=of)) == [("T1", 0, 4000), ("T2", 0, 2000)]


def test_more_lines_than_the_circuit_has_cables_are_further_passes_and_said() -> None:
    for count, passes in ((1, 3), (2, 2)):  # three lines: 3 / 1; 3 / 2, rounded up
        way = way_of(CORES, T1, T2, DB, S1, of=circuit("P1", "DB", "S1", count=count))
        assert visits(way) == [("T1", 0, 4000), ("T2", 0, 2000)] * passes
        assert told(way) == [f"the model draws 3 cables beside each other, and the schedule has {count}"]


def test_one_line_for_several_cables_is_said_and_an_unknown_count_isnt_compared() -> None:
    assert told(way_of([line("a", *STRAIGHT)], T1, T2, DB, S1, of=circuit("P1", "DB", "S1", count=3))) == [
        "the model draws one line for its 3 cables"
    ]
    assert told(way_of(CORES, T1, T2, DB, S1, of=circuit("P1", "DB", "S1", count=None))) == []


def test_lines_to_places_of_their_own_are_passes_of_their_own() -> None:
    """Three lines of a circuit of three cores, each to another socket: each line stands for all three."""
    lines = [line(str(x), (0, 300, 0), (0, 0, 0), (x, 0, 0), (x, 300, 0)) for x in (1000, 2000, 3000)]
    of = circuit("P1", "DB", "A", "B", "C", count=3)
    sockets = [outlet(key, (x, 310, 0)) for key, x in (("A", 1000), ("B", 2000), ("C", 3000))]
    way = way_of(lines, T1, DB, *sockets, of=of)
    assert sorted(visits(way)) == [("T1", 0, 1000), ("T1", 0, 2000), ("T1", 0, 3000)]


def test_a_core_that_goes_another_way_visits_its_carriers_too_and_is_told() -> None:
    aside = carrier("X", (0, 1000, 0), (6000, 1000, 0))
    lost = line("c", (0, 300, 0), (0, 1000, 0), (6000, 1000, 0), (6000, 200, 0))
    way = way_of([*CORES[:2], lost], T1, T2, aside, DB, S1, of=circuit("P1", "DB", "S1", count=3))
    assert sorted(visits(way)) == [("T1", 0, 4000), ("T2", 0, 2000), ("X", 0, 6000)]
    assert told(way) == ["the model leads its cables different ways, through T1 (2 of 3), T2 (2 of 3), X (1 of 3)"]


def test_a_core_that_goes_out_and_back_alone_passes_twice_there() -> None:
    branch = carrier("X", (2000, 0, 0), (2000, 1500, 0))
    aside = [(0, 300, 0), (0, 0, 0), (1995, 0, 0), (1995, 1500, 0), (2005, 1500, 0), (2005, 0, 0), *STRAIGHT[2:]]
    way = way_of([*CORES[:2], line("c", *aside)], T1, T2, branch, DB, S1, of=circuit("P1", "DB", "S1", count=3))
    assert [key for key, *_ in visits(way)].count("X") == 2
    assert told(way) == ["the model leads its cables different ways, through X (2 of 3)"]


def test_cores_that_end_in_a_row_are_no_further_passes() -> None:
    ends = ((5900, 300), (6000, 100), (5850, 50))  # the longest of them, with its drop, isn't the longest in T2
    cores = [line(str(x), (0, 300, 0), (0, 0, 0), (x, 0, 0), (x, drop, 0)) for x, drop in ends]
    way = way_of(cores, T1, T2, DB, outlet("S1", (5950, 200, 0)), of=circuit("P1", "DB", "S1", count=3))
    assert way.strands == 3
    assert visits(way) == [("T1", 0, 4000), ("T2", 0, 2000)]  # as far as the longest


def test_a_ring_cut_at_its_corners_is_one_line_all_around() -> None:
    corners = [(0, 0, 0), (1000, 0, 0), (1000, 1000, 0), (0, 1000, 0)]
    sides = [line(str(n), corners[n], corners[(n + 1) % 4]) for n in range(4)]
    carriers = [carrier(f"C{n}", corners[n], corners[(n + 1) % 4]) for n in range(4)]
    way = way_of(sides, *carriers)
    assert sorted(key for key, *_ in visits(way)) == ["C0", "C1", "C2", "C3"]
    assert way.strands == 1


def test_cores_in_one_cable_are_one_line_and_pieces_that_follow_each_other_too() -> None:
    cores = tuple(core.path_mm for core in CORES)
    whole = replace(CORES[0], path_mm=(), pieces_mm=cores)
    way = way_of([whole], T1, T2, DB, S1)
    assert (visits(way), way.strands, way.problems) == ([("T1", 0, 4000), ("T2", 0, 2000)], 1, ())
    pieces = (STRAIGHT[2:], ((2500.0, 0.0, 0.0), STRAIGHT[2]), (*STRAIGHT[:2], (2480.0, 0.0, 0.0)))
    way = way_of([replace(CORES[0], path_mm=(), pieces_mm=pieces)], T1, T2, DB, S1)
    assert (visits(way), way.strands, way.gaps) == ([("T1", 0, 4000), ("T2", 0, 2000)], 1, ())


def test_what_lies_in_no_carrier_is_a_gap_between_two() -> None:
    far = carrier("F", (5000, 0, 0), (9000, 0, 0))
    way = way_of([line("a", (0, 0, 0), (9000, 0, 0))], T1, far)
    assert visits(way) == [("T1", 0, 4000), ("F", 0, 4000)]
    assert [(gap.before, gap.after, gap.length_mm) for gap in way.gaps] == [("T1", "F", pytest.approx(1000.0))]
    assert way.has_gap
    assert told(way) == ["as the model draws its cables they lie in no carrier for 1.00 m between T1 and F"]


@pytest.mark.parametrize(("between_mm", "is_gap"), [(490, False), (510, True)])
def test_what_joins_two_carriers_is_no_gap_unless_it_is_longer_than_a_fitting(
    between_mm: float, *, is_gap: bool
) -> None:
    start = 4000 + between_mm
    far = carrier("F", (start, 0, 0), (start + 4000, 0, 0))
    ends = outlet("DB", (0, 0, 0)), outlet("S1", (start + 4000, 0, 0))
    way = way_of([line("a", (0, 0, 0), (start + 4000, 0, 0))], T1, far, *ends, neighbours={"T1": {"F"}})
    assert way.has_gap == is_gap  # 500, or four sides of 50


def test_a_line_that_is_led_through_several_fittings_has_no_gap_where_they_are() -> None:
    """Two boxes of 600 side by side between two trunkings 1.2 m apart that nothing joins to each other."""
    far = carrier("F", (5200, 0, 0), (9000, 0, 0))
    boxes = [fitting("B1", (4300, 0, 0), size=600.0), fitting("B2", (4900, 0, 0), size=600.0)]
    drawn = [line("a", (0, 0, 0), (9000, 0, 0))]
    assert way_of(drawn, T1, far, *boxes).gaps == ()
    (gap,) = way_of(drawn, T1, far, boxes[0]).gaps  # without the second: all but 50 mm beside the first
    assert gap.length_mm == pytest.approx(550.0, abs=25.0)


def test_lines_that_dont_meet_leave_a_gap_between_them() -> None:
    drawn = [line("a", *STRAIGHT[:2], (2000, 0, 0)), line("b", (3000, 0, 0), *STRAIGHT[2:])]
    way = way_of(drawn, T1, T2, DB, S1)
    assert visits(way) == [("T1", 0, 2000), ("T1", 3000, 4000), ("T2", 0, 2000)]
    assert (way.parts, way.has_gap, way.gaps) == (2, True, ())
    assert told_of_ends(way) == ["the cables that the model draws are 2 parts that don't meet"]
    tee = line("c", (2500, 0, 0), (2500, 600, 0))  # begins half-way along the one that fills the gap
    whole = way_of([*drawn, line("d", (1900, 5, 0), (3100, 5, 0)), tee], T1, T2, DB, S1)
    assert (whole.parts, whole.has_gap) == (1, False)
    socket = outlet("S2", (2500, 1500, 0))  # which both end in reach of
    of = circuit("P1", "DB", "S2", "S1")
    assert way_of(drawn, T1, T2, DB, S1, socket, of=of).parts == 1


def test_what_bulges_out_of_a_carrier_is_one_pass_and_no_gap() -> None:
    points = [(0, 0, 0), (1500, 0, 0), (1600, 60, 0), (1800, 60, 0), (1900, 0, 0), (4000, 0, 0)]
    way = way_of([line("a", *points)], T1)
    assert (visits(way), way.gaps) == ([("T1", 0, 4000)], ())


@pytest.mark.parametrize(("drop_mm", "is_gap"), [(2900, False), (3100, True)])
def test_beyond_its_last_carrier_a_line_may_drop_as_far_as_equipment_is_in_reach(
    drop_mm: float, *, is_gap: bool
) -> None:
    way = way_of([line("a", (0, 0, 0), (3000, 0, 0), (3000, 0, drop_mm))], T1)  # reach: 3 m
    assert [(gap.before, gap.after, round(gap.length_mm)) for gap in way.gaps] == (
        [("T1", "", drop_mm)] if is_gap else []
    )


def test_a_drop_to_a_call_and_back_up_is_no_gap_but_to_anything_else_is() -> None:
    down = [(0, 0, 0), (2000, 0, 0), (2000, 0, -1500), (2050, 0, -1500), (2050, 0, 0), (4000, 0, 0)]
    call = outlet("S", (2000, 100, -1500))
    of = circuit("P1", "DB", "S", "S1")
    way = way_of([line("a", *down)], T1, DB, call, of=of)
    assert (way.gaps, [key for key, *_ in visits(way)]) == ((), ["T1", "T1"])
    way = way_of([line("a", *down)], T1, DB, of=of)
    assert [(gap.before, gap.after, round(gap.length_mm)) for gap in way.gaps] == [("T1", "T1", 2 * 1465 + 50)]


#: 225 wide: wall 1.6, lane 92, divider 1.6, lane 46, divider 1.6, lane 80.6, wall 1.6.
THREE = Section(
    width_mm=225.0,
    height_mm=50.0,
    wall_mm=1.6,
    divider_mm=1.6,
    source="test",
    lanes=lanes(Service.POWER, Service.CONTROL, Service.DATA, widths=(92.0, 46.0, 80.6)),
)


@pytest.mark.parametrize(
    ("across_mm", "service", "lane"),
    [
        (0, Service.CONTROL, None),  # on the axis, where people draw whatever lies in it
        (22, Service.CONTROL, None),  # and as near to it as a tenth of 225
        (-60, Service.POWER, 1),  # 52.5 and 172.5: the first or the third, of which one takes power
        (60, Service.POWER, 1),
        (60, Service.DATA, 3),
        (60, Service.CONTROL, None),  # neither takes it
        (60, None, None),  # either may
        (-112, Service.POWER, None),  # in the wall
    ],
)
def test_the_compartment_is_said_where_the_line_lies_clearly_in_it(
    across_mm: float, service: Service | None, lane: int | None
) -> None:
    floor = replace(carrier("F", (0, 0, 0), (5000, 0, 0), THREE), across=(0.0, 1.0, 0.0))
    of = circuit("P1", "DB", "S1", service=service)
    for points in (((0, across_mm, 0), (5000, across_mm, 0)), ((0, 0, 500), (0, across_mm, 0), (5000, across_mm, 0))):
        (visit,) = way_of([line("a", *points)], floor, of=of).visits
        assert (visit.carrier, visit.seen_compartment, visit.compartment) == ("F", lane, None)
    (visit,) = way_of([line("a", (0, across_mm, 0), (5000, across_mm, 0))], replace(floor, across=None), of=of).visits
    assert visit.seen_compartment is None


def test_a_line_that_changes_its_compartment_on_the_way_isnt_said_to_lie_in_one() -> None:
    floor = replace(carrier("F", (0, 0, 0), (5000, 0, 0), THREE), across=(0.0, 1.0, 0.0))
    for changes_at, lane in (
        (2500, None),
        (4700, 1),
    ):  # half of it on the axis; 0.94 in the first, which alone takes power
        points = ((0, 60, 0), (changes_at, 60, 0), (changes_at, 0, 0), (5000, 0, 0))
        (visit,) = way_of([line("a", *points)], floor).visits
        assert visit.seen_compartment == lane


def test_compartments_of_no_width_of_their_own_share_it_and_one_alone_isnt_said() -> None:
    equal = replace(THREE, lanes=lanes(None, None, None))  # 72.9 each: (225 − 4 · 1.6) / 3
    for y, lane in ((30, 2), (40, None)):  # the second ends at 36.4
        floor = replace(carrier("F", (0, 0, 0), (5000, 0, 0), equal), across=(0.0, 1.0, 0.0))
        (visit,) = way_of([line("a", (0, y, 0), (5000, y, 0))], floor).visits
        assert visit.seen_compartment == lane
    (visit,) = way_of([line("a", (0, 0, 0), (4000, 0, 0))], T1).visits
    assert visit.seen_compartment is None


def test_a_line_in_no_carrier_at_all_is_all_gap() -> None:
    way = way_of([line("a", (0, 900, 0), (6000, 900, 0))], T1, T2)
    assert (way.visits, way.length_mm) == ((), 0.0)
    assert told(way) == ["as the model draws its cables they lie in no carrier for 6.00 m in all"]


def test_cables_without_a_path_draw_no_way() -> None:
    plain = ModelCable(Place("a", "test.ifc"), ("P1",))
    assert ways_of([plain], T1).way(P1) is None
    assert ways_of([replace(plain, path_mm=((1.0, 0.0, 0.0),) * 3)], T1).way(P1) is None  # no length
    assert ways_of([line("a", *STRAIGHT, mark="P2")], T1).way(P1) is None
    assert ways_of([], T1).way(P1) is None


def test_cables_without_a_path_beside_drawn_ones_are_told() -> None:
    plain = ModelCable(Place("b", "test.ifc", tag="W2"), ("P1",))
    way = way_of([plain, line("a", *STRAIGHT)], T1, T2, DB, S1)
    assert (visits(way), way.has_gap) == ([("T1", 0, 4000), ("T2", 0, 2000)], False)
    assert told(way) == ["the model has cables of it without a path: W2"]


def test_ends_that_no_line_comes_near_are_missed() -> None:
    of = circuit("P1", "DB", "S1", "S2", "nobody")
    way = way_of([line("a", *STRAIGHT)], T1, T2, DB, S1, outlet("S2", (6000, 3500, 0)), of=of)
    assert way.missed == ("S2", "nobody")  # S2: 3.3 m from where the line ends; its reach is 3 m
    assert way.has_gap
    assert told_of_ends(way) == [
        "the cables that the model draws miss 'S2' by 3.30 m",
        "nothing in the model is called 'nobody'",
    ]
    assert way.drops_mm == (pytest.approx(300.0), pytest.approx(200.0), pytest.approx(3300.0 + 200.0), None)


def model_circuit(mark: str, *cables: ModelCable, panel: str = "", marks: tuple[str, ...] = ()) -> ModelCircuit:
    own = tuple(replace(cable, path_mm=()) for cable in cables)  # as circuits have them
    return ModelCircuit(mark, "test.ifc", "IfcDistributionCircuit", marks or (mark,), panel, cables=own)


def test_a_circuit_owns_the_cables_of_the_models_circuit_that_its_mark_means() -> None:
    cable = line("a", *STRAIGHT, mark="nothing")
    known = model_circuit("DB 1/9", cable, marks=("DB 1/9", "DB 1-9"))
    of = circuit("db 1-9", "DB", "S1")
    assert visits(way_of([cable], T1, T2, of=of, model_circuits=(known,)))[0][0] == "T1"
    by_name = line("b", *STRAIGHT, mark="DB 1/9")  # named as the model's circuit is
    assert visits(way_of([by_name], T1, T2, of=of, model_circuits=(model_circuit("DB 1/9", marks=known.marks),)))
    assert (
        ways_of([cable], T1, model_circuits=(known, replace(known, panel="DB2"))).way(of) is None
    )  # which of the two?


def test_a_cable_that_two_models_have_counts_once_and_two_of_one_name_twice() -> None:
    cable = line("a", *STRAIGHT)
    again = replace(cable, place=replace(cable.place, model="other.ifc"))
    assert visits(way_of([cable, again], T1, T2, DB, S1)) == [("T1", 0, 4000), ("T2", 0, 2000)]
    beside = replace(cable, path_mm=moved(STRAIGHT, y=10))
    assert len(visits(way_of([cable, beside], T1, T2, DB, S1))) == 4


def test_more_lines_than_anybody_draws_are_told_and_not_followed() -> None:
    way = way_of([line(str(n), *moved(STRAIGHT, y=n)) for n in range(1001)], T1)
    assert (way.visits, told(way)) == ((), ["the model draws its cables in 1001 lines, more than are looked at"])
    pieces = tuple(moved(STRAIGHT, y=n) for n in range(1001))
    assert told(way_of([replace(line("a"), pieces_mm=pieces)], T1)) == told(way)


def test_where_more_carriers_lie_than_are_looked_at_the_way_isnt_sure_and_that_is_told() -> None:
    crowd = [carrier(f"X{n}", (0, 0, 0), (500, 0, 0)) for n in range(2001)]
    way = way_of([line("a", *STRAIGHT)], T1, T2, *crowd)
    assert (way.is_crowded, way.has_gap) == (True, True)
    assert "too many carriers lie around its drawn cables to look at all of them" in told(way)
