"""Finds a carrier's axis: from the sweep of its body, else its ports, else its longest extent."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.model import Vec
from checker.model.geometry import add, angle_deg, cross, distance, dot, midpoint, norm, scale, sub, unit
from checker.read.placements import Frame
from checker.read.shapes import Sweep, bent_disk, corner_points, sweep_of

#: A profile that is a plain rectangle may as well be the plan of the carrier, extruded upward.
PLAIN = {"IfcRectangleProfileDef", "IfcRoundedRectangleProfileDef"}
#: Profiles that can only be the section of something.
SURE = {
    "IfcRectangleHollowProfileDef",
    "IfcCircleProfileDef",
    "IfcCircleHollowProfileDef",
    "IfcUShapeProfileDef",
    "disk",
}
PARALLEL_DEG = 5.0
#: An axis whose direction has this much of the vertical in it stands upright.
STANDS = 0.95
#: A body all within this of a line is straight: half of the widest conduit that tables know, and a little.
STRAIGHT_MM = 35.0
#: A shell is at least this much as long as the whole body along the body's own axes.
SHELL_SHARE = 0.9


@dataclass(frozen=True, slots=True)
class Axis:
    """Where a carrier runs.

    Attributes:
        start_mm, end_mm: Ends of the axis, in the world.
        across: The direction of the section's width.
        sweep: What it came from, in the file's unit.
        length_mm: Along the axis, which may be more than the distance of its ends.
        turn_deg: By how much it turns on its way; None: not known.
    """

    start_mm: Vec | None = None
    end_mm: Vec | None = None
    across: Vec | None = None
    sweep: Sweep | None = None
    length_mm: float | None = None
    turn_deg: float | None = None


def carrier_axis(items: Sequence[tuple[Any, Frame]], frame: Frame, ports_mm: Sequence[Vec], mm: float) -> Axis:
    """The axis of a carrier.

    Args:
        items: The items of its body with their frames in the element.
        frame: The element's frame in the world, in the file's unit.
        ports_mm: Where its ports are, in the world.
        mm: Millimetres in one unit of the file.
    """
    sweeps = [sweep for item, inner in items if (sweep := sweep_of(item, inner)) is not None]
    alone = len(items) == 1 and len(sweeps) == 1 and sweeps[0].profile in SURE
    points = [] if alone else [point for item, inner in items for point in corner_points(item, inner)]
    spread = _apart(ports_mm)
    bent = bent_disk(*items[0]) if len(items) == 1 else None
    if bent is not None and len(bent) > 2:
        return _along(bent, items[0][0], frame, mm)
    shell = _shell(sweeps, len(items), points)
    if shell is not None:
        sweep = _lengthwise(shell, spread, frame)
        if sweep is not None:
            return _in_world(_as_it_lies(sweep, frame), frame, mm)
    if spread is not None:
        body = [scale(frame.place(point), mm) for point in points]
        return _chord(spread[0], spread[1], body)
    return _by_extent(points, frame, mm)


def _in_world(sweep: Sweep, frame: Frame, mm: float) -> Axis:
    start, end = scale(frame.place(sweep.start), mm), scale(frame.place(sweep.end), mm)
    return Axis(start, end, unit(frame.turn(sweep.across)), sweep, distance(start, end), 0.0)


def _as_it_lies(sweep: Sweep, frame: Frame) -> Sweep:
    """The sweep with its width across and its height up, whichever way the profile's own axes are turned.

    Of one that stands upright the longer side is the width: so trays, ladders and trunking are named, and nothing else tells.
    """
    if sweep.profile not in {*PLAIN, "IfcRectangleHollowProfileDef"} or not sweep.width or not sweep.height:
        return sweep
    along = unit(frame.turn(sub(sweep.end, sweep.start))) or (0.0, 0.0, 1.0)
    across = unit(frame.turn(sweep.across)) or (1.0, 0.0, 0.0)
    stands = abs(along[2]) > STANDS
    turned = sweep.width < sweep.height if stands else abs(across[2]) > abs(cross(along, across)[2])
    if not turned:
        return sweep
    own = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    return replace(sweep, width=sweep.height, height=sweep.width, across=cross(own, sweep.across))


def _along(corners: Sequence[Vec], item: Any, frame: Frame, mm: float) -> Axis:
    """A pipe bent at corners: as long as its pieces, and turned by the angles between them."""
    points = [scale(frame.place(corner), mm) for corner in corners]
    pieces = [sub(b, a) for a, b in itertools.pairwise(points) if a != b]
    wall = item.Radius - item.InnerRadius if item.InnerRadius else None
    sweep = Sweep(corners[0], corners[-1], frame.x, "disk", diameter=2.0 * item.Radius, wall=wall)
    turn = math.fsum(angle_deg(a, b) for a, b in itertools.pairwise(pieces))
    across = _level_across(sub(points[-1], points[0]))
    return Axis(points[0], points[-1], across, sweep, math.fsum(map(norm, pieces)), turn)


def _chord(start: Vec, end: Vec, body: Sequence[Vec]) -> Axis:
    """A straight line between two ends. Whether the body follows it is seen from its points; without any it isn't known."""
    off = max((_off_line(point, start, end) for point in body), default=math.inf)
    turn = 0.0 if off <= STRAIGHT_MM else None
    return Axis(start, end, _level_across(sub(end, start)), None, distance(start, end), turn)


