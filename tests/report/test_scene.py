"""What the left of a snapshot shows: always all of the topic, from afar enough, with the ends of circuits where those are asked about."""

import io
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checker.model import Place
from checker.model.setting import Grid, GridAxis
from checker.report.canvas import Canvas
from checker.report.projection import View
from checker.report.scene import FAILING, LEAST_AWAY_M, MANY
from checker.report.scene_grid import LINE, draw_grid
from checker.report.snapshot import Gallery
from checker.result.camera import corners, cube, extent_mm, fit_camera, from_afar
from checker.result.network_tables import EquipmentRow
from checker.result.tables import Box, Result, Topic
from tests.report.results import box_mm, carrier, small_result, topic

WIDTH, HEIGHT = 780, 611

sizes = st.floats(1.0, 200_000.0)
places = st.floats(-500_000.0, 500_000.0)
turns = st.floats(0.0, 2.0 * math.pi)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    """A box of any size, turned about the vertical; a third of them upright ones."""
    turn, (length, width, height) = draw(turns), (draw(sizes) for _ in range(3))
    along, across = (math.cos(turn), math.sin(turn), 0.0), (-math.sin(turn), math.cos(turn), 0.0)
    edges = [
        (along[0] * length, along[1] * length, 0.0),
        (across[0] * width, across[1] * width, 0.0),
        (0.0, 0.0, height),
    ]
    return Box((draw(places), draw(places), draw(places)), (edges[0], edges[1], edges[2]))


def picture(result: Result, of: Topic) -> Image.Image:
    return Image.open(io.BytesIO(Gallery(result).snapshot(of))).convert("RGB")


def reds(image: Image.Image) -> int:
    """Pixels of about the colour of what is marked, left of the section and above the legend."""
    left = image.crop((0, 64, WIDTH, 640))
    return sum(
        count
        for count, colour in left.getcolors(1 << 20) or []
        if max(abs(one - other) for one, other in zip(colour, FAILING, strict=True)) < 60  # type: ignore[arg-type]
    )


@settings(max_examples=300)
@given(st.lists(boxes(), min_size=1, max_size=5), st.floats(0.0, 50.0))
def test_every_corner_of_every_box_falls_within_the_picture(these: list[Box], least_m: float) -> None:
    view = View(from_afar(fit_camera(these), these, least_m), WIDTH, HEIGHT)
    for box in these:
        for corner in corners(box):
            seen = view.seen(corner)
            assert seen[2] > 0.0
            x, y = view.pixel(seen)
            assert 0.0 <= x <= WIDTH
            assert 0.0 <= y <= HEIGHT


def test_a_camera_that_is_too_near_moves_straight_back_and_one_that_is_not_stays() -> None:
    box = box_mm((0.0, 0.0, 0.0), (500.0, 0.0, 0.0), 100.0, 50.0)
    near = fit_camera([box])  # at 1.5 m, which is the least
    far = from_afar(near, [box], 4.0)
    centre_m = [value / 1000.0 for value in extent_mm([box])[0]]
    assert math.dist(far.point_m, centre_m) == pytest.approx(4.0)
    assert (far.direction, far.up, far.fov_deg) == (near.direction, near.up, near.fov_deg)
    assert [far.point_m[axis] - near.point_m[axis] for axis in range(3)] == pytest.approx(
        [-2.5 * near.direction[axis] for axis in range(3)]
    )
    assert from_afar(far, [box], 3.0) == far


def test_a_short_length_is_shown_from_farther_than_its_viewpoint_is() -> None:
    result = small_result()
    short = carrier(60, box_mm((0.0, 0.0, 0.0), (500.0, 0.0, 0.0), 100.0, 50.0))
    one = replace(result, carriers=(short,), surroundings=())
    of = replace(topic([short], result.findings[:1]), carriers=(short.key,))
    # from 1.5 m its 500 × 100 mm would be (4 / 1.5)² = 7.1 times as large
    nearer = replace(of, camera=fit_camera(short.boxes))
    assert nearer.camera is not None
    assert math.dist(nearer.camera.point_m, (0.25, 0.05, 0.025)) == pytest.approx(1.5)
    shown = reds(picture(one, nearer))
    view = View(from_afar(nearer.camera, short.boxes, LEAST_AWAY_M), WIDTH, HEIGHT)
    first, *_, last = corners(short.boxes[0])
    end, other = view.pixel(view.seen(first)), view.pixel(view.seen(last))
    assert 0 < shown < 3 * abs(end[0] - other[0]) * abs(end[1] - other[1])


