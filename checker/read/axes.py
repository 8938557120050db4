"""Finds a carrier's axis: from the sweep of its body, else its Axis representation, its ports, or its longest extent."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.model import Vec
from checker.model.geometry import add, angle_deg, cross, distance, dot, midpoint, norm, scale, sub, unit
from checker.read.chords import Curve, straight
from checker.read.dividers import divided
from checker.read.extents import PARALLEL_DEG, STANDS, as_it_lies, box_of, section_across
from checker.read.pieces import in_order, same_section
from checker.read.placements import Frame
from checker.read.shapes import Shapes, Sweep

#: Profiles that can only be the section of something. A plain rectangle may as well be the plan of the carrier, extruded upward.
SURE = {
    "IfcRectangleHollowProfileDef", "IfcCircleProfileDef", "IfcCircleHollowProfileDef", "IfcUShapeProfileDef", "IfcCShapeProfileDef",
    "IfcArbitraryProfileDefWithVoids", "IfcCenterLineProfileDef", "disk",
}  # fmt: skip
#: A body all within this of a line is straight: half of the widest conduit that tables know, and a little.
STRAIGHT_MM = 35.0
#: Thinner ones are wires, of which a basket is made: no conduit of EN 61386-1 or NFPA 70 is so thin outside.
WIRE_MM = 12.0
#: A shell is at least this much as long as the whole body along the body's own axes.
SHELL_SHARE = 0.9


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
        is_across_known: Whether a drawn section says towards which side ``across`` goes; else it is a convention.
    """

    points_mm: tuple[Vec, ...] = ()
    across: Vec | None = None
    sweep: Sweep | None = None
    length_mm: float | None = None
    turn_deg: float | None = None
    said: str = ""
    found_by: str = ""
    is_across_known: bool = False


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
    """The axis of a carrier. Its figures are finite, and its length isn't 0.

    Args:
        shapes: The model's shapes.
        element: The element.
        frame: Its frame in the world, in the file's unit.
        ports_mm: Where its ports are, in the world.
        mm: Millimetres in one unit of the file.

    Raises:
        ValueError: Its numbers are too large or small to reckon with. Other errors of ``relations.MALFORMED`` come of malformed entities.
    """
    axis = _axis(shapes, element, frame, ports_mm, mm)
    figures = itertools.chain([axis.length_mm or 0.0, axis.turn_deg or 0.0], axis.across or (), *axis.points_mm)
    if not all(map(math.isfinite, figures)) or axis.length_mm == 0.0:
        raise ValueError("its shape has numbers too large for any place, or too small for a length")
    return axis


def _axis(shapes: Shapes, element: Any, frame: Frame, ports_mm: Sequence[Vec], mm: float) -> Axis:
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
            return _along(as_it_lies(sweep, frame), it, "plan of its body" if sweep.turned else "sweep of its body")
    return _by_hints(it, shapes, items)


def _along(sweep: Sweep, it: _Element, found_by: str) -> Axis:
    """The axis of a sweep."""
    path = sweep.path
    is_straight = len(path.points) == 2
    across = unit(it.frame.turn(sweep.across)) if is_straight else _level_across(sub(path.end, path.start), it.frame)
    length = path.length * it.mm * it.frame.factor
    # a plan has no sides of a section, and a circle none at all
    is_known = is_straight and not sweep.turned and sweep.diameter is None
    return Axis(tuple(map(it.world, path.points)), across, sweep, length, path.turn_deg, "", found_by, is_known)


def _run(it: _Element) -> Axis | None:
    """An element that is a whole run: pipes or hollow sections that follow one another, or one along a bent line."""
    bent = [sweep for sweep in it.sweeps if len(sweep.path.points) > 2]
    if it.items != len(it.sweeps) or (it.items == 1 and not bent):
        return None
    if it.items > 1 and any(sweep.profile not in SURE for sweep in it.sweeps):
        return None
    if not same_section(it.sweeps):
        return None
    path = it.sweeps[0].path if it.items == 1 else in_order(it.sweeps)
    if path is None:
        return None
    return _along(replace(it.sweeps[0], path=path), it, "path of its body")


def _shell(it: _Element) -> Sweep | None:
    """The sweep that is the carrier itself: the only one, or the one section beside which the others are dividers, lids or rungs."""
    if it.items == 1 and len(it.sweeps) == 1:
        return it.sweeps[0]
    sections = [sweep for sweep in it.sweeps if sweep.profile in SURE and sweep.profile != "disk"]
    if len(sections) != 1 or not it.points:
        return None
    longest = max(max(point[i] for point in it.points) - min(point[i] for point in it.points) for i in range(3))
    if distance(sections[0].start, sections[0].end) < SHELL_SHARE * longest:
        return None
    return divided(sections[0], [sweep for sweep in it.sweeps if sweep is not sections[0]])


