"""Where something is: by the nearest axes of a grid, and whether it lies in a floor."""

from dataclasses import replace
from itertools import permutations

import pytest

from checker.model.prisms import Cut, Prism
from checker.model.setting import Floor, Grid, GridAxis, Setting
from checker.result.camera import extent_mm
from checker.result.tables import Box, Topic
from checker.result.topics import make_topic
from checker.result.whereabouts import BELOW_FLOOR, BELOW_ROOF, IN_FLOOR, grid_words, view_cut
from tests.report.results import box_mm, small_result


def upright(tag: str, x: float) -> GridAxis:
    return GridAxis(tag, ((x, 0.0), (x, 20_000.0)))


def level(tag: str, y: float) -> GridAxis:
    return GridAxis(tag, ((0.0, y), (20_000.0, y)))


GRID = Grid(((upright("1", 0.0), upright("2", 6000.0)), (level("A", 0.0), level("B", 5000.0))))


def slab(low: float, high: float) -> Floor:
    plan = ((0.0, 0.0), (10_000.0, 0.0), (10_000.0, 8000.0), (0.0, 8000.0))
    return Floor((Prism((0.0, 0.0, low), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), high - low, plan),))


def clip_m(setting: Setting, boxes: list[Box]) -> float | None:
    """How high a floor is cut in which all lie; None: they don't."""
    high, said = view_cut(setting, boxes)
    return high if said == IN_FLOOR else None


def test_the_nearest_axis_of_each_set_is_told_with_how_far_it_is_off() -> None:
    # x 4500: 4500 from 1, 1500 from 2; y 800: 800 from A, 4200 from B
    assert grid_words(Setting((GRID,)), (4500.0, 800.0, 99_000.0)) == "2 (1.50 m off) and A (0.80 m off)"


def test_a_set_of_slanting_axes_says_nothing_beside_two_nearer_ones() -> None:
    # the slanting line from (0, 0) to (20000, 20000) is |4500 - 800| / √2 = 2616 mm off
    slanting = GridAxis("W", ((0.0, 0.0), (20_000.0, 20_000.0)))
    assert "W" not in grid_words(Setting((Grid((*GRID.sets, (slanting,))),)), (4500.0, 800.0, 0.0))


def test_of_several_grids_the_nearest_counts_in_whatever_order_they_are() -> None:
    # of the other wing, 2 m farther off on both
    other = Grid(((upright("X", 8000.0),), (level("Y", 2800.0),)))
    # 3 and 4 are nearer, but of one set alone
    half = Grid(((upright("Z", 4500.0),),))
    told = {grid_words(Setting(turned), (4500.0, 800.0, 0.0)) for turned in permutations((GRID, other, half))}
    assert told == {"2 (1.50 m off) and A (0.80 m off)"}


@pytest.mark.parametrize("point", [None, (4500.0, 71_000.0, 0.0)])  # 51 m beyond the axes' ends
def test_nothing_is_told_without_a_place_or_far_from_the_grid(point: tuple[float, float, float] | None) -> None:
    assert grid_words(Setting((GRID,)), point) == ""


def test_a_grid_of_the_same_storey_counts_before_a_nearer_one_of_another() -> None:
    upper = Grid(((upright("5", 4400.0),), (level("E", 900.0),)), "Level 2")
    setting = Setting((replace(GRID, storey="Level 1"), upper))
    point = (4500.0, 800.0, 0.0)
    assert grid_words(setting, point, "Level 1") == "2 (1.50 m off) and A (0.80 m off)"
    # 100 mm from both, but they are Level 2's
    assert grid_words(setting, point, "Level 2") == "5 (0.10 m off) and E (0.10 m off)"
    # a storey without a grid of its own goes by the nearest
    assert grid_words(setting, point, "Level 3") == grid_words(setting, point) == "5 (0.10 m off) and E (0.10 m off)"
    # and so does one whose own is far away: 71 m beyond its axes' ends
    far = replace(GRID, storey="Level 3", sets=((GridAxis("9", ((4500.0, 80_000.0), (4500.0, 90_000.0))),),))
    assert grid_words(Setting((far, upper)), point, "Level 3") == "5 (0.10 m off) and E (0.10 m off)"


def test_nothing_is_told_of_a_building_without_a_grid() -> None:
    assert grid_words(Setting(), (0.0, 0.0, 0.0)) == ""


def test_the_middle_of_a_box_is_half_way_along_its_edges() -> None:
    box = Box((100.0, 0.0, 10.0), ((0.0, 60.0, 0.0), (20.0, 0.0, 0.0), (0.0, 0.0, -4.0)))
    assert extent_mm([box])[0] == (110.0, 30.0, 8.0)


