"""Whether a carrier that becomes larger would reach into another one beside it or across it, where nobody could build it."""

from collections.abc import Iterable, Mapping

from checker.model import Body, Carrier
from checker.model.geometry import cross, dot, midpoint, scale, sub, unit

#: What is drawn may reach into each other by as much: sizes are rounded.
TOLERATED_MM = 1.0
#: Directions that are nearly the same tell nothing between them.
SAME_WAY = 1e-6


def clashes(sized: Mapping[str, Carrier], around: Iterable[Carrier], joined: Mapping[str, set[str]]) -> bool:
    """Whether any carrier that is resized reaches farther into another one than before.

    Bent ones, and such of which size or position isn't known, reach into nothing here; so do those that are joined, which meet anyway.

    Args:
        sized: The resized ones, by key.
        around: What lies around them, themselves as they were before among it.
        joined: Each carrier with those that it is joined to.
    """
    before = {own.key: own for own in around}
    boxes = {key: box for key, own in before.items() if (box := _box(own)) is not None}
    for key, own in sized.items():
        old, new = boxes.get(key), _box(own)
        if old is None or new is None:
            continue
        for other, box in boxes.items():
            if other == key or other in joined.get(key, ()):
                continue
            now = _box(sized[other]) if other in sized else box
            if now is not None and _depth_mm(new, now) > max(0.0, _depth_mm(old, box)) + TOLERATED_MM:
                return True
    return False


def _box(carrier: Carrier) -> Body | None:
    start, end, across, section = carrier.start_mm, carrier.end_mm, carrier.across, carrier.section
    if start is None or end is None or across is None or carrier.corners_mm or not carrier.length_mm:
        return None
    if section.is_round:
        size = section.outside_diameter_mm if section.outside_diameter_mm is not None else section.bore_mm
        sizes = (size, size)
    else:
        sizes = (section.width_mm, section.height_mm)
    width, height = sizes
    if width is None or height is None:
        return None
    along = unit(sub(end, start))
    if along is None:
        return None
    half = (carrier.length_mm / 2.0, width / 2.0, height / 2.0)
    return Body(midpoint(start, end), (along, across, cross(along, across)), half)


def _depth_mm(one: Body, other: Body) -> float:
    """By how much two boxes reach into each other, in the direction in which it is least; below 0 where something parts them."""
    off = sub(other.centre_mm, one.centre_mm)
    least = float("inf")
    crossing = (cross(a, b) for a in one.axes for b in other.axes)
    for axis in (*one.axes, *other.axes, *crossing):
        length = dot(axis, axis) ** 0.5
        if length < SAME_WAY:
            continue
        way = scale(axis, 1.0 / length)
        reach = sum(
            half * abs(dot(own, way)) for box in (one, other) for own, half in zip(box.axes, box.half_mm, strict=True)
        )
        least = min(least, reach - abs(dot(off, way)))
        if least <= 0.0:
            break
    return least
