"""Each way in which geometry joins, and what it must not join. Sizes: T is trunking 50 × 50 mm, so its tolerance is 10 mm."""

from dataclasses import replace

import pytest

from checker.model import Carrier, CarrierKind, Fitting, FittingKind, Port, Section, Vec
from checker.network.bodies import touch
from checker.network.joining import FoundBy, find_joins
from tests.installations import STEEL_50, carrier, fitting, installation
from tests.network.joined import NO_SIZE, TRAY_300, conduit, found, gaps_told, told

T = carrier("T", (0, 0, 0), (2000, 0, 0))
MEETING, SIDE, IN, TOUCHING = FoundBy.MEETING, FoundBy.AT_SIDE, FoundBy.IN_FITTING, FoundBy.FITTINGS


def flat(
    key: str, start: Vec, end: Vec, section: Section = STEEL_50, kind: CarrierKind = CarrierKind.TRUNKING
) -> Carrier:
    """A carrier whose width lies level and whose height stands."""
    along = (end[0] - start[0], end[1] - start[1])
    across = (0.0, 1.0, 0.0) if abs(along[0]) >= abs(along[1]) else (1.0, 0.0, 0.0)
    return replace(carrier(key, start, end, section, kind), across=across)


@pytest.mark.parametrize(
    ("gap", "section", "meets"),
    [
        (0.0, STEEL_50, True),
        (10.0, STEEL_50, True),  # a tenth of 50 mm is 5 mm; never less than 10
        (10.5, STEEL_50, False),
        (30.0, TRAY_300, True),  # a tenth of 300 mm
        (30.5, TRAY_300, False),
        (50.0, Section(width_mm=900.0, height_mm=60.0), True),  # never more than 50
        (50.5, Section(width_mm=900.0, height_mm=60.0), False),
        (10.0, NO_SIZE, True),
        (10.5, NO_SIZE, False),
    ],
)
def test_ends_meet_within_a_tolerance_that_goes_by_the_section(gap: float, section: Section, *, meets: bool) -> None:
    one = flat("A", (0, 0, 0), (2000, 0, 0), section)
    other = flat("B", (2000 + gap, 0, 0), (4000, 0, 0), section)
    assert found(one, other) == ({("A", "B", MEETING)} if meets else set())


def test_the_larger_of_two_sections_gives_the_tolerance_and_the_join_its_gap() -> None:
    one = flat("A", (0, 0, 0), (2000, 0, 0), TRAY_300)
    (join,) = find_joins(installation(one, conduit("B", (2025, 0, 0), (4000, 0, 0)))).joins
    assert join.found_by is MEETING
    assert join.gap_mm == pytest.approx(25.0)


@pytest.mark.parametrize("height", [0.0, 25.0, 34.9])
def test_an_end_at_anothers_side_joins_it_anywhere_along_it(height: float) -> None:
    # from T's axis to its side it is 25 mm, and the tolerance is 10 mm
    for along in (300.0, 1000.0, 1700.0):
        branch = carrier("B", (along, height, 0), (along, 3000, 0))
        (join,) = find_joins(installation(T, branch)).joins
        assert join.found_by is SIDE
        spot = join.one if join.one.element == "T" else join.other
        assert spot.point_mm == pytest.approx((along, 0.0, 0.0))
        assert join.gap_mm == pytest.approx(max(height - 25.0, 0.0))


def test_a_side_that_is_out_of_tolerance_joins_nothing() -> None:
    assert found(T, carrier("B", (1000, 37, 0), (1000, 3000, 0))) == set()


def test_a_conduit_joins_the_side_of_a_trunking_and_of_a_tray() -> None:
    assert found(T, conduit("C", (700, 25, 0), (700, 3000, 0))) == {("C", "T", SIDE)}
    tray = flat("R", (0, 0, 0), (4000, 0, 0), TRAY_300, CarrierKind.TRAY)
    assert found(tray, conduit("C", (700, 0, 30), (700, 0, 2000))) == {("C", "R", SIDE)}


def test_a_conduit_joins_the_side_of_another_but_nothing_else_does() -> None:
    long = conduit("C", (0, 0, 0), (4000, 0, 0))
    assert found(long, conduit("D", (1000, 0, 0), (1000, 3000, 0))) == {("C", "D", SIDE)}
    assert found(long, carrier("T", (1000, 0, 0), (1000, 3000, 0))) == set()


def test_a_branch_with_a_higher_section_joins_with_its_face() -> None:
    # both stand on the same ground: the tray's axis is at 30 mm, that of the branch, 200 mm high, at 100 mm
    tray = flat("R", (0, 0, 30), (4000, 0, 30), TRAY_300, CarrierKind.TRAY)
    branch = flat("B", (2000, 150, 100), (2000, 3000, 100), Section(width_mm=100.0, height_mm=200.0))
    assert found(tray, branch) == {("B", "R", SIDE)}


