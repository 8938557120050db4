"""Where two parts of a network nearly meet, and what closes the way between them."""

import itertools
import math
import random
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import Carrier, Vec
from checker.model.geometry import add, distance, nearest_on_segment, scale, sub
from checker.network import breaks, lines
from checker.network.breaks import Break, Breaks, Nearest, blocked_by, closest_pair, in_words
from tests.installations import carrier


def bent(key: str, *points: Vec) -> Carrier:
    return replace(carrier(key, points[0], points[-1]), corners_mm=tuple(points[1:-1]))


def keys(found: Nearest | None) -> tuple[str, str]:
    assert found is not None
    return found.likely.one, found.likely.other


# The least distance of two lines another way: the distance from a line to a moving point of the other is convex along that, so halving
# the side on which it can't be leads to the least.
def slowly_apart(one: tuple[Vec, Vec], other: tuple[Vec, Vec]) -> float:
    def off(share: float) -> float:
        point = add(one[0], scale(sub(one[1], one[0]), share))
        return nearest_on_segment(point, *other)[1]

    low, high = 0.0, 1.0
    for _ in range(60):
        a, b = low + (high - low) / 3.0, high - (high - low) / 3.0
        low, high = (low, b) if off(a) <= off(b) else (a, high)
    return min(off(0.0), off(1.0), off((low + high) / 2.0))


def slowly_least(one: Sequence[Carrier], other: Sequence[Carrier]) -> float:
    return min(
        slowly_apart(a, b)
        for x, y in itertools.product(one, other)
        for a, b in itertools.product(itertools.pairwise(x.axis_mm), itertools.pairwise(y.axis_mm))
    )


# few different numbers, so that points are equal, lines parallel, crossing or without length, often
coordinates = st.sampled_from([0.0, 100.0, 250.0, 1000.0, 3000.0, -40.5])
points = st.tuples(coordinates, coordinates, coordinates)
anywhere = st.tuples(*[st.floats(-1e5, 1e5)] * 3)
axes = st.lists(points | anywhere, min_size=2, max_size=3)
some_axes = st.lists(axes, min_size=1, max_size=3)


def carriers_of(name: str, those: list[list[Vec]]) -> list[Carrier]:
    return [bent(f"{name}{n}", *axis) for n, axis in enumerate(those)]


@pytest.mark.parametrize("held", [1, lines.MOST_PAIRS_HELD])
@settings(max_examples=60, deadline=None)
@given(one=some_axes, other=some_axes)
def test_the_least_gap_is_that_of_comparing_everything(held: int, one: list[list[Vec]], other: list[list[Vec]]) -> None:
    a, b = carriers_of("A", one), carriers_of("B", other)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lines, "MOST_PAIRS_HELD", held)  # 1: everything is sifted by pieces
        found = closest_pair(a, b)
    assert found is not None
    least = found.least
    assert least.gap_mm == pytest.approx(slowly_least(a, b), abs=2e-3)
    assert distance(least.one_mm, least.other_mm) == pytest.approx(least.gap_mm, abs=1e-6)
    for key, point, part in ((least.one, least.one_mm, a), (least.other, least.other_mm, b)):
        own = next(item for item in part if item.key == key)
        assert min(nearest_on_segment(point, *line)[1] for line in itertools.pairwise(own.axis_mm)) < 1e-6
    assert found.likely.gap_mm <= max(least.gap_mm, 1.5 * least.gap_mm + 50.0)
    assert found.likely.gap_mm >= least.gap_mm - 2e-3


def many(name: str, number: int, seed: int, height_mm: float = 0.0) -> list[Carrier]:
    """Lengths of 3 m and of 60 m along x and y, in a hall of 100 m."""
    chance = random.Random(seed)  # noqa: S311 - not for secrets
    found = []
    for n in range(number):
        start = (chance.uniform(0, 1e5), chance.uniform(0, 1e5), height_mm + chance.uniform(0, 5e3))
        length, way = chance.choice([3e3, 6e4]), chance.choice([(1.0, 0.0, 0.0), (0.0, 1.0, 0.01)])
        found.append(carrier(f"{name}{n:04}", start, add(start, scale(way, length))))
    return found


