"""Runs as cables are drawn through them: conduits and turns in order, with all that lies in any part of them."""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from checker.model import Carrier, Fitting, FittingKind, LoadedCompartment, LoadedRun, PlacedCable, RunPiece, Vec
from checker.model.geometry import distance
from checker.model.texts import natural
from checker.model.turns import stretches
from checker.network.link_turns import corners_of, meeting
from checker.network.loading import Loading
from checker.network.route import Routing
from checker.network.run_order import RunOrder
from checker.network.runs import find_orders, leaving_end, turns_of
from checker.units import metres

#: Less is the noise of figures.
NO_TURN_DEG, NO_LENGTH_MM = 1e-3, 1e-6


def loaded_runs(routing: Routing, loading: Loading) -> Iterator[LoadedRun]:
    """Every run of conduit, in the order of its conduits' keys.

    Args:
        routing: The network, and where circuits come in.
        loading: What lies in each conduit.
    """
    at: dict[str, list[LoadedCompartment]] = defaultdict(list)
    for compartment in loading.compartments:
        at[compartment.carrier.key].append(compartment)
    for order in find_orders(routing.network, routing.landings):
        yield _loaded(order, routing, [at[key] for key, _ in order.steps])


def _loaded(order: RunOrder, routing: Routing, loaded: list[list[LoadedCompartment]]) -> LoadedRun:
    network = routing.network
    carriers = tuple(network.carriers[key] for key, _ in order.steps)
    ends = [
        ", ".join((network.fittings.get(key) or network.carriers[key]).place.label for key in keys)
        for keys in order.ends
    ]
    pieces = tuple(_pieces(order, routing))
    turns = [piece.turn_deg for piece in pieces if piece.turn_deg is not None]
    everything = [item for conduit in loaded for item in conduit]
    bores = [item.bore_mm for item in everything]
    known = [bore for bore in bores if bore is not None] if None not in bores else []
    narrow = min((_bore_least(item) for item in everything), default=0.0) if known else 0.0
    certain = [_each_of(cable for item in conduit for cable in item.cables) for conduit in loaded]
    everywhere = [_each_of(cable for item in conduit for cable in (*item.cables, *item.possible)) for conduit in loaded]
    cables = _most_of(certain)
    outsides = [carrier.section.outside_diameter_mm for carrier in carriers]
    return LoadedRun(
        run=order.run,
        carriers=carriers,
        ends=(ends[0], ends[1]),
        pieces=pieces,
        is_whole=not (order.is_open or order.is_ring),
        bends_least_deg=None if order.is_tapped else sum(turns),
        is_left=order.is_left,
        bore_mm=min(known, default=None),
        bore_least_mm=narrow or None,
        widest_mm=max(known, default=None),
        outside_mm=None if None in outsides else min(size for size in outsides if size is not None),
        cables=cables,
        partly=tuple(cable for cable in cables if any(_counted(conduit, cable) != cable.count for conduit in certain)),
        possible=_besides(cables, everywhere),
        possible_doubts=tuple(dict.fromkeys(doubt for item in everything for doubt in item.possible_doubts)),
        unbounded=any(item.unbounded for item in everything),
    )


def _bore_least(item: LoadedCompartment) -> float:
    """The inside diameter with the thickest plausible wall."""
    bore, area, least = item.bore_mm or 0.0, item.area_mm2, item.area_least_mm2
    return bore * (least / area) ** 0.5 if area and least is not None and least < area else bore


#: Cables, as one of them would be, with their number; None: not known.
Counts = dict[PlacedCable, int | None]


def _each_of(cables: Iterable[PlacedCable]) -> Counts:
    """How many there are of each cable in one conduit."""
    here: Counts = {}
    for cable in cables:
        alike = replace(cable, count=0)
        before = here.get(alike, 0)
        here[alike] = None if before is None or cable.count is None else before + cable.count
    return here


def _counted(conduit: Counts, cable: PlacedCable) -> int | None:
    return conduit.get(replace(cable, count=0), 0)


def _most_of(conduits: Iterable[Counts]) -> tuple[PlacedCable, ...]:
    """Of each cable the most that lie in one conduit, sorted by circuit; a number that isn't known is more than any."""
    most: Counts = {}
    for here in conduits:
        for alike, count in here.items():
            before = most.get(alike, 0)
            most[alike] = None if before is None or count is None else max(before, count)
    ordered = sorted(most.items(), key=lambda item: (natural(item[0].circuit), repr(item[0])))
    return tuple(replace(cable, count=count) for cable, count in ordered)


def _besides(cables: Iterable[PlacedCable], everywhere: Iterable[Counts]) -> tuple[PlacedCable, ...]:
    """What may lie in one conduit beyond the cables that are counted: what is certain in one may be possible in the next."""
    counted = _each_of(cables)
    found = []
    for cable in _most_of(everywhere):
        before = _counted(counted, cable)
        if before is not None and cable.count != before:
            found.append(replace(cable, count=None if cable.count is None else cable.count - before))
    return tuple(found)