@pytest.mark.parametrize("place", [2000.0, 1980.0, 2025.0])
def test_at_a_corner_an_end_within_the_others_body_joins_its_end(place: float) -> None:
    riser = carrier("B", (place, 20, 0), (place, 20, 3000))
    (join,) = find_joins(installation(T, riser)).joins
    assert {(spot.element, spot.where) for spot in (join.one, join.other)} == {("T", "end"), ("B", "start")}


def test_a_corner_where_both_touch_each_other_is_one_join() -> None:
    # B ends 31.7 mm up A, and A begins 6.7 mm below B's body, which is 50 mm high
    one, other = carrier("A", (0, 0, 0), (0, 0, 1100)), carrier("B", (0, 1400, 0), (0, 0, 31.7))
    (join,) = find_joins(installation(one, other)).joins
    assert [(spot.element, spot.where) for spot in (join.one, join.other)] == [("A", "start"), ("B", "end")]
    assert join.gap_mm == 0.0  # B's end lies within A


def test_what_overlaps_end_in_end_is_joined() -> None:
    assert found(T, carrier("B", (1900, 0, 0), (4000, 0, 0))) == {("B", "T", SIDE)}


def test_crossing_is_not_joining() -> None:
    for height in (0.0, 20.0, 60.0, 300.0):
        assert found(T, carrier("X", (1000, -2000, height), (1000, 2000, height))) == set()


def test_what_crosses_near_its_end_is_not_joined() -> None:
    # its end lies 20 mm beyond the far side of T, whose tolerance is 10 mm
    assert found(T, carrier("X", (1000, -45, 0), (1000, 2000, 0))) == set()


def test_what_ends_over_another_without_touching_it_is_not_joined() -> None:
    tray = flat("R", (0, 0, 0), (4000, 0, 0), TRAY_300, CarrierKind.TRAY)
    over = flat(
        "S", (2000, 0, 80), (2000, 3000, 80), TRAY_300, CarrierKind.TRAY
    )  # 20 mm between two that are 60 mm high
    assert found(tray, over) == set()


@pytest.mark.parametrize("apart", [55.0, 51.0])
def test_what_runs_side_by_side_is_not_joined(apart: float) -> None:
    assert found(T, carrier("U", (0, apart, 0), (2000, apart, 0))) == set()
    assert found(T, carrier("U", (500, apart, 0), (1500, apart, 0))) == set()  # its ends lie along T


def test_thin_conduits_side_by_side_are_not_joined_though_their_ends_are_near() -> None:
    thin = Section(outside_diameter_mm=8.0)
    one, other = conduit("A", (0, 0, 0), (2000, 0, 0), thin), conduit("B", (0, 9, 0), (2000, 9, 0), thin)
    assert found(one, other) == set()
    assert found(one, conduit("B", (2000, 9, 0), (4000, 9, 0), thin)) == {("A", "B", MEETING)}


def test_an_end_in_or_at_a_box_joins_it() -> None:
    for end in (1900.0, 2000.0, 1890.5):  # the box begins at 1900
        assert found(carrier("A", (0, 0, 0), (end, 0, 0)), fitting("F", (2000, 0, 0), size=200.0)) == {("A", "F", IN)}
    assert found(carrier("A", (0, 0, 0), (1889, 0, 0)), fitting("F", (2000, 0, 0), size=200.0)) == set()


def test_an_end_in_a_turned_body_is_measured_along_the_bodys_own_directions() -> None:
    # a square of 200 mm turned by 45°: its corner reaches 141 mm along x, its sides 100 mm along the diagonals
    r = 0.5**0.5
    straight = fitting("F", (0, 0, 0), size=200.0)
    assert straight.body is not None
    turned = replace(straight, body=replace(straight.body, axes=((r, r, 0.0), (-r, r, 0.0), (0.0, 0.0, 1.0))))
    at_corner = carrier("A", (-2000, 0, 0), (-140, 0, 0))
    assert found(at_corner, turned) == {("A", "F", IN)}
    assert found(at_corner, straight) == set()
    assert found(carrier("A", (-2000, -95, 0), (-95, -95, 0)), turned) == set()  # 34 mm beyond a side


