"""Finds a carrier's axis: from the sweep of its body, else its Axis representation, its ports, or its longest extent."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.model import Vec
from checker.model.geometry import add, angle_deg, box_around, cross, distance, dot, midpoint, norm, scale, sub, unit
from checker.read.curves import Curve, chained, straight
from checker.read.placements import Frame
from checker.read.shapes import Shapes, Sweep

#: Profiles that can only be the section of something. A plain rectangle may as well be the plan of the carrier, extruded upward.
SURE = {
    "IfcRectangleHollowProfileDef", "IfcCircleProfileDef", "IfcCircleHollowProfileDef", "IfcUShapeProfileDef", "IfcCShapeProfileDef",
    "IfcArbitraryProfileDefWithVoids", "IfcCenterLineProfileDef", "disk",
}  # fmt: skip
PARALLEL_DEG = 5.0
#: An axis whose direction has this much of the vertical in it stands upright.
STANDS = 0.95
#: A body all within this of a line is straight: half of the widest conduit that tables know, and a little.
STRAIGHT_MM = 35.0
#: A shell is at least this much as long as the whole body along the body's own axes.
SHELL_SHARE = 0.9
#: Pieces follow one another if their ends are this near, in sizes of the section: an elbow may be missing between them.
NEAR_SIZES = 3.0
#: An element of more pieces than this isn't a run of pipe.
MOST_PIECES = 200


@dataclass(frozen=True, slots=True)
class Axis:
    """Where a carrier runs.

    Attributes:
        points_mm: The points of the axis, in the world; none where it isn't known.
        across: The direction of the section's width.
        sweep: What its sizes come from, in the file's unit.
        length_mm: Along the axis, which may be more than the distance of its ends.
        turn_deg: By how much it turns on its way; None: not known.
        said: What the user should know of how it was found.
        found_by: What it came from.
    """

    points_mm: tuple[Vec, ...] = ()
    across: Vec | None = None
    sweep: Sweep | None = None
    length_mm: float | None = None
    turn_deg: float | None = None
    said: str = ""
    found_by: str = ""


@dataclass(frozen=True, slots=True)
class _Element:
    """What is known of an element's shape: its sweeps, the corners of all its items, in its own frame, and hints on where it runs."""

    items: int
    sweeps: tuple[Sweep, ...]
    points: tuple[Vec, ...]
    frame: Frame
    drawn: Curve | None
    ports: tuple[Vec, Vec] | None
    mm: float

    def world(self, point: Vec) -> Vec:
        return scale(self.frame.place(point), self.mm)


def carrier_axis(shapes: Shapes, element: Any, frame: Frame, ports_mm: Sequence[Vec], mm: float) -> Axis:
    """The axis of a carrier.

    Args:
        shapes: The model's shapes.
        element: The element.
        frame: Its frame in the world, in the file's unit.
        ports_mm: Where its ports are, in the world.
        mm: Millimetres in one unit of the file.
    """
    items = shapes.body_items(element)
    sweeps = tuple(sweep for item, inner in items if (sweep := shapes.sweep_of(item, inner)) is not None)
    alone = len(items) == 1 and len(sweeps) == 1
    points = () if alone else tuple(point for item, inner in items for point in shapes.corner_points(item, inner))
    it = _Element(len(items), sweeps, points, frame, shapes.axis_curve(element), _apart(ports_mm), mm)
    run = _run(it)
    if run is not None:
        return run
    shell = _shell(it)
    if shell is not None:
        sweep = _lengthwise(shell, it)
        if sweep is not None:
            return _along(_as_it_lies(sweep, frame), it, "plan of its body" if sweep.turned else "sweep of its body")
    return _by_hints(it, shapes, items)


def _along(sweep: Sweep, it: _Element, found_by: str) -> Axis:
    """The axis of a sweep."""
    path = sweep.path
    across = (
        unit(it.frame.turn(sweep.across))
        if len(path.points) == 2
        else _level_across(sub(path.end, path.start), it.frame)
    )
    length = path.length * it.mm * it.frame.factor
    return Axis(tuple(map(it.world, path.points)), across, sweep, length, path.turn_deg, "", found_by)


