"""Leads circuits the shortest way through joined carriers that take them, as the project file allows."""

import itertools
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.model import Circuit, Problem, ProblemKind
from checker.model.texts import listed
from checker.network.closures import Closures
from checker.network.ends import Landing
from checker.network.graph import Node, Path
from checker.network.route import Leg, Route, RoutedBy, Visit, total_mm
from checker.network.search import Search, Via
from checker.units import metres

#: A search looks so far at first: this many times the straight line to the farthest end, and this much more.
LOOK_TIMES, LOOK_MORE_MM = 1.5, 5000.0
#: On its way back a ring's way out counts so many times its length more: any other way is better, if there is one. A centimetre that is
#: shared counts as a kilometre; with much more, sums would lose what tells ways apart.
SPARED = 1e5
#: Ways that differ by less are as long as each other.
SAME_MM = 0.01
#: A ring that shares less of its way than this with its way out returns by another way.
SHARED_MM = 1.0


@dataclass(frozen=True, slots=True)
class Missing:
    """Why there is no way: in words, with what could be done, and the two places between which there is none, if it is that."""

    why: str
    hint: str
    places: tuple[Node, Node] | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """One leg: the places where it comes in, and the way between them."""

    begin: Landing
    end: Landing
    path: Path


class Shortest:
    """Finds ways, leg by leg.

    Args:
        search: On the network.
        closures: What is closed to a circuit.
        ends: Where the ends of every circuit come in, to know where many begin.
    """

    def __init__(self, search: Search, closures: Closures, ends: Iterable[Sequence[Landing]]) -> None:
        self.problems: list[Problem] = []
        self._search, self._closures = search, closures
        self._begin: Counter[tuple[Node, ...]] = Counter()
        self._look_mm: dict[tuple[Node, ...], float] = {}
        for own in ends:
            for one, other in itertools.pairwise(own):
                nodes = (nodes_of(one), nodes_of(other))
                self._begin.update(set(nodes))
                look_mm = LOOK_TIMES * search.straight_mm(*nodes) + LOOK_MORE_MM
                for place in nodes:
                    self._look_mm[place] = max(self._look_mm.get(place, 0.0), look_mm)

    def route(self, circuit: Circuit, ends: Sequence[Landing], apart: frozenset[str] = frozenset()) -> Route | Missing:
        """The way of a circuit between its ends and calls.

        Args:
            circuit: Which one.
            ends: Where it comes in, at its origin and each call.
            apart: Carriers that it doesn't pass besides those that are closed to it.
        """
        if circuit.limits.lacking:
            what = f"wayroom.toml leads it by way of {listed(circuit.limits.lacking)}, and no carrier is called so"
            return Missing(what, "mend the name under [[ways]]")
        missing = next((landing for landing in ends if landing.node is None), None)
        if missing is not None:
            return Missing(missing.why_not, missing.hint)
        if len(ends) < 2:
            return Missing("it has only one end", "name what it feeds in the column 'to'")
        if circuit.calls == (circuit.origin,):
            what = f"both its ends are {circuit.origin!r}"
            self._note(circuit, what, "so it runs nowhere else", "check the columns from and to")
        closed = self._closures.of(circuit)
        closed = closed | apart if apart else closed
        found: list[Found] = []
        for number, (one, other) in enumerate(itertools.pairwise(ends)):
            is_return = circuit.returns_other_way and number == len(ends) - 2 and number > 0
            via = circuit.limits.via if number == 0 else ()
            leg = self._return(circuit, one, other, closed, found) if is_return else self.leg(one, other, closed, via)
            if leg is None:
                return self._none(circuit, one, other, via)
            found.append(leg)
        self._tell_turning(circuit, found)
        route = made(circuit, found)
        if circuit.service is None and not route.carriers.isdisjoint(self._closures.to_some):
            # had it a service, it could be closed to some of these, and lie elsewhere; unless another way is as long
            for_any = self.route(circuit, ends, apart | self._closures.to_some)
            if isinstance(for_any, Route) and _is_as_long(for_any, route):
                return for_any
            what = "its service isn't known, and not all carriers on its shortest way are for any service"
            return Missing(what, "give its service, or its route")
        return route

    def leg(self, one: Landing, other: Landing, closed: frozenset[str], via: Via = ()) -> Found | None:
        """The shortest way between any places where the two ends come in."""
        begin, end = nodes_of(one), nodes_of(other)
        if via or self._begin[begin] >= self._begin[end]:
            path = self._search.path(begin, end, closed, via, look_mm=self._look_mm.get(begin, LOOK_MORE_MM))
        else:
            look_mm = self._look_mm.get(end, LOOK_MORE_MM)
            path = self._search.path(end, begin, closed, look_mm=look_mm, is_turned=True)
        return None if path is None else Found(_at(one, path.nodes[0]), _at(other, path.nodes[-1]), path)

    def _return(
        self, circuit: Circuit, one: Landing, other: Landing, closed: frozenset[str], out: Sequence[Found]
    ) -> Found | None:
        """A ring's way back, by what its way out doesn't use as far as there is such a way; what both use is told."""
        used = {number for leg in out for number in self._search.edges_of(leg.path)}
        path = self._search.sparing(nodes_of(one), nodes_of(other), closed, used, SPARED)
        if path is None:
            return None
        edges = self._search.network.edges
        both = [edges[number] for number in self._search.edges_of(path) if number in used]
        shared = math.fsum(edge.length_mm for edge in both if edge.along is not None)
        if shared > SHARED_MM:
            labels = dict.fromkeys(self._search.network.carriers[edge.along].place.label for edge in both if edge.along)
            what = f"it returns by the way that it came on {metres(shared):.2f} m, in {', '.join(labels)}"
            self._note(circuit, what, "there is no other way there", "join the carriers to a ring, or look at its row")
        return Found(_at(one, path.nodes[0]), _at(other, path.nodes[-1]), path)

    def _tell_turning(self, circuit: Circuit, found: Sequence[Found]) -> None:
        if circuit.limits.via and self._search.comes_back(found[0].path):
            what = "to pass what wayroom.toml leads it by, it goes in and comes back the same way"
            self._note(circuit, what, "its cables lie there twice", "see via in wayroom.toml", ProblemKind.ASSUMPTION)

    def _none(self, circuit: Circuit, one: Landing, other: Landing, via: Via) -> Missing:
        """Why there is no way for a leg, and what could be done."""
        assert one.node is not None and other.node is not None  # noqa: S101, PT018 - asked before
        carriers = self._search.network.carriers
        first, last = carriers[one.node[0]].place.label, carriers[other.node[0]].place.label
        why = f"no way through joined carriers that take {circuit.service or 'it'} leads from {first} to {last}"
        hint = "join the two parts of the network in the model, or give the route in the schedule"
        free = (
            self.leg(one, other, self._closures.to_service(circuit.service)) if via or circuit.limits.closed else None
        )
        if free is not None:
            long = "of unknown length" if free.path.length_mm is None else f"of {metres(free.path.length_mm):.2f} m"
            why = f"{why} as wayroom.toml asks ({'; '.join(circuit.limits.told)}); without that there is one {long}"
            return Missing(why, "change what wayroom.toml asks of it, or join what is missing there")
        return Missing(why, hint, (one.node, other.node))

    def _note(self, circuit: Circuit, what: str, why: str, hint: str, kind: ProblemKind = ProblemKind.GAP) -> None:
        self.problems.append(Problem(f"circuit {circuit.mark}", what, why, hint, kind))


