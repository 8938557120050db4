"""The places where carriers meet and what is kept apart may mix, with what passes them: what a rule about fittings is asked about."""

import itertools
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from checker.model import Carrier, DividedFitting, Passing, PlacedCable
from checker.model.texts import listed
from checker.network.lanes import LaneChoice, followed
from checker.network.passages import Meeting, Passage
from checker.network.placing import Place
from checker.network.routing import Visit
from checker.network.unplaced import Unplaced

#: The compartments on both sides of a step from one carrier into the next: key of the carrier and number; None: not known.
Sides = frozenset[tuple[str, int | None]]


class Crowd:
    """What passes each place, gathered circuit by circuit.

    Args:
        meetings: The places, by their keys.
        carriers: All carriers.
    """

    def __init__(self, meetings: Mapping[str, Meeting], carriers: Mapping[str, Carrier]) -> None:
        self._carriers = carriers
        self._meetings = dict(meetings)
        self._passing: dict[str, dict[Sides, dict[str, tuple[PlacedCable, ...]]]] = defaultdict(
            lambda: defaultdict(dict)
        )

    def add(
        self,
        mark: str,
        visits: Sequence[Visit],
        choices: Sequence[LaneChoice],
        links: Sequence[Passage | None],
        cables: tuple[PlacedCable, ...],
    ) -> None:
        """Adds a circuit's way, and what of it lies there."""
        for at, link in enumerate(links):
            if link is None:
                continue
            sides = frozenset((visits[n].carrier, choices[n].number) for n in (at, at + 1))
            for key in link.meetings:
                self._passing[key][sides][mark] = cables
            if link.joint is not None:
                self._passing[link.joint.key][sides][mark] = cables
                if self._crosses(visits[at : at + 2], choices[at : at + 2], link):
                    self._meetings[link.joint.key] = link.joint

    def _crosses(self, visits: Sequence[Visit], choices: Sequence[LaneChoice], link: Passage) -> bool:
        """Whether what is known of the compartments on both sides of a joint takes cables across the divider."""
        one, other = (self._carriers[visit.carrier] for visit in visits)
        before, after = (choice.number for choice in choices)
        there = followed(before, one, other, link) if before is not None else ""
        return after is not None and not isinstance(there, str) and there != after

    def subjects(self, unplaced: Unplaced, unsure: set[str]) -> Iterator[DividedFitting]:
        """The places where circuits pass, or could, that lie together in no compartment there; joints only where a divider is crossed.

        Args:
            unplaced: What could pass besides.
            unsure: Keys of carriers in which what can't be counted may lie.
        """
        for key, meeting in sorted(self._meetings.items()):
            passing = self._passing.get(key, {})
            carriers = tuple(self._carriers[own] for own in meeting.carriers)
            least = 1 if meeting.leads_on else 2
            ways = unplaced.ways_past(carriers, least)
            could = [(places, unplaced.marks(sort)) for sort, places in ways.items()]
            if passing and unplaced.everywhere:
                every = ((carrier.key, lane.number) for carrier in carriers for lane in carrier.section.lanes)
                could.append((frozenset(every), {""}))
            if not _any_apart(passing) and not _could_be_apart(passing, could, least):
                continue
            cables, whys = unplaced.passing(ways)
            filled = [carrier.place.label for carrier in carriers if carrier.key in unsure]
            doubts = (f"what lies in {listed(filled)} isn't known",) if filled else ()
            items = tuple(
                Passing(_sorted(sides), cables)
                for sides in sorted(passing, key=lambda sides: [(own, number or 0) for own, number in _sorted(sides)])
                for _, cables in sorted(passing[sides].items())
            )
            yield DividedFitting(
                meeting.fitting,
                carriers,
                items,
                cables,
                (*unplaced.everywhere, *doubts, *whys),
                bool(unplaced.everywhere or filled),
            )


def _sorted(sides: Sides) -> tuple[tuple[str, int | None], ...]:
    return tuple(sorted(sides, key=lambda side: (side[0], side[1] or 0)))


def _any_apart(passing: Mapping[Sides, Mapping[str, object]]) -> bool:
    """Whether any two circuits are known to share none of the compartments that they come from and go into."""
    for one, other in itertools.combinations_with_replacement(passing, 2):
        shared = {side for side in one & other if side[1] is not None}
        if not shared and len(_marks(passing[one], passing[other])) > 1:
            return True
    return False


def _could_be_apart(
    passing: Mapping[Sides, Mapping[str, object]], could: Sequence[tuple[frozenset[Place], set[str]]], least: int
) -> bool:
    """Whether circuits that could pass could do so beside one that passes; or, where none does, any two of them can't but do so.

    Where nothing passes for certain, what could pass in one compartment is asked there with all that could lie in it.

    Args:
        passing: What passes for certain.
        could: Of each sort of circuit that could pass, the compartments in which it may lie there, and its circuits.
        least: In so many carriers it must lie to pass.
    """
    for (sides, marks), (places, others) in itertools.product(passing.items(), could):
        free = {key for key, number in places if (key, number) not in sides}
        if len(free) >= least and len(_marks(marks, others)) > 1:
            return True
    return any(
        one.isdisjoint(other) and len(_marks(marks, others)) > 1
        for (one, marks), (other, others) in itertools.combinations(could, 2)
    )


def _marks(*some: Iterable[str]) -> set[str]:
    return set(itertools.chain(*some))