def _run(it: _Element) -> Axis | None:
    """An element that is a whole run: pipes or hollow sections that follow one another, or one along a bent line."""
    bent = [sweep for sweep in it.sweeps if len(sweep.path.points) > 2]
    if it.items != len(it.sweeps) or (it.items == 1 and not bent):
        return None
    if it.items > 1 and any(sweep.profile not in SURE for sweep in it.sweeps):
        return None
    if len({(_rounded(s.width), _rounded(s.height), _rounded(s.diameter)) for s in it.sweeps}) != 1:
        return None
    path = it.sweeps[0].path if it.items == 1 else _in_order(it.sweeps)
    if path is None:
        return None
    return _along(replace(it.sweeps[0], path=path), it, "path of its body")


def _rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.4g}")


def _in_order(sweeps: Sequence[Sweep]) -> Curve | None:
    """The pieces one after the other, each turned as it must be; None where they aren't one line."""
    if len(sweeps) > MOST_PIECES:
        return None
    size = max(max(sweep.diameter or 0.0, sweep.width or 0.0, sweep.height or 0.0) for sweep in sweeps)
    reach = NEAR_SIZES * size
    left = [sweep.path for sweep in sweeps]
    line = [left.pop(0)]
    while left:
        # the nearest of all ends to either end of the line so far
        gap, index, at_end, turned = min(
            (distance(here, there), index, at_end, turned)
            for index, path in enumerate(left)
            for at_end, here in ((True, line[-1].end), (False, line[0].start))
            for turned, there in (
                (False, path.start if at_end else path.end),
                (True, path.end if at_end else path.start),
            )
        )
        if gap > reach:
            return None
        path = left.pop(index)
        path = path.turned_round() if turned else path
        line = [*line, path] if at_end else [path, *line]
    return _linked(line)


def _linked(line: Sequence[Curve]) -> Curve | None:
    """The pieces with what is missing between them filled in straight."""
    parts: list[Curve] = []
    for path in line:
        if parts and distance(parts[-1].end, path.start) > 1e-6 * (1.0 + path.length):
            gap = straight([parts[-1].end, path.start])
            parts += [gap] if gap is not None else []
        parts.append(path)
    return chained(parts)


def _as_it_lies(sweep: Sweep, frame: Frame) -> Sweep:
    """The sweep with its width across and its height up, whichever way the profile's own axes are turned.

    Of one that stands upright the longer side is the width: so trays, ladders and trunking are named, and nothing else tells.
    """
    if sweep.profile == "IfcUShapeProfileDef" or not sweep.width or not sweep.height:
        return sweep
    along = unit(frame.turn(sub(sweep.end, sweep.start))) or (0.0, 0.0, 1.0)
    across = unit(frame.turn(sweep.across)) or (1.0, 0.0, 0.0)
    stands = abs(along[2]) > STANDS
    turned = sweep.width < sweep.height if stands else abs(across[2]) > abs(cross(along, across)[2])
    if not turned:
        return sweep
    own = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    return replace(sweep, width=sweep.height, height=sweep.width, across=cross(own, sweep.across))


def _shell(it: _Element) -> Sweep | None:
    """The sweep that is the carrier itself: the only one, or the one section beside which the others are dividers, lids or rungs."""
    if it.items == 1 and len(it.sweeps) == 1:
        return it.sweeps[0]
    sections = [sweep for sweep in it.sweeps if sweep.profile in SURE and sweep.profile != "disk"]
    if len(sections) != 1 or not it.points:
        return None
    longest = max(max(point[i] for point in it.points) - min(point[i] for point in it.points) for i in range(3))
    return sections[0] if distance(sections[0].start, sections[0].end) >= SHELL_SHARE * longest else None


