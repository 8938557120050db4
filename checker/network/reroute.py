"""Other ways for circuits that are led already: as a schedule would give them, so that what is tried is what would be read.

A way is looked for with some carriers closed, written down as the schedule's column ``route`` would name it, and read back by the same
reader of given ways. Only what comes back whole is a way here.
"""

import itertools
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from checker.model import Carrier, CarrierKind, Circuit, Installation, RouteStep
from checker.network.closures import Closures
from checker.network.ends import Landing, Landings, Names
from checker.network.given import GivenRoutes
from checker.network.given_ways import GivenWays, ends_on
from checker.network.graph import Network, Node, Path
from checker.network.joins import Join
from checker.network.route import Route, RoutedBy, Routing
from checker.network.search import Search
from checker.network.shortest import LOOK_MORE_MM, LOOK_TIMES, Missing, nodes_of

#: So much more of a cable may lie in no carrier between one and the equipment: else a way is no better than none.
MOST_MORE_DROP_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Rerouted:
    """A circuit on another way. ``text`` is what the schedule's column ``route`` says then, ``longer_mm`` how much more way it takes.

    ``more_drop_mm``: how much of that lies in no carrier, between one and the equipment. None: not known.
    """

    way: Route
    text: str
    longer_mm: float | None
    more_drop_mm: float | None = None


