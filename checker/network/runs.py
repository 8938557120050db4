"""Runs of conduit: consecutive segments and bends between two points where cables can be drawn in.

A run ends for certain at a box, a tee or a cross, where another kind of carrier begins, and at an open end from which a
circuit's cable drops to equipment. At any other end (a fitting joined on one side only, an open end in the middle of nowhere,
three conduits that meet without a fitting, one that ends at another's side) the run may go on: then neither its length nor its bends
are known.

It lies between enclosures where both of its ends are at boxes or trunking. Tees, crosses and trays are none; what an open end leads to
isn't known.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checker.model import CarrierKind, FittingKind, Run, Vec
from checker.model.geometry import angle_deg, distance, scale, sub
from checker.network.graph import WHOLE, Network, Node
from checker.network.joins import END, START, Spot
from checker.units import metres

DRAW_IN = {FittingKind.BOX, FittingKind.TEE, FittingKind.CROSS}
#: What comes after an end, if no other conduit: an enclosure, another point to draw in, what may be an enclosure, what isn't known.
ENCLOSED, DRAWN, UNSURE, OPEN = "enclosed", "drawn", "unsure", "open"
#: A landing this near to a conduit's end is at it: the cable leaves the conduit there.
AT_END_MM = 300.0
#: Ends nearer than this that don't meet may have been meant to.
NEAR_MISS_MM = 300.0

#: One end of a conduit: its key, and whether it is the start of its axis; None: somewhere along its side.
End = tuple[str, bool | None]


@dataclass(frozen=True, slots=True)
class _Link:
    """Two conduit ends between which cables pass no point to draw in, and the fittings' centres between them."""

    one: End
    other: End
    through: tuple[Vec | None, ...]


def find_runs(network: Network, landings: Iterable[Node]) -> dict[str, Run]:
    """The run of each conduit, by the conduit's key.

    Args:
        network: What is joined.
        landings: Where circuits come in.
    """
    return _Runs(network, landings).by_conduit()


