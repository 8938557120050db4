import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lxml import etree

from checker.model import Place, Vec
from checker.report.bcf_viewpoint import viewpoint
from checker.result.camera import fit_camera
from checker.result.dialect import V2, V3, Dialect
from checker.result.tables import Box
from tests.report.opened import file_of, with_topic
from tests.report.results import global_id, guid, small_result

places = st.floats(-1e9, 1e9)  # up to a thousand kilometres from the origin
edges = st.tuples(*[st.floats(-200_000.0, 200_000.0)] * 3)
anywhere = st.builds(lambda corner, *of: Box(corner, of), st.tuples(places, places, places), edges, edges, edges)
NONE = (0.0, 0.0, 0.0)
RUN_200_M = Box((1e9, -1e9, 2700.0), ((200_000.0, 0.0, 0.0), (0.0, 100.0, 0.0), (0.0, 0.0, 50.0)))
SPECK = Box((-1e9, 1e9, 0.0), ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
RISER = Box((0.0, 0.0, -7000.0), ((0.0, 0.0, 28_000.0), (300.0, 0.0, 0.0), (0.0, 60.0, 0.0)))


def pyramid(view: etree._Element, dialect: Dialect) -> tuple[float, float]:
    """How far a camera sees to the side and upward at a distance of 1, by what each version's schema says of its field of view."""
    half = math.tan(math.radians(float(view.findtext("FieldOfView") or "")) / 2.0)
    if dialect is V2:  # across, in a picture that may be as flat as 16:9
        return half, half / (16.0 / 9.0)
    return half * float(view.findtext("AspectRatio") or ""), half  # upward


@settings(max_examples=150, deadline=None)
@given(st.lists(anywhere, min_size=1, max_size=4))
@example([RUN_200_M])
@example([SPECK])
@example([RISER])
@example([Box((1e9, 1e9, 1e9), (NONE, NONE, NONE))])
@example([RUN_200_M, SPECK])
def test_every_corner_is_in_view_by_what_the_file_says_in_both_versions(boxes: list[Box]) -> None:
    for dialect in (V2, V3):
        view = etree.fromstring(viewpoint(guid("a topic"), (), fit_camera(boxes), dialect)).find("PerspectiveCamera")
        point, ahead, up = (
            tuple(float(value.text) for value in view.find(tag))
            for tag in ("CameraViewPoint", "CameraDirection", "CameraUpVector")
        )
        assert math.hypot(*ahead) == pytest.approx(1.0, abs=2e-6)
        assert math.hypot(*up) == pytest.approx(1.0, abs=2e-6)
        assert math.fsum(a * b for a, b in zip(ahead, up, strict=True)) == pytest.approx(0.0, abs=2e-6)
        side = (
            ahead[1] * up[2] - ahead[2] * up[1],
            ahead[2] * up[0] - ahead[0] * up[2],
            ahead[0] * up[1] - ahead[1] * up[0],
        )
        across, high = pyramid(view, dialect)
        for box in boxes:
            for corner in corners_m(box):
                ray = [a - b for a, b in zip(corner, point, strict=True)]
                depth, right, above = (
                    math.fsum(a * b for a, b in zip(ray, axis, strict=True)) for axis in (ahead, side, up)
                )
                assert depth > 0.0
                assert abs(right) <= across * depth
                assert abs(above) <= high * depth


def corners_m(box: Box) -> list[Vec]:
    """The eight corners, in metres."""
    found = [box.corner_mm]
    for edge in box.edges_mm:
        found += [(x + edge[0], y + edge[1], z + edge[2]) for x, y, z in found]
    return [(x / 1000.0, y / 1000.0, z / 1000.0) for x, y, z in found]


def test_a_viewpoint_selects_colours_and_looks_in_the_order_of_the_schema() -> None:
    result = small_result()
    camera = result.topics[0].camera
    view = file_of(result, "viewpoint.bcfv")

    assert [child.tag for child in view] == ["Components", "PerspectiveCamera"]
    parts = view.find("Components")
    assert [child.tag for child in parts] == ["ViewSetupHints", "Selection", "Visibility", "Coloring"]
    assert parts.find("Visibility").get("DefaultVisibility") == "true"
    assert [one.findtext("AuthoringToolId") for one in parts.find("Selection")] == ["T-001", "T-002", "W-77"]
    colour = parts.find("Coloring/Color")
    assert colour.get("Color") == "FFFF0000"
    assert [one.get("IfcGuid") for one in colour] == [one.get("IfcGuid") for one in parts.find("Selection")]
    assert camera is not None
    point = [float(value.text) for value in view.find("PerspectiveCamera/CameraViewPoint")]
    assert point == pytest.approx(camera.point_m, abs=1e-6)


def test_the_viewpoint_that_the_markup_names_is_the_one_in_the_file() -> None:
    result = small_result()
    view = file_of(result, "markup.bcf").find("Viewpoints")

    assert view.get("Guid") == file_of(result, "viewpoint.bcfv").get("Guid")
    assert (view.findtext("Viewpoint"), view.findtext("Snapshot")) == ("viewpoint.bcfv", "snapshot.png")


def test_without_a_camera_the_viewpoint_still_selects() -> None:
    view = file_of(with_topic(small_result(), camera=None), "viewpoint.bcfv")

    assert [child.tag for child in view] == ["Components"]
    assert len(view.find("Components/Selection")) == 3


def test_a_list_has_at_most_1000_components_and_the_carriers_are_among_them() -> None:
    cables = tuple(Place(global_id(number), "m", f"W-{number}") for number in range(100, 1200))

    selection = file_of(with_topic(small_result(), cables=cables), "viewpoint.bcfv").find("Components/Selection")

    assert [one.findtext("AuthoringToolId") for one in selection][:3] == ["T-001", "T-002", "W-100"]
    assert len(selection) == 1000


def test_what_has_no_proper_global_id_is_named_by_its_tag_or_left_out() -> None:
    cables = (Place("too short", "m", "W-1"), Place("", "m", ""), Place(global_id(1), "m", "again"))

    selection = file_of(with_topic(small_result(), cables=cables), "viewpoint.bcfv").find("Components/Selection")

    assert [(one.get("IfcGuid"), one.findtext("AuthoringToolId")) for one in selection] == [
        (global_id(1), "T-001"), (global_id(2), "T-002"), (None, "W-1"),
    ]  # fmt: skip


def test_a_floor_is_cut_by_a_level_plane_whose_direction_points_into_what_it_hides() -> None:
    result = with_topic(small_result(), clip_m=-0.01)
    view = file_of(result, "viewpoint.bcfv")

    assert [child.tag for child in view] == ["Components", "PerspectiveCamera", "ClippingPlanes"]
    (plane,) = view.find("ClippingPlanes")
    assert [child.tag for child in plane] == ["Location", "Direction"]
    assert plane.findtext("Location/Z") == "-0.010000"
    assert [float(value.text) for value in plane.find("Direction")] == [0.0, 0.0, 1.0]


def test_nothing_is_cut_where_nothing_lies_in_a_floor() -> None:
    assert file_of(small_result(), "viewpoint.bcfv").find("ClippingPlanes") is None
    assert file_of(with_topic(small_result(), clip_m=1.0, camera=None), "viewpoint.bcfv").find("ClippingPlanes") is None
