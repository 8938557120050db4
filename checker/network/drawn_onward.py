"""Which stretches of drawn lines go on into each other: people cut lines at the walls of a box or tee as well as within it."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import replace

from checker.model import Carrier, Vec
from checker.model.geometry import distance
from checker.network.drawn_between import points_at
from checker.network.drawn_counts import CountedPass
from checker.network.drawn_lines import join
from checker.network.drawn_passes import fitting_mm


def led_on(
    passes: Sequence[CountedPass], carriers: Sequence[Carrier], neighbours: Mapping[str, set[str]]
) -> list[CountedPass]:
    """The passes with those of stretches that go on into each other behind one another, as of one line.

    A stretch goes on into another that begins in a carrier joined to the one where it ends, no farther than a fitting is long. Each goes on
    into one at the most, the nearest.

    Args:
        passes: In order.
        carriers: What their numbers mean.
        neighbours: Carriers by key, with those that they are joined to.
    """
    stretches = [list(own) for _, own in itertools.groupby(passes, key=lambda item: item.line)]
    begins = [_place(own[0], carriers, is_end=False) for own in stretches]
    ends = [_place(own[-1], carriers, is_end=True) for own in stretches]
    beginning: dict[str, list[int]] = {}
    for number, own in enumerate(stretches):
        beginning.setdefault(carriers[own[0].item.carrier].key, []).append(number)
    pairs = []
    for number, own in enumerate(stretches):
        carrier = carriers[own[-1].item.carrier]
        for key in sorted(neighbours.get(carrier.key, set()) - {carrier.key}):
            for other in beginning.get(key, ()):
                off = distance(ends[number], begins[other])
                if other != number and off <= fitting_mm(carrier, carriers[stretches[other][0].item.carrier]):
                    pairs.append((round(off, 1), number, other))
    onward: dict[int, int] = {}
    before: dict[int, int] = {}
    chain = list(range(len(stretches)))
    for _, one, other in sorted(pairs):
        if one not in onward and other not in before and join(chain, one, other):
            onward[one], before[other] = other, one
    found: list[CountedPass] = []
    for first in range(len(stretches)):
        here = None if first in before else first
        while here is not None:
            found += [replace(item, line=stretches[first][0].line) for item in stretches[here]]
            here = onward.get(here)
    return found


def _place(passed: CountedPass, carriers: Sequence[Carrier], *, is_end: bool) -> Vec:
    """Where on its carrier's axis a pass begins or ends."""
    carrier = carriers[passed.item.carrier]
    drawn = sum(distance(a, b) for a, b in itertools.pairwise(carrier.axis_mm))
    along = passed.item.to_mm if is_end else passed.item.from_mm
    return points_at(carrier.axis_mm, [along * drawn / (carrier.length_mm or drawn)])[0]
