"""However a model lists its elements, draws its lines and cuts them: the way of a circuit is the same."""

import itertools
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Carrier, ModelCable, Vec
from checker.model.geometry import add, distance, scale, sub
from checker.network.drawn import DrawnWay, DrawnWays
from checker.network.drawn_lines import chained, length_mm
from tests.installations import carrier, circuit, installation, outlet
from tests.network.test_drawn import line

AXES = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
OF = circuit("P1", "DB", "S")
#: Steps that never come back, so that no carrier lies where another does: which axis, and how far.
ONWARD = st.lists(st.tuples(st.integers(0, 2), st.integers(700, 5000)), min_size=1, max_size=8)


def points_of(steps: Sequence[tuple[int, float]]) -> list[Vec]:
    points: list[Vec] = [(0.0, 0.0, 0.0)]
    for axis, far in steps:
        points.append(add(points[-1], scale(AXES[axis], far)))
    return points


def carriers_along(points: Sequence[Vec]) -> list[Carrier]:
    return [carrier(f"C{n}", a, b) for n, (a, b) in enumerate(itertools.pairwise(points))]


def way_of(cables: Sequence[ModelCable], carriers: Sequence[Carrier], points: Sequence[Vec]) -> DrawnWay:
    near = {f"C{n}": {f"C{n - 1}", f"C{n + 1}"} for n in range(len(carriers))}
    ends = (outlet("DB", add(points[0], (0.0, 0.0, 40.0))), outlet("S", add(points[-1], (0.0, 0.0, 40.0))))
    way = DrawnWays(installation(*carriers, *ends, model_cables=tuple(cables)), near).way(OF)
    assert way is not None
    return way


def visits(way: DrawnWay) -> list[tuple[str, int, int]]:
    return [(visit.carrier, round(visit.from_mm), round(visit.to_mm)) for visit in way.visits]


def cut(points: Sequence[Vec], at_mm: float) -> tuple[tuple[Vec, ...], tuple[Vec, ...]]:
    """A line in two."""
    left = at_mm
    for n, (a, b) in enumerate(itertools.pairwise(points)):
        length = distance(a, b)
        if left <= length or n == len(points) - 2:  # sums of lengths have their noise
            place = add(a, scale(sub(b, a), min(left / length, 1.0)))
            return (*points[: n + 1], place), (place, *points[n + 1 :])
        left -= length
    raise AssertionError(at_mm)


@given(steps=ONWARD, data=st.data())
def test_the_way_is_the_carriers_that_the_line_was_drawn_in(
    steps: list[tuple[int, float]], data: st.DataObject
) -> None:
    points = points_of(steps)
    carriers = carriers_along(points)
    offset = tuple(data.draw(st.floats(-20.0, 20.0)) for _ in AXES)
    drawn = [add(point, offset) for point in points]  # type: ignore[arg-type]
    way = way_of([line("a", *drawn)], carriers, points)
    assert [visit.carrier for visit in way.visits] == [item.key for item in carriers]
    for visit, item in zip(way.visits, carriers, strict=True):  # each as a whole, but for 60 mm where lines cut corners
        assert (visit.from_mm, visit.to_mm) == (pytest.approx(0.0, abs=60.0), pytest.approx(item.length_mm, abs=60.0))
    assert not way.has_gap


@given(steps=ONWARD, data=st.data())
def test_the_way_doesnt_depend_on_order_direction_or_cuts(steps: list[tuple[int, float]], data: st.DataObject) -> None:
    points = points_of(steps)
    carriers = carriers_along(points)
    offset = tuple(data.draw(st.floats(-20.0, 20.0)) for _ in AXES)
    drawn = tuple(add(point, offset) for point in points)  # type: ignore[arg-type]
    plain = way_of([line("a", *drawn)], carriers, points)
    pieces = [drawn]
    total = length_mm(drawn)
    # a cut within half a metre of the circuit's own equipment is taken for a cable's end
    places = data.draw(st.lists(st.floats(0.0, total), max_size=4, unique=True))
    for place in sorted(places, reverse=True):
        one, other = cut(pieces[0], place)
        ends = (points[0], points[-1])
        if min(distance(one[-1], end) for end in ends) > 600.0 and min(length_mm(one), length_mm(other)) > 100.0:
            pieces[:1] = [one, other]
    cables = [
        line(f"w{n}", *(piece[::-1] if data.draw(st.booleans()) else piece))
        for n, piece in enumerate(data.draw(st.permutations(pieces)))
    ]
    other = way_of(cables, data.draw(st.permutations(carriers)), points)
    assert visits(other) == visits(plain)
    assert other.strands == plain.strands == 1
    assert other.length_mm == pytest.approx(plain.length_mm, abs=1.0)
    assert (other.gaps, other.missed, other.problems) == (plain.gaps, plain.missed, plain.problems)


@given(
    lines=st.lists(
        st.lists(st.tuples(*[st.integers(-3, 3).map(lambda n: n * 25.0)] * 3), min_size=2, max_size=4, unique=True),
        min_size=1,
        max_size=8,
    ),
    data=st.data(),
)
def test_lines_put_together_hold_all_that_was_drawn_in_whatever_order(
    lines: list[list[Vec]], data: st.DataObject
) -> None:
    """Also where many ends lie at one place: what is drawn stays drawn, and what is put together doesn't go by the order."""
    given_lines = [tuple(points) for points in lines]
    found = chained(given_lines)
    mixed = [points[::-1] if data.draw(st.booleans()) else points for points in data.draw(st.permutations(given_lines))]
    assert chained(mixed) == found
    pieces = {frozenset(pair) for points in given_lines for pair in itertools.pairwise(points)}
    assert pieces <= {frozenset(pair) for points in found for pair in itertools.pairwise(points)}
    assert len(found) <= len(given_lines)


SPOTS = st.tuples(*[st.integers(-4, 4).map(lambda n: n * 400.0)] * 2, st.integers(0, 2).map(lambda n: n * 40.0))


@given(
    spots=st.lists(st.tuples(SPOTS, SPOTS).filter(lambda pair: pair[0] != pair[1]), min_size=1, max_size=8),
    lines=st.lists(st.lists(SPOTS, min_size=2, max_size=5), min_size=1, max_size=3),
    data=st.data(),
)
def test_among_carriers_that_cross_and_overlap_the_way_doesnt_depend_on_order_either(
    spots: list[tuple[Vec, Vec]], lines: list[list[Vec]], data: st.DataObject
) -> None:
    carriers = [carrier(f"C{n}", *pair) for n, pair in enumerate(spots)]
    cables = [line(f"w{n}", *points) for n, points in enumerate(lines)]
    model = installation(*carriers, model_cables=tuple(cables))
    plain = DrawnWays(model, {}).way(OF)
    mixed = installation(*data.draw(st.permutations(carriers)), model_cables=tuple(data.draw(st.permutations(cables))))
    assert DrawnWays(mixed, {}).way(OF) == plain
    turned = [line(f"w{n}", *(points[::-1])) for n, points in enumerate(lines)]
    assert DrawnWays(installation(*carriers, model_cables=tuple(turned)), {}).way(OF) == plain
