"""The shortest way on a plan that was written down by hand. Plain, and independent: nothing of the program is used here.

How long a way between two carriers is, as a person states it who reads the plan: along the axes of the carriers between them, through
each fitting from where one carrier ends to the point where the axes meet and on to where the next begins, and from an end at another
carrier's side straight to that one's axis. Of a carrier in between only the part that lies on the way counts. Of the two carriers that are
named nothing counts: a circuit may come in anywhere on them, so it leaves each where the way is shortest.
"""

import heapq
from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise

#: A place on a carrier: its tag, and how far from its start.
Place = tuple[str, float]

SERVICES = ("power", "emergency-central", "emergency-self-contained", "fire-alarm", "control", "data", "elv")


@dataclass(frozen=True, slots=True)
class Step:
    """From a place on one carrier to a place on another that it meets, and how long that is."""

    leave: float
    enter: float
    length: float


@dataclass(frozen=True, slots=True)
class Way:
    """The carriers in order, both named ones with it, and how long it is between those two."""

    carriers: tuple[str, ...]
    between: float


class Plan:
    """Carriers, and where they meet.

    Args:
        carriers: A line for each kind, ``kind: TAG length, TAG length``.
        meetings: A line for each place where carriers meet, ``fitting: TAG start 150, TAG end 40``, with ``start``, ``end`` or how far
            along the carrier, and how far it is from there to the point where the axes meet. ``end:`` and ``side:`` are without a fitting.
        takes: The services that each kind takes, by name with blanks between them; of a kind that isn't there, all.
    """

    def __init__(self, carriers: str, meetings: str, takes: dict[str, str]) -> None:
        self.lengths: dict[str, float] = {}
        self.takes: dict[str, frozenset[str]] = {}
        for line in carriers.strip().splitlines():
            kind, _, items = line.partition(":")
            for tag, length in (item.split() for item in items.split(",")):
                assert tag not in self.lengths, f"{tag} is written down twice"
                self.lengths[tag] = float(length)
                self.takes[tag] = frozenset(takes[kind].split() if kind in takes else SERVICES)
        assert takes.keys() <= {line.partition(":")[0] for line in carriers.strip().splitlines()}
        self.steps: dict[tuple[str, str], list[Step]] = defaultdict(list)
        self.near: dict[str, set[str]] = defaultdict(set)
        for line in meetings.strip().splitlines():
            spots = [self._spot(item) for item in line.partition(":")[2].split(",")]
            for one, leave, before in spots:
                for other, enter, after in spots:
                    if one != other:
                        self.steps[one, other].append(Step(leave, enter, before + after))
                        self.near[one].add(other)

    def _spot(self, text: str) -> tuple[str, float, float]:
        tag, where, leg = text.split()
        place = {"start": 0.0, "end": self.lengths[tag]}.get(where)
        place = float(where) if place is None else place
        assert 0.0 <= place <= self.lengths[tag], f"{text} isn't on the carrier"
        return tag, place, float(leg)

    def shared(self, one: str, other: str) -> list[str]:
        """The services that two carriers both take, in a fixed order."""
        return [service for service in SERVICES if service in self.takes[one] & self.takes[other]]

    def ways_from(self, origin: str, service: str) -> dict[str, Way]:
        """The shortest way to each carrier that can be reached through carriers which take a service (Dijkstra's search)."""
        found: dict[str, Way] = {}
        seen: set[Place] = set()
        waiting: list[tuple[float, str, float, tuple[str, ...]]] = [(0.0, origin, -1.0, (origin,))]
        while waiting:
            between, tag, place, carriers = heapq.heappop(waiting)
            if (tag, place) in seen:
                continue
            seen.add((tag, place))
            found.setdefault(tag, Way(carriers, between))
            for other in self.near[tag]:
                if service in self.takes[other]:
                    for step in self.steps[tag, other]:
                        passed = (
                            0.0 if tag == origin else abs(place - step.leave)
                        )  # it may come in anywhere on the first
                        far = between + passed + step.length
                        heapq.heappush(waiting, (far, other, step.enter, (*carriers, other)))
        return found

    def length_between(self, carriers: tuple[str, ...]) -> float | None:
        """How long the way over carriers in a given order is, between the first and the last; None where two of them don't meet."""
        if len(carriers) < 2:
            return 0.0
        entered: dict[float, float] = {}
        for one, other in pairwise(carriers):
            reached: dict[float, float] = {}
            for step in self.steps.get((one, other), ()):
                before = min((so_far + abs(place - step.leave) for place, so_far in entered.items()), default=0.0)
                length = before + step.length
                reached[step.enter] = min(length, reached.get(step.enter, length))
            if not reached:
                return None
            entered = reached
        return min(entered.values())


def read_ways(table: str) -> list[tuple[str, str, str, tuple[str, ...]]]:
    """Ways that were read off a plan: ``service: FROM ... TO``, and ``service: FROM x TO`` where there is none (no carriers then)."""
    ways = []
    for line in table.strip().splitlines():
        service, _, text = line.partition(":")
        tags = tuple(text.split())
        ways.append((service, tags[0], tags[-1], () if "x" in tags else tags))
    return ways
