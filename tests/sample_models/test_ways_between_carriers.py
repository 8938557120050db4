"""Between any two carriers of a sample a circuit takes the way that a person reading the plan would take.

``plan_*.py`` say by hand what meets where, and ``plans.py`` finds the shortest way over that by a search of its own.

The program's length of a way from one whole carrier to another counts both of them whole, as nobody says where on them the circuit comes
in; the plan's is what lies between. So the program's is the plan's and the lengths of both. The plans' tables are rounded to 0.1 mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from checker.model import Installation, Service
from checker.network.routing import Route, RoutedBy, route_all
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.rule.plugins import load_plugins
from tests.installations import circuit
from tests.sample_models import plan_data_room, plan_vet_practice, plan_workshop
from tests.sample_models.plans import Plan, Way, read_ways

SAMPLES = Path(__file__).parents[2] / "sample_models"
#: Lengths are the same, and ways as long as each other, to a millimetre; an arc may be read as chords, one part in a thousand shorter.
MM, CHORDS = 1.0, 0.001
FOOT_MM = 304.8


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sample's plan. ``least``: the same with its corners cut; ``arcs``: carriers with a bend of their own."""

    folder: str
    plan: Plan
    least: Plan
    ways: list[tuple[str, str, str, tuple[str, ...]]]
    carriers: int
    unit_mm: float = 1.0
    arcs: tuple[str, ...] = ()

    def length_mm(self, tag: str) -> float:
        return self.plan.lengths[tag] * self.unit_mm

    def doubt_mm(self, tags: tuple[str, ...]) -> float:
        """How much shorter than drawn the carriers may be read."""
        return sum(self.length_mm(tag) * CHORDS for tag in tags if tag in self.arcs)


VET, DATA, SHOP = (
    Drawn("vet_practice", plan_vet_practice.PLAN, plan_vet_practice.PLAN, plan_vet_practice.WAYS, 97),
    Drawn(
        "data_room", plan_data_room.PLAN, plan_data_room.PLAN, plan_data_room.WAYS, 51
    ),  # 51, of which one is demolished
    Drawn("workshop", plan_workshop.MOST, plan_workshop.LEAST, plan_workshop.WAYS, 44, FOOT_MM, ("RC-06",)),
)
each_sample = pytest.mark.parametrize("drawn", [VET, DATA, SHOP], ids=lambda drawn: drawn.folder)


@cache
def read(folder: str) -> Installation:
    plugins = load_plugins()
    return read_installation(
        find_sources([SAMPLES / folder], None), plugins.cables, carriers=tuple(plugins.carriers.values())
    )


def routed(folder: str, ends: list[tuple[str, str, str]]) -> list[tuple[Route, tuple[str, ...]]]:
    """The program's routes for circuits of (service, origin, call) in a sample, each with the tags of its carriers in order."""
    circuits = tuple(
        circuit(f"W{number}", origin, call, service=Service(service))
        for number, (service, origin, call) in enumerate(ends)
    )
    installation = replace(read(folder), circuits=circuits)
    tags = {carrier.key: carrier.place.tag for carrier in installation.carriers}
    routes = route_all(installation).routes
    assert [route.circuit for route in routes] == [item.mark for item in circuits]
    return [(route, merged(tags[visit.carrier] for visit in route.visits)) for route in routes]


def merged(tags: Iterator[str]) -> tuple[str, ...]:
    """Tags in order; one that follows itself is one."""
    kept: list[str] = []
    for tag in tags:
        if kept[-1:] != [tag]:
            kept.append(tag)
    return tuple(kept)


def wrong(drawn: Drawn, found: Route, tags: tuple[str, ...], way: Way | None) -> str:
    """What is wrong with the program's way beside the plan's; empty where it is right, as any of several that are as long is."""
    if way is None:
        return "" if found.routed_by is RoutedBy.NONE and found.reason and not tags else f"{tags}: the plan has none"
    most, least = drawn.plan.length_between(tags), drawn.least.length_between(tags)
    if not tags or (tags[0], tags[-1]) != (way.carriers[0], way.carriers[-1]):
        return f"{tags or found.reason}: the plan has {way.carriers}"
    if most is None or least is None or (most - way.between) * drawn.unit_mm > MM:
        return f"{tags}: the plan has {way.carriers}, {way.between:g} between its ends, not {most}"
    ends = drawn.length_mm(tags[0]) + drawn.length_mm(tags[-1])
    low, high = ends + least * drawn.unit_mm - drawn.doubt_mm(tags) - MM, ends + most * drawn.unit_mm + MM
    if found.length_mm is None or not low <= found.length_mm <= high:
        return f"{tags}: {found.length_mm} mm long, on the plan {ends + most * drawn.unit_mm:.1f} mm"
    return ""


@each_sample
def test_the_plan_has_exactly_the_carriers_that_are_read_as_long_as_they_are(drawn: Drawn) -> None:
    lengths = {carrier.place.tag: carrier.length_mm for carrier in read(drawn.folder).carriers}
    assert lengths.keys() == drawn.plan.lengths.keys()
    assert len(lengths) == drawn.carriers
    for tag, length_mm in lengths.items():
        assert length_mm is not None, tag
        assert -MM - drawn.doubt_mm((tag,)) <= length_mm - drawn.length_mm(tag) <= MM, tag