def test_a_thin_conduit_keeps_its_colour_and_a_speck_gets_a_ring() -> None:
    result = small_result()
    # 25 mm wide over 40 m: about a pixel, which two black outlines would cover
    thin = carrier(61, box_mm((0.0, 0.0, 0.0), (40_000.0, 0.0, 0.0), 25.0, 25.0), "conduit", (25.0, 25.0))
    speck = carrier(62, box_mm((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 1.0, 1.0))
    flat = carrier(63, Box((0.0, 0.0, 0.0), ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))))
    for row, least in ((thin, 400), (speck, 100), (flat, 100)):  # a disc of 7 px has 154
        of = replace(topic([row], result.findings[:1]), carriers=(row.key,))
        assert reds(picture(replace(result, carriers=(row,), surroundings=()), of)) > least


def test_what_is_equally_far_is_drawn_alike_in_whatever_order_the_model_has_it() -> None:
    """Three flat crosses, one marked, one of surroundings, of which the sides on top have one middle; and two specks with rings."""
    result = small_result()
    along, across, far_along, far_across, speck, beside = (
        carrier(number, box_mm(*at))
        for number, at in enumerate((
            ((-500.0, -100.0, 0.0), (1000.0, 0.0, 0.0), 200.0, 50.0),
            ((100.0, -500.0, 0.0), (0.0, 1000.0, 0.0), 200.0, 50.0),
            ((1500.0, -100.0, 0.0), (1000.0, 0.0, 0.0), 200.0, 50.0),
            ((2100.0, -500.0, 0.0), (0.0, 1000.0, 0.0), 200.0, 50.0),
            ((0.0, 1000.0, 0.0), (1.0, 0.0, 0.0), 1.0, 1.0),
            ((40.0, 1000.0, 0.0), (1.0, 0.0, 0.0), 1.0, 1.0),
        ), start=70)
    )  # fmt: skip
    rows = (along, across, far_along, far_across, speck, beside)
    around = (
        box_mm((-500.0, -1100.0, 500.0), (1000.0, 0.0, 0.0), 200.0, 20.0),
        box_mm((100.0, -1500.0, 500.0), (0.0, 1000.0, 0.0), 200.0, 20.0),
    )
    marked = [along, across, speck, beside]
    of = replace(topic(marked, result.findings[:1]), carriers=tuple(row.key for row in marked))
    one, other = (
        picture(replace(result, carriers=rows[::step], surroundings=around[::step]), of).tobytes() for step in (1, -1)
    )
    assert one == other


def grid_of(result: Result, *x_mm: float, storey: str = "") -> Result:
    axes = tuple(GridAxis(f"{x:.0f}", ((x, -90_000.0), (x, 90_000.0))) for x in x_mm)
    return replace(result, grids=(*result.grids, Grid((axes,), storey)))


def blues(image: Image.Image) -> int:
    left = image.crop((0, 64, WIDTH, 640)).getcolors(1 << 20) or []
    return sum(
        count
        for count, colour in left
        if max(abs(one - other) for one, other in zip(colour, LINE, strict=True)) < 12  # type: ignore[arg-type]
    )


def test_the_axes_of_the_grid_that_are_near_are_drawn_where_the_camera_sees_them() -> None:
    result = small_result()
    of = result.topics[0]
    assert of.camera is not None
    assert blues(picture(result, of)) == 0
    assert blues(picture(grid_of(result, 500_000.0), of)) == 0  # as far as that nothing is told by it
    # its 6 m about x 3 m are in a sphere of 3 m: axes are drawn up to 2 × 3 + 12 m away
    assert blues(picture(grid_of(result, 13_000.0), of)) > 30
    nearest = [3000.0 + 200.0 * number for number in range(30)]
    assert (
        picture(grid_of(result, *reversed(nearest)), of).tobytes()
        == picture(grid_of(result, *nearest[:24]), of).tobytes()
    )
    image = picture(grid_of(result, 2000.0), of)
    view = View(of.camera, WIDTH, HEIGHT)
    # at the height of what is marked, 2700 mm; off what is marked, which hides it
    for y in (-2000.0, -1000.0, 2500.0, 5000.0):
        x_px, y_px = view.pixel(view.seen((2000.0, y, 2700.0)))
        around = image.crop((round(x_px) - 3, round(y_px) + 61, round(x_px) + 4, round(y_px) + 68))
        assert any(colour[2] - colour[0] > 30 for _, colour in around.getcolors(99) or [])  # type: ignore[index]


def test_axes_of_the_storey_are_drawn_alone_where_it_has_some() -> None:
    result = small_result()  # on Level 1
    of = result.topics[0]
    both = grid_of(grid_of(result, 1000.0, storey="Level 1"), 4000.0, storey="Level 2")
    assert picture(both, of).tobytes() == picture(grid_of(result, 1000.0, storey="Level 1"), of).tobytes()
    other = grid_of(result, 4000.0, storey="Level 2")
    assert blues(picture(other, of)) > 100  # without its own those of others say more than none


