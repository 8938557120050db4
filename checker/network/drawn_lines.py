"""The lines in which a model draws a circuit's cables: pieces that follow each other are one, wherever they are cut.

Nothing here depends on the order in which a model lists its cables, nor on the end at which a line begins.
"""

import itertools
import math
from collections.abc import Sequence

import numpy as np
from scipy.spatial import cKDTree

from checker.model import ModelCable, Vec
from checker.model.geometry import angle_deg, distance, sub
from checker.network.bodies import HAIR_MM

Line = tuple[Vec, ...]
#: Lines follow each other if their ends are this near.
FOLLOWS_MM = 50.0
#: One circuit is drawn in no more lines than this; of more nothing is put together.
MOST_LINES = 1000
#: What ends as near to equipment as this ends at it.
TERMINAL_MM = 500.0
#: A line that turns back more sharply where it is cut isn't the same line: cores beside each other would be one, back and forth.
SHARPEST_DEG = 150.0
#: The direction of an end is the one over this length: the last piece of all may be a stub.
END_MM = 50.0
#: Of more ends at one place than this, the farther ones aren't looked at.
MOST_ENDS = 8
#: Lines of one cable are its cores, and stand for one, if their ends are this near and their lengths differ by no more than this share.
CORES_MM, CORES_SHARE = 100.0, 0.1


def lines_of(cable: ModelCable) -> list[Line]:
    """The lines of one cable: its path, else its pieces put together; cores beside each other are one."""
    drawn = [cable.path_mm] if cable.path_mm else list(cable.pieces_mm)
    lines = [line for path in drawn if len(line := _cleaned(path)) > 1]
    if not 1 < len(lines) <= MOST_LINES:
        return lines
    found: list[Line] = []
    for line in sorted(chained(lines), key=lambda line: (-round(length_mm(line)), line)):
        if not any(_is_beside(line, other) for other in found):
            found.append(line)
    return found


def chained(lines: Sequence[Line], terminals: Sequence[Vec] = (), nearest_mm: Sequence[float] = ()) -> list[Line]:
    """Lines that follow each other put together, in an order that depends on where they are alone.

    Args:
        lines: In any order.
        terminals: Where cables end, so that no line goes on there: equipment.
        nearest_mm: How near to each of them lines come: what ends beside one, and less near, may go on. None given: nothing does.
    """
    lines = sorted(min(line, line[::-1]) for line in lines)
    links = _links(lines, terminals, nearest_mm or [math.inf] * len(terminals))
    found, done = [], set()
    # a chain begins at an end that nothing follows; links close no ring, so that each chain has two of those
    for end in range(2 * len(lines)):
        if end in links or end // 2 in done:
            continue
        here = end
        points: list[Vec] = []
        while True:
            number, is_end = divmod(here, 2)
            done.add(number)
            points.extend(lines[number][::-1] if is_end else lines[number])
            onward = links.get(here ^ 1)
            if onward is None:
                break
            here = onward
        line = _cleaned(points)
        found.append(min(line, line[::-1]))
    return sorted(found)


def length_mm(line: Sequence[Vec]) -> float:
    """How long a line is."""
    return sum(distance(a, b) for a, b in itertools.pairwise(line))


def _links(lines: Sequence[Line], terminals: Sequence[Vec], nearest_mm: Sequence[float]) -> dict[int, int]:
    """Which ends follow each other, both ways; 2n is a line's start, 2n + 1 its end. The nearest first, then the straightest."""
    points = [point for line in lines for point in (line[0], line[-1])]
    onward = list(range(len(points)))
    if terminals and points:
        off, at = cKDTree(list(terminals)).query(points)
        most = np.minimum(np.array(nearest_mm) + FOLLOWS_MM, TERMINAL_MM)[at]
        onward = np.flatnonzero(off > most).tolist()
    links: dict[int, int] = {}
    part = list(range(len(lines)))
    for one, other in following(lines, onward):
        if one not in links and other not in links and join(part, one // 2, other // 2):
            links[one], links[other] = other, one
    return links


def following(
    lines: Sequence[Line], ends: Sequence[int], within_mm: float = FOLLOWS_MM, most: int = MOST_ENDS
) -> list[tuple[int, int]]:
    """Which ends of different lines could follow each other, the nearest first, then the straightest.

    Args:
        lines: Of each, 2n is its start and 2n + 1 its end.
        ends: Those that are looked at, in order.
        within_mm: How far two may be from each other.
        most: Of more ends that are so near to one the farther ones aren't looked at.
    """
    if len(ends) < 2:
        return []
    points = [lines[end // 2][-(end % 2)] for end in ends]
    away = [_way_out(lines[end // 2] if end % 2 else lines[end // 2][::-1]) for end in ends]
    near = cKDTree(points).query(points, k=min(most + 1, len(points)), distance_upper_bound=within_mm + HAIR_MM)[1]
    pairs = []
    for one, others in enumerate(near.tolist()):
        for other in others:
            if other < len(points) and one < other and ends[one] // 2 != ends[other] // 2:
                turn = 180.0 - angle_deg(away[one], away[other])
                if turn <= SHARPEST_DEG:
                    pairs.append(
                        (round(distance(points[one], points[other]), 1), round(turn, 1), ends[one], ends[other])
                    )
    return [(one, other) for _, _, one, other in sorted(pairs)]


def join(part: list[int], one: int, other: int) -> bool:
    """Makes one part of two members' parts; whether they were two."""
    mine, theirs = root(part, one), root(part, other)
    part[max(mine, theirs)] = min(mine, theirs)
    return mine != theirs


def root(part: list[int], number: int) -> int:
    """What stands for the part that a member is of; ``part`` leads from each to another of the same, and is shortened."""
    while part[number] != number:
        part[number] = part[part[number]]
        number = part[number]
    return number


def _way_out(line: Line) -> Vec:
    """The direction in which a line leaves at its end."""
    end = line[-1]
    back = next((point for point in line[-2::-1] if distance(point, end) >= END_MM), line[0])
    return sub(end, back if back != end else line[-2])


def _cleaned(points: Sequence[Vec]) -> Line:
    """The points without those that repeat the one before."""
    return tuple(point for point, before in zip(points, (None, *points), strict=False) if point != before)


def _is_beside(one: Line, other: Line) -> bool:
    ends = min(
        max(distance(one[0], first), distance(one[-1], last))
        for first, last in ((other[0], other[-1]), (other[-1], other[0]))
    )
    lengths = (length_mm(one), length_mm(other))
    return ends <= CORES_MM and abs(lengths[0] - lengths[1]) <= CORES_SHARE * max(lengths)
