"""Puts every cable into the compartments of its circuit's route. What could not be placed is what may lie anywhere."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.model import (
    Cable,
    Carrier,
    Circuit,
    Condition,
    DividedFitting,
    Installation,
    Lane,
    LoadedCompartment,
    PlacedCable,
    Problem,
    ProblemKind,
    State,
    cable_area_mm2,
)
from checker.model.texts import listed
from checker.network.divided import Crowd, Possible
from checker.network.lanes import LaneBy, LaneChoice, Lanes
from checker.network.routing import Route, RoutedBy, Routing, Visit
from checker.network.runs import find_runs
from checker.network.sizing import Inside, empty_compartment, insides, lanes_too_wide
from checker.rule.code import Sizes

Place = tuple[str, int]
#: Why an existing carrier isn't empty only because the schedule says nothing of it.
EXISTING_DOUBT = (
    "it is there already, and no circuit of the schedule is marked as existing, so what lies in it isn't known"
)


@dataclass(frozen=True, slots=True)
class Loading:
    """Every compartment with what lies in it, its inside beside it, and what had to be assumed.

    ``lanes_by`` is how the compartment of a circuit in a carrier was had (``LaneBy``), by the circuit's mark and the carrier's key; of
    several passes that had it differently, each way once. ``fittings`` are the places where divided carriers meet.
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
    loader = _Loader(installation, routing)
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
        if is_filled or carrier.key in by_unknown_ways:
            unsure.add(carrier.key)
        for lane, inside in zip(carrier.section.lanes, insides(carrier, sizes), strict=True):
            place = (carrier.key, lane.number)
            inside_of[place] = inside
            possible, doubts = loader.possible(carrier, lane.number)
            if is_filled:
                doubts = (*doubts, EXISTING_DOUBT)
            if carrier.key in by_unknown_ways:
                doubts = (*doubts, "how long it is isn't known, so neither is which ways lead through it")
            compartments.append(
                replace(
                    empty_compartment(carrier, lane.number, inside),
                    cables=tuple(loader.certain.get(place, ())),
                    possible=possible,
                    possible_doubts=doubts,
                    unbounded=loader.unbounded or carrier.key in unsure,
                    run=runs.get(carrier.key),
                )
            )
    for type_name, labels in too_wide.items():
        loader.problems.append(
            Problem(f"type {type_name!r} ({len(labels)} carriers)", "its compartments are wider together than its inside",
                    "so their insides aren't known", "mend width_mm under [[types]] in wayroom.toml", elements=len(labels))
        )  # fmt: skip
    fittings = tuple(loader.crowd.subjects(lambda carriers: loader.possibly_passing(carriers, unsure)))
    problems = (*loader.problems, *loader.lanes.problems.all())
    return Loading(tuple(compartments), inside_of, problems, loader.lanes_by, fittings)


def _by_unknown_ways(routing: Routing) -> set[str]:
    """Carriers of unknown length that lie between others: a shorter way than the one that was found may lead through them."""
    if not any(route.routed_by is RoutedBy.SHORTEST for route in routing.routes):
        return set()
    near = routing.network.neighbours()
    return {
        key for key, carrier in routing.network.carriers.items() if not carrier.length_mm and len(near.get(key, ())) > 1
    }


