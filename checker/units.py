"""Units and the few formulas of plane geometry that everything shares. Lengths are in millimetres unless a name says otherwise."""

import math

MM_PER_M = 1000.0
MM_PER_INCH = 25.4


def circle_area_mm2(diameter_mm: float) -> float:
    """Area of a circle, π/4 · d², in mm²."""
    return math.pi / 4.0 * diameter_mm * diameter_mm


def stadium_area_mm2(width_mm: float, height_mm: float) -> float:
    """Area of a flat cable with rounded sides, in mm²: a rectangle with a half circle on each short side.

    ``width_mm`` and ``height_mm`` may come in either order.
    """
    major, minor = max(width_mm, height_mm), min(width_mm, height_mm)
    return circle_area_mm2(minor) + (major - minor) * minor


def metres(length_mm: float) -> float:
    """A length in metres."""
    return length_mm / MM_PER_M
