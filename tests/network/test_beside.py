"""Carriers side by side: by hand, and against looking at every pair point by point."""

import math
import random
import time
from dataclasses import replace

import pytest

from checker.model import Carrier, CarrierKind, Section, Vec
from checker.network.beside import beside
from tests.installations import carrier

TRAY = Section(width_mm=300.0, height_mm=60.0)
LEVEL = (0.0, 1.0, 0.0)
WITHIN = 1800.0


def tray(key: str, start: Vec, end: Vec, section: Section = TRAY) -> Carrier:
    level = (start[1] - end[1], end[0] - start[0], 0.0)
    return replace(carrier(key, start, end, section, CarrierKind.TRAY), across=level if any(level) else LEVEL)


def of_all(*carriers: Carrier) -> list[tuple[int, int, float, float]]:
    every = range(len(carriers))
    return [(item.one, item.other, item.clear_mm, item.beside_mm) for item in beside(carriers, every, every, WITHIN)]


def test_the_clear_distance_is_between_the_outsides_and_the_length_where_both_are() -> None:
    one = tray("A", (0.0, 0.0, 0.0), (6000.0, 0.0, 0.0))
    # 500 mm from axis to axis less 150 and 150; from 4 m on to the end at 6 m
    other = tray("B", (4000.0, 500.0, 0.0), (9000.0, 500.0, 0.0))
    assert of_all(one, other) == [(0, 1, 200.0, 2000.0)]
    # drawn the other way round it is the same
    assert of_all(one, tray("B", (9000.0, 500.0, 0.0), (4000.0, 500.0, 0.0))) == [(0, 1, 200.0, 2000.0)]


def test_above_each_other_the_heights_count_and_askew_both() -> None:
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))
    # 300 from axis to axis less 30 and 30
    assert of_all(one, tray("B", (0.0, 0.0, 300.0), (3000.0, 0.0, 300.0))) == [(0, 1, 240.0, 3000.0)]
    # 600 - 300 = 300 sideways and 460 - 60 = 400 up: 500 mm
    assert of_all(one, tray("B", (0.0, 600.0, 460.0), (3000.0, 600.0, 460.0))) == [(0, 1, 500.0, 3000.0)]


def test_conduits_are_round() -> None:
    conduit = Section(outside_diameter_mm=20.0)
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), conduit)
    # 30 and 40 mm make 50 mm from axis to axis, less 10 and 10
    assert of_all(one, tray("B", (0.0, 30.0, 40.0), (3000.0, 30.0, 40.0), conduit)) == [(0, 1, 30.0, 3000.0)]


@pytest.mark.parametrize("width", [100.0, 900.0])
def test_askew_no_more_is_between_them_than_there_is(width: float) -> None:
    # the one ends at 3000 beside the middle of the other, which comes nearer by 14° and passes by at 1000 mm sideways: from the one's
    # corner, 50 mm nearer than its axis, to the other's axis it is 950 · cos 14°, and to its side half its width less
    angle = math.radians(14.0)
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), Section(width_mm=100.0, height_mm=60.0))
    along = (2000.0 * math.cos(angle), -2000.0 * math.sin(angle))
    other = tray(
        "B", (3000.0 - along[0], 1000.0 - along[1], 0.0), (3000.0 + along[0], 1000.0 + along[1], 0.0),
        Section(width_mm=width, height_mm=60.0),
    )  # fmt: skip
    (found,) = of_all(one, other)
    assert found[2] == pytest.approx(950.0 * math.cos(angle) - width / 2.0, abs=0.01)


def test_a_tray_on_its_edge_is_as_high_as_it_is_wide() -> None:
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))
    edge = replace(tray("B", (0.0, 500.0, 0.0), (3000.0, 500.0, 0.0)), across=(0.0, 0.0, 1.0))
    # 500 - 150 - 30
    assert of_all(one, edge) == [(0, 1, 320.0, 3000.0)]