def test_an_axis_behind_the_eye_is_not_drawn() -> None:
    camera = fit_camera([box_mm((0.0, 0.0, 0.0), (20_000.0, 0.0, 0.0), 100.0, 50.0)])
    view, canvas = View(camera, WIDTH, HEIGHT), Canvas(WIDTH, HEIGHT)
    x, y, z = (view.eye[axis] - 5000.0 * view.forward[axis] for axis in range(3))
    behind = Grid(((GridAxis("1", ((x - 1000.0, y), (x + 1000.0, y))),),))
    assert draw_grid(canvas, view, [behind], (x, y, z), 300_000.0, (8.0, 36.0, 772.0, 577.0)) == []


def test_a_tag_stands_at_the_end_of_its_axis_that_is_lower_in_the_picture() -> None:
    view, frame = (
        View(fit_camera([box_mm((0.0, 0.0, 0.0), (9000.0, 0.0, 0.0), 100.0, 50.0)]), WIDTH, HEIGHT),
        (0.0, 0.0, 780.0, 611.0),
    )
    for points in (((4500.0, -1000.0), (4500.0, 1000.0)), ((4500.0, 1000.0), (4500.0, -1000.0))):
        (tag,) = draw_grid(
            Canvas(WIDTH, HEIGHT), view, [Grid(((GridAxis("1", points),),))], (4500.0, 0.0, 0.0), 9000.0, frame
        )
        # it is looked at towards +y, so the end at -y is the nearer one
        x_px, y_px = view.pixel(view.seen((4500.0, -1000.0, 0.0)))
        assert ((tag[0] + tag[2]) / 2.0, (tag[1] + tag[3]) / 2.0) == pytest.approx((x_px, y_px))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(places, places, places, places), max_size=30))
def test_tags_of_axes_are_within_the_picture_and_not_on_each_other(lines: list[tuple[float, ...]]) -> None:
    axes = tuple(GridAxis(str(number), ((a, b), (c, d))) for number, (a, b, c, d) in enumerate(lines))
    camera = fit_camera([box_mm((0.0, 0.0, 0.0), (20_000.0, 0.0, 0.0), 100.0, 50.0)])
    frame = (8.0, 36.0, 772.0, 577.0)
    canvas = Canvas(WIDTH, HEIGHT)
    grids = [Grid((axes,))] if axes else []
    tags = draw_grid(canvas, View(camera, WIDTH, HEIGHT), grids, (10_000.0, 50.0, 25.0), 300_000.0, frame)
    for number, one in enumerate(tags):
        assert frame[0] - 1e-6 <= one[0] < one[2] <= frame[2] + 1e-6
        assert frame[1] - 1e-6 <= one[1] < one[3] <= frame[3] + 1e-6
        for two in tags[:number]:
            assert one[2] <= two[0] or two[2] <= one[0] or one[3] <= two[1] or two[3] <= one[1]


def test_the_picture_says_the_storeys_and_the_space_that_all_lie_in() -> None:
    result = small_result()
    of = result.topics[0]
    assert Gallery(result)._where(of) == "Level 1, Plant room"
    rows = [
        replace(row, place=replace(row.place, storey=f"Level {number}", space=f"Room {number}"))
        for number, row in zip((10, 9, 8, 7, 6), result.carriers, strict=True)
    ]
    several = replace(of, carriers=tuple(row.key for row in rows))
    assert Gallery(replace(result, carriers=tuple(rows)))._where(several) == "Level 6, Level 7, Level 8 and 2 more"
    # of a question without a carrier, those of the ends
    ends = replace(of, carriers=(), cables=(Place("board", "", tag="DB-1", storey="Level 3"),))
    assert Gallery(result)._where(ends) == "Level 3"


def test_the_ends_of_circuits_are_marked_where_a_note_selects_them() -> None:
    board = EquipmentRow("board", "DB-1", "Level 1", (9000.0, 9000.0, 1000.0), ("C1",))
    result = replace(small_result(), equipment=(board,))
    asked = replace(
        result.topics[0],
        carriers=(),
        cables=(Place("board", "", tag="DB-1"),),
        camera=fit_camera([cube((9000.0, 9000.0, 1000.0))]),
        worst="",
    )
    assert reds(picture(result, asked)) > 300
    assert reds(picture(result, replace(asked, cables=()))) == 0


def test_very_many_small_lengths_keep_their_colour() -> None:
    """A line around each as wide as around a few would leave nothing but that."""
    rows = [
        carrier(number, box_mm((400.0 * number, 3000.0 * (number % 20), 0.0), (300.0, 0.0, 0.0), 20.0, 20.0))
        for number in range(100, 100 + 10 * MANY)
    ]
    result = small_result()
    of = replace(topic(rows, result.findings[:1]), carriers=tuple(row.key for row in rows))
    assert reds(picture(replace(result, carriers=tuple(rows), surroundings=()), of)) > len(rows)
