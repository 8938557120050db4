"""Ways that are given, by the schedule: measured between their ends where their carriers meet as it says."""

import itertools
from collections.abc import Collection, Iterable, Mapping, Sequence

import networkx as nx

from checker.model import Carrier, Circuit, Problem, ProblemKind
from checker.model.geometry import Vec, distance
from checker.model.texts import listed
from checker.network.ends import Landing, Landings
from checker.network.given import GivenRoutes, Unread
from checker.network.graph import Network, Node, Path
from checker.network.route import Leg, Route, RoutedBy, Visit, total_mm
from checker.network.shortest import SPARED, Missing
from checker.units import metres


def ends_on(circuit: Circuit, carriers: list[Carrier], landings: Landings, reach_mm: float) -> list[Landing]:
    """Where a circuit comes in on the carriers of a route: its origin on the first, its last call on the last, the rest on any.

    Args:
        circuit: Its ends that are named have one landing each.
        carriers: Those that its route names, in order.
        landings: Finds where ends come in.
        reach_mm: How far an end may be from its route.
    """
    names = (circuit.origin, *circuit.calls)

    def found(first: list[Carrier], last: list[Carrier]) -> list[Landing]:
        allowed = [first, *([carriers] * (len(names) - 2)), last]
        return [landings.on(text, among) for text, among in zip(names, allowed, strict=False) if text]

    def misses(landing: Landing) -> bool:
        return landing.node is None or (landing.drop_mm or 0.0) > reach_mm

    is_ring = len(circuit.calls) > 1 and circuit.calls[-1] == circuit.origin
    first, last = carriers[:1], carriers if is_ring else carriers[-1:]
    ends = found(first, last)
    # where that misses an end, the carriers may be named from its end to its origin, or in no order at all
    orders = [(last, first), (carriers, carriers)] if len(ends) == 2 and any(map(misses, ends)) else []
    others = (found(*order) for order in orders)
    return next((other for other in others if not any(map(misses, other))), ends)


