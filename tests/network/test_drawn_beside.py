"""Drawn lines that end beside the board, or a call, and don't begin or end there count in doubt more often."""

import pytest

from tests.installations import carrier, circuit, outlet
from tests.network.test_drawn import line
from tests.network.test_drawn_counts import DB, K, passes

#: Trunks in line from 0 to 4 m and on to 12 m, with the board where they meet and a call at either end.
TRUNKS = (carrier("J1", (0, 0, 0), (4000, 0, 0)), carrier("J2", (4000, 0, 0), (12000, 0, 0)))
FAR, NEAR = outlet("S1", (12000, 0, 300)), outlet("S2", (0, 0, 300))
BY_BOTH = circuit("P1", "DB", "S1", "S2", count=8)
TO_FAR, TO_NEAR = [(12000, 0, 0), (12000, 0, 300)], [(0, 0, 0), (0, 0, 300)]


@pytest.mark.parametrize("gap", [0, 20, 50, 100, 300])
@pytest.mark.parametrize("at", [4020, 4060, 4300])
@pytest.mark.parametrize("high", [300, 30, 0])
def test_what_comes_back_by_the_board_without_going_up_to_it_doesnt_begin_there(high: int, at: int, gap: int) -> None:
    """Out to S1, back past the board and on to S2: J2 is passed twice, J1 once."""
    out = line("out", (4000, 0, high), *([(4000, 0, 0)] if high else []), *TO_FAR)
    back = line("back", *TO_FAR[::-1], (at, 0, 0))
    on = line("on", (at - gap, 0, 0), *TO_NEAR)
    found, way = passes([out, back, on], BY_BOTH, *TRUNKS, outlet("DB", (4000, 0, high)), FAR, NEAR)
    assert found["J1"] == 1
    assert found["J2"] == 2
    assert not way.has_gap


def test_what_comes_back_under_a_board_to_which_no_line_goes_up_counts_too() -> None:
    cables = [
        line("out", (4000, 0, 0), *TO_FAR),
        line("back", *TO_FAR[::-1], (4020, 0, 0)),
        line("on", (4020, 0, 0), *TO_NEAR),
    ]
    assert passes(cables, BY_BOTH, *TRUNKS, outlet("DB", (4000, 0, 300)), FAR, NEAR)[0] == {"J1": 1, "J2": 2}


def test_a_ring_that_comes_back_by_the_board_on_its_way_passes_both_trunks_twice() -> None:
    """As many lines on both sides of the board: out to S1 and back by J2, on to S2 and back by J1."""
    cables = [
        line("1", (4000, 0, 300), (4000, 0, 0), *TO_FAR),
        line("2", *TO_FAR[::-1], (4020, 0, 0)),
        line("3", (4020, 0, 0), *TO_NEAR),
        line("4", *TO_NEAR[::-1], (3990, 0, 0), (3990, 0, 300)),
    ]
    ring = circuit("P1", "DB", "S1", "S2", "DB", count=8)
    found, way = passes(cables, ring, *TRUNKS, outlet("DB", (4000, 0, 300)), FAR, NEAR)
    assert found == {"J1": 2, "J2": 2}
    assert not way.has_gap


@pytest.mark.parametrize("cores", [1, 2, 8])
@pytest.mark.parametrize("high", [0, 300])
def test_cores_of_home_runs_both_ways_that_end_beside_each_other_are_one_pass_each(cores: int, high: int) -> None:
    """``high`` above the trunks or in them, below the board either way."""
    up = [(4000, 0, high), (4000, 0, 0)] if high else [(4000, 0, 0)]
    cables = [line(f"{name}{n}", *up, *way) for n in range(cores) for name, way in (("a", TO_FAR), ("b", TO_NEAR))]
    assert passes(cables, BY_BOTH, *TRUNKS, outlet("DB", (4000, 0, 300)), FAR, NEAR)[0] == {"J1": 1, "J2": 1}


def test_a_line_cut_beside_a_call_behind_its_drop_there_goes_on_back() -> None:
    """To S1, down to it and 40 mm back in the one line, all the rest of the way back in the other: K is passed twice."""
    call = outlet("S1", (4000, 0, 300))
    there = line("a", (100, 0, 0), (4000, 0, 0), (4000, 0, 300), (4000, 0, 0), (3960, 0, 0))
    back = line("b", (3960, 0, 0), (0, 0, 0), (0, 200, 0))
    assert passes([there, back], circuit("P1", "DB", "S1", count=9), K, DB, call)[0] == {"K": 2}
