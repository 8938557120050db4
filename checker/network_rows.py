"""Tables of the network: what is joined and how that was found, what is open, and what cable the circuits' ways take."""

import itertools
from collections import defaultdict
from collections.abc import Iterator, Sequence

from checker.model import Cable, Circuit, Equipment, Installation, State, Vec
from checker.model.geometry import midpoint
from checker.model.texts import natural
from checker.network.ends import Names
from checker.network.graph import Node
from checker.network.joins import Spot
from checker.network.modelled import open_ends
from checker.network.near_ways import NearWays
from checker.network.on_axis import point_at
from checker.network.route import Leg, Route, Routing
from checker.result.network_tables import (
    HAS_GAP,
    BreakRow,
    ComingIn,
    EquipmentRow,
    JoinRow,
    NearMissRow,
    NearWayRow,
    OpenEndRow,
    TakeOffRow,
)
from checker.units import metres


def join_rows(routing: Routing) -> tuple[JoinRow, ...]:
    """One row for each join, in a fixed order."""
    return tuple(
        JoinRow(join.one.element, join.other.element, join.found_by.value, join.gap_mm, _between(join.one, join.other))
        for join in routing.joins
    )


def _between(one: Spot, other: Spot) -> Vec | None:
    points = [point for point in (one.point_mm, other.point_mm) if point is not None]
    return midpoint(points[0], points[-1]) if points else None


def open_end_rows(routing: Routing) -> tuple[OpenEndRow, ...]:
    """Ends of carriers that nothing is joined to, with how many legs of circuits come in there."""
    return tuple(OpenEndRow(*end) for end in open_ends(routing))


def break_rows(routing: Routing) -> tuple[BreakRow, ...]:
    """Where parts of the network don't meet that circuits need joined, as far as it is known where their carriers are."""
    return tuple(
        BreakRow(item.one, item.other, item.gap_mm, item.one_mm, item.other_mm, *item.carriers, item.circuits)
        for item in routing.breaks
        if item.gap_mm is not None and item.one_mm is not None and item.other_mm is not None
    )


def near_miss_rows(routing: Routing) -> tuple[NearMissRow, ...]:
    """Open ends that have something near which they aren't joined to, the nearest first."""
    used = {(end.carrier, end.end): end.comes_in > 0 for end in open_ends(routing)}
    rows = [
        NearMissRow(miss.end[0], miss.other[0], miss.names, miss.said, miss.gap_mm, miss.point_mm,
                    is_used=used.get(miss.end, False) and used.get(miss.other, True))
        for miss in routing.near_misses
    ]  # fmt: skip
    return tuple(
        sorted(rows, key=lambda row: (round(row.gap_mm, 1), [natural(name) for name in row.names], row.one, row.other))
    )


def equipment_rows(installation: Installation, routing: Routing) -> tuple[EquipmentRow, ...]:
    """Equipment that the circuits' ends name, in natural order. A name that several elements bear means none of them."""
    names = Names(installation)
    known: dict[str, Equipment] = {}
    marks: dict[str, set[str]] = defaultdict(set)
    for circuit in installation.circuits:
        for text in (circuit.origin, *circuit.calls):
            found = [known[text]] if text in known else names.find(text)
            if len(found) == 1 and isinstance(found[0], Equipment):
                known[text] = found[0]
                marks[found[0].key].add(circuit.mark)
    coming: dict[str, set[ComingIn]] = defaultdict(set)
    for route in routing.routes:
        for leg in route.legs:
            for text, node in zip((leg.origin, leg.call), leg.nodes, strict=False):  # a way that was given has no nodes
                if text in known and (point := _point_of(node, routing)) is not None:
                    coming[known[text].key].add(ComingIn(route.circuit, node[0], point))
    named = {equipment.key: equipment for equipment in known.values()}
    rows = [
        EquipmentRow(key, one.place.label, one.place.storey, one.point_mm, tuple(sorted(marks[key], key=_by_nature)),
                     tuple(sorted(coming[key], key=lambda at: (_by_nature(at.circuit), at.carrier, at.point_mm))))
        for key, one in named.items()
    ]  # fmt: skip
    return tuple(sorted(rows, key=lambda row: (natural(row.label), row.label, row.key)))


