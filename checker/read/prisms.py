"""The bodies of walls and slabs as prisms: plans moved along a direction, with what planes cut off them. In the world, in mm."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from checker.model import Vec
from checker.model.geometry import cross, dot, norm, scale, sub, unit
from checker.model.prisms import Cut, Outline, Point, Prism
from checker.read.context import Context
from checker.read.curves import curve_of
from checker.read.faces import DEEPEST, face_points, is_union
from checker.read.outlines import hull
from checker.read.placements import Z_AXIS, Frame, frame_of, vector
from checker.read.relations import many

Entity = Any
#: Points this near to a plane are on it.
ON_MM = 1.0
#: A plan with more corners isn't looked at corner by corner: it is the rectangle around them.
MOST_CORNERS = 2_000
#: A body of faces with more points is no wall that can be looked at.
MOST_POINTS = 20_000
#: A circle has so many corners.
ROUND = 36
#: Walls and slabs are hardly thicker: what is around one and thicker than this holds more than the body.
THICKEST_MM = 600.0
#: What leans from the vertical by less of its direction is a wall's face.
LEVEL = 0.5


def prisms_of(it: Context, element: Entity) -> tuple[Prism, ...]:
    """The body of an element, less openings; none where it isn't placed or has no shape that is understood.

    Raises:
        ValueError, TypeError …: Its shape is malformed (see ``Context.safely``).
    """
    frame = it.frame(element)
    if frame is None:
        return ()
    found = [
        prism
        for item, inner in it.shapes.body_items(element)
        for prism in _prisms(it, item, inner.inside(frame), (), DEEPEST)
    ]
    prisms = tuple(prism for prism in found if prism is not None)
    # a body of which a part isn't understood isn't known
    return prisms if len(prisms) == len(found) else ()


def _prisms(it: Context, item: Entity, frame: Frame, cuts: tuple[Cut, ...], depth: int) -> Iterator[Prism | None]:
    """An item, or what was made one before something was cut off it. None: it isn't understood."""
    whole, more = _uncut(it, item, frame)
    if is_union(whole) and depth > 0:
        for operand in (whole.FirstOperand, whole.SecondOperand):
            yield from _prisms(it, operand, frame, (*cuts, *more), depth - 1)
    else:
        yield _prism(it, whole, frame, (*cuts, *more))


def _prism(it: Context, whole: Entity, frame: Frame, cuts: tuple[Cut, ...]) -> Prism | None:
    if whole.is_a("IfcExtrudedAreaSolidTapered"):  # its other end has another plan
        return None
    if whole.is_a("IfcExtrudedAreaSolid"):
        found = _extruded(it, whole, frame, cuts)
        if found is not None:
            return found
    return _around(it, whole, frame, cuts)


def _uncut(it: Context, item: Entity, frame: Frame) -> tuple[Entity, tuple[Cut, ...]]:
    """A body before anything was cut off it, and what planes cut off. Solids cut out of it are openings, which a seal fills."""
    cuts = []
    for _ in range(DEEPEST):
        if not item.is_a("IfcBooleanResult") or item.Operator != "DIFFERENCE" or item.FirstOperand is None:
            break
        if item.SecondOperand is not None and item.SecondOperand.is_a("IfcHalfSpaceSolid"):
            cut = _cut(it, item.SecondOperand, frame)
            cuts += [] if cut is None else [cut]
        item = item.FirstOperand
    return item, tuple(cuts)


def _cut(it: Context, half: Entity, frame: Frame) -> Cut | None:
    """A half space: without the flag it is what lies where the plane's direction points.

    None: what it cuts off can't be told, so that all stays, and is asked about.
    """
    if not half.BaseSurface.is_a("IfcPlane"):
        return None
    plane = frame_of(half.BaseSurface.Position).inside(frame)
    away = unit(plane.z) or Z_AXIS
    away = scale(away, -1.0) if half.AgreementFlag else away
    point = scale(plane.origin, it.mm)
    if not half.is_a("IfcPolygonalBoundedHalfSpace"):
        return Cut(point, away)
    bounds = frame_of(half.Position).inside(frame)
    curve = curve_of(half.PolygonalBoundary, it.shapes.radians)
    if curve is None:
        return None
    factor = it.mm * bounds.factor
    outline = tuple((x * factor, y * factor) for x, y, _ in curve.points)
    across, along = unit(bounds.x) or bounds.x, unit(bounds.z) or bounds.z
    return Cut(point, away, outline, across, along, scale(bounds.origin, it.mm))


def _extruded(it: Context, item: Entity, frame: Frame, cuts: tuple[Cut, ...]) -> Prism | None:
    """A plan that is moved; None where it isn't understood."""
    corners = _corners(item.SweptArea, it.shapes.radians)
    solid = frame_of(item.Position).inside(frame)
    flat = frame_of(getattr(item.SweptArea, "Position", None)).inside(solid)
    ratios = unit(vector(getattr(item.ExtrudedDirection, "DirectionRatios", None))) or Z_AXIS
    way = vector(scale(solid.turn(ratios), float(item.Depth or 0.0) * it.mm))
    x, depth = unit(flat.x), norm(way)
    y = unit(sub(flat.y, scale(x, dot(flat.y, x)))) if x is not None else None
    if x is None or y is None or depth <= 0.0 or not 3 <= len(corners) <= MOST_CORNERS:
        return None
    direction = scale(way, 1.0 / depth)
    if abs(dot(cross(x, y), direction)) < ON_MM / depth:  # moved within its own plane it has no body
        return None
    origin = vector(scale(flat.origin, it.mm))

    def placed(corners: Sequence[Point]) -> Outline:
        points = [sub(vector(scale(flat.place((u, v, 0.0)), it.mm)), origin) for u, v in corners]
        return tuple((dot(point, x), dot(point, y)) for point in points)

    whole = Prism(origin, x, y, direction, depth, placed(corners), cuts)
    # in what is no deeper than a wall or slab is thick, holes are openings
    holes = _holes(item.SweptArea, it.shapes.radians) if depth > THICKEST_MM else []
    if not all(3 <= len(hole) <= MOST_CORNERS for hole in holes):
        return replace(whole, is_exact=False, is_hollow=True)
    ring = replace(whole, holes=tuple(_against(whole, placed(hole)) for hole in holes))
    # walls round a room or shaft are higher than thick; else it is a thick slab with openings
    return ring if ring.is_upright else whole


