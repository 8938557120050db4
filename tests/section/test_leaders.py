"""Marks as flags in the free room above the cables: to both sides of their cables, else all to one, never out of the room."""

import pytest

from checker.section.leaders import Pointed, within
from checker.section.sketch import END, START, Box, Text

WIDE_ROOM: Box = (0.0, 0.0, 1000.0, 300.0)


def flags(xs: tuple[float, float], room: Box) -> list[tuple[str, str]] | None:
    """Of two cables with long names the texts and to which side of their cables they stand; None: outside."""
    marks = within([Pointed(f"circuit number {place}", x, 400.0) for place, x in enumerate(xs)], room)
    if marks is None:
        return None
    texts = [mark for mark in marks if isinstance(mark, Text)]
    left, top, right, bottom = room
    for mark in texts:
        assert left <= mark.box[0] < mark.box[2] <= right
        assert top <= mark.box[1] < mark.box[3] <= bottom
    return sorted((mark.text, mark.anchor) for mark in texts)


@pytest.mark.parametrize(
    ("xs", "anchors"),
    [
        ((400.0, 600.0), (END, START)),  # away from each other
        ((10.0, 30.0), (START, START)),  # at the left wall there is no room to the left
        ((970.0, 990.0), (END, END)),  # nor to the right at the right one
        ((10.0, 990.0), None),  # the half to the left has no room there, and neither has all to the right
    ],
)
def test_flags_go_where_there_is_room(xs: tuple[float, float], anchors: tuple[str, str] | None) -> None:
    found = flags(xs, WIDE_ROOM)
    assert found == (None if anchors is None else [(f"circuit number {n}", side) for n, side in enumerate(anchors)])


def test_a_room_that_is_too_low_takes_one_row_of_flags_and_no_two() -> None:
    """A row is 19 px high; two cables so near to each other that their flags to one side need two rows."""
    assert flags((10.0, 30.0), (0.0, 278.0, 1000.0, 300.0)) is None
    assert flags((10.0, 30.0), (0.0, 258.0, 1000.0, 300.0)) is not None
    assert flags((400.0, 600.0), (0.0, 278.0, 1000.0, 300.0)) is not None
