"""Whether a carrier passes a wall or slab, by where its axis goes in and out.

The wall of most tests stands along X from 0 to 10 m, is 200 mm thick (y from -100 to 100) and 3 m high.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Barrier, Carrier, CarrierKind, LoadedCompartment, Place, Section, Vec
from checker.model.geometry import add, cross, scale
from checker.model.prisms import Cut, Outline, Prism
from checker.network.penetrations import around, doubt_of, penetrations
from tests.installations import carrier

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
TRAY_300 = Section(width_mm=300.0, height_mm=60.0, source="test")


def rectangle(x: float, y: float, to_x: float, to_y: float) -> Outline:
    return ((x, y), (to_x, y), (to_x, to_y), (x, to_y))


def upright(outline: Outline, depth: float, foot: float = 0.0, *cuts: Cut) -> Prism:
    return Prism((0.0, 0.0, foot), X, Y, Z, depth, outline, cuts)


WALL = upright(rectangle(0, -100, 10_000, 100), 3000)
#: 8 m by 6 m less a quarter of 4 m by 3 m, 250 thick, its top at 0.
L_SLAB = upright(((0, 0), (8000, 0), (8000, 3000), (4000, 3000), (4000, 6000), (0, 6000)), 250, -250)


def barrier(*prisms: Prism, key: str = "W") -> Barrier:
    return Barrier(key, Place(key, "arch.ifc", tag=key), "wall", "EI 60", prisms)


def along(*points: Vec, section: Section = TRAY_300) -> Carrier:
    found = carrier("T", points[0], points[-1], section, CarrierKind.TRAY)
    return replace(found, corners_mm=points[1:-1], across=None)


def asked(prisms: Prism | tuple[Prism, ...], *points: Vec, section: Section = TRAY_300) -> str | None:
    """None: it doesn't pass; empty: it does; else why that isn't certain."""
    return doubt_of(along(*points, section=section), barrier(*(prisms if isinstance(prisms, tuple) else (prisms,))))


def test_a_tray_across_a_wall_passes_it_either_way() -> None:
    assert asked(WALL, (5000, -2000, 1500), (5000, 2000, 1500)) == ""
    assert asked(WALL, (5000, 2000, 1500), (5000, -2000, 1500)) == ""


def test_a_tray_that_crosses_at_a_low_angle_passes_it() -> None:
    """10° to the wall: 200 / sin 10° = 1152 mm of it are inside."""
    dx, dy = 3000 * math.cos(math.radians(10)), 3000 * math.sin(math.radians(10))
    assert asked(WALL, (5000 - dx, -dy, 1500), (5000 + dx, dy, 1500)) == ""


@pytest.mark.parametrize("off", [500.0, 240.0])
def test_a_tray_fixed_along_a_wall_does_not_pass_it(off: float) -> None:
    """At 240 its edge, 150 from its axis, is 10 mm in the wall."""
    assert asked(WALL, (-500, off, 2500), (12_000, off, 2500)) is None


def test_what_runs_inside_a_wall_from_end_to_end_or_from_top_to_bottom_does_not_pass_it() -> None:
    assert asked(WALL, (-500, 0, 1500), (10_500, 0, 1500)) is None
    assert asked(WALL, (5000, 0, -500), (5000, 0, 3500)) is None


def test_a_conduit_led_down_inside_a_wall_to_a_socket_does_not_pass_it() -> None:
    assert asked(WALL, (5000, 0, 3400), (5000, 0, 300)) is None


def test_a_conduit_cast_into_a_slab_does_not_pass_it() -> None:
    assert asked(L_SLAB, (-500, 1000, -125), (9000, 1000, -125)) is None
    assert asked(L_SLAB, (1000, 1000, -125), (3000, 1000, -125)) is None


def test_what_ends_in_a_wall_may_pass_it() -> None:
    told = asked(WALL, (5000, -2000, 1500), (5000, 0, 1500))
    assert told == "it ends in wall W (EI 60)"
    assert asked(WALL, (5000, 0, 1500), (5000, -2000, 1500)) == told


def test_what_ends_at_a_face_or_a_hair_behind_it_does_not_pass() -> None:
    """Up to 10 mm, the least tolerance of joins."""
    for end in (-300.0, -100.0, -92.0):
        assert asked(WALL, (5000, -2000, 1500), (5000, end, 1500)) is None
    assert asked(WALL, (5000, -2000, 1500), (5000, -88.0, 1500)) == "it ends in wall W (EI 60)"


def test_a_sleeve_that_ends_flush_with_both_faces_passes() -> None:
    assert asked(WALL, (5000, -100, 1500), (5000, 100, 1500)) == ""
    assert asked(WALL, (5000, -92, 1500), (5000, 92, 1500)) == ""
    assert asked(WALL, (5000, -2000, 1500), (5000, 100, 1500)) == ""


def test_a_sleeve_that_ends_inside_on_both_sides_may_pass() -> None:
    assert asked(WALL, (5000, -60, 1500), (5000, 60, 1500)) == "both of its ends lie in wall W (EI 60)"
    assert asked(WALL, (5000, 0, 500), (5000, 0, 1500)) is None


def test_what_comes_in_by_the_top_and_goes_out_by_a_side_may_pass() -> None:
    told = asked(WALL, (5000, 0, 3500), (5000, 0, 1000), (5000, 800, 1000))
    assert told == "it enters and leaves wall W (EI 60) by faces that aren't opposite"


def test_what_cuts_the_end_of_a_wall_may_pass() -> None:
    """At 45° through the corner at x = 0: in by the end at y = -50, out by the side at x = 150."""
    told = asked(WALL, (-1000, -1050, 1500), (1000, 950, 1500))
    assert told == "it enters and leaves wall W (EI 60) by faces that aren't opposite"


def test_a_bend_outside_or_inside_a_wall_changes_nothing() -> None:
    assert asked(WALL, (1000, -2000, 1500), (5000, -2000, 1500), (5000, 2000, 1500)) == ""
    assert asked(WALL, (5000, -2000, 1500), (5000, 0, 1500), (5400, 2000, 1500)) == ""
    # a bend exactly in a face
    assert asked(WALL, (4000, -2000, 1500), (5000, -100, 1500), (5000, 2000, 1500)) == ""
    # in and out by the same face
    told = asked(WALL, (4000, -2000, 1500), (4500, 0, 1500), (5000, -2000, 1500))
    assert told == "it enters and leaves wall W (EI 60) by faces that aren't opposite"


def test_a_section_that_reaches_over_the_edge_of_a_wall_may_pass() -> None:
    """30 mm of 60 lie below the axis: 20 mm above the wall it reaches in, 40 mm above it doesn't."""
    across = ((5000, -2000, 3020), (5000, 2000, 3020))
    assert asked(WALL, *across) == "its section reaches into wall W (EI 60), but its axis passes beside that"
    assert asked(WALL, (5000, -2000, 3040), (5000, 2000, 3040)) is None
    assert asked(WALL, (-140, -2000, 1500), (-140, 2000, 1500)) is not None  # half of 300 is 150
    assert asked(WALL, (-160, -2000, 1500), (-160, 2000, 1500)) is None


