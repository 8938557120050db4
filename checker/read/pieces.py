"""Puts the pieces of an element that is a whole run in order: pipes or sections that follow one another."""

import itertools
from collections.abc import Sequence

from checker.model.geometry import angle_deg, distance, dot, sub
from checker.read.chords import Curve, chained, straight
from checker.read.shapes import Sweep

#: Pieces follow one another if their ends are this near, in sizes of the section: an elbow may be missing between them.
NEAR_SIZES = 3.0
#: No way turns back so sharply; pipes that lie side by side would follow one another back and forth.
SHARPEST_DEG = 165.0
#: Two pieces are in line if they turn by less.
STRAIGHT_DEG = 5.0
#: An element of more pieces than this isn't a run of pipe.
MOST_PIECES = 200


def same_section(sweeps: Sequence[Sweep]) -> bool:
    """Whether all have one section."""
    return len({(_rounded(sweep.width), _rounded(sweep.height), _rounded(sweep.diameter)) for sweep in sweeps}) == 1


def _rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.4g}")


def in_order(sweeps: Sequence[Sweep]) -> Curve | None:
    """The pieces one after the other, each turned as it must be; None where they aren't one line."""
    if len(sweeps) > MOST_PIECES:
        return None
    size = max(max(sweep.diameter or 0.0, sweep.width or 0.0, sweep.height or 0.0) for sweep in sweeps)
    reach = NEAR_SIZES * size
    left = [sweep.path for sweep in sweeps]
    line = [left.pop(0)]
    while left:
        # the nearest of all ends to either end of the line so far
        gap, index, at_end, turned = min(
            (distance(here, there), index, at_end, turned)
            for index, path in enumerate(left)
            for at_end, here in ((True, line[-1].end), (False, line[0].start))
            for turned, there in (
                (False, path.start if at_end else path.end),
                (True, path.end if at_end else path.start),
            )
        )
        if gap > reach:
            return None
        path = left.pop(index)
        path = path.turned_round() if turned else path
        line = [*line, path] if at_end else [path, *line]
    if any(angle_deg(a.ways[1], b.ways[0]) > SHARPEST_DEG for a, b in itertools.pairwise(line)):
        return None
    for number in range(1, len(line)):
        line[number] = _past(line[number - 1], line[number])
    return chained(line)


def _past(before: Curve, path: Curve) -> Curve:
    """A straight piece, from where the one before it ends if it begins within that: one is put into the other's socket."""
    onward, gap = before.ways[1], sub(path.start, before.end)
    is_within = dot(gap, onward) < 0.0 and dot(sub(path.end, before.end), onward) > 0.0
    if not is_within or len(path.points) > 2 or angle_deg(onward, path.ways[0]) > STRAIGHT_DEG:
        return path
    return straight([before.end, path.end]) or path
