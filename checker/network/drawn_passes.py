"""Leads a drawn line through carriers: which of those that it lies in it runs along, from where to where, and where it lies in none.

Of all ways to read a line the cheapest is taken: every millimetre costs by how far it lies outside a carrier's body and across it, most of
all where it lies in none, and each carrier that it enters costs too. So the choice doesn't flicker between carriers beside each other.
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from checker.model import Carrier
from checker.network.drawn_bodies import Atom, Hit, side_mm

#: What a millimetre costs: for each outside the body, for each beside the axis, where it runs across; and in no carrier at all.
OFF, ASIDE, ACROSS, NOWHERE = 0.01, 0.0001, 1.0, 10.0
#: What entering a carrier costs: beside another, a line must lie 20 mm nearer to it for a metre there and back.
ENTER = 100.0
#: A line turns back within a carrier if it does for more than this, or its side, or half its length: less is slack.
LEAST_BACK_MM = 100.0
#: It runs along a carrier for a side of it at least, or half its length; what does for less only crosses it.
LENGTH_SHARE = 0.5
#: A stretch between two carriers that are joined, and no longer than this or so many of their sides, lies in what joins them.
FITTING_MM, FITTING_SIDES = 500.0, 4.0


@dataclass(frozen=True, slots=True)
class Pass:
    """A stretch of a line along one carrier.

    ``from_mm`` and ``to_mm`` are along the carrier's axis, ``begins_mm`` and ``ends_mm`` along the line. ``hits`` are its parts with their
    lengths, ``bulges_mm`` from where to where along the line it bulges out.
    """

    carrier: int
    from_mm: float
    to_mm: float
    begins_mm: float
    ends_mm: float
    hits: tuple[tuple[float, Hit], ...] = ()
    bulges_mm: tuple[tuple[float, float], ...] = ()

    @property
    def low_mm(self) -> float:
        """The lower of its two places on the carrier."""
        return min(self.from_mm, self.to_mm)

    @property
    def high_mm(self) -> float:
        """The higher one."""
        return max(self.from_mm, self.to_mm)


def passes_of(atoms: Sequence[Atom], carriers: Sequence[Carrier]) -> list[Pass]:
    """The passes of a line in order.

    Args:
        atoms: The line in stretches.
        carriers: What their numbers mean.
    """
    passes: list[Pass] = []
    run: list[tuple[float, Hit]] = []
    begins = at = 0.0
    for atom, hit in zip(atoms, _chosen(atoms), strict=True):
        if run and (hit is None or hit.carrier != run[-1][1].carrier):
            passes += _within(run, begins, carriers[run[-1][1].carrier])
            run = []
        if hit is not None:
            begins = at if not run else begins
            run.append((atom.length_mm, hit))
        at += atom.length_mm
    if run:
        passes += _within(run, begins, carriers[run[-1][1].carrier])
    return _joined(passes, carriers)


def along_mm(atoms: Sequence[Atom]) -> dict[int, float]:
    """For how long a line runs along each carrier that it is in, whether that makes a pass or not, in mm."""
    found: dict[int, float] = {}
    for atom, hit in zip(atoms, _chosen(atoms), strict=True):
        if hit is not None and hit.is_along:
            found[hit.carrier] = found.get(hit.carrier, 0.0) + atom.length_mm
    return found


def trimmed(passes: Sequence[Pass]) -> tuple[Pass, ...]:
    """The passes of a line without what at its beginning and end only comes into a carrier from the side: that belongs to its drop."""
    found = list(passes)
    if found:
        first = found[0]
        found[0] = replace(first, begins_mm=first.begins_mm + _across_mm(first.hits))
        last = found[-1]
        found[-1] = replace(last, ends_mm=last.ends_mm - _across_mm(reversed(last.hits)))
    return tuple(found)


def _across_mm(hits: Iterable[tuple[float, Hit]]) -> float:
    """For how long it only comes in from the side, before it runs along."""
    return sum(length for length, _ in itertools.takewhile(lambda part: not part[1].is_along, hits))


def fitting_mm(one: Carrier, other: Carrier) -> float:
    """How long a line may be in what joins two carriers."""
    return max(FITTING_MM, FITTING_SIDES * max(side_mm(one), side_mm(other)))


def _chosen(atoms: Sequence[Atom]) -> list[Hit | None]:
    """The carrier of each stretch, or none: the cheapest of all ways (Viterbi). Of ways as cheap it is always the same."""
    costs: dict[int, float] = {-1: 0.0}
    before: list[dict[int, int]] = []
    for atom in atoms:
        cheapest = min((round(cost, 6), key) for key, cost in costs.items())[1]
        came: dict[int, int] = {-1: cheapest}
        now = {-1: costs[cheapest] + NOWHERE * atom.length_mm}
        for hit in atom.hits:
            entered = costs[cheapest] + ENTER
            stays = costs.get(hit.carrier, math.inf) <= entered
            came[hit.carrier] = hit.carrier if stays else cheapest
            own = OFF * hit.off_mm + ASIDE * hit.aside_mm + (0.0 if hit.is_along else ACROSS)
            now[hit.carrier] = (costs[hit.carrier] if stays else entered) + own * atom.length_mm
        before.append(came)
        costs = now
    key = min((round(cost, 6), key) for key, cost in costs.items())[1]
    found: list[Hit | None] = []
    for atom, came in zip(reversed(atoms), reversed(before), strict=True):
        found.append(next((hit for hit in atom.hits if hit.carrier == key), None))
        key = came[key]
    return found[::-1]


def _within(run: Sequence[tuple[float, Hit]], begins: float, carrier: Carrier) -> list[Pass]:
    """The passes of one carrier while the line lies in it: one more for each time that it turns back; none where it only crosses it."""
    places = [run[0][1].place_mm[0], *(hit.place_mm[1] for _, hit in run)]
    marks = [begins]
    for length, _ in run:
        marks.append(marks[-1] + length)
    side, half = side_mm(carrier), LENGTH_SHARE * (carrier.length_mm or math.inf)
    turns = [0, *_turns(places, min(max(LEAST_BACK_MM, side), half)), len(run)]
    found = []
    for first, last in itertools.pairwise(turns):
        own = run[first:last]
        along = sum(abs(hit.place_mm[1] - hit.place_mm[0]) for _, hit in own if hit.is_along)
        if along > 0.0 and along >= min(side, half) - 1e-6:
            here = places[first : last + 1]
            # in and out again at one place: as far as it goes in
            ends = (here[0], here[-1]) if here[0] != here[-1] else (min(here), max(here))
            found.append(Pass(run[0][1].carrier, *ends, marks[first], marks[last], tuple(own)))
    return found


def _turns(places: Sequence[float], least: float) -> list[int]:
    """Where a row of places turns back by more than ``least``: the number of each farthest one."""
    found: list[int] = []
    low = high = 0
    way = 0
    for number, place in enumerate(places):
        if way >= 0:
            high = number if place > places[high] else high
            if places[high] - place > least:
                found += [high] if way > 0 else []
                way, low = -1, number
                continue
        if way <= 0:
            low = number if place < places[low] else low
            if place - places[low] > least:
                found += [low] if way < 0 else []
                way, high = 1, number
    return found


def _joined(passes: Sequence[Pass], carriers: Sequence[Carrier]) -> list[Pass]:
    """Passes of one carrier that go on where the one before it ended are one: the line only bulges out of it between them."""
    found: list[Pass] = []
    for item in passes:
        last = found[-1] if found else None
        if last is not None and last.carrier == item.carrier and _goes_on(last, item, carriers[item.carrier]):
            bulge = (last.ends_mm - _across_mm(reversed(last.hits)), item.begins_mm + _across_mm(item.hits))
            found[-1] = replace(
                last,
                to_mm=item.to_mm,
                ends_mm=item.ends_mm,
                hits=last.hits + item.hits,
                bulges_mm=(*last.bulges_mm, bulge, *item.bulges_mm),
            )
        else:
            found.append(item)
    return found


def _goes_on(last: Pass, item: Pass, carrier: Carrier) -> bool:
    way, other = last.to_mm - last.from_mm, item.to_mm - item.from_mm
    between = item.begins_mm - last.ends_mm
    onward = (item.from_mm - last.to_mm) * math.copysign(1.0, way)
    return way * other > 0.0 and between <= fitting_mm(carrier, carrier) and onward >= -side_mm(carrier)
