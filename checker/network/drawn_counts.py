"""How many times a circuit's cables pass each stretch of a carrier, told from the lines in which they are drawn.

Lines of one bundle are one pass, as far as the schedule has as many cables; what is drawn beside itself in one line passes more than once.
Bundles beside each other are passes of their own.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from checker.network.drawn_bundles import Bundle
from checker.network.drawn_passes import Pass
from checker.network.drawn_strands import Strand

#: Lines beside each other don't end at one place to the millimetre: what one is longer by than this goes on with the pass before it.
STAGGER_MM = 200.0


@dataclass(frozen=True, slots=True)
class CountedPass:
    """A pass of all the circuit's cables. ``line`` counts stretches of lines: between passes of different ones the cables don't go on."""

    line: int
    item: Pass


@dataclass(frozen=True, slots=True)
class Apart:
    """A carrier that only some of the lines pass in which one pass is drawn: ``lines`` of ``beside``, or of a multiple of that."""

    carrier: int
    lines: int
    beside: int


@dataclass(frozen=True, slots=True)
class Counted:
    """Passes in order, and carriers through which the lines of one pass part. ``length_mm`` is of all passes together."""

    passes: tuple[CountedPass, ...]
    apart: tuple[Apart, ...]
    length_mm: float


@dataclass(frozen=True, slots=True)
class _Cell:
    """A stretch of a carrier that the same lines of a bundle pass: ``lines`` in all, ``wanted`` the passes that they are."""

    low_mm: float
    high_mm: float
    lines: int
    wanted: int


#: The number of a bundle, and of a carrier.
_Key = tuple[int, int]


def counted(strands: Sequence[Strand], bundles: Sequence[Bundle]) -> Counted:
    """The passes of a circuit's strands, which are in order."""
    bundle_of = {number: own for own, bundle in enumerate(bundles) for number in bundle.strands}
    by_key: dict[_Key, list[tuple[int, Pass]]] = defaultdict(list)
    for number, strand in enumerate(strands):
        for item in strand.passes:
            by_key[bundle_of[number], item.carrier].append((number, item))
    cells = {key: _cells(own, bundles[key[0]].unit) for key, own in by_key.items()}
    apart = (
        Apart(carrier, lines, bundles[number].beside)
        for (number, carrier), own in sorted(cells.items())
        if (lines := _steady(own)) % bundles[number].beside
    )
    spans = (
        (strand.passes[-1].ends_mm - strand.passes[0].begins_mm) / bundles[bundle_of[number]].unit
        for number, strand in enumerate(strands)
        if strand.passes
    )
    return Counted(_Taken(cells).passes(strands, bundle_of), tuple(apart), sum(spans))


class _Taken:
    """Takes passes of strands, one after the other, until each cell has as many as it is wanted to have."""

    def __init__(self, cells: Mapping[_Key, list[_Cell]]) -> None:
        self._cells = cells
        self._kept = {key: [0] * len(own) for key, own in cells.items()}
        self._found: list[CountedPass] = []
        self._of: dict[_Key, list[int]] = defaultdict(list)
        self._line = 0

    def passes(self, strands: Sequence[Strand], bundle_of: Mapping[int, int]) -> tuple[CountedPass, ...]:
        for number, strand in enumerate(strands):
            self._line += 1
            for item in strand.passes:
                self._take((bundle_of[number], item.carrier), item)
        return tuple(self._found)

    def _take(self, key: _Key, item: Pass) -> None:
        """Takes the parts of a pass that aren't counted yet."""
        cells, kept = self._cells[key], self._kept[key]
        own = [n for n, cell in enumerate(cells) if item.low_mm <= cell.low_mm and cell.high_mm <= item.high_mm]
        missing = [n for n in own if kept[n] < cells[n].wanted]
        if missing != own:
            self._line += 1
        is_onward = item.to_mm >= item.from_mm
        groups = [
            [n for _, n in group] for _, group in itertools.groupby(enumerate(missing), lambda pair: pair[1] - pair[0])
        ]
        for numbers in groups if is_onward else groups[::-1]:
            low, high = cells[numbers[0]].low_mm, cells[numbers[-1]].high_mm
            most = max(kept)
            is_stagger = high - low < STAGGER_MM and all(cells[n].wanted <= most for n in numbers)
            for n in numbers:
                kept[n] += 1
            if is_stagger and self._goes_on(key, low, high):
                continue
            self._of[key].append(len(self._found))
            part = replace(item, from_mm=low if is_onward else high, to_mm=high if is_onward else low)
            self._found.append(CountedPass(self._line, part))
        if missing != own:
            self._line += 1

    def _goes_on(self, key: _Key, low_mm: float, high_mm: float) -> bool:
        """Lengthens a pass of the same bundle that ends where a stretch begins, by that, if there is one."""
        for number in self._of[key]:
            known = self._found[number]
            item = known.item
            if low_mm == item.high_mm or high_mm == item.low_mm:
                low, high = min(low_mm, item.low_mm), max(high_mm, item.high_mm)
                is_onward = item.to_mm >= item.from_mm
                longer = replace(item, from_mm=low if is_onward else high, to_mm=high if is_onward else low)
                self._found[number] = CountedPass(known.line, longer)
                return True
        return False


def _cells(passes: Sequence[tuple[int, Pass]], unit: int) -> list[_Cell]:
    """A carrier in stretches that the same lines of a bundle pass."""
    marks = sorted({mark for _, item in passes for mark in (item.low_mm, item.high_mm)})
    number = {mark: n for n, mark in enumerate(marks)}
    lines: list[dict[int, int]] = [{} for _ in marks[1:]]
    for strand, item in passes:
        for n in range(number[item.low_mm], number[item.high_mm]):
            lines[n][strand] = lines[n].get(strand, 0) + 1
    return [
        _Cell(low, high, sum(by.values()), max(math.ceil(sum(by.values()) / unit), max(by.values(), default=0)))
        for (low, high), by in zip(itertools.pairwise(marks), lines, strict=True)
    ]


def _steady(cells: Sequence[_Cell]) -> int:
    """How many lines pass the longest stretch of a carrier."""
    longest = max(cells, key=lambda cell: (round(cell.high_mm - cell.low_mm), cell.lines))
    return longest.lines