def _off_line(point: Vec, start: Vec, end: Vec) -> float:
    direction = unit(sub(end, start))
    return 0.0 if direction is None else norm(cross(sub(point, start), direction))


def _shell(sweeps: Sequence[Sweep], items: int, points: Sequence[Vec]) -> Sweep | None:
    """The sweep that is the carrier itself: the only one, or the one section beside which the others are dividers, lids or rungs."""
    if items == 1 and len(sweeps) == 1:
        return sweeps[0]
    sections = [sweep for sweep in sweeps if sweep.profile in SURE and sweep.profile != "disk"]
    if len(sections) != 1:
        return None
    longest = max(max(point[i] for point in points) - min(point[i] for point in points) for i in range(3))
    return sections[0] if distance(sections[0].start, sections[0].end) >= SHELL_SHARE * longest else None


def _lengthwise(sweep: Sweep, spread: tuple[Vec, Vec] | None, frame: Frame) -> Sweep | None:
    """The sweep if it runs along the carrier; a plan rectangle extruded upward is turned so that it does."""
    if sweep.profile in SURE:
        return sweep
    along = sub(sweep.end, sweep.start)
    depth = distance(sweep.start, sweep.end)
    if spread is not None:
        turned = angle_deg(frame.turn(along), sub(spread[1], spread[0]))
        if min(turned, 180.0 - turned) <= PARALLEL_DEG:
            return sweep
    elif sweep.profile in PLAIN and sweep.width and sweep.height and depth >= max(sweep.width, sweep.height):
        return sweep
    if sweep.profile not in PLAIN or not sweep.width or not sweep.height:
        return None
    up = unit(along) or (0.0, 0.0, 1.0)
    other = cross(up, sweep.across)
    lengthwise, width, length = (
        (other, sweep.width, sweep.height) if sweep.height >= sweep.width else (sweep.across, sweep.height, sweep.width)
    )
    middle = midpoint(sweep.start, sweep.end)
    half = scale(lengthwise, length / 2.0)
    return replace(
        sweep, start=sub(middle, half), end=add(middle, half), across=cross(up, lengthwise), width=width, height=depth,
    )  # fmt: skip


def _apart(points: Sequence[Vec]) -> tuple[Vec, Vec] | None:
    """The two points farthest apart; None of fewer than two places."""
    pairs = [(distance(a, b), a, b) for i, a in enumerate(points) for b in points[i + 1 :]]
    if not pairs:
        return None
    length, a, b = max(pairs)
    return (a, b) if length > 0.0 else None


def _by_extent(points: Sequence[Vec], frame: Frame, mm: float) -> Axis:
    """The longest extent of the body, in the element's own frame."""
    if not points:
        return Axis()
    low = [min(point[i] for point in points) for i in range(3)]
    high = [max(point[i] for point in points) for i in range(3)]
    longest = max(range(3), key=lambda i: high[i] - low[i])
    if high[longest] - low[longest] <= 0.0:
        return Axis()
    middle = [(a + b) / 2.0 for a, b in zip(low, high, strict=True)]
    start, end = list(middle), list(middle)
    start[longest], end[longest] = low[longest], high[longest]
    first = scale(frame.place((start[0], start[1], start[2])), mm)
    last = scale(frame.place((end[0], end[1], end[2])), mm)
    return _chord(first, last, [scale(frame.place(point), mm) for point in points])


def _level_across(along: Vec) -> Vec | None:
    """A level direction across an axis; any one where the axis is upright."""
    direction = unit(along)
    if direction is None:
        return None
    return unit(cross((0.0, 0.0, 1.0), direction)) if abs(dot(direction, (0.0, 0.0, 1.0))) < 0.99 else (1.0, 0.0, 0.0)
