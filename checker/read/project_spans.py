"""Figures of the project file that may be a range: a number, or a list of the least and the most."""

import math
from typing import Annotated, Any, NamedTuple

from pydantic import BeforeValidator


class Span(NamedTuple):
    """From the least to the most that a figure can be; both the same where it is one number."""

    least: float
    most: float

    @property
    def is_range(self) -> bool:
        """Whether it is more than one number."""
        return self.least != self.most


def _span(value: object) -> object:
    """A number twice; a list of two numbers as it is."""
    if value is None or isinstance(value, Span):
        return value
    ends: list[Any] = list(value) if isinstance(value, (list, tuple)) else [value, value]
    if len(ends) != 2 or any(isinstance(end, bool) or not isinstance(end, (int, float)) for end in ends):
        raise ValueError("it must be a number, or a list of the least and the most, as [0.8, 1.5]")
    least, most = float(ends[0]), float(ends[1])
    if not math.isfinite(least) or not math.isfinite(most):
        raise ValueError("it must be a plain number")
    if least > most:
        raise ValueError("give the smaller end of a range first")
    if least < 0.0:
        raise ValueError("it must be 0 or more")
    return Span(least, most)


def _positive(value: object) -> object:
    found = _span(value)
    if isinstance(found, Span) and found.least <= 0.0:
        raise ValueError("it must be more than 0")
    return found


#: A figure, or the two ends between which it lies: 0 or more.
Spanned = Annotated[Span, BeforeValidator(_span)]
#: The same of more than 0.
SpannedAboveZero = Annotated[Span, BeforeValidator(_positive)]
