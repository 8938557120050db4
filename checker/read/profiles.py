"""Sizes of profiles: the sections that bodies are swept from. In the file's unit."""

import itertools
import math
from dataclasses import dataclass, replace
from typing import Any

from checker.read.curves import curve_of
from checker.read.outlines import SAME_SHARE, area_of, outline_of
from checker.read.placements import Frame, frame_of
from checker.read.relations import many

Entity = Any
#: Profiles that are derived from others may be so this many times.
DEEPEST = 8
SHEETS = {"IfcUShapeProfileDef", "IfcCShapeProfileDef", "IfcLShapeProfileDef"}


@dataclass(frozen=True, slots=True)
class Profile:
    """A section: its class, its sizes (None: not told), and where its middle and its width's direction lie in the profile's own frame.

    ``is_plain``: it is a full rectangle, which may as well be the plan of a carrier. ``wall`` is of the sides, ``base`` of the bottom.
    ``holes``: the areas of its voids, where it has several.
    """

    name: str
    width: float | None = None
    height: float | None = None
    diameter: float | None = None
    wall: float | None = None
    base: float | None = None
    centre: tuple[float, float] = (0.0, 0.0)
    direction: tuple[float, float] = (1.0, 0.0)
    is_plain: bool = False
    holes: tuple[float, ...] = ()


def profile_of(entity: Entity, radians: float = 1.0, depth: int = DEEPEST) -> Profile | None:
    """The sizes of an IfcProfileDef; None where its kind isn't understood. Its Position isn't applied.

    Args:
        entity: The profile; None gives None.
        radians: In one angle unit of the file.
        depth: How many levels of derived profiles may still come.
    """
    if entity is None or depth == 0:
        return None
    name = entity.is_a()
    if name in {"IfcRectangleProfileDef", "IfcRoundedRectangleProfileDef"}:
        return Profile(name, entity.XDim, entity.YDim, is_plain=True)
    if name == "IfcRectangleHollowProfileDef":
        return Profile(name, entity.XDim, entity.YDim, wall=entity.WallThickness, base=entity.WallThickness)
    if name in {"IfcCircleProfileDef", "IfcCircleHollowProfileDef"} and entity.Radius:
        return Profile(name, diameter=2.0 * entity.Radius, wall=getattr(entity, "WallThickness", None))
    if name in SHEETS:
        return _sheet(entity, name)
    if name == "IfcCenterLineProfileDef":
        return _centre_line(entity, radians)
    if name in {"IfcArbitraryClosedProfileDef", "IfcArbitraryProfileDefWithVoids"}:
        return _outlined(entity, name, radians)
    if name in {"IfcDerivedProfileDef", "IfcMirroredProfileDef"}:
        return _derived(entity, radians, depth)
    return None


def _sheet(entity: Entity, name: str) -> Profile:
    """U, C and L: the depth of U and C lies along Y, which is the tray's width; their flanges are the sides, the web is the base."""
    if name == "IfcUShapeProfileDef":
        return Profile(
            name,
            entity.Depth,
            entity.FlangeWidth,
            wall=entity.FlangeThickness,
            base=entity.WebThickness,
            direction=(0.0, 1.0),
        )
    if name == "IfcCShapeProfileDef":
        return Profile(
            name, entity.Depth, entity.Width, wall=entity.WallThickness, base=entity.WallThickness, direction=(0.0, 1.0)
        )
    return Profile(name, entity.Width or entity.Depth, entity.Depth, wall=entity.Thickness, base=entity.Thickness)


def _points(curve: Entity, radians: float) -> list[tuple[float, float]]:
    found = curve_of(curve, radians)
    return [(point[0], point[1]) for point in found.points] if found is not None else []


def _outlined(entity: Entity, name: str, radians: float) -> Profile | None:
    points = _points(entity.OuterCurve, radians)
    outer = outline_of(points)
    if outer is None:
        return None
    holes = [
        found
        for curve in many(getattr(entity, "InnerCurves", None))
        if (found := outline_of(_points(curve, radians))) is not None
    ]
    wall = None
    if len(holes) == 1:
        wall = _wall(outer.diameter, outer.width, outer.height, holes[0].diameter, holes[0].width, holes[0].height)
    # a U fills the rectangle around it by little, and so isn't the plan of anything
    plain = not holes and abs(area_of(points)) >= (1.0 - SAME_SHARE) * outer.width * outer.height
    if outer.diameter is not None:
        return Profile(name, diameter=outer.diameter, wall=wall, centre=outer.centre)
    return Profile(
        name,
        outer.width,
        outer.height,
        wall=wall,
        base=wall,
        centre=outer.centre,
        direction=outer.direction,
        is_plain=plain,
        holes=tuple(hole.width * hole.height for hole in holes) if len(holes) > 1 else (),
    )


