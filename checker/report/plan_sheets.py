"""What is on the plan of which storey, and what is on none and why. How it looks is told elsewhere."""

import math
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeGuard

from checker.model import Vec
from checker.model.texts import listed, natural
from checker.report.plan_paper import Paper, Piece, Point, paper_for
from checker.result.camera import corners
from checker.result.network_tables import BreakRow, EquipmentRow, JoinRow, OpenEndRow
from checker.result.tables import CarrierRow, Result
from checker.units import MM_PER_M

#: So much is drawn; what is beyond it is said in words.
MOST_CARRIERS = 4000
MOST_PIECES = 100
MOST_PLANS = 60
MOST_MARKS = {"join": 12_000, "open end": 2000, "break": 200, "equipment mark": 4000}

#: Nothing stands so far from a model's origin, wherever on earth that is.
_MOST_MM = 1e11
#: What is so far off the middle of everything, and so many times farther than nearly all of it, would make a speck of the rest.
_FAR_MM = 1000.0 * MM_PER_M
_FAR_TIMES = 20.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """A carrier on a plan. ``number`` is its own on the whole page."""

    row: CarrierRow
    number: int
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """One storey's plan. ``storey`` is empty for carriers that are in none; ``left_out`` is how many had no room in the count."""

    storey: str
    carriers: tuple[Drawn, ...]
    joins: Mapping[str, tuple[Point, ...]]
    open_ends: tuple[tuple[OpenEndRow, Point], ...]
    breaks: tuple[tuple[BreakRow, Point, Point], ...]
    left_out: int
    equipment: tuple[tuple[EquipmentRow, Point], ...] = ()


@dataclass(frozen=True, slots=True)
class Sheets:
    """All plans, from the bottom up; they share one paper.

    ``not_drawn`` says what is on none of them. ``numbers`` are by key, of all carriers that there are and all that circuits name;
    ``break_numbers`` are of the breaks, by row, ``circuit_numbers`` of the circuits, by mark.
    """

    paper: Paper
    plans: tuple[Plan, ...]
    not_drawn: tuple[str, ...]
    numbers: Mapping[str, int]
    break_numbers: Mapping[BreakRow, int]
    circuit_numbers: Mapping[str, int]


def sheets(result: Result) -> Sheets:
    """The plans of a result."""
    rows = sorted(result.carriers, key=lambda row: (natural(row.place.label), row.key))
    keys = dict.fromkeys([row.key for row in rows] + sorted(key for row in result.circuits for key in row.carriers))
    numbers = {key: number for number, key in enumerate(keys, start=1)}
    placed = [row for row in rows if is_placed(row)]
    far = _far(placed)
    near = [row for row in placed if row.key not in far]
    by_storey: dict[str, list[CarrierRow]] = defaultdict(list)
    for row in near:
        by_storey[row.place.storey].append(row)
    every = sorted(by_storey, key=lambda storey: (min(map(_lowest_mm, by_storey[storey])), natural(storey), storey))
    storeys = every[:MOST_PLANS]
    room = shares({storey: len(by_storey[storey]) for storey in storeys}, MOST_CARRIERS)
    chosen = {storey: by_storey[storey][: room[storey]] for storey in storeys}
    beside = [point for row in result.equipment if row.storey in chosen and _is_point(point := row.point_mm)]
    paper = paper_for((box for own in chosen.values() for row in own for box in row.boxes[:MOST_PIECES]), beside)
    marks = _Marks(result, paper, {row.key: storey for storey, own in chosen.items() for row in own})
    plans = tuple(
        Plan(
            storey,
            tuple(
                Drawn(row, numbers[row.key], tuple(map(paper.piece, row.boxes[:MOST_PIECES]))) for row in chosen[storey]
            ),
            {way: tuple(points) for way, points in sorted(marks.joins[storey].items())},
            tuple(marks.open_ends[storey]),
            tuple(marks.breaks[storey]),
            len(by_storey[storey]) - len(chosen[storey]),
            tuple(marks.equipment[storey]),
        )
        for storey in storeys
    )
    told = [
        _told([row for row in rows if not is_placed(row)], "the model doesn't say where"),
        _told([row for row in rows if row.key in far], "too far away from all others"),
        _told(
            [row for storey in every[MOST_PLANS:] for row in by_storey[storey]], f"there are over {MOST_PLANS} storeys"
        ),
        _told(
            [row for row in near if len(row.boxes) > MOST_PIECES],
            f"all beyond their first {MOST_PIECES} straight pieces",
        ),
        *marks.not_drawn,
    ]
    break_numbers = {row: number for number, row in enumerate(sorted(result.breaks, key=_break_order), start=1)}
    marks_of_circuits = sorted({row.circuit for row in result.circuits}, key=lambda mark: (natural(mark), mark))
    circuit_numbers = {mark: number for number, mark in enumerate(marks_of_circuits, start=1)}
    return Sheets(paper, plans, tuple(filter(None, told)), numbers, break_numbers, circuit_numbers)


def _equipment_order(row: EquipmentRow) -> tuple[list[tuple[int, str]], str, str]:
    return natural(row.label), row.label, row.key


def _break_order(row: BreakRow) -> tuple[str, str, Vec, Vec]:
    return row.one, row.other, row.point_one_mm, row.point_other_mm


def is_placed(row: CarrierRow) -> bool:
    """Whether it is known where all of a carrier is."""
    return bool(row.boxes) and all(_is_point(corner) for box in row.boxes for corner in corners(box))