def test_a_riser_passes_a_slab_but_not_where_the_slab_has_a_corner_less() -> None:
    assert asked(L_SLAB, (1000, 5000, -3000), (1000, 5000, 3000)) == ""
    assert asked(L_SLAB, (6000, 1500, -3000), (6000, 1500, 3000)) == ""
    assert asked(L_SLAB, (6000, 5000, -3000), (6000, 5000, 3000)) is None


def test_a_riser_that_stands_on_a_slab_does_not_pass_it() -> None:
    assert asked(L_SLAB, (1000, 5000, 0), (1000, 5000, 3000)) is None
    assert asked(L_SLAB, (1000, 5000, -3000), (1000, 5000, -100)) == "it ends in wall W (EI 60)"


def test_both_legs_of_a_wall_with_a_corner_are_passed() -> None:
    corner = upright(((0, 0), (5000, 0), (5000, 200), (200, 200), (200, 4000), (0, 4000)), 3000)
    assert asked(corner, (3000, -1000, 1500), (3000, 1000, 1500)) == ""
    assert asked(corner, (-1000, 2000, 1500), (1000, 2000, 1500)) == ""
    assert asked(corner, (2000, 500, 1500), (2000, 3500, 1500)) is None


def test_what_cuts_the_corner_of_a_wall_from_large_face_to_large_face_may_pass() -> None:
    """In at (300, 0), out at (0, 300), where both legs are 200 thick."""
    corner = upright(((0, 0), (5000, 0), (5000, 200), (200, 200), (200, 4000), (0, 4000)), 3000)
    told = asked(corner, (1300, -1000, 1500), (-1000, 1300, 1500))
    assert told == "it enters and leaves wall W (EI 60) by faces that aren't opposite"


