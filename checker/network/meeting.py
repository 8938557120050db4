"""Joins that geometry tells: ends that meet, ends in fittings and at others' sides, and fittings that touch.

Only ends join. Two carriers that cross, or run side by side, do not. An end that a connected port joins already looks for nothing else,
and takes another only where that touches it, not where it is merely near.
"""

import itertools
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from checker.model import Body, Carrier, CarrierKind, Fitting, FittingKind, Installation, Vec
from checker.model.geometry import distance, norm
from checker.network.bodies import (
    HAIR_MM,
    LEAST_MM,
    MOST_MM,
    TOUCH_MM,
    End,
    Shape,
    at_nearest,
    clipped,
    same_way,
    touch,
)
from checker.network.cells import Grid
from checker.network.crowds import MOST_AT_SPOT, MOST_LOOKED_AT, Crowds
from checker.network.joins import Book, FoundBy, Spot
from checker.network.port_joins import PortJoins

#: How many ways lead out of a fitting. One with as many joins needs no more.
BRANCHES = {FittingKind.TEE: 3, FittingKind.CROSS: 4}
#: No fitting is larger than this (half a side); a box around such a body says nothing on what ends in it.
MOST_HALF_MM = 2500.0
#: At the side of a conduit, which is closed, only another conduit joins.
INTO_CONDUIT = {CarrierKind.CONDUIT, CarrierKind.UNKNOWN}


@dataclass(frozen=True, slots=True)
class Tip:
    """Something that may join where it ends: a carrier's end, or an unconnected port of a fitting (``end`` None)."""

    spot: Spot
    tolerance_mm: float
    end: End | None = None

    @property
    def point_mm(self) -> Vec:
        """Where it is."""
        return self.spot.point_mm or (0.0, 0.0, 0.0)


