"""How long ways are, along the axes of the drawing. Typed-in ways are measured; nothing here searches for one."""

import math
from itertools import pairwise

from vet_carriers import FITTINGS, SEGMENTS
from vet_equipment import EQUIPMENT
from vet_plan import Point
from vet_worked_ways import LOOPS, RINGS

DRAWN = {segment.tag: segment for segment in SEGMENTS}
PLACED = {item.tag: item.centre for item in EQUIPMENT}


def nearest_on(tag: str, point: Point) -> Point:
    """Return the point of a segment's axis that lies nearest to `point`."""
    start, end = DRAWN[tag].start, DRAWN[tag].end
    length = math.dist(start, end)
    along = sum((p - a) * (b - a) for p, a, b in zip(point, start, end, strict=True)) / length**2
    x, y, z = (a + (b - a) * min(1.0, max(0.0, along)) for a, b in zip(start, end, strict=True))
    return (x, y, z)


def joint(first: str, second: str) -> list[Point]:
    """Return the points passed where two segments meet: the end of one, a fitting's centre if any, the other's end."""
    for fitting in FITTINGS:
        tags = [join.split(":")[0] for join in fitting.joins]
        if first in tags and second in tags:
            ends = [fitting.joins[tags.index(tag)].split(":")[1] for tag in (first, second)]
            leave, enter = (getattr(DRAWN[tag], end) for tag, end in zip((first, second), ends, strict=True))
            return [leave, fitting.centre, enter]
    if DRAWN[first].end == DRAWN[second].start:
        return [DRAWN[first].end]
    raise ValueError(f"the plan shows no joint between {first} and {second}")


def length_m(tags: list[str], origin: str, calls: list[str]) -> float:
    """Return the length along a way. A call on the way lies between its two ends and adds nothing."""
    points = [nearest_on(tags[0], PLACED[origin])]
    for first, second in pairwise(tags):
        points += joint(first, second)
    points.append(nearest_on(tags[-1], PLACED[calls[-1]]))
    return sum(math.dist(a, b) for a, b in pairwise(points)) / 1000


def circuit_length_m(row: dict[str, str], tags: list[str]) -> float:
    """Return the length of a circuit's way: a ring goes out to its farthest call, and back the same way; a loop leg by leg."""
    calls = row["to"].split(";")
    if row["circuit"] in LOOPS:
        ends = pairwise((row["from"], *calls))
        legs = zip(LOOPS[row["circuit"]], ends, strict=True)
        return sum(length_m(leg.split(), origin, [call]) for leg, (origin, call) in legs)
    if row["circuit"] in RINGS:
        return 2 * length_m(tags, row["from"], calls[:-1])
    return length_m(tags, row["from"], calls)