def test_a_curved_wall_is_passed() -> None:
    """A quarter ring of 5.0 to 5.2 m, in chords of 5°."""
    turns = [math.radians(5 * step) for step in range(19)]
    ring = [(5200 * math.cos(t), 5200 * math.sin(t)) for t in turns]
    ring += [(5000 * math.cos(t), 5000 * math.sin(t)) for t in reversed(turns)]
    wall = upright(tuple(ring), 3000)
    assert asked(wall, (2000, 2000, 1500), (5000, 5000, 1500)) == ""
    assert asked(wall, (1000, 1000, 1500), (3000, 3000, 1500)) is None


def test_where_a_wall_is_cut_off_nothing_is_passed() -> None:
    """A roof from 3 m at x = 0 down to 2 m at x = 10 m; what lies above it, along (1, 0, 10), is cut off."""
    roof = Cut((0.0, 0.0, 3000.0), scale((1.0, 0.0, 10.0), 1 / math.sqrt(101)))
    wall = replace(WALL, cuts=(roof,))
    low = Section(width_mm=20.0, height_mm=20.0, source="test")
    assert asked(wall, (5000, -2000, 2450), (5000, 2000, 2450), section=low) == ""
    assert asked(wall, (5000, -2000, 2550), (5000, 2000, 2550), section=low) is None
    # up through the roof, inside the wall
    assert asked(wall, (5000, 0, 1000), (5000, 0, 2900), section=low) is None


def test_the_face_that_a_cut_leaves_is_a_face_as_others() -> None:
    """All beyond y = 0 is cut off: 100 mm of the wall are left."""
    wall = replace(WALL, cuts=(Cut((0.0, 0.0, 0.0), Y),))
    assert asked(wall, (5000, -2000, 1500), (5000, 50, 1500)) == ""
    assert asked(wall, (5000, 50, 1500), (5000, -2000, 1500)) == ""
    assert asked(wall, (5000, -2000, 1500), (5000, -50, 1500)) == "it ends in wall W (EI 60)"
    assert asked(wall, (5000, 30, 1500), (5000, 2000, 1500)) is None


def test_what_is_cut_off_within_bounds_stays_elsewhere() -> None:
    """Above 2 m, but only for x from 0 to 4 m: seen from above, with x across."""
    bounded = Cut((0.0, 0.0, 2000.0), Z, rectangle(0, -500, 4000, 500), X, Z)
    wall = replace(WALL, cuts=(bounded,))
    assert asked(wall, (2000, -2000, 2500), (2000, 2000, 2500)) is None
    assert asked(wall, (2000, -2000, 1500), (2000, 2000, 1500)) == ""
    assert asked(wall, (6000, -2000, 2500), (6000, 2000, 2500)) == ""


def test_layers_of_a_wall_are_one_wall() -> None:
    layers = tuple(upright(rectangle(0, y, 10_000, y + 50), 3000) for y in (-100, -50, 0, 50))
    assert asked(layers, (5000, -2000, 1500), (5000, 2000, 1500)) == ""
    assert asked(layers, (5000, -2000, 1500), (5000, 25, 1500)) == "it ends in wall W (EI 60)"
    assert asked(layers, (-500, 25, 1500), (10_500, 25, 1500)) is None