def _point_of(node: Node, routing: Routing) -> Vec | None:
    """Where a place of the network is; None for a whole carrier, and where that isn't known."""
    key, along = node
    carrier = routing.network.carriers[key]
    if along is None or along < 0.0 or not carrier.length_mm:
        return None
    return point_at(carrier.axis_mm, min(along / carrier.length_mm, 1.0))


def _by_nature(mark: str) -> tuple[list[tuple[int, str]], str]:
    return natural(mark), mark


def near_way_rows(near: NearWays) -> tuple[NearWayRow, ...]:
    """One row for each way that a circuit could as well take, the least long first."""
    rows = []
    for mark in sorted(near.ways):
        for way in sorted(near.ways[mark], key=lambda way: (way.leg, way.longer_mm, way.by)):
            passed = _in_order([visit.carrier for visit in way.visits])
            rows.append(NearWayRow(mark, way.leg, metres(way.longer_mm), way.by, passed))
    return tuple(rows)


def take_off_rows(installation: Installation, routing: Routing) -> tuple[TakeOffRow, ...]:
    """One row for each cable of each leg of each circuit that isn't removed, in the schedule's order."""
    return tuple(
        row
        for circuit, route in zip(installation.circuits, routing.routes, strict=True)
        if circuit.state is not State.REMOVED
        for row in _of_circuit(circuit, route, installation)
    )


def _of_circuit(circuit: Circuit, route: Route, installation: Installation) -> Iterator[TakeOffRow]:
    names = (circuit.origin, *circuit.calls)
    unmeasured = [Leg(one, other, None, (None, None)) for one, other in itertools.pairwise(names)]
    legs = route.legs or unmeasured or [Leg(circuit.origin, "", None, (None, None))]
    by_leg: dict[int, list[str]] = defaultdict(list)
    for visit in route.visits:
        by_leg[visit.leg].append(visit.carrier)
    everything = _in_order([visit.carrier for visit in route.visits])
    for number, leg in enumerate(legs):
        way, drops, length, reason = _lengths(leg, route, installation)
        carriers = _in_order(by_leg[number]) if route.legs else everything
        for cable in circuit.cables:
            if cable.count == 0:
                continue
            count = None if cable.count is None or "sets" in circuit.unread else cable.count * circuit.sets
            told = reason or ("how many there are isn't known" if count is None else "")
            yield TakeOffRow(circuit.mark, number, cable_name(cable), leg.origin, leg.call, count, way, drops, length,
                             carriers, told, circuit.state.value)  # fmt: skip


def _in_order(keys: Sequence[str]) -> tuple[str, ...]:
    """Keys in order, those that follow themselves once."""
    return tuple(key for key, before in zip(keys, [None, *keys], strict=False) if key != before)


def _lengths(
    leg: Leg, route: Route, installation: Installation
) -> tuple[float | None, float | None, float | None, str]:
    """Metres of a leg's way, of its drops, and of a cable with the project's allowance; why that isn't known."""
    known = [drop for drop in leg.drops_mm if drop is not None]
    drops = sum(known) if len(known) == len(leg.drops_mm) else None
    way_m = None if leg.length_mm is None else metres(leg.length_mm)
    drops_m = None if drops is None else metres(drops)
    if route.reason:
        return None, drops_m, None, route.reason
    if route.has_gap:
        return way_m, drops_m, None, HAS_GAP
    if leg.length_mm is None:
        return None, drops_m, None, "how long its way is isn't known"
    if drops is None:
        return way_m, None, None, "how far it drops isn't known"
    cut = (leg.length_mm + drops) * (1.0 + installation.allowance_share) + 2.0 * installation.end_allowance_mm
    return way_m, drops_m, metres(cut), ""


def cable_name(cable: Cable) -> str:
    """What a cable is called in a take-off: its key, else its size."""
    if cable.key:
        return cable.key
    size = f"{cable.diameter_mm:g} mm" if cable.diameter_mm is not None else ""
    if not size and cable.width_mm is not None and cable.height_mm is not None:
        size = f"{cable.width_mm:g} × {cable.height_mm:g} mm"
    return ", ".join(part for part in (size, f"{cable.csa_mm2:g} mm²" if cable.csa_mm2 else "") if part) or "not said"
