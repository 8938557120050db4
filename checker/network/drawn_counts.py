"""How many times a circuit's cables pass each stretch of a carrier, told from the lines in which they are drawn.

A model draws each single core of a circuit, or one line for all of them. So the lines that leave its origin for one place beside each
other are one pass, as far as the schedule has as many cables; what is drawn beside itself in one line passes more than once.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from scipy.spatial import cKDTree

from checker.model import Circuit
from checker.model.geometry import distance
from checker.network.drawn_passes import Pass
from checker.network.drawn_strands import SAME_END_MM, Strand

#: Lines beside each other don't end at one place to the millimetre: less than this is no pass of its own.
STAGGER_MM = 200.0


@dataclass(frozen=True, slots=True)
class Counted:
    """Passes in order, each of all the circuit's cables.

    ``beside`` is how many lines beside each other one pass is drawn in, ``scheduled`` how many cables the schedule has for one; None: not
    known. ``apart`` are carriers that only some of those lines pass, with how many do.
    """

    passes: tuple[Pass, ...]
    beside: int
    scheduled: int | None
    apart: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class _Cell:
    """A stretch of a carrier that the same lines pass: ``lines`` in all, ``own`` the most passes of one line."""

    low_mm: float
    high_mm: float
    lines: int
    own: int

    def passes(self, unit: int) -> int:
        return max(math.ceil(self.lines / unit), self.own)


def counted(strands: Sequence[Strand], circuit: Circuit) -> Counted:
    """The passes of a circuit's strands, which are in order."""
    beside, scheduled = _beside(strands, circuit), _scheduled(circuit)
    unit = min(beside, scheduled) if scheduled else beside
    by_carrier: dict[int, list[tuple[int, Pass]]] = defaultdict(list)
    for number, strand in enumerate(strands):
        for item in strand.passes:
            by_carrier[item.carrier].append((number, item))
    cells = {carrier: _cells(own) for carrier, own in by_carrier.items()}
    passes: list[Pass] = []
    kept: dict[int, list[int]] = {carrier: [0] * len(own) for carrier, own in cells.items()}
    for strand in strands:
        for item in strand.passes:
            passes += _wanted(item, cells[item.carrier], kept[item.carrier], unit)
    apart = tuple(
        (carrier, lines)
        for carrier, own in sorted(cells.items())
        if beside > 1 and (lines := _steady(own)) and lines % beside
    )
    return Counted(tuple(passes), beside, scheduled, apart)


def _scheduled(circuit: Circuit) -> int | None:
    """How many cables the schedule has for one pass; None where that isn't known."""
    counts = [cable.count for cable in circuit.cables]
    if None in counts or not {"count", "sets"}.isdisjoint(circuit.unread):
        return None
    return sum(count for count in counts if count is not None) * circuit.sets or None


def _beside(strands: Sequence[Strand], circuit: Circuit) -> int:
    """How many lines one pass is drawn in: those that leave the origin for one and the same place; of a ring half of those."""
    start = strands[0].line[0]
    leaving = [strand for strand in strands if min(distance(end, start) for end in strand.ends) <= SAME_END_MM]
    closed = [strand for strand in leaving if max(distance(end, start) for end in strand.ends) <= SAME_END_MM]
    far = [max(strand.ends, key=lambda end: distance(end, start)) for strand in leaving if strand not in closed]
    alike = int(max(cKDTree(far).query_ball_point(far, SAME_END_MM, return_length=True))) if far else 0
    if circuit.calls and circuit.calls[-1] == circuit.origin:
        alike //= 2
    return max(alike, len(closed), 1)


def _cells(passes: Sequence[tuple[int, Pass]]) -> list[_Cell]:
    """A carrier in stretches that the same lines pass."""
    marks = sorted({mark for _, item in passes for mark in (item.low_mm, item.high_mm)})
    number = {mark: n for n, mark in enumerate(marks)}
    lines: list[dict[int, int]] = [{} for _ in marks[1:]]
    for strand, item in passes:
        for n in range(number[item.low_mm], number[item.high_mm]):
            lines[n][strand] = lines[n].get(strand, 0) + 1
    return [
        _Cell(low, high, sum(by.values()), max(by.values(), default=0))
        for (low, high), by in zip(itertools.pairwise(marks), lines, strict=True)
    ]


def _wanted(item: Pass, cells: Sequence[_Cell], kept: list[int], unit: int) -> list[Pass]:
    """The parts of a pass that aren't counted yet, but for a stagger."""
    missing = [
        n
        for n, cell in enumerate(cells)
        if item.low_mm <= cell.low_mm and cell.high_mm <= item.high_mm and kept[n] < cell.passes(unit)
    ]
    is_onward, is_first = item.to_mm >= item.from_mm, not any(kept)
    found = []
    for _, group in itertools.groupby(enumerate(missing), lambda pair: pair[1] - pair[0]):
        numbers = [n for _, n in group]
        low, high = cells[numbers[0]].low_mm, cells[numbers[-1]].high_mm
        if high - low >= STAGGER_MM or is_first:
            for n in numbers:
                kept[n] += 1
            found.append(replace(item, from_mm=low if is_onward else high, to_mm=high if is_onward else low))
    return found if is_onward else found[::-1]


def _steady(cells: Sequence[_Cell]) -> int:
    """How many lines pass the longest stretch of a carrier."""
    longest = max(cells, key=lambda cell: (round(cell.high_mm - cell.low_mm), cell.lines))
    return longest.lines
