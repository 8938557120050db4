"""What lies between the passes of drawn lines: fittings, gaps, and places where lines don't meet that should."""

import itertools
from collections.abc import Callable, Iterable, Sequence

from scipy.spatial import cKDTree

from checker.model import Fitting, Vec
from checker.model.geometry import add, distance, norm, scale, sub
from checker.network.bodies import MOST_MM, nearest_on
from checker.network.cells import Grid
from checker.network.drawn_lines import Line, join, root
from checker.network.drawn_strands import Strand

#: A stretch is looked at this often, and no more than so many times.
STEP_MM, MOST_STEPS = 25.0, 200
#: More fittings than this around one place are more than anybody draws.
MOST_AROUND = 2000
#: A line begins at another if one of its ends is as near to any place of that, and no carrier lies between that neither passes.
MEETS_MM = 500.0
#: Of more lines that are so near to an end the farther ones aren't looked at.
MOST_MET = 50


class FittingBodies:
    """The bodies of fittings, in which a line lies in no carrier and is led nevertheless.

    Args:
        fittings: Those with a body.
    """

    def __init__(self, fittings: Iterable[Fitting]) -> None:
        self._bodies = [fitting.body for fitting in fittings if fitting.body is not None]
        self._grid = Grid(MOST_MM)
        for number, body in enumerate(self._bodies):
            self._grid.add(number, [body.centre_mm], norm(body.half_mm))

    def outside_mm(self, line: Line, begins_mm: float, ends_mm: float) -> float:
        """How much of a stretch of a line lies in no fitting, nor as near to one as ends that meet it may lie."""
        length = ends_mm - begins_mm
        steps = min(max(int(length / STEP_MM), 1), MOST_STEPS)
        places = (begins_mm + length * (step + 0.5) / steps for step in range(steps))
        outside = sum(not self._is_in_one(point) for point in points_at(line, places))
        return length * outside / steps

    def _is_in_one(self, point: Vec) -> bool:
        around = self._grid.near(point, MOST_AROUND)
        return any(self._bodies[number].off_mm(point) <= MOST_MM for number in around or ())


def points_at(line: Line, places_mm: Iterable[float]) -> list[Vec]:
    """The points of a line at places along it, which are in order."""
    found: list[Vec] = []
    pieces = itertools.pairwise(line)
    a, b = next(pieces)
    before, length = 0.0, distance(a, b)
    for place in places_mm:
        while place > before + length and (onward := next(pieces, None)) is not None:
            before += length
            a, b = onward
            length = distance(a, b)
        found.append(add(a, scale(sub(b, a), min((place - before) / length, 1.0))))
    return found


def parts_of(
    strands: Sequence[Strand],
    near: Callable[[Vec], Sequence[float]],
    terminals: Sequence[Vec],
    reach_mm: float,
    skips: Callable[[Vec, Vec], bool],
) -> int:
    """In how many parts that don't meet a circuit's lines are drawn.

    Args:
        strands: Its lines.
        near: How far each of them is from a point.
        terminals: The equipment where it begins and calls, which joins all lines that end in reach of it.
        reach_mm: How far that is.
        skips: Whether what lies straight between two points runs along a carrier that no line passes: then nothing meets there.
    """
    part = list(range(len(strands) + len(terminals)))
    left = len(part)
    ends = [(number, end) for number, strand in enumerate(strands) for end in strand.ends]
    for _, number, terminal in sorted(_at(terminals, [end for _, end in ends], reach_mm)):
        owner, end = ends[number]
        if not _is_one(part, owner, len(strands) + terminal) and not skips(end, terminals[terminal]):
            left -= join(part, owner, len(strands) + terminal)
    for number, end in ends:
        if left == 1:
            return 1
        near_by = [(off, other) for other, off in enumerate(near(end)) if off <= MEETS_MM]
        apart = [other for _, other in sorted(near_by) if not _is_one(part, number, other)]
        for other in apart[:MOST_MET]:
            there = nearest_on(strands[other].line, end)
            left -= 0 if there is None or skips(end, there[2]) else join(part, number, other)
    return len({root(part, number) for number in range(len(strands))})


def _at(terminals: Sequence[Vec], ends: Sequence[Vec], reach_mm: float) -> list[tuple[float, int, int]]:
    """How far ends in reach of equipment are from it, with the numbers of both."""
    if not terminals:
        return []
    near = cKDTree(ends).query_ball_point(terminals, reach_mm)
    return [
        (round(distance(ends[number], point), 1), number, terminal)
        for terminal, (point, found) in enumerate(zip(terminals, near, strict=True))
        for number in found
    ]


def _is_one(part: list[int], one: int, other: int) -> bool:
    return root(part, one) == root(part, other)
