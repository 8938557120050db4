"""The mechanics of drawing cables through a run: pure figures, in newtons, metres and kilograms.

Sources of the formulas: the usual ones of cable pulling (capstan equation, weight correction); the two of a pair of cables are our own
statics: each of two equal cables side by side bears on the wall at the angle whose sine is d / (D − d).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.model import RunPiece

G = 9.81
#: More than this, or unequal cables: they lie as they fall.
MANY = 1.4


@dataclass(frozen=True, slots=True)
class Bundle:
    """How cables lie on the wall when they are drawn together.

    Attributes:
        weight_correction: Wc, by which friction grows because they wedge each other against the wall.
        side_share: Of T · 1 / R, the share with which the cable that is pressed most bears on a bend's inner side.
    """

    weight_correction: float
    side_share: float


def bundle(diameters_mm: Sequence[float], bore_mm: float | None) -> Bundle | None:
    """How cables lie in a bore. Two to four unlike ones lie as they fall, or wedge each other as equal ones of their mean diameter would.

    Args:
        diameters_mm: Of each cable.
        bore_mm: Inside diameter; None: not known.

    Returns:
        None where it goes by the bore and that isn't known, or they don't lie beside each other in it.
    """
    number = len(diameters_mm)
    if number <= 1:
        return Bundle(1.0, 1.0)
    is_equal = max(diameters_mm) - min(diameters_mm) < 1e-6
    if number > 4 or math.inf in diameters_mm:
        return Bundle(MANY, 1.0)
    if not is_equal:
        alike = bundle([math.fsum(diameters_mm) / number] * number, bore_mm)
        return alike and Bundle(max(MANY, alike.weight_correction), max(1.0, alike.side_share))
    diameter = diameters_mm[0]
    if bore_mm is None or bore_mm <= 2.0 * diameter:
        return None
    x = diameter / (bore_mm - diameter)
    wedged = 1.0 / math.sqrt(1.0 - x * x)
    if number == 2:
        return Bundle(wedged, wedged / 2.0)
    if number == 3:  # in a triangle, or cradled: which of the two isn't known, so the worse
        cradled = 1.0 + 4.0 / 3.0 * x * x
        return Bundle(max(wedged, cradled), max(wedged / 2.0, (3.0 * cradled - 2.0) / 3.0))
    diamond = 1.0 + 2.0 * x * x
    return Bundle(diamond, max(diamond - 1.0, 1.0 / 4.0))


def worst(bundles: Iterable[Bundle | None]) -> Bundle | None:
    """What is worst of several ways to lie; None where one isn't known."""
    most = Bundle(1.0, 0.0)
    for found in bundles:
        if found is None:
            return None
        most = Bundle(max(most.weight_correction, found.weight_correction), max(most.side_share, found.side_share))
    return most


@dataclass(frozen=True, slots=True)
class Pull:
    """What it takes to draw cables through pieces in their order.

    Attributes:
        tension_n: Where it is largest, at the far end unless it goes down there.
        side_n_per_m: The largest pressure on a bend's inner side; 0: there is no bend of known radius.
        side_at: The bend where that is.
        undrawn: Bends without a radius, with the tension after each.
    """

    tension_n: float
    side_n_per_m: float
    side_at: str
    undrawn: tuple[tuple[str, float], ...]


def pull(pieces: Iterable[RunPiece], weight_n_per_m: float, friction: float, lying: Bundle) -> Pull:
    """Draws cables through pieces, the first one first; they are fed in without a force. All of the pieces' figures are known.

    Args:
        pieces: In the order in which the head of the cables passes them.
        weight_n_per_m: Of all cables together.
        friction: Coefficient between cables and wall.
        lying: How they lie.
    """
    rubs = friction * lying.weight_correction
    tension, most, side, side_at = 0.0, 0.0, 0.0, ""
    undrawn: list[tuple[str, float]] = []
    for piece in pieces:
        length, rise, turn = piece.length_m or 0.0, piece.rise_m or 0.0, math.radians(piece.turn_deg or 0.0)
        if not turn:
            level = math.sqrt(max(length * length - rise * rise, 0.0))
            tension = max(tension + weight_n_per_m * (rubs * level + rise), 0.0)
            most = max(most, tension)
            continue
        radius = (piece.radius_mm or 0.0) / 1000.0
        weighs = weight_n_per_m * radius
        grown = tension * math.cosh(rubs * turn) + math.hypot(tension, weighs) * math.sinh(rubs * turn)
        # that a bend goes down helps little, and isn't counted
        tension = grown + weight_n_per_m * max(rise, 0.0)
        most = max(most, tension)
        if piece.radius_mm is None:
            undrawn.append((piece.label, tension))
        elif lying.side_share * tension / radius > side:
            side, side_at = lying.side_share * tension / radius, piece.label
    return Pull(most, side, side_at, tuple(undrawn))