class Detours:
    """Finds other ways.

    Args:
        installation: What there is.
        routing: Where circuits go.
    """

    def __init__(self, installation: Installation, routing: Routing) -> None:
        self._installation, self._routing = installation, routing
        self._closures = Closures(installation)
        #: How many searches were made, for those who bound the work.
        self.searches = 0

    @cached_property
    def _search(self) -> Search:
        return Search(self._routing.network)

    @cached_property
    def _landings(self) -> Landings:
        return Landings(self._installation, self._routing.joins)

    @cached_property
    def _names(self) -> Names:
        return Names(self._installation, only_carriers=True)

    @cached_property
    def _given(self) -> GivenRoutes:
        return GivenRoutes(self._installation)

    @cached_property
    def _meets(self) -> dict[str, list[Join]]:
        meets: dict[str, list[Join]] = defaultdict(list)
        for join in self._routing.joins:
            for element in {join.one.element, join.other.element}:
                meets[element].append(join)
        return meets

    def around(self, circuit: Circuit, route: Route, closed: frozenset[str]) -> Rerouted | None:
        """The shortest way of a circuit that avoids some carriers; None where there is none that a schedule could give.

        Args:
            circuit: Which one.
            route: Its way as it is.
            closed: Carriers, by key, that it is to avoid.
        """
        shut = self._closures.of(circuit) | closed
        # what is closed differs from question to question, and would fill the memory
        ends = [
            self._landings.find(text, circuit.service, shut, is_kept=False) for text in (circuit.origin, *circuit.calls)
        ]
        if len(ends) < 2 or any(landing.node is None for landing in ends):
            return None
        keys: list[str] = []
        for one, other in itertools.pairwise(ends):
            path = self._between(one, other, shut)
            if path is None:
                return None
            passed = [stretch.carrier for stretch in path.stretches] or [path.nodes[0][0]]
            keys += [*_landed(one, passed), *passed, *_landed(other, passed)]
        found = self.by(circuit, route, list(dict.fromkeys(keys)), {})
        return None if found is None or not found.way.carriers.isdisjoint(closed) else found

    def by(self, circuit: Circuit, route: Route, keys: Sequence[str], lanes: Mapping[str, int]) -> Rerouted | None:
        """The way that a schedule gives by naming some carriers; None where that isn't read back as one whole way.

        Args:
            circuit: Whose way it is to be.
            route: Its way as it is.
            keys: The carriers, each once, in order.
            lanes: The compartments to take, by key; elsewhere those stay that the schedule's route names.
        """
        named = {visit.carrier: visit.compartment for visit in route.visits if visit.compartment is not None}
        lanes = {**named, **lanes}
        steps = tuple(self._step(self._routing.network.carriers[key], lanes.get(key)) for key in keys)
        told = replace(circuit, route=steps)
        read = self._given.steps(told)
        if not isinstance(read, list) or [carrier.key for carrier, _ in read] != list(keys):
            return None
        ends = self._ends_on(circuit, [carrier for carrier, _ in read])
        if any(end.node is None or (end.drop_mm or 0.0) > self._installation.reach_mm for end in ends):
            return None
        if not self._keeps_runs(circuit, route, ends):
            return None
        given = GivenWays(self._part(keys, ends), self._given, self._installation.reach_mm)
        way = given.route(told, ends)
        if isinstance(way, Missing) or way.has_gap or given.problems:
            return None
        drops = _more_drops_mm(way, route)
        if drops is None or max(drops, default=0.0) > MOST_MORE_DROP_MM:
            return None
        text = "; ".join(step.text for step in steps)
        longer = None if None in (way.length_mm, route.length_mm) else (way.length_mm or 0.0) - (route.length_mm or 0.0)
        return Rerouted(way, text, None if longer is None else longer + sum(drops), sum(drops))

    def _between(self, one: Landing, other: Landing, shut: frozenset[str]) -> Path | None:
        """The shortest way between two ends."""
        begin, end = self._places(one), self._places(other)
        look_mm = LOOK_TIMES * self._search.straight_mm(begin, end) + LOOK_MORE_MM
        self.searches += 1
        return self._search.path(begin, end, shut, look_mm=look_mm)

    def _places(self, landing: Landing) -> list[Node]:
        """Where a way may begin: at the place itself, or at the ends of its carrier where nobody came in before."""
        found: list[Node] = []
        for node in nodes_of(landing):
            if node in self._routing.network.index:
                found.append(node)
            else:
                length = self._routing.network.carriers[node[0]].length_mm or 0.0
                found += [(node[0], 0.0), (node[0], round(length, 3))]
        return found

    def _step(self, carrier: Carrier, lane: int | None) -> RouteStep:
        """A carrier as a route names it, so that no other goes by that name."""
        name = self._names.in_route(carrier)
        return RouteStep(name, name) if lane is None else RouteStep(f"{name}/{lane}", name, lane)

    def _ends_on(self, circuit: Circuit, carriers: list[Carrier]) -> list[Landing]:
        """Where a circuit comes in on the carriers of a route, as when a schedule's is read."""
        return ends_on(circuit, carriers, self._landings, self._installation.reach_mm)

    def _keeps_runs(self, circuit: Circuit, route: Route, ends: Collection[Landing]) -> bool:
        """Whether it comes in on conduits where it did before: else runs would end elsewhere, which isn't tried."""
        before: set[Node]
        if route.routed_by is RoutedBy.SCHEDULE:
            carriers = [self._routing.network.carriers[visit.carrier] for visit in route.visits]
            before = {node for end in self._ends_on(circuit, carriers) for node in nodes_of(end)}
        else:
            closed = self._closures.of(circuit)
            found = (self._landings.find(text, circuit.service, closed) for text in (circuit.origin, *circuit.calls))
            before = {node for landing in found for node in nodes_of(landing)}
            before |= {node for leg in route.legs for node in leg.nodes}
        changed = before ^ {node for end in ends for node in nodes_of(end)}
        return all(self._routing.network.carriers[key].kind is not CarrierKind.CONDUIT for key, _ in changed)

    def _part(self, keys: Sequence[str], ends: Sequence[Landing]) -> Network:
        """Some carriers with what joins them."""
        network, joins = self._routing.network, dict[Join, None]()
        inside, waiting = set(keys), list(keys)
        while waiting:
            for join in self._meets.get(waiting.pop(), ()):
                joins[join] = None
                fittings = {join.one.element, join.other.element} & network.fittings.keys() - inside
                inside |= fittings
                waiting += sorted(fittings)
        held = [join for join in joins if {join.one.element, join.other.element} <= inside]
        part = replace(
            self._installation,
            carriers=tuple(network.carriers[key] for key in sorted(set(keys))),
            fittings=tuple(network.fittings[key] for key in sorted(inside & network.fittings.keys())),
        )
        nodes = [
            *(node for end in ends for node in nodes_of(end)),
            *(n for n in self._routing.landings if n[0] in keys),
        ]
        return Network(part, held, [(key, along) for key, along in nodes if along is not None])


def _landed(landing: Landing, passed: Sequence[str]) -> list[str]:
    """The carrier on which an end comes in, where the way as it was searched begins or ends beside it."""
    keys = {node[0] for node in nodes_of(landing)}
    return [] if keys & {passed[0], passed[-1]} else sorted(keys)[:1]


def _more_drops_mm(way: Route, before: Route) -> list[float] | None:
    """How much longer the drop at each end is; None where that isn't known."""
    if len(way.drops_mm) != len(before.drops_mm):
        return None
    pairs = list(zip(way.drops_mm, before.drops_mm, strict=True))
    if any((new is None) != (old is None) for new, old in pairs):
        return None
    return [(new or 0.0) - (old or 0.0) for new, old in pairs]
