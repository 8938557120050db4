"""Circuits that may share no carrier, as the two supplies of one rack: their ways are found together."""

from collections.abc import Sequence

import networkx as nx

from checker.model import Circuit, Problem, ProblemKind
from checker.model.texts import listed, natural
from checker.network.closures import Closures
from checker.network.ends import Landings
from checker.network.graph import Network
from checker.network.route import Route
from checker.network.shortest import Missing, Shortest, nodes_of
from checker.units import metres

#: Of so many carriers that both of a pair pass, each is tried as one that only one of them may pass.
MOST_TRIED = 20
#: So many pairs are looked at as flows through the whole network, which is slow; of further ones it isn't proven that there is no way.
MOST_FLOWS = 30


def apart_groups(circuits: Sequence[Circuit]) -> list[list[int]]:
    """Circuits that have to keep apart from each other, by their numbers, in an order that goes by their marks alone."""
    numbers = {circuit.mark: number for number, circuit in enumerate(circuits)}
    graph = nx.Graph()
    for number, circuit in enumerate(circuits):
        graph.add_edges_from(
            (number, numbers[mark]) for mark in circuit.apart_from if numbers.get(mark, number) != number
        )

    def by_mark(number: int) -> tuple[list[tuple[int, str]], str]:
        mark = circuits[number].mark
        return natural(mark), mark

    groups = [sorted(group, key=by_mark) for group in nx.connected_components(graph)]
    return sorted(groups, key=lambda group: by_mark(group[0]))


