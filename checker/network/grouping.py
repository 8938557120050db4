"""Which circuits heat each other: every enclosure with all that lies in it, and every circuit with the enclosures on its way."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from checker.model import (
    Circuit,
    CircuitLoad,
    Enclosure,
    Installation,
    LoadedCompartment,
    Member,
    PlacedCable,
    RoutedCircuit,
)
from checker.model.texts import few_of, natural
from checker.network.electrical import circuit_load
from checker.network.loading import Loading
from checker.network.route import Route, RoutedBy, Routing, Visit, passes_of
from checker.network.stacks import with_stacks


@dataclass(frozen=True, slots=True)
class Grouped:
    """Every circuit that carries a load, in the schedule's order; every enclosure, by its carrier; every circuit's load, by its mark."""

    circuits: tuple[RoutedCircuit, ...]
    enclosures: dict[str, Enclosure]
    loads: dict[str, CircuitLoad]


def group_circuits(installation: Installation, routing: Routing, loading: Loading) -> Grouped:
    """Groups circuits by the enclosures that they pass.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies in each compartment.
    """
    loads = {circuit.mark: circuit_load(circuit, installation.terminations_c) for circuit in installation.circuits}
    enclosures = _enclosures(installation.circuits, loads, routing, loading)
    circuits = []
    for circuit, route in zip(installation.circuits, routing.routes, strict=True):
        load = loads[circuit.mark]
        if load.is_loaded:
            passed = tuple(enclosures[key] for key in dict.fromkeys(visit.carrier for visit in route.visits))
            doubts = _open_doubts(route, passed)
            circuits.append(RoutedCircuit(load, passed, doubts, installation.not_overloaded_together))
    return Grouped(tuple(circuits), enclosures, loads)


def _enclosures(
    circuits: Sequence[Circuit], loads: dict[str, CircuitLoad], routing: Routing, loading: Loading
) -> dict[str, Enclosure]:
    members: dict[str, list[Member]] = defaultdict(list)
    pairs = zip(circuits, routing.routes, strict=True)
    for circuit, route in sorted(pairs, key=lambda pair: (natural(pair[0].mark), pair[0].mark)):
        if all(cable.count == 0 for cable in circuit.cables) and circuit.cables:
            continue
        visits: dict[str, list[Visit]] = defaultdict(list)
        for visit in route.visits:
            visits[visit.carrier].append(visit)
        lines: dict[str, tuple[int, int]] = {}
        for key, some, whole in route.lines:  # once a leg: what several legs lead through it lies there together
            lines[key] = (lines.get(key, (0, 0))[0] + some, whole)
        for key, here in visits.items():
            members[key].append(Member(loads[circuit.mark], passes_of(here), lines.get(key)))
    made = {}
    # what isn't routed may pass as often as it has legs
    once = {circuit.mark: Member(loads[circuit.mark], max(1, len(circuit.calls))) for circuit in circuits}
    gaps = {route.circuit for route in routing.routes if route.has_gap}
    for key, group in groupby(loading.compartments, key=lambda compartment: compartment.carrier.key):
        compartments = tuple(group)
        certain = tuple(members.get(key, ()))
        there = {member.load.mark for member in certain}
        perhaps = dict.fromkeys(cable.circuit for item in compartments for cable in item.possible)
        possible = tuple(once[mark] for mark in perhaps if mark not in there or mark in gaps)
        made[key] = enclosure_of(compartments, certain, possible)
    return with_stacks(made)


def enclosure_of(
    compartments: Sequence[LoadedCompartment], members: tuple[Member, ...], possible: tuple[Member, ...]
) -> Enclosure:
    """A segment as one enclosure.

    Args:
        compartments: All of it.
        members: The circuits that lie in any of them for certain.
        possible: Those that may lie there besides.
    """
    return Enclosure(
        carrier=compartments[0].carrier,
        members=members,
        possible=possible,
        doubts=tuple(dict.fromkeys(doubt for item in compartments for doubt in item.possible_doubts)),
        unbounded=any(item.unbounded for item in compartments),
        fits_one_layer=_fits(compartments),
        may_fit_one_layer=all(
            item.width_mm is None or _side_by_side(cable.at_least() for cable in item.cables) <= item.width_mm
            for item in compartments
        ),
        run=compartments[0].run,
        cables=tuple(cable for item in compartments for cable in item.cables),
        possible_cables=_possible(compartments),
    )


def _possible(compartments: Iterable[LoadedCompartment]) -> tuple[PlacedCable, ...]:
    """What may lie in any of them besides: of each row as many as may lie in one of them."""
    most: Counter[PlacedCable] = Counter()
    for item in compartments:
        most |= Counter(item.possible)
    return tuple(most.elements())


def _fits(compartments: Iterable[LoadedCompartment]) -> bool | None:
    """Whether all that lies or may lie in each compartment goes side by side into the narrowest that it can be."""
    for item in compartments:
        width = item.width_least_mm if item.width_least_mm is not None else item.width_mm
        cables = (*item.cables, *item.possible)
        if (
            width is None
            or item.unbounded
            or any(cable.thickness_mm is None or cable.count is None for cable in cables)
        ):
            return None
        if _side_by_side(cables) > width:
            return False
    return True


def _side_by_side(cables: Iterable[PlacedCable]) -> float:
    """The width that cables take in one layer, in mm; what isn't known counts as nothing."""
    return sum((cable.count or 0) * (cable.thickness_mm or 0.0) for cable in cables)


def _open_doubts(route: Route, passed: tuple[Enclosure, ...]) -> tuple[str, ...]:
    if route.routed_by is RoutedBy.NONE:
        return (f"it isn't routed: {route.reason}",)
    doubts = ["its route has a gap, so it lies elsewhere besides"] if route.has_gap else []
    doubts += ["it passes no carrier"] if not passed else []
    for enclosure in passed:
        if enclosure.unbounded:
            doubts.extend(enclosure.doubts)
    return few_of(doubts)