class _Loader:
    def __init__(self, installation: Installation, routing: Routing) -> None:
        self.certain: dict[Place, list[PlacedCable]] = defaultdict(list)
        self.problems: list[Problem] = []
        self._perhaps: dict[Place, list[PlacedCable]] = defaultdict(list)
        self._anywhere: list[tuple[Circuit, tuple[PlacedCable, ...], str]] = []
        self._anywhere_for: dict[tuple[Lane, int], tuple[tuple[PlacedCable, ...], tuple[str, ...]]] = {}
        self._everywhere = self._unbounded_doubts(installation)
        self.lanes = Lanes(routing.network)
        self.lanes_by: dict[tuple[str, str], str] = {}
        carriers = routing.network.carriers
        self.crowd = Crowd(self.lanes.meetings, carriers)
        for circuit, route in zip(installation.circuits, routing.routes, strict=True):
            if circuit.state is not State.REMOVED:
                self._place(circuit, route, carriers)

    @property
    def unbounded(self) -> bool:
        """Whether something that can't be counted may lie anywhere."""
        return bool(self._everywhere)

    @staticmethod
    def _unbounded_doubts(installation: Installation) -> tuple[str, ...]:
        if installation.lost_rows:
            lines = ", ".join(str(line) for line in installation.lost_rows[:10])
            return (f"the schedule has rows that name no circuit (line {lines}), which could lie here",)
        if not installation.is_scheduled:
            return ("no schedule was given, so which circuits lie here isn't known",)
        if all(circuit.state is State.REMOVED for circuit in installation.circuits):
            return ("no circuits are known, so what lies here isn't either",)
        return ()

    def _place(self, circuit: Circuit, route: Route, carriers: dict[str, Carrier]) -> None:
        cables = [item for cable in circuit.cables if (item := placed(circuit, cable)).count != 0]
        if route.routed_by is RoutedBy.NONE:
            legs = times(cables, max(1, len(circuit.calls)))  # each of which could pass here
            self._anywhere.append((circuit, tuple(legs), f"circuit {circuit.mark} isn't routed and could lie here"))
            return
        complaints: dict[tuple[str, ProblemKind], dict[str, str]] = defaultdict(dict)  # labels by carrier
        if route.has_gap:
            doubt = f"the route of circuit {circuit.mark} has a gap, so it lies elsewhere besides, and could lie here"
            self._anywhere.append((circuit, tuple(times(cables, max(1, len(circuit.calls)))), doubt))
        lanes: dict[tuple[str, int | None], list[Visit]] = defaultdict(list)
        choices = self.lanes.of(circuit, route.visits)
        for visit, choice in zip(route.visits, choices, strict=True):
            if choice.told:
                kind = ProblemKind.GAP if choice.number is None else ProblemKind.ASSUMPTION
                complaints[choice.told, kind][visit.carrier] = carriers[visit.carrier].place.label
            lanes[visit.carrier, choice.number].append(visit)
        self._note_ways(circuit.mark, route.visits, choices)
        if cables:
            self.crowd.add(circuit.mark, route.visits, choices, self.lanes.links(route.visits), tuple(cables))
        for (key, number), visits in lanes.items():
            passing = times(cables, passes_of(visits))
            if number is not None:
                self.certain[key, number].extend(passing)
                continue
            section = carriers[key].section
            for lane in [lane for lane in section.lanes if lane.takes(circuit.service)] or section.lanes:
                self._perhaps[key, lane.number].extend(passing)
        for (complaint, kind), named in complaints.items():
            labels = list(named.values())
            some = listed(list(dict.fromkeys(labels)))
            self.problems.append(
                Problem(f"circuit {circuit.mark}", f"{complaint}: {some}", "its compartment there is assumed or not known",
                        "say it in the schedule (compartment, or /N in the route), or give the type's compartments in wayroom.toml",
                        kind, len(labels))
            )  # fmt: skip

    def _note_ways(self, mark: str, visits: Sequence[Visit], choices: Sequence[LaneChoice]) -> None:
        ways: dict[str, set[LaneBy]] = defaultdict(set)
        for visit, choice in zip(visits, choices, strict=True):
            ways[visit.carrier].add(choice.by)
        for key, by in ways.items():
            self.lanes_by[mark, key] = ", ".join(way.value for way in LaneBy if way in by)

    def possibly_passing(self, carriers: Sequence[Carrier], unsure: set[str]) -> Possible:
        """What may pass a place where carriers meet, besides the circuits that are led through it."""
        near = [
            (cables, why)
            for circuit, cables, why in self._anywhere
            if any(carrier.takes(circuit.service) for carrier in carriers)
        ]
        filled = [carrier.place.label for carrier in carriers if carrier.key in unsure]
        doubts = (f"what lies in {listed(filled)} isn't known",) if filled else ()
        return Possible(
            tuple(cable for cables, _ in near for cable in cables),
            (*self._everywhere, *doubts, *_shortened([why for _, why in near])),
            self.unbounded or bool(filled),
        )

    def possible(self, carrier: Carrier, number: int) -> tuple[tuple[PlacedCable, ...], tuple[str, ...]]:
        """What may lie in a compartment besides, and why."""
        lanes = carrier.section.lanes
        lane, among = lanes[number - 1], len(lanes)
        if (lane, among) not in self._anywhere_for:
            fitting = [(cables, why) for circuit, cables, why in self._anywhere if _could_lie(circuit, lane, among)]
            self._anywhere_for[lane, among] = (
                tuple(cable for cables, _ in fitting for cable in cables),
                _shortened([why for _, why in fitting]),
            )
        shared, doubts = self._anywhere_for[lane, among]
        own = self._perhaps.get((carrier.key, number), [])
        marks = sorted({cable.circuit for cable in own})
        one = len(marks) == 1
        lies = f"in which compartment {'circuit' if one else 'circuits'} {', '.join(marks)} {'lies' if one else 'lie'} isn't known"
        return (*own, *shared), (*self._everywhere, *([lies] if marks else []), *doubts)