def _against(whole: Prism, hole: Outline) -> Outline:
    """A hole the other way round than the plan."""
    is_against = replace(whole, outline=hole).doubled_area_mm2 * whole.doubled_area_mm2 < 0.0
    return hole if is_against else hole[::-1]


def _holes(profile: Entity, radians: float) -> list[list[Point]]:
    """The corners of each hole in a plan; none of one that isn't understood."""
    wall = getattr(profile, "WallThickness", None) or 0.0
    if profile.is_a("IfcCircleHollowProfileDef"):
        return [_ring(profile.Radius - wall)] if 0.0 < wall < profile.Radius else []
    if profile.is_a("IfcRectangleHollowProfileDef"):
        return [_sides(profile.XDim - 2.0 * wall, profile.YDim - 2.0 * wall)] if wall > 0.0 else []
    return [_closed(curve, radians) for curve in many(getattr(profile, "InnerCurves", None))]


def _ring(radius: float) -> list[Point]:
    turns = [2.0 * math.pi * number / ROUND for number in range(ROUND)]
    return [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


def _sides(x: float, y: float) -> list[Point]:
    """A rectangle about the middle; none where it has no sides."""
    x, y = x / 2.0, y / 2.0
    return [(-x, -y), (x, -y), (x, y), (-x, y)] if x > 0.0 and y > 0.0 else []


def _closed(entity: Entity, radians: float) -> list[Point]:
    curve = curve_of(entity, radians)
    if curve is None:
        return []
    points = [(point[0], point[1]) for point in curve.points]
    return points[:-1] if points[0] == points[-1] else points


def _corners(profile: Entity, radians: float) -> list[Point]:
    """The corners of a plan, without its holes. None where it is of another sort."""
    name = profile.is_a()
    if name in {"IfcRectangleProfileDef", "IfcRoundedRectangleProfileDef", "IfcRectangleHollowProfileDef"}:
        return _sides(profile.XDim, profile.YDim)
    if name in {"IfcCircleProfileDef", "IfcCircleHollowProfileDef"}:
        return _ring(profile.Radius)
    return _closed(getattr(profile, "OuterCurve", None), radians)


def _around(it: Context, item: Entity, frame: Frame, cuts: tuple[Cut, ...]) -> Prism | None:
    """A body of faces: the plan that its points make across it where all lie on two faces, else the box around it."""
    solid = it.shapes.solid_of(item)
    points = _placed(it, face_points(item), frame) if solid is not None else None
    if solid is None or points is None:  # another sort of body, as a bent wall: what is around it
        points = _placed(it, it.shapes.corner_points(item, frame), None)
        axes = (unit(frame.x) or frame.x, unit(frame.y) or frame.y, unit(frame.z) or frame.z)
    else:
        turned = [unit(frame.turn(axis)) for axis in solid.body.axes]
        axes = tuple(axis for axis in turned if axis is not None)  # type: ignore[assignment]
    if points is None or len(points) < 4 or len(axes) != 3:
        return None
    spans = [[dot(point, axis) for point in points] for axis in axes]
    thin = min(range(3), key=lambda index: max(spans[index]) - min(spans[index]))
    low, high = min(spans[thin]), max(spans[thin])
    x, y = axes[(thin + 1) % 3], axes[(thin + 2) % 3]
    origin = scale(axes[thin], low)
    flat = [(dot(point, x), dot(point, y)) for point in points]
    on_faces = all(min(along - low, high - along) <= ON_MM for along in spans[thin])
    outline = tuple(hull(flat)) if on_faces else _rectangle(flat)
    if high - low <= 0.0 or len(outline) < 3:
        return None
    # what is left out at the edge of a wall is a door, an opening as others; at the edge of a slab it is where the slab ends
    is_wall = abs(axes[thin][2]) < LEVEL
    is_exact = solid is not None and on_faces and (is_wall or _all_on(outline, flat))
    is_hollow = not is_exact and high - low > THICKEST_MM
    return Prism(origin, x, y, axes[thin], high - low, outline, cuts, is_exact=is_exact, is_hollow=is_hollow)


def _placed(it: Context, points: Sequence[Vec] | Iterator[Vec], frame: Frame | None) -> list[Vec] | None:
    """Points in the world; None where they are too many."""
    found = []
    for point in points:
        found.append(vector(scale(frame.place(point) if frame is not None else point, it.mm)))
        if len(found) > MOST_POINTS:
            return None
    return list(dict.fromkeys(found))


def _rectangle(points: Sequence[Point]) -> Outline:
    low, high = ([pick(point[i] for point in points) for i in range(2)] for pick in (min, max))
    return ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))


def _all_on(outline: Outline, points: Sequence[Point]) -> bool:
    """Whether all points are corners of an outline, to a millimetre."""
    corners = {(round(x / ON_MM), round(y / ON_MM)) for x, y in outline}
    around = [(i, j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    return all(any((round(x / ON_MM) + i, round(y / ON_MM) + j) in corners for i, j in around) for x, y in points)