def test_what_crosses_or_follows_isnt_beside() -> None:
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))
    assert not of_all(one, tray("B", (1500.0, -1500.0, 200.0), (1500.0, 1500.0, 200.0)))
    assert not of_all(one, tray("B", (3000.0, 0.0, 0.0), (6000.0, 0.0, 0.0)))
    # a coupler's length of overlap is how ends are drawn
    assert not of_all(one, tray("B", (2951.0, 0.0, 0.0), (6000.0, 0.0, 0.0)))
    assert of_all(one, tray("B", (2900.0, 0.0, 0.0), (6000.0, 0.0, 0.0))) == [(0, 1, 0.0, 100.0)]


def test_farther_apart_than_is_looked_for_isnt_found() -> None:
    one = tray("A", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0))
    # 2100 less 300 is 1800
    assert of_all(one, tray("B", (0.0, 2100.0, 0.0), (3000.0, 2100.0, 0.0))) == [(0, 1, 1800.0, 3000.0)]
    assert not of_all(one, tray("B", (0.0, 2101.0, 0.0), (3000.0, 2101.0, 0.0)))


def test_a_bent_carrier_is_beside_with_each_of_its_pieces_and_no_length_counts_twice() -> None:
    bent = replace(
        tray("A", (0.0, 0.0, 0.0), (3000.0, 3000.0, 0.0)), corners_mm=((3000.0, 0.0, 0.0),), across=(0.0, 0.0, 1.0)
    )
    along_first = tray("B", (1000.0, -500.0, 0.0), (2000.0, -500.0, 0.0))
    # the tray lies on its edge in the bent one's section: 500 - 30 - 150
    assert of_all(bent, along_first) == [(0, 1, 320.0, 1000.0)]
    twice = replace(
        tray("C", (1000.0, -500.0, 0.0), (2000.0, -500.0, 0.0)),
        corners_mm=((2500.0, -500.0, 0.0), (2500.0, -500.0, 0.0)),
    )
    # out to 2.5 m and back to 2 m: from 1 m to 2.5 m
    assert of_all(bent, twice) == [(0, 1, 320.0, 1500.0)]


def test_only_the_pairs_asked_about_are_found_each_once() -> None:
    carriers = [tray(str(n), (0.0, 400.0 * n, 0.0), (3000.0, 400.0 * n, 0.0)) for n in range(4)]
    pairs = [(item.one, item.other) for item in beside(carriers, [0, 1], [1, 2], 150.0)]
    assert pairs == [(0, 1), (1, 2)]


def test_carriers_without_a_place_are_beside_nothing() -> None:
    nowhere = replace(tray("A", (0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), start_mm=None)
    assert not of_all(nowhere, tray("B", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)))
    assert not beside([], [], [], WITHIN)


def test_of_a_crowd_the_nearest_are_looked_at_and_the_rest_is_said() -> None:
    carriers = [tray(str(n), (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)) for n in range(1200)]
    found = beside(carriers, [0], range(1200), WITHIN)
    assert found
    assert all(item.is_crowded for item in found)


# -- against every pair, point by point


def brute(carriers: list[Carrier], within: float) -> dict[tuple[int, int], tuple[float, float]]:
    """By sampling: points every 5 mm of the one with the lower number, each against the piece of the other square to it."""
    found = {}
    for i, one in enumerate(carriers):
        for j in range(i + 1, len(carriers)):
            other = carriers[j]
            hit = [gap for gap in sampled(one, other) if gap is not None and gap <= within]
            if hit:
                found[i, j] = (min(hit), 5.0 * len(hit))
    return found