@pytest.mark.parametrize(
    ("start", "along", "cut"),
    [
        # 50 high from -65: its top is at -15, and 5 above that is -10 mm
        ((1000.0, 1000.0, -65.0), (3000.0, 0.0, 0.0), -0.010),
        # flush with both faces of a floor of 50
        ((1000.0, 1000.0, -200.0), (3000.0, 0.0, 0.0), -0.145),
        # its top at -50 + 50 = 0 is the floor's
        ((1000.0, 1000.0, -50.0), (3000.0, 0.0, 0.0), 0.005),
        # it stands out of the floor by 10
        ((1000.0, 1000.0, -40.0), (3000.0, 0.0, 0.0), None),
        # above, beside, and a riser that passes
        ((1000.0, 1000.0, 2700.0), (3000.0, 0.0, 0.0), None),
        ((11_000.0, 1000.0, -65.0), (3000.0, 0.0, 0.0), None),
        ((1000.0, 1000.0, -1000.0), (0.0, 0.0, 3000.0), None),
    ],
)
def test_a_floor_is_cut_above_what_lies_between_its_faces(
    start: tuple[float, float, float], along: tuple[float, float, float], cut: float | None
) -> None:
    found = clip_m(Setting(floors=(slab(-200.0, 0.0),)), [box_mm(start, along, 225.0, 50.0)])
    assert found == (None if cut is None else pytest.approx(cut))


def test_a_floor_is_not_cut_where_one_of_several_lies_elsewhere() -> None:
    setting = Setting(floors=(slab(-200.0, 0.0),))
    within, above = (box_mm((1000.0, 1000.0, z), (3000.0, 0.0, 0.0), 225.0, 50.0) for z in (-65.0, 500.0))
    assert clip_m(setting, [within, above]) is None
    assert clip_m(setting, []) is None


def test_what_lies_in_floors_of_two_storeys_is_not_said_to_be_cut_open() -> None:
    # a cut above the upper one hides nothing of the floor that the lower one lies in
    floors = (slab(-200.0, 0.0), slab(3300.0, 3500.0))
    lower, upper = (box_mm((1000.0, 1000.0, z), (3000.0, 0.0, 0.0), 225.0, 50.0) for z in (-65.0, 3435.0))
    setting = Setting(floors=floors)
    assert clip_m(setting, [lower]) == pytest.approx(-0.010)
    assert clip_m(setting, [upper]) == pytest.approx(3.490)
    assert clip_m(setting, [lower, upper]) is None


def test_what_runs_above_a_ramp_is_not_in_it_and_what_lies_in_it_is() -> None:
    # rises from 0 to 3000 over 10 m, and is 200 thick: its side, moved across
    side = ((0.0, 0.0), (10_000.0, 3000.0), (10_000.0, 3200.0), (0.0, 200.0))
    ramp = Floor((Prism((0.0, 4000.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0), 4000.0, side),))
    over, under, within = (box_mm((4000.0, 1000.0, z), (300.0, 0.0, 0.0), 100.0, 20.0) for z in (1600.0, 900.0, 1335.0))
    # at x 4150, the middle, its faces are at 1245 and 1445
    assert clip_m(Setting(floors=(ramp,)), [over]) is None
    assert clip_m(Setting(floors=(ramp,)), [under]) is None
    assert clip_m(Setting(floors=(ramp,)), [within]) == pytest.approx(1.360)  # 1335 + 20 + 5


def test_what_crosses_a_hole_of_a_floor_or_a_part_cut_off_is_not_in_it() -> None:
    whole = slab(-200.0, 0.0)
    hole = ((2000.0, 0.5), (2000.0, 7999.0), (8000.0, 7999.0), (8000.0, 0.5))
    with_hole = Floor((replace(whole.prisms[0], holes=(hole,)),))
    halved = Floor((replace(whole.prisms[0], cuts=(Cut((2000.0, 0.0, 0.0), (1.0, 0.0, 0.0)),)),))
    box = box_mm((3000.0, 1000.0, -65.0), (3000.0, 0.0, 0.0), 225.0, 50.0)
    assert clip_m(Setting(floors=(whole,)), [box]) == pytest.approx(-0.010)
    assert clip_m(Setting(floors=(with_hole,)), [box]) is None
    assert clip_m(Setting(floors=(halved,)), [box]) is None


def test_what_passes_from_one_slab_into_the_next_lies_in_both() -> None:
    first = slab(-200.0, 0.0)
    second = Floor((replace(first.prisms[0], origin_mm=(10_000.0, 0.0, -200.0)),))
    box = box_mm((8000.0, 1000.0, -65.0), (4000.0, 0.0, 0.0), 225.0, 50.0)
    assert clip_m(Setting(floors=(first, second)), [box]) == pytest.approx(-0.010)
    assert clip_m(Setting(floors=(first,)), [box]) is None  # its far half lies in nothing
    quarter, end = (box_mm((x, 1000.0, -65.0), (4000.0, 0.0, 0.0), 225.0, 50.0) for x in (7000.0, 6300.0))
    assert clip_m(Setting(floors=(first,)), [quarter]) is None  # nor does its far quarter
    assert clip_m(Setting(floors=(first,)), [end]) == pytest.approx(
        -0.010
    )  # its last 300 mm may be in a slab that isn't read