def _wall(
    diameter: float | None,
    width: float,
    height: float,
    hole_diameter: float | None,
    hole_width: float,
    hole_height: float,
) -> float | None:
    """The wall between an outline and its one hole, where it is the same all round."""
    if diameter is not None and hole_diameter is not None:
        return (diameter - hole_diameter) / 2.0
    one, other = sorted((width, height)), sorted((hole_width, hole_height))
    walls = [(outer - inner) / 2.0 for outer, inner in zip(one, other, strict=True)]
    return walls[0] if walls[0] > 0.0 and math.isclose(walls[0], walls[1], rel_tol=0.05) else None


def _centre_line(entity: Entity, radians: float) -> Profile | None:
    """Sheet of one thickness bent along a line: half of it lies on either side of the line, and none beyond its ends."""
    line = _points(entity.Curve, radians)
    if len(line) < 3 or not entity.Thickness or entity.Thickness < 0.0:
        return None
    points = []
    for (x, y), (u, v) in itertools.pairwise(line):
        share = entity.Thickness / 2.0 / (math.hypot(u - x, v - y) or 1.0)
        dx, dy = share * (v - y), share * (u - x)
        points += [(a + s * dx, b - s * dy) for a, b in ((x, y), (u, v)) for s in (-1.0, 1.0)]
    low = [min(point[i] for point in points) for i in range(2)]
    high = [max(point[i] for point in points) for i in range(2)]
    centre = ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0)
    return Profile(
        entity.is_a(), high[0] - low[0], high[1] - low[1], wall=entity.Thickness, base=entity.Thickness, centre=centre
    )


def _placed(profile: Profile, frame: Frame) -> Profile:
    """A profile in what is around its position."""
    x, y, _ = frame.place((*profile.centre, 0.0))
    u, v, _ = frame.turn((*profile.direction, 0.0))
    return replace(profile, centre=(x, y), direction=(u, v))


def _derived(entity: Entity, radians: float, depth: int) -> Profile | None:
    """A profile moved, turned, mirrored or scaled. One that is scaled by two different factors isn't understood."""
    parent = profile_of(entity.ParentProfile, radians, depth - 1)
    if parent is None:
        return None
    parent = _placed(parent, frame_of(getattr(entity.ParentProfile, "Position", None)))
    operator = entity.Operator
    if entity.is_a("IfcMirroredProfileDef"):  # about its own Y; what the file has for an operator is derived from that
        (x, y), (u, v) = parent.centre, parent.direction
        return replace(parent, centre=(-x, y), direction=(-u, v))
    if operator is None:
        return parent
    factor = float(operator.Scale or 1.0)
    if (getattr(operator, "Scale2", None) or factor) != factor:
        return None
    axis = operator.Axis1.DirectionRatios if operator.Axis1 is not None else (1.0, 0.0)
    length = math.hypot(axis[0], axis[1]) or 1.0
    cos, sin = axis[0] / length, axis[1] / length
    other = operator.Axis2.DirectionRatios if operator.Axis2 is not None else (-sin, cos)
    side = 1.0 if other[1] * cos - other[0] * sin >= 0.0 else -1.0  # -1: mirrored

    def turned(x: float, y: float) -> tuple[float, float]:
        return (x * cos - side * y * sin, x * sin + side * y * cos)

    def scaled(value: float | None) -> float | None:
        return None if value is None else value * factor

    x, y = turned(*parent.centre)
    origin = operator.LocalOrigin.Coordinates if operator.LocalOrigin is not None else (0.0, 0.0)
    return replace(
        parent, width=scaled(parent.width), height=scaled(parent.height), diameter=scaled(parent.diameter), wall=scaled(parent.wall),
        base=scaled(parent.base), centre=(x * factor + origin[0], y * factor + origin[1]), direction=turned(*parent.direction),
    )  # fmt: skip
