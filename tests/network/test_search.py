"""The search itself, on networks small enough to do by hand: its limits, what it keeps, what is closed and what must be passed."""

import math
from collections.abc import Iterable
from dataclasses import replace

import pytest

from checker.model import Carrier, Port
from checker.network import search as searching
from checker.network.graph import Network, Node, Path
from checker.network.joining import find_joins
from checker.network.search import Search
from tests.installations import carrier, installation

NONE = frozenset[str]()

# A comb, whose two teeth P and Q end 1 m apart, while the way between them is 41 m: 20 m down, 1 m along, 20 m up. R stands alone.
P = carrier("P", (0, 20000, 0), (0, 0, 0))
BACK = carrier("BACK", (0, 0, 0), (1000, 0, 0))
Q = carrier("Q", (1000, 0, 0), (1000, 20000, 0))
R = carrier("R", (50000, 0, 0), (51000, 0, 0))
COMB = (P, BACK, Q, R)
TOP_P, TOP_Q = ("P", 0.0), ("Q", 20000.0)


def search(*carriers: Carrier, landings: Iterable[tuple[str, float]] = (), ports: tuple[Port, ...] = ()) -> Search:
    model = installation(*carriers, ports=ports)
    return Search(Network(model, find_joins(model).joins, landings))


def keys(path: Path | None) -> list[str]:
    assert path is not None
    return [part.carrier for part in path.stretches]


@pytest.mark.parametrize("look_mm", [math.inf, 6500.0, 41001.0])
def test_ends_that_lie_near_each_other_and_far_along_the_way_are_found(look_mm: float) -> None:
    # from 6.5 m the next limit is 26 m, and only the third, 104 m, is more than 41 m
    path = search(*COMB).path([TOP_P], [TOP_Q], NONE, look_mm=look_mm)
    assert keys(path) == ["P", "BACK", "Q"]
    assert path is not None
    assert path.length_mm == pytest.approx(41000.0)


def test_a_search_goes_no_further_than_the_first_limit_that_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    limits = []
    whole = searching._search

    def counted(matrix: object, starts: tuple[int, ...], limit: float) -> object:
        limits.append(limit)
        return whole(matrix, starts, limit)

    monkeypatch.setattr(searching, "_search", counted)
    tail = [carrier(f"T{n}", (1000 + 9000 * n, 20000, 0), (10000 + 9000 * n, 20000, 0)) for n in range(40)]
    search(*COMB, *tail).path([TOP_P], [TOP_Q], NONE, look_mm=6500.0)
    assert limits == [6500.0, 26000.0, 104000.0]


def test_places_that_no_way_joins_have_none_and_are_not_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    found = search(*COMB)
    assert found.part(TOP_P, NONE) == found.part(TOP_Q, NONE) != found.part(("R", 0.0), NONE)
    monkeypatch.setattr(searching, "_search", lambda *_: pytest.fail("it searched"))
    assert found.path([TOP_P], [("R", 0.0)], NONE) is None
    assert found.path([TOP_P], [("R", 0.0)], NONE, look_mm=1.0) is None


def test_what_is_closed_divides_the_network_for_those_alone_whom_it_is_closed_to() -> None:
    found = search(*COMB)
    assert found.path([TOP_P], [TOP_Q], frozenset({"BACK"})) is None
    assert keys(found.path([TOP_P], [TOP_Q], NONE)) == ["P", "BACK", "Q"]


def test_a_place_that_is_not_there_or_is_closed_is_no_start_and_no_end() -> None:
    found = search(*COMB)
    assert found.part(("nowhere", 0.0), NONE) == -1
    assert found.path([("nowhere", 0.0)], [TOP_Q], NONE) is None
    assert found.path([TOP_P], [TOP_Q], frozenset({"Q"})) is None
    assert found.path([], [TOP_Q], NONE) is None


def test_of_several_starts_and_ends_the_nearest_two_are_taken() -> None:
    found = search(*COMB, landings=[("P", 15000.0), ("Q", 2000.0)])
    starts: list[Node] = [TOP_P, ("P", 15000.0)]
    for look_mm in (math.inf, 1.0):
        path = found.path(starts, [TOP_Q, ("Q", 2000.0)], NONE, look_mm=look_mm)
        assert path is not None
        # from 15 m of P's 20 m: 5 m left, 1 m, and 2 m
        assert path.length_mm == pytest.approx(5000.0 + 1000.0 + 2000.0)


def test_asking_about_more_places_than_are_kept_changes_no_answer() -> None:
    places = [float(n) for n in range(0, 20000, 500)]  # 40, where 24 are kept
    found = search(*COMB, landings=[("P", place) for place in places])
    for _ in range(2):
        for place in places:
            path = found.path([("P", place)], [TOP_Q], NONE)
            assert path is not None
            assert path.length_mm == pytest.approx(20000.0 - place + 21000.0)


