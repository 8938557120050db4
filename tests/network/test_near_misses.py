"""Open ends that have something near, told; and spots where too much meets to tell. T is trunking 50 × 50 mm."""

import math
from dataclasses import replace

import pytest

from checker.model import Carrier, ProblemKind, Section, Service, Vec
from checker.model.geometry import distance
from checker.network import cells, crowds, meeting
from checker.network.crowds import MOST_AT_SPOT
from checker.network.joining import FoundBy, find_joins
from tests.installations import STEEL_50, carrier, fitting, installation, lanes
from tests.network.joined import conduit, found, gaps_told, told

T = carrier("T", (0, 0, 0), (2000, 0, 0))


def test_two_ends_that_miss_each_other_are_told_once_with_the_gap() -> None:
    (problem,) = told(T, carrier("U", (2037, 0, 0), (4000, 0, 0)))
    assert (problem.where, problem.what) == ("T / U", "their ends are 37 mm apart and aren't joined")
    assert (problem.kind, problem.elements) == (ProblemKind.GAP, 2)
    assert "can't be told" in problem.why
    assert problem.hint


def test_an_end_that_misses_a_side_or_a_fitting_is_told() -> None:
    # from the side of T, 25 mm from its axis, to the end: 100 - 25
    assert gaps_told(T, carrier("B", (1000, 100, 0), (1000, 3000, 0))) == [
        ("B / T", "an end of the first is 75 mm from the second and isn't joined to it")
    ]
    assert gaps_told(T, fitting("F", (2150, 0, 0))) == [  # it begins at 2100
        ("T / F", "an end of the first is 100 mm from the second and isn't joined to it")
    ]


@pytest.mark.parametrize(
    ("side", "gap", "is_told"),
    [(50.0, 300.0, True), (50.0, 301.0, False), (400.0, 800.0, True), (400.0, 801.0, False), (900.0, 1001.0, False)],
)
def test_it_reaches_300_mm_or_twice_the_larger_side_and_never_over_a_metre(
    side: float, gap: float, *, is_told: bool
) -> None:
    other = carrier("U", (2000 + gap, 0, 0), (9000, 0, 0), Section(width_mm=side, height_mm=50.0))
    assert bool(gaps_told(T, other)) is is_told


def test_a_near_miss_is_the_same_whichever_end_is_looked_from() -> None:
    other = carrier("U", (2037, 0, 0), (4000, 0, 0))
    for order in ((T, other), (other, T)):
        (miss,) = find_joins(installation(*order)).near_misses
        assert (miss.end, miss.other) == (("T", "end"), ("U", "start"))
        assert (miss.names, miss.gap_mm, miss.point_mm) == (("T", "U"), 37.0, (2000, 0, 0))


def test_a_near_miss_of_a_fitting_names_it_second() -> None:
    (miss,) = find_joins(installation(T, fitting("F", (2150, 0, 0)))).near_misses
    assert (miss.end, miss.other, miss.names) == (("T", "end"), ("F", ""), ("T", "F"))


def test_only_the_nearest_is_told() -> None:
    nearer, farther = carrier("U", (2037, 0, 0), (4000, 0, 0)), carrier("V", (2000, -3000, 200), (2000, 3000, 200))
    assert [where for where, _ in gaps_told(T, nearer, farther)] == ["T / U"]
    assert [where for where, _ in gaps_told(T, farther)] == ["T / V"]


def test_an_end_is_not_told_for_what_its_element_is_joined_to_elsewhere() -> None:
    # a stub of 150 mm: its open end is near the trunking that it comes from, and near the one after that
    stub = carrier("S", (2000, 0, 0), (2000, 150, 0))
    assert gaps_told(T, carrier("U", (2000, 0, 0), (4000, 0, 0)), stub) == []


def test_nor_for_what_it_is_joined_to_through_one_other() -> None:
    # both end in the box; the stub's open end is 182 mm from T
    assert gaps_told(T, fitting("F", (2050, 0, 0)), carrier("S", (2050, 50, 0), (2050, 200, 0))) == []


def test_an_end_out_of_reach_of_everything_is_not_told() -> None:
    assert gaps_told(T, carrier("U", (2000, 5000, 0), (4000, 5000, 0))) == []


