"""Open ends that nothing joins though something lies near, so that a person can look whether they should meet."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.model import Body, Carrier, Problem, ProblemKind, Vec
from checker.model.geometry import distance, norm
from checker.network.bodies import HAIR_MM, End, Shape, at_nearest, same_way
from checker.network.cells import Grid
from checker.network.crowds import MOST_LOOKED_AT, Crowds
from checker.network.joins import END, START, Book, NearMiss, Spot
from checker.network.meeting import Meetings

#: How far a near miss reaches: this, or more around large sections, but never farther than the last.
LEAST_REACH_MM, TIMES_SIDE, MOST_REACH_MM = 300.0, 2.0, 1000.0
#: Why a near miss is told.
NOT_JOINED = "so no circuit is led from one to the other there; whether they are meant to be apart can't be told"


def near_misses(meetings: Meetings, book: Book, crowds: Crowds) -> list[NearMiss]:
    """Open ends that have something near which they aren't joined to: the nearest alone.

    Two ends that are the nearest to each other are told once.
    """
    return _NearMisses(meetings, book, crowds).found()


def told(misses: Iterable[NearMiss]) -> list[Problem]:
    """A problem for each."""
    return [
        Problem(" / ".join(miss.names), miss.said, NOT_JOINED,
                "if cables pass there, close the gap or connect their ports", ProblemKind.GAP, 2)
        for miss in misses
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Thing:
    """Something that an end may nearly meet; all of it lies in a box along the model's axes, from ``low_mm`` to ``high_mm``."""

    key: str
    label: str
    shape: Shape | None
    side_mm: float
    bodies: Sequence[Body]
    low_mm: Vec
    high_mm: Vec

    def is_beyond(self, point: Vec, reach_mm: float) -> bool:
        """Whether its box says already that a point is farther from it than some reach."""
        x, y, z = point
        low, high = self.low_mm, self.high_mm
        return (
            x < low[0] - reach_mm or x > high[0] + reach_mm
            or y < low[1] - reach_mm or y > high[1] + reach_mm
            or z < low[2] - reach_mm or z > high[2] + reach_mm
        )  # fmt: skip


class _NearMisses:
    def __init__(self, meetings: Meetings, book: Book, crowds: Crowds) -> None:
        self._book, self._crowds = book, crowds
        self._shapes, self._fittings = meetings.shapes, meetings.fittings
        self._things: list[_Thing] = []

    def found(self) -> list[NearMiss]:
        ends = [end for shape in self._shapes for end in shape.ends]
        ends = [end for end in ends if not self._book.met(end.spot) and end.spot.mark not in self._crowds.marks]
        grid = self._grid() if ends else Grid(MOST_REACH_MM)
        missed: dict[tuple[str, str], tuple[End, Spot, str, float]] = {}
        for end in ends:
            near = grid.near(end.point_mm, MOST_LOOKED_AT)
            found = self._nearest(end, near or [])
            if near is None:
                self._crowds.marks.add(end.spot.mark)
            elif found is not None:
                missed[end.spot.mark] = (end, *found)
        told: set[tuple[tuple[str, str], ...]] = set()
        misses = []
        for mark, (end, spot, label, off) in missed.items():
            pair = tuple(sorted((mark, spot.mark)))
            theirs = missed.get(spot.mark)
            if theirs is not None and theirs[3] < off:
                continue  # that end has something nearer, or is nearer to this one seen from there: it is told of there
            if pair not in told:
                misses.append(_told(end, spot, label, off))
            told.add(pair)
        return misses

    def _grid(self) -> Grid:
        """Whatever may be nearly met, by its number among the things, which are worked out here."""
        grid = Grid(MOST_REACH_MM)
        for shape in self._shapes:
            radius = norm((*shape.half_mm, 0.0))
            grid.add(len(self._things), shape.axis_mm, radius)
            # one without a length has no body that a point could be measured from, and isn't left out by its box
            corners = _corners(shape.axis_mm, radius if shape.pieces else math.inf)
            label = shape.carrier.place.label
            self._things.append(_Thing(shape.carrier.key, label, shape, shape.side_mm, shape.pieces, *corners))
        for fitting, body in self._fittings:
            radius = norm(body.half_mm)
            grid.add(len(self._things), [body.centre_mm], radius)
            corners = _corners([body.centre_mm], radius)
            self._things.append(_Thing(fitting.key, fitting.place.label, None, 0.0, [body], *corners))
        return grid

    def _nearest(self, end: End, near: list[int]) -> tuple[Spot, str, float] | None:
        """The nearest of some things, by their numbers, if one is near enough: where on it, what it is called, and how far off it is."""
        found: list[tuple[float, str, _Thing]] = []
        for number in near:
            thing = self._things[number]
            reach = min(max(LEAST_REACH_MM, TIMES_SIDE * max(end.side_mm, thing.side_mm)), MOST_REACH_MM)
            if thing.is_beyond(end.point_mm, reach + HAIR_MM) or thing.key == end.carrier.key:
                continue
            if thing.shape is not None and not _share_service(end.carrier, thing.shape.carrier):
                continue
            off = min([body.off_mm(end.point_mm) for body in thing.bodies], default=MOST_REACH_MM)
            if off <= reach and not _runs_beside(end, thing.shape) and not self._are_joined(end.carrier.key, thing.key):
                found.append((round(off, 1), thing.key, thing))
        if not found:
            return None
        off, key, thing = min(found, key=lambda one: one[:2])
        if thing.shape is not None:
            return at_nearest(thing.shape, end.point_mm, end.side_mm / 2.0 + off), thing.label, off
        return Spot(key, None), thing.label, off

    def _are_joined(self, one: str, other: str) -> bool:
        """Whether two elements are joined, directly or through one other."""
        near = self._book.near(one)
        return other in near or not near.isdisjoint(self._book.near(other))


