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
from collections.abc import Container, Iterable, Sequence

from checker.model import Carrier, CarrierKind, FittingKind, Run, Vec
from checker.model.geometry import distance
from checker.model.turns import leaving
from checker.network.graph import WHOLE, Network, Node
from checker.network.joins import END, START, Spot
from checker.network.link_turns import Leaving, Turns, turns_between
from checker.network.run_order import End, Link, RunOrder, in_order, spread
from checker.units import metres

DRAW_IN = {FittingKind.BOX, FittingKind.TEE, FittingKind.CROSS}
#: What comes after an end, if no other conduit: an enclosure, another point to draw in, what may be an enclosure, what isn't known.
ENCLOSED, DRAWN, UNSURE, OPEN = "enclosed", "drawn", "unsure", "open"
#: A landing this near to a conduit's end is at it: the cable leaves the conduit there.
AT_END_MM = 300.0
#: Ends nearer than this that don't meet may have been meant to.
NEAR_MISS_MM = 300.0


def find_runs(network: Network, landings: Iterable[Node]) -> dict[str, Run]:
    """The run of each conduit, by the conduit's key.

    Args:
        network: What is joined.
        landings: Where circuits come in.
    """
    return {key: order.run for order in find_orders(network, landings) for key in order.run.carriers}


def find_orders(network: Network, landings: Iterable[Node]) -> list[RunOrder]:
    """All runs, each with its conduits in order.

    Args:
        network: What is joined.
        landings: Where circuits come in.
    """
    return _Runs(network, landings).orders()


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

    def orders(self) -> list[RunOrder]:
        links, ends = self._links()
        at: dict[str, list[Link]] = defaultdict(list)
        for link in links:
            at[link.one[0]].append(link)
            at[link.other[0]].append(link)
        orders: list[RunOrder] = []
        seen: set[str] = set()
        for key in sorted(self.conduits):
            if key in seen:
                continue
            members, used = spread(key, at)
            seen |= members
            at_ends = {ends[end][0] for member in members for end in ((member, True), (member, False)) if end in ends}
            is_tapped = any((member, None) in self._met for member in members)
            if is_tapped:  # something joins it half-way
                at_ends.add(OPEN)
            is_open = OPEN in at_ends
            length = None if is_open else self._length_m(members, used)
            turn = None if is_open else self._turn_deg(members, used)
            run = Run(len(orders) + 1, tuple(sorted(members)), length, turn, _between_enclosures(at_ends))
            steps, between = in_order(members, used)
            first, last = steps[0], (steps[-1][0], not steps[-1][1])
            outside = tuple(ends[end][1] if end in ends else () for end in (first, last))
            is_left = any(self._is_left(member, ends) for member in members)
            orders.append(RunOrder(run, steps, between, (outside[0], outside[1]), is_open, is_tapped, is_left))
        return orders

    def _links(self) -> tuple[set[Link], dict[End, tuple[str, tuple[str, ...]]]]:
        """Links between conduits, and of the ends that no other conduit follows what comes after them: a word, and the keys."""
        links: set[Link] = set()
        ends: dict[End, tuple[str, tuple[str, ...]]] = {}
        for key in sorted(self.conduits):
            for end in ((key, True), (key, False)):
                other, through = self._beyond(end)
                if isinstance(other, tuple):
                    one, two = sorted((end, other))
                    links.add(Link(one, two, through if one == end else through[::-1]))
                else:
                    ends[end] = (other, through)
        return links, ends

    def _beyond(self, end: End) -> tuple[End | str, tuple[str, ...]]:
        """What comes after an end: another conduit's end with the fittings between, or one of the four words with what is there."""
        through: list[str] = []
        before: End | str = end
        here = self._met.get(end, set())
        for _ in range(len(self.network.fittings) + 1):
            if not here:
                return (UNSURE if not through and self._drops_at(end) else OPEN), ()
            if len(here) > 1:
                keys = {item for item in here if isinstance(item, str)}
                if len(keys) < len(here) or keys.isdisjoint(self.network.carriers):
                    return OPEN, ()
                return self._drawn_at(keys), tuple(sorted(keys))
            (item,) = here
            if isinstance(item, tuple):  # it must see us alone, too: else several meet at one point
                alone = item[1] is not None and self._met[item] <= {before}
                return (item if alone else OPEN), tuple(through)
            fitting = self.network.fittings.get(item)
            if fitting is None or fitting.kind in DRAW_IN:
                return self._drawn_at({item}), (item,)
            through.append(item)
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

    def _is_left(self, key: str, ends: Container[End]) -> bool:
        """Whether a circuit's cable leaves a conduit for equipment elsewhere than at an end of the run."""
        length = self.conduits[key].length_mm or 0.0
        places = [place for at_start, place in ((True, 0.0), (False, length)) if (key, at_start) in ends]
        return any(
            along != WHOLE and all(abs(along - place) > AT_END_MM for place in places) for along in self._drops[key]
        )

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

    def _length_m(self, members: set[str], links: list[Link]) -> float | None:
        lengths = [self.conduits[member].length_mm for member in members]
        for link in links:
            points = [self._point(link.one), *self._centres(link), self._point(link.other)]
            if link.through and None in points:
                return None
            pairs = itertools.pairwise(point for point in points if point is not None)
            lengths.extend(distance(a, b) for a, b in pairs)
        known = [length for length in lengths if length is not None]
        return metres(math.fsum(known)) if len(known) == len(lengths) else None

    def _turn_deg(self, members: set[str], links: list[Link]) -> float | None:
        """The angles by which the way turns: where pieces meet, and within each piece."""
        turns = [self.conduits[member].turn_deg for member in members]
        for link in links:
            found = turns_of(self.network, link.one, link.through, link.other)
            if found is None or not found.is_all:
                return None
            turns.extend(found.each)
        known = [turn for turn in turns if turn is not None]
        return math.fsum(known) if len(known) == len(turns) else None

    def _centres(self, link: Link) -> list[Vec | None]:
        return [self.network.fittings[key].centre_mm for key in link.through]

    def _point(self, end: End) -> Vec | None:
        conduit = self.conduits[end[0]]
        return conduit.start_mm if end[1] else conduit.end_mm


def turns_of(network: Network, one: End, through: Sequence[str], other: End) -> Turns | None:
    """The turns from one conduit's end through fittings, by key, into another's; None: nothing is known of them."""
    here, there = (leaving_end(network.carriers[key], at_start=bool(at_start)) for key, at_start in (one, other))
    return turns_between(here, [network.fittings[key] for key in through], there) if here and there else None


def leaving_end(conduit: Carrier, *, at_start: bool) -> Leaving | None:
    """An end of a conduit and its direction there; None where they aren't known."""
    point, way = conduit.start_mm if at_start else conduit.end_mm, leaving(conduit, at_start=at_start)
    return None if point is None or way is None else Leaving(point, way)


def _between_enclosures(ends: set[str]) -> bool | None:
    """Whether what comes after all ends of a run is an enclosure; None: not known. A run without an end has none."""
    if DRAWN in ends:
        return False
    return True if ends == {ENCLOSED} else None


def _cell(point: Vec) -> tuple[int, int, int]:
    return (int(point[0] // NEAR_MISS_MM), int(point[1] // NEAR_MISS_MM), int(point[2] // NEAR_MISS_MM))