def _could_lie(circuit: Circuit, lane: Lane, among: int) -> bool:
    """Whether an unplaced circuit could lie in one of so many lanes: in the one that the schedule says, else where its service may."""
    if circuit.compartment is not None and among > 1 and circuit.compartment <= among:
        return lane.number == circuit.compartment
    return lane.takes(circuit.service)


def _shortened(doubts: list[str]) -> tuple[str, ...]:
    """The first few of many reasons alike, and how many more there are."""
    if len(doubts) <= 3:
        return tuple(doubts)
    return (*doubts[:2], f"and {len(doubts) - 2} more circuits aren't routed")


def passes_of(visits: list[Visit]) -> int:
    """How many times a circuit's cables lie beside each other at the most: cables that only meet end to end count once."""
    marks = sorted(
        (place, change)
        for visit in visits
        for place, change in ((min(visit.from_mm, visit.to_mm), 1), (max(visit.from_mm, visit.to_mm), -1))
        if visit.from_mm != visit.to_mm
    )
    touching = Counter(visit.from_mm for visit in visits if visit.from_mm == visit.to_mm)
    beside, most = 0, max(touching.values(), default=1)
    for _, change in marks:
        beside += change
        most = max(most, beside)
    return most


def times(cables: list[PlacedCable], passes: int) -> list[PlacedCable]:
    """As many cables for each pass."""
    if passes == 1:
        return cables
    return [replace(cable, count=None if cable.count is None else cable.count * passes) for cable in cables]


def placed(circuit: Circuit, cable: Cable) -> PlacedCable:
    """The cables of one row of a circuit, all sets together, as they lie in a compartment."""
    return PlacedCable(
        circuit=circuit.mark,
        service=circuit.service,
        key=cable.key,
        count=None if cable.count is None or "sets" in circuit.unread else cable.count * circuit.sets,
        area_mm2=cable.area_mm2 or cable_area_mm2(cable.diameter_mm, cable.width_mm, cable.height_mm),
        width_mm=cable.width_mm if cable.diameter_mm is None else None,
        height_mm=cable.height_mm if cable.diameter_mm is None else None,
        diameter_mm=cable.diameter_mm,
        csa_mm2=cable.csa_mm2,
        awg_kcmil=cable.awg_kcmil,
        cores=cable.cores,
        stranded=cable.stranded,
        rated_voltage_v=cable.rated_voltage_v,
        voltage_v=circuit.voltage_v,
        planning=cable.planning,
    )
