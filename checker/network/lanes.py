"""In which compartment a circuit lies in each carrier of its way: as is said of it, else by what it does before and after.

Believed in this order: the route's ``/N``, the circuit's compartment, the service that one compartment is for, the model's drawing of its
cables, the compartment beside it on the way. From there it follows by its side through joints, bends and changes of size, and by its number
through tees.
"""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

from checker.model import Carrier, Circuit
from checker.network.graph import Network
from checker.network.lane_problems import LaneProblems
from checker.network.passages import Follow, Meeting, Passage, Passages
from checker.network.routing import Visit


class LaneBy(StrEnum):
    """How a compartment was had; the more believed ways first."""

    ONLY = "only compartment"
    ROUTE = "route"
    CIRCUIT = "circuit"
    SERVICE = "service"
    DRAWING = "drawing"
    SIDE = "side"
    NUMBER = "number through a tee"
    UNKNOWN = "unknown"


#: Ways of having a compartment that go by what is said of it, not by what is beside it.
DECLARED = {LaneBy.ROUTE, LaneBy.CIRCUIT}
SAID = DECLARED | {LaneBy.SERVICE}

OTHER_COUNT = "what comes before or after has another number of compartments"
UNDIVIDED = "what comes before or after isn't divided"
CONTRADICTED = "what comes before and what comes after tell different ones"


@dataclass(frozen=True, slots=True)
class LaneChoice:
    """The compartment that a circuit takes in a carrier. ``number`` None: not known; ``told``: what is to be said of it.

    ``is_open``: nothing is said of it, so that what is beside it on the way may tell.
    """

    number: int | None
    by: LaneBy
    told: str = ""
    is_open: bool = False


def said_lane(carrier: Carrier, visit: Visit, circuit: Circuit) -> LaneChoice:
    """The compartment that a circuit takes in a carrier by what is said of the two."""
    lanes = carrier.section.lanes
    is_of_route = visit.compartment is not None
    wanted = visit.compartment if is_of_route else circuit.compartment
    if "compartment" in circuit.unread and not is_of_route:
        return (
            LaneChoice(1, LaneBy.ONLY)
            if len(lanes) == 1
            else LaneChoice(None, LaneBy.UNKNOWN, "its compartment can't be read")
        )
    if wanted is not None:
        if 1 <= wanted <= len(lanes):
            is_taken = lanes[wanted - 1].takes(circuit.service)
            told = "" if is_taken else f"its compartment {wanted} isn't for {circuit.service}"
            by = LaneBy.ONLY if len(lanes) == 1 else LaneBy.ROUTE if is_of_route else LaneBy.CIRCUIT
            return LaneChoice(wanted, by, told or _against_drawing(visit, wanted, "the schedule says"))
        if len(lanes) == 1:
            told = f"the schedule expects compartment {wanted}, but there is only one (no divider)"
            return LaneChoice(1, LaneBy.ONLY, told)
        return LaneChoice(None, LaneBy.UNKNOWN, f"the schedule asks for compartment {wanted}, which doesn't exist")
    fitting = [lane for lane in lanes if lane.takes(circuit.service)]
    named = [lane for lane in fitting if lane.services is not None and circuit.service in lane.services]
    if len(lanes) == 1:
        return LaneChoice(1, LaneBy.ONLY, "" if fitting else f"its compartment isn't for {circuit.service}")
    for some in (named, fitting):
        if len(some) == 1:
            number = some[0].number
            return LaneChoice(number, LaneBy.SERVICE, _against_drawing(visit, number, "by its service it takes"))
    if any(lane.number == visit.seen_compartment for lane in fitting):
        return LaneChoice(visit.seen_compartment, LaneBy.DRAWING)
    what = f"any of {len(fitting)} of its {len(lanes)} compartments could hold it, and nothing says which"
    return LaneChoice(None, LaneBy.UNKNOWN, what, is_open=True)


def _against_drawing(visit: Visit, number: int, whose: str) -> str:
    """What is to be said where the model draws a circuit in another compartment than the one that is taken."""
    seen = visit.seen_compartment
    return "" if seen in {None, number} else f"{whose} compartment {number}, and the model draws it in {seen}"


class Lanes:
    """Tells compartments, circuit by circuit, and gathers what has to be said of them.

    Args:
        network: What is joined.
    """

    def __init__(self, network: Network) -> None:
        self.carriers = network.carriers
        self.problems = LaneProblems()
        self._network = network
        self._is_divided = any(len(carrier.section.lanes) > 1 for carrier in network.carriers.values())

    @cached_property
    def passages(self) -> Passages:
        """How ways pass from carrier to carrier."""
        return Passages(self._network)

    @property
    def meetings(self) -> Mapping[str, Meeting]:
        """The places where more than two carriers meet, and boxes, by their keys."""
        return self.passages.meetings

    def of(self, circuit: Circuit, visits: Sequence[Visit], problems: LaneProblems | None = None) -> list[LaneChoice]:
        """The compartment of each visit of a circuit's route.

        Args:
            circuit: The circuit.
            visits: What it passes, in order.
            problems: Where what has to be said goes; None: among the problems of all routes.
        """
        problems = self.problems if problems is None else problems
        choices = [said_lane(self.carriers[visit.carrier], visit, circuit) for visit in visits]
        if not self._is_divided:
            return choices
        way = _Way(circuit, [self.carriers[visit.carrier] for visit in visits], self.links(visits))
        found = way.filled(choices, problems)
        way.tell_crossings(found, problems)
        return found

    def links(self, visits: Sequence[Visit]) -> list[Passage | None]:
        """How the way passes from each visit to the next; None where its cables don't: a gap, or a call along a carrier."""
        return [self._link(one, other) for one, other in itertools.pairwise(visits)]

    def _link(self, one: Visit, other: Visit) -> Passage | None:
        if one.line != other.line:
            return None
        if one.carrier == other.carrier:
            return Passage(Follow.SAME_SIDE) if one.leg == other.leg else None
        # a call where two carriers meet changes nothing: its cables pass that place, or lie in it
        return self.passages.between(one.carrier, other.carrier)


