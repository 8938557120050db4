"""Puts every cable into the compartments of its circuit's route. What could not be placed is what may lie anywhere."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.model import (
    Carrier,
    Circuit,
    Condition,
    DividedFitting,
    Installation,
    LoadedCompartment,
    PlacedCable,
    Problem,
    ProblemKind,
    State,
)
from checker.model.texts import listed, natural
from checker.network.divided import Crowd
from checker.network.drawn_loose import Loose, loose_cables
from checker.network.lanes import LaneBy, LaneChoice, Lanes
from checker.network.placing import Place, cables_of, lying_of, times
from checker.network.routing import Route, RoutedBy, Routing, Visit
from checker.network.runs import find_runs
from checker.network.sizing import Inside, empty_compartment, insides, lanes_too_wide
from checker.network.unplaced import Unplaced
from checker.rule.code import Sizes

__all__ = ["Loading", "Place", "load"]

#: Why an existing carrier isn't empty only because the schedule says nothing of it.
EXISTING_DOUBT = (
    "it is there already, and no circuit of the schedule is marked as existing, so what lies in it isn't known"
)


@dataclass(frozen=True, slots=True)
class Loading:
    """Every compartment with what lies in it, its inside beside it, and what had to be assumed.

    ``lanes_by`` is how the compartment of a circuit in a carrier was had (``LaneBy``), by the circuit's mark and the carrier's key; of
    several passes that had it differently, each way once. ``fittings`` are the places where carriers meet and what is kept apart may mix.
    """

    compartments: tuple[LoadedCompartment, ...]
    insides: dict[Place, Inside]
    problems: tuple[Problem, ...]
    lanes_by: dict[tuple[str, str], str]
    fittings: tuple[DividedFitting, ...] = ()


def load(installation: Installation, routing: Routing, sizes: Sizes) -> Loading:
    """Loads all compartments.

    Args:
        installation: What there is.
        routing: Where circuits go.
        sizes: The code's reading of inside sizes.
    """
    loose = loose_cables(installation)
    loader = _Loader(installation, routing, loose)
    too_wide: dict[str, list[str]] = defaultdict(list)
    runs = find_runs(routing.network, routing.landings)
    by_unknown_ways = _by_unknown_ways(routing)
    any_existing = any(circuit.state is State.EXISTING for circuit in installation.circuits)
    inside_of: dict[Place, Inside] = {}
    compartments: list[LoadedCompartment] = []
    unsure: set[str] = set()  # carriers in which what can't be counted may lie
    for carrier in installation.carriers:
        if lanes_too_wide(carrier, sizes):
            too_wide[carrier.type_name].append(carrier.place.label)
        is_filled = carrier.condition is Condition.EXISTING and not any_existing
        if is_filled or carrier.key in by_unknown_ways or carrier.key in loose.doubts:
            unsure.add(carrier.key)
        for lane, inside in zip(carrier.section.lanes, insides(carrier, sizes), strict=True):
            place = (carrier.key, lane.number)
            inside_of[place] = inside
            possible, doubts = loader.possible(carrier, lane.number)
            if is_filled:
                doubts = (*doubts, EXISTING_DOUBT)
            if carrier.key in by_unknown_ways:
                doubts = (*doubts, "how long it is isn't known, so neither is which ways lead through it")
            if carrier.key in loose.doubts:
                doubts = (*doubts, loose.doubts[carrier.key])
            compartments.append(
                replace(
                    empty_compartment(carrier, lane.number, inside),
                    cables=tuple(loader.certain.get(place, ())),
                    possible=possible,
                    possible_doubts=doubts,
                    unbounded=bool(loader.unplaced.everywhere)
                    or carrier.key in unsure
                    or loader.unplaced.is_uncounted(lane, len(carrier.section.lanes)),
                    run=runs.get(carrier.key),
                )
            )
    for type_name, labels in too_wide.items():
        loader.problems.append(
            Problem(f"type {type_name!r} ({len(labels)} carriers)", "its compartments are wider together than its inside",
                    "so their insides aren't known", "mend width_mm under [[types]] in wayroom.toml", elements=len(labels))
        )  # fmt: skip
    fittings = tuple(loader.crowd.subjects(loader.unplaced, unsure))
    problems = (*loader.problems, *loader.lanes.problems.all())
    return Loading(tuple(compartments), inside_of, problems, loader.lanes_by, fittings)


def _by_unknown_ways(routing: Routing) -> set[str]:
    """Carriers of unknown length that lie between others: a shorter way than the one that was found may lead through them."""
    if not any(route.routed_by.was_found for route in routing.routes):
        return set()
    near = routing.network.neighbours()
    return {
        key for key, carrier in routing.network.carriers.items() if not carrier.length_mm and len(near.get(key, ())) > 1
    }


class _Loader:
    def __init__(self, installation: Installation, routing: Routing, loose: Loose) -> None:
        self.certain: dict[Place, list[PlacedCable]] = defaultdict(list)
        self.problems: list[Problem] = list(loose.problems)
        self._perhaps: dict[Place, list[PlacedCable]] = defaultdict(list)
        self.unplaced = Unplaced(installation, (loose.everywhere,) if loose.everywhere else ())
        self.lanes = Lanes(routing.network)
        self.lanes_by: dict[tuple[str, str], str] = {}
        self._carriers = routing.network.carriers
        self.crowd = Crowd(self.lanes.meetings, self._carriers)
        pairs = zip(installation.circuits, routing.routes, strict=True)
        # not in the schedule's order, so that what is told of a compartment doesn't go by it
        for circuit, route in sorted(pairs, key=lambda pair: (natural(pair[0].mark), pair[0].mark)):
            if circuit.state is not State.REMOVED:
                self._place(circuit, route)

    def _place(self, circuit: Circuit, route: Route) -> None:
        cables = cables_of(circuit)
        anywhere = tuple(times(cables, max(1, len(circuit.calls))))  # each of its legs could pass
        if route.routed_by is RoutedBy.NONE:
            self.unplaced.add(circuit, anywhere, f"circuit {circuit.mark} isn't routed and could lie here")
            return
        if route.has_gap:
            doubt = f"the route of circuit {circuit.mark} has a gap, so it lies elsewhere besides, and could lie here"
            self.unplaced.add(circuit, anywhere, doubt)
        choices = self.lanes.of(circuit, route.visits)
        self._note_ways(circuit.mark, route.visits, choices)
        if cables:
            self.crowd.add(circuit.mark, route.visits, choices, self.lanes.links(route.visits), tuple(cables))
        for place, (sure, perhaps) in lying_of(circuit, route.visits, choices, self._carriers).compartments.items():
            self.certain[place].extend(times(cables, sure) if sure else ())
            self._perhaps[place].extend(times(cables, perhaps) if perhaps else ())
        self._complain(circuit.mark, route.visits, choices)

    def _note_ways(self, mark: str, visits: Sequence[Visit], choices: Sequence[LaneChoice]) -> None:
        ways: dict[str, set[LaneBy]] = defaultdict(set)
        for visit, choice in zip(visits, choices, strict=True):
            ways[visit.carrier].add(choice.by)
        for key, by in ways.items():
            self.lanes_by[mark, key] = ", ".join(way.value for way in LaneBy if way in by)

    def _complain(self, mark: str, visits: Sequence[Visit], choices: Sequence[LaneChoice]) -> None:
        complaints: dict[tuple[str, ProblemKind], dict[str, str]] = defaultdict(dict)  # labels by carrier
        for visit, choice in zip(visits, choices, strict=True):
            if choice.told:
                kind = ProblemKind.GAP if choice.number is None else ProblemKind.ASSUMPTION
                complaints[choice.told, kind][visit.carrier] = self._carriers[visit.carrier].place.label
        for (complaint, kind), named in complaints.items():
            labels = list(named.values())
            some = listed(list(dict.fromkeys(labels)))
            self.problems.append(
                Problem(f"circuit {mark}", f"{complaint}: {some}", "its compartment there is assumed or not known",
                        "say it in the schedule (compartment, or /N in the route), or give the type's compartments in wayroom.toml",
                        kind, len(labels))
            )  # fmt: skip

    def possible(self, carrier: Carrier, number: int) -> tuple[tuple[PlacedCable, ...], tuple[str, ...]]:
        """What may lie in a compartment besides, and why."""
        lanes = carrier.section.lanes
        shared, doubts = self.unplaced.in_lane(lanes[number - 1], len(lanes))
        own = self._perhaps.get((carrier.key, number), [])
        marks = sorted({cable.circuit for cable in own}, key=natural)
        one = len(marks) == 1
        lies = f"in which compartment {'circuit' if one else 'circuits'} {', '.join(marks)} {'lies' if one else 'lie'} isn't known"
        return (*own, *shared), (*self.unplaced.everywhere, *([lies] if marks else []), *doubts)
