"""Routes of circuits whose cables the model draws, whole or in part."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from checker.model import Circuit, Installation, Problem, ProblemKind
from checker.model.texts import listed
from checker.network.drawn import DrawnWay, DrawnWays
from checker.network.ends import Landing
from checker.network.given_ways import against_limits
from checker.network.graph import Network
from checker.network.route import Leg, Route, RoutedBy, Visit, passes_of
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
        self._ways = DrawnWays(installation, network.neighbours()) if installation.model_cables else None
        self._network, self._shortest = network, shortest

    def route(self, circuit: Circuit, ends: Sequence[Landing]) -> Route | None:
        """The drawn way of a circuit; None where none is drawn that lies in a carrier."""
        way = self._ways.way(circuit) if self._ways is not None else None
        if way is None:
            return None
        self.problems.extend(way.problems)
        if way.visits and way.is_in_part and (partly := self._in_part(circuit, ends, way)) is not None:
            return partly
        self.problems.extend(way.open_problems)
        if way.is_too_much or (way.is_crowded and not way.visits):
            too_many = (
                "its drawn cables are too many"
                if way.is_too_much
                else "the carriers around its drawn cables are too many"
            )
            return Route(circuit.mark, RoutedBy.NONE, reason=f"{too_many} to look at")
        if not way.visits:
            return None
        length = None if way.has_gap else way.length_mm
        legs: tuple[Leg, ...] = ()
        if len(circuit.calls) == 1 and len(way.drops_mm) == 2:
            legs = (Leg(circuit.origin, circuit.calls[0], length, (way.drops_mm[0], way.drops_mm[1])),)
        self._against_limits(circuit, way.visits)
        return Route(
            circuit.mark, RoutedBy.DRAWN, way.visits, length, way.drops_mm, has_gap=way.has_gap, legs=legs, lines=way.lines
        )  # fmt: skip

    def _against_limits(self, circuit: Circuit, visits: Sequence[Visit]) -> None:
        passed = [self._network.carriers[visit.carrier] for visit in visits]
        self.problems += against_limits(circuit, passed, "its way in the model")

    def _in_part(self, circuit: Circuit, ends: Sequence[Landing], way: DrawnWay) -> Route | None:
        """The shortest way that passes all that is drawn, as often as that; None where none does.

        So what is drawn can be a part of it. Where a carrier is drawn to be passed more often, the cables run otherwise than by that way.
        """
        drawn = _by_carrier(way.visits)
        for limits_via in self._orders(list(drawn)):
            led = replace(circuit, limits=replace(circuit.limits, via=limits_via)) if limits_via else circuit
            told = len(self._shortest.problems)
            found = self._shortest.route(led, ends)
            passed = _by_carrier(found.visits) if isinstance(found, Route) else {}
            is_part = all(key in passed and passes_of(passed[key]) >= passes_of(own) for key, own in drawn.items())
            if not isinstance(found, Route) or not is_part or _turns_back(found):
                del self._shortest.problems[told:]
                continue
            seen = {key: _seen(own, passed[key]) for key, own in drawn.items()}
            visits = tuple(visit._replace(seen_compartment=seen.get(visit.carrier)) for visit in found.visits)
            labels = listed([self._network.carriers[key].place.label for key in drawn])
            self.problems.append(
                Problem(f"circuit {circuit.mark}", f"the model draws its cables in part, in {labels}",
                        "the rest of its way is the shortest one through those", "draw them from end to end, or give its route",
                        ProblemKind.INFERENCE)
            )  # fmt: skip
            self._against_limits(circuit, visits)
            return replace(found, routed_by=RoutedBy.DRAWN_IN_PART, visits=visits, lines=way.lines)
        return None

    def _orders(self, drawn: Sequence[str]) -> Iterator[tuple[frozenset[str], ...]]:
        """What to lead a circuit by: by nothing, as its shortest way may pass what is drawn anyhow; by that, one way and the other."""
        yield ()
        step = max(1, -(-len(drawn) // MOST_LED_BY))
        by = tuple(frozenset({key}) for key in drawn[::step])
        yield by
        yield by[::-1]


def _by_carrier(visits: Iterable[Visit]) -> dict[str, list[Visit]]:
    found: dict[str, list[Visit]] = {}
    for visit in visits:
        found.setdefault(visit.carrier, []).append(visit)
    return found


def _turns_back(route: Route) -> bool:
    """Whether a leg leads into a carrier and back: only to pass all that it is led by."""
    by_leg = groupby(route.visits, key=lambda visit: visit.leg)
    return any(passes_of(own) > 1 for _, leg in by_leg for own in _by_carrier(leg).values())


def _seen(drawn: Sequence[Visit], found: Sequence[Visit]) -> int | None:
    """The compartment of a carrier in which a circuit is drawn; None where it is drawn in several, or passes oftener than that."""
    seen = {visit.seen_compartment for visit in drawn}
    return seen.pop() if len(seen) == 1 and passes_of(drawn) == passes_of(found) else None
