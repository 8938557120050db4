"""Near ways against every simple way on small random grids, listed by plain means that know nothing of joins."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

import networkx as nx
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from checker.model import Carrier, Circuit, Equipment, Fitting, Installation, ModelCable, Place, Service, WayLimits
from checker.network import near_ways
from checker.network.near_ways import NearWay, NearWays
from checker.network.routing import route_all
from checker.network_rows import near_way_rows
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet
from tests.network.grids import ABOVE_MM, SHARES, STEPS, Grid, open_to

# Lengths on the grids are multiples of 25 mm, so that no way is just at the limit.
NEAR = st.sampled_from([12.0, 2012.0, 4012.0, 8012.0, 20012.0])


def near_of(inst: Installation) -> NearWays:
    routing = route_all(inst)
    return NearWays(inst, routing.network, routing.routes)


def passed(way: NearWay) -> list[str]:
    """The carriers in order, each once for each time that it is entered."""
    keys = [visit.carrier for visit in way.visits]
    return [key for key, before in zip(keys, [None, *keys], strict=False) if key != before]


@st.composite
def dense(draw: st.DrawFn) -> Grid:
    """A grid in which little is missing, so that there are many ways."""
    steps = draw(STEPS)
    at = tuple(sum(steps[:number]) for number in range(5))
    columns, rows = draw(st.sampled_from([(2, 2), (3, 2), (3, 3), (4, 2)]))
    every = [
        ((x, y), (x + dx, y + dy))
        for x in range(columns)
        for y in range(rows)
        for dx, dy in ((1, 0), (0, 1))
        if x + dx < columns and y + dy < rows
    ]
    missing = draw(st.sets(st.sampled_from(every), max_size=3))
    pairs = {f"K{n:02}": pair for n, pair in enumerate(every) if pair not in missing}
    for_power = draw(st.sets(st.sampled_from(sorted(pairs)), max_size=3))
    sections = {key: replace(STEEL_50, lanes=lanes(Service.POWER)) for key in for_power}
    ends = {key: [(at[x], at[y], 0.0) for x, y in pair] for key, pair in pairs.items()}
    carriers = tuple(carrier(key, *ends[key], sections.get(key, STEEL_50)) for key in pairs)
    above = {
        f"E{n}": (draw(st.sampled_from(sorted(set(pairs) - for_power) or sorted(pairs))), draw(SHARES))
        for n in range(3)
    }
    equipment = []
    for name, (key, share) in above.items():
        (x1, y1, _), (x2, y2, _) = ends[key]
        equipment.append(outlet(name, (x1 + share * (x2 - x1), y1 + share * (y2 - y1), ABOVE_MM)))
    circuits = []
    for number in range(draw(st.integers(1, 3))):
        one, other = draw(st.permutations(sorted(above)))[:2]
        landed = {above[one][0], above[other][0]}
        closed = frozenset(draw(st.lists(st.sampled_from(sorted(pairs)), max_size=1))) - landed
        service = Service.POWER if landed & for_power else draw(st.sampled_from([Service.POWER, Service.DATA]))
        circuits.append(circuit(f"C{number}", one, other, service=service, limits=WayLimits((), closed, ("a test",))))
    return Grid(pairs, at, carriers, tuple(equipment), above, tuple(circuits))


@dataclass(frozen=True, slots=True)
class Simple:
    """A way that comes to no crossing twice: its carriers in order, and its length."""

    carriers: tuple[str, ...]
    length_mm: float


def graph_of(grid: Grid, item: Circuit) -> nx.Graph:
    """What a circuit may pass, between crossings; where equipment hangs a carrier is cut in two."""
    graph = nx.Graph()
    for key in open_to(grid, item):
        one, other = grid.pairs[key]
        shares = sorted({share for at, share in grid.above.values() if at == key})
        places = [(0.0, one), *((share, (key, share)) for share in shares), (1.0, other)]
        for (begin, a), (end, b) in itertools.pairwise(places):
            graph.add_edge(a, b, along=key, length=(end - begin) * grid.length(key))
    return graph


def simple_ways(grid: Grid, item: Circuit) -> Iterator[Simple]:
    """Every way of a circuit that comes to no crossing twice."""
    graph = graph_of(grid, item)
    begin, end = grid.above[item.origin], grid.above[item.calls[0]]
    if begin == end:
        return
    for nodes in nx.all_simple_paths(graph, begin, end):
        edges = [graph.edges[pair] for pair in itertools.pairwise(nodes)]
        keys = [edge["along"] for edge in edges]
        in_order = [key for key, before in zip(keys, [None, *keys], strict=False) if key != before]
        yield Simple(tuple(in_order), sum(edge["length"] for edge in edges))


@settings(max_examples=150, deadline=None)
@given(dense(), NEAR)
def test_every_near_way_comes_to_no_place_twice_and_is_as_much_longer_as_it_says(grid: Grid, near_mm: float) -> None:
    found = near_of(replace(grid.model, near_mm=near_mm))
    for item in grid.circuits:
        ways = list(simple_ways(grid, item))
        least = min((way.length_mm for way in ways), default=0.0)
        for near in found.ways.get(item.mark, ()):
            event("a near way")
            same = [way for way in ways if list(way.carriers) == passed(near)]
            assert any(way.length_mm - least == pytest.approx(near.longer_mm, abs=0.01) for way in same), near
            assert near.longer_mm <= near_mm
            assert near.by in near.carriers - found.asked[item.mark][1].carriers


@settings(max_examples=150, deadline=None)
@given(dense(), NEAR)
def test_what_a_circuit_can_do_without_is_what_some_short_enough_way_avoids(grid: Grid, near_mm: float) -> None:
    found = near_of(replace(grid.model, near_mm=near_mm))
    for item in grid.circuits:
        if item.mark not in found.asked:
            continue
        ways = list(simple_ways(grid, item))
        least = min((way.length_mm for way in ways), default=0.0)
        near = [way for way in ways if way.length_mm <= least + near_mm]
        for key in found.asked[item.mark][1].carriers:
            assert found.can_do_without(item.mark, key) == any(key not in way.carriers for way in near), key


def shortest_along(graph: nx.Graph, ends: tuple[object, object], key: str) -> Iterator[bool]:
    """The shortest walks along a carrier, each with whether it comes to a place twice."""
    there, back = (nx.single_source_dijkstra_path_length(graph, end, weight="length") for end in ends)
    edges = [
        (there[one] + edge["length"] + back[other], one, other)
        for a, b, edge in graph.edges(data=True)
        for one, other in ((a, b), (b, a))
        if edge["along"] == key and one in there and other in back
    ]
    least = min(length for length, _, _ in edges)
    for length, one, other in edges:
        if length < least + 1.0:
            before = list(nx.all_shortest_paths(graph, ends[0], one, weight="length"))
            after = list(nx.all_shortest_paths(graph, other, ends[1], weight="length"))
            yield from (not set(p).isdisjoint(q) for p in before for q in after)


@settings(max_examples=200, deadline=None)
@given(dense(), NEAR)
def test_a_near_carrier_is_passed_unless_the_shortest_way_along_it_comes_back_on_itself(
    grid: Grid, near_mm: float
) -> None:
    found = near_of(replace(grid.model, near_mm=near_mm))
    for item in grid.circuits:
        ways = list(simple_ways(grid, item))
        if item.mark not in found.asked or not ways:
            continue
        least = min(way.length_mm for way in ways)
        graph, ends = graph_of(grid, item), (grid.above[item.origin], grid.above[item.calls[0]])
        got = found.asked[item.mark][1].carriers.union(*(way.carriers for way in found.ways.get(item.mark, ())))
        for key in {key for way in ways if way.length_mm <= least + near_mm for key in way.carriers} - got:
            event("missed")
            # one detour only is looked at: the shortest, and of equally long ones any
            assert any(shortest_along(graph, ends, key))


@settings(max_examples=60, deadline=None)
@given(dense(), NEAR, st.data())
def test_near_ways_are_the_same_in_any_order_of_carriers_and_circuits(
    grid: Grid, near_mm: float, data: st.DataObject
) -> None:
    model = replace(grid.model, near_mm=near_mm)
    shuffled = replace(
        model,
        carriers=tuple(data.draw(st.permutations(model.carriers))),
        circuits=tuple(data.draw(st.permutations(model.circuits))),
    )
    one, other = near_of(model), near_of(shuffled)
    assert near_way_rows(one) == near_way_rows(other)
    assert one.cut_short == other.cut_short


# ---- by hand: A is straight, 4 m; B goes round it and is 0.8 m longer

A = carrier("A", (0, 0, 0), (4000, 0, 0))
B = replace(carrier("B", (0, 0, 0), (4000, 0, 0)), corners_mm=((0, 400, 0), (4000, 400, 0)), length_mm=4800.0)
ENDS = (outlet("DB", (0, 0, 200)), outlet("S", (4000, 0, 200)))
C1 = circuit("C1", "DB", "S")


def rows(
    *items: Carrier | Fitting | Equipment | Circuit, near_mm: float | None = 1000.0, **more: object
) -> list[tuple[object, ...]]:
    found = near_of(installation(*items, near_mm=near_mm, **more))
    return [(row.circuit, row.leg, row.by, row.longer_m, row.carriers) for row in near_way_rows(found)]


def test_a_way_that_begins_and_ends_where_carriers_meet_passes_the_other_one_alone() -> None:
    assert rows(A, B, *ENDS, C1) == [("C1", 0, "B", pytest.approx(0.8), ("B",))]
    found = near_of(installation(A, B, *ENDS, C1, near_mm=1000.0))
    assert found.can_do_without("C1", "A")


def test_without_a_length_that_is_asked_for_there_are_no_near_ways() -> None:
    assert rows(A, B, *ENDS, C1, near_mm=None) == []
    found = near_of(installation(A, B, *ENDS, C1))
    assert not found.can_do_without("C1", "A")


@pytest.mark.parametrize(("near_mm", "number"), [(790.0, 0), (800.0, 1), (810.0, 1)])
def test_a_way_that_is_just_short_enough_is_near(near_mm: float, number: int) -> None:
    assert len(rows(A, B, *ENDS, C1, near_mm=near_mm)) == number


def test_what_takes_no_such_service_or_is_closed_is_on_no_near_way() -> None:
    for_data = replace(B, section=replace(STEEL_50, lanes=lanes(Service.DATA)))
    assert rows(A, for_data, *ENDS, C1) == []
    closed = replace(C1, limits=WayLimits((), frozenset({"B"}), ("B is closed",)))
    assert rows(A, B, *ENDS, closed) == []
    assert not near_of(installation(A, B, *ENDS, closed, near_mm=1000.0)).can_do_without("C1", "A")


def test_a_loop_that_leads_back_to_where_it_left_is_no_way() -> None:
    half = (carrier("A1", (0, 0, 0), (2000, 0, 0)), carrier("A2", (2000, 0, 0), (4000, 0, 0)))
    loop = [
        carrier("L1", (2000, 0, 0), (2000, 1000, 0)),
        carrier("L2", (2000, 1000, 0), (3000, 1500, 0)),
        carrier("L3", (3000, 1500, 0), (2000, 0, 0)),
    ]
    assert rows(*half, *loop, *ENDS, C1, near_mm=9000.0) == []
    assert rows(*half, *loop, fitting("F", (2000, 0, 0)), *ENDS, C1, near_mm=9000.0) == []


def test_circuits_whose_way_is_given_or_drawn_or_led_have_no_near_ways() -> None:
    given_by_hand = circuit("C1", "DB", "S", route="A")
    assert rows(A, B, *ENDS, given_by_hand) == []
    via = replace(C1, limits=WayLimits((frozenset({"A"}),), frozenset(), ("by A",)))
    assert rows(A, B, *ENDS, via) == []
    drawn = ModelCable(
        Place("W1", "test.ifc"), ("C1",), path_mm=((0.0, 0.0, 200.0), (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0))
    )
    assert rows(A, B, *ENDS, C1, model_cables=(drawn,)) == []


def test_circuits_whose_way_was_found_and_that_are_not_asked_are_known_with_why() -> None:
    via = circuit("C2", "DB", "S", limits=WayLimits((frozenset({"A"}),), frozenset(), ("by A",)))
    given_by_hand = circuit("C3", "DB", "S", route="A")
    # drawn in A alone, and it goes on to T by D
    path = ((0.0, 0.0, 200.0), (0.0, 0.0, 0.0), (3900.0, 0.0, 0.0))
    in_part = ModelCable(Place("W1", "test.ifc"), ("C4",), path_mm=path)
    on, end = carrier("D", (4000, 0, 0), (6000, 0, 0)), outlet("T", (6000, 0, 200))
    circuits = (C1, via, given_by_hand, circuit("C4", "DB", "T"))
    found = near_of(installation(A, B, on, *ENDS, end, *circuits, near_mm=1000.0, model_cables=(in_part,)))
    assert set(found.asked) == {"C1"}
    assert found.not_asked == {"C2": "led by wayroom.toml", "C4": "drawn in part"}


def test_every_leg_has_near_ways_of_its_own() -> None:
    # on from S: D is straight, 2 m; E goes round it and is 0.6 m longer
    on = carrier("D", (4000, 0, 0), (6000, 0, 0))
    way_round = replace(
        carrier("E", (4000, 0, 0), (6000, 0, 0)), corners_mm=((4000, 300, 0), (6000, 300, 0)), length_mm=2600.0
    )
    end = outlet("T", (6000, 0, 200))
    several = circuit("C1", "DB", "S", "T")
    assert rows(A, B, on, way_round, *ENDS, end, several) == [
        ("C1", 0, "B", pytest.approx(0.8), ("B",)),
        ("C1", 1, "E", pytest.approx(0.6), ("E",)),
    ]
    found = near_of(installation(A, B, on, way_round, *ENDS, end, several, near_mm=700.0))
    assert (found.can_do_without("C1", "A"), found.can_do_without("C1", "D")) == (False, True)


def test_a_carrier_that_two_legs_pass_can_be_done_without_only_if_both_can() -> None:
    # there and back by A; from DB alone B is reached, so only the legs together tell
    there_and_back = circuit("C1", "DB", "S", "DB")
    found = near_of(installation(A, B, *ENDS, there_and_back, near_mm=1000.0))
    assert [way.leg for way in found.ways["C1"]] == [0, 1]
    assert found.can_do_without("C1", "A")


def test_a_ring_has_no_near_way_by_its_way_out() -> None:
    ring = replace(circuit("C1", "DB", "S", "DB"), returns_other_way=True)
    assert [visit.carrier for visit in route_all(installation(A, B, *ENDS, ring)).routes[0].visits] == ["A", "B"]
    assert rows(A, B, *ENDS, ring) == []


def test_circuits_that_keep_apart_have_no_near_way_by_what_the_other_passes() -> None:
    two = (replace(C1, apart_from=("C2",)), circuit("C2", "DB", "S"))
    assert rows(A, B, *ENDS, *two) == []
    third = replace(carrier("C", (0, 0, 0), (4000, 0, 0)), corners_mm=((0, -450, 0), (4000, -450, 0)), length_mm=4900.0)
    assert {(row[0], row[2]) for row in rows(A, B, third, *ENDS, *two)} == {("C1", "C"), ("C2", "C")}


def test_more_ways_than_are_looked_at_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(near_ways, "MOST_WAYS", 3)
    rounds = []
    for n in range(4):
        out = 10.0 * n + 300.0
        made = carrier(f"R{n}", (0, 0, 0), (4000, 0, 0))
        rounds.append(replace(made, corners_mm=((0.0, out, 0.0), (4000.0, out, 0.0)), length_mm=4000.0 + 2 * out))
    found = near_of(installation(A, *rounds[:3], *ENDS, C1, near_mm=1000.0))
    assert ([way.by for way in found.ways["C1"]], found.cut_short) == (["R0", "R1", "R2"], set())
    found = near_of(installation(A, *rounds, *ENDS, C1, near_mm=1000.0))
    assert ([way.by for way in found.ways["C1"]], found.cut_short) == (["R0", "R1", "R2"], {"C1"})
