"""Runs of conduit: consecutive segments and bends between two points where cables can be drawn in."""

import math
from collections import defaultdict
from dataclasses import dataclass

from checker.model import Carrier, CarrierKind, FittingKind, Run, Vec
from checker.model.geometry import angle_deg, distance, scale, sub
from checker.network.graph import Network
from checker.network.joining import Spot
from checker.units import metres

#: At these a cable can be drawn in, so that a run ends; any other fitting with two conduits is a part of the run.
DRAW_IN = {FittingKind.BOX, FittingKind.TEE, FittingKind.CROSS}


@dataclass(frozen=True, slots=True)
class _Link:
    """Two conduits that cables pass without a point to draw in; ``through_mm`` is the way through the fitting, if there is one."""

    one: str
    one_spot: Spot
    other: str
    other_spot: Spot
    through_mm: float


def find_runs(network: Network) -> dict[str, Run]:
    """The run of each conduit, by the conduit's key."""
    conduits = {key: carrier for key, carrier in network.carriers.items() if carrier.kind is CarrierKind.CONDUIT}
    links = _links(network, conduits)
    by_conduit: dict[str, list[_Link]] = defaultdict(list)
    for link in links:
        by_conduit[link.one].append(link)
        by_conduit[link.other].append(link)
    runs: dict[str, Run] = {}
    number = 0
    for key in sorted(conduits):
        if key in runs:
            continue
        number += 1
        members, used = _spread(key, by_conduit)
        run = Run(number, tuple(sorted(members)), _length_m(members, used, conduits), _bends_deg(used, conduits))
        for member in members:
            runs[member] = run
    return runs


def _links(network: Network, conduits: dict[str, Carrier]) -> list[_Link]:
    at_fitting: dict[str, list[tuple[Spot, Spot]]] = defaultdict(list)
    at_place: dict[tuple[str, bool], list[tuple[Spot, Spot]]] = defaultdict(list)
    for join in network.joins:
        for spot, other in ((join.one, join.other), (join.other, join.one)):
            if spot.element in network.fittings:
                at_fitting[spot.element].append((spot, other))
            elif spot.element in conduits:
                at_place[spot.element, _at_start(conduits[spot.element], spot)].append((spot, other))
    links = []
    for key, met in sorted(at_fitting.items()):
        keys = {other.element for _, other in met}
        if network.fittings[key].kind in DRAW_IN or len(met) != 2 or len(keys) != 2 or not keys <= conduits.keys():
            continue
        (first_spot, first), (second_spot, second) = met
        centre = network.fittings[key].centre_mm
        through = sum(distance(centre, spot.point_mm) for spot in (first_spot, second_spot) if centre and spot.point_mm)
        links.append(_Link(first.element, first, second.element, second, through))
    for (key, _), met in sorted(at_place.items()):
        if len(met) == 1 and met[0][1].element in conduits:
            spot, other = met[0]
            back = at_place[other.element, _at_start(conduits[other.element], other)]
            if len(back) == 1 and key < other.element:
                links.append(_Link(key, spot, other.element, other, 0.0))
    return links


def _at_start(conduit: Carrier, spot: Spot) -> bool:
    if spot.point_mm is None or conduit.start_mm is None or conduit.end_mm is None:
        return True
    return distance(spot.point_mm, conduit.start_mm) <= distance(spot.point_mm, conduit.end_mm)


def _spread(key: str, by_conduit: dict[str, list[_Link]]) -> tuple[set[str], list[_Link]]:
    members, used, waiting = {key}, [], [key]
    seen: set[int] = set()
    while waiting:
        for link in by_conduit.get(waiting.pop(), ()):
            if id(link) in seen:
                continue
            seen.add(id(link))
            used.append(link)
            for member in {link.one, link.other} - members:
                members.add(member)
                waiting.append(member)
    return members, used


def _length_m(members: set[str], links: list[_Link], conduits: dict[str, Carrier]) -> float | None:
    lengths = [conduits[member].length_mm for member in members]
    if None in lengths:
        return None
    return metres(math.fsum([length for length in lengths if length is not None] + [link.through_mm for link in links]))


def _bends_deg(links: list[_Link], conduits: dict[str, Carrier]) -> float | None:
    """The angles between the axes where two conduits meet, summed."""
    total = 0.0
    for link in links:
        arriving, leaving = _outward(conduits[link.one], link.one_spot), _outward(conduits[link.other], link.other_spot)
        if arriving is None or leaving is None:
            return None
        total += angle_deg(arriving, scale(leaving, -1.0))
    return total


def _outward(conduit: Carrier, spot: Spot) -> Vec | None:
    """The direction in which a conduit's axis leaves it at one of its ends."""
    if conduit.start_mm is None or conduit.end_mm is None:
        return None
    axis = sub(conduit.end_mm, conduit.start_mm)
    return scale(axis, -1.0) if _at_start(conduit, spot) else axis
