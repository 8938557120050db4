"""Scale, shapes and names on plans, apart from any page."""

import pytest

from checker.report.plan_labels import Named, labels
from checker.report.plan_paper import Paper, Piece, Rectangle, paper_for
from checker.report.plan_sheets import shares
from tests.report.results import box_mm


def test_a_slanting_carrier_is_drawn_slanting() -> None:
    # 3 m along and 4 m up: 5 m long; 100 mm across
    slanting = box_mm((0.0, 0.0, 0.0), (3000.0, 4000.0, 0.0), 100.0, 50.0)
    paper = Paper((0.0, 0.0), 100.0, 40.0, 500.0)

    shape = paper.piece(slanting).shape

    assert (2.0 * shape.half_along, 2.0 * shape.half_across) == pytest.approx((500.0, 10.0))
    # half-way along it is (1500, 2000), and across, which is to the left of its way, (−40, 30): 40 + 146 and 500 − 40 − 203
    assert shape.middle == pytest.approx((186.0, 257.0))


@pytest.mark.parametrize(
    ("px_per_m", "bar_m"), [(200.0, 1.0), (112.0, 2.0), (48.0, 5.0), (10.0, 20.0), (0.9, 200.0), (0.001, 200_000.0)]
)
def test_the_scale_bar_is_the_longest_step_of_one_two_or_five_in_240_px(px_per_m: float, bar_m: float) -> None:
    # 240 px are 1.2, 2.14, 5, 24, 267 and 240,000 m
    assert Paper((0.0, 0.0), px_per_m, 40.0, 500.0).bar_m() == pytest.approx(bar_m)


def test_one_short_carrier_is_not_blown_up_over_the_page_and_stands_in_its_middle() -> None:
    paper = paper_for([box_mm((7000.0, 7000.0, 0.0), (1000.0, 0.0, 0.0), 100.0, 50.0)])

    assert (paper.px_per_m, paper.left_px, paper.height_px) == (200.0, 500.0, 100.0)  # (1200 − 200) / 2; 0.1 · 200 + 80


def test_small_storeys_are_drawn_whole_and_large_ones_share_the_room() -> None:
    assert shares({"a": 1, "b": 10, "c": 5000}, 4000) == {"a": 1, "b": 10, "c": 3989}
    assert shares({"a": 3000, "b": 3001}, 4000) == {"a": 2000, "b": 2000}
    assert shares({"a": 2, "b": 3}, 4000) == {"a": 2, "b": 3}


def _along(number: int, name: str, length: float, y: float) -> Named:
    return Named(number, name, (Piece(Rectangle((600.0, y), (1.0, 0.0), length / 2.0, 2.0), is_upright=False),))


def test_names_go_to_the_longest_first_and_none_covers_another() -> None:
    # two lines 14 px apart between two others: there is room for one name between them, and no other
    lines = [
        _along(n, f"T-{n}", length, y)
        for n, length, y in ((1, 90.0, 100.0), (2, 80.0, 118.0), (3, 300.0, 92.0), (4, 300.0, 126.0))
    ]

    found = labels(lines, [], 300.0)

    # a name is 2 + 2 + 5.5 px off its line: T-3's above it and T-4's below; of the others the longer one gets the gap
    assert [(one.name, one.at[1]) for one in found][:2] == [("T-3", 82.5), ("T-4", 135.5)]
    assert [one.name for one in found][2:] == ["T-1"]


def test_a_name_longer_than_its_carrier_by_half_has_no_room_and_a_mark_keeps_names_off() -> None:
    # 5 letters are 5 · 6.4 + 2 = 34 px wide; two thirds of that are 22.7 px
    assert labels([_along(1, "T-001", 22.0, 100.0)], [], 300.0) == []
    assert len(labels([_along(1, "T-001", 24.0, 100.0)], [], 300.0)) == 1
    # marks on both sides of it
    assert labels([_along(1, "T-001", 24.0, 100.0)], [(600.0, 90.0), (600.0, 110.0)], 300.0) == []


def test_a_name_along_a_carrier_that_goes_up_reads_from_the_bottom_and_none_stands_on_its_head() -> None:
    turns = {}
    for along in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (0.6, 0.8), (-0.6, -0.8), (-0.6, 0.8)):
        piece = Piece(Rectangle((600.0, 150.0), along, 100.0, 2.0), is_upright=False)
        (label,) = labels([Named(1, "T-1", (piece,))], [], 300.0)
        turns[along] = label.turned_deg
    # cos 53.13° = 0.6
    assert list(turns.values()) == [0.0, 0.0, -90.0, -90.0, 53.1, 53.1, -53.1]
