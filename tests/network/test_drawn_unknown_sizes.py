"""A size that isn't known closes no gap between drawn cables and carriers.

T is a trunking 75 × 50 along x. A line runs along it to 3 m and turns off along y: it leaves T's box at 37.5 + 10 = 47.5 mm from the axis.
With its width not known the box reaches to 50 + 10 = 60 mm.
"""

from dataclasses import replace

import pytest

from tests.installations import STEEL_50, carrier, installation, outlet
from tests.network.test_drawn import line, visits, way_of

T = replace(carrier("T", (0, 0, 0), (4000, 0, 0), replace(STEEL_50, width_mm=75.0)), across=(0, 1, 0))
NO_WIDTH = replace(T, section=replace(T.section, width_mm=None))
NO_HEIGHT = replace(T, section=replace(T.section, height_mm=None))
NO_SIZE = replace(T, section=replace(T.section, width_mm=None, height_mm=None))
DB = outlet("DB", (0, 0, 200))
JOINED = {"T": {"V"}, "V": {"T"}}


def gaps(trunking: object, y: float, neighbours: dict[str, set[str]]) -> int:
    """How many gaps there are where another trunking begins so far beside T's axis."""
    other = carrier("V", (3000, y, 0), (3000, 5000, 0))
    cable = line("a", (0, 0, 200), (0, 0, 0), (3000, 0, 0), (3000, 5000, 0), (3000, 5000, 200))
    way = way_of([cable], trunking, other, DB, outlet("S1", (3000, 5000, 200)), neighbours=neighbours)  # type: ignore[arg-type]
    assert [key for key, _, _ in visits(way)] == ["T", "V"]
    return len(way.gaps)


@pytest.mark.parametrize("trunking", [NO_WIDTH, NO_HEIGHT, NO_SIZE])
@pytest.mark.parametrize(("y", "neighbours"), [(548, JOINED), (98, {})])
def test_a_gap_stays_one_where_a_size_isnt_known(trunking: object, y: float, neighbours: dict[str, set[str]]) -> None:
    """548 - 47.5 is over the 500 mm of a fitting, and 98 - 47.5 over the slit of 50 mm."""
    assert gaps(T, y, neighbours) == 1
    assert gaps(trunking, y, neighbours) == 1


@pytest.mark.parametrize(("y", "neighbours"), [(500, JOINED), (90, {})])
def test_where_all_sizes_are_known_what_is_within_the_allowance_is_none(
    y: float, neighbours: dict[str, set[str]]
) -> None:
    assert gaps(T, y, neighbours) == 0


@pytest.mark.parametrize("trunking", [T, NO_WIDTH])
def test_a_line_that_ends_out_of_reach_has_a_gap_whether_a_size_is_known_or_not(trunking: object) -> None:
    reach = installation().reach_mm
    cable = line("a", (0, 0, 200), (0, 0, 0), (3000, 0, 0), (3000, reach + 50, 0))  # 2.5 mm too far from 47.5
    (gap,) = way_of([cable], trunking, DB).gaps  # type: ignore[arg-type]
    assert (gap.before, gap.after) == ("T", "")


def test_carriers_of_unknown_size_end_to_end_leave_no_gap() -> None:
    on = replace(NO_SIZE, key="V", start_mm=(4000.0, 0.0, 0.0), end_mm=(8000.0, 0.0, 0.0))
    cable = line("a", (0, 0, 200), (0, 3, 0), (8000, 3, 0), (8000, 0, 200))
    assert way_of([cable], NO_SIZE, on, DB, neighbours={}).gaps == ()