def _lengthwise(sweep: Sweep, it: _Element) -> Sweep | None:
    """The sweep if it runs along the carrier; a plan extruded upward is turned so that it does.

    A rectangle that is moved sideways is a section. One that is moved upward is the plan, unless the carrier is known to stand, or is
    longer than wide that way.
    """
    if sweep.profile in SURE:
        return sweep
    direction = sub(sweep.end, sweep.start)
    known = _known_direction(it)
    if known is not None:
        turned = angle_deg(it.frame.turn(direction), known)
        if min(turned, 180.0 - turned) <= PARALLEL_DEG:
            return sweep
    else:
        up = unit(it.frame.turn(direction)) or (0.0, 0.0, 1.0)
        size = max(sweep.width or 0.0, sweep.height or 0.0, sweep.diameter or 0.0)
        if sweep.is_plain and (abs(up[2]) <= STANDS or norm(direction) >= size):
            return sweep
        if not sweep.is_plain and norm(direction) >= size:
            return sweep
    return _turned(sweep) if sweep.is_plain and sweep.width and sweep.height else None


def _known_direction(it: _Element) -> Vec | None:
    """Where it runs by its Axis representation or its ports, in the world."""
    if it.drawn is not None and distance(it.drawn.start, it.drawn.end) > 0.0:
        return it.frame.turn(sub(it.drawn.end, it.drawn.start))
    return None if it.ports is None else sub(it.ports[1], it.ports[0])


def _turned(sweep: Sweep) -> Sweep | None:
    """A plan as a sweep along its longer side."""
    width, height = sweep.width or 0.0, sweep.height or 0.0
    up = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    other = cross(up, sweep.across)
    lengthwise, wide, length = (other, width, height) if height >= width else (sweep.across, height, width)
    middle, half = midpoint(sweep.start, sweep.end), scale(lengthwise, length / 2.0)
    path = straight([sub(middle, half), add(middle, half)])
    if path is None:
        return None
    depth = distance(sweep.start, sweep.end)
    return replace(sweep, path=path, across=cross(up, lengthwise), width=wide, height=depth, turned=True)


def _apart(points: Sequence[Vec]) -> tuple[Vec, Vec] | None:
    """The two points farthest apart; None of fewer than two places. Of very many only some are looked at."""
    some = points[:64]
    pairs = [(distance(a, b), a, b) for i, a in enumerate(some) for b in some[i + 1 :]]
    if not pairs:
        return None
    length, a, b = max(pairs)
    return (a, b) if length > 0.0 else None


def _by_hints(it: _Element, shapes: Shapes, items: Sequence[tuple[Any, Frame]]) -> Axis:
    """Where no sweep tells: along the Axis representation, the ports, or the longest side of the box around the body."""
    box = _box(it, shapes, items)
    body = [it.world(point) for point in it.points]
    pipes = it.items > 1 and len(it.sweeps) == it.items and all(sweep.diameter is not None for sweep in it.sweeps)
    said = f"its body has {it.items} pipes that don't follow one another" if pipes else ""
    if it.drawn is not None:
        points = tuple(map(it.world, it.drawn.points))
        length = it.drawn.length * it.mm * it.frame.factor
        across = _level_across(sub(points[-1], points[0]))
        sweep = _section(box, sub(it.drawn.end, it.drawn.start), it.frame) if len(points) == 2 and not said else None
        return Axis(points, across, sweep, length, it.drawn.turn_deg, said, "its Axis representation")
    if it.ports is not None:
        start, end = it.ports
        along = it.frame.inward(sub(end, start))
        sweep = _section(box, along, it.frame) if not said else None
        across = unit(it.frame.turn(sweep.across)) if sweep is not None else _level_across(sub(end, start))
        return Axis((start, end), across, sweep, distance(start, end), _bend(body, start, end), said, "its ports")
    if box is None:
        return Axis(said=said)
    longest = max(range(3), key=lambda i: (box.sizes[i], -i))
    half = scale(box.axes[longest], box.sizes[longest] / 2.0)
    start, end = it.world(sub(box.centre, half)), it.world(add(box.centre, half))
    sweep = _section(box, box.axes[longest], it.frame) if not said else None
    across = unit(it.frame.turn(sweep.across)) if sweep is not None else _level_across(sub(end, start))
    return Axis((start, end), across, sweep, distance(start, end), _bend(body, start, end), said, f"its {box.kind}")


