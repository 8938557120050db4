"""What holds of every packing, of whatever is asked."""

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.section.overlap import overlap_um
from checker.section.packing import Effort, Found, pack
from checker.section.shapes import Body, Box, Channel, Inside, Placed, Polygon, Round, circle, extent_mm

SIZES = st.floats(1.0, 30.0)
ROUND_BODIES = SIZES.map(circle)
BODIES = st.one_of(ROUND_BODIES, st.builds(Body, SIZES, SIZES))
L_SHAPE = Polygon(((0, 0), (70, 0), (70, 30), (30, 30), (30, 60), (0, 60)))
TRAPEZIUM = Polygon(((0, 0), (80, 0), (60, 40), (10, 50)))
INSIDES = st.one_of(
    st.builds(Round, st.floats(5.0, 100.0)),
    st.builds(Box, st.floats(5.0, 100.0), st.floats(5.0, 100.0)),
    st.builds(Channel, st.floats(5.0, 100.0), st.floats(5.0, 100.0)),
    st.sampled_from([L_SHAPE, TRAPEZIUM]),
)
SETTINGS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SETTINGS
@given(INSIDES, st.lists(BODIES, min_size=1, max_size=12))
def test_whatever_is_found_by_dropping_overlaps_by_less_than_a_micrometre(inside: Inside, bodies: list[Body]) -> None:
    packing = pack(inside, bodies, effort=Effort.QUICK)
    assert (packing.outcome is Found.FOUND) == bool(packing.placed)
    if packing.placed:
        assert {place.body for place in packing.placed} == set(range(len(bodies)))
        assert overlap_um(inside, bodies, packing.placed) < 1.0


@settings(SETTINGS, max_examples=12)
@given(INSIDES, st.lists(BODIES, min_size=2, max_size=5))
def test_whatever_is_found_by_relaxing_overlaps_by_less_than_a_micrometre(inside: Inside, bodies: list[Body]) -> None:
    packing = pack(inside, bodies)
    if packing.placed:
        assert overlap_um(inside, bodies, packing.placed) < 1.0
    assert (packing.outcome is Found.IMPOSSIBLE) == bool(packing.proof)


@SETTINGS
@given(
    INSIDES,
    st.lists(st.tuples(BODIES, st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.booleans()), min_size=1, max_size=25),
)
def test_what_lies_somewhere_is_never_called_impossible(
    inside: Inside, wanted: list[tuple[Body, float, float, bool]]
) -> None:
    # bodies are put anywhere, and kept where they overlap nothing: so they go in
    width, height = extent_mm(inside)
    bodies: list[Body] = []
    placed: list[Placed] = []
    for body, across, up, turned in wanted:
        place = Placed(len(bodies), across * width, up * height, turned)
        if overlap_um(inside, [*bodies, body], [*placed, place]) < 1.0:
            bodies.append(body)
            placed.append(place)
    if bodies:
        assert pack(inside, bodies, effort=Effort.QUICK).outcome is not Found.IMPOSSIBLE


@SETTINGS
@given(st.integers(1, 6), st.integers(1, 6), SIZES)
def test_full_lattices_are_never_called_impossible(columns: int, rows: int, size: float) -> None:
    bodies = [circle(size)] * (columns * rows)
    assert pack(Box(columns * size, rows * size), bodies, effort=Effort.QUICK).outcome is Found.FOUND
    # staggered: rows half a body on, and √3 / 2 above each other
    staggered = Box((columns + 0.5) * size, size * (1.0 + (rows - 1) * math.sqrt(0.75)))
    assert pack(staggered, bodies, effort=Effort.QUICK).outcome is not Found.IMPOSSIBLE


@SETTINGS
@given(st.lists(ROUND_BODIES, min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_the_order_of_the_bodies_does_not_matter(bodies: list[Body], chance) -> None:  # type: ignore[no-untyped-def]
    shuffled = list(bodies)
    chance.shuffle(shuffled)
    one, other = (pack(Box(50, 40), row, effort=Effort.QUICK) for row in (bodies, shuffled))
    assert (one.outcome, one.tier) == (other.outcome, other.tier)
