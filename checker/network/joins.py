"""What a join is, and how it may have been found."""

import math
from collections import defaultdict
from dataclasses import dataclass
from enum import StrEnum

from checker.model import Problem, Vec
from checker.model.geometry import distance

#: Where on a carrier something joins; anything else there is ``side`` with how far along.
START, END = "start", "end"


class FoundBy(StrEnum):
    """How a join was found. The surer ways first: what one of them finds, no later one finds again."""

    PORTS = "connected ports"
    PORTS_AT_ONE_PLACE = "ports at one place"
    MEETING = "ends that meet"
    IN_FITTING = "an end in a fitting"
    AT_SIDE = "an end at another's side"
    FITTINGS = "fittings that touch"


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on an element where something can join; no point: only the element is known.

    ``where`` on a carrier: ``START``, ``END``, or ``side`` and how far along; empty where its axis isn't known, and on anything else.
    """

    element: str
    point_mm: Vec | None
    where: str = ""

    @property
    def mark(self) -> tuple[str, str]:
        """The same for all that joins at this place of the element, however far from it their own points lie."""
        return self.element, self.where


@dataclass(frozen=True, slots=True)
class Join:
    """Two spots that belong together.

    ``gap_mm`` is how far what meets there lies apart: two ports, two ends, or an end and the other's body. None: not known.
    """

    one: Spot
    other: Spot
    found_by: FoundBy
    gap_mm: float | None = None

    @property
    def way_mm(self) -> float:
        """The way from the one spot to the other; 0 where that isn't known. It counts into routes: they run from axis to axis."""
        if self.one.point_mm is None or self.other.point_mm is None:
            return 0.0
        return distance(self.one.point_mm, self.other.point_mm)


class Book:
    """Joins as they are found. Of several between the same two places the first way of finding holds, and of those the least gap."""

    def __init__(self) -> None:
        self._joins: dict[tuple[tuple[str, str], tuple[str, str]], Join] = {}
        self._by_mark: dict[tuple[str, str], set[str]] = defaultdict(set)
        self._near: dict[str, set[str]] = defaultdict(set)
        self._taken: set[tuple[str, str]] = set()

    def add(self, one: Spot, other: Spot, found_by: FoundBy, gap_mm: float | None) -> None:
        """Notes a join, unless the two places are joined already by a surer way, or by a smaller gap."""
        mark, other_mark = one.mark, other.mark
        if other_mark < mark:
            one, other, mark, other_mark = other, one, other_mark, mark
        gap_mm = None if gap_mm is None else round(gap_mm, 3) + 0.0  # no minus zero, and nothing that is only noise
        join, before = Join(one, other, found_by, gap_mm), self._joins.get((mark, other_mark))
        if before is not None and (before.found_by is not found_by or _by_gap(before) <= _by_gap(join)):
            return
        self._joins[mark, other_mark] = join
        self._by_mark[mark].add(other.element)
        self._by_mark[other_mark].add(one.element)
        self._near[one.element].add(other.element)
        self._near[other.element].add(one.element)
        if found_by is FoundBy.PORTS:
            self._taken |= {mark, other_mark}

    def is_taken(self, spot: Spot) -> bool:
        """Whether a connected port joins a carrier's end already."""
        return spot.where in {START, END} and spot.mark in self._taken

    def met(self, spot: Spot) -> set[str]:
        """Elements that are joined to a place."""
        return self._by_mark.get(spot.mark, set())

    def near(self, element: str) -> set[str]:
        """Elements that are joined to an element anywhere."""
        return self._near.get(element, set())

    def sorted(self) -> tuple[Join, ...]:
        """All joins in an order that depends on names alone."""
        return tuple(self._joins[marks] for marks in sorted(self._joins))


def _by_gap(join: Join) -> tuple[float, str]:
    """An order of joins that doesn't depend on which came first."""
    return math.inf if join.gap_mm is None else join.gap_mm, f"{join.one.point_mm} {join.other.point_mm}"


@dataclass(frozen=True, slots=True)
class NearMiss:
    """An open end that has something near which it isn't joined to.

    Attributes:
        end: The open end, as ``Spot.mark``.
        other: What is near: as ``Spot.mark``, or of a fitting its key with ``""``.
        names: What people call both, in the order in which they are told.
        said: What is found, in words about the first and the second name.
        gap_mm: How far they are apart.
        point_mm: Where the end is.
    """

    end: tuple[str, str]
    other: tuple[str, str]
    names: tuple[str, str]
    said: str
    gap_mm: float
    point_mm: Vec


@dataclass(frozen=True, slots=True)
class Joins:
    """All joins, what has to be said of them, and what nearly meets."""

    joins: tuple[Join, ...]
    problems: tuple[Problem, ...]
    near_misses: tuple[NearMiss, ...] = ()
