"""Units and the few formulas of plane geometry that everything shares. Lengths are in millimetres unless a name says otherwise."""

import math
import re

MM_PER_M = 1000.0
MM_PER_INCH = 25.4
#: AWG sizes above 1, as they are also written.
AUGHTS = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}
#: The sizes in kcmil of NFPA 70 Chapter 9 Table 8.
KCMIL_SIZES = frozenset({250, 300, 350, 400, 500, 600, 700, 750, 800, 900, 1000, 1250, 1500, 1750, 2000})
#: The thinnest wire that is counted as a size; ASTM B258 goes on.
THINNEST_AWG = 40


def circle_area_mm2(diameter_mm: float) -> float:
    """Area of a circle, π/4 · d², in mm²."""
    return math.pi / 4.0 * diameter_mm * diameter_mm


def stadium_area_mm2(width_mm: float, height_mm: float) -> float:
    """Area of a flat cable with rounded sides, in mm²: a rectangle with a half circle on each short side.

    ``width_mm`` and ``height_mm`` may come in either order.
    """
    major, minor = max(width_mm, height_mm), min(width_mm, height_mm)
    return circle_area_mm2(minor) + (major - minor) * minor


def awg_kcmil_name(text: str) -> str:
    """An AWG or kcmil size as tables write it: 1/0 also where it is written as 0."""
    return AUGHTS.get(text.strip(), text.strip())


def awg_area_mm2(size: str) -> float | None:
    """Area of an AWG or kcmil size, in mm²; None where there is no such size.

    AWG n has a diameter of 0.127 mm · 92^((36 − n)/39) (ASTM B258); 1/0 is n = 0, 4/0 is n = −3. A kcmil is a thousand circles of a
    thousandth of an inch.
    """
    name = awg_kcmil_name(size)
    if re.fullmatch("[1-4]/0", name):
        number = 1 - int(name[0])
    elif not re.fullmatch("[1-9][0-9]{0,3}", name):
        return None
    elif int(name) in KCMIL_SIZES:
        return 1000.0 * int(name) * circle_area_mm2(MM_PER_INCH / 1000.0)
    elif int(name) <= THINNEST_AWG:
        number = int(name)
    else:
        return None
    return circle_area_mm2(0.127 * math.pow(92.0, (36 - number) / 39.0))


def metres(length_mm: float) -> float:
    """A length in metres."""
    return length_mm / MM_PER_M