class GivenWays:
    """Reads the schedule's routes as ways through the network.

    Args:
        network: The graph.
        given: The routes, by name.
        reach_mm: How far an end may be from its route.
    """

    def __init__(self, network: Network, given: GivenRoutes, reach_mm: float) -> None:
        self.problems: list[Problem] = []
        self._network, self._steps, self._reach_mm = network, given, reach_mm

    def route(self, circuit: Circuit, ends: Sequence[Landing]) -> Route | Missing:
        """The schedule's own route. Where its carriers meet as it says, it is measured between its ends; else carriers count whole."""
        steps = self._steps.steps(circuit)
        if isinstance(steps, Unread):
            return Missing(steps.why, steps.hint)
        self.problems += against_limits(circuit, [carrier for carrier, _ in steps], "its route in the schedule")
        names = [name for name in (circuit.origin, *circuit.calls) if name]
        misses = [self._misses(circuit, landing, text) for landing, text in zip(ends, names, strict=True)]
        measured = None if any(misses) else self._measured(circuit, steps, ends)
        has_gap = any(misses) or (measured is None and self._tell_gaps(circuit, steps))
        drops = tuple(landing.drop_mm for landing in ends if landing.node is not None)
        if measured is None:
            return self._whole(circuit, steps, drops, has_gap=has_gap)
        compartments = {carrier.key: compartment for carrier, compartment in steps}
        visits = tuple(
            Visit(part.carrier, part.from_mm, part.to_mm, compartments[part.carrier], number)
            for number, path in enumerate(measured)
            for part in path.stretches
        )
        ways = enumerate(zip(itertools.pairwise(names), measured, strict=True))
        legs = tuple(
            Leg(one, other, path.length_mm, (ends[number].drop_mm, ends[number + 1].drop_mm))
            for number, ((one, other), path) in ways
        )
        total = total_mm([path.length_mm for path in measured])
        return Route(circuit.mark, RoutedBy.SCHEDULE, visits, total, drops, legs=legs)

    def _whole(
        self,
        circuit: Circuit,
        steps: Sequence[tuple[Carrier, int | None]],
        drops: tuple[float | None, ...],
        *,
        has_gap: bool,
    ) -> Route:
        """The named carriers from end to end; one leg, where it has two ends."""
        visits = tuple(Visit(carrier.key, 0.0, carrier.length_mm or 0.0, compartment) for carrier, compartment in steps)
        known = not has_gap and all(carrier.length_mm for carrier, _ in steps)
        length = sum(visit.to_mm for visit in visits) if known else None
        legs: tuple[Leg, ...] = ()
        if len(circuit.calls) == 1 and circuit.origin:
            both = (drops[0], drops[-1]) if len(drops) == 2 and not has_gap else (None, None)
            legs = (Leg(circuit.origin, circuit.calls[0], length, both),)
        return Route(circuit.mark, RoutedBy.SCHEDULE, visits, length, drops, has_gap=has_gap, legs=legs)

    def _tell_gaps(self, circuit: Circuit, steps: Sequence[tuple[Carrier, int | None]]) -> bool:
        """Whether carriers that follow each other aren't joined; each such place is told, with how far they are apart."""
        has_gap = False
        for (one, _), (other, _) in itertools.pairwise(steps):
            if one.key != other.key and other.key not in self._network.neighbours().get(one.key, ()):
                has_gap = True
                what = f"its route goes from {one.place.label} to {other.place.label}, which aren't joined"
                why = f"{_gap(one, other)}; what lies between isn't known"
                self._note(circuit, what, why, "join them, or name what lies between")
        return has_gap

    def _note(self, circuit: Circuit, what: str, why: str, hint: str, kind: ProblemKind = ProblemKind.GAP) -> None:
        self.problems.append(Problem(f"circuit {circuit.mark}", what, why, hint, kind))

    def _misses(self, circuit: Circuit, landing: Landing, text: str) -> bool:
        """Whether a given route doesn't reach an end that the schedule names; it is told where it doesn't."""
        if landing.why_not:
            self._note(circuit, landing.why_not, "so where its route begins or ends can't be seen", landing.hint)
        elif landing.node is None:
            what, why = f"its route doesn't reach {text!r}", "so where it begins or ends can't be seen"
            self._note(circuit, what, why, "name the carriers up to there")
        elif landing.drop_mm is not None and landing.drop_mm > self._reach_mm:
            what = f"its route ends {metres(landing.drop_mm):.2f} m from {text!r}"
            why = f"that is more than {metres(self._reach_mm):g} m"
            self._note(circuit, what, why, "name the carriers up to there")
        else:
            return False
        return True

    def _measured(
        self, circuit: Circuit, steps: Sequence[tuple[Carrier, int | None]], ends: Sequence[Landing]
    ) -> list[Path] | None:
        """The ways between the ends through the named carriers alone; None where they don't pass each of them.

        Where they are named in another order than they are joined in, that is put right and told; so is what lies off the way.
        """
        named = [carrier.key for carrier, _ in steps]
        labels = {carrier.key: carrier.place.label for carrier, _ in steps}
        if len(set(named)) != len(named):
            twice = list(dict.fromkeys(key for key in named if named.count(key) > 1))
            what = f"its route names {_in_order(labels, twice)} more than once"
            why = "its cables are taken to lie there from end to end each time"
            self._note(circuit, what, why, "name each carrier once, if they don't", ProblemKind.ASSUMPTION)
            return None
        paths = self._legs(named, ends)
        if paths is None:
            return None
        passed = _passed(paths)
        if passed != named and set(passed) == set(named):
            what = f"its route names its carriers in the order {_in_order(labels, named)}"
            why = f"they are joined in the order {_in_order(labels, passed)}, which is used"
            self._note(circuit, what, why, "mend the order in the schedule", ProblemKind.CORRECTION)
            return paths
        off = [key for key in named if key not in passed]
        if off:
            what = f"its route names {_in_order(labels, off)}, off the way between its ends: a dead end"
            why = "its cables are taken to lie there from end to end all the same"
            self._note(circuit, what, why, "leave it out, or name what leads on from there", ProblemKind.ASSUMPTION)
        return paths if passed == named else None

    def _legs(self, named: Sequence[str], ends: Sequence[Landing]) -> list[Path] | None:
        """The shortest ways from end to end through some carriers; back to where they began by the others, if they pass all of them so."""
        among = self._network.among(named)
        paths = []
        for one, other in itertools.pairwise(ends):
            path = self._between(among, one.node, other.node)
            if path is None:
                return None
            paths.append(path)
        if len(paths) > 1 and ends[0].node == ends[-1].node and set(_passed(paths)) != set(named):
            used = {frozenset(pair) for path in paths[:-1] for pair in itertools.pairwise(path.nodes)}
            back = self._between(among, ends[-2].node, ends[-1].node, used)
            if back is not None and set(_passed([*paths[:-1], back])) == set(named):
                return [*paths[:-1], back]
        return paths

    def _between(
        self, among: Sequence[int], one: Node | None, other: Node | None, used: Collection[frozenset[Node]] = ()
    ) -> Path | None:
        """The shortest way along some edges; those used already, by their nodes, count so much more that any others are better."""
        network = self._network
        if one is None or other is None or one not in network.index or other not in network.index:
            return None
        graph = nx.Graph()
        graph.add_nodes_from((network.index[one], network.index[other]))
        for number in among:
            edge = network.edges[number]
            is_used = bool(used) and frozenset((network.nodes[edge.one], network.nodes[edge.other])) in used
            graph.add_edge(edge.one, edge.other, weight=network.weight_mm(edge) * (SPARED if is_used else 1.0))
        try:
            return network.path(nx.dijkstra_path(graph, network.index[one], network.index[other]))
        except nx.NetworkXNoPath:
            return None


def _passed(paths: Iterable[Path]) -> list[str]:
    """The carriers of some ways, each once, in order."""
    return list(dict.fromkeys(part.carrier for path in paths for part in path.stretches))


def against_limits(circuit: Circuit, passed: Sequence[Carrier], whose: str) -> list[Problem]:
    """One problem where a circuit's given way passes what the project file closes to it, or not what that leads it by."""
    against = [item.place.label for item in passed if item.key in circuit.limits.closed]
    keys = {item.key for item in passed}
    if not against and not any(keys.isdisjoint(group) for group in circuit.limits.via):
        return []
    told = f": {listed(against)}" if against else ""
    what = f"{whose} isn't as wayroom.toml asks ({'; '.join(circuit.limits.told)}){told}"
    why = "the two contradict each other; wayroom.toml only leads circuits that have no way of their own"
    return [Problem(f"circuit {circuit.mark}", what, why, "mend the one or the other", ProblemKind.ASSUMPTION)]


def _in_order(labels: Mapping[str, str], keys: Sequence[str]) -> str:
    return listed([labels[key] for key in keys], most=8)


def _gap(one: Carrier, other: Carrier) -> str:
    ends: list[list[Vec]] = [
        [end for end in (carrier.start_mm, carrier.end_mm) if end is not None] for carrier in (one, other)
    ]
    gaps = [distance(a, b) for a in ends[0] for b in ends[1]]
    return f"their nearest ends are {min(gaps):.0f} mm apart" if gaps else "where they are isn't known"
