import pytest

from checker.model import Place
from tests.report.opened import file_of, with_topic
from tests.report.results import global_id, small_result


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
