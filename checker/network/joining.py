"""Which carriers and fittings meet, and how that was found: ports first, then ends that meet in space."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from checker.model import Carrier, Fitting, Installation, Vec
from checker.model.geometry import distance, norm

#: Ends nearer than this meet: models are drawn to the millimetre, and a coupler bridges a few.
MEET_MM = 10.0


class FoundBy(StrEnum):
    """How a join was found."""

    PORTS = "connected ports"
    MEETING = "ends that meet"


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on an element where something can join; no point: only the element is known."""

    element: str
    point_mm: Vec | None


@dataclass(frozen=True, slots=True)
class Join:
    """Two spots that belong together."""

    one: Spot
    other: Spot
    found_by: FoundBy

    @property
    def gap_mm(self) -> float:
        """How far apart the two are; 0 where that isn't known."""
        if self.one.point_mm is None or self.other.point_mm is None:
            return 0.0
        return distance(self.one.point_mm, self.other.point_mm)


def find_joins(installation: Installation) -> tuple[Join, ...]:
    """All joins between carriers, fittings and equipment, in a fixed order."""
    joins = list(_by_ports(installation))
    joined = {
        (spot.element, _rounded(spot.point_mm)) for join in joins for spot in (join.one, join.other) if spot.point_mm
    }
    joins.extend(_by_meeting(installation, joined))
    unique = {_identity(join): join for join in joins}
    return tuple(unique[key] for key in sorted(unique))


def _identity(join: Join) -> tuple[tuple[str, str], tuple[str, str]]:
    first, second = sorted((spot.element, str(_rounded(spot.point_mm))) for spot in (join.one, join.other))
    return first, second


def _rounded(point: Vec | None) -> tuple[float, ...] | None:
    return None if point is None else tuple(round(value, 1) for value in point)


def _by_ports(installation: Installation) -> Iterator[Join]:
    known = {item.key for item in installation.carriers} | {item.key for item in installation.fittings}
    known |= {item.key for item in installation.equipment}
    ports = {port.key: port for port in installation.ports}
    for port in installation.ports:
        for linked in port.linked:
            other = ports.get(linked)
            if other is None or port.key >= other.key or port.element == other.element:
                continue
            if port.element in known and other.element in known:
                yield Join(Spot(port.element, port.point_mm), Spot(other.element, other.point_mm), FoundBy.PORTS)


def _by_meeting(installation: Installation, joined: set[tuple[str, tuple[float, ...] | None]]) -> Iterator[Join]:
    """Ends that no port joins, with whatever ends and fittings lie there."""
    spots = list(_all_spots(installation))
    cells: dict[tuple[int, ...], list[Spot]] = defaultdict(list)
    for spot in spots:
        cells[_cell(spot)].append(spot)
    for spot in spots:
        if (spot.element, _rounded(spot.point_mm)) in joined or spot.point_mm is None:
            continue
        x, y, z = _cell(spot)
        for shift in ((i, j, k) for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1)):
            for other in cells.get((x + shift[0], y + shift[1], z + shift[2]), ()):
                if other.element == spot.element or other.point_mm is None:
                    continue
                if distance(spot.point_mm, other.point_mm) <= MEET_MM:
                    yield Join(spot, other, FoundBy.MEETING)
    yield from _in_fittings(installation, joined)


def _all_spots(installation: Installation) -> Iterator[Spot]:
    for carrier in installation.carriers:
        if carrier.start_mm is not None and carrier.end_mm is not None:
            yield Spot(carrier.key, carrier.start_mm)
            yield Spot(carrier.key, carrier.end_mm)
    fittings = {fitting.key for fitting in installation.fittings}
    for port in installation.ports:
        if port.element in fittings and port.point_mm is not None:
            yield Spot(port.element, port.point_mm)


def _cell(spot: Spot) -> tuple[int, int, int]:
    x, y, z = spot.point_mm or (0.0, 0.0, 0.0)
    return int(x // MEET_MM), int(y // MEET_MM), int(z // MEET_MM)


def _in_fittings(installation: Installation, joined: set[tuple[str, tuple[float, ...] | None]]) -> Iterator[Join]:
    """Ends that lie within the body of a fitting that has no ports."""
    with_ports = {port.element for port in installation.ports}
    bare = [fitting for fitting in installation.fittings if fitting.key not in with_ports and fitting.body is not None]
    if not bare:
        return
    side = max(norm(fitting.body.half_mm) for fitting in bare if fitting.body) + MEET_MM
    cells: dict[tuple[int, ...], list[Fitting]] = defaultdict(list)
    for fitting in bare:
        if fitting.body is None:
            continue
        cells[tuple(int(value // side) for value in fitting.body.centre_mm)].append(fitting)
    for carrier in installation.carriers:
        for end in _ends(carrier):
            if (carrier.key, _rounded(end)) in joined:
                continue
            x, y, z = (int(value // side) for value in end)
            for shift in ((i, j, k) for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1)):
                for fitting in cells.get((x + shift[0], y + shift[1], z + shift[2]), ()):
                    if fitting.body is not None and fitting.body.off_mm(end) <= MEET_MM:
                        yield Join(Spot(carrier.key, end), Spot(fitting.key, fitting.centre_mm), FoundBy.MEETING)


def _ends(carrier: Carrier) -> tuple[Vec, ...]:
    return (carrier.start_mm, carrier.end_mm) if carrier.start_mm is not None and carrier.end_mm is not None else ()
