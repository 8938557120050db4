"""Proofs that bodies can't go into an inside: by area, by a width. What isn't proved here may still be impossible."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from checker.section.shapes import Body, Corner, Inside, Polygon, Round, area_mm2, extent_mm

#: Bodies count as this much thinner, so that what a packing may overlap by is never called impossible.
ALLOWED_MM = 0.002
#: How densely points can lie that keep a distance of 1: this many on each unit of area, at the border more.
CLOSEST = 2.0 / math.sqrt(3.0)
#: The smallest circle that holds so many equal ones, in their diameters, as proved: to 10 by Pirl (1969), 11 by Melissen (1994), 12 and 13
#: by Fodor (2000, 2003). Where no short formula is known the figure is rounded down.
PROVED_WIDTHS = (
    1.0, 2.0, 1.0 + 2.0 / math.sqrt(3.0), 1.0 + math.sqrt(2.0), 1.0 + math.sqrt(2.0 + 2.0 / math.sqrt(5.0)), 3.0, 3.0,
    1.0 + 1.0 / math.sin(math.pi / 7.0), 1.0 + math.sqrt(4.0 + 2.0 * math.sqrt(2.0)), 3.8130, 1.0 + 1.0 / math.sin(math.pi / 9.0), 4.0296,
    2.0 + math.sqrt(5.0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sizes:
    """Bodies as proofs ask about them, thickest first; lengths in mm.

    ``wanted``: for each thickness, how many circles of it lie in the bodies that are as thick or thicker, side by side in a
    flat one; so many points must have room that keep that distance from each other. ``whole_mm2`` is the area as it is, to be told.
    """

    area_mm2: float
    whole_mm2: float
    thickest: tuple[float, ...]
    longest: tuple[float, float]
    over: Any
    over_squared: Any
    wanted: Any


@dataclass(frozen=True, slots=True)
class Bounds:
    """An inside as proofs ask about it.

    Points that keep a distance t from each other, and t / 2 from the wall, are at most ``square / t² + single / t + rest``
    (Groemer and Oler: in a convex shape at most CLOSEST * area / t² + girth / (2 t) + 1).
    """

    area_mm2: float
    width_mm: float
    square: float
    single: float
    rest: float


def sizes_of(bodies: Sequence[Body]) -> Sizes:
    """Prepares bodies. Raises ValueError for none."""
    import numpy as np

    if not bodies:
        raise ValueError("there is no body")
    thin = sorted(((body.thickness_mm - ALLOWED_MM, body.length_mm - ALLOWED_MM) for body in bodies), reverse=True)
    area = math.fsum(math.pi * t * t / 4.0 + t * (long - t) for t, long in thin if t > 0.0)
    real = [(t, long) for t, long in thin if t > 0.0]
    thickness = np.array([t for t, _ in real])
    if all(long == t for t, long in real):
        wanted = np.arange(1.0, len(real) + 1.0)
    else:
        cores = np.array([long - t for t, long in real])
        wanted = np.array(
            [float((1.0 + (cores[: k + 1] / thickness[k] - 1e-9) // 1.0).clip(1.0).sum()) for k in range(len(real))]
        )
    longest = max(thin, key=lambda size: (size[1] - size[0], size))
    over = 1.0 / thickness
    whole = math.fsum(body.area_mm2 for body in bodies)
    return Sizes(area, whole, tuple(t for t, _ in thin[:2]), longest, over, over * over, wanted - 1e-9)


def bounds_of(inside: Inside) -> Bounds:
    """Prepares an inside."""
    area = area_mm2(inside)
    if isinstance(inside, Round):
        radius = inside.diameter_mm / 2.0
        disc = CLOSEST * math.pi
        return Bounds(
            area, inside.diameter_mm, disc * radius**2, radius * (math.pi - disc), disc / 4.0 - math.pi / 2.0 + 1.0
        )
    if isinstance(inside, Polygon):
        hull = _hull(inside.corners_mm)
        whole = area_mm2(Polygon(tuple(hull)))
        return Bounds(area, _least_width(hull), CLOSEST * whole, 0.0, 1.0 - CLOSEST * math.pi / 4.0)
    width, height = extent_mm(inside)
    return Bounds(area, min(width, height), CLOSEST * area, (width + height) * (1.0 - CLOSEST), CLOSEST - 1.0)


def proof_against(inside: Inside, bodies: Sequence[Body]) -> str:
    """Why bodies can't go in, by area or a width; empty where nothing proves that."""
    sizes, bounds = sizes_of(bodies), bounds_of(inside)
    return proof_of_area(sizes, bounds) or proof_of_width(sizes, bounds, inside)


