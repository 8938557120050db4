"""Random small networks give the same joins wherever they stand, however they are turned, and in whatever order they come."""

import math
from collections.abc import Callable
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import Carrier, CarrierKind, Fitting, FittingKind, Installation, Port, Section, Vec
from checker.network.joining import Joins, find_joins
from tests.installations import carrier, fitting, installation

#: Places that offsets of a few millimetres and of some centimetres turn into joins, tees, near misses and nothing.
OFFSETS = st.sampled_from([0.0, 0.0, 0.0, 4.3, 17.9, 31.7, 58.3, 206.9])
GRID = st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 1))
SECTIONS = st.sampled_from([
    (CarrierKind.TRUNKING, Section(width_mm=50.0, height_mm=50.0)), (CarrierKind.TRAY, Section(width_mm=300.0, height_mm=60.0)),
    (CarrierKind.CONDUIT, Section(outside_diameter_mm=20.0)), (CarrierKind.LADDER, Section()),
])  # fmt: skip


@st.composite
def points(draw: st.DrawFn) -> Vec:
    x, y, z = draw(GRID)
    return (1213.0 * x + draw(OFFSETS), 1427.0 * y + draw(OFFSETS), 1109.0 * z + draw(OFFSETS))


@st.composite
def networks(draw: st.DrawFn) -> Installation:
    carriers = []
    for number in range(draw(st.integers(1, 7))):
        kind, section = draw(SECTIONS)
        start, end = draw(points()), draw(points())
        made = carrier(f"K{number}", start, end, section, kind)
        # along no axis that is drawn here: of one along its own axis another is made up, which doesn't turn with the model
        carriers.append(replace(made, across=(0.36, 0.48, 0.8), corners_mm=tuple(draw(st.lists(points(), max_size=1)))))
    fittings = [
        fitting(
            f"F{number}", draw(points()), draw(st.sampled_from(list(FittingKind))), draw(st.sampled_from([90.0, 310.0]))
        )
        for number in range(draw(st.integers(0, 3)))
    ]
    keys = [item.key for item in carriers] + [item.key for item in fittings]
    ports = []
    for number in range(draw(st.integers(0, 4))):
        other = draw(st.integers(0, 3))
        links = (f"P{other}",) if draw(st.booleans()) else ()
        ports.append(Port(f"P{number}", draw(st.sampled_from(keys)), draw(st.none() | points()), links))
    return installation(*carriers, *fittings, ports=tuple(ports))


def moved(model: Installation, place: Callable[[Vec], Vec], turn: Callable[[Vec], Vec]) -> Installation:
    """The same network elsewhere: points by one function, directions by another."""

    def carrier_there(item: Carrier) -> Carrier:
        start, *corners, end = map(place, item.axis_mm)
        return replace(
            item,
            start_mm=start,
            end_mm=end,
            corners_mm=tuple(corners),
            across=turn(item.across) if item.across else None,
        )

    def fitting_there(item: Fitting) -> Fitting:
        if item.body is None or item.centre_mm is None:
            return item
        x, y, z = map(turn, item.body.axes)
        body = replace(item.body, centre_mm=place(item.body.centre_mm), axes=(x, y, z))
        return replace(item, centre_mm=place(item.centre_mm), body=body)

    return replace(
        model,
        carriers=tuple(map(carrier_there, model.carriers)),
        fittings=tuple(map(fitting_there, model.fittings)),
        ports=tuple(replace(port, point_mm=place(port.point_mm) if port.point_mm else None) for port in model.ports),
    )


def seen(joins: Joins) -> tuple[object, ...]:
    """What must not change: gaps to a tenth of a millimetre, so that those in between count as either."""
    rows = [
        (
            (join.one.element, join.other.element),
            str(join.found_by),
            None if join.gap_mm is None else round(join.gap_mm, 1),
        )
        for join in joins.joins
    ]
    return sorted(map(str, rows)), sorted((problem.where, problem.what) for problem in joins.problems)


def turned(degrees: float) -> Callable[[Vec], Vec]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda p: (c * p[0] - s * p[1], s * p[0] + c * p[1], p[2])


@settings(max_examples=150)
@given(networks(), st.sampled_from([(6e8, -6e8, 3e5), (123_456.7, 7.1, -3.3), (-0.4, 0.3, 0.0)]))
def test_moving_a_network_changes_no_join(model: Installation, by: Vec) -> None:
    there = moved(model, lambda p: (p[0] + by[0], p[1] + by[1], p[2] + by[2]), lambda d: d)
    assert seen(find_joins(there)) == seen(find_joins(model))


@settings(max_examples=150)
@given(networks(), st.floats(0.0, 360.0))
def test_turning_a_network_changes_no_join(model: Installation, degrees: float) -> None:
    turn = turned(degrees)
    assert seen(find_joins(moved(model, turn, turn))) == seen(find_joins(model))


@settings(max_examples=100)
@given(networks())
def test_the_order_of_the_model_changes_nothing(model: Installation) -> None:
    back = replace(model, carriers=model.carriers[::-1], fittings=model.fittings[::-1], ports=model.ports[::-1])
    one, other = find_joins(model), find_joins(back)
    assert one.joins == other.joins
    assert sorted(map(str, one.problems)) == sorted(map(str, other.problems))
