"""What the tests of joins have in common."""

from checker.model import (
    Carrier,
    CarrierKind,
    Equipment,
    Fitting,
    Installation,
    Port,
    Problem,
    ProblemKind,
    Section,
    Vec,
)
from checker.network.joining import FoundBy, find_joins
from tests.installations import carrier, installation

CONDUIT_20 = Section(outside_diameter_mm=20.0, source="test")
TRAY_300 = Section(width_mm=300.0, height_mm=60.0, source="test")
NO_SIZE = Section(source="test")

Found = set[tuple[str, str, FoundBy]]


def conduit(key: str, start: Vec, end: Vec, section: Section = CONDUIT_20) -> Carrier:
    return carrier(key, start, end, section, CarrierKind.CONDUIT)


def found(*items: Carrier | Fitting | Equipment, ports: tuple[Port, ...] = ()) -> Found:
    """The pairs of elements that are joined, with how that was found."""
    return found_in(installation(*items, ports=ports))


def found_in(model: Installation) -> Found:
    pairs = {(join.one.element, join.other.element, join.found_by) for join in find_joins(model).joins}
    return {(min(one, other), max(one, other), way) for one, other, way in pairs}


def gaps_told(*items: Carrier | Fitting | Equipment, ports: tuple[Port, ...] = ()) -> list[tuple[str, str]]:
    """Where and what of each problem of the kind gap."""
    return [(p.where, p.what) for p in told(*items, ports=ports) if p.kind is ProblemKind.GAP]


def told(*items: Carrier | Fitting | Equipment, ports: tuple[Port, ...] = ()) -> tuple[Problem, ...]:
    return find_joins(installation(*items, ports=ports)).problems
