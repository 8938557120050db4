"""What the left of a snapshot shows: always all of the topic, from afar enough, with the ends of circuits where those are asked about."""

import io
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checker.model import Place
from checker.report.projection import View
from checker.report.scene import FAILING, LEAST_AWAY_M, MANY
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