@dataclass(frozen=True, slots=True)
class _Way:
    """A circuit's carriers in order, and how its way passes from each to the next."""

    circuit: Circuit
    carriers: list[Carrier]
    links: list[Passage | None]

    def filled(self, choices: list[LaneChoice], problems: LaneProblems) -> list[LaneChoice]:
        """The choices, with what neighbours tell of those that are open."""
        onward = self._carried(choices, range(len(choices)), -1)
        backward = self._carried(choices, range(len(choices) - 1, -1, -1), 1)
        found = []
        for at, own in enumerate(choices):
            told = list(dict.fromkeys(step for step in (onward[at], backward[at]) if step is not None))
            numbers = {step.number for step in told if step.number is not None}
            if not own.is_open or not told:
                found.append(own)
            elif len(numbers) == 1:
                found.append(next(step for step in told if step.number is not None))
                problems.conclude(self.circuit.mark, found[-1].by is LaneBy.NUMBER, self.carriers[at])
            else:
                why = [CONTRADICTED] if numbers else [step.told for step in told]
                said = f"{own.told}, and its way doesn't tell: {' and '.join(why)}"
                found.append(replace(own, told=said))
        return self._with_ends(found, problems)

    def _carried(self, choices: list[LaneChoice], order: range, back: int) -> list[LaneChoice | None]:
        """What each visit's neighbour on one side tells of it, which goes on to the next one. None: nothing."""
        found: list[LaneChoice | None] = [None] * len(choices)
        before: LaneChoice | None = None
        for at in order:
            own = choices[at]
            if own.is_open and before is not None and before.number is not None:
                found[at] = self._next(before, self.carriers[at + back], self.carriers[at], self._link(at, back))
            before = found[at] if own.is_open else own
        return found

    def _link(self, at: int, back: int) -> Passage | None:
        return self.links[at + min(back, 0)]

    def _next(self, before: LaneChoice, one: Carrier, other: Carrier, link: Passage | None) -> LaneChoice | None:
        """Where a compartment of one carrier goes on in the next; None where the two aren't joined."""
        if link is None or before.number is None:
            return None
        number = followed(before.number, one, other, link)
        if isinstance(number, str):
            return LaneChoice(None, LaneBy.UNKNOWN, number)
        if not other.section.lanes[number - 1].takes(self.circuit.service):
            told = f"it would be compartment {number}, which isn't for {self.circuit.service}"
            return LaneChoice(None, LaneBy.UNKNOWN, told)
        is_by_number = link.follow is Follow.NUMBER or before.by is LaneBy.NUMBER
        return LaneChoice(number, LaneBy.NUMBER if is_by_number else LaneBy.SIDE)

    def _with_ends(self, found: list[LaneChoice], problems: LaneProblems) -> list[LaneChoice]:
        """Tells where a compartment ends: then nothing else need be said of the carrier after it."""
        ended = list(found)
        for at, own in enumerate(found):
            for back in (-1, 1):
                beside = at + back
                if not own.is_open or not 0 <= beside < len(found) or self._link(at, back) is None:
                    continue
                one, other, number = self.carriers[beside], self.carriers[at], found[beside].number
                counts = len(one.section.lanes), len(other.section.lanes)
                if number is not None and counts[0] != counts[1] and counts[0] > 1:
                    problems.end(self.circuit.mark, one, other, number)
                    ended[at] = replace(own, told="")
        return ended

    def tell_crossings(self, found: list[LaneChoice], problems: LaneProblems) -> None:
        """Tells where what is said of compartments takes cables from one side of a divider to the other."""
        expected: int | None = None
        for at, (own, carrier) in enumerate(zip(found, self.carriers, strict=True)):
            link = self._link(at, -1) if at else None
            expected = self._expected(expected, at, link)
            if own.number is None or own.by is LaneBy.ONLY:
                continue
            if expected is not None and expected != own.number and own.by in SAID:
                if own.by is LaneBy.SERVICE and found[at - 1].by is LaneBy.SERVICE:
                    is_numbered = link is not None and link.follow is Follow.NUMBER
                    problems.opposite(self.carriers[at - 1], carrier, by_number=is_numbered)
                    expected = own.number
                elif own.by in DECLARED or found[at - 1].by in DECLARED:
                    is_mirrored = expected == len(carrier.section.lanes) + 1 - own.number
                    problems.cross(self.circuit.mark, own.number, carrier, is_mirrored=is_mirrored)
            expected = own.number if expected is None else expected

    def _expected(self, number: int | None, at: int, link: Passage | None) -> int | None:
        """The compartment that lies where the way has lain, or has its number beyond a tee; None where neither tells."""
        if number is None or link is None:
            return None
        there = followed(number, self.carriers[at - 1], self.carriers[at], link)
        return None if isinstance(there, str) else there


def followed(number: int, one: Carrier, other: Carrier, link: Passage) -> int | str:
    """The compartment in the next carrier that a compartment of one goes on in; else why that can't be told."""
    count = len(one.section.lanes)
    if count == 1:
        return UNDIVIDED
    if count != len(other.section.lanes):
        return OTHER_COUNT
    if link.follow is Follow.UNKNOWN:
        return link.why
    return count + 1 - number if link.follow is Follow.OPPOSITE else number