def shares(sizes: Mapping[str, int], most: int) -> dict[str, int]:
    """How many of each storey's carriers are drawn: all of the small ones', and of the large ones' as many each as there is room for."""
    room, given = most, {}
    for place, storey in enumerate(sorted(sizes, key=lambda one: (sizes[one], one))):
        given[storey] = min(sizes[storey], room // (len(sizes) - place))
        room -= given[storey]
    return given


def _is_point(point: Vec | None) -> TypeGuard[Vec]:
    return point is not None and all(math.isfinite(one) and abs(one) <= _MOST_MM for one in point)


def _lowest_mm(row: CarrierRow) -> float:
    return min(corner[2] for box in row.boxes for corner in corners(box))


def _far(rows: Sequence[CarrierRow]) -> set[str]:
    """Keys of what is so far away from the others that with it nothing of them could be seen."""
    if not rows:
        return set()
    middle = [sorted(row.boxes[0].corner_mm[axis] for row in rows)[len(rows) // 2] for axis in (0, 1)]
    away = {
        row.key: max(math.hypot(x - middle[0], y - middle[1]) for box in row.boxes for x, y, _ in corners(box))
        for row in rows
    }
    usual = sorted(away.values())[int(0.9 * (len(away) - 1))]
    return {key for key, distance in away.items() if distance > max(_FAR_MM, _FAR_TIMES * usual)}


def _told(rows: Sequence[CarrierRow], why: str) -> str:
    if not rows:
        return ""
    return f"{counted(len(rows), 'carrier')}: {why} ({listed([row.place.label for row in rows], 10)})"


def counted(number: int, word: str) -> str:
    """A number of things: ``1 join``, ``2 joins``."""
    return f"{number} {word}{'' if number == 1 else 's'}"


class _Marks:
    """Joins, open ends, breaks and equipment by the storeys on whose plans they are."""

    def __init__(self, result: Result, paper: Paper, storeys: Mapping[str, str]) -> None:
        self._paper, self._storeys = paper, storeys
        self.joins: dict[str, dict[str, list[Point]]] = defaultdict(lambda: defaultdict(list))
        self.open_ends: dict[str, list[tuple[OpenEndRow, Point]]] = defaultdict(list)
        self.breaks: dict[str, list[tuple[BreakRow, Point, Point]]] = defaultdict(list)
        self.equipment: dict[str, list[tuple[EquipmentRow, Point]]] = defaultdict(list)
        self._reasons: Counter[tuple[str, str]] = Counter()
        self._drawn: Counter[str] = Counter()
        self._add_joins(result.joins)
        self._add_open_ends(result.open_ends)
        self._add_breaks(result.breaks)
        self._add_equipment(result.equipment, set(storeys.values()))

    @property
    def not_drawn(self) -> list[str]:
        """What isn't drawn, with the reason."""
        return [f"{counted(number, what)}: {why}" for (what, why), number in sorted(self._reasons.items())]

    def _points(self, what: str, storeys: Collection[str], *points: Vec | None) -> list[Point]:
        """Points on the sheet; none where not all of them can be drawn, which is counted."""
        known = [point for point in points if point is not None and _is_point(point)]
        found = [self._paper.px(point) for point in known]
        why = ""
        if len(known) < len(points):
            why = "it isn't known where"
        elif not storeys:
            why = "what is there isn't drawn either"
        elif not all(map(self._paper.holds, found)):
            why = "that is off the sheet"
        elif self._drawn[what] >= MOST_MARKS[what]:
            why = f"more than {MOST_MARKS[what]} would hide the carriers"
        if why:
            self._reasons[what, why] += 1
            return []
        self._drawn[what] += 1
        return found

    def _add_joins(self, rows: Sequence[JoinRow]) -> None:
        beside: dict[str, set[str]] = defaultdict(set)
        for row in rows:  # a fitting is where the carriers are that it joins
            for one, other in ((row.one, row.other), (row.other, row.one)):
                if other in self._storeys:
                    beside[one].add(self._storeys[other])
        for row in sorted(rows, key=lambda one: (one.one, one.other, one.found_by, one.point_mm or ())):
            storeys = self._of(row.one, row.other) or beside[row.one] | beside[row.other]
            for point in self._points("join", storeys, row.point_mm):
                for storey in storeys:
                    self.joins[storey][row.found_by].append(point)

    def _add_open_ends(self, rows: Sequence[OpenEndRow]) -> None:
        for row in sorted(rows, key=lambda one: (one.carrier, one.end, one.point_mm)):
            storeys = self._of(row.carrier)
            for point in self._points("open end", storeys, row.point_mm):
                for storey in storeys:
                    self.open_ends[storey].append((row, point))

    def _add_breaks(self, rows: Sequence[BreakRow]) -> None:
        for row in sorted(rows, key=_break_order):
            storeys = self._of(row.one, row.other)
            if points := self._points("break", storeys, row.point_one_mm, row.point_other_mm):
                for storey in storeys:
                    self.breaks[storey].append((row, points[0], points[1]))

    def _add_equipment(self, rows: Sequence[EquipmentRow], drawn: Collection[str]) -> None:
        for row in sorted(rows, key=_equipment_order):
            if row.storey not in drawn:
                self._reasons["equipment mark", "its storey has no plan"] += 1
                continue
            for point in self._points("equipment mark", {row.storey}, row.point_mm):
                self.equipment[row.storey].append((row, point))

    def _of(self, *keys: str) -> set[str]:
        return {self._storeys[key] for key in keys if key in self._storeys}
