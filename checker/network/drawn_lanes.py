"""In which compartment a drawn line lies, where that is clear."""

from collections import defaultdict

from checker.model import Carrier, Lane, Service
from checker.network.drawn_passes import Pass

#: A line lies in the compartment in which it is for this share of its way.
CLEAR_SHARE = 0.9
#: Nearer to the axis than this share of the section a line tells nothing: people draw centre lines, and cores beside those.
AXIS_SHARE = 0.1
#: Nearer to a divider or wall than this share of the compartment it could be drawn for either side.
MARGIN = 0.05


def lane_of(item: Pass, carrier: Carrier, service: Service | None) -> int | None:
    """The compartment that a pass lies in; None where there is but one, or which one isn't clear.

    Nor is it where nothing says towards which side of the carrier across is. A line on the axis tells nothing. A model doesn't say from
    which side compartments are counted. So a line lies in the second of three either way, but in the first or the third by which of them
    takes the circuit's service; where both do or none does, neither is said.
    """
    spans, width = _spans(carrier), carrier.section.width_mm
    if len(spans) < 2 or carrier.across is None or not carrier.is_across_known or width is None:
        return None
    by_lane: dict[int | None, float] = defaultdict(float)
    for length, hit in item.hits:
        if hit.is_along:
            is_axis = abs(hit.across_mm) <= AXIS_SHARE * width
            by_lane[None if is_axis else _at(hit.across_mm, spans, service)] += length
    most = max(by_lane, key=lambda lane: (by_lane[lane], -(lane or 0)), default=None)
    return most if most is not None and by_lane[most] >= CLEAR_SHARE * sum(by_lane.values()) else None


def _at(across_mm: float, spans: list[tuple[Lane, float, float]], service: Service | None) -> int | None:
    """The compartment at a place across the section, counted from either side."""
    found = set()
    for place in (across_mm, -across_mm):
        lane = next((lane for lane, low, high in spans if low <= place <= high), None)
        if lane is None:
            return None
        found.add(lane)
    taking = [lane for lane in found if lane.takes(service)] if len(found) > 1 else list(found)
    return taking[0].number if len(taking) == 1 else None


def _spans(carrier: Carrier) -> list[tuple[Lane, float, float]]:
    """Each compartment with the part of the width, from the middle, that is clearly its own; none where the widths aren't known."""
    section = carrier.section
    lanes, wall = section.lanes, section.wall_mm or 0.0
    if section.is_round or section.width_mm is None:
        return []
    divider = section.divider_mm if section.divider_mm is not None else wall
    share = (section.width_mm - 2.0 * wall - (len(lanes) - 1) * divider) / max(len(lanes), 1)
    given = [lane.width_mm for lane in lanes]
    widths = [share if width is None else width for width in given]
    if None in given and any(width is not None for width in given):
        return []
    place = -(sum(widths) + (len(lanes) - 1) * divider) / 2.0
    spans = []
    for lane, width in zip(lanes, widths, strict=True):
        spans.append((lane, place + MARGIN * width, place + (1.0 - MARGIN) * width))
        place += width + divider
    return spans
