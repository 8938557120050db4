"""Straights and turns of bent conduits, told from the chords that reading keeps of their arcs."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Carrier, CarrierKind, Place, Section, Vec
from checker.model.geometry import add, angle_deg, scale
from checker.model.turns import leaving, stretches
from checker.read.chords import Curve, chained, circular, straight

X, Y = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


def conduit(curve: Curve | None) -> Carrier:
    assert curve is not None
    points = curve.points
    return Carrier(
        "C", Place("C", "test"), CarrierKind.CONDUIT, Section(), start_mm=points[0], end_mm=points[-1],
        corners_mm=points[1:-1], length_mm=curve.length, turn_deg=curve.turn_deg,
    )  # fmt: skip


def arc(radius: float, start: float, end: float, centre: Vec = (0.0, 0.0, 0.0)) -> Curve:
    return circular(centre, X, Y, radius, math.radians(start), math.radians(end))


def bend(radius: float, turn: float, before: float, after: float) -> Curve | None:
    """A straight, an arc that touches it, and a straight on from there; 0: none."""
    middle = arc(radius, -90.0, turn - 90.0)
    on = add(middle.end, scale(middle.ways[1], after))
    parts = [
        straight([(-before, -radius, 0.0), (0.0, -radius, 0.0)]) if before else None,
        middle,
        straight([middle.end, on]) if after else None,
    ]
    return chained([part for part in parts if part is not None])


@given(
    radius=st.floats(20.0, 2000.0),
    turn=st.floats(16.0, 180.0),
    before=st.one_of(st.just(0.0), st.floats(50.0, 5000.0)),
    after=st.one_of(st.just(0.0), st.floats(50.0, 5000.0)),
)
def test_a_bend_has_its_radius_and_its_angle_whatever_goes_before_and_after(
    radius: float, turn: float, before: float, after: float
) -> None:
    found = stretches(conduit(bend(radius, turn, before, after)))
    assert found is not None
    bends = [item for item in found if item.turn_deg]
    assert [item.turn_deg for item in bends] == [pytest.approx(turn)]
    assert bends[0].radius_mm == pytest.approx(radius)
    assert sum(item.length_mm for item in found) == pytest.approx(before + radius * math.radians(turn) + after)


def test_a_corner_between_straights_has_no_radius() -> None:
    found = stretches(conduit(straight([(0, 0, 0), (2000, 0, 0), (2000, 0, 1500)])))
    assert found is not None
    assert [(item.length_mm, item.rise_mm, item.turn_deg, item.radius_mm) for item in found] == [
        (2000.0, 0.0, 0.0, None),
        (0.0, 0.0, pytest.approx(90.0), None),
        (1500.0, 1500.0, 0.0, None),
    ]


def test_a_slight_kink_between_equal_lengths_is_no_arc() -> None:
    # two lengths of 1 m, 10° between them: as an arc they were 2 · r · 10° = 2002.5 mm long, the axis has 2000
    way = (1000.0 * math.cos(math.radians(10)), 1000.0 * math.sin(math.radians(10)), 0.0)
    found = stretches(conduit(straight([(0, 0, 0), (1000, 0, 0), add((1000.0, 0.0, 0.0), way)])))
    assert found is not None
    assert [item.radius_mm for item in found if item.turn_deg] == [None]


def test_an_arc_that_was_drawn_as_a_line_of_points_is_one() -> None:
    points = [(300.0 * math.cos(math.radians(a)), 300.0 * math.sin(math.radians(a)), 0.0) for a in range(0, 91, 10)]
    found = stretches(conduit(straight(points)))
    assert found is not None
    (only,) = found
    assert only.radius_mm == pytest.approx(300.0)
    assert only.turn_deg == pytest.approx(90.0)


def test_two_arcs_turned_against_each_other_are_two_bends() -> None:
    run_in = straight([(-1000.0, -100.0, 0.0), (0.0, -100.0, 0.0)])
    out = straight([(200.0, 100.0, 0.0), (1000.0, 100.0, 0.0)])
    assert run_in is not None
    assert out is not None
    both = chained([run_in, arc(100.0, -90.0, 0.0), arc(100.0, 180.0, 90.0, (200.0, 0.0, 0.0)), out])
    found = stretches(conduit(both))
    assert found is not None
    assert [(item.turn_deg, item.radius_mm) for item in found if item.turn_deg] == [
        (pytest.approx(90.0), pytest.approx(100.0)),
        (pytest.approx(90.0), pytest.approx(100.0)),
    ]


def test_nothing_is_known_of_an_axis_that_is_not_known_or_turns_otherwise_than_is_said() -> None:
    assert stretches(Carrier("C", Place("C", "test"), CarrierKind.CONDUIT, Section())) is None
    two_points = conduit(straight([(0, 0, 0), (1000, 1000, 0)]))
    assert stretches(Carrier(**{**_fields(two_points), "turn_deg": None})) is None
    # ends 1414 mm apart, 2 m long and turned by 90°: an arc of 2000 / (π/2) = 1273 mm had its ends 1800 mm apart
    assert stretches(Carrier(**{**_fields(two_points), "turn_deg": 90.0, "length_mm": 2000.0})) is None


def _fields(carrier: Carrier) -> dict[str, object]:
    return {name: getattr(carrier, name) for name in Carrier.__dataclass_fields__}


@pytest.mark.parametrize(
    ("turn", "at_start", "way"),
    [(90.0, True, (-1.0, 0.0, 0.0)), (90.0, False, (0.0, 1.0, 0.0)), (45.0, False, (1.0, 1.0, 0.0))],
)
def test_an_arc_leaves_its_end_along_its_tangent_not_along_its_last_chord(
    turn: float,
    at_start: bool,  # noqa: FBT001
    way: Vec,
) -> None:
    found = leaving(conduit(bend(100.0, turn, 0.0, 0.0)), at_start=at_start)
    assert found is not None
    assert angle_deg(found, way) == pytest.approx(0.0, abs=1e-4)


def test_a_straight_that_turns_by_next_to_nothing_keeps_its_length() -> None:
    # 40 m that turn by a tenth of a degree: the length is pulled, the turn is a corner
    line = conduit(straight([(0, 0, 0), (40000, 0, 0)]))
    found = stretches(Carrier(**{**_fields(line), "turn_deg": 0.1}))
    assert found is not None
    assert [(item.length_mm, item.turn_deg) for item in found] == [(40000.0, 0.0), (0.0, 0.1)]