class Meetings:
    """Finds what meets in space.

    Args:
        installation: What there is.
        shapes: Its carriers' shapes, by their keys.
        ports: What ports tell.
        book: Where joins go.
        crowds: Remembers spots where too much meets.
    """

    def __init__(
        self, installation: Installation, shapes: Mapping[str, Shape], ports: PortJoins, book: Book, crowds: Crowds
    ) -> None:
        self._shapes, self._book, self._crowds = shapes, book, crowds
        fittings = sorted(installation.fittings, key=lambda item: item.key)
        self.fittings = [(item, item.body) for item in fittings if item.body is not None and is_plausible(item.body)]
        #: Carriers that are somewhere.
        self.shapes = [shape for shape in shapes.values() if shape.axis_mm]
        keys = {item.key for item in fittings}
        free = [(port.element, point) for port, point in ports.free() if port.element in keys]
        self._port_tips = [Tip(Spot(element, point), LEAST_MM) for element, point in free]
        open_ports = {port.element for port in installation.ports if port.key not in ports.connected}
        #: Fittings whose ports are all connected: the file says what they join.
        self._full = {port.element for port in installation.ports if port.element in keys} - open_ports
        #: Fittings that have no ports that say where they join.
        self._bare = keys - self._full - {element for element, _ in free}

    def find(self) -> None:
        """Joins whatever meets."""
        every = [Tip(end.spot, end.tolerance_mm, end) for shape in self.shapes for end in shape.ends]
        tips = [tip for tip in every if not self._book.is_taken(tip.spot)]
        self._ends([*tips, *self._port_tips], [tip for tip in every if self._book.is_taken(tip.spot)])
        self._in_fittings([tip for tip in (*tips, *self._port_tips) if tip.spot.mark not in self._crowds.marks])
        self._at_sides([tip for tip in tips if tip.spot.mark not in self._crowds.marks])
        self._fittings()

    def _ends(self, tips: list[Tip], taken: list[Tip]) -> None:
        """Ends that meet end to end. Two that come from the same side lie side by side, and don't."""
        both = [*tips, *taken]
        things = [(tip.spot.mark, tip.point_mm, tip.tolerance_mm) for tip in both]
        for one, other, gap in self._crowds.pairs(things[: len(tips)], things[len(tips) :]):
            here, there = both[one], both[other]
            is_near = gap <= TOUCH_MM or not self._book.is_taken(there.spot)
            if is_near and not _side_by_side(here.end, there.end):
                self._book.add(here.spot, there.spot, FoundBy.MEETING, gap)

    def _in_fittings(self, tips: list[Tip]) -> None:
        """Ends within or at the body of a fitting."""
        grid = Grid(MOST_MM + HAIR_MM)
        for number, (_, body) in enumerate(self.fittings if tips else ()):
            grid.add(number, [body.centre_mm], norm(body.half_mm))
        for tip in tips:
            point = tip.point_mm
            near = grid.near(point, MOST_LOOKED_AT)
            met: list[tuple[Fitting, Body, float]] = []
            for number in near or ():
                fitting, body = self.fittings[number]
                off = body.off_mm(point)
                if fitting.key != tip.spot.element and off <= tip.tolerance_mm + HAIR_MM and self._takes(fitting):
                    met.append((fitting, body, off))
            if near is None or len(met) > MOST_AT_SPOT:
                self._crowds.marks.add(tip.spot.mark)
                continue
            found_by = FoundBy.IN_FITTING if tip.end is not None else FoundBy.FITTINGS
            for fitting, body, off in met:
                self._book.add(tip.spot, Spot(fitting.key, clipped(body, point)), found_by, off)

    def _takes(self, fitting: Fitting) -> bool:
        """Whether more may end in a fitting than its connected ports say. Into a box one can always drill a hole."""
        return fitting.kind is FittingKind.BOX or fitting.key not in self._full

    def _at_sides(self, tips: list[Tip]) -> None:
        """Ends in or at the body of another carrier, anywhere along it."""
        grid = Grid(2.0 * MOST_MM)
        for number, shape in enumerate(self.shapes if tips else ()):
            grid.add(number, shape.axis_mm, norm((*shape.half_mm, 0.0)))
        touching: dict[tuple[str, str], list[End]] = defaultdict(list)
        for tip in tips:
            near = grid.near(tip.point_mm, MOST_LOOKED_AT)
            touched = list(itertools.islice(self._touched(tip, near or []), MOST_AT_SPOT + 1))
            if near is None or len(touched) > MOST_AT_SPOT:
                self._crowds.marks.add(tip.spot.mark)
                continue
            for end, other in touched:
                touching[end.carrier.key, other.key].append(end)
        for (key, other_key), ends in touching.items():
            for end in ends:
                self._join_side(end, self._shapes[other_key], touching.get((other_key, key), []))

    def _touched(self, tip: Tip, near: list[int]) -> Iterator[tuple[End, Carrier]]:
        """Of some carriers, by their numbers, those that an end touches and isn't joined to yet."""
        end, joined = tip.end, self._book.met(tip.spot)
        for number in near if end is not None else ():
            shape = self.shapes[number]
            other = shape.carrier
            if end is None or other.key == end.carrier.key or other.key in joined or not _lets_in(other, end.carrier):
                continue
            depth = max(end.tolerance_mm, shape.tolerance_mm) - TOUCH_MM + HAIR_MM  # the rest is what touching allows
            if any(end.reaches(body, depth) for body in shape.pieces):
                yield end, other

    def _join_side(self, end: End, other: Shape, back: list[End]) -> None:
        """Joins an end to a carrier that it touches.

        At a corner it is joined to the other's end: where that touches its own carrier as well (it is among ``back``), or lies beside it
        by no more than its own width.
        """
        tolerance = max(end.tolerance_mm, other.tolerance_mm)
        corner = (end.side_mm + other.side_mm) / 2.0 + tolerance + HAIR_MM
        near = [(distance(end.point_mm, one.point_mm), one.spot) for one in back]
        at = min((item for item in near if item[0] <= corner), key=lambda item: (item[0], item[1].where), default=None)
        spot = at[1] if at else at_nearest(other, end.point_mm, max(tolerance, end.side_mm / 2.0) + HAIR_MM)
        if not self._book.is_taken(spot) or any(end.reaches(body, 0.0) for body in other.pieces):
            gap = min(body.off_mm(end.point_mm) for body in other.pieces)
            self._book.add(end.spot, spot, FoundBy.AT_SIDE, gap)

    def _fittings(self) -> None:
        """Fittings without ports whose bodies touch, where one of them still lacks a join; a box takes any number.

        So the bend of a run that crosses another's, and has its own two ends, isn't joined to it for overlapping.
        """
        bare = [(item, body) for item, body in self.fittings if item.key in self._bare]
        grid = Grid(1.0)
        for number, (_, body) in enumerate(bare):
            grid.add(number, [body.centre_mm], 2.0 * norm(body.half_mm))  # so that smaller ones find it
        pairs = set()
        for number, (fitting, body) in enumerate(bare):
            near = grid.near(body.centre_mm, MOST_LOOKED_AT)
            met = [other for other in near or () if other != number and touch(body, bare[other][1])]
            if near is None or len(met) > MOST_AT_SPOT:
                self._crowds.marks.add((fitting.key, ""))
                continue
            for other in met:
                apart = round(distance(body.centre_mm, bare[other][1].centre_mm), 1)
                pairs.add((apart, min(number, other), max(number, other)))
        for _, one, other in sorted(pairs):
            self._join_touching(bare[one], bare[other])

    def _join_touching(self, one: tuple[Fitting, Body], other: tuple[Fitting, Body]) -> None:
        (first, body), (second, beyond) = one, other
        if not {(first.key, ""), (second.key, "")}.isdisjoint(self._crowds.marks):
            return
        lacking = [len(self._book.near(item.key)) < BRANCHES.get(item.kind, 2) for item in (first, second)]
        boxes = [item.kind is FittingKind.BOX for item in (first, second)]
        if any(lacking) and all(lack or box for lack, box in zip(lacking, boxes, strict=True)):
            middle = clipped(body, clipped(beyond, body.centre_mm))
            self._book.add(Spot(first.key, middle), Spot(second.key, middle), FoundBy.FITTINGS, None)


def is_plausible(body: Body) -> bool:
    """Whether a fitting may be as large."""
    return max(body.half_mm) <= MOST_HALF_MM


def _lets_in(other: Carrier, ending: Carrier) -> bool:
    return other.kind is not CarrierKind.CONDUIT or ending.kind in INTO_CONDUIT


def _side_by_side(one: End | None, other: End | None) -> bool:
    if one is None or other is None or one.frame is None or other.frame is None:
        return False
    return same_way(one.frame[0], other.frame[0])
