"""Dividers in a body: plates that run along a section, upright in its inside."""

import itertools
from collections.abc import Sequence
from dataclasses import replace

from checker.model.geometry import angle_deg, cross, distance, dot, midpoint, sub, unit
from checker.read.shapes import EVEN, Sweep

#: A divider runs along its section, within this many degrees, for at least this share of its length.
PARALLEL_DEG, LEAST_SHARE = 5.0, 0.5
#: Its middle lies farther from the sides, the lid and the base than this share of the width and height.
INWARD = 0.1
#: It is as high as this share of the section at least, and as thick as this share of its width at the most.
LEAST_HIGH, MOST_THICK = 0.4, 0.1


def divided(shell: Sweep, others: Sequence[Sweep]) -> Sweep:
    """A section with the compartments that plates in it make. Rungs and lids, which lie otherwise, make none."""
    along, width, height = unit(sub(shell.end, shell.start)), shell.width, shell.height
    if along is None or not width or not height or shell.lanes > 1:
        return shell
    up, middle = cross(along, shell.across), midpoint(shell.start, shell.end)
    places = []
    for other in others:
        way, sizes = sub(other.end, other.start), (other.width or 0.0, other.height or 0.0)
        turned = angle_deg(way, along)
        is_along = min(turned, 180.0 - turned) <= PARALLEL_DEG and distance(
            other.start, other.end
        ) >= LEAST_SHARE * distance(shell.start, shell.end)
        is_plate = max(sizes) >= LEAST_HIGH * height and 0.0 < min(sizes) <= MOST_THICK * width
        long_side = other.across if sizes[0] >= sizes[1] else cross(along, other.across)
        stands = abs(dot(long_side, up)) > abs(dot(long_side, shell.across))
        away = sub(midpoint(other.start, other.end), middle)
        at, over = dot(away, shell.across), dot(away, up)
        if (
            is_along
            and is_plate
            and stands
            and abs(at) < (0.5 - INWARD) * width
            and abs(over) < (0.5 - INWARD) * height
        ):
            places.append(at)
    if not places:
        return shell
    edges = [-width / 2.0, *sorted(places), width / 2.0]
    shares = [b - a for a, b in itertools.pairwise(edges)]
    return replace(shell, lanes=len(shares), is_even=min(shares) >= EVEN * max(shares))