def test_the_lowest_floor_over_something_is_hidden_with_all_above_it() -> None:
    tray = box_mm((1000.0, 1000.0, 2700.0), (3000.0, 0.0, 0.0), 300.0, 50.0)
    riser = box_mm((1000.0, 1000.0, -1000.0), (0.0, 0.0, 5000.0), 50.0, 50.0)
    beside = box_mm((20_000.0, 1000.0, 2700.0), (3000.0, 0.0, 0.0), 300.0, 50.0)
    ground, first, second = slab(-200.0, 0.0), slab(3300.0, 3500.0), slab(6800.0, 7000.0)
    roof = replace(second, is_roof=True)
    # 5 below the first floor's underside of 3300: what hangs below it stays
    assert view_cut(Setting(floors=(second, ground, first)), [tray]) == (pytest.approx(3.295), BELOW_FLOOR)
    assert view_cut(Setting(floors=(ground, first, second)), [tray, riser])[0] == pytest.approx(
        6.795
    )  # the riser ends at 4000
    assert view_cut(Setting(floors=(ground, roof)), [tray]) == (pytest.approx(6.795), BELOW_ROOF)
    assert view_cut(Setting(floors=(ground,)), [tray]) == (None, "")
    assert view_cut(Setting(floors=(ground, first)), [beside]) == (None, "")
    assert view_cut(Setting(floors=(ground, first)), [beside, tray])[1] == BELOW_FLOOR
    # 2 below the underside: nothing of it is cut off
    close = box_mm((1000.0, 1000.0, 3248.0), (3000.0, 0.0, 0.0), 300.0, 50.0)
    assert view_cut(Setting(floors=(first,)), [close])[0] == pytest.approx(3.298)
    # in a roof nothing is said to lie in a floor
    assert view_cut(Setting(floors=(roof,)), [box_mm((1000.0, 1000.0, 6850.0), (3000.0, 0.0, 0.0), 300.0, 50.0)]) == (
        None,
        "",
    )


def test_a_sloped_roof_is_over_what_is_below_its_plan_alone() -> None:
    # 10 m along a slope of 3 in 4: 8 m in plan, and 6 m up
    slope = Prism((0.0, 0.0, 4000.0), (0.8, 0.0, 0.6), (0.0, 1.0, 0.0), (-0.6, 0.0, 0.8), 200.0,
                  ((0.0, 0.0), (10_000.0, 0.0), (10_000.0, 8000.0), (0.0, 8000.0)))  # fmt: skip
    roof = Floor((slope,), is_roof=True)
    for x, is_over in ((100.0, True), (7900.0, True), (8200.0, False)):
        assert roof.is_over((x, 1000.0, 0.0)) is is_over
    inside = box_mm((7000.0, 1000.0, 2700.0), (500.0, 0.0, 0.0), 300.0, 50.0)
    assert view_cut(Setting(floors=(roof,)), [inside]) == (pytest.approx(3.995), BELOW_ROOF)


def test_it_is_cut_above_the_highest() -> None:
    boxes = [box_mm((1000.0, 1000.0, z), (3000.0, 0.0, 0.0), 225.0, 50.0) for z in (-65.0, -120.0)]
    assert clip_m(Setting(floors=(slab(-200.0, 0.0),)), boxes) == pytest.approx(-0.010)


def topic_in(setting: Setting, **changes: object) -> Topic:
    result = small_result()
    row = replace(result.findings[0], **changes)
    carriers = {one.key: one for one in result.carriers}
    return make_topic("g", [row], carriers, (), "Fill", (), setting=setting)


def test_a_note_says_the_nearest_axes_of_the_worst_length() -> None:
    # T-001 runs from (0, 0) to (3000, 0) and is 100 wide towards +y: its middle is at x 1500, y 50
    where = topic_in(Setting((GRID,))).description.split("\n")[1]
    assert (
        where == "Where: Level 1. Trunking 100 × 50 mm. Nearest grid axes to T-001: 1 (1.50 m off) and A (0.05 m off)."
    )


def test_a_note_says_that_its_view_is_cut_open() -> None:
    # from 2700 up to 2750: the view is cut at 2.755 m
    topic = topic_in(Setting(floors=(slab(2600.0, 2800.0),)))
    assert topic.clip_m == pytest.approx(2.755)
    assert "It lies in a floor, which the view is cut open above." in topic.description
    assert topic_in(Setting()).clip_m is None
    assert "floor" not in topic_in(Setting()).description


def test_a_note_without_advice_says_what_was_tried_in_vain() -> None:
    told = topic_in(Setting(), tried="tried without success: a divider").description
    assert "No advice: tried without success: a divider." in told.split("\n")
    both = topic_in(Setting(), tried="tried without success: a divider", advice="make it larger").description
    assert "Advice: make it larger" in both.split("\n")
    assert "No advice" not in both