def test_a_body_of_which_only_the_surroundings_are_known_leaves_doubt() -> None:
    told = asked(replace(WALL, is_exact=False), (5000, -2000, 1500), (5000, 2000, 1500))
    assert told == "the body of wall W (EI 60) isn't a plan extruded, and only what surrounds it was looked at"
    assert asked(replace(WALL, is_exact=False), (5000, -2000, 1500), (5000, -500, 1500)) is None


def test_a_carrier_without_an_axis_passes_nothing_that_is_known() -> None:
    lost = replace(along((0, 0, 0), X), start_mm=None)
    assert doubt_of(lost, barrier(WALL)) is None


def turned(prism: Prism, angle: float, tilt: float, by: Vec) -> Prism:
    """A prism turned about Z, then about X, and moved."""

    def turn(v: Vec) -> Vec:
        return spin(v, angle, tilt)

    return replace(
        prism, origin_mm=add(turn(prism.origin_mm), by), x=turn(prism.x), y=turn(prism.y), way=turn(prism.way)
    )


def spin(v: Vec, angle: float, tilt: float) -> Vec:
    c, s = math.cos(angle), math.sin(angle)
    x, y, z = v[0] * c - v[1] * s, v[0] * s + v[1] * c, v[2]
    c, s = math.cos(tilt), math.sin(tilt)
    return x, y * c - z * s, y * s + z * c


#: Away from all edges, so that the section plays no part: conduits of 2 mm.
THIN = Section(outside_diameter_mm=2.0, source="test")
COORDINATE = st.tuples(st.floats(-2000, 12_000), st.floats(-1500, 1500), st.floats(-1000, 4000))


@given(COORDINATE, COORDINATE, st.floats(0, 6), st.floats(-1, 1), st.sampled_from([(0.0, 0.0, 0.0), (6e5, -2e6, 1e5)]))
def test_straight_ones_pass_where_arithmetic_says_so_however_all_is_turned(
    a: Vec, b: Vec, angle: float, tilt: float, by: Vec
) -> None:
    """By similar triangles: where the line meets y = -100 and y = 100 must both be in the wall's face, and both on the line."""
    planes = []
    for y in (-100.0, 100.0):
        share = (y - a[1]) / (b[1] - a[1]) if abs(b[1] - a[1]) > 1e-6 else math.inf
        at = (a[0] + share * (b[0] - a[0]), a[2] + share * (b[2] - a[2])) if math.isfinite(share) else (0.0, 0.0)
        ends_mm = min(share, 1 - share) * math.dist(a, b)
        planes.append(min(at[0], 10_000 - at[0], at[1], 3000 - at[1], ends_mm))
    worst = min(planes)
    if abs(worst) < 25.0 or not math.isfinite(worst):  # at an edge the tolerances decide
        return
    told = asked(turned(WALL, angle, tilt, by), *(add(spin(p, angle, tilt), by) for p in (a, b)), section=THIN)
    assert (told == "") == (worst > 0)


@given(COORDINATE, COORDINATE)
def test_a_wall_drawn_as_its_side_and_moved_across_is_the_same_wall(a: Vec, b: Vec) -> None:
    side = Prism((0.0, 100.0, 0.0), X, Z, (0.0, -1.0, 0.0), 200.0, rectangle(0, 0, 10_000, 3000))
    down = Prism((0.0, 0.0, 3000.0), X, Y, (0.0, 0.0, -1.0), 3000.0, rectangle(0, -100, 10_000, 100)[::-1])
    a, b = (add(point, (0.313, 0.171, 0.267)) for point in (a, b))  # off its edges, which are nobody's
    assert asked(WALL, a, b) == asked(side, a, b) == asked(down, a, b)


def test_a_leaning_wall_is_passed() -> None:
    """It leans by 30°: at 1500 up it has gone 1500 · tan 30° = 866 mm along y."""
    way = (0.0, math.sin(math.radians(30)), math.cos(math.radians(30)))
    wall = Prism((0.0, 0.0, 0.0), X, Y, way, 3000.0, rectangle(0, -100, 10_000, 100))
    assert asked(wall, (5000, 300, 1500), (5000, 1500, 1500)) == ""
    assert asked(wall, (5000, -500, 1500), (5000, 700, 1500)) is None