def _is_as_long(one: Route, other: Route) -> bool:
    """Whether two ways are as long as anybody measures."""
    lengths = (one.length_mm, other.length_mm)
    return lengths[0] is not None and lengths[1] is not None and abs(lengths[0] - lengths[1]) < SAME_MM


def made(circuit: Circuit, found: Sequence[Found]) -> Route:
    """A route of legs."""
    names = (circuit.origin, *circuit.calls)
    legs = tuple(
        Leg(
            names[number],
            names[number + 1],
            leg.path.length_mm,
            (leg.begin.drop_mm, leg.end.drop_mm),
            (leg.path.nodes[0], leg.path.nodes[-1]),
        )
        for number, leg in enumerate(found)
    )
    visits = tuple(
        Visit(key, from_mm, to_mm, None, number)
        for number, leg in enumerate(found)
        for key, from_mm, to_mm in leg.path.stretches
    )
    drops = (legs[0].drops_mm[0], *(leg.drops_mm[1] for leg in legs))
    how = RoutedBy.ASKED if circuit.limits.told else RoutedBy.SHORTEST
    out = {node for leg in found[:-1] for node in leg.path.nodes}
    if circuit.returns_other_way and not out.issuperset(found[-1].path.nodes):
        how = RoutedBy.RETURNING
    return Route(circuit.mark, how, visits, total_mm([leg.length_mm for leg in legs]), drops, legs=legs)


def nodes_of(landing: Landing) -> tuple[Node, ...]:
    """All places where an end could come in."""
    return tuple(place.node for place in (landing, *landing.others) if place.node is not None)


def _at(landing: Landing, node: Node) -> Landing:
    """The place that a way begins or ends at, of those that are as good."""
    return next(place for place in (landing, *landing.others) if place.node == node)
