"""Which ends a circuit names, and whether its drawn lines come to them."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from checker.model import Carrier, Circuit, Installation, Vec
from checker.network.bodies import nearest_on
from checker.network.drawn_strands import Strand
from checker.network.ends import Names

#: Whether what lies straight between two points runs along a carrier that no line passes.
Skips = Callable[[Vec, Vec], bool]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class NamedEnd:
    """An origin or call: equipment at a place, or a carrier by its key; ``why_not``: what it is isn't known."""

    name: str
    point_mm: Vec | None = None
    carrier: str = ""
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Missed:
    """An end that no line comes to. ``off_mm``: by how much, where that is known; ``why_not``: why it can't be seen whether one does."""

    name: str
    off_mm: float | None = None
    why_not: str = ""


class EndNames:
    """Looks up what circuits name as their ends, as ways that are found do.

    Args:
        installation: What there is.
    """

    def __init__(self, installation: Installation) -> None:
        self._names = Names(installation)

    def of(self, circuit: Circuit) -> list[NamedEnd]:
        """A circuit's origin and calls, in order."""
        return [self._end(name) for name in (circuit.origin, *circuit.calls)]

    def _end(self, name: str) -> NamedEnd:
        found = self._names.find(name)
        if len(found) != 1:
            some = f"{len(found)} elements are" if found else "nothing in the model is"
            return NamedEnd(name, why_not=f"{some} called {name!r}" if name else "one of its ends isn't named")
        (element,) = found
        if isinstance(element, Carrier):
            return NamedEnd(name, carrier=element.key)
        if element.point_mm is None:
            return NamedEnd(name, why_not=f"where {name!r} is isn't known")
        return NamedEnd(name, element.point_mm)


class Lines:
    """The drawn lines of one circuit, to be asked how near they come to places.

    Attributes:
        strands: The lines.

    Args:
        strands: Each has a length.
    """

    def __init__(self, strands: Sequence[Strand]) -> None:
        self.strands = strands
        pieces = [pair for strand in strands for pair in pairwise(strand.line)]
        counts = np.array([len(strand.line) - 1 for strand in strands])
        ends = np.array(pieces, dtype=float)
        self._start, self._way = ends[:, 0], ends[:, 1] - ends[:, 0]
        self._length = np.linalg.norm(self._way, axis=1)
        self._owner = np.repeat(np.arange(len(strands)), counts)
        self._first = np.cumsum(counts) - counts
        before = np.cumsum(self._length) - self._length
        self._before = before - before[self._first][self._owner]

    def near(self, point: Vec) -> tuple[Floats, Floats]:
        """How far each line is from a point, and where along it it is so near, both in mm."""
        away = np.array(point) - self._start
        share = np.clip(np.einsum("ni,ni->n", away, self._way) / self._length**2, 0.0, 1.0)
        off = np.linalg.norm(away - share[:, None] * self._way, axis=1)
        least = np.minimum.reduceat(off, self._first)
        nearest = np.flatnonzero(off <= least[self._owner])
        pieces = nearest[np.unique(self._owner[nearest], return_index=True)[1]]
        return least, self._before[pieces] + share[pieces] * self._length[pieces]


class Reached:
    """How a circuit's lines come to its ends.

    Attributes:
        ends: Its origin and calls, in order.
        points: Where they are, by name; those alone of which that is known.

    Args:
        ends: Its origin and calls, in order.
        lines: Its lines.
        reach_mm: How far an end may be from a line that comes to it.
    """

    def __init__(self, ends: Sequence[NamedEnd], lines: Lines, reach_mm: float) -> None:
        self.ends, self._lines, self.reach_mm = ends, lines, reach_mm
        self.points = {end.name: end.point_mm for end in ends if end.point_mm is not None}
        self._near = {name: lines.near(point) for name, point in self.points.items()}
        both = np.array([*self._near.values()]).reshape(len(self._near), 2, len(lines.strands))
        self._off, self._along = both[:, 0], both[:, 1]
        self._carried = [n for n, strand in enumerate(lines.strands) if strand.passes]

    def is_near(self, name: str, strand: int) -> bool:
        """Whether a line comes near an end; of one without a place that isn't known, so that it may."""
        return name not in self._near or bool(self._near[name][0][strand] <= self.reach_mm)

    def calls_along(self, strand: int, within_mm: float) -> list[float]:
        """Where along a line it comes as near as this to ends."""
        found: list[float] = self._along[self._off[:, strand] <= within_mm, strand].tolist()
        return found

    def drops_mm(self, carriers: Collection[str]) -> tuple[float | None, ...]:
        """The drop at each end: from it to the nearest line, and on along that to a carrier. A carrier that is passed needs none.

        Args:
            carriers: The keys of those that the lines pass.
        """
        return tuple(self._drop(end, carriers) for end in self.ends)

    def _drop(self, end: NamedEnd, carriers: Collection[str]) -> float | None:
        if end.name not in self._near:
            return 0.0 if end.carrier and end.carrier in carriers else None
        off, along = (values[self._carried] for values in self._near[end.name])
        if not len(off):
            return None
        away = np.round(off, 3)
        nearest = np.flatnonzero(away <= away.min()).tolist()
        outs = [self._lines.strands[self._carried[n]].out_mm(float(along[n])) or 0.0 for n in nearest]
        return float(away.min()) + min(outs)

    def missed(self, carriers: Collection[str], skips: Skips) -> list[Missed]:
        """The ends that no line comes to, each once.

        Args:
            carriers: The keys of those that the lines pass.
            skips: Whether a drop would lead along a carrier that isn't among them.
        """
        found = {end.name: missed for end in self.ends if (missed := self._missed(end, carriers, skips)) is not None}
        if len(self.ends) < 2:
            found[""] = Missed("", why_not="what it feeds isn't named")
        return list(found.values())

    def _missed(self, end: NamedEnd, carriers: Collection[str], skips: Skips) -> Missed | None:
        if end.why_not:
            return Missed(end.name, why_not=end.why_not)
        if end.point_mm is None:
            return None if end.carrier in carriers else Missed(end.name)
        off, _ = self._near[end.name]
        nearest = int(np.argmin(np.round(off, 3)))
        least = float(off[nearest])
        there = nearest_on(self._lines.strands[nearest].line, end.point_mm)
        is_off = least > self.reach_mm or there is None or skips(there[2], end.point_mm)
        return Missed(end.name, least) if is_off else None
