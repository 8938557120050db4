"""How often a circuit's cables pass a carrier, told from its drawn lines: in doubt more often, and in plain cases rightly.

K runs 4 m along x, 50 × 50; DB hangs at its start and what it feeds at its end, each 0.2 m beside it.
"""

import math
import time
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Carrier, Circuit, Equipment, ModelCable
from checker.network.drawn import DrawnWay, DrawnWays
from checker.network.drawn_ends import Lines
from checker.network.drawn_strands import Strand
from checker.network.route import passes_of
from tests.installations import carrier, circuit, installation, outlet
from tests.network.test_drawn import line, told, told_of_ends, way_of

K = carrier("K", (0, 0, 0), (4000, 0, 0))
DB, S1 = outlet("DB", (0, 200, 0)), outlet("S1", (4000, 200, 0))
RING = circuit("P1", "DB", "S1", "DB", count=10)


def to(x: float, y: float, aside: float = 0.0, name: str = "a") -> ModelCable:
    """A line from DB along K to a place."""
    return line(name, (0, 200, 0), (0, aside, 0), (x, aside, 0), (x, y, 0))


def lines_to(count: int, y: float) -> list[ModelCable]:
    return [to(4000, y, 3.0 * number, f"{y:g}-{number}") for number in range(count)]


def passes(cables: Sequence[ModelCable], of: Circuit, *items: Carrier | Equipment) -> tuple[dict[str, int], DrawnWay]:
    """How often each carrier is passed."""
    way = way_of(cables, *items, of=of)
    return {key: passes_of([visit for visit in way.visits if visit.carrier == key]) for key in keys(way)}, way


def keys(way: DrawnWay) -> list[str]:
    return sorted({visit.carrier for visit in way.visits})


@pytest.mark.parametrize("length", [40, 70, 150, 190])
def test_a_ring_is_out_and_back_in_a_carrier_however_short_it_is(length: float) -> None:
    short, long = carrier("K0", (0, 0, 0), (length, 0, 0)), carrier("K1", (length, 0, 0), (4000, 0, 0))
    points = [(0, 200, 0), (0, 5, 0), (4000, 5, 0), (4000, 200, 0), (4000, 190, 0), (4000, -5, 0), (0, -5, 0), (0, 200, 0)]  # fmt: skip
    found, way = passes([line("a", *points)], RING, short, long, DB, S1)
    assert found == {"K0": 2, "K1": 2}
    assert not way.has_gap


def test_a_line_that_turns_back_within_a_short_carrier_passes_it_twice() -> None:
    short = carrier("K0", (0, 0, 0), (90, 0, 0))  # 70 mm there and back: less than 100, but more than half of it
    points = [(0, 200, 0), (0, 5, 0), (70, 5, 0), (70, -5, 0), (0, -5, 0), (0, -200, 0)]
    assert passes([line("a", *points)], circuit("P1", "DB", "L"), short, DB, outlet("L", (0, -200, 0)))[0] == {"K0": 2}


@pytest.mark.parametrize("apart", [10, 60, 250, 400])
def test_home_runs_to_two_calls_are_two_passes_however_near_the_calls_are(apart: float) -> None:
    near = outlet("S2", (4000, 200 + apart, 0))
    cables = [to(4000, 200), to(4000, 200 + apart, 5, "b")]
    assert passes(cables, circuit("P1", "DB", "S1", "S2", count=6), K, DB, S1, near)[0] == {"K": 2}


def test_home_runs_to_two_calls_at_one_place_are_two_passes() -> None:
    twin = outlet("S2", (4000, 200, 0))
    assert passes(lines_to(2, 200), circuit("P1", "DB", "S1", "S2", count=6), K, DB, S1, twin)[0] == {"K": 2}


@pytest.mark.parametrize(
    ("lines", "count", "found"), [(3, 3, 1), (2, 6, 1), (1, 6, 1), (6, 3, 2), (4, 3, 2), (3, 1, 3)]
)
def test_lines_to_one_call_are_one_pass_as_far_as_there_are_so_many_cables(lines: int, count: int, found: int) -> None:
    of = circuit("P1", "DB", "S1", count=count)  # lines over cables, rounded up
    assert passes(lines_to(lines, 200), of, K, DB, S1)[0] == {"K": found}


