"""Makes the one result of what was read, routed, loaded and judged."""

import itertools
from collections import defaultdict
from collections.abc import Iterable, Mapping

from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.model import Carrier, CarrierKind, Equipment, Fitting, Installation, LoadedCompartment, RoutedCircuit, Vec
from checker.model.geometry import add, scale, sub
from checker.network.bodies import frame
from checker.network.loading import Loading
from checker.network.route import Routing, total_mm
from checker.result.network_tables import TakeOffRow
from checker.result.tables import Box, CableRow, CarrierRow, CircuitRow, CompartmentRow
from checker.rule import Outcome, worst
from checker.rule.verdict import SEVERITY
from checker.tolerance import FillRange
from checker.units import metres

#: Drawn where a size isn't known.
SOME_SIZE_MM = 50.0
#: Sides of the cube that stands for a fitting or equipment: where its size isn't known, and at the most.
SOME_SIDE_MM, MOST_SIDE_MM = 115.0, 400.0


def compartment_rows(
    loading: Loading,
    judged: Iterable[Judged],
    circuits: Iterable[JudgedCircuit],
    others: Iterable[JudgedSubject] = (),
    ranges: Mapping[tuple[str, int], FillRange] | None = None,
) -> tuple[CompartmentRow, ...]:
    """One row for each compartment: its fill verdict, and the worst of all, also of the circuits that it governs.

    What is found of anything else counts for each compartment that it says it is about. ``ranges``: between what fill lies by the
    tolerances of sizes, by carrier and compartment, where that is known.
    """
    ranges = ranges or {}
    at_places: dict[tuple[str, int | None], list[JudgedSubject]] = defaultdict(list)
    for at in others:
        about = at.subject.about
        for place in about.places or [(key, about.compartment) for key in about.carriers]:
            at_places[place].append(at)
    governed: dict[tuple[str, str], list[JudgedCircuit]] = defaultdict(list)
    for circuit in circuits:
        governed[circuit.place, circuit.subject.load.mark].append(circuit)
    by_place: dict[tuple[str, int], list[Judged]] = defaultdict(list)
    for item in judged:
        by_place[item.subject.carrier.key, item.subject.number].append(item)
    rows = []
    for subject in loading.compartments:
        place = (subject.carrier.key, subject.number)
        inside = loading.insides[place]
        here = by_place[place]
        fill = max((item for item in here if item.tells_fill), key=_by_verdict)
        marks = dict.fromkeys(cable.circuit for cable in subject.cables)
        there = [item for mark in marks for item in governed.get((subject.carrier.key, mark), ())]
        beside = (*at_places[place], *at_places[place[0], None])
        asked: list[Judged | JudgedCircuit | JudgedSubject] = [*here, *there, *beside]
        worst_here = max(asked, key=_by_verdict)
        counts = [cable.count for cable in subject.cables]
        nothing_known = subject.unbounded and not subject.cables
        lane = subject.carrier.section.lanes[subject.number - 1]
        ends = ranges.get(place)
        rows.append(
            CompartmentRow(
                carrier=subject.carrier.key,
                number=subject.number,
                inside_width_mm=inside.width_mm,
                inside_height_mm=inside.height_mm,
                internal_area_mm2=inside.area_mm2,
                services=tuple(sorted(lane.services or ())),
                cables=None if nothing_known or None in counts else sum(count for count in counts if count is not None),
                occupied_mm2=None if nothing_known else subject.occupied_least_mm2,
                fill=None if nothing_known else fill.verdict.value,
                measure=fill.verdict.measure,
                limit=fill.verdict.limit,
                verdict=fill.verdict.outcome.value,
                worst_verdict=worst_here.verdict.outcome.value,
                reason=_reason(subject, fill, worst_here),
                at_least=fill.verdict.at_least,
                other_ways=fill.other_ways,
                circuits=tuple(sorted({cable.circuit for cable in subject.cables})),
                circuits_possible=tuple(sorted({cable.circuit for cable in subject.possible})),
                fill_least=None if ends is None else ends.least,
                fill_most=None if ends is None else ends.most,
                untoleranced=() if ends is None else ends.untoleranced,
            )
        )
    return tuple(rows)


def _reason(subject: LoadedCompartment, fill: Judged, worst_here: Judged | JudgedCircuit | JudgedSubject) -> str:
    """Why the fill verdict, and why the worst one where that is another rule's; and whether sizes are planning values."""
    parts = [fill.verdict.reason]
    if worst_here is not fill:
        whose = f"circuit {worst_here.subject.load.mark} " if isinstance(worst_here, JudgedCircuit) else ""
        parts.append(f"{worst_here.rule}: {whose}{worst_here.verdict.reason}")
    planned = sorted({cable.circuit for cable in subject.cables if cable.planning})
    if planned:
        parts.append(f"cable sizes of {', '.join(planned)} are planning values")
    return "; ".join(parts)


def _by_verdict(item: Judged | JudgedCircuit | JudgedSubject) -> tuple[int, float]:
    return SEVERITY[item.verdict.outcome], item.verdict.use or 0.0


