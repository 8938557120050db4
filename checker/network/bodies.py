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

#: Three directions at right angles.
Frame = tuple[Vec, Vec, Vec]


def frame(along: Vec, across: Vec | None) -> Frame:
    """Three directions at right angles: along an axis, across it as near to ``across`` as can be (else level), and up.

    Args:
        along: Any direction with a length.
        across: The direction of the section's width.
    """
    ahead = unit(along) or (1.0, 0.0, 0.0)
    wide = (0.0, 1.0, 0.0)
    for wish in (across, cross(UPRIGHT, ahead), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)):
        if wish is not None:
            rest = sub(wish, scale(ahead, dot(wish, ahead)))
            if norm(rest) > 0.1 * norm(wish):
                wide = unit(rest) or wide
                break
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
    """One end of a carrier. ``frame`` begins with the direction in which its axis leaves it there; None: the axis has no length.

    ``half_mm``, ``side_mm`` and ``tolerance_mm`` are its carrier's.
    """

    carrier: Carrier
    spot: Spot
    point_mm: Vec
    frame: Frame | None
    half_mm: tuple[float, float]
    side_mm: float
    tolerance_mm: float

    def reaches(self, body: Body, depth_mm: float) -> bool:
        """Whether this end, moved by a depth along its axis both ways, touches the body of a straight piece.

        It does with its whole face where the piece turns away from its own way; a piece that it runs along must hold its axis.
        """
        off = body.off_mm(self.point_mm)
        if off > depth_mm + norm((*self.half_mm, TOUCH_MM)):
            return False
        if self.frame is None:
            return off <= depth_mm + TOUCH_MM
        ahead, along = self.frame[0], body.axes[0]
        is_parallel = same_way(ahead, along) or same_way(ahead, scale(along, -1.0))
        face = (0.0, 0.0) if is_parallel else self.half_mm
        return touch(Body(self.point_mm, self.frame, (depth_mm, *face)), body)


@dataclass(frozen=True, slots=True)
class Shape:
    """Where a carrier is, worked out once for all that ask; no pieces and ends where its axis isn't known.

    ``pieces`` are the bodies of its straight pieces, their directions along, across and up. ``length_mm`` is along the axis, ``half_mm``
    half its outside width and height, ``side_mm`` and ``tolerance_mm`` as the functions of these names say.
    """

    carrier: Carrier
    axis_mm: tuple[Vec, ...]
    length_mm: float
    half_mm: tuple[float, float]
    side_mm: float
    tolerance_mm: float
    pieces: tuple[Body, ...]
    ends: tuple[End, ...]


def shape_of(carrier: Carrier) -> Shape:
    """Where a carrier is."""
    axis, half = carrier.axis_mm, half_mm(carrier)
    side, tolerance = larger_side_mm(carrier), tolerance_mm(carrier)
    lengths = [distance(a, b) for a, b in itertools.pairwise(axis)]
    pieces = tuple(
        Body(midpoint(a, b), frame(sub(b, a), carrier.across), (length / 2.0, *half))
        for (a, b), length in zip(itertools.pairwise(axis), lengths, strict=True)
        if a != b
    )
    ends: tuple[End, ...] = ()
    if axis:
        frames = (_backwards(pieces[0].axes), pieces[-1].axes) if pieces else (None, None)
        ends = tuple(
            End(carrier, Spot(carrier.key, point, where), point, axes, half, side, tolerance)
            for where, point, axes in zip((START, END), (axis[0], axis[-1]), frames, strict=True)
        )
    return Shape(carrier, axis, sum(lengths), half, side, tolerance, pieces, ends)


def _backwards(axes: Frame) -> Frame:
    """The same directions, seen by one who comes the other way."""
    return scale(axes[0], -1.0), axes[1], scale(axes[2], -1.0)


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


def at_nearest(shape: Shape, point: Vec, zone_mm: float) -> Spot:
    """The place of a carrier that is nearest to a point: one of its ends if that is within a zone along the axis, else its side."""
    key, axis, length = shape.carrier.key, shape.axis_mm, shape.length_mm
    found = nearest_on(axis, point)
    if found is None:
        return Spot(key, point)
    along, _, there = found
    if min(along, length - along) > zone_mm:
        return Spot(key, there, f"side {along:.1f}")
    return shape.ends[0 if along <= length - along else 1].spot


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