def test_lines_that_end_apart_at_a_place_that_isnt_named_are_passes_of_their_own() -> None:
    of = circuit("P1", "DB", "S1", count=6)
    more = [to(2000, 900, 5, "b"), to(2000, 1050, 8, "c")]  # 150 mm apart, at nothing that it names
    assert passes([to(4000, 200), *more], of, K, DB, S1)[0] == {"K": 3}
    beside = [to(2000, 900, 5, "b"), to(2000, 950, 8, "c")]  # 50 mm apart: two cores
    assert passes([to(4000, 200), *beside], of, K, DB, S1)[0] == {"K": 2}


def test_a_star_drawn_in_single_cores_here_and_in_one_line_there_counts_each_leg_once() -> None:
    calls = [outlet(f"S{n}", (4000, 200 + 500 * n, 0)) for n in (1, 2, 3, 4)]
    cables = [*lines_to(5, 700), *(to(4000, 200 + 500 * n, n, f"b{n}") for n in (2, 3, 4))]
    of = circuit("P1", "DB", "S1", "S2", "S3", "S4", count=5)
    found, way = passes(cables, of, K, DB, *calls)
    assert found == {"K": 4}  # one to each of four
    assert told(way) == ["the model draws one line for its 5 cables"]


SQUARE = (
    carrier("K1", (0, 0, 0), (4000, 0, 0)),
    carrier("K2", (4000, 0, 0), (4000, 4000, 0)),
    carrier("K3", (4000, 4000, 0), (0, 0, 0)),
)
CORNERS = ((0, 0), (4000, 0), (4000, 4000))
AT_CORNERS = tuple(outlet(name, (x, y, 200)) for name, (x, y) in zip(("DB", "S1", "S2"), CORNERS, strict=True))
AROUND = circuit("P1", "DB", "S1", "S2", "DB", count=3)


def legs(*numbers: int, cores: int = 3) -> list[ModelCable]:
    """The legs of the ring around the square, each in so many lines."""
    found = []
    for leg in numbers:
        (ax, ay), (bx, by) = CORNERS[leg], CORNERS[(leg + 1) % 3]
        points = [((ax, ay, 200), (ax, ay, z), (bx, by, z), (bx, by, 200)) for z in range(cores)]
        found += [line(f"{leg}-{z}", *own) for z, own in enumerate(points)]
    return found


@pytest.mark.parametrize("cores", [1, 2, 3])
def test_a_ring_whose_legs_are_drawn_in_a_line_for_each_cable_passes_each_carrier_once(cores: int) -> None:
    found, way = passes(legs(0, 1, 2, cores=cores), AROUND, *SQUARE, *AT_CORNERS)
    assert found == {"K1": 1, "K2": 1, "K3": 1}
    assert not way.has_gap
    assert way.length_mm == pytest.approx(4000 + 4000 + 4000 * 2**0.5)  # of one pass


@pytest.mark.parametrize("missing", [0, 1, 2])
def test_a_ring_that_isnt_drawn_all_round_has_a_gap(missing: int) -> None:
    left = [leg for leg in (0, 1, 2) if leg != missing]
    way = way_of(legs(*left), *SQUARE, *AT_CORNERS, of=AROUND)
    assert (way.has_gap, way.missed, way.parts) == (True, (), 1)
    assert told_of_ends(way) == [
        "it is a ring, and the model doesn't draw its cables all round from 'DB' and back to it"
    ]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_ring_drawn_in_one_line_out_by_its_calls_and_one_back_beside_it_passes_twice(count: int) -> None:
    """The way back lies 5 mm beside the way out, so that it comes as near to S1, which neither ends at."""
    half, far = outlet("S1", (2000, 200, 0)), outlet("S2", (4000, 200, 0))
    of = circuit("P1", "DB", "S1", "S2", "DB", count=count)
    found, way = passes([to(4000, 200), to(4000, 200, 5, "b")], of, K, DB, half, far)
    assert found == {"K": 2}
    assert not way.has_gap


def test_a_ring_drawn_in_one_line_alone_passes_once_for_sure_and_has_a_gap() -> None:
    found, way = passes([to(4000, 200)], RING, K, DB, S1)
    assert (found, way.has_gap, way.missed) == ({"K": 1}, True, ())


