"""The places where divided carriers meet, with what passes them: what a rule about fittings is asked about."""

import itertools
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from checker.model import Carrier, DividedFitting, Passing, PlacedCable
from checker.network.lanes import LaneChoice
from checker.network.passages import Meeting, Passage
from checker.network.routing import Visit

#: The compartments on both sides of a step from one carrier into the next: key of the carrier and number; None: not known.
Sides = frozenset[tuple[str, int | None]]


@dataclass(frozen=True, slots=True)
class Possible:
    """What may pass a place besides what certainly does, and why; ``unbounded``: so may what can't be counted."""

    cables: tuple[PlacedCable, ...]
    doubts: tuple[str, ...]
    unbounded: bool


class Crowd:
    """What passes each place, gathered circuit by circuit.

    Args:
        meetings: The places, by their keys.
        carriers: All carriers.
    """

    def __init__(self, meetings: Mapping[str, Meeting], carriers: Mapping[str, Carrier]) -> None:
        self._carriers = carriers
        self._meetings = {
            key: meeting
            for key, meeting in meetings.items()
            if any(len(carriers[own].section.lanes) > 1 for own in meeting.carriers)
        }
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
            sides = frozenset((visits[n].carrier, choices[n].number) for n in (at, at + 1))
            for key in link.meetings if link is not None else ():
                if key in self._meetings:
                    self._passing[key][sides][mark] = cables

    def subjects(self, possible: Callable[[tuple[Carrier, ...]], Possible]) -> Iterator[DividedFitting]:
        """The places where circuits pass that lie together in no compartment there.

        Args:
            possible: Tells of the carriers that meet in a place what may pass it besides.
        """
        for key in sorted(self._passing):
            meeting, passing = self._meetings[key], self._passing[key]
            if not _any_apart(passing):
                continue
            carriers = tuple(self._carriers[own] for own in meeting.carriers)
            besides = possible(carriers)
            items = tuple(
                Passing(_sorted(sides), cables)
                for sides in sorted(passing, key=lambda sides: [(own, number or 0) for own, number in _sorted(sides)])
                for _, cables in sorted(passing[sides].items())
            )
            yield DividedFitting(meeting.fitting, carriers, items, besides.cables, besides.doubts, besides.unbounded)


def _sorted(sides: Sides) -> tuple[tuple[str, int | None], ...]:
    return tuple(sorted(sides, key=lambda side: (side[0], side[1] or 0)))


def _any_apart(passing: Mapping[Sides, Mapping[str, object]]) -> bool:
    """Whether any two circuits are known to share none of the compartments that they come from and go into."""
    for one, other in itertools.combinations_with_replacement(passing, 2):
        shared = {side for side in one & other if side[1] is not None}
        if not shared and len(_marks(passing[one], passing[other])) > 1:
            return True
    return False


def _marks(*some: Iterable[str]) -> set[str]:
    return set(itertools.chain(*some))
