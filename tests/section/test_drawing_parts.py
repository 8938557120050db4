"""Patterns, conductors and the carrier itself, by arithmetic."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import CarrierKind, Service
from checker.section.cores import conductor_mm2, cores_of
from checker.section.outline import Frame, plan_of
from checker.section.parts import LaneView, SectionView
from checker.section.patterns import NO_CIRCUIT, PATTERNS, Pattern, cut, hatching, lines_in
from checker.section.shapes import Body, Box, Channel, Round
from checker.section.sketch import Disc, Polygon, Stadium, Style, dashes
from tests.contrast import contrast
from tests.section.drawn_views import SERVICES

ANGLES = st.floats(0.0, 180.0)


def test_every_service_and_none_has_a_colour_and_a_pattern_of_its_own() -> None:
    assert set(PATTERNS) == set(SERVICES)
    assert len({pattern.tint for pattern in PATTERNS.values()}) == len(PATTERNS)
    assert len({(pattern.angles_deg, pattern.is_dotted) for pattern in PATTERNS.values()}) == len(PATTERNS)
    assert len({pattern.word for pattern in PATTERNS.values()}) == len(PATTERNS)


def test_patterns_can_be_seen_without_colour() -> None:
    # 3 is asked of graphics that carry a meaning; lines and dots are as thin as text, of which 4.5 is
    assert all(contrast(pattern.tint, pattern.ink) >= 4.5 for pattern in (*PATTERNS.values(), NO_CIRCUIT))


@given(st.floats(1.0, 80.0), ANGLES, st.floats(2.0, 9.0))
def test_lines_within_a_circle_end_on_it(radius: float, angle: float, spacing: float) -> None:
    disc = Disc(10.0, -5.0, radius, Style())
    for line in lines_in(disc, angle, spacing):
        assert all(math.dist(end, (10.0, -5.0)) == pytest.approx(radius) for end in line)


@given(st.floats(5.0, 80.0), st.floats(5.0, 80.0), ANGLES)
def test_lines_within_a_stadium_end_on_its_edge(width: float, height: float, angle: float) -> None:
    stadium = Stadium(3.0, 4.0, width, height, Style())
    (x1, y1), (x2, y2) = stadium.spine
    for line in lines_in(stadium, angle, 4.0):
        for x, y in line:
            # how far a point is from the spine, by projecting it on it
            length = math.dist((x1, y1), (x2, y2))
            along = 0.0 if length == 0.0 else ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length**2
            share = min(max(along, 0.0), 1.0)
            away = math.dist((x, y), (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
            assert away == pytest.approx(stadium.radius, abs=1e-6)


def test_lines_of_a_rectangle_are_cut_at_its_sides() -> None:
    # 10 wide and 7 high, so that its middle lies at 3.5: level lines 2 apart, one at each side of it, at 2.5 and 4.5, then 0.5 and 6.5
    box = Polygon(((0.0, 0.0), (10.0, 0.0), (10.0, 7.0), (0.0, 7.0)), Style())
    found = sorted(tuple(sorted((round(x, 9), round(y, 9)) for x, y in line)) for line in lines_in(box, 0.0, 2.0))
    assert found == [((0.0, level), (10.0, level)) for level in (0.5, 2.5, 4.5, 6.5)]


def test_a_line_beside_a_shape_isnt_cut() -> None:
    assert cut(Disc(0.0, 0.0, 2.0, Style()), (0.0, 3.0), (1.0, 0.0)) is None


@given(st.floats(3.0, 60.0), st.floats(3.0, 60.0))
def test_dots_lie_wholly_within(width: float, height: float) -> None:
    stadium = Stadium(0.0, 0.0, width, height, Style())
    marks = hatching(stadium, PATTERNS[Service.DATA], 4.0)
    assert marks is not None
    (x1, y1), (x2, y2) = stadium.spine
    for x, y in marks.dots:
        away = min(math.dist((x, y), (x1 + (x2 - x1) * k / 200, y1 + (y2 - y1) * k / 200)) for k in range(201))
        assert away + marks.dot_px <= stadium.radius + 0.02 * max(width, height) / 2.0


def test_a_plain_pattern_has_no_lines() -> None:
    assert hatching(Disc(0.0, 0.0, 9.0, Style()), Pattern("plain", (1, 2, 3), (0, 0, 0)), 4.0) is None


def test_dashes_take_ten_of_each_sixteen() -> None:
    # dashes of 10 with gaps of 6: 0-10 and 16-26, and the last, from 32, is cut at 40
    ends = [(round(one[0], 6), round(two[0], 6)) for one, two in dashes(((0.0, 0.0), (40.0, 0.0)), 10.0)]
    assert ends == [(0.0, 10.0), (16.0, 26.0), (32.0, 40.0)]


@pytest.mark.parametrize(
    ("gauge", "area_mm2"),
    # ASTM B258: no. 10 is 0.1019 inch thick: π/4 · (0.1019 · 25.4)² = 5.261; no. 14 0.0641 inch: 2.082; no. 4/0 0.4600 inch: 107.2;
    # a circular mil is the area of a circle of 0.001 inch: 250 000 of them 250 · 0.50671 = 126.7
    [("10", 5.261), ("14", 2.082), ("4/0", 107.2), ("1/0", 53.49), ("250", 126.7)],
)
def test_american_gauges_are_turned_into_areas(gauge: str, area_mm2: float) -> None:
    assert conductor_mm2(None, gauge) == pytest.approx(area_mm2, rel=2e-3)


@pytest.mark.parametrize("gauge", ["", "x", "5/0", "0/0", "41", "200", "260", "²", "-1", "1/1", "9999999"])
def test_what_is_no_gauge_has_no_area(gauge: str) -> None:
    assert conductor_mm2(None, gauge) is None


def test_an_area_that_is_given_goes_before_a_gauge_and_none_is_unknown() -> None:
    assert conductor_mm2(2.5, "10") == 2.5
    assert conductor_mm2(0.0, "10") is None


def test_the_metal_of_a_conductor_has_its_area() -> None:
    (core,) = cores_of(Body(3.9, 3.9), 1, 2.5) or ()
    assert math.pi * core.metal_mm**2 == pytest.approx(2.5)
    assert (core.x_mm, core.y_mm, core.radius_mm) == (0.0, 0.0, 1.95)


@given(st.integers(1, 127), st.floats(4.0, 60.0))
def test_cores_lie_within_their_cable_and_apart(number: int, diameter: float) -> None:
    cores = cores_of(Body(diameter, diameter), number, 1e-4)
    assert cores is not None
    assert len(cores) == number
    for core in cores:
        assert math.hypot(core.x_mm, core.y_mm) + core.radius_mm <= diameter / 2.0 + 1e-9
    for one, two in itertools.combinations(cores, 2):
        assert math.dist((one.x_mm, one.y_mm), (two.x_mm, two.y_mm)) >= one.radius_mm + two.radius_mm - 1e-9


def test_three_cores_are_as_large_as_three_circles_in_a_circle_can_be() -> None:
    # three equal circles in one of radius R have R / (1 + 2/√3); R is 86 % of the cable's 10 mm, and 3 % of it is left between them
    core = (cores_of(Body(20.0, 20.0), 3, 2.5) or ())[0]
    assert core.radius_mm == pytest.approx(8.6 / (1.0 + 2.0 / math.sqrt(3.0)) * 0.97)


@given(st.integers(1, 5))
def test_cores_of_a_flat_cable_lie_in_a_row_along_it(number: int) -> None:
    cores = cores_of(Body(11.0, 5.5), number, 0.5) or ()
    assert len(cores) == number
    assert {core.y_mm for core in cores} == {0.0}
    assert all(abs(core.x_mm) + core.radius_mm <= 5.5 for core in cores)
    assert all(two.x_mm - one.x_mm >= 2.0 * one.radius_mm - 1e-9 for one, two in itertools.pairwise(cores))


@pytest.mark.parametrize(("cores", "area"), [(None, 2.5), (0, 2.5), (3, None), (1, 300.0), (400, 0.01)])
def test_conductors_that_arent_known_or_cant_be_arent_drawn(cores: int | None, area: float | None) -> None:
    assert cores_of(Body(10.0, 10.0), cores, area) is None


def view(kind: CarrierKind, outside: tuple[float, float] | None, *insides: Round | Box | Channel | None) -> SectionView:
    return SectionView("t", "s", kind, tuple(LaneView(n, one) for n, one in enumerate(insides, start=1)), outside)


def test_a_trunking_is_drawn_with_its_wall_and_dividers() -> None:
    # 150 x 50, wall 1: inside 148 x 48; two dividers of 1 leave 146 for three lanes
    plan = plan_of(view(CarrierKind.TRUNKING, (150.0, 50.0), *[Box(146.0 / 3.0, 48.0)] * 3))
    assert plan is not None
    assert [place for _, place in plan.insides] == [
        pytest.approx((1.0, 1.0)), pytest.approx((1.0 + 146.0 / 3.0 + 1.0, 1.0)), pytest.approx((1.0 + 292.0 / 3.0 + 2.0, 1.0)),
    ]  # fmt: skip
    assert plan.wall_mm == pytest.approx(1.0)


def test_a_conduits_bore_lies_in_its_middle() -> None:
    plan = plan_of(view(CarrierKind.CONDUIT, (20.0, 20.0), Round(16.8)))
    assert plan is not None
    assert plan.insides[0][1] == pytest.approx((1.6, 1.6))


def test_a_trays_depth_stands_on_its_floor() -> None:
    # 300 wide with sides of 1, 60 high of which 50 can be used: the floor lies at 10
    plan = plan_of(view(CarrierKind.TRAY, (300.0, 60.0), Channel(298.0, 50.0)))
    assert plan is not None
    assert plan.insides[0][1] == pytest.approx((1.0, 10.0))


def test_nothing_is_drawn_where_the_inside_of_one_compartment_isnt_known() -> None:
    assert plan_of(view(CarrierKind.TRUNKING, (100.0, 50.0), Box(40.0, 48.0), None)) is None


def test_compartments_alone_are_drawn_without_the_outside() -> None:
    plan = plan_of(view(CarrierKind.TRUNKING, None, Box(40.0, 48.0)))
    assert plan is not None
    assert (plan.width_mm, plan.height_mm, plan.wall_mm) == (40.0, 48.0, 0.0)


def test_y_up_in_millimetres_is_y_down_on_the_sheet() -> None:
    assert Frame(2.0, 100.0, 400.0).at(10.0, 30.0) == (120.0, 340.0)