@dataclass(frozen=True, slots=True)
class _Box:
    """A box in the element's frame. ``kind``: "body" or "bounding box"; ``diameter``: it is round across its first axis."""

    centre: Vec
    axes: tuple[Vec, Vec, Vec]
    sizes: tuple[float, float, float]
    kind: str
    diameter: float | None = None


def _box(it: _Element, shapes: Shapes, items: Sequence[tuple[Any, Frame]]) -> _Box | None:
    """The box around the body: of a single item its own, else the one around all, along the element's axes."""
    kind = "bounding box" if items and all(item.is_a("IfcBoundingBox") for item, _ in items) else "body"
    if len(items) == 1 and not it.sweeps:
        item, inner = items[0]
        solid = shapes.solid_of(item)
        if solid is None:
            return None
        turned = [inner.turn(axis) for axis in solid.body.axes]
        axes = [unit(axis) or axis for axis in turned]
        sizes = [2.0 * half * norm(axis) for half, axis in zip(solid.body.half_mm, turned, strict=True)]
        diameter = solid.diameter * norm(turned[1]) if solid.diameter is not None else None
        return _Box(
            inner.place(solid.body.centre_mm),
            (axes[0], axes[1], axes[2]),
            (sizes[0], sizes[1], sizes[2]),
            kind,
            diameter,
        )
    if not it.points:
        return None
    body = box_around(it.points, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    sizes = [2.0 * half for half in body.half_mm]
    return _Box(body.centre_mm, body.axes, (sizes[0], sizes[1], sizes[2]), kind) if max(sizes) > 0.0 else None


def _section(box: _Box | None, along: Vec, frame: Frame) -> Sweep | None:
    """The section of a box across a direction; None where the box doesn't lie along it."""
    if box is None:
        return None
    angles = [min(a, 180.0 - a) for axis in box.axes if (a := angle_deg(axis, along)) is not None]
    index = min(range(3), key=lambda i: angles[i])
    if angles[index] > PARALLEL_DEG or box.sizes[index] <= 0.0:
        return None
    wide, high = (i for i in range(3) if i != index)
    half = scale(box.axes[index], box.sizes[index] / 2.0)
    path = straight([sub(box.centre, half), add(box.centre, half)])
    if path is None:
        return None
    if box.diameter is not None and index == 0:
        return Sweep(path, box.axes[wide], box.kind, diameter=box.diameter)
    if min(box.sizes[wide], box.sizes[high]) <= 0.0:
        return None
    sweep = Sweep(path, box.axes[wide], box.kind, width=box.sizes[wide], height=box.sizes[high])
    return _as_it_lies(sweep, frame)


def _bend(body: Sequence[Vec], start: Vec, end: Vec) -> float | None:
    """0 where the body follows the line between its ends; None where it doesn't, or there is none to see."""
    off = max((_off_line(point, start, end) for point in body), default=math.inf)
    return 0.0 if off <= STRAIGHT_MM else None


def _off_line(point: Vec, start: Vec, end: Vec) -> float:
    direction = unit(sub(end, start))
    return 0.0 if direction is None else norm(cross(sub(point, start), direction))


def _level_across(along: Vec, frame: Frame | None = None) -> Vec | None:
    """A level direction across an axis; any one where the axis is upright."""
    direction = unit(frame.turn(along) if frame is not None else along)
    if direction is None:
        return None
    return unit(cross((0.0, 0.0, 1.0), direction)) if abs(dot(direction, (0.0, 0.0, 1.0))) < 0.99 else (1.0, 0.0, 0.0)
