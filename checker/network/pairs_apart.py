"""Pairs of circuits that the project wants apart, with what their ways have in common: what rules about redundancy are asked about."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from checker.model import Carrier, Circuit, CircuitPair, Installation, State
from checker.model.pairs import SharedCarrier, SharedFitting
from checker.model.texts import natural
from checker.network.loading import Loading
from checker.network.route import Route, RoutedBy, Routing
from checker.network.stretches import is_placed
from checker.network.ways_apart import WaysApart
from checker.units import metres

#: Spans of a carrier along its axis, from and to, in mm.
Spans = Sequence[tuple[float, float]]


def circuit_pairs(installation: Installation, routing: Routing, loading: Loading) -> Iterator[CircuitPair]:
    """Every declared pair once, whichever of the two declares it, in the order in which people count; none with a removed circuit.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies in each compartment, and passes each fitting.
    """
    circuits = {circuit.mark: circuit for circuit in installation.circuits if circuit.state is not State.REMOVED}
    wanted = sorted(_declared(circuits.values(), circuits.keys()), key=lambda pair: [_counted(mark) for mark in pair])
    if not wanted:
        return
    routes = {route.circuit: route for route in routing.routes}
    passed = {mark: _passed(routes[mark]) for pair in wanted for mark in pair}
    lanes = _lanes(loading, {key for one, other in wanted for key in passed[one].keys() & passed[other].keys()})
    fittings = _fittings(loading, passed.keys())
    carriers = routing.network.carriers
    for one, other in wanted:
        both = [routes[one], routes[other]]
        common = passed[one].keys() & passed[other].keys()
        apart = [{key: spans for key, spans in passed[mark].items() if key not in common} for mark in (one, other)]
        ways = WaysApart(carriers, *apart)
        yield CircuitPair(
            one,
            other,
            shared=tuple(
                _shared(
                    carriers[key], passed[one][key], passed[other][key], lanes.get((key, one)), lanes.get((key, other))
                )
                for key in sorted(common, key=lambda key: (natural(carriers[key].place.label), key))
            ),
            fittings=_met(fittings.get(one, {}), fittings.get(other, {})),
            nearest=ways.nearest(),
            nearer=ways.nearer,
            unplaced=tuple(carriers[key] for key in sorted({*apart[0], *apart[1]}) if not is_placed(carriers[key])),
            found=tuple(route.circuit for route in both if route.routed_by.was_found),
            open_ways=tuple((route.circuit, doubt) for route in both if (doubt := _doubt(route))),
        )


def _counted(mark: str) -> tuple[list[tuple[int, str]], str]:
    return natural(mark), mark


def _declared(circuits: Iterable[Circuit], marks: Collection[str]) -> set[tuple[str, str]]:
    found = set()
    for circuit in circuits:
        for mark in circuit.apart_from:
            if mark in marks and mark != circuit.mark:
                one, other = sorted((circuit.mark, mark), key=_counted)
                found.add((one, other))
    return found


def _passed(route: Route) -> dict[str, Spans]:
    """Of each carrier on a way the spans that are passed; those that meet are one."""
    spans: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for visit in route.visits:
        spans[visit.carrier].append((min(visit.from_mm, visit.to_mm), max(visit.from_mm, visit.to_mm)))
    found: dict[str, Spans] = {}
    for key, own in spans.items():
        merged: list[tuple[float, float]] = []
        for low, high in sorted(own):
            if merged and low <= merged[-1][1]:
                merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
            else:
                merged.append((low, high))
        found[key] = merged
    return found


def _doubt(route: Route) -> str:
    if route.routed_by is RoutedBy.NONE:
        return f"circuit {route.circuit} isn't routed: {route.reason}"
    if route.has_gap:
        return f"the route of circuit {route.circuit} has a gap, so it lies elsewhere besides"
    return "" if route.visits else f"circuit {route.circuit} passes no carrier"


def _shared(
    carrier: Carrier, one: Spans, other: Spans, one_lanes: set[int] | None, other_lanes: set[int] | None
) -> SharedCarrier:
    """``one_lanes``: the compartments in which the one lies there for certain; None: in none."""
    overlap = [min(high, last) - max(low, first) for low, high in one for first, last in other]
    length = metres(sum(max(0.0, length) for length in overlap)) if carrier.length_mm else None
    is_divided = bool(one_lanes and other_lanes) and (one_lanes or set()).isdisjoint(other_lanes or ())
    return SharedCarrier(carrier, length, is_divided)


def _lanes(loading: Loading, keys: Collection[str]) -> dict[tuple[str, str], set[int]]:
    """The compartments of carriers in which circuits lie for certain, by key and mark."""
    found: dict[tuple[str, str], set[int]] = defaultdict(set)
    for item in loading.compartments if keys else ():
        if item.carrier.key in keys:
            for cable in item.cables:
                found[item.carrier.key, cable.circuit].add(item.number)
    return found


def _fittings(loading: Loading, marks: Collection[str]) -> dict[str, dict[str, tuple[str, frozenset[str]]]]:
    """By mark the fittings that a circuit passes for certain: key → label and the carriers by which it does."""
    found: dict[str, dict[str, tuple[str, frozenset[str]]]] = defaultdict(dict)
    for item in loading.fittings:
        if item.fitting is None:
            continue
        for passing in item.passing:
            keys = frozenset(key for key, _ in passing.compartments)
            for mark in {cable.circuit for cable in passing.cables} & set(marks):
                before = found[mark].get(item.fitting.key, ("", frozenset()))[1]
                found[mark][item.fitting.key] = (item.fitting.place.label, before | keys)
    return found


def _met(
    one: Mapping[str, tuple[str, frozenset[str]]], other: Mapping[str, tuple[str, frozenset[str]]]
) -> tuple[SharedFitting, ...]:
    """Fittings that both pass by carriers of their own: where they share a carrier too, that says it."""
    return tuple(
        SharedFitting(one[key][0], tuple(sorted(one[key][1] | other[key][1])))
        for key in sorted(one.keys() & other.keys())
        if one[key][1].isdisjoint(other[key][1])
    )
