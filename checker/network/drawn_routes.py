"""Routes of circuits whose cables the model draws, whole or in part."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from checker.model import Circuit, Installation, Problem, ProblemKind
from checker.model.texts import listed
from checker.network.drawn import DrawnWay, DrawnWays
from checker.network.ends import Landing
from checker.network.given_ways import against_limits
from checker.network.graph import Network
from checker.network.route import Leg, Route, RoutedBy, Visit
from checker.network.shortest import Shortest

#: A way that is drawn in part is led by so many of its carriers, evenly chosen where there are more; it must pass all of them.
MOST_LED_BY = 8


class DrawnRoutes:
    """Takes the ways that the model draws for routes, where they lie in carriers.

    Args:
        installation: What there is.
        network: The graph.
        shortest: What leads a circuit on where its cables are drawn in part only.
    """

    def __init__(self, installation: Installation, network: Network, shortest: Shortest) -> None:
        self.problems: list[Problem] = []
        self._ways = DrawnWays(installation, network.neighbours())
        self._network, self._shortest = network, shortest

    def route(self, circuit: Circuit, ends: Sequence[Landing]) -> Route | None:
        """The drawn way of a circuit; None where none is drawn that lies in a carrier."""
        way = self._ways.way(circuit)
        if way is None:
            return None
        is_in_part = bool(way.visits) and way.has_gap and not way.gaps and not way.is_crowded
        if is_in_part and (partly := self._in_part(circuit, ends, way)) is not None:
            return partly
        self.problems.extend(way.problems)
        if not way.visits:
            return None
        visits = tuple(Visit(item.carrier, item.from_mm, item.to_mm, item.compartment) for item in way.visits)
        length = None if way.has_gap else way.length_mm
        legs: tuple[Leg, ...] = ()
        if len(circuit.calls) == 1 and len(way.drops_mm) == 2:
            legs = (Leg(circuit.origin, circuit.calls[0], length, (way.drops_mm[0], way.drops_mm[1])),)
        passed = [self._network.carriers[visit.carrier] for visit in visits]
        self.problems += against_limits(circuit, passed, "its way in the model")
        return Route(circuit.mark, RoutedBy.DRAWN, visits, length, way.drops_mm, has_gap=way.has_gap, legs=legs)

    def _in_part(self, circuit: Circuit, ends: Sequence[Landing], way: DrawnWay) -> Route | None:
        """The shortest way that passes all carriers in which its cables are drawn, where these don't reach from end to end."""
        drawn = list(dict.fromkeys(item.carrier for item in way.visits))
        for limits_via in self._orders(drawn):
            led = replace(circuit, limits=replace(circuit.limits, via=limits_via)) if limits_via else circuit
            found = self._shortest.route(led, ends)
            if isinstance(found, Route) and found.carriers.issuperset(drawn):
                compartments = {item.carrier: item.compartment for item in way.visits}
                visits = tuple(replace(visit, compartment=compartments.get(visit.carrier)) for visit in found.visits)
                labels = listed([self._network.carriers[key].place.label for key in drawn])
                self.problems.append(
                    Problem(f"circuit {circuit.mark}", f"the model draws its cables in part, in {labels}",
                            "the rest of its way is the shortest one through those", "draw them from end to end, or give its route",
                            ProblemKind.INFERENCE)
                )  # fmt: skip
                return replace(found, routed_by=RoutedBy.DRAWN_IN_PART, visits=visits)
        return None

    def _orders(self, drawn: Sequence[str]) -> Iterator[tuple[frozenset[str], ...]]:
        """What to lead a circuit by: by nothing, as its shortest way may pass what is drawn anyhow; by that, one way and the other."""
        yield ()
        step = max(1, -(-len(drawn) // MOST_LED_BY))
        by = tuple(frozenset({key}) for key in drawn[::step])
        yield by
        yield by[::-1]
