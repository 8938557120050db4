"""Places along a carrier's axis, and points in space."""

import itertools
from collections.abc import Sequence

from checker.model import Carrier, Vec
from checker.model.geometry import add, distance, scale, sub
from checker.network.bodies import nearest_on


def point_at(axis: Sequence[Vec], share: float) -> Vec | None:
    """The point at a share of an axis' length from its start; None where there is no axis."""
    steps = [distance(a, b) for a, b in itertools.pairwise(axis)]
    left = share * sum(steps)
    for (a, b), step in zip(itertools.pairwise(axis), steps, strict=True):
        if left <= step and step > 0.0:
            return add(a, scale(sub(b, a), left / step))
        left -= step
    return axis[-1] if axis else None


def place_on(carrier: Carrier, point: Vec) -> tuple[float, float] | None:
    """The nearest place on a carrier's axis, in mm along it from its start, and how far off it is; None where the axis isn't known.

    Its length may differ a little from that of the axis, whose points are few where it is an arc; places are taken in proportion.
    """
    points = carrier.axis_mm
    found = nearest_on(points, point)
    if found is None:
        return None
    drawn = sum(distance(a, b) for a, b in itertools.pairwise(points))
    return (found[0] * (carrier.length_mm or drawn) / drawn if drawn else 0.0), found[1]