def proof_of_area(sizes: Sizes, bounds: Bounds) -> str:
    """Why there isn't the area; empty where there may be."""
    if sizes.area_mm2 > bounds.area_mm2:
        return f"the cables' sections are {sizes.whole_mm2:.1f} mm² and the inside is {bounds.area_mm2:.1f} mm²"
    return ""


def proof_of_width(sizes: Sizes, bounds: Bounds, inside: Inside) -> str:
    """Why there isn't the width; empty where there may be."""
    if sizes.thickest[0] > bounds.width_mm:
        return (
            f"a cable is {_mm(sizes.thickest[0])} thick and the inside {_mm(bounds.width_mm)} wide where that is least"
        )
    thick, long = sizes.longest
    if long > thick and (most := _longest(inside, thick)) < long:
        return f"a flat cable is {_mm(long)} wide and the inside has room for {_mm(most)}, turned as it may"
    if len(sizes.thickest) == 2 and (why := _no_pair(inside, sizes.thickest[0], sizes.thickest[1])):
        return why
    if isinstance(inside, Round) and (why := _too_many_in_circle(sizes, inside.diameter_mm)):
        return why
    short = sizes.wanted > bounds.square * sizes.over_squared + bounds.single * sizes.over + bounds.rest
    if short.any():
        at = int(short.argmax())
        most = bounds.square * sizes.over_squared[at] + bounds.single * sizes.over[at] + bounds.rest
        return (
            f"{math.ceil(sizes.wanted[at])} circles of {_mm(1.0 / sizes.over[at])} lie in the cables and "
            f"no more than {math.floor(most + 1e-9)} of them have room, however they lie"
        )
    return ""


def _too_many_in_circle(sizes: Sizes, width_mm: float) -> str:
    """Why so many circles, each as thick as the thinnest of them or thicker, can't lie in a circle."""
    for wanted, over in zip(sizes.wanted, sizes.over, strict=True):
        number, thin = math.ceil(wanted), 1.0 / over
        if number > len(PROVED_WIDTHS):
            return ""
        if PROVED_WIDTHS[number - 1] * thin > width_mm:
            need = PROVED_WIDTHS[number - 1] * thin
            return f"{number} circles of {_mm(thin)} lie in the cables, and the smallest circle that holds so many is {_mm(need)} wide"
    return ""


def _mm(size: float) -> str:
    return f"{size:.2f} mm"


def _longest(inside: Inside, thick: float) -> float:
    """How wide a flat cable may be at most."""
    if isinstance(inside, Round):
        return inside.diameter_mm
    if isinstance(inside, Polygon):
        return max(math.dist(a, b) for a in inside.corners_mm for b in inside.corners_mm)
    width, height = extent_mm(inside)
    return thick + math.hypot(width - thick, height - thick)


def _no_pair(inside: Inside, first: float, second: float) -> str:
    """Why the two thickest can't lie beside each other."""
    mean = (first + second) / 2.0
    if isinstance(inside, Polygon):
        return ""
    width, height = extent_mm(inside)
    if isinstance(inside, Round):
        most = width - mean
    else:
        most = math.hypot(width - mean, height - mean) if mean < min(width, height) or first + second <= 0.0 else 0.0
    if most < mean:
        return f"cables of {_mm(first)} and {_mm(second)} together are wider than the inside at its widest"
    return ""


def _hull(corners: Sequence[Corner]) -> list[Corner]:
    """The convex hull, counter-clockwise."""
    points = sorted(set(corners))
    halves = []
    for row in (points, points[::-1]):
        half: list[Corner] = []
        for point in row:
            while len(half) > 1 and _turn(half[-2], half[-1], point) <= 0.0:
                half.pop()
            half.append(point)
        halves.append(half[:-1])
    return halves[0] + halves[1]


def _turn(a: Corner, b: Corner, c: Corner) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _least_width(hull: list[Corner]) -> float:
    sides = zip(hull, [*hull[1:], hull[0]], strict=True)
    return min(max(_turn(a, b, c) for c in hull) / math.dist(a, b) for a, b in sides)