def test_what_is_kept_of_closed_carriers_is_bounded() -> None:
    # each pair of redundant circuits closes other carriers; of a thousand of them not all can be kept
    found = search(*COMB)
    for number in range(100):
        found.path([TOP_P], [TOP_Q], frozenset({f"other {number}"}))
    kept = (found._parts, found._matrices, found._trees)
    assert all(len(store) <= 24 for store in kept)


def test_a_way_reversed_is_the_same_stretches_backwards() -> None:
    found = search(*COMB)
    path = found.path([TOP_P], [TOP_Q], NONE)
    assert path is not None
    back = found.reversed(path)
    assert [(part.carrier, part.to_mm, part.from_mm) for part in back.stretches] == [
        (part.carrier, part.from_mm, part.to_mm) for part in reversed(path.stretches)
    ]
    assert back.length_mm == path.length_mm


def test_by_way_of_a_spur_it_is_passed_there_and_back_as_two_stretches() -> None:
    spur = carrier("SPUR", (1000, 0, 0), (4000, 0, 0))
    found = search(*COMB, spur)
    path = found.path([TOP_P], [TOP_Q], NONE, (frozenset({"SPUR"}),))
    assert path is not None
    passed = [(part.carrier, part.from_mm, part.to_mm) for part in path.stretches]
    assert passed == [
        ("P", 0.0, 20000.0), ("BACK", 0.0, 1000.0), ("SPUR", 0.0, 3000.0), ("SPUR", 3000.0, 0.0), ("Q", 0.0, 20000.0),
    ]  # fmt: skip
    assert path.length_mm == pytest.approx(41000.0 + 2 * 3000.0)
    assert found.comes_back(path)


def test_by_way_of_what_the_shortest_way_passes_is_the_shortest_way_however_often_it_is_asked() -> None:
    found = search(*COMB)
    plain = found.path([TOP_P], [TOP_Q], NONE)
    for via in (("BACK",), ("P", "BACK", "Q"), ("BACK", "BACK"), ("P", "P", "Q", "Q")):
        assert found.path([TOP_P], [TOP_Q], NONE, tuple(frozenset({key}) for key in via)) == plain


def test_by_way_of_a_group_the_nearest_of_it_is_passed() -> None:
    near, far = carrier("NEAR", (1000, 0, 0), (2000, 0, 0)), carrier("FAR", (0, 0, 0), (-3000, 0, 0))
    path = search(*COMB, near, far).path([TOP_P], [TOP_Q], NONE, (frozenset({"NEAR", "FAR"}),))
    assert keys(path) == ["P", "BACK", "NEAR", "NEAR", "Q"]


def test_by_way_of_what_is_closed_or_lies_elsewhere_there_is_none() -> None:
    found = search(*COMB)
    assert found.path([TOP_P], [TOP_Q], NONE, (frozenset({"R"}),)) is None
    assert found.path([TOP_P], [TOP_Q], frozenset({"BACK"}), (frozenset({"BACK"}),)) is None
    assert found.path([TOP_P], [TOP_Q], NONE, (frozenset(),)) is None


def test_by_way_of_a_carrier_of_unknown_length_there_is_a_way_of_unknown_length() -> None:
    lost = replace(carrier("LOST", (0, 0, 0), (1000, 0, 0)), start_mm=None, end_mm=None, length_mm=None)
    ports = (
        Port("p1", "P", (0, 0, 0), ("p2",)), Port("p2", "LOST", None, ("p1",)),
        Port("p3", "LOST", None, ("p4",)), Port("p4", "Q", (1000, 0, 0), ("p3",)),
    )  # fmt: skip
    found = search(*COMB, lost, ports=ports)
    assert keys(found.path([TOP_P], [TOP_Q], NONE)) == ["P", "BACK", "Q"]
    path = found.path([TOP_P], [TOP_Q], NONE, (frozenset({"LOST"}),))
    assert keys(path) == ["P", "LOST", "Q"]
    assert path is not None
    assert path.length_mm is None
    assert found.path([TOP_P], [TOP_Q], frozenset({"LOST"}), (frozenset({"LOST"}),)) is None


def test_sparing_what_is_used_takes_a_way_that_is_longer_and_uses_none_of_it() -> None:
    round_about = carrier("ROUND", (0, 20000, 0), (1000, 20000, 0))
    found = search(*COMB, round_about)
    out = found.path([TOP_P], [TOP_Q], NONE)
    assert keys(out) == ["P", "ROUND", "Q"]  # it comes in at the ends of P and Q, and passes nothing of them
    assert out is not None
    assert out.length_mm == pytest.approx(1000.0)
    back = found.sparing([TOP_Q], [TOP_P], NONE, found.edges_of(out), 1e5)
    assert keys(back) == ["Q", "BACK", "P"]
    assert found.sparing([TOP_Q], [("R", 0.0)], NONE, found.edges_of(out), 1e5) is None
    # the network itself is as it was
    assert found.path([TOP_P], [TOP_Q], NONE) == out