def _pieces(order: RunOrder, routing: Routing) -> Iterator[RunPiece]:
    """The conduits of a run, and what is between them, from its first end."""
    carriers = routing.network.carriers
    for number, (key, from_start) in enumerate(order.steps):
        yield from _conduit(carriers[key], from_start=from_start)
        if number < len(order.between):
            after, enters = order.steps[(number + 1) % len(order.steps)]
            yield from _between(
                routing, (carriers[key], not from_start), order.between[number], (carriers[after], enters)
            )


def _conduit(carrier: Carrier, *, from_start: bool) -> list[RunPiece]:
    """A conduit's own straight lengths and turns, as it is passed."""
    label, found = carrier.place.label, stretches(carrier)
    if found is None:
        length = None if carrier.length_mm is None else metres(carrier.length_mm)
        points = carrier.axis_mm
        rise = metres(points[-1][2] - points[0][2]) if points else None
        pieces = [RunPiece(label, length, rise, carrier.turn_deg)]
    else:
        pieces = [
            RunPiece(label, metres(item.length_mm), metres(item.rise_mm), item.turn_deg, item.radius_mm)
            for item in found
        ]
    return pieces if from_start else [piece.turned_round() for piece in reversed(pieces)]


def _between(
    routing: Routing, one: tuple[Carrier, bool], through: tuple[str, ...], other: tuple[Carrier, bool]
) -> Iterator[RunPiece]:
    """From the end of one conduit through fittings to the end of another: the gaps, and the turns.

    That an end lies a little beside a centre is no turn.
    """
    fittings = [routing.network.fittings[key] for key in through]
    label = fittings[0].place.label if fittings else f"the joint of {one[0].place.label} and {other[0].place.label}"
    here, there = _end(*one), _end(*other)
    turns = turns_of(routing.network, (one[0].key, one[1]), through, (other[0].key, other[1]))
    if turns is None or here is None or there is None:
        yield RunPiece(label, None, None, None)
        return
    if not turns.is_all:
        bends = [fitting for fitting in fittings if fitting.kind is FittingKind.BEND]
        radii = [bend.radius_mm for bend in bends]
        radius = None if None in radii else min((size for size in radii if size is not None), default=None)
        label = bends[0].place.label if bends else label
        yield from _gap(label, here, there)
        if turns.each[0] > NO_TURN_DEG:
            yield RunPiece(label, 0.0, 0.0, turns.each[0], radius, _type_of(bends))
        yield RunPiece(label, 0.0, 0.0, None, radius, _type_of(bends))
        return
    corners = corners_of(fittings)
    points = [fitting.centre_mm for fitting in corners if fitting.centre_mm is not None]
    if (
        len(corners) == 1 and corners[0].radius_mm is not None
    ):  # an arc is where its tangents meet, wherever it was placed
        points = [
            meeting(*(leaving_end(carrier, at_start=at_start) for carrier, at_start in (one, other))) or points[0]
        ]
    yield from _around(label, corners, [here, *points, there], turns.each)


def _type_of(fittings: list[Fitting]) -> str:
    """The type that they share; empty where they don't, or have none."""
    names = {fitting.type_name for fitting in fittings}
    return names.pop() if len(names) == 1 else ""


def _around(label: str, corners: list[Fitting], points: list[Vec], turns: tuple[float, ...]) -> Iterator[RunPiece]:
    """Straights from point to point, and the turns where they meet; an arc takes the straights beside it as far as it reaches.

    Args:
        label: What the way is called where there is no corner.
        corners: The fittings.
        points: Where the way begins, each corner, and where it ends.
        turns: At each corner, or without one where the two ends meet.
    """
    names = [fitting.place.label for fitting in corners] or [label]
    lengths = [distance(a, b) for a, b in itertools.pairwise(points)]
    rises = [b[2] - a[2] for a, b in itertools.pairwise(points)]
    bends: list[RunPiece] = []
    for number, turn in enumerate(turns):
        radius = corners[number].radius_mm if corners else None
        rise = 0.0
        if radius is not None and turn > NO_TURN_DEG:
            for beside in (number, number + 1):
                cut = min(radius * math.tan(math.radians(turn) / 2.0), lengths[beside])
                if cut > 0.0:
                    up = rises[beside] * cut / lengths[beside]
                    rise, rises[beside], lengths[beside] = rise + up, rises[beside] - up, lengths[beside] - cut
        length = 0.0 if radius is None else radius * math.radians(turn)
        kind = _type_of(corners[number : number + 1])
        bends.append(RunPiece(names[number], metres(length), metres(rise), turn, radius, kind))
    for number, (length, rise) in enumerate(zip(lengths, rises, strict=True)):
        if length > NO_LENGTH_MM:
            yield RunPiece(names[min(number, len(names) - 1)], metres(length), metres(rise))
        if number < len(bends) and turns[number] > NO_TURN_DEG:
            yield bends[number]


def _gap(label: str, here: Vec, there: Vec) -> Iterator[RunPiece]:
    if here != there:
        yield RunPiece(label, metres(distance(here, there)), metres(there[2] - here[2]))


def _end(carrier: Carrier, at_start: bool) -> Vec | None:  # noqa: FBT001 - an end of a conduit, as the network tells it
    return carrier.start_mm if at_start else carrier.end_mm