@each_sample
def test_the_search_on_the_plan_finds_the_ways_that_were_read_off_it_by_eye(drawn: Drawn) -> None:
    assert len([carriers for *_, carriers in drawn.ways if carriers]) >= 12
    for service, origin, call, carriers in drawn.ways:
        found = drawn.plan.ways_from(origin, service).get(call)
        assert (found.carriers if found else ()) == carriers, (service, origin, call)
        back = drawn.plan.ways_from(call, service).get(origin)
        assert (back.carriers if back else ()) == carriers[::-1], (service, call, origin)


@each_sample
def test_circuits_take_the_ways_that_were_read_off_the_plan_by_eye(drawn: Drawn) -> None:
    found = routed(drawn.folder, [(service, origin, call) for service, origin, call, _ in drawn.ways])
    assert [tags for _, tags in found] == [carriers for *_, carriers in drawn.ways]


@each_sample
def test_between_any_two_carriers_a_circuit_takes_the_way_on_the_plan(drawn: Drawn) -> None:
    plan = drawn.plan
    # for every service that both take; one pair is asked there, the next one back
    ends = [
        (service, *(pair if number % 2 else pair[::-1]))
        for number, pair in enumerate(combinations(sorted(plan.lengths), 2))
        for service in plan.shared(*pair)
    ]
    ways = {(service, tag): plan.ways_from(tag, service) for tag in plan.lengths for service in plan.takes[tag]}
    failed, ways_found = [], 0
    for (service, origin, call), (found, tags) in zip(ends, routed(drawn.folder, ends), strict=True):
        way = ways[service, origin].get(call)
        ways_found += way is not None
        if what := wrong(drawn, found, tags, way):
            failed.append(f"{service} from {origin} to {call}: {what}")
    assert not failed, f"{len(failed)} of {len(ends)}, the first of them: " + "\n".join(failed[:20])
    assert 0 < ways_found < len(ends)  # there are pairs of both sorts


@pytest.mark.parametrize("drawn", [VET, SHOP], ids=lambda drawn: drawn.folder)  # in the data room no two such meet
def test_a_circuit_has_no_way_from_a_carrier_that_does_not_take_its_service(drawn: Drawn) -> None:
    plan = drawn.plan
    ends = [
        (service, one, other)
        for one, other in sorted(plan.steps)  # those that meet, so that nothing else keeps it from going there
        for service in sorted(plan.takes[one] - plan.takes[other])
    ]
    assert ends
    assert not [pair for pair, (_, tags) in zip(ends, routed(drawn.folder, ends), strict=True) if tags]


def test_of_two_ways_as_long_either_is_right() -> None:
    # from FT-16 west over FT-13 or east over FT-14: 150 + 150 + 1700 + 150 + 150 = 2300 mm both; with FT-16 and FT-05 3700 more each
    west, east = ("FT-16", "FT-13", "FT-05"), ("FT-16", "FT-14", "FT-05")
    assert VET.plan.length_between(west) == VET.plan.length_between(east) == 2300.0
    [(found, tags)] = routed("vet_practice", [("power", "FT-16", "FT-05")])
    assert tags in {west, east}
    assert found.length_mm == pytest.approx(3700.0 + 2300.0 + 3700.0, abs=MM)
    for carriers in (west, east):
        assert not wrong(VET, found, carriers, VET.plan.ways_from("FT-16", "power")["FT-05"])


# Two lengths A and B end to end, 1 m and 2 m; C leaves the side of A 300 mm from its start, its own end 50 mm off; D, which takes data
# alone, closes the ring from the end of C (500 mm) to the end of B over a box, 100 mm to either side.
SMALL = Plan(
    "any: A 1000, B 2000, C 500, F 10\ndata: D 400",
    "end: A end 0, B start 0\nside: C start 50, A 300 0\nend: C end 0, D start 0\nbox: D end 100, B end 100",
    {"data": "data"},
)


def test_the_plans_search_counts_what_lies_between_and_keeps_out_of_what_does_not_take_the_service() -> None:
    assert SMALL.ways_from("C", "power")["B"] == Way(("C", "A", "B"), 50.0 + 700.0)
    assert SMALL.ways_from("C", "data")["B"] == Way(("C", "D", "B"), 400.0 + 200.0)
    assert SMALL.ways_from("A", "power")["B"] == Way(("A", "B"), 0.0)
    assert "D" not in SMALL.ways_from("A", "power")
    assert "F" not in SMALL.ways_from("A", "data")
    assert SMALL.length_between(("C", "A", "B")) == 750.0
    assert SMALL.length_between(("C", "B")) is None
    assert read_ways("power: A B\ndata: A x F") == [("power", "A", "B", ("A", "B")), ("data", "A", "F", ())]


@pytest.mark.parametrize(
    ("meeting", "said"),
    [("side: C start 50, A 300 0", ""),
     ("side: C start 50, A 400 0", "3250.0 mm long, on the plan 3150.0 mm"),  # 100 mm further along A
     ("side: C start 50, A 300 0\nend: C end 0, B start 0", "the plan has ('C', 'B'), 0 between"),
     ("end: C end 0, B start 0", "the plan has ('C', 'B')"),
     ("end: A start 0, B end 0", "the plan has none")],
)  # fmt: skip
def test_a_way_other_than_the_plans_is_told(meeting: str, said: str) -> None:
    # the program's way is C, A, B: 500 + 50 + 700 + 2000 mm
    found, tags = Route("W1", RoutedBy.SHORTEST, length_mm=3250.0), ("C", "A", "B")
    plan = Plan("any: A 1000, B 2000, C 500", f"end: A end 0, B start 0\n{meeting}", {})
    told = wrong(Drawn("", plan, plan, [], 3), found, tags, plan.ways_from("C", "power").get("B"))
    assert said in told
    assert bool(said) == bool(told)
