import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model.geometry import Vec, cross, dot, norm, sub
from checker.result.camera import fit_camera
from checker.result.tables import Box, Camera

lengths = st.floats(1.0, 60_000.0)
turns = st.floats(0.0, 2.0 * math.pi)
places = st.floats(-500_000.0, 500_000.0)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    """A box of any size, turned about the vertical and tilted about its own first edge."""
    turn, tilt = draw(turns), draw(turns)
    along = (math.cos(turn), math.sin(turn), 0.0)
    across = (-math.sin(turn) * math.cos(tilt), math.cos(turn) * math.cos(tilt), math.sin(tilt))
    edges = []
    for direction in (along, across, cross(along, across)):
        length = draw(lengths)
        edges.append((direction[0] * length, direction[1] * length, direction[2] * length))
    return Box((draw(places), draw(places), draw(places)), (edges[0], edges[1], edges[2]))


def corners_m(box: Box) -> list[Vec]:
    a, b, c = box.edges_mm
    return [
        (
            (box.corner_mm[0] + i * a[0] + j * b[0] + k * c[0]) / 1000.0,
            (box.corner_mm[1] + i * a[1] + j * b[1] + k * c[1]) / 1000.0,
            (box.corner_mm[2] + i * a[2] + j * b[2] + k * c[2]) / 1000.0,
        )
        for i in (0, 1)
        for j in (0, 1)
        for k in (0, 1)
    ]


def is_in_view(point: Vec, camera: Camera) -> bool:
    ray = sub(point, camera.point_m)
    depth = dot(ray, camera.direction)
    half_width = math.tan(math.radians(camera.fov_deg / 2.0)) * depth
    across = abs(dot(ray, cross(camera.direction, camera.up)))
    return depth > 0.0 and across <= half_width and abs(dot(ray, camera.up)) <= half_width * 9.0 / 16.0


@given(st.lists(boxes(), min_size=1, max_size=4))
def test_every_corner_of_every_box_is_in_front_of_the_camera_and_in_view(these: list[Box]) -> None:
    camera = fit_camera(these)

    assert all(is_in_view(point, camera) for box in these for point in corners_m(box))


@given(boxes())
def test_directions_are_of_length_one_upright_and_square_to_each_other(box: Box) -> None:
    camera = fit_camera([box])

    assert norm(camera.direction) == pytest.approx(1.0)
    assert norm(camera.up) == pytest.approx(1.0)
    assert dot(camera.direction, camera.up) == pytest.approx(0.0, abs=1e-12)
    assert camera.up[2] > 0.0  # heads up
    assert camera.direction[2] < 0.0  # looking down


def test_worked_example_of_a_box_2_by_2_by_1_m() -> None:
    # r = √(2² + 2² + 1²) / 2 = 1.5 m; tan 30° / (16/9) = 0.32476; sin(atan 0.32476) = 0.30888
    # 1.1 · 1.5 / 0.30888 = 5.342 m
    box = Box((10_000.0, 0.0, 0.0), ((2000.0, 0.0, 0.0), (0.0, 2000.0, 0.0), (0.0, 0.0, 1000.0)))

    camera = fit_camera([box])

    assert math.dist(camera.point_m, (11.0, 1.0, 0.5)) == pytest.approx(5.342, abs=5e-4)
    assert camera.fov_deg == 60.0


def test_a_tiny_box_is_seen_from_no_nearer_than_1_5_m() -> None:
    camera = fit_camera([Box((0.0, 0.0, 0.0), ((20.0, 0.0, 0.0), (0.0, 20.0, 0.0), (0.0, 0.0, 20.0)))])

    assert math.dist(camera.point_m, (0.01, 0.01, 0.01)) == pytest.approx(1.5)


def test_no_boxes_are_refused() -> None:
    with pytest.raises(ValueError, match="no boxes"):
        fit_camera([])
