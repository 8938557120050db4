"""What lies between the passes of drawn lines: fittings, gaps, and places where lines don't meet that should."""

import itertools
from collections.abc import Iterable, Sequence

from scipy.spatial import cKDTree

from checker.model import Fitting, Vec
from checker.model.geometry import add, distance, norm, scale, sub
from checker.network.bodies import MOST_MM
from checker.network.cells import Grid
from checker.network.drawn_lines import Line
from checker.network.drawn_strands import Strand

#: A stretch is looked at this often, and no more than so many times.
STEP_MM, MOST_STEPS = 25.0, 200
#: More fittings than this around one place are more than anybody draws.
MOST_AROUND = 2000
#: A line begins at another if one of its ends is as near to any place of that.
MEETS_MM = 500.0
#: Whether lines meet is looked for at places so far apart along them, or farther, so that they aren't more than so many.
SPACING_MM, MOST_PLACES = 250.0, 20_000


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


def parts_of(strands: Sequence[Strand], terminals: Sequence[Vec], reach_mm: float) -> int:
    """In how many parts that don't meet a circuit's lines are drawn.

    Args:
        strands: Its lines.
        terminals: The equipment where it begins and calls, which joins all lines that end in reach of it.
        reach_mm: How far that is.
    """
    if len(strands) < 2:
        return len(strands)
    spacing = max(SPACING_MM, sum(strand.length_mm for strand in strands) / MOST_PLACES)
    owners: list[int] = []
    points: list[Vec] = []
    for number, strand in enumerate(strands):
        steps = max(int(strand.length_mm / spacing), 1)
        some = points_at(strand.line, (strand.length_mm * step / steps for step in range(steps + 1)))
        points += some
        owners += [number] * len(some)
    tree, part = cKDTree(points), list(range(len(strands)))
    ends = [(number, end) for number, strand in enumerate(strands) for end in strand.ends]
    for number, end in ends:
        met = {owners[near] for near in tree.query_ball_point(end, MEETS_MM + spacing / 2.0)}
        part = _one(part, {number, *met})
    for terminal in terminals:
        part = _one(part, {number for number, end in ends if distance(end, terminal) <= reach_mm})
    return len(set(part))


def _one(part: list[int], met: set[int]) -> list[int]:
    """The part of each, where some are found to be of one."""
    theirs = {part[number] for number in met}
    return part if len(theirs) < 2 else [min(theirs) if own in theirs else own for own in part]
