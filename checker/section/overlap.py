"""The check of a packing: plain geometry of segments in millimetres, in other ways than the packer's own."""

import math
from collections.abc import Sequence

from checker.section.shapes import Body, Corner, Inside, Placed, Round, corners_mm

Segment = tuple[Corner, Corner]
#: Bodies that overlap by this or more have no place.
OVERLAP_UM = 1.0


def overlap_um(inside: Inside, bodies: Sequence[Body], placed: Sequence[Placed]) -> float:
    """By how much bodies overlap each other or stand out of the inside, at most.

    Args:
        inside: The inside of a carrier; a channel ends at its sides.
        bodies: All that there are.
        placed: Where they lie; those that aren't named aren't asked about.

    Returns:
        The largest overlap in µm, 0 where there is none. Of two bodies whose middle lines cross it's their radii's sum.

    Raises:
        ValueError: A body is placed twice, isn't among the bodies, or lies nowhere.
    """
    if len({place.body for place in placed}) < len(placed):
        raise ValueError("a body is placed twice")
    segments = []
    for place in placed:
        if not 0 <= place.body < len(bodies):
            raise ValueError(f"there is no body {place.body}: there are {len(bodies)}")
        if not (math.isfinite(place.x_mm) and math.isfinite(place.y_mm)):
            raise ValueError(f"body {place.body} lies nowhere: {place.x_mm}, {place.y_mm}")
        segments.append(middle_line(bodies[place.body], place))
    radii = [bodies[place.body].thickness_mm / 2.0 for place in placed]
    reach = [
        (min(a[0], b[0]) - radius, max(a[0], b[0]) + radius) for (a, b), radius in zip(segments, radii, strict=True)
    ]
    order = sorted(range(len(placed)), key=lambda i: reach[i])
    worst = 0.0
    for at, i in enumerate(order):  # from left to right: what begins right of where a body ends can't overlap it
        worst = max(worst, _out_of(inside, segments[i], radii[i]))
        for j in order[at + 1 :]:
            if reach[j][0] > reach[i][1]:
                break
            worst = max(worst, radii[i] + radii[j] - _apart(segments[i], segments[j]))
    return worst * 1000.0


def middle_line(body: Body, place: Placed) -> Segment:
    """The segment that a stadium is drawn around; of a circle its centre twice."""
    half = (body.length_mm - body.thickness_mm) / 2.0
    lies = (body.width_mm >= body.height_mm) != place.turned
    dx, dy = (half, 0.0) if lies else (0.0, half)
    return (place.x_mm - dx, place.y_mm - dy), (place.x_mm + dx, place.y_mm + dy)


def _out_of(inside: Inside, segment: Segment, radius: float) -> float:
    """By how much a stadium stands out, in mm; not above 0 where it is within."""
    if isinstance(inside, Round):
        middle = inside.diameter_mm / 2.0
        return max(math.hypot(x - middle, y - middle) for x, y in segment) + radius - middle
    corners = corners_mm(inside)
    sides = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    nearest = min(_apart(segment, side) for side in sides)
    outside = [end for end in segment if not _holds(corners, end)]
    if not outside:
        return radius - nearest
    return radius + max(min(_from_point(end, side) for side in sides) for end in outside)


def _holds(corners: Sequence[Corner], point: Corner) -> bool:
    """Whether a point lies in a polygon, by how often a ray to the right leaves it."""
    x, y = point
    holds = False
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            holds = not holds
    return holds


def _from_point(point: Corner, segment: Segment) -> float:
    (ax, ay), (bx, by) = segment
    ux, uy = bx - ax, by - ay
    square = ux * ux + uy * uy
    share = 0.0 if square == 0.0 else min(1.0, max(0.0, ((point[0] - ax) * ux + (point[1] - ay) * uy) / square))
    return math.hypot(point[0] - ax - share * ux, point[1] - ay - share * uy)


def _apart(one: Segment, other: Segment) -> float:
    """The distance of two segments, 0 where they cross."""
    if _cross(one, other):
        return 0.0
    ends = [_from_point(end, other) for end in one]
    return min(*ends, *(_from_point(end, one) for end in other))


def _cross(one: Segment, other: Segment) -> bool:
    def side(segment: Segment, point: Corner) -> float:
        (ax, ay), (bx, by) = segment
        return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)

    return side(one, other[0]) * side(one, other[1]) < 0.0 and side(other, one[0]) * side(other, one[1]) < 0.0
