"""Ways through the network, and the stretches of carriers that they pass."""

from dataclasses import dataclass
from typing import NamedTuple

#: A spot on a carrier (key, mm from its start), a fitting (key, None), or a carrier as a whole (key, -1).
Node = tuple[str, float | None]
WHOLE = -1.0


class Stretch(NamedTuple):
    """The part of a carrier that a way passes, from one place of its axis to another (mm from its start).

    A tuple, as are edges and visits: large models have millions, and tuples are made several times as fast as dataclasses.
    """

    carrier: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Path:
    """A way through the network: the stretches of carriers in order, and its length through them and the fittings between.

    ``length_mm`` None: it passes a carrier of unknown length. ``nodes`` are those of the graph, in order.
    """

    stretches: tuple[Stretch, ...]
    length_mm: float | None
    nodes: tuple[Node, ...] = ()


def extend(stretches: list[Stretch], key: str, start: float, end: float, whole_mm: float | None = None) -> None:
    """Adds a stretch, or lengthens the last one, but not where the way turns back: its cables lie there twice.

    Args:
        stretches: Those before, to which it is added.
        key: Of the carrier.
        start: Where it begins, in mm from the carrier's start.
        end: Where it ends.
        whole_mm: The carrier's length, where it is taken as a whole: then it is passed from end to end.
    """
    last = stretches[-1] if stretches and stretches[-1].carrier == key else None
    turns = last is not None and whole_mm is None and (end - start) * (last.to_mm - last.from_mm) < 0.0
    if whole_mm is not None:
        start, end = 0.0, whole_mm
    if last is not None and not turns:
        low, high = min(last.from_mm, last.to_mm, start, end), max(last.from_mm, last.to_mm, start, end)
        stretches[-1] = Stretch(key, low, high) if last.from_mm <= last.to_mm else Stretch(key, high, low)
    else:
        stretches.append(Stretch(key, start, end))


def ended(stretches: list[Stretch], nodes: list[Node]) -> None:
    """Adds what a way only touches: a carrier that a drop comes in at the very end of is passed by no length, but its end is."""
    (key, along), (last, place) = nodes[0], nodes[-1]
    if along is not None and (not stretches or stretches[0].carrier != key):
        stretches.insert(0, Stretch(key, max(along, 0.0), max(along, 0.0)))
    if place is not None and stretches[-1].carrier != last:
        stretches.append(Stretch(last, max(place, 0.0), max(place, 0.0)))
