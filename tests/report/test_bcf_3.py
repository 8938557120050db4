"""Notes of BCF 3.0."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from bcf.v3.bcfxml import BcfXml
from lxml import etree

from checker.model import Place
from checker.report.bcf import write_bcf
from checker.result.dialect import V3
from checker.result.tables import Result
from tests.report.opened import file_of, unpacked, with_topic
from tests.report.results import global_id, small_result
from tests.report.test_bcf import needs_schemas, validate_all

NO_BOXES = replace(
    small_result(), carriers=tuple(replace(row, boxes=()) for row in small_result().carriers), surroundings=()
)


def without_camera(result: Result) -> Result:
    return replace(result, topics=tuple(replace(topic, camera=None) for topic in result.topics))


@pytest.mark.corpus
@needs_schemas
def test_every_file_is_valid_by_its_official_schema() -> None:
    # version, project, words, and markup and viewpoint of two topics
    assert validate_all(write_bcf(small_result(), V3), "3.0") == 7


@pytest.mark.corpus
@needs_schemas
def test_it_is_valid_with_odd_and_empty_texts_and_with_nothing_to_see_too() -> None:
    odd = with_topic(small_result(), title=" \x00", description="", priority=" ", labels=("", " ", "a\x00b"))
    nameless = replace(odd, project_key="", project_name=" ", topics=odd.topics[:1], revision="P03", status="S4")
    places = (Place("", "m", " "), Place(global_id(5), "m", "\x0b"))

    assert validate_all(write_bcf(with_topic(odd, cables=places), V3), "3.0") == 7
    assert validate_all(write_bcf(nameless, V3), "3.0") == 4  # no project, one topic
    assert validate_all(write_bcf(replace(small_result(), topics=()), V3), "3.0") == 3
    assert validate_all(write_bcf(without_camera(NO_BOXES), V3), "3.0") == 5  # no viewpoints


def test_another_program_s_library_finds_everything(tmp_path: Path) -> None:
    result = small_result()
    path = tmp_path / "issues.bcf"
    path.write_bytes(write_bcf(result, V3))

    book = BcfXml.load(path)

    assert book is not None
    assert book.project_info.project.name == "Plant room"
    assert book.extensions.topic_statuses.topic_status == ["Open", "Review", "Closed"]
    assert set(book.topics) == {topic.guid for topic in result.topics}
    handler = book.topics[result.topics[0].guid]
    assert handler.topic.title == "T-001: 52.3% full"
    assert handler.topic.topic_status == "Open"
    assert handler.topic.labels.label == ["Fill", "Trunking"]
    assert [file.filename for file in handler.header.files.file] == ["plant room.ifc"]
    view = handler.viewpoints["viewpoint.bcfv"]
    assert view.get_selected_guids() == [global_id(1), global_id(2), global_id(77)]  # carriers before cables
    assert view.visualization_info.perspective_camera.aspect_ratio == pytest.approx(16 / 9, abs=1e-6)
    assert view.snapshot.startswith(b"\x89PNG")


def test_the_same_result_gives_the_same_bytes() -> None:
    assert write_bcf(small_result(), V3) == write_bcf(small_result(), V3)


def test_lists_are_wrapped_and_the_viewpoint_is_inside_the_topic() -> None:
    root = file_of(small_result(), "markup.bcf", dialect=V3)

    assert [child.tag for child in root] == ["Header", "Topic"]
    assert [child.tag for child in root.find("Topic")] == [
        "Title", "Priority", "Index", "Labels", "CreationDate", "CreationAuthor", "Description", "Viewpoints",
    ]  # fmt: skip
    assert [label.text for label in root.find("Topic/Labels")] == ["Fill", "Trunking"]
    assert [file.findtext("Filename") for file in root.find("Header/Files")] == ["plant room.ifc"]
    assert root.find("Header/Files/File").get("IsExternal") == "true"


def test_both_versions_say_the_same() -> None:
    old, new = file_of(small_result(), "markup.bcf"), file_of(small_result(), "markup.bcf", dialect=V3)
    for tag in ("Title", "Priority", "Description", "CreationDate"):
        assert new.findtext(f"Topic/{tag}") == old.findtext(f"Topic/{tag}")
    assert dict(new.find("Topic").attrib) == dict(old.find("Topic").attrib)


def test_the_field_of_view_is_the_height_of_the_same_cone() -> None:
    camera = file_of(small_result(), "viewpoint.bcfv", dialect=V3).find("PerspectiveCamera")
    wide, high, aspect = 60.0, float(camera.findtext("FieldOfView")), float(camera.findtext("AspectRatio"))

    # a picture at distance 1 is 2·tan(wide / 2) wide and 2·tan(high / 2) high
    assert math.tan(math.radians(wide / 2)) / math.tan(math.radians(high / 2)) == pytest.approx(aspect, rel=1e-5)
    assert aspect == pytest.approx(16 / 9, rel=1e-5)


def test_hints_and_coloured_components_stand_where_this_version_has_them() -> None:
    parts = file_of(small_result(), "viewpoint.bcfv", dialect=V3).find("Components")

    assert [child.tag for child in parts] == ["Selection", "Visibility", "Coloring"]
    assert parts.find("Visibility/ViewSetupHints").get("SpacesVisible") == "false"
    colour = parts.find("Coloring/Color")
    assert colour.get("Color") == "FF0000"
    assert [one.get("IfcGuid") for one in colour.find("Components")] == [
        one.get("IfcGuid") for one in parts.find("Selection")
    ]


def test_a_topic_without_geometry_is_seen_with_all_that_has_one() -> None:
    """Another carrier than its own: 3.0 has no viewpoint without a camera, and its selection is worth keeping."""
    result = without_camera(small_result())
    view = file_of(result, "viewpoint.bcfv", dialect=V3)
    point = [float(value.text) for value in view.find("PerspectiveCamera/CameraViewPoint")]
    look = [float(value.text) for value in view.find("PerspectiveCamera/CameraDirection")]

    assert len(view.find("Components/Selection")) == 3
    # the boxes reach from 0 to 6.05 m, from -0.05 to 4 m, and from 0 to 2.725 m; the view goes through their middle
    to = [(3.0 - point[0]) / look[0], (2.0 - point[1]) / look[1], (1.36 - point[2]) / look[2]]
    assert max(to) - min(to) < 0.2


def test_where_nothing_has_a_geometry_there_is_a_picture_alone() -> None:
    result = without_camera(NO_BOXES)
    view = file_of(result, "markup.bcf", dialect=V3).find("Topic/Viewpoints/ViewPoint")

    assert [child.tag for child in view] == ["Snapshot", "Index"]
    folder = f"{result.topics[0].guid}/"
    assert sorted(path for path in unpacked(write_bcf(result, V3)) if path.startswith(folder) and path != folder) == [
        f"{folder}markup.bcf", f"{folder}snapshot.png",
    ]  # fmt: skip


def test_the_words_in_use_and_who_writes_are_listed_in_the_order_of_the_schema() -> None:
    result = with_topic(small_result(), labels=("Fill", "Riser"), priority="Low")
    root = etree.fromstring(unpacked(write_bcf(result, V3))["extensions.xml"])

    assert [child.tag for child in root] == [
        "TopicTypes", "TopicStatuses", "Priorities", "TopicLabels", "Users", "SnippetTypes", "Stages",
    ]  # fmt: skip
    lists = {group.tag: [word.text for word in group] for group in root}
    assert lists["TopicStatuses"] == ["Open", "Review", "Closed"]
    assert lists["Priorities"] == ["High", "Low", "Normal"]
    assert lists["TopicLabels"] == ["Fill", "Riser", "Trunking"]
    assert lists["Users"] == ["wayroom"]
    assert lists["Stages"] == []
