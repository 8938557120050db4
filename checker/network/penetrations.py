"""Where carriers pass walls and slabs that are rated for fire.

A carrier passes one where its axis enters a large face of the barrier's body and leaves by the one opposite. What only runs along it, lies
in it, or comes in by a narrow face, as a conduit that is led down inside a wall to a socket, doesn't pass it. What ends in it may: a box
or another length may go on.
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence

from checker.model import Barrier, Carrier, LoadedCompartment, Penetration, Vec
from checker.model.geometry import add, cross, distance, dot, scale, sub, unit
from checker.model.prisms import Prism
from checker.network.bodies import LEAST_MM, TOUCH_MM, frame, half_mm
from checker.network.box_cells import Box, BoxCells, box_of
from checker.network.crossings import LARGE_TIMES, Face, Span, ahead, spans_of

#: Two faces are opposite if their directions outward have no less than this against each other: within 60 degrees.
OPPOSITE = -0.5
#: The answer of one that passes for certain: no doubt.
PASSES = ""


def penetrations(barriers: Sequence[Barrier], compartments: Iterable[LoadedCompartment]) -> Iterator[Penetration]:
    """Every compartment of every carrier that passes a barrier, or may.

    Args:
        barriers: What is rated for fire; those without a place are left out.
        compartments: All there are, with what lies in them.
    """
    placed = [barrier for barrier in barriers if barrier.prisms]
    cells = BoxCells()
    for barrier in placed:
        cells.add(around(barrier.prisms))
    passed: dict[str, list[tuple[Barrier, str]]] = {}
    for loaded in compartments:
        carrier = loaded.carrier
        if carrier.key not in passed:
            passed[carrier.key] = list(_passed(carrier, placed, cells)) if placed else []
        for barrier, doubt in passed[carrier.key]:
            yield Penetration(loaded, barrier, doubt)


def around(prisms: Sequence[Prism]) -> Box:
    """The box along the world's axes around a body."""
    points = []
    for prism in prisms:
        for x, y in prism.outline:
            foot = add(prism.origin_mm, add(scale(prism.x, x), scale(prism.y, y)))
            points += [foot, add(foot, scale(prism.way, prism.depth_mm))]
    return box_of(points)


def _passed(carrier: Carrier, barriers: Sequence[Barrier], cells: BoxCells) -> Iterator[tuple[Barrier, str]]:
    """The barriers that a carrier passes or may pass, in their order, each with why that isn't certain."""
    margin = sum(half_mm(carrier)) + LEAST_MM
    near = {number for a, b in itertools.pairwise(carrier.axis_mm) for number in cells.near(a, b, margin)}
    for number in sorted(near):
        doubt = doubt_of(carrier, barriers[number])
        if doubt is not None:
            yield barriers[number], doubt


def doubt_of(carrier: Carrier, barrier: Barrier) -> str | None:
    """Whether a carrier passes a barrier: empty: it does; a reason: it isn't certain; None: it doesn't."""
    axis = carrier.axis_mm
    answers = [_of_span(span, axis, barrier) for span in spans_of(barrier.prisms, axis, LEAST_MM)]
    doubts = [answer for answer in answers if answer is not None]
    if PASSES in doubts:
        if all(prism.is_exact for prism in barrier.prisms):
            return PASSES
        return f"the body of {barrier.label} isn't a plan extruded, and only what surrounds it was looked at"
    if doubts:
        return doubts[0]
    # where in such a box the body is isn't known, so neither is which of its faces are the body's
    hollow = [prism for prism in barrier.prisms if prism.is_hollow]
    if any(span.length_mm > LEAST_MM for span in spans_of(hollow, axis, LEAST_MM)):
        return f"it runs within what surrounds {barrier.label}, and where in that its body is can't be told"
    if any(
        _of_span(span, edge, barrier) == PASSES
        for edge in _edges(carrier)
        for span in spans_of(barrier.prisms, edge, LEAST_MM)
    ):
        return f"its section reaches into {barrier.label}, but its axis passes beside that"
    return None


def _of_span(span: Span, line: Sequence[Vec], barrier: Barrier) -> str | None:
    """The same of one part of a line inside a barrier."""
    enters, leaves = span.enters, span.leaves
    if enters is None and leaves is None:
        out = _onward(line, barrier)
        return f"both of its ends lie in {barrier.label}" if _is_across(*out) else None
    if enters is None or leaves is None:
        face = enters or leaves
        ends_in = face is not None and face.is_large and span.length_mm > LEAST_MM
        return f"it ends in {barrier.label}" if ends_in else None
    if _is_across(enters, leaves):
        return PASSES
    # by the top of a wall and out of its side, or round its corner
    is_partly = (enters.is_large or leaves.is_large) and span.length_mm > LEAST_MM
    return f"it enters and leaves {barrier.label} by faces that aren't opposite" if is_partly else None


def _is_across(enters: Face | None, leaves: Face | None) -> bool:
    """Whether two faces are large and opposite."""
    if enters is None or leaves is None:
        return False
    return enters.is_large and leaves.is_large and dot(enters.outward, leaves.outward) <= OPPOSITE


def _onward(line: Sequence[Vec], barrier: Barrier) -> tuple[Face | None, Face | None]:
    """The faces that a line inside a barrier would pass if both its ends went on."""
    found = []
    points = [point for point, _ in itertools.groupby(line)]  # one that is written twice tells no way
    for end, before in ((points[0], points[1]), (points[-1], points[-2])):
        way = unit(sub(end, before))
        reach = max(LARGE_TIMES * prism.thickness_mm for prism in barrier.prisms)
        found.append(None if way is None else ahead(barrier.prisms, end, way, reach))
    return found[0], found[1]


def _edges(carrier: Carrier) -> Iterator[tuple[Vec, Vec]]:
    """The four edges of the body of each straight piece, a touch inside it."""
    wide, high = (max(half - TOUCH_MM, 0.0) for half in half_mm(carrier))
    for a, b in itertools.pairwise(carrier.axis_mm):
        if distance(a, b) > 0.0:
            along, across, _ = frame(sub(b, a), carrier.across)
            up = cross(along, across)
            for i, j in itertools.product((-wide, wide), (-high, high)):
                shift = add(scale(across, i), scale(up, j))
                yield add(a, shift), add(b, shift)
