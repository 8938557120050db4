"""Joins that ports tell: those that the file connects, and those that lie at one place with nothing said.

Ports are hints. Where a file says that two are connected they are, wherever they lie; how far apart that is gets told.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from checker.model import Body, Carrier, Equipment, Fitting, Installation, Port, Problem, ProblemKind, Vec
from checker.model.geometry import distance
from checker.model.texts import listed
from checker.network.bodies import HAIR_MM, LEAST_MM, Shape, at_nearest
from checker.network.crowds import Crowds
from checker.network.joins import END, START, Book, FoundBy, Spot

#: Connected ports of elements whose bodies lie farther apart than this contradict the geometry.
CONTRADICTION_MM = 1000.0
PORT_ZONE_MM = 100.0


class PortJoins:
    """Finds what ports join.

    Args:
        installation: What there is.
        shapes: Its carriers' shapes, by their keys.
        book: Where joins go.
    """

    def __init__(self, installation: Installation, shapes: Mapping[str, Shape], book: Book) -> None:
        self._shapes, self._book = shapes, book
        items: tuple[Carrier | Fitting | Equipment, ...] = (
            *installation.carriers,
            *installation.fittings,
            *installation.equipment,
        )
        self.elements: dict[str, Carrier | Fitting | Equipment] = {item.key: item for item in items}
        self._ports = {port.key: port for port in installation.ports if port.element in self.elements}
        linked = {tuple(sorted((port.key, other))) for port in self._ports.values() for other in port.linked}
        #: Pairs of connected ports of different elements that take part, in a fixed order.
        self.pairs = [
            (self._ports[one], self._ports[other])
            for one, other in sorted(linked)
            if one in self._ports and other in self._ports and self._ports[one].element != self._ports[other].element
        ]
        self.connected = {port.key for pair in self.pairs for port in pair}
        self._heaped = self._heaps()

    def connect(self) -> list[Problem]:
        """Joins whatever is connected. Returns what has to be said of it."""
        problems = []
        used: set[str] = set()
        for one, other in self.pairs:
            used |= {port.element for port in (one, other) if port.element in self._heaped}
            here, there = self._points(one, other)
            gap = distance(here, there) if here is not None and there is not None else None
            self._book.add(self._spot(one, here), self._spot(other, there), FoundBy.PORTS, gap)
            # bodies may touch where their connected ports are far from each other
            apart = max(self._apart(one, here, other, there, gap) or 0.0, gap or 0.0)
            if apart > CONTRADICTION_MM:
                labels = " / ".join(self.elements[port.element].place.label for port in (one, other))
                problems.append(
                    Problem(labels, f"their ports are connected, but they lie {apart / 1000.0:.1f} m apart",
                            "they are taken as joined, as the file says", "look which is wrong, the connection or the place, and mend it",
                            ProblemKind.ASSUMPTION, 2)
                )  # fmt: skip
        if used:
            labels = listed(sorted(self.elements[key].place.label for key in used))
            problems.append(
                Problem(labels, "all their ports lie at one place, so they don't say which end is connected",
                        "the end nearest to what it is connected to is taken", "give ports their places in the model",
                        ProblemKind.ASSUMPTION, len(used))
            )  # fmt: skip
        return problems

    def free(self) -> list[tuple[Port, Vec]]:
        """Ports that nothing is connected to, with their places."""
        return [
            (port, port.point_mm)
            for port in self._ports.values()
            if port.key not in self.connected and port.point_mm is not None and port.element not in self._heaped
        ]

    def coincide(self, crowds: Crowds) -> None:
        """Joins unconnected ports of different elements at one place."""
        free = self.free()
        spots = [self._spot(port, point) for port, point in free]
        things = [(spot.mark, point, LEAST_MM) for spot, (_, point) in zip(spots, free, strict=True)]
        for one, other, gap in crowds.pairs(things):
            here, there = spots[one], spots[other]
            only_equipment = all(isinstance(self.elements[spot.element], Equipment) for spot in (here, there))
            if not (only_equipment or self._book.is_taken(here) or self._book.is_taken(there)):
                self._book.add(here, there, FoundBy.PORTS_AT_ONE_PLACE, gap)

    def _heaps(self) -> set[str]:
        """Carriers all whose ports, two or more, lie at one place, as where ports have no placement of their own."""
        points: dict[str, list[Vec | None]] = defaultdict(list)
        for port in self._ports.values():
            points[port.element].append(port.point_mm)
        found = set()
        for key, here in points.items():
            known = [point for point in here if point is not None]
            shape = self._shapes.get(key)
            is_long = shape is not None and (shape.carrier.length_mm or 0.0) > shape.tolerance_mm
            if is_long and len(known) > 1 and all(distance(point, known[0]) <= LEAST_MM for point in known):
                found.add(key)
        return found

    def _point(self, port: Port) -> Vec | None:
        return None if port.element in self._heaped else port.point_mm

    def _points(self, one: Port, other: Port) -> tuple[Vec | None, Vec | None]:
        """Where two connected ports lie. One without a place lies at the other's; of two without, the nearest places are taken."""
        here, there = self._point(one), self._point(other)
        if here is None and there is None:
            spots = [self._places(port.element) for port in (one, other)]
            near = min(((distance(a, b), a, b) for a in spots[0] for b in spots[1]), default=None)
            return (None, None) if near is None else (near[1], near[2])
        if here is not None and there is not None:
            return here, there
        known, missing = (here, other) if there is None else (there, one)
        shape = self._shapes.get(missing.element)
        beside = known
        if shape is not None and known is not None:
            beside = at_nearest(shape, known, _zone_mm(shape)).point_mm if shape.axis_mm else None
        return (known, beside) if there is None else (beside, known)

    def _spot(self, port: Port, point: Vec | None) -> Spot:
        shape = self._shapes.get(port.element)
        if shape is None or point is None or not shape.axis_mm:
            return Spot(port.element, point)
        start, *corners, end = shape.axis_mm
        if point == start or (point == end and not corners):  # as most ports lie
            where = START if point == start else END
        else:
            where = at_nearest(shape, point, _zone_mm(shape)).where
        return Spot(port.element, point, where)

    def _apart(self, one: Port, here: Vec | None, other: Port, there: Vec | None, gap: float | None) -> float | None:
        """How far two connected elements lie apart, body from body, by what is known; None: not known."""
        if gap is None or here is None or there is None:
            return None
        by_ports = self._off_mm(one.element, here) + gap + self._off_mm(other.element, there)
        if by_ports <= CONTRADICTION_MM:
            return by_ports
        direct = []
        for key, beyond in ((one.element, other.element), (other.element, one.element)):
            if self._bodies(beyond):
                direct += [self._off_mm(beyond, point) for point in self._places(key)]
        return min([by_ports, *direct])

    def _off_mm(self, key: str, point: Vec) -> float:
        """How far a point lies from an element's body; 0 where none is known."""
        shape = self._shapes.get(key)
        if shape is not None and point in shape.axis_mm:  # as most ports do
            return 0.0
        found = min([body.off_mm(point) for body in self._bodies(key)], default=0.0)
        return found if found > HAIR_MM else 0.0

    def _places(self, key: str) -> list[Vec]:
        """Where an element is: both ends of a carrier, else its one point; none where that isn't known."""
        item = self.elements[key]
        if isinstance(item, Carrier):
            return [end.point_mm for end in self._shapes[key].ends]
        point = item.centre_mm if isinstance(item, Fitting) else item.point_mm
        return [] if point is None else [point]

    def _bodies(self, key: str) -> Sequence[Body]:
        item = self.elements[key]
        if isinstance(item, Carrier):
            return self._shapes[key].pieces
        return [item.body] if isinstance(item, Fitting) and item.body is not None else []


def _zone_mm(shape: Shape) -> float:
    """A port this near to an end, along the axis, is that end's: bodies go on beyond their ports by a socket or a flange."""
    return max(PORT_ZONE_MM, shape.side_mm)