def test_a_fitting_with_ports_that_are_not_connected_takes_ends_and_one_with_all_connected_does_not() -> None:
    bend = fitting("F", (2000, 0, 0), FittingKind.BEND)
    ends = (T, carrier("B", (2000, 40, 0), (2000, 3000, 0)))
    loose = (Port("p", "F", (1950, 0, 0)), Port("q", "F", (2000, 50, 0)))
    # q is 10 mm from B's end; T's is in the body alone
    assert found(*ends, bend, ports=loose) == {("F", "T", IN), ("B", "F", MEETING)}
    others = (carrier("M", (2000, -3000, 0), (2000, -2000, 0)), carrier("N", (9000, 0, 0), (8000, 0, 0)))
    tied = (Port("p", "F", None, ("m",)), Port("q", "F", None, ("n",)), Port("m", "M", None), Port("n", "N", None))
    assert not {pair for pair in found(*ends, bend, *others, ports=tied) if pair[:2] in {("F", "T"), ("B", "F")}}
    box = replace(bend, kind=FittingKind.BOX)
    assert ("F", "T", IN) in found(*ends, box, *others, ports=tied)


def test_fittings_that_touch_join_where_one_lacks_a_join() -> None:
    one, other = fitting("F", (2050, 0, 0), FittingKind.BEND), fitting("G", (2150, 0, 0), FittingKind.BEND)
    assert found(T, one, other, carrier("B", (2200, 0, 0), (4000, 0, 0))) == {
        ("F", "T", IN), ("B", "G", IN), ("F", "G", TOUCHING),
    }  # fmt: skip
    box = replace(other, kind=FittingKind.BOX)
    rest = [carrier(key, (2150, y, 0), (2150, 20 * y, 0)) for key, y in (("B", 50), ("C", -50))]
    assert ("F", "G", TOUCHING) in found(T, one, box, *rest)  # the box has two already, and takes any number
    full = replace(one, kind=FittingKind.BOX)
    before = carrier("D", (2050, 50, 0), (2050, 3000, 0))
    assert not {
        pair for pair in found(T, before, full, box, *rest) if pair[2] is TOUCHING
    }  # two boxes that lack nothing
    assert found(T, one, fitting("G", (2152, 0, 0), FittingKind.BEND)) == {("F", "T", IN)}  # 2 mm apart


def test_boxes_that_only_their_edges_keep_apart_do_not_touch() -> None:
    """A cube's upright edge against another's level one.

    Cubes of 200 mm; their edges reach √2 · 100 mm each way along the diagonal, so that they touch up to 283 mm between their centres. No
    face tells them apart below (100 + (√½ + ½ + ½) · 100) · √2 = 383 mm.
    """
    r = 0.5**0.5
    axes = ((r, -r, 0.0), (0.5, 0.5, r), (0.5, 0.5, -r))
    straight = fitting("F", (0, 0, 0), size=200.0).body
    assert straight is not None
    for apart, meets in ((280.0, True), (286.0, False), (370.0, False)):
        turned = replace(straight, centre_mm=(r * apart, r * apart, 0.0), axes=axes)
        assert touch(straight, turned) is meets
        assert touch(turned, straight) is meets


def test_bends_of_two_runs_that_cross_are_not_joined_for_overlapping() -> None:
    def run(name: str, height: float) -> list[Carrier | Fitting]:
        return [
            fitting(f"{name}F", (0, 0, height), FittingKind.BEND, 200.0),
            carrier(f"{name}1", (-3000, 0, height), (-100, 0, height)),
            carrier(f"{name}2", (0, 100, height), (0, 3000, height)),
        ]

    joined = found(*run("A", 0.0), *run("B", 120.0))
    assert joined == {(f"{n}{i}", f"{n}F", IN) for n in "AB" for i in (1, 2)}


def test_a_body_as_large_as_a_building_joins_nothing_and_is_told() -> None:
    assert found(T, fitting("F", (0, 0, 0), size=60_000.0)) == set()
    assert ("F", "its body is larger than 5 m, as no fitting is") in gaps_told(
        T, fitting("F", (0, 0, 0), size=60_000.0)
    )


def test_joins_by_geometry_are_told_once_for_each_way_with_their_numbers() -> None:
    branch, after = carrier("B", (1000, 25, 0), (1000, 900, 0)), carrier("C", (2005, 0, 0), (4000, 0, 0))
    more = carrier("D", (4000, 0, 0), (6000, 0, 0))
    inferred = {(p.where, p.what.split(" concluded")[0], p.elements) for p in told(T, branch, after, more)}
    assert inferred == {
        ("joins by ends that meet", "2 joins were", 3),
        ("joins by an end at another's side", "1 join was", 2),
    }


def test_order_and_identity_do_not_depend_on_the_order_of_the_model() -> None:
    items: list[Carrier | Fitting] = [T, carrier("B", (1000, 25, 0), (1000, 900, 0)), carrier("C", (2005, 0, 0), (4000, 0, 0)),
             fitting("F", (4000, 0, 0)), conduit("E", (4050, 0, 0), (6000, 0, 0))]  # fmt: skip
    assert find_joins(installation(*items)).joins == find_joins(installation(*items[::-1])).joins