class _Runs:
    def __init__(self, network: Network, landings: Iterable[Node]) -> None:
        self._ends_near: dict[tuple[int, ...], list[tuple[str, Vec]]] = defaultdict(list)
        for key, carrier in network.carriers.items():
            for point in (carrier.start_mm, carrier.end_mm):
                if point is not None:
                    self._ends_near[_cell(point)].append((key, point))
        self.conduits = {key: item for key, item in network.carriers.items() if item.kind is CarrierKind.CONDUIT}
        self.network = network
        self._met: dict[End | str, set[End | str]] = defaultdict(set)
        for join in network.joins:
            one, other = self._node(join.one), self._node(join.other)
            self._met[one].add(other)
            self._met[other].add(one)
        self._prefer_fittings()
        self._drops: dict[str, list[float]] = defaultdict(list)
        for key, along in landings:
            if key in self.conduits and along is not None:
                self._drops[key].append(along)

    def _prefer_fittings(self) -> None:
        """Where two ends meet inside a fitting that they are both joined to, the way goes through the fitting."""
        for end, met in self._met.items():
            fittings = {item for item in met if isinstance(item, str) and item in self.network.fittings}
            for other in [item for item in met if isinstance(item, tuple)]:
                if not fittings.isdisjoint(self._met[other]):
                    met.discard(other)
                    self._met[other].discard(end)

    def _node(self, spot: Spot) -> End | str:
        """A spot as one of what meets: an end or the side of a conduit, or any other element."""
        if spot.element not in self.conduits:
            return spot.element
        return (spot.element, spot.where != END if spot.where in {START, END, ""} else None)

    def by_conduit(self) -> dict[str, Run]:
        links, ends = self._links()
        at: dict[str, list[_Link]] = defaultdict(list)
        for link in links:
            at[link.one[0]].append(link)
            at[link.other[0]].append(link)
        runs: dict[str, Run] = {}
        number = 0
        for key in sorted(self.conduits):
            if key in runs:
                continue
            number += 1
            members, used = _spread(key, at)
            at_ends = {end for member in members for end in ends[member]}
            if any((member, None) in self._met for member in members):  # something joins it half-way
                at_ends.add(OPEN)
            length = self._length_m(members, used) if OPEN not in at_ends else None
            turn = self._turn_deg(members, used) if OPEN not in at_ends else None
            run = Run(number, tuple(sorted(members)), length, turn, _between_enclosures(at_ends))
            runs |= dict.fromkeys(members, run)
        return runs

    def _links(self) -> tuple[set[_Link], dict[str, set[str]]]:
        """Links between conduits, and what comes after the ends of a conduit that no other one follows."""
        links: set[_Link] = set()
        ends: dict[str, set[str]] = defaultdict(set)
        for key in sorted(self.conduits):
            for end in ((key, True), (key, False)):
                other, through = self._beyond(end)
                if isinstance(other, tuple):
                    one, two = sorted((end, other))
                    links.add(_Link(one, two, through if one == end else through[::-1]))
                else:
                    ends[key].add(other)
        return links, ends

    def _beyond(self, end: End) -> tuple[End | str, tuple[Vec | None, ...]]:
        """What comes after an end: another conduit's end, or one of the four words."""
        through: list[Vec | None] = []
        before: End | str = end
        here = self._met.get(end, set())
        for _ in range(len(self.network.fittings) + 1):
            if not here:
                return (UNSURE if not through and self._drops_at(end) else OPEN), ()
            if len(here) > 1:
                keys = {item for item in here if isinstance(item, str)}
                if len(keys) < len(here) or keys.isdisjoint(self.network.carriers):
                    return OPEN, ()
                return self._drawn_at(keys), ()
            (item,) = here
            if isinstance(item, tuple):  # it must see us alone, too: else several meet at one point
                alone = item[1] is not None and self._met[item] <= {before}
                return (item if alone else OPEN), tuple(through)
            fitting = self.network.fittings.get(item)
            if fitting is None or fitting.kind in DRAW_IN:
                return self._drawn_at({item}), ()
            through.append(fitting.centre_mm)
            here, before = self._met[item] - {before}, item
        return OPEN, ()

    def _drawn_at(self, keys: set[str]) -> str:
        """What a point to draw in is: an enclosure if all that meets there are boxes, or trunking, which encloses as a box does."""
        kinds = {(self.network.fittings.get(key) or self.network.carriers[key]).kind for key in keys}
        if kinds <= {FittingKind.BOX, CarrierKind.TRUNKING}:
            return ENCLOSED
        return UNSURE if kinds & {FittingKind.UNKNOWN, CarrierKind.UNKNOWN} else DRAWN

    def _drops_at(self, end: End) -> bool:
        """Whether a circuit's cable leaves a conduit at this open end.

        It does where it drops to equipment there. Where a circuit ends on the conduit as such it may, unless another carrier's end is so
        near that the two were meant to meet.
        """
        conduit = self.conduits[end[0]]
        place = 0.0 if end[1] else conduit.length_mm or 0.0
        if any(along != WHOLE and abs(along - place) <= AT_END_MM for along in self._drops[end[0]]):
            return True
        point = self._point(end)
        return WHOLE in self._drops[end[0]] and point is not None and not self._misses(end[0], point)

    def _misses(self, key: str, point: Vec) -> bool:
        """Whether another carrier ends near a point, and so perhaps should have met it."""
        x, y, z = _cell(point)
        steps = (-1, 0, 1)
        around = ((x + i, y + j, z + k) for i in steps for j in steps for k in steps)
        return any(
            other != key and distance(point, there) <= NEAR_MISS_MM
            for cell in around
            for other, there in self._ends_near.get(cell, ())
        )

    def _length_m(self, members: set[str], links: list[_Link]) -> float | None:
        lengths = [self.conduits[member].length_mm for member in members]
        for link in links:
            points = [self._point(link.one), *link.through, self._point(link.other)]
            if link.through and None in points:
                return None
            pairs = itertools.pairwise(point for point in points if point is not None)
            lengths.extend(distance(a, b) for a, b in pairs)
        known = [length for length in lengths if length is not None]
        return metres(math.fsum(known)) if len(known) == len(lengths) else None

    def _turn_deg(self, members: set[str], links: list[_Link]) -> float | None:
        """The angles by which the way turns: where pieces meet, and within each piece."""
        turns = [self.conduits[member].turn_deg for member in members]
        for link in links:
            directions = list(self._directions(link))
            if None in directions:
                return None
            known = [direction for direction in directions if direction is not None]
            turns.extend(angle_deg(a, b) for a, b in itertools.pairwise(known))
        found = [turn for turn in turns if turn is not None]
        return math.fsum(found) if len(found) == len(turns) else None

    def _directions(self, link: _Link) -> Iterator[Vec | None]:
        """The way's directions along a link: out of one conduit, from fitting to fitting, into the other."""
        yield self._outward(link.one)
        for one, other in itertools.pairwise(link.through):
            if one is None or other is None:
                yield None
            elif one != other:
                yield sub(other, one)
        inward = self._outward(link.other)
        yield None if inward is None else scale(inward, -1.0)

    def _point(self, end: End) -> Vec | None:
        conduit = self.conduits[end[0]]
        return conduit.start_mm if end[1] else conduit.end_mm

    def _outward(self, end: End) -> Vec | None:
        """The direction in which a conduit's axis leaves it at an end."""
        points = self.conduits[end[0]].axis_mm
        points = points if end[1] else points[::-1]
        inner = next((point for point in points if point != points[0]), None)
        return None if inner is None else sub(points[0], inner)


def _between_enclosures(ends: set[str]) -> bool | None:
    """Whether what comes after all ends of a run is an enclosure; None: not known. A run without an end has none."""
    if DRAWN in ends:
        return False
    return True if ends == {ENCLOSED} else None


def _spread(key: str, at: dict[str, list[_Link]]) -> tuple[set[str], list[_Link]]:
    """All conduits that hang together with one, and the links between them."""
    members, used, waiting = {key}, set(), [key]
    while waiting:
        for link in at.get(waiting.pop(), ()):
            used.add(link)
            for member in {link.one[0], link.other[0]} - members:
                members.add(member)
                waiting.append(member)
    return members, sorted(used, key=lambda link: (link.one, link.other))


def _cell(point: Vec) -> tuple[int, int, int]:
    return (int(point[0] // NEAR_MISS_MM), int(point[1] // NEAR_MISS_MM), int(point[2] // NEAR_MISS_MM))