def compartments(*carriers: Carrier) -> list[LoadedCompartment]:
    return [LoadedCompartment(item, number, 1000.0) for item in carriers for number in (1, 2)]


def test_every_compartment_of_a_carrier_is_asked_about_at_every_wall_that_it_passes() -> None:
    walls = [barrier(upright(rectangle(0, y, 10_000, y + 200), 3000), key=f"W{y}") for y in (0, 4000, 20_000)]
    nowhere = Barrier("N", Place("N", "arch.ifc"), "slab", "R 90")
    long = along((5000, -1000, 1500), (5000, 9000, 1500))
    found = [
        (item.loaded.number, item.barrier.key, item.doubt)
        for item in penetrations([*walls, nowhere], compartments(long))
    ]
    assert found == [(1, "W0", ""), (1, "W4000", ""), (2, "W0", ""), (2, "W4000", "")]
    about = next(penetrations(walls, compartments(long))).about
    at = "T at wall W0 (EI 60)"
    assert (about.carriers, about.compartment, about.label, about.id_keys) == (("T",), 1, at, ("T", "W0"))


def test_the_box_around_a_body_holds_both_ends_of_it() -> None:
    assert around((L_SLAB,)) == ((0.0, 0.0, -250.0), (8000.0, 6000.0, 0.0))


def test_a_wall_and_slab_are_as_thick_as_they_are() -> None:
    """200 · 10,000 / 10,200 = 196.1 of the wall; the slab's depth."""
    assert WALL.thickness_mm == pytest.approx(2e6 / 10_200)
    assert L_SLAB.thickness_mm == 250.0
    assert cross(WALL.x, WALL.y) == Z


@pytest.mark.parametrize("section", [THIN, TRAY_300])
def test_the_order_of_bodies_that_overlap_changes_nothing(section: Section) -> None:
    """A strip 20 wide in the wall: 200 deep, it has narrow faces alone, where the wall has its large ones."""
    strip = upright(rectangle(4990, -100, 5010, 100), 3000)
    way = (5000, -2000, 1500), (5000, 2000, 1500)
    assert asked((strip, WALL), *way, section=section) == asked((WALL, strip), *way, section=section) == ""
    # so it is for one that ends in both
    sleeve = (5000, -60, 1500), (5000, 60, 1500)
    told = "both of its ends lie in wall W (EI 60)"
    assert asked((strip, WALL), *sleeve, section=section) == asked((WALL, strip), *sleeve, section=section) == told
    # one that ends inside the wall, 0.2 m thick, does so where a layer of half of that ends, too
    layer = upright(rectangle(0, -100, 10_000, 0), 3000)
    ends = (5000, -2000, 1500), (5000, 0, 1500)
    assert asked((layer, WALL), *ends) == asked((WALL, layer), *ends) == "it ends in wall W (EI 60)"


def test_what_runs_within_a_box_around_a_bent_wall_may_pass_it() -> None:
    """A box of 10 m by 4 m: in by its end and no farther, and wholly inside with a bend."""
    box = replace(upright(rectangle(0, 0, 10_000, 4000), 3000), is_exact=False, is_hollow=True)
    told = "it runs within what surrounds wall W (EI 60), and where in that its body is can't be told"
    assert asked(box, (-1000, 2000, 1500), (5000, 2000, 1500)) == told
    assert asked(box, (1000, 1000, 1500), (4000, 1000, 1500), (4000, 3000, 1500)) == told
    assert asked(box, (-1000, -500, 1500), (11_000, -500, 1500)) is None


def test_an_end_that_is_written_twice_changes_nothing() -> None:
    told = "both of its ends lie in wall W (EI 60)"
    assert asked(WALL, (5000, -60, 1500), (5000, 60, 1500), (5000, 60, 1500)) == told
    assert asked(WALL, (5000, -60, 1500), (5000, -60, 1500), (5000, 60, 1500)) == told
