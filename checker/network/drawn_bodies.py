"""Which stretches of a line lie in which carriers' bodies: exactly, by cutting each straight piece of the line with boxes."""

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from checker.model import Carrier, CarrierKind, Vec
from checker.model.geometry import add, distance, norm, scale, sub
from checker.network.bodies import HAIR_MM, frame, larger_side_mm, tolerance_mm
from checker.network.cells import Grid

#: Cables lie on a tray or ladder as well as in it: up to so much above its body.
LYING_MM = 150.0
#: Half a size that isn't known.
UNKNOWN_HALF_MM = 50.0
#: An open carrier whose section lies flatter than this has a top; of one that stands nothing tells on which side cables lie.
FLAT = 0.3
#: Lines are looked at this often for what lies near; so many straight pieces at once.
STEP_MM, MOST_AT_ONCE = 1000.0, 64
#: More pieces of carriers than this around one place are more than anybody draws.
MOST_AROUND = 2000
#: What lies across a carrier at more than 45° isn't led along it.
ALONG = 0.5**0.5
#: Stretches shorter than this are noise of numbers.
NOISE_MM = 1e-3


@dataclass(frozen=True, slots=True)
class Hit:
    """A stretch of a line within one carrier.

    ``place_mm`` is where on its axis both ends of the stretch are, ``across_mm`` how far across the section its middle is, ``off_mm``
    how far outside the body, ``aside_mm`` how far from the axis; ``is_along``: it runs along it, not across.
    """

    carrier: int
    place_mm: tuple[float, float]
    across_mm: float
    off_mm: float
    aside_mm: float
    is_along: bool


@dataclass(frozen=True, slots=True)
class Atom:
    """A stretch of a line within which it lies in the same carriers; ``hits`` are one for each of them."""

    length_mm: float
    hits: tuple[Hit, ...] = ()