def sampled(one: Carrier, other: Carrier) -> list[float | None]:
    a, b, c, d = one.start_mm, one.end_mm, other.start_mm, other.end_mm
    assert a
    assert b
    assert c
    assert d
    length, span = math.dist(a, b), math.dist(c, d)
    u = [(q - p) / length for p, q in zip(a, b, strict=True)]
    v = [(q - p) / span for p, q in zip(c, d, strict=True)]
    turned = sum(p * q for p, q in zip(u, v, strict=True))
    if abs(turned) < math.cos(math.radians(15.0)):
        return []
    normal = (-u[1], u[0], 0.0)  # all lie level
    gaps: list[float | None] = []
    widths = [one.section.width_mm or 0.0, other.section.width_mm or 0.0]
    heights = [one.section.height_mm or 0.0, other.section.height_mm or 0.0]
    for n in range(int(length / 5.0)):
        s = 5.0 * n + 2.5
        p = [q + w * s for q, w in zip(a, u, strict=True)]
        t = sum((q - r) * w for q, r, w in zip(p, c, u, strict=True)) / turned
        if not 0.0 <= t <= span:
            gaps.append(None)
            continue
        off = [r + w * t - q for r, w, q in zip(c, v, p, strict=True)]
        sideways = abs(sum(q * w for q, w in zip(off, normal, strict=True)))
        cross = 1.0 / abs(turned)  # how much wider than the other a cut through it is, square to the one
        gap = math.hypot(
            max(0.0, sideways - (widths[0] + widths[1] * cross) / 2.0), max(0.0, abs(off[2]) - sum(heights) / 2.0)
        )
        gaps.append(gap * abs(turned))
    return gaps


@pytest.mark.parametrize("seed", range(12))
def test_random_trays_are_found_as_by_looking_at_every_pair(seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311
    carriers = []
    for n in range(40):
        angle = math.radians(chance.choice([0.0, 90.0, 180.0, 7.0, 12.0, 40.0]))
        start = (chance.uniform(0, 9000), chance.uniform(0, 9000), chance.choice([0.0, 250.0, 900.0]))
        length = chance.uniform(300.0, 7000.0)
        end = (start[0] + length * math.cos(angle), start[1] + length * math.sin(angle), start[2])
        section = Section(width_mm=chance.choice([100.0, 300.0, 600.0]), height_mm=chance.choice([60.0, 110.0]))
        carriers.append(tray(f"{n:03}", start, end, section))
    within = 700.0
    found = {(one.one, one.other): one for one in beside(carriers, range(40), range(40), within)}
    expected = brute(carriers, within)
    surely = {pair: it for pair, it in expected.items() if it[1] > 80.0}
    assert len(surely) > 5
    assert set(surely) <= set(found)
    assert {pair for pair, it in found.items() if it.beside_mm > 80.0} <= set(expected)
    for pair, (gap, length) in surely.items():
        # samples lie up to 7.5 mm from the ends, and gaps grow by no more than tan 15° = 0.27 of it on the way there
        assert found[pair].clear_mm == pytest.approx(gap, abs=2.1)
        assert found[pair].beside_mm >= length - 10.0


def test_which_of_two_comes_first_changes_little() -> None:
    ahead = [tray(str(n), (100.0 * n, 400.0 * n, 0.0), (3000.0, 420.0 * n, 0.0)) for n in range(6)]
    back = ahead[::-1]
    found = {(item.one, item.other): item for item in beside(ahead, range(6), range(6), WITHIN)}
    turned = {(5 - item.other, 5 - item.one): item for item in beside(back, range(6), range(6), WITHIN)}
    assert set(found) == set(turned)
    for pair, item in found.items():
        # they are askew by tan 0.04, so seen along the other one gaps are the same to a part in a thousand
        assert item.clear_mm == pytest.approx(turned[pair].clear_mm, rel=2e-3, abs=0.5)


def test_many_carriers_take_seconds() -> None:
    carriers = [
        tray(f"{x:03}/{y:03}/{z}", (3000.0 * x, 4000.0 * y + 400.0 * z, 0.0), (3000.0 * x + 3000.0, 4000.0 * y + 400.0 * z, 0.0))
        for x in range(40) for y in range(60) for z in range(4)
    ]  # fmt: skip
    began = time.process_time()
    found = beside(carriers, range(0, len(carriers), 2), range(1, len(carriers), 2), WITHIN)
    # of four trays in a corridor those with even numbers are beside those with odd ones: 4 pairs at each place
    assert len(found) == 40 * 60 * 4
    assert time.process_time() - began < 20.0
