"""Looking up figures in the rows of a table: what stands there, or the neighbour that is asked for; never what lies between or beyond.

A rule says which neighbour is the stricter one for it. Where the table ends before that, there is no figure, and the answer says so.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Answer(Generic[T]):
    """What a lookup found.

    Attributes:
        value: The row's figure; None: the table has none for this.
        key: Where in the table it stands; None with no value.
        past: The end of the table that was asked beyond; None: it was asked within the table. With a value, that is the end's.
    """

    value: T | None
    key: float | None = None
    past: float | None = None


@dataclass(frozen=True, slots=True)
class Steps(Generic[T]):
    """The rows of a table by one number, in rising order, no number twice. What a step between two rows is, the table doesn't say."""

    rows: tuple[tuple[float, T], ...]

    @classmethod
    def of(cls, rows: Iterable[tuple[float, T]]) -> "Steps[T]":
        """Rows in any order.

        Raises:
            ValueError: A number stands there twice.
        """
        ordered = tuple(sorted(rows, key=_key))
        keys = [key for key, _ in ordered]
        if len(set(keys)) < len(keys):
            raise ValueError(f"two rows are for {next(key for key in keys if keys.count(key) > 1):g}")
        return cls(ordered)

    def exact(self, key: float, within: float = 0.0) -> Answer[T]:
        """The row of that number.

        Args:
            key: What is looked up.
            within: How far from a row it may be and still mean that row, as figures in models do; the nearest counts.
        """
        nearest = min(self.rows, key=lambda row: abs(row[0] - key), default=None)
        if nearest is None or not abs(nearest[0] - key) <= within:  # what is no number is no row's
            return Answer(None, past=self._past(key))
        return Answer(nearest[1], nearest[0])

    def next_lower(self, key: float, within: float = 0.0) -> Answer[T]:
        """The row of that number or, between two, the lower one: for what is allowed less the lower it is. None below the first.

        Args:
            key: What is looked up. Beyond the last row it is that row's figure, and ``past`` says so.
            within: A row that is no more than this higher counts as reached.
        """
        place = bisect_right(self.rows, key + within, key=_key) - 1
        return self._at(place, key, within)

    def next_higher(self, key: float, within: float = 0.0) -> Answer[T]:
        """The row of that number or, between two, the higher one: for what is allowed less the higher it is. None above the last.

        Args:
            key: What is looked up. Below the first row it is that row's figure, and ``past`` says so.
            within: A row that is no more than this lower counts as enough.
        """
        place = bisect_left(self.rows, key - within, key=_key)
        return self._at(place, key, within)

    def safer(self, key: float, of: Callable[[T], float]) -> Answer[T]:
        """The row of that number or, between two, the one with the lower figure. None beyond either end.

        Args:
            key: What is looked up.
            of: A row's figure as a number that is the safer the lower it is.
        """
        if self._past(key) is not None or not self.rows or math.isnan(key):
            return Answer(None, past=self._past(key))
        lower, higher = self.next_lower(key), self.next_higher(key)
        assert lower.value is not None  # noqa: S101 - it is within the table
        assert higher.value is not None  # noqa: S101 - it is within the table
        return lower if of(lower.value) < of(higher.value) else higher

    def _at(self, place: int, key: float, within: float) -> Answer[T]:
        past = self._past(key, within)
        if not 0 <= place < len(self.rows) or math.isnan(key):
            return Answer(None, past=past)
        return Answer(self.rows[place][1], self.rows[place][0], past)

    def _past(self, key: float, within: float = 0.0) -> float | None:
        if not self.rows:
            return None
        first, last = self.rows[0][0], self.rows[-1][0]
        return first if key < first - within else last if key > last + within else None


def _key(row: tuple[float, object]) -> float:
    return row[0]