def _share_service(one: Carrier, other: Carrier) -> bool:
    """Whether some circuit may run in both: what no circuit could pass isn't a gap."""
    sides = [[lane.services for lane in carrier.section.lanes] for carrier in (one, other)]
    if None in sides[0] or None in sides[1]:
        return True
    mine, theirs = (frozenset().union(*(services or () for services in side)) for side in sides)
    return not mine.isdisjoint(theirs)


def _told(end: End, spot: Spot, other: str, off_mm: float) -> NearMiss:
    label = end.carrier.place.label
    if spot.where in {START, END} and spot.point_mm is not None:  # which of the two was looked from doesn't matter
        sides = [(label, end.spot.mark, end.point_mm), (other, spot.mark, spot.point_mm)]
        (first, one, point_mm), (second, two, _) = sorted(sides)
        off_mm = distance(end.point_mm, spot.point_mm)
        return NearMiss(
            one, two, (first, second), f"their ends are {off_mm:.0f} mm apart and aren't joined", off_mm, point_mm
        )
    said = f"an end of the first is {off_mm:.0f} mm from the second and isn't joined to it"
    return NearMiss(end.spot.mark, spot.mark, (label, other), said, off_mm, end.point_mm)


def _corners(points: Sequence[Vec], radius_mm: float) -> tuple[Vec, Vec]:
    """The lowest and the highest corner of a box around all that lies within a radius of some points, and between them."""
    x, y, z = zip(*points, strict=True)
    low = (min(x) - radius_mm, min(y) - radius_mm, min(z) - radius_mm)
    return low, (max(x) + radius_mm, max(y) + radius_mm, max(z) + radius_mm)


def _runs_beside(end: End, other: Shape | None) -> bool:
    """Whether the nearest end of another carrier points the same way: neighbours in a bank end side by side, and aren't meant to meet."""
    ends = [one for one in other.ends if one.frame is not None] if other is not None else []
    nearest = min(ends, key=lambda one: distance(one.point_mm, end.point_mm), default=None)
    if end.frame is None or nearest is None or nearest.frame is None:
        return False
    return same_way(end.frame[0], nearest.frame[0])
