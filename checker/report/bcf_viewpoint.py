"""``viewpoint.bcfv``: what a topic selects and colours, and from where it is seen."""

import math
from collections.abc import Iterable

from lxml import etree

from checker.model import Place, Vec
from checker.report.bcf_markup import FIRST_VIEW
from checker.report.bcf_xml import child, document, filled, is_global_id
from checker.result.camera import ASPECT, half_height
from checker.result.dialect import V2, Dialect
from checker.result.guids import viewpoint_guid
from checker.result.tables import Camera
from checker.result.topic_text import MOST_SELECTED

#: A clipping plane's direction points into what it hides.
UPWARD: Vec = (0.0, 0.0, 1.0)
#: Opaque red: alpha first, which is how viewers of BCF 2.1 read four bytes.
COLOUR = "FFFF0000"
#: The same in BCF 3.0; of three bytes, so that none can be taken for another.
COLOUR_3 = "FF0000"


def viewpoint(
    topic: str,
    places: Iterable[Place],
    camera: Camera | None,
    dialect: Dialect = V2,
    clip_m: float | None = None,
) -> bytes:
    """The file of a topic.

    Args:
        topic: Its Guid.
        places: The elements to select, in order; the first 1,000 that can be named are.
        camera: From where; None where nothing has a geometry, which BCF 3.0 doesn't allow.
        dialect: The version of BCF.
        clip_m: Hide what is higher than this, in m; None: hide nothing.
    """
    root = etree.Element("VisualizationInfo", Guid=viewpoint_guid(topic, FIRST_VIEW))
    components = child(root, "Components")
    chosen = _nameable(places)[:MOST_SELECTED]
    if dialect is V2:
        _hints(components)
    if chosen:
        _list(child(components, "Selection"), chosen)
    visibility = child(components, "Visibility", DefaultVisibility="true")
    if dialect is not V2:
        _hints(visibility)
    if chosen:
        colour = child(child(components, "Coloring"), "Color", Color=COLOUR if dialect is V2 else COLOUR_3)
        _list(colour if dialect is V2 else child(colour, "Components"), chosen)
    if camera is not None:
        view = child(root, "PerspectiveCamera")
        _vector(view, "CameraViewPoint", camera.point_m)
        _vector(view, "CameraDirection", camera.direction)
        _vector(view, "CameraUpVector", camera.up)
        if dialect is V2:
            child(view, "FieldOfView", f"{camera.fov_deg:g}")
        else:  # the same cone: 3.0 says how high it is, and how wide a picture
            child(view, "FieldOfView", f"{2.0 * math.degrees(math.atan(half_height(camera.fov_deg))):.6f}")
            child(view, "AspectRatio", f"{ASPECT:.6f}")
    if camera is not None and clip_m is not None:
        plane = child(child(root, "ClippingPlanes"), "ClippingPlane")
        _vector(plane, "Location", (camera.point_m[0], camera.point_m[1], clip_m))
        _vector(plane, "Direction", UPWARD)
    return document(root)


def _hints(parent: etree._Element) -> None:
    child(parent, "ViewSetupHints", SpacesVisible="false", SpaceBoundariesVisible="false", OpeningsVisible="false")


def _nameable(places: Iterable[Place]) -> list[tuple[str, str]]:
    """GlobalId and Tag of those that have one of the two, each once; empty for one that can't be written."""
    by_name: dict[tuple[str, str], tuple[str, str]] = {}
    for place in places:
        named = place.global_id if is_global_id(place.global_id) else ""
        tag = place.tag if filled(place.tag) else ""
        if named or tag:
            by_name.setdefault((named, "" if named else tag), (named, tag))
    return list(by_name.values())


def _list(parent: etree._Element, names: Iterable[tuple[str, str]]) -> None:
    for named, tag in names:
        element = child(parent, "Component")
        if named:
            element.set("IfcGuid", named)
        if tag:
            child(element, "AuthoringToolId", tag)


def _vector(parent: etree._Element, tag: str, vector: Vec) -> None:
    element = child(parent, tag)
    for axis, value in zip("XYZ", vector, strict=True):
        # adding 0 makes a negative zero a plain one
        etree.SubElement(element, axis).text = f"{round(value, 6) + 0.0:.6f}"