def carrier_rows(
    installation: Installation, loading: Loading, compartments: Iterable[CompartmentRow]
) -> tuple[CarrierRow, ...]:
    """One row for each segment; checked where each of its compartments has a fill verdict."""
    by_carrier: dict[str, list[CompartmentRow]] = defaultdict(list)
    for row in compartments:
        by_carrier[row.carrier].append(row)
    rows = []
    for carrier in installation.carriers:
        own = by_carrier[carrier.key]
        section = carrier.section
        inside = loading.insides[carrier.key, own[0].number]
        is_sized = section.is_round or section.width_mm is not None or section.height_mm is not None
        rows.append(
            CarrierRow(
                key=carrier.key,
                place=carrier.place,
                kind=carrier.kind.value,
                type_name=carrier.type_name,
                width_mm=section.width_mm if section.width_mm is not None else section.outside_diameter_mm,
                height_mm=section.height_mm if section.height_mm is not None else section.outside_diameter_mm,
                length_m=None if carrier.length_mm is None else metres(carrier.length_mm),
                dimension_source="; ".join(part for part in (inside.source or section.source, inside.doubt) if part),
                checked=all(row.verdict != Outcome.UNKNOWN for row in own),
                worst_verdict=worst([Outcome(row.worst_verdict) for row in own]).value,
                boxes=_boxes(carrier),
                kind_source=carrier.kind_source,
                kind_confidence="" if carrier.kind is CarrierKind.UNKNOWN else carrier.kind_confidence.value,
                dimension_confidence=section.confidence.value if is_sized else "",
                condition=carrier.condition.value,
                bore_mm=section.bore_mm,
            )
        )
    return tuple(rows)


def _boxes(carrier: Carrier) -> tuple[Box, ...]:
    """The body of a carrier, a box for each straight piece of its axis."""
    section = carrier.section
    round_size = section.outside_diameter_mm or section.bore_mm
    width, height = section.width_mm or round_size or SOME_SIZE_MM, section.height_mm or round_size or SOME_SIZE_MM
    boxes = []
    for start, end in itertools.pairwise(carrier.axis_mm):
        along = sub(end, start)
        _, across, up = frame(along, carrier.across)
        wide, high = scale(across, width), scale(up, height)
        boxes.append(Box(sub(start, scale(add(wide, high), 0.5)), (along, wide, high)))
    return tuple(boxes)


def circuit_rows(
    installation: Installation, routing: Routing, loaded: Iterable[RoutedCircuit], take_off: Iterable[TakeOffRow]
) -> tuple[CircuitRow, ...]:
    """One row for each circuit, in the schedule's order. Carriers passed twice in a row are named once."""
    rows = []
    legs: dict[str, dict[int, float | None]] = defaultdict(dict)
    for row in take_off:
        legs[row.circuit][row.leg] = row.length_m
    with_load = {circuit.load.mark for circuit in loaded}
    for circuit, route in zip(installation.circuits, routing.routes, strict=True):
        keys = [visit.carrier for visit in route.visits]
        rows.append(
            CircuitRow(
                circuit=circuit.mark,
                origin=circuit.origin,
                calls=circuit.calls,
                service=circuit.service.value if circuit.service else "",
                state=circuit.state.value,
                routed_by=route.routed_by.value,
                carriers=tuple(key for key, before in zip(keys, [None, *keys], strict=False) if key != before),
                length_m=None if route.length_mm is None else metres(route.length_mm),
                drops_m=tuple(None if drop is None else metres(drop) for drop in route.drops_mm),
                reason=route.reason,
                other=circuit.other,
                is_loaded=circuit.mark in with_load,
                cable_m=total_mm(list(legs[circuit.mark].values())) if legs[circuit.mark] else None,
            )
        )
    return tuple(rows)


def cable_rows(loading: Loading) -> tuple[CableRow, ...]:
    """Cables in compartments: those that lie there, and those that may."""
    return tuple(
        CableRow(
            carrier=subject.carrier.key,
            number=subject.number,
            circuit=cable.circuit,
            cable=cable.key,
            count=cable.count,
            diameter_mm=cable.diameter_mm,
            area_mm2=cable.area_mm2,
            service=cable.service.value if cable.service else "",
            certain=certain,
            lane_by=loading.lanes_by.get((cable.circuit, subject.carrier.key), ""),
        )
        for subject in loading.compartments
        for certain, cables in ((True, subject.cables), (False, subject.possible))
        for cable in cables
    )


def surroundings(installation: Installation) -> tuple[Box, ...]:
    """Fittings and equipment as small boxes, for pictures."""
    boxes = []
    items: tuple[Fitting | Equipment, ...] = (*installation.fittings, *installation.equipment)
    for item in items:
        point = item.centre_mm if isinstance(item, Fitting) else item.point_mm
        if point is not None:
            boxes.append(_cube(point, _side_mm(item)))
    return tuple(boxes)


def _cube(centre: Vec, side: float) -> Box:
    half = side / 2.0
    return Box(sub(centre, (half, half, half)), ((side, 0.0, 0.0), (0.0, side, 0.0), (0.0, 0.0, side)))


def _side_mm(item: Fitting | Equipment) -> float:
    """The side of the cube that stands for a fitting or for equipment in pictures."""
    body = item.body if isinstance(item, Fitting) else None
    return min(2.0 * max(body.half_mm), MOST_SIDE_MM) if body is not None else SOME_SIDE_MM


__all__ = [
    "cable_rows",
    "carrier_rows",
    "circuit_rows",
    "compartment_rows",
    "surroundings",
]