@pytest.mark.parametrize("height_mm", [0.0, 7e3, 1e6])
def test_sifting_finds_what_comparing_everything_finds(height_mm: float, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = many("A", 400, 1), many("B", 400, 2, height_mm)
    plainly = closest_pair(one, other)  # 160,000 pairs: all are compared
    monkeypatch.setattr(lines, "MOST_PAIRS_HELD", 500)
    assert closest_pair(one, other) == plainly
    assert plainly is not None


def test_the_order_of_carriers_changes_nothing() -> None:
    one, other = many("A", 60, 3), many("B", 60, 4)
    shuffled = [random.Random(5).sample(part, len(part)) for part in (one, other)]  # noqa: S311
    assert closest_pair(*shuffled) == closest_pair(one, other)
    back = closest_pair(other, one)
    forth = closest_pair(one, other)
    assert back is not None
    assert forth is not None
    assert (back.likely.other, back.likely.one) == (forth.likely.one, forth.likely.other)


@pytest.mark.parametrize(
    ("one", "other", "gap_mm"),
    [
        # crossing at right angles, 300 mm above each other
        (((0, 0, 0), (2000, 0, 0)), ((1000, -500, 300), (1000, 500, 300)), 300.0),
        # in one line, 140 mm between the ends
        (((0, 0, 0), (2000, 0, 0)), ((2140, 0, 0), (4000, 0, 0)), 140.0),
        # parallel, 50 mm aside for half their length
        (((0, 0, 0), (2000, 0, 0)), ((1000, 50, 0), (3000, 50, 0)), 50.0),
        # two points, 3-4-5
        (((0, 0, 0), (0, 0, 0)), ((300, 400, 0), (300, 400, 0)), 500.0),
        # a point and the middle of a line
        (((0, 0, 0), (0, 0, 0)), ((-100, 70, 0), (100, 70, 0)), 70.0),
        # they cut each other
        (((0, 0, 0), (2000, 2000, 0)), ((0, 2000, 0), (2000, 0, 0)), 0.0),
    ],
)
def test_gaps_worked_by_hand(one: tuple[Vec, Vec], other: tuple[Vec, Vec], gap_mm: float) -> None:
    found = closest_pair([carrier("A", *one)], [carrier("B", *other)])
    assert found is not None
    assert found.least.gap_mm == pytest.approx(gap_mm, abs=1e-6)


def test_of_equally_near_pairs_the_first_keys_count() -> None:
    side = [carrier(f"A{n}", (0, 1000.0 * n, 0), (500, 1000.0 * n, 0)) for n in range(3)]
    facing = [carrier(f"B{n}", (600, 1000.0 * n, 0), (900, 1000.0 * n, 0)) for n in range(3)]
    assert keys(closest_pair(side[::-1], facing[::-1])) == ("A0", "B0")


def test_without_a_known_axis_there_is_no_pair() -> None:
    known, unknown = carrier("A", (0, 0, 0), (1, 0, 0)), replace(carrier("B", (0, 0, 0), (1, 0, 0)), start_mm=None)
    nowhere = carrier("C", (0, 0, math.nan), (1, 0, math.inf))
    assert closest_pair([known], [unknown]) is None
    assert closest_pair([nowhere], [known]) is None
    assert closest_pair([], [known]) is None
    found = closest_pair([known], [unknown, nowhere, carrier("D", (11, 0, 0), (20, 0, 0))])
    assert keys(found) == ("A", "D")


# two trays that cross at 300 mm, far from their ends: an end counts up to 1.5 · 300 + 50 = 500 mm
CROSSING = (carrier("A1", (0, 0, 0), (8000, 0, 0)), carrier("B1", (4000, -4000, 300), (4000, 4000, 300)))


@pytest.mark.parametrize(("gap_mm", "likely"), [(400.0, ("A2", "B2")), (499.0, ("A2", "B2")), (501.0, ("A1", "B1"))])
def test_an_end_that_faces_an_end_is_likelier_than_trays_that_cross(gap_mm: float, likely: tuple[str, str]) -> None:
    one = [CROSSING[0], carrier("A2", (0, 9000, 0), (2000, 9000, 0))]
    other = [CROSSING[1], carrier("B2", (2000 + gap_mm, 9000, 0), (6000, 9000, 0))]
    found = closest_pair(one, other)
    assert found is not None
    assert keys(found) == likely
    assert (found.least.one, found.least.other, found.least.gap_mm) == ("A1", "B1", pytest.approx(300.0))


def test_an_end_that_faces_a_side_is_likelier_too_whichever_part_it_is_of() -> None:
    main = carrier("A2", (0, 9000, 0), (8000, 9000, 0))
    branch = carrier("B2", (3000, 9350, 0), (3000, 12000, 0))  # 350 mm from the side of A2
    assert keys(closest_pair([CROSSING[0], main], [CROSSING[1], branch])) == ("A2", "B2")
    assert keys(closest_pair([CROSSING[1], branch], [CROSSING[0], main])) == ("B2", "A2")


def test_an_end_that_is_joined_to_something_is_no_open_end() -> None:
    one = [CROSSING[0], carrier("A2", (0, 9000, 0), (2000, 9000, 0))]
    other = [CROSSING[1], carrier("B2", (2400, 9000, 0), (6000, 9000, 0))]
    assert keys(closest_pair(one, other, {("A2", "end")})) == ("A2", "B2")  # B2's is open still
    assert keys(closest_pair(one, other, {("A2", "end"), ("B2", "start")})) == ("A1", "B1")


def bank(aside_mm: float, key: str, start: float, end: float) -> Carrier:
    return carrier(key, (start, aside_mm, 0), (end, aside_mm, 0))


def test_ends_side_by_side_in_a_bank_are_not_likelier_than_an_end_ahead() -> None:
    # A1 and B1 lie 300 mm apart and end side by side; 400 mm ahead of A2 is the end of B2
    one = [bank(0, "A1", 0, 8000), bank(9000, "A2", 0, 2000)]
    other = [bank(300, "B1", 0, 8000), bank(9000, "B2", 2400, 6000)]
    found = closest_pair(one, other)
    assert found is not None
    assert keys(found) == ("A2", "B2")
    assert (found.least.one, found.least.other) == ("A1", "B1")
    assert keys(closest_pair(one[:1], other[:1])) == ("A1", "B1")  # nothing likelier


def test_ends_that_overlap_and_point_against_each_other_are_likely() -> None:
    # the way changes its height by 320 mm: A2 ends at 2000, B2 begins at 1950; beside them two cross at 300
    one = [CROSSING[0], carrier("A2", (0, 9000, 0), (2000, 9000, 0))]
    other = [CROSSING[1], carrier("B2", (1950, 9000, 320), (6000, 9000, 320))]
    assert keys(closest_pair(one, other)) == ("A2", "B2")


def test_parts_more_than_3_m_apart_lack_more_than_a_fitting() -> None:
    # crossing at 3001 mm; the end that faces an end at 3100 mm isn't looked for
    one = [CROSSING[0], carrier("A2", (0, 90000, 0), (2000, 90000, 0))]
    other = [carrier("B1", (4000, -4000, 3001), (4000, 4000, 3001)), bank(90000, "B2", 5100, 9000)]
    assert keys(closest_pair(one, other)) == ("A1", "B1")


def chain(name: str, number: int, start: Vec, storey: str = "L0") -> list[Carrier]:
    """Lengths of 1 m in a row along x."""
    return [
        carrier(f"{name}{n}", add(start, (1000.0 * n, 0, 0)), add(start, (1000.0 * n + 1000, 0, 0)), storey=storey)
        for n in range(1, number + 1)
    ]


# A1 to A3 end at x 4000, B1 to B2 begin at x 4140; C1 lies 5 m aside of both
A, B, C = chain("A", 3, (0, 0, 2700)), chain("B", 2, (3140, 0, 2700)), chain("C", 1, (0, 5000, 2700))
ALL = {item.key: item for item in (*A, *B, *C)}
PARTS = {7: ["A3", "A1", "A2"], 2: ["B2", "B1"], 5: ["C1"]}


def noted(parts: dict[int, list[str]], *pairs: tuple[str, int, int]) -> Breaks:
    found = Breaks(ALL, parts)
    for mark, one, other in pairs:
        found.add(mark, one, other)
    return found


def test_a_break_is_told_once_with_its_circuits_in_natural_order_and_the_commonest_first() -> None:
    rows = noted(PARTS, ("P11", 5, 7), ("P9", 7, 2), ("P10", 2, 7), ("P9", 2, 7)).rows()
    assert [(row.one, row.other, row.circuits) for row in rows] == [
        ("A3", "B1", ("P9", "P10")),
        ("A1", "C1", ("P11",)),
    ]
    assert (rows[0].carriers, rows[0].unplaced, rows[0].least) == ((3, 2), 0, None)
    assert rows[0].gap_mm == pytest.approx(140.0)


def test_the_numbers_of_parts_and_the_order_of_circuits_change_nothing() -> None:
    other_numbers = {1: ["C1"], 2: ["A1", "A2", "A3"], 3: ["B1", "B2"]}
    again = noted(other_numbers, ("P10", 3, 2), ("P9", 3, 2), ("P11", 2, 1))
    assert again.rows() == noted(PARTS, ("P11", 5, 7), ("P9", 7, 2), ("P10", 2, 7)).rows()


def test_parts_of_several_numbers_with_the_same_carriers_are_one() -> None:
    twice = {**PARTS, 12: ["B1", "B2"]}
    (row,) = noted(twice, ("P1", 7, 2), ("P2", 12, 7)).rows()
    assert row.circuits == ("P1", "P2")


@pytest.mark.parametrize("other", [7, 8, 9])
def test_what_is_not_two_parts_is_refused(other: int) -> None:
    with pytest.raises(ValueError, match="aren't two"):
        noted({**PARTS, 8: [], 9: ["A1", "C1"]}, ("P1", 7, other))


def test_only_so_many_pairs_are_looked_at_and_the_rest_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    everything = noted(PARTS, ("P9", 7, 2), ("P10", 2, 7), ("P12", 5, 7), ("P11", 2, 5), ("P9", 2, 5), ("P8", 2, 5))
    assert everything.not_looked_at() == []
    monkeypatch.setattr(breaks, "MOST_PAIRS", 1)
    assert [row.circuits for row in everything.rows()] == [("P8", "P9", "P11")]
    (problem,) = everything.not_looked_at()
    assert (problem.where, problem.elements) == ("circuits P9, P10, P12", 3)
    assert "between 2 further pairs" in problem.what


def test_a_break_in_words() -> None:
    (row,) = noted(PARTS, ("P9", 7, 2)).rows()
    # half-way between 4000 and 4140 at a height of 2700
    assert in_words(row, ALL) == (
        "the network is in two parts there, of 3 and 2 carriers; they come nearest at A3 and B1, 140 mm apart "
        "(at x 4.07, y 0.00, z 2.70 m, storey L0): a fitting may be missing"
    )


def words(one: list[Carrier], other: list[Carrier]) -> str:
    carriers = {item.key: item for item in (*one, *other)}
    found = Breaks(carriers, {0: [item.key for item in one], 1: [item.key for item in other]})
    found.add("P1", 0, 1)
    (row,) = found.rows()
    assert isinstance(row, Break)
    return in_words(row, carriers)


def test_storeys_are_named_where_they_differ_or_only_one_is_known() -> None:
    above = [carrier("B1", (2000, 0, 400), (2000, 0, 3000), storey="L1")]
    below = [carrier("A1", (0, 0, 0), (2000, 0, 0))]
    assert "z 0.20 m, A1 on storey L0, B1 on storey L1)" in words(below, above)
    assert "z 0.20 m, B1 on storey L1)" in words([replace(below[0], place=replace(below[0].place, storey=""))], above)


def test_what_is_nearer_but_only_passes_is_told_beside_the_likelier_place() -> None:
    told = words([CROSSING[0], bank(9000, "A2", 0, 2000)], [CROSSING[1], bank(9000, "B2", 2400, 6000)])
    assert "an end stands open at A2 and B2, 400 mm apart (at x 2.20, y 9.00, z 0.00 m" in told
    assert told.endswith("A1 and B1 are nearer, 300 mm apart, but seem only to pass each other")


def test_parts_far_apart_lack_more_than_a_fitting_in_words() -> None:
    assert "12.00 m apart" in words([bank(0, "A1", 0, 2000)], [bank(0, "B1", 14000, 15000)])
    assert words([bank(0, "A1", 0, 2000)], [bank(0, "B1", 5001, 6000)]).endswith(
        "more than a fitting is missing between them"
    )


def test_carriers_without_a_known_axis_are_told() -> None:
    lost = replace(bank(0, "B2", 0, 1), end_mm=None)
    known = [bank(0, "A1", 0, 2000)]
    assert words(known, [lost, bank(0, "B1", 2100, 3000)]).endswith("missing; the place of 1 of them isn't known")
    assert words(known, [lost]) == (
        "the network is in two parts there, of 1 and 1 carriers, with A1 and B2; the place of 1 of them isn't known, "
        "so how far apart they are can't be told"
    )


def meeting(*pairs: str) -> dict[str, set[str]]:
    """Carriers of one letter each: ``ab`` means that a and b meet."""
    near: dict[str, set[str]] = {}
    for one, other in pairs:
        near.setdefault(one, set()).add(other)
        near.setdefault(other, set()).add(one)
    return near


@pytest.mark.parametrize(
    ("pairs", "closed", "passed"),
    [
        (("ax", "xb"), "x", ("x",)),
        (("ax", "xy", "yb"), "xy", ("x", "y")),
        # over x and y, or over z alone, which is told
        (("ax", "xy", "yb", "az", "zb"), "xyz", ("z",)),
        # m is open, of a third part: the way over it passes fewer closed ones than x, y and z
        (("ax", "xy", "yz", "zb", "av", "vm", "mn", "nw", "wb"), "xyzvw", ("v", "w")),
        # they don't meet at all
        (("ax", "yb"), "xy", ()),
    ],
)
def test_the_fewest_closed_carriers_between_two_parts(
    pairs: tuple[str, ...], closed: str, passed: tuple[str, ...]
) -> None:
    assert blocked_by(meeting(*pairs), set(closed), {"a"}, {"b"}) == passed
    assert blocked_by(meeting(*pairs[::-1]), set(closed), {"a"}, {"b"}) == passed
    assert blocked_by(meeting(*pairs), set(closed), {"b"}, {"a"}) == passed[::-1]


def test_of_ways_over_as_few_closed_carriers_one_is_always_told() -> None:
    pairs = ("ax", "xb", "ay", "yb")
    assert blocked_by(meeting(*pairs), {"x", "y"}, {"a"}, {"b"}) == ("x",)
    assert blocked_by(meeting(*pairs[::-1]), {"y", "x"}, {"a"}, {"b"}) == ("x",)
