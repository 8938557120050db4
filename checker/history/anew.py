"""Elements that were deleted and made again: the same tag at about the same place, with another GlobalId.

Of an element of an earlier run its notes keep the GlobalId and the tag (in the selection of a viewpoint) and from where it was seen. The
camera had all of the topic in view, from a distance that goes by its size: that is as near to its place as can be told.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from lxml import etree

from checker.history.identity import finding_id
from checker.history.outcome import Run, rules_with
from checker.history.topic import Topic, parsed
from checker.model.geometry import Vec, distance, dot, scale, sub, unit
from checker.result.camera import extent_mm, fit_camera
from checker.result.tables import CarrierRow
from checker.units import MM_PER_M

#: A camera's view, corner to corner, ends about 34° from its middle.
_LEAST_COSINE = math.cos(math.radians(35.0))
#: Of a topic of several elements some may be gone, so that the rest would be seen from nearer by.
_MOST_TIMES_AWAY = 4.0
#: Numbers of compartments that a carrier is looked for with.
_MOST_COMPARTMENTS = 20


@dataclass(frozen=True, slots=True)
class Selected:
    """An element that a topic selects: the GlobalId, the tag, and a carrier of this run that stands for it where it was made anew."""

    global_id: str
    tag: str
    made_anew: CarrierRow | None = None


def selected(topic: Topic, run: Run) -> list[Selected]:
    """The elements that a topic's viewpoints select."""
    found: dict[str, Selected] = {}
    for content in run.views(topic):
        try:
            root = parsed(content).getroot()
        except etree.XMLSyntaxError:
            continue
        there = [
            Selected(own, (one.findtext("AuthoringToolId") or "").strip())
            for one in root.iterfind("Components/Selection/Component")
            if (own := one.get("IfcGuid", "").strip())
        ]
        again = _made_anew(there, _camera(root), run)
        for one in there:
            if one.global_id not in found or one.global_id in again:
                found[one.global_id] = replace(one, made_anew=again.get(one.global_id))
    return list(found.values())


def findings_on(rule: str, elements: Iterable[Selected], run: Run) -> dict[str, tuple[Selected, int | None]]:
    """The elements and numbers of compartments that findings of a topic of a rule were about, by what these findings' ids would be."""
    key = run.facts.project_key
    rules = rules_with(rule)
    numbers = (None, *range(1, _MOST_COMPARTMENTS + 1))
    return {
        finding_id(key, own, [one.global_id], number): (one, number)
        for own in rules
        for one in elements
        for number in numbers
    }


def _made_anew(there: Sequence[Selected], camera: tuple[Vec, Vec] | None, run: Run) -> dict[str, CarrierRow]:
    """The carriers that stand for elements which are gone, by the GlobalIds of these."""
    left = {one.global_id: run.by_global_id[one.global_id] for one in there if one.global_id in run.by_global_id}
    again = {
        one.global_id: row
        for one in there
        if one.global_id not in left
        and (row := run.by_tag.get(one.tag)) is not None
        and row.place.global_id not in left
    }
    if not again or camera is None:
        return {}
    seen = {old: row for old, row in again.items() if _is_in_sight(*camera, row)}
    return seen if seen and _is_as_near(camera[0], [*left.values(), *seen.values()]) else {}


def _camera(root: etree._Element) -> tuple[Vec, Vec] | None:
    """Where the camera of a viewpoint stands, in m, and its direction."""
    point, look = (_vector(root, f"PerspectiveCamera/{tag}") for tag in ("CameraViewPoint", "CameraDirection"))
    direction = unit(look) if look else None
    return (point, direction) if point and direction else None


def _vector(root: etree._Element, path: str) -> Vec | None:
    try:
        x, y, z = (float(root.findtext(f"{path}/{axis}") or "") for axis in "XYZ")
    except ValueError:
        return None
    return (x, y, z) if all(map(math.isfinite, (x, y, z))) else None


def _is_in_sight(point_m: Vec, direction: Vec, row: CarrierRow) -> bool:
    if not row.boxes:
        return False
    centre_mm, _ = extent_mm(row.boxes)
    there = unit(sub(scale(centre_mm, 1.0 / MM_PER_M), point_m))
    return there is not None and dot(there, direction) >= _LEAST_COSINE


def _is_as_near(point_m: Vec, rows: Iterable[CarrierRow]) -> bool:
    """Whether a camera would be about as near to what there is now."""
    boxes = [box for row in rows for box in row.boxes]
    centre_m = scale(extent_mm(boxes)[0], 1.0 / MM_PER_M)
    return distance(point_m, centre_m) <= _MOST_TIMES_AWAY * distance(fit_camera(boxes).point_m, centre_m)
