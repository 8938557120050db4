"""``viewpoint.bcfv``: what a topic selects and colours, and from where it is seen."""

from collections.abc import Iterable

from lxml import etree

from checker.model import Place, Vec
from checker.report.bcf_markup import FIRST_VIEW
from checker.report.bcf_xml import child, document, is_global_id
from checker.result.guids import viewpoint_guid
from checker.result.tables import Camera

MOST_COMPONENTS = 1000
#: Opaque red: alpha first, which is how viewers of BCF 2.1 read four bytes.
COLOUR = "FFFF0000"


def viewpoint(topic: str, places: Iterable[Place], camera: Camera | None) -> bytes:
    """The file of a topic.

    Args:
        topic: Its Guid.
        places: The elements to select, in order; the first 1,000 that can be named are.
        camera: From where; None where nothing has a geometry.
    """
    root = etree.Element("VisualizationInfo", Guid=viewpoint_guid(topic, FIRST_VIEW))
    components = child(root, "Components")
    child(components, "ViewSetupHints", SpacesVisible="false", SpaceBoundariesVisible="false", OpeningsVisible="false")
    chosen = _nameable(places)[:MOST_COMPONENTS]
    if chosen:
        _list(child(components, "Selection"), chosen)
    child(components, "Visibility", DefaultVisibility="true")
    if chosen:
        _list(child(child(components, "Coloring"), "Color", Color=COLOUR), chosen)
    if camera is not None:
        view = child(root, "PerspectiveCamera")
        _vector(view, "CameraViewPoint", camera.point_m)
        _vector(view, "CameraDirection", camera.direction)
        _vector(view, "CameraUpVector", camera.up)
        child(view, "FieldOfView", f"{camera.fov_deg:g}")
    return document(root)


def _nameable(places: Iterable[Place]) -> list[Place]:
    """Those with a GlobalId or a Tag, each once."""
    by_name: dict[tuple[str, str], Place] = {}
    for place in places:
        if is_global_id(place.global_id):
            by_name.setdefault((place.global_id, ""), place)
        elif place.tag:
            by_name.setdefault(("", place.tag), place)
    return list(by_name.values())


def _list(parent: etree._Element, places: list[Place]) -> None:
    for place in places:
        element = child(parent, "Component")
        if is_global_id(place.global_id):
            element.set("IfcGuid", place.global_id)
        if place.tag:
            child(element, "AuthoringToolId", place.tag)


def _vector(parent: etree._Element, tag: str, vector: Vec) -> None:
    element = child(parent, tag)
    for axis, value in zip("XYZ", vector, strict=True):
        # adding 0 makes a negative zero a plain one
        child(element, axis, f"{round(value, 6) + 0.0:.6f}")
