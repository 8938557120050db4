"""The bodies of carriers as oriented boxes, one a straight piece; which bodies touch, and how near is near enough."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model import Body, Carrier, Vec
from checker.model.geometry import (
    add,
    angle_deg,
    cross,
    distance,
    dot,
    midpoint,
    nearest_on_segment,
    norm,
    scale,
    sub,
    unit,
)
from checker.network.joins import END, START, Spot

SHARE, LEAST_MM, MOST_MM = 0.1, 10.0, 50.0
#: What is drawn to touch misses by as much as models are rounded: to a millimetre.
TOUCH_MM = 1.0
#: What should be exactly at a limit may be this much over: numbers of a place far from the origin have fewer decimals.
HAIR_MM = 0.01
#: Directions nearer than this are the same.
SAME_WAY_DEG = 15.0
UPRIGHT: Vec = (0.0, 0.0, 1.0)


def frame(along: Vec, across: Vec | None) -> tuple[Vec, Vec, Vec]:
    """Three directions at right angles: along an axis, across it as near to ``across`` as can be (else level), and up.

    Args:
        along: Any direction with a length.
        across: The direction of the section's width.
    """
    ahead = unit(along) or (1.0, 0.0, 0.0)
    wide = None
    for wish in (across, cross(UPRIGHT, ahead), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)):
        if wide is None and wish is not None:
            rest = sub(wish, scale(ahead, dot(wish, ahead)))
            wide = unit(rest) if norm(rest) > 0.1 * norm(wish) else None
    wide = wide or (0.0, 1.0, 0.0)
    return ahead, wide, cross(ahead, wide)


def larger_side_mm(carrier: Carrier) -> float:
    """The larger outside side of its section; 0 where no size is known."""
    section = carrier.section
    sizes = (section.width_mm, section.height_mm, section.outside_diameter_mm, section.bore_mm)
    return max((size for size in sizes if size is not None), default=0.0)


def tolerance_mm(carrier: Carrier) -> float:
    """How far from another's end or body its end may lie and still meet it.

    A tenth of the larger outside side: couplers, flanges and the play in how teams draw grow with the section. At least 10 mm, which a
    coupler of the smallest conduit bridges; at most 50 mm, since on a wide tray a larger gap is one that people see and mean.
    """
    return min(max(SHARE * larger_side_mm(carrier), LEAST_MM), MOST_MM)


@dataclass(frozen=True, slots=True)
class End:
    """One end of a carrier. ``frame`` begins with the direction in which its axis leaves it there; None: the axis has no length."""

    carrier: Carrier
    spot: Spot
    point_mm: Vec
    frame: tuple[Vec, Vec, Vec] | None
    half_mm: tuple[float, float]

    def reaches(self, body: Body, depth_mm: float) -> bool:
        """Whether this end, moved by a depth along its axis both ways, touches the body of a straight piece.

        It does with its whole face where the piece turns away from its own way; a piece that it runs along must hold its axis.
        """
        if body.off_mm(self.point_mm) > depth_mm + norm((*self.half_mm, TOUCH_MM)):
            return False
        if self.frame is None:
            return body.off_mm(self.point_mm) <= depth_mm + TOUCH_MM
        ahead, along = self.frame[0], body.axes[0]
        is_parallel = same_way(ahead, along) or same_way(ahead, scale(along, -1.0))
        face = (0.0, 0.0) if is_parallel else self.half_mm
        return touch(Body(self.point_mm, self.frame, (depth_mm, *face)), body)


def pieces_of(carrier: Carrier) -> list[Body]:
    """The bodies of the straight pieces of a carrier, their directions along, across and up; none where its axis isn't known."""
    half = half_mm(carrier)
    found = []
    for a, b in itertools.pairwise(carrier.axis_mm):
        if a != b:
            axes = frame(sub(b, a), carrier.across)
            found.append(Body(midpoint(a, b), axes, (distance(a, b) / 2.0, *half)))
    return found


def ends_of(carrier: Carrier) -> list[End]:
    """Both ends of a carrier; none where its axis isn't known."""
    points = carrier.axis_mm
    found = []
    for where, order in ((START, points), (END, points[::-1])):
        if order:
            inner = next((point for point in order if point != order[0]), None)
            axes = None if inner is None else frame(sub(order[0], inner), carrier.across)
            found.append(End(carrier, Spot(carrier.key, order[0], where), order[0], axes, half_mm(carrier)))
    return found


def half_mm(carrier: Carrier) -> tuple[float, float]:
    """Half its outside width and height; where one isn't known, the least tolerance stands for it."""
    section = carrier.section
    round_mm = section.outside_diameter_mm or section.bore_mm
    width = section.width_mm if section.width_mm is not None else round_mm
    height = section.height_mm if section.height_mm is not None else round_mm
    return (LEAST_MM if width is None else width / 2.0), (LEAST_MM if height is None else height / 2.0)


def nearest_on(points: Sequence[Vec], point: Vec) -> tuple[float, float, Vec] | None:
    """The nearest place of an axis: how far along it (mm), how far off the point is (mm), and where; None where there is no axis."""
    best: tuple[float, float, Vec] | None = None
    before = 0.0
    for a, b in itertools.pairwise(points):
        along, off = nearest_on_segment(point, a, b)
        length = distance(a, b)
        if best is None or off < best[1]:
            best = (before + along, off, add(a, scale(sub(b, a), along / length)) if length else a)
        before += length
    return best


def at_nearest(carrier: Carrier, point: Vec, zone_mm: float) -> Spot:
    """The place of a carrier that is nearest to a point: one of its ends if that is within a zone along the axis, else its side."""
    found = nearest_on(carrier.axis_mm, point)
    if found is None:
        return Spot(carrier.key, point)
    along, _, there = found
    length = sum(distance(a, b) for a, b in itertools.pairwise(carrier.axis_mm))
    if min(along, length - along) > zone_mm:
        return Spot(carrier.key, there, f"side {along:.1f}")
    is_start = along <= length - along
    return Spot(carrier.key, carrier.axis_mm[0 if is_start else -1], START if is_start else END)


def same_way(one: Vec, other: Vec) -> bool:
    """Whether two directions are nearly the same."""
    return angle_deg(one, other) <= SAME_WAY_DEG


def touch(one: Body, other: Body) -> bool:
    """Whether two boxes touch or overlap: no direction in which all of one lies beyond all of the other (separating axes)."""
    away = sub(other.centre_mm, one.centre_mm)
    crossed = (unit(cross(a, b)) if norm(cross(a, b)) > 1e-6 else None for a in one.axes for b in other.axes)
    for axis in itertools.chain(one.axes, other.axes, crossed):
        if axis is not None and abs(dot(away, axis)) > _reach_mm(one, axis) + _reach_mm(other, axis) + TOUCH_MM:
            return False
    return True


def _reach_mm(body: Body, direction: Vec) -> float:
    return sum(half * abs(dot(axis, direction)) for axis, half in zip(body.axes, body.half_mm, strict=True))


def clipped(body: Body, point: Vec) -> Vec:
    """The place of a box that is nearest to a point: the point itself inside it."""
    away = sub(point, body.centre_mm)
    found = body.centre_mm
    for axis, half in zip(body.axes, body.half_mm, strict=True):
        found = add(found, scale(axis, min(max(dot(away, axis), -half), half)))
    return found
