"""What can be tried with circuits: another compartment, another way, other cables."""

from collections.abc import Iterator

from checker.model import State
from checker.model.texts import listed, natural
from checker.network.reroute import Rerouted
from checker.network.route import Route
from checker.remedies import texts
from checker.remedies.cables import rows_to_change, thicker, with_cable
from checker.remedies.means import Means, Seen, Stretch, Try
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.trial import Recable, Reroute
from checker.units import metres

#: For so many circuits of a stretch another way is looked for, and so many are moved together at the most.
MOST_LOOKED, MOST_TOGETHER = 6, 3
#: A way that is longer by more than this, and than it was, is none that anybody would choose.
FAR_MM = 10_000.0
#: So many sizes of a cable are tried.
MOST_SIZES = 3


def other_way(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """Circuits led round a stretch: one of them, else as few as may do.

    Args:
        means: What there is.
        stretch: What is to be mended.
        seen: Each circuit with another way is added.
    """
    is_of_circuit = stretch.findings[0].is_of_circuit
    among = None if is_of_circuit else [mark for row in stretch.findings for mark in row.circuits]
    areas = means.lying(stretch.keys, stretch.compartment)
    closed = frozenset(stretch.keys)
    found: list[tuple[str, Rerouted]] = []
    far: list[str] = []
    for mark in means.movable(areas, among)[:MOST_LOOKED]:
        way = means.detours.around(means.circuits[mark], means.routes[mark], closed)
        if way is not None and _is_far_longer(way, means.routes[mark]):
            far.append(mark)
        elif way is not None:
            found.append((mark, way))
    led = sorted((mark for mark in areas if mark in means.leading and (among is None or mark in among)), key=natural)
    if led:
        seen.bar(f"others are led apart from {listed(led)}: give their routes first")
    elif far:
        seen.bar(f"{listed(far)} would go far round")
    told = [texts.way_text(mark, way.text, way.longer_mm, way.more_drop_mm) for mark, way in found]
    yield from _moves(means, stretch, found, RemedyKind.WAY, told, seen)


def _is_far_longer(way: Rerouted, before: Route) -> bool:
    """Whether nobody would lead it so: more than twice as long, and not by a few metres."""
    return way.longer_mm is not None and way.longer_mm > max(FAR_MM, before.length_mm or 0.0)


def other_compartment(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """Circuits laid in another compartment, where a stretch is divided and one takes their service.

    ``seen``: each circuit with such a compartment is added.
    """
    number = stretch.compartment
    if number is None or any(len(means.carriers[key].section.lanes) < 2 for key in stretch.keys):
        return
    areas = means.lying(stretch.keys, number)
    for other in range(1, min(len(means.carriers[key].section.lanes) for key in stretch.keys) + 1):
        found: list[tuple[str, Rerouted]] = []
        told: list[str] = []
        for mark in means.movable(areas)[:MOST_LOOKED] if other != number else ():
            keys = _where_beside(means, stretch, mark, number, other)
            route = means.routes[mark]
            if keys:
                passed = list(dict.fromkeys(visit.carrier for visit in route.visits))
                way = means.detours.by(means.circuits[mark], route, passed, dict.fromkeys(keys, other))
                if way is not None:
                    found.append((mark, way))
                    told.append(texts.lane_text(mark, other, [means.carriers[key] for key in keys], way.text))
        yield from _moves(means, stretch, found, RemedyKind.COMPARTMENT, told, seen)


def _where_beside(means: Means, stretch: Stretch, mark: str, number: int, other: int) -> list[str]:
    """The carriers in which a circuit would change its compartment: all on its way that are divided alike; none if one doesn't take it."""
    service = means.circuits[mark].service
    count = len(means.carriers[stretch.keys[0]].section.lanes)
    keys = []
    for key in dict.fromkeys(visit.carrier for visit in means.routes[mark].visits):
        lanes = means.carriers[key].section.lanes
        if (
            len(lanes) == count
            and means.lies_in(mark, key, number)
            and service is not None
            and lanes[other - 1].takes(service)
        ):
            keys.append(key)
    inside = {key for key in stretch.keys if means.lies_in(mark, key, number)}
    return keys if inside <= set(keys) else []


def _moves(
    means: Means, stretch: Stretch, found: list[tuple[str, Rerouted]], kind: RemedyKind, told: list[str], seen: Seen
) -> Iterator[Try]:
    """Each that may be enough alone; else the first two or three together that may be. ``seen`` is told of each that isn't, or wasn't."""
    singles = [number for number, (mark, _) in enumerate(found) if means.relieved(stretch, [mark])]
    sets = [[number] for number in singles]
    for size in range(2, min(MOST_TOGETHER, len(found)) + 1):
        if not sets and means.relieved(stretch, [mark for mark, _ in found[:size]]):
            sets = [list(range(size))]
    for number, (mark, _) in enumerate(found):
        if not any(number in numbers for numbers in sets):
            seen.note(mark)
    for numbers in sets:
        moved = [found[number] for number in numbers]
        left = frozenset().union(*(means.routes[mark].carriers for mark, _ in moved))
        ways = tuple(way.way for _, way in moved)
        longer = [way.longer_mm for _, way in moved]
        entered = sorted(frozenset().union(*(way.carriers for way in ways)) - left)
        yield Try(
            (Reroute(ways, left),),
            RemedyRow(
                kind,
                stretch.ids,
                "; ".join(told[number] for number in numbers),
                carriers=tuple(entered) if kind is RemedyKind.WAY else stretch.keys,
                circuits=tuple(mark for mark, _ in moved),
                before=texts.labels(means.carriers[key] for key in stretch.keys),
                after="; ".join(way.text for _, way in moved),
                longer_m=None if None in longer else metres(sum(one or 0.0 for one in longer)),
                routes=tuple((mark, way.text) for mark, way in moved),
            ),
        )
        for mark, _ in moved:  # it is asked for more only when this was tried
            seen.note(mark)


def other_cable(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """For each circuit that fails the next thicker cables of the catalogue. ``seen`` is told where that can't be."""
    for row in stretch.findings:
        mark = row.circuits[0] if len(row.circuits) == 1 and row.is_of_circuit else ""
        circuit = means.circuits.get(mark)
        if circuit is None or circuit.state is not State.NEW:
            seen.bar("its cables are existing, so they aren't changed" if circuit is not None else "", row.id)
            continue
        route = means.routes[mark]
        length = None if route.length_mm is None else metres(route.length_mm)
        for own in rows_to_change(circuit, means.plugins.cables):
            for item in thicker(own, means.plugins.cables)[:MOST_SIZES]:
                counts = [cable.count for cable in circuit.cables if cable.key == own.key]
                number = None if None in counts else sum(count or 0 for count in counts) * circuit.sets
                others_stay = any(cable.key != own.key for cable in circuit.cables)
                text = texts.cable_text(mark, own.key, item.key, number, length, others_stay=others_stay)
                yield Try(
                    (Recable(mark, with_cable(circuit, own, item), route.carriers),),
                    RemedyRow(
                        RemedyKind.CABLE,
                        (row.id,),
                        text,
                        carriers=tuple(sorted(route.carriers)),
                        circuits=(mark,),
                        before=own.key,
                        after=item.key,
                        lengths=len(route.carriers),
                        length_m=length,
                    ),
                    item.key,
                )