def _lengthwise(sweep: Sweep, it: _Element) -> Sweep | None:
    """The sweep if it runs along the carrier; a plan extruded upward is turned so that it does.

    A section that is moved sideways is a section. One that is moved upward is the plan, unless the carrier is known to stand, or is
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
        if abs(up[2]) <= STANDS or norm(direction) >= size:
            return sweep
    return _turned(sweep, it.frame, known) if sweep.is_plain and sweep.width and sweep.height else None


def _known_direction(it: _Element) -> Vec | None:
    """Where it runs by its Axis representation or its ports, in the world."""
    if it.drawn is not None and distance(it.drawn.start, it.drawn.end) > 0.0:
        return it.frame.turn(sub(it.drawn.end, it.drawn.start))
    return None if it.ports is None else sub(it.ports[1], it.ports[0])


def _turned(sweep: Sweep, frame: Frame, known: Vec | None) -> Sweep | None:
    """A plan as a sweep along the side that lies in the known direction (of the world); along its longer side where none does."""
    width, height = sweep.width or 0.0, sweep.height or 0.0
    up = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    other = cross(up, sweep.across)
    is_other = height >= width
    for side, is_it in ((other, True), (sweep.across, False)):
        turned = angle_deg(frame.turn(side), known) if known is not None else None
        if turned is not None and min(turned, 180.0 - turned) <= PARALLEL_DEG:
            is_other = is_it
    lengthwise, wide, length = (other, width, height) if is_other else (sweep.across, height, width)
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
    box = box_of(shapes, items, it.points, is_swept=bool(it.sweeps))
    body = [it.world(point) for point in it.points]
    sizes = [(sweep.diameter or 0.0) * it.mm for sweep in it.sweeps]
    pipes = it.items > 1 and len(sizes) == it.items and min(sizes) >= WIRE_MM
    said = f"its body has {it.items} pipes that don't follow one another" if pipes else ""
    if it.drawn is not None:
        points = tuple(map(it.world, it.drawn.points))
        length = it.drawn.length * it.mm * it.frame.factor
        is_told = len(points) == 2 and not said
        sweep = section_across(box, sub(it.drawn.end, it.drawn.start), it.frame) if is_told else None
        across = unit(it.frame.turn(sweep.across)) if sweep is not None else _level_across(sub(points[-1], points[0]))
        return Axis(points, across, sweep, length, it.drawn.turn_deg, said, "its Axis representation")
    if it.ports is not None:
        start, end = it.ports
        along = it.frame.inward(sub(end, start))
        sweep = section_across(box, along, it.frame) if not said else None
        across = unit(it.frame.turn(sweep.across)) if sweep is not None else _level_across(sub(end, start))
        return Axis((start, end), across, sweep, distance(start, end), _bend(body, start, end), said, "its ports")
    if box is None:
        return Axis(said=said)
    longest = max(range(3), key=lambda i: (box.sizes[i], -i))
    half = scale(box.axes[longest], box.sizes[longest] / 2.0)
    start, end = it.world(sub(box.centre, half)), it.world(add(box.centre, half))
    sweep = section_across(box, box.axes[longest], it.frame) if not said else None
    across = unit(it.frame.turn(sweep.across)) if sweep is not None else _level_across(sub(end, start))
    return Axis((start, end), across, sweep, distance(start, end), _bend(body, start, end), said, f"its {box.kind}")


def _bend(body: Sequence[Vec], start: Vec, end: Vec) -> float | None:
    """0 where the body follows the line between its ends; None where it doesn't, or there is none to see."""
    off = max((_off_line(point, start, end) for point in body), default=math.inf)
    return 0.0 if off <= STRAIGHT_MM else None


def _off_line(point: Vec, start: Vec, end: Vec) -> float:
    direction = unit(sub(end, start))
    return 0.0 if direction is None else norm(cross(sub(point, start), direction))


def _level_across(along: Vec, frame: Frame | None = None) -> Vec | None:
    """A level direction across an axis; None where the axis is upright, as its section could be turned any way."""
    direction = unit(frame.turn(along) if frame is not None else along)
    if direction is None:
        return None
    return unit(cross((0.0, 0.0, 1.0), direction)) if abs(dot(direction, (0.0, 0.0, 1.0))) < 0.99 else None
