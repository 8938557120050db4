"""How long ways are, along the axes of the drawing. Typed-in ways are measured; nothing here searches for one."""

import math
from collections import defaultdict
from itertools import pairwise

from data_carriers import FITTINGS, JOINTS, SEGMENTS
from data_equipment import EQUIPMENT
from data_plan import Point
from data_worked_ways import AT_PORTS

DRAWN = {segment.tag: segment for segment in SEGMENTS}
PLACED = {item.tag: item.centre for item in EQUIPMENT}
CENTRES = {fitting.tag: fitting.centre for fitting in FITTINGS}


def end_of(text: str) -> Point:
    """Return the point of an end, given as `tag:start` or `tag:end`."""
    tag, end = text.split(":")
    return DRAWN[tag].start if end == "start" else DRAWN[tag].end


def nearest_on(tag: str, point: Point) -> Point:
    """Return the point of a carrier's axis that lies nearest to `point`."""
    start, end = DRAWN[tag].start, DRAWN[tag].end
    length = math.dist(start, end)
    along = sum((p - a) * (b - a) for p, a, b in zip(point, start, end, strict=True)) / length**2
    x, y, z = (a + (b - a) * min(1.0, max(0.0, along)) for a, b in zip(start, end, strict=True))
    return (x, y, z)


def joint(first: str, second: str) -> list[Point]:
    """Return the points passed where two carriers meet: directly, at the side of one of them, or in a bend."""
    in_bends: dict[str, dict[str, str]] = defaultdict(dict)
    for item in JOINTS:
        tag, other = item.one.split(":")[0], item.other.split(":")[0]
        if other in CENTRES:
            in_bends[other][tag] = item.one
        elif {tag, other} == {first, second}:
            if item.how == "side":
                points = [end_of(item.one), nearest_on(other, end_of(item.one))]
            else:
                points = [end_of(item.one), end_of(item.other)]
            return points if tag == first else points[::-1]
    for bend, ends in in_bends.items():
        if first in ends and second in ends:
            return [end_of(ends[first]), CENTRES[bend], end_of(ends[second])]
    raise ValueError(f"the plan shows no joint between {first} and {second}")


def landing(tag: str, equipment: str) -> Point:
    """Return where a carrier is left or entered: at the port of a panel, else at the place nearest to the equipment."""
    ports = [end for end in AT_PORTS.get(equipment, ()) if end.startswith(tag)]
    return end_of(ports[0]) if ports else nearest_on(tag, PLACED[equipment])


def length_m(tags: list[str], origin: str, call: str) -> float:
    """Return the length along a way."""
    points = [landing(tags[0], origin)]
    for first, second in pairwise(tags):
        points += joint(first, second)
    points.append(landing(tags[-1], call))
    return sum(math.dist(a, b) for a, b in pairwise(points)) / 1000