def star_of(number: int) -> list[Carrier]:
    """Conduits of 5 m from one point into all directions, evenly spread on a sphere by turning each by the golden angle."""
    rays = []
    for n in range(number):
        height = 1.0 - 2.0 * (n + 0.5) / number
        around = n * math.pi * (3.0 - math.sqrt(5.0))
        level = math.sqrt(1.0 - height**2)
        end = (5000 * level * math.cos(around), 5000 * level * math.sin(around), 5000 * height)
        rays.append(conduit(f"C{n:02}", (0, 0, 0), end))
    return rays


def test_crowded_ends_are_not_joined_and_told_once() -> None:
    star = star_of(MOST_AT_SPOT + 2)
    assert found(*star) == set()
    assert [what for _, what in gaps_told(*star)] == [f"more than {MOST_AT_SPOT} ends or bodies lie at one spot"]
    (problem,) = (p for p in told(*star) if p.kind is ProblemKind.GAP)
    assert problem.elements == len(star)
    fewer = star_of(MOST_AT_SPOT + 1)  # each end with 24 others, all of which join
    assert len(found(*fewer)) == (MOST_AT_SPOT + 1) * MOST_AT_SPOT / 2


def test_the_far_end_of_what_begins_in_a_crowd_still_joins() -> None:
    star = star_of(30)
    x, y, z = star[7].end_mm or (0.0, 0.0, 0.0)
    assert found(*star, conduit("D", (x, y, z), (2 * x, 2 * y, 2 * z))) == {("C07", "D", FoundBy.MEETING)}


def test_a_carrier_as_long_as_the_earth_takes_no_more_work_than_another(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = 0

    def counted(point: Vec, size: float) -> tuple[int, int, int]:
        nonlocal calls
        calls += 1
        return int(point[0] // size), int(point[1] // size), int(point[2] // size)

    monkeypatch.setattr(cells, "_cell", counted)
    long = carrier("L", (0, 0, 0), (4e10, 0, 0))
    assert found(long, carrier("B", (1e10, 25, 0), (1e10, 3000, 0))) == {("B", "L", FoundBy.AT_SIDE)}
    assert 0 < calls < 3000


@pytest.mark.parametrize("kind", ["the same", "a star", "bodies"])
def test_work_grows_as_the_model_does_where_everything_lies_at_one_place(
    kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = 0

    def counted(*arguments: object) -> float:
        nonlocal calls
        calls += 1
        return distance(*arguments)  # type: ignore[arg-type]

    def counted_touch(*_: object) -> bool:
        nonlocal calls
        calls += 1
        return True

    def work(number: int) -> int:
        nonlocal calls
        calls = 0
        carriers = [conduit(f"C{n}", (0, 0, 0), (3000.0 + (n if kind == "a star" else 0), 0, 0)) for n in range(number)]
        bodies = [fitting(f"F{n}", (0, 0, 0)) for n in range(number)] if kind == "bodies" else []
        joins = find_joins(installation(*carriers, *bodies))
        crowded = [p for p in joins.problems if p.what.startswith("more than")]
        assert [p.elements for p in crowded] == [number + len(bodies)]
        return calls

    monkeypatch.setattr(crowds, "distance", counted)
    monkeypatch.setattr(meeting, "touch", counted_touch)
    monkeypatch.setattr(meeting, "distance", counted)
    few, many = work(1500), work(3000)
    assert many <= 2.1 * few + 100
    assert many <= 3000 * 2 * 500


def test_neighbours_in_a_bank_that_end_side_by_side_are_no_near_misses() -> None:
    bank = [conduit(f"C{n}", (0, 60.0 * n, 0), (3000, 60.0 * n, 0)) for n in range(4)]
    assert gaps_told(*bank) == []
    facing = conduit("F", (3060, 0, 0), (6000, 0, 0))  # 60 mm beyond the end of C0, towards it
    assert [where for where, _ in gaps_told(*bank, facing)] == ["C0 / F"]


def test_what_no_circuit_could_pass_from_one_to_the_other_is_no_gap() -> None:
    data, power = (replace(STEEL_50, lanes=lanes(service)) for service in (Service.DATA, Service.POWER))
    one = carrier("D", (0, 0, 0), (2000, 0, 0), data)
    for section, number in ((power, 0), (data, 1), (STEEL_50, 1)):  # the last takes any service
        other = carrier("P", (2060, 0, 0), (4000, 0, 0), section)
        gaps = [item for item in find_joins(installation(one, other)).problems if item.kind is ProblemKind.GAP]
        assert len(gaps) == number
