"""Chains: few places where many nodes are, and yet every way is the one that a search node by node finds."""

import itertools
from collections.abc import Iterable

import networkx as nx
import pytest
from hypothesis import given, settings

from checker.model import Carrier
from checker.network.graph import WHOLE, Network, Node, Path
from checker.network.joining import find_joins
from checker.network.search import Search
from tests.installations import carrier, installation
from tests.network.grids import CROSSINGS, Grid, grids, open_to

NONE = frozenset[str]()
# A ladder of two rails and two rungs, 3 m by 2 m, with a dead end of two carriers: A and B above, C and D below, F and G at both ends.
A, B = carrier("A", (0, 2000, 0), (1000, 2000, 0)), carrier("B", (1000, 2000, 0), (3000, 2000, 0))
C, D = carrier("C", (0, 0, 0), (1000, 0, 0)), carrier("D", (1000, 0, 0), (3000, 0, 0))
F, G = carrier("F", (0, 0, 0), (0, 2000, 0)), carrier("G", (3000, 0, 0), (3000, 2000, 0))
SPUR, LAST = carrier("SPUR", (3000, 0, 0), (5000, 0, 0)), carrier("LAST", (5000, 0, 0), (6000, 0, 0))
LADDER = (A, B, C, D, F, G, SPUR, LAST)


def search(carriers: Iterable[Carrier], *landings: Node) -> Search:
    model = installation(*carriers)
    places = [(key, along) for key, along in landings if along is not None]
    return Search(Network(model, find_joins(model).joins, places))


def passed(path: Path | None) -> list[tuple[str, float, float]]:
    assert path is not None
    return [tuple(part) for part in path.stretches]


def node_by_node(network: Network, starts: Iterable[Node], ends: Iterable[Node], closed: Iterable[str]) -> Path | None:
    """The shortest way by a library that knows nothing of chains, on a graph of all edges that enter nothing closed."""
    graph = nx.Graph()
    graph.add_nodes_from(range(len(network.nodes)))
    for edge in network.edges:
        if set(closed).isdisjoint(edge.passed):
            graph.add_edge(edge.one, edge.other, weight=network.weight_mm(edge))
    ways = []
    for one, other in itertools.product(starts, ends):
        try:
            ways.append(nx.single_source_dijkstra(graph, network.index[one], network.index[other]))
        except nx.NetworkXNoPath:
            continue
    return network.path(min(ways)[1]) if ways else None


@settings(max_examples=100, deadline=None)
@given(grids(CROSSINGS))
def test_every_way_by_chains_is_the_way_node_by_node(grid: Grid) -> None:
    for item in grid.circuits:
        ends = [
            (key, round(share * grid.length(key), 3))
            for key, share in (grid.above[item.origin], grid.above[item.calls[0]])
        ]
        found = search(grid.carriers, *ends)
        closed = frozenset(grid.pairs) - set(open_to(grid, item))
        expected = node_by_node(found.network, ends[:1], ends[1:], closed)
        path = found.path(ends[:1], ends[1:], closed)
        assert (path is None) == (expected is None)
        if path is not None and expected is not None:
            assert (path.nodes, path.stretches, path.length_mm) == (
                expected.nodes,
                expected.stretches,
                expected.length_mm,
            )
        # and from its end to its start the same backwards
        turned = found.path(ends[:1], ends[1:], closed, is_turned=True)
        assert turned == (None if path is None else found.reversed(path))


def test_a_row_of_carriers_between_two_landings_is_one_step_whatever_its_length() -> None:
    row = [carrier(f"T{number:02}", (1000 * number, 0, 0), (1000 * number + 1000, 0, 0)) for number in range(50)]
    found = search(row, ("T00", 250.0), ("T49", 750.0))
    # 250 mm before the first landing and after the last one lead to nothing
    assert found.chains.nodes == [("T00", 250.0), ("T49", 750.0)]
    path = found.path([("T00", 250.0)], [("T49", 750.0)], NONE)
    assert passed(path) == [
        ("T00", 250.0, 1000.0), *((f"T{number:02}", 0.0, 1000.0) for number in range(1, 49)), ("T49", 0.0, 750.0)
    ]  # fmt: skip
    assert path is not None
    assert path.length_mm == pytest.approx(750.0 + 48 * 1000.0 + 750.0)


def test_a_carrier_that_others_come_in_on_is_passed_as_one_stretch() -> None:
    found = search(LADDER, ("A", 0.0), ("B", 500.0), ("B", 1500.0), ("G", 2000.0))
    path = found.path([("A", 0.0)], [("G", 2000.0)], NONE)
    assert passed(path) == [("A", 0.0, 1000.0), ("B", 0.0, 2000.0), ("G", 2000.0, 2000.0)]


def test_of_two_chains_between_the_same_places_each_is_taken_where_the_other_is_closed() -> None:
    # from one corner to the other: 2 m down and 3 m along, or 3 m along and 2 m down, which is as far
    found = search(LADDER, ("F", 2000.0), ("G", 0.0))
    ends = [("F", 2000.0)], [("G", 0.0)]
    assert passed(found.path(*ends, frozenset({"C"})))[1:3] == [("A", 0.0, 1000.0), ("B", 0.0, 2000.0)]
    below = found.path(*ends, frozenset({"A"}))
    assert passed(below) == [("F", 2000.0, 0.0), ("C", 0.0, 1000.0), ("D", 0.0, 2000.0), ("G", 0.0, 0.0)]
    assert found.path(*ends, frozenset({"A", "C"})) is None


def test_what_leads_to_no_landing_is_left_out_and_found_all_the_same() -> None:
    found = search(LADDER, ("A", 500.0), ("B", 500.0))
    # where the spur leaves two carriers meet it, which the way may pass; its other end is beyond that
    assert {("SPUR", 2000.0), ("LAST", 0.0), ("LAST", 1000.0)}.isdisjoint(found.chains.nodes)
    path = found.path([("A", 500.0)], [("LAST", 1000.0)], NONE)
    # 0.5 m left of A, 2 m of B, G down, the spur's 2 m and its last metre
    assert [key for key, _, _ in passed(path)] == ["A", "B", "G", "SPUR", "LAST"]
    assert path is not None
    assert path.length_mm == pytest.approx(500.0 + 2000.0 + 2000.0 + 2000.0 + 1000.0)


def test_a_carrier_taken_as_a_whole_is_passed_from_end_to_end() -> None:
    found = search(LADDER, ("A", WHOLE), ("G", 1500.0))
    path = found.path([("A", WHOLE)], [("G", 1500.0)], NONE)
    # A as a whole, 1 m; B, 2 m; and half a metre down G
    assert passed(path) == [("A", 0.0, 1000.0), ("B", 0.0, 2000.0), ("G", 2000.0, 1500.0)]
    assert path is not None
    assert path.length_mm == pytest.approx(1000.0 + 2000.0 + 500.0)


def test_a_network_without_carriers_has_no_ways() -> None:
    found = search(())
    assert found.chains.nodes == []
    assert found.path([("A", 0.0)], [("B", 0.0)], NONE) is None
