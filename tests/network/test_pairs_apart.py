"""What two circuits that have to keep apart have in common, and how near their ways come."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from checker.model import Carrier, Circuit, CircuitPair, Equipment, Fitting, FittingKind, Section, Service, State, Vec
from checker.network.loading import load
from checker.network.pairs_apart import circuit_pairs
from checker.network.routing import route_all
from checker.network.stretches import PIECE_MM, is_placed
from checker.network.ways_apart import WaysApart
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

SIZES = load_plugins().codes["bs-7671"].sizes


def pairs(*items: Carrier | Equipment | Circuit | Fitting) -> list[CircuitPair]:
    found = installation(*items)
    routing = route_all(found)
    return list(circuit_pairs(found, routing, load(found, routing, SIZES)))


def apart(mark: str, *others: str, ends: tuple[str, str] = ("SRC", "RACK"), **more: object) -> Circuit:
    return circuit(mark, *ends, apart_from=others, **more)  # type: ignore[arg-type]


# Two lengths of 5 m, 2 m apart from axis to axis, 50 mm wide each: 1950 mm clear.
UPPER, LOWER = carrier("UPPER", (0, 0, 0), (5000, 0, 0)), carrier("LOWER", (0, -2000, 0), (5000, -2000, 0))
ENDS = (outlet("SRC", (0, -900, 0)), outlet("RACK", (5000, -900, 0)))
TWO = (UPPER, LOWER, *ENDS)


def test_a_pair_is_asked_about_once_whichever_of_the_two_declares_it() -> None:
    for one, other in ((("PB",), ("PA",)), (("PB",), ()), ((), ("PA",))):
        (pair,) = pairs(*TWO, apart("PB", *other), apart("PA", *one))
        assert (pair.one, pair.other) == ("PA", "PB")


def test_of_three_that_keep_apart_there_are_three_pairs_and_marks_come_as_people_count() -> None:
    found = pairs(*TWO, apart("P10", "P2", "P9"), apart("P9", "P2"), apart("P2"))
    assert [(pair.one, pair.other) for pair in found] == [("P2", "P9"), ("P2", "P10"), ("P9", "P10")]


def test_there_is_no_pair_with_a_circuit_that_is_removed_or_isnt_there() -> None:
    assert pairs(*TWO, apart("PA", "PB", "PX"), apart("PB", state=State.REMOVED)) == []


def test_ways_in_carriers_of_their_own_share_nothing_and_their_clear_distance_is_between_the_outsides() -> None:
    (pair,) = pairs(*TWO, apart("PA", "PB"), apart("PB", "PA"))
    assert pair.shared == ()
    assert pair.nearest is not None
    # 2000 − 25 − 25
    assert pair.nearest.clear_mm == pytest.approx(1950.0)
    assert set(pair.about.carriers) == {"UPPER", "LOWER"}
    assert pair.found == ("PA", "PB")


@pytest.mark.parametrize(("wanted", "length"), [(1950.0, None), (1950.1, 5.0)])
def test_they_are_nearer_than_a_distance_only_if_it_is_more_than_what_is_clear(
    wanted: float, length: float | None
) -> None:
    (pair,) = pairs(*TWO, apart("PA", "PB"), apart("PB", "PA"))
    assert [item.beside_m for item in pair.nearer(wanted)] == ([] if length is None else [pytest.approx(length)])


def test_the_length_that_both_pass_of_a_shared_carrier_is_where_their_stretches_overlap() -> None:
    # PA passes 0 to 8 m of it and PB 5 to 10 m: 3 m
    long = carrier("LONG", (0, 0, 0), (10000, 0, 0))
    places = [outlet(key, (at, 0, 100)) for key, at in (("A1", 0), ("A2", 8000), ("B1", 5000), ("B2", 10000))]
    (pair,) = pairs(long, *places, apart("PA", "PB", ends=("A1", "A2")), apart("PB", ends=("B1", "B2")))
    (shared,) = pair.shared
    assert shared.length_m == pytest.approx(3.0)
    assert not shared.is_divided
    assert pair.about.carriers == ("LONG",)


def test_a_carrier_of_which_they_pass_different_stretches_is_shared_for_no_length() -> None:
    long = carrier("LONG", (0, 0, 0), (10000, 0, 0))
    places = [outlet(key, (at, 0, 100)) for key, at in (("A1", 0), ("A2", 3000), ("B1", 5000), ("B2", 10000))]
    (pair,) = pairs(long, *places, apart("PA", "PB", ends=("A1", "A2")), apart("PB", ends=("B1", "B2")))
    assert [item.length_m for item in pair.shared] == [0.0]


def test_a_shared_carrier_is_divided_where_they_lie_in_different_compartments() -> None:
    section = replace(STEEL_50, width_mm=100.0, lanes=lanes(Service.POWER, Service.POWER))
    only = carrier("ONLY", (0, 0, 0), (5000, 0, 0), section)
    one, other = apart("PA", "PB", route="ONLY/1"), apart("PB", route="ONLY/2")
    (pair,) = pairs(only, *ENDS, one, other)
    assert [item.is_divided for item in pair.shared] == [True]
    (same,) = pairs(only, *ENDS, one, apart("PB", route="ONLY/1"))
    assert [item.is_divided for item in same.shared] == [False]
    assert [item.length_m for item in same.shared] == [pytest.approx(5.0)]


def test_a_crossing_that_both_pass_in_carriers_of_their_own_is_shared() -> None:
    arms = [
        carrier("W", (0, 0, 0), (2000, 0, 0)), carrier("E", (2100, 0, 0), (4000, 0, 0)),
        carrier("S", (2050, -2000, 0), (2050, -50, 0)), carrier("N", (2050, 50, 0), (2050, 2000, 0)),
    ]  # fmt: skip
    cross = fitting("X", (2050, 0, 0), FittingKind.CROSS)
    places = [
        outlet(key, at)
        for key, at in (("A1", (0, 0, 90)), ("A2", (4000, 0, 90)), ("B1", (2050, -2000, 90)), ("B2", (2050, 2000, 90)))
    ]
    one, other = apart("PA", "PB", route="W;E", ends=("A1", "A2")), apart("PB", route="S;N", ends=("B1", "B2"))
    (pair,) = pairs(*arms, cross, *places, one, other)
    assert pair.shared == ()
    assert [(item.label, item.carriers) for item in pair.fittings] == [("X", ("E", "N", "S", "W"))]
    assert pair.about.carriers == ("E", "N", "S", "W")


def test_a_circuit_that_isnt_routed_leaves_the_pair_open_and_says_why() -> None:
    lone = outlet("FAR", (90000, 0, 0))
    (pair,) = pairs(*TWO, lone, apart("PA", "PB"), apart("PB", ends=("SRC", "FAR")))
    assert "PB" in [mark for mark, _ in pair.open_ways]
    assert pair.more_may_count


def test_a_carrier_of_which_no_size_is_known_is_named() -> None:
    upper = replace(UPPER, section=Section(source="test"))
    (pair,) = pairs(upper, LOWER, *ENDS, apart("PA", "PB"), apart("PB"))
    assert [item.key for item in pair.unplaced] == ["UPPER"]


@pytest.mark.parametrize("far", [math.nan, math.inf, 1e300])
def test_a_carrier_at_no_place_is_one_of_which_it_isnt_known_where_it_runs(far: float) -> None:
    lost = replace(UPPER, end_mm=(far, 0.0, 0.0))
    ways = WaysApart({"UPPER": lost, "LOWER": LOWER}, {"UPPER": [(0.0, 5000.0)]}, {"LOWER": [(0.0, 5000.0)]})
    assert ways.nearest() is None
    assert ways.nearer(3000.0) == ()
    assert not is_placed(lost)
    assert is_placed(UPPER)


def test_pairs_dont_hang_on_the_order_of_rows_and_carriers() -> None:
    rows = [apart("PA", "PB", route="UPPER"), apart("PB", "PA", route="LOWER")]
    told = [
        (pair.one, pair.other, pair.nearest, pair.nearer(3000.0), pair.about)
        for items in ((UPPER, LOWER, *ENDS, *rows), (*reversed(rows), *reversed(ENDS), LOWER, UPPER))
        for pair in pairs(*items)
    ]
    assert told[0] == told[1]


def _ways(one: Carrier, other: Carrier) -> WaysApart:
    whole = {item.key: [(0.0, item.length_mm or 0.0)] for item in (one, other)}
    return WaysApart({one.key: one, other.key: other}, {one.key: whole[one.key]}, {other.key: whole[other.key]})


def flat(key: str, start: Vec, end: Vec, width: float, height: float) -> Carrier:
    """A tray that lies level: its width goes sideways."""
    along = tuple((b - a) / math.dist(start, end) for a, b in zip(start, end, strict=True))
    across = (-along[1], along[0], 0.0)
    section = Section(width_mm=width, height_mm=height, source="test")
    return replace(carrier(key, start, end, section), across=across)


@pytest.mark.parametrize(
    ("start", "end", "clear"),
    [
        ((0.0, 900.0, 0.0), (5000.0, 900.0, 0.0), 900.0 - 150.0 - 150.0),  # beside each other: half the widths
        ((0.0, 0.0, 500.0), (5000.0, 0.0, 500.0), 500.0 - 30.0 - 30.0),  # above each other: half the heights
        ((5200.0, 0.0, 0.0), (9000.0, 0.0, 0.0), 200.0),  # in line, 200 mm from end to end
        ((2000.0, -3000.0, 400.0), (2000.0, 3000.0, 400.0), 400.0 - 30.0 - 30.0),  # one crosses above the other
        ((0.0, 600.0, 460.0), (5000.0, 600.0, 460.0), 500.0),  # gaps of 300 and 400 mm: 5 : 4 : 3
        ((0.0, 100.0, 10.0), (5000.0, 100.0, 10.0), 0.0),  # they overlap
    ],
)
def test_the_clear_distance_of_level_trays_is_what_a_ruler_would_show(start: Vec, end: Vec, clear: float) -> None:
    found = _ways(flat("A", (0.0, 0.0, 0.0), (5000.0, 0.0, 0.0), 300, 60), flat("B", start, end, 300, 60)).nearest()
    assert found is not None
    assert found.clear_mm <= clear + 1e-6
    # a diagonal gap may be told as less, by what corners reach towards each other; never by more than a sixth here
    assert found.clear_mm == pytest.approx(clear, rel=1e-6 if clear != 500.0 else 1 / 6, abs=1e-6)


def test_where_one_crosses_below_the_other_only_the_crossing_is_near() -> None:
    # clear 340 mm where it crosses; nearer than 400 mm while the sideways gap stays below √(400² − 340²) = 210.7 mm beyond both half widths
    one = flat("A", (0.0, 0.0, 0.0), (5000.0, 0.0, 0.0), 300, 60)
    other = flat("B", (2000.0, -3000.0, 400.0), (2000.0, 3000.0, 400.0), 300, 60)
    (near,) = _ways(one, other).nearer(400.0)
    length = 2 * (150.0 + math.sqrt(400.0**2 - 340.0**2)) / 1000.0
    assert near.clear_mm == pytest.approx(340.0)
    assert length <= near.beside_m <= length + 2 * PIECE_MM / 1000.0


POINTS = st.tuples(*[st.floats(-3000.0, 3000.0).map(lambda value: round(value, 1)) for _ in range(3)])


def _corners(item: Carrier) -> NDArray[np.float64]:
    """Points all through a level tray, 11 along, 5 across and 3 high."""
    start, end, across = (np.array(point, dtype=float) for point in (item.start_mm, item.end_mm, item.across))
    along = (end - start) / np.linalg.norm(end - start)
    up = np.cross(along, across)
    return np.array([
        start + (end - start) * at + across * 300.0 * side + up * 60.0 * high
        for at in np.linspace(0, 1, 11) for side in np.linspace(-0.5, 0.5, 5) for high in (-0.5, 0.0, 0.5)
    ])  # fmt: skip


@settings(max_examples=50)
@given(POINTS, POINTS, POINTS, POINTS)
def test_the_clear_distance_is_never_more_than_between_any_two_points_of_the_carriers(
    a: Vec, b: Vec, c: Vec, d: Vec
) -> None:
    if math.dist(a[:2], b[:2]) < 100.0 or math.dist(c[:2], d[:2]) < 100.0:
        return
    one, other = (_tray(key, *ends) for key, ends in (("A", (a, b)), ("B", (c, d))))
    ways = _ways(one, other)
    nearest = ways.nearest()
    assert nearest is not None
    points, others = _corners(one), _corners(other)
    least = np.linalg.norm(points[:, None] - others[None], axis=2).min()
    assert nearest.clear_mm <= least + 1e-3
    # and it is no invention either: carriers reach from their axes no farther than half their diagonal
    axes = np.linalg.norm(np.linspace(a, b, 21)[:, None] - np.linspace(c, d, 21)[None], axis=2).min()
    slack = max(math.dist(a, b), math.dist(c, d)) / 20  # between points of axes that are looked at here
    assert nearest.clear_mm >= axes - 2 * math.hypot(150.0, 30.0) - slack
    # so is every length: near where points are, and not where even the sections' corners can't be
    assert ways.nearer(least + 0.01)
    assert ways.nearer(max(axes - 2 * math.hypot(150.0, 30.0) - slack, 0.0)) == ()


def _tray(key: str, start: Vec, end: Vec) -> Carrier:
    flat_length = math.dist(start[:2], end[:2])
    across = (-(end[1] - start[1]) / flat_length, (end[0] - start[0]) / flat_length, 0.0)
    return replace(carrier(key, start, end, Section(width_mm=300.0, height_mm=60.0, source="test")), across=across)
