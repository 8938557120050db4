"""Between what sizes a standard lets one cable be. It changes no verdict: a code counts one size, by its own convention."""

from dataclasses import dataclass

#: What is said from here on in a verdict's reason is about the tolerance that its limit lies within.
WITHIN_TOLERANCE = "within the tolerance of"


@dataclass(frozen=True, slots=True)
class Tolerance:
    """The least and the most that one cable may measure outside, in mm, by its standard.

    Of a round one its diameter, of a flat one its width and height; the others are None. It isn't a range of a schedule: there the size
    isn't known, here the code says which of the sizes counts.
    """

    diameter_least_mm: float | None = None
    diameter_most_mm: float | None = None
    width_least_mm: float | None = None
    width_most_mm: float | None = None
    height_least_mm: float | None = None
    height_most_mm: float | None = None