def test_a_short_stretch_that_only_some_lines_pass_counts_as_often_as_they_do() -> None:
    """Two legs meet end to end within 100 mm where cores of the one end in a row: there both lie beside each other."""
    half, far = outlet("S1", (2000, 200, 0)), outlet("S2", (4000, 200, 0))
    first = [to(x, 200, 3 * n, f"a{n}") for n, x in enumerate((1900, 2000))]
    second = line("b", (1950, 200, 0), (1950, 9, 0), (4000, 9, 0), (4000, 200, 0))
    assert passes([*first, second], circuit("P1", "DB", "S1", "S2", count=2), K, DB, half, far)[0] == {"K": 2}


def test_cables_dont_go_on_from_one_line_to_the_next() -> None:
    """Two lines from DB: the second one's visit follows the first one's in the list, not on the way."""
    far = outlet("S2", (4000, 900, 0))
    way = way_of([to(4000, 200), to(4000, 900, 5, "b")], K, DB, S1, far, of=circuit("P1", "DB", "S1", "S2"))
    assert len({visit.line for visit in way.visits}) == 2
    (one,) = {visit.line for visit in way_of([to(4000, 200)], K, DB, S1).visits}
    assert one > 0


def test_how_near_lines_come_to_a_point_and_where() -> None:
    one = Strand(((0.0, 0.0, 0.0), (300.0, 0.0, 0.0), (300.0, 400.0, 0.0)), 700.0, ())
    other = Strand(((0.0, 1000.0, 0.0), (50.0, 1000.0, 0.0)), 50.0, ())
    off, along = Lines([one, other]).near((320.0, 100.0, 0.0))
    assert off.tolist() == pytest.approx([20.0, (270.0**2 + 900.0**2) ** 0.5])
    assert along.tolist() == pytest.approx([400.0, 50.0])  # 300 and 100 on; the end of the other


#: From where to where along K lines run, by tenths of a metre.
SPANS = st.lists(
    st.tuples(st.integers(0, 40), st.integers(0, 40)).filter(lambda span: abs(span[0] - span[1]) > 1),
    min_size=1,
    max_size=7,
)


@given(spans=SPANS, count=st.integers(1, 4), is_ring=st.booleans())
def test_nowhere_are_fewer_passes_than_lines_over_cables(
    spans: list[tuple[int, int]], count: int, *, is_ring: bool
) -> None:
    cables = [
        line(f"c{n}", (100 * a, 300, 0), (100 * a, 2 * n - 7, 0), (100 * b, 2 * n - 7, 0), (100 * b, 300, 0))
        for n, (a, b) in enumerate(spans)
    ]
    of = circuit("P1", "DB", "S1", *(["DB"] if is_ring else []), count=count)
    found, _ = passes(cables, of, K, DB, S1)
    most = max(sum(min(span) <= place < max(span) for span in spans) for place in range(40))
    assert found["K"] >= math.ceil(most / count)
    assert (
        found["K"] <= len(spans) * 2
    )  # a line is chained to another at most once, and never counted more often than it passes


def test_ten_times_as_many_lines_take_about_ten_times_as_long() -> None:
    def seconds(number: int) -> float:
        """The least of three: lines from call to call, 0.2 m each, along K and the trunkings that go on from it."""
        trunks = [carrier(f"K{n}", (4000 * n, 0, 0), (4000 * n + 4000, 0, 0)) for n in range(50)]
        calls = [outlet(f"S{n}", (200 * n, 0, 200)) for n in range(number + 1)]
        ends = [
            ((200 * n, 0, 200), (200 * n, 0, 0), (200 * n + 200, 0, 0), (200 * n + 200, 0, 200)) for n in range(number)
        ]
        cables = tuple(line(f"c{n}", *points) for n, points in enumerate(ends))
        ways = DrawnWays(installation(*trunks, *calls, model_cables=cables), {})
        of = circuit("P1", *(call.key for call in calls))
        took = []
        for _ in range(3):
            begun = time.process_time()
            way = ways.way(of)
            took.append(time.process_time() - begun)
            assert way is not None
            assert not way.missed
        return min(took)

    assert seconds(990) < 40.0 * seconds(99)  # a hundred times, where every line is compared with every other
