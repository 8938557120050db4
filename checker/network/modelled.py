"""What the model has of each carrier: whether its inside can be had, what is joined to it, and which circuits it holds."""

import itertools
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from checker.model import Carrier, Installation, ModelledCarrier, State, Vec
from checker.network.joins import END, START
from checker.network.loading import Loading
from checker.network.near_misses import NOT_JOINED
from checker.network.route import RoutedBy, Routing
from checker.network.sizing import Inside

SIZE, ENDS, USE = "size", "ends", "use"
#: A circuit that comes in this near to an end leaves the carrier there, on purpose.
AT_END_MM = 300.0
#: What stands between the names of two things that nearly meet.
BETWEEN = " / "


class OpenEnd(NamedTuple):
    """An end of a carrier that nothing is joined to: ``start`` or ``end`` of its axis, and how many legs of circuits come in there."""

    carrier: str
    end: str
    point_mm: Vec
    comes_in: int


def open_ends(routing: Routing) -> Iterator[OpenEnd]:
    """All ends that nothing is joined to, carrier by carrier."""
    joined = {spot.mark for join in routing.joins for spot in (join.one, join.other)}
    near: dict[str, list[float]] = defaultdict(list)
    for route in routing.routes:
        for _, leg in itertools.groupby(route.visits, key=lambda visit: visit.leg):
            visits = list(leg)
            for key, place in {(visits[0].carrier, visits[0].from_mm), (visits[-1].carrier, visits[-1].to_mm)}:
                near[key].append(place)
    for carrier in routing.network.carriers.values():
        length = carrier.length_mm or 0.0
        for where, point, place in ((START, carrier.start_mm, 0.0), (END, carrier.end_mm, length)):
            if point is not None and (carrier.key, where) not in joined:
                here = sum(abs(along - place) <= AT_END_MM for along in near.get(carrier.key, ()))
                yield OpenEnd(carrier.key, where, point, here)


def modelled_carriers(installation: Installation, routing: Routing, loading: Loading) -> Iterator[ModelledCarrier]:
    """Every carrier with what the model says of it, in the order in which they were read.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies where.
    """
    ends: dict[str, list[str]] = defaultdict(list)
    for end in open_ends(routing):
        if not end.comes_in:
            ends[end.carrier].append(end.end)
    insides: dict[str, list[Inside]] = defaultdict(list)
    for (key, _), inside in loading.insides.items():
        insides[key].append(inside)
    circuits: dict[str, set[str]] = defaultdict(set)
    for route in routing.routes:
        for key in route.carriers:
            circuits[key].add(route.circuit)
    may_hold, uncounted = set(), set()
    for compartment in loading.compartments:
        if compartment.unbounded:
            uncounted.add(compartment.carrier.key)
        if compartment.unbounded or compartment.possible:
            may_hold.add(compartment.carrier.key)
    joined = {spot.element for join in routing.joins for spot in (join.one, join.other)}
    missed = _near_missed(installation, routing)
    may_come_in = _may_come_in(installation, routing)
    for carrier in installation.carriers:
        key = carrier.key
        has_axis = bool(carrier.axis_mm)
        told = {
            SIZE: not carrier.section.source or _is_too_wide(carrier),
            ENDS: not has_axis or 0 < len(ends[key]) <= missed[key],
            USE: key in uncounted,
        }
        yield ModelledCarrier(
            carrier,
            lacking=lacking_of(carrier, insides[key]),
            open_ends=tuple(ends[key]) if has_axis else None,
            is_joined=key in joined,
            may_come_in=may_come_in,
            circuits=tuple(sorted(circuits[key])),
            may_hold=key in may_hold,
            told=frozenset(what for what, is_told in told.items() if is_told),
        )


def lacking_of(carrier: Carrier, insides: Iterable[Inside]) -> tuple[str, ...]:
    """Why the insides of some of its compartments can't be had, in words; none where each can.

    Args:
        carrier: The segment.
        insides: Of its compartments.
    """
    if all(inside.area_mm2 is not None for inside in insides):
        return ()
    section = carrier.section
    if section.is_round:
        if len(section.lanes) > 1:
            return ("it is round and divided, so how large its compartments are can't be told",)
        return ("its wall leaves no bore",)
    missing = [name for name, size in (("width", section.width_mm), ("height", section.height_mm)) if size is None]
    if len(missing) == 2:
        return ("its size isn't known",)
    if missing:
        return (f"its {missing[0]} isn't known",)
    return ("its walls and dividers leave no room inside",)


def _is_too_wide(carrier: Carrier) -> bool:
    """Whether the widths that the project gives its compartments are what leaves no inside: that is told of its type."""
    section = carrier.section
    wall = section.wall_mm or 0.0
    has_room = section.height_mm is None or section.height_mm > 2.0 * wall
    return has_room and any(lane.width_mm is not None for lane in section.lanes)


def _near_missed(installation: Installation, routing: Routing) -> Counter[str]:
    """Of how many ends of each carrier a near miss is told.

    One whose name another bears too isn't among them: whose end that was can't be told.
    """
    named: dict[str, list[str]] = defaultdict(list)
    for carrier in installation.carriers:
        named[carrier.place.label].append(carrier.key)
    found: Counter[str] = Counter()
    for problem in routing.problems:
        if problem.why == NOT_JOINED:
            is_both = problem.what.startswith("their ends")
            parts = problem.where.split(BETWEEN)
            # a name may have in it what stands between two of them
            pairs = [(BETWEEN.join(parts[:at]), BETWEEN.join(parts[at:])) for at in range(1, len(parts))]
            pairs = [pair for pair in pairs if all(label in named for label in (pair if is_both else pair[:1]))]
            if len(pairs) == 1:
                labels = pairs[0] if is_both else pairs[0][:1]
                found.update(named[label][0] for label in labels if len(named[label]) == 1)
    return found


def _may_come_in(installation: Installation, routing: Routing) -> bool:
    """Whether there are circuits of which it isn't known where they come in."""
    if not installation.is_scheduled or installation.lost_rows:
        return True
    return any(
        circuit.state is not State.REMOVED and (route.routed_by is RoutedBy.NONE or route.has_gap)
        for circuit, route in zip(installation.circuits, routing.routes, strict=True)
    )