class CarrierBoxes:
    """Carriers as boxes of their section along each straight piece of their axis.

    A box is a tolerance (``tolerance_mm``) wider and higher than the section, and reaches round inner corners of the axis; of a tray or
    ladder ``LYING_MM`` higher, or to both sides where it stands. Where a size isn't known ``UNKNOWN_HALF_MM`` stands for half of it.

    Args:
        carriers: Those that a line may lie in; one whose axis isn't known holds none.
    """

    def __init__(self, carriers: Sequence[Carrier]) -> None:
        self.is_crowded = False
        self._owner: list[int] = []
        self._start: list[float] = []
        self._factor: list[float] = []
        self._grid = Grid(STEP_MM / 2.0)
        rows: list[tuple[Vec, ...]] = []
        for number, carrier in enumerate(carriers):
            points = carrier.axis_mm
            lengths = [distance(a, b) for a, b in itertools.pairwise(points)]
            drawn = sum(lengths)
            along = 0.0
            for piece, ((a, b), length) in enumerate(zip(itertools.pairwise(points), lengths, strict=True)):
                if length > 0.0:
                    least, most, half = _extents(carrier, a, b, is_first=piece == 0, is_last=piece == len(lengths) - 1)
                    reach = norm((0.0, max(-least[1], most[1]), max(-least[2], most[2])))
                    self._grid.add(len(rows), (a, b), reach + max(-least[0], most[0] - length))
                    rows.append((a, *frame(sub(b, a), carrier.across), least, most, (length, *half)))
                    self._owner.append(number)
                    self._start.append(along)
                    self._factor.append((carrier.length_mm or drawn) / drawn)
                along += length
        self._rows = np.array(rows, dtype=float).reshape(-1, 7, 3)

    def atoms(self, line: Sequence[Vec]) -> list[Atom]:
        """A line in stretches, from its start to its end. ``is_crowded`` is set where too much lies around it to look at."""
        pieces = [(a, b) for a, b in itertools.pairwise(line) if a != b]
        found: list[Atom] = []
        for first in range(0, len(pieces), MOST_AT_ONCE):
            some = pieces[first : first + MOST_AT_ONCE]
            cuts = self._cuts(some)
            for number, (a, b) in enumerate(some):
                found.extend(self._of_piece(a, b, cuts.get(number, [])))
        return found

    def _near(self, a: Vec, b: Vec) -> list[int]:
        steps = max(math.ceil(distance(a, b) / STEP_MM), 1)
        found: set[int] = set()
        for step in range(steps):
            around = self._grid.near(add(a, scale(sub(b, a), (step + 0.5) / steps)), MOST_AROUND)
            self.is_crowded = self.is_crowded or around is None
            found.update(around or ())
        return sorted(found)

    def _cuts(self, pieces: Sequence[tuple[Vec, Vec]]) -> dict[int, list[tuple[float, float, int]]]:
        """By straight piece of the line: from which share of it to which it lies in which boxes (slabs)."""
        near = [(piece, box) for piece, ends in enumerate(pieces) for box in self._near(*ends)]
        if not near:
            return {}
        numbers = np.array(near)
        rows, ends = self._rows[numbers[:, 1]], np.array(pieces)[numbers[:, 0]]
        start = np.einsum("nk,nik->ni", ends[:, 0] - rows[:, 0], rows[:, 1:4])
        way = np.einsum("nk,nik->ni", ends[:, 1] - ends[:, 0], rows[:, 1:4])
        least, most = rows[:, 4], rows[:, 5]
        is_across = np.abs(way) < NOISE_MM  # beside the box for all its length, or within
        is_within = (start >= least - HAIR_MM) & (start <= most + HAIR_MM)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            one, other = (least - start) / way, (most - start) / way
        first = np.where(is_across, np.where(is_within, -np.inf, np.inf), np.minimum(one, other))
        last = np.where(is_across, np.where(is_within, np.inf, -np.inf), np.maximum(one, other))
        enters = np.maximum(first.max(axis=1), 0.0)
        leaves = np.minimum(last.min(axis=1), 1.0)
        lengths = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
        cuts: dict[int, list[tuple[float, float, int]]] = defaultdict(list)
        for n in np.flatnonzero((leaves - enters) * lengths > NOISE_MM).tolist():
            piece, box = near[n]
            cuts[piece].append((float(enters[n]), float(leaves[n]), box))
        return cuts

    def _of_piece(self, a: Vec, b: Vec, cuts: list[tuple[float, float, int]]) -> list[Atom]:
        length = distance(a, b)
        found, last = [], 0.0
        for mark in sorted({1.0, *(place for cut in cuts for place in cut[:2])}):
            if (mark - last) * length <= NOISE_MM and mark < 1.0:
                continue
            middle = (last + mark) / 2.0
            inside = [box for enters, leaves, box in cuts if enters <= middle <= leaves]
            best: dict[int, Hit] = {}
            for box in inside:
                hit = self._hit(box, a, b, last, mark)
                known = best.get(hit.carrier)
                if known is None or (hit.off_mm, hit.aside_mm) < (known.off_mm, known.aside_mm):
                    best[hit.carrier] = hit
            found.append(Atom((mark - last) * length, tuple(best[key] for key in sorted(best))))
            last = mark
        return found

    def _hit(self, box: int, a: Vec, b: Vec, enters: float, leaves: float) -> Hit:
        origin, *axes, _, _, size = self._rows[box].tolist()
        way = sub(b, a)
        ends = [sub(add(a, scale(way, share)), origin) for share in (enters, leaves)]
        (along_a, wide_a, high_a), (along_b, wide_b, high_b) = (
            [sum(x * y for x, y in zip(end, axis, strict=True)) for axis in axes] for end in ends
        )
        places = [
            (self._start[box] + min(max(along, 0.0), size[0])) * self._factor[box] for along in (along_a, along_b)
        ]
        wide, high, along = (wide_a + wide_b) / 2.0, (high_a + high_b) / 2.0, (along_a + along_b) / 2.0
        beyond = max(-along, along - size[0], 0.0)
        off = norm((max(abs(wide) - size[1], 0.0), max(abs(high) - size[2], 0.0), beyond))
        moved = norm(sub(ends[1], ends[0]))
        is_along = abs(along_b - along_a) >= ALONG * moved - NOISE_MM
        return Hit(self._owner[box], (places[0], places[1]), wide, off, norm((wide, high, beyond)), is_along)


def _extents(
    carrier: Carrier, a: Vec, b: Vec, *, is_first: bool, is_last: bool
) -> tuple[Vec, Vec, tuple[float, float]]:
    """From where to where a box reaches along, across and up from ``a``, and half the section's own width and height."""
    half = tuple(UNKNOWN_HALF_MM if size is None else size / 2.0 for size in _sizes(carrier))
    more = tolerance_mm(carrier)
    below = above = half[1] + more
    if carrier.kind in {CarrierKind.TRAY, CarrierKind.LADDER}:
        up = frame(sub(b, a), carrier.across)[2][2]
        above += LYING_MM if up > -FLAT else 0.0
        below += LYING_MM if up < FLAT else 0.0
    corner = max(half) + more
    least = (0.0 if is_first else -corner, -half[0] - more, -below)
    most = (distance(a, b) + (0.0 if is_last else corner), half[0] + more, above)
    return least, most, (half[0], half[1])


def _sizes(carrier: Carrier) -> tuple[float | None, float | None]:
    """Its outside width and height, as far as they are known."""
    section = carrier.section
    round_mm = section.outside_diameter_mm or section.bore_mm
    return (
        section.width_mm if section.width_mm is not None else round_mm,
        section.height_mm if section.height_mm is not None else round_mm,
    )


def unknown_mm(carrier: Carrier) -> float:
    """By how much its box may reach beyond its body, as a size isn't known; 0 where both are."""
    return UNKNOWN_HALF_MM if None in _sizes(carrier) else 0.0


def side_mm(carrier: Carrier) -> float:
    """The larger side of its section; where no size is known, of what stands for it."""
    return larger_side_mm(carrier) or 2.0 * UNKNOWN_HALF_MM