class Redundant:
    """Leads circuits that have to keep apart.

    Args:
        network: The graph.
        shortest: What finds single ways.
        landings: Where ends may come in: a circuit may come in on another carrier than the nearest, if the other one is on that.
        closures: What is closed to a circuit.
    """

    def __init__(self, network: Network, shortest: Shortest, landings: Landings, closures: Closures) -> None:
        self.problems: list[Problem] = []
        self._flows = 0
        self._notes: dict[Route | Missing, list[Problem]] = {}
        self._network, self._shortest, self._landings, self._closures = network, shortest, landings, closures

    def pair(self, one: Circuit, other: Circuit) -> tuple[Route | Missing, Route | Missing]:
        """The ways of two circuits that share no carrier, if there are such; else the shortest of each, and it is told."""
        first, second = self._pair(one, other)
        self._take(first, second)
        for circuit, way in ((one, first), (other, second)):
            self._tell_elsewhere(circuit, way)
        return first, second

    def _take(self, *ways: Route | Missing) -> None:
        """Tells what is to note of ways that are taken; not of others, which were only tried."""
        for way in ways:
            self.problems += self._notes.get(way, ())
        self._notes.clear()

    def _pair(self, one: Circuit, other: Circuit) -> tuple[Route | Missing, Route | Missing]:
        alone = [self._way(circuit, frozenset()) for circuit in (one, other)]
        first, second = alone
        if isinstance(first, Missing) or isinstance(second, Missing):
            return first, second
        if first.carriers.isdisjoint(second.carriers):
            return first, second
        tries, is_proven = self._in_turn(one, other, first, second), False
        if not tries and len(one.calls) == len(other.calls) == 1 and self._flows < MOST_FLOWS:
            self._flows += 1
            sets = self._disjoint(one, other)
            tries, is_proven = self._within(one, other, sets), len(sets) < 2
        if not tries and not is_proven:
            tries = self._one_by_one(one, other, first, second)
        if tries:
            return min(tries, key=_length)
        self._tell(one, other, first, second, is_proven=is_proven)
        return first, second

    def after(self, circuit: Circuit, before: Sequence[tuple[Circuit, Route]]) -> Route | Missing:
        """The way of a circuit that keeps apart from others that are led already; what it shares with them nevertheless is told."""
        taken = frozenset(key for _, route in before for key in route.carriers)
        apart = self._way(circuit, taken)
        if isinstance(apart, Route):
            self._take(apart)
            self._tell_elsewhere(circuit, apart)
            return apart
        alone = self._way(circuit, frozenset())
        if isinstance(alone, Route):
            for other, route in before:
                if not alone.carriers.isdisjoint(route.carriers):
                    self._tell(circuit, other, alone, route, is_proven=False)
        self._take(alone)
        return alone

    def _way(self, circuit: Circuit, apart: frozenset[str]) -> Route | Missing:
        """A way that may be taken. What the search notes of it is kept back until it is."""
        closed = self._closures.of(circuit) | apart if apart else self._closures.of(circuit)
        # what is tried to keep apart differs from pair to pair, and would fill the memory
        ends = [
            self._landings.find(text, circuit.service, closed, is_kept=not apart)
            for text in (circuit.origin, *circuit.calls)
        ]
        told = len(self._shortest.problems)
        way = self._shortest.route(circuit, ends, apart)
        self._notes[way] = self._shortest.problems[told:]
        del self._shortest.problems[told:]
        return way

    def _in_turn(self, one: Circuit, other: Circuit, first: Route, second: Route) -> list[tuple[Route, Route]]:
        """The one on its shortest way, and the other apart from it; and the other way round."""
        found = []
        beside = self._way(other, first.carriers)
        if isinstance(beside, Route):
            found.append((first, beside))
        beside = self._way(one, second.carriers)
        if isinstance(beside, Route):
            found.append((beside, second))
        return found

    def _one_by_one(self, one: Circuit, other: Circuit, first: Route, second: Route) -> list[tuple[Route, Route]]:
        """Each carrier that both pass is closed to the one, and then to the other."""
        found = []
        for key in sorted(first.carriers & second.carriers)[:MOST_TRIED]:
            for mine, theirs, is_first in ((one, other, True), (other, one, False)):
                way = self._way(mine, frozenset({key}))
                beside = self._way(theirs, way.carriers) if isinstance(way, Route) else way
                if isinstance(way, Route) and isinstance(beside, Route):
                    found.append((way, beside) if is_first else (beside, way))
        return found

    def _within(self, one: Circuit, other: Circuit, sets: Sequence[frozenset[str]]) -> list[tuple[Route, Route]]:
        """Of two ways without a common carrier either may be whose; each is led anew apart from the other, so that it is short."""
        found = []
        for mine, theirs in (sets, sets[::-1]) if len(sets) == 2 else ():
            for first in (self._way(one, theirs), self._only(one, mine)):
                beside = self._way(other, first.carriers) if isinstance(first, Route) else first
                if isinstance(first, Route) and isinstance(beside, Route):
                    found.append((first, beside))
            for second in (self._way(other, mine), self._only(other, theirs)):
                beside = self._way(one, second.carriers) if isinstance(second, Route) else second
                if isinstance(second, Route) and isinstance(beside, Route):
                    found.append((beside, second))
            first, second = self._only(one, mine), self._only(other, theirs)
            if isinstance(first, Route) and isinstance(second, Route):
                found.append((first, second))
        return found

    def _only(self, circuit: Circuit, keys: frozenset[str]) -> Route | Missing:
        """A way by none but some carriers: nothing else that is nearer to its ends leads it astray."""
        return self._way(circuit, frozenset(self._network.carriers.keys() - keys))

    def _disjoint(self, one: Circuit, other: Circuit) -> list[frozenset[str]]:
        """The carriers of two ways from either origin to either end that share none, by Menger's theorem; fewer where there are fewer."""
        closed = self._closures.of(one) & self._closures.of(other)
        graph = nx.Graph()
        near = self._network.neighbours()
        for key in sorted(self._network.carriers.keys() - closed):
            graph.add_node(key)
            graph.add_edges_from((key, met) for met in sorted(near.get(key, ())) if met not in closed)
        for side, texts in (("from", (one.origin, other.origin)), ("to", (one.calls[-1], other.calls[-1]))):
            for circuit, text in zip((one, other), texts, strict=True):
                for landing in self._landings.around(text, circuit.service, self._closures.of(circuit)):
                    if landing.node is not None:
                        graph.add_edge((side,), landing.node[0])
        if ("from",) not in graph or ("to",) not in graph or graph.has_edge(("from",), ("to",)):
            return []
        try:
            paths = list(nx.node_disjoint_paths(graph, ("from",), ("to",), cutoff=2))
        except nx.NetworkXNoPath:
            return []
        return sorted((frozenset(path[1:-1]) for path in paths), key=sorted)

    def _tell_elsewhere(self, circuit: Circuit, way: Route | Missing) -> None:
        """Says where a circuit comes in on another carrier than the nearest, to keep apart."""
        if isinstance(way, Missing) or not way.legs:
            return
        nodes = [way.legs[0].nodes[0], *(leg.nodes[1] for leg in way.legs)]
        for text, node, drop in zip((circuit.origin, *circuit.calls), nodes, way.drops_mm, strict=True):
            nearest = self._landings.find(text, circuit.service, self._closures.of(circuit))
            if nearest.node is None or node in nodes_of(nearest):
                continue
            here, there = (self._network.carriers[key].place.label for key in (node[0], nearest.node[0]))
            off = "" if drop is None else f", {metres(drop):.2f} m off"
            self.problems.append(
                Problem(f"circuit {circuit.mark}", f"its end {text!r} comes in on {here}{off}, and not on {there}, which is nearer",
                        "so that it shares no carrier with what it has to keep apart from", "give its route, if it doesn't",
                        ProblemKind.INFERENCE)
            )  # fmt: skip

    def _tell(self, one: Circuit, other: Circuit, first: Route, second: Route, *, is_proven: bool) -> None:
        shared = first.carriers & second.carriers
        labels = sorted(self._network.carriers[key].place.label for key in shared)
        what = f"it shares {listed(labels)} with circuit {other.mark}, which it has to keep apart from"
        why = (
            "there are no two ways that share no carrier"
            if is_proven
            else "no two ways that share no carrier were found"
        )
        self.problems.append(
            Problem(f"circuit {one.mark}", what, why, "join carriers to a second way, or give the routes in the schedule",
                    ProblemKind.GAP, len(shared))
        )  # fmt: skip


def _length(pair: tuple[Route, Route]) -> tuple[float, list[str]]:
    lengths = [route.length_mm if route.length_mm is not None else float("inf") for route in pair]
    return round(sum(lengths), 3), sorted(pair[0].carriers)
